use super::*;
use crate::axial::Axial;
use crate::linkage::Axis;
use crate::linkage::tests::arrangements::{mm, rocker_on_swingarm};
use crate::units::{MotionRatio, Share, WheelRate};

fn coordinate(point: &str, axis: Axis, from: f64, to: f64) -> Freedom {
    let dimension = Dimension::Coordinate { point: point.to_owned(), axis };
    Freedom { dimension, from: mm(from), to: mm(to) }
}

/// A stiffening spring, in N and N/m over m.
fn spring(stroke: f64) -> Axial {
    let (rate, slope) = (8e4, 9e5);
    let force = 500.0 + stroke * (rate + 0.5 * slope * stroke);
    Axial { force, rate: rate + slope * stroke, slope, energy: 0.0 }
}

/// Bounds whose middles are not where the dimensions are.
fn free() -> [Freedom; 3] {
    let shock = Freedom { dimension: Dimension::ShockLength, from: mm(462.0), to: mm(472.0) };
    [coordinate("link_frame", Axis::X, -78.0, -50.0), coordinate("shock_frame", Axis::Z, 320.0, 345.0), shock]
}

/// What pulls in different directions, so that no design has it all.
fn targets() -> [Target; 4] {
    let ratio = MotionRatio::from_si(0.42);
    [
        Target::MotionRatio { travel: mm(60.0), value: ratio, tolerance: MotionRatio::from_si(0.003) },
        Target::WheelRate { travel: mm(150.0), value: WheelRate::from_si(1.6e4), tolerance: WheelRate::from_si(300.0) },
        Target::Progression { value: Share::from_si(0.5), tolerance: Share::from_si(0.02) },
        Target::FullTravel { value: mm(290.0), tolerance: mm(2.0) },
    ]
}

fn with_problem(ask: impl FnOnce(&Problem<'_>)) {
    let linkage = rocker_on_swingarm().linkage().unwrap();
    let was = [-0.066, 0.329, 0.4687];
    ask(&Problem { linkage: &linkage, free: &free(), targets: &targets(), was: &was, springs: &spring });
}

#[test]
fn the_first_start_is_what_there_is_and_the_others_are_inside() {
    with_problem(|problem| {
        let starts = problem.starts(5);
        assert_eq!(starts.len(), 6);
        // By hand: (−66 + 78)/28, (329 − 320)/25, (468.7 − 462)/10.
        for (share, wanted) in starts[0].iter().zip([12.0 / 28.0, 9.0 / 25.0, 0.67]) {
            assert!((share - wanted).abs() < 1e-12, "{share} {wanted}");
        }
        for (at, was) in problem.was.iter().enumerate() {
            assert!((problem.value(at, starts[0][at]) - was).abs() < 1e-15);
        }
        assert_eq!(starts[1].as_slice()[0], 0.5);
        assert!(starts.iter().flat_map(|start| start.iter()).all(|share| (0.0..=1.0).contains(share)));
        // What is outside its bounds starts on the nearer one.
        let outside = Problem { was: &[-0.2, 0.5, 0.4687], ..*problem };
        assert_eq!(outside.starts(0)[0].as_slice()[..2], [0.0, 1.0]);
    });
}

#[test]
fn residuals_are_in_tolerances_and_hold_what_there_is() {
    with_problem(|problem| {
        let at = problem.scaled_was();
        let residuals = problem.residuals(problem.linkage, &at).unwrap();
        let linkage = problem.linkage;
        let point = linkage.at(mm(60.0)).unwrap();
        assert!((residuals[0] - (point.motion_ratio.si() - 0.42) / 0.003).abs() < 1e-9);
        assert!((residuals[2] - (linkage.progression().si() - 0.5) / 0.02).abs() < 1e-9);
        assert!((residuals[3] - (linkage.full_travel() - mm(290.0)).si() / 2e-3).abs() < 1e-9);
        assert_eq!(residuals.as_slice()[4..], [0.0; 3]);
        let moved = problem.residuals(linkage, &(at + DVector::from_vec(vec![0.1, -0.2, 0.0]))).unwrap();
        assert!((moved[4] - STAY * 0.1).abs() < 1e-15 && (moved[5] + STAY * 0.2).abs() < 1e-15);
    });
}

#[test]
fn the_jacobian_is_the_derivative_of_the_residuals() {
    /// Shares of the bounds, extrapolated once: what is left of residuals of tens.
    const STEP: f64 = 2e-3;
    const DIFFERENCES: f64 = 1e-6;
    with_problem(|problem| {
        let at = DVector::from_vec(vec![0.37, 0.61, 0.52]);
        let jacobian = problem.jacobian(&problem.make(&at).unwrap()).unwrap();
        for column in 0..3 {
            let central = |step: f64| {
                let moved = |by: f64| {
                    let mut at = at.clone();
                    at[column] += by;
                    problem.residuals(&problem.make(&at).unwrap(), &at).unwrap()
                };
                (moved(step) - moved(-step)) / (2.0 * step)
            };
            let difference = (4.0 * central(STEP) - central(2.0 * STEP)) / 3.0;
            for row in 0..jacobian.nrows() {
                let (found, difference) = (jacobian[(row, column)], difference[row]);
                let allowed = DIFFERENCES * difference.abs().max(1.0);
                assert!((found - difference).abs() < allowed, "{row} {column}: {found} {difference}");
            }
        }
    });
}

/// Whatever start: where the search ends nothing near by inside the bounds costs less, and the way there was downhill.
#[test]
fn a_search_ends_where_nothing_near_costs_less() {
    with_problem(|problem| {
        let cost = |at: &DVector<f64>| {
            problem.make(at).and_then(|made| problem.residuals(&made, at)).map(|off| off.norm_squared())
        };
        for start in problem.starts(6) {
            let Ok(found) = problem.solve(&start) else { continue };
            assert!(found.cost <= cost(&start).unwrap());
            assert!((found.cost - cost(&found.at).unwrap()).abs() < 1e-9 * found.cost);
            for column in 0..3 {
                for by in [-1e-3, 1e-3] {
                    let mut near = found.at.clone();
                    near[column] = (near[column] + by).clamp(0.0, 1.0);
                    // Costs are equal to a rounding where a bound holds the step back.
                    assert!(cost(&near).unwrap() >= found.cost * (1.0 - 1e-12), "{column} {by}: {}", found.cost);
                }
            }
        }
    });
}

#[test]
fn starts_are_spread_as_halton_has_them() {
    // Halton, *Numerische Mathematik* 2, 1960: 1 = 1₂, 2 = 10₂, 6 = 110₂; 5 = 12₃, 7 = 21₃.
    for (index, base, expected) in
        [(1, 2, 0.5), (2, 2, 0.25), (6, 2, 0.375), (5, 3, 7.0 / 9.0), (7, 3, 5.0 / 9.0), (0, 5, 0.0)]
    {
        assert!((radical_inverse(index, base) - expected).abs() < 1e-15, "{index} to the base {base}");
    }
    assert_eq!([0, 1, 2, 3, 4, 5, 6, 7, 8, 9].map(prime), [2, 3, 5, 7, 11, 13, 17, 19, 23, 29], "the bases");
}

#[test]
fn a_share_is_held_where_the_cost_falls_outwards() {
    for (share, gradient, is_held) in [
        (0.0, 1.0, true),
        (0.0, -1.0, false),
        (1.0, -1.0, true),
        (1.0, 1.0, false),
        (0.5, 1.0, false),
        (0.5, -1.0, false),
        // Where it makes no difference nothing holds it.
        (0.0, 0.0, false),
        (1.0, 0.0, false),
    ] {
        assert_eq!(held(share, gradient), is_held, "{share} {gradient}");
    }
}
