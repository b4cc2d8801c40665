//! Other loads on the sheet: what to set for each, what follows, and which spring does for all of them.

use crate::decide::{EndScenarios, PreloadChange, ScenarioLoad, SpringAcross, SpringChoice};
use crate::infer::finding::chance;
use crate::report::advice::tie;
use crate::report::entry::{SheetEntry, SheetTable};
use crate::report::words::{Words, quarters, turn_count};
use crate::units::{Quantity, SpringRate, Uncertain, UnitSystem};

/// One end under other loads.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct SheetScenarios {
    /// Which spring serves all loads, and what to turn, in sentences.
    pub sentences: Vec<String>,
    /// Each load today.
    pub today: SheetTable,
    /// What to set for each load, on today's spring and on the one advised.
    pub settings: SheetTable,
    /// What follows from that.
    pub consequences: SheetTable,
    /// Probability that both sags land: a spring a row, a load a column, and all loads together.
    pub springs: SheetTable,
}

pub(crate) fn scenarios(found: &EndScenarios, units: UnitSystem) -> SheetScenarios {
    let shown = shown(found);
    let rows = |cells: &dyn Fn(usize, &SpringAcross) -> Vec<SheetEntry>| -> Vec<Vec<SheetEntry>> {
        let under = |place: usize| shown.iter().map(move |spring| (place, *spring));
        (0..found.loads.len()).flat_map(under).map(|(place, spring)| cells(place, spring)).collect()
    };
    let first = |place: usize, spring: &SpringAcross| vec![named(found, place), rate(found, spring, units)];
    let settings = rows(&|place, spring| {
        let mut row = first(place, spring);
        let choice = spring.choices.get(place);
        let outcome = choice.and_then(|choice| choice.outcome);
        row.push(SheetEntry::or(outcome, "", |outcome| SheetEntry::uncertain(outcome.preload, units)));
        row.push(turned(spring, 0, place, units));
        if found.loads.len() > FEW {
            row.push(turned(spring, place.saturating_sub(1), place, units));
        }
        row.push(SheetEntry::or(outcome, "", |outcome| SheetEntry::sag(outcome.free_sag, units)));
        row.extend(choice.map(lands));
        row.push(SheetEntry::words(choice.map(|choice| choice.remark(units)).unwrap_or_default()));
        row
    });
    let consequences = rows(&|place, spring| {
        let mut row = first(place, spring);
        let outcome = spring.choices.get(place).and_then(|choice| choice.outcome);
        let none = "no such setting";
        row.push(SheetEntry::or(outcome, none, |outcome| SheetEntry::uncertain(outcome.wheel_rate, units)));
        row.push(SheetEntry::or(outcome, none, |outcome| SheetEntry::uncertain(outcome.ride_frequency, units)));
        row.push(SheetEntry::or(outcome, none, |outcome| SheetEntry::uncertain(outcome.energy_left, units)));
        row.push(SheetEntry::or(outcome, none, |outcome| SheetEntry::uncertain(outcome.drop_height, units)));
        row
    });
    let mut heads = vec!["load", "spring", "preload", "from the usual"];
    heads.extend((found.loads.len() > FEW).then_some("from the one above"));
    heads.extend(["free sag then", "both land", ""]);
    SheetScenarios {
        sentences: found.sentences(units),
        today: SheetTable::new(
            ["load", "on the wheels", "sprung load", "sag today", "wanted"],
            found.loads.iter().map(|load| today(load, units)).collect(),
        ),
        settings: table(heads, settings),
        consequences: table(
            vec!["load", "spring", "wheel rate", "frequency", "energy left", "as a drop"],
            consequences,
        ),
        springs: springs(found, units),
    }
}

/// A chance that is written as nothing.
const NOTHING: f64 = 0.005;
/// A chance that is shown as `over 99 %`.
const SURE: f64 = 0.99;
/// With more loads than this the change from the one above is shown beside that from the usual one.
const FEW: usize = 2;

fn table(columns: Vec<&str>, rows: Vec<Vec<SheetEntry>>) -> SheetTable {
    SheetTable { columns: columns.into_iter().map(str::to_owned).collect(), rows }
}

/// Today's spring; the one advised for the usual load; and the one that serves all loads best, where neither does as
/// well. The last is the one that turning is said of.
fn shown(found: &EndScenarios) -> Vec<&SpringAcross> {
    let advised = found.advised().and_then(|rate| found.spring(rate)).or(found.springs.first());
    let mut shown: Vec<&SpringAcross> = found.fitted().into_iter().collect();
    shown.extend(advised.filter(|spring| !spring.is_fitted));
    let ties = found.ties();
    let others = ties.first().filter(|_| found.one_does() && !shown.iter().any(|spring| ties.contains(spring)));
    shown.extend(others.copied());
    shown
}

fn named(found: &EndScenarios, place: usize) -> SheetEntry {
    SheetEntry::words(found.loads.get(place).map(|load| load.name.clone()).unwrap_or_default())
}

fn rate(found: &EndScenarios, spring: &SpringAcross, units: UnitSystem) -> SheetEntry {
    let mut entry = SheetEntry::stated(spring.rate, units, units.rate_decimals());
    entry.text = found.decision.called(spring.rate, Words { units });
    if spring.is_fitted {
        entry.text.push_str(" now");
    }
    entry
}

fn today(load: &ScenarioLoad, units: UnitSystem) -> [SheetEntry; 5] {
    [
        SheetEntry::words(load.name.clone()),
        SheetEntry::words(load.load.to_string()),
        SheetEntry::uncertain(load.sprung_load, units),
        SheetEntry::sag(load.sag_today, units),
        SheetEntry::words(Words { units }.range(&load.rider_sag.range)),
    ]
}

fn turned(spring: &SpringAcross, from: usize, to: usize, units: UnitSystem) -> SheetEntry {
    if from == to {
        return SheetEntry::words("");
    }
    match spring.change(from, to) {
        None => SheetEntry::words(""),
        Some(PreloadChange { turns: Some(turns), .. }) => SheetEntry {
            text: format!("{:+} ± {:.2} turns", quarters(turns.value), turns.standard_uncertainty),
            value: Some(turns.value),
            standard_uncertainty: Some(turns.standard_uncertainty),
            unit: Some("turns".to_owned()),
        },
        Some(PreloadChange { preload, turns: None }) => SheetEntry::uncertain(preload, units),
    }
}

fn lands(choice: &SpringChoice) -> SheetEntry {
    SheetEntry::number(choice.probability.si(), chance(choice.probability.si()))
}

fn springs(found: &EndScenarios, units: UnitSystem) -> SheetTable {
    let heads = found.loads.iter().map(|load| load.name.as_str());
    let row = |spring: &SpringAcross| {
        let all = SheetEntry::number(spring.probability.si(), chance(spring.probability.si()));
        core::iter::once(rate(found, spring, units)).chain(spring.choices.iter().map(lands)).chain([all]).collect()
    };
    let columns = core::iter::once("spring").chain(heads).chain(["every load"]).collect();
    table(columns, found.springs.iter().map(row).collect())
}

impl EndScenarios {
    /// All of it as tables and sentences.
    #[must_use]
    pub fn to_sheet(&self, units: UnitSystem) -> SheetScenarios {
        scenarios(self, units)
    }

    /// Which spring serves all loads best, how sure that is, and what to turn from load to load.
    #[must_use]
    pub fn sentences(&self, units: UnitSystem) -> Vec<String> {
        let words = Words { units };
        let mut reported = Vec::new();
        if let Some(best) = self.springs.first() {
            let weakest = best.weakest().and_then(|(place, share)| Some((self.loads.get(place)?, share)));
            let ties: Vec<String> =
                self.ties().iter().skip(1).map(|spring| self.decision.called(spring.rate, words)).collect();
            let (rate, probability) = (self.in_each(best.rate, words), chance(best.probability.si()));
            // The hardest load has its own chance only where all together have less; where all land, none is hard.
            let weakest = weakest.map(|(load, share)| match chance(share.si()) {
                _ if share.si() > SURE => String::new(),
                same if same == probability => format!(" The hardest is `{}`.", load.name),
                other => format!(" The hardest is `{}`, {other} by itself.", load.name),
            });
            reported.push(if !self.one_does() {
                let none = format!(
                    "{} is likely to give both sags under every load, whatever the collar.",
                    self.decision.no_spring()
                );
                if best.probability.si() < NOTHING {
                    format!("{none} None comes near it.")
                } else {
                    let weakest = weakest.unwrap_or_default();
                    format!("{none} {rate} comes nearest, with {probability}.{weakest}")
                }
            } else if ties.is_empty() {
                let sags = if self.decision.free_sag.is_some() { "both sags land" } else { "the rider sag lands" };
                format!(
                    "{rate} serves all loads best{}: {probability} that {sags} under each of them, the collar turned for each.{}",
                    self.unpaid(best, words).unwrap_or_default(),
                    weakest.unwrap_or_default()
                )
            } else {
                format!("{rate} serves all loads, with {probability}, the collar turned for each.{}", tie(&ties))
            });
        }
        let spring = shown(self).into_iter().last();
        for (place, load) in self.loads.iter().enumerate().skip(1) {
            reported.extend(spring.and_then(|spring| self.turning(words, spring, place, load)));
        }
        reported
    }

    /// The spring that lands more often than the one that is best net of prices.
    fn unpaid(&self, best: &SpringAcross, words: Words) -> Option<String> {
        let tie = self.decision.prices.tie().si();
        let most = self.springs.iter().max_by(|one, other| one.probability.si().total_cmp(&other.probability.si()))?;
        (most.probability.si() > best.probability.si() + tie).then(|| {
            format!(
                ", all counted ({} gives {}, a gain that does not pay for it)",
                self.decision.called(most.rate, words),
                chance(most.probability.si())
            )
        })
    }

    /// A spring as it is called: legs that differ by both of their rates.
    fn in_each(&self, rate: SpringRate, words: Words) -> String {
        let called = self.decision.called(rate, words);
        let each = self.decision.in_each(self.legs > 1 && called == words.rate(rate));
        format!("{called}{each}")
    }

    fn turning(&self, words: Words, spring: &SpringAcross, place: usize, load: &ScenarioLoad) -> Option<String> {
        let (usual, rate) = (self.loads.first()?, self.decision.called(spring.rate, words));
        let each = self.decision.in_each(self.legs > 1);
        let Some(change) = spring.change(0, place) else {
            return Some(format!("On {rate} no preload gives the sag wanted under `{}`.", load.name));
        };
        let way = if change.preload.value.si() < 0.0 { "less" } else { "more" };
        let preload = words.uncertain(Uncertain { value: change.preload.value.abs(), ..change.preload });
        let turns = match change.turns {
            Some(turns) => format!("{} {way}{each} ({preload} of preload)", turn_count(turns.value.abs())),
            None => format!("{preload} {way} of preload{each}"),
        };
        let remark = spring.choices.get(place).map(|choice| choice.remark(words.units)).unwrap_or_default();
        let remark = if remark.is_empty() { remark } else { format!(" What keeps it from more there: {remark}.") };
        Some(format!("From `{}` to `{}`, on {rate}: {turns}, and back again.{}", usual.load, load.name, remark))
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use crate::Bike;
    use crate::demo::PATROL;
    use crate::record::End;
    use crate::units::UnitSystem;

    /// The shipped bike with these springs in its legs.
    fn of_legs(first: &str, second: &str) -> Vec<String> {
        let mut parts = PATROL.split("spring = { rate = \"4.4 N/mm\"");
        let [before, between, after] = [parts.next(), parts.next(), parts.next()].map(Option::unwrap);
        assert_eq!(parts.next(), None);
        let text = format!("{before}spring = {{ rate = \"{first}\"{between}spring = {{ rate = \"{second}\"{after}");
        let bike = Bike::from_toml(&text).unwrap();
        bike.study(End::Front).unwrap().advise_scenarios().unwrap().sentences(UnitSystem::Metric)
    }

    #[test]
    fn legs_that_differ_are_called_by_both_of_their_rates() {
        // Together as stiff as the two that are alike, so that the same is best.
        let (alike, differ) = (of_legs("4.4 N/mm", "4.4 N/mm"), of_legs("4.3 N/mm", "4.5 N/mm"));
        assert!(alike[0].starts_with("4.4 N/mm in each leg serves all loads"), "{}", alike[0]);
        assert!(differ[0].starts_with("4.3 + 4.5 N/mm serves all loads"), "{}", differ[0]);
        assert!(!differ[0].contains("in each leg"), "{}", differ[0]);
        // How far to turn is said of each leg either way.
        assert!(alike[1].contains("on 4.4 N/mm: ") && differ[1].contains("on 4.3 + 4.5 N/mm: "), "{}", differ[1]);
        assert!(differ[1].contains("in each leg"), "{}", differ[1]);
    }
}
