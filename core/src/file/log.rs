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
    /// itself. Paths and values as for [`what_if`](Self::what_if).
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
    /// As [`what_if`](Self::what_if); [`BikeError::NotLater`] when a change of the same keys is logged already that is no
    /// earlier, or supposed; [`BikeError::Order`] when their order is not said; [`BikeError::Day`].
    pub fn with_logged_change(&self, date: &str, values: &[(&str, &str)], note: Option<&str>) -> Result<Self> {
        let Some(day) = Moment::parse(date) else { return Err(BikeError::Day { found: date.to_owned() }.into()) };
        self.changed(date, values, note, |change| {
            for other in self.changes().iter().filter(|other| other.overlaps(change)) {
                let (found, dated) = (date.to_owned(), other.date.clone());
                match Moment::parse(&other.date).map(|other| other.order(day)) {
                    Some(Some(Ordering::Less)) => {}
                    Some(None) => return Err(BikeError::Order { found, what: "the change", other: dated }),
                    Some(Some(_)) | None => return Err(BikeError::NotLater { found, other: dated }),
                }
            }
            Ok(())
        })
    }

    /// The bike as it would be with some values of its file changed: `what_if(&[("rear.shock.spring.rate", "56 N/mm")])`.
    ///
    /// Nothing that was read is fitted on a bike it was not read on: the readings stay with the bike as it is, and what they
    /// found of springs, preload and friction is carried into the changed one, as far as the change leaves it alone. The
    /// change stands in the log as one that was not made ([`Change::SUPPOSED`]), so that a file of the bike keeps it. To mend an
    /// entry that was wrong, use [`correct`](Self::correct).
    ///
    /// A value is TOML (`["-66 mm", "-93 mm"]`, `1.2`, `{ from = "25 mm", to = "40 mm" }`), or plain text, for which the
    /// quotes may be left out. Rows are counted from 0: `front.fork.leg[0].spring.rate`.
    ///
    /// ```
    /// use wheelrate::{Bike, demo::PATROL, record::End};
    /// let bike = Bike::from_toml(PATROL)?;
    /// let heavier = bike.what_if(&[("masses.rider.rear", "76 kg")])?;
    /// // The spring is the one that was read, under a load that was not.
    /// assert!((heavier.fit_end(End::Rear)?.rate.value / bike.fit_end(End::Rear)?.rate.value - 1.0).abs() < 1e-9);
    /// assert_eq!(Bike::from_toml(&heavier.to_toml())?, heavier);
    /// # Ok::<(), wheelrate::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`FileError`](crate::error::FileError) for a path that leads nowhere and for whatever the change does to the file; the
    /// faults have no line. [`BikeError::Logged`] for readings and the log itself; [`BikeError::Repeated`] and
    /// [`BikeError::Nested`] for a path given twice, or beside one that holds it.
    pub fn what_if(&self, values: &[(&str, &str)]) -> Result<Self> {
        self.changed(Change::SUPPOSED, values, None, |_| Ok(()))
    }

    /// The bike with wrong entries of its file mended: what was read is worked out anew on the bike as it now stands. Paths and
    /// values as for [`what_if`](Self::what_if), and into readings and the log too. For a change of the bike itself use
    /// [`with_logged_change`](Self::with_logged_change), for one to think about [`what_if`](Self::what_if): a correction fits
    /// every reading on the bike corrected.
    ///
    /// ```
    /// use wheelrate::{Bike, demo::PATROL};
    /// let bike = Bike::from_toml(PATROL)?;
    /// let mended = bike.correct(&[("reading[5].distance", "655 mm"), ("rear.shock.spring.preload", "13 mm")])?;
    /// assert_eq!(mended.changes(), []);
    /// # Ok::<(), wheelrate::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`FileError`](crate::error::FileError) for a path that leads nowhere and for whatever the correction does to the file.
    pub fn correct(&self, values: &[(&str, &str)]) -> Result<Self> {
        let mut tree = write::tree(self);
        for (path, value) in values {
            let steps = steps(path).ok_or_else(|| nowhere(path, path))?;
            tree.at_path(&steps).map_err(|step| nowhere(path, &step.to_string()))?.value = super::value_of(value);
        }
        Ok(read_node(&tree).map_err(told)?)
    }

    /// The bike with some values changed, and that change logged where its place in the log is allowed.
    fn changed(
        &self,
        date: &str,
        values: &[(&str, &str)],
        note: Option<&str>,
        allowed: impl FnOnce(&Change) -> core::result::Result<(), BikeError>,
    ) -> Result<Self> {
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
        allowed(&change)?;
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
