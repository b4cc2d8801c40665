//! Checks a tree against its shape: keys, kinds of value, units. Everything that can be told without knowing what the
//! parts do; whatever is wrong is told, not only the first.

use super::faults::Faults;
use super::shape::{Shape, Table, VERSION};
use super::tree::{Node, Value, key_path};
use crate::error::nearest;
use crate::record::{Change, Moment};
use crate::units::kind::LENGTH;
use crate::units::{Kind, parse_si};

/// What stands around a value.
#[derive(Debug, Clone, Copy)]
pub(super) struct Around<'a> {
    /// Unit of bare numbers in points.
    unit: Option<&'a str>,
    /// Are missing keys told? Not where the grammar is broken: the key may be in the part that could not be read.
    missing: bool,
}

impl Around<'_> {
    pub(super) fn new(missing: bool) -> Self {
        Self { unit: None, missing }
    }
}

/// Checks a node against a shape.
pub(super) fn check(shape: &'static Shape, node: &Node, path: &str, around: Around<'_>, faults: &mut Faults<'_>) {
    match (shape, &node.value) {
        (Shape::Quantity(kind), _) => check_quantity(kind, node, path, faults),
        (Shape::Number | Shape::NumberOr(_), Value::Number(number)) if number.is_finite() => {}
        (Shape::Count, Value::Number(number)) if number.fract() == 0.0 && *number >= 0.0 => {}
        (Shape::Version, Value::Number(number)) if *number == VERSION => {}
        (Shape::Text, Value::Text(_)) => {}
        (Shape::Date | Shape::DateOfChange, Value::Date(text) | Value::Text(text)) if Moment::parse(text).is_some() => {
        }
        (Shape::DateOfChange, Value::Text(text)) if text == Change::SUPPOSED => {}
        (Shape::Any, value) if !matches!(value, Value::Nothing) => {}
        (Shape::Choice(words), Value::Text(text)) => {
            if !words.contains(&text.as_str()) {
                let hint = nearest::hint(text, words.iter().copied());
                let message = format!("found `{text}`, wanted {}{hint}", shape.wanted());
                faults.add(&node.span, path, text.clone(), shape.wanted(), message);
            }
        }
        (Shape::Point, Value::List(items)) if items.len() == 2 => {
            for (item, axis) in items.iter().zip(["x", "z"]) {
                check_coordinate(item, &format!("{path}[{axis}]"), around.unit, faults);
            }
        }
        (Shape::Row(kinds), Value::List(items)) if items.len() == kinds.len() => {
            for (column, (item, kind)) in items.iter().zip(*kinds).enumerate() {
                check_quantity(kind, item, &format!("{path}[{column}]"), faults);
            }
        }
        (Shape::List(of), Value::List(items)) => {
            for (row, item) in items.iter().enumerate() {
                check(of, item, &format!("{path}[{row}]"), around, faults);
            }
        }
        (Shape::Table(table) | Shape::NumberOr(table), Value::Table(_)) => {
            check_table(table, node, path, around, faults)
        }
        _ => faults.wrong(node, path, shape.wanted()),
    }
}

fn check_quantity(kind: &'static Kind, node: &Node, path: &str, faults: &mut Faults<'_>) {
    let wanted = Shape::Quantity(kind).wanted();
    let text = match &node.value {
        Value::Text(text) => text.clone(),
        // A bare number gets the message that says which units would do.
        Value::Number(number) => number.to_string(),
        _ => return faults.wrong(node, path, wanted),
    };
    if let Err(error) = parse_si(kind, &text) {
        faults.add(&node.span, path, text, wanted, error.to_string());
    }
}

fn check_coordinate(node: &Node, path: &str, unit: Option<&str>, faults: &mut Faults<'_>) {
    match (&node.value, unit) {
        (Value::Number(number), Some(_)) if number.is_finite() => {}
        (Value::Number(number), Some(_)) => faults.wrong(node, path, format!("a finite number, not {number}")),
        _ => check_quantity(&LENGTH, node, path, faults),
    }
}

fn check_table(table: &'static Table, node: &Node, path: &str, around: Around<'_>, faults: &mut Faults<'_>) {
    let unit = node.get("unit").and_then(|unit| match &unit.value {
        Value::Text(text) => Some(text.as_str()),
        _ => None,
    });
    let around = Around { unit: unit.or(around.unit), ..around };
    for (at, entry) in node.entries().iter().enumerate() {
        let path = key_path(path, &entry.key);
        if node.entries()[..at].iter().any(|before| before.key == entry.key) {
            let message = format!("`{}` is given twice, wanted once", entry.key);
            faults.add(&entry.key_span, &path, entry.key.clone(), "the key once".to_owned(), message);
        }
        let hint = nearest::hint(&entry.key, table.key_names());
        match (table.key(&entry.key), table.named) {
            (Some(key), _) => check(&key.shape, &entry.node, &path, around, faults),
            // A name of the user's own, unless it is a slip of a key: near one, and no such value.
            (None, Some(named)) if hint.is_empty() || fits(named, &entry.node) => {
                check(named, &entry.node, &path, around, faults);
            }
            _ => {
                let wanted = nearest::list(table.key_names());
                let message = format!("unknown key `{}`{hint} (keys here: {wanted})", entry.key);
                faults.add(&entry.key_span, &path, entry.key.clone(), wanted, message);
            }
        }
    }
    if !around.missing {
        return;
    }
    for key in table.keys.iter().filter(|key| key.required && node.get(key.name).is_none()) {
        missing(node, &key_path(path, key.name), key.name, &key.shape.wanted(), faults);
    }
    check_either(table, node, path, faults);
}

/// Is the value of the kind that the shape takes, whatever is in it?
fn fits(shape: &Shape, node: &Node) -> bool {
    match shape {
        Shape::Table(_) => matches!(node.value, Value::Table(_)),
        Shape::NumberOr(_) => matches!(node.value, Value::Number(_) | Value::Table(_)),
        Shape::Point | Shape::List(_) | Shape::Row(_) => matches!(node.value, Value::List(_)),
        _ => matches!(node.value, Value::Text(_) | Value::Number(_)),
    }
}

fn missing(node: &Node, path: &str, name: &str, wanted: &str, faults: &mut Faults<'_>) {
    let message = format!("`{name}` is missing, wanted {wanted}");
    faults.add(&node.span, path, "nothing".to_owned(), wanted.to_owned(), message);
}

/// Exactly one set of keys, whole.
fn check_either(table: &'static Table, node: &Node, path: &str, faults: &mut Faults<'_>) {
    if table.either.is_empty() {
        return;
    }
    let has = |name: &&&str| node.get(name).is_some();
    let all = || table.either.iter().flat_map(|set| set.iter());
    let fits = |set: &&[&str]| all().all(|name| set.contains(name) == has(&name));
    if table.either.iter().any(fits) {
        return;
    }
    let mut present: Vec<&str> = all().filter(has).copied().collect();
    present.sort_unstable();
    present.dedup();
    let sets: Vec<String> = table.either.iter().map(|set| set.join(" + ")).collect();
    let wanted = nearest::list(sets.iter().map(String::as_str));
    let found = if present.is_empty() { "none of them".to_owned() } else { present.join(" + ") };
    let message = format!("found {found}, wanted {wanted}");
    faults.add(&node.span, path, found, wanted, message);
}
