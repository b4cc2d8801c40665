//! An end in SI numbers: the mechanism, the axle and the push of the springs at one travel, for whatever iterates.

use super::{AxleAt, StrokeAt, Wheel};
use crate::axial::AxialState;
use crate::units::{Length, Quantity, wheel_rate_si};

/// The mechanism of an end at one travel, in SI units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Motion {
    pub(crate) stroke: f64,
    pub(crate) ratio: f64,
    /// `dMR/dz`.
    pub(crate) slope: f64,
}

impl From<StrokeAt> for Motion {
    #[inline]
    fn from(StrokeAt { stroke, motion_ratio, motion_ratio_slope }: StrokeAt) -> Self {
        Self { stroke: stroke.si(), ratio: motion_ratio.si(), slope: motion_ratio_slope.si() }
    }
}

/// The axle at one travel, in SI units.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub(crate) struct AxlePoint {
    pub(crate) at: [f64; 2],
    /// `dx/dz`.
    pub(crate) slope: f64,
    /// `d²x/dz²`.
    pub(crate) curvature: f64,
}

impl From<AxleAt> for AxlePoint {
    #[inline]
    fn from(AxleAt { at, slope, curvature }: AxleAt) -> Self {
        Self { at: at.map(Quantity::si), slope, curvature: curvature.value }
    }
}

/// Force, rate and energy along the axis, in SI units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Push {
    pub(crate) force: f64,
    pub(crate) rate: f64,
    pub(crate) energy: f64,
}

impl From<AxialState> for Push {
    #[inline]
    fn from(state: AxialState) -> Self {
        Self { force: state.force.si(), rate: state.rate.si(), energy: state.energy.si() }
    }
}

impl Push {
    /// Force and rate at the wheel.
    #[inline]
    pub(super) fn at_wheel(&self, Motion { ratio, slope, .. }: &Motion) -> (f64, f64) {
        (self.force * ratio, wheel_rate_si(self.rate, self.force, *ratio, *slope))
    }
}

impl core::ops::Add for Push {
    type Output = Self;
    #[inline]
    fn add(self, other: Self) -> Self {
        Self { force: self.force + other.force, rate: self.rate + other.rate, energy: self.energy + other.energy }
    }
}

/// Any [`Wheel`] in SI numbers, inside its travel. Nothing to implement: units cost nothing, so that the kernels ask the open
/// trait itself.
pub(crate) trait EndKernel: Wheel {
    fn full(&self) -> f64 {
        self.full_travel().si()
    }

    #[inline]
    fn motion(&self, travel: f64) -> Motion {
        self.stroke_at(Length::from_si(travel)).into()
    }

    /// `None` where the place of the axle is not known.
    fn axle_point(&self, travel: f64) -> Option<AxlePoint> {
        self.axle_at(Length::from_si(travel)).map(AxlePoint::from)
    }

    /// Main springs `G(x)`, `x` the stroke plus a change of preload.
    #[inline]
    fn spring_part(&self, x: f64) -> Push {
        self.springs(Length::from_si(x)).into()
    }

    /// Gas and stops `R(s)`.
    #[inline]
    fn rest_part(&self, stroke: f64) -> Push {
        self.rest(Length::from_si(stroke)).into()
    }

    /// Travels at which the rate jumps, rising, inside the range.
    fn jumps(&self) -> Vec<f64> {
        self.kinks().into_iter().map(Quantity::si).collect()
    }

    /// Springs and rest together at a stroke, settled.
    #[inline]
    fn axial(&self, stroke: f64) -> Push {
        self.spring_part(stroke) + self.rest_part(stroke)
    }

    /// The same at a stroke reached fast from rest at another.
    fn fast_axial(&self, rest: f64, stroke: f64) -> Push {
        let fast = self.fast_rest(Length::from_si(rest), Length::from_si(stroke));
        self.spring_part(stroke) + fast.state.into()
    }

    /// Rate at the wheel of a small fast movement about a travel at which it rests.
    fn fast_wheel_rate(&self, travel: f64) -> f64 {
        let motion = self.motion(travel);
        self.fast_axial(motion.stroke, motion.stroke).at_wheel(&motion).1
    }

    /// Force and rate at the wheel.
    fn force_and_rate(&self, travel: f64) -> (f64, f64) {
        let motion = self.motion(travel);
        self.axial(motion.stroke).at_wheel(&motion)
    }
}

impl<W: Wheel + ?Sized> EndKernel for W {}
