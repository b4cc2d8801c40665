//! What a changed dimension of the linkage does at the wheel, to first order and exactly.
//!
//! At fixed travel, springs and preload unchanged, with `MR' = dMR/dz` and `k' = dk/ds`:
//!
//! `∂F_w/∂p = k·MR·∂s/∂p + F·∂MR/∂p`
//!
//! `∂k_w/∂p = (k'·MR² + k·MR')·∂s/∂p + 2·k·MR·∂MR/∂p + F·∂MR'/∂p`
//!
//! With `F_w(z; p) = W` at sag, `dz/dp = −(∂F_w/∂p)/k_w` (implicit differentiation), and the rate there changes by
//! `∂k_w/∂p + ∂k_w/∂z·dz/dp` with `∂k_w/∂z = k'·MR³ + 3·k·MR·MR' + F·MR''`. The frame stands higher over the axle by
//! `−(∂z_axle/∂p + dz/dp)`, the first part from where full extension moves to.
//!
//! Where the axial rate jumps, or its slope does at a row of a spring's table, the derivatives are those of one side.

use super::{EndKernel, RearEnd, Wheel};
use crate::error::Result;
use crate::linkage::{Dimension, LinkageEffect};
use crate::units::{Force, Length, Quantity, WheelRate};

/// What a small change of one dimension does at a travel.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct WheelEffect {
    /// The dimension.
    pub dimension: Dimension,
    /// Its change.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub step: Length,
    /// Change of the wheel force.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub wheel_force: Force,
    /// Change of the wheel rate.
    pub wheel_rate: WheelRate,
}

/// What a small change of one dimension does where the wheel has settled under a load.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct EndEffect {
    /// The dimension.
    pub dimension: Dimension,
    /// Its change.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub step: Length,
    /// Change of the wheel force at the same travel.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub wheel_force: Force,
    /// Change of the wheel rate at the same travel.
    pub wheel_rate: WheelRate,
    /// Change of the sag under the same load.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub sag: Length,
    /// Change of the wheel rate at the sag, which moves, under the same load.
    pub wheel_rate_at_sag: WheelRate,
    /// Change of the frame's height over the axle under the same load.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub ride_height: Length,
}

impl RearEnd {
    /// What a small change of every dimension does to wheel force and wheel rate at a travel.
    ///
    /// # Errors
    /// When the step is not finite, the travel is outside the range, and [`crate::error::WheelError::NotDrawn`] for an
    /// end known from a table.
    pub fn effects_at(&self, travel: Length, step: Length) -> Result<Vec<WheelEffect>> {
        let effects = self.linkage()?.effects(travel, step)?;
        let motion = self.motion(travel.si());
        let axial = self.axial_with_slope(motion.stroke);
        let effect = |effect: LinkageEffect| {
            let [force, rate] = axial.change_at_wheel([motion.ratio, motion.slope], changes(&effect));
            let (force, rate) = (Force::from_si(force), WheelRate::from_si(rate));
            WheelEffect { dimension: effect.dimension, step, wheel_force: force, wheel_rate: rate }
        };
        Ok(effects.into_iter().map(effect).collect())
    }

    /// What a small change of every dimension does under a load; `None` when the load leaves the wheel on a stop.
    ///
    /// # Errors
    /// When load or step is not finite, and [`crate::error::WheelError::NotDrawn`] for an end known from a table.
    pub fn effects_under(&self, load: Force, step: Length) -> Result<Option<Vec<EndEffect>>> {
        let settled = self.travel_under(load)?;
        let Some(state) = settled.state() else { return Ok(None) };
        let (linkage, axial) = (self.linkage()?, self.axial_with_slope(state.stroke.si()));
        let (ratio, slope) = (state.motion_ratio.si(), state.motion_ratio_slope.si());
        let curvature = linkage.motion_ratio_curvature(state.travel.si())?;
        let [_, rate_by_travel] = axial.change_at_wheel([ratio, slope], [ratio, slope, curvature]);
        let effect = |effect: LinkageEffect| {
            let [force, rate] = axial.change_at_wheel([ratio, slope], changes(&effect));
            let sag = -force / state.wheel_rate.si();
            EndEffect {
                dimension: effect.dimension,
                step,
                wheel_force: Force::from_si(force),
                wheel_rate: WheelRate::from_si(rate),
                sag: Length::from_si(sag),
                wheel_rate_at_sag: WheelRate::from_si(rate + rate_by_travel * sag),
                ride_height: Length::from_si(-(effect.axle[1].si() + sag)),
            }
        };
        Ok(Some(linkage.effects(state.travel, step)?.into_iter().map(effect).collect()))
    }
}

fn changes(effect: &LinkageEffect) -> [f64; 3] {
    [effect.stroke.si(), effect.motion_ratio.si(), effect.motion_ratio_slope.si()]
}

#[cfg(all(test, feature = "serde"))]
mod tests;
