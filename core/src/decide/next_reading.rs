//! Which further reading would help most.
//!
//! A reading with derivatives `j` and variance `v` narrows the covariance by `C j jᵀC/(jᵀC j + v)` (recursive least squares),
//! so what a task is worth is known before it is carried out: the standard uncertainty of the number that decides, after
//! against before. Tasks are such as one person can carry out alone. What several readings of one task share (the ballast,
//! weighed once; the zero that all travels of a table count from; what no scale sees of the unsprung mass) is one more unknown
//! while the task is worked out. Repeats of a reading that was taken share its uneven friction.
//!
//! While today's spring is in question the number that decides is how far its rate is from the one called for: sags show it.
//! Which other spring to buy hangs on the rate called for alone, and that is a matter of scales and linkage.
//!
//! How well scales, caliper and press read, and how long a task takes, is common practice, no source. Fails where the
//! readings turn out to say something else than the fit expects: then the fit itself shows it.

use nalgebra::{DMatrix, DVector};

use crate::decide::narrowing::{Coming, spread};
use crate::error::Address;
use crate::infer::model::settle_exactly;
use crate::infer::path::OnPath;
use crate::infer::posterior::{FRICTION, LOADS, PRELOAD, Prediction, RATE, ZERO};
use crate::infer::solved::Solved;
use crate::record::{End, Load};
use crate::units::kind::STANDARD_GRAVITY_SI;
use crate::units::{Mass, Quantity, Share, SpringRate, Time};

/// What to do.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize, serde::Deserialize),
    serde(tag = "task", rename_all = "snake_case")
)]
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
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        mass: Mass,
        /// How many pairs.
        pairs: usize,
    },
    /// The distance with the wheel off the ground, this many times more.
    Extended {
        /// How many readings.
        readings: usize,
    },
    /// This end's wheel on the scale again, under one load.
    Scale {
        /// Under this load.
        load: Load,
    },
    /// Put the bike, and the bike with its load, on the scales again.
    Weigh,
    /// Spring off: the length of the shock at so many heights of the wheel.
    ShockTable {
        /// Heights, full extension not counted.
        steps: usize,
    },
    /// The main spring out of the bike, pressed on a scale: its rate.
    SpringRate,
    /// The main spring out of the bike: its free length against the length it had in place, for the preload.
    SpringLength,
    /// A fork spring's preload, with the cap off.
    CapOff,
    /// The front once more, with a note of the direction.
    Direction,
    /// The rake, by a protractor.
    Rake,
    /// The gas beside the spring: oil level, or charge and rod.
    Gas,
    /// What hangs under the springs, on a scale.
    Unsprung,
    /// Take a misread value again.
    Repeat {
        /// Place among all readings, from 0.
        #[cfg_attr(feature = "serde", serde(with = "crate::record::numbered"))]
        reading: usize,
        /// Under what.
        load: Load,
    },
    /// Look up a reading of a measured part that is off by more than any scatter, or take it again.
    RepeatPart {
        /// The list of the part's readings, by its place in the bike file.
        readings: Address,
        /// Place in that list, from 0.
        #[cfg_attr(feature = "serde", serde(with = "crate::record::numbered"))]
        reading: usize,
    },
}

impl Task {
    /// Minutes that it takes one person with the tools at hand: common practice, no source.
    #[must_use]
    pub fn effort(&self) -> Time {
        let minutes = match self {
            Self::Repeat { .. } | Self::RepeatPart { .. } | Self::Extended { .. } | Self::Direction => 5.0,
            Self::Pairs { pairs, .. } => 5.0 + 3.0 * *pairs as f64,
            Self::Scale { .. } | Self::Rake => 10.0,
            Self::CapOff => 30.0,
            Self::Gas => 45.0,
            Self::Unsprung => 90.0,
            Self::Ballast { pairs, .. } => 15.0 + 3.0 * *pairs as f64,
            Self::Weigh => 20.0,
            Self::SpringLength => 45.0,
            Self::SpringRate => 60.0,
            Self::ShockTable { steps } => 45.0 + 2.0 * *steps as f64,
        };
        Time::from_si(60.0 * minutes)
    }

    /// Must the spring come out?
    pub(crate) fn takes_spring_out(&self) -> bool {
        matches!(self, Self::ShockTable { .. } | Self::SpringRate | Self::SpringLength)
    }
}

/// A task with what it would bring.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct NextReading {
    /// What to do.
    pub task: Task,
    /// Standard uncertainty of the number that decides, after it, as a share of what it is now; 1 where only the task
    /// itself can show.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub remaining: Share,
    /// Standard uncertainty of the rate called for, per spring, now and after it; `None` where no rate is called for.
    pub wanted_rate: Option<[SpringRate; 2]>,
    /// How long it takes one person: common practice, no source.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub effort: Time,
}

/// A task that leaves more than this of the uncertainty is not worth the walk to the garage.
pub(crate) const WORTH_IT: f64 = 0.95;
/// Ballast tried, in kilograms at this wheel: a water can, two.
const BALLAST: [f64; 2] = [20.0, 40.0];
/// Pairs of readings tried.
const PAIRS: [usize; 2] = [1, 2];
/// Heights of the wheel in a table of shock lengths.
pub(crate) const TABLE_STEPS: usize = 12;
/// Standard uncertainty of a caliper on a spring, its ends not quite flat (m).
const CALIPER: f64 = 0.3e-3;
/// Load that a bathroom scale takes under a press (kg), what it is good for (kg), and the furthest a person presses (m).
const PRESS: (f64, f64, f64) = (100.0, 0.5, 0.05);

/// The numbers that a decision hangs on, as derivatives over the unknowns.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Deciding {
    /// How far the fitted rate is from the one called for, or the rate.
    pub(crate) number: Vec<f64>,
    /// The rate called for, per spring.
    pub(crate) wanted: Option<Vec<f64>>,
}

/// How well a person reads: standard uncertainties of the tape (m) and of a load by one weighing (N).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Tools {
    pub(crate) tape: f64,
    pub(crate) scale: f64,
}

/// Variance of what so many repeats bring, where all at one place share an error: `1/(w′ − w)` for a place of which the
/// readings weigh `w = 1/(1/Σu⁻² + s²)` before and `w′` after.
fn repeats(count: usize, tape: f64, place: Option<&Prediction>, uneven: f64) -> f64 {
    let more = count as f64 / (tape * tape);
    let (before, shared) = place.map_or((0.0, uneven), |place| (place.weight, place.shared));
    let own = if before > 0.0 { 1.0 / (1.0 / before - shared) } else { 0.0 };
    1.0 / (1.0 / (1.0 / (own + more) + shared) - before)
}

impl Solved {
    /// Every task that can be carried out on this end, with its readings.
    pub(crate) fn tasks(&self, tools: Tools) -> Vec<(Task, Vec<Coming>)> {
        let mut tasks = Vec::new();
        if !self.evidence.observations.is_empty() {
            tasks.push(self.extended(2, tools));
        }
        for (place, load) in self.gathered.loads.iter().enumerate() {
            let sides = self.both_sides(place, 0.0);
            for pairs in PAIRS {
                if let Some(coming) = sides.as_ref().and_then(|sides| self.pairs_of(sides, place, 0.0, tools, pairs)) {
                    tasks.push((Task::Pairs { load: load.clone(), pairs }, coming));
                }
            }
            tasks.push((Task::Scale { load: load.clone() }, vec![self.weighing(place, tools.scale)]));
        }
        if let Some((place, load)) = self.gathered.loads.iter().enumerate().next_back() {
            for mass in BALLAST {
                if let Some(coming) = self.pairs(place, mass, tools, 1) {
                    tasks.push((Task::Ballast { load: load.clone(), mass: Mass::from_si(mass), pairs: 1 }, coming));
                }
            }
        }
        let everything = (0..self.gathered.loads.len()).map(|load| self.weighing(load, tools.scale));
        tasks.push((Task::Weigh, everything.collect()));
        tasks.extend(self.spring_out(tools));
        tasks
    }

    /// The wheel off the ground, read this many times more.
    pub(crate) fn extended(&self, readings: usize, tools: Tools) -> (Task, Vec<Coming>) {
        let variance = repeats(readings, tools.tape, self.read_at(None, 0.0), 0.0);
        (Task::Extended { readings }, vec![Coming::new(self.unit(ZERO, 1.0), variance)])
    }

    pub(crate) fn unit(&self, unknown: usize, slope: f64) -> DVector<f64> {
        let mut unit = DVector::zeros(self.evidence.all_unknowns());
        unit[unknown] = slope;
        unit
    }

    /// What can be read with the main spring out of the bike.
    fn spring_out(&self, tools: Tools) -> Vec<(Task, Vec<Coming>)> {
        let mut tasks = Vec::new();
        if let Some(coming) = self.shock_table(tools) {
            tasks.push((Task::ShockTable { steps: TABLE_STEPS }, coming));
        }
        if let Some((rate, _)) = self.main.each.first() {
            let (most, scale, furthest) = PRESS;
            let force = (most * STANDARD_GRAVITY_SI).min(rate.si() * furthest);
            let relative = (scale * STANDARD_GRAVITY_SI / force).hypot(2f64.sqrt() * CALIPER * rate.si() / force);
            let coming = Coming::new(self.unit(RATE, self.evidence.priors.rate), relative * relative);
            tasks.push((Task::SpringRate, vec![coming]));
        }
        // A fork's spring hides in its tube: nobody sees how long it is there.
        if self.end == End::Rear {
            tasks.push(self.spring_length());
        }
        tasks
    }

    /// The length of a spring that can be seen in its place, and free.
    pub(crate) fn spring_length(&self) -> (Task, Vec<Coming>) {
        let slope = self.evidence.priors.preload;
        (Task::SpringLength, vec![Coming::new(self.unit(PRELOAD, slope), 2.0 * CALIPER * CALIPER)])
    }

    /// Shock lengths from full extension on; all travels count from one reading of the zero.
    fn shock_table(&self, tools: Tools) -> Option<Vec<Coming>> {
        let (end, first) = (&self.evidence.end, self.evidence.unknowns());
        if self.end != End::Rear || end.path_at().is_empty() {
            return None;
        }
        let row = |step: usize| {
            let travel = end.full_travel() * (step as f64 / TABLE_STEPS as f64);
            let ratio = end.kinematics(travel)?.ratio;
            let mut derivatives = DVector::zeros(self.evidence.all_unknowns());
            end.path(travel).iter().enumerate().for_each(|(k, by)| derivatives[first + k] = by.stroke);
            let variance = tools.tape * tools.tape * (1.0 + ratio * ratio);
            Some(Coming { derivatives, variance, shared: ratio * tools.tape })
        };
        (1..=TABLE_STEPS).map(row).collect()
    }

    /// The place of the wheel under a load, settled from one side, where it was read.
    fn read_at(&self, load: Option<usize>, side: f64) -> Option<&Prediction> {
        let mut read = self.evidence.observations.iter().zip(self.posterior.predictions.each());
        read.find(|(one, _)| one.load == load && !one.unnoted && (load.is_none() || one.side == side))
            .map(|(_, (place, _))| place)
    }

    /// A load on this wheel's scale once more. The load is the scale less the unsprung mass, whose own error is in it: with
    /// `W = R·z` and `cov(U, W_i) = −u²` the scale shows `W_j + U`, `U = c·z + ε`, `R·c = −u²·1`.
    fn weighing(&self, load: usize, scale: f64) -> Coming {
        let (root, common) = (&self.evidence.loads.root, self.evidence.loads.unsprung);
        let mut derivatives = DVector::from_vec(self.load(load).gradient);
        let (mut unsprung, mut left) = (vec![0.0; root.nrows()], common * common);
        for row in 0..root.nrows() {
            if root[(row, row)] > 0.0 {
                let known: f64 = (0..row).map(|k| root[(row, k)] * unsprung[k]).sum();
                unsprung[row] = (-common * common - known) / root[(row, row)];
                left -= unsprung[row] * unsprung[row];
                derivatives[LOADS + row] += unsprung[row];
            }
        }
        // What the scale cannot see of the unsprung mass is in every load that is weighed.
        Coming { derivatives, variance: scale * scale, shared: left.max(0.0).sqrt() }
    }

    /// Readings low and high under a load with ballast; `None` where the end would be on a stop.
    pub(crate) fn pairs(&self, load: usize, ballast: f64, tools: Tools, pairs: usize) -> Option<Vec<Coming>> {
        self.pairs_of(&self.both_sides(load, ballast)?, load, ballast, tools, pairs)
    }

    fn pairs_of(
        &self,
        sides: &[Resting],
        load: usize,
        ballast: f64,
        tools: Tools,
        pairs: usize,
    ) -> Option<Vec<Coming>> {
        let friction = self.friction().value;
        let reading = |Resting { side, slope, derivatives }: &Resting| {
            // The ballast is weighed once.
            let shared = if ballast > 0.0 { -slope * tools.scale } else { 0.0 };
            let place = if ballast > 0.0 { None } else { self.read_at(Some(load), *side) };
            let uneven = slope * self.evidence.doubts.uneven_friction * friction;
            let variance = repeats(pairs, tools.tape, place, uneven.powi(2));
            Coming { derivatives: derivatives.clone(), variance, shared }
        };
        // Where nothing is read yet, the tape is zeroed first, or the wheel off the ground is read too.
        let first = self.evidence.observations.is_empty().then(|| self.extended(1, tools).1);
        let first = first.into_iter().flatten();
        (!sides.is_empty()).then(|| first.chain(sides.iter().map(reading)).collect())
    }

    /// Where the end rests under a load with ballast, pushed down and lifted, as far as that is on no stop; `None` where the
    /// mechanism cannot be followed.
    fn both_sides(&self, load: usize, ballast: f64) -> Option<Vec<Resting>> {
        let weight = self.load(load);
        let added = ballast * STANDARD_GRAVITY_SI;
        let [factor, preload, friction, _] = self.evidence.physical(&self.posterior.unknowns);
        let end = self.evidence.end.as_ref();
        let mut sides = Vec::with_capacity(2);
        for side in [1.0, -1.0] {
            let force = weight.value + added + side * friction;
            let read = self.read_at(Some(load), side).filter(|_| ballast == 0.0);
            let near = read.map_or_else(|| self.near(load), |place| place.travel);
            let (expansion, travel, wheel) = settle_exactly(end, force, factor, preload, near)?;
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
            sides.push(Resting { side, slope, derivatives });
        }
        Some(sides)
    }
}

/// Where an end rests, settled from one side: `±1`, change of the distance on the tape per force, and its derivatives.
struct Resting {
    side: f64,
    slope: f64,
    derivatives: DVector<f64>,
}

/// What a covariance narrowed from another is worth; `None` where nothing is left to narrow.
pub(crate) fn worth(
    task: Task,
    deciding: &Deciding,
    before: &DMatrix<f64>,
    after: &DMatrix<f64>,
) -> Option<NextReading> {
    let now = spread(before, &deciding.number);
    let wanted = deciding.wanted.as_ref();
    (now > 0.0).then(|| NextReading {
        remaining: Share::from_si(spread(after, &deciding.number) / now),
        wanted_rate: wanted.map(|wanted| [before, after].map(|one| SpringRate::from_si(spread(one, wanted)))),
        effort: task.effort(),
        task,
    })
}

#[cfg(test)]
mod tests;
