//! The keys of a table of common practice.

use super::describe::{serde_by_keys, table};
use super::item::words;
use super::plain::Version;
use crate::error::BikeError;
use crate::record::{CommonPractice, Direction, End, Figure, Practice, Range, SagKind};
use crate::units::{Length, Share};

table! {
    "Common practice: the sag that each discipline aims at, one figure a row.",
    PracticeFileKeys for CommonPractice,
    {
        format: Version = |_| Version, "Version of this format.";
        sag: Vec<Practice> = |table| table.rows.clone(), "Figures; several on one sag are taken together.";
    }
    make |keys, _, _| Ok(CommonPractice { rows: keys.sag })
}

/// The two directions that sag and travel share.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum TravelAlong {
    Vertical,
    Fork,
}

words! {
    TravelAlong { "vertical" => TravelAlong::Vertical, "along fork" => TravelAlong::Fork }
}

table! {
    "A figure for one sag of one discipline, by length or by share of the travel.",
    PracticeKeys for Practice,
    either [&["length"], &["share"]],
    defined "practice",
    {
        discipline: String = |row| row.discipline.clone(), "What the bike is ridden for, in a word.";
        end: End = |row| row.end, "Which end.";
        sag: SagKind = |row| row.sag, "With rider and kit, or the bike alone.";
        length: Option<LengthsKeys> = |row| match row.figure {
            Figure::Length(Range { from, to }) => Some(LengthsKeys { from, to }),
            Figure::Share { .. } => None,
        }, "The sag.";
        share: Option<SharesKeys> = |row| match row.figure {
            Figure::Share { from, to } => Some(SharesKeys { from, to }),
            Figure::Length(_) => None,
        }, "The sag as a share of the full travel along the same direction.";
        direction: TravelAlong = |row| match row.direction {
            Direction::AlongFork => TravelAlong::Fork,
            Direction::Vertical | Direction::ToMark { .. } => TravelAlong::Vertical,
        }, "Along which sag and travel run.";
        basis: String = |row| row.basis.clone(), "Where the figure comes from: `common practice, no source`.";
        note: Option<String> = |row| row.note.clone(), "Anything worth knowing of it.";
    }
    make |keys, _, at| {
        let (figure, place) = match (keys.length, keys.share) {
            (Some(LengthsKeys { from, to }), _) => (Figure::Length(Range { from, to }), at.key("length")),
            (_, Some(SharesKeys { from, to })) => (Figure::Share { from, to }, at.key("share")),
            // One of the two is there.
            _ => return Err(super::place::Stop),
        };
        let direction = match keys.direction {
            TravelAlong::Vertical => Direction::Vertical,
            TravelAlong::Fork => Direction::AlongFork,
        };
        let made = Practice::new(keys.discipline, keys.end, keys.sag, figure, direction);
        let row = made.map_err(|error| match error {
            BikeError::Unit(_) => place.refuse(&error.into()),
            _ => at.refuse(&error.into()),
        })?;
        Ok(Practice { basis: keys.basis, note: keys.note, ..row })
    }
}

table! {
    "A range of lengths.",
    LengthsKeys,
    {
        from: Length, "Least.";
        to: Length, "Most.";
    }
}

table! {
    "A range of shares.",
    SharesKeys,
    {
        from: Share, "Least.";
        to: Share, "Most.";
    }
}

serde_by_keys! { CommonPractice }
