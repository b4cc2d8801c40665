//! Wheel force and wheel rate with the uncertainty that measured pivots give them.
//!
//! `u(F_w)² = Σ (∂F_w/∂p)²·u(p)²`, and the wheel rate alike, over every coordinate and the shock's length, all taken as
//! independent (JCGM 100:2008, 5.1.2), with the exact derivatives of [`RearEnd::effects_at`]. Springs and gas are taken as
//! known. To first order: checked against drawn pivots (JCGM 101:2008) in the tests.

use super::{RearEnd, Wheel};
use crate::error::Result;
use crate::linkage::Parameter;
use crate::units::{Force, Length, Quantity, Uncertain, WheelRate, check};

/// Wheel force and wheel rate at a travel, with standard uncertainties.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UncertainWheel {
    /// Wheel travel.
    pub travel: Length,
    /// Force at the wheel.
    pub force: Uncertain<Force>,
    /// Rate at the wheel.
    pub rate: Uncertain<WheelRate>,
}

impl RearEnd {
    /// Wheel force and wheel rate with the uncertainty that measured pivots give them: standard uncertainty of every
    /// coordinate, and of the shock length.
    ///
    /// # Errors
    /// For an uncertainty that is below zero or not finite, a travel outside the range, and
    /// [`WheelError::NotDrawn`](crate::error::WheelError::NotDrawn) for an end known from a table, which has its own.
    pub fn with_pivot_uncertainty(
        &self,
        travels: &[Length],
        coordinate: Length,
        shock_length: Length,
    ) -> Result<Vec<UncertainWheel>> {
        check::not_negative("coordinate uncertainty", coordinate)?;
        check::not_negative("shock length uncertainty", shock_length)?;
        // The effects are linear in their step.
        let step = Length::from_si(1e-3);
        let at = |&travel: &Length| {
            let state = self.at(travel)?;
            let (mut force, mut rate) = (0.0, 0.0);
            for effect in self.effects_at(travel, step)? {
                let steps = match effect.parameter {
                    Parameter::Coordinate { .. } => (coordinate / step).value,
                    Parameter::ShockLength => (shock_length / step).value,
                    // Follows from the coordinates.
                    Parameter::LinkLength { .. } => continue,
                };
                force += (effect.force.si() * steps).powi(2);
                rate += (effect.rate.si() * steps).powi(2);
            }
            Ok(UncertainWheel {
                travel,
                force: Uncertain { value: state.force, standard_uncertainty: Force::from_si(force.sqrt()) },
                rate: Uncertain { value: state.rate, standard_uncertainty: WheelRate::from_si(rate.sqrt()) },
            })
        };
        travels.iter().map(at).collect()
    }
}
