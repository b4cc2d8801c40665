//! Probabilities of normal quantities against mpmath: boxes of two and three with correlations from 0 to 1, singular
//! matrices and tails; the normal distribution itself.
//!
//! Source: `normal/boxes.txt`, written by `python tests/python/normal_boxes.py` (mpmath 1.3.0, 40 digits), which integrates
//! by other formulas than the library. `tests/python/test_normal_boxes.py` computes rows of it anew.

use wheelrate::infer::probability::{joint_probability, joint_probability_of_three, normal_cdf};

use crate::outside::{Tolerance, agree};

const TWO: Tolerance = Tolerance::absolute(1e-15, "rounding of a few values of the order of 1");
const TWO_IN_A_TAIL: Tolerance = Tolerance::relative(
    1e-9,
    "in a tail the six nodes for small correlations give ten digits; so does rounding beside the chance of one of the two",
);
const THREE: Tolerance = Tolerance::absolute(1e-9, "what is said of three");
const THREE_IN_A_TAIL: Tolerance =
    Tolerance::relative(1e-5, "in a tail: what is cut off at eight standard deviations, 6e-16, beside 1e-12");
/// A chance below this lies in a tail; below the next one nobody asks.
const TAIL: f64 = 1e-6;
const NOTHING: f64 = 1e-12;

const STANDARD: (f64, f64) = (0.0, 1.0);

/// Correlations, bounds and probability of the rows of a kind.
fn rows(kind: &str) -> Vec<Vec<f64>> {
    include_str!("normal/boxes.txt")
        .lines()
        .filter_map(|line| line.strip_prefix(kind))
        .map(|line| line.split_whitespace().map(|word| word.parse().unwrap()).collect())
        .collect()
}

fn check(found: f64, exact: f64, absolute: Tolerance, in_a_tail: Tolerance, row: &[f64]) {
    agree!(found, exact, absolute, "box {row:?}");
    if (NOTHING..TAIL).contains(&exact) {
        agree!(found, exact, in_a_tail, "box in a tail {row:?}");
    }
}

#[test]
fn boxes_of_two() {
    let rows = rows("two ");
    assert_eq!(rows.len(), 13 * 9);
    for row in &rows {
        let [correlation, a, b, c, d, exact] = row[..] else { panic!("{row:?}") };
        let found = joint_probability(STANDARD, STANDARD, correlation, (a, b), (c, d));
        check(found, exact, TWO, TWO_IN_A_TAIL, row);
        // The same in other units and with the two exchanged.
        let found = joint_probability(
            (-3.0, 0.25),
            (8.0, 4.0),
            correlation,
            (0.25 * c - 3.0, 0.25 * d - 3.0),
            (4.0 * a + 8.0, 4.0 * b + 8.0),
        );
        // Bounds are exact to a rounding of 8, so 1e-15; near |ρ| = 1 no more than that of a density of 0.4 is lost.
        agree!(found, exact, TWO.times(2.0), "box in other units {row:?}");
    }
}

#[test]
fn boxes_of_three() {
    let rows = rows("three ");
    assert_eq!(rows.len(), 11 * 5);
    for row in &rows {
        let [xy, xz, yz, a, b, c, d, e, f, exact] = row[..] else { panic!("{row:?}") };
        let found = joint_probability_of_three([STANDARD; 3], [xy, xz, yz], [(a, b), (c, d), (e, f)]);
        check(found, exact, THREE, THREE_IN_A_TAIL, row);
    }
}

#[test]
fn the_distribution_keeps_its_digits() {
    const DIGITS: Tolerance = Tolerance::relative(
        2e-13,
        "rounding of the argument times the argument: 38²/2 roundings; subnormal at the far end",
    );
    // mpmath 1.3.0: `mp.ncdf(x)`.
    for (x, exact) in [
        (-38.0, 2.885_428_35e-316),
        (-6.0, 9.865_876_450_376_98e-10),
        (-0.713, 0.237_922_878_568_157),
        (0.5, 0.691_462_461_274_013_1),
        (3.25, 0.999_422_974_957_609_2),
    ] {
        let found = normal_cdf(x);
        agree!(found, exact, DIGITS, "normal distribution at {x}");
    }
}
