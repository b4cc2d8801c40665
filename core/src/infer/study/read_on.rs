//! Few readings, read on from what was found before them.

use std::sync::Arc;

use super::{Study, gathered, of_gathered};
use crate::Result;
use crate::bike::Bike;
use crate::infer::before::Before;
use crate::infer::doubts::Doubts;
use crate::infer::kept::Kept;
use crate::record::{End, Load};

impl Study {
    /// Solves an end from a few readings, with what was found earlier as their prior: `earlier` is the bike as it was read, with
    /// what was read and changed before.
    pub(super) fn read_on(
        earlier: &Bike,
        bike: &Bike,
        end: End,
        places: &[usize],
        more: &[Load],
        doubts: Doubts,
    ) -> Result<Self> {
        let measuring = bike.assumed().measuring(end)?;
        let stated = bike.end_model(end, measuring.direction)?;
        let of_readings = gathered(bike, end, &stated, &measuring, places, more, &doubts)?.loads;
        // Earlier readings that cannot be solved, the history says so, do not silence those of today.
        let Ok(before) = Self::of(earlier, end, &of_readings, doubts) else {
            return Self::read(bike, end, places, more, doubts);
        };
        let model = stated.on(before.model.path.clone());
        let gathered = gathered(bike, end, &model, &measuring, places, &before.solved.gathered.loads, &doubts)?;
        if gathered.loads != before.solved.gathered.loads {
            return Self::read(bike, end, places, more, doubts);
        }
        let prior = Arc::new(Before::new(&before.solved)?);
        let mut solved = of_gathered(bike, end, &model, gathered, doubts, Some(prior))?;
        solved.carried = Some(before.solved.carried.unwrap_or_else(Kept::all));
        Ok(Self { bike: bike.clone(), measuring, solved: Arc::new(solved), model, source: Some(Arc::new(before)) })
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests;
