//! What happened to the whole bike: the motion of both ends and of the body, peaks, and where the energy went.

use super::end_motion::Bottoming;
use crate::record::Ends;
use crate::units::{Acceleration, Angle, Energy, Force, Length, Time};

/// One end of the whole bike over time.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct BikeMotionEnd {
    /// Vertical travel from full extension.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub travel: Vec<Length>,
    /// Force of springs, damper and friction at the wheel.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub wheel_force: Vec<Force>,
    /// Force of the tyre on the ground.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub tyre_force: Vec<Force>,
    /// Full travel.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub full_travel: Length,
    /// Travel at which the springs alone carry what stands over the wheel.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub rest_travel: Length,
    /// Largest travel, between the instants too.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub peak_travel: Length,
    /// When.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub peak_travel_time: Time,
    /// Largest force of the tyre, between the instants too.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub peak_tyre_force: Force,
    /// First time at full travel.
    pub bottoming: Option<Bottoming>,
}

/// Where the energy went between start and end.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct BikeEnergy {
    /// Energy of motion, springs, tyres, legs and height given up.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub given_up: Energy,
    /// Work that the ground put in.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub by_ground: Energy,
    /// Work that braking put into pitch and travel.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub by_brakes: Energy,
    /// Taken by both dampers.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub by_damper: Energy,
    /// Taken by friction.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub by_friction: Energy,
    /// Taken by the rider's legs.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub by_legs: Energy,
    /// What is missing: the error of the integration.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub missing: Energy,
}

/// The motion of the whole bike over time.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct BikeMotion {
    /// Since the start.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub time: Vec<Time>,
    /// Rise of the sprung centre of gravity since the start.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub body_rise: Vec<Length>,
    /// Rise of the rider on his legs; that of the body without legs.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub rider_rise: Vec<Length>,
    /// Pitch since the start, nose down.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub pitch: Vec<Angle>,
    /// Deceleration that the brakes reach.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub deceleration: Vec<Acceleration>,
    /// Both ends.
    pub ends: Ends<BikeMotionEnd>,
    /// Most pitch nose down since the start.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub peak_pitch: Angle,
    /// Least; below zero it went nose up.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub least_pitch: Angle,
    /// Where the energy went.
    pub energy: BikeEnergy,
}
