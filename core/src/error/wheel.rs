//! Faults of an end of the bike as its wheel feels it.

use thiserror::Error;

/// An end asked for what it does not have.
#[derive(Debug, Clone, PartialEq, Error)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub enum WheelError {
    /// Asked beyond either end of the travel.
    #[error("travel {found} lies outside 0 mm to {full}")]
    OutOfTravel {
        /// Travel asked for.
        found: String,
        /// Travel at full compression.
        full: String,
    },
    /// The place of the axle is not known.
    #[error("the place of the front axle is not known: state `front.axle`, at full extension, in the frame axes")]
    NoAxle,
    /// A shock in a linkage that was made for another.
    #[error("shock: found {found}, wanted {wanted}, for which the linkage was made")]
    OtherShock {
        /// Shock found.
        found: String,
        /// Shock wanted.
        wanted: String,
    },
}
