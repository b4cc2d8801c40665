//! Probabilities of normal quantities: symmetric, growing with their intervals, adding up to one, the same in any order.

use core::f64::consts::{PI, TAU};

use proptest::prelude::*;
use wheelrate::infer::probability::{joint_probability, joint_probability_of_three, normal_cdf};

type Interval = (f64, f64);

const STANDARD: (f64, f64) = (0.0, 1.0);
const ABOVE: Interval = (0.0, f64::INFINITY);
const ANY: Interval = (f64::NEG_INFINITY, f64::INFINITY);
/// Rounding of up to nine probabilities of the order of 1.
const OF_TWO: f64 = 1e-14;
/// What is said of three, once for every probability in a sum.
const OF_THREE: f64 = 1e-9;

fn two(correlation: f64, x: Interval, y: Interval) -> f64 {
    joint_probability(STANDARD, STANDARD, correlation, x, y)
}

fn three(correlations: [f64; 3], within: [Interval; 3]) -> f64 {
    joint_probability_of_three([STANDARD; 3], correlations, within)
}

/// From −1 to 1, often near the ends and at them.
fn correlation() -> impl Strategy<Value = f64> {
    let near = |exponent: f64| 1.0 - 10f64.powf(exponent);
    prop_oneof![
        -1.0..1.0,
        (-14.0..-1.0).prop_map(near),
        (-14.0..-1.0).prop_map(move |exponent| -near(exponent)),
        Just(1.0),
        Just(-1.0),
    ]
}

fn interval() -> impl Strategy<Value = Interval> {
    prop_oneof![
        (-4.0..4.0, 0.0..4.0).prop_map(|(low, width)| (low, low + width)),
        (-4.0..4.0).prop_map(|low| (low, f64::INFINITY)),
        (-4.0..4.0).prop_map(|high| (f64::NEG_INFINITY, high)),
    ]
}

/// Correlations of three sums of three independent quantities, of two (singular), or nearly of two.
fn correlations() -> impl Strategy<Value = [f64; 3]> {
    let third = prop_oneof![Just(1.0), Just(0.0), (-8.0..-1.0).prop_map(|exponent: f64| 10f64.powf(exponent))];
    (prop::array::uniform3(prop::array::uniform3(-1.0..1.0)), third).prop_filter_map(
        "no spread",
        |(mut rows, third)| {
            for row in &mut rows {
                row[2] *= third;
                let length = row.iter().map(|x: &f64| x * x).sum::<f64>().sqrt();
                if length < 0.01 {
                    return None;
                }
                row.iter_mut().for_each(|x| *x /= length);
            }
            let product = |i: usize, j: usize| (0..3).map(|k| rows[i][k] * rows[j][k]).sum::<f64>().clamp(-1.0, 1.0);
            Some([product(0, 1), product(0, 2), product(1, 2)])
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1024))]

    #[test]
    fn two_do_not_mind_their_order_or_a_mirror(r in correlation(), x in interval(), y in interval()) {
        let found = two(r, x, y);
        prop_assert!((found - two(r, y, x)).abs() < OF_TWO);
        prop_assert!((found - two(-r, x, (-y.1, -y.0))).abs() < OF_TWO);
    }

    #[test]
    fn two_add_up(r in correlation(), x in interval(), cut in -4.0..4.0) {
        let (below, above) = (two(r, x, (f64::NEG_INFINITY, cut)), two(r, x, (cut, f64::INFINITY)));
        prop_assert!((below + above - (normal_cdf(x.1) - normal_cdf(x.0))).abs() < OF_TWO);
    }

    #[test]
    fn two_grow_with_an_interval(r in correlation(), x in interval(), y in interval(), more in 0.0..2.0) {
        prop_assert!(two(r, x, (y.0, y.1 + more)) >= two(r, x, y) - OF_TWO);
    }

    #[test]
    fn quadrants_rise_with_the_correlation(r in correlation(), s in correlation(), low in -3.0..3.0, high in -3.0..3.0) {
        // Slepian's inequality.
        let quadrant = |r: f64| two(r, (low, f64::INFINITY), (high, f64::INFINITY));
        prop_assert!(quadrant(r.max(s)) >= quadrant(r.min(s)) - OF_TWO);
    }

    #[test]
    fn a_quadrant_is_an_arc(r in correlation()) {
        // Sheppard: P(x>0, y>0) = 1/4 + arcsin(ρ)/2π. The arc turns by √(2(1 − ρ)) at its end: 1e-15 of it is a rounding.
        prop_assert!((two(r, ABOVE, ABOVE) - 0.25 - r.asin() / TAU).abs() < OF_TWO);
    }

    #[test]
    fn an_octant_is_three_arcs(r in correlations()) {
        // David 1953: P(x>0, y>0, z>0) = 1/8 + (arcsin xy + arcsin xz + arcsin yz)/4π.
        let exact = 0.125 + r.map(f64::asin).iter().sum::<f64>() / (4.0 * PI);
        prop_assert!((three(r, [ABOVE; 3]) - exact).abs() < OF_THREE);
    }

    #[test]
    fn three_do_not_mind_their_order([xy, xz, yz] in correlations(), x in interval(), y in interval(), z in interval()) {
        let found = three([xy, xz, yz], [x, y, z]);
        let allowed = 2.0 * OF_THREE;
        prop_assert!((found - three([xz, xy, yz], [x, z, y])).abs() < allowed);
        prop_assert!((found - three([xy, yz, xz], [y, x, z])).abs() < allowed);
        prop_assert!((found - three([yz, xz, xy], [z, y, x])).abs() < allowed);
        prop_assert!((found - three([-xy, -xz, yz], [(-x.1, -x.0), y, z])).abs() < allowed);
    }

    #[test]
    fn three_add_up(r in correlations(), x in interval(), y in interval(), cut in -4.0..4.0) {
        let (below, above) = (three(r, [x, y, (f64::NEG_INFINITY, cut)]), three(r, [x, y, (cut, f64::INFINITY)]));
        prop_assert!((below + above - two(r[0], x, y)).abs() < 3.0 * OF_THREE);
    }

    #[test]
    fn three_are_no_more_likely_than_two(r in correlations(), x in interval(), y in interval(), z in interval()) {
        let found = three(r, [x, y, z]);
        prop_assert!((0.0..=two(r[0], x, y) + OF_THREE).contains(&found));
    }

    #[test]
    fn a_third_of_which_nothing_is_asked_changes_nothing(r in correlations(), x in interval(), y in interval()) {
        prop_assert!((three(r, [x, y, ANY]) - two(r[0], x, y)).abs() < OF_TWO);
    }

    #[test]
    fn a_certain_quantity_leaves_the_others(r in correlation(), x in interval(), y in interval(), at in -4.0..4.0) {
        let with = |within: Interval| {
            joint_probability_of_three([STANDARD, (at, 0.0), STANDARD], [0.3, r, -0.2], [x, within, y])
        };
        prop_assert_eq!(with((at, at)), two(r, x, y));
        prop_assert_eq!(with((at + 1e-9, 9.0)), 0.0);
    }

    #[test]
    fn no_number_gives_no_panic(bad in prop::num::f64::ANY, at in 0..5_usize, r in correlations(), x in interval()) {
        let mut given = [0.0, 1.0, r[0], x.0, x.1];
        given[at] = bad;
        let [mean, deviation, correlation, low, high] = given;
        let found = joint_probability_of_three(
            [(mean, deviation), STANDARD, STANDARD],
            [correlation, r[1], r[2]],
            [(low, high), ABOVE, x],
        );
        prop_assert!(found.is_nan() || (0.0..=1.0).contains(&found));
    }
}
