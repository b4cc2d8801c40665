//! How well the points of a drawn linkage were measured.

use crate::error::UnitError;
use crate::units::{Length, Quantity, check};

/// How well the points of a drawn linkage are known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PivotUncertainty {
    pub(crate) coordinate: Length,
    pub(crate) shock_length: Length,
}

impl PivotUncertainty {
    /// Standard uncertainties of every coordinate of a point and of the shock's length between its eyes; the latter may be
    /// zero, where it is taken from a drawing.
    ///
    /// # Errors
    /// [`UnitError`] when the first is not above zero, the second is below zero, or either is over 20 mm.
    pub fn new(coordinate: Length, shock_length: Length) -> Result<Self, UnitError> {
        let most = Length::from_si(0.02);
        check::positive("point_uncertainty", coordinate)?;
        check::plausible("point_uncertainty", coordinate, Length::from_si(1e-6), most)?;
        check::not_negative("shock_length_uncertainty", shock_length)?;
        check::plausible("shock_length_uncertainty", shock_length, Length::from_si(0.0), most)?;
        Ok(Self { coordinate, shock_length })
    }

    /// Of every coordinate of a point.
    #[must_use]
    pub fn coordinate(&self) -> Length {
        self.coordinate
    }

    /// Of the shock's length between its eyes.
    #[must_use]
    pub fn shock_length(&self) -> Length {
        self.shock_length
    }
}
