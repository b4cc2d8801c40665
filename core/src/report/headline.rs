//! A decision in one sentence, with what comes next to it.

use crate::decide::{Act, Action, Decision, Doubt, DoubtKind, Verdict, Way};
use crate::infer::Condition;
use crate::infer::finding::{Finding, HEALTHY_BAND, chance, percent};
use crate::report::advice::{act_phrase, points};
use crate::report::plan::{about, capital};
use crate::report::words::Words;
use crate::units::{Length, Mass, Quantity, SpringRate, UnitSystem, show};

impl Decision {
    /// What to do, how likely that lands both sags, and what comes next to it.
    #[must_use]
    pub fn headline(&self, units: UnitSystem) -> String {
        let words = Words { units };
        if let Verdict::MeasureFirst { misread: Some(_), .. } = self.verdict {
            return self.order(words);
        }
        let first = match self.verdict {
            Verdict::Keep | Verdict::ChangePreload { .. } | Verdict::ChangeSpring { .. } => {
                format!("{}: {}.", self.does(words).unwrap_or_default(), self.chance())
            }
            _ => format!("{} {}", self.bare_order(words), self.best_as_it_is(words)),
        };
        self.on_condition(&format!("{first}{}{}{}", self.beside(words), self.may_be_better(words), self.warned()))
    }

    /// A verdict with what it hangs on before it.
    fn on_condition(&self, said: &str) -> String {
        let looked_at = self.conditions.iter().find_map(|condition| match condition {
            Condition::NotOneBike { suspects } => Some(suspects.first().map_or("the file", |suspect| suspect.name())),
            _ => None,
        });
        if let Some(suspect) = looked_at {
            return format!(
                "Before anything else find out why file and readings do not belong to one bike; look first at {suspect}. Taken as \
                 they are: {}",
                small(said)
            );
        }
        let clauses: Vec<String> = self.conditions.iter().filter_map(Condition::clause).collect();
        if clauses.is_empty() {
            said.to_owned()
        } else {
            format!("{}: {}", capital(&clauses.join(" and ")), small(said))
        }
    }

    /// What to do and on what it hangs, and nothing else.
    pub(crate) fn order(&self, words: Words) -> String {
        match self.verdict {
            Verdict::MeasureFirst { misread: Some(_), .. } => self.bare_order(words),
            _ => self.on_condition(&self.bare_order(words)),
        }
    }

    fn bare_order(&self, words: Words) -> String {
        match &self.verdict {
            Verdict::MeasureFirst { misread: Some(reading), .. } => {
                let number = reading + 1;
                let other = if self.is_lone(*reading) { "label and weights" } else { "the others" };
                format!("Take reading {number} again before anything else: it does not agree with {other}.")
            }
            Verdict::MeasureFirst { between, misread: None } => self.measure_first(words, between),
            Verdict::ServiceFirst => self.service_first(words),
            Verdict::NoneSuits { stiffer, .. } => self.none_suits(*stiffer),
            Verdict::Keep | Verdict::ChangePreload { .. } | Verdict::ChangeSpring { .. } => {
                format!("{}.", self.does(words).unwrap_or_default())
            }
        }
    }

    /// The best of what can be done today, where the order is something else.
    fn best_as_it_is(&self, words: Words) -> String {
        let best = self.action().map(|action| act_phrase(self, action.act, words)).unwrap_or_default();
        let lands = self.chance();
        match self.verdict {
            Verdict::MeasureFirst { .. } => {
                format!("Best as it is: {best}, {lands}; with those readings {}.", chance(self.plan.then.lands.si()))
            }
            Verdict::ServiceFirst => format!("On these readings the best would then be: {best}, {lands}."),
            _ => format!("The best that can be done: {best}, {lands}."),
        }
    }

    /// The best action, as an order.
    fn does(&self, words: Words) -> Option<String> {
        let action = self.action()?;
        let label = self.labels(words);
        let (s, its) = if self.springs > 1 { ("s", "their") } else { ("", "its") };
        let each = self.in_each(self.springs > 1);
        Some(match action.act {
            Act::Leave => format!("Keep the {label} spring{s} and {its} preload as they are"),
            Act::Turn { .. } => {
                let outcome = self.fitted()?.outcome?;
                let change = outcome.preload_change.value;
                let turn = if change.si() == 0.0 {
                    String::new()
                } else {
                    format!(", set {}{each}", words.change(change, outcome.turns))
                };
                format!("Keep the {label} spring{s}{turn}{}", self.then_read(words, action))
            }
            Act::Fit { rate } => {
                let fitted = self.fitted()?.rate;
                let outcome = self.choice(rate)?.outcome?;
                let way = if rate > fitted { "stiffer" } else { "softer" };
                let spring = if self.springs > 1 { format!("{way} springs") } else { format!("a {way} spring") };
                format!(
                    "Fit {spring}: {}{each} instead of {label}, preload {}{}",
                    words.rate(rate),
                    words.length(outcome.preload.value),
                    self.then_read(words, action)
                )
            }
            Act::Measure | Act::Service => return None,
        })
    }

    /// Labels of what is in now: one, or all of them where they differ.
    fn labels(&self, words: Words) -> String {
        let each = self.fitted().map(|fitted| fitted.each.clone()).unwrap_or_default();
        words.rates(&each)
    }

    /// Is a reading that was found wrong the only one at this end?
    fn is_lone(&self, wrong: usize) -> bool {
        let of =
            |finding: &Finding| matches!(finding, Finding::Misread { reading, others: 0, .. } if *reading == wrong);
        self.fit.findings.iter().any(of)
    }

    /// A rate as it is called: today's legs, where they differ, by both of their labels.
    pub(crate) fn called(&self, rate: SpringRate, words: Words) -> String {
        match self.fitted().filter(|fitted| fitted.rate == rate) {
            Some(fitted) => words.rates(&fitted.each),
            None => words.rate(rate),
        }
    }

    fn then_read(&self, words: Words, action: &Action) -> String {
        let outcome = self.choice_of(action.act).and_then(|choice| choice.outcome);
        match outcome.filter(|_| action.way == Some(Way::ReRead)) {
            Some(outcome) => {
                let sag = words.length(outcome.rider_sag.value);
                format!(", then read the rider sag again and correct it to {sag}")
            }
            None => String::new(),
        }
    }

    pub(crate) fn chance(&self) -> String {
        let best = self.action().map_or(0.0, |action| action.probability.si());
        format!("{} chance that {}", chance(best), self.on_target())
    }

    fn measure_first(&self, words: Words, between: &[SpringRate]) -> String {
        let mut between = between.to_vec();
        between.sort_by(|one, other| one.si().total_cmp(&other.si()));
        let rates: Vec<String> = between.iter().map(|rate| self.called(*rate, words)).collect();
        let question = match &rates[..] {
            [] | [_] => "how the spring is best set".to_owned(),
            [rest @ .., last] => format!("whether {} or {last} is better", rest.join(", ")),
        };
        let read = !self.fit.findings.contains(&Finding::NoReadings);
        let known = if read { "these readings leave" } else { "nothing is read, and labels and weights leave" };
        format!("Measure first, {}: {known} open {question}.", about(self.plan.effort))
    }

    fn service_first(&self, words: Words) -> String {
        let band = self.service.map(|service| words.length(service.band.value)).unwrap_or_default();
        format!(
            "Service this end first: it rests anywhere within {band}, against the {} or so of a healthy one.",
            words.length(Length::from_si(HEALTHY_BAND))
        )
    }

    fn none_suits(&self, stiffer: Option<bool>) -> String {
        let look = match stiffer {
            Some(true) => " Look for a stiffer one.",
            Some(false) => " Look for a softer one.",
            None => "",
        };
        let target = if self.free_sag.is_some() { "both sags" } else { "the rider sag" };
        let first = if self.choices.iter().all(|choice| choice.is_fitted) {
            format!("Today's spring is not likely to put {target} on target, and no other is stated as on sale.")
        } else {
            format!("{} is likely to put {target} on target.", self.no_spring())
        };
        format!("{first}{look}")
    }

    /// Who fails where every spring does: without a list, all rates were looked at.
    pub(crate) fn no_spring(&self) -> &'static str {
        if self.to_look_for { "No spring rate" } else { "No spring on the list" }
    }

    /// What is as good, or what comes next.
    pub(crate) fn beside(&self, words: Words) -> String {
        let named =
            |action: &Action| format!("{} ({})", act_phrase(self, action.act, words), chance(action.probability.si()));
        let ties: Vec<String> = self.ties().into_iter().map(named).collect();
        let Some(best) = self.action() else { return String::new() };
        if !ties.is_empty() {
            // What is to be measured decides between them.
            let will_do = match self.verdict {
                Verdict::MeasureFirst { .. } => "",
                _ if ties.len() > 1 => "; any of them will do",
                _ => "; either will do",
            };
            return format!(" As good, all counted: {}{will_do}.", ties.join(", "));
        }
        let Some(next) = self.runner_up() else { return String::new() };
        let dearer = next.probability.si() - best.probability.si();
        let unpaid = if dearer > 0.0 {
            let price = points(next.act.price(&self.prices).si());
            format!(", a gain that does not pay for it at {price}")
        } else {
            String::new()
        };
        format!(" Next best: {}{unpaid}.", named(next))
    }

    /// Springs that may turn out better than the one advised, beyond those that are as good anyway; where the verdict is to
    /// measure first it names them itself.
    pub(crate) fn may_be_better(&self, words: Words) -> String {
        if matches!(self.verdict, Verdict::MeasureFirst { .. }) {
            return String::new();
        }
        let of = |action: &Action| self.choice_of(action.act).map(|choice| choice.rate);
        let named: Vec<_> = self.action().into_iter().chain(self.ties()).filter_map(of).collect();
        let others = self.contenders.iter().filter(|rate| !named.contains(rate)).map(|rate| words.rate(*rate));
        match &others.collect::<Vec<String>>()[..] {
            [] => String::new(),
            [one] => format!(" That {one} would do better cannot be ruled out."),
            [rest @ .., last] => format!(" That {} or {last} would do better cannot be ruled out.", rest.join(", ")),
        }
    }

    fn warned(&self) -> &'static str {
        match self.doubts().count() {
            0 => "",
            1 => " All this only if the warning below proves harmless.",
            _ => " All this only if the warnings below prove harmless.",
        }
    }
}

/// With its first letter small, to stand inside a sentence.
pub(super) fn small(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_lowercase().chain(letters).collect()).unwrap_or_default()
}

impl Doubt {
    /// What is taken to be otherwise, in a few words.
    #[must_use]
    pub fn text(&self, units: UnitSystem) -> String {
        let more = |by: f64, more: &'static str, less: &'static str| if by < 0.0 { less } else { more };
        match self.kind {
            DoubtKind::Rider { by } => {
                let mass = show(Mass::from_si(by.si().abs()), units.symbol(Mass::KIND), 0);
                format!("the rider is {mass} {}", more(by.si(), "heavier", "lighter"))
            }
            DoubtKind::Label { by } => {
                format!(
                    "today's spring is {} {} than its label",
                    percent(by.si().abs()),
                    more(by.si(), "stiffer", "softer")
                )
            }
            DoubtKind::Zero { by } => {
                let length = Words { units }.length(by.abs());
                format!("the extended reading is {length} too {}", more(by.si(), "long", "short"))
            }
            DoubtKind::Gauge { by } => {
                let length = Words { units }.length(by.abs());
                format!("every sag reads {length} too {}: a zero that is off", more(by.si(), "much", "little"))
            }
        }
    }
}
