//! Readings: a distance between the axle and a mark, under a load, settled from one side.

use super::End;
use crate::error::UnitError;
use crate::units::{Length, check};

/// What stands on the wheels while a reading is taken: nothing, or names of masses added up.
///
/// Text form: `"none"`, `"bike"`, `"bike + rider"`, `"bike + rider + pack"`.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(into = "String", from = "String"))]
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

impl From<String> for Load {
    fn from(text: String) -> Self {
        Self::from_text(&text)
    }
}

impl From<Load> for String {
    fn from(load: Load) -> Self {
        load.to_string()
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
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "snake_case"))]
pub enum Direction {
    /// Plumb, axle to a mark above it.
    Vertical,
    /// Along the fork (front only).
    AlongFork,
    /// Straight from the axle to a point of the frame, in the frame axes of the linkage points.
    ToMark {
        /// Forward of the origin.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        x: Length,
        /// Above the origin.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
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
    /// When it was read: a day, `2026-05-31`, or a day with a time, `2026-05-31 19:30`.
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
