//! The keys of the front end: the fork and its legs, or a linkage and its shock.

use super::describe::{serde_by_keys, table};
use super::item::Item;
use super::mechanism::{DrawnKeys, drawn};
use super::place::{Place, Stop};
use super::rear::{joined, length_of};
use crate::axial::OwnElement;
use crate::damper::Damper;
use crate::fork::{Bushes, Fork, ForkLeg};
use crate::friction::SealFriction;
use crate::gas::{AirSpring, ForkAir};
use crate::linkage::FRAME;
use crate::record::Usual;
use crate::shock::Shock;
use crate::spring::{Preloaded, Stop as StopSpring};
use crate::units::{Angle, Length, Quantity};
use crate::wheel::FrontEnd;

table! {
    "The front end.",
    FrontKeys for FrontEnd,
    {
        axle: Option<[Length; 2]> = |end| end.fork().ok().and(end.extended_axle()), with FrontEnd::with_axle,
            "Axle of a fork at full extension, in the frame axes of the linkage points.";
        raised: Option<Length> = |end| Some(end.raised()).filter(|raised| *raised != Length::default()), with FrontEnd::with_raised,
            "How far the tubes are raised in their clamps from where `axle` was read; lowered below zero. 0 unless stated.";
        rake: Option<Angle> = |end| end.linkage().ok().map(|_| end.rake()),
            "Of a front end on links: angle of the steering axis from the vertical at full extension. That of a fork stands under `fork`.";
        steering_body: Option<String> = |end| Some(end.steering_body().to_owned()).filter(|body| body != FRAME),
            with FrontEnd::with_steering_body,
            "The body of the linkage that the steering axis lies in: one with the axle on it where an upright is steered at its own \
             joints; `frame` unless stated, as of links on a steered fork and of a girder.";
        caliper: Option<String> = |end| end.caliper().map(str::to_owned), with FrontEnd::with_caliper,
            "The body of the linkage that carries the caliper of the front brake, for anti-dive: one with the axle on it, a bracket \
             that floats on the axle included, or `frame` where a rod parallel to the link holds it.";
        fork: Option<Fork> = |end| end.fork().ok().cloned(), "The fork.";
        linkage: Option<DrawnKeys> = |end| drawn(end.sprung()?),
            "In place of a fork, leading or trailing links, a girder, a double link: from the wheel to the shock, drawn with the wheel straight ahead.";
        shock: Option<Shock> = |end| end.shock().ok().cloned(), "The shock of the linkage, or one of two struts alike.";
    }
    make |keys, before, at| front(keys, before, at)
}

fn front(keys: FrontKeys, before: Option<&FrontEnd>, at: &Place<'_>) -> Result<FrontEnd, Stop> {
    let FrontKeys { fork, linkage, shock, rake, .. } = keys;
    match (fork, linkage) {
        (Some(_), Some(_)) => {
            Err(at.key("linkage").say("`linkage` beside `fork`", "one of them: the front end is a fork, or links"))
        }
        (Some(fork), None) => {
            let (rake, shock) = (rake.map(|rake| rake.display().to_string()), shock.map(|_| "a shock".to_owned()));
            let below = "none here: that of a fork stands under `fork`";
            let sound = rake.map_or(Ok(()), |found| Err(at.key("rake").say(found, below)));
            sound.and(shock.map_or(Ok(()), |found| {
                Err(at.key("shock").say(found, "none beside `fork`: what is in a fork stands under it"))
            }))?;
            Ok(FrontEnd::new(fork))
        }
        (None, None) if shock.is_some() || rake.is_some() => {
            Err(at.missing("linkage", "a table: points and bodies, from the wheel to the shock".to_owned()))
        }
        (None, None) => {
            Err(at.missing("fork", "a table; or `linkage` and `shock`, where the wheel is on links".to_owned()))
        }
        (None, Some(linkage)) => {
            let parts = shock.ok_or_else(|| at.missing("shock", "a table: what the linkage works on".to_owned()));
            let rake = rake.ok_or_else(|| at.missing("rake", Angle::SHAPE.wanted()));
            let shock = parts.and_then(|shock| {
                let length = length_of(&shock, at)?;
                joined(Some(linkage), None, (shock, length), before.and_then(FrontEnd::sprung), at)
            });
            at.key("rake").take(FrontEnd::of_sprung(shock?, rake?))
        }
    }
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
        bushes: Option<Bushes> = |fork| fork.bushes().copied(), with Fork::with_bushes,
            "What the tubes slide on; for their friction under side load alone.";
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
    "The bushes, alike in both legs: one at the end of each tube.",
    BushKeys for Bushes,
    {
        overlap: Length = |bushes| bushes.overlap(), "Distance of the two bushes along the fork, fully extended.";
        to_axle: Length = |bushes| bushes.to_axle(),
            "Distance of the lower bush from the axle along the fork, fully extended.";
        axle_offset: Option<Length> = |bushes| Some(bushes.axle_offset()).filter(|offset| *offset != Length::default()),
            with Bushes::with_axle_offset,
            "How far the axle is ahead of the tubes, square to them; 0 unless stated. Not the offset of the steering axis.";
        calipers: Option<u32> = |bushes| Some(bushes.calipers()).filter(|calipers| *calipers != 1), with Bushes::with_calipers,
            "Legs that carry a brake caliper; 1 unless stated.";
        coefficient: Option<f64> = |bushes| bushes.stated_coefficient()[0], with Bushes::with_coefficient,
            "Coefficient of friction; 0.05 ± 0.025 unless stated.";
        coefficient_uncertainty: Option<f64> = |bushes| bushes.stated_coefficient()[1],
            with Bushes::with_coefficient_uncertainty,
            "Its standard uncertainty; half of it unless stated.";
    }
    make |keys, _, at| at.take(Bushes::new(keys.overlap, keys.to_axle))
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

serde_by_keys! { Fork, ForkLeg, Bushes }
