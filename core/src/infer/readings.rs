//! Readings of one end brought together: distinct loads with their covariance, sags, friction bands, contradictions.
//!
//! `sag = d_extended − d_loaded`, `band = sag_low − sag_high`, each side the mean of its repeats. Every sag shares the
//! extended reading, every load shares the bike: `cov(W_i, W_j) = g²·(Σ u² of the masses in
//! both + u²)`, the last for the unsprung mass.
//!
//! Readings that no machine can give are contradictions, and refused with their own numbers: a loaded end longer than the
//! extended one, a sag beyond the travel, more load with less sag, an end that rests lower after lifting than after pushing
//! down. What is merely odd is left to the fit's findings.

mod contradictions;
mod loads;

use std::sync::Arc;

use contradictions::contradictions;
use loads::{distinct_loads, not_too_many, same_load};
pub(crate) use loads::{load_law, semidefinite_root, shared_law};

use crate::Result;
use crate::error::SetupError;
use crate::infer::doubts::Doubts;
use crate::infer::model::{Expansion, SprungEnd, settle_exactly};
use crate::infer::posterior::before::Before;
use crate::infer::posterior::{Found, Loads, Observation};
use crate::mass::Masses;
use crate::record::{End, Gauge, Load, Measuring, Reading, Settled};
use crate::units::{Length, Quantity, Uncertain};

/// Standard deviations beyond which readings contradict each other: four leave one false alarm in ten thousand.
const CONTRADICTION: f64 = 4.0;

/// Ways of settling that readings are sorted by, and their words.
const SIDES: usize = 4;
const SIDE_WORDS: [&str; SIDES] = ["settled low", "settled high", "settling not noted", "the mean of both sides"];

/// The sags of one load.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct SagRow {
    /// Under what.
    pub load: Load,
    /// Readings taken settled low, high, with the settling not noted, and as the mean of both sides.
    pub counts: [usize; 4],
    /// Sag after pushing down, along the direction that the tape ran.
    pub low: Option<Uncertain<Length>>,
    /// Sag after lifting.
    pub high: Option<Uncertain<Length>>,
    /// Sag where nobody noted from which side the bike settled.
    pub unnoted: Option<Uncertain<Length>>,
    /// Sag where the mean of both sides was noted.
    pub mean: Option<Uncertain<Length>>,
    /// The friction band, `low − high`. The extended reading does not enter.
    pub band: Option<Uncertain<Length>>,
}

impl SagRow {
    /// The middle of what was read: the mean of both sides, or the one there is.
    #[must_use]
    pub fn middle(&self) -> Option<Length> {
        match (self.low, self.high) {
            (Some(low), Some(high)) => Some((low.value + high.value) / 2.0),
            (one, other) => self.mean.or(one).or(other).or(self.unnoted).map(|sag| sag.value),
        }
    }

    /// Every sag with how it settled, in the order of [`counts`](Self::counts).
    pub(crate) fn sides(&self) -> [(Option<Uncertain<Length>>, Option<Settled>); 4] {
        [
            (self.low, Some(Settled::Low)),
            (self.high, Some(Settled::High)),
            (self.unnoted, None),
            (self.mean, Some(Settled::Middle)),
        ]
    }
}

/// The readings of one end, checked and sorted.
#[derive(Debug, Clone)]
pub(crate) struct Gathered {
    /// Distinct loads, lightest first.
    pub(crate) loads: Vec<Load>,
    pub(crate) law: Arc<Loads>,
    pub(crate) rows: Vec<SagRow>,
    pub(crate) observations: Vec<Observation>,
    /// Place of each observation among all readings of the bike.
    pub(crate) places: Vec<usize>,
    /// Mean extended reading, or 0 without readings.
    pub(crate) zero: f64,
    /// Standard deviation of the zero of a gauge, where all readings are of one.
    pub(crate) zeroed: Option<f64>,
    /// What was found before, where these readings go on from there.
    pub(crate) before: Option<Arc<Before>>,
}

/// Mean distance and its variance, and whether the repeats agree with each other.
#[derive(Debug, Clone, Copy)]
struct Mean {
    distance: f64,
    variance: f64,
    count: usize,
    repeats_agree: bool,
}

/// The repeats of one load and side, summed up.
#[derive(Debug, Clone, Copy, Default)]
struct Repeats {
    weights: f64,
    sum: f64,
    count: usize,
    /// A repeat is further from the mean than repeats are.
    scattered: bool,
}

impl Repeats {
    fn add(&mut self, distance: f64, deviation: f64) {
        let weight = deviation.powi(-2);
        self.weights += weight;
        self.sum += weight * distance;
        self.count += 1;
    }

    fn compare(&mut self, distance: f64, deviation: f64) {
        self.scattered |= (distance - self.sum / self.weights).abs() > CONTRADICTION * deviation;
    }

    fn mean(&self) -> Option<Mean> {
        let Self { weights, sum, count, scattered } = *self;
        let mean = Mean { distance: sum / weights, variance: 1.0 / weights, count, repeats_agree: !scattered };
        (count > 0).then_some(mean)
    }
}

/// A reading with its place among the loads (`None` for the wheel off the ground) and its standard uncertainty.
#[derive(Debug, Clone, Copy)]
struct Placed<'a> {
    reading: &'a Reading,
    load: Option<usize>,
    /// The reading as a distance.
    distance: f64,
    deviation: f64,
    own_zero: bool,
}

impl Placed<'_> {
    fn observation(&self) -> Observation {
        Observation {
            distance: self.distance,
            deviation: self.deviation,
            load: self.load,
            side: [1.0, -1.0, 0.0, 0.0][self.side()],
            unnoted: self.load.is_some() && self.reading.settled.is_none(),
            zeroed: self.reading.gauge == Gauge::Zeroed,
            own_zero: self.own_zero,
            may_top_out: false,
            may_bottom_out: false,
            gross: Found::default(),
        }
    }

    /// Place of the side among the columns of a [`SagRow`].
    fn side(&self) -> usize {
        match self.reading.settled {
            Some(Settled::Low) => 0,
            Some(Settled::High) => 1,
            None => 2,
            Some(Settled::Middle) => 3,
        }
    }
}

/// Where the distances of an end count from: the mean of the readings with the wheel off the ground and its variance, and the
/// standard deviation of the zero of a gauge.
struct Zero {
    at: f64,
    variance: f64,
    gauge: f64,
}

/// The zero of some readings. That of a gauge is read once, and nothing checks it.
fn zero<'a>(
    end: End,
    readings: impl Iterator<Item = &'a Reading>,
    measuring: &Measuring,
    doubts: &Doubts,
) -> Result<Zero> {
    let mut extended = Repeats::default();
    let (mut on_tape, mut count) = (0, 0);
    for reading in readings {
        count += 1;
        match (reading.gauge, &reading.load) {
            (Gauge::Tape, Load::None) => {
                extended.add(reading.distance.si(), reading.uncertainty.unwrap_or(measuring.uncertainty).si());
            }
            (Gauge::Tape, _) => on_tape += 1,
            (Gauge::Zeroed, _) => {}
        }
    }
    let misread = doubts.gross.map_or(0.0, |gross| gross.lone_extended.sqrt() * gross.distance);
    let gauge = measuring.uncertainty.si().hypot(misread);
    match extended.mean() {
        Some(Mean { distance, variance, .. }) => Ok(Zero { at: distance, variance, gauge }),
        None if on_tape > 0 => Err(SetupError::NoExtendedReading { end, loaded: on_tape }.into()),
        None => Ok(Zero { at: 0.0, variance: if count > 0 { gauge * gauge } else { 0.0 }, gauge }),
    }
}

/// Repeats with the wheel off the ground, and of every load by side.
fn repeats(loads: usize, placed: &[Placed<'_>]) -> (Repeats, Vec<[Repeats; SIDES]>) {
    let (mut extended, mut loaded) = (Repeats::default(), vec![[Repeats::default(); SIDES]; loads]);
    for pass in [Repeats::add, Repeats::compare] {
        for one in placed {
            let to = one.load.map_or(&mut extended, |load| &mut loaded[load][one.side()]);
            pass(to, one.distance, one.deviation);
        }
    }
    (extended, loaded)
}

impl Gathered {
    /// The readings of one end; loads that are asked about without a reading come as `more_loads`.
    pub(crate) fn new(
        end: End,
        model: &dyn SprungEnd,
        readings: &[&Reading],
        measuring: &Measuring,
        masses: &Masses,
        more_loads: &[Load],
        doubts: &Doubts,
    ) -> Result<Self> {
        let own = || readings.iter().copied().enumerate().filter(|(_, reading)| reading.end == end);
        let loads = distinct_loads(end, own().map(|(_, reading)| &reading.load).chain(more_loads), masses)?;
        let law = load_law(end, &loads, masses, doubts)?;
        let Zero { at: zero, variance: zero_variance, gauge } =
            zero(end, own().map(|(_, reading)| reading), measuring, doubts)?;
        let all_zeroed = own().all(|(_, reading)| reading.gauge == Gauge::Zeroed);
        let placed: Vec<Placed<'_>> = own()
            .map(|(_, reading)| {
                let (read, own) = (reading.distance.si(), reading.uncertainty.unwrap_or(measuring.uncertainty).si());
                let zeroed = reading.gauge == Gauge::Zeroed;
                let own_zero = zeroed && !all_zeroed;
                Placed {
                    reading,
                    load: loads.iter().position(|load| same_load(load, &reading.load)),
                    distance: if zeroed { zero - read } else { read },
                    deviation: if own_zero { own.hypot(gauge) } else { own },
                    own_zero,
                }
            })
            .collect();
        let (_, loaded) = repeats(loads.len(), &placed);
        let zeroed = (all_zeroed && !placed.is_empty()).then_some(gauge);
        let means: Vec<[Option<Mean>; SIDES]> = loaded.iter().map(|sides| sides.map(|side| side.mean())).collect();
        let rows: Vec<SagRow> =
            loads.iter().zip(&means).map(|(load, means)| sag_row(load, means, zero, zero_variance)).collect();
        let hanging = -(*masses.unsprung().at(end) * masses.gravity()).si();
        let tape_travel = full_tape(model, hanging);
        // Repeats that do not agree hide which of them is wrong: the fit names it.
        let contradictions = if loaded.iter().flatten().any(|side| side.scattered) {
            let agreeing = loads.iter().zip(&means).map(|(load, means)| {
                sag_row(load, &means.map(|mean| mean.filter(|mean| mean.repeats_agree)), zero, zero_variance)
            });
            contradictions(&agreeing.collect::<Vec<_>>(), &law, tape_travel)
        } else {
            contradictions(&rows, &law, tape_travel)
        };
        if !contradictions.is_empty() {
            return Err(SetupError::Contradiction { end, contradictions }.into());
        }
        let mut observations: Vec<Observation> = placed.iter().map(Placed::observation).collect();
        Observation::mark_stops(&mut observations, tape_travel);
        Ok(Self {
            observations,
            places: own().map(|(place, _)| place).collect(),
            loads,
            law: Arc::new(law),
            rows,
            zero,
            zeroed,
            before: None,
        })
    }
}

impl Gathered {
    /// With loads that nothing was read under, after those there are.
    pub(crate) fn with_loads(&self, end: End, masses: &Masses, more: &[Load], doubts: &Doubts) -> Result<Self> {
        let mut all = self.clone();
        for load in more.iter().filter(|load| **load != Load::None) {
            if all.place(load).is_none() {
                all.rows.push(sag_row(load, &[None; SIDES], self.zero, 0.0));
                all.loads.push(load.clone());
            }
        }
        not_too_many(end, all.loads.len())?;
        all.law = Arc::new(load_law(end, &all.loads, masses, doubts)?);
        Ok(all)
    }

    /// Place of a load among the distinct ones.
    pub(crate) fn place(&self, load: &Load) -> Option<usize> {
        self.loads.iter().position(|known| same_load(known, load))
    }
}

/// Shortening on the tape from where the wheel hangs, as labelled, to full compression.
pub(crate) fn full_tape(model: &dyn SprungEnd, hanging: f64) -> f64 {
    let tape = |travel: f64| model.kinematics(travel).map(|kinematics| kinematics.tape);
    let extended = Expansion::about(model, 0.0).map(|extended| extended.wheel_force(model, 0.0, 1.0, 0.0).force);
    let hangs = match extended {
        Some(force) if force < hanging => settle_exactly(model, hanging, 1.0, 0.0, 0.0).map(|(_, travel, _)| travel),
        _ => Some(0.0),
    };
    match (hangs.and_then(tape), tape(model.full_travel())) {
        (Some(extended), Some(compressed)) => compressed - extended,
        _ => f64::INFINITY,
    }
}

fn sag_row(load: &Load, means: &[Option<Mean>; SIDES], zero: f64, zero_variance: f64) -> SagRow {
    let uncertain = |value: f64, variance: f64| Uncertain {
        value: Length::from_si(value),
        standard_uncertainty: Length::from_si(variance.sqrt()),
    };
    let sag = |mean: Option<Mean>| mean.map(|mean| uncertain(zero - mean.distance, mean.variance + zero_variance));
    let [low, high, unnoted, mean] = *means;
    let band = low.zip(high).map(|(low, high)| uncertain(high.distance - low.distance, low.variance + high.variance));
    let counts = means.map(|mean| mean.map_or(0, |mean| mean.count));
    SagRow { load: load.clone(), counts, low: sag(low), high: sag(high), unnoted: sag(unnoted), mean: sag(mean), band }
}

#[cfg(test)]
mod tests;
