//! The keys of both ends.

use super::super::shape::{Shape, Table, may, must, table};
use super::{LENGTH, SPRING_RATE};
use crate::units::kind;

const ANGLE: Shape = Shape::Quantity(&kind::ANGLE);
const VOLUME: Shape = Shape::Quantity(&kind::VOLUME);
const GAUGE_PRESSURE: Shape = Shape::Quantity(&kind::GAUGE_PRESSURE);
const FORCE: Shape = Shape::Quantity(&kind::FORCE);

pub(in crate::file) static FRONT: Table = table(
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
            Shape::NumberOr(&EXPONENTS),
            "Polytropic exponents, or the slow one alone; 1 and 1.30 ± 0.06 unless stated.",
        ),
        may("steel_volume", VOLUME, "All the steel put in after the level was set: spring, spacer, rod."),
        may("pressure", GAUGE_PRESSURE, "Pressure above the surroundings when sealed, fork extended; 0 unless stated."),
        may("sealed", Shape::Table(&CONDITIONS), "Surroundings when sealed; standard sea level unless stated."),
        may("running", Shape::Table(&CONDITIONS), "Surroundings now; as sealed unless stated."),
    ],
);

static EXPONENTS: Table = table(
    "Polytropic exponents of a gas.",
    &[
        may("slow", Shape::Number, "While it settles: sag, readings. 1 unless stated."),
        may("fast", Shape::Number, "On a fast stroke from there: bottoming, landing, riding. Towards 1.4."),
        may("fast_uncertainty", Shape::Number, "Standard uncertainty of the fast one; 0.03 where that is stated."),
    ],
)
.defined("exponents");

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
        may(
            "exponent",
            Shape::NumberOr(&EXPONENTS),
            "Polytropic exponents, or the slow one alone; 1 and 1.35 ± 0.03 unless stated.",
        ),
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

pub(in crate::file) static REAR: Table = table(
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

pub(in crate::file) static FRAME_POINTS: Table = table(
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
        may(
            "exponent",
            Shape::NumberOr(&EXPONENTS),
            "Polytropic exponents, or the slow one alone; 1 and 1.35 ± 0.03 unless stated.",
        ),
        may("sealed", Shape::Table(&CONDITIONS), "Surroundings when charged; standard sea level unless stated."),
        may("running", Shape::Table(&CONDITIONS), "Surroundings now; as charged unless stated."),
    ],
);
