//! The least-squares problem of one end. Repeats of a reading (same load, same side) share one place of the wheel, and enter
//! through what suffices of them: the sum of their weights and their weighted mean.
//!
//! Where the wheel rests is followed from one evaluation to the next by its own derivatives, so that one or two Newton steps
//! settle it; the mechanism is expanded anew whenever a travel has left its expansion.

use crate::error::SetupError;
use crate::infer::held::Held;
use crate::infer::least_squares::{Minimum, NormalEquations, Residuals, Stopping, minimise};
use crate::infer::model::{Expansion, FOLLOWED};
use crate::infer::posterior::{Evidence, FRICTION, LOADS, Observation, PRELOAD, Prediction, Predictions, RATE, ZERO};

/// A step under a ten-thousandth of a standard deviation ends the search: what is left after it is smaller still, by the
/// share (hundredths) by which Gauss–Newton steps shrink here. The start is good, so hardly damped.
const PASS: Stopping = Stopping { step: 1e-4, most_steps: 100, damping: 1e-6 };
/// Passes with the readings weighed anew.
const MOST_PASSES: usize = 8;
/// An expansion is used this far from its centre (m), where it is exact to 1e-13 m.
const NEAR: f64 = 2e-5;
/// Weights of readings stand still when none changes by more than this share: far below what a weight is worth.
const SAME_WEIGHT: f64 = 1e-3;

pub(crate) struct Problem<'a, const P: usize> {
    evidence: &'a Evidence,
    places: Vec<RestPoint<'a, P>>,
    /// Per observation: its place and its deviation, the friction band included where that applies.
    readings: Vec<(usize, f64)>,
    /// Where the places were settled last, or where their travels were read before the first time.
    settled_at: [f64; P],
    settled: bool,
}

/// Where the wheel rests under one load, settled from one side, what was read there, and what is kept between evaluations.
struct RestPoint<'a, const P: usize> {
    like: &'a Observation,
    /// Place in the friction band: +1 low, −1 high.
    side: f64,
    /// Variance (m²) of what its readings share beside the tape: uneven friction, an error that was found.
    shared: f64,
    /// Sum of the weights of the readings, their weighted mean, and the sum of squares about it.
    weight: f64,
    mean: f64,
    scatter: f64,
    expansion: Expansion,
    travel: f64,
    /// Derivatives of the travel over the unknowns.
    moves: [f64; P],
}

/// A predicted distance, its derivatives, and the second derivative of distance over travel that the stop makes.
struct Row<const P: usize> {
    distance: f64,
    derivatives: [f64; P],
    curvature: f64,
}

impl<'a, const P: usize> Problem<'a, P> {
    pub(crate) fn new(evidence: &'a Evidence, start: [f64; P]) -> Result<Self, SetupError> {
        let [.., zero] = evidence.physical(&start);
        let extended = Expansion::about(evidence.end.as_ref(), 0.0).ok_or(SetupError::Singular)?;
        let (tape, slope) = extended.tape(0.0);
        // Every load from both sides, and full extension: as a rule there are no more.
        let usual = 1 + 2 * evidence.loads.mean.len();
        let mut places: Vec<RestPoint<'a, P>> = Vec::with_capacity(usual.min(evidence.observations.len()));
        let mut readings = Vec::with_capacity(evidence.observations.len());
        for observation in &evidence.observations {
            // Repeats are mostly written one after the other.
            let known = places.iter().rposition(|place| place.like.is_at_the_place_of(observation));
            readings.push((known.unwrap_or(places.len()), observation.deviation));
            if known.is_some() {
                continue;
            }
            // The reading itself says where to expand, to within its own error.
            let (expansion, travel) = if observation.load.is_none() {
                (extended, 0.0)
            } else {
                let travel = (zero - observation.distance - tape) / slope;
                (Expansion::about(evidence.end.as_ref(), travel).ok_or(SetupError::Singular)?, travel)
            };
            let like = observation;
            let side = if like.unnoted { evidence.unnoted.0 } else { like.side };
            let (mean, moves) = (0.0, [0.0; P]);
            places.push(RestPoint {
                like,
                side,
                shared: 0.0,
                weight: 0.0,
                mean,
                scatter: 0.0,
                expansion,
                travel,
                moves,
            });
        }
        let mut problem = Self { evidence, places, readings, settled_at: start, settled: false };
        problem.widen(&start, 1.0);
        problem.gather();
        Ok(problem)
    }

    pub(crate) fn solve(&mut self, start: [f64; P]) -> Result<Minimum<P>, SetupError> {
        let mut minimum = minimise(self, start, PASS)?;
        for _ in 0..MOST_PASSES {
            if self.widen(&minimum.parameters, minimum.covariance[FRICTION][FRICTION]) < SAME_WEIGHT {
                break;
            }
            self.gather();
            minimum = minimise(self, minimum.parameters, PASS)?;
        }
        Ok(minimum)
    }

    /// Gives readings of unknown settling their share of the friction band, `⟨f²⟩·var(σ)` with `⟨f²⟩ = f² + u²(f)`, and every
    /// place what uneven friction makes of it; says by how much, relatively, a width changed.
    fn widen(&mut self, at: &[f64; P], variance: f64) -> f64 {
        let mut most = 0.0_f64;
        let [factor, preload, friction, _] = self.evidence.physical(at);
        let friction = friction.hypot(variance.sqrt() * self.evidence.priors.friction.1);
        for ((place, deviation), observation) in self.readings.iter_mut().zip(&self.evidence.observations) {
            if observation.unnoted {
                let RestPoint { expansion, travel, .. } = &self.places[*place];
                let rate = expansion.wheel_force(self.evidence.end.as_ref(), *travel, factor, preload).rate;
                let half_band = friction / rate * expansion.tape(*travel).1;
                let widened = observation.deviation.hypot(half_band * self.evidence.unnoted.1.sqrt());
                most = most.max((widened / *deviation - 1.0).abs());
                *deviation = widened;
            }
        }
        let uneven = friction * self.evidence.doubts.uneven_friction;
        for place in &mut self.places {
            let mut shared = place.like.gross.shared.powi(2);
            if place.like.load.is_some() && uneven > 0.0 {
                let rate = place.expansion.wheel_force(self.evidence.end.as_ref(), place.travel, factor, preload).rate;
                shared += (uneven / rate * place.expansion.tape(place.travel).1).powi(2);
            }
            let tape = place.like.deviation.powi(2);
            most = most.max((((tape + shared) / (tape + place.shared)).sqrt() - 1.0).abs());
            place.shared = shared;
        }
        most
    }

    /// Brings the readings of each place together.
    fn gather(&mut self) {
        for place in &mut self.places {
            (place.weight, place.mean, place.scatter) = (0.0, 0.0, 0.0);
        }
        for (&(place, deviation), observation) in self.readings.iter().zip(&self.evidence.observations) {
            let variance = deviation * deviation + observation.gross.own.powi(2);
            let (place, weight) = (&mut self.places[place], 1.0 / variance);
            place.weight += weight;
            let off = observation.distance - place.mean;
            let step = off * weight / place.weight;
            place.mean += step;
            place.scatter += weight * off * (off - step);
        }
        for place in self.places.iter_mut().filter(|place| place.shared > 0.0) {
            place.weight = 1.0 / (1.0 / place.weight + place.shared);
        }
    }

    /// Settles every place for these unknowns, from where it was.
    fn settle(&mut self, at: &[f64; P], [factor, preload, friction, _]: [f64; 4]) {
        if self.settled && self.settled_at == *at {
            return;
        }
        self.settled = true;
        let evidence = self.evidence;
        let change: [f64; P] = core::array::from_fn(|k| at[k] - self.settled_at[k]);
        self.settled_at = *at;
        for place in &mut self.places {
            let start = place.travel + place.moves.iter().zip(&change).map(|(slope, by)| slope * by).sum::<f64>();
            if !place.expansion.stands_at(start, NEAR) {
                // Where the mechanism cannot be followed, the last expansion goes on.
                place.expansion = Expansion::about(evidence.end.as_ref(), start).unwrap_or(place.expansion);
            }
            let like = place.like;
            let load = like.load.map_or(evidence.hanging, |load| evidence.load(at, load));
            let force = load + place.side * friction;
            let (_, travel, wheel) =
                place.expansion.settle(evidence.end.as_ref(), force, factor, preload, start, FOLLOWED);
            place.travel = travel;
            // dz/dθ = (dW/dθ + σ·df/dθ − ∂F/∂θ)/(∂F/∂z).
            let per_force = 1.0 / wheel.rate;
            place.moves[RATE] = -wheel.per_factor * factor * evidence.priors.rate * per_force;
            place.moves[PRELOAD] = -wheel.per_preload * evidence.priors.preload * per_force;
            place.moves[FRICTION] = place.side * evidence.priors.friction.1 * per_force;
            if let Some(load) = like.load {
                for k in 0..=load {
                    place.moves[LOADS + k] = evidence.loads.root[(load, k)] * per_force;
                }
            }
        }
    }

    pub(crate) fn predictions(&mut self, at: &[f64; P]) -> Predictions {
        let physical = self.evidence.physical(at);
        self.settle(at, physical);
        let count = self.evidence.unknowns();
        let places = self.places.iter().map(|place| {
            let row = place.row(self.evidence, physical);
            let derivatives = row.derivatives[..count].to_vec();
            let (mean, weight, shared) = (place.mean, place.weight, place.shared);
            Prediction { distance: row.distance, travel: place.travel, derivatives, mean, weight, shared }
        });
        Predictions { places: places.collect(), readings: self.readings.clone() }
    }
}

impl<const P: usize> RestPoint<'_, P> {
    fn row(&self, evidence: &Evidence, [.., zero]: [f64; 4]) -> Row<P> {
        let held = if self.like.may_top_out {
            Held::above_zero(self.travel)
        } else if self.like.may_bottom_out {
            Held::below(self.travel, evidence.end.full_travel())
        } else {
            Held::free(self.travel)
        };
        let (tape, tape_slope) = self.expansion.tape(held.travel);
        let mut derivatives = self.moves.map(|change| -tape_slope * held.share * change);
        derivatives[ZERO] = if self.like.own_zero { 0.0 } else { 1.0 };
        let zero = if self.like.own_zero { evidence.zero } else { zero };
        Row { distance: zero - tape, derivatives, curvature: -tape_slope * held.share_slope }
    }
}

impl<const P: usize> Residuals<P> for Problem<'_, P> {
    fn accumulate(&mut self, at: &[f64; P], equations: &mut NormalEquations<P>) {
        let physical = self.evidence.physical(at);
        self.settle(at, physical);
        for place in &self.places {
            let row = place.row(self.evidence, physical);
            let off = row.distance - place.mean;
            equations.add_weighted(off, place.weight, place.scatter, &row.derivatives);
            let bend = place.weight * off * row.curvature;
            if bend > 0.0 {
                equations.add_curvature(bend, &place.moves);
            }
        }
        let centre = |k: usize| self.evidence.centres.get(k).copied().unwrap_or(0.0);
        for (k, &value) in at.iter().enumerate() {
            match self.evidence.zeroed {
                Some(deviation) if k == ZERO => {
                    let mut zero = [0.0; P];
                    zero[ZERO] = 1.0;
                    equations.add_weighted(value - centre(k), deviation.powi(-2), 0.0, &zero);
                }
                // A zero that is read has no prior, but without readings nothing else holds it.
                _ if k != ZERO || self.readings.is_empty() => equations.add_prior(k, value - centre(k)),
                _ => {}
            }
        }
    }
}
