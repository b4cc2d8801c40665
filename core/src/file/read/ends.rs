//! Both ends.

use super::super::part::{Part, Stop};
use super::super::tree::Step;
use crate::error::LinkageError;
use crate::fork::{Fork, ForkLeg};
use crate::linkage::{Linkage, MeasuredLinkage, Mechanism};
use crate::shock::{Shock, ShockParts};
use crate::units::{Length, Quantity};
use crate::wheel::{FinalDrive, FrontEnd, PivotUncertainty, RearEnd, Sprockets};

pub(super) fn front(part: &Part<'_, '_>) -> Result<FrontEnd, Stop> {
    let fork = part.part("fork").ok_or(Stop::Told)?;
    let legs = fork.rows("leg");
    let built: Vec<Result<ForkLeg, Stop>> = legs.iter().map(leg).collect();
    let built = built.into_iter().collect::<Result<Vec<_>, _>>()?;
    let found = built.len();
    let Ok(pair) = <[ForkLeg; 2]>::try_from(built) else {
        let message = format!("found {found}, wanted two legs; an empty leg is an empty table");
        fork.refuse_at("leg", &message);
        return Err(Stop::Told);
    };
    let (travel, rake) = (fork.need("travel")?, fork.need("rake")?);
    let uncertainty = fork.maybe("rake_uncertainty")?;
    let build = |legs| {
        let built = Fork::new(travel, rake, legs)
            .and_then(|built| uncertainty.map_or(Ok(built.clone()), |known| built.with_rake_uncertainty(known)));
        fork.told(built.map_err(Stop::from))
    };
    let empty = ForkLeg::new;
    build([empty(), empty()])?;
    // Each leg by itself, so that the faults of both are told.
    let [one, two] = &pair;
    let (one, two) = (build([one.clone(), empty()]), build([empty(), two.clone()]));
    one.and(two)?;
    let fork = build(pair)?;
    let end = FrontEnd::new(fork);
    Ok(match part.point("axle")? {
        Some(axle) => end.with_axle(axle)?,
        None => end,
    })
}

fn leg(part: &Part<'_, '_>) -> Result<ForkLeg, Stop> {
    let spring = part.parse_at("spring");
    let (air, air_spring) = (part.parse_at("air"), part.parse_at("air_spring"));
    let (bump_stop, top_out) = (part.parse_at("bump_stop"), part.parse_at("top_out"));
    let friction = part.parse_at("friction");
    let mut leg = ForkLeg::new();
    if let Some(spring) = spring? {
        leg = leg.with_spring(spring);
    }
    if let Some(air) = air? {
        leg = leg.with_air(air);
    }
    if let Some(spring) = air_spring? {
        leg = leg.with_air_spring(spring);
    }
    if let Some(stop) = bump_stop? {
        leg = leg.with_bump_stop(stop);
    }
    if let Some(stop) = top_out? {
        leg = leg.with_top_out(stop);
    }
    if let Some(friction) = friction? {
        leg = leg.with_friction(friction);
    }
    Ok(leg)
}

pub(super) fn rear(part: &Part<'_, '_>) -> Result<RearEnd, Stop> {
    let (end, drive) = (part.told(suspended(part)), part.told(final_drive(part)));
    Ok(match drive? {
        Some(drive) => end?.with_final_drive(drive),
        None => end?,
    })
}

/// The final drive; `chain` without its table says no more than nothing.
fn final_drive(rear: &Part<'_, '_>) -> Result<Option<FinalDrive>, Stop> {
    let chain = rear.part("chain").map(|part| part.told(sprockets(&part))).transpose();
    match (rear.text("final_drive")?, rear.part("chain")) {
        (Some("shaft"), None) => Ok(Some(FinalDrive::Shaft)),
        (Some("shaft"), Some(_)) => {
            let message =
                "found `shaft` beside `[rear.chain]`, wanted one of them: take the table out, or write `chain`";
            rear.refuse_at("final_drive", &message);
            Err(Stop::Told)
        }
        _ => Ok(chain?.map(FinalDrive::Chain)),
    }
}

fn sprockets(part: &Part<'_, '_>) -> Result<Sprockets, Stop> {
    let teeth = [part.parse_at("front_teeth")?.ok_or(Stop::Told)?, part.parse_at("rear_teeth")?.ok_or(Stop::Told)?];
    Ok(Sprockets::new(part.point("front_centre")?.ok_or(Stop::Told)?, teeth, part.need("pitch")?)?)
}

fn suspended(part: &Part<'_, '_>) -> Result<RearEnd, Stop> {
    let shock = part.part("shock").ok_or(Stop::Told)?;
    let drawing = match (part.part("linkage"), part.part("measured")) {
        (Some(drawing), _) => drawing,
        (None, Some(table)) => return measured(part, &table, &shock),
        _ => return Err(Stop::Told),
    };
    let (mechanism, built) = (mechanism(part, &drawing), shock.told(self::shock(&shock)));
    let joins = drawing.texts("shock")?;
    let [first, second] = joins.as_slice() else {
        drawing.refuse_at("shock", &format!("found {} points, wanted the two that the shock joins", joins.len()));
        return Err(Stop::Told);
    };
    let (mechanism, built) = (mechanism?, built?);
    let wheel = drawing.need_text("wheel")?;
    let linkage = Linkage::new(mechanism, wheel, (first, second), built.length(), built.full_stroke());
    let linkage = linkage.map_err(|error| linkage_fault(part, &error))?;
    let end = RearEnd::from_parts(linkage, built.clone())?;
    let end = drawing
        .told(match (drawing.maybe("point_uncertainty")?, drawing.maybe("shock_length_uncertainty")?) {
        (Some(coordinate), length) => {
            let known = PivotUncertainty::new(coordinate, length.unwrap_or(Length::from_si(0.0)));
            known.map_err(Stop::from).and_then(|known| Ok(end.with_pivots_known_to(known)?))
        }
        (None, Some(_)) => Err(Stop::Refused(
            "shock_length_uncertainty: stands beside `point_uncertainty`, which is missing: say how well the points \
             were measured too"
                .to_owned(),
        )),
        (None, None) => Ok(end),
    })?;
    match part.part("measured") {
        Some(table) => Ok(end.with_table(table_of(part, &table, &built)?)?),
        None => Ok(end),
    }
}

fn measured(rear: &Part<'_, '_>, table: &Part<'_, '_>, shock: &Part<'_, '_>) -> Result<RearEnd, Stop> {
    let built = shock.told(self::shock(shock))?;
    Ok(RearEnd::from_table(table_of(rear, table, &built)?, built)?)
}

fn table_of(rear: &Part<'_, '_>, table: &Part<'_, '_>, built: &Shock) -> Result<MeasuredLinkage, Stop> {
    let readings = table.pairs("readings")?;
    let [travel, length] = [table.need("travel_uncertainty")?, table.need("length_uncertainty")?];
    let made = MeasuredLinkage::new(&readings, travel, length, built.length(), built.full_stroke());
    made.map_err(|error| linkage_fault(rear, &error))
}

fn mechanism(rear: &Part<'_, '_>, drawing: &Part<'_, '_>) -> Result<Mechanism, Stop> {
    let points = drawing.part("points").ok_or(Stop::Told)?;
    let bodies = drawing.part("bodies").ok_or(Stop::Told)?;
    let positions: Result<Vec<_>, Stop> =
        points.names().map(|name| Ok((name, points.point(name)?.ok_or(Stop::Told)?))).collect();
    let carried: Result<Vec<_>, Stop> = bodies.names().map(|name| Ok((name, bodies.texts(name)?))).collect();
    Mechanism::new(positions?, carried?).map_err(|error| linkage_fault(rear, &error))
}

/// Tells what is wrong with a linkage, each fault at the point, the body or the length that it is about.
fn linkage_fault(rear: &Part<'_, '_>, error: &LinkageError) -> Stop {
    if let LinkageError::Several(faults) = error {
        for fault in faults {
            linkage_fault(rear, fault);
        }
        return Stop::Told;
    }
    let path: &[&str] = match error {
        LinkageError::PointTwice { point } | LinkageError::PointOnNoBody { point } => &["linkage", "points", point],
        LinkageError::BodyTwice { body }
        | LinkageError::PointTwiceOnBody { body, .. }
        | LinkageError::TooFewPoints { body, .. }
        | LinkageError::Coincident { body, .. }
        | LinkageError::Welded { first: body, .. } => &["linkage", "bodies", body],
        LinkageError::UnknownPoint { by, .. } => {
            match by.strip_prefix("body `").and_then(|body| body.strip_suffix('`')) {
                Some(body) => &["linkage", "bodies", body],
                None => &["linkage", by],
            }
        }
        LinkageError::NoFrame { .. } | LinkageError::Mobility { .. } | LinkageError::Paradox { .. } => {
            &["linkage", "bodies"]
        }
        LinkageError::ShockOnOneBody { .. } => &["linkage", "shock"],
        LinkageError::Immobile { part, .. } => &["linkage", part],
        LinkageError::ShockLength { end: "compressed", .. } => &["shock", "stroke"],
        LinkageError::ShockLength { .. } => &["shock", "length"],
        _ if rear.part("measured").is_some() => &["measured"],
        _ => &["linkage"],
    };
    let steps: Vec<Step> = path.iter().map(|key| Step::Key((*key).to_owned())).collect();
    rear.refuse_in(&steps, error);
    Stop::Told
}

fn shock(part: &Part<'_, '_>) -> Result<Shock, Stop> {
    let spring = part.parse_at("spring");
    let (reservoir, air_spring) = (part.parse_at("reservoir"), part.parse_at("air_spring"));
    let (bump_stop, top_out) = (part.parse_at("bump_stop"), part.parse_at("top_out"));
    let friction = part.parse_at("friction");
    let count = part.parse_at("count");
    let parts = ShockParts {
        spring: spring?,
        reservoir: reservoir?,
        air_spring: air_spring?,
        bump_stop: bump_stop?,
        top_out: top_out?,
        friction: friction?,
        ..ShockParts::default()
    };
    Ok(Shock::new(part.need("length")?, part.need("stroke")?, parts, count?.unwrap_or(1))?)
}
