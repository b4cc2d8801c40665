//! Curves of an end for a plot: as fitted today, and with the spring advised.

use std::sync::Arc;

use crate::Result;
use crate::bike::{Bike, SagConversion};
use crate::decide::{Act, Decision};
use crate::infer::fit::{Fit, FittedLoad};
use crate::record::{Direction, End, Range};
use crate::report::direction::along;
use crate::units::{Force, Length, MotionRatio, Quantity, SpringRate, UnitSystem, WheelRate, show};
use crate::wheel::{Wheel, WheelCurve};

/// Points of a curve: 5 mm apart on 300 mm of travel.
const POINTS: usize = 61;

/// An end over its travel along the direction in which it is read, in the sheet's units.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Curve {
    /// What it is of.
    pub name: String,
    /// Unit of `travel`.
    pub travel_unit: String,
    /// Direction of `travel`, and of all places on the curves.
    pub along: String,
    /// Wheel travel from full extension along it.
    pub travel: Vec<f64>,
    /// The same vertically, where that is another.
    pub vertical: Option<Vec<f64>>,
    /// Unit of `force`.
    pub force_unit: String,
    /// Vertical force at the wheel.
    pub force: Vec<f64>,
    /// Unit of `rate`.
    pub rate_unit: String,
    /// Wheel rate, vertical force per vertical travel, the geometric term included.
    pub rate: Vec<f64>,
    /// Motion ratio, shock per wheel.
    pub motion_ratio: Vec<f64>,
}

/// A place on the curves.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Mark {
    /// What it is.
    pub name: String,
    /// The same with its sag.
    pub label: String,
    /// Wheel travel along the direction in which the end is read.
    pub travel: f64,
    /// Force there.
    pub force: f64,
}

/// A range of travel in which a sag is wanted, along the direction in which the end is read.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Wanted {
    /// Which sag.
    pub name: String,
    /// Least travel.
    pub from: f64,
    /// Most.
    pub to: f64,
}

/// The targets of an end as ranges of travel.
pub(crate) fn wanted(advice: &Decision, units: UnitSystem) -> Vec<Wanted> {
    let range = |name: &str, range: &Range| Wanted {
        name: name.to_owned(),
        from: one(range.from, units),
        to: one(range.to, units),
    };
    let rider = range("rider sag wanted", &advice.rider_sag.range);
    let free = advice.free_sag.as_ref().map(|free| range("free sag wanted", free));
    free.into_iter().chain([rider]).collect()
}

fn column<Q: Quantity>(values: &[Q], units: UnitSystem) -> Vec<f64> {
    let symbol = units.symbol(Q::KIND);
    let unit = Q::KIND.unit(symbol).unwrap_or(&Q::KIND.units[0]);
    values.iter().map(|value| unit.from_si(value.si())).collect()
}

fn one<Q: Quantity>(value: Q, units: UnitSystem) -> f64 {
    let unit = Q::KIND.unit(units.symbol(Q::KIND)).unwrap_or(&Q::KIND.units[0]);
    unit.from_si(value.si())
}

fn curve(
    name: String,
    end: &dyn Wheel,
    (direction, tape): (Direction, &SagConversion<'_>),
    units: UnitSystem,
) -> Result<Curve> {
    let WheelCurve { travel, wheel_force: force, wheel_rate: rate, motion_ratio, .. } =
        end.curve(&end.travels(POINTS))?;
    let read: Vec<Length> = travel.iter().map(|travel| tape.sag(*travel)).collect::<Result<_>>()?;
    Ok(Curve {
        name,
        travel_unit: units.symbol(Length::KIND).to_owned(),
        along: along(direction).to_owned(),
        travel: column::<Length>(&read, units),
        vertical: (direction != Direction::Vertical).then(|| column::<Length>(&travel, units)),
        force_unit: units.symbol(Force::KIND).to_owned(),
        force: column::<Force>(&force, units),
        rate_unit: units.symbol(WheelRate::KIND).to_owned(),
        rate: column::<WheelRate>(&rate, units),
        motion_ratio: column::<MotionRatio>(&motion_ratio, units),
    })
}

/// The end with a change of its springs, or with other springs.
enum SpringChange {
    Fitted(f64, Length),
    Other(SpringRate, Length),
}

fn changed(bike: &Bike, end: End, change: &SpringChange) -> Result<Arc<dyn Wheel>> {
    match *change {
        SpringChange::Fitted(factor, preload) => bike.end_with_spring_change(end, factor, preload),
        SpringChange::Other(rate, preload) => bike.end_with_spring_rate(end, rate, preload),
    }
}

/// Curves of an end: with its springs as fitted, and as advised where that is another spring or preload. A state that the
/// parts cannot take (a spring that would go solid) has no curve.
pub(crate) fn curves(bike: &Bike, fit: &Fit, advice: Option<&Decision>, units: UnitSystem) -> Vec<Curve> {
    let end = fit.end;
    let Ok(Some(main)) = bike.end(end).map(|wheel| wheel.main_spring()) else { return Vec::new() };
    let direction = bike.measuring_or_vertical(end).direction;
    let Ok(tape) = SagConversion::of(bike, end, direction) else { return Vec::new() };
    let factor = fit.rate_factor.value.si();
    let off = fit.preload.value - main.preload;
    let mut wanted = vec![("as it stands".to_owned(), SpringChange::Fitted(factor, off))];
    if let Some(advice) = advice {
        let words = crate::report::words::Words { units };
        let action = advice.action().map(|action| action.act);
        let outcome = action.and_then(|act| advice.choice_of(act)).and_then(|choice| choice.outcome);
        match (action, outcome) {
            (Some(Act::Turn { by }), Some(_)) if by.si() != 0.0 => {
                wanted.push(("with the preload advised".to_owned(), SpringChange::Fitted(factor, off + by)));
            }
            (Some(Act::Fit { rate }), Some(outcome)) => {
                wanted.push((format!("with {}", words.rate(rate)), SpringChange::Other(rate, outcome.preload.value)));
            }
            _ => {}
        }
    }
    let made = wanted.into_iter().filter_map(|(name, change)| {
        let wheel = changed(bike, end, &change).ok()?;
        curve(name, wheel.as_ref(), (direction, &tape), units).ok()
    });
    made.collect()
}

/// Where the loads rest today, in the middle of the friction band; named by the sag along the direction that the end is read.
pub(crate) fn marks(bike: &Bike, fit: &Fit, units: UnitSystem) -> Result<Vec<Mark>> {
    let direction = bike.measuring_or_vertical(fit.end).direction;
    let conversion = SagConversion::of(bike, fit.end, direction)?;
    let resting = fit.loads.iter().filter(|load| load.sag.value.si() > 0.0);
    let mark = |load: &FittedLoad| {
        let sag = Length::from_si(conversion.sag_and_slope(load.sag.value.si()).0);
        let decimals = if units == UnitSystem::Inch { 1 } else { 0 };
        let along = if direction == Direction::Vertical { String::new() } else { format!(" {}", along(direction)) };
        Mark {
            name: load.load.to_string(),
            label: format!("{}: {}{along}", load.load, show(sag, units.symbol(Length::KIND), decimals)),
            travel: one(sag, units),
            force: one(load.fitted.value, units),
        }
    };
    Ok(resting.map(mark).collect())
}
