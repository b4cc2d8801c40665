//! The bike file: text to [`Bike`] and back.
//!
//! TOML that a person can write in the garage and read next year; JSON with the same keys works too. Every quantity is text
//! with its unit. A file says which format it is in (`format = 1`), and everything but the bike's name may be left out.
//!
//! ```toml
#![doc = include_str!("../demo/patrol.toml")]
//! ```
//!
//! **Reading** goes down the descriptions of the keys ([`keys`](crate::keys)) over a tree that knows its places in the text.
//! Unknown keys, missing keys, wrong kinds of value, units, and what the parts themselves refuse: every fault is found, each with
//! line, column, key path, what was found and what would do. A part is not built from a faulty table, so that one slip is reported
//! once.
//!
//! **Writing** keeps every bit: what is written reads back as an equal bike. Comments and the order of a file are not kept;
//! [`amend`] changes a file that a person wrote, and leaves the rest of it as it stands.
//!
//! **The log**: the file describes the bike as it is now. A `[[change]]` says on which day what was done, and what stood there
//! before (`was`, by key path) or was not there (`added`); [`Bike::with_logged_change`] writes one, [`Bike::at`] goes back to a
//! date. A change of the date `what if` was not made ([`Bike::what_if`]). Readings then carry their day, with a time where the
//! bike was changed on the same day.
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
//! **Limits**: a file of more than [`LARGEST`] bytes or [`MOST_MARKS`] marks is refused unread, a list of more than [`MOST_ROWS`] rows (readings, changes)
//! or a table of as many keys where it stands; of more than [`MOST_FAULTS`] faults the rest are counted. Any file of 10 MB is
//! answered in under 2 s and 300 MB. What is shown of a file is shortened, and nothing in it acts on a terminal.
//!
//! The same descriptions make the JSON Schema ([`keys::json_schema`](crate::keys::json_schema)), shipped as
//! `schema/bike.schema.json`, and the page of keys ([`keys::page`](crate::keys::page)), shipped as `docs/keys.md`.

pub mod amend;
mod check;
mod json_text;
mod limits;
mod partly;
mod practice;
pub mod start;
mod toml_text;

pub use check::{check, check_json};
pub use partly::{Partly, Unread, partly, partly_json};

pub use limits::{LARGEST, MOST_MARKS};

pub use crate::error::MOST_FAULTS;
pub use crate::keys::MOST_ROWS;

use limits::within_limits;

use crate::bike::Bike;
use crate::error::{FileError, Result, SpringError};
use crate::keys::{Faults, Item, Node, Place, contradictions, read};
use crate::log::Log;
use crate::record::End;

/// Reads a file in TOML.
fn from_toml<P: Item>(text: &str) -> core::result::Result<(P, Source<'_>), FileError> {
    let (node, syntax) = toml_text::read(within_limits(text)?);
    part(Source { text, node }, Faults::of_grammar(text, syntax))
}

/// Reads a file in JSON, whose first fault of grammar ends it.
fn from_json<P: Item>(text: &str) -> core::result::Result<(P, Source<'_>), FileError> {
    match json_text::read(within_limits(text)?) {
        Ok(node) => part(Source { text, node }, Faults::new()),
        Err(syntax) => Err(FileError { faults: Faults::of_grammar(text, vec![syntax]).finish(Some(text)) }),
    }
}

/// A text and what it holds.
struct Source<'t> {
    text: &'t str,
    node: Node,
}

/// Reads the tree of a text. Where the grammar is broken, keys are still checked, but nothing is built.
fn part<P: Item>(source: Source<'_>, faults: Faults) -> core::result::Result<(P, Source<'_>), FileError> {
    match read(&source.node, &faults) {
        Ok(part) if faults.is_empty() => Ok((part, source)),
        _ => Err(FileError { faults: faults.finish(Some(source.text)) }),
    }
}

/// The log of a bike, walked through; what is wrong with it is noted in the text, where there is one.
fn log_of(bike: &Bike, source: Option<&Source<'_>>) -> core::result::Result<Log, FileError> {
    Log::new(bike).map_err(|found| {
        let faults = Faults::new();
        contradictions(&Place::root(source.map(|source| &source.node), &faults), found);
        FileError { faults: faults.finish(source.map(|source| source.text)) }
    })
}

/// The bike, if its log is sound.
fn with_sound_log(bike: Bike) -> core::result::Result<Bike, FileError> {
    log_of(&bike, None).map(|_| bike)
}

/// The tree of a part, to be written.
fn tree(part: &impl Item) -> Node {
    part.write().into()
}

/// The ends that hold a part of your own: they have no text form. A bike with one cannot be serialised, and a file
/// written of it says so in the place of the part and cannot be read back.
#[must_use]
pub fn ends_without_text(bike: &Bike) -> Vec<End> {
    let parts = bike.parts();
    let has_text = |end: &End| match end {
        End::Front => parts.front.as_ref().is_none_or(|front| match (front.fork(), front.shock()) {
            (Ok(fork), _) => serde_json::to_value(fork).is_ok(),
            (_, shock) => shock.is_ok_and(|shock| serde_json::to_value(shock).is_ok()),
        }),
        End::Rear => parts.rear.as_ref().is_none_or(|rear| serde_json::to_value(rear.shock()).is_ok()),
    };
    End::BOTH.into_iter().filter(|end| parts.own.at(*end).is_some() || !has_text(end)).collect()
}

impl Bike {
    /// Reads a bike file.
    ///
    /// # Errors
    /// [`FileError`] with every fault of the text.
    pub fn from_toml(text: &str) -> Result<Self> {
        let (bike, source) = from_toml(text)?;
        Ok(log_of(&bike, Some(&source)).map(|_| bike)?)
    }

    /// Reads a bike file written as JSON.
    ///
    /// # Errors
    /// [`FileError`] with every fault of the text.
    pub fn from_json(text: &str) -> Result<Self> {
        let (bike, source) = from_json(text)?;
        Ok(log_of(&bike, Some(&source)).map(|_| bike)?)
    }

    /// The bike as a TOML file, which reads back as an equal bike; see [`ends_without_text`].
    #[must_use]
    pub fn to_toml(&self) -> String {
        toml_text::write(&tree(self))
    }

    /// The bike as a JSON file, which reads back as an equal bike; see [`ends_without_text`].
    #[must_use]
    pub fn to_json(&self) -> String {
        json_text::write(&tree(self))
    }
}

impl serde::Serialize for Bike {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> core::result::Result<S::Ok, S::Error> {
        if let Some(end) = ends_without_text(self).first() {
            let part = format!("the {end} end, or something in it,");
            return Err(serde::ser::Error::custom(SpringError::NoText { part }));
        }
        tree(self).serialize(serializer)
    }
}

impl<'de> serde::Deserialize<'de> for Bike {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> core::result::Result<Self, D::Error> {
        let node = <Node as serde::Deserialize>::deserialize(deserializer)?;
        crate::keys::read_part(&node).and_then(with_sound_log).map_err(serde::de::Error::custom)
    }
}

#[cfg(test)]
mod tests;
