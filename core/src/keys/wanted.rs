//! The keys of what is wanted of a bike, and of what can be had for it.

use super::describe::table;
use super::measuring::{Along, direction, mark};
use super::place::{Place, Stop};
use crate::record::{Direction, End, Ends, Load, Measuring, OnSale, Prices, Range, SagTarget, Scenario, Targets};
use crate::units::{Force, Length, Quantity, Share, SpringRate, check};

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
                let value = at.key("value").take(check::positive("value", value));
                let place = at.key("tolerance");
                let tolerance = place.take(check::positive("tolerance", tolerance))?;
                let value = value?;
                if tolerance > value {
                    let wanted = format!("no more than `value`, {}", value.display());
                    return Err(place.say(tolerance.display().to_string(), wanted));
                }
                at.take(Range::new(value - tolerance, value + tolerance))?
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
        full_travel_force: Option<Force>,
            "Force of the fork along itself at full travel, reached fast from the rider sag: the oil level is set by it; \
             today's unless stated.";
    }
}

impl TargetsKeys {
    pub(super) fn of(targets: &Targets) -> Option<Self> {
        let sag = |target: SagTarget| {
            let SagTarget { value, range, direction } = target;
            WantedSag { value, range, direction: Some(direction) }
        };
        let (rider_sag, free_sag) = (targets.rider_sag.map(sag), targets.free_sag.map(sag));
        let keys = Self { rider_sag, free_sag, full_travel_force: targets.full_travel_force };
        (*targets != Targets::default()).then_some(keys)
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
        Ok(Targets { rider_sag: rider_sag?, free_sag: free_sag?, full_travel_force: keys.full_travel_force })
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

/// The usual load of rider sag is not written.
pub(super) fn unusual_load(load: &Load) -> Option<Load> {
    (*load != crate::bike::BikeParts::default().rider_load).then(|| load.clone())
}
