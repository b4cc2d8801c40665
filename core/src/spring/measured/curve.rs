//! The curve through the readings of a spring: smoothed, rising, and from where the spring touches.

use crate::error::Result;
use crate::smooth::{Basis, Family, Smooth};
use crate::solve::turning;
use crate::spring::Table;
use crate::units::{Force, Length, Quantity, SpringRate, check, show};

use super::{MeasuredSpringParts, description};

/// Share of the range by which the curve may be continued to where the spring touches.
const EXTRAPOLATION: f64 = 0.05;
/// Where the spring touches is not known better than this (m), however exact the readings are said to be.
const TOUCH: f64 = 1e-6;
/// Rounds of weighting the compression error by the rate; the second changes the weights by less than a percent.
const WEIGHTING_ROUNDS: usize = 2;
/// Places at which the rate is checked to be above zero.
const CHECKED: usize = 200;
/// Bisections that locate where the spring touches to the last bit.
const BISECTIONS: usize = 60;
/// Rows of the curve that is followed: parabolas this near are within a hundred-thousandth of the spline's force.
const ROWS: usize = 96;

/// What was made of the readings.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Fitted {
    /// The curve as it is followed.
    pub(super) curve: Table,
    pub(super) smoothed: Smoothed,
    pub(super) end: f64,
}

/// The readings made smooth.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Smoothed {
    /// Force over mean rate, by compression as read.
    pub(super) smooth: Smooth,
    pub(super) mean_rate: f64,
    /// Where the spring touches, as read.
    pub(super) touch: f64,
}

/// Compressions and forces in SI units.
type Points = Vec<(f64, f64)>;

/// The points of some readings, nothing at nothing first, and the place of the reading behind each of the others.
pub(super) fn points(readings: &[(Length, Force)], parts: &MeasuredSpringParts) -> Result<(Points, Vec<usize>)> {
    let (mut points, mut rows) = (vec![(0.0, 0.0)], Vec::new());
    for (index, &(at, force)) in readings.iter().enumerate() {
        let field = |column: usize| format!("readings[{index}][{column}]");
        let compression = match parts.free_length {
            Some(free) => free - check::plausible(&field(0), at, Length::from_si(1e-3), free)?,
            None => check::plausible(&field(0), at, Length::from_si(0.0), Length::from_si(1.0))?,
        };
        check::plausible(&field(1), force, Force::from_si(0.0), Force::from_si(1e6))?;
        if compression.si() > 0.0 || force.si() > 0.0 {
            points.push((compression.si(), force.si()));
            rows.push(index);
        }
    }
    Ok((points, rows))
}

/// Compressions that a curve is made for: to the furthest, and a little beyond it either way.
pub(super) fn range(compressions: impl Iterator<Item = f64>) -> [f64; 2] {
    let most = compressions.fold(0.0, f64::max);
    [-EXTRAPOLATION * most, (1.0 + EXTRAPOLATION) * most]
}

/// The curve through compressions and forces in SI units, nothing at nothing first.
pub(super) fn fitted(points: &[(f64, f64)], parts: &MeasuredSpringParts) -> Result<Fitted> {
    let squares = points.iter().map(|(x, _)| x * x).sum::<f64>();
    let mean_rate = points.iter().map(|(x, force)| x * force).sum::<f64>() / squares;
    check::plausible("readings", SpringRate::from_si(mean_rate), SpringRate::from_si(100.0), SpringRate::from_si(5e6))?;
    let smoothed = smoothed(points, parts, mean_rate, range(points.iter().map(|point| point.0)))?;
    let Smoothed { smooth, touch, .. } = &smoothed;
    let end = furthest(points) - touch;
    let row = |k: usize| {
        let x = end * (k as f64 / ROWS as f64);
        (Length::from_si(x), Force::from_si(mean_rate * (smooth.value(touch + x, 0) - smooth.value(*touch, 0))))
    };
    let curve = Table::new((1..=ROWS).map(row).collect())?;
    Ok(Fitted { curve, smoothed, end })
}

fn furthest(points: &[(f64, f64)]) -> f64 {
    points.iter().map(|point| point.0).fold(0.0, f64::max)
}

/// The same points made smooth, over some range.
pub(super) fn smoothed(
    points: &[(f64, f64)],
    parts: &MeasuredSpringParts,
    mean_rate: f64,
    range: [f64; 2],
) -> Result<Smoothed> {
    let at: Vec<f64> = points.iter().map(|point| point.0).collect();
    let values: Vec<f64> = points.iter().map(|point| point.1 / mean_rate).collect();
    let mut rates = vec![1.0; at.len()];
    let mut found = Err(not_rising(0.0));
    for _ in 0..WEIGHTING_ROUNDS {
        let mut sigma: Vec<f64> = rates.iter().map(|&rate| parts.deviation(mean_rate, rate)).collect();
        // Where it just touches, nothing is read but the compression.
        if let (Some(touch), Some(rate)) = (sigma.first_mut(), rates.first()) {
            *touch = (rate * parts.compression_uncertainty.si()).max(TOUCH);
        }
        let family = Family::new(Basis::new(range[0], range[1]), &at, &values, &sigma);
        found = rising(&family, range[0], furthest(points));
        if let Ok((smooth, _)) = &found {
            rates = at.iter().map(|&x| smooth.value(x, 1).max(0.0)).collect();
        }
    }
    found.map(|(smooth, touch)| Smoothed { smooth, mean_rate, touch })
}

/// The average curve, the roughest ones left out as far as that is needed to keep the rate above zero, and where it begins.
fn rising(family: &Family, low: f64, most: f64) -> Result<(Smooth, f64)> {
    let mut fault = not_rising(0.0);
    for smooth in (0..).map_while(|left_out| family.average(left_out)) {
        if smooth.value(low, 0) >= 0.0 || smooth.value(most, 0) <= 0.0 {
            return Err(description(
                "readings",
                "loads that do not fall to nothing where the spring is loose".to_owned(),
                "compressions from where it just touches; from its length, the `free_length`",
            ));
        }
        let [below, above] = turning(|x| smooth.value(x, 0) < 0.0, [low, most], BISECTIONS);
        let touch = f64::midpoint(below, above);
        let place = |step: usize| touch + (most - touch) * (step as f64 / CHECKED as f64);
        match (0..=CHECKED).map(place).find(|&x| smooth.value(x, 1) <= 0.0) {
            Some(x) => fault = not_rising(x),
            None => return Ok((smooth, touch)),
        }
    }
    Err(fault)
}

fn not_rising(at: f64) -> crate::Error {
    description(
        "readings",
        format!("loads that do not rise about {}", show(Length::from_si(at), "mm", 1)),
        "loads that rise with compression, or the uncertainty with which they were read",
    )
}
