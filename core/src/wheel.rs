//! An end of the bike as its wheel feels it: force, rate and energy over vertical travel.
//!
//! `F_w = F·MR`, `k_w = k·MR² + F·dMR/dz`, `E(z) = ∫₀ᶻ F_w dz`,
//!
//! with the axial force `F(s)` and rate `k(s)` of the fork or shock at the stroke `s(z)`. The second, geometric, term of the
//! rate belongs to it: on a rising-rate linkage at sag it is commonly 10 to 40 % of the whole.
//!
//! Travel `z` is vertical, from full extension, positive in compression, with the frame in its reference attitude; the
//! force is positive upwards on the wheel's own end, so that it carries a load. Friction is not in it: a fork or shock
//! carries its own beside. Gas is taken as settled; what it answers to a fast stroke is asked for with the travel at which
//! it had come to rest ([`Wheel::fast_at`]).
//!
//! A fork is a mechanism with a constant ratio, `MR = 1/cos ε`; a linkage gives `MR(z)`, at either end. Both are [`Wheel`]s, and
//! so is an end of your own.
//!
//! Assumes no friction in the pivots, no brake, no chain force, and a load straight down. With the frame pitched the load
//! does work along the axle's path too; [`crate::bike`] has that.
//!
//! References: Milliken & Milliken, *Race Car Vehicle Dynamics* (installation ratio); Cossalter, *Motorcycle Dynamics*,
//! ch. 5.

mod chain;
mod design;
/// What a wheel feels along the axis of its fork or shock, from what that says of itself.
macro_rules! felt_along_the_axis {
    ($axis:ident) => {
        fn springs(&self, stroke: Length) -> AxialState {
            self.$axis.spring_part(stroke.si()).typed()
        }

        fn rest(&self, stroke: Length) -> AxialState {
            self.$axis.rest_part(stroke.si()).typed()
        }

        fn fast_rest(&self, settled: Length, stroke: Length) -> FastState {
            self.$axis.fast_part(settled.si(), stroke.si()).typed()
        }

        fn main_spring(&self) -> Option<MainSpring> {
            self.$axis.main_spring()
        }

        fn stroke_kinks(&self) -> Vec<Length> {
            self.$axis.kinks()
        }

        fn friction(&self) -> Option<SealFriction> {
            self.$axis.friction()
        }

        fn damper(&self) -> Option<Damper> {
            self.$axis.damper()
        }

        fn bind_clearance(&self) -> Option<Length> {
            self.$axis.bind_clearance()
        }
    };
}

mod deviation;
mod effects;
mod final_drive;
mod front;
mod kernel;
mod known_pivots;
mod measured;
mod measured_springs;
mod own;
mod pivots;
mod rear;
mod settle;
mod state;
mod table;

pub use crate::record::{FOOTPRINT, Tyre, TyreRate, TyreReadings};
pub use chain::{ChainPoint, ChainRun};
pub(crate) use deviation::{Deviation, Origin};
pub use effects::{EndEffect, WheelEffect};
pub use final_drive::{FinalDrive, Sprockets};
pub(crate) use front::CaliperSpin;
pub use front::{FrontEnd, SteeringAxis};
pub(crate) use kernel::{AxlePoint, EndKernel, Motion, Push};
pub use known_pivots::PivotUncertainty;
pub use own::OwnEnd;
pub use pivots::UncertainWheel;
pub use rear::{Outline, RearEnd};
pub use settle::{Equilibrium, Settling, Stability};
pub(crate) use settle::{Rest, rest, rest_on, rest_under};
pub use state::{WheelCurve, WheelState};
pub(crate) use table::{Carried, EndTable, Exact, Held, Nodes, Sample};

use core::fmt::Debug;

use crate::axial::{AxialState, FastState};
use crate::damper::Damper;
use crate::error::{Result, WheelError};
use crate::friction::SealFriction;
use crate::spring::{Adjuster, MainSpring};
use crate::units::{
    Force, Length, MotionRatio, MotionRatioSlope, Quantity, ReciprocalLength, SpringRate, WheelRate, brief, check,
};

/// A travel outside the range by less than this, in metres, is its end up to the rounding of units and of text.
const TRAVEL_ROUNDING: f64 = 1e-9;

/// The way from the wheel to the axis of its springs, at one travel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StrokeAt {
    /// Stroke of the springs from full extension.
    pub stroke: Length,
    /// `MR = ds/dz`.
    pub motion_ratio: MotionRatio,
    /// `dMR/dz`.
    pub motion_ratio_slope: MotionRatioSlope,
}

/// The axle at one travel, in the frame axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxleAt {
    /// x forward, z up.
    pub at: [Length; 2],
    /// `dx/dz`.
    pub slope: f64,
    /// `d²x/dz²`.
    pub curvature: ReciprocalLength,
}

/// The mechanism at one travel: the way from wheel to springs, and the axle where its place is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PathAt {
    /// The way to the springs.
    pub stroke: StrokeAt,
    /// The axle.
    pub axle: Option<AxleAt>,
}

/// An end of the bike as its wheel feels it: a mechanism, main springs, and the rest, on one axis.
///
/// Open to other crates: five functions make an end that has everything below them, and that goes into a bike as
/// [`OwnEnd`]. With every main spring's rate times `a` and `b` more preload on each,
///
/// `F_w = MR·(a·G(s + b) + R(s))`, `∂F_w/∂a = MR·G(s + b)`, `∂F_w/∂b = MR·a·G′(s + b)`,
///
/// with [`springs`](Self::springs) `G` and [`rest`](Self::rest) `R`: that is all the fit varies.
pub trait Wheel: Debug + Send + Sync {
    /// Vertical travel from full extension to full compression.
    fn full_travel(&self) -> Length;

    /// The way from wheel to springs at a travel inside the range.
    fn stroke_at(&self, travel: Length) -> StrokeAt;

    /// Main springs `G` at a stroke, or at a stroke plus a change of preload: below zero and beyond the full stroke too.
    fn springs(&self, stroke: Length) -> AxialState;

    /// Everything else along the axis, gas and stops: `R` at a stroke.
    fn rest(&self, stroke: Length) -> AxialState;

    /// The same at a stroke reached fast, in a tenth of a second or two, from where it had settled. To be given by an end
    /// with gas; without gas it is as it is slowly.
    fn fast_rest(&self, _settled: Length, stroke: Length) -> FastState {
        FastState::same(self.rest(stroke))
    }

    /// The main springs of the end together; `None` where there is none.
    fn main_spring(&self) -> Option<MainSpring>;

    /// Strokes at which the rate of springs or rest jumps, in any order.
    fn stroke_kinks(&self) -> Vec<Length> {
        Vec::new()
    }

    /// Position and path of the axle at a travel inside the range; `None` where it is not known.
    fn axle_at(&self, _travel: Length) -> Option<AxleAt> {
        None
    }

    /// Springs and axle at a travel inside the range. To be given by an end that solves both together faster than one by one.
    fn path_at(&self, travel: Length) -> PathAt {
        PathAt { stroke: self.stroke_at(travel), axle: self.axle_at(travel) }
    }

    /// The same at many travels. To be given by an end that solves many together faster than one by one.
    fn paths_at(&self, travels: &[Length]) -> Vec<PathAt> {
        travels.iter().map(|&travel| self.path_at(travel)).collect()
    }

    /// Friction along the axis; `None` where none is stated.
    fn friction(&self) -> Option<SealFriction> {
        None
    }

    /// Damper along the axis; `None` where none is stated.
    fn damper(&self) -> Option<Damper> {
        None
    }

    /// Least compression that any main spring has left at full stroke; `None` where no spring's end is known.
    fn bind_clearance(&self) -> Option<Length> {
        None
    }

    /// Preload adjuster of the main springs, where known.
    fn adjuster(&self) -> Option<Adjuster> {
        None
    }

    /// Everything at one travel.
    ///
    /// # Errors
    /// [`WheelError::OutOfTravel`].
    fn at(&self, travel: Length) -> Result<WheelState> {
        Ok(WheelState::of(self, within(self, travel)?))
    }

    /// Everything at one travel reached fast, in a tenth of a second or two, from where the end had settled. Gas answers
    /// with its fast exponent from the pressure it had at rest. The energy is that of the rest and the work done since.
    ///
    /// # Errors
    /// As [`at`](Self::at), for either travel.
    fn fast_at(&self, rest: Length, travel: Length) -> Result<WheelState> {
        Ok(WheelState::fast(self, within(self, rest)?, within(self, travel)?))
    }

    /// Travels strictly inside the range at which the rate jumps, in rising order.
    fn kinks(&self) -> Vec<Length> {
        let full = self.full();
        let strokes = self.stroke_kinks().into_iter().map(Quantity::si);
        let mut travels: Vec<f64> = strokes.map(|stroke| settle::travel_at_stroke(self, stroke)).collect();
        travels.retain(|travel| *travel > 0.0 && *travel < full);
        travels.sort_by(f64::total_cmp);
        travels.into_iter().map(Length::from_si).collect()
    }

    /// Where the wheel comes to rest under a vertical load on the springs, friction left out: the first equilibrium on
    /// the way from full extension.
    ///
    /// # Errors
    /// When the load is not finite.
    fn travel_under(&self, load: Force) -> Result<Settling> {
        settle::settle(self, load)
    }

    /// Position of the axle in the frame axes, x forward and z up.
    ///
    /// # Errors
    /// [`WheelError::OutOfTravel`], and [`WheelError::NoAxle`] where it is not known.
    fn axle(&self, travel: Length) -> Result<[Length; 2]> {
        let travel = Length::from_si(within(self, travel)?);
        Ok(self.axle_at(travel).ok_or(WheelError::NoAxle)?.at)
    }

    /// Everything over many travels, as arrays of one length.
    ///
    /// # Errors
    /// As [`at`](Self::at), for the first travel outside the range.
    fn curve(&self, travels: &[Length]) -> Result<WheelCurve> {
        let travels = all_within(self, travels)?;
        let mut curve = WheelCurve::with_capacity(travels.len());
        let extended = state::extended(self);
        for (travel, path) in travels.iter().zip(self.paths_at(&travels)) {
            let motion = Motion::from(path.stroke);
            curve.push(&WheelState::with(travel.si(), motion, self.axial(motion.stroke), extended));
        }
        Ok(curve)
    }

    /// Everything over many travels, all reached fast from one rest.
    ///
    /// # Errors
    /// As [`fast_at`](Self::fast_at), for the first travel outside the range.
    fn fast_curve(&self, rest: Length, travels: &[Length]) -> Result<WheelCurve> {
        let settled = self.motion(within(self, rest)?).stroke;
        let travels = all_within(self, travels)?;
        let mut curve = WheelCurve::with_capacity(travels.len());
        let extended = state::extended(self);
        for (travel, path) in travels.iter().zip(self.paths_at(&travels)) {
            let motion = Motion::from(path.stroke);
            curve.push(&WheelState::with(travel.si(), motion, self.fast_axial(settled, motion.stroke), extended));
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

/// The travel in SI, checked against both ends and held to them within rounding.
fn within<W: Wheel + ?Sized>(end: &W, travel: Length) -> Result<f64> {
    let (z, full) = (check::finite("travel", travel)?.si(), end.full());
    if z < -TRAVEL_ROUNDING || z > full + TRAVEL_ROUNDING {
        return Err(WheelError::OutOfTravel { found: brief(travel), full: brief(Length::from_si(full)) }.into());
    }
    Ok(z.clamp(0.0, full))
}

/// All travels, each checked and held as by [`within`].
fn all_within<W: Wheel + ?Sized>(end: &W, travels: &[Length]) -> Result<Vec<Length>> {
    travels.iter().map(|&travel| within(end, travel).map(Length::from_si)).collect()
}

/// Changes of the main spring that every end allows.
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

#[cfg(test)]
mod tests;
