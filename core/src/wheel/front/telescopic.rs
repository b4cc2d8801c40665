//! A fork at its rake, as the front wheel feels it.
//!
//! `z = u·cos ε`, `F = F_axial/cos ε`, `k = k_axial/cos² ε`; the axle moves back and up along the steering axis,
//! `x = x₀ − u·sin ε`.

use uom::si::reciprocal_length::reciprocal_meter;

use crate::axial::{AxialElement, AxialState, FastState};
use crate::damper::Damper;
use crate::error::{Result, WheelError};
use crate::fork::Fork;
use crate::friction::SealFriction;
use crate::spring::{Adjuster, MainSpring};
use crate::units::{Length, MotionRatio, MotionRatioSlope, Quantity, ReciprocalLength, SpringRate, check};
use crate::wheel::{AxleAt, StrokeAt, Tunable, Wheel};

/// Furthest that an axle can lie from the origin of the frame axes, in metres.
const LARGEST_COORDINATE: f64 = 10.0;
/// Most that tubes are moved in their clamps, in metres: more is a slip of unit.
const LARGEST_RAISE: f64 = 0.1;

/// A fork as the front wheel feels it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Telescopic {
    fork: Fork,
    /// Sine and cosine of the rake.
    rake: [f64; 2],
    axle: Option<[Length; 2]>,
    /// How far the tubes are raised in their clamps from where `axle` was read.
    raised: Length,
}

impl Telescopic {
    pub(super) fn new(fork: Fork) -> Self {
        Self { rake: turned(&fork), fork, axle: None, raised: Length::from_si(0.0) }
    }

    pub(super) fn with_axle(self, axle: [Length; 2]) -> Result<Self> {
        let limit = Length::from_si(LARGEST_COORDINATE);
        for (axis, coordinate) in axle.into_iter().enumerate() {
            check::plausible(&format!("axle[{axis}]"), coordinate, -limit, limit)?;
        }
        Ok(Self { axle: Some(axle), ..self })
    }

    pub(super) fn with_fork(&self, fork: Fork) -> Self {
        Self { rake: turned(&fork), fork, ..self.clone() }
    }

    pub(super) fn with_raised(self, raised: Length) -> Result<Self> {
        let limit = Length::from_si(LARGEST_RAISE);
        Ok(Self { raised: check::plausible("raised", raised, -limit, limit)?, ..self })
    }

    pub(super) fn raised(&self) -> Length {
        self.raised
    }

    pub(super) fn raised_in_clamps(&self, by: Length) -> Result<Self> {
        let limit = Length::from_si(LARGEST_RAISE);
        check::plausible("raised_in_clamps", by, -limit, limit)?;
        self.axle.ok_or(WheelError::NoAxle)?;
        self.clone().with_raised(self.raised + by)
    }

    pub(super) fn fork(&self) -> &Fork {
        &self.fork
    }

    pub(super) fn axle(&self) -> Option<[Length; 2]> {
        self.axle
    }

    fn cosine(&self) -> f64 {
        self.rake[1]
    }
}

/// Sine and cosine of a fork's rake.
fn turned(fork: &Fork) -> [f64; 2] {
    <[f64; 2]>::from(fork.rake().si().sin_cos())
}

impl Wheel for Telescopic {
    felt_along_the_axis!(fork);

    fn full_travel(&self) -> Length {
        Length::from_si(self.fork.full_stroke().si() * self.cosine())
    }

    fn stroke_at(&self, travel: Length) -> StrokeAt {
        let ratio = 1.0 / self.cosine();
        let (motion_ratio, motion_ratio_slope) = (MotionRatio::from_si(ratio), MotionRatioSlope::from_si(0.0));
        StrokeAt { stroke: travel * ratio, motion_ratio, motion_ratio_slope }
    }

    fn kinks(&self) -> Vec<Length> {
        self.stroke_kinks().into_iter().map(|stroke| stroke * self.cosine()).collect()
    }

    fn axle_at(&self, travel: Length) -> Option<AxleAt> {
        let [sin, cos] = self.rake;
        let slope = -sin / cos;
        let curvature = ReciprocalLength::new::<reciprocal_meter>(0.0);
        let (back, up) = (self.raised * sin, self.raised * cos);
        self.axle.map(|[x, z]| AxleAt { at: [x - back + slope * travel, z + up + travel], slope, curvature })
    }

    fn adjuster(&self) -> Option<Adjuster> {
        self.fork.legs().iter().find_map(|leg| leg.spring())?.adjuster().copied()
    }
}

impl Tunable for Telescopic {
    fn with_spring_change(&self, rate_factor: f64, preload_change: Length) -> Result<Self> {
        Ok(self.with_fork(self.fork.with_spring_change(rate_factor, preload_change)?))
    }

    fn with_spring_rate(&self, rate: SpringRate, preload: Length) -> Result<Self> {
        Ok(self.with_fork(self.fork.with_spring_rate(rate, preload)?))
    }
}
