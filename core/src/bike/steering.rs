//! Steering geometry of one steered wheel on level ground.
//!
//! `trail = (R·sin ε − d)/cos ε`, `normal trail = R·sin ε − d = trail·cos ε`, `wheel flop = trail·sin ε·cos ε`
//!
//! with the rake `ε` of the steering axis from the vertical, the wheel radius `R` and the fork offset `d`, the distance of
//! the axle ahead of the steering axis, square to it. Trail is positive when the tyre touches the ground behind the point
//! where the axis meets it.
//!
//! A frame pitched nose down by `θ` has the rake `ε − θ`; the fork offset stays.
//!
//! Assumes a thin wheel, steered straight ahead. The radius is the loaded one, axle to ground; a tyre of round section
//! changes nothing at zero steer. Fails where the axis lies flat (`cos ε → 0`): a rake over 60° is refused.
//!
//! References: Cossalter, *Motorcycle Dynamics*, ch. 1; Meijaard, Papadopoulos, Ruina & Schwab, Proc. R. Soc. A 463 (2007),
//! appendix A, for the same in terms of trail.

use crate::error::{BikeError, Result, UnitError};
use crate::units::{Angle, Length, Quantity, Uncertain, brief, check};
use crate::wheel::{FrontEnd, SteeringAxis};

/// Rake beyond which no steered wheel of a two-wheeler stands, either way; the trail grows without bound towards 90°.
const MOST_RAKE_SI: f64 = core::f64::consts::FRAC_PI_3;
/// Largest and smallest wheel radius: from a pocket bike to a penny-farthing.
const RADIUS_SI: [f64; 2] = [0.05, 0.9];
/// Furthest the axle sits from the steering axis.
const MOST_OFFSET_SI: f64 = 0.5;

/// A steered wheel: the steering axis, and the wheel on it.
///
/// ```
/// use wheelrate::bike::steering::Steering;
/// use wheelrate::units::{parse, to_text};
///
/// let steering = Steering { rake: parse("26.5 deg")?, fork_offset: parse("30 mm")?, radius: parse("340 mm")? };
/// assert!(to_text(steering.trail()?).starts_with("135.9"));
/// # Ok::<(), wheelrate::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct Steering {
    /// Angle of the steering axis from the vertical, top leaning back.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub rake: Angle,
    /// Distance of the axle ahead of the steering axis, square to the axis.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub fork_offset: Length,
    /// Height of the axle above the ground.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub radius: Length,
}

impl Steering {
    /// The front wheel at a travel, the frame in its reference attitude: on links the axle moves across the steering axis, or the
    /// axis turns with the upright. The offset is that of full extension, the radius the loaded one.
    ///
    /// # Errors
    /// [`WheelError::OutOfTravel`](crate::error::WheelError), and for impossible magnitudes.
    pub fn at(front: &FrontEnd, travel: Length, fork_offset: Length, radius: Length) -> Result<Self> {
        let SteeringAxis { rake, fork_offset, .. } = front.steering_axis(travel, fork_offset)?;
        let steering = Self { rake, fork_offset, radius };
        steering.check()?;
        Ok(steering)
    }

    /// The fork offset that gives this trail: `d = R·sin ε − trail·cos ε`.
    ///
    /// # Errors
    /// [`BikeError`] for impossible magnitudes.
    pub fn from_trail(rake: Angle, trail: Length, radius: Length) -> Result<Self, BikeError> {
        check::finite("trail", trail)?;
        let fork_offset = Length::from_si(radius.si() * rake.si().sin() - trail.si() * rake.si().cos());
        let steering = Self { rake, fork_offset, radius };
        steering.check()?;
        Ok(steering)
    }

    /// Refuses what no bike has.
    pub(crate) fn check(&self) -> Result<(), BikeError> {
        let most = Angle::from_si(MOST_RAKE_SI);
        check::plausible("rake", self.rake, -most, most)?;
        let [least, largest] = RADIUS_SI.map(Length::from_si);
        check::plausible("radius", self.radius, least, largest)?;
        let far = Length::from_si(MOST_OFFSET_SI);
        check::plausible("fork_offset", self.fork_offset, -far, far)?;
        Ok(())
    }

    /// Distance of the ground contact behind the steering axis, square to the axis: `R·sin ε − d`.
    ///
    /// # Errors
    /// [`BikeError`] for impossible magnitudes.
    pub fn normal_trail(&self) -> Result<Length, BikeError> {
        self.check()?;
        Ok(self.radius * self.rake.si().sin() - self.fork_offset)
    }

    /// Distance of the ground contact behind the point where the steering axis meets the ground: `(R·sin ε − d)/cos ε`.
    ///
    /// # Errors
    /// [`BikeError`] for impossible magnitudes.
    pub fn trail(&self) -> Result<Length, BikeError> {
        Ok(self.normal_trail()? / self.rake.si().cos())
    }

    /// Wheel flop, `trail·sin ε·cos ε`: steered by a small angle `δ`, the axle sinks by half of it times `δ²`.
    ///
    /// # Errors
    /// [`BikeError`] for impossible magnitudes.
    pub fn wheel_flop(&self) -> Result<Length, BikeError> {
        Ok(self.normal_trail()? * self.rake.si().sin())
    }

    /// The same wheel on a frame pitched nose down by this angle: `ε − θ`.
    ///
    /// # Errors
    /// [`BikeError::Rake`] when the axis would lie too flat, and for impossible magnitudes.
    pub fn pitched(&self, nose_down: Angle) -> Result<Self, BikeError> {
        check::finite("pitch", nose_down).map_err(BikeError::from)?;
        let rake = self.rake - nose_down;
        if rake.si().abs() > MOST_RAKE_SI {
            return Err(BikeError::Rake {
                rake: brief(rake),
                pitch: brief(nose_down),
                most: brief(Angle::from_si(MOST_RAKE_SI)),
            });
        }
        let pitched = Self { rake, ..*self };
        pitched.check()?;
        Ok(pitched)
    }

    /// The trail with its standard uncertainty from those of rake, fork offset and radius, independent of each other:
    ///
    /// `∂c/∂R = tan ε`, `∂c/∂d = −1/cos ε`, `∂c/∂ε = (R − d·sin ε)/cos² ε`
    ///
    /// (JCGM 100:2008, 5.1.2, to first order).
    ///
    /// # Errors
    /// [`BikeError`] for impossible magnitudes or a negative uncertainty.
    pub fn trail_with_uncertainty(&self, of: &SteeringUncertainty) -> Result<Uncertain<Length>, BikeError> {
        check::not_negative("uncertainty.rake", of.rake)?;
        check::not_negative("uncertainty.fork_offset", of.fork_offset)?;
        check::not_negative("uncertainty.radius", of.radius)?;
        let (sin, cos) = self.rake.si().sin_cos();
        let by_rake = (self.radius.si() - self.fork_offset.si() * sin) / (cos * cos) * of.rake.si();
        let by_offset = of.fork_offset.si() / cos;
        let by_radius = sin / cos * of.radius.si();
        let uncertainty = Length::from_si(by_rake.hypot(by_offset).hypot(by_radius));
        Uncertain::new(self.trail()?, uncertainty).map_err(UnitError::into)
    }
}

/// Standard uncertainties of a [`Steering`]'s three measures.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct SteeringUncertainty {
    /// Of the rake.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub rake: Angle,
    /// Of the fork offset.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub fork_offset: Length,
    /// Of the wheel radius.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub radius: Length,
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// A handful of roundings on lengths below a metre.
    const ROUNDING_SI: f64 = 1e-15;

    fn steering(rake: f64, offset: f64, radius: f64) -> Steering {
        Steering { rake: Angle::from_si(rake), fork_offset: Length::from_si(offset), radius: Length::from_si(radius) }
    }

    #[test]
    fn an_upright_axis_through_the_axle_has_no_trail() {
        assert_eq!(steering(0.0, 0.0, 0.3).trail().unwrap().si(), 0.0);
        assert_eq!(steering(0.0, 0.05, 0.3).trail().unwrap().si(), -0.05);
    }

    #[test]
    fn faults_name_the_field() {
        let say = |wrong: Steering| wrong.trail().unwrap_err().to_string();
        assert!(say(steering(26.5, 0.03, 0.34)).starts_with("rake:"), "degrees taken for radians");
        assert!(say(steering(0.4, 30.0, 0.34)).starts_with("fork_offset:"));
        assert!(say(steering(0.4, 0.03, 340.0)).contains("was `340 mm` meant?"), "{}", say(steering(0.4, 0.03, 340.0)));
        assert!(say(steering(0.4, f64::NAN, 0.34)).contains("finite"));
        let flat = steering(0.9, 0.03, 0.34).pitched(Angle::from_si(-0.3)).unwrap_err();
        assert!(matches!(flat, BikeError::Rake { .. }), "{flat}");
    }

    proptest! {
        /// The contact and the axis drawn out in coordinates: distance of a point from a line.
        #[test]
        fn trail_is_where_the_drawn_axis_meets_the_ground(
            rake in -0.5..0.9_f64, offset in -0.1..0.1_f64, radius in 0.2..0.4_f64,
        ) {
            let wheel = steering(rake, offset, radius);
            // Square to the axis, backwards from the axle, lies a point of the axis.
            let (x, z) = (-offset * rake.cos(), radius - offset * rake.sin());
            let meets = x + z * rake.tan();
            prop_assert!((wheel.trail().unwrap().si() - meets).abs() < 4.0 * ROUNDING_SI);
            let normal = wheel.normal_trail().unwrap().si();
            prop_assert!((normal - meets * rake.cos()).abs() < 4.0 * ROUNDING_SI);
            let again = Steering::from_trail(wheel.rake, wheel.trail().unwrap(), wheel.radius).unwrap();
            prop_assert!((again.fork_offset - wheel.fork_offset).si().abs() < 4.0 * ROUNDING_SI);
        }

        /// Against differences of the trail itself; the step and the third derivative leave 1e-7 of it.
        #[test]
        fn uncertainty_follows_the_slopes(rake in 0.1..0.6_f64, offset in -0.05..0.1_f64, radius in 0.2..0.4_f64) {
            const STEP: f64 = 1e-5;
            const DIFFERENCE: f64 = 1e-7;
            let at = |e: f64, d: f64, r: f64| steering(rake + e, offset + d, radius + r).trail().unwrap().si();
            let only = |e: f64, d: f64, r: f64| SteeringUncertainty {
                rake: Angle::from_si(e), fork_offset: Length::from_si(d), radius: Length::from_si(r),
            };
            for [e, d, r] in [[STEP, 0.0, 0.0], [0.0, STEP, 0.0], [0.0, 0.0, STEP]] {
                let by = (at(e, d, r) - at(-e, -d, -r)).abs() / 2.0;
                let u = steering(rake, offset, radius).trail_with_uncertainty(&only(e, d, r)).unwrap();
                prop_assert!((u.standard_uncertainty.si() - by).abs() < DIFFERENCE * STEP, "{u:?} {by}");
            }
        }
    }
}
