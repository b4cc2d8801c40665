//! Results in columns: one slice per quantity.

use crate::error::LinkageError;

use super::motion::Kernel;

/// A column of a [`LinkageCurve`](super::LinkageCurve), for results in memory of the caller's own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum LinkageColumn {
    /// Wheel travel, in metres.
    Travel,
    /// Shock stroke, in metres.
    Stroke,
    /// Motion ratio, shock per wheel.
    MotionRatio,
    /// Slope of the motion ratio, per metre of travel.
    MotionRatioSlope,
    /// The axle's position forward, in metres.
    AxleX,
    /// The axle's height, in metres.
    AxleZ,
    /// `dx/dz` of the axle.
    AxleSlope,
}

impl LinkageColumn {
    /// Columns have to be as long as what goes into them.
    pub(super) fn check(columns: &[(Self, &mut [f64])], wanted: usize) -> Result<(), LinkageError> {
        match columns.iter().find(|(_, column)| column.len() != wanted) {
            Some((_, column)) => Err(LinkageError::Column { found: column.len(), wanted }),
            None => Ok(()),
        }
    }

    /// Place among [`Columns`]; the travels are not computed.
    pub(super) fn place(self) -> Option<usize> {
        match self {
            Self::Travel => None,
            Self::Stroke => Some(0),
            Self::MotionRatio => Some(1),
            Self::MotionRatioSlope => Some(2),
            Self::AxleX => Some(3),
            Self::AxleZ => Some(4),
            Self::AxleSlope => Some(5),
        }
    }
}

/// Quantities in a row of results.
pub(super) const ROWS: usize = 7;

/// Where results go: one slice per quantity, all as long as the travels.
#[derive(Debug)]
pub(crate) struct Columns<'a> {
    pub(crate) stroke: &'a mut [f64],
    pub(crate) motion_ratio: &'a mut [f64],
    pub(crate) slope: &'a mut [f64],
    pub(crate) axle_x: &'a mut [f64],
    pub(crate) axle_z: &'a mut [f64],
    pub(crate) axle_slope: &'a mut [f64],
    /// Left out where it is empty.
    pub(crate) axle_curvature: &'a mut [f64],
}

impl Columns<'_> {
    /// The columns that a caller may ask for, by name.
    pub(super) fn named(&mut self) -> [(LinkageColumn, &mut [f64]); 6] {
        [
            (LinkageColumn::Stroke, &mut *self.stroke),
            (LinkageColumn::MotionRatio, &mut *self.motion_ratio),
            (LinkageColumn::MotionRatioSlope, &mut *self.slope),
            (LinkageColumn::AxleX, &mut *self.axle_x),
            (LinkageColumn::AxleZ, &mut *self.axle_z),
            (LinkageColumn::AxleSlope, &mut *self.axle_slope),
        ]
    }

    pub(super) fn part(&mut self, from: usize, to: usize) -> Columns<'_> {
        Columns {
            stroke: &mut self.stroke[from..to],
            motion_ratio: &mut self.motion_ratio[from..to],
            slope: &mut self.slope[from..to],
            axle_x: &mut self.axle_x[from..to],
            axle_z: &mut self.axle_z[from..to],
            axle_slope: &mut self.axle_slope[from..to],
            axle_curvature: self.axle_curvature.get_mut(from..to).unwrap_or_default(),
        }
    }
}

/// What goes into the columns, in their order.
#[inline(always)]
pub(super) fn row(kernel: &Kernel<f64>) -> [f64; ROWS] {
    let [x, z] = kernel.axle;
    [kernel.stroke, kernel.motion_ratio, kernel.slope, x, z, kernel.axle_slope, kernel.axle_curvature]
}
