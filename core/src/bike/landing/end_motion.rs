//! What happened: the motion over time, its peaks, when it came to rest, and where the energy went.

use crate::units::{Energy, Force, Length, Time, Velocity};

/// The first time an end reaches full travel.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Bottoming {
    /// When.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub time: Time,
    /// How fast the end was still compressing, at the wheel.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub speed: Velocity,
    /// The most energy that the metal had to take.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub energy: Energy,
}

/// Where the energy went between start and end.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct EnergyAccount {
    /// Energy of motion, springs, tyre and height given up between start and end.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub given_up: Energy,
    /// Work that the rising ground put in.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub by_ground: Energy,
    /// Taken by the damper.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub by_damper: Energy,
    /// Taken by friction.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub by_friction: Energy,
    /// What is missing, `given up + ground − damper − friction`: the error of the integration.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub missing: Energy,
}

/// The motion of one end over time. All columns are of one length.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct EndMotion {
    /// Since the start.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub time: Vec<Time>,
    /// Vertical travel from full extension. Where the end lies against its metal it is slightly below zero or above full.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub travel: Vec<Length>,
    /// Rise of the sprung mass since the start.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub body_rise: Vec<Length>,
    /// Rise of the wheel since the start.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub wheel_rise: Vec<Length>,
    /// Force of springs, damper and friction at the wheel.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub wheel_force: Vec<Force>,
    /// Force of the tyre on the ground; zero while it is in the air.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub tyre_force: Vec<Force>,
    /// Full travel of the end.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub full_travel: Length,
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
    /// Travel at which the springs alone would carry the sprung mass, gas settled; friction, and the heat still in the gas,
    /// hold the end near it.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub rest_travel: Length,
    /// When the travel came within 5 % of its last value for good, in shares of its largest distance from there; nothing
    /// when it still moves at the end.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub settled_after: Option<Time>,
    /// Where the energy went.
    pub energy: EnergyAccount,
}
