//! A bike as far as its file can be read: faults of one end never hide the other.
//!
//! A fault belongs to an end where it stands in its part of the file: under its name, in what is wanted, measured, on sale or
//! known of it, or in one of its readings. Where every fault belongs to one and the same end, the file is read without that end.
//! Fails, as the whole file does, where both ends are at fault, or anything that both hang on: masses, grammar, the log.

use core::fmt;

use super::{Source, json_text, limits::within_limits, log_of, toml_text};
use crate::bike::Bike;
use crate::error::{Address, Error, Fault, FileError, Result, Step};
use crate::keys::{Faults, read};
use crate::record::End;
use crate::report::sheet::Sheet;
use crate::units::UnitSystem;
use crate::value::{Entry, Node, Value};

/// Tables of the file with a part for each end.
const BY_END: [&str; 4] = ["prior", "measuring", "targets", "on_sale"];

/// A bike as far as its file can be read.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Partly {
    /// The bike, without the end that is at fault.
    pub bike: Bike,
    /// The end that is left out, with what is wrong with it.
    pub unread: Option<Unread>,
}

/// An end that cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Unread {
    /// Which.
    pub end: End,
    /// Its faults, in the order of the text. Never empty.
    pub faults: Vec<Fault>,
}

impl fmt::Display for Unread {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{}: cannot be read. ", self.end)?;
        for (at, fault) in self.faults.iter().enumerate() {
            write!(formatter, "{}{fault}", if at > 0 { "; " } else { "" })?;
        }
        formatter.write_str(".")
    }
}

impl Partly {
    /// [`Bike::sheet`], with what is wrong with the end that is left out.
    ///
    /// # Errors
    /// As [`Bike::sheet`].
    pub fn sheet(&self, units: UnitSystem) -> Result<Sheet> {
        let sheet = self.bike.sheet(units)?;
        Ok(match &self.unread {
            Some(unread) => sheet.unread(unread.end, &unread.to_string()),
            None => sheet,
        })
    }
}

/// Reads a bike file as far as it can be read.
///
/// ```
/// let text = wheelrate::demo::PATROL.replacen("stroke = \"118 mm\"", "stroke = \"118\"", 1);
/// assert!(wheelrate::Bike::from_toml(&text).is_err());
/// let read = wheelrate::file::partly(&text)?;
/// assert!(read.bike.front().is_ok() && read.bike.rear().is_err());
/// assert_eq!(read.unread.unwrap().faults[0].key_path.to_string(), "rear.shock.stroke");
/// # Ok::<(), wheelrate::Error>(())
/// ```
///
/// # Errors
/// [`FileError`] with every fault of the text, where they are not all of one end.
pub fn partly(text: &str) -> Result<Partly> {
    Bike::from_toml(text).map(whole).or_else(|error| match within_limits(text) {
        Ok(text) => left_of(text, toml_text::read(text).0, error),
        Err(_) => Err(error),
    })
}

/// As [`partly`], for a bike file in JSON.
///
/// # Errors
/// As [`partly`].
pub fn partly_json(text: &str) -> Result<Partly> {
    Bike::from_json(text).map(whole).or_else(|error| {
        match within_limits(text).ok().and_then(|text| json_text::read(text).ok()) {
            Some(node) => left_of(text, node, error),
            None => Err(error),
        }
    })
}

fn whole(bike: Bike) -> Partly {
    Partly { bike, unread: None }
}

/// What is left without the end at fault; the error, where that is nothing.
fn left_of(text: &str, mut node: Node, error: Error) -> Result<Partly> {
    let Error::File(FileError { faults }) = error else { return Err(error) };
    let places: Vec<Address> = faults.iter().map(|fault| fault.key_path.clone()).collect();
    let left = without_end_at_fault(&mut node, &places).and_then(|end| {
        let bike = sound(Source { text, node }).ok().filter(|bike| !bike.ends().is_empty())?;
        Some((end, bike))
    });
    match left {
        Some((end, bike)) => Ok(Partly { bike, unread: Some(Unread { end, faults }) }),
        None => Err(FileError { faults }.into()),
    }
}

fn sound(source: Source<'_>) -> core::result::Result<Bike, FileError> {
    let faults = Faults::new();
    let bike: Bike = match read(&source.node, &faults) {
        Ok(bike) if faults.is_empty() => bike,
        _ => return Err(FileError { faults: faults.finish(None) }),
    };
    log_of(&bike, Some(&source)).map(|_| bike)
}

/// Takes the end that every fault belongs to out of a file; nothing, where they are not all of one.
pub(super) fn without_end_at_fault(root: &mut Node, faults: &[Address]) -> Option<End> {
    let end = end_at_fault(root, faults)?;
    leave_out(root, end, faults);
    Some(end)
}

/// The end that every fault belongs to.
fn end_at_fault(root: &Node, faults: &[Address]) -> Option<End> {
    let mut of = faults.iter().map(|place| end_of(root, place.steps()));
    let first = of.next()??;
    of.all(|end| end == Some(first)).then_some(first)
}

fn end_of(root: &Node, steps: &[Step]) -> Option<End> {
    match steps {
        [Step::Key(key), Step::Row(row), ..] if key == "reading" => {
            named(root.get("reading")?.items().get(*row)?.get("end")?)
        }
        [Step::Key(key), Step::Row(_), Step::Key(end), ..] if key == "scenario" => end_called(end),
        [Step::Key(key), Step::Key(end), ..] if BY_END.contains(&key.as_str()) => end_called(end),
        [Step::Key(end), ..] => end_called(end),
        _ => None,
    }
}

fn end_called(name: &str) -> Option<End> {
    End::BOTH.into_iter().find(|end| end.name() == name)
}

fn named(node: &Node) -> Option<End> {
    match node.value() {
        Value::Text(name) => end_called(name),
        _ => None,
    }
}

/// Takes out what the file says of an end. Its readings stay, so that those of the other keep their numbers; one that cannot be
/// read is put as one that says nothing.
fn leave_out(root: &mut Node, end: End, faults: &[Address]) {
    let rows_at_fault: Vec<usize> = faults.iter().filter_map(reading_row).collect();
    let Value::Table(entries) = &mut root.value else { return };
    entries.retain(|entry| entry.key != end.name());
    for Entry { key, node, .. } in entries {
        match key.as_str() {
            key if BY_END.contains(&key) => without_key(node, end),
            "scenario" => rows(node).iter_mut().for_each(|row| without_key(row, end)),
            "reading" => {
                for (at, row) in rows(node).iter_mut().enumerate() {
                    if rows_at_fault.contains(&at) {
                        say_nothing(row, end);
                    }
                }
            }
            "change" => {
                rows(node).iter_mut().for_each(|row| forget(row, end));
                if let Value::List(rows) = &mut node.value {
                    rows.retain(|row| row.get("was").or_else(|| row.get("added")).is_some());
                }
            }
            _ => {}
        }
    }
}

fn reading_row(place: &Address) -> Option<usize> {
    match place.steps() {
        [Step::Key(key), Step::Row(row), ..] if key == "reading" => Some(*row),
        _ => None,
    }
}

/// The rows of a list; none of what is no list.
fn rows(node: &mut Node) -> &mut [Node] {
    match &mut node.value {
        Value::List(items) => items,
        _ => &mut [],
    }
}

fn without_key(table: &mut Node, end: End) {
    if let Value::Table(entries) = &mut table.value {
        entries.retain(|entry| entry.key != end.name());
    }
}

/// A reading with the wheel off the ground, on the day of the row.
fn say_nothing(row: &mut Node, end: End) {
    let date = row.get("date").filter(|date| matches!(date.value(), Value::Date(_))).cloned();
    let words = [("end", end.name()), ("load", "none"), ("distance", "1 mm")];
    let mut entries: Vec<Entry> = words.into_iter().map(|(key, text)| Entry::new(key, text.into())).collect();
    entries.extend(date.map(|date| Entry { key: "date".to_owned(), key_span: None, node: date }));
    row.value = Value::Table(entries);
}

/// Takes the keys of an end out of a change.
fn forget(change: &mut Node, end: End) {
    let of_end =
        |path: &str| Address::parse(path).is_some_and(|path| path.starts_with(&Address::default().key(end.name())));
    let Value::Table(entries) = &mut change.value else { return };
    for entry in entries.iter_mut() {
        match &mut entry.node.value {
            Value::Table(was) if entry.key == "was" => was.retain(|was| !of_end(&was.key)),
            Value::List(added) if entry.key == "added" => {
                added.retain(|key| !matches!(key.value(), Value::Text(path) if of_end(path)));
            }
            _ => {}
        }
    }
    entries.retain(|entry| match (&entry.node.value, entry.key.as_str()) {
        (Value::Table(was), "was") => !was.is_empty(),
        (Value::List(added), "added") => !added.is_empty(),
        _ => true,
    });
}

#[cfg(test)]
mod tests;
