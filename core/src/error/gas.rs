//! Faults of gas chambers.

use thiserror::Error;

/// A gas chamber that cannot be built, or a wish it cannot meet.
#[derive(Debug, Clone, PartialEq, Error)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub enum GasError {
    /// The oil fills the air space before the fork is fully compressed.
    #[error(
        "{part}: with oil level {level} the air is gone at {closes_at} of {full} travel; \
         an oil level of more than {least_level} would do, or another `bore` or `steel_volume`"
    )]
    AirGapCloses {
        /// Leg at fault.
        part: String,
        /// Oil level found.
        level: String,
        /// Travel at which the air volume reaches zero.
        closes_at: String,
        /// Full travel.
        full: String,
        /// Oil level at which the air just lasts.
        least_level: String,
    },
    /// A chamber that is swept empty before the end of the stroke.
    #[error(
        "{part}: a gas volume of {volume} is gone at stroke {closes_at} of {full}; more than {least_volume} would do"
    )]
    ChamberCloses {
        /// Chamber at fault.
        part: String,
        /// Volume found.
        volume: String,
        /// Stroke at which the volume reaches zero.
        closes_at: String,
        /// Full stroke.
        full: String,
        /// Volume at which the gas just lasts.
        least_volume: String,
    },
    /// A pressure below vacuum.
    #[error("{part}: gauge pressure {gauge} in surroundings of {surroundings} is below vacuum")]
    BelowVacuum {
        /// Chamber at fault.
        part: String,
        /// Gauge pressure found.
        gauge: String,
        /// Pressure around it.
        surroundings: String,
    },
    /// Both an altitude and a pressure of the surroundings.
    #[error("found both `altitude` and `surroundings`: give one of them")]
    TwoPressures,
    /// No permitted oil level does what is wanted.
    #[error(
        "no permitted oil level gives {wanted}: the highest oil, {least_air}, gives {at_least_air}; the lowest, {most_air}, {at_most_air}"
    )]
    LevelOutOfReach {
        /// What was wanted.
        wanted: String,
        /// The levels with the least air.
        least_air: String,
        /// What they give.
        at_least_air: String,
        /// The levels with the most air.
        most_air: String,
        /// What they give.
        at_most_air: String,
    },
    /// A leg or fork without air asked for its level.
    #[error("{part}: has no air over oil, so no oil level")]
    NoAir {
        /// Part asked.
        part: String,
    },
    /// An altitude outside the part of the standard atmosphere that is covered.
    #[error("altitude: found {found}, wanted {low} to {high}")]
    Altitude {
        /// Altitude found.
        found: String,
        /// Least covered.
        low: String,
        /// Most covered.
        high: String,
    },
}
