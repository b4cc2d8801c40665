//! A rehearsal of the readings of one end: how much they would say, and whether the intervals hold what they say.
//!
//! Simulated garages: the true springs, loads, friction, tape and way to the shock are drawn from what is stated of them
//! before anything is read, the stated readings are taken there with their errors, and fitted as real ones are. A label
//! errs uniformly within its tolerance and a settling not noted rests anywhere in the friction band; all else is normal,
//! friction of zero or more. What was really read does not enter, only under which loads, from which side and how often.
//!
//! An interval of ±1.96 standard uncertainties should hold the truth 95 times in 100. It holds it somewhat more often for a
//! rate that is mostly known from its label, because a uniform error has no tails.

use std::sync::Arc;

use rand_distr::{Distribution, StandardNormal};
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;

use crate::Result;
use crate::error::SetupError;
use crate::infer::end::EndModel;
use crate::infer::model::{SprungEnd, settle_exactly};
use crate::infer::path::Path;
use crate::infer::posterior::{Evidence, FRICTION, Observation, PRELOAD, RATE};
use crate::infer::probability::{COVERAGE_95, uniform_from_normal};
use crate::infer::readings::full_tape;
use crate::infer::solved::{Derived, Solved};
use crate::infer::study::Study;
use crate::parallel;
use crate::record::{End, Load};
use crate::units::{Force, Length, Quantity, Share, SpringRate};
use crate::work;

/// Fewest garages that part 95 % from 90 %.
const FEWEST: usize = 100;
/// Most garages: a minute's work.
const MOST: usize = 10_000_000;
/// Garages of one generator of random numbers, so that any number of cores draws the same.
const STREAM: usize = 64;

/// How one quantity fared over the garages.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(bound(serialize = "Q: Quantity", deserialize = "Q: Quantity")))]
#[non_exhaustive]
pub struct Rehearsed<Q> {
    /// Garages in which it has a true value: all, or those in which the end is not topped out.
    pub garages: usize,
    /// Share of them in which the 95 % interval held the truth.
    pub covered_95: Share,
    /// Mean error in standard uncertainties.
    pub bias: f64,
    /// Root mean square of the standard uncertainties stated: what the readings will be worth.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub standard_uncertainty: Q,
    /// Root mean square of the errors made.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub error: Q,
}

/// How the fit of one end fared over simulated garages.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Rehearsal {
    /// Which end.
    pub end: End,
    /// Garages asked for.
    pub garages: usize,
    /// Garages whose readings could not be fitted.
    pub refused: usize,
    /// Rate of all main springs together.
    pub rate: Rehearsed<SpringRate>,
    /// Preload of the first main spring.
    pub preload: Rehearsed<Length>,
    /// Friction force at the wheel.
    pub friction: Rehearsed<Force>,
    /// Vertical sag under each load, lightest first.
    pub sags: Vec<(Load, Rehearsed<Length>)>,
}

/// Sums over garages.
#[derive(Debug, Clone, Copy, Default)]
struct Tally {
    garages: usize,
    covered: usize,
    bias: f64,
    reported: f64,
    made: f64,
}

impl Tally {
    fn add(&mut self, found: f64, variance: f64, truth: f64) {
        let error = found - truth;
        let normalised = error / variance.sqrt();
        self.garages += 1;
        self.covered += usize::from(normalised.abs() <= COVERAGE_95);
        self.bias += normalised;
        self.reported += variance;
        self.made += error * error;
    }

    fn merge(&mut self, other: &Self) {
        self.garages += other.garages;
        self.covered += other.covered;
        self.bias += other.bias;
        self.reported += other.reported;
        self.made += other.made;
    }

    /// A tally of a multiple of the quantity.
    fn of<Q: Quantity>(&self, scale: f64) -> Rehearsed<Q> {
        let count = self.garages.max(1) as f64;
        Rehearsed {
            garages: self.garages,
            covered_95: Share::from_si(self.covered as f64 / count),
            bias: self.bias / count,
            standard_uncertainty: Q::from_si(scale * (self.reported / count).sqrt()),
            error: Q::from_si(scale * (self.made / count).sqrt()),
        }
    }
}

/// Rate factor, preload, friction; then the sag under each load.
const SAGS: usize = 3;

/// What every garage starts from.
struct Stated<'a> {
    model: EndModel,
    path: Option<Path>,
    solved: &'a Solved,
    /// Shortening on the tape over the whole travel.
    full_tape: f64,
    /// Where every fit starts: as stated.
    start: Vec<f64>,
}

/// Sums of one stream of garages.
struct Stream {
    tallies: Vec<Tally>,
    refused: usize,
}

impl Stated<'_> {
    fn stream(&self, garages: usize, mut random: Xoshiro256PlusPlus) -> Stream {
        let loads = self.solved.gathered.loads.len();
        let mut stream = Stream { tallies: vec![Tally::default(); SAGS + loads], refused: 0 };
        let mut fitted = self.solved.clone();
        for _ in 0..garages {
            if work::round().is_err() {
                break;
            }
            if self.garage(&mut random, &mut fitted, &mut stream.tallies).is_none() {
                stream.refused += 1;
            }
        }
        stream
    }

    /// One garage, its readings and fit put into `fitted`; `None` where there is no fit.
    fn garage(&self, random: &mut Xoshiro256PlusPlus, fitted: &mut Solved, tallies: &mut [Tally]) -> Option<()> {
        let mut normal = || -> f64 { StandardNormal.sample(random) };
        let solved = self.solved;
        let (evidence, priors) = (&solved.evidence, &solved.evidence.priors);
        let mut drawn: Vec<f64> = (0..evidence.unknowns()).map(|_| normal()).collect();
        let least = -priors.friction.0 / priors.friction.1;
        while drawn[FRICTION] < least {
            drawn[FRICTION] = normal();
        }
        let factor = 1.0 + 3f64.sqrt() * priors.rate * uniform_from_normal(normal());
        let [_, preload, friction, _] = evidence.physical(&drawn);
        let real = self.model.on(self.path.as_ref().map(|path| Arc::new(path.drawn(&mut normal))));
        let full = real.full_travel();
        let rest = |force: f64, near: f64| settle_exactly(&real, force, factor, preload, near).map(|(_, z, _)| z);
        let hangs = rest(evidence.hanging, 0.0)?.max(0.0);
        let predictions = &solved.posterior.predictions;
        let gauge = evidence.zeroed.map_or(0.0, |deviation| deviation * normal());
        let mut on_tape = vec![None; predictions.places.len()];
        let observations = &mut fitted.evidence.observations;
        for (one, &(place, _)) in observations.iter_mut().zip(&predictions.readings) {
            let side = if one.unnoted { uniform_from_normal(normal()) } else { one.side };
            let tape = match (on_tape[place], one.load) {
                (Some(known), _) => known,
                (None, None) => real.kinematics(hangs)?.tape,
                (None, Some(load)) => {
                    let force = evidence.load(&drawn, load) + side * friction;
                    real.kinematics(rest(force, predictions.places[place].travel)?.clamp(0.0, full))?.tape
                }
            };
            // Repeats rest in the same place, but for those whose settling nobody noted.
            on_tape[place] = (!one.unnoted).then_some(tape);
            one.distance = evidence.zero + gauge - tape + one.deviation * normal();
        }
        fitted.evidence.zero = Observation::mark_stops(observations, self.full_tape);
        let truth = Truth {
            factor,
            preload,
            friction,
            sags: (0..solved.gathered.loads.len())
                .map(|load| {
                    let travel = rest(evidence.load(&drawn, load), solved.near(load))?;
                    Some((0.0..full).contains(&travel).then_some(travel - hangs))
                })
                .collect::<Option<_>>()?,
        };
        let Some(path) = &self.path else {
            fitted.posterior = fitted.evidence.solve_cut(&self.start).ok()?;
            return truth.tally(fitted, tallies);
        };
        let on = |path: Arc<Path>| Evidence { end: Arc::new(self.model.on(Some(path))), ..fitted.evidence.clone() };
        let solve = |path: Arc<Path>| {
            let posterior = on(path).solve_cut(&self.start)?;
            Ok::<_, SetupError>(posterior.unknowns[self.start.len()..].to_vec())
        };
        let evidence = on(path.clone().settled(solve).ok()?);
        let posterior = evidence.solve_cut(&self.start).ok()?;
        truth.tally(&Solved { evidence, posterior, ..fitted.clone() }, tallies)
    }
}

/// How a garage really is.
struct Truth {
    factor: f64,
    preload: f64,
    friction: f64,
    /// Under each load; `None` on a stop.
    sags: Vec<Option<f64>>,
}

impl Truth {
    fn tally(&self, fitted: &Solved, tallies: &mut [Tally]) -> Option<()> {
        let mut add = |place: usize, found: Derived, truth: f64| {
            tallies[place].add(found.value, fitted.covariance(&found.gradient, &found.gradient), truth);
        };
        add(RATE, fitted.factor(), self.factor);
        add(PRELOAD, fitted.preload(), fitted.main.preload.si() + self.preload);
        add(FRICTION, fitted.friction(), self.friction);
        let hanging = fitted.hanging();
        for (load, sag) in self.sags.iter().enumerate().filter_map(|(load, sag)| Some((load, (*sag)?))) {
            add(SAGS + load, Solved::from_hanging(fitted.travel(load)?, hanging.as_ref()), sag);
        }
        Some(())
    }
}

impl Study {
    /// How much the readings of the end would say, over simulated garages: the loads, sides, repeats and tape are those of
    /// the bike's own readings, what they show is drawn anew in each. The same seed gives the same garages.
    ///
    /// ```
    /// use wheelrate::{Bike, demo::PATROL, record::End, units::Quantity};
    /// let rehearsal = Bike::from_toml(PATROL)?.study(End::Rear)?.rehearse(2_000, 1)?;
    /// assert!((0.93..0.97).contains(&rehearsal.preload.covered_95.si()));
    /// # Ok::<(), wheelrate::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`SetupError::Request`] outside 100 to 10,000,000 garages, and without readings.
    pub fn rehearse(&self, garages: usize, seed: u64) -> Result<Rehearsal> {
        let request = |field, found: String, wanted: String| SetupError::Request { field, found, wanted };
        if !(FEWEST..=MOST).contains(&garages) {
            return Err(request("garages", garages.to_string(), format!("from {FEWEST} to {MOST}")).into());
        }
        if self.solved.evidence.observations.is_empty() {
            let wanted = "readings of this end, to be rehearsed".to_owned();
            return Err(request("reading", "none".to_owned(), wanted).into());
        }
        let stated = self.as_stated()?;
        let (end, model) = (self.end(), self.model.on(None));
        let path = self.bike.stated_path(end)?;
        let on_stated: Arc<dyn SprungEnd> = Arc::new(self.model.on(path.clone().map(Arc::new)));
        let mut solved = Solved::clone(&stated.solved);
        solved.evidence.end = on_stated;
        solved.posterior = solved.evidence.solve_cut(&[])?;
        let mut random = Xoshiro256PlusPlus::seed_from_u64(seed);
        let streams: Vec<(usize, Xoshiro256PlusPlus)> = (0..garages.div_ceil(STREAM))
            .map(|stream| {
                random.jump();
                (STREAM.min(garages - stream * STREAM), random.clone())
            })
            .collect();
        let start = vec![0.0; solved.evidence.unknowns()];
        let full_tape = full_tape(&model, solved.evidence.hanging);
        let from = Stated { model, path, solved: &solved, full_tape, start };
        work::expects(garages);
        let streams = parallel::each(&streams, |(garages, random)| from.stream(*garages, random.clone()));
        work::goes_on().map_err(SetupError::from)?;
        let mut tallies = vec![Tally::default(); SAGS + solved.gathered.loads.len()];
        for stream in &streams {
            tallies.iter_mut().zip(&stream.tallies).for_each(|(sum, part)| sum.merge(part));
        }
        let sags = solved.gathered.loads.iter().zip(&tallies[SAGS..]);
        Ok(Rehearsal {
            end,
            garages,
            refused: streams.iter().map(|stream| stream.refused).sum(),
            rate: tallies[RATE].of(solved.main.rate.si()),
            preload: tallies[PRELOAD].of(1.0),
            friction: tallies[FRICTION].of(1.0),
            sags: sags.map(|(load, tally)| (load.clone(), tally.of(1.0))).collect(),
        })
    }
}

#[cfg(test)]
mod tests;
