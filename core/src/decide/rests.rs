//! Where an end is read to rest once the advice is followed: friction holds it either side of the middle.

use crate::units::{Length, Uncertain};

/// Sags as they are read once a setting is made: friction holds the end low after pushing down, and high after lifting.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Rests {
    /// With the rider, pushed down first.
    pub rider_low: Uncertain<Length>,
    /// With the rider, lifted first.
    pub rider_high: Uncertain<Length>,
    /// The bike alone, pushed down first.
    pub free_low: Uncertain<Length>,
    /// The bike alone, lifted first; none where friction holds it topped out.
    pub free_high: Uncertain<Length>,
}
