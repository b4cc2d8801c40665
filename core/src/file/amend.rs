//! A file that a person wrote, amended: comments, order and blanks stay as they are.
//!
//! Text in, text out, in TOML. The grammar is `toml_edit`'s; what is put in is written by the descriptions of the keys, as a
//! whole file is. A key that stands in a comment (`# rake = "26 deg"`) is brought out of it when it is given a value, so that
//! a file with blanks to fill in is filled in where the blanks are.
//!
//! Every amended text is read again, and must hold what the old one held and what was put in, and nothing else. Where a
//! file is laid out so that this cannot be done, the error says so and nothing is changed.
//!
//! ```
//! use wheelrate::file::amend;
//! let text = "format = 1\n[rear.shock]\nstroke = \"118 mm\"   # caliper\n# length = \"460 mm\"     # eye to eye\n";
//! let amended = amend::set_keys(text, &[("rear.shock.stroke", "120 mm"), ("rear.shock.length", "468.7 mm")])?;
//! assert_eq!(
//!     amended,
//!     "format = 1\n[rear.shock]\nstroke = \"120 mm\"   # caliper\nlength = \"468.7 mm\"     # eye to eye\n"
//! );
//! # Ok::<(), wheelrate::Error>(())
//! ```

mod commented;
mod document;

use toml_edit::{ArrayOfTables, DocumentMut, Item as TomlItem, Table};

use crate::Result;
use crate::bike::{Bike, BikeParts};
use crate::error::{Address, Fault, FileError, Step};
use crate::file::limits::within_limits;
use crate::file::toml_text;
use crate::keys::{Faults, Item, Node, Value};
use crate::record::{Change, Reading};

/// The text with values put at key paths, as [`Bike::correct`] takes them: new keys where there are none.
///
/// Whether the result is a sound bike is for [`check`](crate::file::check) to say: a file may be filled in key by key.
///
/// # Errors
/// [`FileError`] for a text that is no TOML, for a path that leads nowhere, and where the layout of the file does not allow it.
pub fn set_keys(text: &str, values: &[(&str, &str)]) -> Result<String> {
    let mut amended = text.to_owned();
    for (path, value) in values {
        let address: Address = path.parse()?;
        amended = with_key(&amended, &address, &Value::from_text(value))?;
    }
    Ok(amended)
}

/// The text with readings put after those that it has.
///
/// ```
/// use wheelrate::{Bike, demo::PATROL, file::amend};
/// let reading = Bike::from_toml(PATROL)?.parts().readings[5].clone();
/// let amended = amend::append_readings(PATROL, &[reading.clone()])?;
/// assert!(amended.starts_with(PATROL));
/// assert_eq!(Bike::from_toml(&amended)?.parts().readings.last(), Some(&reading));
/// # Ok::<(), wheelrate::Error>(())
/// ```
///
/// # Errors
/// [`FileError`] for a text that is no sound bike file, without the readings or with them.
pub fn append_readings(text: &str, readings: &[Reading]) -> Result<String> {
    let bike = Bike::from_toml(text)?;
    let amended = with_rows(text, "reading", readings.iter().map(Item::write))?;
    let all = bike.parts().readings.iter().chain(readings).cloned().collect();
    same_bike(amended, &Bike::new(BikeParts { readings: all, ..bike.parts().clone() })?, "reading")
}

/// The text with values changed on a date and the change put after those that it has, as [`Bike::with_logged_change`] logs
/// it.
///
/// # Errors
/// [`FileError`] for a text that is no sound bike file; as [`Bike::with_logged_change`].
pub fn log_change(text: &str, date: &str, values: &[(&str, &str)], note: Option<&str>) -> Result<String> {
    let changed = Bike::from_toml(text)?.with_logged_change(date, values, note)?;
    let logged: Vec<Value> = changed.parts().changes.last().map(<Change as Item>::write).into_iter().collect();
    let amended = with_rows(&set_keys(text, values)?, "change", logged.into_iter())?;
    same_bike(amended, &changed, "change")
}

/// The amended text, if it is the text of this bike.
fn same_bike(amended: String, wanted: &Bike, key: &str) -> Result<String> {
    if Bike::from_toml(&amended)? == *wanted { Ok(amended) } else { Err(unfit(Address::default().key(key)).into()) }
}

/// The text with one value put at an address: in place of what stands there, out of a comment, or as a new key.
fn with_key(text: &str, address: &Address, value: &Value) -> core::result::Result<String, FileError> {
    let old = grammar(text)?;
    let inline: toml_edit::Value = value.to_string().parse().map_err(|_| unfit(address.clone()))?;
    let is_there = address.steps().iter().try_fold(&old, |node, step| node.at(step)).is_some();
    let fits = |amended: &String| {
        grammar(amended).is_ok_and(|new| {
            let put = address.steps().iter().try_fold(&new, |node, step| node.at(step));
            put.is_some_and(|put| put.value == *value) && same_but(&new, Some(&old), address.steps())
        })
    };
    if let Some(amended) =
        (!is_there).then(|| commented::uncommented(text, address.steps(), &inline)).flatten().filter(fits)
    {
        return Ok(amended);
    }
    let mut document: DocumentMut = text.parse().map_err(|_| unfit(address.clone()))?;
    document::put(document.as_item_mut(), address.steps(), inline)
        .map_err(|step| FileError { faults: vec![Fault::nowhere(address.clone(), &step)] })?;
    Some(document.to_string()).filter(fits).ok_or_else(|| unfit(address.clone()))
}

/// The text with rows put after those of a list of tables.
fn with_rows(text: &str, key: &str, rows: impl Iterator<Item = Value>) -> core::result::Result<String, FileError> {
    let unfit = || unfit(Address::default().key(key));
    let mut document: DocumentMut = text.parse().map_err(|_| unfit())?;
    let tables: Vec<Table> = rows.map(|row| document::table(&row)).collect::<Option<_>>().ok_or_else(unfit)?;
    match document.get_mut(key) {
        Some(TomlItem::ArrayOfTables(list)) => list.extend(tables),
        Some(TomlItem::Value(toml_edit::Value::Array(list))) => {
            list.extend(tables.into_iter().map(Table::into_inline_table))
        }
        Some(_) => return Err(unfit()),
        // At the very end, after whatever comment stands there.
        None => {
            let mut rows = DocumentMut::new();
            rows.insert(key, TomlItem::ArrayOfTables(tables.into_iter().collect::<ArrayOfTables>()));
            let end = if text.is_empty() || text.ends_with('\n') { "" } else { "\n" };
            return Ok(format!("{text}{end}{rows}"));
        }
    }
    Ok(document.to_string())
}

/// The tree of a text, if its grammar is sound.
fn grammar(text: &str) -> core::result::Result<Node, FileError> {
    let (node, syntax) = toml_text::read(within_limits(text)?);
    if syntax.is_empty() {
        Ok(node)
    } else {
        Err(FileError { faults: Faults::of_grammar(text, syntax).finish(Some(text)) })
    }
}

/// Does a tree hold what another held, but for what stands at some steps?
fn same_but(new: &Node, old: Option<&Node>, steps: &[Step]) -> bool {
    let Some((step, rest)) = steps.split_first() else { return true };
    let inner = |node: &Node| same_but(node, old.and_then(|old| old.at(step)), rest);
    match step {
        Step::Key(key) => {
            let others =
                |node: &Node| node.entries().iter().filter(|entry| entry.key != *key).cloned().collect::<Vec<_>>();
            others(new) == old.map(others).unwrap_or_default() && new.at(step).is_some_and(inner)
        }
        Step::Row(row) => {
            let others = |node: &Node| {
                let rows = node.items().iter().enumerate().filter(|(at, _)| at != row);
                rows.map(|(_, item)| item.clone()).collect::<Vec<_>>()
            };
            others(new) == old.map(others).unwrap_or_default() && new.at(step).is_some_and(inner)
        }
    }
}

/// A layout that cannot be amended.
fn unfit(key_path: Address) -> FileError {
    let wanted = "the new text put in by hand".to_owned();
    let message = format!("the file is laid out so that this cannot be put in and all else kept, wanted {wanted}");
    let found = "a layout that cannot be amended".to_owned();
    FileError { faults: vec![Fault { line: None, column: None, key_path, found, wanted, suggestion: None, message }] }
}

#[cfg(test)]
mod tests;
