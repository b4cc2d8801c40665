//! Why a decision is what it is, in plain sentences, from the user's own numbers and in the reader's units.

use crate::decide::{Act, Decision, LimitKind, Outcome, SpringChoice, Way};
use crate::infer::finding::chance;
use crate::report::direction::along;
use crate::report::oil;
use crate::report::words::{Words, turn_count};
use crate::units::{Force, Length, Quantity, SpringRate, UnitSystem, WheelRate, show};

impl Decision {
    /// Where each of several equal springs sits, after what is said of one; nothing for one alone.
    pub(crate) fn in_each(&self, several: bool) -> &'static str {
        match (several, self.on_fork) {
            (true, true) => " in each leg",
            (true, false) => " in each shock",
            (false, _) => "",
        }
    }
}

/// Where the readings decide less than this share of a rate, it is that of the label.
const FROM_THE_LABEL: f64 = 0.01;

/// An action in a few words, to stand inside a sentence.
pub(crate) fn act_phrase(decision: &Decision, act: Act, words: Words) -> String {
    let each = decision.in_each(decision.springs > 1);
    match act {
        Act::Leave => "all left as it is".to_owned(),
        Act::Turn { by } if by.si() == 0.0 => "today's setting, read again and corrected".to_owned(),
        Act::Turn { by } => {
            let turns = decision.fitted().and_then(|fitted| fitted.outcome).and_then(|outcome| outcome.turns);
            format!("{}{each}", words.change(by, turns))
        }
        Act::Fit { rate } => format!("{}{each}", words.rate(rate)),
        Act::Measure => "measuring first".to_owned(),
        Act::Service => "a service first".to_owned(),
    }
}

/// A difference of chance, in points.
pub(crate) fn points(share: f64) -> String {
    let points = (100.0 * share).round();
    format!("{points} point{}", if points == 1.0 { "" } else { "s" })
}

/// The springs that do as well as the one named before.
pub(crate) fn tie(rates: &[String]) -> String {
    let will_do = if rates.len() > 1 { "any of them" } else { "either" };
    format!(" A tie with {}: {will_do} will do.", rates.join(", "))
}

impl Decision {
    /// Why, in sentences.
    #[must_use]
    pub fn reasons(&self, units: UnitSystem) -> Vec<String> {
        let words = Words { units };
        let mut reasons = vec![self.as_it_stands(words)];
        reasons.extend(self.lacks.iter().map(|lack| lack.text(units)));
        if let Some(fitted) = self.fitted() {
            reasons.extend(self.with_todays_spring(words, fitted));
        }
        reasons.extend(self.called_for(words));
        let advised = self.action().and_then(|action| self.choice_of(action.act)).filter(|choice| !choice.is_fitted);
        if let Some((choice, outcome)) = advised.and_then(|choice| Some((choice, choice.outcome?))) {
            reasons.push(self.with_another(words, choice, &outcome));
            reasons.push(format!(
                "For the same damping ratio on {}, damping wants {:.2} times what it is now (the root of the ratio of the wheel rates of a \
                 fast movement).",
                words.rate(choice.rate),
                choice.damping_factor
            ));
        }
        if let (Some(other), Some(action)) = (self.other_end, self.action()) {
            let way = if other.rider_sag.si() < 0.0 { "higher" } else { "lower" };
            reasons.push(format!(
                "Both ends settle together: with {}, the {} comes to rest {} {way} ({}, rider on).",
                act_phrase(self, action.act, words),
                other.end,
                words.length(other.rider_sag.abs()),
                along(other.direction)
            ));
        }
        reasons.extend(self.spacers(words));
        reasons.extend(self.oil_level.map(|oil| oil::text(&oil, words)));
        if self.to_look_for {
            reasons.push(
                "No spring is stated as on sale: the others here are rates to look for, in the steps of shops. List what you can \
                 buy under `on_sale`."
                    .to_owned(),
            );
        }
        reasons.extend(self.prices_said());
        reasons
    }

    /// How a fork without an outside adjuster is set.
    fn spacers(&self, words: Words) -> Option<String> {
        use crate::decide::Act;
        let act = self.action()?.act;
        let outcome = self.choice_of(act)?.outcome?;
        if self.end != crate::record::End::Front || !self.on_fork || outcome.turns.is_some() {
            return None;
        }
        let by = outcome.preload_change.value;
        let length = words.length(by.abs());
        let does = match act {
            Act::Turn { .. } if by.si() < 0.0 => format!("cut {length} off each spacer"),
            Act::Turn { .. } if by.si() > 0.0 => format!("add {length} of washers on each spring"),
            Act::Fit { .. } => {
                return Some(format!(
                    "Where the fork has no adjuster outside: cut the spacers for the new springs, which are rarely as long as the \
                     old. Fork extended and cap off, the last part of each leg stands {} above the top of the tube, less the \
                     depth to which the cap reaches in.",
                    words.length(outcome.preload.value)
                ));
            }
            _ => return None,
        };
        Some(format!("Where the fork has no adjuster outside: {does}. Legs that differ are both changed by as much."))
    }

    fn as_it_stands(&self, words: Words) -> String {
        let free_wanted = self.free_sag.map(|range| format!(" ({} wanted)", words.range(&range))).unwrap_or_default();
        let free = if self.today.free_sag.value.si() > 0.0 {
            format!("{} of free sag", words.uncertain(self.today.free_sag))
        } else {
            "no free sag, topped out".to_owned()
        };
        format!(
            "As it stands: {} of rider sag ({} wanted), {free}{free_wanted}, {}, under `{}`, in the middle of the friction \
             band: {} chance that {}.",
            words.uncertain(self.today.rider_sag),
            words.range(&self.rider_sag.range),
            along(self.direction),
            self.rider_load,
            chance(self.today.probability.si()),
            self.on_target()
        )
    }

    /// `both sags are on target`, or the one that is wanted.
    pub(crate) fn on_target(&self) -> &'static str {
        if self.free_sag.is_some() { "both sags are on target" } else { "the rider sag is on target" }
    }

    /// What a setting gives, and how likely, by both ways.
    fn gives(&self, words: Words, choice: &SpringChoice, outcome: &Outcome) -> String {
        let free = if outcome.free_sag.value.si() > 0.0 {
            words.uncertain(outcome.free_sag)
        } else {
            "none (topped out)".to_owned()
        };
        let [turned, re_read] = [choice.turned, choice.re_read].map(|share| chance(share.si()));
        let is_left = choice.is_fitted && outcome.preload_change.value.si() == 0.0;
        let collar = if is_left { "the collar left where it is" } else { "the collar turned and left there" };
        let how = match choice.way {
            _ if turned == re_read => format!("{turned}, whether or not the rider sag is read again and corrected"),
            Way::Turned => format!("{turned} with {collar}, {re_read} with the rider sag read again and corrected"),
            Way::ReRead => format!("{re_read} with the rider sag read again and corrected, {turned} with {collar}"),
        };
        format!(
            "{} of rider sag and {free} of free sag. Chance that {}: {how}.",
            words.uncertain(outcome.rider_sag),
            self.on_target()
        )
    }

    fn with_another(&self, words: Words, choice: &SpringChoice, outcome: &Outcome) -> String {
        let rate = words.rates(&choice.each);
        let turns =
            outcome.turns.map(|turns| format!(", {} from where the collar just touches", turn_count(turns.value)));
        let each = self.in_each(self.springs > 1);
        let limits = choice.remark(words.units);
        let limits = if limits.is_empty() { String::new() } else { format!(" What keeps it from more: {limits}.") };
        format!(
            "{rate} with {} of preload{each}{}: {}{limits}",
            words.length(outcome.preload.value),
            turns.unwrap_or_default(),
            self.gives(words, choice, outcome)
        )
    }

    /// What preload alone can do, with the free sag rule in the user's own numbers.
    fn with_todays_spring(&self, words: Words, fitted: &SpringChoice) -> Vec<String> {
        let Some(outcome) = fitted.outcome else { return Vec::new() };
        let plural = if self.springs > 1 { "s" } else { "" };
        let each = self.in_each(self.springs > 1);
        let change = outcome.preload_change.value;
        let set = if change.si() == 0.0 {
            "where its collar stands".to_owned()
        } else {
            format!("best set at {}{each}", words.change(change, outcome.turns))
        };
        let mut reasons = vec![format!("Today's spring{plural}, {set}: {}", self.gives(words, fitted, &outcome))];
        let Some(range) = self.free_sag else {
            reasons.push(
                "Without a free sag target any spring can be preloaded to the rider sag: state one to have the rate judged."
                    .to_owned(),
            );
            return reasons;
        };
        let free_sag = fitted.limits.iter().find_map(|limit| match limit.kind {
            LimitKind::FreeSag { leaves, too_much } => Some((leaves, too_much)),
            _ => None,
        });
        let Some((free, too_much)) = free_sag.filter(|(leaves, _)| !range.contains(*leaves)) else { return reasons };
        let step = self.loads[1].value - self.loads[0].value;
        // Vertical rate from free sag to rider sag: what the rider's load must compress.
        let rate_over =
            |free: Length| WheelRate::from_si(step.si() / ((self.rider_sag.value - free).si() * self.travel_per_sag));
        let per = |rate: WheelRate| show(rate, words.units.symbol(WheelRate::KIND), words.units.rate_decimals());
        let bound = if too_much { range.to } else { range.from };
        let amount = if too_much { "much" } else { "little" };
        reasons.push(format!(
            "With {} of rider sag it leaves {} of free sag. That is too {amount}: from free sag to rider sag the load grows by \
             {}, and over {} to {} that asks for a wheel rate of {} on average; this spring gives {}. With the rider sag right, \
             too {amount} free sag means the spring is too {}: {}.",
            words.length(self.rider_sag.value),
            if free.si() > 0.0 { words.length(free) } else { "none".to_owned() },
            show(step, words.units.symbol(Force::KIND), 0),
            words.length(bound),
            words.length(self.rider_sag.value),
            per(rate_over(bound)),
            per(rate_over(free)),
            if too_much { "stiff" } else { "soft" },
            if too_much {
                "it needs so little preload for the rider that the bike alone already sinks into it"
            } else {
                "it only carries the rider on so much preload that the bike alone hardly moves it"
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
        let fitted: Vec<String> = self.fit.springs.iter().map(|spring| words.uncertain(*spring)).collect();
        let alike = fitted.windows(2).all(|pair| pair[0] == pair[1]);
        let fitted = if alike { fitted.first().cloned().unwrap_or_default() } else { fitted.join(" and ") };
        // A single sag moves the preload and leaves the rate to its label.
        let by_label = self.fit.from_readings.rate.si() < FROM_THE_LABEL;
        Some(format!(
            "Both sags in the middle of their ranges call for {}{each}{range}; the {} put today's at {fitted}.{}",
            words.uncertain(wanted.rate),
            if by_label { "label and its tolerance" } else { "readings" },
            self.beyond_the_list(words, wanted.rate.value).unwrap_or_default()
        ))
    }

    /// That the rate called for lies beyond what is on sale.
    fn beyond_the_list(&self, words: Words, wanted: SpringRate) -> Option<String> {
        let on_sale = || self.choices.iter().filter(|choice| !choice.is_fitted).map(|choice| choice.rate);
        let least = on_sale().min_by(|one, other| one.si().total_cmp(&other.si()))?;
        let most = on_sale().max_by(|one, other| one.si().total_cmp(&other.si()))?;
        let nearest = match wanted.si() {
            rate if rate > most.si() => format!("stiffest on sale is {}", words.rate(most)),
            rate if rate < least.si() => format!("softest on sale is {}", words.rate(least)),
            _ => return None,
        };
        (!self.to_look_for).then(|| format!(" The {nearest}."))
    }

    /// What the comparison counted against each action.
    fn prices_said(&self) -> Option<String> {
        let gain = self.action()?.probability.si() - self.today.probability.si();
        (gain > 0.0).then(|| {
            format!(
                "Compared net of what each costs: the collar {}, another spring {}, an evening of measuring {} of chance.",
                points(self.prices.collar.si()),
                points(self.prices.spring.si()),
                points(self.prices.measuring.si())
            )
        })
    }
}

impl SpringChoice {
    /// What keeps it from landing more often, in a few words; empty when nothing does.
    #[must_use]
    pub fn remark(&self, units: UnitSystem) -> String {
        let words = Words { units };
        let said = self.limits.iter().map(|limit| {
            let what = match limit.kind {
                LimitKind::Loose => "wants less than no preload".to_owned(),
                LimitKind::AdjusterStarts { at } => format!("adjuster starts at {}", words.length(at)),
                LimitKind::AdjusterEnds { at } => format!("adjuster ends at {}", words.length(at)),
                LimitKind::Solid => "would go solid".to_owned(),
                LimitKind::FreeSag { too_much: true, .. } => "too much free sag".to_owned(),
                LimitKind::FreeSag { too_much: false, .. } => "too little free sag".to_owned(),
                LimitKind::Tape => "error of the tape".to_owned(),
                LimitKind::NoPreload => return "no preload carries the rider".to_owned(),
                LimitKind::BeyondCollars { most } => {
                    return format!("wants over {} of preload, more than any collar gives", words.length(most));
                }
            };
            format!("{what} (costs {})", points(limit.cost.si()))
        });
        said.collect::<Vec<_>>().join(", ")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_label_is_shown_as_its_owner_wrote_it_with_the_converted_value_beside_it() {
        let rate = |text: &str, units| Words { units }.rate(crate::units::parse(text).unwrap());
        assert_eq!(rate("300 lbf/in", UnitSystem::Metric), "300 lbf/in (52.54 N/mm)");
        assert_eq!(rate("300 lbf/in", UnitSystem::Inch), "300 lbf/in");
        assert_eq!(rate("0.47 kgf/mm", UnitSystem::Inch), "0.47 kgf/mm (26.3 lbf/in)");
        assert_eq!(rate("52 N/mm", UnitSystem::Metric), "52 N/mm");
        assert_eq!(rate("52 N/mm", UnitSystem::Inch), "296.9 lbf/in");
        // A computed rate was written by nobody.
        assert_eq!(Words { units: UnitSystem::Metric }.rate(SpringRate::from_si(52_538.1)), "52.54 N/mm");
    }

    #[test]
    #[cfg(feature = "serde")]
    fn a_label_keeps_its_text_through_the_file() {
        let text = crate::demo::PATROL.replace("rate = \"52 N/mm\"", "rate = \"300 lbf/in\"");
        let bike = crate::Bike::from_toml(&text).unwrap();
        let again = bike.to_toml();
        assert!(again.contains("rate = \"300 lbf/in\""), "{again}");
        assert_eq!(crate::Bike::from_toml(&again).unwrap(), bike);
    }

    #[test]
    fn turns_are_quarters() {
        assert_eq!(turn_count(4.1), "4 turns");
        assert_eq!(turn_count(1.02), "1 turn");
        assert_eq!(turn_count(0.3), "0.25 turns");
        assert_eq!(format!("{:+}", crate::report::words::quarters(-0.1)), "+0");
    }
}
