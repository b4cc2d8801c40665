//! What a file holds, whatever it is written in: values in tables and lists, each with its place in the text.

pub(crate) mod words;

use core::fmt;
use core::ops::Range;

use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};
use serde::ser::{Serialize, Serializer};

use crate::error::{SpringError, Step, shortened};

/// Place in the text, in bytes; `None` for what was made in code.
pub(crate) type Span = Option<Range<usize>>;

/// A value and its place.
#[derive(Debug, Clone)]
pub struct Node {
    pub(crate) span: Span,
    pub(crate) value: Value,
}

/// A value, as a file or an edit gives it.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Value {
    /// Text; quantities are text with a unit.
    Text(String),
    /// A plain number.
    Number(f64),
    /// True or false.
    Flag(bool),
    /// A day, with or without a time, written as one.
    Date(String),
    /// JSON's null.
    Nothing,
    /// A list.
    List(Vec<Node>),
    /// A table, its keys in the order given.
    Table(Vec<Entry>),
    /// A part of somebody's own, by its description: it has no text form. Whatever writes it says so.
    NoText(String),
}

/// A key, its place and what it holds.
#[derive(Debug, Clone)]
pub struct Entry {
    pub(crate) key: String,
    pub(crate) key_span: Span,
    pub(crate) node: Node,
}

/// Equal whatever the places in the text.
impl PartialEq for Node {
    fn eq(&self, other: &Self) -> bool {
        self.value == other.value
    }
}

impl PartialEq for Entry {
    fn eq(&self, other: &Self) -> bool {
        self.key == other.key && self.node == other.node
    }
}

impl From<Value> for Node {
    fn from(value: Value) -> Self {
        Self { span: None, value }
    }
}

impl From<&str> for Value {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl From<String> for Value {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

impl From<f64> for Value {
    fn from(number: f64) -> Self {
        Self::Number(number)
    }
}

impl<V: Into<Value>> From<Vec<V>> for Value {
    fn from(items: Vec<V>) -> Self {
        items.into_iter().map(Into::into).collect()
    }
}

impl FromIterator<Value> for Value {
    fn from_iter<I: IntoIterator<Item = Self>>(items: I) -> Self {
        Self::List(items.into_iter().map(Node::from).collect())
    }
}

impl<K: Into<String>> FromIterator<(K, Value)> for Value {
    fn from_iter<I: IntoIterator<Item = (K, Self)>>(entries: I) -> Self {
        Self::Table(entries.into_iter().map(|(key, value)| Entry::new(key, value)).collect())
    }
}

impl Node {
    /// The value.
    #[must_use]
    pub fn value(&self) -> &Value {
        &self.value
    }
}

impl Entry {
    pub(crate) fn new(key: impl Into<String>, value: Value) -> Self {
        Self { key: key.into(), key_span: None, node: value.into() }
    }

    /// The key.
    #[must_use]
    pub fn key(&self) -> &str {
        &self.key
    }

    /// What it holds.
    #[must_use]
    pub fn value(&self) -> &Value {
        &self.node.value
    }
}

impl Node {
    /// The entries of a table, none for anything else.
    pub(crate) fn entries(&self) -> &[Entry] {
        match &self.value {
            Value::Table(entries) => entries,
            _ => &[],
        }
    }

    pub(crate) fn get(&self, key: &str) -> Option<&Self> {
        self.entries().iter().find(|entry| entry.key == key).map(|entry| &entry.node)
    }

    /// The items of a list, none for anything else.
    pub(crate) fn items(&self) -> &[Self] {
        match &self.value {
            Value::List(items) => items,
            _ => &[],
        }
    }

    /// The node at one step from here.
    pub(crate) fn at(&self, step: &Step) -> Option<&Self> {
        match step {
            Step::Key(key) => self.get(key),
            Step::Row(row) => self.items().get(*row),
        }
    }

    /// The same, to be changed.
    pub(crate) fn at_mut(&mut self, step: &Step) -> Option<&mut Self> {
        match (step, &mut self.value) {
            (Step::Key(key), Value::Table(entries)) => {
                entries.iter_mut().find(|entry| entry.key == *key).map(|entry| &mut entry.node)
            }
            (Step::Row(row), Value::List(items)) => items.get_mut(*row),
            _ => None,
        }
    }

    /// As a person would write it, shortened: for `found`.
    pub(crate) fn show(&self) -> String {
        match &self.value {
            Value::Text(text) | Value::Date(text) => shortened(text),
            Value::Number(number) => number.to_string(),
            Value::Flag(flag) => flag.to_string(),
            Value::Nothing => "null".to_owned(),
            Value::NoText(part) => shortened(part),
            Value::List(items) => format!("[{} of them]", items.len()),
            Value::Table(entries) => {
                let keys: Vec<&str> = entries.iter().take(SHOWN).map(|entry| entry.key.as_str()).collect();
                shortened(&format!("{{ {} }}", keys.join(", ")))
            }
        }
    }

    /// What kind of value it is, in words.
    pub(crate) fn kind(&self) -> &'static str {
        match self.value {
            Value::Text(_) => "text",
            Value::Number(_) => "a number",
            Value::Flag(_) => "true or false",
            Value::Date(_) => "a date",
            Value::Nothing => "null",
            Value::List(_) => "a list",
            Value::Table(_) => "a table",
            Value::NoText(_) => "a part without text",
        }
    }

    /// Puts a value where some steps lead, in a tree under construction. The error names the step that leads nowhere.
    pub(crate) fn put_at<'s>(&mut self, steps: &'s [Step], value: Node) -> Result<(), &'s Step> {
        let Some((step, rest)) = steps.split_first() else {
            *self = value;
            return Ok(());
        };
        match (step, &mut self.value) {
            (Step::Key(key), Value::Table(entries)) => {
                let at = entries.iter().position(|entry| entry.key == *key).unwrap_or_else(|| {
                    entries.push(Entry::new(key.clone(), Value::Table(Vec::new())));
                    entries.len() - 1
                });
                entries.get_mut(at).ok_or(step)?.node.put_at(rest, value)
            }
            _ => Err(step),
        }
    }
}

impl Value {
    /// The value with parts that have no text form put into words.
    pub(crate) fn worded(&self) -> Self {
        match self {
            Self::NoText(part) => Self::Text(SpringError::NoText { part: part.clone() }.to_string()),
            Self::List(items) => items.iter().map(|item| item.value.worded()).collect(),
            Self::Table(entries) => {
                entries.iter().map(|entry| (entry.key.clone(), entry.node.value.worded())).collect()
            }
            other => other.clone(),
        }
    }
}

/// Most keys of a table that are shown.
const SHOWN: usize = 8;

impl Serialize for Node {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.value.serialize(serializer)
    }
}

impl Serialize for Value {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        /// Below this every whole `f64` is itself as an integer.
        const EXACT: f64 = 9_007_199_254_740_992.0;
        match self {
            Self::Text(text) | Self::Date(text) => serializer.serialize_str(text),
            // Whole numbers stay whole, so that integer fields read them.
            Self::Number(number) if number.fract() == 0.0 && number.abs() < EXACT => {
                serializer.serialize_i64(*number as i64)
            }
            Self::Number(number) => serializer.serialize_f64(*number),
            Self::Flag(flag) => serializer.serialize_bool(*flag),
            Self::Nothing => serializer.serialize_unit(),
            Self::List(items) => serializer.collect_seq(items),
            Self::NoText(part) => Err(serde::ser::Error::custom(SpringError::NoText { part: part.clone() })),
            Self::Table(entries) => serializer.collect_map(entries.iter().map(|entry| (&entry.key, &entry.node))),
        }
    }
}

impl<'de> Deserialize<'de> for Node {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Value::deserialize(deserializer).map(Self::from)
    }
}

/// Keys keep their order, and repeats are kept, so that they can be refused.
impl<'de> Deserialize<'de> for Value {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Any;
        impl<'de> Visitor<'de> for Any {
            type Value = Value;
            fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
                formatter.write_str("a value of the bike file")
            }
            fn visit_str<E>(self, text: &str) -> Result<Value, E> {
                Ok(Value::from(text))
            }
            fn visit_string<E>(self, text: String) -> Result<Value, E> {
                Ok(Value::Text(text))
            }
            fn visit_f64<E>(self, number: f64) -> Result<Value, E> {
                Ok(Value::Number(number))
            }
            fn visit_i64<E>(self, number: i64) -> Result<Value, E> {
                Ok(Value::Number(number as f64))
            }
            fn visit_u64<E>(self, number: u64) -> Result<Value, E> {
                Ok(Value::Number(number as f64))
            }
            fn visit_bool<E>(self, flag: bool) -> Result<Value, E> {
                Ok(Value::Flag(flag))
            }
            fn visit_unit<E>(self) -> Result<Value, E> {
                Ok(Value::Nothing)
            }
            fn visit_none<E>(self) -> Result<Value, E> {
                Ok(Value::Nothing)
            }
            fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Value, A::Error> {
                let mut list = Vec::new();
                while let Some(item) = items.next_element()? {
                    list.push(item);
                }
                Ok(Value::List(list))
            }
            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Value, A::Error> {
                let mut entries = Vec::new();
                while let Some((key, node)) = map.next_entry()? {
                    entries.push(Entry { key, key_span: None, node });
                }
                Ok(Value::Table(entries))
            }
        }
        deserializer.deserialize_any(Any)
    }
}

#[cfg(test)]
mod tests;
