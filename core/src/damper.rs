//! A damper along its shaft: force over shaft speed, for compression and rebound apart.
//!
//! `F(v) = c_low·v` up to a knee and `c_low·v_knee + c_high·(v − v_knee)` beyond it, or a table with straight lines between its
//! rows; at the wheel `F_w = MR·F(MR·v)`, so that a slope `c` there is `c_w = MR²·c`.
//!
//! What a damper does to a motion is said by the linear damper that takes the same energy:
//!
//! `c_eq = 1/(π·V²) · ∮F·v dφ`, `v = V·cos φ`          a harmonic motion of speed amplitude `V = ω·X`
//! `c_eq = E[F(v)·v]/σ² = E[F′(v)]`                     a Gaussian motion of rms speed `σ` (statistical linearisation)
//!
//! Both are closed forms for straight lines. For `c·v·|v|` the first is `8·c·ω·X/(3π)`, for friction `4·F/(π·ω·X)`.
//!
//! **Assumptions.** The force depends on the speed alone. A real damper's force also depends on position, temperature,
//! cavitation and on how fast the speed changes; its curve is steep near zero where the bleed has not opened. Straight lines are
//! enough to compare springs and links, not to choose shims or clicks.
//!
//! References: Dixon, *The Shock Absorber Handbook*, ch. 1 and 10; Den Hartog, *Mechanical Vibrations*, 8.8 (equivalent linear
//! damping); Roberts & Spanos, *Random Vibration and Statistical Linearization*, ch. 5.

mod equivalent;
mod side;

pub use equivalent::{equivalent_of_friction, equivalent_of_quadratic};
pub use side::{DamperSide, Knee};

use crate::error::Result;
use crate::units::{DampingRate, Force, Quantity, Share, Velocity, check};

/// A damper along its shaft.
#[derive(Debug, Clone, PartialEq)]
pub struct Damper {
    // In boxes, so that parts without a damper stay small.
    compression: Box<DamperSide>,
    rebound: Box<DamperSide>,
    uncertainty: Share,
}

impl Damper {
    /// One law while the end compresses, one while it extends.
    #[must_use]
    pub fn new(compression: DamperSide, rebound: DamperSide) -> Self {
        Self { compression: compression.into(), rebound: rebound.into(), uncertainty: Share::from_si(0.0) }
    }

    /// The same rate both ways at any speed.
    ///
    /// # Errors
    /// As [`DamperSide::of_rate`].
    pub fn linear(rate: DampingRate) -> Result<Self> {
        let side = DamperSide::of_rate(rate)?;
        Ok(Self::new(side.clone(), side))
    }

    /// With its forces known to this standard uncertainty, as a share of them; exact unless stated.
    ///
    /// # Errors
    /// [`UnitError`](crate::error::UnitError) unless it is from 0 to 100 %.
    pub fn with_uncertainty(self, uncertainty: Share) -> Result<Self> {
        let [least, most] = [0.0, 1.0].map(Share::from_si);
        Ok(Self { uncertainty: check::plausible("uncertainty", uncertainty, least, most)?, ..self })
    }

    /// The law while the end compresses.
    #[must_use]
    pub fn compression(&self) -> &DamperSide {
        &self.compression
    }

    /// The law while it extends.
    #[must_use]
    pub fn rebound(&self) -> &DamperSide {
        &self.rebound
    }

    /// Standard uncertainty of its forces, as a share of them.
    #[must_use]
    pub fn uncertainty(&self) -> Share {
        self.uncertainty
    }

    /// Force along the shaft at a shaft velocity, both positive in compression: it always opposes the motion.
    ///
    /// # Errors
    /// [`UnitError`](crate::error::UnitError) for a velocity that is not finite.
    pub fn force(&self, velocity: Velocity) -> Result<Force> {
        Ok(Force::from_si(self.eval(check::finite("velocity", velocity)?.si())))
    }

    /// This damper and another on the same stroke: forces add. Both are taken to be off the same way, so that the uncertainty is
    /// the mean of the two by force at 0.1 m/s.
    #[must_use]
    pub fn beside(&self, other: &Self) -> Self {
        /// Shaft speed at which two dampers are weighed, in m/s: within the bleed of most (an estimate, no source).
        const WEIGHED_SI: f64 = 0.1;
        let weight = |damper: &Self| damper.eval(WEIGHED_SI) - damper.eval(-WEIGHED_SI);
        let (one, two) = (weight(self), weight(other));
        let mean = (one * self.uncertainty.si() + two * other.uncertainty.si()) / (one + two);
        Self {
            compression: self.compression.beside(&other.compression).into(),
            rebound: self.rebound.beside(&other.rebound).into(),
            uncertainty: Share::from_si(if mean.is_finite() { mean } else { 0.0 }),
        }
    }

    /// The damper with all its forces times a factor.
    ///
    /// # Errors
    /// [`UnitError`](crate::error::UnitError) for a factor that is not finite, or below zero.
    pub fn scaled(&self, factor: f64) -> Result<Self> {
        let (compression, rebound) = (self.compression.scaled(factor)?, self.rebound.scaled(factor)?);
        Ok(Self { uncertainty: self.uncertainty, ..Self::new(compression, rebound) })
    }

    pub(crate) fn eval(&self, velocity: f64) -> f64 {
        if velocity >= 0.0 { self.compression.eval(velocity) } else { -self.rebound.eval(-velocity) }
    }

    /// In a line.
    #[must_use]
    pub fn describe(&self) -> String {
        format!("damper, compression {}, rebound {}", self.compression.describe(), self.rebound.describe())
    }
}

#[cfg(test)]
mod tests;
