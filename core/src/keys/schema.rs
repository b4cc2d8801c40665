//! The JSON Schema (draft 2020-12) of the bike file, made from the same tables as the reader.

use serde_json::{Map, Value, json};

use super::bike::BikeKeys;
use super::shape::{Key, Shape, Table, VERSION};
use super::table::Keys;
use crate::record::Change;
use crate::units::Kind;

/// A decimal number as the unit text reads it.
const NUMBER: &str = r"[+\-\u2212]?(\d+\.?\d*|\.\d+)([eE][+\-\u2212]?\d+)?";

/// A day, with or without a time.
const DATE: &str = r"^\d{4}-\d{2}-\d{2}([ T]\d{2}:\d{2}(:\d{2})?)?$";

/// The JSON Schema of the bike file as text. What it lets pass may still be refused by the parts themselves (a linkage that
/// locks, an air gap that closes); what it refuses is no bike file.
#[must_use]
pub fn json_schema() -> String {
    let mut definitions = Map::new();
    let Value::Object(mut root) = table(BikeKeys::table(), &mut definitions) else { return String::new() };
    if let Some(Value::Object(properties)) = root.get_mut("properties") {
        let by_editors =
            json!({ "description": "Where this schema is, for an editor; in JSON only.", "type": "string" });
        properties.insert("$schema".to_owned(), by_editors);
    }
    let mut schema = Map::new();
    schema.insert("$schema".to_owned(), json!("https://json-schema.org/draft/2020-12/schema"));
    schema.insert("$id".to_owned(), json!(format!("urn:wheelrate:bike-file:{VERSION}")));
    schema.insert("title".to_owned(), json!("Bike file"));
    schema.extend(root);
    schema.insert("$defs".to_owned(), Value::Object(definitions));
    format!("{:#}\n", Value::Object(schema))
}

fn table(table: &'static Table, definitions: &mut Map<String, Value>) -> Value {
    let mut properties = Map::new();
    for key in table.keys() {
        properties.insert(key.name.to_owned(), described(key, definitions));
    }
    let required: Vec<&str> = table.keys().filter(|key| key.required).map(|key| key.name).collect();
    let mut schema = Map::new();
    schema.insert("description".to_owned(), json!(table.doc));
    schema.insert("type".to_owned(), json!("object"));
    schema.insert("properties".to_owned(), Value::Object(properties));
    if !required.is_empty() {
        schema.insert("required".to_owned(), json!(required));
    }
    let named = table.named.map_or(json!(false), |named| shape(&named, definitions));
    schema.insert("additionalProperties".to_owned(), named);
    if !table.sets().is_empty() {
        schema.insert("oneOf".to_owned(), Value::Array(table.sets().iter().map(|set| only(table, set)).collect()));
    }
    Value::Object(schema)
}

/// A table in its place, or a reference to its definition.
fn defined(inner: &'static Table, definitions: &mut Map<String, Value>) -> Value {
    let Some(name) = inner.defined.map(str::to_owned) else { return table(inner, definitions) };
    if !definitions.contains_key(&name) {
        // The place is taken before the table is written, for a table that holds itself.
        definitions.insert(name.clone(), Value::Null);
        let written = table(inner, definitions);
        definitions.insert(name.clone(), written);
    }
    json!({ "$ref": format!("#/$defs/{name}") })
}

/// Exactly these keys of all the sets.
fn only(table: &Table, set: &[&str]) -> Value {
    let mut others: Vec<&str> = table.sets().iter().flat_map(|set| set.iter().copied()).collect();
    others.retain(|name| !set.contains(name));
    let mut forbidden = Map::new();
    for name in others {
        forbidden.insert(name.to_owned(), json!(false));
    }
    json!({ "required": set, "properties": forbidden })
}

fn described(key: &Key, definitions: &mut Map<String, Value>) -> Value {
    let mut schema = shape(&key.shape, definitions);
    if let Value::Object(members) = &mut schema {
        members.insert("description".to_owned(), json!(key.doc));
    }
    schema
}

fn shape(shape: &Shape, definitions: &mut Map<String, Value>) -> Value {
    match shape {
        Shape::Quantity(kind) => quantity(kind, definitions),
        Shape::Uncertain(kind) => uncertain(kind, definitions),
        Shape::Number => json!({ "type": "number" }),
        Shape::Count => json!({ "type": "integer", "minimum": 0 }),
        Shape::Version => json!({ "const": VERSION as i64 }),
        Shape::Text => json!({ "type": "string" }),
        Shape::Any => json!(true),
        Shape::Date => json!({ "type": "string", "pattern": DATE }),
        Shape::DateOfChange => json!({
            "anyOf": [{ "type": "string", "pattern": DATE }, { "const": Change::SUPPOSED }],
        }),
        Shape::Choice(words) => json!({ "enum": words }),
        Shape::Point(coordinate) => {
            let coordinate = self::shape(coordinate, definitions);
            json!({ "type": "array", "prefixItems": [coordinate, coordinate], "minItems": 2, "maxItems": 2 })
        }
        Shape::Row(kinds) => {
            let columns: Vec<Value> = kinds.iter().map(|kind| quantity(kind, definitions)).collect();
            json!({ "type": "array", "minItems": columns.len(), "maxItems": columns.len(), "prefixItems": columns })
        }
        Shape::Table(inner) => defined(inner(), definitions),
        Shape::OneOf(forms) => {
            json!({ "anyOf": forms.iter().map(|form| self::shape(form, definitions)).collect::<Vec<_>>() })
        }
        Shape::List(of) => json!({ "type": "array", "items": self::shape(of, definitions) }),
    }
}

/// A number of inches may be a fraction.
const FRACTION: &str = r#"([0-9]+[ -])?[0-9]+/[0-9]+\s*(in|inch|")"#;

fn spellings(kind: &'static Kind) -> String {
    let all = kind.units.iter().flat_map(|unit| core::iter::once(unit.symbol).chain(unit.aliases.iter().copied()));
    all.map(escaped).collect::<Vec<_>>().join("|")
}

fn quantity(kind: &'static Kind, definitions: &mut Map<String, Value>) -> Value {
    let name = kind.name.replace(' ', "_");
    definitions.entry(name.clone()).or_insert_with(|| {
        let plain = format!(r"{NUMBER}\s*({})", spellings(kind));
        let pattern = match kind.unit("in") {
            Some(_) => format!(r"^\s*({plain}|{FRACTION})\s*$"),
            None => format!(r"^\s*{plain}\s*$"),
        };
        json!({
            "description": format!("A {} with its unit: {}.", kind.name, kind.unit_list()),
            "type": "string",
            "pattern": pattern,
        })
    });
    json!({ "$ref": format!("#/$defs/{name}") })
}

fn uncertain(kind: &'static Kind, definitions: &mut Map<String, Value>) -> Value {
    let name = format!("uncertain_{}", kind.name.replace(' ', "_"));
    definitions.entry(name.clone()).or_insert_with(|| {
        let units = spellings(kind);
        json!({
            "description": format!("A {} ± its standard uncertainty, with their unit: {}.", kind.name, kind.unit_list()),
            "type": "string",
            "pattern": format!(r"^\s*{NUMBER}\s*({units})?\s*(±|\+-|\+/-)\s*{NUMBER}\s*({units})\s*$"),
        })
    });
    json!({ "$ref": format!("#/$defs/{name}") })
}

/// A unit's spelling as a pattern; a superscript may stand for its digit.
fn escaped(spelling: &str) -> String {
    let mut pattern = String::new();
    for symbol in spelling.chars() {
        match symbol {
            '2' => pattern.push_str("[2\u{b2}]"),
            '3' => pattern.push_str("[3\u{b3}]"),
            ' ' => pattern.push_str(r"\s+"),
            '^' | '*' => {
                pattern.push('\\');
                pattern.push(symbol);
            }
            other => pattern.push(other),
        }
    }
    pattern
}
