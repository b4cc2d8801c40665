//! What later layers work out of the ends of a bike before they answer anything, kept with the bike: a bike does not change.
//!
//! They keep by type; this module knows none of it. What is kept must follow from the parts alone, and must not hold the bike.

use core::any::Any;
use core::fmt;
use std::sync::{Arc, OnceLock};

use crate::record::End;

/// Ways of looking at an end that are kept side by side.
const WAYS: usize = 2;

/// One place per end and way. It follows from the parts, so that it makes no bike other than another.
#[derive(Default)]
pub(crate) struct Memory {
    ends: [[OnceLock<Arc<dyn Any + Send + Sync>>; WAYS]; 2],
}

impl Memory {
    fn place(&self, end: End, way: usize) -> Option<&OnceLock<Arc<dyn Any + Send + Sync>>> {
        self.ends[usize::from(end == End::Rear)].get(way)
    }

    /// What was kept of an end, where it is of this type.
    pub(crate) fn recall<T: Any + Send + Sync>(&self, end: End, way: usize) -> Option<Arc<T>> {
        Arc::clone(self.place(end, way)?.get()?).downcast().ok()
    }

    /// Keeps something of an end; what was kept there before stays.
    pub(crate) fn keep<T: Any + Send + Sync>(&self, end: End, way: usize, what: &Arc<T>) {
        if let Some(place) = self.place(end, way) {
            place.get_or_init(|| Arc::clone(what) as Arc<dyn Any + Send + Sync>);
        }
    }
}

impl PartialEq for Memory {
    fn eq(&self, _other: &Self) -> bool {
        true
    }
}

impl fmt::Debug for Memory {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("Memory")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_kept_first_is_recalled_by_its_end_its_way_and_its_type() {
        let memory = Memory::default();
        assert!(memory.recall::<u32>(End::Front, 0).is_none());
        let first = Arc::new(7_u32);
        memory.keep(End::Front, 0, &first);
        memory.keep(End::Front, 0, &Arc::new(8_u32));
        memory.keep(End::Rear, 1, &Arc::new("rear"));
        assert!(Arc::ptr_eq(&memory.recall::<u32>(End::Front, 0).unwrap(), &first));
        assert_eq!(memory.recall::<&str>(End::Rear, 1).as_deref(), Some(&"rear"));
        assert!(memory.recall::<i32>(End::Front, 0).is_none(), "of another type");
        for (end, way) in [(End::Front, 1), (End::Rear, 0)] {
            assert!(memory.recall::<u32>(end, way).is_none() && memory.recall::<&str>(end, way).is_none());
        }
        memory.keep(End::Front, WAYS, &first);
        assert!(memory.recall::<u32>(End::Front, WAYS).is_none(), "no such way");
    }
}
