//! More than one rider on the sheet: which spring suits most of them, at one preload and each at their own.

use crate::decide::{EndRiders, SpringForRiders, Way};
use crate::infer::finding::chance;
use crate::report::entry::{SheetEntry, SheetTable};
use crate::report::words::{Words, quarters, turn_count};
use crate::units::{Quantity, Share, SpringRate, Uncertain, UnitSystem};

/// One end under all its riders.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct SheetRiders {
    /// Which spring suits most riders, and how it is set.
    pub sentences: Vec<String>,
    /// One preload for all, a spring a row.
    pub common: SheetTable,
    /// A preload for each, a spring a row.
    pub own: SheetTable,
}

/// Turns below which nobody turns.
const NO_TURN: f64 = 0.125;

/// A share with its standard uncertainty, `62 ± 5 %`.
fn share(share: Uncertain<Share>) -> SheetEntry {
    let [value, deviation] = [share.value.si(), share.standard_uncertainty.si()].map(|part| 100.0 * part);
    SheetEntry {
        text: format!("{value:.0} ± {deviation:.0} %"),
        value: Some(value),
        standard_uncertainty: Some(deviation),
        unit: Some("%".to_owned()),
    }
}

pub(crate) fn riders(found: &EndRiders, units: UnitSystem) -> SheetRiders {
    let none = "carries none";
    let common = found.springs.iter().map(|spring| {
        let at = spring.common;
        let turns = at.and_then(|at| at.turns);
        [
            rate(found, spring, units),
            SheetEntry::or(at, none, |at| share(at.share)),
            SheetEntry::or(at, "", |at| SheetEntry::stated(at.preload.value, units, units.length_decimals())),
            SheetEntry::or(turns, "", |turns| SheetEntry::number(turns.value, format!("{:+}", quarters(turns.value)))),
            SheetEntry::or(at, "", |at| SheetEntry::uncertain(at.rider_sag, units)),
            SheetEntry::or(at, "", |at| SheetEntry::sag(at.free_sag, units)),
            SheetEntry::or(at, "", |at| SheetEntry::stated(at.too_deep, units, 0)),
            SheetEntry::or(at, "", |at| SheetEntry::stated(at.too_high, units, 0)),
        ]
    });
    let own = found.springs.iter().map(|spring| {
        let own = spring.own;
        [
            rate(found, spring, units),
            SheetEntry::or(own, none, |own| share(own.share)),
            SheetEntry::or(own, "", |own| SheetEntry::stated(own.light, units, units.length_decimals())),
            SheetEntry::or(own, "", |own| SheetEntry::stated(own.heavy, units, units.length_decimals())),
            SheetEntry::or(own.and_then(|own| own.turns), "", |turns| {
                SheetEntry::number(turns, format!("{:+}", quarters(turns)))
            }),
        ]
    });
    SheetRiders {
        sentences: found.sentences(units),
        common: SheetTable::new(
            ["spring", "riders in range", "preload", "turns", "rider sag", "free sag", "too deep", "too high"],
            common.collect(),
        ),
        own: SheetTable::new(
            ["spring", "riders in range", "preload, light", "preload, heavy", "turns between"],
            own.collect(),
        ),
    }
}

fn rate(found: &EndRiders, spring: &SpringForRiders, units: UnitSystem) -> SheetEntry {
    let mut entry = SheetEntry::stated(spring.rate, units, units.rate_decimals());
    entry.text = found.decision.called(spring.rate, Words { units });
    if spring.is_fitted {
        entry.text.push_str(" now");
    }
    entry
}

impl EndRiders {
    /// All of it as tables and sentences.
    #[must_use]
    pub fn to_sheet(&self, units: UnitSystem) -> SheetRiders {
        riders(self, units)
    }

    /// Which spring suits most riders at one preload, and which where each turns the collar; how sure that is.
    #[must_use]
    pub fn sentences(&self, units: UnitSystem) -> Vec<String> {
        let words = Words { units };
        let mut said = Vec::new();
        if let Some((best, at)) = self.springs.first().and_then(|best| Some((best, best.common?))) {
            let set = match at.way {
                Way::Turned => "the collar turned there and left",
                Way::ReRead => "the sag read under the middle rider and corrected",
            };
            let preload = words.length(at.preload.value);
            let (deep, high) = (chance(at.too_deep.si()), chance(at.too_high.si()));
            let (verb, but) = self.beside(best, |spring| spring.common.map(|at| at.share), words);
            said.push(format!(
                "With one preload for all, {} {verb}: {} have both sags in range at {preload} of preload, {set}. {deep} \
                 sit too deep and {high} too high.{but}",
                self.in_each(best.rate, words),
                share(at.share).text,
            ));
        }
        if let Some((best, own)) = self.best_for_own().and_then(|best| Some((best, best.own?))) {
            let between = match own.turns.filter(|turns| turns.abs() >= NO_TURN) {
                Some(turns) => format!("{} of the collar lie", turn_count(turns.abs())),
                None => format!("{} of preload lies", words.length(own.heavy - own.light)),
            };
            let (verb, but) = self.beside(best, |spring| spring.own.map(|own| own.share), words);
            said.push(format!(
                "Where each sets the preload, {} {verb}: {}.{but} {between} between a rider lighter than nine in ten and one \
                 heavier.",
                self.in_each(best.rate, words),
                share(own.share).text,
            ));
        }
        said.push(
            "Shares are of rides; ± is what the bike leaves open (its spring, its masses, another spring's label), the same for \
             every rider."
                .to_owned(),
        );
        said
    }

    /// How the best spring stands among all: most riders by its share, or by what another spring costs, which is then said.
    fn beside(
        &self,
        best: &SpringForRiders,
        of: impl Fn(&SpringForRiders) -> Option<Uncertain<Share>>,
        words: Words,
    ) -> (&'static str, String) {
        let shares = self.springs.iter().filter_map(|spring| Some((spring, of(spring)?)));
        let most = shares.max_by(|(_, one), (_, other)| one.value.si().total_cmp(&other.value.si()));
        match most.filter(|(most, _)| most.rate != best.rate) {
            Some((most, reached)) => {
                let (called, reached) = (self.in_each(most.rate, words), share(reached).text);
                (
                    "is best, all counted",
                    format!(" {called} would have {reached}, which does not pay for another spring."),
                )
            }
            None => ("suits most riders", String::new()),
        }
    }

    fn in_each(&self, rate: SpringRate, words: Words) -> String {
        let called = self.decision.called(rate, words);
        let each = self.decision.in_each(self.legs > 1 && called == words.rate(rate));
        format!("{called}{each}")
    }
}
