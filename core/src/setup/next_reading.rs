//! Which further reading would help most.
//!
//! A reading with derivatives `j` and variance `v` narrows the covariance by `C j jᵀC/(jᵀC j + v)` (recursive least squares),
//! so what a plan is worth is known before it is carried out: the standard uncertainty of the number that decides, after
//! against before. Plans are such as one person can carry out alone: another pair of readings (after pushing down, after
//! lifting) under a load already weighed, the same with ballast on the seat, the wheel off the ground again, the scales again.

use nalgebra::{DMatrix, DVector};

use super::fit::Solved;
use super::model::settle_exactly;
use super::path::OnPath;
use super::posterior::{FRICTION, LOADS, PRELOAD, RATE, ZERO};
use crate::record::Load;
use crate::units::{Mass, Quantity, Share};

/// What to do.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Task {
    /// Readings in pairs, one after pushing down and one after lifting.
    Pairs {
        /// Under this load.
        load: Load,
        /// How many pairs.
        pairs: usize,
    },
    /// The same with ballast that puts this much more on this wheel's scale.
    Ballast {
        /// On top of this load.
        load: Load,
        /// Ballast, as the scale under this wheel shows it.
        mass: Mass,
        /// How many pairs.
        pairs: usize,
    },
    /// The distance with the wheel off the ground, this many times more.
    Extended {
        /// How many readings.
        readings: usize,
    },
    /// Put the bike, and the bike with its load, on the scales again.
    Weigh,
    /// Take a misread value again.
    Repeat {
        /// Place among all readings, from 0.
        reading: usize,
        /// Under what.
        load: Load,
    },
}

/// A task with what it would bring.
#[derive(Debug, Clone, PartialEq)]
pub struct NextReading {
    /// What to do.
    pub task: Task,
    /// Standard uncertainty of the number that decides, after it, as a share of what it is now; 1 where only the task
    /// itself can tell.
    pub remaining: Share,
}

/// A plan that leaves more than this of the uncertainty is not worth the walk to the garage.
const WORTH_IT: f64 = 0.95;
/// Plans told.
const TOLD: usize = 3;
/// Ballast tried, in kilograms at this wheel: a water can, two.
const BALLAST: [f64; 2] = [20.0, 40.0];
/// Pairs of readings tried.
const PAIRS: [usize; 2] = [1, 2];

/// One reading to come: derivatives of its distance and its variance.
struct Coming {
    derivatives: DVector<f64>,
    variance: f64,
}

/// Narrowed covariance.
fn narrowed(covariance: &DMatrix<f64>, coming: &Coming) -> DMatrix<f64> {
    let gain = covariance * &coming.derivatives;
    let total = coming.derivatives.dot(&gain) + coming.variance;
    covariance - &gain * gain.transpose() / total
}

impl Solved<'_> {
    /// Plans by how much they narrow the number with this gradient, best first; only those worth it. `tape` is the standard
    /// uncertainty of a reading, `scale` that of a load by one weighing.
    pub(crate) fn next_readings(&self, deciding: &[f64], tape: f64, scale: f64) -> Vec<NextReading> {
        let deciding = DVector::from_column_slice(deciding);
        let spread = |covariance: &DMatrix<f64>| (covariance * &deciding).dot(&deciding).max(0.0).sqrt();
        let before = spread(&self.posterior.covariance);
        if before <= 0.0 {
            return Vec::new();
        }
        let worth = |task: Task, coming: Vec<Coming>| {
            let after =
                coming.iter().fold(self.posterior.covariance.clone(), |covariance, one| narrowed(&covariance, one));
            NextReading { task, remaining: Share::from_si(spread(&after) / before) }
        };
        let mut plans = Vec::new();
        let extended = || Coming { derivatives: self.unit(ZERO), variance: tape * tape };
        if !self.evidence.observations.is_empty() {
            plans.push(worth(Task::Extended { readings: 2 }, vec![extended(), extended()]));
        }
        for (place, load) in self.gathered.loads.iter().enumerate() {
            for pairs in PAIRS {
                if let Some(coming) = self.pairs(place, 0.0, 0.0, tape, pairs) {
                    plans.push(worth(Task::Pairs { load: load.clone(), pairs }, coming));
                }
            }
        }
        if let Some((place, load)) = self.gathered.loads.iter().enumerate().next_back() {
            for mass in BALLAST {
                if let Some(coming) = self.pairs(place, mass, scale, tape, 1) {
                    let task = Task::Ballast { load: load.clone(), mass: Mass::from_si(mass), pairs: 1 };
                    plans.push(worth(task, coming));
                }
            }
        }
        // A second weighing of everything is a second look at every standard normal number behind the loads.
        let weighing = |k: usize| Coming { derivatives: self.unit(LOADS + k), variance: 1.0 };
        plans.push(worth(Task::Weigh, (0..self.gathered.loads.len()).map(weighing).collect()));
        plans.retain(|plan| plan.remaining.si() < WORTH_IT);
        plans.sort_by(|one, other| one.remaining.si().total_cmp(&other.remaining.si()));
        plans.truncate(TOLD);
        plans
    }

    fn unit(&self, unknown: usize) -> DVector<f64> {
        let mut unit = DVector::zeros(self.evidence.all_unknowns());
        unit[unknown] = 1.0;
        unit
    }

    /// Readings low and high under a load with ballast; `None` where the end would be on a stop.
    fn pairs(&self, load: usize, ballast: f64, scale: f64, tape: f64, pairs: usize) -> Option<Vec<Coming>> {
        let weight = self.load(load);
        let added = ballast * crate::units::kind::STANDARD_GRAVITY_SI;
        let [factor, preload, friction, _] = self.evidence.physical(&self.posterior.unknowns);
        let end = self.evidence.end;
        let mut coming = Vec::new();
        for side in [1.0, -1.0] {
            let force = weight.value + added + side * friction;
            let (expansion, travel, wheel) = settle_exactly(end, force, factor, preload, end.full_travel() / 3.0)?;
            if travel <= 0.0 || travel >= end.full_travel() {
                continue;
            }
            let slope = expansion.tape(travel).1 / wheel.rate;
            let mut derivatives =
                DVector::from_iterator(weight.gradient.len(), weight.gradient.iter().map(|g| -slope * g));
            derivatives[RATE] += slope * wheel.per_factor * factor * self.evidence.priors.rate;
            derivatives[PRELOAD] += slope * wheel.per_preload * self.evidence.priors.preload;
            derivatives[FRICTION] -= slope * side * self.evidence.priors.friction.1;
            derivatives[ZERO] = 1.0;
            if let Some(on) = OnPath::new(end, travel, factor, preload) {
                for (k, by) in on.derivatives.iter().enumerate() {
                    derivatives[self.evidence.unknowns() + k] += slope * on.wheel_force(by) - by.tape;
                }
            }
            // The ballast is weighed once; its error is in each of its readings, here as if their own.
            let variance = tape * tape + (slope * if ballast > 0.0 { scale } else { 0.0 }).powi(2);
            coming.extend((0..pairs).map(|_| Coming { derivatives: derivatives.clone(), variance }));
        }
        (!coming.is_empty()).then_some(coming)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::setup::fit::tests::{BOTH, LABEL, readings, solve};
    use crate::setup::model::tests::Straight;

    /// Uncertainty of the rate once the readings are taken.
    fn rate_uncertainty(rows: &[(&str, f64)]) -> f64 {
        let end = Straight::usual();
        solve(&end, &readings(&end, rows), LABEL, 1.5e-3).fit().rate.standard_uncertainty.si()
    }

    #[test]
    fn the_gain_told_is_the_gain_had() {
        let end = Straight::usual();
        let solved = solve(&end, &readings(&end, &BOTH), LABEL, 1.5e-3);
        let plans = solved.next_readings(&solved.factor().gradient, 1.5e-3, 5.0);
        assert!(plans.windows(2).all(|pair| pair[0].remaining.si() <= pair[1].remaining.si()) && !plans.is_empty());
        let pair = |load: &str, pairs: usize| {
            let rows: Vec<_> = BOTH.iter().copied().filter(|(name, _)| *name == load).cycle().take(2 * pairs).collect();
            rate_uncertainty(&[&BOTH[..], &rows].concat()) / rate_uncertainty(&BOTH)
        };
        for plan in &plans {
            let had = match &plan.task {
                Task::Pairs { load, pairs: count } => pair(&load.to_string(), *count),
                Task::Extended { readings } => {
                    rate_uncertainty(&[&BOTH[..], &vec![("none", 0.0); *readings]].concat()) / rate_uncertainty(&BOTH)
                }
                _ => continue,
            };
            // Exact readings: the expansion points hardly move.
            assert!((plan.remaining.si() - had).abs() < 0.01, "{:?}: {had}", plan);
        }
    }

    #[test]
    fn a_topped_out_load_is_never_asked_for() {
        let stiff = Straight { preload: 0.035, ..Straight::usual() };
        let solved = solve(&stiff, &readings(&stiff, &BOTH), LABEL, 1.5e-3);
        let plans = solved.next_readings(&solved.factor().gradient, 1.5e-3, 5.0);
        let bike = Load::from_text("bike");
        assert!(plans.iter().all(|plan| !matches!(&plan.task, Task::Pairs { load, .. } if *load == bike)), "{plans:?}");
    }
}
