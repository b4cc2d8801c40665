//! The keys of what a person read, wants and did.

use super::super::shape::{Key, Shape, Table, may, must, table};
use super::{LENGTH, SHARE, SPRING_RATE};

const DIRECTION: Key =
    may("direction", Shape::Choice(&["vertical", "along fork", "to mark"]), "Along what the distance is read.");
const MARK: Key = may("mark", Shape::Point, "The mark on the frame, in the frame axes of the linkage points.");

pub(in crate::file) static MEASURING_ENDS: Table = table(
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

pub(in crate::file) static TARGET_ENDS: Table = table(
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
pub(in crate::file) static PRACTICE_FILE: Table = table(
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

pub(in crate::file) static SCENARIO: Table = table(
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

pub(in crate::file) static ON_SALE: Table = table(
    "Spring rates that can be bought.",
    &[
        may("front", Shape::List(&SPRING_RATE), "Of one fork spring."),
        may("rear", Shape::List(&SPRING_RATE), "Of the shock spring."),
    ],
);

pub(in crate::file) static READING: Table = table(
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

pub(in crate::file) static CHANGE: Table = table(
    "Something done to the bike. The rest of the file describes the bike as it is now; a change says what stood there before.",
    &[
        must(
            "date",
            Shape::DateOfChange,
            "The day, with a time where the end was read on the same day; `what if` where it was not made.",
        ),
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
