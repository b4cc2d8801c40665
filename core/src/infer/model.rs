//! The forward model of a reading: from rate factor, preload change, friction and load to the distance on the tape.
//!
//! `F_w(z; a, b) = MR(z)·(a·G(s(z) + b) + R(s(z)))`, `F_w(z) = W + σ·f`, `d = d₀ − g(z)`
//!
//! with `a` the common factor on the file's spring rates, `b` the common change of preload, `G` the main springs and `R`
//! all the rest along the axis (gas, stops, top-out), `W` the load, `f` the friction force at the wheel, `σ = +1` settled
//! after pushing down and −1 after lifting, `g` the shortening along the direction that the tape ran. Derivatives are
//! exact (implicit): `dz/dθ = −(∂F/∂θ)/(∂F/∂z)`.
//!
//! The mechanism is expanded to second order about a travel near the answer, and the expansion is moved to the answer
//! before the last pass, where it is exact. Beyond the ends of travel force goes on in a straight line, so that a
//! topped-out end has a (negative) travel that says by how much the spring is too strong to move.

use crate::axial::{AxialState, FastState};
use crate::solve::Met;
use crate::units::{Energy, Force, Quantity, SpringRate};

/// The mechanism at one travel: stroke, motion ratio, its slope, shortening on the tape and its slope.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Kinematics {
    pub(crate) stroke: f64,
    pub(crate) ratio: f64,
    pub(crate) ratio_slope: f64,
    pub(crate) tape: f64,
    pub(crate) tape_slope: f64,
    /// Energy, force and rate along the axis that a change brings beside the springs; none as stated.
    pub(crate) push: [f64; 3],
}

/// One end as the fit sees it, in SI units.
pub(crate) trait SprungEnd: core::fmt::Debug + Send + Sync {
    /// Wheel travel from full extension to the end of stroke.
    fn full_travel(&self) -> f64;
    /// The mechanism at a travel inside `0..=full_travel`; `None` where it cannot be reached.
    fn kinematics(&self, travel: f64) -> Option<Kinematics>;
    /// All main springs together at stroke plus preload change: force and rate.
    fn spring(&self, stroke: f64) -> (f64, f64);
    /// Everything else along the axis: force and rate.
    fn rest(&self, stroke: f64) -> (f64, f64);
    /// Everything else, reached fast from rest at another stroke; as it is slowly, for an end without gas.
    fn fast(&self, _rest: f64, stroke: f64) -> FastState {
        let (force, rate) = self.rest(stroke);
        let energy = Energy::from_si(self.energies(stroke, 0.0).1);
        FastState::same(AxialState { force: Force::from_si(force), rate: SpringRate::from_si(rate), energy })
    }
    /// Energy stored in the main springs at stroke plus preload change, and in everything else at stroke.
    fn energies(&self, stroke: f64, preload: f64) -> (f64, f64);
    /// What one standard deviation of each unknown of the way from wheel to shock changes at a travel; nothing where the way
    /// is taken as exact.
    fn path(&self, _travel: f64) -> Vec<Kinematics> {
        Vec::new()
    }
    /// Where those unknowns stand in [`kinematics`](Self::kinematics), in their standard deviations.
    fn path_at(&self) -> &[f64] {
        &[]
    }
}

/// Wheel force with its slopes over travel, rate factor and preload change.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct WheelForce {
    pub(crate) force: f64,
    pub(crate) rate: f64,
    pub(crate) per_factor: f64,
    pub(crate) per_preload: f64,
}

/// What springs and rest push along the axis, each with its rate.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Pushed {
    offset: f64,
    spring: (f64, f64),
    rest: (f64, f64),
}

/// The mechanism about one travel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Expansion {
    centre: f64,
    full: f64,
    at: Kinematics,
}

/// Wheel rate below which a travel is not followed (N/m): a tenth of the softest wheel rate of any motorcycle. Where the
/// springs are out of contact the model goes on with this rate, so that every load has a travel.
const LEAST_WHEEL_RATE: f64 = 100.0;
/// A travel this near the centre of its expansion (m) is settled: the expansion is then good to 1e-17 m of stroke and to a
/// millionth of the wheel rate.
const SETTLED: f64 = 1e-6;
/// The same for the travel alone: expansion and last step leave 1e-8 m.
const NEARLY_SETTLED: f64 = 1e-4;
/// The last Newton step (m): what is left after it is its square over a length of decimetres, 1e-13 m.
const SHORT: f64 = 1e-7;
/// The same where a travel is followed from one round to the next, each of which takes one more step (m): 4e-9 m is left.
pub(crate) const FOLLOWED: f64 = 2e-5;
/// Newton steps to settle; two or three are usual, a kink of the springs takes a few more.
const MOST_STEPS: usize = 40;

impl Expansion {
    pub(crate) fn about(end: &dyn SprungEnd, travel: f64) -> Option<Self> {
        let full = end.full_travel();
        let centre = travel.clamp(0.0, full);
        Some(Self { centre, full, at: end.kinematics(centre)? })
    }

    /// Distance from the centre at which the expansion is used for a travel inside its bounds.
    #[inline]
    fn offset(&self, travel: f64) -> f64 {
        travel.clamp(0.0, self.full) - self.centre
    }

    /// Is a travel (held inside the range) within `near` of the centre?
    #[inline]
    pub(crate) fn stands_at(&self, travel: f64, near: f64) -> bool {
        self.offset(travel).abs() < near
    }

    /// Shortening on the tape and its slope.
    #[inline]
    pub(crate) fn tape(&self, travel: f64) -> (f64, f64) {
        (self.at.tape + self.at.tape_slope * (travel - self.centre), self.at.tape_slope)
    }

    #[inline]
    pub(crate) fn wheel_force(&self, end: &dyn SprungEnd, travel: f64, factor: f64, preload: f64) -> WheelForce {
        self.force_of(&self.pushed(end, self.offset(travel), preload), travel, factor)
    }

    /// Springs and rest at an offset inside the range.
    #[inline]
    fn pushed(&self, end: &dyn SprungEnd, offset: f64, preload: f64) -> Pushed {
        let stroke = self.at.stroke + offset * (self.at.ratio + 0.5 * self.at.ratio_slope * offset);
        Pushed { offset, spring: end.spring(stroke + preload), rest: end.rest(stroke) }
    }

    /// The wheel force that they give: at their offset, and in a straight line beyond it.
    #[inline]
    fn force_of(&self, pushed: &Pushed, travel: f64, factor: f64) -> WheelForce {
        let Pushed { offset, spring: (spring, spring_rate), rest: (rest, rest_rate) } = *pushed;
        let slope = self.at.ratio_slope;
        let ratio = self.at.ratio + slope * offset;
        let axial = factor * spring + rest;
        let rate = ratio * ratio * (factor * spring_rate + rest_rate) + slope * axial;
        let rate = rate.max(LEAST_WHEEL_RATE);
        let beyond = travel - self.centre - offset;
        WheelForce {
            force: ratio * axial + rate * beyond,
            rate,
            per_factor: ratio * spring + (ratio * ratio * spring_rate + slope * spring) * beyond,
            per_preload: factor * spring_rate * (ratio + slope * beyond),
        }
    }

    /// The travel nearest to `guess` at which the wheel force is `force`, with the state there, the last step under `short`;
    /// before both the force at the guess.
    pub(crate) fn settle(
        &self,
        end: &dyn SprungEnd,
        force: f64,
        factor: f64,
        preload: f64,
        guess: f64,
        short: f64,
    ) -> (f64, f64, WheelForce) {
        let longest = self.full / 4.0;
        let (mut travel, mut bracket) = (guess, Met::nowhere());
        let mut pushed = self.pushed(end, self.offset(travel), preload);
        let mut state = self.force_of(&pushed, travel, factor);
        let at_guess = state.force;
        for _ in 0..MOST_STEPS {
            let step = ((force - state.force) / state.rate).clamp(-longest, longest);
            if step.abs() < short {
                // The next Newton step would be of the square of this one.
                travel += step;
                state.force += state.rate * step;
                break;
            }
            travel = bracket.next(travel, state.force < force, travel + step);
            let offset = self.offset(travel);
            // Beyond the ends of travel springs and gas stand still.
            if offset != pushed.offset {
                pushed = self.pushed(end, offset, preload);
            }
            state = self.force_of(&pushed, travel, factor);
        }
        (at_guess, travel, state)
    }
}

/// The travel nearest to `guess` at which the wheel force is `force`, on the mechanism itself: the expansion follows the
/// travel until it stands at the answer.
pub(crate) fn settle_exactly(
    end: &dyn SprungEnd,
    force: f64,
    factor: f64,
    preload: f64,
    guess: f64,
) -> Option<(Expansion, f64, WheelForce)> {
    settle_within(SETTLED, end, force, factor, preload, guess)
}

/// The same where the travel itself is all that is wanted, and rates only lead there.
pub(crate) fn settle_travel(
    end: &dyn SprungEnd,
    force: f64,
    factor: f64,
    preload: f64,
    guess: f64,
) -> Option<(Expansion, f64, WheelForce)> {
    settle_within(NEARLY_SETTLED, end, force, factor, preload, guess)
}

fn settle_within(
    near: f64,
    end: &dyn SprungEnd,
    force: f64,
    factor: f64,
    preload: f64,
    guess: f64,
) -> Option<(Expansion, f64, WheelForce)> {
    let mut travel = guess;
    let mut bracket = Met::nowhere();
    for _ in 0..MOST_STEPS {
        let expansion = Expansion::about(end, travel)?;
        let (here, next, state) = expansion.settle(end, force, factor, preload, travel, FOLLOWED);
        if expansion.stands_at(next, near) {
            if expansion.stands_at(next, SHORT) {
                return Some((expansion, next, state));
            }
            let (_, travel, state) = expansion.settle(end, force, factor, preload, next, SHORT);
            return Some((expansion, travel, state));
        }
        travel = bracket.next(travel, here < force, next);
    }
    let expansion = Expansion::about(end, travel)?;
    let (_, travel, state) = expansion.settle(end, force, factor, preload, travel, SHORT);
    Some((expansion, travel, state))
}

#[cfg(test)]
pub(crate) mod tests;
