//! The newest readings of one end, and what was done to it since: no further back than that needs.

use crate::Result;
use crate::bike::Bike;
use crate::log::between::Between;
use crate::log::walk::Walk;
use crate::log::when::{Timeline, When};
use crate::record::{End, Load};

/// The newest set of readings of an end.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Recent {
    /// Places of the readings among all of the bike; none where nothing was read.
    pub(crate) readings: Vec<usize>,
    /// The bike that was read, with those readings and no others, and what differs since; `None` where that is nothing that
    /// the readings feel.
    pub(crate) then: Option<(Bike, Between)>,
    /// The bike that was read, with what was read and changed before it: where those readings are too few for an answer of
    /// their own, and there are others.
    pub(crate) before: Option<Bike>,
}

/// Loads under which an end has to be read for its spring and its preload to be seen apart.
const LOADS_APART: usize = 2;

impl Recent {
    /// Looks back through the log of a bike for the newest readings of an end.
    ///
    /// # Errors
    /// What is wrong with the log as far back as those readings.
    pub(crate) fn new(bike: &Bike, end: End) -> Result<Self> {
        let places =
            || bike.parts().readings.iter().enumerate().filter(|(_, one)| one.end == end).map(|(place, _)| place);
        if bike.is_one_set() {
            // Room for all of them at once: this is asked with every fit.
            let mut readings = Vec::with_capacity(bike.parts().readings.len());
            readings.extend(places());
            return Ok(Self { readings, then: None, before: None });
        }
        let timeline = Timeline::new(bike)?;
        let Some(newest) = places().max_by_key(|&place| timeline.read.get(place)) else {
            return Ok(Self { readings: Vec::new(), then: None, before: None });
        };
        let at = |place: usize| Some((day(*timeline.read.get(place)?), *timeline.before.get(place)?));
        let (of_day, mut from) = at(newest).unwrap_or((When::Unsaid, 0));
        let alike: Vec<(usize, usize)> = places()
            .filter_map(|place| at(place).filter(|(when, _)| *when == of_day).map(|(_, before)| (place, before)))
            .collect();
        let earliest = alike.iter().map(|(_, before)| *before).min().unwrap_or(from);
        let mut walk = Walk::new(bike, &timeline);
        let (mut since, mut then) = (Between::default(), None);
        while walk.left() > earliest {
            if walk.left() == from {
                then = Some(walk.state().clone());
            }
            let Some(step) = walk.back() else { break };
            let between = step?;
            let between = between.at(end);
            if between.touches
                && let Some(fault) = timeline.unordered(bike, walk.left(), end)
            {
                return Err(fault.1);
            }
            if walk.left() >= from {
                since = since.and(between);
            } else if between.touches {
                break;
            } else {
                from = walk.left();
            }
        }
        let readings: Vec<usize> =
            alike.into_iter().filter(|(_, before)| *before >= from).map(|(place, _)| place).collect();
        let state = then.unwrap_or_else(|| walk.state().clone());
        let older: Vec<usize> = places()
            .filter(|place| !readings.contains(place) && at(*place).is_some_and(|(_, at)| at <= from))
            .collect();
        let before = (!older.is_empty() && are_few(bike, &readings)).then(|| {
            let mut rows: Vec<usize> = timeline.steps.iter().take(from).flat_map(|step| step.rows.clone()).collect();
            rows.sort_unstable();
            let changes = rows.into_iter().filter_map(|row| bike.parts().changes.get(row).cloned());
            let read = older.into_iter().filter_map(|place| bike.parts().readings.get(place).cloned());
            state.holding(read.collect(), changes.collect())
        });
        let then = since.touches.then_some((state, since));
        let holding = |(state, since): (Bike, Between)| {
            let read = readings.iter().filter_map(|&place| bike.parts().readings.get(place).cloned()).collect();
            (state.holding(read, Vec::new()), since)
        };
        Ok(Self { then: then.map(holding), before, readings })
    }
}

/// Are some readings too few for an answer of their own?
pub(crate) fn are_few(bike: &Bike, readings: &[usize]) -> bool {
    loads(bike, readings) < LOADS_APART
}

/// Distinct loads of some readings.
fn loads(bike: &Bike, readings: &[usize]) -> usize {
    let loaded = readings.iter().filter_map(|&place| bike.parts().readings.get(place));
    let mut loads: Vec<&Load> = loaded.map(|reading| &reading.load).filter(|load| **load != Load::None).collect();
    loads.sort();
    loads.dedup();
    loads.len()
}

/// The day of a reading.
pub(crate) fn day(when: When) -> When {
    match when {
        When::At(moment) => When::At(moment.day()),
        other => other,
    }
}
