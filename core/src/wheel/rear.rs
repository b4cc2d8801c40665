//! The rear end: a linkage with a shock in it.
//!
//! `F_w = F(s(z))·MR(z)`. The shock's length and stroke set both ends of travel, so the linkage is made for its shock.

use super::{AxlePoint, EndKernel, Motion, Settling, Tunable, Wheel, WheelState, axle_at, settle, state_at};
use crate::axial::{Axial, AxialElement};
use crate::error::{Result, WheelError};
use crate::linkage::{Linkage, Mechanism};
use crate::shock::Shock;
use crate::spring::MainSpring;
use crate::units::{Force, Length, Quantity, SpringRate, to_text};

/// A linkage and its shock as the rear wheel feels them.
#[derive(Debug, Clone, PartialEq)]
pub struct RearEnd {
    linkage: Linkage,
    shock: Shock,
}

impl RearEnd {
    /// Puts a shock between two points of a mechanism.
    ///
    /// # Errors
    /// As [`Linkage::new`].
    pub fn new(mechanism: Mechanism, wheel: &str, joins: (&str, &str), shock: Shock) -> Result<Self> {
        let linkage = Linkage::new(mechanism, wheel, joins, shock.length(), shock.stroke())?;
        Ok(Self { linkage, shock })
    }

    /// A linkage and the shock that it was made for.
    ///
    /// # Errors
    /// [`WheelError::OtherShock`] when the lengths or strokes differ.
    pub fn from_parts(linkage: Linkage, shock: Shock) -> Result<Self> {
        let made_for = [linkage.shock_length(), linkage.full_stroke()];
        let found = [shock.length(), shock.stroke()];
        if made_for == found {
            return Ok(Self { linkage, shock });
        }
        let text = |[length, stroke]: [Length; 2]| format!("length {}, stroke {}", to_text(length), to_text(stroke));
        Err(WheelError::OtherShock { found: text(found), wanted: text(made_for) }.into())
    }

    /// The same mechanism with another shock; a longer or shorter one moves the travel.
    ///
    /// # Errors
    /// As [`Linkage::new`].
    pub fn with_shock(&self, shock: Shock) -> Result<Self> {
        if [shock.length(), shock.stroke()] == [self.shock.length(), self.shock.stroke()] {
            return Ok(Self { linkage: self.linkage.clone(), shock });
        }
        Self::new(self.linkage.mechanism().clone(), self.linkage.wheel(), self.linkage.shock(), shock)
    }

    /// The same shock in another mechanism with the same names.
    ///
    /// # Errors
    /// As [`Linkage::new`].
    pub fn with_mechanism(&self, mechanism: Mechanism) -> Result<Self> {
        Self::new(mechanism, self.linkage.wheel(), self.linkage.shock(), self.shock.clone())
    }

    /// The end with the ride-height adjuster of its shock out by this much (in where negative): the shock is longer from
    /// eye to eye by that, with the stroke it had, and the rear of the bike higher.
    ///
    /// # Errors
    /// As [`Linkage::new`], where the linkage cannot take that length.
    pub fn with_longer_shock(&self, by: Length) -> Result<Self> {
        let (length, stroke) = (self.shock.length() + by, self.shock.stroke());
        self.with_shock(Shock::new(length, stroke, self.shock.parts().clone(), self.shock.count())?)
    }

    /// The point of the frame that the body with the wheel turns about; `None` where it turns about none, as the wheel
    /// carrier of a four-bar swingarm does.
    #[must_use]
    pub fn swingarm_pivot(&self) -> Option<[Length; 2]> {
        let mechanism = self.linkage.mechanism();
        let wheel = mechanism.index_of("wheel", self.linkage.wheel()).ok()?;
        let carriers = mechanism.carriers(wheel);
        let mut pivots = mechanism.on_body(mechanism.frame()).iter();
        let pivot = pivots.find(|&&point| carriers.iter().any(|&body| mechanism.on_body(body).contains(&point)))?;
        Some(mechanism.coordinates(*pivot).map(Length::from_si))
    }

    /// The linkage.
    #[must_use]
    pub fn linkage(&self) -> &Linkage {
        &self.linkage
    }

    /// The shock.
    #[must_use]
    pub fn shock(&self) -> &Shock {
        &self.shock
    }
}

impl EndKernel for RearEnd {
    fn full(&self) -> f64 {
        self.linkage.full_travel().si()
    }

    fn motion(&self, travel: f64) -> Motion {
        let kernel = self.linkage.kernel(travel);
        Motion { stroke: kernel.stroke, ratio: kernel.motion_ratio, slope: kernel.slope }
    }

    fn axle_point(&self, travel: f64) -> Option<AxlePoint> {
        let kernel = self.linkage.kernel(travel);
        Some(AxlePoint { at: kernel.axle, slope: kernel.axle_slope, curvature: kernel.axle_curvature })
    }

    fn spring_part(&self, x: f64) -> Axial {
        self.shock.spring_part(x)
    }

    fn rest_part(&self, stroke: f64) -> Axial {
        self.shock.rest_part(stroke)
    }

    fn jumps(&self) -> Vec<f64> {
        let strokes = self.shock.kinks().into_iter().map(Quantity::si);
        strokes.map(|stroke| settle::travel_at_stroke(self, stroke)).collect()
    }
}

impl Wheel for RearEnd {
    fn full_travel(&self) -> Length {
        self.linkage.full_travel()
    }

    fn at(&self, travel: Length) -> Result<WheelState> {
        state_at(self, travel)
    }

    fn kinks(&self) -> Vec<Length> {
        self.jumps().into_iter().map(Length::from_si).collect()
    }

    fn travel_under(&self, load: Force) -> Result<Settling> {
        settle::settle(self, load)
    }

    fn axle(&self, travel: Length) -> Result<[Length; 2]> {
        axle_at(self, travel)
    }

    fn main_spring(&self) -> Option<MainSpring> {
        self.shock.main_spring()
    }
}

impl Tunable for RearEnd {
    fn with_spring_change(&self, rate_factor: f64, preload_change: Length) -> Result<Self> {
        self.with_shock(self.shock.with_spring_change(rate_factor, preload_change)?)
    }

    fn with_spring_rate(&self, rate: SpringRate, preload: Length) -> Result<Self> {
        self.with_shock(self.shock.with_spring_rate(rate, preload)?)
    }
}
