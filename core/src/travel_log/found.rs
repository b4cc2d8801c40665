//! What a log says of each end, and of both together.

use super::histogram::Histogram;
use crate::record::Ends;
use crate::units::{Length, Share, Time, Uncertain, Velocity};

/// What a log says of one end.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct EndTravel {
    /// Time that was recorded, gaps left out.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub duration: Time,
    /// Samples.
    pub samples: u64,
    /// Samples of them that were no number.
    pub missing: u64,
    /// Stretches between two samples that were too long to be joined.
    pub gaps: u64,
    /// Their time together.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub gap_time: Time,
    /// Share of time at which the sensor was at one of its limits.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub clipped: Share,
    /// Share of time at which it showed more than 2 % beyond the travel.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub outside: Share,
    /// Full travel of the wheel.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub full_travel: Length,
    /// Mean travel of the wheel.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub mean_travel: Length,
    /// Standard uncertainty of that mean, from its autocorrelation; `None` where the log is too short for it.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::option"))]
    pub mean_uncertainty: Option<Length>,
    /// Integrated autocorrelation time of the travel.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::option"))]
    pub correlation_time: Option<Time>,
    /// Standard deviation of the travel about its mean.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub travel_deviation: Length,
    /// Share of time within the first twentieth of the travel.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub near_extension: Share,
    /// Share of time within its last twentieth.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub near_full: Share,
    /// How often it came to full extension.
    pub top_outs: u64,
    /// How often it came to full travel.
    pub bottomings: u64,
    /// Largest speed of the wheel as it came to full travel; nothing where it never did.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub hardest_bottoming: Velocity,
    /// Root mean square of the shaft's speed while it compresses.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub compression_speed_rms: Velocity,
    /// The same while it extends.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub rebound_speed_rms: Velocity,
    /// Largest speed of the shaft, either way.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub fastest_shaft: Velocity,
    /// Shares of time by travel of the wheel, in metres.
    pub travel_histogram: Histogram,
    /// Shares of time by speed of the shaft, in metres per second, positive in compression.
    pub shaft_speed_histogram: Histogram,
    /// Shares of time by speed of the wheel.
    pub wheel_speed_histogram: Histogram,
}

impl EndTravel {
    /// The mean travel with its standard uncertainty; `None` where the log is too short for one.
    #[must_use]
    pub fn mean(&self) -> Option<Uncertain<Length>> {
        let value = self.mean_travel;
        self.mean_uncertainty.map(|standard_uncertainty| Uncertain { value, standard_uncertainty })
    }
}

/// How both ends share the work.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Balance {
    /// How much more of its travel the front uses on average than the rear.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub travel: Share,
    /// Its standard uncertainty; `None` where the log is too short for one.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::option"))]
    pub balance_uncertainty: Option<Share>,
}

/// What a log says.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct TravelLog {
    /// Each end that had a sensor.
    pub ends: Ends<Option<EndTravel>>,
    /// Both together, where both had one.
    pub balance: Option<Balance>,
}
