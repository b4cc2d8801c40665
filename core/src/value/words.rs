//! Values in the words of a log and of a command line: TOML, or plain text, for which the quotes may be left out.

use toml::de::{DeTable, DeValue};
use toml_writer::TomlWrite as _;

use super::{Entry, Node, Value};

impl Value {
    /// Reads a value of TOML (`["-66 mm", "-93 mm"]`, `1.2`, `{ from = "25 mm", to = "40 mm" }`), or plain text without its
    /// quotes (`56 N/mm`).
    #[must_use]
    pub fn from_text(text: &str) -> Self {
        read_toml(text).unwrap_or_else(|| Self::Text(text.trim().to_owned()))
    }

    /// The value that [`in_words`](Self::in_words) wrote.
    pub(crate) fn from_words(text: &str) -> Self {
        if in_quotes(text) { Self::Text(text.to_owned()) } else { Self::from_text(text) }
    }

    /// The value in the words of a change: text without its quotes where that reads back the same, else TOML.
    pub(crate) fn in_words(&self) -> String {
        match self {
            Self::Text(text) if in_quotes(text) => text.clone(),
            _ => self.to_string(),
        }
    }
}

/// As TOML writes it on one line.
impl core::fmt::Display for Value {
    fn fmt(&self, formatter: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        formatter.write_str(&inline(self))
    }
}

/// Is this the text of a text, and of nothing else?
fn in_quotes(text: &str) -> bool {
    read_toml(text).is_none() && text.trim() == text
}

/// One TOML value; `None` when it is none.
fn read_toml(text: &str) -> Option<Value> {
    DeValue::parse(text).ok().map(|value| from_toml(value.get_ref()))
}

/// The entries of a TOML table.
pub(crate) fn entries(table: &DeTable<'_>) -> Vec<Entry> {
    table
        .iter()
        .map(|(key, node)| Entry {
            key: key.get_ref().to_string(),
            key_span: Some(key.span()),
            node: Node { span: Some(node.span()), value: from_toml(node.get_ref()) },
        })
        .collect()
}

fn from_toml(value: &DeValue<'_>) -> Value {
    match value {
        DeValue::String(text) => Value::Text(text.to_string()),
        DeValue::Integer(number) => {
            Value::Number(i64::from_str_radix(number.as_str(), number.radix()).map_or(f64::NAN, |whole| whole as f64))
        }
        DeValue::Float(number) => Value::Number(number.as_str().parse().unwrap_or(f64::NAN)),
        DeValue::Boolean(flag) => Value::Flag(*flag),
        DeValue::Datetime(date) => Value::Date(date.to_string()),
        DeValue::Array(items) => Value::List(
            items.iter().map(|item| Node { span: Some(item.span()), value: from_toml(item.get_ref()) }).collect(),
        ),
        DeValue::Table(table) => Value::Table(entries(table)),
    }
}

/// A key as TOML writes it.
pub(crate) fn key(name: &str) -> String {
    let mut text = String::new();
    // Writing to a String does not fail.
    let _ = text.key(name);
    text
}

/// A value as TOML writes it on one line.
pub(crate) fn inline(value: &Value) -> String {
    match value {
        Value::Text(text) | Value::Date(text) => {
            let mut out = String::new();
            let _ = out.value(text.as_str());
            out
        }
        Value::Number(number) => number_text(*number),
        Value::Flag(flag) => flag.to_string(),
        // TOML has no null; nothing that writes a bike makes one.
        Value::Nothing => "{}".to_owned(),
        Value::NoText(_) => inline(&value.worded()),
        Value::List(items) => {
            format!("[{}]", items.iter().map(|item| inline(&item.value)).collect::<Vec<_>>().join(", "))
        }
        Value::Table(entries) => {
            let inner = entries.iter().map(|entry| format!("{} = {}", key(&entry.key), inline(&entry.node.value)));
            format!("{{ {} }}", inner.collect::<Vec<_>>().join(", "))
        }
    }
}

/// The fewest digits that read back to the same bits; whole numbers without a point.
fn number_text(number: f64) -> String {
    /// Above this a whole number is written with an exponent, which TOML reads as a float.
    const LARGEST_WHOLE: f64 = 1e15;
    if number.fract() == 0.0 && number.abs() < LARGEST_WHOLE { format!("{number:.0}") } else { format!("{number:?}") }
}
