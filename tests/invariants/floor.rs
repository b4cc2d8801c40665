//! The least that can be lost: what is lost, on average over these garages, by whoever knows from what they are drawn and
//! decides by Bayes' rule on the same readings.
//!
//! `p(x | readings) ∝ p(x)·Π p(reading | x)`, with the distributions that the garages really are drawn from: labels uniform,
//! friction uniform, masses and zeros of preload normal, settlings that nobody noted uniform in the friction band. Drawn by
//! importance sampling from the normal distribution about the most likely state (Gauss–Newton on numerical derivatives), a
//! little widened. Of every spring the setting is taken, by either way, whose chance less price is largest on average over
//! the draws. No way of deciding loses less on average, so that what the library loses beside it is its own, and what this
//! loses is what the readings leave open.

use nalgebra::{DMatrix, DVector};
use wheelrate::decide::{Act, Decision, SpringChoice, Way};
use wheelrate::infer::probability::normal_cdf;
use wheelrate::record::{End, Load, Reading, Settled, SpringPrior};
use wheelrate::units::{Force, Length, Quantity, SpringRate};
use wheelrate::wheel::{Tunable, Wheel};

use crate::calibration::{Dice, Garage, gear, travel};
use crate::verdicts::Truth;

/// Draws per end. The mean chance of an action is then known to 2 or 3 points, which costs a tenth of that in loss.
const DRAWS: usize = 200;
/// Rounds of Gauss–Newton: the readings are nearly straight.
const ROUNDS: usize = 4;
/// How much wider draws are than the normal distribution about the mode.
const WIDENED: f64 = 1.15;
/// Springs that land less often than this share of the likeliest are not looked at.
const OUT_OF_QUESTION: f64 = 0.1;
/// Settings tried on either side of the advised one, in steps of this (m, as the shock of the demo bike moves).
const TRIED: i32 = 10;
const STEP: f64 = 0.375e-3;

/// Places of the unknowns: `ln a`, preload, friction, bike, rider, ballast, unsprung, zero of the tape.
const UNKNOWNS: usize = 8;
const RATE: usize = 0;
const PRELOAD: usize = 1;
const FRICTION: usize = 2;
const BIKE: usize = 3;
const RIDER: usize = 4;
const SAND: usize = 5;
const UNSPRUNG: usize = 6;
const ZERO: usize = 7;

/// One end as its owner knows it, and from what its garage was drawn.
struct Known<'a> {
    garage: &'a Garage,
    end: End,
    /// Labels err up to so much.
    label: f64,
}

impl Known<'_> {
    fn readings(&self) -> impl Iterator<Item = &Reading> {
        self.garage.bike.parts().readings.iter().filter(|reading| reading.end == self.end)
    }

    fn with(&self, fitted: &Spring) -> Box<dyn Wheel> {
        fn of<W: Tunable + 'static>(wheel: &W, fitted: &Spring) -> Box<dyn Wheel> {
            Box::new(match *fitted {
                Spring::Own(factor, by) => wheel.with_spring_change(factor, Length::from_si(by)).unwrap(),
                Spring::Other(rate, preload) => wheel.with_spring_rate(rate, Length::from_si(preload)).unwrap(),
            })
        }
        match self.end {
            End::Front => of(self.garage.bike.front().unwrap(), fitted),
            End::Rear => of(self.garage.bike.rear().unwrap(), fitted),
        }
    }

    fn load(&self, x: &[f64], load: &Load) -> Force {
        let masses = self.garage.bike.masses().unwrap();
        let on = |name: &str| f64::from(load.to_string().contains(name));
        let more = on("bike") * (x[BIKE] - x[UNSPRUNG]) + on("rider") * x[RIDER] + on("sand") * x[SAND];
        masses.sprung_load(self.end, load).unwrap().value + Force::from_si(more * masses.gravity().si())
    }

    fn sags(&self, wheel: &dyn Wheel, x: &[f64]) -> [f64; 2] {
        let sag = |load: &str| self.garage.sag(self.end, travel(wheel, self.load(x, &Load::parse(load).unwrap())));
        ["bike + rider", "bike"].map(sag)
    }

    /// What is expected of every reading, and half the friction band where nobody noted the settling.
    fn expected(&self, x: &[f64]) -> Vec<(f64, f64)> {
        let wheel = self.with(&Spring::Own(x[RATE].exp(), x[PRELOAD]));
        let mut known: Vec<((Load, i8), f64)> = Vec::new();
        let mut sag = |load: &Load, side: i8| {
            let found = known.iter().find(|(of, _)| *of == (load.clone(), side)).map(|(_, sag)| *sag);
            found.unwrap_or_else(|| {
                let force = self.load(x, load) + Force::from_si(f64::from(side) * x[FRICTION]);
                let sag = self.garage.sag(self.end, travel(wheel.as_ref(), force));
                known.push(((load.clone(), side), sag));
                sag
            })
        };
        let readings = self.readings();
        let each = readings.map(|reading| match (&reading.load, reading.settled) {
            (Load::None, _) => (x[ZERO], 0.0),
            (load, Some(Settled::Low)) => (x[ZERO] - sag(load, 1), 0.0),
            (load, Some(Settled::High)) => (x[ZERO] - sag(load, -1), 0.0),
            (load, Some(Settled::Middle)) => (x[ZERO] - sag(load, 0), 0.0),
            (load, None) => {
                let (low, high) = (sag(load, 1), sag(load, -1));
                (x[ZERO] - f64::midpoint(low, high), 0.5 * (low - high))
            }
        });
        each.collect()
    }

    /// Mean and standard deviation of every unknown before a reading.
    fn before(&self) -> [(f64, f64); UNKNOWNS] {
        let scale = wheelrate::mass::Masses::default_scale_uncertainty().si();
        let mut before = [(0.0, scale); UNKNOWNS];
        before[RATE] = (0.0, self.label / 3f64.sqrt());
        before[PRELOAD] = (0.0, SpringPrior::default().preload_uncertainty.si());
        before[FRICTION] = (47.5, 85.0 / 12f64.sqrt());
        // Nothing is known of it.
        before[ZERO] = (0.7, 1.0);
        before
    }

    /// Logarithm of prior and likelihood.
    fn log_density(&self, x: &[f64]) -> f64 {
        let off_label = x[RATE].exp() - 1.0;
        if off_label.abs() > self.label || !(5.0..=90.0).contains(&x[FRICTION]) {
            return f64::NEG_INFINITY;
        }
        let before = self.before();
        let normal = [PRELOAD, BIKE, RIDER, SAND, UNSPRUNG].map(|k| ((x[k] - before[k].0) / before[k].1).powi(2));
        let deviation = self.garage.bike.assumed().measuring(self.end).unwrap().uncertainty.si();
        let readings = self.readings().zip(self.expected(x));
        let likelihood = readings.map(|(reading, (at, half))| {
            let off = (reading.distance.si() - at) / deviation;
            let half = half / deviation;
            if half > 1e-3 {
                ((normal_cdf(off + half) - normal_cdf(off - half)) / (2.0 * half)).max(f64::MIN_POSITIVE).ln()
            } else {
                -0.5 * off * off
            }
        });
        // Uniform in the rate, not in its logarithm.
        likelihood.sum::<f64>() - 0.5 * normal.iter().sum::<f64>() + x[RATE]
    }

    /// Draws with their weights, which add up to one.
    fn draws(&self, dice: &mut Dice) -> Vec<(Vec<f64>, f64)> {
        let before = self.before();
        let deviation = self.garage.bike.assumed().measuring(self.end).unwrap().uncertainty.si();
        let read: Vec<f64> = self.readings().map(|reading| reading.distance.si()).collect();
        let mut x = before.map(|(mean, _)| mean);
        let mut precision = DMatrix::zeros(UNKNOWNS, UNKNOWNS);
        for _ in 0..ROUNDS {
            let at = self.expected(&x);
            let mut slopes = DMatrix::zeros(read.len(), UNKNOWNS);
            for k in 0..UNKNOWNS {
                let (mut moved, by) = (x, if k == ZERO { 1e-3 } else { 0.05 * before[k].1 });
                moved[k] += by;
                for (row, (one, other)) in self.expected(&moved).iter().zip(&at).enumerate() {
                    slopes[(row, k)] = (one.0 - other.0) / by;
                }
            }
            let weights: Vec<f64> = at.iter().map(|(_, half)| 1.0 / (deviation.powi(2) + half.powi(2) / 3.0)).collect();
            precision = DMatrix::from_diagonal(&DVector::from_iterator(UNKNOWNS, before.iter().map(|b| b.1.powi(-2))));
            let mut pull = DVector::from_iterator(
                UNKNOWNS,
                before.iter().zip(&x).map(|((mean, spread), at)| (mean - at) / spread.powi(2)),
            );
            for (row, weight) in weights.iter().enumerate() {
                let slope = slopes.row(row).transpose();
                precision += &slope * slope.transpose() * *weight;
                pull += slope * (weight * (read[row] - at[row].0));
            }
            let step = precision.clone().cholesky().unwrap().solve(&pull);
            x.iter_mut().zip(step.iter()).for_each(|(x, step)| *x += step);
            x[FRICTION] = x[FRICTION].clamp(5.0, 90.0);
        }
        let root = precision.cholesky().unwrap();
        let draw = |dice: &mut Dice| {
            let normal = DVector::from_fn(UNKNOWNS, |_, _| dice.normal(1.0));
            // L·Lᵀ is the precision: L⁻ᵀ·z has its inverse as covariance.
            let off = root.l().transpose().solve_upper_triangular(&normal).unwrap() * WIDENED;
            let at: Vec<f64> = x.iter().zip(off.iter()).map(|(x, off)| x + off).collect();
            (self.log_density(&at) + 0.5 * normal.norm_squared(), at)
        };
        let drawn: Vec<(f64, Vec<f64>)> = (0..DRAWS).map(|_| draw(dice)).collect();
        let most = drawn.iter().map(|(log, _)| *log).fold(f64::NEG_INFINITY, f64::max);
        let sum: f64 = drawn.iter().map(|(log, _)| (log - most).exp()).sum();
        drawn.into_iter().map(|(log, at)| (at, (log - most).exp() / sum)).collect()
    }
}

/// A spring on the end as stated.
enum Spring {
    Own(f64, f64),
    Other(SpringRate, f64),
}

/// What Bayes' rule makes of the same readings: the utility, on the true bike, of the action that it takes.
pub(crate) fn by_bayes(decision: &Decision, truth: &Truth<'_>, label: f64, dice: &mut Dice) -> f64 {
    let known = Known { garage: truth.garage, end: truth.end, label };
    let draws = known.draws(dice);
    let own: Vec<[f64; 2]> = draws
        .iter()
        .map(|(x, _)| known.sags(known.with(&Spring::Own(x[RATE].exp(), x[PRELOAD])).as_ref(), x))
        .collect();
    let left: f64 = draws.iter().zip(&own).map(|((_, weight), sags)| weight * truth.lands(*sags)).sum();
    let mut best = (left, truth.lands(truth.at(None, 0.0)));
    let likeliest = decision.choices.iter().map(|choice| choice.probability.si()).fold(0.0, f64::max);
    for choice in decision.choices.iter().filter(|one| one.probability.si() >= OUT_OF_QUESTION * likeliest) {
        let found = of_spring(&known, choice, truth, &draws, dice);
        best = found.filter(|found| found.0 > best.0).unwrap_or(best);
    }
    best.1
}

/// Utility of a spring at its best setting: on average over the draws, and on the true bike.
fn of_spring(
    known: &Known<'_>,
    choice: &SpringChoice,
    truth: &Truth<'_>,
    draws: &[(Vec<f64>, f64)],
    dice: &mut Dice,
) -> Option<(f64, f64)> {
    let outcome = choice.outcome?;
    let tolerance = SpringPrior::default().rate_tolerance.si();
    let middle = if choice.is_fitted { outcome.preload_change.value.si() } else { outcome.preload.value.si() };
    let other = !choice.is_fitted;
    let lines: Vec<[[f64; 2]; 2]> = draws
        .iter()
        .map(|(x, _)| {
            let rate = choice.rate * (1.0 + tolerance * dice.between(-1.0, 1.0));
            let at = |preload: f64| {
                let spring =
                    if other { Spring::Other(rate, preload) } else { Spring::Own(x[RATE].exp(), x[PRELOAD] + preload) };
                known.sags(known.with(&spring).as_ref(), x)
            };
            let (here, there) = (at(middle), at(middle + 1e-3));
            [here, [0, 1].map(|k| (there[k] - here[k]) / 1e-3)]
        })
        .collect();
    let act = if other { Act::Fit { rate: choice.rate } } else { Act::Turn { by: outcome.preload_change.value } };
    let rate = other.then_some(choice.rate);
    let gear = if truth.end == End::Rear { gear(&truth.garage.rear) } else { 1.0 };
    let mut best: Option<(f64, f64, f64, Way)> = None;
    for step in -TRIED..=TRIED {
        let by = STEP * gear * f64::from(step);
        if outcome.preload.value.si() + by < 0.0 {
            continue;
        }
        let moved = |[here, slopes]: &[[f64; 2]; 2]| [[0, 1].map(|k| here[k] + slopes[k] * by), *slopes];
        let aim = lines.iter().zip(draws).map(|(line, (_, weight))| weight * moved(line)[0][0]).sum::<f64>();
        for way in [Way::Turned, Way::ReRead] {
            let chances = lines.iter().zip(draws);
            let mean: f64 =
                chances.map(|(line, (_, weight))| weight * truth.on_line(&moved(line), other, aim, way)).sum();
            if best.is_none_or(|best| mean > best.0) {
                best = Some((mean, middle + by, aim, way));
            }
        }
    }
    let (mean, at, aim, way) = best?;
    let price = truth.price(act);
    Some((mean - price, truth.chance(rate, at, aim, way) - price))
}
