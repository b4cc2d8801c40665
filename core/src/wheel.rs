//! An end of the bike as its wheel feels it: force, rate and energy over vertical travel.
//!
//! `F_w = F·MR`, `k_w = k·MR² + F·dMR/dz`, `E(z) = ∫₀ᶻ F_w dz`,
//!
//! with the axial force `F(s)` and rate `k(s)` of the fork or shock at the stroke `s(z)`. The second, geometric, term of the
//! rate belongs to it: on a rising-rate linkage at sag it is commonly 10 to 40 % of the whole.
//!
//! Travel `z` is vertical, from full extension, positive in compression, with the frame in its reference attitude; the
//! force is positive upwards on the wheel's own end, so that it carries a load. Friction is not in it: a fork or shock
//! carries its own beside.
//!
//! A fork is a mechanism with a constant ratio, `MR = 1/cos ε`; a linkage gives `MR(z)`. Both give [`Wheel`].
//!
//! Assumes no friction in the pivots, no brake, no chain force, and a load straight down. With the frame pitched the load
//! does work along the axle's path too; [`crate::bike`] has that.
//!
//! References: Milliken & Milliken, *Race Car Vehicle Dynamics* (installation ratio); Cossalter, *Motorcycle Dynamics*,
//! ch. 5.

mod design;
mod deviation;
mod effects;
mod final_drive;
mod front;
mod measured;
mod pivots;
mod rear;
mod settle;
mod state;

pub(crate) use deviation::{Deviation, Spread};
pub use effects::{EndEffect, WheelEffect};
pub use final_drive::{FinalDrive, Sprockets};
pub use front::FrontEnd;
pub use pivots::{PivotUncertainty, UncertainWheel};
pub use rear::RearEnd;
pub use settle::{Equilibrium, Settling, Stability};
pub(crate) use settle::{Rest, cells, rest, rest_under};
pub use state::{WheelCurve, WheelState};

use core::fmt::Debug;

use crate::axial::Axial;
use crate::error::{Result, WheelError};
use crate::spring::MainSpring;
use crate::units::{Force, Length, Quantity, SpringRate, WheelRate, check, to_text};

/// A travel outside the range by less than this, in metres, is its end up to the rounding of units and of text.
const TRAVEL_ROUNDING: f64 = 1e-9;

/// An end of the bike as its wheel feels it.
pub trait Wheel: Debug + Send + Sync {
    /// Vertical travel from full extension to full compression.
    fn full_travel(&self) -> Length;

    /// Everything at one travel.
    ///
    /// # Errors
    /// [`WheelError::OutOfTravel`].
    fn at(&self, travel: Length) -> Result<WheelState>;

    /// Travels strictly inside the range at which the rate jumps, in rising order.
    fn kinks(&self) -> Vec<Length>;

    /// Where the wheel comes to rest under a vertical load on the springs, friction left out: the first equilibrium on
    /// the way from full extension.
    ///
    /// # Errors
    /// When the load is not finite.
    fn travel_under(&self, load: Force) -> Result<Settling>;

    /// Position of the axle in the frame axes, x forward and z up.
    ///
    /// # Errors
    /// [`WheelError::OutOfTravel`], and [`WheelError::NoAxle`] where it is not known.
    fn axle(&self, travel: Length) -> Result<[Length; 2]>;

    /// The main springs of the end together; `None` where there is none.
    fn main_spring(&self) -> Option<MainSpring>;

    /// Everything over many travels, as arrays of one length.
    ///
    /// # Errors
    /// As [`at`](Self::at), for the first travel outside the range.
    fn curve(&self, travels: &[Length]) -> Result<WheelCurve> {
        let mut curve = WheelCurve::default();
        for &travel in travels {
            curve.push(&self.at(travel)?);
        }
        Ok(curve)
    }

    /// Rate at the wheel, the geometric term included.
    ///
    /// # Errors
    /// As [`at`](Self::at).
    fn wheel_rate(&self, travel: Length) -> Result<WheelRate> {
        self.at(travel).map(|state| state.wheel_rate)
    }

    /// Evenly spaced travels over the whole range, both ends included.
    fn travels(&self, count: usize) -> Vec<Length> {
        let last = count.saturating_sub(1).max(1) as f64;
        (0..count).map(|at| self.full_travel() * (at as f64 / last)).collect()
    }
}

/// The mechanism of an end at one travel, in SI units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Motion {
    pub(crate) stroke: f64,
    pub(crate) ratio: f64,
    /// `dMR/dz`.
    pub(crate) slope: f64,
}

/// The axle at one travel, in SI units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct AxlePoint {
    pub(crate) at: [f64; 2],
    /// `dx/dz`.
    pub(crate) slope: f64,
    /// `d²x/dz²`.
    pub(crate) curvature: f64,
}

/// An end taken apart into mechanism, main springs and the rest: the kernel on SI numbers, infallible inside the travel.
///
/// With every main spring's rate times `a` and `b` more preload on each, `F_w = MR·(a·G(s + b) + R(s))`.
pub(crate) trait EndKernel: Debug + Send + Sync {
    fn full(&self) -> f64;
    fn motion(&self, travel: f64) -> Motion;
    /// `None` where the place of the axle is not known.
    fn axle_point(&self, travel: f64) -> Option<AxlePoint>;
    /// Main springs `G(x)`, `x` the stroke plus a change of preload.
    fn spring_part(&self, x: f64) -> Axial;
    /// Gas and stops `R(s)`.
    fn rest_part(&self, stroke: f64) -> Axial;
    /// Travels at which the rate jumps, rising, inside the range.
    fn jumps(&self) -> Vec<f64>;

    /// Axial force, rate and energy at a stroke.
    fn axial(&self, stroke: f64) -> Axial {
        self.spring_part(stroke) + self.rest_part(stroke)
    }

    /// Force and rate at the wheel.
    fn force_and_rate(&self, travel: f64) -> (f64, f64) {
        let Motion { stroke, ratio, slope } = self.motion(travel);
        let axial = self.axial(stroke);
        axial.at_wheel(ratio, slope)
    }
}

/// The travel in SI, checked against both ends and held to them within rounding.
fn within(end: &dyn EndKernel, travel: Length) -> Result<f64> {
    let (z, full) = (check::finite("travel", travel)?.si(), end.full());
    if z < -TRAVEL_ROUNDING || z > full + TRAVEL_ROUNDING {
        return Err(WheelError::OutOfTravel { found: to_text(travel), full: to_text(Length::from_si(full)) }.into());
    }
    Ok(z.clamp(0.0, full))
}

fn state_at(end: &dyn EndKernel, travel: Length) -> Result<WheelState> {
    Ok(WheelState::of(end, within(end, travel)?))
}

fn axle_at(end: &dyn EndKernel, travel: Length) -> Result<[Length; 2]> {
    let point = end.axle_point(within(end, travel)?).ok_or(WheelError::NoAxle)?;
    Ok(point.at.map(Length::from_si))
}

/// Changes of the main spring that both ends allow.
pub trait Tunable: Wheel + Sized {
    /// The end with every main spring's rate times a factor, and more (or less) preload on each.
    ///
    /// # Errors
    /// Without a main spring, and where a part no longer fits its stroke.
    fn with_spring_change(&self, rate_factor: f64, preload_change: Length) -> Result<Self>;

    /// The end with springs of this rate (per spring) and preload in place of its main springs.
    ///
    /// # Errors
    /// As [`with_spring_change`](Self::with_spring_change).
    fn with_spring_rate(&self, rate: SpringRate, preload: Length) -> Result<Self>;
}
