//! Results of a linkage, with units.

use super::motion::{Kernel, Motion};
use crate::units::{Length, LeverageRatio, MotionRatio, MotionRatioSlope, Quantity};

/// A linkage at one travel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LinkagePoint {
    /// Wheel travel from full extension, vertical.
    pub travel: Length,
    /// Shock stroke from full extension.
    pub stroke: Length,
    /// `MR = ds/dz`, shock per wheel.
    pub motion_ratio: MotionRatio,
    /// `dMR/dz`, positive on a rising-rate linkage.
    pub motion_ratio_slope: MotionRatioSlope,
    /// The axle, x forward and z up, in the axes of the drawing.
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

/// A linkage over many travels: one column per quantity, all of the same length.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LinkageCurve {
    /// Wheel travel from full extension, vertical.
    pub travel: Vec<Length>,
    /// Shock stroke from full extension.
    pub stroke: Vec<Length>,
    /// `MR = ds/dz`, shock per wheel.
    pub motion_ratio: Vec<MotionRatio>,
    /// `dMR/dz`.
    pub motion_ratio_slope: Vec<MotionRatioSlope>,
    /// The axle's position forward.
    pub axle_x: Vec<Length>,
    /// The axle's height.
    pub axle_z: Vec<Length>,
    /// `dx/dz` of the axle.
    pub axle_slope: Vec<f64>,
}

impl LinkageCurve {
    pub(super) fn of(motion: &Motion, travels: &[Length]) -> Self {
        let mut curve = Self::default();
        let mut slots = Vec::new();
        for &travel in travels {
            curve.push(&LinkagePoint::from_kernel(travel.si(), &motion.at(travel.si(), &mut slots)));
        }
        curve
    }

    fn push(&mut self, point: &LinkagePoint) {
        let [x, z] = point.axle;
        self.travel.push(point.travel);
        self.stroke.push(point.stroke);
        self.motion_ratio.push(point.motion_ratio);
        self.motion_ratio_slope.push(point.motion_ratio_slope);
        self.axle_x.push(x);
        self.axle_z.push(z);
        self.axle_slope.push(point.axle_slope);
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
        self.motion_ratio.iter().map(|ratio| ratio.leverage_ratio()).collect()
    }
}
