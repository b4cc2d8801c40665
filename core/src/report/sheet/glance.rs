//! What to do at one glance: an end in a few lines, for the first screen of a terminal and the first page on paper.

use crate::decide::plan::Worth;
use crate::decide::{Act, Decision, NextReading, Verdict};
use crate::infer::finding::{Finding, Severity, chance};
use crate::report::assumptions;
use crate::report::direction::along;
use crate::report::headline::small;
use crate::report::plan::about;
use crate::report::sheet::SheetFinding;
use crate::report::words::{Words, turn_count};
use crate::units::{Quantity, UnitSystem};

/// One end at a glance. Every line is whole by itself; the sheet below has the reasons.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Glance {
    /// What to do.
    pub decision: String,
    /// The number to set; `None` where nothing is to be set, or where it cannot be said.
    pub set: Option<String>,
    /// The sags wanted; `None` without advice.
    pub aim: Option<String>,
    /// How likely that lands the sags, today and then, and what is as good or comes next.
    pub chance: Option<String>,
    /// The next reading, where one is worth it.
    pub next: Option<String>,
    /// What was assumed because nobody stated it: how much, what of it matters most, and what removes that.
    pub assumed: Option<String>,
    /// The first warning, and how many more there are.
    pub mind: Option<String>,
}

impl Glance {
    /// Of an end without advice: why there is none.
    pub(super) fn without(reason: &str, findings: &[SheetFinding]) -> Self {
        Self { decision: reason.to_owned(), mind: mind(findings), ..Self::default() }
    }

    pub(super) fn of(decision: &Decision, findings: &[SheetFinding], units: UnitSystem) -> Self {
        let words = Words { units };
        let free = decision.free_sag.map(|range| format!(", free sag {}", words.range(&range))).unwrap_or_default();
        let rider = words.range(&decision.rider_sag.range);
        let today = chance(decision.today.probability.si());
        Self {
            decision: decision.order(words),
            set: set(decision, words)
                .map(|set| if is_order(&decision.verdict) { set } else { format!("best as it is: {set}") }),
            aim: Some(format!("rider sag {rider}{free}, {}", along(decision.direction))),
            chance: Some(format!(
                "{}; as it stands {today}.{}{}",
                decision.chance().replace(" chance that", " that"),
                decision.beside(words),
                decision.may_be_better(words)
            )),
            next: next(decision, units),
            assumed: assumptions::in_short(&decision.assumptions, step(decision).map(|step| &step.task)),
            mind: mind(findings),
        }
    }
}

/// Is the best action what is to be done, and nothing before it?
fn is_order(verdict: &Verdict) -> bool {
    matches!(verdict, Verdict::Keep | Verdict::ChangePreload { .. } | Verdict::ChangeSpring { .. })
}

/// Standard uncertainty (m) from which on a preload is no number to set: the rider sag is.
const SETTABLE: f64 = 4e-3;

/// The setting of the best that can be done: preload and turns.
fn set(decision: &Decision, words: Words) -> Option<String> {
    let action = decision.action()?;
    let outcome = decision.choice_of(action.act)?.outcome?;
    let each = decision.in_each(decision.springs > 1);
    let spring = match action.act {
        Act::Fit { rate } => format!("{}, ", words.rate(rate)),
        _ => String::new(),
    };
    let preload = match action.act {
        // Legs that differ have no preload in common, but a change of it.
        Act::Turn { .. }
            if decision.fitted().is_some_and(|fitted| fitted.each.windows(2).any(|pair| pair[0] != pair[1])) =>
        {
            words.change(outcome.preload_change.value, None)
        }
        _ => format!("preload {}", words.length(outcome.preload.value)),
    };
    if outcome.preload.standard_uncertainty.si() > SETTABLE {
        let (preload, sag) = (words.uncertain(outcome.preload), words.length(outcome.rider_sag.value));
        let comma = if each.is_empty() { "" } else { "," };
        return Some(format!("{spring}whatever preload gives {sag} of rider sag, here {preload}{comma}{each}"));
    }
    let turns = match (action.act, outcome.turns) {
        (Act::Leave, _) => return Some(format!("nothing: the preload stays as it is{each}")),
        (_, Some(turns)) if turns.from_touching => {
            format!(": {} from where the collar just touches", turn_count(turns.value))
        }
        (_, Some(turns)) => {
            let more = if turns.value < 0.0 { "less" } else { "more" };
            format!(": {} {more} than today", turn_count(turns.value.abs()))
        }
        (_, None) => String::new(),
    };
    Some(format!("{spring}{preload}{each}{turns}"))
}

/// The first step of the plan.
fn step(decision: &Decision) -> Option<&NextReading> {
    decision.plan.steps.first()
}

fn next(decision: &Decision, units: UnitSystem) -> Option<String> {
    // Before anything finer the sags themselves, where not one was read.
    if let Some(lack) = decision.lacks.first().filter(|_| decision.fit.findings.contains(&Finding::NoReadings)) {
        return Some(format!("{} ({})", lack.task.text(units), about(lack.task.effort())));
    }
    let step = step(decision)?;
    let task = step.task.text(units);
    let task = match decision.plan.worth {
        Worth::Check => format!("before anything is turned or bought, {}", small(&task)),
        _ => task,
    };
    Some(format!("{task} ({})", about(step.effort)))
}

fn mind(findings: &[SheetFinding]) -> Option<String> {
    let mut warnings = findings.iter().filter(|finding| finding.severity == Severity::Warning);
    let first = &warnings.next()?.text;
    Some(match warnings.count() {
        0 => first.clone(),
        1 => format!("{first} And one more warning."),
        more => format!("{first} And {more} more warnings."),
    })
}
