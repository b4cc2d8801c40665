//! What the solution of an end takes from its bike: the model, what is likely before anything is read, and the readings
//! brought together. It follows from the bike alone, and is worked out once for each.

use std::sync::Arc;

use super::gathered;
use crate::Result;
use crate::bike::Bike;
use crate::error::SetupError;
use crate::infer::doubts::Doubts;
use crate::infer::end::EndModel;
use crate::infer::posterior::Priors;
use crate::infer::readings::Gathered;
use crate::infer::solved::Solved;
use crate::record::{End, Load, Measuring};
use crate::spring::MainSpring;
use crate::units::Quantity;

/// All that an end is solved from.
#[derive(Debug, Clone)]
pub(crate) struct Given {
    end: End,
    pub(super) measuring: Measuring,
    pub(super) model: Arc<EndModel>,
    main: Arc<MainSpring>,
    priors: Priors,
    /// Force at the wheel when it hangs.
    hanging: f64,
    gathered: Arc<Gathered>,
    doubts: Doubts,
    /// The readings among all of the bike.
    places: Vec<usize>,
}

impl Given {
    /// From some of the readings of a bike; the model must be that of the end, its tape along their direction.
    pub(super) fn new(
        bike: &Bike,
        end: End,
        model: Arc<EndModel>,
        measuring: Measuring,
        (places, more): (&[usize], &[Load]),
        doubts: Doubts,
    ) -> Result<Self> {
        let found = gathered(bike, end, &model, &measuring, places, more, &doubts)?;
        Ok(Self { places: places.to_vec(), ..Self::of_gathered(bike, model, measuring, (end, found), doubts)? })
    }

    /// From readings that are brought together.
    pub(super) fn of_gathered(
        bike: &Bike,
        model: Arc<EndModel>,
        measuring: Measuring,
        (end, gathered): (End, Gathered),
        doubts: Doubts,
    ) -> Result<Self> {
        let main = bike.end(end)?.main_spring().ok_or_else(|| {
            let [part, table] = match end {
                End::Front if bike.sprung(end).is_some() => ["front.shock", "prior.front"],
                End::Front => ["front.fork.leg", "prior.front"],
                End::Rear => ["rear.shock", "prior.rear"],
            };
            let why = format!(
                ": put a `spring` into `{part}`; where its rate is not known, a guess with a wide `rate_tolerance` in `{table}`"
            );
            SetupError::NoSpring { end, why }
        })?;
        let (masses, prior) = (bike.masses()?, bike.assumed().prior(end));
        let priors = Priors {
            rate: prior.rate_standard_uncertainty().si(),
            preload: prior.preload_uncertainty.si(),
            friction: bike.friction_prior(end, &model)?,
        };
        let hanging = -masses.unsprung().at(end).si() * masses.gravity().si();
        let (main, gathered, places) = (Arc::new(main), Arc::new(gathered), Vec::new());
        Ok(Self { end, measuring, model, main, priors, hanging, gathered, doubts, places })
    }

    /// As it was kept with the bike.
    pub(super) fn recalled(bike: &Bike, end: End, places: &[usize], doubts: Doubts) -> Option<Arc<Self>> {
        let kept: Arc<Self> = bike.memory().recall(end, way(doubts))?;
        (kept.places == places && kept.doubts == doubts).then_some(kept)
    }

    /// Keeps it with its bike.
    pub(super) fn keep(self: &Arc<Self>, bike: &Bike) {
        bike.memory().keep(self.end, way(self.doubts), self);
    }

    pub(super) fn solved(&self) -> Result<Solved> {
        let (model, gathered) = (Arc::clone(&self.model), Arc::clone(&self.gathered));
        Ok(Solved::new(self.end, model, Arc::clone(&self.main), self.priors, self.hanging, gathered, self.doubts)?)
    }
}

/// What is doubted and what is taken as stated are kept side by side.
fn way(doubts: Doubts) -> usize {
    usize::from(doubts == Doubts::AS_STATED)
}
