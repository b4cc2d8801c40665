//! The preload adjuster: turns = change of preload / thread pitch.

use crate::error::{Result, SpringError, UnitError};
use crate::units::{Length, Quantity, brief, check, show};

/// Preloads from the widest gap to the most that any collar or spacer gives (m), by a wide margin.
pub(crate) const PRELOADS: [f64; 2] = [-0.2, 0.3];

/// Refuses a preload that nothing gives.
pub(super) fn plausible_preload(field: &str, preload: Length) -> Result<Length, UnitError> {
    let [least, most] = PRELOADS.map(Length::from_si);
    check::plausible(field, preload, least, most)
}

/// What is known of a preload adjuster.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct AdjusterParts {
    /// Preload per turn.
    pub thread_pitch: Option<Length>,
    /// Least preload it sets.
    pub least: Option<Length>,
    /// Most preload it sets.
    pub most: Option<Length>,
}

/// Thread pitch and limits of a preload adjuster, as far as they are known.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Adjuster(AdjusterParts);

impl Adjuster {
    /// An adjuster with this thread pitch and these limits.
    ///
    /// # Errors
    /// When the pitch is not from 0.2 mm to 10 mm, a limit is no plausible preload, or the limits are in the wrong
    /// order.
    pub fn new(parts: AdjusterParts) -> Result<Self> {
        let AdjusterParts { thread_pitch, least, most } = parts;
        if let Some(pitch) = thread_pitch {
            check::plausible("thread_pitch", pitch, Length::from_si(2e-4), Length::from_si(0.01))?;
        }
        for (field, limit) in [("min_preload", least), ("max_preload", most)] {
            if let Some(limit) = limit {
                plausible_preload(field, limit)?;
            }
        }
        if let (Some(least), Some(most)) = (least, most)
            && least >= most
        {
            return Err(SpringError::Order {
                field: "max_preload".to_owned(),
                found: brief(most),
                wanted: "more",
                other: "min_preload".to_owned(),
                than: brief(least),
            }
            .into());
        }
        Ok(Self(parts))
    }

    /// Preload per turn, where known.
    #[must_use]
    pub fn thread_pitch(&self) -> Option<Length> {
        self.0.thread_pitch
    }

    /// Least preload it sets, where known.
    #[must_use]
    pub fn least_preload(&self) -> Option<Length> {
        self.0.least
    }

    /// Most preload it sets, where known.
    #[must_use]
    pub fn most_preload(&self) -> Option<Length> {
        self.0.most
    }

    /// Turns for a change of preload, positive for more preload; `None` where the pitch is not known.
    #[must_use]
    pub fn turns(&self, preload_change: Length) -> Option<f64> {
        self.0.thread_pitch.map(|pitch| preload_change.si() / pitch.si())
    }

    /// Does this preload lie within the limits, as far as they are known?
    #[must_use]
    pub fn reaches(&self, preload: Length) -> bool {
        self.0.least.is_none_or(|least| preload >= least) && self.0.most.is_none_or(|most| preload <= most)
    }

    pub(crate) fn describe(&self) -> Option<String> {
        let pitch = self.0.thread_pitch.map(|pitch| format!("{} a turn", show(pitch, "mm", 2)));
        let least = self.0.least.map(|least| format!("from {}", show(least, "mm", 1)));
        let most = self.0.most.map(|most| format!("to {}", show(most, "mm", 1)));
        let known: Vec<String> = [pitch, least, most].into_iter().flatten().collect();
        (!known.is_empty()).then(|| format!("adjuster {}", known.join(" ")))
    }
}
