//! A chamber with both its exponents, as fork legs and shocks hold it.

use super::chamber::Piston;
use super::{Chamber, Exponents};
use crate::axial::{Axial, Fast};

/// Sealed gas on a stroke: it settles by the chamber's own exponent, the slow one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SealedGas {
    chamber: Chamber,
    exponents: Exponents,
    /// A floating piston in it, with a chamber behind.
    piston: Option<Piston>,
}

impl SealedGas {
    /// The chamber has to be of the slow exponent.
    pub(super) fn new(chamber: Chamber, exponents: Exponents) -> Self {
        Self { chamber, exponents, piston: None }
    }

    /// With a floating piston and behind it this volume (m³) at this absolute pressure (Pa).
    pub(super) fn with_second(self, pressure: f64, volume: f64) -> Self {
        Self { piston: Some(Piston::new(self.chamber, pressure, volume)), ..self }
    }

    pub(super) fn chamber(&self) -> Chamber {
        self.chamber
    }

    /// Settled at a stroke.
    pub(crate) fn eval(&self, s: f64) -> Axial {
        self.piston.as_ref().map_or_else(|| self.chamber.eval(s), |piston| piston.eval(s))
    }

    /// At a stroke reached fast from rest at another.
    pub(crate) fn fast(&self, rest: f64, s: f64) -> Fast {
        let exponent = [self.exponents.fast(), self.exponents.fast_uncertainty()];
        self.piston
            .as_ref()
            .map_or_else(|| self.chamber.fast(rest, s, exponent), |piston| piston.fast(rest, s, exponent))
    }

    /// Stroke at which the piston lifts while the end settles; `None` without one.
    pub(crate) fn lifts_at(&self) -> Option<f64> {
        self.piston.as_ref().map(Piston::lifts_at)
    }
}
