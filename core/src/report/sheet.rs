//! The setup sheet: everything a person hangs on the garage wall, as plain data. Rendering is elsewhere: as text for a
//! terminal here ([`Sheet::to_screen`], [`Sheet::to_text`]), as a page by whoever has the data.
//!
//! Every number carries its unit and its standard uncertainty, or is text that says why there is none. Sentences and numbers
//! are in one unit system, chosen when the sheet is made.

mod build;
mod cautions;
mod columns;
mod curves;
mod damping;
mod form;
mod geometry;
mod glance;
mod inputs;
mod practice;
mod riders;
mod scenarios;
mod screen;
mod tables;
mod text;

pub use crate::report::entry::{Line, SheetEntry, SheetTable};
pub use cautions::cautions;
pub use curves::{Curve, Mark, Wanted};
pub use damping::SheetDamping;
pub use form::Form;
pub use geometry::Geometry;
pub use glance::Glance;
pub use practice::SheetPractice;
pub use riders::SheetRiders;
pub use scenarios::SheetScenarios;

use crate::infer::finding::Severity;
use crate::record::End;
#[cfg(feature = "serde")]
use crate::report::HistoryPage;
use crate::report::words;
use crate::units::UnitSystem;

/// A setup sheet.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Sheet {
    /// What the bike is called.
    pub bike: String,
    /// Units of every number and sentence.
    pub units: UnitSystem,
    /// One part per end, front first.
    pub ends: Vec<SheetEnd>,
    /// How the whole bike stands in its three states.
    pub geometry: Geometry,
    /// What the dampers do at the wheel; `None` where no damper is stated.
    pub damping: Option<SheetDamping>,
    /// Ends that nothing can be said of, and why.
    pub without: Vec<String>,
    /// How to read the numbers.
    pub notes: Vec<String>,
    /// What to mind before touching anything.
    pub cautions: Vec<String>,
    /// The same in one line.
    pub caution: String,
}

/// A finding as it stands on the sheet.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct SheetFinding {
    /// How much it matters.
    pub severity: Severity,
    /// The finding.
    pub text: String,
}

/// One end on the sheet.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct SheetEnd {
    /// Which end.
    pub end: End,
    /// What to do, at one glance.
    pub glance: Glance,
    /// What to do, in one sentence.
    pub headline: String,
    /// The verdict by its name; `None` without advice.
    pub verdict: Option<&'static str>,
    /// The row of `springs` that the verdict is on; `None` where it is on none.
    pub advised: Option<usize>,
    /// Why.
    pub reasons: Vec<String>,
    /// The same end under other loads; `None` where no scenario is stated or no advice can be given.
    pub scenarios: Option<SheetScenarios>,
    /// The same end under all its riders; `None` where none are stated or no advice can be given.
    pub riders: Option<SheetRiders>,
    /// What common practice says of the sags, for the discipline stated.
    pub practice: Option<SheetPractice>,
    /// What was noticed about the readings.
    pub findings: Vec<SheetFinding>,
    /// What to measure next: a plan for one person alone, and what it is worth.
    pub next: Vec<String>,
    /// A form for the next readings: what to expect, and room to write; `None` without advice.
    pub form: Option<Form>,
    /// Springs on sale: probability, preload, turns, free sag.
    pub springs: Option<SheetTable>,
    /// What follows from each: wheel rate, frequency, force and energy.
    pub consequences: Option<SheetTable>,
    /// What would be best if something stated were wrong; `None` where nothing was read.
    pub doubts: Option<SheetTable>,
    /// What was assumed because nobody stated it; `None` where nothing was.
    pub assumed: Option<SheetTable>,
    /// Whether removing any of it is worth its time.
    pub assumed_says: Option<String>,
    /// What the readings say.
    pub fit: Vec<Line>,
    /// Sags as read.
    pub sags: SheetTable,
    /// Each reading against what is predicted.
    pub readings: SheetTable,
    /// What it was worked out from.
    pub inputs: Vec<Line>,
    /// Sets of readings in time; `None` where there is one set, and no change.
    #[cfg(feature = "serde")]
    pub history: Option<HistoryPage>,
    /// Wheel force and rate over travel, today and as advised.
    pub curves: Vec<Curve>,
    /// Places on the curves: free and rider sag.
    pub marks: Vec<Mark>,
    /// Friction force at the wheel, either way: the band around the curve of force.
    pub friction: SheetEntry,
    /// Ranges of travel that are wanted.
    pub wanted: Vec<Wanted>,
}

impl Sheet {
    /// The sheet that says why an end which stands in the file could not be read, in place of that it is not there.
    #[must_use]
    pub fn unread(mut self, end: End, why: &str) -> Self {
        self.without.retain(|line| !line.starts_with(&format!("{end}: ")));
        self.without.push(words::of_end(end, why));
        self
    }
}

#[cfg(test)]
mod tests;
