//! The keys of what the ends stand on, and of how far their springs can be trusted.

use super::describe::{serde_by_keys, table};
use super::place::{Place, Stop};
use crate::record::{Ends, SpringPrior, WheelAndTyre, Wheels};
use crate::units::{Force, Length, Share, WheelRate};
use crate::wheel::{Tyre, TyreReadings};

table! {
    "What the ends stand on.",
    WheelsKeys for Wheels,
    {
        fork_offset: Length = |wheels| wheels.fork_offset, "Distance of the front axle ahead of the steering axis, square to it; at full extension, where links move it.";
        front: WheelAndTyre = |wheels| wheels.ends.front.clone(), "The front wheel.";
        rear: WheelAndTyre = |wheels| wheels.ends.rear.clone(), "The rear wheel.";
    }
    make |keys, _, at| at.take(Wheels::new(keys.fork_offset, Ends { front: keys.front, rear: keys.rear }))
}

table! {
    "A wheel on the ground.",
    WheelKeys for WheelAndTyre,
    {
        radius: Length = |wheel| wheel.radius, "Axle over the ground, tyre unloaded; loaded where no tyre rate is given.";
        tyre: Option<WheelRate> = |wheel| of(wheel, |tyre| tyre.readings().is_none().then(|| tyre.rate())),
            "Vertical rate of the tyre; rigid unless it or `tyre_readings` is given.";
        tyre_uncertainty: Option<WheelRate> = |wheel| of(wheel, |tyre| tyre.uncertainty().filter(|_| tyre.readings().is_none())),
            "Standard uncertainty of `tyre`; not said unless given.";
        tyre_readings: Option<Vec<(Force, Length)>> = |wheel| of(wheel, |tyre| Some(tyre.readings()?.rows.clone())),
            "In place of `tyre`, what it comes from: load on the ground and height of the axle over it, two or more, the suspension free of it.";
        tyre_load_uncertainty: Option<Force> = |wheel| of(wheel, |tyre| Some(tyre.readings()?.load_uncertainty)),
            "Standard uncertainty of one load of `tyre_readings`; 10 N unless stated.";
        tyre_height_uncertainty: Option<Length> = |wheel| of(wheel, |tyre| Some(tyre.readings()?.height_uncertainty)),
            "Standard uncertainty of one height of `tyre_readings`; 0.5 mm unless stated.";
    }
    make |keys, before, at| {
        let radius = keys.radius;
        let tyre = tyre(keys, before.and_then(|wheel| wheel.tyre.as_ref()), at)?;
        at.take(WheelAndTyre::with_tyre(radius, tyre))
    }
}

fn of<T>(wheel: &WheelAndTyre, get: impl Fn(&Tyre) -> Option<T>) -> Option<T> {
    wheel.tyre.as_ref().and_then(get)
}

/// The tyre that the keys of a wheel make; a rate set in an edit stands in place of readings that were there.
fn tyre(keys: WheelKeys, before: Option<&Tyre>, at: &Place<'_>) -> Result<Option<Tyre>, Stop> {
    let WheelKeys { tyre, tyre_uncertainty, tyre_readings, tyre_load_uncertainty, tyre_height_uncertainty, .. } = keys;
    let was_read = before.and_then(Tyre::readings).map(|readings| &readings.rows);
    let is_replaced = tyre.is_some() && was_read.is_some() && was_read == tyre_readings.as_ref();
    let rows = tyre_readings.filter(|_| !is_replaced);
    if let Some(rows) = rows {
        if tyre.is_some() {
            return Err(at.key("tyre_readings").say("`tyre` beside them", "one of both"));
        }
        if tyre_uncertainty.is_some() {
            let wanted = "none beside `tyre_readings`, which give it";
            return Err(at.key("tyre_uncertainty").say("an uncertainty", wanted));
        }
        let usual = TyreReadings::new(rows);
        let load_uncertainty = tyre_load_uncertainty.unwrap_or(usual.load_uncertainty);
        let height_uncertainty = tyre_height_uncertainty.unwrap_or(usual.height_uncertainty);
        let readings = TyreReadings { load_uncertainty, height_uncertainty, ..usual };
        return at.take_named(Tyre::read(readings), ("readings", "tyre_readings")).map(Some);
    }
    let loose = [
        ("tyre_load_uncertainty", tyre_load_uncertainty.is_some()),
        ("tyre_height_uncertainty", tyre_height_uncertainty.is_some()),
    ];
    if let Some((key, _)) = loose.into_iter().find(|(_, stands)| *stands && !is_replaced) {
        return Err(at.key(key).say("no `tyre_readings` beside it", "the readings that it is of"));
    }
    match (tyre, tyre_uncertainty) {
        (None, None) => Ok(None),
        (None, Some(_)) => Err(at.key("tyre_uncertainty").say("no `tyre` beside it", "the rate that it is of")),
        (Some(rate), None) => at.take(Tyre::stated(rate)).map(Some),
        (Some(rate), Some(uncertainty)) => at.take(Tyre::uncertain(rate, uncertainty)).map(Some),
    }
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

serde_by_keys! { Wheels }
