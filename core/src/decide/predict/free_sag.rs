//! The free sag that a setting leaves, and the rate of spring that leaves the one wanted.

use super::{Held, MOST_STEPS, Setting, Wish, slopes};
use crate::decide::gradient::{Gradient, Predicted, RateKnowledge};
use crate::infer::model::{Kinematics, WheelForce, settle_exactly};
use crate::infer::path::OnPath;

/// The free sag at a preload.
pub(super) struct Free {
    pub(super) travel: f64,
    wheel: WheelForce,
    tape_slope: f64,
    value: f64,
    /// Slopes over factor and preload.
    pub(super) per_factor: f64,
    pub(super) per_preload: f64,
}

/// Longest step in `ln a`.
const STEP: f64 = 0.2;

impl Setting {
    /// `ln a` of the spring whose free sag comes out as wanted, along the slope of this setting and no more than a step off.
    fn log_factor_about(&self, free_sag: f64) -> f64 {
        let step = (free_sag - self.free_sag.value) / self.free_sag_per_rate;
        self.factor.ln() + step.clamp(-STEP, STEP)
    }
}

impl Wish<'_> {
    /// The free sag with its derivatives.
    pub(super) fn free_sag(&self, free: &Free, factor: f64, preload: &Predicted, rate: &Gradient) -> Predicted {
        let Free { travel, wheel, tape_slope, value, per_factor, per_preload } = free;
        let mut gradient = self.load(self.bike).gradient.scaled(tape_slope / wheel.rate);
        gradient.add(*per_factor, rate);
        gradient.add(*per_preload, &preload.gradient);
        if let Some(on) = OnPath::new(self.model, *travel, factor, preload.value) {
            let change = |by: &Kinematics| by.tape - tape_slope * on.wheel_force(by) / wheel.rate;
            gradient.add_path(self.first_path(), on.derivatives.iter().map(change));
        }
        Predicted { value: *value, gradient }
    }

    /// The free sag of a wheel that hangs there, with slopes over factor and preload.
    pub(super) fn free(
        &self,
        factor: f64,
        preload: f64,
        (hang, hang_per_factor, hang_per_preload): (f64, f64, f64),
        near: f64,
    ) -> Option<Free> {
        let (expansion, travel, wheel) = settle_exactly(self.model, self.weight(self.bike), factor, preload, near)?;
        let (tape, tape_slope) = expansion.tape(travel);
        let at_hang = self.model.kinematics(hang)?;
        let slope_over = |wheel_slope: f64, hang_slope: f64| {
            -tape_slope * wheel_slope / wheel.rate - at_hang.tape_slope * hang_slope
        };
        Some(Free {
            value: tape - at_hang.tape,
            per_factor: slope_over(wheel.per_factor, hang_per_factor),
            per_preload: slope_over(wheel.per_preload, hang_per_preload),
            travel,
            wheel,
            tape_slope,
        })
    }

    /// The setting whose factor brings the free sag out as wanted, rider sag held.
    pub(crate) fn set_for_free_sag(&self, free_sag: f64, knowledge: RateKnowledge) -> Option<Setting> {
        self.set(self.factor_for_free_sag(free_sag, None)?, knowledge)
    }

    /// The factor at which the free sag comes out as wanted, rider sag held; looked for from the fitted one on, or
    /// along the slope of a setting that is known.
    pub(crate) fn factor_for_free_sag(&self, free_sag: f64, known: Option<&Setting>) -> Option<f64> {
        /// Free sag is found to this (m).
        const FOUND: f64 = 1e-8;
        /// The furthest a spring may be from the fitted one, in `ln a`.
        const FURTHEST: f64 = 1.5;
        let fitted = self.solved.factor().value.ln();
        let mut log = known.map_or(fitted, |known| known.log_factor_about(free_sag));
        let mut near = self.solved.near(self.bike);
        for _ in 0..MOST_STEPS {
            let factor = log.exp();
            let Held { preload, hang, rider: (_, wheel) } = self.held(factor)?;
            let [per_factor, per_preload] = slopes(&wheel, hang);
            if per_preload <= 0.0 {
                return None;
            }
            let free = self.free(factor, preload, hang, near)?;
            let miss = free_sag - free.value;
            if miss.abs() < FOUND {
                return Some(factor);
            }
            near = free.travel;
            let per_rate = factor * (free.per_factor - free.per_preload * per_factor / per_preload);
            log += (miss / per_rate).clamp(-STEP, STEP);
            if (log - fitted).abs() > FURTHEST {
                return None;
            }
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::wish;
    use super::*;
    use crate::infer::fit::tests::{BOTH, LABEL, readings, solve};
    use crate::infer::model::tests::Straight;

    #[test]
    fn one_step_along_the_slope_of_a_setting_comes_close_to_the_spring() {
        let end = Straight::usual();
        let solved = solve(&end, &readings(&end, &BOTH), LABEL, 1.5e-3);
        let wish = wish(&solved, &end);
        let known = wish.set(1.05, RateKnowledge::Label(0.0)).unwrap();
        for factor in [1.0, 1.02, 1.08, 1.1_f64] {
            let free_sag = wish.set(factor, RateKnowledge::Label(0.0)).unwrap().free_sag.value;
            let way = (factor / 1.05).ln();
            // What is left of a step is of the order of its square.
            assert!((known.log_factor_about(free_sag) - factor.ln()).abs() < 2.0 * way * way, "{factor}");
            for known in [None, Some(&known)] {
                let found = wish.factor_for_free_sag(free_sag, known).unwrap();
                // Found to 1e-8 m, where the whole of a rate is some decimetres.
                assert!((found / factor - 1.0).abs() < 1e-6, "{factor}: {found}");
            }
        }
        let towards = known.free_sag_per_rate.signum();
        assert!((known.log_factor_about(10.0 * towards) - 1.05_f64.ln() - STEP).abs() < 1e-15);
        assert!((known.log_factor_about(-10.0 * towards) - 1.05_f64.ln() + STEP).abs() < 1e-15);
    }

    #[test]
    fn a_spring_is_looked_for_no_further_than_its_bound_to_either_side() {
        /// How far the search goes from the fitted spring (`ln a`), and what the free sag found to 1e-8 m leaves of it.
        const BOUND: [f64; 2] = [1.5, 1e-4];
        let end = Straight::usual();
        let solved = solve(&end, &readings(&end, &BOTH), LABEL, 1.5e-3);
        let wish = wish(&solved, &end);
        let fitted = solved.factor().value;
        let mut tried = [0, 0];
        for side in [-1.0, 1.0] {
            for (off, within) in [(BOUND[0] - 0.01, true), (BOUND[0] + 0.01, false), (BOUND[0] + 0.3, false)] {
                let factor = fitted * (side * off).exp();
                let Some(set) = wish.set(factor, RateKnowledge::Label(0.0)) else { continue };
                let found = wish.factor_for_free_sag(set.free_sag.value, None);
                let expected = within.then_some(factor);
                match (found, expected) {
                    (Some(found), Some(expected)) => assert!((found / expected - 1.0).abs() < BOUND[1], "{side} {off}"),
                    (found, expected) => assert_eq!(found, expected, "{side} {off}"),
                }
                tried[usize::from(within)] += 1;
            }
        }
        assert!(tried[0] > 0 && tried[1] > 0, "{tried:?}");
    }
}
