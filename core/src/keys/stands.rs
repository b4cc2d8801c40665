//! The keys of what the ends stand on, and of how far their springs can be trusted.

use super::describe::table;
use crate::record::{Ends, SpringPrior, WheelAndTyre, Wheels};
use crate::units::{Length, Share, WheelRate};

table! {
    "What the ends stand on.",
    WheelsKeys for Wheels,
    {
        fork_offset: Length = |wheels| wheels.fork_offset, "Distance of the front axle ahead of the steering axis, square to it; at full extension, where links move it.";
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
