//! What was wanted of a change against what came.

use crate::decide::Decision;
use crate::record::{Direction, Range, SagKind};
use crate::units::{Length, Uncertain};

/// A target against what was, what was predicted, and what came; all along the direction of the target.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct TargetOutcome {
    /// Which sag.
    pub sag: SagKind,
    /// Along what.
    pub direction: Direction,
    /// What will do, after the change.
    pub wanted: Range,
    /// Before the change; `None` where no such sag was wanted along that direction.
    pub before: Option<Uncertain<Length>>,
    /// After it, as predicted from what was found before.
    pub predicted: Option<Uncertain<Length>>,
    /// After it, by what was read then; `None` while nothing is read.
    pub after: Option<Uncertain<Length>>,
}

impl TargetOutcome {
    /// Did it land? `None` while nothing is read.
    #[must_use]
    pub fn met(&self) -> Option<bool> {
        self.after.map(|after| self.wanted.contains(after.value))
    }
}

/// The targets after the change, by advice on the bike before it, on the changed bike by prediction, and by readings there.
pub(crate) fn target_outcomes(
    before: Option<&Decision>,
    predicted: Option<&Decision>,
    read: Option<&Decision>,
) -> Vec<TargetOutcome> {
    // Without a target there is no advice, and nothing to land on.
    let Some(then) = read.or(predicted) else { return Vec::new() };
    let along = |advice: Option<&Decision>| advice.filter(|one| one.direction == then.direction).map(|one| one.today);
    let (before, predicted, after) = (along(before), along(predicted), along(read));
    let rider = TargetOutcome {
        sag: SagKind::Rider,
        direction: then.direction,
        wanted: then.rider_sag.range,
        before: before.map(|today| today.rider_sag),
        predicted: predicted.map(|today| today.rider_sag),
        after: after.map(|today| today.rider_sag),
    };
    let free = then.free_sag.map(|wanted| TargetOutcome {
        sag: SagKind::Free,
        direction: then.direction,
        wanted,
        before: before.map(|today| today.free_sag),
        predicted: predicted.map(|today| today.free_sag),
        after: after.map(|today| today.free_sag),
    });
    core::iter::once(rider).chain(free).collect()
}
