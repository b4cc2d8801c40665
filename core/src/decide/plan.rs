//! What to measure next, as a plan for one person alone.
//!
//! Tasks are taken one by one, each time the one that narrows the number that decides most per minute (greedy), until three
//! are chosen or none is worth it. Taking the best pair at once would seldom choose otherwise: the gain of a reading falls
//! with every reading taken before it. They are then put in the order in which one person carries them out: what needs the
//! bike whole first, the spring out last, and once for all that needs it out.
//!
//! What the plan is worth is the gain of utility of what is then done over what is best now ([`Foresight`]); it is offered
//! where that is more than an evening of measuring costs, and a step without which nothing is lost is left out. Where even
//! landing for sure would gain less than the evening costs, nothing is worked out.
//!
//! A lone extended reading is what every sag counts from, and none of the others shows an error of it: a second one is asked for
//! whatever it is worth on average.

use crate::Result;
use crate::bike::Bike;
use crate::decide::adviser::Adviser;
use crate::decide::choice::Weighed;
use crate::decide::foresight::Foresight;
use crate::decide::narrowing::{Coming, after, spread, spread_after};
use crate::decide::next_reading::{Deciding, NextReading, Task, WORTH_IT, worth};
use crate::decide::predict::Setting;
use crate::decide::tasks::Tasks;
use crate::decide::verdict::{Act, Action, SUITS};
use crate::infer::fit::Fit;
use crate::infer::{Finding, Study};
use crate::record::{End, Prices};
use crate::units::{Quantity, Share, Time};

/// Tasks of a plan: an evening.
const MOST_STEPS: usize = 3;
/// A step that adds less utility than this is as good as none.
const NIL: f64 = 0.002;
/// While today's spring lands less often than this, the question is which other one to buy.
const OUT_OF_IT: f64 = 0.25;
/// Taking a spring out and putting it back, in minutes, is done once: common practice, no source.
const SPRING_OUT: f64 = 40.0;

/// Whether to measure more.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum Worth {
    /// A reading is misread: nothing can be said before it is taken again.
    RepeatFirst,
    /// The verdict would hardly change, or by less than the evening costs.
    Clear,
    /// The steps are worth it.
    Measure,
    /// The verdict stands, and all of it on one reading that nothing checks: minutes for a second one.
    Check,
    /// Nothing that can be done is likely to land, and no reading here would change that: other springs or other targets
    /// would.
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
            Self::Check => "check",
            Self::WillNotSettle => "will not settle",
        }
    }
}

/// What to measure next at one end.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Plan {
    /// Which end.
    pub end: End,
    /// Whether to measure more.
    pub worth: Worth,
    /// What to do, in this order; what each step says is with all steps before it done. Empty where it is not worth it.
    pub steps: Vec<NextReading>,
    /// All steps together, the spring taken out once: common practice, no source.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub effort: Time,
    /// The best action as it is.
    pub now: Foresight,
    /// The best action with everything read that was found worth considering, on average over what it may say.
    pub then: Foresight,
}

impl Plan {
    /// Is measuring the best that can be done?
    pub(crate) fn is_worth_it(&self) -> bool {
        self.worth == Worth::Measure
    }
}

impl Bike {
    /// What to measure next at every end that has a rider sag target.
    ///
    /// # Errors
    /// As [`advise`](Self::advise).
    pub fn plan(&self) -> Result<Vec<Plan>> {
        Ok(End::each(self.wanted_ends().0, |end| self.plan_end(end))?.0)
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
    /// What to measure next, as a plan for one person alone: that of the [decision](Self::advise).
    ///
    /// # Errors
    /// As [`advise`](Self::advise).
    pub fn plan(&self) -> Result<Plan> {
        Ok(self.advise()?.plan)
    }
}

/// An evening of measuring: its tasks with what they bring, and what is to be had with and without.
#[derive(Debug, Clone)]
pub(crate) struct Evening {
    steps: Vec<NextReading>,
    /// A second extended reading, where there is only one.
    check: Option<NextReading>,
    now: Foresight,
    then: Option<Foresight>,
}

impl Evening {
    /// Measuring as an action; `None` where it was not worked out.
    pub(crate) fn action(&self, prices: &Prices) -> Option<Action> {
        let then = self.then?;
        let utility = Share::from_si(then.utility.si() - Act::Measure.price(prices).si());
        Some(Action { act: Act::Measure, probability: then.lands, way: None, utility })
    }
}

impl Adviser {
    /// What an evening of measuring would bring; not worked out where it cannot be worth its price.
    pub(crate) fn evening(
        &self,
        weighed: &[Weighed],
        actions: &[Action],
        called: Option<&Setting>,
        tasks: &Tasks<'_>,
    ) -> Result<Evening> {
        let best = actions.first();
        let deciding = self.deciding(called, is_to_buy(weighed));
        let before = &self.solved().posterior.covariance;
        let check = if self.solved().is_lone_extended() {
            let (task, coming) = self.solved().extended(1, self.tools()?);
            worth(task, &deciding, before, &after(before, &coming))
        } else {
            None
        };
        let share = |of: fn(&Action) -> Share| best.map_or(Share::from_si(0.0), of);
        let now = Foresight {
            lands: share(|best| best.probability),
            utility: share(|best| best.utility),
            changes: Share::from_si(0.0),
        };
        let none = Evening { steps: Vec::new(), check: check.clone(), now, then: None };
        if self.most_gained(actions) <= self.prices.measuring.si() {
            return Ok(none);
        }
        let mut chosen = self.chosen(&deciding, tasks.all()?)?;
        if chosen.is_empty() {
            return Ok(none);
        }
        let narrowed = |tasks: &[(Task, Vec<Coming>)]| {
            tasks.iter().fold(before.clone(), |covariance, (_, coming)| after(&covariance, coming))
        };
        let mut then = self.foresee(&narrowed(&chosen), weighed, actions)?;
        if then.utility.si() - now.utility.si() > self.prices.measuring.si() {
            // What nothing is lost without is not offered.
            for place in (0..chosen.len()).rev() {
                if self.is_check(&chosen[place].0) {
                    continue;
                }
                let mut without = chosen.clone();
                without.remove(place);
                let outlook = self.foresee(&narrowed(&without), weighed, actions)?;
                if outlook.utility.si() > then.utility.si() - NIL {
                    (chosen, then) = (without, outlook);
                }
            }
        }
        let mut so_far = before.clone();
        let steps = chosen.into_iter().filter_map(|(task, coming)| {
            so_far = after(&so_far, &coming);
            worth(task, &deciding, before, &so_far)
        });
        Ok(Evening { steps: steps.collect(), check, now, then: Some(then) })
    }

    /// The most that knowing everything could gain: the best action landing for sure, and every cheaper one landing for sure
    /// as often as it lands now, or twice as often where its setting may be chosen anew.
    fn most_gained(&self, actions: &[Action]) -> f64 {
        let Some(best) = actions.first() else { return 0.0 };
        let price = |action: &Action| action.act.price(&self.prices).si();
        let cheaper = actions.iter().map(|action| {
            let likely = action.probability.si() * if action.act == Act::Leave { 1.0 } else { 2.0 };
            likely.min(1.0) * (price(best) - price(action)).max(0.0)
        });
        1.0 - price(best) - best.utility.si() + cheaper.sum::<f64>()
    }

    /// The tasks, in the order of doing them.
    fn chosen(&self, deciding: &Deciding, tasks: &[(Task, Vec<Coming>)]) -> Result<Vec<(Task, Vec<Coming>)>> {
        let mut tasks: Vec<&(Task, Vec<Coming>)> = tasks.iter().collect();
        let mut chosen = Vec::new();
        let mut narrowed = self.solved().posterior.covariance.clone();
        if self.solved().is_lone_extended() {
            let check = self.solved().extended(1, self.tools()?);
            narrowed = after(&narrowed, &check.1);
            tasks.retain(|(task, _)| !matches!(task, Task::Extended { .. }));
            chosen.push(check);
        }
        while chosen.len() < MOST_STEPS {
            let now = spread(&narrowed, &deciding.number);
            let opened = chosen.iter().any(|(task, _): &(Task, _)| task.takes_spring_out());
            let per_minute = |(task, coming): &&(Task, Vec<Coming>)| {
                let left = spread_after(&narrowed, coming, &deciding.number) / now;
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
            chosen.push(task.clone());
        }
        chosen.sort_by_key(|(task, _)| task.turn());
        Ok(chosen)
    }

    /// Is a task the second extended reading, which is asked for whatever it is worth?
    fn is_check(&self, task: &Task) -> bool {
        matches!(task, Task::Extended { .. }) && self.solved().is_lone_extended()
    }

    /// The plan that an evening is.
    pub(crate) fn plan(&self, fit: &Fit, evening: &Evening) -> Plan {
        let Evening { steps, check, now, then } = evening;
        let then = then.unwrap_or(*now);
        let mut plan = Plan {
            end: self.end(),
            worth: Worth::Clear,
            steps: Vec::new(),
            effort: Time::from_si(0.0),
            now: *now,
            then,
        };
        if let Some(task) = repeated(fit) {
            plan.effort = task.effort();
            let step = NextReading { task, remaining: Share::from_si(1.0), wanted_rate: None, effort: plan.effort };
            (plan.worth, plan.steps, plan.then) = (Worth::RepeatFirst, vec![step], *now);
        } else if !steps.is_empty() && then.utility.si() - now.utility.si() > self.prices.measuring.si() {
            let out = steps.iter().filter(|step| step.task.takes_spring_out()).count().saturating_sub(1);
            let minutes = steps.iter().map(|step| step.effort.si() / 60.0).sum::<f64>() - SPRING_OUT * out as f64;
            (plan.worth, plan.steps, plan.effort) = (Worth::Measure, steps.clone(), Time::from_si(60.0 * minutes));
        } else if then.lands.si() < SUITS {
            plan.worth = Worth::WillNotSettle;
        } else if let Some(check) = check {
            (plan.worth, plan.steps, plan.effort) = (Worth::Check, vec![check.clone()], check.effort);
        }
        plan
    }
}

/// The reading to take again before anything is planned.
fn repeated(fit: &Fit) -> Option<Task> {
    let of_part = |finding: &Finding| match finding {
        Finding::PartMisread { readings, misread } if misread.is_beyond_scatter() => {
            Some(Task::RepeatPart { readings: readings.clone(), reading: misread.index() })
        }
        _ => None,
    };
    let read = fit.misread().map(|(reading, load)| Task::Repeat { reading, load: load.clone() });
    read.or_else(|| fit.findings.iter().find_map(of_part))
}

/// Is the question which spring to buy, today's being out of it?
fn is_to_buy(weighed: &[Weighed]) -> bool {
    let fitted = weighed.iter().find(|weighed| weighed.choice.is_fitted);
    fitted.is_none_or(|fitted| fitted.choice.probability.si() < OUT_OF_IT)
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
            Self::Repeat { .. } | Self::RepeatPart { .. } => 0,
            Self::Scale { .. } | Self::Weigh | Self::Rake | Self::Direction => 1,
            Self::Extended { .. } => 2,
            Self::Pairs { .. } => 3,
            Self::Ballast { .. } => 4,
            Self::SpringLength => 5,
            Self::ShockTable { .. } => 6,
            Self::SpringRate => 7,
            Self::CapOff => 8,
            Self::Gas => 9,
            Self::Unsprung => 10,
        }
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests;
