//! Worked examples of JCGM 101:2008: additive models (9.2.2 to 9.2.4) and the calibration of a weight (9.3), by draws of
//! this generator and the summary that [`MonteCarlo`](crate::infer::monte_carlo::MonteCarlo) gives of its own. Figures from memory, each recomputed
//! with four million draws in NumPy.

use super::*;
use crate::infer::fit::tests::{LABEL, solve};
use crate::infer::model::tests::Straight;
use crate::infer::posterior::Priors;
use crate::infer::probability::COVERAGE_95;
use crate::units::Mass;
use rand_distr::Uniform;

const DRAWS: usize = 400_000;
/// Half a unit of the last digit printed, and four standard deviations of an end of the interval over so many draws: 0.0043
/// of the standard deviation of what is drawn.
fn printed(digit: f64, deviation: f64) -> f64 {
    0.5 * digit + 4.0 * 0.0043 * deviation
}

/// Half-width of a rectangular distribution of standard deviation 1.
const HALF: f64 = 1.732_050_807_568_877_2;

fn draw(seed: u64, model: impl Fn(&mut dyn FnMut() -> f64, &mut dyn FnMut(f64, f64) -> f64) -> f64) -> Sampled<Mass> {
    let random = core::cell::RefCell::new(Xoshiro256PlusPlus::seed_from_u64(seed));
    let mut normal = || -> f64 { StandardNormal.sample(&mut *random.borrow_mut()) };
    let mut uniform = |low: f64, high: f64| Uniform::new(low, high).unwrap().sample(&mut *random.borrow_mut());
    let mut values: Vec<f64> = (0..DRAWS).map(|_| model(&mut normal, &mut uniform)).collect();
    sampled(&mut values, |value| value)
}

fn check(found: Sampled<Mass>, deviation: (f64, f64), interval: (f64, f64), digit: f64) {
    let near = |found: f64, expected: f64, tolerance: f64| {
        assert!((found - expected).abs() < tolerance, "found {found}, expected {expected} within {tolerance}");
    };
    near(found.standard_deviation.si(), deviation.0, printed(deviation.1, deviation.0));
    near(found.interval_95.0.si(), interval.0, printed(digit, deviation.0));
    near(found.interval_95.1.si(), interval.1, printed(digit, deviation.0));
}

#[test]
fn sum_of_four_normals() {
    let found = draw(1, |normal, _| (0..4).map(|_| normal()).sum());
    check(found, (2.00, 0.01), (-3.92, 3.92), 0.01);
}

#[test]
fn sum_of_four_rectangulars() {
    // In full ±2√3(2 − (3/5)^(1/4)); the propagation of uncertainty says ±3.92.
    let exact = 2.0 * HALF * (2.0 - 0.6_f64.powf(0.25));
    assert!((exact - 3.88).abs() < 0.005);
    let found = draw(2, |_, uniform| (0..4).map(|_| uniform(-HALF, HALF)).sum());
    check(found, (2.00, 0.01), (-exact, exact), 0.0);
}

#[test]
fn one_rectangular_ten_times_as_wide_as_three_others() {
    let found = draw(3, |_, uniform| (0..3).map(|_| uniform(-HALF, HALF)).sum::<f64>() + 10.0 * uniform(-HALF, HALF));
    check(found, (10.1, 0.1), (-17.0, 17.0), 0.1);
    let normal = COVERAGE_95 * found.standard_deviation.si();
    assert!((normal - 19.9).abs() < printed(0.1, 10.1), "{normal}");
}

#[test]
fn calibration_of_a_weight() {
    // δm = (m_R + δm_R)(1 + (ρ_a − 1.2)(1/ρ_W − 1/ρ_R)) − 100 g, in mg and kg/m³. The first-order uncertainty, 0.0539 mg,
    // misses the buoyancy, which is of second order there.
    let found = draw(4, |normal, uniform| {
        let mass = 100_000.0 + 0.050 * normal() + 1.234 + 0.020 * normal();
        let (air, weight, reference) = (uniform(1.10, 1.30), uniform(7000.0, 9000.0), uniform(7950.0, 8050.0));
        mass * (1.0 + (air - 1.2) * (1.0 / weight - 1.0 / reference)) - 100_000.0
    });
    // Printed is the shortest interval, 1.0834 mg to 1.3825 mg; this is the symmetric one by NumPy, as wide to a tenth of a
    // microgram.
    check(found, (0.0754, 0.0001), (1.0844, 1.3834), 0.0001);
    assert!((found.mean.si() - 1.2340).abs() < printed(0.0001, 0.0754), "{:?}", found.mean);
}

#[test]
fn ends_of_the_interval_leave_a_fortieth_outside_each() {
    let mut values: Vec<f64> = (0..=200).rev().map(f64::from).collect();
    let found: Sampled<Mass> = sampled(&mut values, |value| 2.0 * value);
    assert_eq!(found.interval_95, (Mass::from_si(10.0), Mass::from_si(390.0)));
    assert_eq!(found.mean, Mass::from_si(200.0));
    // Variance of 0..=n: n(n + 1)(n + 2)/12 over n.
    assert!((found.standard_deviation.si().powi(2) / 4.0 - 201.0 * 202.0 / 12.0).abs() < 1e-9);
}

/// A friction that is as likely below zero as above: half of the draws are left out, more or less.
#[test]
fn half_of_the_draws_are_enough_and_one_less_is_not() {
    const FEW: usize = 200;
    let solved = solve(&Straight::usual(), &[], Priors { friction: (0.0, 40.0), ..LABEL }, 1.5e-3);
    let (mut fewest, mut refused) = (FEW, 0);
    // Exactly half are kept in one run of 18.
    for seed in 0..150 {
        match solved.monte_carlo(FEW, seed) {
            Ok(found) => {
                assert_eq!(found.draws, FEW);
                fewest = fewest.min(FEW - found.left_out);
            }
            Err(error) => {
                assert!(matches!(error, SetupError::NotConverged { steps: FEW, .. }), "{error}");
                refused += 1;
            }
        }
    }
    assert_eq!(fewest, FEW / 2);
    // The lower half of the runs, give or take four standard deviations.
    assert!((40..110).contains(&refused), "{refused}");
    // Many draws need no half: two hundred are enough.
    assert!(
        solve(&Straight::usual(), &[], Priors { friction: (-30.0, 40.0), ..LABEL }, 1.5e-3)
            .monte_carlo(2_000, 1)
            .is_ok()
    );
}
