//! Probabilities of normal quantities.

use statrs::function::{erf, gamma};

/// Two-sided 95 % of a normal distribution, `Φ⁻¹(0.975)`.
pub const COVERAGE_95: f64 = 1.959_963_984_540_054;

/// `Φ(x) = P(X ≤ x)` for a standard normal `X`.
#[must_use]
pub fn normal_cdf(x: f64) -> f64 {
    0.5 * erf::erfc(-x * core::f64::consts::FRAC_1_SQRT_2)
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

/// Standard deviations beyond which nothing is left to integrate.
const REACH: f64 = 6.0;

/// Distance of a bound from the mean in standard deviations; a certain quantity is at, below or above it.
fn standard(value: f64, (mean, deviation): (f64, f64)) -> f64 {
    if deviation > 0.0 {
        (value - mean) / deviation
    } else if value == mean {
        0.0
    } else {
        (value - mean) * f64::INFINITY
    }
}

/// `∫ φ(u)·rest(u) du` over the interval of `x`, where `rest` is the probability of all else given that `x` is `u` standard
/// deviations above its mean; by Simpson's rule with an even number of panels.
fn over(x: (f64, f64), within: Interval, panels: usize, rest: impl Fn(f64) -> f64) -> f64 {
    if x.1 <= 0.0 {
        return if within.0 <= x.0 && x.0 <= within.1 { rest(0.0).clamp(0.0, 1.0) } else { 0.0 };
    }
    let (low, high) = (standard(within.0, x).max(-REACH), standard(within.1, x).min(REACH));
    if low >= high {
        return 0.0;
    }
    let width = (high - low) / panels as f64;
    let sum: f64 = (0..=panels)
        .map(|k| {
            let weight = if k == 0 || k == panels {
                1.0
            } else if k % 2 == 1 {
                4.0
            } else {
                2.0
            };
            let u = low + width * k as f64;
            weight * normal_density(u) * rest(u)
        })
        .sum();
    (sum * width / 3.0).clamp(0.0, 1.0)
}

/// What a quantity is once another, correlated one is known to be `u` standard deviations above its mean.
fn given(quantity: (f64, f64), correlation: f64, u: f64) -> (f64, f64) {
    (quantity.0 + correlation * u * quantity.1, quantity.1 * left(correlation))
}

/// Share of a standard deviation that a correlated quantity leaves: `√(1 − ρ²)`.
fn left(correlation: f64) -> f64 {
    (1.0 - correlation * correlation).max(0.0).sqrt()
}

fn both(x: (f64, f64), y: (f64, f64), correlation: f64, (in_x, in_y): (Interval, Interval), panels: usize) -> f64 {
    over(x, in_x, panels, |u| {
        let y = given(y, correlation, u);
        normal_cdf(standard(in_y.1, y)) - normal_cdf(standard(in_y.0, y))
    })
}

/// `P(x ∈ X and y ∈ Y)` of two jointly normal quantities with means, standard deviations and correlation.
///
/// `∫ φ(u)·[Φ(upper(u)) − Φ(lower(u))] du` over the interval of `x`, by Simpson's rule: the integrand is smooth and
/// bounded by 1, and 200 panels over at most ±6 σ give 1e-7 for correlations up to 0.99.
#[must_use]
pub fn joint_probability(
    x: (f64, f64),
    y: (f64, f64),
    correlation: f64,
    within_x: Interval,
    within_y: Interval,
) -> f64 {
    const PANELS: usize = 200;
    both(x, y, correlation, (within_x, within_y), PANELS)
}

/// `P(x ∈ X and y ∈ Y and z ∈ Z)` of three jointly normal quantities; correlations of `x` and `y`, `x` and `z`, `y` and `z`.
///
/// The other two given `x`, as in [`joint_probability`], integrated over `x` by the same rule; 1e-4 for correlations up to
/// 0.98.
#[must_use]
pub fn joint_probability_of_three(
    [x, y, z]: [(f64, f64); 3],
    [xy, xz, yz]: [f64; 3],
    [in_x, in_y, in_z]: [Interval; 3],
) -> f64 {
    const OUTER: usize = 100;
    const INNER: usize = 50;
    let spread = left(xy) * left(xz);
    let partial = if spread > 0.0 { ((yz - xy * xz) / spread).clamp(-1.0, 1.0) } else { 0.0 };
    over(x, in_x, OUTER, |u| both(given(y, xy, u), given(z, xz, u), partial, (in_y, in_z), INNER))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn independent_probabilities_multiply() {
        let joint = joint_probability((1.0, 2.0), (-3.0, 0.5), 0.0, (0.0, 3.0), (-3.2, f64::INFINITY));
        let product = (normal_cdf(1.0) - normal_cdf(-0.5)) * normal_cdf(0.4);
        assert!((joint - product).abs() < 1e-7, "{joint} {product}");
    }

    #[test]
    fn quadrants_follow_the_arcsine_law() {
        // Sheppard: P(x>0, y>0) = 1/4 + arcsin(ρ)/2π.
        for correlation in [-0.99, -0.5, 0.0, 0.3, 0.95] {
            let joint =
                joint_probability((0.0, 1.0), (0.0, 1.0), correlation, (0.0, f64::INFINITY), (0.0, f64::INFINITY));
            let exact = 0.25 + f64::asin(correlation) / (2.0 * core::f64::consts::PI);
            assert!((joint - exact).abs() < 1e-6, "{correlation}: {joint} {exact}");
        }
    }

    #[test]
    fn octants_follow_the_arcsine_law() {
        // P(x>0, y>0, z>0) = 1/8 + (arcsin ρ₁ + arcsin ρ₂ + arcsin ρ₃)/4π (Kendall & Stuart, *The Advanced Theory of
        // Statistics*, vol. 1, 15.11; from memory).
        let above = (0.0, f64::INFINITY);
        for [xy, xz, yz] in [[0.0; 3], [0.5, -0.3, 0.2], [0.98, 0.9, 0.93], [-0.9, -0.8, 0.6]] {
            let joint = joint_probability_of_three([(0.0, 1.0); 3], [xy, xz, yz], [above; 3]);
            let angles = f64::asin(xy) + f64::asin(xz) + f64::asin(yz);
            let exact = 0.125 + angles / (4.0 * core::f64::consts::PI);
            assert!((joint - exact).abs() < 1e-4, "{xy} {xz} {yz}: {joint} {exact}");
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
        assert!((two - three).abs() < 1e-5, "{two} {three}");
        let certain = joint_probability_of_three(
            [(5.0, 0.0), pair[0], pair[1]],
            [0.0, 0.0, 0.7],
            [(4.0, 6.0), (0.0, 3.0), (-3.2, -2.0)],
        );
        assert!((two - certain).abs() < 1e-5, "{two} {certain}");
    }

    #[test]
    fn a_certain_quantity_is_in_or_out() {
        let half = joint_probability((5.0, 0.0), (0.0, 1.0), 0.0, (4.0, 6.0), (0.0, f64::INFINITY));
        assert!((half - 0.5).abs() < 1e-12);
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
}
