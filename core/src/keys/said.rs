//! The keys of what a person read and did.

use super::describe::table;
use super::item::Item;
use super::place::{Place, Stop};
use super::plain::{Day, DayOfChange};
use super::shape::Shape;
use super::wanted::some;
use crate::record::{Change, End, Load, Reading, Settled};
use crate::units::{Length, Share};
use crate::value::{Node, Value};

/// A sag as it was noted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum SagRead {
    Length(Length),
    Share(Share),
}

impl SagRead {
    fn of(reading: &Reading) -> Option<Self> {
        Some(match (reading.sag()?, reading.share) {
            (_, Some(share)) => Self::Share(share),
            (sag, None) => Self::Length(sag),
        })
    }
}

impl Item for SagRead {
    const SHAPE: Shape = Shape::OneOf(&[Length::SHAPE, Share::SHAPE]);

    fn read(at: &Place<'_>) -> Result<Self, Stop> {
        match at.node().map(|node| &node.value) {
            Some(Value::Text(text)) if text.contains('%') => Share::read(at).map(Self::Share),
            _ => Length::read(at).map(Self::Length),
        }
    }

    fn write(&self) -> Value {
        match self {
            Self::Length(sag) => sag.write(),
            Self::Share(share) => share.write(),
        }
    }
}

table! {
    "One reading: the distance from the axle to a mark on the sprung part above it, or the sag. Repeats are rows of their own.",
    ReadingKeys for Reading,
    either [&["distance"], &["sag"]],
    {
        end: End = |reading| reading.end, "Which end.";
        load: Load = |reading| reading.load.clone(),
            "`none` with the wheel off the ground, or masses added up: `bike + rider`.";
        settled: Option<Settled> = |reading| reading.settled,
            "`low` after pushing down, `high` after lifting, `middle` where the mean of both was noted.";
        distance: Option<Length> = |reading| reading.sag().is_none().then_some(reading.distance),
            "The distance read; it shrinks as the end compresses.";
        sag: Option<SagRead> = |reading| SagRead::of(reading),
            "In place of a distance, the sag: of a zeroed gauge, or already subtracted; as a length, or in per cent of the travel.";
        uncertainty: Option<Length> = |reading| reading.uncertainty, with Reading::with_uncertainty,
            "Standard uncertainty, where it differs from `[measuring]`.";
        date: Option<Day> = |reading| reading.date.clone().map(Day),
            "The day, with a time where the bike was changed between readings of one day.";
        note: Option<String> = |reading| reading.note.clone(), "Anything worth remembering.";
    }
    make |keys, _, at| {
        let (end, load, settled) = (keys.end, keys.load, keys.settled);
        let reading = match (keys.distance, keys.sag) {
            (Some(distance), _) => at.take(Reading::new(end, load, distance, settled))?,
            (_, Some(_)) if load == Load::None => {
                let wanted = "the load that it sags under; with the wheel off the ground there is no sag";
                return Err(at.key("load").say("`none` beside a sag", wanted));
            }
            (_, Some(SagRead::Length(sag))) => at.take(Reading::of_sag(end, load, sag, settled))?,
            (_, Some(SagRead::Share(share))) => at.take(Reading::of_share(end, load, share, settled))?,
            // One of the two is there.
            _ => return Err(Stop),
        };
        Ok(Reading { date: keys.date.map(|Day(date)| date), note: keys.note, ..reading })
    }
}

table! {
    "Something done to the bike. The rest of the file describes the bike as it is now; a change says what stood there before.",
    ChangeKeys for Change,
    {
        date: DayOfChange = |change| DayOfChange(change.date.clone()),
            "The day, with a time where the end was read on the same day; `what if` where it was not made.";
        note: Option<String> = |change| change.note.clone(), "Anything worth remembering.";
        was: Option<Was> = |change| (!change.was.is_empty()).then(|| Was(change.was.clone())),
            "What stood there before, by key path: `\"rear.shock.spring.rate\" = \"52 N/mm\"`.";
        added: Option<Vec<String>> = |change| some(&change.added), "Key paths of what was not there before.";
    }
    make |keys, _, _| Ok(Change {
        date: keys.date.0,
        note: keys.note,
        was: keys.was.map(|Was(was)| was).unwrap_or_default(),
        added: keys.added.unwrap_or_default(),
    })
}

/// Former values by key path, in the words of a change.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Was(Vec<(String, String)>);

table! {
    "Former values by key path, rows counted from 0: `\"front.fork.leg[0].spring.rate\"`.",
    WasKeys for Was,
    {}
    named was: Node = |was| was.0.iter().map(|(path, value)| (path.clone(), Node::from(Value::from_words(value)))).collect();
    make |keys, _, _| Ok(Was(keys.was.into_iter().map(|(path, node)| (path, node.value.in_words())).collect()))
}
