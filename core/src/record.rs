//! What a person wrote down: readings, targets, springs on sale, changes. Plain checked data; the mathematics is in `infer` and `decide`.

mod catalogue;
mod change;
mod ends;
mod moment;
#[cfg(feature = "serde")]
pub(crate) mod numbered;
mod practice;
mod prices;
mod prior;
mod reading;
mod riders;
mod scenario;
mod suspect;
mod target;
mod tyre;
mod usual;
mod wheels;

pub use catalogue::OnSale;
pub use change::Change;
pub use ends::Ends;
pub(crate) use moment::Moment;
pub use practice::{COMMON_PRACTICE, CommonPractice, Figure, Practice};
pub use prices::Prices;
pub use prior::SpringPrior;
pub use reading::{Direction, Gauge, Load, Measuring, Reading, Settled};
pub use riders::{RiderMasses, Riders};
pub use scenario::Scenario;
pub(crate) use suspect::{Distance, Suspects};
pub use suspect::{PartReading, SuspectReading};
pub use target::{Range, SagKind, SagTarget, Targets};
pub use tyre::{FOOTPRINT, Tyre, TyreRate, TyreReadings};
pub use usual::{OwnUsual, Usual};
pub use wheels::{WheelAndTyre, Wheels};

/// One end of the bike.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "lowercase"))]
pub enum End {
    /// The fork.
    Front,
    /// The swingarm.
    Rear,
}

impl End {
    /// Both ends, front first.
    pub const BOTH: [Self; 2] = [Self::Front, Self::Rear];

    /// The end that this is not.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Front => Self::Rear,
            Self::Rear => Self::Front,
        }
    }

    /// `front` or `rear`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Rear => "rear",
        }
    }
}

impl core::fmt::Display for End {
    fn fmt(&self, formatter: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        formatter.pad(self.name())
    }
}
