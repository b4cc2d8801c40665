//! Readings and changes in time: the walk through the log, the bike of an earlier day, and which readings belong together.
//!
//! The file describes the bike as it is now. Undoing what was done to it, newest first, gives the bike as it was; each
//! earlier bike is made once, from the one after it, and shared by all that was read on it.
//!
//! A set is the readings of one end of one day, taken on one state of that end: a change that touches the end splits a
//! day, a change elsewhere does not. Whether it does is seen by comparing the two bikes (`between`). Nothing is guessed:
//! where the order of two things is not said, that is a fault of the log.
//!
//! A change of the date [`Change::SUPPOSED`] was not made. It comes after all that was made and read, so that readings
//! without a date may stand beside it; several of them are one step.

pub(crate) mod between;
mod clash;
#[cfg(feature = "serde")]
mod logged;
pub(crate) mod recent;
mod walk;
mod when;

use core::cmp::Ordering;
use std::collections::BTreeMap;

pub(crate) use between::Between;
pub(crate) use recent::Recent;
use walk::Walk;
use when::{Timeline, When};

use crate::Result;
use crate::bike::{Bike, BikePart, BikeParts, Contradictions};
use crate::error::{BikeError, Error};
use crate::record::{Change, End, Ends, Moment, Reading};

/// Readings of one end that belong together.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct ReadingSet {
    /// Which end.
    pub end: End,
    /// The day; `None` for the one set of an end whose readings carry no dates.
    pub date: Option<String>,
    /// Places among all readings of the bike, from 0.
    pub readings: Vec<usize>,
    /// Changes that came before, and touch the end: the state that was read.
    pub changes: usize,
    /// Steps of the log before it.
    pub(crate) step: usize,
    bike: Bike,
}

impl ReadingSet {
    /// The bike as these readings were taken on it, with them and no others.
    #[must_use]
    pub fn bike(&self) -> &Bike {
        &self.bike
    }
}

/// The log of a bike, walked through.
#[derive(Debug, Clone, PartialEq)]
pub struct Log {
    timeline: Timeline,
    between: Vec<Ends<Between>>,
    changes: Ends<Vec<Change>>,
    sets: Ends<Vec<ReadingSet>>,
}

impl Log {
    /// Walks through the log of a bike, newest change first.
    ///
    /// # Errors
    /// Everything that is wrong with it, each with its place; what cannot be undone ends the walk.
    pub(crate) fn new(bike: &Bike) -> core::result::Result<Self, Contradictions> {
        let timeline = Timeline::new(bike)?;
        let mut found = Vec::new();
        let mut read_at: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for (place, step) in timeline.before.iter().enumerate() {
            read_at.entry(*step).or_default().push(place);
        }
        let mut states: BTreeMap<usize, Bike> = BTreeMap::new();
        let mut between = Vec::new();
        let mut walk = Walk::new(bike, &timeline);
        loop {
            if let Some(places) = read_at.get(&walk.left()) {
                found.extend(places.iter().filter_map(|&place| unreadable(bike, place, walk.state())));
                states.insert(walk.left(), walk.state().clone());
            }
            match walk.back() {
                None => break,
                Some(Ok(step)) => {
                    let touched = End::BOTH.into_iter().filter(|&end| step.at(end).touches);
                    found.extend(touched.filter_map(|end| timeline.unordered(bike, walk.left(), end)).take(1));
                    between.push(step);
                }
                Some(Err(faults)) => {
                    found.extend(faults.all());
                    break;
                }
            }
        }
        Contradictions::none_of(found)?;
        between.reverse();
        let mut log = Self { timeline, between, changes: Ends::default(), sets: Ends::default() };
        log.changes = Ends { front: log.touching(bike, End::Front), rear: log.touching(bike, End::Rear) };
        log.sets = log.sorted(bike, &states);
        Ok(log)
    }

    /// The sets of readings of an end, oldest first.
    #[must_use]
    pub fn sets(&self, end: End) -> &[ReadingSet] {
        self.sets.at(end)
    }

    /// Changes that touch what the readings of an end depend on, oldest first.
    #[must_use]
    pub fn changes(&self, end: End) -> &[Change] {
        self.changes.at(end)
    }

    /// The set that was read on an end as it is now; `None` where nothing was read since its last change.
    #[must_use]
    pub fn newest(&self, end: End) -> Option<&ReadingSet> {
        self.sets(end).last().filter(|set| set.changes == self.changes(end).len())
    }

    /// What differs for an end between two states, by the steps before each.
    pub(crate) fn between(&self, end: End, from: usize, to: usize) -> Between {
        let steps = self.between.get(from..to).unwrap_or_default();
        steps.iter().fold(Between::default(), |all, step| all.and(step.at(end)))
    }

    /// How many steps the bike has behind it now.
    pub(crate) fn steps(&self) -> usize {
        self.timeline.steps.len()
    }

    fn touching(&self, bike: &Bike, end: End) -> Vec<Change> {
        let steps = self.timeline.steps.iter().zip(&self.between).filter(|(_, between)| between.at(end).touches);
        steps.flat_map(|(step, _)| &step.rows).filter_map(|&row| bike.parts().changes.get(row).cloned()).collect()
    }

    /// All readings in sets, in one pass.
    fn sorted(&self, bike: &Bike, states: &BTreeMap<usize, Bike>) -> Ends<Vec<ReadingSet>> {
        let counts = |end: End| {
            let steps = self.timeline.steps.iter().zip(&self.between);
            let touching = steps.map(|(step, between)| if between.at(end).touches { step.rows.len() } else { 0 });
            let sums = touching.scan(0, |sum, count| {
                *sum += count;
                Some(*sum)
            });
            core::iter::once(0).chain(sums).collect::<Vec<usize>>()
        };
        let counts = Ends { front: counts(End::Front), rear: counts(End::Rear) };
        let mut sets: BTreeMap<(End, When, usize), (Vec<usize>, usize)> = BTreeMap::new();
        let taken = self.timeline.read.iter().zip(&self.timeline.before);
        for ((place, reading), (when, step)) in bike.parts().readings.iter().enumerate().zip(taken) {
            let changes = counts.at(reading.end).get(*step).copied().unwrap_or_default();
            let (places, last) = sets.entry((reading.end, recent::day(*when), changes)).or_default();
            places.push(place);
            *last = (*last).max(*step);
        }
        let mut sorted: Ends<Vec<ReadingSet>> = Ends::default();
        for ((end, _, changes), (readings, step)) in sets {
            let Some(state) = states.get(&step) else { continue };
            let taken: Vec<Reading> =
                readings.iter().filter_map(|&place| bike.parts().readings.get(place).cloned()).collect();
            let date =
                taken.first().and_then(|reading| reading.date.as_deref()).map(|date| date.get(..10).unwrap_or(date));
            let set = ReadingSet {
                end,
                date: date.map(str::to_owned),
                changes,
                step,
                bike: state.holding(taken, Vec::new()),
                readings,
            };
            match end {
                End::Front => sorted.front.push(set),
                End::Rear => sorted.rear.push(set),
            }
        }
        sorted
    }
}

/// What is wrong with a reading on the bike that it was taken on.
fn unreadable(bike: &Bike, place: usize, state: &Bike) -> Option<(BikePart, Error)> {
    let reading = bike.parts().readings.get(place)?;
    Some((BikePart::Reading(place), state.check_taken(reading).err()?))
}

impl Bike {
    /// The log, walked through: every earlier bike that was read, and which readings belong together.
    ///
    /// # Errors
    /// The first fault: a date that is none, two things whose order is not said, a change that cannot be undone, a reading
    /// of what the bike of its day did not have.
    pub fn log(&self) -> Result<Log> {
        Ok(Log::new(self)?)
    }

    /// The bike with some of its parts changed, put together again and its log walked through: other prices, more readings.
    ///
    /// ```
    /// use wheelrate::{Bike, demo::PATROL, record::End};
    /// let bike = Bike::from_toml(PATROL)?;
    /// let unread = bike.with(|parts| parts.readings.clear())?;
    /// assert_eq!(unread.log()?.sets(End::Rear), []);
    /// # Ok::<(), wheelrate::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`Bike::new`] and [`log`](Self::log).
    pub fn with(&self, change: impl FnOnce(&mut BikeParts)) -> Result<Self> {
        let mut parts = self.parts().clone();
        change(&mut parts);
        let bike = Self::new(parts)?;
        bike.log()?;
        Ok(bike)
    }

    /// Is every end's one set that carries no dates?
    pub(crate) fn is_one_set(&self) -> bool {
        self.parts().changes.is_empty() && self.parts().readings.iter().all(|reading| reading.date.is_none())
    }

    /// The bike as it was at a date: what later changes replaced is put back, and only readings and changes up to then are
    /// kept. A day without a time means the end of that day.
    ///
    /// # Errors
    /// [`BikeError::Day`]; [`BikeError::Order`] where a time is asked for within a day of which something carries no time;
    /// whatever is wrong with the log.
    pub fn at(&self, date: &str) -> Result<Self> {
        let wanted = Moment::parse(date).ok_or_else(|| BikeError::Day { found: date.to_owned() })?;
        let timeline = Timeline::new(self)?;
        let later = |when: When, found: Option<&str>, what: &'static str| -> Result<bool> {
            match when {
                When::Unsaid => Ok(false),
                When::Supposed => Ok(true),
                When::At(moment) if wanted.is_whole_day() && wanted.same_day(moment) => Ok(false),
                When::At(moment) => {
                    let other = found.unwrap_or_default().to_owned();
                    let unknown = || BikeError::Order { found: date.to_owned(), what, other };
                    Ok(moment.order(wanted).ok_or_else(unknown)? == Ordering::Greater)
                }
            }
        };
        let mut walk = Walk::new(self, &timeline);
        let (mut left, mut rows) = (0, Vec::<usize>::new());
        for step in &timeline.steps {
            let date =
                step.rows.first().and_then(|&row| self.parts().changes.get(row)).map(|change| change.date.as_str());
            if !later(step.when, date, "the change")? {
                left += 1;
                rows.extend_from_slice(&step.rows);
            }
        }
        let mut readings = Vec::new();
        for (reading, when) in self.parts().readings.iter().zip(&timeline.read) {
            if !later(*when, reading.date.as_deref(), "a reading")? {
                readings.push(reading.clone());
            }
        }
        while walk.left() > left {
            walk.back().transpose()?;
        }
        rows.sort_unstable();
        let changes = rows.into_iter().filter_map(|row| self.parts().changes.get(row).cloned()).collect();
        Ok(walk.state().holding(readings, changes))
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests;
