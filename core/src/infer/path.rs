//! The way from tape and wheel to the springs as an unknown of the fit, where the bike says how well it is known or nobody stated
//! it.
//!
//! `s(z; q) = s(z) + Σ q_k·δs_k(z)`: the deviations `δs_k` of [`Deviation`], each `q_k` standard normal before anything is
//! read. The readings and the label then say something of `q` too, and `q` has its place in the covariance of everything
//! that follows from the fit. Gas that is assumed adds `Σ q_k·δR_k(s)` to the force along the axis, and a direction that nobody
//! noted makes the tape longer or shorter by a share.
//!
//! With the other unknowns `x` at their mode for a given `q`, with covariance `C` there, and with the derivatives `J` and
//! `K` of the normalised residuals `r` over `x` and `q`: `S = −C·JᵀK` moves `x` with `q`, and
//!
//! `P = (1 + Kᵀ(K + J·S))⁻¹`, `δq = −P·(Kᵀr + q)`, `δx = S·δq`, `cov(x) = C + S·P·Sᵀ`, `cov(x, q) = S·P`, `cov(q) = P`
//!
//! (the Schur complement of the whole normal equations). The mechanism is then moved to the new `q` and everything solved
//! again, until it stands. A deviation enters to first order; with pivots off by a hundredth of a link's length what is left
//! out is a hundredth of the deviation. The direction of the tape is taken as known, except that a reading along the fork
//! turns with the fork.

use std::sync::Arc;

use nalgebra::{Cholesky, DMatrix, DVector};

use crate::error::SetupError;
use crate::infer::held::Held;
use crate::infer::model::{Expansion, Kinematics, SprungEnd};
use crate::infer::posterior::{Evidence, Observation, Posterior, Prediction};
use crate::wheel::{Deviation, Origin};

/// The way is moved until no unknown of it changes by more than this share of its standard deviation: a twentieth of one
/// part of an uncertainty is not seen in any result.
const STANDS: f64 = 0.02;
/// Rounds of moving; one or two are usual.
const MOST_ROUNDS: usize = 6;

/// One unknown between tape, wheel and springs: what one standard deviation of it changes.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Unknown {
    pub(crate) origin: Origin,
    /// The stroke over the travel.
    pub(crate) way: Option<Deviation>,
    /// What is read on the tape, as a share of it.
    pub(crate) tape: f64,
    /// Energy, force and rate beside the springs, over the stroke.
    pub(crate) push: Option<Deviation>,
}

/// The way from wheel to shock where the readings put it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Path {
    unknowns: Arc<[Unknown]>,
    mean: Option<Deviation>,
    /// By what share the tape is taken to be short of what its direction says.
    short: f64,
    /// Where each unknown stands, in its standard deviations.
    at: Vec<f64>,
    moved: Moved,
}

/// All unknowns together, where they stand.
#[derive(Debug, Clone, PartialEq)]
struct Moved {
    way: Deviation,
    tape: f64,
    push: Deviation,
}

impl Moved {
    fn new(unknowns: &[Unknown], mean: Option<&Deviation>, short: f64, at: &[f64]) -> Self {
        let sum = |of: fn(&Unknown) -> Option<&Deviation>, mean: Option<&Deviation>| {
            let parts = unknowns.iter().zip(at).filter_map(|(one, by)| Some((of(one)?, *by)));
            let parts = parts.chain(mean.map(|mean| (mean, 1.0)));
            let (parts, by): (Vec<Deviation>, Vec<f64>) = parts.map(|(part, by)| (part.clone(), by)).unzip();
            Deviation::sum(&parts, &by)
        };
        let tape = unknowns.iter().zip(at).map(|(one, by)| one.tape * by).sum::<f64>() - short;
        Self { way: sum(|one| one.way.as_ref(), mean), tape, push: sum(|one| one.push.as_ref(), None) }
    }
}

impl Path {
    /// As stated; `None` where everything is taken as exact. The tape is short of what its direction says by a share.
    pub(crate) fn stated(mean: Option<Deviation>, short: f64, unknowns: Vec<Unknown>) -> Option<Self> {
        let at = vec![0.0; unknowns.len()];
        (!unknowns.is_empty()).then(|| Self {
            moved: Moved::new(&unknowns, mean.as_ref(), short, &at),
            unknowns: unknowns.into(),
            mean,
            short,
            at,
        })
    }

    /// Moved until `solve` (the unknowns of the path once solved) leaves it where it is.
    pub(crate) fn settled<E>(self, mut solve: impl FnMut(Arc<Self>) -> Result<Vec<f64>, E>) -> Result<Arc<Self>, E> {
        let mut path = Arc::new(self);
        for _ in 0..MOST_ROUNDS {
            let at = solve(path.clone())?;
            let change = at.iter().zip(&path.at).map(|(to, from)| (to - from).abs()).fold(0.0, f64::max);
            path = Arc::new(path.moved_to(at));
            if change < STANDS {
                break;
            }
        }
        Ok(path)
    }

    /// The same way with other springs: the places of what was read off springs are kept, and change nothing.
    pub(crate) fn with_other_springs(self: Arc<Self>) -> Arc<Self> {
        if self.origins().all(|origin| origin != Origin::Spring) {
            return self;
        }
        let without = |one: &Unknown| match one.origin {
            Origin::Spring => Unknown { push: None, ..one.clone() },
            _ => one.clone(),
        };
        let unknowns: Vec<Unknown> = self.unknowns.iter().map(without).collect();
        let moved = Moved::new(&unknowns, self.mean.as_ref(), self.short, &self.at);
        Arc::new(Self { unknowns: unknowns.into(), moved, ..self.as_ref().clone() })
    }

    /// A way found, with what another leaves open of its springs in the place of its own; `None` where nothing is left open.
    pub(crate) fn with_springs_of(found: Option<&Self>, stated: Option<&Self>) -> Option<Arc<Self>> {
        let of = |path: Option<&Self>, springs: bool| -> Vec<(Unknown, f64)> {
            let all = path.into_iter().flat_map(|path| path.unknowns.iter().cloned().zip(path.at.iter().copied()));
            all.filter(|(one, _)| (one.origin == Origin::Spring) == springs).collect()
        };
        let (unknowns, at): (Vec<Unknown>, Vec<f64>) = of(found, false).into_iter().chain(of(stated, true)).unzip();
        let (mean, short) = found.map_or((None, 0.0), |found| (found.mean.clone(), found.short));
        let path = Self::stated(mean, short, unknowns)?;
        Some(Arc::new(path.moved_to(at)))
    }

    /// How many of its unknowns are not of springs.
    pub(crate) fn before_springs(&self) -> usize {
        self.origins().filter(|origin| *origin != Origin::Spring).count()
    }

    fn moved_to(&self, at: Vec<f64>) -> Self {
        let moved = Moved::new(&self.unknowns, self.mean.as_ref(), self.short, &at);
        Self { moved, at, ..self.clone() }
    }

    /// Moved to where its unknowns are drawn.
    pub(crate) fn drawn(&self, mut normal: impl FnMut() -> f64) -> Self {
        self.moved_to(self.unknowns.iter().map(|_| normal()).collect())
    }

    pub(crate) fn at(&self) -> &[f64] {
        &self.at
    }

    /// What each unknown is of.
    pub(crate) fn origins(&self) -> impl Iterator<Item = Origin> {
        self.unknowns.iter().map(|one| one.origin)
    }

    /// By how much the end of the travel moves with a deviation of the stroke there, the full stroke held.
    pub(crate) fn full_travel_change(&self, full: f64, ratio: f64) -> f64 {
        -self.moved.way.at(full)[0] / ratio
    }

    /// Energy, force and rate beside the springs, that come to what is stated.
    pub(crate) fn push(&self, stroke: f64) -> [f64; 3] {
        self.moved.push.at(stroke)
    }

    /// The mechanism moved from where it was stated; the tape goes along where it runs along the stroke.
    pub(crate) fn apply(&self, travel: f64, stated: Kinematics, tape_along_stroke: bool) -> Kinematics {
        let [stroke, ratio, ratio_slope] = self.moved.way.at(travel);
        let (tape, tape_slope) = if tape_along_stroke { (stroke, ratio) } else { (0.0, 0.0) };
        let of_tape = 1.0 + self.moved.tape;
        Kinematics {
            stroke: stated.stroke + stroke,
            ratio: stated.ratio + ratio,
            ratio_slope: stated.ratio_slope + ratio_slope,
            tape: (stated.tape + tape) * of_tape,
            tape_slope: (stated.tape_slope + tape_slope) * of_tape,
            push: stated.push,
        }
    }

    /// What one of each unknown's standard deviations changes, at a travel where the mechanism stands like this.
    pub(crate) fn derivatives(&self, travel: f64, at: &Kinematics, tape_along_stroke: bool) -> Vec<Kinematics> {
        let of_tape = 1.0 + self.moved.tape;
        let of = |one: &Unknown| {
            let [stroke, ratio, ratio_slope] = one.way.as_ref().map_or([0.0; 3], |way| way.at(travel));
            let along = if tape_along_stroke { of_tape } else { 0.0 };
            Kinematics {
                stroke,
                ratio,
                ratio_slope,
                tape: along * stroke + one.tape / of_tape * at.tape,
                tape_slope: along * ratio + one.tape / of_tape * at.tape_slope,
                push: one.push.as_ref().map_or([0.0; 3], |push| push.at(at.stroke)),
            }
        };
        self.unknowns.iter().map(of).collect()
    }
}

/// The springs and the mechanism at a travel, for what a deviation of the way does to them.
pub(crate) struct OnPath {
    pub(crate) derivatives: Vec<Kinematics>,
    pub(crate) at: Kinematics,
    /// Force and rate along the axis.
    pub(crate) force: f64,
    pub(crate) rate: f64,
    beyond: f64,
}

impl OnPath {
    /// `None` where the way is taken as exact, or cannot be followed.
    pub(crate) fn new(end: &dyn SprungEnd, travel: f64, factor: f64, preload: f64) -> Option<Self> {
        let inside = travel.clamp(0.0, end.full_travel());
        let derivatives = end.path(inside);
        if derivatives.is_empty() {
            return None;
        }
        let at = end.kinematics(inside)?;
        let ((spring, spring_rate), (rest, rest_rate)) = (end.spring(at.stroke + preload), end.rest(at.stroke));
        let (force, rate) = (factor * spring + rest, factor * spring_rate + rest_rate);
        Some(Self { derivatives, at, force, rate, beyond: travel - inside })
    }

    /// Change of the wheel rate, `k_w = MR²·k + F·dMR/dz`.
    pub(crate) fn wheel_rate(&self, by: &Kinematics) -> f64 {
        let [_, push, push_rate] = by.push;
        2.0 * self.at.ratio * by.ratio * self.rate
            + self.force * by.ratio_slope
            + (self.rate * by.stroke + push) * self.at.ratio_slope
            + self.at.ratio * self.at.ratio * push_rate
    }

    /// Change of the wheel force at the travel.
    pub(crate) fn wheel_force(&self, by: &Kinematics) -> f64 {
        let axial = self.rate * by.stroke + by.push[1];
        by.ratio * self.force + self.at.ratio * axial + self.wheel_rate(by) * self.beyond
    }

    /// Changes of the wheel force by every unknown of the way.
    pub(crate) fn wheel_forces(&self) -> impl Iterator<Item = f64> {
        self.derivatives.iter().map(|by| self.wheel_force(by))
    }
}

impl Evidence {
    /// Unknowns, those of the way from wheel to shock included.
    pub(crate) fn all_unknowns(&self) -> usize {
        self.unknowns() + self.end.path_at().len()
    }

    /// Takes the unknowns of the way into a solution that held them where the mechanism stands.
    pub(crate) fn with_path(&self, mut solved: Posterior) -> Result<Posterior, SetupError> {
        let stands = self.end.path_at();
        if stands.is_empty() {
            return Ok(solved);
        }
        let (count, ways) = (self.unknowns(), stands.len());
        // One row per place of the wheel; all its readings are of the same load and side.
        let mut rows = vec![DVector::zeros(ways); solved.predictions.places.len()];
        for (observation, &(place, _)) in self.observations.iter().zip(&solved.predictions.readings) {
            rows[place] = self.over_path(&solved, observation, &solved.predictions.places[place], ways);
        }
        let mut information = DMatrix::identity(ways, ways);
        let mut cross = DMatrix::zeros(count, ways);
        let centre = |k: usize| self.centres.get(count + k).copied().unwrap_or(0.0);
        let mut pull = DVector::from_iterator(ways, stands.iter().enumerate().map(|(k, at)| at - centre(k)));
        solved.cost += pull.norm_squared();
        for (row, prediction) in rows.iter().zip(&solved.predictions.places) {
            let weight = prediction.weight;
            let known = DVector::from_column_slice(&prediction.derivatives);
            information += row * row.transpose() * weight;
            cross += known * row.transpose() * weight;
            pull += row * ((prediction.distance - prediction.mean) * weight);
        }
        let moves = -(&solved.covariance * &cross);
        let left = information + cross.transpose() * &moves;
        let spread = Cholesky::new(left).ok_or(SetupError::Singular)?.inverse();
        let change = -(&spread * &pull);
        let of_others = &moves * &change;
        solved.cost -= pull.dot(&(&spread * &pull));
        let moved = &moves * &spread;
        let mut covariance = DMatrix::zeros(count + ways, count + ways);
        covariance.view_mut((0, 0), (count, count)).copy_from(&(solved.covariance + &moved * moves.transpose()));
        covariance.view_mut((0, count), (count, ways)).copy_from(&moved);
        covariance.view_mut((count, 0), (ways, count)).copy_from(&moved.transpose());
        covariance.view_mut((count, count), (ways, ways)).copy_from(&spread);
        solved.covariance = covariance;
        for (prediction, row) in solved.predictions.places.iter_mut().zip(&rows) {
            let known = DVector::from_column_slice(&prediction.derivatives);
            prediction.distance += known.dot(&of_others) + row.dot(&change);
            prediction.derivatives.extend(row.iter());
        }
        solved.unknowns.iter_mut().zip(of_others.iter()).for_each(|(to, by)| *to += by);
        solved.unknowns.extend(stands.iter().zip(change.iter()).map(|(at, by)| at + by));
        Ok(solved)
    }

    /// Derivatives of a predicted distance over the unknowns of the way.
    fn over_path(
        &self,
        solved: &Posterior,
        observation: &Observation,
        prediction: &Prediction,
        ways: usize,
    ) -> DVector<f64> {
        let none = DVector::zeros(ways);
        let [factor, preload, ..] = self.physical(&solved.unknowns);
        let travel = prediction.travel;
        let held = if observation.may_top_out {
            Held::above_zero(travel)
        } else if observation.may_bottom_out {
            Held::below(travel, self.end.full_travel())
        } else {
            Held::free(travel)
        };
        let (Some(expansion), Some(on)) =
            (Expansion::about(self.end.as_ref(), travel), OnPath::new(self.end.as_ref(), travel, factor, preload))
        else {
            return none;
        };
        let rate = expansion.wheel_force(self.end.as_ref(), travel, factor, preload).rate;
        let (_, tape_slope) = expansion.tape(travel);
        let resting = self.end.path(held.travel);
        let row = on.wheel_forces().zip(&resting).map(|(force, by)| tape_slope * held.share * force / rate - by.tape);
        DVector::from_iterator(ways, row)
    }
}

#[cfg(test)]
mod tests;
