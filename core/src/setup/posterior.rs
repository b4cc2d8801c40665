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
//! Carlo then tells.

use nalgebra::DMatrix;

use super::least_squares::{NormalEquations, Residuals, Stopping, minimise};
use super::model::{Expansion, Held, SprungEnd};
use super::probability::positive_part_of_normal;
use crate::error::SetupError;

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
    pub(crate) root: DMatrix<f64>,
}

/// One reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Observation {
    pub(crate) distance: f64,
    pub(crate) deviation: f64,
    /// Place in [`Loads`]; `None` for the wheel off the ground.
    pub(crate) load: Option<usize>,
    /// +1 settled low, −1 settled high, 0 not noted.
    pub(crate) side: f64,
    /// Near enough to full extension to be on the stop there.
    pub(crate) may_top_out: bool,
    /// Near enough to full compression to be on the stop there.
    pub(crate) may_bottom_out: bool,
}

/// All that the fit of one end takes in.
#[derive(Debug, Clone)]
pub(crate) struct Evidence<'a> {
    pub(crate) end: &'a dyn SprungEnd,
    pub(crate) priors: Priors,
    pub(crate) loads: Loads,
    /// Force at the wheel when it hangs: minus the unsprung weight.
    pub(crate) hanging: f64,
    pub(crate) observations: Vec<Observation>,
    /// Distance at full extension, to count `d₀` from.
    pub(crate) zero: f64,
    /// Where the standard normal unknowns are centred: zero, but for Monte Carlo draws.
    pub(crate) centres: Vec<f64>,
}

/// Mode and covariance, in units of the priors' deviations (`d₀` in metres from [`Evidence::zero`]).
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Posterior {
    pub(crate) unknowns: Vec<f64>,
    pub(crate) covariance: DMatrix<f64>,
    pub(crate) cost: f64,
    /// Per observation: predicted distance, its derivatives, deviation with the friction band where that applies, travel.
    pub(crate) predictions: Vec<Prediction>,
}

/// What the model says of one reading.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Prediction {
    pub(crate) distance: f64,
    pub(crate) deviation: f64,
    pub(crate) travel: f64,
    pub(crate) derivatives: Vec<f64>,
}

impl Evidence<'_> {
    pub(crate) fn unknowns(&self) -> usize {
        LOADS + self.loads.mean.len()
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
        match self.unknowns() {
            0..=6 => self.solve_sized::<6>(start),
            7..=8 => self.solve_sized::<8>(start),
            9..=12 => self.solve_sized::<12>(start),
            _ => self.solve_sized::<{ LOADS + MOST_LOADS }>(start),
        }
    }

    fn solve_sized<const P: usize>(&self, start: &[f64]) -> Result<Posterior, SetupError> {
        let mut sized = [0.0; P];
        sized.iter_mut().zip(start).for_each(|(to, from)| *to = *from);
        let mut problem = Problem::<P>::new(self, &sized)?;
        let mut minimum = minimise(&mut problem, sized, PASS)?;
        for _ in 0..MOST_PASSES {
            if problem.stands_still(&minimum.parameters, minimum.covariance[FRICTION][FRICTION])? {
                break;
            }
            minimum = minimise(&mut problem, minimum.parameters, PASS)?;
        }
        let count = self.unknowns();
        let covariance = DMatrix::from_fn(count, count, |i, j| minimum.covariance[i][j]);
        let mut predictions = Vec::with_capacity(self.observations.len());
        for index in 0..self.observations.len() {
            let row = problem.predict(index, &minimum.parameters);
            predictions.push(Prediction {
                distance: row.distance,
                deviation: problem.states[index].deviation,
                travel: problem.states[index].travel,
                derivatives: row.derivatives[..count].to_vec(),
            });
        }
        let unknowns = minimum.parameters[..count].to_vec();
        Ok(Posterior { unknowns, covariance, cost: minimum.cost, predictions })
    }
}

/// Steps of one pass end at a millionth of a standard deviation; the start is good, so hardly damped.
const PASS: Stopping = Stopping { step: 1e-6, most_steps: 100, damping: 1e-6 };
/// Passes with the expansions moved to the last answer.
const MOST_PASSES: usize = 8;
/// The answer stands still when no travel moves by more than this (m): the expansions are then exact to 1e-12 m.
const STILL: f64 = 2e-5;
/// Weights of readings stand still when none changes by more than this share: far below what a weight is worth.
const SAME_WEIGHT: f64 = 1e-3;

/// A reading within this many standard deviations of a stop may be on it.
pub(crate) const NEAR_STOP: f64 = 3.0;

/// The least-squares problem of one pass.
struct Problem<'a, const P: usize> {
    evidence: &'a Evidence<'a>,
    states: Vec<State>,
}

/// What one reading keeps between evaluations.
struct State {
    expansion: Expansion,
    travel: f64,
    deviation: f64,
}

/// A predicted distance, its derivatives, those of the travel, and the second derivative of distance over travel that the
/// stop makes.
struct Row<const P: usize> {
    distance: f64,
    derivatives: [f64; P],
    moves: [f64; P],
    curvature: f64,
}

impl<'a, const P: usize> Problem<'a, P> {
    fn new(evidence: &'a Evidence<'a>, start: &[f64; P]) -> Result<Self, SetupError> {
        let [.., zero] = evidence.physical(start);
        let states = evidence.observations.iter().map(|observation| {
            // The reading itself says where to expand, to within its own error.
            let tape = Expansion::about(evidence.end, 0.0).ok_or(SetupError::Singular)?.tape(0.0);
            let guess = if observation.load.is_none() { 0.0 } else { (zero - observation.distance - tape.0) / tape.1 };
            let expansion = Expansion::about(evidence.end, guess).ok_or(SetupError::Singular)?;
            Ok(State { expansion, travel: guess, deviation: observation.deviation })
        });
        let mut problem = Self { evidence, states: states.collect::<Result<_, SetupError>>()? };
        problem.widen(start, 1.0);
        Ok(problem)
    }

    /// Gives readings of unknown settling the width of the friction band, `⟨f²⟩/3` with `⟨f²⟩ = f² + u²(f)`; says by how much, relatively, a width changed.
    fn widen(&mut self, at: &[f64; P], variance: f64) -> f64 {
        let mut most = 0.0_f64;
        let [factor, preload, friction, _] = self.evidence.physical(at);
        let friction = friction.hypot(variance.sqrt() * self.evidence.priors.friction.1);
        for (state, observation) in self.states.iter_mut().zip(&self.evidence.observations) {
            if observation.side == 0.0 && observation.load.is_some() {
                let rate = state.expansion.wheel_force(self.evidence.end, state.travel, factor, preload).rate;
                let half_band = friction / rate * state.expansion.tape(state.travel).1;
                let deviation = observation.deviation.hypot(half_band / 3f64.sqrt());
                most = most.max((deviation / state.deviation - 1.0).abs());
                state.deviation = deviation;
            }
        }
        most
    }

    /// Moves every expansion to the travel it now stands at and weighs the readings anew; says whether nothing changed.
    fn stands_still(&mut self, at: &[f64; P], variance: f64) -> Result<bool, SetupError> {
        let mut furthest = 0.0_f64;
        for state in &mut self.states {
            let moved = Expansion::about(self.evidence.end, state.travel).ok_or(SetupError::Singular)?;
            furthest = furthest.max(moved.distance_from(&state.expansion));
            state.expansion = moved;
        }
        Ok(self.widen(at, variance) < SAME_WEIGHT && furthest < STILL)
    }

    fn predict(&mut self, index: usize, at: &[f64; P]) -> Row<P> {
        let evidence = self.evidence;
        let (state, observation) = (&mut self.states[index], &evidence.observations[index]);
        let [factor, preload, friction, zero] = evidence.physical(at);
        let load = observation.load.map_or(evidence.hanging, |load| evidence.load(at, load));
        let force = load + observation.side * friction;
        let (travel, wheel) = state.expansion.settle(evidence.end, force, factor, preload, state.travel);
        state.travel = travel;
        let held = if observation.may_top_out {
            Held::above_zero(travel)
        } else if observation.may_bottom_out {
            Held::below(travel, evidence.end.full_travel())
        } else {
            Held::free(travel)
        };
        let (tape, tape_slope) = state.expansion.tape(held.travel);
        // dz/dθ = (dW/dθ + σ·df/dθ − ∂F/∂θ)/(∂F/∂z).
        let mut moves = [0.0; P];
        moves[RATE] = -wheel.per_factor * factor * evidence.priors.rate / wheel.rate;
        moves[PRELOAD] = -wheel.per_preload * evidence.priors.preload / wheel.rate;
        moves[FRICTION] = observation.side * evidence.priors.friction.1 / wheel.rate;
        if let Some(load) = observation.load {
            for k in 0..=load {
                moves[LOADS + k] = evidence.loads.root[(load, k)] / wheel.rate;
            }
        }
        let mut derivatives = moves.map(|change| -tape_slope * held.share * change);
        derivatives[ZERO] = 1.0;
        Row { distance: zero - tape, derivatives, moves, curvature: -tape_slope * held.share_slope }
    }
}

impl<const P: usize> Residuals<P> for Problem<'_, P> {
    fn accumulate(&mut self, at: &[f64; P], equations: &mut NormalEquations<P>) {
        for index in 0..self.states.len() {
            let mut row = self.predict(index, at);
            let deviation = self.states[index].deviation;
            let residual = (row.distance - self.evidence.observations[index].distance) / deviation;
            row.derivatives.iter_mut().for_each(|derivative| *derivative /= deviation);
            equations.add(residual, &row.derivatives);
            let weight = residual * row.curvature / deviation;
            if weight > 0.0 {
                equations.add_curvature(weight, &row.moves);
            }
        }
        for (k, &value) in at.iter().enumerate() {
            let no_readings = self.states.is_empty();
            if k != ZERO || no_readings {
                equations.add_prior(k, value - self.evidence.centres.get(k).copied().unwrap_or(0.0));
            }
        }
    }
}

impl Posterior {
    /// Cuts the normal posterior where friction is zero (at `least` in its own units): the friction gets the moments of the
    /// cut distribution, all others follow by regression on it.
    fn cut_friction(&mut self, least: f64) {
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
        for prediction in &mut self.predictions {
            prediction.distance += prediction.derivatives.iter().zip(&column).map(|(d, c)| d * c * shift).sum::<f64>();
        }
    }
}

#[cfg(test)]
mod tests;
