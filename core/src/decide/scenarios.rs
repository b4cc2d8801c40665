//! The same bike under other loads: what to set for each, how far to turn from one to the other, and which spring does
//! for all of them.
//!
//! Each scenario is weighed like the usual load. The change of preload from one to the other is the difference of two
//! preloads on the same spring, `Δb = b(W_j, z_j) − b(W_i, z_i)`, with its uncertainty from the difference of their
//! derivatives: what the fit, the spring's label and the bike's own mass are off by is in both and mostly cancels; what
//! is left is the mass that comes on top, and the rate it is carried by. The tape does not enter: nothing is measured
//! between two settings of a collar, and what the first was set wrong by stays.
//!
//! A spring does for all when in every scenario both sags land, each at its own best setting and by the way it is set. The
//! sags of all scenarios, and the preloads behind them, are jointly normal; the probability that all land is counted over
//! draws from that distribution, each setting that is read again with a tape error of its own. It is never above the least of
//! the scenarios. Springs are ranked by it less the price of another spring; the usual load is that of the decision.

use nalgebra::DMatrix;
use rand_distr::{Distribution, StandardNormal};
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;

use crate::Result;
use crate::bike::Bike;
use crate::decide::adviser::{Adviser, Wanted};
use crate::decide::chances::{Aim, Way, turned_gradients};
use crate::decide::choice::{Turns, Weighed};
use crate::decide::gradient::Predicted;
use crate::decide::set::Set;
use crate::decide::verdict::SUITS;
use crate::decide::{Decision, SpringChoice};
use crate::infer::Study;
use crate::infer::probability::Interval;
use crate::infer::readings::semidefinite_root;
use crate::record::{End, Load, Prices, Range, SagTarget};
use crate::units::{Force, Length, Quantity, Share, SpringRate, Uncertain};

/// Draws that a probability over several scenarios is counted from, each with its mirror image: it is sure to a percent.
const DRAWS: usize = 1_000;
/// A spring that lands less often than this under one of the loads does not do for all, and is not drawn for.
const NOT_FOR_ALL: f64 = 0.02;
/// The same draws every time.
const SEED: u64 = 8;

/// The scenarios of every end that has a rider sag target.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Scenarios {
    /// One per end, front first.
    pub ends: Vec<EndScenarios>,
    /// Ends without, and why.
    pub without: Vec<(End, String)>,
}

/// One end under the usual load and under those of the scenarios.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct EndScenarios {
    /// Which end.
    pub end: End,
    /// The loads, the usual one first.
    pub loads: Vec<ScenarioLoad>,
    /// Every spring, the one that does for all loads best first; the one fitted now is among them.
    pub springs: Vec<SpringAcross>,
    /// The decision for the usual load.
    pub decision: Decision,
    /// Springs at this end that share the load.
    pub legs: usize,
}

/// A load as it stands today.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct ScenarioLoad {
    /// Name of the scenario; of the usual load, the load itself.
    pub name: String,
    /// What stands on the wheels.
    pub load: Load,
    /// The rider sag that is wanted under it.
    pub rider_sag: SagTarget,
    /// The free sag that is wanted, along the same direction.
    pub free_sag: Option<Range>,
    /// What the springs carry at the wheel.
    pub sprung_load: Uncertain<Force>,
    /// Sag under it today, along the direction of the target.
    pub sag_today: Uncertain<Length>,
    /// Sag of the bike alone today, along the same direction; below zero it is topped out.
    pub free_sag_today: Uncertain<Length>,
}

/// A change of preload.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct PreloadChange {
    /// How much more, below zero less.
    pub preload: Uncertain<Length>,
    /// The same in turns of the adjuster; `None` where its pitch is not stated.
    pub turns: Option<Turns>,
}

/// One spring under every load.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct SpringAcross {
    /// Rate as labelled, per spring.
    pub rate: SpringRate,
    /// Is it the one that is in now?
    pub is_fitted: bool,
    /// What it does under each load, in their order.
    pub choices: Vec<SpringChoice>,
    /// Change of preload from load to load, `changes[from][to]`; `None` where one of them has no preload.
    pub changes: Vec<Vec<Option<PreloadChange>>>,
    /// Probability that both sags land under every load, the collar turned for each.
    pub probability: Share,
}

impl SpringAcross {
    /// Change of preload from one load to another, by their places.
    #[must_use]
    pub fn change(&self, from: usize, to: usize) -> Option<PreloadChange> {
        *self.changes.get(from)?.get(to)?
    }

    /// That probability less the price of another spring.
    pub(crate) fn net(&self, prices: &Prices) -> f64 {
        self.probability.si() - if self.is_fitted { 0.0 } else { prices.spring.si() }
    }

    /// The load under which it does worst, by its place, and the probability there.
    #[must_use]
    pub fn weakest(&self) -> Option<(usize, Share)> {
        let each = self.choices.iter().map(|choice| choice.probability).enumerate();
        each.min_by(|(_, one), (_, other)| one.si().total_cmp(&other.si()))
    }
}

impl EndScenarios {
    /// The spring that is in now.
    #[must_use]
    pub fn fitted(&self) -> Option<&SpringAcross> {
        self.springs.iter().find(|spring| spring.is_fitted)
    }

    /// The spring of this rate.
    #[must_use]
    pub fn spring(&self, rate: SpringRate) -> Option<&SpringAcross> {
        self.springs.iter().find(|spring| spring.rate == rate)
    }

    /// The spring that is advised for the usual load; `None` where none is.
    #[must_use]
    pub fn advised(&self) -> Option<SpringRate> {
        self.decision.advised().map(|choice| choice.rate)
    }

    /// Springs that do for all loads as well as the best, within a tie of the decision's prices; the best itself first.
    #[must_use]
    pub fn ties(&self) -> Vec<&SpringAcross> {
        let Some(best) = self.springs.first() else { return Vec::new() };
        let least = best.net(&self.decision.prices) - self.decision.prices.tie().si();
        let as_good = |spring: &&SpringAcross| {
            spring.rate == best.rate || (spring.probability.si() > 0.0 && spring.net(&self.decision.prices) > least)
        };
        self.springs.iter().filter(as_good).collect()
    }

    /// Is there a spring that is likely to do for all loads?
    #[must_use]
    pub fn one_does(&self) -> bool {
        self.springs.first().is_some_and(|best| best.probability.si() >= SUITS)
    }
}

impl Bike {
    /// Every end that has a rider sag target, under the usual load and those of the scenarios.
    ///
    /// # Errors
    /// As [`advise`](Self::advise).
    pub fn advise_scenarios(&self) -> Result<Scenarios> {
        let (wanted, unwanted) = self.wanted_ends();
        let (ends, refused) = End::each(wanted, |end| self.advise_scenarios_end(end))?;
        Ok(Scenarios { ends, without: unwanted.into_iter().chain(refused).collect() })
    }

    /// One end under the usual load and those of the scenarios.
    ///
    /// ```
    /// use wheelrate::{Bike, demo::PATROL, record::End};
    /// let bike = Bike::from_toml(PATROL)?;
    /// let rear = bike.advise_scenarios_end(End::Rear)?;
    /// let best = rear.springs.first().and_then(|spring| spring.change(0, 1)).and_then(|change| change.turns);
    /// assert!(best.is_some_and(|turns| turns.value > 0.0), "more load, more preload");
    /// # Ok::<(), wheelrate::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`advise_end`](Self::advise_end), and [`SetupError::TooManyLoads`](crate::error::SetupError::TooManyLoads).
    pub fn advise_scenarios_end(&self, end: End) -> Result<EndScenarios> {
        self.study(end)?.advise_scenarios()
    }
}

impl Study {
    /// The end under the usual load and those of the scenarios.
    ///
    /// # Errors
    /// As [`advise`](Self::advise), and [`SetupError::TooManyLoads`](crate::error::SetupError::TooManyLoads).
    pub fn advise_scenarios(&self) -> Result<EndScenarios> {
        self.answer(|| self.adviser()?.scenarios())
    }
}

impl Adviser {
    fn scenarios(&self) -> Result<EndScenarios> {
        let decision = self.decide()?;
        let bike = self.bike();
        let own = bike.targets(self.end());
        let usual = (bike.parts().rider_load.to_string(), &bike.parts().rider_load, own);
        let others = bike.parts().scenarios.iter();
        let others = others.map(|scenario| (scenario.name.clone(), &scenario.load, scenario.targets.at(self.end())));
        let (mut loads, mut under, mut aims) = (Vec::new(), Vec::new(), Vec::new());
        for (name, load, targets) in core::iter::once(usual).chain(others) {
            let mut targets = *targets;
            targets.free_sag = targets.free_sag.or(own.free_sag);
            let rider_sag = targets.rider_sag.unwrap_or(self.wanted.rider_sag);
            let wanted = bike.wanted_along(self.end(), &targets, &rider_sag, self.direction)?;
            let adviser = Self { wanted, ..self.clone() };
            let places = [adviser.place(&Load::bike_alone())?, adviser.place(load)?];
            let weighed = adviser.weigh_all(&adviser.wish(places)?, &wanted.aim())?;
            let Wanted { rider_sag, free_sag } = wanted;
            loads.push(ScenarioLoad {
                name,
                load: load.clone(),
                rider_sag,
                free_sag,
                sprung_load: self.solved().uncertain(&self.solved().load(places[1])),
                sag_today: self.solved().uncertain(&adviser.sag_today(places[1])?),
                free_sag_today: self.solved().uncertain(&adviser.sag_today(places[0])?),
            });
            aims.push(wanted.aim());
            under.push(weighed);
        }
        let springs = self.across(&aims, &under)?;
        Ok(EndScenarios { end: self.end(), loads, springs, legs: decision.springs, decision })
    }

    /// Every spring over all loads, best first.
    fn across(&self, aims: &[Aim], under: &[Vec<Weighed>]) -> Result<Vec<SpringAcross>> {
        let count = under.first().map_or(0, Vec::len);
        let adjuster = self.adjuster()?.unwrap_or_default();
        let mut springs = Vec::with_capacity(count);
        for place in 0..count {
            let weighed: Vec<&Weighed> = under.iter().filter_map(|load| load.get(place)).collect();
            let change = |from: &Weighed, to: &Weighed| {
                let preload = self.between(&from.set.as_ref()?.change, &to.set.as_ref()?.change);
                Some(PreloadChange { preload, turns: adjuster.thread_pitch().map(|pitch| Turns::of(preload, pitch)) })
            };
            let row = |from: &&Weighed| weighed.iter().map(|to| change(from, to)).collect();
            let changes = weighed.iter().map(row).collect();
            let choices: Vec<SpringChoice> = weighed.iter().map(|weighed| weighed.choice.clone()).collect();
            let least = choices.iter().map(|choice| choice.probability.si()).fold(1.0, f64::min);
            let all: Option<Vec<(&Set, Way)>> =
                weighed.iter().map(|weighed| Some((weighed.set.as_ref()?, weighed.choice.way))).collect();
            let probability = match all.filter(|_| least > NOT_FOR_ALL) {
                Some(settings) if settings.len() > 1 => least.min(self.probability_in_all(aims, &settings)),
                Some(_) => least,
                None => 0.0,
            };
            let Some(SpringChoice { rate, is_fitted, .. }) = choices.first().cloned() else { continue };
            springs.push(SpringAcross { rate, is_fitted, choices, changes, probability: Share::from_si(probability) });
        }
        let least = |spring: &SpringAcross| spring.weakest().map_or(0.0, |(_, share)| share.si());
        let sum = |spring: &SpringAcross| spring.choices.iter().map(|choice| choice.probability.si()).sum::<f64>();
        let rank = |spring: &SpringAcross| [spring.net(&self.prices), least(spring), sum(spring)];
        springs.sort_by(|one, other| {
            let by = rank(other).into_iter().zip(rank(one)).map(|(a, b)| a.total_cmp(&b));
            by.fold(core::cmp::Ordering::Equal, core::cmp::Ordering::then)
        });
        Ok(springs)
    }

    /// From one preload to another on the same spring; neither the tape nor the collar's zero enters.
    fn between(&self, from: &Predicted, to: &Predicted) -> Uncertain<Length> {
        let mut gradient = to.gradient.minus(&from.gradient);
        gradient.setting = 0.0;
        self.solved().predicted(&Predicted { value: to.value - from.value, gradient })
    }

    /// Share of the draws in which under every load both sags land.
    fn probability_in_all(&self, aims: &[Aim], settings: &[(&Set, Way)]) -> f64 {
        let numbers: Vec<(Predicted, usize)> = settings
            .iter()
            .enumerate()
            .flat_map(|(load, (set, way))| Drawn::numbers(set, *way).into_iter().map(move |number| (number, load)))
            .collect();
        // Every setting has a tape error of its own.
        let shared = |i: usize, j: usize| {
            let ((one, load), (other, under)) = (&numbers[i], &numbers[j]);
            let (left, right) = (&one.gradient, &other.gradient);
            let not_shared = if load == under { 0.0 } else { left.setting * right.setting };
            self.solved().covariance_of(left, right) - not_shared
        };
        let root = semidefinite_root(&DMatrix::from_fn(numbers.len(), numbers.len(), shared));
        let mut random = Xoshiro256PlusPlus::seed_from_u64(SEED);
        let mut normal = vec![0.0_f64; numbers.len()];
        let mut drawn = normal.clone();
        let mut inside = 0_usize;
        for draw in 0..2 * DRAWS {
            if draw % 2 == 0 {
                normal.iter_mut().for_each(|number| *number = StandardNormal.sample(&mut random));
            } else {
                normal.iter_mut().for_each(|number| *number = -*number);
            }
            for (row, (value, (predicted, _))) in drawn.iter_mut().zip(&numbers).enumerate() {
                *value = predicted.value + (0..=row).map(|k| root[(row, k)] * normal[k]).sum::<f64>();
            }
            let mut left = drawn.as_slice();
            inside += usize::from(settings.iter().zip(aims).all(|((set, way), aim)| {
                let (own, others) = left.split_at(Drawn::count(*way));
                left = others;
                Drawn(own).lands(set, *way, aim)
            }));
        }
        inside as f64 / (2 * DRAWS) as f64
    }
}

/// What is drawn of one setting: both sags with the collar turned and left there; where the rider sag is read again, before them
/// both sags then, and the change of preload that it takes.
struct Drawn<'a>(&'a [f64]);

impl Drawn<'_> {
    fn count(way: Way) -> usize {
        match way {
            Way::Turned => 2,
            Way::ReRead => 5,
        }
    }

    fn numbers(Set { setting, change, .. }: &Set, way: Way) -> Vec<Predicted> {
        let (rider, free) = (&setting.rider_sag, &setting.free_sag);
        let [of_rider, of_free] = turned_gradients(setting, change);
        let turned =
            [Predicted { value: rider.value, gradient: of_rider }, Predicted { value: free.value, gradient: of_free }];
        let read = match way {
            Way::Turned => Vec::new(),
            Way::ReRead => vec![rider.clone(), free.clone(), change.clone()],
        };
        read.into_iter().chain(turned).collect()
    }

    /// Both sags on target. A collar that comes to an end of its adjuster before the rider sag is what it should be stays there.
    fn lands(&self, Set { setting, change, settable, .. }: &Set, way: Way, aim: &Aim) -> bool {
        let within = |(low, high): Interval, value: f64| low <= value && value <= high;
        let both = |rider: f64, free: f64| within(aim.rider, rider) && within(aim.free, free);
        match (way, self.0) {
            (Way::Turned, &[rider, free]) => both(rider, free),
            (Way::ReRead, &[rider, free, wanted, left_rider, left_free]) => {
                if within(settable.ends, wanted) {
                    return both(rider, free);
                }
                let end = if wanted < settable.ends.0 { settable.ends.0 } else { settable.ends.1 };
                let off = end - change.value;
                both(left_rider + setting.per_preload[0] * off, left_free + setting.per_preload[1] * off)
            }
            _ => false,
        }
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests;
