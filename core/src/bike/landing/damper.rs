//! A damper as four numbers: a slope each way, and where given a knee beyond which another slope holds.
//!
//! `F(v) = c_low·v` up to the knee, `c_low·v_knee + c_high·(v − v_knee)` beyond it, for compression and rebound apart.
//!
//! A real damper's force also depends on position, temperature, cavitation and on how fast the velocity changes; its curve
//! is steep near zero where the bleed has not opened. Two straight lines are enough to say how much of a landing damping
//! takes, not to choose shims or clicks.

use crate::error::BikeError;
use crate::units::{DampingRate, Force, Quantity, Velocity, check};

/// Where the second slope begins.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct Knee {
    /// Shaft speed.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub velocity: Velocity,
    /// Damping rate beyond it.
    pub rate: DampingRate,
}

/// One direction of a damper, along its shaft.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct DamperSide {
    /// Damping rate from rest.
    pub rate: DampingRate,
    /// Another rate at speed.
    #[cfg_attr(feature = "serde", serde(default))]
    pub knee: Option<Knee>,
}

/// A damper along its shaft.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct Damper {
    /// While the end compresses.
    pub compression: DamperSide,
    /// While it extends.
    pub rebound: DamperSide,
}

impl DamperSide {
    fn check(&self, side: &str) -> Result<(), BikeError> {
        check::not_negative(&format!("damper.{side}.rate"), self.rate)?;
        if let Some(knee) = &self.knee {
            check::positive(&format!("damper.{side}.knee.velocity"), knee.velocity)?;
            check::not_negative(&format!("damper.{side}.knee.rate"), knee.rate)?;
        }
        Ok(())
    }

    /// Size of the force at a speed of zero or more.
    fn eval(&self, speed: f64) -> f64 {
        match &self.knee {
            Some(knee) if speed > knee.velocity.si() => {
                self.rate.si() * knee.velocity.si() + knee.rate.si() * (speed - knee.velocity.si())
            }
            _ => self.rate.si() * speed,
        }
    }
}

impl Damper {
    /// The same rate both ways at any speed.
    #[must_use]
    pub fn linear(rate: DampingRate) -> Self {
        let side = DamperSide { rate, knee: None };
        Self { compression: side, rebound: side }
    }

    pub(crate) fn check(&self) -> Result<(), BikeError> {
        self.compression.check("compression")?;
        self.rebound.check("rebound")
    }

    /// Force along the shaft at a shaft velocity, both positive in compression: it always opposes the motion.
    ///
    /// # Errors
    /// [`BikeError::Unit`] for a negative rate or knee.
    pub fn force(&self, velocity: Velocity) -> Result<Force, BikeError> {
        self.check()?;
        Ok(Force::from_si(self.eval(check::finite("velocity", velocity)?.si())))
    }

    pub(crate) fn eval(&self, velocity: f64) -> f64 {
        if velocity >= 0.0 { self.compression.eval(velocity) } else { -self.rebound.eval(-velocity) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_second_slope_begins_where_the_first_ends() {
        let side = |rate: f64, knee: Option<(f64, f64)>| DamperSide {
            rate: DampingRate::from_si(rate),
            knee: knee.map(|(velocity, rate)| Knee {
                velocity: Velocity::from_si(velocity),
                rate: DampingRate::from_si(rate),
            }),
        };
        let damper = Damper { compression: side(1500.0, Some((0.5, 400.0))), rebound: side(3000.0, None) };
        let at = |velocity: f64| damper.force(Velocity::from_si(velocity)).unwrap().si();
        assert_eq!([at(0.0), at(0.5), at(1.5), at(-0.2)], [0.0, 750.0, 1150.0, -600.0]);
        let wrong = Damper { compression: side(1500.0, Some((0.0, 400.0))), ..damper };
        let error = wrong.force(Velocity::from_si(1.0)).unwrap_err().to_string();
        assert!(error.starts_with("damper.compression.knee.velocity"), "{error}");
    }
}
