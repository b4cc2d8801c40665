//! The keys of both ends: the fork and its legs; the linkage, drawn or measured, the shock and the chain.

use super::describe::{serde_by_keys, table};
use super::item::{Item, words};
use super::place::{Place, Stop};
use super::points::{Points, placed};
use crate::axial::OwnElement;
use crate::damper::Damper;
use crate::error::{Error, LinkageError};
use crate::fork::{Fork, ForkLeg};
use crate::friction::SealFriction;
use crate::gas::{AirSpring, ForkAir, Reservoir};
use crate::linkage::{Idler, Linkage, MeasuredLinkage, MeasuredParts, Mechanism, Passes};
use crate::record::Usual;
use crate::shock::{Shock, ShockParts};
use crate::spring::{Preloaded, Stop as StopSpring};
use crate::units::{Angle, Length, LeverageRatio, Quantity, Share, Uncertain};
use crate::wheel::{FinalDrive, FrontEnd, Outline, PivotUncertainty, RearEnd, Sprockets};

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

table! {
    "A linkage known from a table, taken with the spring off and the wheel lifted in steps.",
    MeasuredKeys,
    {
        readings: Vec<(Length, Length)>,
            "Wheel travel, counted from anywhere, and the length between the eyes of the shock.";
        travel_uncertainty: Length, "Standard uncertainty of one travel.";
        length_uncertainty: Length, "Standard uncertainty of one length.";
    }
}

impl MeasuredKeys {
    fn of(table: &MeasuredLinkage) -> Self {
        let [travel_uncertainty, length_uncertainty] = table.uncertainties();
        Self { readings: table.readings().to_vec(), travel_uncertainty, length_uncertainty }
    }
}

table! {
    "Any planar mechanism of one degree of freedom: points, and the bodies that carry them.",
    DrawnKeys,
    {
        wheel: String, "The point that is the rear axle.";
        shock: Vec<String>, "The two points that the shock joins.";
        points: Points, "Points by name, in any frame axes, x forward and z up.";
        bodies: Bodies, "Bodies by name. `frame` stands still; a point on two bodies is a pivot.";
        point_uncertainty: Option<Length>, "Standard uncertainty of every coordinate of a point; exact unless stated.";
        shock_length_uncertainty: Option<Length>,
            "Standard uncertainty of the shock's length, beside `point_uncertainty`; exact unless stated.";
    }
}

/// Bodies by name.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Bodies(Vec<(String, Vec<String>)>);

table! {
    "Bodies by name, each the list of its points.",
    BodiesKeys for Bodies,
    {}
    named bodies: Vec<String> = |bodies| bodies.0.clone();
    make |keys, _, _| Ok(Bodies(keys.bodies))
}

table! {
    "A mechanism by itself.",
    MechanismKeys for Mechanism,
    {
        points: Points = |mechanism| Points::of(mechanism), "Points by name, in any frame axes, x forward and z up.";
        bodies: Bodies = |mechanism| bodies(mechanism), "Bodies by name. `frame` stands still; a point on two bodies is a pivot.";
    }
    make |keys, _, at| mechanism(keys.points, keys.bodies, at)
}

fn bodies(mechanism: &Mechanism) -> Bodies {
    let owned = |points: Vec<&str>| points.into_iter().map(str::to_owned).collect();
    Bodies(mechanism.bodies().map(|(name, points)| (name.to_owned(), owned(points))).collect())
}

fn mechanism(points: Points, bodies: Bodies, at: &Place<'_>) -> Result<Mechanism, Stop> {
    let points = placed(points, &at.key("points"))?;
    at.take(Mechanism::new(points, bodies.0))
}

fn drawn(end: &RearEnd) -> Option<DrawnKeys> {
    let linkage = end.linkage().ok()?;
    let (first, second) = linkage.shock();
    let known = end.pivot_uncertainty();
    Some(DrawnKeys {
        wheel: linkage.wheel().to_owned(),
        shock: vec![first.to_owned(), second.to_owned()],
        points: Points::of(linkage.mechanism()),
        bodies: bodies(linkage.mechanism()),
        point_uncertainty: known.map(|known| known.coordinate),
        shock_length_uncertainty: known.map(|known| known.shock_length),
    })
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
    if shock.is_stroke_assumed() {
        return Err(at.key("shock").missing("stroke", Length::SHAPE.wanted()));
    }
    let Some(length) = shock.length() else {
        return Err(at.key("shock").missing("length", Length::SHAPE.wanted()));
    };
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

/// A shock in a linkage that is drawn or measured.
fn joined(
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
        return at.key("shock").take(before.with_shock(shock));
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

fn of_table(table: MeasuredKeys, (length, shock): (Length, &Shock), at: &Place<'_>) -> Result<MeasuredLinkage, Stop> {
    let MeasuredKeys { readings, travel_uncertainty, length_uncertainty } = table;
    let (shock_length, stroke) = (length, shock.full_stroke());
    let parts = MeasuredParts { travel_uncertainty, length_uncertainty, shock_length, stroke };
    let made = MeasuredLinkage::new(&readings, parts);
    made.map_err(|error| at_fault(error, &at.key("measured"), at))
}

/// Notes what is wrong with a linkage: at the shock where that is too long or too short for it, else in the linkage.
fn at_fault(error: LinkageError, linkage: &Place<'_>, rear: &Place<'_>) -> Stop {
    let shock = rear.key("shock");
    match &error {
        LinkageError::ShockLength { end: "compressed", .. } => shock.key("stroke").refuse(&Error::from(error)),
        LinkageError::ShockLength { .. } => shock.key("length").refuse(&Error::from(error)),
        _ => linkage.refuse(&error.into()),
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

table! {
    "A linkage by itself, with the shock it is for.",
    LinkageKeys for Linkage,
    {
        mechanism: Mechanism = |linkage| linkage.mechanism().clone(), "Points and bodies.";
        wheel: String = |linkage| linkage.wheel().to_owned(), "The point that is the rear axle.";
        shock: Vec<String> = |linkage| {
            let (first, second) = linkage.shock();
            vec![first.to_owned(), second.to_owned()]
        }, "The two points that the shock joins.";
        shock_length: Length = |linkage| linkage.shock_length(), "Between the eyes, fully extended.";
        stroke: Length = |linkage| linkage.full_stroke(), "Full stroke.";
    }
    make |keys, _, at| match keys.shock.as_slice() {
        [first, second] => at.take(Linkage::new(keys.mechanism, &keys.wheel, (first, second), keys.shock_length, keys.stroke)),
        joins => Err(at.key("shock").say(format!("{} points", joins.len()), "the two that the shock joins")),
    }
}

serde_by_keys! { Fork, ForkLeg, Shock, Mechanism, Linkage }
