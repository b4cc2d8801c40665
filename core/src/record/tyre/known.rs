//! A tyre on a bike: its rate, and how that is known.

use super::super::{Distance, SuspectReading, Suspects};
use super::{LEAST_WITHOUT_ONE, Line, TyreRate, check_rate};
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
    Read { readings: TyreReadings, found: TyreRate, suspects: Suspects<Force, Length> },
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
        Ok(Self { rate: found.rate.value, known: Known::Read { readings, found, suspects: Suspects::default() } })
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
    /// Heights that lie more than 3.5 standard deviations off the line through the others: misread or miswritten, probably. Of fewer
    /// than four readings none can be said to be the one. Empty for a tyre of a stated rate.
    #[must_use]
    pub fn suspect_readings(&self) -> Vec<SuspectReading<Force, Length>> {
        let Known::Read { readings: TyreReadings { rows, load_uncertainty, height_uncertainty }, suspects, .. } =
            &self.known
        else {
            return Vec::new();
        };
        let curve = |left_out: &[usize]| {
            let kept = rows.iter().enumerate().filter(|(place, _)| !left_out.contains(place));
            let kept: Vec<(Force, Length)> = kept.map(|(_, &reading)| reading).collect();
            let is_enough = kept.len() + 1 >= LEAST_WITHOUT_ONE;
            is_enough
                .then(|| Some((Line::through(&kept, *load_uncertainty, *height_uncertainty).ok()?, kept.len())))
                .flatten()
        };
        let distance = |(line, count): &(Line, usize), place: usize| -> Distance { line.distance(*count, rows[place]) };
        suspects.among(rows, 1.0, curve, distance)
    }
}
