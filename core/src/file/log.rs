//! The words of a log: what a change says stood there before, put back; and changes that log themselves.

use core::cmp::Ordering;

use super::tree::{Node, Step, Value, key_path, steps};
use super::{nowhere, read_node, told, toml_text, write};
use crate::bike::Bike;
use crate::error::{BikeError, Fault, Result};
use crate::record::{Change, Moment};

/// Parts of the file that are no part of the bike.
const NOT_THE_BIKE: [&str; 3] = ["format", "reading", "change"];

/// A value in the words of a change: text without its quotes where that reads back the same, else TOML.
pub(super) fn plain(node: &Node) -> String {
    match &node.value {
        Value::Text(text) if in_quotes(text) => text.clone(),
        _ => toml_text::inline(node),
    }
}

/// The value that [`plain`] wrote.
pub(super) fn from_plain(text: &str) -> Value {
    if in_quotes(text) { Value::Text(text.to_owned()) } else { super::value_of(text) }
}

/// Is this the text of a text, and of nothing else?
fn in_quotes(text: &str) -> bool {
    toml_text::read_value(text).is_none() && text.trim() == text
}

impl Change {
    /// Its values in the words that the file is read in.
    pub(crate) fn in_plain_words(mut self) -> Self {
        for (_, value) in &mut self.was {
            *value = plain(&from_plain(value).into());
        }
        self
    }
}

/// What is wrong with the key paths of a change: those that no bike has, and those that meet one before them.
pub(crate) fn path_faults(change: &Change) -> Vec<BikeError> {
    let mut before: Vec<(&str, Vec<Step>)> = Vec::new();
    let mut found = Vec::new();
    for (at, path) in change.paths().enumerate() {
        let field = if at < change.was.len() { "was" } else { "added" };
        match steps_in_bike(path) {
            Some(steps) => {
                found.extend(meeting(field, path, &steps, &before));
                before.push((path, steps));
            }
            None => found.push(BikeError::Logged { field, found: path.to_owned() }),
        }
    }
    found
}

/// What is wrong with a path beside those before it: a part and something in it would both say what stood there.
fn meeting(field: &'static str, path: &str, steps: &[Step], before: &[(&str, Vec<Step>)]) -> Option<BikeError> {
    let meets = |(_, other): &&(&str, Vec<Step>)| steps.iter().zip(other).all(|(one, other)| one == other);
    let (other, others_steps) = before.iter().find(meets)?;
    let (inner, outer) = if steps.len() < others_steps.len() { (*other, path) } else { (path, *other) };
    Some(if steps.len() == others_steps.len() {
        BikeError::Repeated { field, found: path.to_owned() }
    } else {
        BikeError::Nested { field, inner: inner.to_owned(), outer: outer.to_owned() }
    })
}

/// The steps of a path into the bike itself.
fn steps_in_bike(path: &str) -> Option<Vec<Step>> {
    let steps = steps(path)?;
    let inside = |step: &Step| matches!(step, Step::Key(key) if !NOT_THE_BIKE.contains(&key.as_str()));
    steps.first().is_some_and(inside).then_some(steps)
}

/// Puts back what stood there before.
fn undo(tree: &mut Node, change: &Change) -> core::result::Result<(), Vec<Fault>> {
    let lost = |path: &str, step: &str| nowhere(path, step).faults;
    for (path, value) in &change.was {
        let steps = steps(path).ok_or_else(|| lost(path, path))?;
        tree.at_path(&steps).map_err(|step| lost(path, &step.to_string()))?.value = from_plain(value);
    }
    for path in &change.added {
        let steps = steps(path).ok_or_else(|| lost(path, path))?;
        if !tree.remove(&steps) {
            return Err(lost(path, path));
        }
    }
    Ok(())
}

/// The bike before some changes, given newest first.
pub(crate) fn undone(bike: &Bike, changes: &[&Change]) -> core::result::Result<Bike, Vec<Fault>> {
    let mut tree = write::tree(bike);
    changes.iter().try_for_each(|change| undo(&mut tree, change))?;
    read_node(&tree)
}

impl Bike {
    /// The bike with values of its file changed on a date, and the change logged: what stood there before is noted by
    /// itself. Paths and values as for [`with_change`](Self::with_change).
    ///
    /// ```
    /// use wheelrate::{Bike, demo::PATROL};
    /// let bike = Bike::from_toml(PATROL)?;
    /// # let readings = bike.readings().iter().cloned().map(|reading| wheelrate::record::Reading { date: Some("2026-05-31".into()), ..reading });
    /// # let bike = Bike::new(wheelrate::bike::BikeParts { readings: readings.collect(), ..bike.parts().clone() })?;
    /// let stiffer = bike.with_logged_change("2026-06-14", &[("rear.shock.spring.rate", "56 N/mm")], Some("new spring"))?;
    /// assert_eq!(stiffer.changes()[0].was, [("rear.shock.spring.rate".to_owned(), "52 N/mm".to_owned())]);
    /// assert_eq!(stiffer.at("2026-05-31")?, bike);
    /// # Ok::<(), wheelrate::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`with_change`](Self::with_change); [`BikeError::Logged`] for readings and the log itself;
    /// [`BikeError::Repeated`] and [`BikeError::Nested`] for a path given twice, or beside one that holds it;
    /// [`BikeError::NotLater`] when a change of the same keys is logged already that is no earlier; [`BikeError::Order`] when
    /// their order is not said; [`BikeError::Day`].
    pub fn with_logged_change(&self, date: &str, values: &[(&str, &str)], note: Option<&str>) -> Result<Self> {
        if values.is_empty() {
            return Err(BikeError::Logged { field: "values", found: "none".to_owned() }.into());
        }
        let before = write::tree(self);
        let mut tree = before.clone();
        let mut change =
            Change { date: date.to_owned(), note: note.map(str::to_owned), was: Vec::new(), added: Vec::new() };
        let mut given: Vec<(&str, Vec<Step>)> = Vec::new();
        for (path, value) in values {
            let logged = BikeError::Logged { field: "key path", found: (*path).to_owned() };
            let steps = match steps(path) {
                Some(_) => steps_in_bike(path).ok_or(logged)?,
                None => return Err(nowhere(path, path).into()),
            };
            if let Some(fault) = meeting("key path", path, &steps, &given) {
                return Err(fault.into());
            }
            let there = (0..steps.len()).take_while(|&depth| before.find(&steps[..=depth], "").is_some()).count();
            let noted = shown(&steps[..(there + 1).min(steps.len())]);
            if !change.paths().any(|logged| logged == noted) {
                match before.find(&steps, "") {
                    Some((node, _)) => change.was.push((noted, plain(node))),
                    None => change.added.push(noted),
                }
            }
            tree.at_path(&steps).map_err(|step| nowhere(path, &step.to_string()))?.value = super::value_of(value);
            given.push((path, steps));
        }
        let Some(day) = Moment::parse(date) else { return Err(BikeError::Day { found: date.to_owned() }.into()) };
        let before =
            |other: &Change| Moment::parse(&other.date).and_then(|other| other.order(day)) == Some(Ordering::Less);
        let not_before = |other: &&Change| !before(other);
        if let Some(other) = self.changes().iter().filter(|other| other.overlaps(&change)).find(not_before) {
            let (found, other) = (date.to_owned(), other.date.clone());
            if Moment::parse(&other).is_some_and(|logged| logged.order(day).is_some()) {
                return Err(BikeError::NotLater { found, other }.into());
            }
            return Err(BikeError::Order { found, what: "the change", other }.into());
        }
        tree.push_row("change", write::change(&change));
        Ok(read_node(&tree).map_err(told)?)
    }
}

/// Steps as a path.
fn shown(steps: &[Step]) -> String {
    steps.iter().fold(String::new(), |path, step| match step {
        Step::Key(key) => key_path(&path, key),
        Step::Row(row) => format!("{path}[{row}]"),
    })
}

#[cfg(test)]
mod tests;
