//! The free sag that a setting leaves, and the rate of spring that leaves the one wanted.

use super::{Held, MOST_STEPS, Setting, Wish, slopes};
use crate::decide::gradient::{Gradient, Predicted, RateKnowledge};
use crate::infer::model::{Kinematics, WheelForce, settle_exactly};
use crate::infer::path::OnPath;

/// The free sag at a preload.
struct Free {
    travel: f64,
    wheel: WheelForce,
    /// The mechanism there.
    at: Kinematics,
    value: f64,
    /// Slopes over factor and preload.
    per_factor: f64,
    per_preload: f64,
}

impl Wish<'_> {
    /// Free sag with its derivatives, its slope over `ln a` with the preload following, and that over the preload.
    pub(super) fn free_sag(
        &self,
        factor: f64,
        preload: &Predicted,
        rate: &Gradient,
        preload_per_factor: f64,
    ) -> Option<(Predicted, f64, f64)> {
        let bike = self.load(self.bike);
        let Free { travel, wheel, at, value, per_factor, per_preload } =
            self.free(bike.value, factor, preload.value)?;
        let mut gradient = bike.gradient.scaled(at.tape_slope / wheel.rate);
        gradient.add(per_factor, rate);
        gradient.add(per_preload, &preload.gradient);
        if let Some(on) = OnPath::new(self.model, travel, factor, preload.value) {
            let change = |by: &Kinematics| by.tape - at.tape_slope * on.wheel_force(by) / wheel.rate;
            gradient.add_path(self.first_path(), on.derivatives.iter().map(change));
        }
        let with_rate = factor * (per_factor + per_preload * preload_per_factor);
        Some((Predicted { value, gradient }, with_rate, per_preload))
    }

    fn free(&self, load: f64, factor: f64, preload: f64) -> Option<Free> {
        let full = self.model.full_travel();
        let (_, travel, wheel) = settle_exactly(self.model, load, factor, preload, full / 8.0)?;
        let (hang, hang_per_factor, hang_per_preload) = self.hanging(factor, preload)?;
        let (at, at_hang) = (self.model.kinematics(travel.clamp(0.0, full))?, self.model.kinematics(hang)?);
        let slope_over = |wheel_slope: f64, hang_slope: f64| {
            -at.tape_slope * wheel_slope / wheel.rate - at_hang.tape_slope * hang_slope
        };
        Some(Free {
            value: at.tape + at.tape_slope * (travel - travel.clamp(0.0, full)) - at_hang.tape,
            per_factor: slope_over(wheel.per_factor, hang_per_factor),
            per_preload: slope_over(wheel.per_preload, hang_per_preload),
            travel,
            wheel,
            at,
        })
    }

    /// The setting whose factor brings the free sag out as wanted, rider sag held.
    pub(crate) fn set_for_free_sag(&self, free_sag: f64, knowledge: RateKnowledge) -> Option<Setting> {
        self.set(self.factor_for_free_sag(free_sag)?, knowledge)
    }

    /// The factor at which the free sag comes out as wanted, rider sag held.
    pub(crate) fn factor_for_free_sag(&self, free_sag: f64) -> Option<f64> {
        /// Free sag is found to this (m).
        const FOUND: f64 = 1e-8;
        /// Longest step in `ln a`, and the furthest a spring may be from the fitted one.
        const STEP: f64 = 0.2;
        const FURTHEST: f64 = 1.5;
        let load = self.load(self.bike).value;
        let mut log = self.solved.factor().value.ln();
        let start = log;
        for _ in 0..MOST_STEPS {
            let factor = log.exp();
            let Held { preload, hang, rider: (_, wheel) } = self.held(factor)?;
            let [per_factor, per_preload] = slopes(&wheel, hang);
            if per_preload <= 0.0 {
                return None;
            }
            let free = self.free(load, factor, preload)?;
            let miss = free_sag - free.value;
            if miss.abs() < FOUND {
                return Some(factor);
            }
            let per_rate = factor * (free.per_factor - free.per_preload * per_factor / per_preload);
            log += (miss / per_rate).clamp(-STEP, STEP);
            if (log - start).abs() > FURTHEST {
                return None;
            }
        }
        None
    }
}
