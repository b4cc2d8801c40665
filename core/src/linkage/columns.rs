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

impl<'a> Columns<'a> {
    /// The first so many places, and those after them.
    pub(super) fn split_at(self, count: usize) -> (Columns<'a>, Columns<'a>) {
        let curvatures = count.min(self.axle_curvature.len());
        let (stroke, strokes) = self.stroke.split_at_mut(count);
        let (motion_ratio, motion_ratios) = self.motion_ratio.split_at_mut(count);
        let (slope, slopes) = self.slope.split_at_mut(count);
        let (axle_x, axle_xs) = self.axle_x.split_at_mut(count);
        let (axle_z, axle_zs) = self.axle_z.split_at_mut(count);
        let (axle_slope, axle_slopes) = self.axle_slope.split_at_mut(count);
        let (axle_curvature, axle_curvatures) = self.axle_curvature.split_at_mut(curvatures);
        let first = Columns { stroke, motion_ratio, slope, axle_x, axle_z, axle_slope, axle_curvature };
        let after = Columns {
            stroke: strokes,
            motion_ratio: motion_ratios,
            slope: slopes,
            axle_x: axle_xs,
            axle_z: axle_zs,
            axle_slope: axle_slopes,
            axle_curvature: axle_curvatures,
        };
        (first, after)
    }

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

    /// The same without their names, in the order of [`row`].
    pub(super) fn by_place(&mut self) -> [&mut [f64]; 6] {
        self.named().map(|(_, column)| column)
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
