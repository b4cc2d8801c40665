//! A bump stop of foamed rubber over the last part of a stroke.

use wheelrate::Result;
use wheelrate::axial::{AxialElement, AxialState};
use wheelrate::units::{Force, Length, Quantity, SpringRate};

/// How the force rises over the compression.
const EXPONENT: i32 = 3;

/// `F = F_full·(x/c)³` over the compression `x` of a stop that acts over the last `c` of a stroke.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rubber {
    stroke: Length,
    acts_over: Length,
    full_force: Force,
}

impl Rubber {
    /// A stop that acts over the last part of a stroke, with this force at its end.
    #[must_use]
    pub fn new(stroke: Length, acts_over: Length, full_force: Force) -> Self {
        Self { stroke, acts_over, full_force }
    }
}

impl AxialElement for Rubber {
    fn at(&self, stroke: Length) -> Result<AxialState> {
        let (start, over, most) = (self.stroke - self.acts_over, self.acts_over, self.full_force);
        let share = ((stroke - start) / over).value.max(0.0);
        Ok(AxialState {
            force: most * share.powi(EXPONENT),
            rate: SpringRate::from_si(f64::from(EXPONENT) * most.si() / over.si() * share.powi(EXPONENT - 1)),
            energy: most * over * (share.powi(EXPONENT + 1) / f64::from(EXPONENT + 1)),
        })
    }

    fn full_stroke(&self) -> Option<Length> {
        Some(self.stroke)
    }

    fn kinks(&self) -> Vec<Length> {
        vec![self.stroke - self.acts_over]
    }

    fn describe(&self) -> String {
        "rubber bump stop".to_owned()
    }
}
