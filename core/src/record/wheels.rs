//! What the ends stand on.

use super::{Ends, Tyre};
use crate::error::UnitError;
use crate::units::{Length, Quantity, WheelRate, check};

/// A wheel on the ground.
#[derive(Debug, Clone, PartialEq)]
pub struct WheelAndTyre {
    /// Height of the axle over the ground, the tyre unloaded; loaded where no tyre rate is given.
    pub radius: Length,
    /// The tyre, by its vertical rate; rigid unless given.
    pub tyre: Option<Tyre>,
}

impl WheelAndTyre {
    /// A wheel.
    ///
    /// # Errors
    /// [`UnitError`] unless the radius lies from 50 mm to 900 mm (a pocket bike to a penny-farthing), and as [`Tyre::stated`].
    pub fn new(radius: Length, tyre: Option<WheelRate>) -> Result<Self, UnitError> {
        Self::with_tyre(radius, tyre.map(Tyre::stated).transpose()?)
    }

    /// A wheel with a tyre of which more is known than its rate.
    ///
    /// # Errors
    /// [`UnitError`] for the radius, as [`new`](Self::new).
    pub fn with_tyre(radius: Length, tyre: Option<Tyre>) -> Result<Self, UnitError> {
        check::plausible("radius", radius, Length::from_si(0.05), Length::from_si(0.9))?;
        Ok(Self { radius, tyre })
    }

    /// Vertical rate of the tyre; `None` for a rigid one.
    #[must_use]
    pub fn tyre_rate(&self) -> Option<WheelRate> {
        self.tyre.as_ref().map(Tyre::rate)
    }
}

/// Both wheels, and how the front one sits in the fork.
#[derive(Debug, Clone, PartialEq)]
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
        for wheel in [&ends.front, &ends.rear] {
            WheelAndTyre::new(wheel.radius, None)?;
        }
        Ok(Self { fork_offset, ends })
    }
}
