//! JSON to tree and back, by `serde_json`. Values are read as raw slices of the text, so that each knows its place.

use core::fmt;

use serde::de::{Deserialize, Deserializer, MapAccess, Visitor};
use serde_json::value::RawValue;

use super::toml_text::Syntax;
use super::tree::{Entry, Node, Value};

/// Deepest nesting read; a bike needs seven.
const DEEPEST: usize = 64;

/// Reads a JSON document; the grammar's first fault ends it.
pub(super) fn read(text: &str) -> Result<Node, Syntax> {
    let syntax = |error: &serde_json::Error| Syntax { byte: byte_of(text, error), message: plain(error) };
    let raw: &RawValue = serde_json::from_str(text).map_err(|error| syntax(&error))?;
    convert(raw, text, DEEPEST)
}

/// Byte of the line and column that serde_json counts from 1 (the column in bytes).
fn byte_of(text: &str, error: &serde_json::Error) -> usize {
    let line_start: usize = text.split_inclusive('\n').take(error.line().saturating_sub(1)).map(str::len).sum();
    line_start + error.column().saturating_sub(1)
}

/// The message without the place, which is told apart.
fn plain(error: &serde_json::Error) -> String {
    let message = error.to_string();
    message.split(" at line ").next().unwrap_or(&message).to_owned()
}

fn convert(raw: &RawValue, text: &str, depth: usize) -> Result<Node, Syntax> {
    let source = raw.get();
    // The raw value borrows from the text, so the difference of addresses is its place.
    let start = (source.as_ptr() as usize).saturating_sub(text.as_ptr() as usize);
    let fault = |message| Syntax { byte: start, message };
    let inner = depth.checked_sub(1).ok_or_else(|| fault("nested too deep".to_owned()))?;
    let grammar = |error: serde_json::Error| fault(plain(&error));
    let value = match source.as_bytes().first() {
        Some(b'{') => {
            let Entries(entries) = serde_json::from_str(source).map_err(grammar)?;
            let entry = |(key, raw)| {
                let node = convert(raw, text, inner)?;
                Ok(Entry { key, key_span: node.span.clone(), node })
            };
            Value::Table(entries.into_iter().map(entry).collect::<Result<_, Syntax>>()?)
        }
        Some(b'[') => {
            let items: Vec<&RawValue> = serde_json::from_str(source).map_err(grammar)?;
            Value::List(items.into_iter().map(|item| convert(item, text, inner)).collect::<Result<_, _>>()?)
        }
        Some(b'"') => Value::Text(serde_json::from_str(source).map_err(grammar)?),
        Some(b't') => Value::Flag(true),
        Some(b'f') => Value::Flag(false),
        Some(b'n') => Value::Nothing,
        _ => Value::Number(source.parse().unwrap_or(f64::NAN)),
    };
    Ok(Node { span: Some(start..start + source.len()), value })
}

/// The members of an object in order, repeats kept so that they can be told.
struct Entries<'a>(Vec<(String, &'a RawValue)>);

impl<'de: 'a, 'a> Deserialize<'de> for Entries<'a> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Members;
        impl<'de> Visitor<'de> for Members {
            type Value = Entries<'de>;
            fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
                formatter.write_str("an object")
            }
            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Entries<'de>, A::Error> {
                let mut entries = Vec::new();
                while let Some(entry) = map.next_entry()? {
                    entries.push(entry);
                }
                Ok(Entries(entries))
            }
        }
        deserializer.deserialize_map(Members)
    }
}

/// Writes a document, indented.
pub(super) fn write(root: &Node) -> String {
    format!("{:#}\n", to_json(root))
}

/// The tree as a JSON value.
pub(super) fn to_json(node: &Node) -> serde_json::Value {
    use serde_json::Value as Json;
    match &node.value {
        Value::Text(text) | Value::Date(text) => Json::String(text.clone()),
        Value::Number(number) => number_to_json(*number),
        Value::Flag(flag) => Json::Bool(*flag),
        Value::Nothing => Json::Null,
        Value::List(items) => Json::Array(items.iter().map(to_json).collect()),
        Value::Table(entries) => {
            Json::Object(entries.iter().map(|entry| (entry.key.clone(), to_json(&entry.node))).collect())
        }
    }
}

/// Whole numbers stay whole, so that integer fields read them.
fn number_to_json(number: f64) -> serde_json::Value {
    /// Below this every whole `f64` is itself as an integer.
    const EXACT: f64 = 9_007_199_254_740_992.0;
    if number.fract() == 0.0 && number.abs() < EXACT {
        serde_json::Value::from(number as i64)
    } else {
        serde_json::Value::from(number)
    }
}

/// A JSON value as a tree without places.
pub(super) fn from_json(json: &serde_json::Value) -> Node {
    use serde_json::Value as Json;
    let value = match json {
        Json::Null => Value::Nothing,
        Json::Bool(flag) => Value::Flag(*flag),
        Json::Number(number) => Value::Number(number.as_f64().unwrap_or(f64::NAN)),
        Json::String(text) => Value::Text(text.clone()),
        Json::Array(items) => Value::List(items.iter().map(from_json).collect()),
        Json::Object(members) => Value::Table(
            members
                .iter()
                .map(|(key, value)| Entry { key: key.clone(), key_span: None, node: from_json(value) })
                .collect(),
        ),
    };
    value.into()
}
