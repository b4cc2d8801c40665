//! What the wheel feels, with units: at one travel, and over many as arrays.

use super::{EndKernel, Motion, Push};
use crate::units::{
    Energy, Force, Length, LeverageRatio, MotionRatio, MotionRatioSlope, Quantity, SpringRate, WheelRate,
};

/// Energy of the springs at full extension.
pub(super) fn extended<E: EndKernel + ?Sized>(end: &E) -> f64 {
    end.axial(end.motion(0.0).stroke).energy
}

/// An end at one travel.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct WheelState {
    /// Vertical travel from full extension.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub travel: Length,
    /// Stroke of the fork or shock from full extension.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub stroke: Length,
    /// `MR = ds/dz`, shock per wheel.
    pub motion_ratio: MotionRatio,
    /// `dMR/dz`.
    pub motion_ratio_slope: MotionRatioSlope,
    /// Force of the fork or shock along its axis.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub axial_force: Force,
    /// Its rate, springs, gas and stops together.
    pub axial_rate: SpringRate,
    /// Vertical force at the wheel, `F·MR`.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub wheel_force: Force,
    /// Rate at the wheel, `k·MR² + F·dMR/dz`.
    pub wheel_rate: WheelRate,
    /// Energy taken up from full extension.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub energy: Energy,
}

impl WheelState {
    pub(crate) fn of<E: EndKernel + ?Sized>(end: &E, travel: f64) -> Self {
        let motion = end.motion(travel);
        Self::with(travel, motion, end.axial(motion.stroke), extended(end))
    }

    /// Reached fast from rest at another travel.
    pub(super) fn fast<E: EndKernel + ?Sized>(end: &E, rest: f64, travel: f64) -> Self {
        let motion = end.motion(travel);
        Self::with(travel, motion, end.fast_axial(end.motion(rest).stroke, motion.stroke), extended(end))
    }

    /// At a travel, with the energy that the springs have at full extension.
    pub(super) fn with(travel: f64, motion: Motion, axial: Push, extended: f64) -> Self {
        let Motion { stroke, ratio, slope } = motion;
        let (motion_ratio, motion_ratio_slope) = (MotionRatio::from_si(ratio), MotionRatioSlope::from_si(slope));
        let (axial_force, axial_rate) = (Force::from_si(axial.force), SpringRate::from_si(axial.rate));
        Self {
            travel: Length::from_si(travel),
            stroke: Length::from_si(stroke),
            motion_ratio,
            motion_ratio_slope,
            axial_force,
            axial_rate,
            wheel_force: motion_ratio.force_at_wheel(axial_force),
            wheel_rate: axial_rate.at_wheel(motion_ratio, axial_force, motion_ratio_slope),
            energy: Energy::from_si(axial.energy - extended),
        }
    }

    /// `1/MR`, wheel per shock.
    #[must_use]
    pub fn leverage_ratio(&self) -> LeverageRatio {
        self.motion_ratio.leverage_ratio()
    }

    /// The geometric part of the rate, `F·dMR/dz`.
    #[must_use]
    pub fn geometric_rate(&self) -> WheelRate {
        WheelRate::from_si(self.axial_force.si() * self.motion_ratio_slope.si())
    }
}

/// An end over many travels: one column per quantity, all of the same length.
#[derive(Debug, Clone, PartialEq, Default)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct WheelCurve {
    /// Vertical travel from full extension.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub travel: Vec<Length>,
    /// Stroke of the fork or shock.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub stroke: Vec<Length>,
    /// `MR = ds/dz`, shock per wheel.
    pub motion_ratio: Vec<MotionRatio>,
    /// `dMR/dz`.
    pub motion_ratio_slope: Vec<MotionRatioSlope>,
    /// Axial force of the fork or shock.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub axial_force: Vec<Force>,
    /// Axial rate.
    pub axial_rate: Vec<SpringRate>,
    /// Vertical force at the wheel.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub wheel_force: Vec<Force>,
    /// Rate at the wheel.
    pub wheel_rate: Vec<WheelRate>,
    /// Energy taken up from full extension.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub energy: Vec<Energy>,
}

impl WheelCurve {
    pub(super) fn with_capacity(count: usize) -> Self {
        Self {
            travel: Vec::with_capacity(count),
            stroke: Vec::with_capacity(count),
            motion_ratio: Vec::with_capacity(count),
            motion_ratio_slope: Vec::with_capacity(count),
            axial_force: Vec::with_capacity(count),
            axial_rate: Vec::with_capacity(count),
            wheel_force: Vec::with_capacity(count),
            wheel_rate: Vec::with_capacity(count),
            energy: Vec::with_capacity(count),
        }
    }

    pub(super) fn push(&mut self, state: &WheelState) {
        self.travel.push(state.travel);
        self.stroke.push(state.stroke);
        self.motion_ratio.push(state.motion_ratio);
        self.motion_ratio_slope.push(state.motion_ratio_slope);
        self.axial_force.push(state.axial_force);
        self.axial_rate.push(state.axial_rate);
        self.wheel_force.push(state.wheel_force);
        self.wheel_rate.push(state.wheel_rate);
        self.energy.push(state.energy);
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

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::wheel::Wheel;

    /// `k_w = k·MR² + F·dMR/dz`, and the leverage ratio is the motion ratio upside down.
    #[test]
    fn the_geometric_rate_is_what_the_springs_do_not_make() {
        let bike = crate::Bike::from_toml(crate::demo::PATROL).unwrap();
        let rear = bike.rear().unwrap();
        for share in [0.0, 0.2, 0.5, 0.9] {
            let state = rear.at(rear.full_travel() * share).unwrap();
            let springs = state.axial_rate.si() * state.motion_ratio.si().powi(2);
            // Rounding of a difference of rates of some ten thousand newton per metre.
            let left = state.wheel_rate.si() - springs - state.geometric_rate().si();
            assert!(left.abs() < 1e-9 * state.wheel_rate.si() && state.geometric_rate().si().abs() > 1.0, "{state:?}");
            assert!((state.leverage_ratio().si() * state.motion_ratio.si() - 1.0).abs() < 1e-15);
        }
    }
}
