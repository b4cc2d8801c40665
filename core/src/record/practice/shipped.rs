//! The shipped table of common practice as data: row for row that of `data/common_practice.toml`, to which a test holds it.

use super::{COMMON_PRACTICE, CommonPractice, Figure, Practice, SagKind};
use crate::record::{Direction, End, Range};
use crate::units::{Length, Quantity, Share};

const FRONT: End = End::Front;
const REAR: End = End::Rear;
const RIDER: SagKind = SagKind::Rider;
const FREE: SagKind = SagKind::Free;
const ALONG: Direction = Direction::AlongFork;
const VERTICAL: Direction = Direction::Vertical;

/// What the numbers of a row are.
#[derive(Clone, Copy)]
enum Unit {
    Millimetre,
    Percent,
}

const MM: Unit = Unit::Millimetre;
const PERCENT: Unit = Unit::Percent;

/// Discipline, end, sag, figure from and to, direction, note.
type Row = (&'static str, End, SagKind, Unit, [f64; 2], Direction, &'static str);

#[rustfmt::skip]
static ROWS: &[Row] = &[
    ("motocross", FRONT, RIDER, PERCENT, [20.0, 28.0], ALONG, ""),
    ("motocross", FRONT, FREE, PERCENT, [11.0, 17.0], ALONG, "few authors give one"),
    ("motocross", REAR, RIDER, MM, [95.0, 110.0], VERTICAL, ""),
    ("motocross", REAR, RIDER, PERCENT, [30.0, 35.0], VERTICAL, "given for 300 to 315 mm of travel"),
    ("motocross", REAR, FREE, MM, [25.0, 45.0], VERTICAL, ""),
    ("trail", FRONT, RIDER, PERCENT, [20.0, 28.0], ALONG, "taken from motocross"),
    ("trail", FRONT, FREE, PERCENT, [11.0, 17.0], ALONG, "taken from motocross"),
    ("trail", REAR, RIDER, MM, [95.0, 110.0], VERTICAL, "taken from motocross"),
    ("trail", REAR, RIDER, PERCENT, [30.0, 35.0], VERTICAL, "taken from motocross"),
    ("trail", REAR, FREE, MM, [25.0, 45.0], VERTICAL, "taken from motocross"),
    ("road", FRONT, RIDER, MM, [30.0, 45.0], ALONG, ""),
    ("road", FRONT, RIDER, PERCENT, [28.0, 38.0], ALONG, "given for 110 to 130 mm of travel"),
    ("road", FRONT, FREE, MM, [15.0, 30.0], ALONG, ""),
    ("road", REAR, RIDER, MM, [25.0, 40.0], VERTICAL, ""),
    ("road", REAR, RIDER, PERCENT, [25.0, 33.0], VERTICAL, ""),
    ("road", REAR, FREE, MM, [5.0, 15.0], VERTICAL, ""),
    ("track", FRONT, RIDER, MM, [25.0, 38.0], ALONG, ""),
    ("track", REAR, RIDER, MM, [20.0, 32.0], VERTICAL, ""),
    ("track", REAR, FREE, MM, [2.0, 10.0], VERTICAL, ""),
    ("any", FRONT, RIDER, PERCENT, [25.0, 35.0], ALONG, ""),
    ("any", FRONT, FREE, PERCENT, [10.0, 17.0], ALONG, "few authors give one"),
    ("any", REAR, RIDER, PERCENT, [25.0, 35.0], VERTICAL, ""),
    ("any", REAR, FREE, PERCENT, [7.0, 14.0], VERTICAL, "from the figures in millimetres"),
];

pub(super) fn table() -> CommonPractice {
    CommonPractice { rows: ROWS.iter().map(practice).collect() }
}

fn practice(&(discipline, end, sag, unit, range, direction, note): &Row) -> Practice {
    let figure = match unit {
        Unit::Millimetre => {
            let [from, to] = range.map(|number| Length::from_si(number / 1000.0));
            Figure::Length(Range { from, to })
        }
        Unit::Percent => {
            let [from, to] = range.map(|number| Share::from_si(number / 100.0));
            Figure::Share { from, to }
        }
    };
    Practice {
        discipline: discipline.to_owned(),
        end,
        sag,
        figure,
        direction,
        basis: COMMON_PRACTICE.to_owned(),
        note: (!note.is_empty()).then(|| note.to_owned()),
    }
}
