//! What a changed dimension of the linkage does at the wheel, to first order and exactly.
//!
//! With `F_w(z; p) = W` at sag, `∂F_w/∂p = k·MR·∂s/∂p + F·∂MR/∂p` at fixed travel and `dz/dp = −(∂F_w/∂p)/k_w` (implicit
//! differentiation), springs and preload unchanged. The frame stands higher over the axle by `−(∂z_axle/∂p + dz/dp)`, the
//! first part from where full extension moves to.

use super::{EndKernel, RearEnd, Wheel};
use crate::error::Result;
use crate::linkage::{Effect, Parameter};
use crate::units::{Force, Length, Quantity};

/// What a small change of one dimension does where the wheel has settled under a load.
#[derive(Debug, Clone, PartialEq)]
pub struct EndEffect {
    /// The dimension.
    pub parameter: Parameter,
    /// Its change.
    pub step: Length,
    /// Change of the wheel force at the same travel.
    pub force: Force,
    /// Change of the sag under the same load.
    pub sag: Length,
    /// Change of the frame's height over the axle under the same load.
    pub ride_height: Length,
}

impl RearEnd {
    /// What a small change of every dimension does under a load; `None` when the load leaves the wheel on a stop.
    ///
    /// # Errors
    /// When load or step is not finite, and [`crate::error::WheelError::NotDrawn`] for an end known from a table.
    pub fn effects_under(&self, load: Force, step: Length) -> Result<Option<Vec<EndEffect>>> {
        let settled = self.travel_under(load)?;
        let Some(state) = settled.state() else { return Ok(None) };
        let (axial, ratio) = (self.axial(state.stroke.si()), state.motion_ratio.si());
        let effect = |effect: Effect| {
            let force = axial.rate * ratio * effect.stroke.si() + axial.force * effect.motion_ratio.si();
            let sag = -force / state.rate.si();
            EndEffect {
                parameter: effect.parameter,
                step,
                force: Force::from_si(force),
                sag: Length::from_si(sag),
                ride_height: Length::from_si(-(effect.axle[1].si() + sag)),
            }
        };
        Ok(Some(self.linkage()?.effects(state.travel, step)?.into_iter().map(effect).collect()))
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::linkage::Axis;

    #[test]
    fn effects_are_the_differences_of_changed_ends() {
        /// Step of the central difference in metres, and what is left of its truncation.
        const STEP: f64 = 1e-5;
        const DIFFERENCE: f64 = 1e-6;
        let end = crate::Bike::from_toml(crate::demo::PATROL).unwrap().rear().unwrap().clone();
        let load = Force::from_si(1100.0);
        let effects = end.effects_under(load, Length::from_si(1.0)).unwrap().unwrap();
        let sag_and_height = |point: &str, axis: usize, by: f64| {
            let mechanism = end.linkage().unwrap().mechanism();
            let mut at = mechanism.point(point).unwrap();
            at[axis] += Length::from_si(by);
            let moved = end.with_mechanism(mechanism.with_point(point, at).unwrap()).unwrap();
            let travel = moved.travel_under(load).unwrap().state().unwrap().travel;
            [travel.si(), -moved.axle(travel).unwrap()[1].si()]
        };
        let mut checked = 0;
        for effect in &effects {
            let Parameter::Coordinate { point, axis } = &effect.parameter else { continue };
            let axis = usize::from(*axis == Axis::Z);
            let [more, less] = [STEP, -STEP].map(|by| sag_and_height(point, axis, by));
            let [sag, height] = [0, 1].map(|at| (more[at] - less[at]) / (2.0 * STEP));
            assert!((effect.sag.si() - sag).abs() < DIFFERENCE, "{}: {} or {sag}", effect.parameter, effect.sag.si());
            assert!((effect.ride_height.si() - height).abs() < DIFFERENCE, "{}: {height}", effect.parameter);
            checked += 1;
        }
        assert_eq!(checked, 14);
        assert_eq!(end.effects_under(Force::from_si(1e5), Length::from_si(1.0)).unwrap(), None);
    }
}
