//! Readings and changes in time: which readings belong together, and on which state of the bike they were taken.
//!
//! A set is the readings of one end of one day, taken on one state of that end: a change that touches the end (or the
//! masses, or anything else that its readings depend on) splits a day, a change elsewhere does not. Nothing is guessed:
//! where the order of two things is not said, that is a contradiction.

use core::cmp::Ordering;

use super::Bike;
use crate::error::BikeError;
use crate::record::{Change, End, Moment, Reading};

/// Readings of one end that belong together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReadingSet {
    /// Which end.
    pub end: End,
    /// The day; `None` for the one set of an end whose readings carry no dates.
    pub date: Option<String>,
    /// Places among all readings of the bike, from 0.
    pub readings: Vec<usize>,
    /// Changes that came before, and touch the end: the state that was read.
    pub changes: usize,
}

impl Bike {
    /// What was done to the bike, in the order stated.
    #[must_use]
    pub fn changes(&self) -> &[Change] {
        &self.parts.changes
    }

    /// Changes that touch an end, oldest first.
    pub(crate) fn changes_of(&self, end: End) -> Vec<&Change> {
        let mut changes: Vec<&Change> = self.changes().iter().filter(|change| change.touches(end)).collect();
        changes.sort_by(|one, other| in_time(&one.date, &other.date));
        changes
    }

    /// The sets of readings of an end, oldest first.
    #[must_use]
    pub fn reading_sets(&self, end: End) -> Vec<ReadingSet> {
        let changes = self.changes_of(end);
        let before = |reading: &Reading| {
            let date = reading.date.as_deref().unwrap_or_default();
            changes.iter().filter(|change| in_time(&change.date, date) == Ordering::Less).count()
        };
        let mut sets: Vec<ReadingSet> = Vec::new();
        for (place, reading) in self.parts.readings.iter().enumerate().filter(|(_, reading)| reading.end == end) {
            let (date, changes) = (reading.date.as_deref().map(day), before(reading));
            match sets.iter_mut().find(|set| set.date.as_deref() == date && set.changes == changes) {
                Some(set) => set.readings.push(place),
                None => sets.push(ReadingSet { end, date: date.map(str::to_owned), readings: vec![place], changes }),
            }
        }
        sets.sort_by(|one, other| (&one.date, one.changes).cmp(&(&other.date, other.changes)));
        sets
    }

    /// The newest set of an end that was read on the end as it is now; `None` where nothing was read since the last change.
    #[must_use]
    pub fn newest_set(&self, end: End) -> Option<ReadingSet> {
        let changes = self.changes().iter().filter(|change| change.touches(end)).count();
        self.reading_sets(end).pop().filter(|set| set.changes == changes)
    }

    /// Is every end's one set that carries no dates?
    pub(crate) fn is_one_set(&self) -> bool {
        self.parts.changes.is_empty() && self.parts.readings.iter().all(|reading| reading.date.is_none())
    }

    /// The readings of the newest set of an end, with their places among all readings.
    pub(crate) fn newest_readings(&self, end: End) -> (Vec<usize>, Vec<Reading>) {
        let places = self.newest_set(end).map(|set| set.readings).unwrap_or_default();
        let readings = places.iter().filter_map(|&place| self.parts.readings.get(place).cloned()).collect();
        (places, readings)
    }

    /// Was the reading taken on the bike as it is now?
    pub(super) fn is_of_now(&self, reading: &Reading) -> bool {
        let date = reading.date.as_deref().unwrap_or_default();
        let touching = self.parts.changes.iter().filter(|change| change.touches(reading.end));
        touching.into_iter().all(|change| in_time(&change.date, date) != Ordering::Greater)
    }

    /// Readings without a date where one is needed: beside dated readings of the same end, or beside a change.
    pub(super) fn undated(&self) -> Vec<usize> {
        let dated = |end| self.readings_of(end).any(|reading| reading.date.is_some());
        let needed = |end| !self.parts.changes.is_empty() || dated(end);
        let readings = self.parts.readings.iter().enumerate();
        readings.filter(|(_, reading)| reading.date.is_none() && needed(reading.end)).map(|(place, _)| place).collect()
    }

    /// Changes whose order is not said: against a reading of an end they touch, or another change of the same keys.
    pub(super) fn unordered(&self) -> Vec<(usize, BikeError)> {
        let mut found = Vec::new();
        for (row, change) in self.parts.changes.iter().enumerate() {
            let Some(at) = Moment::parse(&change.date) else { continue };
            let clash = |date: &str| {
                let other = Moment::parse(date)?;
                matches!(at.order(other), None | Some(Ordering::Equal)).then(|| date.to_owned())
            };
            let mut changes = self.parts.changes.iter().take(row).filter(|other| other.overlaps(change));
            let other = changes.find_map(|other| Some(("the change", clash(&other.date)?)));
            let mut touched = self.parts.readings.iter().filter(|reading| change.touches(reading.end));
            let mut reading = || touched.find_map(|reading| Some(("a reading", clash(reading.date.as_deref()?)?)));
            if let Some((what, other)) = other.or_else(&mut reading) {
                found.push((row, BikeError::Order { found: change.date.clone(), what, other }));
            }
        }
        found
    }
}

/// The order of two dates; equal where it is not said.
pub(crate) fn in_time(one: &str, other: &str) -> Ordering {
    let both = Moment::parse(one).zip(Moment::parse(other));
    both.and_then(|(one, other)| one.order(other)).unwrap_or(Ordering::Equal)
}

/// The day of a date.
fn day(date: &str) -> &str {
    date.get(..10).unwrap_or(date)
}
