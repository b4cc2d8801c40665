//! All derivatives once more, by complex step: the kernels run on complex numbers, and the imaginary part of a result over
//! a step of 1e-30 is its derivative to the last digit, without any of the derivative formulas (Squire & Trapp, *SIAM
//! Review* 40 (1998) 110–112).

use nalgebra::{Complex, Dyn, LU};

use super::real::{Real, sub};
use super::*;

const STEP: f64 = 1e-30;
/// Asked of every derivative.
const EXACT: f64 = 1e-10;

type C = Complex<f64>;

impl Real for C {
    const LINEAR_PASSES: usize = 2;
    fn of(value: f64) -> Self {
        C::new(value, 0.0)
    }
    fn value(self) -> f64 {
        self.re
    }
    fn sqrt(self) -> Self {
        // The principal root of num-complex cancels for tiny imaginary parts.
        let root = self.re.sqrt();
        C::new(root, 0.5 * self.im / root)
    }
    fn solve(lu: &LU<f64, Dyn, Dyn>, right: &mut [Self]) -> bool {
        let mut parts = [0, 1].map(|part| right.iter().map(|z| [z.re, z.im][part]).collect::<Vec<f64>>());
        let solved = parts.iter_mut().all(|part| f64::solve(lu, part));
        right.iter_mut().enumerate().for_each(|(at, z)| *z = C::new(parts[0][at], parts[1][at]));
        solved
    }
}

/// Axle x and z, shock length, its derivative and that of the axle's path by travel, at a complex driver coordinate.
fn run(linkage: &Linkage, bound: &BoundRecipe<C>, travel: f64) -> [C; 5] {
    let (coordinate, solved) = linkage.motion.settled(travel);
    let coordinate = C::new(coordinate, STEP);
    let lift = |part: [f64; 2]| part.map(C::of);
    let mut slots: Vec<step::State<C>> =
        solved.iter().map(|state| step::State { p: lift(state.p), v: lift(state.v), a: lift(state.a) }).collect();
    assert!(bound.run(coordinate, &mut slots));
    let state = |point: usize| bound.operand(point).unwrap().state(&slots);
    let wheel = state(linkage.wheel);
    let [a, b] = linkage.shock.map(state);
    let d = sub(b.p, a.p);
    let length = (d[0] * d[0] + d[1] * d[1]).sqrt();
    let kernel = motion::by_travel(&wheel, step::distance(&a, &b), C::of(linkage.motion.extended));
    [wheel.p[0], wheel.p[1], length, kernel.motion_ratio, kernel.axle_slope]
}

#[test]
fn derivatives_agree_with_complex_step() {
    for (name, drawing) in all() {
        let linkage = drawing.linkage().unwrap();
        let coordinates: Vec<[C; 2]> =
            (0..linkage.mechanism.point_count()).map(|point| linkage.mechanism.coordinates(point).map(C::of)).collect();
        let recipe = linkage.recipe.pruned(&[linkage.wheel, linkage.shock[0], linkage.shock[1]]);
        let bound = BoundRecipe::bind(&recipe, &coordinates);
        for share in [0.0, 0.21, 0.5, 0.83, 1.0] {
            let travel = share * linkage.motion.full_travel;
            let exact = linkage.kernel(travel);
            let [x, z, length, ratio, path] = run(&linkage, &bound, travel).map(|found| found.im / STEP);
            let pairs = [
                (exact.motion_ratio, -length / z),
                (exact.axle_slope, x / z),
                (exact.slope, ratio / z),
                (exact.axle_curvature, path / z),
            ];
            for (which, (exact, found)) in pairs.into_iter().enumerate() {
                assert!((exact - found).abs() <= EXACT * found.abs().max(1e-2), "{name} {which}: {exact} or {found}");
            }
        }
    }
}
