//! The bike file: text to [`Bike`] and back.
//!
//! TOML that a person can write in the garage and read next year; JSON with the same keys works too. Every quantity is text
//! with its unit. A file says which format it is in (`format = 1`), and everything but the bike's name may be left out.
//!
//! ```toml
#![doc = include_str!("../demo/patrol.toml")]
//! ```
//!
//! **Reading** is in two passes over a tree that knows its places in the text. The first holds the tree against one table of
//! keys (`format.rs`): unknown keys, missing keys, wrong kinds of value, units. The second builds the parts, which know what
//! is possible. Every fault is told, each with line, column, key path, what was found and what would do; a part is not built
//! from a faulty table, so that one slip is told once.
//!
//! **Writing** keeps every bit: what is written reads back as an equal bike. Comments and the order of a file are not kept.
//!
//! **The log**: the file describes the bike as it is now. A `[[change]]` says on which day what was done, and what stood there
//! before (`was`, by key path) or was not there (`added`); [`Bike::with_logged_change`] writes one, [`Bike::at`] goes back to a
//! date. A change of the date `what if` was not made ([`Bike::what_if`]). Readings then carry their day, with a time where the bike was changed on the same day.
//!
//! ```toml
//! [[change]]
//! date = "2026-06-14"
//! was = { "rear.shock.spring.rate" = "52 N/mm", "rear.shock.spring.preload" = "14 mm" }
//! note = "stiffer spring"
//! ```
//!
//! ```
//! use wheelrate::Bike;
//! use wheelrate::units::parse;
//! use wheelrate::wheel::Wheel;
//! let bike = Bike::from_toml(wheelrate::demo::PATROL)?;
//! let stiffer = bike.what_if(&[("rear.shock.spring.rate", "56 N/mm")])?;
//! let travel = parse("102 mm")?;
//! assert!(stiffer.rear()?.wheel_rate(travel)?.si() > bike.rear()?.wheel_rate(travel)?.si());
//! assert_eq!(Bike::from_toml(&stiffer.to_toml())?, stiffer);
//!
//! let faults = wheelrate::file::check("format = 1\n[bike]\nname = 300\n");
//! assert_eq!(faults[0].to_string(), "line 3, column 8: bike.name: found a number `300`, wanted text in quotes");
//! # use wheelrate::units::Quantity;
//! # Ok::<(), wheelrate::Error>(())
//! ```
//!
//! The same table of keys makes the JSON Schema ([`json_schema`]), shipped as `schema/bike.schema.json`.

mod check;
mod faults;
mod format;
mod json_text;
mod log;
mod part;
mod practice;
mod read;
mod schema;
mod shape;
mod toml_text;
mod tree;
mod write;

pub(crate) use log::{path_faults, undone};
pub use schema::json_schema;

use core::cell::RefCell;

use crate::bike::Bike;
use crate::error::{Error, Fault, FileError, Result, SetupError, SpringError};
use crate::log::Log;
use crate::record::End;
use check::Around;
use faults::Faults;
use shape::Shape;
use toml_text::Syntax;
use tree::{Node, Step, Value, key_path};

static ROOT: Shape = Shape::Table(&format::ROOT);

impl Bike {
    /// Reads a bike file.
    ///
    /// # Errors
    /// [`FileError`] with every fault of the text.
    pub fn from_toml(text: &str) -> Result<Self> {
        let (node, syntax) = toml_text::read(text);
        Ok(read_text(&node, syntax, text).map_err(told)?.0)
    }

    /// Reads a bike file written as JSON.
    ///
    /// # Errors
    /// [`FileError`] with every fault of the text.
    pub fn from_json(text: &str) -> Result<Self> {
        match json_text::read(text) {
            Ok(node) => Ok(read_text(&node, Vec::new(), text).map_err(told)?.0),
            Err(syntax) => Err(told(grammar(vec![syntax], text).finish()).into()),
        }
    }

    /// The ends that hold a part of your own: they have no text form. A bike with one cannot be serialised, and a file
    /// written of it says so in the place of the part and cannot be read back.
    #[must_use]
    pub fn ends_without_text(&self) -> Vec<End> {
        let parts = self.parts();
        let has_text = |end: &End| match end {
            End::Front => parts.front.as_ref().is_none_or(|front| serde_json::to_value(front.fork()).is_ok()),
            End::Rear => parts.rear.as_ref().is_none_or(|rear| serde_json::to_value(rear.shock()).is_ok()),
        };
        End::BOTH.into_iter().filter(|end| parts.own.at(*end).is_some() || !has_text(end)).collect()
    }

    /// The bike as a TOML file, which reads back as an equal bike; see [`ends_without_text`](Self::ends_without_text).
    #[must_use]
    pub fn to_toml(&self) -> String {
        toml_text::write(&write::tree(self))
    }

    /// The bike as a JSON file, which reads back as an equal bike; see [`ends_without_text`](Self::ends_without_text).
    #[must_use]
    pub fn to_json(&self) -> String {
        json_text::write(&write::tree(self))
    }
}

/// Every fault of a bike file in TOML, in the order of the text; empty for a sound file. Readings that contradict each
/// other are faults here; a bike is read from them all the same, and its fit says so again.
#[must_use]
pub fn check(text: &str) -> Vec<Fault> {
    let (node, syntax) = toml_text::read(text);
    check_text(&node, syntax, text)
}

/// As [`check`], for a bike file in JSON.
#[must_use]
pub fn check_json(text: &str) -> Vec<Fault> {
    match json_text::read(text) {
        Ok(node) => check_text(&node, Vec::new(), text),
        Err(syntax) => grammar(vec![syntax], text).finish(),
    }
}

fn check_text(node: &Node, syntax: Vec<Syntax>, text: &str) -> Vec<Fault> {
    match read_text(node, syntax, text) {
        Ok((_, log)) => contradictory_readings(node, &log, text),
        Err(faults) => faults,
    }
}

/// Readings that no machine can give, told at the first reading of their set.
fn contradictory_readings(node: &Node, log: &Log, text: &str) -> Vec<Fault> {
    let mut faults = Faults::new(Some(text));
    let rows = node.get("reading").map_or(&[][..], Node::items);
    for set in End::BOTH.into_iter().flat_map(|end| log.sets(end)) {
        let Some((row, node)) = set.readings.first().and_then(|row| Some((row, rows.get(*row)?))) else { continue };
        if let Err(Error::Setup(SetupError::Contradiction { contradictions, .. })) = set.bike().fit_end(set.end) {
            for message in contradictions {
                let wanted = "readings that agree: read again what is named".to_owned();
                faults.add(&node.span, &format!("reading[{row}]"), set.end.to_string(), wanted, message);
            }
        }
    }
    faults.finish()
}

/// A value of TOML, or plain text.
fn value_of(text: &str) -> Value {
    toml_text::read_value(text).unwrap_or_else(|| Value::Text(text.trim().to_owned()))
}

fn told(faults: Vec<Fault>) -> FileError {
    FileError { faults }
}

fn nowhere(path: &str, step: &str) -> FileError {
    let message = format!("the path leads nowhere at `{step}`");
    let wanted = "keys joined by points, rows in brackets: `front.fork.leg[0].spring.rate`".to_owned();
    told(vec![Fault {
        line: None,
        column: None,
        key_path: path.to_owned(),
        found: step.to_owned(),
        message: format!("{message}, wanted {wanted}"),
        wanted,
    }])
}

fn grammar(syntax: Vec<Syntax>, text: &str) -> Faults<'_> {
    let mut faults = Faults::new(Some(text));
    for Syntax { byte, message } in syntax {
        faults.grammar(byte, &message);
    }
    faults
}

/// Reads a tree made of a text. Where the grammar is broken, keys are still checked, but nothing is built.
fn read_text(node: &Node, syntax: Vec<Syntax>, text: &str) -> core::result::Result<(Bike, Log), Vec<Fault>> {
    let sound = syntax.is_empty();
    let mut faults = grammar(syntax, text);
    check::check(&ROOT, node, "", Around::new(sound), &mut faults);
    if sound { build(node, faults) } else { Err(faults.finish()) }
}

/// Reads a tree made in code.
fn read_node(node: &Node) -> core::result::Result<Bike, Vec<Fault>> {
    let mut faults = Faults::new(None);
    check::check(&ROOT, node, "", Around::new(true), &mut faults);
    build(node, faults).map(|(bike, _)| bike)
}

fn build(node: &Node, faults: Faults<'_>) -> core::result::Result<(Bike, Log), Vec<Fault>> {
    let faults = RefCell::new(faults);
    let bike = read::bike(node, &faults);
    let mut faults = faults.into_inner();
    match bike {
        Ok(bike) if faults.is_empty() => Ok(bike),
        _ => {
            if faults.is_empty() {
                faults.wrong(node, "", ROOT.wanted());
            }
            Err(faults.finish())
        }
    }
}

impl core::fmt::Display for Step {
    fn fmt(&self, formatter: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Key(key) => formatter.pad(&key_path("", key)),
            Self::Row(row) => write!(formatter, "[{row}]"),
        }
    }
}

impl serde::Serialize for Bike {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> core::result::Result<S::Ok, S::Error> {
        if let Some(end) = self.ends_without_text().first() {
            let part = format!("the {end} end, or something in it,");
            return Err(serde::ser::Error::custom(SpringError::NoText { part }));
        }
        json_text::to_json(&write::tree(self)).serialize(serializer)
    }
}

impl<'de> serde::Deserialize<'de> for Bike {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> core::result::Result<Self, D::Error> {
        let json = serde_json::Value::deserialize(deserializer)?;
        read_node(&json_text::from_json(&json)).map_err(|faults| serde::de::Error::custom(told(faults)))
    }
}

#[cfg(test)]
mod tests;
