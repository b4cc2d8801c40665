//! One end on a road: a quarter of the bike, and one mass on one spring.

use core::f64::consts::TAU;

use nalgebra::{Matrix2, Vector2};

use super::linear::{Linear, LinearWheel};
use super::spectrum::Road;
use crate::bike::ride::{QuarterBike, positive};
use crate::error::{BikeError, Result};
use crate::units::{Acceleration, DampingRate, Force, Frequency, Length, Quantity, Share, Velocity, WheelRate, check};

/// `|T| = √((1 + (2ζr)²)/((1 − r²)² + (2ζr)²))`: the amplitude of a mass on a spring and a damper over that of the ground, at a
/// frequency `r` times its natural one. At `r = √2` it is one for any damping.
///
/// # Errors
/// [`UnitError`](crate::error::UnitError) for a ratio below zero, and without damping at resonance.
pub fn transmissibility(frequency_ratio: f64, damping_ratio: Share) -> Result<f64> {
    let r = check::number_within("frequency_ratio", frequency_ratio, 0.0, f64::MAX)?;
    let through = 2.0 * check::not_negative("damping_ratio", damping_ratio)?.si() * r;
    if r == 1.0 {
        check::positive("damping_ratio", damping_ratio)?;
    }
    Ok((1.0f64.hypot(through)) / (1.0 - r * r).hypot(through))
}

/// Amplitudes over that of the ground at one frequency.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct QuarterResponse {
    /// Of the sprung mass.
    pub body: f64,
    /// Of the wheel.
    pub wheel: f64,
    /// Of the travel.
    pub travel: f64,
    /// Amplitude of the tyre's force per that of the ground.
    pub tyre_force: WheelRate,
}

/// The same over many frequencies, as arrays of one length.
#[derive(Debug, Clone, PartialEq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct QuarterResponses {
    /// Of the ground.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub frequency: Vec<Frequency>,
    /// Of the sprung mass.
    pub body: Vec<Share>,
    /// Of the wheel.
    pub wheel: Vec<Share>,
    /// Of the travel.
    pub travel: Vec<Share>,
    /// Amplitude of the tyre's force per that of the ground.
    pub tyre_force: Vec<WheelRate>,
}

/// Root mean squares of a quarter of a bike on a road.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct QuarterRide {
    /// Of the travel about its mean.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub travel_rms: Length,
    /// Of its speed.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub travel_speed_rms: Velocity,
    /// Of the tyre's force about its mean.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub tyre_force_rms: Force,
    /// Of the acceleration of the sprung mass.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub acceleration_rms: Acceleration,
    /// The same as a person feels it, weighted by frequency.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub weighted_acceleration_rms: Acceleration,
}

/// How a quarter of a bike answers ground that goes up and down.
///
/// # Errors
/// [`BikeError::Unit`] when a mass, a rate or the frequency is not above zero, [`BikeError::NoModes`] at an undamped resonance.
pub fn quarter_response(bike: &QuarterBike, damping: DampingRate, frequency: Frequency) -> Result<QuarterResponse> {
    let linear = linear(bike, damping)?;
    let circular = TAU * positive("frequency", frequency).map_err(BikeError::from)?;
    let response = linear.response(circular, 1.0).ok_or(BikeError::NoModes)?;
    let wheel = linear.wheels[0];
    let axle = response.along(&wheel.axle);
    Ok(QuarterResponse {
        body: response.along(&linear.rise).norm(),
        wheel: axle.norm(),
        travel: response.along(&wheel.travel).norm(),
        tyre_force: WheelRate::from_si(((axle - 1.0) * wheel.tyre).norm()),
    })
}

/// The same over many frequencies.
///
/// # Errors
/// As [`quarter_response`].
pub fn quarter_responses(
    bike: &QuarterBike,
    damping: DampingRate,
    frequencies: &[Frequency],
) -> Result<QuarterResponses> {
    let mut found = QuarterResponses { frequency: frequencies.to_vec(), ..QuarterResponses::default() };
    for &frequency in frequencies {
        let at = quarter_response(bike, damping, frequency)?;
        found.body.push(Share::from_si(at.body));
        found.wheel.push(Share::from_si(at.wheel));
        found.travel.push(Share::from_si(at.travel));
        found.tyre_force.push(at.tyre_force);
    }
    Ok(found)
}

/// A quarter of a bike with a linear damper at the wheel, on a road at a speed.
///
/// # Errors
/// [`BikeError::Unit`] when a mass, a rate, the damping or the speed is not above zero.
pub fn quarter_ride(bike: &QuarterBike, damping: DampingRate, road: &Road, speed: Velocity) -> Result<QuarterRide> {
    positive("damping", damping).map_err(BikeError::from)?;
    let speed = positive("speed", speed).map_err(BikeError::from)?;
    let squares = linear(bike, damping)?.squares(road, speed)?;
    let end = squares.ends[0];
    Ok(QuarterRide {
        travel_rms: Length::from_si(end.travel.sqrt()),
        travel_speed_rms: Velocity::from_si(end.speed.sqrt()),
        tyre_force_rms: Force::from_si(end.tyre_force.sqrt()),
        acceleration_rms: Acceleration::from_si(squares.acceleration.sqrt()),
        weighted_acceleration_rms: Acceleration::from_si(squares.weighted.sqrt()),
    })
}

fn linear(bike: &QuarterBike, damping: DampingRate) -> Result<Linear<2>, BikeError> {
    let (sprung, unsprung) = (positive("sprung", bike.sprung)?, positive("unsprung", bike.unsprung)?);
    let (rate, tyre) = (positive("rate", bike.rate)?, positive("tyre", bike.tyre)?);
    let damping = check::not_negative("damping", damping)?.si();
    let travel = Vector2::new(-1.0, 1.0);
    let across = travel * travel.transpose();
    Ok(Linear {
        mass: Matrix2::from_diagonal(&Vector2::new(sprung, unsprung)),
        damping: across * damping,
        stiffness: across * rate + Matrix2::from_diagonal(&Vector2::new(0.0, tyre)),
        rise: Vector2::new(1.0, 0.0),
        wheels: vec![LinearWheel { travel, axle: Vector2::new(0.0, 1.0), tyre, behind: 0.0 }],
    })
}
