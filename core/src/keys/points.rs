//! Points by name, with a unit for coordinates that are written as bare numbers.

use super::describe::table;
use super::item::{forms, words};
use super::place::{Place, Stop};
use crate::error::UnitError;
use crate::linkage::Mechanism;
use crate::units::kind::LENGTH;
use crate::units::{Length, Quantity, parse};

forms! {
    /// A coordinate: a length, or a number in the unit of its table.
    Coordinate: Bare(f64), Given(Length)
}

/// A unit of length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct LengthUnit(&'static str);

words! {
    LengthUnit {
        "mm" => LengthUnit("mm"),
        "cm" => LengthUnit("cm"),
        "m" => LengthUnit("m"),
        "in" => LengthUnit("in"),
        "ft" => LengthUnit("ft"),
    }
}

/// Points as they are written.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Points {
    unit: Option<LengthUnit>,
    named: Vec<(String, [Coordinate; 2])>,
}

impl Points {
    pub(super) fn of(mechanism: &Mechanism) -> Self {
        Self::at(mechanism.points())
    }

    pub(super) fn at<'a>(points: impl Iterator<Item = (&'a str, [Length; 2])>) -> Self {
        let named = points.map(|(name, at)| (name.to_owned(), at.map(Coordinate::Given))).collect();
        Self { unit: None, named }
    }
}

table! {
    "Points by name. The pose need not be full extension: the length and stroke of the shock set the travel.",
    PointsKeys for Points,
    {
        unit: Option<LengthUnit> = |points| points.unit, "Unit of coordinates written as bare numbers.";
    }
    named points: [Coordinate; 2] = |points| points.named.clone();
    make |keys, _, at| {
        let points = Points { unit: keys.unit, named: keys.points };
        // Bare numbers without a unit are said where they stand.
        placed(points.clone(), at)?;
        Ok(points)
    }
}

/// The points as lengths.
pub(super) fn placed(points: Points, at: &Place<'_>) -> Result<Vec<(String, [Length; 2])>, Stop> {
    let unit = points.unit.and_then(|LengthUnit(unit)| LENGTH.unit(unit));
    let length = |coordinate: Coordinate| -> Result<Length, UnitError> {
        match (coordinate, unit) {
            (Coordinate::Given(length), _) => Ok(length),
            (Coordinate::Bare(number), Some(unit)) => Ok(Length::from_si(unit.to_si(number))),
            (Coordinate::Bare(number), None) => parse(&number.to_string()),
        }
    };
    let point = |(name, [x, z]): (String, [Coordinate; 2])| {
        let place = at.key(&name);
        let (x, z) = (place.row(0).take(length(x)), place.row(1).take(length(z)));
        let at = [x?, z?];
        Ok((name, at))
    };
    let points: Vec<Result<_, Stop>> = points.named.into_iter().map(point).collect();
    points.into_iter().collect()
}

/// Points of the frame, as lengths.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct FramePoints(pub(super) Vec<(String, [Length; 2])>);

table! {
    "Points of the frame by name, fully extended, in the axes of the linkage points.",
    FramePointsKeys for FramePoints,
    {
        unit: Option<LengthUnit> = |_| None, "Unit of coordinates written as bare numbers.";
    }
    named points: [Coordinate; 2] = |points| Points::at(points.0.iter().map(|(name, at)| (name.as_str(), *at))).named;
    make |keys, _, at| placed(Points { unit: keys.unit, named: keys.points }, at).map(FramePoints)
}
