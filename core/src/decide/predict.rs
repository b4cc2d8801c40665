//! What a spring would do in this bike: the preload that gives the wanted rider sag, and the free sag that follows.
//!
//! With the spring's rate factor `a` and preload change `b`: `F_w(z_r; a, b) = W_rider` at the wanted sag fixes `b`; then
//! `F_w(z_f; a, b) = W_bike` fixes the free sag. Both in the middle of the friction band, where the spring force equals the
//! load. Derivatives are implicit, on the whole model:
//!
//! `db = (dW_r − F_a·da − k·dz_r)/F_b` at `z_r`, then `dz_f = (dW_b − F_a·da − F_b·db)/k` at `z_f`.
//!
//! Uncertain are the loads and whatever else the fit knows (with its covariance), the new spring's label, the tape with
//! which the rider sag is set, and beyond the sags the fast exponent of the gas (`reserve`). Sag is counted from where the wheel hangs, which a top-out spring holds off the stop.

mod reserve;

use crate::infer::fit::Solved;
use crate::infer::model::{Kinematics, SprungEnd, WheelForce, settle_exactly};
use crate::infer::path::OnPath;
use crate::infer::posterior::RATE;
use crate::units::{Quantity, Uncertain};
use reserve::{Reserve, Stands};

/// Which unknown the rate factor of a spring is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum RateKnowledge {
    /// The fitted spring: the factor of the fit.
    Fitted,
    /// A spring out of the box: relative standard uncertainty of its label.
    Label(f64),
}

/// Derivatives over the unknowns of the fit, the new spring's label, the setting of the rider sag and the fast exponents of
/// the gas; all have unit variance.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Gradient {
    pub(crate) fit: Vec<f64>,
    pub(crate) label: f64,
    pub(crate) setting: f64,
    pub(crate) gas: f64,
}

impl Gradient {
    fn zeros(count: usize) -> Self {
        Self { fit: vec![0.0; count], label: 0.0, setting: 0.0, gas: 0.0 }
    }

    fn add(&mut self, factor: f64, other: &Self) {
        self.fit.iter_mut().zip(&other.fit).for_each(|(to, from)| *to += factor * from);
        self.label += factor * other.label;
        self.setting += factor * other.setting;
        self.gas += factor * other.gas;
    }

    /// What the unknowns of the way from wheel to shock do, from their place on.
    fn add_path(&mut self, first: usize, changes: impl Iterator<Item = f64>) {
        self.fit.iter_mut().skip(first).zip(changes).for_each(|(to, by)| *to += by);
    }

    pub(crate) fn minus(&self, other: &Self) -> Self {
        let mut difference = self.clone();
        difference.add(-1.0, other);
        difference
    }

    pub(crate) fn scaled(&self, factor: f64) -> Self {
        let mut scaled = Self::zeros(self.fit.len());
        scaled.add(factor, self);
        scaled
    }
}

/// A predicted number.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Predicted {
    pub(crate) value: f64,
    pub(crate) gradient: Gradient,
}

/// A spring set to the wanted rider sag.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Setting {
    pub(crate) factor: f64,
    /// Preload change on the model's own preload.
    pub(crate) preload: Predicted,
    /// Travel under the rider.
    pub(crate) rider_travel: f64,
    /// Rider sag along the model's tape, with the error of setting it.
    pub(crate) rider_sag: Predicted,
    /// Free sag along the model's tape; below zero the bike is topped out.
    pub(crate) free_sag: Predicted,
    /// Slope of the free sag over `ln a`, rider sag held: what a stiffer spring does.
    pub(crate) free_sag_per_rate: f64,
    /// Force at full travel, reached fast from the wanted sag.
    pub(crate) full_force: Predicted,
    /// Wheel rate under the rider, at the wanted sag, gas settled.
    pub(crate) wheel_rate: Predicted,
    /// Natural frequency of the sprung mass on the rate of a small fast movement there, `√(k/m)/2π`.
    pub(crate) frequency: Predicted,
    /// Energy that the springs take up on that stroke, less what gravity gives, `∫F dz − W·Δz`.
    pub(crate) energy_left: Predicted,
    /// That energy as a height the sprung mass falls, `E/W`.
    pub(crate) drop_height: Predicted,
}

/// What is asked of a spring.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Wish<'a> {
    pub(crate) solved: &'a Solved,
    /// The end with the spring in it; its tape runs along the target's direction.
    pub(crate) model: &'a dyn SprungEnd,
    pub(crate) rider: usize,
    pub(crate) bike: usize,
    /// Rider sag along the tape.
    pub(crate) rider_sag: f64,
    /// Standard uncertainty of the rider sag once set by tape.
    pub(crate) tape: f64,
    pub(crate) gravity: f64,
}

/// Preload is found to this force (N): a millionth of a load.
const FORCE_FOUND: f64 = 1e-5;
const MOST_STEPS: usize = 60;
/// Step of preload while the spring is out of contact (m).
const UNTIL_CONTACT: f64 = 0.01;

impl Wish<'_> {
    fn count(&self) -> usize {
        self.solved.evidence.all_unknowns()
    }

    fn first_path(&self) -> usize {
        self.solved.evidence.unknowns()
    }

    fn load(&self, load: usize) -> Predicted {
        let derived = self.solved.load(load);
        Predicted {
            value: derived.value,
            gradient: Gradient { fit: derived.gradient, label: 0.0, setting: 0.0, gas: 0.0 },
        }
    }

    /// Derivatives of the factor.
    fn factor(&self, factor: f64, knowledge: RateKnowledge) -> Gradient {
        let mut gradient = Gradient::zeros(self.count());
        match knowledge {
            RateKnowledge::Fitted => gradient.fit[RATE] = factor * self.solved.evidence.priors.rate,
            RateKnowledge::Label(relative) => gradient.label = factor * relative,
        }
        gradient
    }

    /// Where the wheel hangs, with slopes over factor and preload: at the stop, but for a top-out spring.
    fn hanging(&self, factor: f64, preload: f64) -> Option<(f64, f64, f64)> {
        let (_, travel, wheel) = settle_exactly(self.model, self.solved.evidence.hanging, factor, preload, 0.0)?;
        Some(if travel > 0.0 {
            (travel, -wheel.per_factor / wheel.rate, -wheel.per_preload / wheel.rate)
        } else {
            (0.0, 0.0, 0.0)
        })
    }

    /// Travel at which the tape shows a sag from where the wheel hangs.
    fn travel_at_sag(&self, sag: f64, hanging: f64) -> Option<f64> {
        let full = self.model.full_travel();
        let tape_there = self.model.kinematics(hanging)?.tape + sag;
        let mut travel = hanging + sag;
        for _ in 0..MOST_STEPS {
            let kinematics = self.model.kinematics(travel.clamp(0.0, full))?;
            let step = (tape_there - kinematics.tape) / kinematics.tape_slope - (travel - travel.clamp(0.0, full));
            travel += step;
            if step.abs() < 1e-12 {
                break;
            }
        }
        (0.0..=full).contains(&travel).then_some(travel)
    }

    fn wheel(&self, travel: f64, factor: f64, preload: f64) -> Option<WheelForce> {
        let expansion = crate::infer::model::Expansion::about(self.model, travel)?;
        Some(expansion.wheel_force(self.model, travel, factor, preload))
    }

    /// The setting that gives the wanted rider sag with a rate factor; `None` when no preload does.
    pub(crate) fn set(&self, factor: f64, knowledge: RateKnowledge) -> Option<Setting> {
        let rider = self.load(self.rider);
        let (mut preload, mut found) = (0.0, None);
        for _ in 0..MOST_STEPS {
            let (hang, hang_per_factor, hang_per_preload) = self.hanging(factor, preload)?;
            let travel = self.travel_at_sag(self.rider_sag, hang)?;
            let wheel = self.wheel(travel, factor, preload)?;
            let per_preload = wheel.per_preload + wheel.rate * hang_per_preload;
            let short = rider.value - wheel.force;
            if short.abs() < FORCE_FOUND && per_preload > 0.0 {
                let per_factor = wheel.per_factor + wheel.rate * hang_per_factor;
                found = Some((travel, wheel, per_preload, per_factor, [hang_per_factor, hang_per_preload]));
                break;
            }
            preload += if wheel.per_preload > 0.0 {
                short / per_preload
            } else if short > 0.0 {
                UNTIL_CONTACT
            } else {
                return None;
            };
        }
        let (rider_travel, rider_wheel, per_preload, per_factor, [hang_per_factor, hang_per_preload]) = found?;
        let rate = self.factor(factor, knowledge);
        let tape_slope = self.model.kinematics(rider_travel)?.tape_slope;
        let mut setting_error = Gradient::zeros(self.count());
        setting_error.setting = self.tape;
        let mut preload_gradient = rider.gradient.scaled(1.0 / per_preload);
        preload_gradient.add(-per_factor / per_preload, &rate);
        preload_gradient.add(-rider_wheel.rate / (per_preload * tape_slope), &setting_error);
        let on = OnPath::new(self.model, rider_travel, factor, preload);
        if let Some(on) = &on {
            // The tape holds the sag; along the fork the travel follows the fork.
            let short = |by: &Kinematics| on.wheel_force(by) - rider_wheel.rate * by.tape / tape_slope;
            preload_gradient.add_path(self.first_path(), on.derivatives.iter().map(|by| -short(by) / per_preload));
        }
        let preload = Predicted { value: preload, gradient: preload_gradient };
        let (free_sag, free_sag_per_rate) = self.free_sag(factor, &preload, &rate, -per_factor / per_preload)?;
        let mut rest = Gradient::zeros(self.count());
        rest.add(hang_per_factor, &rate);
        rest.add(hang_per_preload, &preload.gradient);
        rest.add(1.0 / tape_slope, &setting_error);
        if let Some(on) = &on {
            rest.add_path(self.first_path(), on.derivatives.iter().map(|by| -by.tape / tape_slope));
        }
        let mut wheel_rate = self.wheel_rate(factor, rider_travel, &rider_wheel, &rider, &rate)?;
        if let Some(on) = &on {
            let stiffer = |by: &Kinematics| {
                let geometric = by.ratio_slope - on.at.ratio_slope * by.ratio / on.at.ratio;
                2.0 * on.at.ratio * by.ratio * on.rate + rider.value * geometric / on.at.ratio
            };
            wheel_rate.gradient.add_path(self.first_path(), on.derivatives.iter().map(stiffer));
        }
        let stands =
            Stands { factor, travel: rider_travel, moves: &rest, rate: &rate, preload: &preload, load: &rider };
        let Reserve { full_force, energy_left } = self.reserve(&stands, on.as_ref())?;
        let fast_rate = self.fast_rate(&stands, &wheel_rate, on.as_ref())?;
        Some(Setting {
            factor,
            rider_travel,
            rider_sag: Predicted { value: self.rider_sag, gradient: setting_error },
            free_sag,
            free_sag_per_rate,
            full_force,
            frequency: frequency(&fast_rate, &rider, self.gravity),
            drop_height: quotient(&energy_left, &rider),
            wheel_rate,
            energy_left,
            preload,
        })
    }

    /// `k_w = MR²·k + W·(dMR/dz)/MR` where the springs carry the load.
    fn wheel_rate(
        &self,
        factor: f64,
        travel: f64,
        wheel: &WheelForce,
        rider: &Predicted,
        rate: &Gradient,
    ) -> Option<Predicted> {
        let at = self.model.kinematics(travel)?;
        let mut gradient = rider.gradient.scaled(at.ratio_slope / at.ratio);
        gradient.add(wheel.per_preload * at.ratio / factor, rate);
        Some(Predicted { value: wheel.rate, gradient })
    }

    /// Free sag with its derivatives, and its slope over `ln a` with the preload following.
    fn free_sag(
        &self,
        factor: f64,
        preload: &Predicted,
        rate: &Gradient,
        preload_per_factor: f64,
    ) -> Option<(Predicted, f64)> {
        let bike = self.load(self.bike);
        let guess = self.model.full_travel() / 8.0;
        let (_, travel, wheel) = settle_exactly(self.model, bike.value, factor, preload.value, guess)?;
        let (hang, hang_per_factor, hang_per_preload) = self.hanging(factor, preload.value)?;
        let full = self.model.full_travel();
        let (at, at_hang) = (self.model.kinematics(travel.clamp(0.0, full))?, self.model.kinematics(hang)?);
        let slope_over = |wheel_slope: f64, hang_slope: f64| {
            -at.tape_slope * wheel_slope / wheel.rate - at_hang.tape_slope * hang_slope
        };
        let (per_factor, per_preload) =
            (slope_over(wheel.per_factor, hang_per_factor), slope_over(wheel.per_preload, hang_per_preload));
        let mut gradient = bike.gradient.scaled(at.tape_slope / wheel.rate);
        gradient.add(per_factor, rate);
        gradient.add(per_preload, &preload.gradient);
        if let Some(on) = OnPath::new(self.model, travel, factor, preload.value) {
            let change = |by: &Kinematics| by.tape - at.tape_slope * on.wheel_force(by) / wheel.rate;
            gradient.add_path(self.first_path(), on.derivatives.iter().map(change));
        }
        let value = at.tape + at.tape_slope * (travel - travel.clamp(0.0, full)) - at_hang.tape;
        Some((Predicted { value, gradient }, factor * (per_factor + per_preload * preload_per_factor)))
    }

    /// The factor at which the free sag comes out as wanted, rider sag held.
    pub(crate) fn factor_for_free_sag(&self, free_sag: f64, knowledge: RateKnowledge) -> Option<Setting> {
        /// Free sag is found to this (m).
        const FOUND: f64 = 1e-8;
        /// Longest step in `ln a`, and the furthest a spring may be from the fitted one.
        const STEP: f64 = 0.2;
        const FURTHEST: f64 = 1.5;
        let mut log = self.solved.factor().value.ln();
        let start = log;
        for _ in 0..MOST_STEPS {
            let setting = self.set(log.exp(), knowledge)?;
            let miss = free_sag - setting.free_sag.value;
            if miss.abs() < FOUND {
                return Some(setting);
            }
            log += (miss / setting.free_sag_per_rate).clamp(-STEP, STEP);
            if (log - start).abs() > FURTHEST {
                return None;
            }
        }
        None
    }
}

/// `√(k·g/W)/2π`.
fn frequency(rate: &Predicted, load: &Predicted, gravity: f64) -> Predicted {
    let value = (rate.value * gravity / load.value).sqrt() / (2.0 * core::f64::consts::PI);
    let mut gradient = rate.gradient.scaled(0.5 * value / rate.value);
    gradient.add(-0.5 * value / load.value, &load.gradient);
    Predicted { value, gradient }
}

fn quotient(upper: &Predicted, lower: &Predicted) -> Predicted {
    let value = upper.value / lower.value;
    let mut gradient = upper.gradient.scaled(1.0 / lower.value);
    gradient.add(-value / lower.value, &lower.gradient);
    Predicted { value, gradient }
}

impl Solved {
    pub(crate) fn covariance_of(&self, left: &Gradient, right: &Gradient) -> f64 {
        let own = left.label * right.label + left.setting * right.setting + left.gas * right.gas;
        self.covariance(&left.fit, &right.fit) + own
    }

    pub(crate) fn deviation_of(&self, gradient: &Gradient) -> f64 {
        self.covariance_of(gradient, gradient).max(0.0).sqrt()
    }

    pub(crate) fn predicted<Q: Quantity>(&self, predicted: &Predicted) -> Uncertain<Q> {
        Uncertain {
            value: Q::from_si(predicted.value),
            standard_uncertainty: Q::from_si(self.deviation_of(&predicted.gradient)),
        }
    }

    pub(crate) fn correlation_of(&self, left: &Gradient, right: &Gradient) -> f64 {
        let both = self.deviation_of(left) * self.deviation_of(right);
        if both > 0.0 { (self.covariance_of(left, right) / both).clamp(-1.0, 1.0) } else { 0.0 }
    }
}

#[cfg(test)]
mod tests;
