//! Wheel force and wheel rate with the uncertainty that measured pivots give them.
//!
//! `u(F_w)² = Σ (∂F_w/∂p)²·u(p)²`, and the wheel rate alike, over every coordinate and the shock's length, all taken as
//! independent (JCGM 100:2008, 5.1.2), with the exact derivatives of [`RearEnd::effects_at`]. Springs and gas are taken as
//! known. To first order: checked against drawn pivots (JCGM 101:2008) in the tests.

use std::sync::Arc;

use super::rear::made_for;
use super::{PivotUncertainty, RearEnd, Wheel, WheelEffect};
use crate::error::{Result, WheelError};
use nalgebra::DVector;

use crate::linkage::{Dimension, MeasuredLinkage, Survey};
use crate::units::{Force, Length, Quantity, Uncertain, WheelRate, check};

/// Wheel force and wheel rate at a travel, with standard uncertainties.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct UncertainWheel {
    /// Wheel travel.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub travel: Length,
    /// Force at the wheel.
    pub wheel_force: Uncertain<Force>,
    /// Rate at the wheel.
    pub wheel_rate: Uncertain<WheelRate>,
}

impl RearEnd {
    /// The end with its pivots known this well. The fit, the advice and the sheet then hold that uncertainty; without it
    /// the drawing is taken as exact.
    ///
    /// # Errors
    /// [`WheelError::NotDrawn`] for an end known from a table, which has its own uncertainty; as
    /// [`PivotUncertainty::checked`].
    pub fn with_pivots_known_to(mut self, uncertainty: PivotUncertainty) -> Result<Self> {
        if self.measured().is_some() {
            return Err(WheelError::NotDrawn.into());
        }
        self.pivots = Some(uncertainty.checked()?);
        Ok(self)
    }

    /// The end with a table of shock lengths taken beside the drawing, spring off. The fit then takes the drawing where both
    /// together put it.
    ///
    /// # Errors
    /// [`WheelError::OtherShock`] for a table made for another shock, [`WheelError::NotDrawn`] for an end known from a table
    /// alone, [`WheelError::TableAlone`] where it is not said how well the pivots are known, and
    /// [`WheelError::TableDisagrees`] when the table lies further off the drawing than both allow.
    pub fn with_table(mut self, table: MeasuredLinkage) -> Result<Self> {
        if self.measured().is_some() {
            return Err(WheelError::NotDrawn.into());
        }
        if self.pivots.is_none() {
            return Err(WheelError::TableAlone.into());
        }
        made_for([table.shock_length(), table.full_stroke()], self.shock())?;
        self.table = Some(Arc::new(table));
        self.deviations()?;
        Ok(self)
    }

    /// The table taken beside the drawing, where there is one.
    #[must_use]
    pub fn table(&self) -> Option<&MeasuredLinkage> {
        self.table.as_deref()
    }

    /// How well the pivots are known, where stated.
    #[must_use]
    pub fn pivot_uncertainty(&self) -> Option<&PivotUncertainty> {
        self.pivots.as_ref()
    }

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
                let steps = match effect.dimension {
                    Dimension::Coordinate { .. } => (coordinate / step).value,
                    Dimension::ShockLength => (shock_length / step).value,
                    // Follows from the coordinates.
                    Dimension::LinkLength { .. } => continue,
                };
                force += (effect.wheel_force.si() * steps).powi(2);
                rate += (effect.wheel_rate.si() * steps).powi(2);
            }
            Ok(UncertainWheel {
                travel,
                wheel_force: Uncertain { value: state.wheel_force, standard_uncertainty: Force::from_si(force.sqrt()) },
                wheel_rate: Uncertain {
                    value: state.wheel_rate,
                    standard_uncertainty: WheelRate::from_si(rate.sqrt()),
                },
            })
        };
        travels.iter().map(at).collect()
    }

    /// Wheel force and wheel rate with the uncertainty that surveyed pivots give them, with all their correlations, and that of
    /// the shock's length.
    ///
    /// # Errors
    /// As [`with_pivot_uncertainty`](Self::with_pivot_uncertainty).
    pub fn with_surveyed_pivots(
        &self,
        travels: &[Length],
        survey: &Survey,
        shock_length: Length,
    ) -> Result<Vec<UncertainWheel>> {
        check::not_negative("shock length uncertainty", shock_length)?;
        let covariance = survey.covariance_of(self.linkage()?.mechanism());
        // The effects are linear in their step.
        let step = Length::from_si(1e-3);
        let at = |&travel: &Length| {
            let state = self.at(travel)?;
            let effects = self.effects_at(travel, step)?;
            let spread = |of: fn(&WheelEffect) -> f64| {
                let by = |wanted: fn(&Dimension) -> bool| {
                    effects
                        .iter()
                        .filter(move |effect| wanted(&effect.dimension))
                        .map(move |effect| of(effect) / step.si())
                };
                let coordinates: Vec<f64> = by(|dimension| matches!(dimension, Dimension::Coordinate { .. })).collect();
                let shock: f64 = by(|dimension| matches!(dimension, Dimension::ShockLength)).sum();
                let by = DVector::from_vec(coordinates);
                ((by.transpose() * &covariance * &by)[(0, 0)] + (shock * shock_length.si()).powi(2)).max(0.0).sqrt()
            };
            let (force, rate) = (spread(|effect| effect.wheel_force.si()), spread(|effect| effect.wheel_rate.si()));
            Ok(UncertainWheel {
                travel,
                wheel_force: Uncertain { value: state.wheel_force, standard_uncertainty: Force::from_si(force) },
                wheel_rate: Uncertain { value: state.wheel_rate, standard_uncertainty: WheelRate::from_si(rate) },
            })
        };
        travels.iter().map(at).collect()
    }
}
