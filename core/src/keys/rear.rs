//! The keys of the rear end: what joins wheel and shock, the shock, the chain.

use super::describe::{serde_by_keys, table};
use super::item::{Item, words};
use super::mechanism::{DrawnKeys, MeasuredKeys, at_fault, drawn, mechanism, of_table};
use super::place::{Place, Stop};
use crate::axial::OwnElement;
use crate::damper::Damper;
use crate::friction::SealFriction;
use crate::gas::{AirSpring, Reservoir};
use crate::linkage::{Idler, Linkage, Passes};
use crate::record::Usual;
use crate::shock::{Shock, ShockParts};
use crate::spring::{Preloaded, Stop as StopSpring};
use crate::units::{Length, LeverageRatio, Quantity, Share, Uncertain};
use crate::wheel::{FinalDrive, Outline, PivotUncertainty, RearEnd, Sprockets};

table! {
    "The rear end: a linkage, drawn or measured, and its shock.",
    RearKeys for RearEnd,
    {
        travel: Option<Length> = |end| end.outline().travel, "Vertical wheel travel; with the stroke of the shock it does for a linkage.";
        lever: Option<Uncertain<LeverageRatio>> = |end| end.outline().lever,
            "Wheel travel per stroke of the shock, on average, where travel or stroke is not known.";
        progression: Option<Uncertain<Share>> = |end| end.outline().progression,
            "By how much the motion ratio rises over the travel; assumed unless stated, drawn or measured.";
        final_drive: Option<Drive> = |end| matches!(end.final_drive()?, FinalDrive::Shaft).then_some(Drive::Shaft),
            "What drives the wheel; `chain` where there is one.";
        caliper: Option<String> = |end| end.caliper().map(str::to_owned), with RearEnd::with_caliper,
            "The body of the linkage that carries the caliper of the rear brake, for anti-rise: one with the axle on it, a bracket \
             that floats on the axle included, or `frame` where a rod parallel to the swingarm holds it.";
        linkage: Option<DrawnKeys> = |end| drawn(end), "From the wheel to the shock, drawn.";
        measured: Option<MeasuredKeys> = |end| end.measured().or(end.table()).map(MeasuredKeys::of),
            "From the wheel to the shock, measured; beside a drawing with `point_uncertainty` it corrects the drawing.";
        shock: Shock = |end| end.shock().clone(), "The shock.";
        chain: Option<Sprockets> = |end| match end.final_drive()? {
            FinalDrive::Chain(sprockets) => Some(*sprockets),
            FinalDrive::Shaft => None,
        }, "The chain, for squat, and for its own slack.";
    }
    make |keys, before, at| rear(keys, before, at)
}

/// What drives the rear wheel, in a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Drive {
    Chain,
    Shaft,
}

words! {
    Drive { "chain" => Drive::Chain, "shaft" => Drive::Shaft }
}

table! {
    "The sprockets of the chain.",
    ChainKeys for Sprockets,
    {
        front_centre: [Length; 2] = |chain| chain.front_centre(),
            "Centre of the front sprocket, in the frame axes of the linkage points.";
        front_teeth: u32 = |chain| chain.teeth()[0], "Teeth of the front sprocket, on the engine.";
        rear_teeth: u32 = |chain| chain.teeth()[1], "Teeth of the rear sprocket, on the wheel.";
        pitch: Length = |chain| chain.pitch(), "Pitch of the chain, pin to pin.";
        idler: Option<Idler> = |chain| chain.idler(), with Sprockets::with_idler,
            "A wheel in the frame that leads the upper run, where there is one.";
    }
    make |keys, _, at| at.take(Sprockets::new(keys.front_centre, [keys.front_teeth, keys.rear_teeth], keys.pitch))
}

words! {
    Passes { "over" => Passes::Over, "under" => Passes::Under }
}

table! {
    "A wheel in the frame that leads the upper run of the chain.",
    IdlerKeys for Idler,
    {
        centre: [Length; 2] = |idler| idler.centre, "Its centre, in the frame axes of the linkage points.";
        radius: Length = |idler| idler.radius, "Its pitch radius; of a smooth roller, its radius with half the chain's height.";
        passes: Passes = |idler| idler.passes, "Where the chain passes, `over` or `under` it.";
    }
    make |keys, _, _| Ok(Idler { centre: keys.centre, radius: keys.radius, passes: keys.passes })
}

fn rear(keys: RearKeys, before: Option<&RearEnd>, at: &Place<'_>) -> Result<RearEnd, Stop> {
    let drive = final_drive(&keys, at);
    let end = suspended(keys, before, at)?;
    Ok(end.driven_by(drive?))
}

/// The final drive; `chain` without its table says no more than nothing.
fn final_drive(keys: &RearKeys, at: &Place<'_>) -> Result<Option<FinalDrive>, Stop> {
    match (keys.final_drive, keys.chain) {
        (Some(Drive::Shaft), None) => Ok(Some(FinalDrive::Shaft)),
        (Some(Drive::Shaft), Some(_)) => {
            let wanted = "one of them: take the table out, or write `chain`";
            Err(at.key("final_drive").say("`shaft` beside `[rear.chain]`", wanted))
        }
        (_, chain) => Ok(chain.map(FinalDrive::Chain)),
    }
}

/// Linkage and shock; a linkage that did not change is not built again.
fn suspended(keys: RearKeys, before: Option<&RearEnd>, at: &Place<'_>) -> Result<RearEnd, Stop> {
    let RearKeys { linkage, measured, shock, travel, lever, progression, .. } = keys;
    let outline = Outline { travel, lever, progression };
    if linkage.is_none() && measured.is_none() {
        return no_linkage(outline, shock, at);
    }
    let length = length_of(&shock, at)?;
    joined(linkage, measured, (shock, length), before, at).map(|end| end.outlined(outline))
}

/// An end of which no more is known than where it begins and ends.
fn no_linkage(outline: Outline, shock: Shock, at: &Place<'_>) -> Result<RearEnd, Stop> {
    if outline == Outline::default() {
        let wanted =
            "`travel`, which with the stroke of the shock does for a first answer; or `linkage`; or `measured`";
        return Err(at.say("none of `travel`, `linkage` and `measured`", wanted));
    }
    at.take(RearEnd::from_outline(outline, shock, Usual::any()))
}

/// The length of a shock whose stroke is stated too, which a linkage drawn or measured needs.
pub(super) fn length_of(shock: &Shock, at: &Place<'_>) -> Result<Length, Stop> {
    if shock.is_stroke_assumed() {
        return Err(at.key("shock").missing("stroke", Length::SHAPE.wanted()));
    }
    shock.length().ok_or_else(|| at.key("shock").missing("length", Length::SHAPE.wanted()))
}

/// A shock in a linkage that is drawn or measured.
pub(super) fn joined(
    linkage: Option<DrawnKeys>,
    measured: Option<MeasuredKeys>,
    (shock, length): (Shock, Length),
    before: Option<&RearEnd>,
    at: &Place<'_>,
) -> Result<RearEnd, Stop> {
    if let Some(before) = before
        && (shock.length(), shock.full_stroke()) == (before.shock().length(), before.shock().full_stroke())
        && before.assumed().is_none()
        && drawn(before) == linkage
        && before.measured().or(before.table()).map(MeasuredKeys::of) == measured
    {
        return at.key("shock").take(before.clone().without_caliper().with_shock(shock));
    }
    let Some(drawing) = linkage else {
        let table = measured.ok_or(Stop)?;
        let made = of_table(table, (length, &shock), at)?;
        return at.take(RearEnd::from_table(made, shock));
    };
    let place = at.key("linkage");
    let mechanism = mechanism(drawing.points, drawing.bodies, &place);
    let joins = drawing.shock.as_slice();
    let [first, second] = joins else {
        return Err(place.key("shock").say(format!("{} points", joins.len()), "the two that the shock joins"));
    };
    let joins = (first.as_str(), second.as_str());
    let made = Linkage::new(mechanism?, &drawing.wheel, joins, length, shock.full_stroke());
    let linkage = made.map_err(|error| at_fault(error, &place, at))?;
    let table = measured.map(|table| of_table(table, (length, &shock), at)).transpose()?;
    let end = at.take(RearEnd::from_parts(linkage, shock))?;
    let end = match (drawing.point_uncertainty, drawing.shock_length_uncertainty) {
        (None, None) => end,
        (None, Some(_)) => {
            let message = "`point_uncertainty` is missing: how well the points are known comes first";
            let wanted = "`point_uncertainty` beside it";
            return Err(place.key("shock_length_uncertainty").note("it alone", wanted, None, message));
        }
        (Some(coordinate), length) => {
            let known = PivotUncertainty { coordinate, shock_length: length.unwrap_or_default() };
            place.take(end.with_pivots_known_to(known))?
        }
    };
    match table {
        Some(table) => at.take(end.with_table(table)),
        None => Ok(end),
    }
}

/// The least stroke there is (m), for a shock whose own is not known yet.
const ANY_STROKE: f64 = 0.005;

table! {
    "The shock, or one of two alike.",
    ShockKeys for Shock,
    {
        length: Option<Length> = |shock| shock.length(),
            "Between the eyes, fully extended; a linkage drawn or measured needs it.";
        stroke: Option<Length> = |shock| (!shock.is_stroke_assumed()).then(|| shock.full_stroke()),
            "Full stroke; it follows from `travel` and `lever` where it is not stated.";
        count: Option<u8> = |shock| (shock.count() != 1).then(|| shock.count()), "2 for twin shocks; 1 unless stated.";
        spring: Option<Preloaded> = |shock| shock.parts().spring.clone(), "Main spring.";
        reservoir: Option<Reservoir> = |shock| shock.parts().stated_reservoir().copied(),
            "Gas that acts on the rod; beside a spring without a stated preload, assumed unless stated.";
        air_spring: Option<AirSpring> = |shock| shock.parts().air_spring,
            "Air spring in place of, or beside, the main spring.";
        bump_stop: Option<StopSpring> = |shock| shock.parts().bump_stop.clone(), "Acts near full compression.";
        top_out: Option<StopSpring> = |shock| shock.parts().top_out.clone(), "Acts near full extension, the other way.";
        friction: Option<SealFriction> = |shock| shock.parts().friction, "Friction along the shock.";
        damper: Option<Damper> = |shock| shock.parts().damper.clone(), "Damper along the shock.";
    }
    kept elements: Vec<OwnElement> = |shock| shock.parts().own.clone();
    make |keys, _, at| {
        let ShockKeys { spring, reservoir, air_spring, bump_stop, top_out, friction, damper, elements: own, .. } = keys;
        let parts = ShockParts { spring, reservoir, air_spring, bump_stop, top_out, friction, damper, own, assumed_gas: None };
        let count = keys.count.unwrap_or(1);
        match keys.stroke {
            Some(stroke) => at.take_named(Shock::of_length(keys.length, stroke, parts, count), ("full_stroke", "stroke")),
            // The stroke that travel and lever give is put in where they are known.
            None => {
                let any = Length::from_si(ANY_STROKE);
                at.take(at.take(Shock::of_length(keys.length, any, parts, count))?.with_assumed_stroke(any))
            }
        }
    }
}

serde_by_keys! { Shock }
