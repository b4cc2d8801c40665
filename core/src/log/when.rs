//! The axis of time that a log is sorted along, and what stands on it in which order.

use core::cmp::Ordering;
use std::collections::BTreeMap;

use crate::bike::{Bike, BikePart, Contradictions};
use crate::error::{BikeError, Error};
use crate::log::clash;
use crate::record::{Change, End, Moment, Reading};

/// When something was read or done. Sorted in time; a day without a time stands before the times of that day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum When {
    /// A reading without a date: it was taken before everything that was done.
    Unsaid,
    /// On a day, or at a time of it.
    At(Moment),
    /// A change that was not made: after all that was.
    Supposed,
}

impl When {
    /// When a change was made; `None` for a date that is none.
    pub(crate) fn of_change(change: &Change) -> Option<Self> {
        if change.is_supposed() { Some(Self::Supposed) } else { Moment::parse(&change.date).map(Self::At) }
    }

    /// When a reading was taken; `None` for a date that is none.
    pub(crate) fn of_reading(reading: &Reading) -> Option<Self> {
        match &reading.date {
            None => Some(Self::Unsaid),
            Some(date) => Moment::parse(date).map(Self::At),
        }
    }

    /// Which came first; `None` where that is not said.
    pub(crate) fn order(self, other: Self) -> Option<Ordering> {
        match (self, other) {
            (Self::At(one), Self::At(other)) => one.order(other),
            (one, other) => Some(one.cmp(&other)),
        }
    }
}

/// Changes that are undone together: one that was made, or all that are supposed.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct LogStep {
    pub(crate) when: When,
    /// Rows among the changes of the bike, in the order they were made.
    pub(crate) rows: Vec<usize>,
}

/// The changes of a bike in time, and how many of them came before each of its readings.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Timeline {
    /// Oldest first.
    pub(crate) steps: Vec<LogStep>,
    /// Per reading of the bike: when it was taken.
    pub(crate) read: Vec<When>,
    /// Readings of each day.
    of_day: BTreeMap<Moment, Vec<usize>>,
    /// Per reading of the bike: steps before it. Of two things whose order is not said the step counts as the later one.
    pub(crate) before: Vec<usize>,
}

impl Timeline {
    /// Sorts the log of a bike.
    ///
    /// # Errors
    /// Everything that is wrong with its dates and key paths, each with its place.
    pub(crate) fn new(bike: &Bike) -> Result<Self, Contradictions> {
        Contradictions::none_of(clash::faults(bike))?;
        let mut steps: Vec<LogStep> = Vec::new();
        let mut supposed = Vec::new();
        for (row, when) in
            bike.parts().changes.iter().enumerate().filter_map(|(row, one)| Some((row, When::of_change(one)?)))
        {
            match when {
                When::Supposed => supposed.push(row),
                when => steps.push(LogStep { when, rows: vec![row] }),
            }
        }
        steps.sort_by_key(|step| step.when);
        if !supposed.is_empty() {
            steps.push(LogStep { when: When::Supposed, rows: supposed });
        }
        let read: Vec<When> =
            bike.parts().readings.iter().map(|reading| When::of_reading(reading).unwrap_or(When::Unsaid)).collect();
        let before = read.iter().map(|when| steps.partition_point(|step| step.when < *when)).collect();
        let mut of_day: BTreeMap<Moment, Vec<usize>> = BTreeMap::new();
        for (place, when) in read.iter().enumerate() {
            if let When::At(moment) = when {
                of_day.entry(moment.day()).or_default().push(place);
            }
        }
        Ok(Self { steps, read, of_day, before })
    }

    /// The fault of a step whose order against a reading of an end that it touches is not said.
    pub(crate) fn unordered(&self, bike: &Bike, step: usize, end: End) -> Option<(BikePart, Error)> {
        let LogStep { when: When::At(at), rows } = self.steps.get(step)? else { return None };
        let unsaid = |read: &When| matches!(read.order(When::At(*at)), None | Some(Ordering::Equal));
        let readings = &bike.parts().readings;
        let of_day =
            self.of_day.get(&at.day())?.iter().filter_map(|&place| readings.get(place).zip(self.read.get(place)));
        let (reading, _) = of_day.into_iter().find(|(reading, read)| {
            #[cfg(test)]
            LOOKED_AT.with(|count| count.set(count.get() + 1));
            reading.end == end && unsaid(read)
        })?;
        let (row, other) = (*rows.first()?, reading.date.clone()?);
        let found = bike.parts().changes.get(row)?.date.clone();
        Some((BikePart::Change(row), BikeError::Order { found, what: "a reading", other }.into()))
    }
}

#[cfg(test)]
std::thread_local! {
    /// Readings looked at for their order against a change on this thread, to be counted by tests.
    pub(super) static LOOKED_AT: core::cell::Cell<usize> = const { core::cell::Cell::new(0) };
}
