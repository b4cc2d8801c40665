//! Targets: the sag a person wants.

use super::Direction;
use crate::error::UnitError;
use crate::units::{Force, Length, Quantity, check};

/// Which sag.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "lowercase"))]
pub enum SagKind {
    /// Sag with rider and kit.
    Rider,
    /// Sag of the bike alone.
    Free,
}

impl SagKind {
    /// Both, rider sag first.
    pub const BOTH: [Self; 2] = [Self::Rider, Self::Free];

    /// `rider` or `free`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Rider => "rider",
            Self::Free => "free",
        }
    }

    /// The key of its target.
    #[cfg(feature = "serde")]
    pub(crate) fn key(self) -> &'static str {
        match self {
            Self::Rider => "rider_sag",
            Self::Free => "free_sag",
        }
    }
}

/// A closed range of lengths.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Range {
    /// Least.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub from: Length,
    /// Most.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub to: Length,
}

impl Range {
    /// A range.
    ///
    /// # Errors
    /// [`UnitError`] when a bound is below zero or the range is empty or inverted.
    pub fn new(from: Length, to: Length) -> Result<Self, UnitError> {
        check::not_negative("from", from)?;
        check::not_negative("to", to)?;
        check::above("to", to, "from", from)?;
        Ok(Self { from, to })
    }

    /// Is the length within the range, ends included?
    #[must_use]
    pub fn contains(&self, length: Length) -> bool {
        self.from <= length && length <= self.to
    }

    /// The middle of the range.
    #[must_use]
    pub fn middle(&self) -> Length {
        (self.from + self.to) / 2.0
    }
}

/// A wanted sag: the value aimed at and the range that will do.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct SagTarget {
    /// The sag aimed at; the middle of the range unless given.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub value: Length,
    /// The sags that will do.
    pub range: Range,
    /// Along what the target is meant: vertical, or along the fork.
    pub direction: Direction,
}

impl SagTarget {
    /// A target.
    ///
    /// # Errors
    /// [`UnitError`] when the range is none, or the value lies outside it.
    pub fn new(value: Length, range: Range, direction: Direction) -> Result<Self, UnitError> {
        let Range { from, to } = Range::new(range.from, range.to)?;
        check::plausible("value", value, from, to)?;
        Ok(Self { value, range, direction })
    }
}

/// The targets of one end.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Targets {
    /// Sag with rider and kit.
    pub rider_sag: Option<SagTarget>,
    /// Sag of the bike alone.
    pub free_sag: Option<SagTarget>,
    /// Force of a fork along itself at full travel, reached fast from the rider sag: the oil level is set by it. Today's
    /// unless stated.
    #[cfg_attr(feature = "serde", serde(default, with = "crate::units::text_serde::option"))]
    pub full_travel_force: Option<Force>,
}

impl Targets {
    /// Least and most force at full travel that a fork can be meant to have (N).
    const FULL_TRAVEL_FORCE: [f64; 2] = [200.0, 50e3];

    /// The targets, if a fork can have the force that is wanted.
    ///
    /// # Errors
    /// [`UnitError::Implausible`] outside 200 N to 50 kN.
    pub fn checked(self) -> Result<Self, UnitError> {
        if let Some(force) = self.full_travel_force {
            let [low, high] = Self::FULL_TRAVEL_FORCE.map(Force::from_si);
            check::plausible("full_travel_force", force, low, high)?;
        }
        Ok(self)
    }

    /// The target of one sag.
    #[must_use]
    pub fn of(&self, sag: SagKind) -> Option<SagTarget> {
        match sag {
            SagKind::Rider => self.rider_sag,
            SagKind::Free => self.free_sag,
        }
    }
}
