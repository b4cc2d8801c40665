//! The posterior where one thing may be grossly wrong: a mixture of normal distributions, one for every single fault.
//!
//! A fault gives one reading, one place with all its repeats, or the label a wide error instead of its own. With the rest of
//! the readings predicting the distance of a place as `N(p, q)`, its own readings `x_i` of variances `v_i` that share an error
//! of variance `s²` have the likelihood
//!
//! `−2·ln L = Σ ln v_i + ln Σ 1/v_i + ln S + scatter + (m − p)²/S`, `S = 1/Σ(1/v_i) + s² + q`
//!
//! (`m` their weighted mean), under the fault and without it; the chance of the fault follows from both by Bayes' rule. The
//! posterior under a fault is one rank-one step from the posterior without (`C′ = C − C·d·δ·dᵀ·C/(1 + δ·dᵀCd)` for a change
//! `δ` of the weight of a place with derivatives `d`), and all of them are brought together in one mean and one covariance.
//!
//! A fault of a distance that is likelier than not is taken as found: the place is widened for good, everything is solved
//! again, and the next fault is looked for. Two faults that hide each other are not found.

use nalgebra::DVector;

use crate::error::SetupError;
use crate::infer::posterior::{Evidence, Found, Posterior, RATE};
use crate::infer::probability::chi_square_exceeds;

/// A fault that is likelier than not is taken as found.
const LIKELY: f64 = 0.5;
/// Faults taken as found, at most; with more than that nothing is left to believe.
const MOST_FOUND: usize = 3;

/// Variance (m²) of a distance of which nothing else says anything: ten metres, far above any error.
const ANY_DISTANCE: f64 = 100.0;

/// Disagreement that is less likely than this widens every interval by what it is above its mean (Birge's ratio).
const IMPROBABLE: f64 = 0.05;

/// What is wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Fault {
    /// One reading, by its place among the observations.
    Reading(usize),
    /// All readings of a place.
    Place(usize),
    /// The label of the springs.
    Label,
}

/// What was found to be grossly wrong, and how likely that is.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Faults {
    pub(crate) found: Vec<(Fault, f64)>,
    /// That the label means little.
    pub(crate) label: f64,
    /// Probability of as much disagreement or more by chance, with what was found left out.
    pub(crate) agreement: f64,
    /// Factor on every standard uncertainty, where that is improbable.
    pub(crate) widened: f64,
}

impl Default for Faults {
    fn default() -> Self {
        Self { found: Vec::new(), label: 0.0, agreement: 1.0, widened: 1.0 }
    }
}

/// A fault as an alternative to none: its chance, and what it makes of a weight and a mean.
struct Alternative {
    fault: Fault,
    /// Logarithm of chance before times ratio of likelihoods: the ratio itself has no bounds.
    log_odds: f64,
    /// Width of the error (m, or in standard deviations of the label).
    width: f64,
    direction: DVector<f64>,
    /// Change of the weight, and of weight times what is off.
    weight: f64,
    pull: f64,
}

/// The readings of one place: weights, mean, scatter.
#[derive(Clone, Copy)]
struct Summed {
    logs: f64,
    weights: f64,
    mean: f64,
    scatter: f64,
}

impl Summed {
    fn of(readings: impl Iterator<Item = (f64, f64)>) -> Self {
        let mut sum = Self { logs: 0.0, weights: 0.0, mean: 0.0, scatter: 0.0 };
        for (distance, variance) in readings {
            let weight = 1.0 / variance;
            sum.weights += weight;
            let off = distance - sum.mean;
            let step = off * weight / sum.weights;
            sum.mean += step;
            sum.scatter += weight * off * (off - step);
            sum.logs += variance.ln();
        }
        sum
    }

    /// `−2·ln L` against a prediction of variance `q`, with a shared error of variance `s²`.
    fn surprise(&self, predicted: f64, q: f64, shared: f64) -> f64 {
        let spread = 1.0 / self.weights + shared + q;
        self.logs + self.weights.ln() + spread.ln() + self.scatter + (self.mean - predicted).powi(2) / spread
    }

    fn weight(&self, shared: f64) -> f64 {
        1.0 / (1.0 / self.weights + shared)
    }
}

impl Evidence {
    /// The posterior with all doubts, cut where friction is zero, and what was found wrong. Places that are found wrong stay
    /// widened in the evidence.
    pub(crate) fn solve_doubting(&mut self, start: &[f64]) -> Result<(Posterior, Faults), SetupError> {
        let mut posterior = self.solve(start)?;
        let mut faults = Faults::default();
        if self.doubts.gross.is_some() && !self.observations.is_empty() {
            let mut alternatives = self.alternatives(&posterior);
            while faults.found.len() < MOST_FOUND {
                let chances = chances(&alternatives);
                let of_distance = alternatives.iter().zip(chances).filter(|(one, _)| one.fault != Fault::Label);
                let Some((worst, chance)) =
                    of_distance.max_by(|one, other| one.0.log_odds.total_cmp(&other.0.log_odds))
                else {
                    break;
                };
                if chance < LIKELY {
                    break;
                }
                faults.found.push((worst.fault, chance));
                self.widen(worst.fault, worst.width, &posterior);
                posterior = self.solve(&posterior.unknowns)?;
                alternatives = self.alternatives(&posterior);
            }
            faults.label = posterior.mix(&alternatives);
            let degrees = self.degrees().saturating_sub(faults.found.len());
            faults.agreement = chi_square_exceeds(posterior.cost, degrees);
            if faults.agreement < IMPROBABLE {
                faults.widened = (posterior.cost / degrees as f64).sqrt();
                posterior.covariance *= faults.widened.powi(2);
            }
        }
        posterior.cut_friction(-self.priors.friction.0 / self.priors.friction.1);
        Ok((posterior, faults))
    }

    /// With nothing found wrong.
    pub(crate) fn without_found(&self) -> Self {
        let mut all = self.clone();
        all.observations.iter_mut().for_each(|one| one.gross = Found::default());
        all
    }

    fn widen(&mut self, fault: Fault, width: f64, posterior: &Posterior) {
        let readings = posterior.predictions.readings.iter();
        for ((one, &(place, _)), at) in self.observations.iter_mut().zip(readings).zip(0..) {
            match fault {
                Fault::Reading(reading) if reading == at => one.gross.own = width,
                Fault::Place(wrong) if wrong == place => one.gross.shared = width,
                _ => {}
            }
        }
    }

    fn alternatives(&self, posterior: &Posterior) -> Vec<Alternative> {
        let Some(gross) = self.doubts.gross else { return Vec::new() };
        let count = posterior.unknowns.len();
        let mut found = Vec::new();
        for (place, prediction) in posterior.predictions.places.iter().enumerate() {
            let direction = DVector::from_column_slice(&prediction.derivatives);
            let variance = direction.dot(&(&posterior.covariance * &direction));
            let left = 1.0 - prediction.weight * variance;
            // A place that nothing else speaks of: its own error only is seen, and no fault is likelier for it than before.
            let checked = left > f64::EPSILON.sqrt();
            let (mut predicted, mut q) = (prediction.mean, ANY_DISTANCE);
            if checked {
                let off = (prediction.mean - prediction.distance) / left;
                (predicted, q) = (prediction.mean - off, variance / left);
            }
            let members: Vec<usize> = posterior
                .predictions
                .readings
                .iter()
                .enumerate()
                .filter_map(|(at, &(of, _))| (of == place).then_some(at))
                .collect();
            let own = |at: usize| {
                let (one, (_, deviation)) = (&self.observations[at], posterior.predictions.readings[at]);
                (one.distance, deviation.powi(2) + one.gross.own.powi(2))
            };
            let Some(first) = members.first().map(|&at| &self.observations[at]) else { continue };
            let shared = prediction.shared;
            let now = Summed::of(members.iter().map(|&at| own(at)));
            let mut add = |fault, chance: f64, width: f64, then: Summed, shared_then: f64| {
                let surprise = then.surprise(predicted, q, shared_then) - now.surprise(predicted, q, shared);
                let weight = then.weight(shared_then);
                found.push(Alternative {
                    fault,
                    log_odds: (chance / (1.0 - chance)).ln() - 0.5 * surprise,
                    width,
                    direction: direction.clone(),
                    weight: weight - prediction.weight,
                    pull: weight * (then.mean - prediction.distance)
                        - prediction.weight * (prediction.mean - prediction.distance),
                });
            };
            if first.gross.shared == 0.0 {
                let lone = first.load.is_none() && members.len() == 1;
                let chance = if lone { gross.lone_extended } else { gross.place };
                let width = gross.distance.max((now.mean - predicted).abs());
                add(Fault::Place(place), chance, width, now, shared + width.powi(2));
            }
            if members.len() > 1 {
                for &wrong in members.iter().filter(|&&at| self.observations[at].gross.own == 0.0) {
                    let others = Summed::of(members.iter().filter(|&&at| at != wrong).map(|&at| own(at)));
                    let width = gross.distance.max((own(wrong).0 - others.mean).abs());
                    let then = Summed::of(members.iter().map(|&at| {
                        let (distance, variance) = own(at);
                        (distance, if at == wrong { variance + width.powi(2) } else { variance })
                    }));
                    add(Fault::Reading(wrong), gross.reading, width, then, shared);
                }
            }
        }
        let width = gross.label_spread / self.priors.rate;
        if width > 1.0 && !self.before.as_ref().is_some_and(|before| before.label_weighed) {
            let mut direction = DVector::zeros(count);
            direction[RATE] = 1.0;
            let variance = posterior.covariance[(RATE, RATE)];
            let left = (1.0 - variance).max(f64::EPSILON);
            let off = posterior.unknowns[RATE] - self.centres.get(RATE).copied().unwrap_or(0.0);
            let (off, q) = (off / left, variance / left);
            let (spread, wide) = (1.0 + q, width * width + q);
            let log_ratio = 0.5 * (spread / wide).ln() + 0.5 * off * off * (1.0 / spread - 1.0 / wide);
            let weight = width.powi(-2);
            found.push(Alternative {
                fault: Fault::Label,
                log_odds: (gross.label / (1.0 - gross.label)).ln() + log_ratio,
                width,
                direction,
                weight: weight - 1.0,
                pull: (1.0 - weight) * off * left,
            });
        }
        found
    }
}

/// The chance of each alternative, against each other and against none.
fn chances(alternatives: &[Alternative]) -> Vec<f64> {
    // About the largest, so that nothing overflows.
    let most = alternatives.iter().map(|one| one.log_odds).fold(0.0, f64::max);
    let of = |log_odds: f64| (log_odds - most).exp();
    let all = of(0.0) + alternatives.iter().map(|one| of(one.log_odds)).sum::<f64>();
    alternatives.iter().map(|one| of(one.log_odds) / all).collect()
}

impl Posterior {
    /// Brings the posterior without a fault and those under every fault together; says how likely the label means little.
    fn mix(&mut self, alternatives: &[Alternative]) -> f64 {
        let chances = chances(alternatives);
        let mut shift = DVector::zeros(self.unknowns.len());
        let mut spread = nalgebra::DMatrix::zeros(self.unknowns.len(), self.unknowns.len());
        for (one, &chance) in alternatives.iter().zip(&chances) {
            let along = &self.covariance * &one.direction;
            let variance = one.direction.dot(&along);
            // C′·d = C·d/(1 + δ·dᵀCd).
            let left = 1.0 + one.weight * variance;
            let moved = &along * (one.pull / left);
            spread += &along * along.transpose() * (-chance * one.weight / left);
            spread += &moved * moved.transpose() * chance;
            shift += moved * chance;
        }
        self.covariance += spread - &shift * shift.transpose();
        self.move_by(&shift);
        alternatives.iter().zip(chances).filter(|(one, _)| one.fault == Fault::Label).map(|(_, chance)| chance).sum()
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests;
