//! The words of a log: what a change says stood there before, put back; and changes that log themselves.

use core::cmp::Ordering;

use crate::bike::Bike;
use crate::edit::{Edit, edited, value_at, with_edits};
use crate::error::{Address, BikeError, Fault, FileError, Result, Step};
use crate::keys::{Faults, Place, Value, contradictions, in_rows};
use crate::log::Log;
use crate::record::{Change, Moment};

/// Parts of the file that are no part of the bike.
const NOT_THE_BIKE: [&str; 3] = ["format", "reading", "change"];

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
    let steps = in_rows(&Address::parse(path)?).steps().to_vec();
    let inside = |step: &Step| matches!(step, Step::Key(key) if !NOT_THE_BIKE.contains(&key.as_str()));
    steps.first().is_some_and(inside).then_some(steps)
}

/// What puts back what stood there before.
fn undoing(change: &Change) -> core::result::Result<Vec<Edit>, FileError> {
    let was = change.was.iter().map(|(path, value)| (path, Some(Value::from_words(value))));
    let edits = was.chain(change.added.iter().map(|path| (path, None)));
    edits.map(|(path, value)| Ok(Edit { address: path.parse()?, value })).collect()
}

/// The bike before some changes, given newest first.
pub(crate) fn undone(bike: &Bike, changes: &[&Change]) -> core::result::Result<Bike, Vec<Fault>> {
    let undone = || {
        let edits: Vec<Vec<Edit>> =
            changes.iter().map(|change| undoing(change)).collect::<core::result::Result<_, _>>()?;
        edited(bike, &edits.concat(), |keys| keys)
    };
    undone().map_err(|error: FileError| error.faults)
}

/// Values given as text.
fn in_text<'a>(values: &[(&'a str, &str)]) -> Vec<(&'a str, Value)> {
    values.iter().map(|(path, value)| (*path, Value::from_text(value))).collect()
}

/// The bike, if its log is sound; what is wrong with that is said with its place.
fn with_sound_log(bike: Bike) -> core::result::Result<Bike, FileError> {
    match Log::new(&bike) {
        Ok(_) => Ok(bike),
        Err(found) => {
            let faults = Faults::new();
            contradictions(&Place::root(None, &faults), found);
            Err(FileError { faults: faults.finish(None) })
        }
    }
}

impl Bike {
    /// The bike with values of its file changed on a date, and the change logged: what stood there before is noted by
    /// itself. Paths and values as for [`what_if`](Self::what_if).
    ///
    /// ```
    /// use wheelrate::{Bike, demo::PATROL};
    /// let bike = Bike::from_toml(PATROL)?;
    /// # let readings = bike.parts().readings.iter().cloned().map(|reading| wheelrate::record::Reading { date: Some("2026-05-31".into()), ..reading });
    /// # let bike = Bike::new(wheelrate::bike::BikeParts { readings: readings.collect(), ..bike.parts().clone() })?;
    /// let stiffer = bike.with_logged_change("2026-06-14", &[("rear.shock.spring.rate", "56 N/mm")], Some("new spring"))?;
    /// assert_eq!(stiffer.parts().changes[0].was, [("rear.shock.spring.rate".to_owned(), "52 N/mm".to_owned())]);
    /// assert_eq!(stiffer.at("2026-05-31")?, bike);
    /// # Ok::<(), wheelrate::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`what_if`](Self::what_if); [`BikeError::NotLater`] when a change of the same keys is logged already that is no
    /// earlier, or supposed; [`BikeError::Order`] when their order is not said; [`BikeError::Day`].
    pub fn with_logged_change(&self, date: &str, values: &[(&str, &str)], note: Option<&str>) -> Result<Self> {
        let Some(day) = Moment::parse(date) else { return Err(BikeError::Day { found: date.to_owned() }.into()) };
        let values: Vec<(&str, Value)> = in_text(values);
        self.changed(date, &values, note, |change| {
            for other in self.parts().changes.iter().filter(|other| other.overlaps(change)) {
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
    /// quotes may be left out. Rows are counted from 0: `front.fork.leg[0].spring.rate`; a coordinate of a point may be called
    /// by its axis, `rear.linkage.points.axle.x`.
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
    /// [`FileError`] for a path that leads nowhere and for whatever the change does to the file; the
    /// faults have no line. [`BikeError::Logged`] for readings and the log itself; [`BikeError::Repeated`] and
    /// [`BikeError::Nested`] for a path given twice, or beside one that holds it.
    pub fn what_if(&self, values: &[(&str, &str)]) -> Result<Self> {
        self.supposing(&in_text(values))
    }

    /// [`what_if`](Self::what_if) with values as they are.
    pub(crate) fn supposing(&self, values: &[(&str, Value)]) -> Result<Self> {
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
    /// assert_eq!(mended.parts().changes, []);
    /// # Ok::<(), wheelrate::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`FileError`] for a path that leads nowhere and for whatever the correction does to the file.
    pub fn correct(&self, values: &[(&str, &str)]) -> Result<Self> {
        let edits: Result<Vec<Edit>> =
            values.iter().map(|(path, value)| Edit::set(path, Value::from_text(value))).collect();
        Ok(with_sound_log(with_edits(self, &edits?)?)?)
    }

    /// The bike with some values changed, and that change logged where its place in the log is allowed.
    fn changed(
        &self,
        date: &str,
        values: &[(&str, Value)],
        note: Option<&str>,
        allowed: impl FnOnce(&Change) -> core::result::Result<(), BikeError>,
    ) -> Result<Self> {
        if values.is_empty() {
            return Err(BikeError::Logged { field: "values", found: "none".to_owned() }.into());
        }
        let mut change =
            Change { date: date.to_owned(), note: note.map(str::to_owned), was: Vec::new(), added: Vec::new() };
        let mut given: Vec<(&str, Vec<Step>)> = Vec::new();
        let mut edits = Vec::new();
        for (path, value) in values {
            let address = in_rows(&path.parse()?);
            let logged = || BikeError::Logged { field: "key path", found: (*path).to_owned() };
            let steps = steps_in_bike(path).ok_or_else(logged)?;
            if let Some(fault) = meeting("key path", path, &steps, &given) {
                return Err(fault.into());
            }
            let outer = |depth: usize| Address::from(steps[..=depth].to_vec());
            let there = (0..steps.len()).take_while(|&depth| value_at(self, &outer(depth)).is_some()).count();
            let noted = outer(there.min(steps.len() - 1)).to_string();
            if !change.paths().any(|logged| logged == noted) {
                match value_at(self, &address) {
                    Some(value) => change.was.push((noted, value.in_words())),
                    None => change.added.push(noted),
                }
            }
            edits.push(Edit { address, value: Some(value.clone()) });
            given.push((path, steps));
        }
        allowed(&change)?;
        let changed = edited(self, &edits, |mut keys| {
            keys.log(change);
            keys
        });
        Ok(with_sound_log(changed?)?)
    }
}

#[cfg(test)]
mod tests;
