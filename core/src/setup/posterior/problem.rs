//! The least-squares problem of one end. Repeats of a reading (same load, same side) share one place of the wheel, which is
//! worked out once for all of them.

use super::{Evidence, FRICTION, LOADS, Observation, PRELOAD, Prediction, RATE, ZERO};
use crate::error::SetupError;
use crate::setup::least_squares::{Minimum, NormalEquations, Residuals, Stopping, minimise};
use crate::setup::model::{Expansion, Held};

/// Steps of one pass end at a hundred-thousandth of a standard deviation, above the rounding of settled travels; the start is
/// good, so hardly damped.
const PASS: Stopping = Stopping { step: 1e-5, most_steps: 100, damping: 1e-6 };
/// Passes with the expansions moved to the last answer.
const MOST_PASSES: usize = 8;
/// The answer stands still when no travel moves by more than this (m): the expansions are then exact to 1e-12 m.
const STILL: f64 = 2e-5;
/// Weights of readings stand still when none changes by more than this share: far below what a weight is worth.
const SAME_WEIGHT: f64 = 1e-3;

pub(super) struct Problem<'a, const P: usize> {
    evidence: &'a Evidence<'a>,
    places: Vec<Place>,
    /// Per observation: its place and its deviation, the friction band included where that applies.
    readings: Vec<(usize, f64)>,
}

/// Where the wheel rests under one load, settled from one side, and what is kept between evaluations.
struct Place {
    like: Observation,
    expansion: Expansion,
    travel: f64,
}

/// A predicted distance, its derivatives, those of the travel, and the second derivative of distance over travel that the
/// stop makes.
struct Row<const P: usize> {
    distance: f64,
    derivatives: [f64; P],
    moves: [f64; P],
    curvature: f64,
}

fn same_place(one: &Observation, other: &Observation) -> bool {
    (one.load, one.side, one.may_top_out, one.may_bottom_out)
        == (other.load, other.side, other.may_top_out, other.may_bottom_out)
}

impl<'a, const P: usize> Problem<'a, P> {
    pub(super) fn new(evidence: &'a Evidence<'a>, start: &[f64; P]) -> Result<Self, SetupError> {
        let [.., zero] = evidence.physical(start);
        let extended = Expansion::about(evidence.end, 0.0).ok_or(SetupError::Singular)?;
        let (tape, slope) = extended.tape(0.0);
        let mut problem = Self { evidence, places: Vec::new(), readings: Vec::new() };
        for observation in &evidence.observations {
            let known = problem.places.iter().position(|place| same_place(&place.like, observation));
            let place = known.unwrap_or(problem.places.len());
            problem.readings.push((place, observation.deviation));
            if known.is_some() {
                continue;
            }
            // The reading itself says where to expand, to within its own error.
            let (expansion, travel) = if observation.load.is_none() {
                (extended, 0.0)
            } else {
                let travel = (zero - observation.distance - tape) / slope;
                (Expansion::about(evidence.end, travel).ok_or(SetupError::Singular)?, travel)
            };
            problem.places.push(Place { like: *observation, expansion, travel });
        }
        problem.widen(start, 1.0);
        Ok(problem)
    }

    pub(super) fn solve(&mut self, start: [f64; P]) -> Result<Minimum<P>, SetupError> {
        let mut minimum = minimise(self, start, PASS)?;
        for _ in 0..MOST_PASSES {
            if self.stands_still(&minimum.parameters, minimum.covariance[FRICTION][FRICTION])? {
                break;
            }
            minimum = minimise(self, minimum.parameters, PASS)?;
        }
        Ok(minimum)
    }

    /// Gives readings of unknown settling the width of the friction band, `⟨f²⟩/3` with `⟨f²⟩ = f² + u²(f)`; says by how
    /// much, relatively, a width changed.
    fn widen(&mut self, at: &[f64; P], variance: f64) -> f64 {
        let mut most = 0.0_f64;
        let [factor, preload, friction, _] = self.evidence.physical(at);
        let friction = friction.hypot(variance.sqrt() * self.evidence.priors.friction.1);
        for ((place, deviation), observation) in self.readings.iter_mut().zip(&self.evidence.observations) {
            if observation.side == 0.0 && observation.load.is_some() {
                let Place { expansion, travel, .. } = &self.places[*place];
                let rate = expansion.wheel_force(self.evidence.end, *travel, factor, preload).rate;
                let half_band = friction / rate * expansion.tape(*travel).1;
                let widened = observation.deviation.hypot(half_band / 3f64.sqrt());
                most = most.max((widened / *deviation - 1.0).abs());
                *deviation = widened;
            }
        }
        most
    }

    /// Moves every expansion to the travel it now stands at and weighs the readings anew; says whether nothing changed.
    fn stands_still(&mut self, at: &[f64; P], variance: f64) -> Result<bool, SetupError> {
        let mut still = true;
        for place in &mut self.places {
            if !place.expansion.stands_at(place.travel, STILL) {
                place.expansion = Expansion::about(self.evidence.end, place.travel).ok_or(SetupError::Singular)?;
                still = false;
            }
        }
        Ok(self.widen(at, variance) < SAME_WEIGHT && still)
    }

    /// What is predicted at one place.
    fn predict(&mut self, place: usize, at: &[f64; P], [factor, preload, friction, zero]: [f64; 4]) -> Row<P> {
        let evidence = self.evidence;
        let Place { like, expansion, travel } = &mut self.places[place];
        let load = like.load.map_or(evidence.hanging, |load| evidence.load(at, load));
        let force = load + like.side * friction;
        let (settled, wheel) = expansion.settle(evidence.end, force, factor, preload, *travel);
        *travel = settled;
        let held = if like.may_top_out {
            Held::above_zero(settled)
        } else if like.may_bottom_out {
            Held::below(settled, evidence.end.full_travel())
        } else {
            Held::free(settled)
        };
        let (tape, tape_slope) = expansion.tape(held.travel);
        // dz/dθ = (dW/dθ + σ·df/dθ − ∂F/∂θ)/(∂F/∂z).
        let mut moves = [0.0; P];
        moves[RATE] = -wheel.per_factor * factor * evidence.priors.rate / wheel.rate;
        moves[PRELOAD] = -wheel.per_preload * evidence.priors.preload / wheel.rate;
        moves[FRICTION] = like.side * evidence.priors.friction.1 / wheel.rate;
        if let Some(load) = like.load {
            for k in 0..=load {
                moves[LOADS + k] = evidence.loads.root[(load, k)] / wheel.rate;
            }
        }
        let mut derivatives = moves.map(|change| -tape_slope * held.share * change);
        derivatives[ZERO] = 1.0;
        Row { distance: zero - tape, derivatives, moves, curvature: -tape_slope * held.share_slope }
    }

    /// What is predicted of every reading.
    pub(super) fn predictions(&mut self, at: &[f64; P]) -> Vec<Prediction> {
        let physical = self.evidence.physical(at);
        let count = self.evidence.unknowns();
        let readings = self.readings.clone();
        let predicted = readings.into_iter().map(|(place, deviation)| {
            let row = self.predict(place, at, physical);
            let derivatives = row.derivatives[..count].to_vec();
            Prediction { distance: row.distance, deviation, travel: self.places[place].travel, derivatives }
        });
        predicted.collect()
    }
}

impl<const P: usize> Residuals<P> for Problem<'_, P> {
    fn accumulate(&mut self, at: &[f64; P], equations: &mut NormalEquations<P>) {
        let physical = self.evidence.physical(at);
        for place in 0..self.places.len() {
            let row = self.predict(place, at, physical);
            let readings = self.readings.iter().zip(&self.evidence.observations);
            for (&(_, deviation), observation) in readings.filter(|((of, _), _)| *of == place) {
                let residual = (row.distance - observation.distance) / deviation;
                equations.add(residual, &row.derivatives.map(|derivative| derivative / deviation));
                let weight = residual * row.curvature / deviation;
                if weight > 0.0 {
                    equations.add_curvature(weight, &row.moves);
                }
            }
        }
        for (k, &value) in at.iter().enumerate() {
            // The zero has no prior, but without readings nothing else holds it.
            if k != ZERO || self.readings.is_empty() {
                equations.add_prior(k, value - self.evidence.centres.get(k).copied().unwrap_or(0.0));
            }
        }
    }
}
