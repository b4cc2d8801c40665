//! How well the points of a drawn linkage were measured.

use crate::error::UnitError;
use crate::units::{Length, Quantity, check};

/// How well the points of a drawn linkage are known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PivotUncertainty {
    /// Standard uncertainty of every coordinate of a point.
    pub coordinate: Length,
    /// Standard uncertainty of the shock's length between its eyes; zero where it is taken from a drawing.
    pub shock_length: Length,
}

impl PivotUncertainty {
    /// The same, where it is one of measured points.
    ///
    /// # Errors
    /// [`UnitError`] when the first is not above zero, the second is below zero, or either is over 20 mm.
    pub fn checked(self) -> Result<Self, UnitError> {
        let most = Length::from_si(0.02);
        check::positive("point_uncertainty", self.coordinate)?;
        check::plausible("point_uncertainty", self.coordinate, Length::from_si(1e-6), most)?;
        check::not_negative("shock_length_uncertainty", self.shock_length)?;
        check::plausible("shock_length_uncertainty", self.shock_length, Length::from_si(0.0), most)?;
        Ok(self)
    }
}
