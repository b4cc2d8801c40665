//! The history of an end as it stands on a sheet: tables, sentences, and the points of a plot.

use crate::history::{EndHistory, History, Prediction};
use crate::record::{End, Moment, Settled};
use crate::report::direction::along;
use crate::report::entry::{SheetEntry, SheetTable};
use crate::units::UnitSystem;

/// The history of one end, in one unit system.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct HistoryPage {
    /// Which end.
    pub end: End,
    /// Which readings all the rest of the sheet is from.
    pub basis: String,
    /// One row per set of readings.
    pub sets: SheetTable,
    /// What was done, oldest first.
    pub changes: Vec<String>,
    /// What drifted, in sentences.
    pub drifts: Vec<String>,
    /// One per change of state: what was predicted, and what came.
    pub checks: Vec<HistoryCheck>,
    /// What a plot needs: sets and changes in time.
    pub points: Vec<HistoryPoint>,
}

/// A prediction held against what came.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct HistoryCheck {
    /// Between which days.
    pub title: String,
    /// Did it hold? `None` while nothing is read.
    pub held: Option<bool>,
    /// In sentences.
    pub sentences: Vec<String>,
    /// Sags predicted and read.
    pub sags: SheetTable,
}

/// A set of readings or a change on the axis of time.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct HistoryPoint {
    /// Day, with the time where it was said.
    pub date: String,
    /// Days since the first event.
    pub at: f64,
    /// Is it a change?
    pub is_change: bool,
    /// Rider sag, free sag, preload and friction of a set; empty for a change.
    pub numbers: Vec<SheetEntry>,
}

impl History {
    /// The history as tables and sentences, one per end with more than one set or a change.
    #[must_use]
    pub fn pages(&self, units: UnitSystem) -> Vec<HistoryPage> {
        self.ends.iter().filter(|end| end.is_shown()).map(|end| end.page(units)).collect()
    }
}

/// Why the numbers of drifts are not quite those of the sets.
const JOINT: &str = " What changed is computed from all sets together, which share spring, label and loads: its numbers are surer \
                     than those of one set, and may differ a little from them.";

impl EndHistory {
    /// The history of the end as tables and sentences.
    #[must_use]
    pub fn page(&self, units: UnitSystem) -> HistoryPage {
        let rows = self.sets.iter().map(|set| {
            [
                SheetEntry::words(set.date.as_deref().unwrap_or("no date")),
                SheetEntry::number(set.readings.len() as f64, set.readings.len().to_string()),
                SheetEntry::uncertain(set.rate, units),
                SheetEntry::uncertain(set.preload, units),
                SheetEntry::uncertain(set.friction, units),
                SheetEntry::or(set.rider_sag, "not stated", |sag| SheetEntry::uncertain(sag, units)),
                SheetEntry::or(set.free_sag, "not stated", |sag| SheetEntry::uncertain(sag, units)),
            ]
        });
        let columns =
            ["read on", "readings", "rate", "preload", "friction", "rider sag, vertical", "free sag, vertical"];
        let date = |place: usize| self.sets.get(place).map(|set| self.day(set)).unwrap_or_default();
        let drifts = self.drifts.iter().flat_map(|drift| {
            let days = format!("{} to {}", date(drift.earlier), date(drift.later));
            drift.sentences(units).into_iter().map(move |sentence| format!("{days}: {sentence}"))
        });
        let mut basis = self.basis();
        if !self.drifts.is_empty() {
            basis.push_str(JOINT);
        }
        HistoryPage {
            end: self.end,
            basis,
            sets: SheetTable::new(columns, rows.collect()),
            changes: self.changes.iter().map(crate::record::Change::text).collect(),
            drifts: drifts.collect(),
            checks: self.predictions.iter().map(|prediction| self.check(prediction, units)).collect(),
            points: self.points(units),
        }
    }

    fn check(&self, prediction: &Prediction, units: UnitSystem) -> HistoryCheck {
        let date = |place: usize| self.sets.get(place).map(|set| self.day(set)).unwrap_or_default();
        let title = match prediction.later {
            Some(to) => format!("Predicted on {}, read on {}", date(prediction.earlier), date(to)),
            None => format!("Predicted from the readings of {}", date(prediction.earlier)),
        };
        let rows = prediction.sags.iter().map(|sag| {
            [
                SheetEntry::words(sag.load.to_string()),
                SheetEntry::words(match sag.settled {
                    Some(Settled::Low) => "low",
                    Some(Settled::High) => "high",
                    Some(Settled::Middle) => "middle",
                    None => "",
                }),
                SheetEntry::uncertain(sag.predicted, units),
                SheetEntry::or(sag.read, "not yet", |read| SheetEntry::uncertain(read, units)),
                SheetEntry::or(sag.difference, "", |difference| SheetEntry::uncertain(difference, units)),
                SheetEntry::or(sag.deviations, "", |deviations| {
                    SheetEntry::number(deviations, format!("{deviations:+.1}"))
                }),
            ]
        });
        let predicted = format!("predicted, {}", along(prediction.direction));
        HistoryCheck {
            title,
            held: prediction.held(),
            sentences: prediction.sentences(units),
            sags: SheetTable::new(["load", "settled", &predicted, "read", "difference", "off by (u)"], rows.collect()),
        }
    }

    /// Sets and changes in time.
    fn points(&self, units: UnitSystem) -> Vec<HistoryPoint> {
        let days = |date: &str| Moment::parse(date).map(Moment::days);
        let sets = self.sets.iter().filter_map(|set| {
            let date = set.date.clone()?;
            let numbers = vec![
                SheetEntry::or(set.rider_sag, "", |sag| SheetEntry::uncertain(sag, units)),
                SheetEntry::or(set.free_sag, "", |sag| SheetEntry::uncertain(sag, units)),
                SheetEntry::uncertain(set.preload, units),
                SheetEntry::uncertain(set.friction, units),
            ];
            Some((set.changes, HistoryPoint { at: days(&date)?, date, is_change: false, numbers }))
        });
        let changes = self.changes.iter().enumerate().filter_map(|(row, change)| {
            let at = days(&change.date)?;
            Some((row, HistoryPoint { at, date: change.date.clone(), is_change: true, numbers: Vec::new() }))
        });
        // A change comes after every set that was read before it, and after those changes.
        let mut ordered: Vec<(usize, HistoryPoint)> = sets.chain(changes).collect();
        ordered.sort_by(|(order, one), (other_order, other)| {
            (order, one.is_change).cmp(&(other_order, other.is_change)).then(one.at.total_cmp(&other.at))
        });
        let mut points: Vec<HistoryPoint> = ordered.into_iter().map(|(_, point)| point).collect();
        let first = points.iter().map(|point| point.at).fold(f64::INFINITY, f64::min);
        for point in &mut points {
            point.at -= first;
        }
        points
    }
}
