//! Common practice: the sag that a discipline aims at, as several authors give it. A table that a person can edit; none of
//! its figures has a source, and authors disagree.

mod shipped;

use super::{Direction, End, Range, SagKind};
use crate::error::{BikeError, UnitError};
use crate::units::{Length, Quantity, Share, check};

/// Where the figures of the shipped table come from.
pub const COMMON_PRACTICE: &str = "common practice, no source";

/// How a figure is given.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Figure {
    /// As a length.
    Length(Range),
    /// As a share of the full travel along the direction of the sag.
    Share {
        /// Least.
        from: Share,
        /// Most.
        to: Share,
    },
}

impl Figure {
    /// A range that is one.
    pub(crate) fn checked(&self) -> Result<(), UnitError> {
        match *self {
            Self::Length(range) => Range::new(range.from, range.to).map(drop),
            Self::Share { from, to } => {
                let (none, whole) = (Share::from_si(0.0), Share::from_si(1.0));
                check::plausible("from", from, none, whole)?;
                check::plausible("to", to, none, whole)?;
                check::above("to", to, "from", from).map(drop)
            }
        }
    }
}

/// One figure for one sag of one discipline.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Practice {
    /// The discipline, in a word.
    pub discipline: String,
    /// Which end.
    pub end: End,
    /// Which sag.
    pub sag: SagKind,
    /// The figure.
    pub figure: Figure,
    /// Along what sag and travel run: vertical, or along the fork.
    pub direction: Direction,
    /// Where the figure comes from.
    pub basis: String,
    /// Anything worth knowing of it.
    pub note: Option<String>,
}

impl Practice {
    /// A figure without a source.
    ///
    /// # Errors
    /// [`BikeError::Unit`] for a range that is none, below zero, or a share over 100 %; [`BikeError::Direction`] for a
    /// direction that is not one of every such end; [`BikeError::Discipline`] for an empty name.
    pub fn new(
        discipline: impl Into<String>,
        end: End,
        sag: SagKind,
        figure: Figure,
        direction: Direction,
    ) -> Result<Self, BikeError> {
        let basis = COMMON_PRACTICE.to_owned();
        let practice = Self { discipline: discipline.into(), end, sag, figure, direction, basis, note: None };
        practice.checked()?;
        Ok(practice)
    }

    /// Everything in it checked as its constructor does; its fields are open.
    ///
    /// # Errors
    /// As [`Practice::new`].
    pub(crate) fn checked(&self) -> Result<(), BikeError> {
        let wanted = match (self.end, self.direction) {
            (_, Direction::Vertical) | (End::Front, Direction::AlongFork) => None,
            (End::Front, _) => Some("`vertical` or `along fork`"),
            (End::Rear, _) => Some("`vertical` at the rear"),
        };
        if let Some(wanted) = wanted {
            let (field, found) = ("direction".to_owned(), self.direction.name().to_owned());
            return Err(BikeError::Direction { field, found, wanted: wanted.to_owned() });
        }
        if self.discipline.trim().is_empty() {
            let (found, wanted) = (self.discipline.clone(), "a word".to_owned());
            return Err(BikeError::Discipline { found, wanted, suggestion: None });
        }
        Ok(self.figure.checked()?)
    }

    /// The sags that it means on an end whose sag at full travel, along the same direction, is this.
    #[must_use]
    pub fn range(&self, full_sag: Length) -> Range {
        match self.figure {
            Figure::Length(range) => range,
            Figure::Share { from, to } => Range { from: full_sag * from.si(), to: full_sag * to.si() },
        }
    }
}

/// A table of figures, to be edited: the shipped one is [`CommonPractice::SHIPPED`] as text.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CommonPractice {
    /// The figures, in the order stated.
    pub rows: Vec<Practice>,
}

impl CommonPractice {
    /// The shipped table as the text of a file.
    pub const SHIPPED: &'static str = include_str!("../../data/common_practice.toml");

    /// The shipped table.
    #[must_use]
    pub fn shipped() -> &'static Self {
        static TABLE: std::sync::OnceLock<CommonPractice> = std::sync::OnceLock::new();
        TABLE.get_or_init(shipped::table)
    }

    /// The disciplines, each once, in the order stated.
    #[must_use]
    pub fn disciplines(&self) -> Vec<&str> {
        let mut names: Vec<&str> = Vec::new();
        for row in &self.rows {
            if !names.contains(&row.discipline.as_str()) {
                names.push(&row.discipline);
            }
        }
        names
    }

    /// The figures on one sag of one discipline.
    pub fn on<'a>(&'a self, discipline: &'a str, end: End, sag: SagKind) -> impl Iterator<Item = &'a Practice> {
        self.rows.iter().filter(move |row| row.discipline == discipline && row.end == end && row.sag == sag)
    }
}
