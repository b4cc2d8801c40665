//! The keys of how the readings of each end are taken.

use super::describe::table;
use super::item::words;
use super::place::{Place, Stop};
use crate::record::{Direction, Ends, Measuring};
use crate::units::Length;

/// Along what something is read or meant, in words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Along {
    Vertical,
    Fork,
    Mark,
}

words! {
    Along { "vertical" => Along::Vertical, "along fork" => Along::Fork, "to mark" => Along::Mark }
}

impl Along {
    pub(super) fn of(direction: Direction) -> Self {
        match direction {
            Direction::Vertical => Self::Vertical,
            Direction::AlongFork => Self::Fork,
            Direction::ToMark { .. } => Self::Mark,
        }
    }
}

pub(super) fn mark(direction: Direction) -> Option<[Length; 2]> {
    match direction {
        Direction::ToMark { x, z } => Some([x, z]),
        Direction::Vertical | Direction::AlongFork => None,
    }
}

/// The direction stated in a table; a mark belongs to `to mark` and to nothing else.
pub(super) fn direction(
    along: Option<Along>,
    mark: Option<[Length; 2]>,
    at: &Place<'_>,
) -> Result<Option<Direction>, Stop> {
    match (along, mark) {
        (None, None) => Ok(None),
        (Some(Along::Vertical), None) => Ok(Some(Direction::Vertical)),
        (Some(Along::Fork), None) => Ok(Some(Direction::AlongFork)),
        (Some(Along::Mark), Some([x, z])) => Ok(Some(Direction::ToMark { x, z })),
        (Some(Along::Mark), None) => {
            let wanted = "`mark = [\"-400 mm\", \"350 mm\"]`";
            let message = format!("`to mark` needs its mark, wanted {wanted}");
            Err(at.key("direction").note("`to mark` alone", wanted, None, message))
        }
        (_, Some(_)) => {
            let wanted = "`direction = \"to mark\"` with it";
            let message = format!("a mark belongs to one direction only, wanted {wanted}");
            Err(at.key("mark").note("a mark", wanted, None, message))
        }
    }
}

table! {
    "How the readings of each end are taken.",
    MeasuringEndsKeys,
    {
        front: Option<Measuring>, "At the front; must be said where the front has readings or targets.";
        rear: Option<Measuring>, "At the rear; vertical unless stated.";
    }
}

impl MeasuringEndsKeys {
    pub(super) fn of(measuring: &Ends<Option<Measuring>>) -> Option<Self> {
        let Ends { front, rear } = *measuring;
        (front.is_some() || rear.is_some()).then_some(Self { front, rear })
    }

    pub(super) fn ends(self) -> Ends<Option<Measuring>> {
        Ends { front: self.front, rear: self.rear }
    }
}

table! {
    "How one end is read.",
    MeasuringKeys for Measuring,
    {
        direction: Along = |measuring| Along::of(measuring.direction), "Along what the distance is read.";
        mark: Option<[Length; 2]> = |measuring| mark(measuring.direction),
            "The mark on the frame, in the frame axes of the linkage points.";
        uncertainty: Option<Length> = |measuring| Some(measuring.uncertainty),
            "Standard uncertainty of one reading; 1.5 mm unless stated.";
    }
    make |keys, _, at| {
        let direction = direction(Some(keys.direction), keys.mark, at)?.ok_or(Stop)?;
        at.take(Measuring::new(direction, keys.uncertainty.unwrap_or_else(Measuring::default_uncertainty)))
    }
}
