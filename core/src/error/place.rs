//! Places along the travel, for messages.

use core::fmt;

#[cfg(feature = "serde")]
use crate::units::text_serde;
use crate::units::{Length, Quantity, show};

/// Where along the travel something happens.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub enum Place {
    /// Wheel travel from full extension.
    Travel(#[cfg_attr(feature = "serde", serde(serialize_with = "text_serde::serialize"))] Length),
    /// Wheel height above the position that the coordinates describe; used while full extension is not known.
    AboveDrawn(#[cfg_attr(feature = "serde", serde(serialize_with = "text_serde::serialize"))] Length),
}

impl fmt::Display for Place {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Travel(travel) => write!(formatter, "{} of travel", show(*travel, "mm", 2)),
            Self::AboveDrawn(height) if height.si() < 0.0 => {
                write!(formatter, "{} below the drawn position", show(-*height, "mm", 2))
            }
            Self::AboveDrawn(height) => write!(formatter, "{} above the drawn position", show(*height, "mm", 2)),
        }
    }
}
