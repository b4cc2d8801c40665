//! The keys of what a person read, wants and did; and of what the ends stand on.

use super::describe::table;
use super::item::{Item, words};
use super::place::{Place, Stop};
use super::plain::{Day, DayOfChange};
use super::shape::Shape;
use crate::record::{
    Change, Direction, End, Ends, Load, Measuring, OnSale, Prices, Range, Reading, SagTarget, Scenario, Settled,
    SpringPrior, Targets, WheelAndTyre, Wheels,
};
use crate::units::{Length, Quantity, Share, SpringRate, WheelRate, check};
use crate::value::{Node, Value};

table! {
    "What the ends stand on.",
    WheelsKeys for Wheels,
    {
        fork_offset: Length = |wheels| wheels.fork_offset, "Distance of the front axle ahead of the steering axis, square to it.";
        front: WheelAndTyre = |wheels| wheels.ends.front, "The front wheel.";
        rear: WheelAndTyre = |wheels| wheels.ends.rear, "The rear wheel.";
    }
    make |keys, _, at| at.take(Wheels::new(keys.fork_offset, Ends { front: keys.front, rear: keys.rear }))
}

table! {
    "A wheel on the ground.",
    WheelKeys for WheelAndTyre,
    {
        radius: Length = |wheel| wheel.radius, "Axle over the ground, tyre unloaded; loaded where no tyre rate is given.";
        tyre: Option<WheelRate> = |wheel| wheel.tyre, "Vertical rate of the tyre; rigid unless given.";
    }
    make |keys, _, at| at.take(WheelAndTyre::new(keys.radius, keys.tyre))
}

table! {
    "How far the stated springs can be trusted.",
    PriorEndsKeys,
    {
        front: Option<SpringPrior>, "At the front.";
        rear: Option<SpringPrior>, "At the rear.";
    }
}

impl PriorEndsKeys {
    pub(super) fn of(prior: &Ends<SpringPrior>) -> Option<Self> {
        let Ends { front, rear } = prior.map(|prior| Some(prior).filter(|prior| *prior != SpringPrior::default()));
        (front.is_some() || rear.is_some()).then_some(Self { front, rear })
    }

    pub(super) fn ends(self) -> Ends<SpringPrior> {
        Ends { front: self.front, rear: self.rear }.map(Option::unwrap_or_default)
    }
}

table! {
    "What is believed of the springs of one end before anything is read.",
    PriorKeys for SpringPrior,
    {
        rate_tolerance: Option<Share> = |prior| Some(prior.rate_tolerance),
            "How far the stated spring rate may be off, either way; 5 % unless stated.";
        preload_uncertainty: Option<Length> = |prior| Some(prior.preload_uncertainty),
            "Standard uncertainty of the stated preload; 1 mm unless stated.";
    }
    make |keys, _, at| {
        let known = SpringPrior::default();
        let tolerance = keys.rate_tolerance.unwrap_or(known.rate_tolerance);
        at.take(SpringPrior::new(tolerance, keys.preload_uncertainty.unwrap_or(known.preload_uncertainty)))
    }
}

/// Along what something is read or meant, in words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Along {
    Vertical,
    Fork,
    Mark,
}

words! {
    Along { "vertical" => Along::Vertical, "along fork" => Along::Fork, "to mark" => Along::Mark }
}

impl Along {
    fn of(direction: Direction) -> Self {
        match direction {
            Direction::Vertical => Self::Vertical,
            Direction::AlongFork => Self::Fork,
            Direction::ToMark { .. } => Self::Mark,
        }
    }
}

fn mark(direction: Direction) -> Option<[Length; 2]> {
    match direction {
        Direction::ToMark { x, z } => Some([x, z]),
        Direction::Vertical | Direction::AlongFork => None,
    }
}

/// The direction stated in a table; a mark belongs to `to mark` and to nothing else.
fn direction(along: Option<Along>, mark: Option<[Length; 2]>, at: &Place<'_>) -> Result<Option<Direction>, Stop> {
    match (along, mark) {
        (None, None) => Ok(None),
        (Some(Along::Vertical), None) => Ok(Some(Direction::Vertical)),
        (Some(Along::Fork), None) => Ok(Some(Direction::AlongFork)),
        (Some(Along::Mark), Some([x, z])) => Ok(Some(Direction::ToMark { x, z })),
        (Some(Along::Mark), None) => {
            let wanted = "`mark = [\"-400 mm\", \"350 mm\"]`";
            let message = format!("`to mark` needs its mark, wanted {wanted}");
            Err(at.key("direction").note("`to mark` alone", wanted, None, message))
        }
        (_, Some(_)) => {
            let wanted = "`direction = \"to mark\"` with it";
            let message = format!("a mark belongs to one direction only, wanted {wanted}");
            Err(at.key("mark").note("a mark", wanted, None, message))
        }
    }
}

table! {
    "How the readings of each end are taken.",
    MeasuringEndsKeys,
    {
        front: Option<Measuring>, "At the front; must be said where the front has readings or targets.";
        rear: Option<Measuring>, "At the rear; vertical unless stated.";
    }
}

impl MeasuringEndsKeys {
    pub(super) fn of(measuring: &Ends<Option<Measuring>>) -> Option<Self> {
        let Ends { front, rear } = *measuring;
        (front.is_some() || rear.is_some()).then_some(Self { front, rear })
    }

    pub(super) fn ends(self) -> Ends<Option<Measuring>> {
        Ends { front: self.front, rear: self.rear }
    }
}

table! {
    "How one end is read.",
    MeasuringKeys for Measuring,
    {
        direction: Along = |measuring| Along::of(measuring.direction), "Along what the distance is read.";
        mark: Option<[Length; 2]> = |measuring| mark(measuring.direction),
            "The mark on the frame, in the frame axes of the linkage points.";
        uncertainty: Option<Length> = |measuring| Some(measuring.uncertainty),
            "Standard uncertainty of one reading; 1.5 mm unless stated.";
    }
    make |keys, _, at| {
        let direction = direction(Some(keys.direction), keys.mark, at)?.ok_or(Stop)?;
        at.take(Measuring::new(direction, keys.uncertainty.unwrap_or_else(Measuring::default_uncertainty)))
    }
}

/// A sag as it is wanted; its direction is that of the readings of its end unless stated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct WantedSag {
    value: Length,
    range: Range,
    direction: Option<Direction>,
}

table! {
    "A sag: aimed at with a tolerance, or anywhere in a range, or both ends and an aim of its own.",
    SagKeys for WantedSag,
    either [&["value", "tolerance"], &["from", "to"], &["value", "from", "to"]],
    {
        value: Option<Length> = |sag| (tolerance(sag).is_some() || sag.value != sag.range.middle()).then_some(sag.value),
            "The sag aimed at; the middle of the range unless stated.";
        tolerance: Option<Length> = |sag| tolerance(sag), "Either way.";
        from: Option<Length> = |sag| tolerance(sag).is_none().then_some(sag.range.from), "Least that will do.";
        to: Option<Length> = |sag| tolerance(sag).is_none().then_some(sag.range.to), "Most that will do.";
        direction: Option<Along> = |sag| sag.direction.map(Along::of), "Along what the distance is read.";
        mark: Option<[Length; 2]> = |sag| sag.direction.and_then(mark),
            "The mark on the frame, in the frame axes of the linkage points.";
    }
    make |keys, _, at| {
        let direction = direction(keys.direction, keys.mark, at);
        let range = match (keys.value, keys.tolerance, keys.from, keys.to) {
            (Some(value), Some(tolerance), ..) => {
                let place = at.key("tolerance");
                place.take(check::positive("tolerance", tolerance))?;
                place.take(Range::new(value - tolerance, value + tolerance))?
            }
            (_, _, Some(from), Some(to)) => at.take(Range::new(from, to))?,
            // One of the sets is there.
            _ => return Err(Stop),
        };
        let value = keys.value.unwrap_or_else(|| range.middle());
        at.take(SagTarget::new(value, range, Direction::Vertical))?;
        Ok(WantedSag { value, range, direction: direction? })
    }
}

/// The tolerance that gives this range to the bit, if one does; what a person wrote is some whole number of nanometres.
fn tolerance(sag: &WantedSag) -> Option<Length> {
    const NANOMETRES: f64 = 1e9;
    let Range { from, to } = sag.range;
    let half = (to - from) / 2.0;
    let candidates = [Length::from_si((half.si() * NANOMETRES).round() / NANOMETRES), half];
    candidates.into_iter().find(|tolerance| [sag.value - *tolerance, sag.value + *tolerance] == [from, to])
}

table! {
    "Targets of one end.",
    TargetsKeys,
    {
        rider_sag: Option<WantedSag>, "Sag with rider and kit.";
        free_sag: Option<WantedSag>, "Sag of the bike alone.";
    }
}

impl TargetsKeys {
    pub(super) fn of(targets: &Targets) -> Option<Self> {
        let sag = |target: SagTarget| {
            let SagTarget { value, range, direction } = target;
            WantedSag { value, range, direction: Some(direction) }
        };
        let (rider_sag, free_sag) = (targets.rider_sag.map(sag), targets.free_sag.map(sag));
        (rider_sag.is_some() || free_sag.is_some()).then_some(Self { rider_sag, free_sag })
    }
}

/// The targets under the keys `front` and `rear` of a table.
pub(super) fn targets(
    ends: Ends<Option<TargetsKeys>>,
    measuring: &Ends<Option<Measuring>>,
    at: &Place<'_>,
) -> Result<Ends<Targets>, Stop> {
    let of_end = |end: End| {
        let Some(keys) = ends.at(end) else { return Ok(Targets::default()) };
        let place = at.key(end.name());
        let read = measuring.at(end).map(|measuring| measuring.direction);
        let usual = read.or((end == End::Rear).then_some(Direction::Vertical));
        let target = |key: &str, sag: Option<WantedSag>| {
            let Some(WantedSag { value, range, direction }) = sag else { return Ok(None) };
            let Some(direction) = direction.or(usual) else {
                let wanted = "`direction = \"along fork\"` or `\"vertical\"`, here or in `[measuring.front]`";
                let message = format!("along what this sag is meant is not said, wanted {wanted}");
                return Err(place.key(key).key("direction").note("none", wanted, None, message));
            };
            Ok(Some(SagTarget { value, range, direction }))
        };
        let (rider_sag, free_sag) = (target("rider_sag", keys.rider_sag), target("free_sag", keys.free_sag));
        Ok(Targets { rider_sag: rider_sag?, free_sag: free_sag? })
    };
    let (front, rear) = (of_end(End::Front), of_end(End::Rear));
    Ok(Ends { front: front?, rear: rear? })
}

table! {
    "The same bike under another load.",
    ScenarioKeys,
    {
        name: String, "What it is called.";
        load: Load, "Masses added up, the rider included: `bike + rider + pack`.";
        front: Option<TargetsKeys>,
            "Sags wanted at the front under this load; those of `[targets]` unless stated.";
        rear: Option<TargetsKeys>,
            "Sags wanted at the rear under this load; those of `[targets]` unless stated.";
    }
}

impl ScenarioKeys {
    pub(super) fn of(scenario: &Scenario) -> Self {
        let Ends { front, rear } = &scenario.targets;
        let (front, rear) = (TargetsKeys::of(front), TargetsKeys::of(rear));
        Self { name: scenario.name.clone(), load: scenario.load.clone(), front, rear }
    }

    pub(super) fn scenario(self, measuring: &Ends<Option<Measuring>>, at: &Place<'_>) -> Result<Scenario, Stop> {
        let Self { name, load, front, rear } = self;
        Ok(Scenario { name, load, targets: targets(Ends { front, rear }, measuring, at)? })
    }
}

table! {
    "Spring rates that can be bought.",
    OnSaleKeys for OnSale,
    {
        front: Option<Vec<SpringRate>> = |sale| some(&sale.front), "Of one fork spring.";
        rear: Option<Vec<SpringRate>> = |sale| some(&sale.rear), "Of the shock spring.";
    }
    make |keys, _, at| {
        let rates = |key: &str, rates: Vec<SpringRate>| {
            let list = at.key(key);
            let positive = |(row, rate): (usize, &SpringRate)| list.row(row).take(check::positive("rate", *rate));
            let checked: Vec<Result<SpringRate, Stop>> = rates.iter().enumerate().map(positive).collect();
            checked.into_iter().collect::<Result<Vec<_>, Stop>>()
        };
        let front = rates("front", keys.front.unwrap_or_default());
        let rear = rates("rear", keys.rear.unwrap_or_default());
        Ok(OnSale::new(front?, rear?))
    }
}

table! {
    "What an action costs, as chance that both sags land: whoever has the spring on the shelf says less.",
    PricesKeys for Prices,
    {
        collar: Option<Share> = |prices| Some(prices.collar), "Turning the collar; 2 % unless stated.";
        spring: Option<Share> = |prices| Some(prices.spring), "Buying and fitting another spring; 10 % unless stated.";
        measuring: Option<Share> = |prices| Some(prices.measuring), "An evening of measuring; 5 % unless stated.";
    }
    make |keys, _, at| {
        let usual = Prices::default();
        let prices = Prices {
            collar: keys.collar.unwrap_or(usual.collar),
            spring: keys.spring.unwrap_or(usual.spring),
            measuring: keys.measuring.unwrap_or(usual.measuring),
        };
        at.take(prices.checked())
    }
}

/// A list that is not empty.
pub(super) fn some<T: Clone>(list: &[T]) -> Option<Vec<T>> {
    (!list.is_empty()).then(|| list.to_vec())
}

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

/// The usual load of rider sag is not written.
pub(super) fn unusual_load(load: &Load) -> Option<Load> {
    (*load != crate::bike::BikeParts::default().rider_load).then(|| load.clone())
}
