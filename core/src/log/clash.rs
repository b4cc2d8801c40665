//! What is wrong with a log before any bike is looked at: dates that are none, readings without one, changes of the same
//! keys whose order is not said.

use std::collections::BTreeMap;

use crate::bike::{Bike, BikePart};
use crate::error::{BikeError, Error};
use crate::record::{Change, End, Moment};

/// Everything found, each with its place.
pub(crate) fn faults(bike: &Bike) -> Vec<(BikePart, Error)> {
    let mut found: Vec<(BikePart, Error)> = Vec::new();
    for (row, change) in bike.parts().changes.iter().enumerate() {
        if !change.is_supposed() && Moment::parse(&change.date).is_none() {
            found.push((BikePart::Change(row), BikeError::Day { found: change.date.clone() }.into()));
        }
        #[cfg(feature = "serde")]
        found.extend(
            crate::log::logged::path_faults(change).into_iter().map(|fault| (BikePart::Change(row), fault.into())),
        );
    }
    for (row, reading) in bike.parts().readings.iter().enumerate() {
        let date = reading.date.as_deref().filter(|date| Moment::parse(date).is_none());
        found.extend(date.map(|date| (BikePart::Reading(row), BikeError::Day { found: date.to_owned() }.into())));
    }
    found.extend(undated(bike));
    found
        .extend(unordered(&bike.parts().changes).into_iter().map(|(row, error)| (BikePart::Change(row), error.into())));
    found
}

/// Readings without a date where one is needed: beside dated readings of the same end, or beside a change that was made.
fn undated(bike: &Bike) -> Vec<(BikePart, Error)> {
    let changed = bike.parts().changes.iter().any(|change| !change.is_supposed());
    let why = if changed {
        "the bike was changed, and readings belong to the state they were taken on"
    } else {
        "other readings of this end have one, and each set of readings is of one day"
    };
    let dated = End::BOTH.map(|end| bike.readings_of(end).any(|reading| reading.date.is_some()));
    let needed = |end: End| changed || dated[usize::from(end == End::Rear)];
    let readings = bike.parts().readings.iter().enumerate();
    let undated = readings.filter(|(_, reading)| reading.date.is_none() && needed(reading.end));
    undated.map(|(row, _)| (BikePart::Reading(row), BikeError::Undated { why }.into())).collect()
}

/// Rows of the changes of one day that were seen: those that say no more than the day, and the others by their times.
#[derive(Debug, Default)]
struct Seen {
    of_the_day: Option<usize>,
    first: Option<usize>,
    timed: BTreeMap<Moment, usize>,
}

impl Seen {
    fn add(&mut self, row: usize, at: Moment) {
        self.first.get_or_insert(row);
        if at.is_whole_day() {
            self.of_the_day.get_or_insert(row);
        } else {
            self.timed.entry(at).or_insert(row);
        }
    }

    /// A change whose order against one at this moment is not said.
    fn unordered(&self, at: Moment) -> Option<usize> {
        if at.is_whole_day() { self.first } else { self.of_the_day.or_else(|| self.timed.get(&at).copied()) }
    }
}

/// The keys that the changes of one day touch, as a tree: two paths meet where one leads on from the other.
#[derive(Debug, Default)]
struct Touched<'a> {
    here: Seen,
    below: Seen,
    keys: BTreeMap<&'a str, Touched<'a>>,
}

impl<'a> Touched<'a> {
    /// A change seen before, of this path, of a part that holds it or of something in it, whose order is not said.
    fn unordered(&self, path: &[&'a str], at: Moment) -> Option<usize> {
        let mut node = self;
        for key in path {
            if let Some(row) = node.here.unordered(at) {
                return Some(row);
            }
            node = node.keys.get(key)?;
        }
        node.here.unordered(at).or_else(|| node.below.unordered(at))
    }

    fn add(&mut self, path: &[&'a str], row: usize, at: Moment) {
        let mut node = self;
        for key in path {
            node.below.add(row, at);
            node = node.keys.entry(key).or_default();
        }
        node.here.add(row, at);
    }
}

/// Changes of the same keys, of one day, whose order is not said; each reported at the later row.
fn unordered(changes: &[Change]) -> Vec<(usize, BikeError)> {
    let mut days: BTreeMap<Moment, Touched<'_>> = BTreeMap::new();
    let mut found = Vec::new();
    for (row, change) in changes.iter().enumerate().filter(|(_, change)| !change.is_supposed()) {
        let Some(at) = Moment::parse(&change.date) else { continue };
        let day = days.entry(at.day()).or_default();
        let paths = change.steps();
        if let Some(other) = paths.iter().find_map(|path| day.unordered(path, at)).and_then(|other| changes.get(other))
        {
            let (found_date, other) = (change.date.clone(), other.date.clone());
            found.push((row, BikeError::Order { found: found_date, what: "the change", other }));
        }
        for path in &paths {
            day.add(path, row, at);
        }
    }
    found
}
