//! Results of a linkage, with units.

use archmage::autoversion;

use super::columns::Columns;
use super::motion::{Kernel, LinkageMotion};
use crate::units::{Length, LeverageRatio, MotionRatio, MotionRatioSlope, Quantity, Uncertain};

/// A linkage at one travel.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct LinkagePoint {
    /// Wheel travel from full extension, vertical.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub travel: Length,
    /// Shock stroke from full extension.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub stroke: Length,
    /// `MR = ds/dz`, shock per wheel.
    pub motion_ratio: MotionRatio,
    /// `dMR/dz`, positive on a rising-rate linkage.
    pub motion_ratio_slope: MotionRatioSlope,
    /// The axle, x forward and z up, in the axes of the drawing.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub axle: [Length; 2],
    /// `dx/dz` of the axle: positive where it moves forward as it rises.
    pub axle_slope: f64,
}

impl LinkagePoint {
    pub(super) fn from_kernel(travel: f64, kernel: &Kernel<f64>) -> Self {
        Self {
            travel: Length::from_si(travel),
            stroke: Length::from_si(kernel.stroke),
            motion_ratio: MotionRatio::from_si(kernel.motion_ratio),
            motion_ratio_slope: MotionRatioSlope::from_si(kernel.slope),
            axle: kernel.axle.map(Length::from_si),
            axle_slope: kernel.axle_slope,
        }
    }

    /// `1/MR`, wheel per shock.
    #[must_use]
    pub fn leverage_ratio(&self) -> LeverageRatio {
        self.motion_ratio.leverage_ratio()
    }
}

/// A linkage at one travel, with standard uncertainties.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct UncertainPoint {
    /// Wheel travel from full extension.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub travel: Length,
    /// Shock stroke from full extension.
    pub stroke: Uncertain<Length>,
    /// `MR = ds/dz`, shock per wheel.
    pub motion_ratio: Uncertain<MotionRatio>,
    /// `dMR/dz`.
    pub motion_ratio_slope: Uncertain<MotionRatioSlope>,
}

impl UncertainPoint {
    /// From stroke, motion ratio and slope, and their standard uncertainties, in SI units.
    pub(super) fn new(travel: Length, values: [f64; 3], spread: [f64; 3]) -> Self {
        Self {
            travel,
            stroke: uncertain(values[0], spread[0]),
            motion_ratio: uncertain(values[1], spread[1]),
            motion_ratio_slope: uncertain(values[2], spread[2]),
        }
    }
}

fn uncertain<Q: Quantity>(value: f64, uncertainty: f64) -> Uncertain<Q> {
    Uncertain { value: Q::from_si(value), standard_uncertainty: Q::from_si(uncertainty) }
}

/// A linkage over many travels: one column per quantity, all of the same length.
#[derive(Debug, Clone, PartialEq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct LinkageCurve {
    /// Wheel travel from full extension, vertical.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub travel: Vec<Length>,
    /// Shock stroke from full extension.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub stroke: Vec<Length>,
    /// `MR = ds/dz`, shock per wheel.
    pub motion_ratio: Vec<MotionRatio>,
    /// `dMR/dz`.
    pub motion_ratio_slope: Vec<MotionRatioSlope>,
    /// The axle's position forward.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub axle_x: Vec<Length>,
    /// The axle's height.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub axle_z: Vec<Length>,
    /// `dx/dz` of the axle.
    pub axle_slope: Vec<f64>,
}

impl LinkageCurve {
    /// Fills all columns anew, in the memory they have.
    pub(super) fn fill(&mut self, motion: &LinkageMotion, travels: &[Length]) {
        let count = travels.len();
        let mut travel = bare(&mut self.travel, count);
        travel.iter_mut().zip(travels).for_each(|(to, from)| *to = from.si());
        self.fill_at(travel, |travels, columns| motion.over(travels, columns));
    }

    /// Fills all columns anew by work on SI travels.
    pub(super) fn fill_at(&mut self, travel: Vec<f64>, work: impl FnOnce(&[f64], &mut Columns<'_>)) {
        let count = travel.len();
        let [mut stroke, mut axle_x, mut axle_z] =
            [&mut self.stroke, &mut self.axle_x, &mut self.axle_z].map(|column| bare(column, count));
        let mut motion_ratio = bare(&mut self.motion_ratio, count);
        let mut slope = bare(&mut self.motion_ratio_slope, count);
        self.axle_slope.resize(count, 0.0);
        let mut columns = Columns {
            stroke: &mut stroke,
            motion_ratio: &mut motion_ratio,
            slope: &mut slope,
            axle_x: &mut axle_x,
            axle_z: &mut axle_z,
            axle_slope: &mut self.axle_slope,
            axle_curvature: &mut [],
        };
        work(&travel, &mut columns);
        [self.travel, self.stroke, self.axle_x, self.axle_z] = [travel, stroke, axle_x, axle_z].map(typed);
        self.motion_ratio = typed(motion_ratio);
        self.motion_ratio_slope = typed(slope);
    }

    /// The row at one place of the columns, as a point.
    pub(crate) fn point(&self, at: usize) -> LinkagePoint {
        LinkagePoint {
            travel: self.travel[at],
            stroke: self.stroke[at],
            motion_ratio: self.motion_ratio[at],
            motion_ratio_slope: self.motion_ratio_slope[at],
            axle: [self.axle_x[at], self.axle_z[at]],
            axle_slope: self.axle_slope[at],
        }
    }

    /// Number of travels.
    #[must_use]
    pub fn len(&self) -> usize {
        self.travel.len()
    }

    /// Is there no travel in it?
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.travel.is_empty()
    }

    /// `1/MR` over the travels, wheel per shock.
    #[must_use]
    pub fn leverage_ratio(&self) -> Vec<LeverageRatio> {
        let mut inverted = vec![LeverageRatio::from_si(1.0); self.motion_ratio.len()];
        invert(&self.motion_ratio, &mut inverted);
        inverted
    }
}

/// Divisions side by side, which are a column's whole cost.
#[autoversion]
fn invert(ratios: &[MotionRatio], inverted: &mut [LeverageRatio]) {
    for (to, ratio) in inverted.iter_mut().zip(ratios) {
        *to = ratio.leverage_ratio();
    }
}

/// A column of quantities as SI values, in the same memory where that suffices. New memory comes as zeros from the system, so
/// that it is first touched where it is written.
fn bare<Q: Quantity>(column: &mut Vec<Q>, count: usize) -> Vec<f64> {
    if column.capacity() < count {
        return vec![0.0; count];
    }
    let mut bare: Vec<f64> = core::mem::take(column).into_iter().map(Q::si).collect();
    bare.resize(count, 0.0);
    bare
}

/// SI values as quantities, in the same memory.
fn typed<Q: Quantity>(column: Vec<f64>) -> Vec<Q> {
    column.into_iter().map(Q::from_si).collect()
}
