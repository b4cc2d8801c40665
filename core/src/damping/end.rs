//! The damping of one end over its travel.

use crate::bike::ride::critical_damping;
use crate::bike::{Bike, lacks_damper};
use crate::damper::Damper;
use crate::error::{BikeError, Result};
use crate::record::{End, Load};
use crate::units::{DampingRate, Length, Mass, MotionRatio, Quantity, Share, Uncertain, Velocity, WheelRate, check};
use crate::wheel::{EndKernel, Rest, Wheel, rest_under};

/// The damping of an end at one travel.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct DampingAt {
    /// Vertical travel from full extension.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub travel: Length,
    /// Shock per wheel.
    pub motion_ratio: MotionRatio,
    /// Wheel rate of a fast stroke from the rest.
    pub wheel_rate: WheelRate,
    /// Damping rate at the wheel while it compresses.
    pub compression: DampingRate,
    /// Damping rate at the wheel while it extends.
    pub rebound: DampingRate,
    /// Share of critical damping while it compresses.
    pub compression_ratio: Share,
    /// Share of critical damping while it extends.
    pub rebound_ratio: Share,
    /// Share of critical damping of the whole motion.
    pub damping_ratio: Share,
    /// Its standard uncertainty, from damper and mass.
    pub damping_ratio_uncertainty: Share,
}

/// The same over many travels, as arrays of one length.
#[derive(Debug, Clone, PartialEq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct DampingCurve {
    /// Vertical travel from full extension.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub travel: Vec<Length>,
    /// Shock per wheel.
    pub motion_ratio: Vec<MotionRatio>,
    /// Wheel rate of a fast stroke from the rest.
    pub wheel_rate: Vec<WheelRate>,
    /// Damping rate at the wheel while it compresses.
    pub compression: Vec<DampingRate>,
    /// Damping rate at the wheel while it extends.
    pub rebound: Vec<DampingRate>,
    /// Share of critical damping while it compresses.
    pub compression_ratio: Vec<Share>,
    /// Share of critical damping while it extends.
    pub rebound_ratio: Vec<Share>,
    /// Share of critical damping of the whole motion.
    pub damping_ratio: Vec<Share>,
    /// Its standard uncertainty, from damper and mass.
    pub damping_ratio_uncertainty: Vec<Share>,
}

/// An end with its damper and the sprung mass over it.
///
/// ```
/// use wheelrate::damping::EndDamping;
/// use wheelrate::record::End;
/// use wheelrate::units::{Quantity, Share, parse};
/// use wheelrate::{Bike, demo::PATROL};
///
/// let bike = Bike::from_toml(PATROL)?;
/// let rear = EndDamping::of(&bike, End::Rear, &bike.parts().rider_load)?;
/// let still = rear.at(rear.rest(), parse("0 m/s")?)?;
/// assert!(still.rebound_ratio > still.compression_ratio);
/// # Ok::<(), wheelrate::Error>(())
/// ```
#[derive(Debug, Clone)]
pub struct EndDamping<'a> {
    kernel: &'a dyn Wheel,
    damper: Damper,
    sprung: Uncertain<Mass>,
    rest: Length,
}

impl<'a> EndDamping<'a> {
    /// An end with a damper along its axis and a sprung mass over it, which has settled at a travel.
    ///
    /// # Errors
    /// [`WheelError::OutOfTravel`](crate::error::WheelError::OutOfTravel); [`BikeError::Unit`] for a mass that is not above zero.
    pub fn new(kernel: &'a dyn Wheel, damper: Damper, sprung: Uncertain<Mass>, rest: Length) -> Result<Self> {
        check::positive("sprung", sprung.value).map_err(BikeError::from)?;
        kernel.at(rest)?;
        Ok(Self { kernel, damper, sprung, rest })
    }

    /// An end of a bike under a load, with the damper of its file.
    ///
    /// # Errors
    /// [`BikeError::Missing`] for the end, its damper or masses; [`MassError`](crate::error::MassError).
    pub fn of(bike: &'a Bike, end: End, load: &Load) -> Result<Self> {
        Self::with_damper(bike, end, load, own_damper(bike, end)?)
    }

    /// The same with another damper.
    ///
    /// # Errors
    /// As [`of`](Self::of).
    pub fn with_damper(bike: &'a Bike, end: End, load: &Load, damper: Damper) -> Result<Self> {
        let (kernel, masses) = (bike.end(end)?, bike.masses()?);
        let sprung = masses.sprung_mass(end, load)?;
        let rest = match rest_under(kernel, sprung.value.si() * masses.gravity().si()) {
            Rest::At(travel) => travel,
            Rest::ToppedOut(_) => 0.0,
            Rest::Bottomed(_) => kernel.full(),
        };
        Self::new(kernel, damper, sprung, Length::from_si(rest))
    }

    /// Travel at rest, friction left out.
    #[must_use]
    pub fn rest(&self) -> Length {
        self.rest
    }

    /// Its damper, along its axis.
    #[must_use]
    pub fn damper(&self) -> &Damper {
        &self.damper
    }

    /// The sprung mass over it.
    #[must_use]
    pub fn sprung(&self) -> Uncertain<Mass> {
        self.sprung
    }

    /// `ζ = MR²·c/(2·√(k_w·m))` about a travel, for a motion of this amplitude of speed at the wheel; at no speed the slopes from
    /// rest.
    ///
    /// # Errors
    /// [`WheelError::OutOfTravel`](crate::error::WheelError::OutOfTravel); [`BikeError::Unit`] for a speed below zero, and where
    /// the wheel rate falls: nothing swings there.
    pub fn at(&self, travel: Length, speed: Velocity) -> Result<DampingAt> {
        let state = self.kernel.fast_at(self.rest, travel)?;
        self.damped(state.travel, state.motion_ratio, state.wheel_rate, speed)
    }

    /// Damping where motion ratio and wheel rate are known.
    fn damped(
        &self,
        travel: Length,
        motion_ratio: MotionRatio,
        wheel_rate: WheelRate,
        speed: Velocity,
    ) -> Result<DampingAt> {
        let speed = check::not_negative("speed", speed).map_err(BikeError::from)?.si();
        let critical = critical_damping(wheel_rate, self.sprung.value)?;
        let ratio = motion_ratio.si();
        let [compression, rebound] = self.damper.harmonic_sides(ratio * speed).map(|rate| ratio * ratio * rate);
        let share = |rate: f64| Share::from_si(rate / critical.si());
        let damping_ratio = share(0.5 * (compression + rebound));
        let mass = self.sprung.standard_uncertainty.si() / self.sprung.value.si();
        let off = self.damper.uncertainty().si().hypot(0.5 * mass);
        Ok(DampingAt {
            travel,
            motion_ratio,
            wheel_rate,
            compression: DampingRate::from_si(compression),
            rebound: DampingRate::from_si(rebound),
            compression_ratio: share(compression),
            rebound_ratio: share(rebound),
            damping_ratio,
            damping_ratio_uncertainty: damping_ratio * off,
        })
    }

    /// The same over many travels.
    ///
    /// # Errors
    /// As [`at`](Self::at).
    pub fn curve(&self, travels: &[Length], speed: Velocity) -> Result<DampingCurve> {
        let states = self.kernel.fast_curve(self.rest, travels)?;
        let ratios_and_rates = states.motion_ratio.iter().zip(&states.wheel_rate);
        let mut curve = DampingCurve::default();
        for (&travel, (&motion_ratio, &wheel_rate)) in states.travel.iter().zip(ratios_and_rates) {
            let at = self.damped(travel, motion_ratio, wheel_rate, speed)?;
            curve.travel.push(at.travel);
            curve.motion_ratio.push(at.motion_ratio);
            curve.wheel_rate.push(at.wheel_rate);
            curve.compression.push(at.compression);
            curve.rebound.push(at.rebound);
            curve.compression_ratio.push(at.compression_ratio);
            curve.rebound_ratio.push(at.rebound_ratio);
            curve.damping_ratio.push(at.damping_ratio);
            curve.damping_ratio_uncertainty.push(at.damping_ratio_uncertainty);
        }
        Ok(curve)
    }

    /// Evenly spaced travels over the whole range, both ends included.
    #[must_use]
    pub fn travels(&self, count: usize) -> Vec<Length> {
        self.kernel.travels(count)
    }
}

/// The damper that the file states of an end.
pub(crate) fn own_damper(bike: &Bike, end: End) -> Result<Damper> {
    bike.end(end)?.damper().ok_or_else(|| lacks_damper(bike, end))
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::demo::PATROL;

    #[test]
    fn a_damping_ratio_is_the_share_of_what_mass_and_rate_make_critical() {
        let bike = Bike::from_toml(PATROL).unwrap();
        let load = &bike.parts().rider_load;
        for end in End::BOTH {
            let damping = EndDamping::of(&bike, end, load).unwrap();
            assert_eq!(damping.sprung(), bike.masses().unwrap().sprung_mass(end, load).unwrap());
            assert_eq!(Some(damping.damper()), bike.end(end).unwrap().damper().as_ref());
            let at = damping.at(damping.rest(), Velocity::from_si(0.3)).unwrap();
            let critical = 2.0 * (at.wheel_rate.si() * damping.sprung().value.si()).sqrt();
            for (rate, ratio) in [(at.compression, at.compression_ratio), (at.rebound, at.rebound_ratio)] {
                // A root and a few products.
                assert!((rate.si() / critical / ratio.si() - 1.0).abs() < 1e-14, "{at:?}");
            }
            let again = EndDamping::with_damper(&bike, end, load, damping.damper().clone()).unwrap();
            assert_eq!(again.at(damping.rest(), Velocity::from_si(0.3)).unwrap(), at);
        }
    }
}
