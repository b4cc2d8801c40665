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
    #[error(
        "the place of the axle is not known: in front state `front.axle`, at full extension, in the frame axes; a rear end \
         known from a measured table has none"
    )]
    NoAxle,
    /// A drawing of a linkage that is known from a table.
    #[error("the rear end is known from a measured table, which has no mechanism: state `rear.linkage`")]
    NotDrawn,
    /// A shock in a linkage that was made for another.
    #[error("shock: found {found}, wanted {wanted}, for which the linkage was made")]
    OtherShock {
        /// Shock found.
        found: String,
        /// Shock wanted.
        wanted: String,
    },
}
