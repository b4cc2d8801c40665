//! Both ends of a bike tabulated over their travels, on first need and for good: a bike does not change.

use core::fmt;
use std::sync::OnceLock;

use crate::wheel::{EndTable, Wheel};

/// The tables that have been asked for. They follow from the ends, so that they make no bike other than another.
#[derive(Default)]
pub(crate) struct EndTables([OnceLock<EndTable>; 2]);

impl EndTables {
    /// The table of the front end (0) or the rear end (1).
    pub(super) fn of(&self, end: usize, wheel: &dyn Wheel) -> &EndTable {
        self.0[end].get_or_init(|| EndTable::new(wheel))
    }
}

impl PartialEq for EndTables {
    fn eq(&self, _other: &Self) -> bool {
        true
    }
}

impl fmt::Debug for EndTables {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("EndTables")
    }
}
