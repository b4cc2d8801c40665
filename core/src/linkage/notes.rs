//! What is no error but worth knowing: where the motion ratio falls, and where it turns back.

use core::fmt;

use crate::solve::turning;
use crate::units::{Length, Quantity, show};

/// Intervals in which a change of sign is looked for: two turning points within 1 % of the travel would be missed.
const INTERVALS: usize = 100;
/// Bisections that locate a turning point to 1e-15 of an interval.
const BISECTIONS: usize = 50;
/// A slope below this, in 1/m, is level: it changes the motion ratio by 1e-6 over a metre.
const LEVEL: f64 = 1e-6;

/// Something about the motion ratio that a tuner should know.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum LinkageNote {
    /// The motion ratio falls from one travel to another: the end gets softer than its spring as it goes down.
    FallingRate {
        /// Start.
        from: Length,
        /// End.
        to: Length,
    },
    /// The motion ratio turns back: it has its greatest (or least) value here.
    TurnsBack {
        /// Where.
        at: Length,
        /// Greatest, or least?
        greatest: bool,
    },
}

impl fmt::Display for LinkageNote {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::FallingRate { from, to } => write!(
                formatter,
                "falling rate: the motion ratio falls from {} to {} of travel",
                show(*from, "mm", 1),
                show(*to, "mm", 1)
            ),
            Self::TurnsBack { at, greatest } => write!(
                formatter,
                "the motion ratio turns back at {} of travel, where it is {}",
                show(*at, "mm", 1),
                if *greatest { "greatest" } else { "least" }
            ),
        }
    }
}

/// Notes from the slope of the motion ratio over the travel.
pub(super) fn notes(full_travel: f64, slope: impl Fn(f64) -> f64) -> Vec<LinkageNote> {
    let falls = |travel: f64| slope(travel) < -LEVEL;
    let at = |step: usize| full_travel * (step as f64 / INTERVALS as f64);
    let mut found = Vec::new();
    let mut start = 0.0;
    let mut falling = falls(0.0);
    let mut close = |falling: bool, from: f64, to: f64| {
        if falling {
            found.push(LinkageNote::FallingRate { from: Length::from_si(from), to: Length::from_si(to) });
        }
    };
    let mut turns = Vec::new();
    for step in 1..=INTERVALS {
        if falls(at(step)) == falling {
            continue;
        }
        let [_, high] = turning(|travel| falls(travel) == falling, [at(step - 1), at(step)], BISECTIONS);
        turns.push(LinkageNote::TurnsBack { at: Length::from_si(high), greatest: !falling });
        close(falling, start, high);
        (start, falling) = (high, !falling);
    }
    close(falling, start, full_travel);
    found.extend(turns);
    found
}
