//! Quantities as sentences say them: in the reader's units, and labels as their owner wrote them.

use crate::decide::Turns;
use crate::record::{End, Range};
use crate::units::{Length, Quantity, SpringRate, Uncertain, UnitSystem, as_written, show};

/// Quantities in the reader's units.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Words {
    pub(crate) units: UnitSystem,
}

impl Words {
    pub(crate) fn length(self, length: Length) -> String {
        show(length, self.units.symbol(Length::KIND), self.units.length_decimals())
    }

    /// A rate as on a label: no zeros at its end, and as its owner wrote it where that was in another unit.
    pub(crate) fn rate(self, rate: SpringRate) -> String {
        let symbol = self.units.symbol(SpringRate::KIND);
        let converted = self.rate_in(rate, symbol);
        match as_written(SpringRate::KIND, rate.si()) {
            // A label in the unit that everything is written in by default is converted like everything else.
            Some((number, unit)) if ![symbol, SpringRate::KIND.units[0].symbol].contains(&unit.symbol) => {
                format!("{number} {} ({converted})", unit.symbol)
            }
            _ => converted,
        }
    }

    /// The labels of all main springs: one, or every one of legs that differ, `0.44 + 0.41 kgf/mm`.
    pub(crate) fn rates(self, each: &[SpringRate]) -> String {
        let mut said: Vec<String> = each.iter().map(|rate| self.rate(*rate)).collect();
        said.dedup();
        if let [one] = &said[..] {
            return one.clone();
        }
        let symbol = self.units.symbol(SpringRate::KIND);
        let sum = |number: &dyn Fn(&SpringRate) -> Option<String>| {
            each.iter().map(number).collect::<Option<Vec<_>>>().map(|numbers| numbers.join(" + "))
        };
        let converted = sum(&|rate| Some(self.rate_in(*rate, symbol).trim_end_matches(symbol).trim_end().to_owned()));
        let converted = converted.map_or_else(|| said.join(" + "), |numbers| format!("{numbers} {symbol}"));
        // As their owner wrote them, where that is one unit for all.
        let unit = each.first().and_then(|rate| as_written(SpringRate::KIND, rate.si())).map(|(_, unit)| unit);
        let Some(unit) = unit.filter(|unit| ![symbol, SpringRate::KIND.units[0].symbol].contains(&unit.symbol)) else {
            return converted;
        };
        let written = sum(&|rate| {
            let (number, of) = as_written(SpringRate::KIND, rate.si())?;
            (of.symbol == unit.symbol).then(|| number.to_string())
        });
        written.map_or(converted.clone(), |numbers| format!("{numbers} {} ({converted})", unit.symbol))
    }

    fn rate_in(self, rate: SpringRate, symbol: &str) -> String {
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

pub(crate) fn turn_count(turns: f64) -> String {
    let number = quarters(turns);
    format!("{number} turn{}", if (number - 1.0).abs() < f64::EPSILON { "" } else { "s" })
}

/// A sentence on an end that names it.
pub(crate) fn of_end(end: End, why: &str) -> String {
    if why.starts_with(end.name()) { why.to_owned() } else { format!("{end}: {why}") }
}
