//! What if something stated is wrong: the decision with the rider heavier or lighter, the label off by more than its tolerance,
//! the reading with the wheel off the ground off by what no other reading sees.
//!
//! Each is worked out by moving what is stated by that much, all else as it is, and solving again.

use std::sync::Arc;

use crate::Result;
use crate::decide::choice::Turns;
use crate::decide::verdict::{Act, Action};
use crate::error::{Error, SetupError};
use crate::infer::Study;
use crate::infer::posterior::{Evidence, RATE};
use crate::record::Load;
use crate::units::{Length, Mass, Quantity, Share};

/// How far each is moved, either way: a day's kit, a label three times as wrong as stated, a tape held beside the mark.
const RIDER_KG: f64 = 3.0;
const LABEL: f64 = 0.15;
const ZERO_M: f64 = 5e-3;

/// What is taken to be otherwise.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize, serde::Deserialize),
    serde(tag = "doubt", rename_all = "snake_case")
)]
#[non_exhaustive]
pub enum DoubtKind {
    /// The rider is this much heavier, or lighter below zero, shared between the wheels as stated.
    Rider {
        /// By how much.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        by: Mass,
    },
    /// The label of the spring that is in is off by this much: above zero the spring is stiffer than it says.
    Label {
        /// By how much.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        by: Share,
    },
    /// All readings with the wheel off the ground are this much too long, or too short below zero.
    Zero {
        /// By how much.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        by: Length,
    },
    /// The gauge was zeroed so that every sag reads this much too large, or too small below zero.
    Gauge {
        /// By how much.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        by: Length,
    },
}

/// What would be best then.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Doubt {
    /// What is taken to be otherwise.
    pub kind: DoubtKind,
    /// The best action then; `None` where the readings cannot be solved with it.
    pub action: Option<Action>,
    /// Turns of today's collar, where that is the action and its pitch is stated.
    pub turns: Option<Turns>,
    /// Is it the same action as now, but for how far the collar is turned?
    pub same: bool,
}

impl Study {
    /// The decision with each of the usual slips, one at a time; empty where nothing was read.
    ///
    /// # Errors
    /// As [`advise`](Self::advise).
    pub fn doubts(&self) -> Result<Vec<Doubt>> {
        if self.solved.gathered.observations.is_empty() || self.solved.carried.is_some() {
            return Ok(Vec::new());
        }
        let now = self.adviser()?.best()?.0.map(|action| action.act);
        let mut doubts = Vec::new();
        for by in [RIDER_KG, -RIDER_KG] {
            let kind = DoubtKind::Rider { by: Mass::from_si(by) };
            doubts.extend(self.doubt(kind, now, self.with_heavier_rider(by))?);
        }
        for by in [LABEL, -LABEL] {
            let moved = self.moved(|evidence| {
                evidence.centres = vec![0.0; evidence.all_unknowns()];
                evidence.centres[RATE] = by.ln_1p() / evidence.priors.rate;
            });
            doubts.extend(self.doubt(DoubtKind::Label { by: Share::from_si(by) }, now, moved)?);
        }
        for by in [ZERO_M, -ZERO_M] {
            // A reading that is too long is put right by that much less. Of a zeroed gauge all distances are counted back from
            // its zero: where that made every sag too large, they are put right by that much more.
            let gauge = self.solved.evidence.zeroed.is_some();
            let moved = self.moved(|evidence| {
                let all = evidence.observations.iter_mut();
                all.filter(|one| gauge || one.load.is_none())
                    .for_each(|one| one.distance += if gauge { by } else { -by });
            });
            let by = Length::from_si(by);
            let kind = if gauge { DoubtKind::Gauge { by } } else { DoubtKind::Zero { by } };
            doubts.extend(self.doubt(kind, now, moved)?);
        }
        Ok(doubts)
    }

    fn doubt(&self, kind: DoubtKind, now: Option<Act>, moved: Result<Self>) -> Result<Option<Doubt>> {
        let (action, fitted) = match moved.and_then(|moved| moved.adviser()?.best()) {
            Err(Error::Setup(SetupError::NotConverged { .. })) => {
                return Ok(Some(Doubt { kind, action: None, turns: None, same: false }));
            }
            best => best?,
        };
        let Some(action) = action else { return Ok(None) };
        let turns = fitted.and_then(|fitted| fitted.outcome).and_then(|outcome| outcome.turns);
        let same = match (now, action.act) {
            (Some(Act::Turn { .. }), Act::Turn { .. }) => true,
            (now, then) => now == Some(then),
        };
        let turns = turns.filter(|_| matches!(action.act, Act::Turn { .. }));
        Ok(Some(Doubt { kind, action: Some(action), turns, same }))
    }

    fn moved(&self, change: impl FnOnce(&mut Evidence)) -> Result<Self> {
        let mut solved = (*self.solved).clone();
        change(&mut solved.evidence);
        Ok(self.with_solved(solved.anew()?))
    }

    fn with_heavier_rider(&self, by: f64) -> Result<Self> {
        let (masses, end) = (self.bike.masses()?, self.end());
        let loads = [Load::bike_alone(), self.bike.parts().rider_load.clone()];
        let weigh = |end| -> Result<f64> {
            let [free, rider] = &loads;
            Ok((masses.wheel_mass(end, rider)?.value - masses.wheel_mass(end, free)?.value).si())
        };
        let here = weigh(end)?;
        let share = here / (weigh(crate::record::End::Front)? + weigh(crate::record::End::Rear)?);
        let more = by * share * masses.gravity().si();
        // With the loads of all scenarios, so that none is weighed anew afterwards.
        let mut solved = (*self.adviser()?.study.solved).clone();
        let gathered = Arc::make_mut(&mut solved.gathered);
        for (load, mean) in gathered.loads.iter().zip(&mut Arc::make_mut(&mut gathered.law).mean) {
            // The bike alone stays as it was weighed; the rider is in everything else.
            *mean += if *load == loads[0] { 0.0 } else { more };
        }
        solved.evidence.loads = gathered.law.clone();
        Ok(self.with_solved(solved.anew()?))
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::Bike;
    use crate::demo::PATROL;
    use crate::record::End;

    fn rear() -> Study {
        Bike::from_toml(PATROL).unwrap().study(End::Rear).unwrap()
    }

    #[test]
    fn a_heavier_rider_is_the_bike_weighed_so() {
        let text = PATROL.replace(
            "rider = { front = \"30 kg\", rear = \"66 kg\"",
            "rider = { front = \"30.9375 kg\", rear = \"68.0625 kg\"",
        );
        assert_ne!(text, PATROL);
        let stated = Bike::from_toml(&text).unwrap().advise_end(End::Rear).unwrap();
        let moved = rear().with_heavier_rider(3.0).unwrap().advise().unwrap();
        // The demo's rider stands on the wheels as 30 to 66; two ways to one solution, to the iterations of a fit.
        let apart = (stated.today.rider_sag.value - moved.today.rider_sag.value).si();
        assert!(apart.abs() < 1e-6, "{apart}");
        let (one, other) = (stated.action().unwrap(), moved.action().unwrap());
        assert_eq!(one.act, other.act);
        assert!((one.probability.si() - other.probability.si()).abs() < 1e-4);
    }

    #[test]
    fn what_is_wrong_moves_what_it_should() {
        let study = rear();
        let sag = |study: &Study| study.advise().unwrap().today.rider_sag.value.si();
        let longer = study.moved(|evidence| {
            evidence.observations.iter_mut().filter(|one| one.load.is_none()).for_each(|one| one.distance += 5e-3);
        });
        let moved = sag(&longer.unwrap()) - sag(&study);
        assert!(
            (2e-3..5e-3).contains(&moved),
            "a longer zero is more sag, less what the label says against it: {moved}"
        );
        let doubts = study.doubts().unwrap();
        assert_eq!(doubts.len(), 6);
        assert!(doubts.iter().any(|doubt| doubt.same), "{doubts:?}");
        let unread = crate::bike::BikeParts { readings: Vec::new(), ..study.bike().parts().clone() };
        assert!(Bike::new(unread).unwrap().study(End::Rear).unwrap().doubts().unwrap().is_empty());
    }

    /// One slip that nothing settles with takes none of the others away.
    #[test]
    fn a_slip_that_cannot_be_solved_is_said_to_be_one() {
        let (study, kind) = (rear(), DoubtKind::Label { by: Share::from_si(LABEL) });
        let unsettled = || Err(SetupError::NotConverged { steps: 100, sum_of_squares: 447.6 }.into());
        let doubt = study.doubt(kind, None, unsettled()).unwrap().unwrap();
        assert_eq!(doubt, Doubt { kind, action: None, turns: None, same: false });
        let other = study.doubt(kind, None, Err(SetupError::Singular.into())).unwrap_err();
        assert_eq!(other, SetupError::Singular.into());
        assert!(study.doubt(kind, None, Ok(study.clone())).unwrap().unwrap().action.is_some());
    }
}
