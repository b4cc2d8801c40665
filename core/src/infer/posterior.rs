//! The statistical model of the readings of one end, and its solution.
//!
//! Unknowns, each in units of its prior standard deviation: `ln a` (rate factor), `b` (preload change), `f` (friction at
//! the wheel), `d₀` (distance at full extension, no prior: the zero that all readings of the end share), and one number per
//! distinct load. Loads are correlated, because the bike stands in all of them: `W = W̄ + R·u` with `R·Rᵀ` their covariance
//! and `u` standard normal. Readings and priors are normal and independent. A reading whose settling nobody noted may lie
//! anywhere in the friction band: it is taken at the centre, with the variance of a uniform force, `⟨f²⟩/3`, on top of its own.
//!
//! Estimates are the posterior mode, their covariance the inverse of the Gauss–Newton Hessian there (JCGM 100:2008, 5.2,
//! with the priors as input quantities). Friction cannot be negative: the normal posterior is cut at zero and its mean and
//! covariance taken anew.
//!
//! Fails where the posterior is far from normal: a rate known to no better than a fifth and a load near a stop. Monte
//! Carlo then shows it.

pub(crate) mod before;
mod problem;

use std::sync::Arc;

use nalgebra::{DMatrix, DVector};
use problem::Problem;

use before::Before;

use crate::error::SetupError;
use crate::infer::doubts::Doubts;
use crate::infer::model::SprungEnd;
use crate::infer::probability::{chi_square_exceeds, positive_part_of_normal};

/// Place of each unknown that every end has; the loads follow.
pub(crate) const RATE: usize = 0;
pub(crate) const PRELOAD: usize = 1;
pub(crate) const FRICTION: usize = 2;
pub(crate) const ZERO: usize = 3;
pub(crate) const LOADS: usize = 4;
/// Most distinct loads of one end; more than a day's work with ballast.
pub(crate) const MOST_LOADS: usize = 20;

/// What is known without readings: standard deviations of `ln a` and `b` about zero, mean and deviation of `f`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Priors {
    pub(crate) rate: f64,
    pub(crate) preload: f64,
    pub(crate) friction: (f64, f64),
}

/// The distinct loads of an end, in newton, and the lower-triangular root of their covariance.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Loads {
    pub(crate) mean: Vec<f64>,
    /// Standard deviation of the unsprung weight that is in all of them.
    pub(crate) unsprung: f64,
    pub(crate) root: DMatrix<f64>,
}

/// One reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Observation {
    pub(crate) distance: f64,
    pub(crate) deviation: f64,
    /// Place in [`Loads`]; `None` for the wheel off the ground.
    pub(crate) load: Option<usize>,
    /// +1 settled low, −1 settled high, 0 for the mean of both, and where nobody noted it.
    pub(crate) side: f64,
    /// Loaded, and nobody noted from which side it settled: anywhere in the friction band.
    pub(crate) unnoted: bool,
    /// A sag was read, and stands here as a distance.
    pub(crate) zeroed: bool,
    /// It counts from a zero of its own, and not from that of the end's distances.
    pub(crate) own_zero: bool,
    /// Near enough to full extension to be on the stop there.
    pub(crate) may_top_out: bool,
    /// Near enough to full compression to be on the stop there.
    pub(crate) may_bottom_out: bool,
    /// What it was found to be off by.
    pub(crate) gross: Found,
}

/// Standard deviations (m) of gross errors that were found: of one reading, and of its place with all repeats.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Found {
    pub(crate) own: f64,
    pub(crate) shared: f64,
}

/// A reading within this many standard deviations of a stop may be on it.
const NEAR_STOP: f64 = 3.0;

impl Observation {
    /// Are both repeats of one reading?
    pub(crate) fn is_at_the_place_of(&self, other: &Self) -> bool {
        let like = |one: &Self| (one.load, one.side, one.unnoted, one.own_zero, one.may_top_out, one.may_bottom_out);
        like(self) == like(other)
    }

    /// Marks the readings that may be on a stop, on an end that shortens by `full` on the tape, and gives the mean distance
    /// with the wheel off the ground (0 without such a reading).
    pub(crate) fn mark_stops(observations: &mut [Self], full: f64) -> f64 {
        let extended = observations.iter().filter(|one| one.load.is_none());
        let (sum, weights) = extended.fold((0.0, 0.0), |(sum, weights), one| {
            let weight = one.deviation.powi(-2);
            (sum + weight * one.distance, weights + weight)
        });
        let (zero, variance) = if weights > 0.0 { (sum / weights, 1.0 / weights) } else { (0.0, 0.0) };
        for one in observations {
            let near = NEAR_STOP * (one.deviation * one.deviation + variance).sqrt();
            let (loaded, sag) = (one.load.is_some(), zero - one.distance);
            one.may_top_out = !loaded || sag < near;
            one.may_bottom_out = loaded && sag > full - near;
        }
        zero
    }
}

/// All that the fit of one end takes in.
#[derive(Debug, Clone)]
pub(crate) struct Evidence {
    pub(crate) end: Arc<dyn SprungEnd>,
    pub(crate) priors: Priors,
    pub(crate) loads: Arc<Loads>,
    /// Force at the wheel when it hangs: minus the unsprung weight.
    pub(crate) hanging: f64,
    pub(crate) observations: Vec<Observation>,
    /// Distance at full extension, to count `d₀` from.
    pub(crate) zero: f64,
    /// Standard deviation (m) of `d₀` about that, where a gauge was zeroed; `None` where distances were read there.
    pub(crate) zeroed: Option<f64>,
    /// How far the likelihood goes beyond what is stated.
    pub(crate) doubts: Doubts,
    /// Mean and variance of the place in the friction band of a settling that nobody noted.
    pub(crate) unnoted: (f64, f64),
    /// Where the standard normal unknowns are centred: zero, but for Monte Carlo draws.
    pub(crate) centres: Vec<f64>,
    /// What was found before, where the readings go on from there.
    pub(crate) before: Option<Arc<Before>>,
}

/// Mode and covariance, in units of the priors' deviations (`d₀` in metres from [`Evidence::zero`]).
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Posterior {
    pub(crate) unknowns: Vec<f64>,
    pub(crate) covariance: DMatrix<f64>,
    pub(crate) cost: f64,
    pub(crate) predictions: Predictions,
}

/// What the model says of every reading. Repeats share a place.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Predictions {
    pub(crate) places: Vec<Prediction>,
    /// Per observation: its place, and its deviation with the friction band where that applies.
    pub(crate) readings: Vec<(usize, f64)>,
}

/// What the model says of the readings of one place.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Prediction {
    pub(crate) distance: f64,
    pub(crate) travel: f64,
    pub(crate) derivatives: Vec<f64>,
    /// Mean of the readings, their weight, and the variance (m²) of what they share beside the tape.
    pub(crate) mean: f64,
    pub(crate) weight: f64,
    pub(crate) shared: f64,
}

impl Predictions {
    fn move_by(&mut self, change: &DVector<f64>, factor: f64) {
        for place in &mut self.places {
            place.distance += factor * place.derivatives.iter().zip(change.iter()).map(|(d, c)| d * c).sum::<f64>();
        }
    }

    /// Per observation, with its deviation.
    pub(crate) fn each(&self) -> impl Iterator<Item = (&Prediction, f64)> {
        self.readings.iter().map(|&(place, deviation)| (&self.places[place], deviation))
    }
}

/// Disagreement that chance gives once in a thousand fits asks for a second start; it is further than this above its degrees of
/// freedom, whatever their number, and nearer than that it is not worth the distribution function.
const ODD: f64 = 9.0;
const BEYOND_CHANCE: f64 = 1e-3;
/// So does a rate or a preload that is further off its label than this, in standard deviations: where the label says little, a
/// false minimum costs little.
const FAR_OFF: f64 = 2.5;

impl Evidence {
    pub(crate) fn unknowns(&self) -> usize {
        LOADS + self.loads.mean.len()
    }

    /// Degrees of freedom of the readings: one goes into the zero where that is found from them.
    pub(crate) fn degrees(&self) -> usize {
        self.observations.len().saturating_sub(usize::from(self.zeroed.is_none()))
    }

    /// Rate factor, preload change, friction and distance at full extension of a set of unknowns.
    pub(crate) fn physical(&self, unknowns: &[f64]) -> [f64; 4] {
        let (mean, deviation) = self.priors.friction;
        [
            (unknowns[RATE] * self.priors.rate).exp(),
            unknowns[PRELOAD] * self.priors.preload,
            mean + unknowns[FRICTION] * deviation,
            self.zero + unknowns[ZERO],
        ]
    }

    /// A load under a set of unknowns.
    pub(crate) fn load(&self, unknowns: &[f64], load: usize) -> f64 {
        let root = &self.loads.root;
        self.loads.mean[load] + (0..=load).map(|k| root[(load, k)] * unknowns[LOADS + k]).sum::<f64>()
    }

    /// The posterior, cut where friction is zero.
    pub(crate) fn solve_cut(&self, start: &[f64]) -> Result<Posterior, SetupError> {
        let mut posterior = self.solve(start)?;
        posterior.cut_friction(-self.priors.friction.0 / self.priors.friction.1);
        Ok(posterior)
    }

    /// Finds the mode from a start, friction below zero allowed.
    pub(crate) fn solve(&self, start: &[f64]) -> Result<Posterior, SetupError> {
        let start = start.get(..self.unknowns()).unwrap_or(start);
        let first = self.solve_from(start);
        let at_odds = |found: &Posterior| {
            let degrees = self.degrees();
            let off = |k: usize| (found.unknowns[k] - self.centres.get(k).copied().unwrap_or(0.0)).abs() > FAR_OFF;
            off(RATE)
                || off(PRELOAD)
                || found.cost > ODD + degrees as f64 && chi_square_exceeds(found.cost, degrees) < BEYOND_CHANCE
        };
        let found = match first {
            Ok(found) if !at_odds(&found) => found,
            first => match (first, self.balanced().and_then(|start| self.solve_from(&start).ok())) {
                (Ok(first), Some(second)) if first.cost <= second.cost => first,
                (_, Some(second)) => second,
                (first, None) => first?,
            },
        };
        let found = self.with_path(found)?;
        self.with_before(found)
    }

    fn solve_from(&self, start: &[f64]) -> Result<Posterior, SetupError> {
        match self.unknowns() {
            0..=6 => self.solve_sized::<6>(start),
            7..=8 => self.solve_sized::<8>(start),
            9..=12 => self.solve_sized::<12>(start),
            _ => self.solve_sized::<{ LOADS + MOST_LOADS }>(start),
        }
    }

    /// A start from the balance of forces where the readings put the wheel, which is linear in the rate factor `a` and in
    /// `a·b`: `MR·(a·G(s) + a·b·G′(s)) = W + σ·f − MR·R(s)`, by least squares. It finds an end that by its labels would be
    /// topped out under every load, where no derivative leads away from the stop.
    pub(crate) fn balanced(&self) -> Option<Vec<f64>> {
        /// Share of the diagonal added to it, so that one load gives a start too.
        const RIDGE: f64 = 1e-9;
        let none = vec![0.0; self.unknowns()];
        let [.., friction, zero] = self.physical(&none);
        let (mut normal, mut right) = (nalgebra::Matrix2::zeros(), nalgebra::Vector2::zeros());
        for one in &self.observations {
            let Some(load) = one.load else { continue };
            let extended = self.end.kinematics(0.0)?;
            let near = ((zero - one.distance - extended.tape) / extended.tape_slope).clamp(0.0, self.end.full_travel());
            let at = self.end.kinematics(near)?;
            let ((spring, rate), (rest, _)) = (self.end.spring(at.stroke), self.end.rest(at.stroke));
            let row = nalgebra::Vector2::new(at.ratio * spring, at.ratio * rate);
            normal += row * row.transpose();
            right += row * (self.load(&none, load) + one.side * friction - at.ratio * rest);
        }
        normal += nalgebra::Matrix2::from_diagonal(&(normal.diagonal() * RIDGE));
        let found = normal.cholesky()?.solve(&right);
        let mut start = none;
        start[RATE] = found[0].max(f64::MIN_POSITIVE).ln() / self.priors.rate;
        start[PRELOAD] = found[1] / found[0] / self.priors.preload;
        start.iter().all(|value| value.is_finite()).then_some(start)
    }

    fn solve_sized<const P: usize>(&self, start: &[f64]) -> Result<Posterior, SetupError> {
        let mut sized = [0.0; P];
        sized.iter_mut().zip(start).for_each(|(to, from)| *to = *from);
        let mut problem = Problem::<P>::new(self, sized)?;
        let minimum = problem.solve(sized)?;
        let count = self.unknowns();
        let covariance = DMatrix::from_fn(count, count, |i, j| minimum.covariance[i][j]);
        let predictions = problem.predictions(&minimum.parameters);
        let unknowns = minimum.parameters[..count].to_vec();
        Ok(Posterior { unknowns, covariance, cost: minimum.cost, predictions })
    }
}

impl Posterior {
    /// Cuts the normal posterior where friction is zero (at `least` in its own units): the friction gets the moments of the
    /// cut distribution, all others follow by regression on it.
    pub(crate) fn cut_friction(&mut self, least: f64) {
        let variance = self.covariance[(FRICTION, FRICTION)];
        let deviation = variance.sqrt();
        let (mean, spread) = positive_part_of_normal(self.unknowns[FRICTION] - least, deviation);
        let shift = mean + least - self.unknowns[FRICTION];
        let column: Vec<f64> = self.covariance.column(FRICTION).iter().map(|c| c / variance).collect();
        let lost = variance - spread * spread;
        for (i, &left) in column.iter().enumerate() {
            self.unknowns[i] += left * shift;
            for (j, &right) in column.iter().enumerate() {
                self.covariance[(i, j)] -= left * right * lost;
            }
        }
        self.predictions.move_by(&DVector::from_vec(column), shift);
    }

    /// Moves the estimates, and what is predicted with them.
    pub(crate) fn move_by(&mut self, change: &DVector<f64>) {
        self.unknowns.iter_mut().zip(change.iter()).for_each(|(to, by)| *to += by);
        self.predictions.move_by(change, 1.0);
    }
}

#[cfg(test)]
mod tests;
