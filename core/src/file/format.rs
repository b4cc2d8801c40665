//! The keys of the bike file.

use super::shape::{Key, Shape, Table, may, must, table};
use crate::units::kind;

const LENGTH: Shape = Shape::Quantity(&kind::LENGTH);
const MASS: Shape = Shape::Quantity(&kind::MASS);
const ANGLE: Shape = Shape::Quantity(&kind::ANGLE);
const VOLUME: Shape = Shape::Quantity(&kind::VOLUME);
const SPRING_RATE: Shape = Shape::Quantity(&kind::SPRING_RATE);
const GAUGE_PRESSURE: Shape = Shape::Quantity(&kind::GAUGE_PRESSURE);
const SHARE: Shape = Shape::Quantity(&kind::SHARE);
const FORCE: Shape = Shape::Quantity(&kind::FORCE);

/// The whole file.
pub(super) static ROOT: Table = table(
    "A bike: its masses, its two ends, how it was read, what is wanted of it. Every part but `format` and `[bike]` may be \
     left out; what an answer needs and lacks is told when it is asked for.",
    &[
        must("format", Shape::Version, "Version of this format."),
        must("bike", Shape::Table(&BIKE), "The bike."),
        may("masses", Shape::Table(&MASSES), "What the scales show."),
        may("front", Shape::Table(&FRONT), "The front end."),
        may("rear", Shape::Table(&REAR), "The rear end."),
        may("prior", Shape::Table(&PRIOR_ENDS), "How far the stated springs can be trusted."),
        may("wheels", Shape::Table(&WHEELS), "What the ends stand on: for rake, trail and the whole bike at rest."),
        may("frame_points", Shape::Table(&FRAME_POINTS), "Points of the frame whose height matters: seat, skid plate."),
        may("measuring", Shape::Table(&MEASURING_ENDS), "How the readings are taken."),
        may("targets", Shape::Table(&TARGET_ENDS), "The sag that is wanted."),
        may("scenario", Shape::List(&Shape::Table(&SCENARIO)), "The same bike under other loads, one a row."),
        may("on_sale", Shape::Table(&ON_SALE), "Spring rates that can be bought."),
        may("reading", Shape::List(&Shape::Table(&READING)), "Readings, one a row."),
        may("change", Shape::List(&Shape::Table(&CHANGE)), "What was done to the bike, one change a row."),
    ],
);

static BIKE: Table = table("The bike.", &[must("name", Shape::Text, "What it is called.")]);

static MASSES: Table = table(
    "Masses by name: `bike` is the bike as it stands on the scales, ready to ride; any other name (rider, pack) is \
          what comes on top. Loads add them up: `bike + rider`.",
    &[
        must("unsprung", Shape::Table(&UNSPRUNG), "The part of the bike that the springs do not carry."),
        may("wheelbase", LENGTH, "Needed by masses that are known by position."),
        may("scale_uncertainty", MASS, "Standard uncertainty of one scale reading; 0.5 kg unless stated."),
        may("gravity", Shape::Quantity(&kind::ACCELERATION), "Standard gravity unless stated."),
    ],
)
.named(&Shape::Table(&NAMED_MASS));

static NAMED_MASS: Table = table(
    "A mass: by two scales, or by its total and position.",
    &[
        may("front", MASS, "On the front scale, bike level."),
        may("rear", MASS, "On the rear scale, bike level."),
        may("total", MASS, "The whole of it."),
        may("behind_front_axle", LENGTH, "Where it is: horizontal distance behind the front axle."),
        may(
            "uncertainty",
            MASS,
            "Standard uncertainty of what it puts on each wheel; `scale_uncertainty` unless stated.",
        ),
        may("height", LENGTH, "Height of its centre of gravity above the ground; for braking, driving and modes."),
        may(
            "pitch_inertia",
            Shape::Quantity(&kind::MOMENT_OF_INERTIA),
            "About its own centre of gravity; for modes. That of the bike with its wheels.",
        ),
    ],
)
.either(&[&["front", "rear"], &["total", "behind_front_axle"]]);

static UNSPRUNG: Table = table(
    "Unsprung mass at each end: wheel, brake, axle; half of the swingarm and the lower part of the fork.",
    &[must("front", MASS, "At the front."), must("rear", MASS, "At the rear.")],
);

static WHEELS: Table = table(
    "What the ends stand on.",
    &[
        must("fork_offset", LENGTH, "Distance of the front axle ahead of the steering axis, square to it."),
        must("front", Shape::Table(&WHEEL), "The front wheel."),
        must("rear", Shape::Table(&WHEEL), "The rear wheel."),
    ],
);

static WHEEL: Table = table(
    "A wheel on the ground.",
    &[
        must("radius", LENGTH, "Axle over the ground, tyre unloaded; loaded where no tyre rate is given."),
        may("tyre", Shape::Quantity(&kind::WHEEL_RATE), "Vertical rate of the tyre; rigid unless given."),
    ],
);

static PRIOR_ENDS: Table = table(
    "How far the stated springs can be trusted.",
    &[may("front", Shape::Table(&PRIOR), "At the front."), may("rear", Shape::Table(&PRIOR), "At the rear.")],
);

static PRIOR: Table = table(
    "What is believed of the springs of one end before anything is read.",
    &[
        may("rate_tolerance", SHARE, "How far the stated spring rate may be off, either way; 5 % unless stated."),
        may("preload_uncertainty", LENGTH, "Standard uncertainty of the stated preload; 1 mm unless stated."),
    ],
);

static FRONT: Table = table(
    "The front end.",
    &[
        must("fork", Shape::Table(&FORK), "The fork."),
        may("axle", Shape::Point, "Front axle at full extension, in the frame axes of the linkage points."),
    ],
);

static FORK: Table = table(
    "A telescopic fork.",
    &[
        must("travel", LENGTH, "Full travel along the fork."),
        must("rake", ANGLE, "Angle of the steering axis from the vertical."),
        may("rake_uncertainty", ANGLE, "Standard uncertainty of the rake; exact unless stated."),
        must("leg", Shape::List(&Shape::Table(&LEG)), "The two legs, one table each; they may differ."),
    ],
);

static LEG: Table = table(
    "One leg. Any part may be missing; an empty leg is an empty table.",
    &[
        may("spring", Shape::Table(&MAIN_SPRING), "Main spring."),
        may("air", Shape::Table(&AIR), "Air above the oil."),
        may("air_spring", Shape::Table(&AIR_SPRING), "Air spring with a main and perhaps a negative chamber."),
        may("bump_stop", Shape::Table(&STOP), "Acts near full compression."),
        may("top_out", Shape::Table(&STOP), "Acts near full extension, the other way."),
        may("friction", FORCE, "Friction along the leg."),
    ],
);

static A_STAGE: Shape = Shape::Table(&STAGE);
static A_NESTED: Shape = Shape::Table(&NESTED);
static A_ROW: Shape = Shape::Row(&[&kind::LENGTH, &kind::FORCE]);

/// A spring is a coil, a stack, a nest or a table.
const SPRING_KINDS: &[&[&str]] =
    &[&["rate"], &["rate", "free_length", "solid_length"], &["stack"], &["nest"], &["table"]];

/// A spring with the keys of its place.
macro_rules! spring {
    ($name:ident, $doc:literal, $($key:expr),+ $(,)?) => {
        static $name: Table = table(
            $doc,
            &[
                may("rate", SPRING_RATE, "Rate of a coil spring."),
                may("free_length", LENGTH, "Length of the loose coil; with `solid_length`."),
                may("solid_length", LENGTH, "Length with the coils touching; with `free_length`."),
                may("stack", Shape::List(&A_STAGE), "Springs end to end."),
                may("nest", Shape::List(&A_NESTED), "Springs one inside the other."),
                may("table", Shape::List(&A_ROW), "A progressive spring: compressions and forces."),
                $($key),+
            ],
        )
        .either(SPRING_KINDS)
        .defined(stringify!($name));
    };
}

spring!(
    MAIN_SPRING,
    "A main spring in its place.",
    must("preload", LENGTH, "Compression at full extension; below zero, a gap."),
    may("thread_pitch", LENGTH, "Preload per turn of the adjuster."),
    may("min_preload", LENGTH, "Least preload the adjuster sets."),
    may("max_preload", LENGTH, "Most preload the adjuster sets."),
);
spring!(STAGE, "A spring of a stack.", may("limit", LENGTH, "Compression at which a spacer stops it."));
spring!(NESTED, "A spring of a nest.", may("gap", LENGTH, "How much shorter it is than the longest."));
spring!(
    STOP,
    "A spring that acts near one end of the stroke.",
    must("acts_over", LENGTH, "The part of the stroke over which it acts."),
);

static AIR: Table = table(
    "Air sealed in a fork leg.",
    &[
        must("sealing_diameter", LENGTH, "Diameter on which the seal slides: what displaces the air."),
        must("bore", LENGTH, "Inner diameter of the tube above the oil."),
        must("oil_level", LENGTH, "From the top of the tube, fork fully compressed, spring out."),
        may(
            "exponent",
            Shape::Number,
            "Polytropic exponent: 1 for settling, towards 1.4 for fast strokes; 1 unless stated.",
        ),
        may("steel_volume", VOLUME, "All the steel put in after the level was set: spring, spacer, rod."),
        may("pressure", GAUGE_PRESSURE, "Pressure above the surroundings when sealed, fork extended; 0 unless stated."),
        may("sealed", Shape::Table(&CONDITIONS), "Surroundings when sealed; standard sea level unless stated."),
        may("running", Shape::Table(&CONDITIONS), "Surroundings now; as sealed unless stated."),
    ],
);

static CONDITIONS: Table = table(
    "What is around a sealed chamber.",
    &[
        may("altitude", LENGTH, "Above sea level: the standard atmosphere there."),
        may("surroundings", Shape::Quantity(&kind::ABSOLUTE_PRESSURE), "Air pressure, above vacuum."),
        may("temperature", Shape::Quantity(&kind::TEMPERATURE), "Temperature of the gas."),
    ],
)
.either(&[&["surroundings", "temperature"], &["altitude"], &["altitude", "temperature"], &["temperature"]]);

static AIR_SPRING: Table = table(
    "An air spring.",
    &[
        must("piston_diameter", LENGTH, "Diameter of the piston."),
        must("volume", VOLUME, "Volume of the main chamber, fully extended."),
        must("pressure", GAUGE_PRESSURE, "Above the surroundings, fully extended, or where a port joins the chambers."),
        may("negative", Shape::Table(&NEGATIVE), "Chamber on the other side of the piston."),
        may("exponent", Shape::Number, "Polytropic exponent; 1 unless stated."),
        may("sealed", Shape::Table(&CONDITIONS), "Surroundings when pumped; standard sea level unless stated."),
        may("running", Shape::Table(&CONDITIONS), "Surroundings now; as pumped unless stated."),
    ],
);

static NEGATIVE: Table = table(
    "The negative chamber of an air spring, by a pressure of its own or by the port that fills it.",
    &[
        must("rod_diameter", LENGTH, "Rod on this side of the piston."),
        must("volume", VOLUME, "Volume, fully extended."),
        may("pressure", GAUGE_PRESSURE, "Above the surroundings, fully extended."),
        may("port_at", LENGTH, "Stroke at which a port joins it to the main chamber."),
    ],
)
.either(&[&["pressure"], &["port_at"]]);

static REAR: Table = table(
    "The rear end: a linkage, drawn or measured, and its shock.",
    &[
        may("linkage", Shape::Table(&LINKAGE), "From the wheel to the shock, drawn."),
        may(
            "measured",
            Shape::Table(&MEASURED),
            "From the wheel to the shock, measured; beside a drawing with `point_uncertainty` it corrects the drawing.",
        ),
        must("shock", Shape::Table(&SHOCK), "The shock."),
        may("final_drive", Shape::Choice(&["chain", "shaft"]), "What drives the wheel; `chain` where there is one."),
        may("chain", Shape::Table(&CHAIN), "The chain, for squat."),
    ],
)
.either(&[&["linkage"], &["measured"], &["linkage", "measured"]]);

static CHAIN: Table = table(
    "The sprockets of the chain.",
    &[
        must("front_centre", Shape::Point, "Centre of the front sprocket, in the frame axes of the linkage points."),
        must("front_teeth", Shape::Count, "Teeth of the front sprocket, on the engine."),
        must("rear_teeth", Shape::Count, "Teeth of the rear sprocket, on the wheel."),
        must("pitch", LENGTH, "Pitch of the chain, pin to pin."),
    ],
);

static MEASURED: Table = table(
    "A linkage known from a table, taken with the spring off and the wheel lifted in steps.",
    &[
        must(
            "readings",
            Shape::List(&Shape::Row(&[&kind::LENGTH, &kind::LENGTH])),
            "Wheel travel, counted from anywhere, and the length between the eyes of the shock.",
        ),
        must("travel_uncertainty", LENGTH, "Standard uncertainty of one travel."),
        must("length_uncertainty", LENGTH, "Standard uncertainty of one length."),
    ],
);

static LINKAGE: Table = table(
    "Any planar mechanism of one degree of freedom: points, and the bodies that carry them.",
    &[
        must("points", Shape::Table(&POINTS), "Points by name, in any frame axes, x forward and z up."),
        must(
            "bodies",
            Shape::Table(&BODIES),
            "Bodies by name. `frame` stands still; a point on two bodies is a pivot.",
        ),
        must("wheel", Shape::Text, "The point that is the rear axle."),
        must("shock", Shape::List(&Shape::Text), "The two points that the shock joins."),
        may("point_uncertainty", LENGTH, "Standard uncertainty of every coordinate of a point; exact unless stated."),
        may(
            "shock_length_uncertainty",
            LENGTH,
            "Standard uncertainty of the shock's length, beside `point_uncertainty`; exact unless stated.",
        ),
    ],
);

static POINTS: Table = table(
    "Points by name. The pose need not be full extension: the length and stroke of the shock set the travel.",
    &[may("unit", Shape::Choice(&["mm", "cm", "m", "in", "ft"]), "Unit of coordinates written as bare numbers.")],
)
.named(&Shape::Point);

static FRAME_POINTS: Table = table(
    "Points of the frame by name, fully extended, in the axes of the linkage points.",
    &[may("unit", Shape::Choice(&["mm", "cm", "m", "in", "ft"]), "Unit of coordinates written as bare numbers.")],
)
.named(&Shape::Point);

static BODIES: Table = table("Bodies by name, each the list of its points.", &[]).named(&Shape::List(&Shape::Text));

static SHOCK: Table = table(
    "The shock, or one of two alike.",
    &[
        must("length", LENGTH, "Between the eyes, fully extended."),
        must("stroke", LENGTH, "Full stroke."),
        may("count", Shape::Count, "2 for twin shocks; 1 unless stated."),
        may("spring", Shape::Table(&MAIN_SPRING), "Main spring."),
        may("reservoir", Shape::Table(&RESERVOIR), "Gas that acts on the rod."),
        may("air_spring", Shape::Table(&AIR_SPRING), "Air spring in place of, or beside, the main spring."),
        may("bump_stop", Shape::Table(&STOP), "Acts near full compression."),
        may("top_out", Shape::Table(&STOP), "Acts near full extension, the other way."),
        may("friction", FORCE, "Friction along the shock."),
    ],
);

static RESERVOIR: Table = table(
    "The gas of a shock.",
    &[
        must("pressure", GAUGE_PRESSURE, "Above the surroundings, fully extended."),
        must("volume", VOLUME, "Gas volume, fully extended."),
        must("rod_diameter", LENGTH, "Diameter of the rod."),
        may("exponent", Shape::Number, "Polytropic exponent; 1 unless stated."),
        may("sealed", Shape::Table(&CONDITIONS), "Surroundings when charged; standard sea level unless stated."),
        may("running", Shape::Table(&CONDITIONS), "Surroundings now; as charged unless stated."),
    ],
);

const DIRECTION: Key =
    may("direction", Shape::Choice(&["vertical", "along fork", "to mark"]), "Along what the distance is read.");
const MARK: Key = may("mark", Shape::Point, "The mark on the frame, in the frame axes of the linkage points.");

static MEASURING_ENDS: Table = table(
    "How the readings of each end are taken.",
    &[
        may("front", Shape::Table(&MEASURING), "At the front; must be said where the front has readings or targets."),
        may("rear", Shape::Table(&MEASURING), "At the rear; vertical unless stated."),
    ],
);

const UNCERTAINTY: Key = may("uncertainty", LENGTH, "Standard uncertainty of one reading; 1.5 mm unless stated.");

static MEASURING: Table = table("How one end is read.", &[required(DIRECTION), MARK, UNCERTAINTY]);

const fn required(key: Key) -> Key {
    must(key.name, key.shape, key.doc)
}

static TARGET_ENDS: Table = table(
    "The sag that is wanted.",
    &[
        may("rider_load", Shape::Text, "The load that rider sag is meant under; `bike + rider` unless stated."),
        may(
            "discipline",
            Shape::Text,
            "What the bike is ridden for; a sag without a target here then goes by common practice.",
        ),
        may("practice", Shape::List(&A_PRACTICE), "Common practice, in place of the shipped table."),
        may("front", Shape::Table(&TARGETS), "At the front."),
        may("rear", Shape::Table(&TARGETS), "At the rear."),
    ],
);

static A_PRACTICE: Shape = Shape::Table(&PRACTICE);

/// A table of common practice, in a file of its own.
pub(super) static PRACTICE_FILE: Table = table(
    "Common practice: the sag that each discipline aims at, one figure a row.",
    &[
        must("format", Shape::Version, "Version of this format."),
        must("sag", Shape::List(&A_PRACTICE), "Figures; several on one sag are taken together."),
    ],
);

static PRACTICE: Table = table(
    "A figure for one sag of one discipline, by length or by share of the travel.",
    &[
        must("discipline", Shape::Text, "What the bike is ridden for, in a word."),
        must("end", Shape::Choice(&["front", "rear"]), "Which end."),
        must("sag", Shape::Choice(&["rider", "free"]), "With rider and kit, or the bike alone."),
        may("length", Shape::Table(&LENGTHS), "The sag."),
        may("share", Shape::Table(&SHARES), "The sag as a share of the full travel along the same direction."),
        must("direction", Shape::Choice(&["vertical", "along fork"]), "Along which sag and travel run."),
        must("basis", Shape::Text, "Where the figure comes from: `common practice, no source`."),
        may("note", Shape::Text, "Anything worth knowing of it."),
    ],
)
.either(&[&["length"], &["share"]]);

static LENGTHS: Table = table("A range of lengths.", &[must("from", LENGTH, "Least."), must("to", LENGTH, "Most.")]);

static SHARES: Table = table("A range of shares.", &[must("from", SHARE, "Least."), must("to", SHARE, "Most.")]);

static TARGETS: Table = table(
    "Targets of one end.",
    &[
        may("rider_sag", Shape::Table(&SAG), "Sag with rider and kit."),
        may("free_sag", Shape::Table(&SAG), "Sag of the bike alone."),
    ],
);

static SCENARIO: Table = table(
    "The same bike under another load.",
    &[
        must("name", Shape::Text, "What it is called."),
        must("load", Shape::Text, "Masses added up, the rider included: `bike + rider + pack`."),
        may(
            "front",
            Shape::Table(&TARGETS),
            "Sags wanted at the front under this load; those of `[targets]` unless stated.",
        ),
        may(
            "rear",
            Shape::Table(&TARGETS),
            "Sags wanted at the rear under this load; those of `[targets]` unless stated.",
        ),
    ],
);

static SAG: Table = table(
    "A sag: aimed at with a tolerance, or anywhere in a range, or both ends and an aim of its own.",
    &[
        may("value", LENGTH, "The sag aimed at; the middle of the range unless stated."),
        may("tolerance", LENGTH, "Either way."),
        may("from", LENGTH, "Least that will do."),
        may("to", LENGTH, "Most that will do."),
        DIRECTION,
        MARK,
    ],
)
.either(&[&["value", "tolerance"], &["from", "to"], &["value", "from", "to"]]);

static ON_SALE: Table = table(
    "Spring rates that can be bought.",
    &[
        may("front", Shape::List(&SPRING_RATE), "Of one fork spring."),
        may("rear", Shape::List(&SPRING_RATE), "Of the shock spring."),
    ],
);

static READING: Table = table(
    "One reading: the distance from the axle to a mark on the sprung part above it. Repeats are rows of their own.",
    &[
        must("end", Shape::Choice(&["front", "rear"]), "Which end."),
        must("load", Shape::Text, "`none` with the wheel off the ground, or masses added up: `bike + rider`."),
        may("settled", Shape::Choice(&["low", "high"]), "`low` after pushing down, `high` after lifting."),
        must("distance", LENGTH, "The distance read; it shrinks as the end compresses."),
        may("uncertainty", LENGTH, "Standard uncertainty, where it differs from `[measuring]`."),
        may("date", Shape::Date, "The day, with a time where the bike was changed between readings of one day."),
        may("note", Shape::Text, "Anything worth remembering."),
    ],
);

static CHANGE: Table = table(
    "Something done to the bike. The rest of the file describes the bike as it is now; a change says what stood there before.",
    &[
        must("date", Shape::Date, "The day, with a time where the end was read on the same day."),
        may(
            "was",
            Shape::Table(&WAS),
            "What stood there before, by key path: `\"rear.shock.spring.rate\" = \"52 N/mm\"`.",
        ),
        may("added", Shape::List(&Shape::Text), "Key paths of what was not there before."),
        may("note", Shape::Text, "Anything worth remembering."),
    ],
);

static WAS: Table = table("Former values by key path, rows counted from 0: `\"front.fork.leg[0].spring.rate\"`.", &[])
    .named(&Shape::Any);
