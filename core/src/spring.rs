//! Springs: force, rate and energy as functions of their own compression.
//!
//! A [`Spring`] knows nothing of travel; [`Preloaded`] puts it into a part with a preload, [`Stop`] at one end of a
//! stroke. A spring pushes or does nothing: below zero compression it hangs loose, and its force is zero.

mod adjuster;
mod by_force;
mod closing;
mod coil;
mod geometry;
mod lasting;
mod main_spring;
mod material;
mod measured;
mod nest;
mod own;
mod preloaded;
mod spacer;
mod stack;
mod stop;
mod table;
mod unmarked;
mod wire;

pub(crate) use adjuster::PRELOADS;
pub use adjuster::{Adjuster, AdjusterParts};
pub use closing::{ClosingCoil, ClosingCoilParts, CoilZone};
pub use coil::Coil;
pub use geometry::{CoilEnds, CoilGeometry, CoilParts, Seating, StressFactor};
pub use lasting::{SpringDuty, SpringLife, SpringVerdict};
pub use main_spring::MainSpring;
pub use material::{Material, MaterialParts};
pub use measured::{MeasuredSpring, MeasuredSpringParts, MeasuredSpringPoint};
pub use nest::{Nest, Nested};
pub use own::OwnSpring;
pub use preloaded::Preloaded;
pub use spacer::{SpacerLengths, SpacerParts};
pub use stack::{Changeover, Stack, Stage};
pub use stop::Stop;
pub use table::Table;
pub use unmarked::{RateBudget, UNCERTIFIED_SHEAR_MODULUS, UnmarkedParts, UnmarkedSpring};
pub use wire::SpringWire;

use by_force::ByForce;

use crate::axial::{Axial, AxialElement, AxialState, stroke_within, tidy_kinks};
use crate::error::Result;
use crate::units::{Length, Quantity, SpringRate, check};

/// Any spring.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Spring {
    /// A coil spring of constant rate.
    Coil(Coil),
    /// Springs end to end.
    Stack(Stack),
    /// Springs one inside the other.
    Nest(Nest),
    /// A progressive spring by its table.
    Table(Table),
    /// A coil spring of several pitches, whose coils close one after the other.
    Closing(ClosingCoil),
    /// A spring by what was read off a press or scales.
    Measured(MeasuredSpring),
    /// A spring by a law of your own.
    Own(OwnSpring),
}

impl Spring {
    /// A coil spring of this rate, its lengths unknown.
    ///
    /// # Errors
    /// As [`Coil::new`].
    pub fn linear(rate: SpringRate) -> Result<Self> {
        Coil::new(rate).map(Self::Coil)
    }

    /// The rate at first touch.
    #[must_use]
    pub fn initial_rate(&self) -> SpringRate {
        SpringRate::from_si(self.eval(0.0).rate)
    }

    /// The rate that it goes by: at first touch; of a measured spring, the mean over its readings, which they know best.
    #[must_use]
    pub fn named_rate(&self) -> SpringRate {
        match self {
            Self::Measured(spring) => spring.mean_rate().value,
            _ => self.initial_rate(),
        }
    }

    /// What was read, where it is a measured spring.
    pub(crate) fn measured(&self) -> Option<&MeasuredSpring> {
        match self {
            Self::Measured(spring) => Some(spring),
            _ => None,
        }
    }

    /// Compression at which the spring ends: coils touch, or its table is used up. `None` where that is not known.
    #[must_use]
    pub fn most_compression(&self) -> Option<Length> {
        self.end().map(Length::from_si)
    }

    /// What [`most_compression`](Self::most_compression) is, for messages.
    pub(crate) fn allows(&self) -> &'static str {
        if self.measured().is_some() { "compression that its readings reach" } else { "compression the spring allows" }
    }

    /// The spring with all its rates times a factor, its lengths unchanged.
    ///
    /// # Errors
    /// [`UnitError`](crate::error::UnitError) unless the factor lies from 0.01 to 100.
    pub fn scaled(&self, factor: f64) -> Result<Self> {
        check::number_within("rate factor", factor, 0.01, 100.0)?;
        match self {
            Self::Coil(coil) => coil.with_rate(coil.rate() * factor).map(Self::Coil),
            Self::Stack(stack) => stack.scaled(factor).map(Self::Stack),
            Self::Nest(nest) => nest.scaled(factor).map(Self::Nest),
            Self::Table(table) => table.scaled(factor).map(Self::Table),
            Self::Closing(coil) => coil.scaled(factor).map(Self::Closing),
            Self::Measured(spring) => spring.scaled(factor).map(Self::Measured),
            Self::Own(own) => Ok(Self::Own(own.scaled(factor))),
        }
    }

    /// The kernel: at a compression, below zero included. Beyond its end a spring runs on with its last rate, so that an
    /// iteration may pass through; nothing can be built that rests there.
    #[inline]
    pub(crate) fn eval(&self, compression: f64) -> Axial {
        if compression < 0.0 {
            return Axial::default();
        }
        match self.end() {
            Some(end) if compression > end => {
                let (last, beyond) = (self.inside(end), compression - end);
                Axial {
                    force: last.force + last.rate * beyond,
                    rate: last.rate,
                    slope: 0.0,
                    energy: last.energy + beyond * (last.force + 0.5 * last.rate * beyond),
                }
            }
            _ => self.inside(compression),
        }
    }

    #[inline]
    fn inside(&self, compression: f64) -> Axial {
        match self {
            Self::Coil(coil) => coil.eval(compression),
            Self::Stack(stack) => stack.eval(compression),
            Self::Nest(nest) => nest.eval(compression),
            Self::Table(table) => table.eval(compression),
            Self::Closing(coil) => coil.eval(compression),
            Self::Measured(spring) => spring.eval(compression),
            Self::Own(own) => own.eval(compression),
        }
    }

    /// The other view, at a force of zero or more that the spring can carry.
    fn by_force(&self, force: f64) -> ByForce {
        match self {
            Self::Coil(coil) => {
                let compression = force / coil.rate().si();
                ByForce::of(compression, coil.eval(compression))
            }
            Self::Stack(stack) => stack.by_force(force),
            Self::Nest(nest) => nest.by_force(force),
            Self::Table(table) => table.by_force(force),
            Self::Closing(coil) => coil.by_force(force),
            Self::Measured(spring) => spring.by_force(force),
            Self::Own(own) => own.by_force(force),
        }
    }

    pub(crate) fn end(&self) -> Option<f64> {
        match self {
            Self::Coil(coil) => coil.solid_compression().map(Quantity::si),
            Self::Stack(stack) => stack.end(),
            Self::Nest(nest) => nest.end(),
            Self::Table(table) => Some(table.end()),
            Self::Closing(coil) => Some(coil.end()),
            Self::Measured(spring) => Some(spring.end()),
            Self::Own(own) => own.end(),
        }
    }

    /// Compressions above zero at which the rate jumps.
    pub(crate) fn jumps(&self) -> Vec<f64> {
        match self {
            Self::Coil(_) | Self::Table(_) | Self::Measured(_) => Vec::new(),
            Self::Closing(coil) => coil.jumps(),
            Self::Stack(stack) => stack.jumps(),
            Self::Nest(nest) => nest.jumps(),
            Self::Own(own) => own.jumps(),
        }
    }

    pub(crate) fn words(&self) -> String {
        match self {
            Self::Coil(coil) => coil.describe(),
            Self::Stack(stack) => stack.describe(),
            Self::Nest(nest) => nest.describe(),
            Self::Table(table) => table.describe(),
            Self::Closing(coil) => coil.describe(),
            Self::Measured(spring) => spring.describe(),
            Self::Own(own) => own.describe(),
        }
    }
}

macro_rules! spring_from {
    ($($kind:ident: $spring:ident),+) => {
        $(impl From<$spring> for Spring {
            fn from(spring: $spring) -> Self {
                Self::$kind(spring)
            }
        })+
    };
}

spring_from!(Coil: Coil, Stack: Stack, Nest: Nest, Table: Table, Closing: ClosingCoil, Measured: MeasuredSpring, Own: OwnSpring);

impl AxialElement for Spring {
    fn at(&self, stroke: Length) -> Result<AxialState> {
        Ok(self.eval(stroke_within("spring", stroke, self.end())?).typed())
    }

    fn full_stroke(&self) -> Option<Length> {
        self.most_compression()
    }

    fn kinks(&self) -> Vec<Length> {
        tidy_kinks(self.jumps(), self.end().unwrap_or(f64::INFINITY))
    }

    fn describe(&self) -> String {
        self.words()
    }
}

#[cfg(test)]
mod tests;
