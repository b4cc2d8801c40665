//! The keys of the bike file.

mod ends;
mod said;

use super::shape::{Shape, Table, may, must, table};
use crate::units::kind;

use ends::{FRAME_POINTS, FRONT, REAR};
pub(super) use said::PRACTICE_FILE;
use said::{CHANGE, MEASURING_ENDS, ON_SALE, READING, SCENARIO, TARGET_ENDS};

const LENGTH: Shape = Shape::Quantity(&kind::LENGTH);
const MASS: Shape = Shape::Quantity(&kind::MASS);
const SPRING_RATE: Shape = Shape::Quantity(&kind::SPRING_RATE);
const SHARE: Shape = Shape::Quantity(&kind::SHARE);

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
