//! What to measure next, as a plan for one person alone.
//!
//! Tasks are taken one by one, each time the one that narrows the number that decides most per minute (greedy), until three
//! are chosen or none is worth it. Taking the best pair at once would seldom choose otherwise: the gain of a reading falls
//! with every reading taken before it. They are then put in the order in which one person carries them out: what needs the
//! bike whole first, the spring out last, and once for all that needs it out.
//!
//! What the plan is worth is told in what a person feels: how surely the rate called for will be known, and how often the
//! spring bought then lands ([`Foresight`]). A decision that further readings would hardly change is said to be clear.

use nalgebra::DMatrix;

use crate::Result;
use crate::bike::Bike;
use crate::decide::next_reading::{NextReading, Task, Tools, WORTH_IT, after, spread, worth};
use crate::decide::{advice::Adviser, foresight::Foresight};
use crate::infer::Study;
use crate::infer::finding::Finding;
use crate::record::End;
use crate::units::{Quantity, Share, Time};

/// Tasks of a plan: an evening.
const MOST_STEPS: usize = 3;
/// A plan that makes the spring bought land less than this much more often, on a verdict that is clear now, is not worth
/// an evening.
const WORTH_AN_EVENING: f64 = 0.03;
/// A plan that leaves the verdict unclear more often than this will not settle it.
const HOPELESS: f64 = 0.95;
/// Taking a spring out and putting it back, in minutes, is done once: common practice, no source.
const SPRING_OUT: f64 = 40.0;

/// Whether to measure more.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum Worth {
    /// A reading is misread: nothing can be told before it is taken again.
    RepeatFirst,
    /// The verdict is clear and would hardly change.
    Clear,
    /// The steps are worth it.
    Measure,
    /// No reading here would settle it: other springs or other targets would.
    WillNotSettle,
}

impl Worth {
    /// In two or three words.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::RepeatFirst => "repeat first",
            Self::Clear => "clear",
            Self::Measure => "measure",
            Self::WillNotSettle => "will not settle",
        }
    }
}

/// What to measure next at one end.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Plan {
    /// Which end.
    pub end: End,
    /// Whether to measure more.
    pub worth: Worth,
    /// What to do, in this order; what each step says is with all steps before it done. What would be done at best, where
    /// it is not worth it.
    pub steps: Vec<NextReading>,
    /// All steps together, the spring taken out once: common practice, no source.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub effort: Time,
    /// The verdict as it is.
    pub now: Foresight,
    /// The verdict with all steps done, on average over what they may say.
    pub then: Foresight,
}

impl Bike {
    /// What to measure next at every end that has a rider sag target.
    ///
    /// # Errors
    /// As [`advise`](Self::advise).
    pub fn plan(&self) -> Result<Vec<Plan>> {
        let wanted = self.ends().into_iter().filter(|&end| self.targets(end).rider_sag.is_some());
        wanted.map(|end| self.plan_end(end)).collect()
    }

    /// [`Study::plan`] of one end.
    ///
    /// # Errors
    /// As [`advise_end`](Self::advise_end).
    pub fn plan_end(&self, end: End) -> Result<Plan> {
        self.study(end)?.plan()
    }
}

impl Study {
    /// What to measure next at the end, as a plan for one person alone.
    ///
    /// # Errors
    /// As [`advise`](Self::advise).
    pub fn plan(&self) -> Result<Plan> {
        self.adviser()?.plan()
    }
}

impl Adviser {
    fn plan(&self) -> Result<Plan> {
        let covariance = &self.solved().posterior.covariance;
        let now = self.foresee(covariance)?;
        if let Some(Finding::Misread { reading, load, .. }) = self.solved().fit().findings.first() {
            let task = Task::Repeat { reading: *reading, load: load.clone() };
            let effort = task.effort();
            let step = NextReading { task, remaining: Share::from_si(1.0), wanted_rate: None, effort };
            return Ok(Plan { end: self.end(), worth: Worth::RepeatFirst, effort, steps: vec![step], now, then: now });
        }
        let (steps, narrowed) = self.steps(self.tools()?)?;
        let then = self.foresee(&narrowed)?;
        let clear = now.clear.si() > 0.5;
        let worth = if steps.is_empty() || (clear && then.lands.si() - now.lands.si() < WORTH_AN_EVENING) {
            if clear { Worth::Clear } else { Worth::WillNotSettle }
        } else if !clear && then.clear.si() < 1.0 - HOPELESS {
            Worth::WillNotSettle
        } else {
            Worth::Measure
        };
        let out = steps.iter().filter(|step| step.task.takes_spring_out()).count().saturating_sub(1);
        let minutes = steps.iter().map(|step| step.effort.si() / 60.0).sum::<f64>() - SPRING_OUT * out as f64;
        Ok(Plan { end: self.end(), worth, effort: Time::from_si(60.0 * minutes), steps, now, then })
    }

    /// The tasks, in the order of doing them, and the covariance with all of them done.
    fn steps(&self, tools: Tools) -> Result<(Vec<NextReading>, DMatrix<f64>)> {
        let deciding = self.deciding_now()?;
        let before = &self.solved().posterior.covariance;
        let mut tasks = self.solved().tasks(tools);
        let mut chosen = Vec::new();
        let mut narrowed = before.clone();
        while chosen.len() < MOST_STEPS {
            let now = spread(&narrowed, &deciding.number);
            let opened = chosen.iter().any(|(task, _): &(Task, _)| task.takes_spring_out());
            let per_minute = |(task, coming): &(Task, Vec<_>)| {
                let left = spread(&after(&narrowed, coming), &deciding.number) / now;
                let spared = if opened && task.takes_spring_out() { SPRING_OUT } else { 0.0 };
                let gain = if left < WORTH_IT { -left.ln() } else { 0.0 };
                gain / (task.effort().si() / 60.0 - spared)
            };
            let gains = tasks.iter().map(per_minute).enumerate();
            let Some((at, gain)) = gains.max_by(|(_, one), (_, other)| one.total_cmp(other)) else { break };
            if gain <= 0.0 || gain.is_nan() {
                break;
            }
            let task = tasks.remove(at);
            tasks.retain(|(other, _)| !other.is_done_with(&task.0));
            narrowed = after(&narrowed, &task.1);
            chosen.push(task);
        }
        chosen.sort_by_key(|(task, _)| task.turn());
        let mut so_far = before.clone();
        let steps = chosen.into_iter().filter_map(|(task, coming)| {
            so_far = after(&so_far, &coming);
            worth(task, &deciding, before, &so_far)
        });
        Ok((steps.collect(), narrowed))
    }
}

impl Task {
    /// Is there nothing left of it to do once another is done?
    fn is_done_with(&self, done: &Self) -> bool {
        match (self, done) {
            (Self::Pairs { load, .. }, Self::Pairs { load: other, .. }) => load == other,
            (Self::Ballast { .. }, Self::Ballast { .. })
            | (Self::Scale { .. }, Self::Weigh)
            | (Self::Weigh, Self::Scale { .. }) => true,
            _ => false,
        }
    }

    /// Its turn in an evening: scales before the bike is bounced, the wheel off the ground, lightest load first, spring out
    /// last and the table before the press, as the shock is in place for it.
    fn turn(&self) -> u8 {
        match self {
            Self::Repeat { .. } => 0,
            Self::Scale { .. } | Self::Weigh => 1,
            Self::Extended { .. } => 2,
            Self::Pairs { .. } => 3,
            Self::Ballast { .. } => 4,
            Self::SpringLength => 5,
            Self::ShockTable { .. } => 6,
            Self::SpringRate => 7,
        }
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests;
