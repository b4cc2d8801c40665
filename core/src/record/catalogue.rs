//! Springs that can be bought.

use crate::units::SpringRate;

/// The spring rates on sale for each end; per leg at the front. Sorted, without repeats.
#[derive(Debug, Clone, PartialEq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct OnSale {
    /// Rates of one fork spring.
    pub front: Vec<SpringRate>,
    /// Rates of the shock spring.
    pub rear: Vec<SpringRate>,
}

impl OnSale {
    /// Rates on sale, sorted here.
    #[must_use]
    pub fn new(mut front: Vec<SpringRate>, mut rear: Vec<SpringRate>) -> Self {
        for rates in [&mut front, &mut rear] {
            rates.sort_by(|a, b| a.partial_cmp(b).unwrap_or(core::cmp::Ordering::Equal));
            rates.dedup();
        }
        Self { front, rear }
    }
}
