//! Scenarios: the same bike under other loads.

use super::{Ends, Load, Targets};

/// The same bike under another load: with a pack, with a passenger.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Scenario {
    /// What it is called.
    pub name: String,
    /// What stands on the wheels, the rider included.
    pub load: Load,
    /// Sags that are wanted under this load, where they differ from those of the bike.
    pub targets: Ends<Targets>,
}

impl Scenario {
    /// A scenario that wants the sags that the bike wants.
    #[must_use]
    pub fn new(name: impl Into<String>, load: Load) -> Self {
        Self { name: name.into(), load, targets: Ends::default() }
    }
}
