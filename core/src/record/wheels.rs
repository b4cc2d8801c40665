//! What the ends stand on.

use super::Ends;
use crate::error::UnitError;
use crate::units::{Length, Quantity, WheelRate, check};

/// A wheel on the ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WheelAndTyre {
    /// Height of the axle over the ground, the tyre unloaded; loaded where no tyre rate is given.
    pub radius: Length,
    /// Vertical rate of the tyre; rigid unless given.
    pub tyre: Option<WheelRate>,
}

impl WheelAndTyre {
    /// A wheel.
    ///
    /// # Errors
    /// [`UnitError`] unless the radius lies from 50 mm to 900 mm (a pocket bike to a penny-farthing) and the tyre's rate
    /// from 5 N/mm to 5000 N/mm (a balloon tyre at low pressure to solid rubber).
    pub fn new(radius: Length, tyre: Option<WheelRate>) -> Result<Self, UnitError> {
        check::plausible("radius", radius, Length::from_si(0.05), Length::from_si(0.9))?;
        if let Some(tyre) = tyre {
            check::plausible("tyre", tyre, WheelRate::from_si(5e3), WheelRate::from_si(5e6))?;
        }
        Ok(Self { radius, tyre })
    }
}

/// Both wheels, and how the front one sits in the fork.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wheels {
    /// Distance of the front axle ahead of the steering axis, square to it.
    pub fork_offset: Length,
    /// The wheels.
    pub ends: Ends<WheelAndTyre>,
}

impl Wheels {
    /// Both wheels.
    ///
    /// # Errors
    /// [`UnitError`] when the offset is over 500 mm either way, and as [`WheelAndTyre::new`].
    pub fn new(fork_offset: Length, ends: Ends<WheelAndTyre>) -> Result<Self, UnitError> {
        let most = Length::from_si(0.5);
        check::plausible("fork_offset", fork_offset, -most, most)?;
        for wheel in [ends.front, ends.rear] {
            WheelAndTyre::new(wheel.radius, wheel.tyre)?;
        }
        Ok(Self { fork_offset, ends })
    }
}
