//! A direction in words.

use crate::record::Direction;

/// What a sag or a reading runs along, to stand after it.
pub(crate) fn along(direction: Direction) -> &'static str {
    match direction {
        Direction::Vertical => "vertical",
        Direction::AlongFork => "along the fork",
        Direction::ToMark { .. } => "towards the mark",
    }
}
