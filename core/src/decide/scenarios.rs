//! The same bike under other loads: what to set for each, how far to turn from one to the other, and which spring does
//! for all of them.
//!
//! Each scenario is weighed like the usual load. The change of preload from one to the other is the difference of two
//! preloads on the same spring, `Δb = b(W_j, z_j) − b(W_i, z_i)`, with its uncertainty from the difference of their
//! derivatives: what the fit, the spring's label and the bike's own mass are off by is in both and mostly cancels; what
//! is left is the mass that comes on top, and the rate it is carried by. The tape does not enter: nothing is measured
//! between two settings of a collar, and what the first was set wrong by stays.
//!
//! A spring does for all when in every scenario both sags land and the adjuster reaches the preload. The sags of all
//! scenarios, and the preloads behind them, are jointly normal; the probability that all land is counted over draws from
//! that distribution, each setting with a tape error of its own. It is never above the least of the scenarios.

use nalgebra::{DMatrix, DVector};
use rand_distr::{Distribution, StandardNormal};
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;

use crate::Result;
use crate::bike::Bike;
use crate::decide::choice::Turns;
use crate::decide::predict::{Predicted, Setting};
use crate::decide::{
    SpringChoice,
    advice::{Adviser, bounds},
    predict::Wish,
};
use crate::infer::Study;
use crate::infer::readings::semidefinite_root;
use crate::record::{End, Load, Range, SagTarget};
use crate::units::{Force, Length, Quantity, Share, SpringRate, Uncertain};

/// Draws that a probability over several scenarios is counted from: it is sure to half a percent.
const DRAWS: usize = 10_000;
/// The same draws every time.
const SEED: u64 = 8;

/// The scenarios of every end that has a rider sag target.
#[derive(Debug, Clone, PartialEq)]
pub struct Scenarios {
    /// One per end, front first.
    pub ends: Vec<EndScenarios>,
    /// Ends without, and why.
    pub without: Vec<(End, String)>,
}

/// One end under the usual load and under those of the scenarios.
#[derive(Debug, Clone, PartialEq)]
pub struct EndScenarios {
    /// Which end.
    pub end: End,
    /// The loads, the usual one first.
    pub loads: Vec<ScenarioLoad>,
    /// Every spring, the one that does for all loads best first; the one fitted now is among them.
    pub springs: Vec<SpringAcross>,
    /// The spring that is advised for the usual load; `None` where none is.
    pub advised: Option<SpringRate>,
    /// Springs at this end that share the load.
    pub legs: usize,
}

/// A load as it stands today.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
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
pub struct PreloadChange {
    /// How much more, below zero less.
    pub preload: Uncertain<Length>,
    /// The same in turns of the adjuster; `None` where its pitch is not stated.
    pub turns: Option<Turns>,
}

/// One spring under every load.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct SpringAcross {
    /// Rate as labelled, per spring.
    pub rate: SpringRate,
    /// Is it the one that is in now?
    pub is_fitted: bool,
    /// What it does under each load, in their order.
    pub choices: Vec<SpringChoice>,
    /// Change of preload from load to load, `changes[from][to]`; `None` where one of them has no preload.
    pub changes: Vec<Vec<Option<PreloadChange>>>,
    /// Probability that both sags land and the preload can be set under every load, the collar turned for each.
    pub probability: Share,
}

impl SpringAcross {
    /// Change of preload from one load to another, by their places.
    #[must_use]
    pub fn change(&self, from: usize, to: usize) -> Option<PreloadChange> {
        *self.changes.get(from)?.get(to)?
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

    /// Springs that do for all loads as well as the best, within what can be told; the best itself first.
    #[must_use]
    pub fn ties(&self) -> Vec<&SpringAcross> {
        let Some(best) = self.springs.first() else { return Vec::new() };
        let least = best.probability.si() - crate::decide::verdict::TIE;
        let as_good = |spring: &&SpringAcross| spring.probability.si() >= least.max(f64::MIN_POSITIVE);
        self.springs.iter().filter(as_good).collect()
    }

    /// Is there a spring that is likely to do for all loads?
    #[must_use]
    pub fn one_does(&self) -> bool {
        self.springs.first().is_some_and(|best| best.probability.si() >= crate::decide::verdict::SUITS)
    }
}

impl Bike {
    /// Every end that has a rider sag target, under the usual load and those of the scenarios.
    ///
    /// # Errors
    /// As [`advise`](Self::advise).
    pub fn advise_scenarios(&self) -> Result<Scenarios> {
        let mut found = Scenarios { ends: Vec::new(), without: Vec::new() };
        for end in self.ends() {
            if self.targets(end).rider_sag.is_none() {
                found.without.push((end, self.no_rider_sag(end).to_string()));
            } else {
                found.ends.push(self.advise_scenarios_end(end)?);
            }
        }
        Ok(found)
    }

    /// One end under the usual load and those of the scenarios.
    ///
    /// ```
    /// use wheelrate::{Bike, demo::PATROL, record::End};
    /// let bike = Bike::from_toml(PATROL)?;
    /// let rear = bike.advise_scenarios_end(End::Rear)?;
    /// let now = rear.fitted().and_then(|spring| spring.change(0, 1)).and_then(|change| change.turns);
    /// assert!(now.is_some_and(|turns| turns.value > 0.0), "more load, more preload");
    /// # Ok::<(), wheelrate::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`advise_end`](Self::advise_end), and [`SetupError::TooManyLoads`](crate::error::SetupError::TooManyLoads).
    pub fn advise_scenarios_end(&self, end: End) -> Result<EndScenarios> {
        self.study(end)?.scenarios()
    }
}

impl Study {
    /// The end under the usual load and those of the scenarios.
    ///
    /// # Errors
    /// As [`advise`](Self::advise), and [`SetupError::TooManyLoads`](crate::error::SetupError::TooManyLoads).
    pub fn scenarios(&self) -> Result<EndScenarios> {
        let (bike, end) = (&self.bike, self.end());
        let advice = self.advise()?;
        let more: Vec<Load> = bike.scenarios().iter().map(|scenario| scenario.load.clone()).collect();
        let study = self.with_loads(&more)?;
        let targets = bike.targets(end);
        let usual = (advice.rider_load.to_string(), &advice.rider_load, targets);
        let others = bike.scenarios().iter();
        let others = others.map(|scenario| (scenario.name.clone(), &scenario.load, scenario.targets.at(end)));
        let (mut loads, mut under) = (Vec::new(), Vec::new());
        for (name, load, own) in core::iter::once(usual).chain(others) {
            let target = own.rider_sag.unwrap_or(advice.rider_sag);
            let adviser = study.adviser_for(target)?;
            let free_sag = adviser.free_range_of(own.free_sag.or(targets.free_sag))?;
            let (bike, place) = (adviser.place(&bike.free_load())?, adviser.place(load)?);
            let solved = adviser.solved();
            loads.push(ScenarioLoad {
                name,
                load: load.clone(),
                rider_sag: target,
                free_sag,
                sprung_load: solved.uncertain(&solved.load(place)),
                sag_today: solved.uncertain(&adviser.sag_today(place)?),
                free_sag_today: solved.uncertain(&adviser.sag_today(bike)?),
            });
            under.push(adviser.under(&adviser.wish(bike, place)?, free_sag)?);
        }
        let springs = study.adviser_for(advice.rider_sag)?.across(&loads, &under)?;
        let advised = advice.advised().map(|choice| choice.rate);
        Ok(EndScenarios { end, loads, springs, advised, legs: advice.springs })
    }
}

/// Every spring under one load: the choice, and the setting behind it.
type Under = Vec<(SpringChoice, Option<Setting>)>;

impl Adviser {
    fn under(&self, wish: &Wish<'_>, free_sag: Option<Range>) -> Result<Under> {
        let choices = self.weigh_all(wish, free_sag.as_ref())?;
        let with_setting = |choice: SpringChoice| {
            let setting = self.setting(wish, choice.rate, choice.is_fitted)?;
            Ok((choice, setting))
        };
        choices.into_iter().map(with_setting).collect()
    }

    /// Every spring over all loads, best first.
    fn across(&self, loads: &[ScenarioLoad], under: &[Under]) -> Result<Vec<SpringAcross>> {
        let count = under.first().map_or(0, Vec::len);
        let adjuster = self.adjuster()?.unwrap_or_default();
        let mut springs = Vec::with_capacity(count);
        for place in 0..count {
            let (choices, settings): (Vec<_>, Vec<_>) = under
                .iter()
                .filter_map(|load| load.get(place))
                .map(|(choice, setting)| (choice.clone(), setting))
                .unzip();
            let change = |from: &Option<Setting>, to: &Option<Setting>| {
                let preload = self.between(&from.as_ref()?.preload, &to.as_ref()?.preload);
                Some(PreloadChange { preload, turns: adjuster.thread_pitch().map(|pitch| Turns::of(preload, pitch)) })
            };
            let row = |from: &&Option<Setting>| settings.iter().map(|to| change(from, to)).collect();
            let changes = settings.iter().map(row).collect();
            let least = choices.iter().map(|choice| choice.probability.si()).fold(1.0, f64::min);
            let all: Option<Vec<&Setting>> = settings.iter().map(|setting| setting.as_ref()).collect();
            let probability = match all.filter(|_| least > 0.0) {
                Some(settings) if settings.len() > 1 => {
                    least.min(self.probability_in_all(loads, &settings, self.changes_within(&adjuster)))
                }
                Some(_) => least,
                None => 0.0,
            };
            let Some(SpringChoice { rate, is_fitted, .. }) = choices.first().cloned() else { continue };
            springs.push(SpringAcross { rate, is_fitted, choices, changes, probability: Share::from_si(probability) });
        }
        let least = |spring: &SpringAcross| spring.weakest().map_or(0.0, |(_, share)| share.si());
        let sum = |spring: &SpringAcross| spring.choices.iter().map(|choice| choice.probability.si()).sum::<f64>();
        let rank = |spring: &SpringAcross| [spring.probability.si(), least(spring), sum(spring)];
        springs.sort_by(|one, other| {
            let by = rank(other).into_iter().zip(rank(one)).map(|(a, b)| a.total_cmp(&b));
            by.fold(core::cmp::Ordering::Equal, core::cmp::Ordering::then)
        });
        Ok(springs)
    }

    /// From one preload to another on the same spring; the tape does not enter.
    fn between(&self, from: &Predicted, to: &Predicted) -> Uncertain<Length> {
        let mut gradient = to.gradient.minus(&from.gradient);
        gradient.setting = 0.0;
        self.solved().predicted(&Predicted { value: to.value - from.value, gradient })
    }

    /// Share of the draws in which under every load both sags land and the change of preload can be made.
    fn probability_in_all(&self, loads: &[ScenarioLoad], settings: &[&Setting], can_be_set: (f64, f64)) -> f64 {
        let changes: Vec<Predicted> = settings.iter().map(|setting| self.change(&setting.preload)).collect();
        let numbers: Vec<(&Predicted, usize, (f64, f64))> = settings
            .iter()
            .zip(loads)
            .zip(&changes)
            .enumerate()
            .flat_map(|(of, ((setting, load), change))| {
                let (rider, free) = (bounds(Some(&load.rider_sag.range)), bounds(load.free_sag.as_ref()));
                [(&setting.rider_sag, of, rider), (&setting.free_sag, of, free), (change, of, can_be_set)]
            })
            .collect();
        // Every setting has a tape error of its own.
        let shared = |i: usize, j: usize| {
            let ((left, one, _), (right, other, _)) = (&numbers[i], &numbers[j]);
            let (left, right) = (&left.gradient, &right.gradient);
            let not_shared = if one == other { 0.0 } else { left.setting * right.setting };
            self.solved().covariance_of(left, right) - not_shared
        };
        let root = semidefinite_root(&DMatrix::from_fn(numbers.len(), numbers.len(), shared));
        let mut random = Xoshiro256PlusPlus::seed_from_u64(SEED);
        let mut drawn = DVector::zeros(numbers.len());
        let mut inside = 0_usize;
        for _ in 0..DRAWS {
            drawn.iter_mut().for_each(|number| *number = StandardNormal.sample(&mut random));
            let off = &root * &drawn;
            let lies = |((number, _, (least, most)), off): (&(&Predicted, usize, (f64, f64)), &f64)| {
                let value = number.value + off;
                *least <= value && value <= *most
            };
            inside += usize::from(numbers.iter().zip(off.iter()).all(lies));
        }
        inside as f64 / DRAWS as f64
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests;
