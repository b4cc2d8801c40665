//! What follows from the parts of a bike and is asked for again and again, worked out on first need and for good: a bike does
//! not change.

use core::fmt;
use std::sync::OnceLock;

use crate::Result;
use crate::bike::Bike;
use crate::record::End;
use crate::units::Length;
use crate::wheel::{EndTable, RearEnd, Rest, Wheel, rest_on};

/// Both ends tabulated over their travels, the swingarm pivot, and whether the chassis was found sound. They follow from the
/// parts, so that they make no bike other than another.
#[derive(Default)]
pub(crate) struct EndTables {
    ends: [OnceLock<EndTable>; 2],
    pivot: OnceLock<Option<[Length; 2]>>,
    sound: OnceLock<()>,
}

impl EndTables {
    /// The table of the front end (0) or the rear end (1).
    #[inline]
    pub(super) fn of(&self, end: usize, wheel: &dyn Wheel) -> &EndTable {
        self.ends[end].get_or_init(|| EndTable::new(wheel))
    }

    /// The swingarm pivot of the rear end, where it has one.
    pub(super) fn pivot(&self, rear: &RearEnd) -> Option<[Length; 2]> {
        *self.pivot.get_or_init(|| rear.swingarm_pivot())
    }

    /// Was the chassis looked at, and nothing found wrong with it?
    pub(super) fn is_sound(&self) -> bool {
        self.sound.get().is_some()
    }

    /// Nothing was found wrong with the chassis.
    pub(super) fn found_sound(&self) {
        self.sound.get_or_init(|| ());
    }
}

impl Bike {
    /// Where an end comes to rest by itself under a load (N), as [`Wheel::travel_under`] has it, from the table kept of the end.
    pub(crate) fn end_under(&self, end: End, load: f64) -> Result<Rest> {
        let wheel = self.end(end)?;
        Ok(rest_on(wheel, self.tables.of(usize::from(end == End::Rear), wheel), load))
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
