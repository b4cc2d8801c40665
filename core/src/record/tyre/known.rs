//! A tyre on a bike: its rate, and how that is known.

use super::{TyreRate, check_rate};
use crate::error::{Result, UnitError};
use crate::units::{Force, Length, Quantity, Uncertain, WheelRate, check};

/// What was read at a tyre, with the standard uncertainty of one load and one height.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct TyreReadings {
    /// Load on the ground, and height of the axle above it.
    pub rows: Vec<(Force, Length)>,
    /// Standard uncertainty of one load; 10 N unless stated.
    pub load_uncertainty: Force,
    /// Standard uncertainty of one height; 0.5 mm unless stated.
    pub height_uncertainty: Length,
}

impl TyreReadings {
    /// Readings as good as bathroom scales and a tape make them.
    #[must_use]
    pub fn new(rows: Vec<(Force, Length)>) -> Self {
        Self { rows, load_uncertainty: Force::from_si(10.0), height_uncertainty: Length::from_si(5e-4) }
    }
}

#[derive(Debug, Clone, PartialEq)]
enum Known {
    Stated(Option<WheelRate>),
    Read { readings: TyreReadings, found: TyreRate },
}

/// A tyre, and how its rate is known: stated, with a standard uncertainty or none, or worked out from readings.
///
/// ```
/// use wheelrate::units::parse;
/// use wheelrate::wheel::{Tyre, TyreReadings};
/// let rows = [("400 N", "341.2 mm"), ("900 N", "337.3 mm"), ("1400 N", "332.8 mm")];
/// let rows = rows.iter().map(|(load, height)| Ok((parse(load)?, parse(height)?))).collect::<wheelrate::Result<_>>()?;
/// let tyre = Tyre::read(TyreReadings::new(rows))?;
/// assert!((tyre.rate().in_unit("N/mm")? - 119.0).abs() < 1.0);
/// # use wheelrate::units::Quantity;
/// # Ok::<(), wheelrate::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Tyre {
    rate: WheelRate,
    known: Known,
}

impl Tyre {
    /// A tyre of a stated rate.
    ///
    /// # Errors
    /// [`UnitError`] unless it lies from 5 N/mm to 5000 N/mm.
    pub fn stated(rate: WheelRate) -> Result<Self, UnitError> {
        Ok(Self { rate: check_rate(rate)?, known: Known::Stated(None) })
    }

    /// A tyre of a stated rate with its standard uncertainty.
    ///
    /// # Errors
    /// [`UnitError`] as [`stated`](Self::stated), and unless the uncertainty is above zero and no more than the rate.
    pub fn uncertain(rate: WheelRate, uncertainty: WheelRate) -> Result<Self, UnitError> {
        let tyre = Self::stated(rate)?;
        check::positive("tyre_uncertainty", uncertainty)?;
        check::plausible("tyre_uncertainty", uncertainty, WheelRate::from_si(0.0), rate)?;
        Ok(Self { known: Known::Stated(Some(uncertainty)), ..tyre })
    }

    /// A tyre of the rate that its readings give.
    ///
    /// # Errors
    /// As [`TyreRate::from_heights`].
    pub fn read(readings: TyreReadings) -> Result<Self> {
        let found = TyreRate::from_heights(&readings.rows, readings.load_uncertainty, readings.height_uncertainty)?;
        Ok(Self { rate: found.rate.value, known: Known::Read { readings, found } })
    }

    /// Vertical rate.
    #[must_use]
    pub fn rate(&self) -> WheelRate {
        self.rate
    }

    /// Standard uncertainty of the rate, stated or from the readings; `None` where nothing is said of it.
    #[must_use]
    pub fn uncertainty(&self) -> Option<WheelRate> {
        match &self.known {
            Known::Stated(uncertainty) => *uncertainty,
            Known::Read { found, .. } => Some(found.rate.standard_uncertainty),
        }
    }

    /// The rate with its uncertainty, where that is known.
    #[must_use]
    pub fn known(&self) -> Option<Uncertain<WheelRate>> {
        self.uncertainty().map(|standard_uncertainty| Uncertain { value: self.rate, standard_uncertainty })
    }

    /// What was read, where the rate comes from that.
    #[must_use]
    pub fn readings(&self) -> Option<&TyreReadings> {
        match &self.known {
            Known::Stated(_) => None,
            Known::Read { readings, .. } => Some(readings),
        }
    }
}
