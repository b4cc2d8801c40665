//! The main springs of one end, taken together.

use crate::units::{Length, Quantity, SpringRate};

use super::Preloaded;

/// The main springs of one end. Springs side by side: rates add.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct MainSpring {
    /// Total rate of all of them: at first touch, or the mean of a measured one.
    pub rate: SpringRate,
    /// Preload of the first.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub preload: Length,
    /// Rate and preload of each, twin springs repeated.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub each: Vec<(SpringRate, Length)>,
}

impl MainSpring {
    /// These springs side by side; `None` when there are none.
    #[must_use]
    pub fn of_each<'a>(springs: impl IntoIterator<Item = &'a Preloaded>) -> Option<Self> {
        Self::of(springs.into_iter(), 1)
    }

    /// All the springs, each `count` times; `None` when there are none.
    pub(crate) fn of<'a>(springs: impl Iterator<Item = &'a Preloaded>, count: u8) -> Option<Self> {
        let each: Vec<(SpringRate, Length)> =
            springs.flat_map(|place| (0..count).map(|_| (place.spring().named_rate(), place.preload()))).collect();
        let (_, preload) = *each.first()?;
        let rate = SpringRate::from_si(each.iter().map(|(rate, _)| rate.si()).sum());
        Some(Self { rate, preload, each })
    }
}
