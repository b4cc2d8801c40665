//! Targets: the sag a person wants.

use super::Direction;
use crate::error::UnitError;
use crate::units::{Length, check};

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
}

impl Targets {
    /// The target of one sag.
    #[must_use]
    pub fn of(&self, sag: SagKind) -> Option<SagTarget> {
        match sag {
            SagKind::Rider => self.rider_sag,
            SagKind::Free => self.free_sag,
        }
    }
}
