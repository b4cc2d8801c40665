//! A chamber with both its exponents, as fork legs and shocks hold it.

use super::{Chamber, Exponents};
use crate::axial::{Axial, Fast};

/// Sealed gas on a stroke: it settles by the chamber's own exponent, the slow one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SealedGas {
    chamber: Chamber,
    exponents: Exponents,
}

impl SealedGas {
    /// The chamber has to be of the slow exponent.
    pub(super) fn new(chamber: Chamber, exponents: Exponents) -> Self {
        Self { chamber, exponents }
    }

    pub(super) fn chamber(&self) -> Chamber {
        self.chamber
    }

    /// Settled at a stroke.
    pub(crate) fn eval(&self, s: f64) -> Axial {
        self.chamber.eval(s)
    }

    /// At a stroke reached fast from rest at another.
    pub(crate) fn fast(&self, rest: f64, s: f64) -> Fast {
        self.chamber.fast(rest, s, [self.exponents.fast(), self.exponents.fast_uncertainty()])
    }
}
