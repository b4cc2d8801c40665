//! Readings: a distance between the axle and a mark, under a load, settled from one side.

use super::End;
use crate::error::UnitError;
use crate::units::{Length, check};

/// What stands on the wheels while a reading is taken: nothing, or names of masses added up.
///
/// Text form: `"none"`, `"bike"`, `"bike + rider"`, `"bike + rider + pack"`.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Load {
    /// The wheel is off the ground: full extension.
    None,
    /// The names of the masses that stand on the wheels, as in the file's `[masses]`.
    Masses(Vec<String>),
}

impl Load {
    /// Reads `"none"` or names joined by `+`.
    #[must_use]
    pub fn from_text(text: &str) -> Self {
        let names: Vec<String> =
            text.split('+').map(|name| name.trim().to_owned()).filter(|name| !name.is_empty()).collect();
        if names.is_empty() || (names.len() == 1 && names[0] == "none") { Self::None } else { Self::Masses(names) }
    }

    /// The names of the masses, empty for [`Load::None`].
    #[must_use]
    pub fn names(&self) -> &[String] {
        match self {
            Self::None => &[],
            Self::Masses(names) => names,
        }
    }
}

impl core::fmt::Display for Load {
    fn fmt(&self, formatter: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::None => formatter.pad("none"),
            Self::Masses(names) => formatter.pad(&names.join(" + ")),
        }
    }
}

/// From which side the bike came to rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "lowercase"))]
pub enum Settled {
    /// After pushing down: friction holds the bike low, and the spring force is load + friction.
    Low,
    /// After lifting: friction holds the bike high, and the spring force is load − friction.
    High,
}

/// Along what a distance was read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Direction {
    /// Plumb, axle to a mark above it.
    Vertical,
    /// Along the fork (front only).
    AlongFork,
    /// Straight from the axle to a point of the frame, in the frame axes of the linkage points.
    ToMark {
        /// Forward of the origin.
        x: Length,
        /// Above the origin.
        z: Length,
    },
}

/// How the readings of one end are taken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measuring {
    /// Along what.
    pub direction: Direction,
    /// Standard uncertainty of one reading (repeatability of tape, mark and eye).
    pub uncertainty: Length,
}

impl Measuring {
    /// Standard uncertainty of a tape reading when none is stated: 1.5 mm (common practice, no source).
    #[must_use]
    pub fn default_uncertainty() -> Length {
        crate::units::Quantity::from_si(1.5e-3)
    }

    /// A way of measuring.
    ///
    /// # Errors
    /// [`UnitError`] when the uncertainty is not more than zero, or is over 50 mm.
    pub fn new(direction: Direction, uncertainty: Length) -> Result<Self, UnitError> {
        let most: Length = crate::units::Quantity::from_si(0.05);
        check::positive("uncertainty", uncertainty)?;
        check::plausible("uncertainty", uncertainty, crate::units::Quantity::from_si(1e-6), most)?;
        Ok(Self { direction, uncertainty })
    }
}

/// One reading: the distance between the axle and a mark on the sprung part. It shrinks as the end compresses.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// Which end.
    pub end: End,
    /// Under what.
    pub load: Load,
    /// From which side it came to rest; `None` when nobody noted it.
    pub settled: Option<Settled>,
    /// The distance read.
    pub distance: Length,
    /// Standard uncertainty of this reading, where it differs from the end's [`Measuring`].
    pub uncertainty: Option<Length>,
    /// The day it was read, as `2026-05-31`.
    pub date: Option<String>,
    /// A note of the reader's.
    pub note: Option<String>,
}

impl Reading {
    /// A reading.
    ///
    /// # Errors
    /// [`UnitError`] when the distance is not between 1 mm and 3 m.
    pub fn new(end: End, load: Load, settled: Option<Settled>, distance: Length) -> Result<Self, UnitError> {
        use crate::units::Quantity;
        check::plausible("distance", distance, Length::from_si(1e-3), Length::from_si(3.0))?;
        Ok(Self { end, load, settled, distance, uncertainty: None, date: None, note: None })
    }

    /// With its own standard uncertainty.
    ///
    /// # Errors
    /// As [`Measuring::new`].
    pub fn with_uncertainty(self, uncertainty: Length) -> Result<Self, UnitError> {
        Measuring::new(Direction::Vertical, uncertainty)?;
        Ok(Self { uncertainty: Some(uncertainty), ..self })
    }

    /// Everything in it checked as its constructors do; its fields are open.
    ///
    /// # Errors
    /// [`UnitError`].
    pub(crate) fn checked(&self) -> Result<(), UnitError> {
        let plain = Self::new(self.end, self.load.clone(), self.settled, self.distance)?;
        match self.uncertainty {
            Some(uncertainty) => plain.with_uncertainty(uncertainty).map(drop),
            None => Ok(()),
        }
    }
}

/// Is the text a day of the calendar, `2026-05-31`? (Gregorian rule of leap years.)
pub(crate) fn is_day(text: &str) -> bool {
    let number = |range: core::ops::Range<usize>| -> Option<u32> {
        let digits = text.get(range)?;
        digits.bytes().all(|byte| byte.is_ascii_digit()).then(|| digits.parse().ok()).flatten()
    };
    let (Some(year), Some(month), Some(day)) = (number(0..4), number(5..7), number(8..10)) else { return false };
    let dashes = text.len() == 10 && text.get(4..5) == Some("-") && text.get(7..8) == Some("-");
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let days = match month {
        2 => 28 + u32::from(leap),
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => 0,
    };
    dashes && (1..=days).contains(&day)
}

#[cfg(test)]
mod tests {
    use super::is_day;

    #[test]
    fn days_of_the_calendar() {
        for day in ["2026-05-31", "2024-02-29", "2000-02-29"] {
            assert!(is_day(day), "{day}");
        }
        for other in [
            "2026-02-29",
            "1900-02-29",
            "2026-13-01",
            "2026-04-31",
            "2026-4-1",
            "2026-05-31T10:00:00",
            "26",
            "+026-05-31",
        ] {
            assert!(!is_day(other), "{other}");
        }
    }
}
