//! JSON to tree and back, by `serde_json`. Values are read as raw slices of the text, so that each knows its place.

use core::fmt;

use serde::de::{Deserialize, Deserializer, MapAccess, Visitor};
use serde_json::value::RawValue;

use crate::value::{Entry, Node, Value};

/// A fault of grammar and its byte.
type Syntax = (usize, String);

/// The key that names the schema of a document.
const SCHEMA: &str = "$schema";
/// Deepest nesting read; a bike needs seven.
const DEEPEST: usize = 64;

/// Reads a JSON document; the grammar's first fault ends it.
pub(super) fn read(text: &str) -> Result<Node, Syntax> {
    let syntax = |error: &serde_json::Error| (byte_of(text, error), plain(error));
    let raw: &RawValue = serde_json::from_str(text).map_err(|error| syntax(&error))?;
    let mut node = convert(raw, text, DEEPEST)?;
    if let Value::Table(entries) = &mut node.value {
        // By this editors find the schema of a document; it says nothing of a bike.
        entries.retain(|entry| entry.key != SCHEMA || !matches!(entry.value(), Value::Text(_)));
    }
    Ok(node)
}

/// Byte of the line and column that serde_json counts from 1 (the column in bytes).
fn byte_of(text: &str, error: &serde_json::Error) -> usize {
    let line_start: usize = text.split_inclusive('\n').take(error.line().saturating_sub(1)).map(str::len).sum();
    line_start + error.column().saturating_sub(1)
}

/// The message without the place, which is kept apart.
fn plain(error: &serde_json::Error) -> String {
    let message = error.to_string();
    message.split(" at line ").next().unwrap_or(&message).to_owned()
}

fn convert(raw: &RawValue, text: &str, depth: usize) -> Result<Node, Syntax> {
    let source = raw.get();
    // The raw value borrows from the text, so the difference of addresses is its place.
    let start = (source.as_ptr() as usize).saturating_sub(text.as_ptr() as usize);
    let fault = |message| (start, message);
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

/// The members of an object in order, repeats kept so that they can be reported.
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
    // A tree of text and finite numbers is always JSON.
    let text = serde_json::to_string_pretty(&root.value.worded()).unwrap_or_default();
    format!("{text}\n")
}
