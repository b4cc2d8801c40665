//! Few readings, read on from what was found before them.

use std::sync::Arc;

use super::given::Given;
use super::{Study, gathered};
use crate::Result;
use crate::bike::Bike;
use crate::infer::doubts::Doubts;
use crate::infer::kept::Kept;
use crate::infer::posterior::before::Before;
use crate::record::{End, Load};

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
        let earlier = |before| {
            let measuring = bike.assumed().measuring(end)?;
            let stated = bike.end_model(end, measuring.direction)?;
            let loads = gathered(bike, end, &stated, &measuring, places, more, &doubts)?.loads;
            Self::of(before, end, &loads, doubts)
        };
        match before.map(earlier) {
            Some(Ok(earlier)) => Self::read_on(&earlier, bike, end, places, more),
            _ => Self::read(bike, end, places, more, doubts),
        }
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
        gathered.before = Some(Arc::new(Before::new(&earlier.solved.posterior)?));
        let given = Given::of_gathered(bike, Arc::new(model), measuring, (end, gathered), doubts)?;
        let mut solved = given.solved()?;
        solved.carried = Some(earlier.solved.carried.unwrap_or_else(Kept::all));
        let source = Some(Arc::new(earlier.clone()));
        let model = given.model.as_ref().clone();
        Ok(Self { bike: bike.clone(), measuring, solved: Arc::new(solved), model, source })
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests;
