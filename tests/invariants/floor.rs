//! The least that can be lost: what is lost, on average over these garages, by whoever knows from what they are drawn and
//! decides by Bayes' rule on the same readings.
//!
//! `p(x | readings) ∝ p(x)·Π p(reading | x)`, with the distributions that the garages really are drawn from: labels uniform,
//! friction uniform, masses and zeros of preload normal, settlings that nobody noted uniform in the friction band. Drawn by
//! importance sampling from the normal distribution about the most likely state (Gauss–Newton on numerical derivatives), a
//! little widened. Of every spring the setting is taken, by either way, whose chance less price is largest on average over
//! the draws. No way of deciding loses less on average, so that what the library loses beside it is its own, and what this
//! loses is what the readings leave open.
//!
//! Held against each other on the true bike, two actions differ by all or nothing where a sag lies near a bound: over 400 ends that
//! leaves the mean difference open by 0.006. So both are also weighed on average over draws of their own, which no choice was
//! made on: `E[U(one) − U(other) | readings]` has the same mean over garages, with a fifth of the scatter.

use nalgebra::{DMatrix, DVector};
use wheelrate::decide::{Act, Action, Decision, SpringChoice, Way};
use wheelrate::infer::probability::normal_cdf;
use wheelrate::record::{End, Load, Reading, Settled, SpringPrior};
use wheelrate::spring::Adjuster;
use wheelrate::units::{Length, Quantity};

use crate::calibration::{Dice, Garage, gear};
use crate::verdicts::Truth;

/// Draws per end, and as many again to weigh what was chosen. Half of them count on average: the mean chance of an action is known
/// to 2 points.
const DRAWS: usize = 2000;
/// Rounds of Gauss–Newton: the readings are nearly straight.
const ROUNDS: usize = 4;
/// How much wider draws are than the normal distribution about the mode.
const WIDENED: f64 = 1.15;
/// Springs that land less often than this share of the likeliest are not looked at.
const OUT_OF_QUESTION: f64 = 0.1;
/// Settings tried on either side of the advised one, in steps of this (m, as the shock of the demo bike moves).
const TRIED: i32 = 10;
const STEP: f64 = 0.375e-3;
/// Travels at which an end is looked at: straight lines between are good to 0.01 mm of sag.
const NODES: usize = 256;
const GOOD_TO: f64 = 1e-5;

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

/// An end at one travel.
struct Node {
    sag: f64,
    stroke: f64,
    ratio: f64,
    /// Force along the axis of all but the main springs.
    rest: f64,
}

/// Main springs on the end as stated: rate of each, and preload.
#[derive(Clone, Copy)]
struct Springs {
    rate: f64,
    preload: f64,
}

/// A load as the scales show it (N), and whether bike, rider and ballast stand in it.
struct Weight {
    load: Load,
    shown: f64,
    on: [f64; 3],
}

/// One end as its owner knows it, and from what its garage was drawn.
struct Known<'a> {
    garage: &'a Garage,
    end: End,
    /// Labels err up to so much.
    label: f64,
    nodes: Vec<Node>,
    adjuster: Adjuster,
    legs: f64,
    stated: Springs,
    /// With the rider and alone first.
    weights: Vec<Weight>,
    gravity: f64,
}

impl<'a> Known<'a> {
    fn new(garage: &'a Garage, end: End, label: f64) -> Self {
        let wheel = garage.bike.end(end).unwrap();
        let main = wheel.main_spring().unwrap();
        let (rate, preload) = main.each[0];
        let nodes = (0..=NODES).map(|place| {
            let travel = wheel.full_travel() * (place as f64 / NODES as f64);
            let at = wheel.stroke_at(travel);
            let rest = wheel.rest(at.stroke).force.si();
            Node { sag: garage.sag(end, travel), stroke: at.stroke.si(), ratio: at.motion_ratio.si(), rest }
        });
        let masses = garage.bike.masses().unwrap();
        let weights = ["bike + rider", "bike", "bike + rider + sand"].map(|text| {
            let load = Load::parse(text).unwrap();
            let on = ["bike", "rider", "sand"].map(|name| f64::from(u8::from(text.contains(name))));
            Weight { shown: masses.sprung_load(end, &load).unwrap().value.si(), load, on }
        });
        let known = Self {
            garage,
            end,
            label,
            nodes: nodes.collect(),
            adjuster: wheel.adjuster().unwrap_or_default(),
            legs: main.each.len() as f64,
            stated: Springs { rate: rate.si(), preload: preload.si() },
            weights: weights.into(),
            gravity: masses.gravity().si(),
        };
        // The library's own way through the same end.
        let there = wheel.at(wheel.full_travel() * 0.3).unwrap();
        let off = known.sag(known.stated, there.wheel_force.si()) - garage.sag(end, there.travel);
        assert!(off.abs() < GOOD_TO, "{off}");
        known
    }

    fn readings(&self) -> impl Iterator<Item = &Reading> {
        self.garage.bike.parts().readings.iter().filter(|reading| reading.end == self.end)
    }

    /// `MR·(k·(s + p) + R(s)) = F`.
    fn sag(&self, springs: Springs, force: f64) -> f64 {
        let carries = |node: &Node| {
            node.ratio * (self.legs * springs.rate * (node.stroke + springs.preload).max(0.0) + node.rest)
        };
        let above = self.nodes.partition_point(|node| carries(node) < force);
        let (Some(above), Some(below)) = (self.nodes.get(above), above.checked_sub(1).map(|below| &self.nodes[below]))
        else {
            return self.nodes[above.min(NODES)].sag;
        };
        let (more, less) = (carries(above), carries(below));
        below.sag + (above.sag - below.sag) * (force - less) / (more - less)
    }

    /// Its own springs in a state, turned by so much.
    fn own(&self, x: &[f64], turned: f64) -> Springs {
        Springs { rate: self.stated.rate * x[RATE].exp(), preload: self.stated.preload + x[PRELOAD] + turned }
    }

    fn force(&self, x: &[f64], weight: &Weight) -> f64 {
        let [bike, rider, sand] = weight.on;
        weight.shown + (bike * (x[BIKE] - x[UNSPRUNG]) + rider * x[RIDER] + sand * x[SAND]) * self.gravity
    }

    fn sags(&self, springs: Springs, x: &[f64]) -> [f64; 2] {
        [0, 1].map(|weight| self.sag(springs, self.force(x, &self.weights[weight])))
    }

    /// Utility of a setting on average over draws.
    fn weigh(&self, truth: &Truth<'_>, draws: &[(Vec<f64>, f64)], set: &Set) -> f64 {
        /// Multiples of the golden section are spread evenly over labels, whatever their number.
        const SECTION: f64 = 0.618_033_988_749_894_9;
        let tolerance = SpringPrior::default().rate_tolerance.si();
        let each = draws.iter().enumerate().map(|(place, (x, weight))| {
            let off_label = tolerance * (2.0 * (place as f64 * SECTION).fract() - 1.0);
            let at = |preload: f64| match set.act {
                Act::Fit { rate } => self.sags(Springs { rate: rate.si() * (1.0 + off_label), preload }, x),
                _ => self.sags(self.own(x, preload), x),
            };
            if set.act == Act::Leave {
                return weight * truth.lands(at(0.0));
            }
            weight * truth.on_line(&line(at, set.preload), matches!(set.act, Act::Fit { .. }), set.aim, set.way)
        });
        each.sum::<f64>() - truth.price(set.act)
    }

    /// What is expected of every reading, and half the friction band where nobody noted the settling.
    fn expected(&self, x: &[f64]) -> Vec<(f64, f64)> {
        let own = self.own(x, 0.0);
        let each = self.readings().map(|reading| {
            let Some(weight) = self.weights.iter().find(|weight| weight.load == reading.load) else {
                return (x[ZERO], 0.0);
            };
            let at = |side: f64| x[ZERO] - self.sag(own, self.force(x, weight) + side * x[FRICTION]);
            match reading.settled {
                Some(Settled::Low) => (at(1.0), 0.0),
                Some(Settled::High) => (at(-1.0), 0.0),
                Some(Settled::Middle) => (at(0.0), 0.0),
                None => {
                    let (low, high) = (at(1.0), at(-1.0));
                    (f64::midpoint(low, high), 0.5 * (high - low))
                }
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

/// Both sags at a preload, and their slopes over it.
fn line(at: impl Fn(f64) -> [f64; 2], preload: f64) -> [[f64; 2]; 2] {
    let (here, there) = (at(preload), at(preload + 1e-3));
    [here, [0, 1].map(|k| (there[k] - here[k]) / 1e-3)]
}

/// An action with its setting: the preload as a change on today's spring, by itself on another.
#[derive(Clone, Copy)]
pub(crate) struct Set {
    pub(crate) act: Act,
    pub(crate) way: Way,
    pub(crate) preload: f64,
    /// The rider sag aimed at where it is read again.
    pub(crate) aim: f64,
}

impl Set {
    /// As it was advised.
    pub(crate) fn of(decision: &Decision, action: &Action) -> Self {
        let outcome = decision.choice_of(action.act).and_then(|choice| choice.outcome);
        let preload = match action.act {
            Act::Turn { by } => by.si(),
            _ => outcome.map_or(0.0, |outcome| outcome.preload.value.si()),
        };
        let aim = outcome.map_or(0.0, |outcome| outcome.rider_sag.value.si());
        Self { act: action.act, way: action.way.unwrap_or(Way::Turned), preload, aim }
    }
}

/// What Bayes' rule makes of the same readings as a decision.
pub(crate) struct ByBayes {
    /// Utility, on the true bike, of the action that it takes.
    pub(crate) came: f64,
    /// By how much that action is better than the one advised, on average over what the readings leave open.
    pub(crate) better: f64,
}

pub(crate) fn by_bayes(decision: &Decision, truth: &Truth<'_>, label: f64, dice: &mut Dice) -> ByBayes {
    let known = Known::new(truth.garage, truth.end, label);
    let (draws, others) = (known.draws(dice), known.draws(dice));
    let leave = Set { act: Act::Leave, way: Way::Turned, preload: 0.0, aim: 0.0 };
    let mut best = (known.weigh(truth, &draws, &leave), leave);
    let likeliest = decision.choices.iter().map(|choice| choice.probability.si()).fold(0.0, f64::max);
    for choice in decision.choices.iter().filter(|one| one.probability.si() >= OUT_OF_QUESTION * likeliest) {
        let found = of_spring(&known, choice, truth, &draws, dice);
        best = found.filter(|found| found.0 > best.0).unwrap_or(best);
    }
    let advised = decision.action().map_or(leave, |action| Set::of(decision, action));
    let better = known.weigh(truth, &others, &best.1) - known.weigh(truth, &others, &advised);
    ByBayes { came: truth.of(&best.1), better }
}

/// A spring at its best setting, with its utility on average over the draws.
fn of_spring(
    known: &Known<'_>,
    choice: &SpringChoice,
    truth: &Truth<'_>,
    draws: &[(Vec<f64>, f64)],
    dice: &mut Dice,
) -> Option<(f64, Set)> {
    let outcome = choice.outcome?;
    let tolerance = SpringPrior::default().rate_tolerance.si();
    let middle = if choice.is_fitted { outcome.preload_change.value.si() } else { outcome.preload.value.si() };
    let other = !choice.is_fitted;
    let lines: Vec<[[f64; 2]; 2]> = draws
        .iter()
        .map(|(x, _)| {
            let rate = choice.rate.si() * (1.0 + tolerance * dice.between(-1.0, 1.0));
            let springs = |preload| if other { Springs { rate, preload } } else { known.own(x, preload) };
            line(|preload| known.sags(springs(preload), x), middle)
        })
        .collect();
    let act = if other { Act::Fit { rate: choice.rate } } else { Act::Turn { by: outcome.preload_change.value } };
    let gear = if truth.end == End::Rear { gear(&truth.garage.rear) } else { 1.0 };
    let mut best: Option<(f64, Set)> = None;
    for step in -TRIED..=TRIED {
        let by = STEP * gear * f64::from(step);
        let preload = outcome.preload.value + Length::from_si(by);
        // The advised setting may be the end of the adjuster itself.
        if preload.si() < 0.0 || step != 0 && !known.adjuster.reaches(preload) {
            continue;
        }
        let moved = |[here, slopes]: &[[f64; 2]; 2]| [[0, 1].map(|k| here[k] + slopes[k] * by), *slopes];
        let aim = lines.iter().zip(draws).map(|(line, (_, weight))| weight * moved(line)[0][0]).sum::<f64>();
        for way in [Way::Turned, Way::ReRead] {
            let chances = lines.iter().zip(draws);
            let mean: f64 =
                chances.map(|(line, (_, weight))| weight * truth.on_line(&moved(line), other, aim, way)).sum();
            if best.is_none_or(|best| mean > best.0) {
                best = Some((mean, Set { act, way, preload: middle + by, aim }));
            }
        }
    }
    best.map(|(mean, set)| (mean - truth.price(act), set))
}
