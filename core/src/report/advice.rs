//! Advice in plain sentences, from the user's own numbers, in the reader's units.

use crate::decide::{EndAdvice, Outcome, Reach, SpringChoice, Turns, Verdict};
use crate::infer::finding::{Finding, percent};
use crate::record::Range;
use crate::report::direction::along;
use crate::units::{Force, Length, Quantity, SpringRate, Uncertain, UnitSystem, WheelRate, show};

/// Quantities in the reader's units.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Words {
    pub(crate) units: UnitSystem,
}

impl Words {
    pub(crate) fn length(self, length: Length) -> String {
        show(length, self.units.symbol(Length::KIND), self.units.length_decimals())
    }

    /// A rate as on a label: no zeros at its end.
    pub(crate) fn rate(self, rate: SpringRate) -> String {
        let symbol = self.units.symbol(SpringRate::KIND);
        let text = show(rate, symbol, self.units.rate_decimals());
        match text.trim_end_matches(symbol).trim_end() {
            number if number.contains('.') => {
                format!("{} {symbol}", number.trim_end_matches('0').trim_end_matches('.'))
            }
            number => format!("{number} {symbol}"),
        }
    }

    pub(crate) fn uncertain<Q: Quantity>(self, value: Uncertain<Q>) -> String {
        value.show(self.units.symbol(Q::KIND))
    }

    pub(crate) fn range(self, range: &Range) -> String {
        let symbol = self.units.symbol(Length::KIND);
        let number = |length: Length| {
            show(length, symbol, self.units.length_decimals()).trim_end_matches(symbol).trim_end().to_owned()
        };
        format!("{} to {}", number(range.from), self.length(range.to))
    }

    /// Turns of an adjuster, or the length where its pitch is not known.
    pub(crate) fn change(self, by: Length, turns: Option<Turns>) -> String {
        let more = if by.si() < 0.0 { "less" } else { "more" };
        let length = format!("{} {more} preload", self.length(by.abs()));
        match turns {
            Some(turns) => format!("{} {more} ({length})", turn_count(turns.value.abs())),
            None => length,
        }
    }
}

/// Turns to a quarter, as a person turns a collar; never a zero below zero.
pub(crate) fn quarters(turns: f64) -> f64 {
    (turns * 4.0).round() / 4.0 + 0.0
}

/// The springs that do as well as the one named before.
pub(crate) fn tie(rates: &[String]) -> String {
    let will_do = if rates.len() > 1 { "any of them" } else { "either" };
    format!(" A tie with {}: {will_do} will do.", rates.join(", "))
}

pub(crate) fn turn_count(turns: f64) -> String {
    let number = quarters(turns);
    format!("{number} turn{}", if (number - 1.0).abs() < f64::EPSILON { "" } else { "s" })
}

impl EndAdvice {
    /// The verdict in one sentence.
    #[must_use]
    pub fn headline(&self, units: UnitSystem) -> String {
        let words = Words { units };
        let fitted = self.fitted();
        let label = fitted.map(|choice| words.rate(choice.rate)).unwrap_or_default();
        let each = if self.springs > 1 { " each" } else { "" };
        match &self.verdict {
            Verdict::Keep => {
                let lands = if self.free_sag.is_some() { "both sags land" } else { "the rider sag lands" };
                let today = percent(self.today.probability.si());
                format!("Keep the {label} spring{} and its preload: as they are, {lands} with {today}.", self.plural())
            }
            Verdict::ChangePreload { by } => {
                let turns = fitted.and_then(|choice| choice.outcome).and_then(|outcome| outcome.turns);
                format!("Keep the {label} spring{}, set {}.", self.plural(), words.change(*by, turns))
            }
            Verdict::ChangeSpring { to, stiffer, ties } => {
                let outcome = self.choice(*to).and_then(|choice| choice.outcome);
                let preload = outcome
                    .map(|outcome| format!(", preload {}", words.uncertain(outcome.preload)))
                    .unwrap_or_default();
                let ties: Vec<String> = ties.iter().map(|rate| words.rate(*rate)).collect();
                let ties = if ties.is_empty() { String::new() } else { tie(&ties) };
                let way = if *stiffer { "stiffer" } else { "softer" };
                format!("Fit {} {way}: {}{each} in place of {label}{preload}.{ties}", self.a_spring(), words.rate(*to))
            }
            Verdict::CannotTell { misread: Some(reading), .. } => {
                format!("Take reading {} again before anything else: it does not agree with the others.", reading + 1)
            }
            Verdict::CannotTell { between, misread: None } => {
                let rates: Vec<String> = between.iter().map(|rate| words.rate(*rate)).collect();
                format!("These readings cannot tell {} apart. Measure more before buying.", rates.join(" and "))
            }
            Verdict::NoneSuits { nearest, stiffer } => {
                let way =
                    stiffer.map(|stiffer| if stiffer { " Look for a stiffer one." } else { " Look for a softer one." });
                let way = way.unwrap_or_default();
                if self.choices.iter().all(|choice| choice.is_fitted) {
                    return format!(
                        "Today's spring is not likely to give both sags, and no other is stated as on sale.{way}"
                    );
                }
                let nearest = nearest
                    .map(|rate| format!(" The nearest that can be set is {}.", words.rate(rate)))
                    .unwrap_or_default();
                format!("No spring on the list is likely to give both sags.{way}{nearest}")
            }
        }
    }

    fn plural(&self) -> &'static str {
        if self.springs > 1 { "s" } else { "" }
    }

    fn a_spring(&self) -> &'static str {
        if self.springs > 1 { "springs" } else { "a spring" }
    }

    /// Why, in sentences.
    #[must_use]
    pub fn reasons(&self, units: UnitSystem) -> Vec<String> {
        let words = Words { units };
        let mut reasons = vec![self.as_it_stands(words)];
        if let Some(outcome) = self.fitted().and_then(|choice| choice.outcome) {
            reasons.extend(self.with_todays_spring(words, &outcome));
        }
        reasons.extend(self.called_for(words));
        if let Verdict::ChangeSpring { to, .. } = &self.verdict
            && let Some(choice) = self.choice(*to)
            && let Some(outcome) = choice.outcome
        {
            reasons.push(format!(
                "{} needs {} of preload and leaves {} of free sag. Probability that both sags land: {}.",
                words.rate(*to),
                words.uncertain(outcome.preload),
                self.free_sag_words(words, &outcome),
                percent(choice.probability.si())
            ));
            reasons.push(format!(
                "For the same damping ratio, damping wants {:.2} times what it is now (the root of the ratio of the rates).",
                choice.damping_factor
            ));
        }
        reasons
    }

    fn as_it_stands(&self, words: Words) -> String {
        let free_wanted = self.free_sag.map(|range| format!(" ({} wanted)", words.range(&range))).unwrap_or_default();
        let free = if self.today.free_sag.value.si() > 0.0 {
            format!("{} of free sag", words.uncertain(self.today.free_sag))
        } else {
            "no free sag, topped out".to_owned()
        };
        format!(
            "As it stands: {} of rider sag ({} wanted), {free}{free_wanted}, {}, under `{}`, in the middle of the friction band.",
            words.uncertain(self.today.rider_sag),
            words.range(&self.rider_sag.range),
            along(self.direction),
            self.rider_load
        )
    }

    fn free_sag_words(&self, words: Words, outcome: &Outcome) -> String {
        if outcome.free_sag.value.si() > 0.0 {
            words.uncertain(outcome.free_sag)
        } else {
            "none (topped out)".to_owned()
        }
    }

    /// What preload alone can do, with the free sag rule in the user's own numbers.
    fn with_todays_spring(&self, words: Words, outcome: &Outcome) -> Vec<String> {
        let mut reasons = vec![format!(
            "With today's spring, {} of rider sag takes {} and leaves {} of free sag.",
            words.length(self.rider_sag.value),
            words.change(outcome.preload_change.value, outcome.turns),
            self.free_sag_words(words, outcome)
        )];
        let Some(range) = self.free_sag else {
            reasons.push(
                "Without a free sag target any spring can be preloaded to the rider sag: state one to have the rate judged."
                    .to_owned(),
            );
            return reasons;
        };
        let free = outcome.free_sag.value;
        if range.contains(free) {
            return reasons;
        }
        let little = free < range.from;
        let step = self.loads[1].value - self.loads[0].value;
        // Vertical rate from free sag to rider sag: what the rider's load must compress.
        let rate_over =
            |free: Length| WheelRate::from_si(step.si() / ((self.rider_sag.value - free).si() * self.travel_per_sag));
        let per = |rate: WheelRate| show(rate, words.units.symbol(WheelRate::KIND), words.units.rate_decimals());
        let bound = if little { range.from } else { range.to };
        reasons.push(format!(
            "That is too {}: from free sag to rider sag the load grows by {}, and over {} to {} that asks for a wheel rate of \
             {} on average; this spring gives {}. With the rider sag right, too {} free sag means the spring is too {}: {}.",
            if little { "little" } else { "much" },
            show(step, words.units.symbol(Force::KIND), 0),
            words.length(bound),
            words.length(self.rider_sag.value),
            per(rate_over(bound)),
            per(rate_over(free)),
            if little { "little" } else { "much" },
            if little { "soft" } else { "stiff" },
            if little {
                "it only carries the rider on so much preload that the bike alone hardly moves it"
            } else {
                "it needs so little preload for the rider that the bike alone already sinks into it"
            }
        ));
        reasons
    }

    fn called_for(&self, words: Words) -> Option<String> {
        let wanted = self.wanted?;
        let each = if self.springs > 1 { " for each spring" } else { "" };
        let bound = |rate: Option<SpringRate>| rate.map(|rate| words.rate(rate));
        let range = match (bound(wanted.from), bound(wanted.to)) {
            (Some(from), Some(to)) => format!(" (from {from} to {to} over the whole range of free sag)"),
            (Some(from), None) => format!(" (at least {from})"),
            (None, Some(to)) => format!(" (at most {to})"),
            (None, None) => String::new(),
        };
        let fitted = self.fit.springs.first().map(|spring| words.uncertain(*spring));
        let unread = self.fit.findings.contains(&Finding::NoReadings);
        Some(format!(
            "Both sags in the middle call for {}{each}{range}; the {} put today's at {}.",
            words.uncertain(wanted.rate),
            if unread { "label and its tolerance" } else { "readings" },
            fitted.unwrap_or_default()
        ))
    }
}

impl SpringChoice {
    /// What stands against it, in a few words; empty when nothing does.
    #[must_use]
    pub fn remark(&self, units: UnitSystem) -> String {
        let words = Words { units };
        match self.reach {
            Reach::Reached => String::new(),
            Reach::LimitUnknown => "adjuster limit not stated".to_owned(),
            Reach::Loose => "too stiff: loose even without preload".to_owned(),
            Reach::BelowLeast(least) => format!("adjuster starts at {}", words.length(least)),
            Reach::AboveMost(most) => format!("adjuster ends at {}", words.length(most)),
            Reach::Binds(by) => format!("goes solid {} early", words.length(by)),
            Reach::NoPreload => "no preload gives the sag".to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn turns_are_quarters() {
        assert_eq!(turn_count(4.1), "4 turns");
        assert_eq!(turn_count(1.02), "1 turn");
        assert_eq!(turn_count(0.3), "0.25 turns");
        assert_eq!(format!("{:+}", quarters(-0.1)), "+0");
    }
}
