//! Back through the changes, newest first: every earlier bike is made once, from the one after it.

use crate::bike::{Bike, BikePart, Contradictions};
use crate::error::BikeError;
use crate::log::between::Between;
use crate::log::when::Timeline;
use crate::record::{Change, End, Ends};

/// A walk back through the log of a bike.
#[derive(Debug)]
pub(crate) struct Walk<'a> {
    bike: &'a Bike,
    timeline: &'a Timeline,
    /// Steps that are not undone yet.
    left: usize,
    /// The bike after those, without readings and log.
    state: Bike,
}

impl<'a> Walk<'a> {
    /// Starts at the bike as it is now.
    pub(crate) fn new(bike: &'a Bike, timeline: &'a Timeline) -> Self {
        Self { bike, timeline, left: timeline.steps.len(), state: bike.holding(Vec::new(), Vec::new()) }
    }

    /// How many steps the bike that the walk stands at has behind it.
    pub(crate) fn left(&self) -> usize {
        self.left
    }

    /// The bike that the walk stands at, without readings and log.
    pub(crate) fn state(&self) -> &Bike {
        &self.state
    }

    /// Undoes one more step, and says what it changed for each end; `None` where nothing is left to undo.
    ///
    /// # Errors
    /// Everything that is wrong with the bike before that step, with the place of the change.
    pub(crate) fn back(&mut self) -> Option<Result<Ends<Between>, Contradictions>> {
        let left = self.left.checked_sub(1)?;
        let rows = &self.timeline.steps.get(left)?.rows;
        let changes: Vec<&Change> = rows.iter().rev().filter_map(|&row| self.bike.parts().changes.get(row)).collect();
        #[cfg(test)]
        MADE.with(|made| made.set(made.get() + 1));
        let earlier = match undone(&self.state, &changes) {
            Ok(earlier) => earlier,
            Err(faults) => {
                let place = BikePart::Change(rows.first().copied().unwrap_or_default());
                let fault = |(key, faults)| BikeError::Undone { key, faults }.into();
                let mut faults = faults.into_iter().map(fault);
                let first = faults.next().unwrap_or_else(|| fault((None, String::new())));
                let others = faults.map(|fault| (place, fault)).collect();
                return Some(Err(Contradictions { place, first, others }));
            }
        };
        let between = |end| Between::new(end, &earlier, &self.state);
        let between = Ends { front: between(End::Front), rear: between(End::Rear) };
        self.left = left;
        self.state = earlier;
        Some(Ok(between))
    }
}

/// What was wrong, and the former value that it is wrong with, where that can be seen.
type Wrong = (Option<String>, String);

/// The bike before some changes, given newest first.
#[cfg(feature = "serde")]
fn undone(bike: &Bike, changes: &[&Change]) -> Result<Bike, Vec<Wrong>> {
    use crate::error::Address;
    let keys: Vec<(&String, Address)> = changes
        .iter()
        .flat_map(|change| &change.was)
        .filter_map(|(key, _)| Some((key, Address::parse(key)?)))
        .collect();
    crate::log::logged::undone(bike, changes).map_err(|faults| {
        let wrong = faults.iter().map(|fault| {
            let meant = keys.iter().find(|(_, at)| fault.key_path.starts_with(at) || at.starts_with(&fault.key_path));
            (meant.map(|(key, _)| (*key).clone()), fault.to_string())
        });
        wrong.collect()
    })
}

/// The bike before some changes, given newest first.
#[cfg(not(feature = "serde"))]
fn undone(_: &Bike, _: &[&Change]) -> Result<Bike, Vec<Wrong>> {
    let why = "changes are in the words of the bike file, which this build cannot read: feature `serde`";
    Err(vec![(None, why.to_owned())])
}

#[cfg(test)]
std::thread_local! {
    /// Earlier bikes made on this thread, to be counted by tests.
    pub(super) static MADE: core::cell::Cell<usize> = const { core::cell::Cell::new(0) };
}
