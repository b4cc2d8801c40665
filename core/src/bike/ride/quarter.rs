//! One end on its own: the sprung mass on the wheel, the wheel on the tyre.

use core::f64::consts::TAU;

use nalgebra::DMatrix;

use super::{modes, positive};
use crate::error::BikeError;
use crate::units::{Frequency, Mass, Quantity, WheelRate};

/// The sprung mass over one wheel, the unsprung mass, and the springs above and below it.
///
/// Takes the ends as if they did not know each other, which is exact where the pitch inertia is `m·a·b` and close to it on
/// most bikes.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct QuarterBike {
    /// Sprung mass over the wheel.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub sprung: Mass,
    /// Unsprung mass at the wheel.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub unsprung: Mass,
    /// Wheel rate.
    pub rate: WheelRate,
    /// Vertical rate of the tyre.
    pub tyre: WheelRate,
}

/// One of the two modes.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
#[non_exhaustive]
pub struct QuarterMode {
    /// Undamped natural frequency.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub frequency: Frequency,
    /// Amplitude of the unsprung mass over that of the sprung mass; negative when they move against each other.
    pub unsprung_over_sprung: f64,
}

impl QuarterBike {
    /// The ride mode and the wheel hop mode, in this order.
    ///
    /// # Errors
    /// [`BikeError::Unit`] when a mass or a rate is not above zero.
    pub fn modes(&self) -> Result<[QuarterMode; 2], BikeError> {
        let (sprung, unsprung) = (positive("sprung", self.sprung)?, positive("unsprung", self.unsprung)?);
        let (rate, tyre) = (positive("rate", self.rate)?, positive("tyre", self.tyre)?);
        let mass = DMatrix::from_row_slice(2, 2, &[sprung, 0.0, 0.0, unsprung]);
        let stiffness = DMatrix::from_row_slice(2, 2, &[rate, -rate, -rate, rate + tyre]);
        let found = modes(mass, &stiffness).ok_or(BikeError::NoModes)?;
        match found.as_slice() {
            [ride, hop] => Ok([ride, hop].map(|(square, shape)| QuarterMode {
                frequency: Frequency::from_si(square.sqrt() / TAU),
                unsprung_over_sprung: shape[1] / shape[0],
            })),
            _ => Err(BikeError::NoModes),
        }
    }
}
