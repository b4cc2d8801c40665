//! Friction of seals and bushes: a constant force along the axis, against the motion.
//!
//! `|F_w| = F·MR`: carried to the wheel by virtual work, like any axial force; on a fork `MR = 1/cos ε`.
//!
//! It is kept out of the springs' force curves. A bike that has settled after a push rests where the spring force at
//! the wheel is load + friction, after a lift where it is load − friction. Coulomb's model: the same size at any speed
//! and stroke. It fails where side load dominates (braking, a bent tube) and for a seal that grips harder under
//! pressure.

use crate::error::Result;
use crate::units::{Force, MotionRatio, check};

/// Friction of the seals of one leg or one shock, along its axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SealFriction {
    force: Force,
}

impl SealFriction {
    /// Friction of the given size.
    ///
    /// # Errors
    /// [`UnitError`](crate::error::UnitError) unless the force lies from 0 to 5 kN.
    pub fn new(force: Force) -> Result<Self> {
        use crate::units::Quantity;
        check::not_negative("friction", force)?;
        check::plausible("friction", force, Force::from_si(0.0), Force::from_si(5e3))?;
        Ok(Self { force })
    }

    /// Its size along the axis.
    #[must_use]
    pub fn force(&self) -> Force {
        self.force
    }

    /// This and another seal on the same stroke: forces add.
    #[must_use]
    pub fn beside(self, other: Self) -> Self {
        Self { force: self.force + other.force }
    }

    /// Its size at the wheel, `F·MR`.
    #[must_use]
    pub fn at_wheel(&self, ratio: MotionRatio) -> Force {
        ratio.force_at_wheel(self.force)
    }
}
