//! Numbers and tables of a sheet.

use crate::units::{Length, Quantity, Uncertain, UnitSystem, show};

/// One thing on a sheet: a number with its unit and uncertainty, or words.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct SheetEntry {
    /// As it is printed.
    pub text: String,
    /// The number, in `unit`; `None` for words.
    pub value: Option<f64>,
    /// Standard uncertainty in `unit`; `None` for words and for what is exact or merely stated.
    pub standard_uncertainty: Option<f64>,
    /// Unit of both.
    pub unit: Option<String>,
}

impl SheetEntry {
    pub(crate) fn words(text: impl Into<String>) -> Self {
        Self { text: text.into(), value: None, standard_uncertainty: None, unit: None }
    }

    /// A number that is stated, not estimated.
    pub(crate) fn stated<Q: Quantity>(quantity: Q, units: UnitSystem, decimals: usize) -> Self {
        let symbol = units.symbol(Q::KIND);
        Self {
            text: show(quantity, symbol, decimals),
            value: Q::KIND.unit(symbol).map(|unit| unit.from_si(quantity.si())),
            standard_uncertainty: None,
            unit: Some(symbol.to_owned()),
        }
    }

    pub(crate) fn uncertain<Q: Quantity>(quantity: Uncertain<Q>, units: UnitSystem) -> Self {
        let symbol = units.symbol(Q::KIND);
        let unit = Q::KIND.unit(symbol);
        Self {
            text: quantity.show(symbol),
            value: unit.map(|unit| unit.from_si(quantity.value.si())),
            standard_uncertainty: unit.map(|unit| unit.difference_from_si(quantity.standard_uncertainty.si())),
            unit: Some(symbol.to_owned()),
        }
    }

    /// A sag, or that there is none.
    pub(crate) fn sag(sag: Uncertain<Length>, units: UnitSystem) -> Self {
        if sag.value.si() > 0.0 { Self::uncertain(sag, units) } else { Self::words("topped out") }
    }

    /// A number without unit.
    pub(crate) fn number(value: f64, text: String) -> Self {
        Self { text, value: Some(value), standard_uncertainty: None, unit: None }
    }

    pub(crate) fn or<T>(value: Option<T>, why_not: &str, entry: impl FnOnce(T) -> Self) -> Self {
        value.map_or_else(|| Self::words(why_not), entry)
    }
}

/// A name with its entry.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Line {
    /// What it is.
    pub name: String,
    /// Its value.
    pub entry: SheetEntry,
}

impl Line {
    pub(crate) fn new(name: impl Into<String>, entry: SheetEntry) -> Self {
        Self { name: name.into(), entry }
    }
}

/// A table: every row has one entry per column.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct SheetTable {
    /// Column heads.
    pub columns: Vec<String>,
    /// Rows.
    pub rows: Vec<Vec<SheetEntry>>,
}

impl SheetTable {
    pub(crate) fn new<const N: usize>(columns: [&str; N], rows: Vec<[SheetEntry; N]>) -> Self {
        Self {
            columns: columns.iter().map(|&column| column.to_owned()).collect(),
            rows: rows.into_iter().map(Vec::from).collect(),
        }
    }
}
