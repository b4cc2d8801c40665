//! Few readings, read on from what was found before them.

use std::sync::Arc;

use super::given::Given;
use super::{Study, gathered};
use crate::Result;
use crate::bike::Bike;
use crate::infer::doubts::Doubts;
use crate::infer::kept::Kept;
use crate::infer::posterior::before::Before;
use crate::log::recent::are_few;
use crate::log::{Between, Log, ReadingSet, Recent};
use crate::record::{End, Load};
use crate::units::Quantity;

impl Study {
    /// Solves an end from its newest readings; where they are few, with what was found earlier as their prior: `before` is the
    /// bike as it was read, with what was read and changed before. Earlier readings that cannot be solved (the history says so)
    /// do not silence those of today.
    pub(super) fn read_newest(
        before: Option<&Bike>,
        bike: &Bike,
        end: End,
        places: &[usize],
        more: &[Load],
        doubts: Doubts,
    ) -> Result<Self> {
        let earlier = |before: &Bike| {
            let measuring = bike.assumed().measuring(end)?;
            let stated = bike.end_model(end, measuring.direction)?;
            let loads = gathered(bike, end, &stated, &measuring, places, more, &doubts)?.loads;
            Self::found_before(before, end, loads, doubts)
        };
        match before.map(earlier) {
            Some(Ok(Some(earlier))) => Self::read_on(&earlier, bike, end, places, more),
            _ => Self::read(bike, end, places, more, doubts),
        }
    }

    /// What the log of a bike found: from the newest set of readings that has an answer of its own, or else from the first
    /// one, read on set by set. `None` where nothing of it can be solved.
    fn found_before(before: &Bike, end: End, mut loads: Vec<Load>, doubts: Doubts) -> Result<Option<Self>> {
        // One set with an answer of its own, or with nothing before it: no need of the whole log.
        if Recent::new(before, end)?.before.is_none() {
            return Self::of(before, end, &loads, doubts).map(Some);
        }
        let log = before.log()?;
        let sets = log.sets(end);
        let first = sets.iter().rposition(|set| !are_few(before, &set.readings)).unwrap_or(0);
        let sets = sets.get(first..).unwrap_or_default();
        loads.extend(sets.iter().flat_map(|set| &set.bike().parts().readings).map(|reading| reading.load.clone()));
        loads.sort();
        loads.dedup();
        let mut found: Option<(Self, usize)> = None;
        for set in sets {
            let last = found.as_ref().map(|(last, step)| (last, *step));
            found = Self::of_set(set, &log, last, &loads, doubts).ok().map(|study| (study, set.step));
        }
        let carried = |(last, step): (Self, usize)| last.over_to(before, &log.between(end, step, log.steps()), &loads);
        found.map(carried).transpose()
    }

    /// Solves an end from one set of its readings; where `last` is given, what was found up to a step of the log, with that as
    /// their prior.
    ///
    /// # Errors
    /// As [`Bike::study`], for the bike as it was read.
    pub(crate) fn of_set(
        set: &ReadingSet,
        log: &Log,
        last: Option<(&Self, usize)>,
        loads: &[Load],
        doubts: Doubts,
    ) -> Result<Self> {
        let (bike, end) = (set.bike(), set.end);
        let places: Vec<usize> = (0..bike.parts().readings.len()).collect();
        let Some((last, step)) = last else { return Self::read(bike, end, &places, loads, doubts) };
        let before = last.clone().over_to(bike, &log.between(end, step, set.step), loads)?;
        Self::read_on(&before, bike, end, &places, loads)
    }

    /// [`carried`](Self::carried_over) where something differs.
    fn over_to(self, changed: &Bike, since: &Between, loads: &[Load]) -> Result<Self> {
        if since.touches { self.carried_over(changed, since, loads) } else { Ok(self) }
    }

    /// Solves an end from a few readings, with what was found earlier of the same state as their prior.
    pub(crate) fn read_on(earlier: &Self, bike: &Bike, end: End, places: &[usize], more: &[Load]) -> Result<Self> {
        let doubts = earlier.solved.evidence.doubts;
        let measuring = bike.assumed().measuring(end)?;
        let model = bike.end_model(end, measuring.direction)?.on(earlier.model.path.clone());
        let mut gathered = gathered(bike, end, &model, &measuring, places, &earlier.solved.gathered.loads, &doubts)?;
        if gathered.loads != earlier.solved.gathered.loads {
            return Self::read(bike, end, places, more, doubts);
        }
        let label_weighed = earlier.label_weighed();
        gathered.before = Some(Arc::new(Before::new(&earlier.solved.posterior, label_weighed)?));
        let given = Given::of_gathered(bike, Arc::new(model), measuring, (end, gathered), doubts)?;
        let mut solved = given.solved()?;
        if label_weighed {
            solved.faults.label = earlier.solved.faults.label;
        }
        solved.carried = Some(earlier.solved.carried.unwrap_or_else(Kept::all));
        let source = Some(Arc::new(earlier.without_past()));
        let model = given.model.as_ref().clone();
        Ok(Self { bike: bike.clone(), measuring, solved: Arc::new(solved), model, source })
    }

    /// The same without what readings of its own went on from, which no question goes back to: a log of any length is then
    /// no chain of as many studies.
    fn without_past(&self) -> Self {
        let carried = self.solved.gathered.observations.is_empty();
        let source = self.source.as_ref().filter(|_| carried).map(|source| Arc::new(source.without_past()));
        Self { source, ..self.clone() }
    }

    /// Was the label of the springs that are in now doubted already, with readings of those springs?
    fn label_weighed(&self) -> bool {
        let read = !self.solved.gathered.observations.is_empty();
        let same_springs = || self.solved.carried.is_some_and(|kept| kept.springs.si() == 1.0);
        read || self.source.as_ref().is_some_and(|source| same_springs() && source.label_weighed())
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests;
