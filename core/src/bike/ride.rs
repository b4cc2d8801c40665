//! Ride: natural frequencies, modes, critical damping.
//!
//! `f = √(k/m)/2π`, `c_crit = 2·√(k·m)`, `c_shaft = c_wheel/MR²`, `k_ride = k·k_t/(k + k_t)`
//!
//! Everything here is the small motion about one state of rest, with the wheel rate at that travel (geometric term
//! included, gas fast: [`Wheel::fast_at`]) and straight lines for springs and tyres. Friction, top-out and bump stops are not in it: an end that
//! touches a stop has no natural frequency.
//!
//! The modes of [`QuarterBike`] and [`HalfBike`] let the wheels move straight up and down. On a bike they also move fore
//! and aft, along the rake in front, which puts their mass into the pitch; the exact small motion of a settled bike is
//! lower in pitch by some tenths of a hertz at usual rakes.
//!
//! References: Gillespie, *Fundamentals of Vehicle Dynamics*, ch. 5; Rao, *Mechanical Vibrations*, ch. 5; Milliken &
//! Milliken, *Race Car Vehicle Dynamics*, ch. 16 and 22.

mod eigen;
mod half;
mod quarter;

pub(crate) use eigen::modes;
pub use half::{HalfBike, HalfBikeEnd, Mode, ModeKind};
pub use quarter::{QuarterBike, QuarterMode};

use core::f64::consts::TAU;

use crate::error::{BikeError, Result, UnitError};
use crate::units::{
    DampingRate, Energy, Force, Frequency, Length, Mass, MotionRatio, Quantity, Share, WheelRate, check,
};
use crate::wheel::Wheel;

/// Natural frequency of one mass on one spring: `f = √(k/m)/2π`.
///
/// # Errors
/// [`BikeError::Unit`] when the mass or the rate is not above zero: a falling rate has no frequency.
pub fn natural_frequency(rate: WheelRate, mass: Mass) -> Result<Frequency, BikeError> {
    check::positive("wheel rate", rate)?;
    check::positive("mass", mass)?;
    Ok(Frequency::from_si((rate.si() / mass.si()).sqrt() / TAU))
}

/// Deflection under its own weight of a linear spring without preload whose mass has this natural frequency:
/// `δ = g/(2πf)²`, with standard gravity.
///
/// # Errors
/// [`BikeError::Unit`] when the frequency is not above zero.
pub fn static_deflection(frequency: Frequency) -> Result<Length, BikeError> {
    check::positive("frequency", frequency)?;
    Ok(Length::from_si(crate::units::kind::STANDARD_GRAVITY_SI / (TAU * frequency.si()).powi(2)))
}

/// Critical damping of one mass on one spring, both at the wheel: `c = 2·√(k·m)`.
///
/// # Errors
/// [`BikeError::Unit`] when the mass or the rate is not above zero.
pub fn critical_damping(rate: WheelRate, mass: Mass) -> Result<DampingRate, BikeError> {
    check::positive("wheel rate", rate)?;
    check::positive("mass", mass)?;
    Ok(DampingRate::from_si(2.0 * (rate.si() * mass.si()).sqrt()))
}

/// A damping rate at the wheel as the damper's shaft has to give it: `c_shaft = c_wheel/MR²` (virtual power).
///
/// # Errors
/// [`BikeError::Unit`] when the motion ratio is not above zero.
pub fn damping_at_shaft(at_wheel: DampingRate, motion_ratio: MotionRatio) -> Result<DampingRate, BikeError> {
    check::not_negative("damping rate", at_wheel)?;
    check::positive("motion ratio", motion_ratio)?;
    Ok(at_wheel * (1.0 / (motion_ratio.si() * motion_ratio.si())))
}

/// A damping rate of the shaft as the wheel feels it: `c_wheel = c_shaft·MR²`.
///
/// # Errors
/// [`BikeError::Unit`] when the motion ratio is not above zero.
pub fn damping_at_wheel(at_shaft: DampingRate, motion_ratio: MotionRatio) -> Result<DampingRate, BikeError> {
    check::not_negative("damping rate", at_shaft)?;
    check::positive("motion ratio", motion_ratio)?;
    Ok(at_shaft * (motion_ratio.si() * motion_ratio.si()))
}

/// Damping as a share of critical: `ζ = c/(2·√(k·m))`, all at the wheel.
///
/// # Errors
/// [`BikeError::Unit`] when the mass or the rate is not above zero, or the damping is below it.
pub fn damping_ratio(damping: DampingRate, rate: WheelRate, mass: Mass) -> Result<Share, BikeError> {
    check::not_negative("damping rate", damping)?;
    Ok(Share::from_si(damping / critical_damping(rate, mass)?))
}

/// What to multiply the damping by for the same damping ratio after a change of spring: `√(k_new/k_old)`, the mass the
/// same. It says nothing of clicks: those differ from damper to damper.
///
/// # Errors
/// [`BikeError::Unit`] when a rate is not above zero.
pub fn damping_factor(old: WheelRate, new: WheelRate) -> Result<f64, BikeError> {
    check::positive("old wheel rate", old)?;
    check::positive("new wheel rate", new)?;
    Ok((new / old).sqrt())
}

/// Wheel rate and tyre in series, as the ground feels them: `k·k_t/(k + k_t)`.
///
/// # Errors
/// [`BikeError::Unit`] when a rate is not above zero.
pub fn ride_rate(wheel: WheelRate, tyre: WheelRate) -> Result<WheelRate, BikeError> {
    check::positive("wheel rate", wheel)?;
    check::positive("tyre rate", tyre)?;
    Ok(WheelRate::from_si(series(wheel.si(), tyre.si())))
}

pub(crate) fn series(wheel: f64, tyre: f64) -> f64 {
    wheel / (wheel + tyre) * tyre
}

/// What an end can still take in before it is fully compressed. It is worked out of what is stated, exactly; what nobody
/// knows, the fast exponent of the gas for one, is in the uncertainties of the advice.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
#[non_exhaustive]
pub struct Reserve {
    /// Energy stored on the way to full travel, less what the load does on the way: `∫F_w dz − W·Δz`.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub energy: Energy,
    /// The height from which the load would have to fall to bring that energy: `energy/W`. Damping is not in it: a
    /// damper takes its part as well, and friction too.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub drop_height: Length,
    /// Force at the wheel at full travel, over the load.
    pub load_factor: f64,
}

/// The reserve of an end that stands at some travel under a load.
///
/// `stored` is the energy from there to full travel, `left` the travel from there, `full` the force at full travel. With
/// `stored` and `left` taken from full extension it is the drop onto unloaded wheels that the end just takes.
///
/// # Errors
/// [`BikeError::Unit`] when the load is not above zero, or the travel is below it.
pub fn reserve(stored: Energy, left: Length, full: Force, load: Force) -> Result<Reserve, BikeError> {
    check::finite("energy", stored)?;
    check::not_negative("travel left", left)?;
    check::finite("force at full travel", full)?;
    check::positive("load", load)?;
    let energy = stored - load * left;
    Ok(Reserve { energy, drop_height: energy / load, load_factor: full.si() / load.si() })
}

/// The reserve of an end from this travel on, under this load at the wheel: the end has settled there, and goes on to full
/// travel fast ([`Wheel::fast_at`]).
///
/// From the travel at rest it is what the trade reads as the energy left; from zero travel it is the drop onto unloaded
/// wheels that springs alone just take.
///
/// # Errors
/// [`WheelError::OutOfTravel`](crate::error::WheelError::OutOfTravel), and as [`reserve`].
pub fn reserve_of(end: &dyn Wheel, travel: Length, load: Force) -> Result<Reserve> {
    let (here, full) = (end.fast_at(travel, travel)?, end.fast_at(travel, end.full_travel())?);
    Ok(reserve(full.energy - here.energy, full.travel - here.travel, full.wheel_force, load)?)
}

/// Refuses a share of energy or a mass that is missing; the field in front of the message.
pub(crate) fn positive<Q: Quantity>(field: &str, quantity: Q) -> Result<f64, UnitError> {
    check::positive(field, quantity).map(Quantity::si)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_factor_keeps_the_damping_ratio() {
        let mass = Mass::from_si(115.0);
        let [old, new] = [8000.0, 9200.0].map(WheelRate::from_si);
        let damping = DampingRate::from_si(900.0);
        let before = damping_ratio(damping, old, mass).unwrap();
        let after = damping_ratio(damping * damping_factor(old, new).unwrap(), new, mass).unwrap();
        assert!((after / before - 1.0).abs() < 1e-15);
    }

    #[test]
    fn the_shaft_of_half_the_ratio_damps_four_times_as_hard() {
        let wheel = DampingRate::from_si(1000.0);
        let ratio = MotionRatio::from_si(0.5);
        let shaft = damping_at_shaft(wheel, ratio).unwrap();
        assert_eq!(shaft.si(), 4000.0);
        assert_eq!(damping_at_wheel(shaft, ratio).unwrap(), wheel);
    }

    /// A linear spring that stands at half its travel: the energy left is half the load times the travel left.
    #[test]
    fn reserve_of_a_linear_spring() {
        let (rate, full) = (10_000.0, 0.2);
        let load = rate * full / 2.0;
        let stored = Energy::from_si(0.5 * rate * (full * full - 0.25 * full * full));
        let of =
            reserve(stored, Length::from_si(full / 2.0), Force::from_si(rate * full), Force::from_si(load)).unwrap();
        assert!((of.drop_height.si() - full / 4.0).abs() < 1e-15, "{of:?}");
        assert_eq!(of.load_factor, 2.0);
    }

    #[test]
    fn reserve_of_a_fork_from_rest_and_from_full_extension() {
        use crate::bike::landing::{Damper, MovingEnd, MovingParts};
        use crate::fork::{Fork, ForkLeg};
        use crate::spring::Preloaded;
        use crate::units::{Angle, SpringRate, Time};
        use crate::wheel::FrontEnd;

        let spring = Preloaded::linear(SpringRate::from_si(9000.0), Length::from_si(0.012)).unwrap();
        let legs = [ForkLeg::new().with_spring(spring), ForkLeg::new()];
        let fork = FrontEnd::new(Fork::new(Length::from_si(0.3), Angle::from_si(0.4), legs).unwrap());
        let mass = Mass::from_si(80.0);
        let load = Force::from_si(80.0 * crate::units::kind::STANDARD_GRAVITY_SI);
        let rest = fork.travel_under(load).unwrap().state().unwrap().travel;
        let [from_rest, from_extension] = [rest, Length::from_si(0.0)].map(|z| reserve_of(&fork, z, load).unwrap());
        // Down to rest the load does more work than the springs take.
        assert!(from_rest.energy > from_extension.energy);
        assert_eq!(from_rest.load_factor, from_extension.load_factor);

        // The landing in time, hardly any wheel or damper in it, bottoms just beyond that height and not below it.
        let parts = MovingParts {
            sprung: mass,
            unsprung: Mass::from_si(0.5),
            tyre: WheelRate::from_si(4e6),
            friction: Force::from_si(0.0),
            damper: Damper::linear(DampingRate::from_si(0.0)).unwrap(),
        };
        let moving = MovingEnd::front(&fork, parts).unwrap();
        let bottoms = |share: f64| {
            let height = from_extension.drop_height * share;
            moving.land(height, Time::from_si(0.4)).unwrap().bottoming.is_some()
        };
        assert!(!bottoms(0.97) && bottoms(1.03));
    }

    #[test]
    fn a_falling_rate_has_no_frequency() {
        let error = natural_frequency(WheelRate::from_si(-200.0), Mass::from_si(100.0)).unwrap_err().to_string();
        assert!(error.starts_with("wheel rate: found -0.2 N/mm"), "{error}");
    }
}
