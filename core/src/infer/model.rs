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
pub(crate) mod tests {
    use super::*;
    use proptest::prelude::*;

    /// A rear end with a motion ratio that rises in a straight line, one coil, and gas of constant force.
    #[derive(Debug, Clone, Copy)]
    pub(crate) struct Straight {
        pub(crate) ratio: f64,
        pub(crate) slope: f64,
        pub(crate) spring_rate: f64,
        pub(crate) preload: f64,
        pub(crate) gas: f64,
        pub(crate) travel: f64,
    }

    impl Straight {
        pub(crate) fn usual() -> Self {
            Self { ratio: 0.34, slope: 0.5, spring_rate: 52e3, preload: 0.014, gas: 180.0, travel: 0.3 }
        }
    }

    impl SprungEnd for Straight {
        fn full_travel(&self) -> f64 {
            self.travel
        }
        fn kinematics(&self, z: f64) -> Option<Kinematics> {
            let ratio = self.ratio + self.slope * z;
            let stroke = z * (self.ratio + 0.5 * self.slope * z);
            Some(Kinematics { stroke, ratio, ratio_slope: self.slope, tape: z, tape_slope: 1.0, push: [0.0; 3] })
        }
        fn spring(&self, stroke: f64) -> (f64, f64) {
            let length = stroke + self.preload;
            if length < 0.0 { (0.0, 0.0) } else { (self.spring_rate * length, self.spring_rate) }
        }
        fn rest(&self, _: f64) -> (f64, f64) {
            (self.gas, 0.0)
        }
        fn energies(&self, stroke: f64, preload: f64) -> (f64, f64) {
            let (force, _) = self.spring(stroke + preload);
            (0.5 * force * force / self.spring_rate, self.gas * stroke)
        }
    }

    #[test]
    fn derivatives_are_those_of_the_force() {
        let end = Straight::usual();
        let expansion = Expansion::about(&end, 0.1).unwrap();
        let force = |z: f64, a: f64, b: f64| expansion.wheel_force(&end, z, a, b).force;
        for z in [-0.01, 0.02, 0.1, 0.25] {
            let state = expansion.wheel_force(&end, z, 1.05, 0.002);
            // Central differences of this width are good to 1e-9 of these smooth forces.
            let h = 1e-6;
            let slope = |f: &dyn Fn(f64) -> f64| (f(h) - f(-h)) / (2.0 * h);
            approx::assert_relative_eq!(state.rate, slope(&|d| force(z + d, 1.05, 0.002)), max_relative = 1e-6);
            approx::assert_relative_eq!(state.per_factor, slope(&|d| force(z, 1.05 + d, 0.002)), max_relative = 1e-6);
            approx::assert_relative_eq!(state.per_preload, slope(&|d| force(z, 1.05, 0.002 + d)), max_relative = 1e-6);
        }
    }

    #[test]
    fn settles_where_the_force_is_the_load() {
        let end = Straight::usual();
        for load in [500.0, 900.0, 1300.0] {
            let (expansion, z, state) = settle_exactly(&end, load, 1.0, 0.0, 0.09).unwrap();
            assert!((state.force - load).abs() < 1e-4, "{load}: {}", state.force);
            let kinematics = end.kinematics(z).unwrap();
            let exact = kinematics.ratio * (end.spring(kinematics.stroke).0 + end.gas);
            assert!((exact - load).abs() < 1e-4, "{load}: {exact} {expansion:?}");
        }
    }

    /// As [`Straight`], with a top-out spring that pulls the wheel back from full extension.
    #[derive(Debug, Clone, Copy)]
    struct ToppingOut {
        straight: Straight,
        depth: f64,
        rate: f64,
    }

    impl SprungEnd for ToppingOut {
        fn full_travel(&self) -> f64 {
            self.straight.full_travel()
        }
        fn kinematics(&self, z: f64) -> Option<Kinematics> {
            self.straight.kinematics(z)
        }
        fn spring(&self, stroke: f64) -> (f64, f64) {
            self.straight.spring(stroke)
        }
        fn rest(&self, stroke: f64) -> (f64, f64) {
            let (gas, _) = self.straight.rest(stroke);
            let stretched = self.depth - stroke;
            if stretched > 0.0 { (gas - self.rate * stretched, self.rate) } else { (gas, 0.0) }
        }
        fn energies(&self, stroke: f64, preload: f64) -> (f64, f64) {
            let stretched = (self.depth - stroke).max(0.0);
            let (spring, gas) = self.straight.energies(stroke, preload);
            (spring, gas + 0.5 * self.rate * stretched * stretched)
        }
    }

    proptest! {
        /// Newton's method alone jumps for ever between the two sides of the kink at which a top-out spring ends.
        #[test]
        fn a_hanging_wheel_is_found_beside_the_kink_of_a_top_out_spring(
            ratio in 0.25..0.5_f64, slope in 0.0..1.0_f64, preload in 0.0..0.01_f64, depth in 0.002..0.02_f64,
            pull in 60.0..1500.0_f64, share in 0.01..0.99_f64, guess in 0.0..0.3_f64,
        ) {
            let straight = Straight { ratio, slope, preload, ..Straight::usual() };
            // Fully extended, the top-out spring pulls by this much more than the rest pushes.
            let rate = (straight.spring(0.0).0 + straight.gas + pull / ratio) / depth;
            let (end, hanging) = (ToppingOut { straight, depth, rate }, -share * pull);
            let exact = |z: f64| {
                let kinematics = end.kinematics(z).unwrap();
                kinematics.ratio * (end.spring(kinematics.stroke).0 + end.rest(kinematics.stroke).0)
            };
            let (_, z, state) = settle_exactly(&end, hanging, 1.0, 0.0, guess).unwrap();
            // A travel settled to its 1e-7 m, at most, on this wheel rate; both sides of a kink.
            let close = 1e-3 + 1e-7 * (ratio + 0.3 * slope).powi(2) * (rate + 52e3);
            prop_assert!((exact(z) - hanging).abs() < close, "{} N at {z} instead of {hanging} N", exact(z));
            prop_assert!((state.force - hanging).abs() < close, "{state:?}");
        }
    }

    #[test]
    fn a_topped_out_end_has_a_travel_below_zero() {
        let end = Straight::usual();
        let (_, z, _) = settle_exactly(&end, 200.0, 1.0, 0.0, 0.0).unwrap();
        assert!(z < -0.005, "{z}");
    }
}
