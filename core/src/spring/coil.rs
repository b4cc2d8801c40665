//! The coil spring of constant rate: `F = k·x`, `E = k·x²/2`, until its coils touch.
//!
//! A real coil stiffens over its last tenth as the end coils close; that is not in it.

use crate::axial::Axial;
use crate::error::{Result, SpringError};
use crate::units::{Length, Quantity, SpringRate, brief, check, show};

/// A coil spring of constant rate. Free and solid length, where known, say how far it compresses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coil {
    rate: SpringRate,
    lengths: Option<CoilLengths>,
}

/// Free and solid length of a coil spring.
#[derive(Debug, Clone, Copy, PartialEq)]
struct CoilLengths {
    free: Length,
    solid: Length,
}

impl Coil {
    /// A spring of this rate, its lengths unknown.
    ///
    /// # Errors
    /// [`UnitError`](crate::error::UnitError) unless the rate lies from 0.1 N/mm to 5 kN/mm.
    pub fn new(rate: SpringRate) -> Result<Self> {
        check::plausible("rate", rate, SpringRate::from_si(100.0), SpringRate::from_si(5e6))?;
        Ok(Self { rate, lengths: None })
    }

    /// The same spring with its free length and its length with all coils touching.
    ///
    /// # Errors
    /// When a length is not from 1 mm to 2 m, or the solid length is not the smaller one.
    pub fn with_lengths(self, free: Length, solid: Length) -> Result<Self> {
        let (low, high) = (Length::from_si(1e-3), Length::from_si(2.0));
        check::plausible("free_length", free, low, high)?;
        check::plausible("solid_length", solid, low, high)?;
        if solid >= free {
            return Err(SpringError::Order {
                field: "solid_length".to_owned(),
                found: brief(solid),
                wanted: "less",
                other: "free_length".to_owned(),
                than: brief(free),
            }
            .into());
        }
        Ok(Self { lengths: Some(CoilLengths { free, solid }), ..self })
    }

    /// The same spring with another rate.
    ///
    /// # Errors
    /// As [`new`](Self::new).
    pub fn with_rate(self, rate: SpringRate) -> Result<Self> {
        Ok(Self { lengths: self.lengths, ..Self::new(rate)? })
    }

    /// Its rate.
    #[must_use]
    pub fn rate(&self) -> SpringRate {
        self.rate
    }

    /// Its length unloaded, where known.
    #[must_use]
    pub fn free_length(&self) -> Option<Length> {
        self.lengths.map(|lengths| lengths.free)
    }

    /// Its length with all coils touching, where known.
    #[must_use]
    pub fn solid_length(&self) -> Option<Length> {
        self.lengths.map(|lengths| lengths.solid)
    }

    /// Compression at which the coils touch: free length less solid length, where known.
    #[must_use]
    pub fn solid_compression(&self) -> Option<Length> {
        self.lengths.map(|lengths| lengths.free - lengths.solid)
    }

    pub(crate) fn eval(&self, x: f64) -> Axial {
        let rate = self.rate.si();
        Axial { force: rate * x, rate, slope: 0.0, energy: 0.5 * rate * x * x }
    }

    pub(crate) fn describe(&self) -> String {
        let rate = show(self.rate, "N/mm", 2);
        match self.lengths {
            Some(CoilLengths { free, solid }) => {
                format!("coil spring {rate}, {} free, {} solid", show(free, "mm", 1), show(solid, "mm", 1))
            }
            None => format!("coil spring {rate}"),
        }
    }
}
