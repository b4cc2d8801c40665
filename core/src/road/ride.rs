//! The whole bike on a road, linear about its rest.

use core::f64::consts::{FRAC_2_PI, TAU};

use nalgebra::{DMatrix, DVector, SMatrix, SVector};

use super::linear::{EndSquares, Linear, LinearWheel, Squares};
use super::spectrum::Road;
use crate::bike::ride::{critical_damping, positive};
use crate::bike::settling::SmallMotion;
use crate::bike::{WholeBike, lacks_damper};
use crate::damper::Damper;
use crate::damping::small_motion;
use crate::error::{BikeError, Result};
use crate::record::{End, Ends, Load};
use crate::units::{Acceleration, DampingRate, Force, Length, Mass, Quantity, Share, Velocity, WheelRate, check};
use crate::wheel::EndKernel;

/// Rise, pitch and both travels.
const MANY: usize = 4;
/// Rounds of linearisation, and how little the speeds still change in the last, as a share of them.
const MOST_ROUNDS: usize = 200;
const SETTLED: f64 = 1e-9;
/// Share of the way that a round takes: the whole of it swings about where friction holds an end.
const CAUTION: f64 = 0.5;
/// Metres in a kilometre.
const KILOMETRE: f64 = 1e3;

/// One end on a road. Root mean squares are about the mean.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct RoadEnd {
    /// Travel at rest.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub rest_travel: Length,
    /// Full travel.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub full_travel: Length,
    /// By how much the mean travel is more than at rest, because the damper is harder one way than the other.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub travel_shift: Length,
    /// Of the travel.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub travel_rms: Length,
    /// Of its speed.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub travel_speed_rms: Velocity,
    /// Of the speed along the fork or shock.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub shaft_speed_rms: Velocity,
    /// Of the tyre's force.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub tyre_force_rms: Force,
    /// Force of the tyre at rest.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub tyre_load: Force,
    /// Linear damping rate at the wheel that takes as much energy as damper and friction do.
    pub damping: DampingRate,
    /// The same as a share of critical.
    pub damping_ratio: Share,
    /// How often in a kilometre the travel reaches full travel.
    pub bottomings_per_km: f64,
    /// Chance of that in a kilometre.
    pub bottoming_chance: Share,
    /// How often in a kilometre the travel reaches full extension.
    pub top_outs_per_km: f64,
}

impl RoadEnd {
    /// Does the wheel leave the ground now and then? It does where three standard deviations of the tyre's force are its load, and
    /// the linear answer is then off.
    #[must_use]
    pub fn leaves_ground(&self) -> bool {
        3.0 * self.tyre_force_rms.si() > self.tyre_load.si()
    }
}

/// A bike on a road.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct RoadRide {
    /// Both ends.
    pub ends: Ends<RoadEnd>,
    /// Root mean square of the vertical acceleration of the sprung centre of gravity.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub acceleration_rms: Acceleration,
    /// The same weighted by frequency, as a person who stands or sits still feels it.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub weighted_acceleration_rms: Acceleration,
}

/// A settled bike that goes over roads, with the dampers of its file.
///
/// ```
/// use wheelrate::record::End;
/// use wheelrate::road::{Road, RoadClass, RoadRider};
/// use wheelrate::units::parse;
/// use wheelrate::{Bike, demo::PATROL};
///
/// let bike = Bike::from_toml(PATROL)?;
/// let rider = RoadRider::of(&bike.whole(), &bike.parts().rider_load)?;
/// let gravel = rider.ride(&Road::of_class(RoadClass::D), parse("60 km/h")?)?;
/// assert!(gravel.ends.rear.bottoming_chance < parse("1 %")?);
/// # Ok::<(), wheelrate::Error>(())
/// ```
#[derive(Debug, Clone)]
pub struct RoadRider {
    ends: [RiderEnd; 2],
    mass: SMatrix<f64, MANY, MANY>,
    stiffness: SMatrix<f64, MANY, MANY>,
    rise: SVector<f64, MANY>,
    wheels: [LinearWheel<MANY>; 2],
}

/// What an end brings along.
#[derive(Debug, Clone)]
struct RiderEnd {
    damper: Damper,
    friction: f64,
    ratio: f64,
    rest: f64,
    full: f64,
    rate: f64,
    sprung: f64,
    load: f64,
}

impl RoadRider {
    /// A bike under a load, with the dampers of its file and the friction that it states.
    ///
    /// # Errors
    /// [`BikeError::Missing`] for a damper or the rate of a tyre, and as [`WholeBike::modes`].
    pub fn of(whole: &WholeBike<'_>, load: &Load) -> Result<Self> {
        Self::with(whole, load, Ends { front: None, rear: None })
    }

    /// The same with other dampers, where they are given; a fork's legs together.
    ///
    /// # Errors
    /// As [`of`](Self::of).
    pub fn with(whole: &WholeBike<'_>, load: &Load, dampers: Ends<Option<Damper>>) -> Result<Self> {
        let motion = small_motion(whole, load)?;
        let (masses, wheels) = (whole.bike().masses()?, whole.bike().wheels()?);
        let lacks_tyre = |end: End| BikeError::Missing {
            part: format!("wheels.{end}.tyre"),
            purpose: "a bike goes over a road on its tyres".to_owned(),
        };
        let of = |end: End, given: Option<Damper>| {
            let kernel = whole.bike().end(end)?;
            let rest = motion.rest[end as usize];
            let at = kernel.motion(rest);
            let damper = given.or_else(|| kernel.damper()).ok_or_else(|| lacks_damper(whole.bike(), end))?;
            Ok::<_, crate::Error>(RiderEnd {
                damper,
                friction: kernel.friction().map_or(0.0, |friction| friction.force().si() * at.ratio),
                ratio: at.ratio,
                rest,
                full: kernel.full(),
                rate: kernel.fast_wheel_rate(rest),
                sprung: masses.sprung_mass(end, load)?.value.si(),
                load: masses.wheel_mass(end, load)?.value.si() * masses.gravity().si(),
            })
        };
        let ends = [of(End::Front, dampers.front)?, of(End::Rear, dampers.rear)?];
        let tyre =
            |end: End| Ok::<_, crate::Error>(wheels.ends.at(end).tyre_rate().ok_or_else(|| lacks_tyre(end))?.si());
        let tyres = [tyre(End::Front)?, tyre(End::Rear)?];
        Ok(Self::put_together(&motion, ends, tyres))
    }

    fn put_together(motion: &SmallMotion, ends: [RiderEnd; 2], tyres: [f64; 2]) -> Self {
        let square = |matrix: &DMatrix<f64>| SMatrix::from_fn(|row, column| matrix[(row, column)]);
        let column = |vector: &DVector<f64>| SVector::from_fn(|row, _| vector[row]);
        let wheelbase = motion.arm[0] + motion.arm[1];
        let wheel = |end: usize| LinearWheel {
            travel: column(&motion.travel[end]),
            axle: column(&motion.axle[end]),
            tyre: tyres[end],
            behind: if end == 0 { 0.0 } else { wheelbase },
        };
        Self {
            ends,
            mass: square(&motion.mass),
            stiffness: square(&motion.stiffness),
            rise: column(&motion.rise),
            wheels: [wheel(0), wheel(1)],
        }
    }

    /// The same with this friction at the wheels in place of what the file states.
    ///
    /// # Errors
    /// [`UnitError`](crate::error::UnitError) for a force below zero.
    pub fn with_friction(mut self, friction: Ends<Force>) -> Result<Self> {
        for (end, place) in [(End::Front, 0), (End::Rear, 1)] {
            self.ends[place].friction = check::not_negative(&format!("friction.{end}"), *friction.at(end))?.si();
        }
        Ok(self)
    }

    /// The bike on a road at a speed.
    ///
    /// # Errors
    /// [`BikeError::Unit`] for a speed that is not above zero; [`BikeError::Integration`] where damping and speed of an end do not
    /// come to terms.
    pub fn ride(&self, road: &Road, speed: Velocity) -> Result<RoadRide> {
        let speed = positive("speed", speed).map_err(BikeError::from)?;
        let mut damping = [0, 1].map(|end| self.ends[end].damping(1.0));
        let mut squares = self.linear(damping).squares(road, speed)?;
        for _ in 0..MOST_ROUNDS {
            let wanted = [0, 1].map(|end| self.ends[end].damping(squares.ends[end].speed.sqrt()));
            let off = |end: usize| (wanted[end] - damping[end]).abs() <= SETTLED * wanted[end];
            if off(0) && off(1) {
                return Ok(self.found(&squares, damping, speed));
            }
            damping = [0, 1].map(|end| damping[end] + CAUTION * (wanted[end] - damping[end]));
            squares = self.linear(damping).squares(road, speed)?;
        }
        let reason = format!("damping and speed of an end do not come to terms in {MOST_ROUNDS} rounds");
        Err(BikeError::Integration { reason }.into())
    }

    fn linear(&self, rates: [f64; 2]) -> Linear<MANY> {
        let along = |end: usize| self.wheels[end].travel * self.wheels[end].travel.transpose() * rates[end];
        Linear {
            mass: self.mass,
            damping: along(0) + along(1),
            stiffness: self.stiffness,
            rise: self.rise,
            wheels: self.wheels.to_vec(),
        }
    }

    fn found(&self, squares: &Squares, damping: [f64; 2], speed: f64) -> RoadRide {
        let end = |end: usize| self.ends[end].found(&squares.ends[end], damping[end], speed);
        RoadRide {
            ends: Ends { front: end(0), rear: end(1) },
            acceleration_rms: Acceleration::from_si(squares.acceleration.sqrt()),
            weighted_acceleration_rms: Acceleration::from_si(squares.weighted.sqrt()),
        }
    }
}

impl RiderEnd {
    /// Damping rate at the wheel that takes the energy of damper and friction out of a Gaussian motion: friction adds
    /// `√(2/π)·F/σ`.
    fn damping(&self, speed_rms: f64) -> f64 {
        self.ratio * self.ratio * self.damper.gaussian(self.ratio * speed_rms)
            + FRAC_2_PI.sqrt() * self.friction / speed_rms
    }

    fn found(&self, squares: &EndSquares, damping: f64, speed: f64) -> RoadEnd {
        let (travel, rate) = (squares.travel.sqrt(), squares.speed.sqrt());
        // What the damper holds on average, the springs do not have to.
        let shift = -self.ratio * self.damper.mean(self.ratio * rate) / self.rate;
        let mean = self.rest + shift;
        let crossings = |away: f64| rate / (TAU * travel) * (-0.5 * (away / travel).powi(2)).exp() * KILOMETRE / speed;
        let bottomings = crossings(self.full - mean);
        let critical = critical_damping(WheelRate::from_si(self.rate), Mass::from_si(self.sprung));
        RoadEnd {
            rest_travel: Length::from_si(self.rest),
            full_travel: Length::from_si(self.full),
            travel_shift: Length::from_si(shift),
            travel_rms: Length::from_si(travel),
            travel_speed_rms: Velocity::from_si(rate),
            shaft_speed_rms: Velocity::from_si(self.ratio * rate),
            tyre_force_rms: Force::from_si(squares.tyre_force.sqrt()),
            tyre_load: Force::from_si(self.load),
            damping: DampingRate::from_si(damping),
            // A bike whose wheel rate falls at rest has no small motion, and was refused.
            damping_ratio: critical
                .map_or(Share::from_si(f64::NAN), |critical| Share::from_si(damping / critical.si())),
            bottomings_per_km: bottomings,
            bottoming_chance: Share::from_si(-(-bottomings).exp_m1()),
            top_outs_per_km: crossings(mean),
        }
    }
}

#[cfg(test)]
mod tests;
