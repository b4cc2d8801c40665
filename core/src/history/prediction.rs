//! Before and after a change: what the last set before it predicts of the first set after it.
//!
//! What was found before is [carried](crate::infer::Study::carried) over the change, as far as the change left it alone, and
//! what the change put in comes with its label. The tape's zero is new. With `m`, `C` the mean and covariance of all that, a
//! sag `s` read under the load `W`, settled on the side `σ`, is predicted as
//!
//! `s = g(z) − g(z_hang)`, `F_w(z; a, b) = W + σ·f`, and all of them have the covariance `S = G·C·Gᵀ + R`
//!
//! with `G` the derivatives and `R` that of the readings, which share their extended reading. `χ² = rᵀ S⁻¹ r` over the sags
//! read says whether the prediction held. Where it did not, the unknown that the readings move furthest against its own
//! uncertainty, `δ = C·Gᵀ·S⁻¹·r`, is named.

use nalgebra::{DMatrix, DVector};

use crate::Result;
use crate::bike::Bike;
use crate::decide::Decision;
use crate::error::SetupError;
use crate::history::Solution;
use crate::history::target_outcome::{TargetOutcome, target_outcomes};
use crate::infer::fit::ChiSquare;
use crate::infer::held::Held;
use crate::infer::model::{Kinematics, WheelForce, settle_exactly};
use crate::infer::one_bike::BY_CHANCE;
use crate::infer::path::OnPath;
use crate::infer::posterior::{FRICTION, LOADS, PRELOAD, Posterior, RATE, ZERO};
use crate::infer::probability::chi_square_exceeds;
use crate::infer::solved::{Derived, Solved};
use crate::log::Log;
use crate::record::{Direction, End, Load, Settled};
use crate::units::{Force, Length, Quantity, Share, SpringRate, Uncertain};

/// Standard deviations that one unknown has to move for it to be named as what did not come as predicted.
const STANDS_OUT: f64 = 1.5;

/// What was predicted of a change, and how it held.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Prediction {
    /// Place of the set it was made from: the last before the change.
    pub earlier: usize,
    /// Place of the first set after the change; `None` while nothing is read yet.
    pub later: Option<usize>,
    /// Along what the sags here run: as the end is read.
    pub direction: Direction,
    /// Every sag that was read after the change, or will be.
    pub sags: Vec<PredictedSag>,
    /// Agreement of all sags read with the prediction; `None` while nothing is read.
    pub chi_square: Option<ChiSquare>,
    /// What came otherwise than predicted; `None` where the prediction held, or nothing is read.
    pub cause: Option<Cause>,
    /// What was wanted, what it was before, and what came.
    pub targets: Vec<TargetOutcome>,
}

/// One sag predicted and read.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct PredictedSag {
    /// Under what.
    pub load: Load,
    /// From which side.
    pub settled: Option<Settled>,
    /// Predicted, before it was read.
    pub predicted: Uncertain<Length>,
    /// Read; the mean of repeats.
    pub read: Option<Uncertain<Length>>,
    /// Read less predicted.
    pub difference: Option<Uncertain<Length>>,
    /// The difference in its own standard deviations.
    pub deviations: Option<f64>,
}

/// What came otherwise than predicted.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Cause {
    /// The springs are not what their label says, or what the readings before said.
    Rate {
        /// Expected, all main springs together.
        expected: Uncertain<SpringRate>,
        /// By the readings after the change, and its label.
        found: Uncertain<SpringRate>,
    },
    /// The preload is not as stated.
    Preload {
        /// Expected.
        expected: Uncertain<Length>,
        /// By the readings after the change, and its label.
        found: Uncertain<Length>,
    },
    /// The friction is not what it was.
    Friction {
        /// Expected.
        expected: Uncertain<Force>,
        /// By the readings after the change, and its label.
        found: Uncertain<Force>,
    },
    /// None stands out.
    Unknown,
}

/// The unknowns before the readings after the change, in units of the priors after it.
struct Expected {
    mean: DVector<f64>,
    covariance: DMatrix<f64>,
}

/// A sag with its derivatives over the unknowns, and the variance of a settling that nobody noted.
struct Sag {
    value: f64,
    gradient: DVector<f64>,
    unnoted: f64,
}

/// One prediction per change of state between sets, and one for changes not read yet.
pub(crate) fn predictions(
    now: &Bike,
    end: End,
    sets: &[Solution],
    log: &Log,
    loads: &[Load],
) -> Result<Vec<Prediction>> {
    let advice: Vec<Option<Decision>> = sets.iter().map(|set| set.study.advise().ok()).collect();
    let mut predictions = Vec::new();
    for (from, before) in sets.iter().enumerate() {
        let to = sets.get(from + 1).filter(|after| after.set.changes > before.set.changes);
        let last = from + 1 == sets.len() && before.set.changes < log.changes(end).len();
        if to.is_none() && !last {
            continue;
        }
        let (bike, until) = to.map_or((now, log.steps()), |after| (after.study.bike(), after.set.step));
        let carried = before.study.carried_over(bike, &log.between(end, before.set.step, until), loads)?;
        let expected = Expected::new(&carried.solved);
        let prediction = match to {
            Some(after) => expected.against(&after.study.solved)?,
            None => expected.ahead(&carried.solved, before)?,
        };
        let stood = advice.get(from).and_then(Option::as_ref);
        let came = to.and_then(|_| advice.get(from + 1)?.as_ref());
        predictions.push(Prediction {
            earlier: from,
            later: to.map(|_| from + 1),
            direction: carried.measuring.direction,
            targets: target_outcomes(stood, carried.advise().ok().as_ref(), came),
            ..prediction
        });
    }
    Ok(predictions)
}

impl Expected {
    /// What was found before the change, carried into the bike after it.
    fn new(carried: &Solved) -> Self {
        let Posterior { unknowns, covariance, .. } = &carried.posterior;
        Self { mean: DVector::from_column_slice(unknowns), covariance: covariance.clone() }
    }

    /// Held against what was read.
    fn against(&self, after: &Solved) -> Result<Prediction, SetupError> {
        let extended: f64 = after
            .evidence
            .observations
            .iter()
            .filter(|read| read.load.is_none())
            .map(|read| read.deviation.powi(-2))
            .sum();
        let shared = if extended > 0.0 { 1.0 / extended } else { 0.0 };
        let mut rows = Vec::new();
        for (load, row) in after.gathered.rows.iter().enumerate() {
            for ((read, settled), count) in row.sides().into_iter().zip(row.counts) {
                if let Some(read) = read {
                    let sag = self.sag(after, load, settled).ok_or(SetupError::Singular)?;
                    rows.push((row.load.clone(), settled, sag, read, count as f64));
                }
            }
        }
        let count = rows.len();
        let gradients = DMatrix::from_fn(count, self.mean.len(), |row, unknown| rows[row].2.gradient[unknown]);
        let residuals = DVector::from_fn(count, |row, _| rows[row].3.value.si() - rows[row].2.value);
        let mut spread = &gradients * &self.covariance * gradients.transpose();
        for (row, (_, _, sag, read, repeats)) in rows.iter().enumerate() {
            for other in 0..count {
                spread[(row, other)] += shared;
            }
            let own = (read.standard_uncertainty.si().powi(2) - shared).max(0.0);
            spread[(row, row)] += own + sag.unnoted / repeats;
        }
        let root = spread.clone().cholesky().ok_or(SetupError::Singular)?;
        let weighted = root.solve(&residuals);
        let value = residuals.dot(&weighted);
        let chi_square = ChiSquare { value, degrees: count, probability: chi_square_exceeds(value, count) };
        let sags = rows.into_iter().enumerate().map(|(row, (load, settled, sag, read, _))| {
            let difference = uncertain(residuals[row], spread[(row, row)]);
            PredictedSag {
                load,
                settled,
                predicted: self.uncertain(&sag),
                read: Some(read),
                difference: Some(difference),
                deviations: Some(difference.value.si() / difference.standard_uncertainty.si()),
            }
        });
        let gain = &self.covariance * gradients.transpose();
        let left = &self.covariance - &gain * root.solve(&gain.transpose());
        let found = Self { mean: &self.mean + &gain * weighted, covariance: left };
        let cause = (chi_square.probability < BY_CHANCE).then(|| self.cause(&found, after));
        Ok(Prediction { sags: sags.collect(), chi_square: Some(chi_square), cause, ..Prediction::empty() })
    }

    /// Before anything is read: every load of the set before, from both sides.
    fn ahead(&self, after: &Solved, before: &Solution) -> Result<Prediction, SetupError> {
        let read: Vec<&Load> = before.study.bike().parts().readings.iter().map(|reading| &reading.load).collect();
        let mut sags = Vec::new();
        for (load, name) in after.gathered.loads.iter().enumerate().filter(|(_, load)| read.contains(load)) {
            for settled in [Settled::Low, Settled::High] {
                let sag = self.sag(after, load, Some(settled)).ok_or(SetupError::Singular)?;
                sags.push(PredictedSag {
                    load: name.clone(),
                    settled: Some(settled),
                    predicted: self.uncertain(&sag),
                    read: None,
                    difference: None,
                    deviations: None,
                });
            }
        }
        Ok(Prediction { sags, ..Prediction::empty() })
    }

    fn uncertain(&self, sag: &Sag) -> Uncertain<Length> {
        uncertain(sag.value, sag.gradient.dot(&(&self.covariance * &sag.gradient)) + sag.unnoted)
    }

    /// A sag on the tape, from where the wheel hangs.
    fn sag(&self, after: &Solved, load: usize, settled: Option<Settled>) -> Option<Sag> {
        let evidence = &after.evidence;
        let side = side(settled).unwrap_or(evidence.unnoted.0);
        let [factor, preload, friction, _] = evidence.physical(self.mean.as_slice());
        let weight = evidence.load(self.mean.as_slice(), load);
        let full = evidence.end.full_travel();
        let rest = |force: f64, guess: f64| -> Option<(Held, Kinematics, WheelForce, Vec<f64>)> {
            let (_, travel, wheel) = settle_exactly(evidence.end.as_ref(), force, factor, preload, guess)?;
            let held = if travel < full / 2.0 { Held::above_zero(travel) } else { Held::below(travel, full) };
            let at = evidence.end.kinematics(held.travel.clamp(0.0, full))?;
            let moved = OnPath::new(evidence.end.as_ref(), travel, factor, preload).map_or_else(Vec::new, |on| {
                let by_force = on.wheel_forces().map(|force| at.tape_slope * held.share * force / wheel.rate);
                by_force.zip(evidence.end.path(held.travel)).map(|(force, by)| by.tape - force).collect()
            });
            Some((held, at, wheel, moved))
        };
        let (held, at, wheel, moved) = rest(weight + side * friction, full / 3.0)?;
        let (hangs, at_hang, hanging, hang_moved) = rest(evidence.hanging, 0.0)?;
        let mut gradient = DVector::zeros(self.mean.len());
        for (slope, wheel) in [(at.tape_slope * held.share, &wheel), (-at_hang.tape_slope * hangs.share, &hanging)] {
            gradient[RATE] -= slope * wheel.per_factor * factor * evidence.priors.rate / wheel.rate;
            gradient[PRELOAD] -= slope * wheel.per_preload * evidence.priors.preload / wheel.rate;
        }
        let per_force = at.tape_slope * held.share / wheel.rate;
        gradient[FRICTION] = per_force * side * evidence.priors.friction.1;
        for k in 0..=load {
            gradient[LOADS + k] = per_force * evidence.loads.root[(load, k)];
        }
        let mut value = at.tape - at_hang.tape;
        let ways = moved.iter().zip(&hang_moved).zip(evidence.end.path_at());
        for (way, ((there, hanging), stands)) in (evidence.unknowns()..).zip(ways) {
            gradient[way] = there - hanging;
            value += gradient[way] * (self.mean[way] - stands);
        }
        let variance = self.covariance[(FRICTION, FRICTION)] * evidence.priors.friction.1.powi(2);
        let band = if settled.is_none() { (friction.powi(2) + variance) * evidence.unnoted.1 } else { 0.0 };
        Some(Sag { value, gradient, unnoted: band * per_force.powi(2) })
    }

    /// The unknown that the readings moved furthest against its own uncertainty; found is what the set after says by itself.
    fn cause(&self, found: &Self, after: &Solved) -> Cause {
        let moved = |unknown: usize| {
            let deviation = self.covariance[(unknown, unknown)].sqrt();
            (found.mean[unknown] - self.mean[unknown]).abs() / deviation.max(f64::MIN_POSITIVE)
        };
        let furthest = (0..self.mean.len())
            .filter(|&unknown| unknown != ZERO)
            .max_by(|&one, &other| moved(one).total_cmp(&moved(other)));
        let [factor, preload, friction, _] = after.evidence.physical(self.mean.as_slice());
        let (priors, each) = (after.evidence.priors, after.factor());
        let variance = |unknown: usize, slope: f64| self.covariance[(unknown, unknown)] * slope * slope;
        let cause = match furthest.filter(|&unknown| moved(unknown) > STANDS_OUT) {
            Some(RATE) => {
                let label = after.main.rate.si();
                let gradient = each.gradient.iter().map(|slope| slope * label).collect();
                Cause::Rate {
                    expected: uncertain(factor * label, variance(RATE, factor * label * priors.rate)),
                    found: after.uncertain(&Derived { value: each.value * label, gradient }),
                }
            }
            Some(PRELOAD) => Cause::Preload {
                expected: uncertain(after.main.preload.si() + preload, variance(PRELOAD, priors.preload)),
                found: after.uncertain(&after.preload()),
            },
            Some(FRICTION) => Cause::Friction {
                expected: uncertain(friction, variance(FRICTION, priors.friction.1)),
                found: after.uncertain(&after.friction()),
            },
            _ => Cause::Unknown,
        };
        // The set after has doubts of its own. Where it says the contrary by itself, nothing stands out.
        let moves = furthest.map_or(0.0, |unknown| found.mean[unknown] - self.mean[unknown]);
        if cause.moves() * moves > 0.0 { cause } else { Cause::Unknown }
    }
}

impl Cause {
    /// What was found less what was expected, in SI units.
    fn moves(&self) -> f64 {
        match self {
            Self::Rate { expected, found } => found.value.si() - expected.value.si(),
            Self::Preload { expected, found } => found.value.si() - expected.value.si(),
            Self::Friction { expected, found } => found.value.si() - expected.value.si(),
            Self::Unknown => 0.0,
        }
    }
}

impl Prediction {
    fn empty() -> Self {
        Self {
            earlier: 0,
            later: None,
            direction: Direction::Vertical,
            sags: Vec::new(),
            chi_square: None,
            cause: None,
            targets: Vec::new(),
        }
    }

    /// Did it hold? `None` while nothing is read.
    #[must_use]
    pub fn held(&self) -> Option<bool> {
        self.chi_square.map(|chi_square| chi_square.probability >= BY_CHANCE)
    }

    /// Probability of as much disagreement or more by chance; `None` while nothing is read.
    #[must_use]
    pub fn probability(&self) -> Option<Share> {
        self.chi_square.map(|chi_square| Share::from_si(chi_square.probability))
    }
}

/// Place in the friction band; `None` where nobody noted it.
fn side(settled: Option<Settled>) -> Option<f64> {
    Some(match settled? {
        Settled::Low => 1.0,
        Settled::High => -1.0,
        Settled::Middle => 0.0,
    })
}

fn uncertain<Q: Quantity>(value: f64, variance: f64) -> Uncertain<Q> {
    Uncertain { value: Q::from_si(value), standard_uncertainty: Q::from_si(variance.max(0.0).sqrt()) }
}
