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

mod free_sag;
mod reserve;

use crate::decide::gradient::{Gradient, Predicted, RateKnowledge};
use crate::infer::model::{Expansion, Kinematics, SprungEnd, WheelForce, settle_exactly, settle_travel};
use crate::infer::path::OnPath;
use crate::infer::posterior::RATE;
use crate::infer::solved::Solved;
use crate::solve::Met;
use reserve::{Reserve, Stands};

/// A spring set to the wanted rider sag.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Setting {
    pub(crate) factor: f64,
    /// Preload change on the model's own preload.
    pub(crate) preload: Predicted,
    /// Travel under the rider, and of the bike alone.
    pub(crate) rider_travel: f64,
    pub(crate) free_travel: f64,
    /// Rider sag along the model's tape, with the error of setting it.
    pub(crate) rider_sag: Predicted,
    /// Free sag along the model's tape; below zero the bike is topped out.
    pub(crate) free_sag: Predicted,
    /// Slope of the free sag over `ln a`, rider sag held: what a stiffer spring does.
    pub(crate) free_sag_per_rate: f64,
    /// Slopes of the rider sag and of the free sag over the preload.
    pub(crate) per_preload: [f64; 2],
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
    /// What comes on top of that load, known exactly (N).
    pub(crate) on_top: f64,
    pub(crate) bike: usize,
    /// Rider sag along the tape.
    pub(crate) rider_sag: f64,
    /// Standard uncertainty of the rider sag once set by tape.
    pub(crate) tape: f64,
    /// Preload is set in steps of this (m).
    pub(crate) step: f64,
    pub(crate) gravity: f64,
}

/// A preload that holds the rider at the wanted sag.
struct Held {
    preload: f64,
    /// Where the wheel hangs, with slopes over factor and preload.
    hang: (f64, f64, f64),
    /// Where it rests under the rider.
    rider: (f64, WheelForce),
}

/// Preload is found to this force (N): a millionth of a load.
const FORCE_FOUND: f64 = 1e-5;
const MOST_STEPS: usize = 60;
/// The last step to a travel (m): far below what a tape shows, far above rounding.
const SHORT: f64 = 1e-12;
/// Step of preload while the spring is out of contact (m).
const UNTIL_CONTACT: f64 = 0.01;

impl Wish<'_> {
    fn count(&self) -> usize {
        self.solved.evidence.all_unknowns()
    }

    fn first_path(&self) -> usize {
        self.solved.evidence.unknowns()
    }

    /// A load, and that which the rider sag is meant under, without derivatives.
    fn weight(&self, load: usize) -> f64 {
        self.solved.evidence.load(&self.solved.posterior.unknowns, load)
    }

    fn rider_weight(&self) -> f64 {
        self.weight(self.rider) + self.on_top
    }

    fn load(&self, load: usize) -> Predicted {
        let derived = self.solved.load(load);
        Predicted {
            value: derived.value,
            gradient: Gradient { fit: derived.gradient, label: 0.0, setting: 0.0, collar: 0.0, gas: 0.0 },
        }
    }

    /// The load that the rider sag is meant under.
    fn rider_load(&self) -> Predicted {
        let load = self.load(self.rider);
        Predicted { value: load.value + self.on_top, ..load }
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
        let (mut travel, mut bracket) = (hanging + sag, Met::nowhere());
        for _ in 0..MOST_STEPS {
            let kinematics = self.model.kinematics(travel.clamp(0.0, full))?;
            let step = (tape_there - kinematics.tape) / kinematics.tape_slope - (travel - travel.clamp(0.0, full));
            if step.abs() < SHORT {
                travel += step;
                break;
            }
            travel = bracket.next(travel, step > 0.0, travel + step);
        }
        (0.0..=full).contains(&travel).then_some(travel)
    }

    fn wheel(&self, travel: f64, factor: f64, preload: f64) -> Option<WheelForce> {
        let expansion = Expansion::about(self.model, travel)?;
        Some(expansion.wheel_force(self.model, travel, factor, preload))
    }

    /// About the preload that gives the wanted rider sag with a rate factor: by the balance of forces there, the spring in
    /// contact and the wheel hanging on its stop.
    pub(crate) fn about(&self, factor: f64) -> Option<f64> {
        let travel = self.travel_at_sag(self.rider_sag, 0.0)?;
        let wheel = self.wheel(travel, factor, 0.0)?;
        let preload = (self.rider_weight() - wheel.force) / wheel.per_preload;
        preload.is_finite().then_some(preload)
    }

    /// The setting that gives the wanted rider sag with a rate factor; `None` when no preload does.
    pub(crate) fn set(&self, factor: f64, knowledge: RateKnowledge) -> Option<Setting> {
        let Held { preload, hang, rider } = self.held(factor)?;
        self.follow(factor, knowledge, preload, hang, rider)
    }

    /// The preload that holds the rider at the wanted sag with a rate factor; `None` when no preload does.
    fn held(&self, factor: f64) -> Option<Held> {
        let rider = self.rider_weight();
        let (mut preload, mut bracket) = (0.0, Met::nowhere());
        // The mechanism at the sag, which stays there as long as the wheel hangs in one place.
        let mut seen: Option<(f64, f64, Expansion)> = None;
        for _ in 0..MOST_STEPS {
            let hang = self.hanging(factor, preload)?;
            let (_, travel, expansion) = match seen {
                Some(seen) if seen.0 == hang.0 => seen,
                _ => {
                    let travel = self.travel_at_sag(self.rider_sag, hang.0)?;
                    (hang.0, travel, Expansion::about(self.model, travel)?)
                }
            };
            seen = Some((hang.0, travel, expansion));
            let wheel = expansion.wheel_force(self.model, travel, factor, preload);
            let per_preload = wheel.per_preload + wheel.rate * hang.2;
            let short = rider - wheel.force;
            if short.abs() < FORCE_FOUND && per_preload > 0.0 {
                return Some(Held { preload, hang, rider: (travel, wheel) });
            }
            let step = if wheel.per_preload > 0.0 {
                short / per_preload
            } else if short > 0.0 {
                UNTIL_CONTACT
            } else {
                return None;
            };
            preload = bracket.next(preload, short > 0.0, preload + step);
        }
        None
    }

    /// The natural frequency under the rider at a preload, as [`at`](Self::at) has it, without derivatives.
    pub(crate) fn frequency_at(&self, factor: f64, preload: f64) -> Option<f64> {
        let weight = self.rider_weight();
        let (_, travel, wheel) = settle_exactly(self.model, weight, factor, preload, self.solved.near(self.rider))?;
        let [_, per_preload] = slopes(&wheel, self.hanging(factor, preload)?);
        let at = self.model.kinematics(travel.clamp(0.0, self.model.full_travel()))?;
        let rate = wheel.rate + at.ratio * at.ratio * self.stiffer_fast(&at);
        (per_preload > 0.0).then(|| (rate * self.gravity / weight).sqrt() / (2.0 * core::f64::consts::PI))
    }

    /// What follows from a preload, counted as a change of the model's own; `None` where it moves nothing.
    pub(crate) fn at(&self, factor: f64, knowledge: RateKnowledge, preload: f64) -> Option<Setting> {
        let hang = self.hanging(factor, preload)?;
        let near = self.solved.near(self.rider);
        let (_, travel, wheel) = settle_exactly(self.model, self.rider_weight(), factor, preload, near)?;
        self.follow(factor, knowledge, preload, hang, (travel, wheel))
    }

    /// What follows from a preload that puts the wheel there, with the derivatives of the preload that keeps it there.
    fn follow(
        &self,
        factor: f64,
        knowledge: RateKnowledge,
        preload: f64,
        hangs: (f64, f64, f64),
        (rider_travel, rider_wheel): (f64, WheelForce),
    ) -> Option<Setting> {
        let rider = self.rider_load();
        let (hang, hang_per_factor, hang_per_preload) = hangs;
        let [per_factor, per_preload] = slopes(&rider_wheel, hangs);
        if per_preload <= 0.0 {
            return None;
        }
        let rate = self.factor(factor, knowledge);
        let inside = rider_travel.clamp(0.0, self.model.full_travel());
        let there = self.model.kinematics(inside)?;
        let tape_slope = there.tape_slope;
        let rider_sag = there.tape + tape_slope * (rider_travel - inside) - self.model.kinematics(hang)?.tape;
        let rider_per_preload = -per_preload * tape_slope / rider_wheel.rate;
        let mut setting_error = Gradient::zeros(self.count());
        // A collar that stops at quarter turns lies anywhere within one: a uniform error of that width.
        setting_error.setting = self.tape.hypot(rider_per_preload * self.step / 12f64.sqrt());
        let mut preload_gradient = rider.gradient.scaled(1.0 / per_preload);
        preload_gradient.add(-per_factor / per_preload, &rate);
        preload_gradient.add(1.0 / rider_per_preload, &setting_error);
        let on = OnPath::new(self.model, rider_travel, factor, preload);
        if let Some(on) = &on {
            // The tape holds the sag; along the fork the travel follows the fork.
            let short = |by: &Kinematics| on.wheel_force(by) - rider_wheel.rate * by.tape / tape_slope;
            preload_gradient.add_path(self.first_path(), on.derivatives.iter().map(|by| -short(by) / per_preload));
        }
        let preload = Predicted { value: preload, gradient: preload_gradient };
        let free = self.free(factor, preload.value, hangs, self.solved.near(self.bike))?;
        let free_sag = self.free_sag(&free, factor, &preload, &rate);
        let free_sag_per_rate = factor * (free.per_factor - free.per_preload * per_factor / per_preload);
        let mut rest = Gradient::zeros(self.count());
        rest.add(hang_per_factor, &rate);
        rest.add(hang_per_preload, &preload.gradient);
        rest.add(1.0 / tape_slope, &setting_error);
        if let Some(on) = &on {
            rest.add_path(self.first_path(), on.derivatives.iter().map(|by| -by.tape / tape_slope));
        }
        let mut wheel_rate = self.wheel_rate(factor, &there, &rider_wheel, &rider, &rate);
        if let Some(on) = &on {
            let stiffer = |by: &Kinematics| {
                let geometric = by.ratio_slope - on.at.ratio_slope * by.ratio / on.at.ratio;
                let push = on.at.ratio * on.at.ratio * by.push[2];
                2.0 * on.at.ratio * by.ratio * on.rate + rider.value * geometric / on.at.ratio + push
            };
            wheel_rate.gradient.add_path(self.first_path(), on.derivatives.iter().map(stiffer));
        }
        let stands =
            Stands { factor, travel: inside, at: &there, moves: &rest, rate: &rate, preload: &preload, load: &rider };
        let Reserve { full_force, energy_left } = self.reserve(&stands, on.as_ref())?;
        let fast_rate = self.fast_rate(&stands, &wheel_rate, on.as_ref());
        Some(Setting {
            factor,
            rider_travel,
            free_travel: free.travel,
            rider_sag: Predicted { value: rider_sag, gradient: setting_error },
            free_sag,
            free_sag_per_rate,
            per_preload: [rider_per_preload, free.per_preload],
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
        at: &Kinematics,
        wheel: &WheelForce,
        rider: &Predicted,
        rate: &Gradient,
    ) -> Predicted {
        let mut gradient = rider.gradient.scaled(at.ratio_slope / at.ratio);
        gradient.add(wheel.per_preload * at.ratio / factor, rate);
        Predicted { value: wheel.rate, gradient }
    }

    /// Where the end comes to rest at a setting, as sags along the tape: under the rider and alone, pushed down first and
    /// lifted first. What is topped out has no sag.
    pub(crate) fn rests(&self, setting: &Setting) -> Option<[[f64; 2]; 2]> {
        let (factor, preload) = (setting.factor, setting.preload.value);
        let friction = self.solved.friction().value;
        let full = self.model.full_travel();
        let (hang, ..) = self.hanging(factor, preload)?;
        let at_hang = self.model.kinematics(hang)?.tape;
        let rest = |load: f64, near: f64| {
            let (expansion, travel, _) = settle_travel(self.model, load, factor, preload, near)?;
            let tape = if hang < travel && travel < full {
                expansion.tape(travel).0
            } else {
                self.model.kinematics(travel.clamp(hang, full))?.tape
            };
            Some(tape - at_hang)
        };
        // About as far from the middle as the rate under the rider has it.
        let half = friction / setting.wheel_rate.value;
        let sides =
            |load: f64, near: f64| Some([rest(load + friction, near + half)?, rest(load - friction, near - half)?]);
        Some([sides(self.rider_weight(), setting.rider_travel)?, sides(self.weight(self.bike), setting.free_travel)?])
    }
}

/// Slopes of the wheel force at a sag over factor and preload, as the wheel hangs with them.
fn slopes(wheel: &WheelForce, (_, hang_per_factor, hang_per_preload): (f64, f64, f64)) -> [f64; 2] {
    [wheel.per_factor + wheel.rate * hang_per_factor, wheel.per_preload + wheel.rate * hang_per_preload]
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

#[cfg(test)]
mod tests;
