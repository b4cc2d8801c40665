//! The keys of the front end: the fork and its legs.

use super::describe::{serde_by_keys, table};
use crate::axial::OwnElement;
use crate::damper::Damper;
use crate::fork::{Fork, ForkLeg};
use crate::friction::SealFriction;
use crate::gas::{AirSpring, ForkAir};
use crate::record::Usual;
use crate::spring::{Preloaded, Stop as StopSpring};
use crate::units::{Angle, Length};
use crate::wheel::FrontEnd;

table! {
    "The front end.",
    FrontKeys for FrontEnd,
    {
        axle: Option<[Length; 2]> = |end| end.extended_axle(), with FrontEnd::with_axle,
            "Front axle at full extension, in the frame axes of the linkage points.";
        raised: Option<Length> = |end| Some(end.raised()).filter(|raised| *raised != Length::default()), with FrontEnd::with_raised,
            "How far the tubes are raised in their clamps from where `axle` was read; lowered below zero. 0 unless stated.";
        fork: Fork = |end| end.fork().clone(), "The fork.";
    }
    make |keys, _, _| Ok(FrontEnd::new(keys.fork))
}

table! {
    "A telescopic fork.",
    ForkKeys for Fork,
    flat both: ForkLeg = |fork| match fork.legs() {
        [leg, _] if fork.is_described_at_once() => leg.clone(),
        _ => ForkLeg::new(),
    },
    {
        travel: Length = |fork| fork.full_stroke(), "Full travel along the fork.";
        rake: Option<Angle> = |fork| (!fork.is_rake_assumed()).then(|| fork.rake()),
            "Angle of the steering axis from the vertical; assumed unless stated.";
        rake_uncertainty: Option<Angle> = |fork| fork.rake_uncertainty().filter(|_| !fork.is_rake_assumed()),
            with Fork::with_rake_uncertainty,
            "Standard uncertainty of a stated rake; exact unless stated.";
        leg: Option<Vec<ForkLeg>> = |fork| (!fork.is_described_at_once()).then(|| fork.legs().to_vec()),
            "The two legs, one table each, where they differ; legs that are alike may be described here, by the keys of one.";
    }
    make |keys, _, at| {
        let ForkKeys { travel, rake, leg, both, .. } = keys;
        let once = leg.is_none();
        let legs = match leg {
            None if both == ForkLeg::new() => {
                let wanted = "`spring`, for both legs alike, or two tables `[[front.fork.leg]]`; an empty leg is an empty table";
                return Err(at.key("leg").note("nothing", wanted, None, format!("`leg` is missing, wanted {wanted}")));
            }
            None => [both.clone(), both],
            Some(_) if both != ForkLeg::new() => {
                let wanted = "one of them: the parts of both legs here, or each leg in its own table";
                return Err(at.key("leg").say("legs beside parts of both legs", wanted));
            }
            Some(legs) => <[ForkLeg; 2]>::try_from(legs).map_err(|legs: Vec<ForkLeg>| {
                at.key("leg").say(legs.len().to_string(), "two legs; an empty leg is an empty table")
            })?,
        };
        let usual = Usual::any().rake;
        let made = |legs| match rake {
            Some(rake) => Fork::new(travel, rake, legs),
            None => Fork::of_unknown_rake(travel, usual, legs),
        };
        at.take_named(made([ForkLeg::new(), ForkLeg::new()]), ("full_stroke", "travel"))?;
        if once {
            at.take(legs[0].strut("", travel))?;
            return Ok(at.take(made(legs))?.described_at_once());
        }
        // Each leg in its own place, so that what is wrong with either is said.
        let list = at.key("leg");
        let [first, second] = [0, 1].map(|row| list.row(row).take(legs[row].strut("", travel)));
        first.and(second)?;
        at.take(made(legs))
    }
}

table! {
    "One leg. Any part may be missing; an empty leg is an empty table.",
    LegKeys for ForkLeg,
    {
        spring: Option<Preloaded> = |leg| leg.spring().cloned(), with ForkLeg::with_spring, "Main spring.";
        air: Option<ForkAir> = |leg| leg.stated_air().copied(), with ForkLeg::with_air,
            "Air above the oil; beside a spring without a stated preload, assumed unless stated.";
        air_spring: Option<AirSpring> = |leg| leg.air_spring().copied(), with ForkLeg::with_air_spring,
            "Air spring with a main and perhaps a negative chamber.";
        bump_stop: Option<StopSpring> = |leg| leg.bump_stop().cloned(), with ForkLeg::with_bump_stop,
            "Acts near full compression.";
        top_out: Option<StopSpring> = |leg| leg.top_out().cloned(), with ForkLeg::with_top_out,
            "Acts near full extension, the other way.";
        friction: Option<SealFriction> = |leg| leg.friction().copied(), with ForkLeg::with_friction,
            "Friction along the leg.";
        damper: Option<Damper> = |leg| leg.damper().cloned(), with ForkLeg::with_damper, "Damper along the leg.";
    }
    kept elements: Vec<OwnElement> = |leg| leg.elements().to_vec();
    make |keys, _, _| Ok(keys.elements.into_iter().fold(ForkLeg::new(), ForkLeg::with_element))
}

serde_by_keys! { Fork, ForkLeg }
