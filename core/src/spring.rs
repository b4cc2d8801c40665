//! Springs: force, rate and energy as functions of their own compression.
//!
//! A [`Spring`] knows nothing of travel; [`Preloaded`] puts it into a part with a preload, [`Stop`] at one end of a
//! stroke. A spring pushes or does nothing: below zero compression it hangs loose, and its force is zero.

mod adjuster;
mod coil;
mod main_spring;
mod preloaded;
mod stop;
#[cfg(feature = "serde")]
mod text;

pub use adjuster::Adjuster;
pub use coil::Coil;
pub use main_spring::MainSpring;
pub use preloaded::Preloaded;
pub use stop::Stop;

use crate::axial::{Axial, AxialElement, AxialState, stroke_within, tidy_kinks};
use crate::error::Result;
use crate::units::{Length, Quantity, SpringRate, check};

/// Any spring.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(try_from = "text::SpringText", into = "text::SpringText"))]
#[non_exhaustive]
pub enum Spring {
    /// A coil spring of constant rate.
    Coil(Coil),
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

    /// Compression at which the spring ends: coils touch, or its table is used up. `None` where that is not known.
    #[must_use]
    pub fn most_compression(&self) -> Option<Length> {
        self.end().map(Length::from_si)
    }

    /// The spring with all its rates times a factor, its lengths unchanged.
    ///
    /// # Errors
    /// [`UnitError`](crate::error::UnitError) unless the factor lies from 0.01 to 100.
    pub fn scaled(&self, factor: f64) -> Result<Self> {
        check::number_within("rate factor", factor, 0.01, 100.0)?;
        match self {
            Self::Coil(coil) => coil.with_rate(coil.rate() * factor).map(Self::Coil),
        }
    }

    /// The kernel: at a compression, below zero included.
    pub(crate) fn eval(&self, compression: f64) -> Axial {
        if compression < 0.0 {
            return Axial::default();
        }
        match self {
            Self::Coil(coil) => coil.eval(compression),
        }
    }

    pub(crate) fn end(&self) -> Option<f64> {
        match self {
            Self::Coil(coil) => coil.solid_compression().map(Quantity::si),
        }
    }

    /// Compressions above zero at which the rate jumps.
    pub(crate) fn jumps(&self) -> Vec<f64> {
        match self {
            Self::Coil(_) => Vec::new(),
        }
    }
}

impl From<Coil> for Spring {
    fn from(coil: Coil) -> Self {
        Self::Coil(coil)
    }
}

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
        match self {
            Self::Coil(coil) => coil.describe(),
        }
    }
}
