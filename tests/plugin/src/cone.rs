//! A spring wound in a cone, whose wide coils lie down one after the other.

use wheelrate::Result;
use wheelrate::axial::{AxialElement, AxialState};
use wheelrate::units::{Energy, Force, Length, Quantity, SpringRate};

/// `F = k·(x + x³/(3·l²))`: the rate `k·(1 + (x/l)²)` has doubled at the compression `l`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cone {
    rate: SpringRate,
    doubles_at: Length,
}

impl Cone {
    /// A cone with this rate at first touch, doubled at this compression.
    #[must_use]
    pub fn new(rate: SpringRate, doubles_at: Length) -> Self {
        Self { rate, doubles_at }
    }
}

impl AxialElement for Cone {
    fn at(&self, compression: Length) -> Result<AxialState> {
        let (k, x, l) = (self.rate.si(), compression.si(), self.doubles_at.si());
        Ok(AxialState {
            force: Force::from_si(k * (x + x.powi(3) / (3.0 * l * l))),
            rate: SpringRate::from_si(k * (1.0 + (x / l).powi(2))),
            energy: Energy::from_si(k * (0.5 * x * x + x.powi(4) / (12.0 * l * l))),
        })
    }

    fn full_stroke(&self) -> Option<Length> {
        None
    }

    fn kinks(&self) -> Vec<Length> {
        Vec::new()
    }

    fn describe(&self) -> String {
        format!("cone, {} at first touch", self.rate)
    }
}
