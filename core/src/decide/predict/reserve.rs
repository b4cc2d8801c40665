//! What a fast stroke from the rider sag to full travel meets, and what a small fast movement about it.
//!
//! `F = MR·[a·G(s + b) + R(s; s_r, m)]` at full stroke `s`, `E = ∫F dz − W·Δz` from the rest at `s_r` on, and
//! `k = k_w + MR²·[dR/ds(s_r; s_r, m) − dR/ds(s_r)]`
//!
//! with the gas of `R` settled at `s_r` by its slow exponent and from there by the fast one `m`. Where the spring is set does
//! not enter the energy to first order through the springs: there the force equals the load. It enters both through the
//! pressure that the gas has at rest.

use super::Wish;
use crate::decide::gradient::{Gradient, Predicted};
use crate::infer::model::Kinematics;
use crate::infer::path::OnPath;
use crate::units::Quantity;

/// A spring set: where the wheel stands under the rider, and how that and everything else moves with what is uncertain.
pub(super) struct Stands<'a> {
    pub(super) factor: f64,
    pub(super) travel: f64,
    /// The mechanism there.
    pub(super) at: &'a Kinematics,
    /// Derivatives of the travel.
    pub(super) moves: &'a Gradient,
    /// Derivatives of the factor.
    pub(super) rate: &'a Gradient,
    pub(super) preload: &'a Predicted,
    pub(super) load: &'a Predicted,
}

pub(super) struct Reserve {
    pub(super) full_force: Predicted,
    pub(super) energy_left: Predicted,
}

impl Wish<'_> {
    /// `on` is the way from wheel to shock where the wheel stands; `None` where it is taken as exact.
    pub(super) fn reserve(&self, stands: &Stands<'_>, on: Option<&OnPath>) -> Option<Reserve> {
        let Stands { factor, travel, at: from, rate, preload, load, .. } = *stands;
        let full = self.model.full_travel();
        let to = self.model.kinematics(full)?;
        let [spring_from, spring_to] = [from.stroke, to.stroke].map(|stroke| self.model.spring(stroke + preload.value));
        let (stored_from, rest_from) = self.model.energies(from.stroke, preload.value);
        let (stored_to, _) = self.model.energies(to.stroke, preload.value);
        let gas = self.model.fast(from.stroke, to.stroke);
        let moves = self.stroke_moves(stands, on);

        let axial = factor * spring_to.0 + gas.state.force.si();
        let mut full_force = preload.gradient.scaled(to.ratio * factor * spring_to.1);
        full_force.add(to.ratio * spring_to.0, rate);
        full_force.add(to.ratio * gas.by_rest.force.si(), &moves);
        full_force.gas += to.ratio * gas.by_exponent.force.si();

        let stored = factor * (stored_to - stored_from) + gas.state.energy.si() - rest_from;
        let mut energy_left = load.gradient.scaled(travel - full);
        energy_left.add(stored_to - stored_from, rate);
        energy_left.add(factor * (spring_to.0 - spring_from.0), &preload.gradient);
        energy_left.add(gas.by_rest.energy.si(), &moves);
        energy_left.gas += gas.by_exponent.energy.si();

        if let (Some(on), Some(end)) = (on, OnPath::new(self.model, full, factor, preload.value)) {
            // The stroke is held there: the travel gives way.
            let change =
                |by: &Kinematics| axial * (by.ratio - to.ratio_slope * by.stroke / to.ratio) + to.ratio * by.push[1];
            full_force.add_path(self.first_path(), end.derivatives.iter().map(change));
            let ends = on.derivatives.iter().zip(&end.derivatives);
            let energy = ends.map(|(from, to_by)| {
                let push = to_by.push[0] - from.push[0];
                load.value * to_by.stroke / to.ratio - on.force * from.stroke + push
            });
            energy_left.add_path(self.first_path(), energy);
        }
        Some(Reserve {
            full_force: Predicted { value: to.ratio * axial, gradient: full_force },
            energy_left: Predicted { value: stored - load.value * (full - travel), gradient: energy_left },
        })
    }

    /// By how much the rate of gas and stops along the axis is higher for a small fast movement.
    pub(super) fn stiffer_fast(&self, at: &Kinematics) -> f64 {
        self.model.fast(at.stroke, at.stroke).state.rate.si() - self.model.rest(at.stroke).1
    }

    /// The wheel rate of a small fast movement, from that of a slow one.
    pub(super) fn fast_rate(&self, stands: &Stands<'_>, slow: &Predicted, on: Option<&OnPath>) -> Predicted {
        let at = stands.at;
        let gas = self.model.fast(at.stroke, at.stroke);
        let stiffer = gas.state.rate.si() - self.model.rest(at.stroke).1;
        let mut gradient = slow.gradient.clone();
        gradient.gas += at.ratio * at.ratio * gas.by_exponent.rate.si();
        if let Some(on) = on {
            let change = |by: &Kinematics| 2.0 * at.ratio * by.ratio * stiffer;
            gradient.add_path(self.first_path(), on.derivatives.iter().map(change));
        }
        Predicted { value: slow.value + at.ratio * at.ratio * stiffer, gradient }
    }

    /// Derivatives of the stroke at rest.
    fn stroke_moves(&self, stands: &Stands<'_>, on: Option<&OnPath>) -> Gradient {
        let mut moves = stands.moves.scaled(stands.at.ratio);
        if let Some(on) = on {
            moves.add_path(self.first_path(), on.derivatives.iter().map(|by| by.stroke));
        }
        moves
    }
}
