//! A table that has passed the check against its shape, asked for what it holds. What was found wrong there is not told
//! again here; what the parts themselves refuse is told at the part.

use core::cell::RefCell;
use core::fmt::Display;

use super::faults::Faults;
use super::json_text::to_json;
use super::shape::{Shape, Table};
use super::tree::{Node, Step, Value, key_path, steps};
use crate::record::Load;
use crate::units::kind::LENGTH;
use crate::units::{Length, Quantity, parse_si};

/// Why a part was not read.
#[derive(Debug)]
pub(super) enum Stop {
    /// A fault that has been told already.
    Told,
    /// A fault of this part, to be told.
    Refused(String),
}

impl<E: core::error::Error> From<E> for Stop {
    fn from(error: E) -> Self {
        Self::Refused(error.to_string())
    }
}

/// A table of the tree, with its keys and its path.
#[derive(Debug, Clone)]
pub(super) struct Part<'a, 't> {
    pub(super) node: &'a Node,
    pub(super) path: String,
    table: &'static Table,
    faults: &'a RefCell<Faults<'t>>,
}

impl<'a, 't> Part<'a, 't> {
    pub(super) fn root(node: &'a Node, table: &'static Table, faults: &'a RefCell<Faults<'t>>) -> Self {
        Self { node, path: String::new(), table, faults }
    }

    fn shape(&self, key: &str) -> Option<&'static Shape> {
        let shape = self.table.shape(key);
        debug_assert!(shape.is_some(), "`{key}` is not in the table of keys of `{}`", self.path);
        shape
    }

    fn get(&self, key: &str) -> Option<&'a Node> {
        self.shape(key)?;
        self.node.get(key)
    }

    /// A quantity, where there is one.
    pub(super) fn maybe<Q: Quantity>(&self, key: &str) -> Result<Option<Q>, Stop> {
        self.get(key).map(quantity).transpose()
    }

    /// A quantity that must be there.
    pub(super) fn need<Q: Quantity>(&self, key: &str) -> Result<Q, Stop> {
        self.maybe(key)?.ok_or(Stop::Told)
    }

    /// A text, where there is one.
    pub(super) fn text(&self, key: &str) -> Result<Option<&'a str>, Stop> {
        self.get(key)
            .map(|node| match &node.value {
                Value::Text(text) | Value::Date(text) => Ok(text.as_str()),
                _ => Err(Stop::Told),
            })
            .transpose()
    }

    /// A text that must be there.
    pub(super) fn need_text(&self, key: &str) -> Result<&'a str, Stop> {
        self.text(key)?.ok_or(Stop::Told)
    }

    /// A load, where there is one; what is none is told at its key.
    pub(super) fn load(&self, key: &str) -> Result<Option<Load>, Stop> {
        let Some(text) = self.text(key)? else { return Ok(None) };
        Load::parse(text).map(Some).map_err(|error| {
            self.refuse_at(key, &error);
            Stop::Told
        })
    }

    /// A list of quantities; empty where there is none.
    pub(super) fn quantities<Q: Quantity>(&self, key: &str) -> Result<Vec<Q>, Stop> {
        self.get(key).map_or(&[][..], Node::items).iter().map(quantity).collect()
    }

    /// A list of pairs of quantities; empty where there is none.
    pub(super) fn pairs<Q: Quantity>(&self, key: &str) -> Result<Vec<(Q, Q)>, Stop> {
        let pair = |node: &Node| match node.items() {
            [first, second] => Ok((quantity(first)?, quantity(second)?)),
            _ => Err(Stop::Told),
        };
        self.get(key).map_or(&[][..], Node::items).iter().map(pair).collect()
    }

    /// A list of texts; empty where there is none.
    pub(super) fn texts(&self, key: &str) -> Result<Vec<&'a str>, Stop> {
        let text = |node: &'a Node| match &node.value {
            Value::Text(text) => Ok(text.as_str()),
            _ => Err(Stop::Told),
        };
        self.get(key).map_or(&[][..], Node::items).iter().map(text).collect()
    }

    /// A point, where there is one.
    pub(super) fn point(&self, key: &str) -> Result<Option<[Length; 2]>, Stop> {
        let unit = self.node.get("unit").and_then(|unit| match &unit.value {
            Value::Text(unit) => Some(unit.as_str()),
            _ => None,
        });
        self.get(key)
            .map(|node| match node.items() {
                [x, z] => Ok([coordinate(x, unit)?, coordinate(z, unit)?]),
                _ => Err(Stop::Told),
            })
            .transpose()
    }

    /// The part under a key, where there is one.
    pub(super) fn part(&self, key: &str) -> Option<Part<'a, 't>> {
        match (self.shape(key)?, self.node.get(key)?) {
            (Shape::Table(table), node) => Some(self.inner(node, table, key_path(&self.path, key))),
            _ => None,
        }
    }

    /// The rows under a key.
    pub(super) fn rows(&self, key: &str) -> Vec<Part<'a, 't>> {
        let Some(Shape::List(Shape::Table(table))) = self.shape(key) else { return Vec::new() };
        let path = key_path(&self.path, key);
        let items = self.node.get(key).map_or(&[][..], Node::items);
        items.iter().enumerate().map(|(row, node)| self.inner(node, table, format!("{path}[{row}]"))).collect()
    }

    /// The keys of the user's own choice, in order.
    pub(super) fn names(&self) -> impl Iterator<Item = &'a str> {
        self.node.entries().iter().map(|entry| entry.key.as_str()).filter(|key| self.table.key(key).is_none())
    }

    fn inner(&self, node: &'a Node, table: &'static Table, path: String) -> Part<'a, 't> {
        Part { node, path, table, faults: self.faults }
    }

    /// The whole part by its own text form, which is not asked where a fault was told.
    pub(super) fn parse<T: serde::de::DeserializeOwned>(&self) -> Result<T, Stop> {
        if self.faults.borrow().any_in(&self.path) {
            return Err(Stop::Told);
        }
        self.told(serde_json::from_value(to_json(self.node)).map_err(Stop::from))
    }

    /// A value under a key by its own text form, where there is one.
    pub(super) fn parse_at<T: serde::de::DeserializeOwned>(&self, key: &str) -> Result<Option<T>, Stop> {
        if let Some(part) = self.part(key) {
            return part.parse().map(Some);
        }
        let Some(node) = self.get(key) else { return Ok(None) };
        if self.faults.borrow().any_in(&key_path(&self.path, key)) {
            return Err(Stop::Told);
        }
        serde_json::from_value(to_json(node)).map(Some).map_err(|error| {
            self.refuse_at(key, &error);
            Stop::Told
        })
    }

    /// Tells a refusal at this part, or at the key it names.
    pub(super) fn told<T>(&self, result: Result<T, Stop>) -> Result<T, Stop> {
        match result {
            Err(Stop::Refused(message)) => {
                self.refuse(&message);
                Err(Stop::Told)
            }
            other => other,
        }
    }

    /// Tells a fault of this part; a message that starts with the name of a key is told at that key.
    pub(super) fn refuse(&self, message: &impl ToString) {
        let message = message.to_string();
        let mut faults = self.faults.borrow_mut();
        for line in message.lines() {
            let (node, path) = self.named_in(line);
            faults.refused(node, &path, line);
        }
    }

    /// Tells a fault at a key, or at the whole part where the key is missing.
    pub(super) fn refuse_at(&self, key: &str, message: &impl Display) {
        let node = self.node.get(key).unwrap_or(self.node);
        self.faults.borrow_mut().refused(node, &key_path(&self.path, key), &message.to_string());
    }

    /// Tells a fault as deep along some steps as they lead.
    pub(super) fn refuse_in(&self, steps: &[Step], message: &impl Display) {
        let places = (0..=steps.len()).rev().filter_map(|depth| self.node.find(&steps[..depth], &self.path));
        if let Some((node, path)) = places.into_iter().next() {
            self.faults.borrow_mut().refused(node, &path, &message.to_string());
        }
    }

    /// The place that the head of a message names: `front.rear: `, `leg 2: `, `spring rate: `.
    fn named_in(&self, message: &str) -> (&'a Node, String) {
        let (mut node, mut path) = (self.node, self.path.clone());
        for head in message.split(": ") {
            let found = leg(head).or_else(|| steps(head)).and_then(|steps| node.find(&steps, &path));
            // `spring rate` is the `rate` of a spring.
            let last = || head.rsplit(' ').next().and_then(|key| node.find(&[Step::Key(key.to_owned())], &path));
            let Some((inner, inner_path)) = found.or_else(last) else { break };
            (node, path) = (inner, inner_path);
        }
        (node, path)
    }
}

/// `leg 2` is the second row of `leg`.
fn leg(head: &str) -> Option<Vec<Step>> {
    let number: usize = head.strip_prefix("leg ")?.parse().ok()?;
    Some(vec![Step::Key("leg".to_owned()), Step::Row(number.checked_sub(1)?)])
}

fn quantity<Q: Quantity>(node: &Node) -> Result<Q, Stop> {
    match &node.value {
        Value::Text(text) => parse_si(Q::KIND, text).map(Q::from_si).map_err(|_| Stop::Told),
        _ => Err(Stop::Told),
    }
}

fn coordinate(node: &Node, unit: Option<&str>) -> Result<Length, Stop> {
    match (&node.value, unit.and_then(|unit| LENGTH.unit(unit))) {
        (Value::Number(number), Some(unit)) => Ok(Length::from_si(unit.to_si(*number))),
        _ => quantity(node),
    }
}
