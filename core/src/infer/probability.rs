//! Probabilities of normal quantities.

mod exponential;
mod gauss_legendre;
mod tabled;
mod three;
mod two;

use std::sync::Arc;

use statrs::function::gamma;

use tabled::{Arithmetic, Exact, Tabled};
use two::{Pair, RoughPair};

/// Two-sided 95 % of a normal distribution, `Φ⁻¹(0.975)`.
pub const COVERAGE_95: f64 = 1.959_963_984_540_054;

/// `Φ(x) = P(X ≤ x)` for a standard normal `X`.
#[must_use]
pub fn normal_cdf(x: f64) -> f64 {
    0.5 * libm::erfc(-x * core::f64::consts::FRAC_1_SQRT_2)
}

/// `2Φ(x) − 1`: a number uniform over −1 to 1 from a standard normal one.
pub(crate) fn uniform_from_normal(x: f64) -> f64 {
    2.0 * normal_cdf(x) - 1.0
}

/// `φ(x) = exp(−x²/2)/√(2π)`.
#[must_use]
pub fn normal_density(x: f64) -> f64 {
    const ROOT_TWO_PI: f64 = 2.506_628_274_631_000_5;
    (-0.5 * x * x).exp() / ROOT_TWO_PI
}

/// `P(χ² ≥ value)` with the given degrees of freedom; 1 for no degrees of freedom.
#[must_use]
pub fn chi_square_exceeds(value: f64, degrees: usize) -> f64 {
    if degrees == 0 || value <= 0.0 { 1.0 } else { gamma::gamma_ur(0.5 * degrees as f64, 0.5 * value) }
}

/// Mean and standard deviation of a normal distribution cut off below zero.
///
/// `E = μ + σλ`, `Var = σ²(1 − λ(λ + μ/σ))`, `λ = φ(μ/σ)/Φ(μ/σ)` (Johnson, Kotz & Balakrishnan, *Continuous Univariate
/// Distributions*, vol. 1, ch. 13).
#[must_use]
pub fn positive_part_of_normal(mean: f64, deviation: f64) -> (f64, f64) {
    // Below this the tail is an exponential of mean σ²/|μ| to 0.5 %, and the variance formula cancels.
    const FAR_BELOW: f64 = -20.0;
    let t = mean / deviation;
    if t < FAR_BELOW {
        return (-deviation / t, -deviation / t);
    }
    let hazard = normal_density(t) / normal_cdf(t);
    (deviation * (t + hazard), deviation * (1.0 - hazard * (hazard + t)).sqrt())
}

/// A closed interval of a normal quantity; infinite ends are allowed.
pub type Interval = (f64, f64);

/// `Φ(b) − Φ(a)`, from the nearer tail so that small probabilities keep their digits; 0 for an empty interval.
fn between_by<A: Arithmetic>((low, high): Interval) -> f64 {
    if low >= high {
        0.0
    } else if low > 0.0 {
        A::cdf(-low) - A::cdf(-high)
    } else {
        A::cdf(high) - A::cdf(low)
    }
}

/// An interval in standard deviations from the mean, or whether it is certain that the quantity lies in it.
enum Standard {
    Spread(Interval),
    Certain(bool),
}

impl Standard {
    fn new((mean, deviation): (f64, f64), (low, high): Interval) -> Self {
        if low == f64::NEG_INFINITY && high == f64::INFINITY {
            Self::Certain(true)
        } else if deviation > 0.0 {
            Self::Spread(((low - mean) / deviation, (high - mean) / deviation))
        } else {
            Self::Certain(low <= mean && mean <= high)
        }
    }
}

fn rectangle(x: Interval, y: Interval, correlation: f64) -> f64 {
    if x.0 >= x.1 || y.0 >= y.1 { 0.0 } else { Pair::new(correlation.clamp(-1.0, 1.0)).rectangle(x, y) }
}

/// `P(x ∈ X and y ∈ Y)` of two jointly normal quantities with means, standard deviations and correlation.
///
/// Plackett's `∂P/∂ρ = Σ ±φ₂` over the corners, by Gauss–Legendre over the correlation from 0 or from ±1 (Genz, *Statistics
/// and Computing* 14, 2004, 251–260); 1e-14 at any correlation, ±1 included. A quantity with no standard deviation is
/// certain: its correlation says nothing, and it lies in a closed interval at whose end it is.
#[must_use]
pub fn joint_probability(
    x: (f64, f64),
    y: (f64, f64),
    correlation: f64,
    within_x: Interval,
    within_y: Interval,
) -> f64 {
    joint::<Exact>([x, y], [within_x, within_y], |x, y| rectangle(x, y, correlation))
}

/// The same, where what is not certain is left to `both`.
fn joint<A: Arithmetic>(
    [x, y]: [(f64, f64); 2],
    [within_x, within_y]: [Interval; 2],
    both: impl FnOnce(Interval, Interval) -> f64,
) -> f64 {
    match (Standard::new(x, within_x), Standard::new(y, within_y)) {
        (Standard::Certain(false), _) | (_, Standard::Certain(false)) => 0.0,
        (Standard::Certain(true), Standard::Certain(true)) => 1.0,
        (Standard::Spread(one), Standard::Certain(true)) | (Standard::Certain(true), Standard::Spread(one)) => {
            between_by::<A>(one)
        }
        (Standard::Spread(x), Standard::Spread(y)) => both(x, y),
    }
}

/// `Φ(b) − Φ(a)` of a normal quantity within an interval, to 1e-7.
pub(crate) fn roughly_within((mean, deviation): (f64, f64), (low, high): Interval) -> f64 {
    between_by::<Tabled>(((low - mean) / deviation, (high - mean) / deviation))
}

/// Two jointly normal quantities of one correlation of which many probabilities are asked, each to 1e-5.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Roughly(Arc<RoughPair>);

impl Roughly {
    pub(crate) fn new(correlation: f64) -> Self {
        Self(Arc::new(RoughPair::new(correlation.clamp(-1.0, 1.0))))
    }

    /// `P(x ∈ X and y ∈ Y)` with these means and standard deviations.
    pub(crate) fn probability(&self, both: [(f64, f64); 2], within: [Interval; 2]) -> f64 {
        joint::<Tabled>(both, within, |x, y| if x.0 >= x.1 || y.0 >= y.1 { 0.0 } else { self.0.rectangle(x, y) })
    }
}

/// `P(x ∈ X and y ∈ Y and z ∈ Z)` of three jointly normal quantities; correlations of `x` and `y`, `x` and `z`, `y` and `z`.
///
/// `∫ φ(u)·P(two others | u) du` over one of them, by Gauss–Legendre with panels laid where the bounds of the others are
/// passed; the two others as in [`joint_probability`], where certain quantities are
/// spoken of too. 1e-9 at any correlations that three quantities can have.
#[must_use]
pub fn joint_probability_of_three(
    [x, y, z]: [(f64, f64); 3],
    [xy, xz, yz]: [f64; 3],
    [in_x, in_y, in_z]: [Interval; 3],
) -> f64 {
    match (Standard::new(x, in_x), Standard::new(y, in_y), Standard::new(z, in_z)) {
        (Standard::Certain(inside), ..) => {
            if inside {
                joint_probability(y, z, yz, in_y, in_z)
            } else {
                0.0
            }
        }
        (_, Standard::Certain(inside), _) => {
            if inside {
                joint_probability(x, z, xz, in_x, in_z)
            } else {
                0.0
            }
        }
        (.., Standard::Certain(inside)) => {
            if inside {
                joint_probability(x, y, xy, in_x, in_y)
            } else {
                0.0
            }
        }
        (Standard::Spread(x), Standard::Spread(y), Standard::Spread(z)) => {
            three::box_of([x, y, z], [xy, xz, yz].map(|correlation| correlation.clamp(-1.0, 1.0)))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn independent_probabilities_multiply() {
        let joint = joint_probability((1.0, 2.0), (-3.0, 0.5), 0.0, (0.0, 3.0), (-3.2, f64::INFINITY));
        let product = (normal_cdf(1.0) - normal_cdf(-0.5)) * normal_cdf(0.4);
        assert!((joint - product).abs() < 1e-15, "{joint} {product}");
    }

    #[test]
    fn what_searches_ask_is_the_same_to_a_hundred_thousandth() {
        for correlation in [-1.0, -0.96, -0.9, -0.5, 0.0, 0.3, 0.76, 0.92, 0.93, 0.999] {
            let roughly = Roughly::new(correlation);
            for (low, high) in [(-3.0, 0.2), (-0.4, 0.3), (0.5, 2.5), (f64::NEG_INFINITY, 1.0)] {
                for other in [(-1.0, 1.0), (0.1, 0.9), (-0.2, f64::INFINITY)] {
                    let (x, y) = ((0.3, 1.2), (0.1, 0.7));
                    let exact = joint_probability(x, y, correlation, (low, high), other);
                    let rough = roughly.probability([x, y], [(low, high), other]);
                    assert!((rough - exact).abs() < 1e-5, "{correlation}: {rough} {exact}");
                }
            }
        }
    }

    #[test]
    fn a_pair_in_a_sum_is_the_same_but_for_its_fewer_nodes() {
        /// Four corners, 4e-11 each.
        const FOUR_CORNERS: f64 = 1.6e-10;
        for correlation in [-0.97, -0.925, -0.75, -0.6, 0.2, 0.6, 0.61, 0.8, 0.925] {
            let (few, many) = (Pair::in_a_sum(correlation), Pair::new(correlation));
            for x in [(-3.0, 0.2), (-0.4, 0.3), (0.5, 2.5), (f64::NEG_INFINITY, 1.0), (1.0, 1.1)] {
                for y in [(-1.0, 1.0), (0.1, 0.9), (-0.2, f64::INFINITY), (0.9, 1.2)] {
                    let off = few.rectangle(x, y) - many.rectangle(x, y);
                    assert!(off.abs() < FOUR_CORNERS, "{correlation}, {x:?}, {y:?}: {off}");
                }
            }
        }
    }

    #[test]
    fn quadrants_follow_the_arcsine_law() {
        // Sheppard: P(x>0, y>0) = 1/4 + arcsin(ρ)/2π.
        for correlation in [-0.99, -0.5, 0.0, 0.3, 0.95] {
            let joint =
                joint_probability((0.0, 1.0), (0.0, 1.0), correlation, (0.0, f64::INFINITY), (0.0, f64::INFINITY));
            let exact = 0.25 + f64::asin(correlation) / (2.0 * core::f64::consts::PI);
            assert!((joint - exact).abs() < 1e-15, "{correlation}: {joint} {exact}");
        }
    }

    #[test]
    fn octants_follow_the_arcsine_law() {
        // P(x>0, y>0, z>0) = 1/8 + (arcsin ρ₁ + arcsin ρ₂ + arcsin ρ₃)/4π (F. N. David, Biometrika 40, 1953,
        // 458–459; from memory).
        let above = (0.0, f64::INFINITY);
        for [xy, xz, yz] in [[0.0; 3], [0.5, -0.3, 0.2], [0.98, 0.9, 0.93], [-0.9, -0.8, 0.6]] {
            let joint = joint_probability_of_three([(0.0, 1.0); 3], [xy, xz, yz], [above; 3]);
            let angles = f64::asin(xy) + f64::asin(xz) + f64::asin(yz);
            let exact = 0.125 + angles / (4.0 * core::f64::consts::PI);
            assert!((joint - exact).abs() < 1e-9, "{xy} {xz} {yz}: {joint} {exact}");
        }
    }

    #[test]
    fn a_third_quantity_that_holds_anyway_changes_nothing() {
        let pair = [(1.0, 2.0), (-3.0, 0.5)];
        let two = joint_probability(pair[0], pair[1], 0.7, (0.0, 3.0), (-3.2, -2.0));
        let all = (f64::NEG_INFINITY, f64::INFINITY);
        let three = joint_probability_of_three(
            [pair[0], pair[1], (9.0, 1.0)],
            [0.7, 0.4, -0.2],
            [(0.0, 3.0), (-3.2, -2.0), all],
        );
        assert!((two - three).abs() < 1e-15, "{two} {three}");
        let certain = joint_probability_of_three(
            [(5.0, 0.0), pair[0], pair[1]],
            [0.0, 0.0, 0.7],
            [(4.0, 6.0), (0.0, 3.0), (-3.2, -2.0)],
        );
        assert!((two - certain).abs() < 1e-15, "{two} {certain}");
    }

    #[test]
    fn a_certain_quantity_is_in_or_out() {
        let half = joint_probability((5.0, 0.0), (0.0, 1.0), 0.0, (4.0, 6.0), (0.0, f64::INFINITY));
        assert!((half - 0.5).abs() < 1e-15);
        assert_eq!(joint_probability((7.0, 0.0), (0.0, 1.0), 0.0, (4.0, 6.0), (0.0, 1.0)), 0.0);
    }

    #[test]
    fn cut_normal_has_the_known_moments() {
        // Half-normal: mean √(2/π), variance 1 − 2/π.
        let (mean, deviation) = positive_part_of_normal(0.0, 1.0);
        let exact = (2.0 / core::f64::consts::PI).sqrt();
        assert!((mean - exact).abs() < 1e-12 && (deviation - (1.0 - exact * exact).sqrt()).abs() < 1e-12);
        let (mean, deviation) = positive_part_of_normal(50.0, 2.0);
        assert!((mean - 50.0).abs() < 1e-9 && (deviation - 2.0).abs() < 1e-9);
        // Far below: an exponential of mean 1/|t|.
        let (mean, deviation) = positive_part_of_normal(-30.0, 1.0);
        assert!((mean * 30.0 - 1.0).abs() < 0.01 && (deviation * 30.0 - 1.0).abs() < 0.01, "{mean} {deviation}");
    }

    #[test]
    fn chi_square_has_the_tabulated_quantiles() {
        // Tables of the 95 % quantile: 3.841 (1), 11.070 (5), 18.307 (10).
        for (degrees, quantile) in [(1, 3.841), (5, 11.070), (10, 18.307)] {
            assert!((chi_square_exceeds(quantile, degrees) - 0.05).abs() < 1e-4);
        }
    }

    /// As far out as a normal quantity has any probability at all, where the exponentials of a corner overflow one by one.
    #[test]
    fn bounds_that_nothing_reaches_leave_everything_inside() {
        let (unit, all) = ((0.0, 1.0), f64::INFINITY);
        for far in [9.0, 27.0, 38.0] {
            for size in [0.5, 0.95, 0.99, 0.999_999, 1.0] {
                let inside = joint_probability(unit, unit, size, (-all, far), (-far, all));
                assert!((inside - 1.0).abs() < 1e-14, "{far} {size}: {inside}");
                let inside = joint_probability(unit, unit, -size, (-all, far), (-all, far));
                assert!((inside - 1.0).abs() < 1e-14, "{far} {size}: {inside}");
                let beyond = joint_probability(unit, unit, size, (far, all), (-all, -far));
                assert!((0.0..1e-18).contains(&beyond), "{far} {size}: {beyond}");
            }
        }
    }
}
