//! What was wanted of a change against what came.

use crate::bike::Bike;
use crate::record::{End, Range, SagKind};
use crate::units::{Length, Uncertain};

/// A target against what was and what came.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct TargetOutcome {
    /// Which sag.
    pub sag: SagKind,
    /// What will do, after the change.
    pub wanted: Range,
    /// Before the change; `None` where that is not known along the target's direction.
    pub before: Option<Uncertain<Length>>,
    /// After it; `None` while nothing is read.
    pub after: Option<Uncertain<Length>>,
}

impl TargetOutcome {
    /// Did it land? `None` while nothing is read.
    #[must_use]
    pub fn met(&self) -> Option<bool> {
        self.after.map(|after| self.wanted.contains(after.value))
    }
}

/// The targets after the change against the sags before and after, along the target's direction.
pub(crate) fn target_outcomes(end: End, before: &Bike, after: &Bike, read: bool) -> Vec<TargetOutcome> {
    // Without a target there is no advice, and nothing to land on.
    let Ok(then) = after.advise_end(end) else { return Vec::new() };
    let stood = before.advise_end(end).ok().filter(|stood| stood.direction == then.direction);
    let rider = TargetOutcome {
        sag: SagKind::Rider,
        wanted: then.rider_sag.range,
        before: stood.as_ref().map(|stood| stood.today.rider_sag),
        after: read.then_some(then.today.rider_sag),
    };
    let free = then.free_sag.map(|wanted| TargetOutcome {
        sag: SagKind::Free,
        wanted,
        before: stood.as_ref().map(|stood| stood.today.free_sag),
        after: read.then_some(then.today.free_sag),
    });
    core::iter::once(rider).chain(free).collect()
}
