//! What was assumed because nobody stated it, ranked by what it costs.
//!
//! Every assumption is an unknown of the posterior, or a part of one, with its own place in the covariance. Knowing it exactly
//! would narrow the number that decides from `u` to `u′` (recursive least squares, as for a [task](super::Task)); its share is
//! `1 − u′²/u²`. Shares of several need not add up to one: what two assumptions have in common is gone with either. The act that
//! removes it narrows by as much as the tool is good for.
//!
//! How a total is shared between the wheels is a part `t` of all loads `W = W̄ + R·u` that hold the mass, `W = … + v·t`: given the
//! loads it is `t = α·u + r` with `R·α = v` and `var r = 1 − α·α`.

use super::adviser::Adviser;
use super::choice::Weighed;
use super::narrowing::{Coming, after, spread, spread_after};
use super::next_reading::{NextReading, Task};
use super::predict::Setting;
use super::tasks::{EXACT, Tasks};
use crate::Result;
use crate::bike::Assumed;
use crate::infer::posterior::{FRICTION, PRELOAD, RATE};
use crate::infer::solved::Solved;
use crate::mass::Weighing;
use crate::record::{End, Load, SpringPrior};
use crate::units::{Angle, Force, Length, Mass, Quantity, Share, Uncertain};
use crate::wheel::Origin;

/// What was assumed.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize, serde::Deserialize),
    serde(tag = "assumed", rename_all = "snake_case")
)]
#[non_exhaustive]
pub enum AssumptionKind {
    /// How far the label of the spring may be off.
    Label,
    /// The preload.
    Preload,
    /// The push of the gas beside the spring.
    Gas,
    /// The rake.
    Rake,
    /// Along what the front was read.
    Direction,
    /// The course of the motion ratio over the travel.
    Linkage,
    /// How the weight of a mass is shared between the wheels.
    Share {
        /// Which mass.
        mass: String,
    },
    /// The unsprung mass.
    Unsprung,
    /// The friction, which no load read from both sides shows.
    Friction,
    /// The kind of bike.
    Kind {
        /// Which.
        kind: String,
    },
    /// The sag that is wanted.
    Target,
}

/// A value that was assumed.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum Amount {
    /// A length.
    Length(Uncertain<Length>),
    /// An angle.
    Angle(Uncertain<Angle>),
    /// A mass.
    Mass(Uncertain<Mass>),
    /// A force.
    Force(Uncertain<Force>),
    /// A share.
    Share(Uncertain<Share>),
}

/// One thing that was assumed, and what would remove it.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Assumption {
    /// At which end.
    pub end: End,
    /// What.
    #[cfg_attr(feature = "serde", serde(flatten))]
    pub kind: AssumptionKind,
    /// Its value with its standard uncertainty; `None` for what is no number.
    pub value: Option<Amount>,
    /// By how much knowing it would narrow the variance of the rate called for (of today's rate where none is), as a share.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub of_spring: Share,
    /// The same of the preload to set in millimetres, where a setting is advised.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub of_preload: Share,
    /// The one act that removes it, with what that would leave; `None` where nothing but stating it would.
    pub act: Option<NextReading>,
}

impl Assumed<'_> {
    /// All of it at both ends, what costs most first; an end without an answer is left out.
    ///
    /// # Errors
    /// As [`Bike::study`](crate::Bike::study), where no end has an answer.
    pub fn ranked(&self) -> Result<Vec<Assumption>> {
        let mut all = Vec::new();
        let mut refused = None;
        for end in self.bike.ends() {
            match self.bike.study(end).and_then(|study| study.assumptions()) {
                Ok(found) => all.extend(found),
                Err(error) => refused = refused.or(Some(error)),
            }
        }
        match refused {
            Some(error) if all.is_empty() => Err(error),
            _ => {
                sort(&mut all);
                Ok(all)
            }
        }
    }
}

impl crate::infer::Study {
    /// What was assumed at the end because nobody stated it, what costs most first.
    ///
    /// ```
    /// use wheelrate::units::{Quantity, Share};
    /// use wheelrate::{Bike, demo::LEAST, record::End};
    /// let study = Bike::from_toml(LEAST)?.study(End::Rear)?;
    /// let costliest = &study.assumptions()?[0];
    /// assert!(costliest.of_spring > Share::from_si(0.1) && costliest.act.is_some());
    /// # Ok::<(), wheelrate::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`advise`](Self::advise).
    pub fn assumptions(&self) -> Result<Vec<Assumption>> {
        Ok(self.advise()?.assumptions)
    }
}

fn sort(all: &mut [Assumption]) {
    let cost = |one: &Assumption| one.of_spring.si().max(one.of_preload.si());
    all.sort_by(|one, other| cost(other).total_cmp(&cost(one)));
}

/// An assumption with what knowing it exactly would be, and the act that removes it.
struct Found {
    kind: AssumptionKind,
    value: Option<Amount>,
    exact: Vec<Coming>,
    act: Option<Task>,
}

impl Adviser {
    /// Everything that was assumed here.
    pub(super) fn assumptions(
        &self,
        weighed: &[Weighed],
        called: Option<&Setting>,
        tasks: &Tasks<'_>,
    ) -> Result<Vec<Assumption>> {
        let deciding = self.deciding(called, true);
        let before = &self.solved().posterior.covariance;
        let advised = weighed.first().and_then(|best| best.set.as_ref()).map(|set| set.change.gradient.fit.clone());
        let narrowed = |coming: &[Coming], of: &[f64]| {
            let now = spread(before, of);
            let left = if now > 0.0 { spread_after(before, coming, of) / now } else { 1.0 };
            Share::from_si((1.0 - left * left).clamp(0.0, 1.0))
        };
        let found = self.found()?;
        let tasks = if found.iter().any(|one| one.act.is_some()) { tasks.all()? } else { &[] };
        let mut all: Vec<Assumption> = found
            .into_iter()
            .map(|Found { kind, value, exact, act }| Assumption {
                end: self.end(),
                of_spring: narrowed(&exact, &deciding.number),
                of_preload: advised.as_ref().map_or(Share::from_si(0.0), |change| narrowed(&exact, change)),
                act: act.and_then(|act| {
                    let (task, coming) = tasks.iter().find(|(task, _)| *task == act)?;
                    super::next_reading::worth(task.clone(), &deciding, before, &after(before, coming))
                }),
                kind,
                value,
            })
            .collect();
        sort(&mut all);
        Ok(all)
    }

    fn found(&self) -> Result<Vec<Found>> {
        let (bike, end, solved) = (self.bike(), self.end(), self.solved());
        let usual = bike.assumed().usual();
        let mut all = Vec::new();
        let mut note = |kind, value, exact, act| all.push(Found { kind, value, exact, act });
        let none = Vec::new;
        if bike.assumed().is_kind() && self.takes_what_is_usual() {
            note(AssumptionKind::Kind { kind: bike.assumed().kind().to_owned() }, None, none(), None);
        }
        if bike.assumed_discipline(end).is_some() {
            note(AssumptionKind::Target, None, none(), None);
        }
        // A spring that was measured has no label.
        let known = bike.assumed().prior(end);
        let is_label = known.rate_tolerance == SpringPrior::default().rate_tolerance;
        if is_label && *bike.parts().prior.at(end) == SpringPrior::default() && self.takes_what_is_usual() {
            let tolerance = known.rate_standard_uncertainty();
            let value = Amount::Share(Uncertain { value: Share::from_si(0.0), standard_uncertainty: tolerance });
            note(AssumptionKind::Label, Some(value), vec![solved.known(RATE)], Some(Task::SpringRate));
        }
        if let Some(uncertainty) = bike.assumed().preload(end) {
            let value = Amount::Length(Uncertain { value: solved.main.preload, standard_uncertainty: uncertainty });
            let act = if bike.sprung(end).is_none() { Task::CapOff } else { Task::SpringLength };
            note(AssumptionKind::Preload, Some(value), vec![solved.known(PRELOAD)], Some(act));
        }
        if solved.gathered.rows.iter().all(|row| row.band.is_none()) && bike.end(end)?.friction().is_none() {
            let (mean, deviation) = solved.evidence.priors.friction;
            let value = Uncertain { value: Force::from_si(mean), standard_uncertainty: Force::from_si(deviation) };
            let load = bike.parts().rider_load.clone();
            let act = Some(Task::Pairs { load, pairs: 1 });
            note(AssumptionKind::Friction, Some(Amount::Force(value)), vec![solved.known(FRICTION)], act);
        }
        for (origin, places) in self.origins() {
            let exact = places.iter().map(|&place| solved.known(place)).collect();
            match origin {
                Origin::Rake if bike.front()?.fork()?.is_rake_assumed() => {
                    note(AssumptionKind::Rake, Some(Amount::Angle(usual.rake)), exact, Some(Task::Rake));
                }
                Origin::Direction => note(AssumptionKind::Direction, None, exact, Some(Task::Direction)),
                Origin::Gas => note(AssumptionKind::Gas, self.gas(), exact, Some(Task::Gas)),
                Origin::Progression => {
                    let way = bike.rear()?.assumed().copied();
                    let value = way.map(|way| Amount::Share(way.progression()));
                    // The bends and the mean ratio go with a table as well.
                    let all = self.origins();
                    let whole = all.iter().filter(|(origin, _)| matches!(origin, Origin::Ratio | Origin::Bend));
                    let whole = whole.flat_map(|(_, places)| places).map(|&place| solved.known(place));
                    let exact = exact.into_iter().chain(whole).collect();
                    let table = Some(Task::ShockTable { steps: super::next_reading::TABLE_STEPS });
                    note(AssumptionKind::Linkage, value, exact, table);
                }
                _ => {}
            }
        }
        self.masses_assumed(&mut note)?;
        Ok(all)
    }

    fn masses_assumed(
        &self,
        note: &mut impl FnMut(AssumptionKind, Option<Amount>, Vec<Coming>, Option<Task>),
    ) -> Result<()> {
        let (bike, end, solved) = (self.bike(), self.end(), self.solved());
        let masses = bike.masses()?;
        let gravity = masses.gravity().si();
        for (name, weighing) in masses.named() {
            let Weighing::Total { total, on_front, assumed: true } = weighing else { continue };
            let value = match end {
                End::Front => on_front.value,
                End::Rear => Share::from_si(1.0 - on_front.value.si()),
            };
            let value = Amount::Share(Uncertain { value, standard_uncertainty: on_front.standard_uncertainty });
            let shared = total.si() * on_front.standard_uncertainty.si() * gravity;
            let exact = solved.part_of_loads(shared, |load| load.names().contains(name));
            let load = if name == Load::BIKE { Load::bike_alone() } else { bike.parts().rider_load.clone() };
            note(AssumptionKind::Share { mass: name.clone() }, Some(value), vec![exact], Some(Task::Scale { load }));
        }
        if let Some(assumed) = masses.assumed_unsprung() {
            let (value, standard_uncertainty) = (*masses.unsprung().at(end), *assumed.at(end));
            let value = Amount::Mass(Uncertain { value, standard_uncertainty });
            let exact = solved.part_of_loads(-standard_uncertainty.si() * gravity, |_| true);
            note(AssumptionKind::Unsprung, Some(value), vec![exact], Some(Task::Unsprung));
        }
        Ok(())
    }

    /// Is anything here taken as usual of the kind?
    fn takes_what_is_usual(&self) -> bool {
        let bike = self.bike();
        let masses = bike.masses().ok();
        let total = |(_, weighing): &(String, Weighing)| matches!(weighing, Weighing::Total { assumed: true, .. });
        bike.assumed().preload(self.end()).is_some()
            || bike.assumed_discipline(self.end()).is_some()
            || !self.origins().is_empty()
            || masses.is_some_and(|masses| masses.assumed_unsprung().is_some() || masses.named().iter().any(total))
    }

    /// What the unknowns between tape and springs are of, with their places.
    pub(super) fn origins(&self) -> Vec<(Origin, Vec<usize>)> {
        let first = self.solved().evidence.unknowns();
        let mut all: Vec<(Origin, Vec<usize>)> = Vec::new();
        let origins = self.model.path.iter().flat_map(|path| path.origins());
        for (place, origin) in origins.enumerate() {
            match all.iter_mut().find(|(known, _)| *known == origin) {
                Some((_, places)) => places.push(first + place),
                None => all.push((origin, vec![first + place])),
            }
        }
        all
    }

    /// The push of gas in a shock that is assumed, at full extension; nothing of a fork, whose air is.
    fn gas(&self) -> Option<Amount> {
        self.bike().sprung(self.end()).map(|_| Amount::Force(self.bike().assumed().usual().gas_push))
    }
}

impl Solved {
    /// An unknown known exactly.
    fn known(&self, place: usize) -> Coming {
        Coming::new(self.unit(place, 1.0), EXACT)
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::bike::Bike;
    use crate::demo::{LEAST, PATROL};
    use crate::record::{Direction, Ends, Range, SagTarget, Targets};

    /// The least bike, at some ends with a free sag that is wanted and no word of the rider sag: they have no answer.
    fn without(ends: &[End]) -> Bike {
        let bike = Bike::from_toml(LEAST).unwrap();
        let range = Range::new(Length::from_si(0.02), Length::from_si(0.03)).unwrap();
        let free = SagTarget::new(range.middle(), range, Direction::Vertical).unwrap();
        let asked = |end: End| Targets { free_sag: ends.contains(&end).then_some(free), ..Targets::default() };
        bike.with(|parts| parts.targets = Ends { front: asked(End::Front), rear: asked(End::Rear) }).unwrap()
    }

    #[test]
    fn an_end_without_an_answer_leaves_the_assumptions_of_the_other() {
        assert!(without(&[End::Front]).study(End::Front).and_then(|study| study.assumptions()).is_err());
        let both = without(&[]).assumed().ranked().unwrap();
        for (refused, other) in [(End::Front, End::Rear), (End::Rear, End::Front)] {
            let left = without(&[refused]).assumed().ranked().unwrap();
            assert!(!left.is_empty() && left.iter().all(|one| one.end == other), "{refused}");
            assert!(both.iter().any(|one| one.end == refused) && both.len() > left.len());
        }
        let cost = |one: &Assumption| one.of_spring.si().max(one.of_preload.si());
        assert!(both.windows(2).all(|pair| cost(&pair[0]) >= cost(&pair[1])), "what costs most first");
        assert!(without(&End::BOTH).assumed().ranked().is_err());
    }

    #[test]
    fn one_thing_that_is_taken_as_usual_is_enough() {
        let takes = |bike: &Bike, end: End| {
            let adviser = bike.study(end).unwrap().adviser().unwrap();
            let others = [bike.assumed().preload(end).is_some(), bike.assumed_discipline(end).is_some()];
            (adviser.takes_what_is_usual(), others, adviser.origins().is_empty())
        };
        let demo = Bike::from_toml(PATROL).unwrap();
        assert_eq!(takes(&demo, End::Rear), (false, [false, false], true), "all of it is stated");
        // Only the sags that are wanted are those of common practice.
        let wanted = demo.with(|parts| {
            parts.discipline = None;
            parts.targets.rear = Targets::default();
        });
        let wanted = wanted.unwrap();
        assert_eq!(takes(&wanted, End::Rear), (true, [false, true], true));
        // Only the pivots are known no better than by a tape.
        let pivots = demo.correct(&[("rear.linkage.point_uncertainty", "2 mm")]).unwrap();
        assert_eq!(takes(&pivots, End::Rear), (true, [false, false], false));
        // Only the preload was not stated.
        let text = PATROL.replace("rate = \"52 N/mm\", preload = \"14 mm\", ", "rate = \"52 N/mm\", ");
        assert_eq!(takes(&Bike::from_toml(&text).unwrap(), End::Rear), (true, [true, false], true));
        assert!(takes(&Bike::from_toml(LEAST).unwrap(), End::Rear).0);
    }
}
