//! The forward model against its force, and where it settles.

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

/// As [`Straight`], with another tape: what it shows at a travel, and its slope there.
pub(crate) struct OnTape<F>(pub(crate) Straight, pub(crate) F);

impl<F> core::fmt::Debug for OnTape<F> {
    fn fmt(&self, formatter: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(formatter, "{:?} on another tape", self.0)
    }
}

impl<F: Fn(f64) -> [f64; 2] + Send + Sync> SprungEnd for OnTape<F> {
    fn full_travel(&self) -> f64 {
        self.0.full_travel()
    }
    fn kinematics(&self, travel: f64) -> Option<Kinematics> {
        let [tape, tape_slope] = self.1(travel);
        Some(Kinematics { tape, tape_slope, ..self.0.kinematics(travel)? })
    }
    fn spring(&self, stroke: f64) -> (f64, f64) {
        self.0.spring(stroke)
    }
    fn rest(&self, stroke: f64) -> (f64, f64) {
        self.0.rest(stroke)
    }
    fn energies(&self, stroke: f64, preload: f64) -> (f64, f64) {
        self.0.energies(stroke, preload)
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

/// Force over travel in straight pieces: a gentle start, a steep rise to a flat hump, a valley, and up for good.
#[derive(Debug)]
struct Humped;

impl Humped {
    const KNOTS: [(f64, f64); 7] =
        [(0.0, 500.0), (0.02, 504.0), (0.06, 1504.0), (0.12, 1504.0), (0.19, 300.0), (0.21, 300.0), (0.3, 3000.0)];
}

impl SprungEnd for Humped {
    fn full_travel(&self) -> f64 {
        0.3
    }
    fn kinematics(&self, z: f64) -> Option<Kinematics> {
        Some(Kinematics { stroke: z, ratio: 1.0, ratio_slope: 0.0, tape: z, tape_slope: 1.0, push: [0.0; 3] })
    }
    fn spring(&self, stroke: f64) -> (f64, f64) {
        let mut pieces = Self::KNOTS.windows(2).map(|ends| (ends[0], ends[1]));
        let piece = pieces.clone().find(|(_, to)| stroke < to.0).or(pieces.next_back());
        let ((from, low), (to, high)) = piece.unwrap();
        let rate = (high - low) / (to - from);
        (low + rate * (stroke - from), rate)
    }
    fn rest(&self, _: f64) -> (f64, f64) {
        (0.0, 0.0)
    }
    fn energies(&self, _: f64, _: f64) -> (f64, f64) {
        (0.0, 0.0)
    }
}

/// Three travels carry the load. A step of Newton's method at the gentle start would go beyond the whole travel, and end at the
/// furthest of them.
#[test]
fn of_several_travels_the_one_next_to_the_guess_is_found() {
    let expansion = Expansion::about(&Humped, 0.0).unwrap();
    for force in [900.0, 1004.0, 1200.0] {
        let nearest = 0.02 + (force - 504.0) / 25e3;
        let furthest = 0.21 + (force - 300.0) / 30e3;
        for (guess, expected) in [(0.0, nearest), (0.015, nearest), (0.05, nearest), (0.25, furthest), (0.3, furthest)]
        {
            let (_, travel, state) = expansion.settle(&Humped, force, 1.0, 0.0, guess, SHORT);
            assert!((travel - expected).abs() < SHORT, "{force} N from {guess}: {travel}, {expected}");
            assert!((state.force - force).abs() < 30e3 * SHORT, "{force} N from {guess}: {state:?}");
        }
    }
}

#[test]
fn before_a_travel_is_sought_the_force_at_the_guess_is_given() {
    let end = Straight::usual();
    let expansion = Expansion::about(&end, 0.1).unwrap();
    for guess in [-0.01, 0.05, 0.1, 0.2] {
        let (at_guess, travel, _) = expansion.settle(&end, 900.0, 1.1, 2e-3, guess, SHORT);
        assert_eq!(at_guess, expansion.wheel_force(&end, guess, 1.1, 2e-3).force);
        assert_eq!(at_guess < 900.0, guess < travel, "a force that rises");
    }
}

#[test]
fn a_travel_stands_at_the_centre_when_nearer_than_asked_and_is_held_inside() {
    let end = Straight { travel: 0.25, ..Straight::usual() };
    let expansion = Expansion::about(&end, 0.125).unwrap();
    // All numbers are exact in binary.
    let near = 0.0625;
    assert!(!expansion.stands_at(0.125 + near, near) && !expansion.stands_at(0.125 - near, near));
    assert!(expansion.stands_at(0.125 + 0.5 * near, near) && expansion.stands_at(0.125 - 0.5 * near, near));
    // Beyond the ends a travel is held there: an eighth from the centre.
    assert!(expansion.stands_at(9.0, 0.126) && !expansion.stands_at(9.0, 0.125));
    assert!(Expansion::about(&end, 9.0).unwrap().stands_at(0.25, 1e-12));
    assert!(Expansion::about(&end, -9.0).unwrap().stands_at(0.0, 1e-12));
}
