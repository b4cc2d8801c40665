//! The keys of a linkage, drawn or measured.

use super::describe::{serde_by_keys, table};
use super::place::{Place, Stop};
use super::points::{Points, placed};
use crate::error::{Error, LinkageError};
use crate::linkage::{Linkage, MeasuredLinkage, MeasuredParts, Mechanism};
use crate::shock::Shock;
use crate::units::Length;
use crate::wheel::RearEnd;

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
    pub(super) fn of(table: &MeasuredLinkage) -> Self {
        let [travel_uncertainty, length_uncertainty] = table.uncertainties();
        Self { readings: table.readings().to_vec(), travel_uncertainty, length_uncertainty }
    }
}

table! {
    "Any planar mechanism of one degree of freedom: points, and the bodies that carry them.",
    DrawnKeys,
    {
        wheel: String, "The point that is the axle.";
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

pub(super) fn mechanism(points: Points, bodies: Bodies, at: &Place<'_>) -> Result<Mechanism, Stop> {
    let points = placed(points, &at.key("points"))?;
    at.take(Mechanism::new(points, bodies.0))
}

pub(super) fn drawn(end: &RearEnd) -> Option<DrawnKeys> {
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

pub(super) fn of_table(
    table: MeasuredKeys,
    (length, shock): (Length, &Shock),
    at: &Place<'_>,
) -> Result<MeasuredLinkage, Stop> {
    let MeasuredKeys { readings, travel_uncertainty, length_uncertainty } = table;
    let (shock_length, stroke) = (length, shock.full_stroke());
    let parts = MeasuredParts { travel_uncertainty, length_uncertainty, shock_length, stroke };
    let made = MeasuredLinkage::new(&readings, parts);
    made.map_err(|error| at_fault(error, &at.key("measured"), at))
}

/// Notes what is wrong with a linkage: at the shock where that is too long or too short for it, else in the linkage.
pub(super) fn at_fault(error: LinkageError, linkage: &Place<'_>, rear: &Place<'_>) -> Stop {
    let shock = rear.key("shock");
    match &error {
        LinkageError::ShockLength { end: "compressed", .. } => shock.key("stroke").refuse(&Error::from(error)),
        LinkageError::ShockLength { .. } => shock.key("length").refuse(&Error::from(error)),
        _ => linkage.refuse(&error.into()),
    }
}

table! {
    "A linkage by itself, with the shock it is for.",
    LinkageKeys for Linkage,
    {
        mechanism: Mechanism = |linkage| linkage.mechanism().clone(), "Points and bodies.";
        wheel: String = |linkage| linkage.wheel().to_owned(), "The point that is the axle.";
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

serde_by_keys! { Mechanism, Linkage }
