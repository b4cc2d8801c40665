//! Probabilities of normal quantities.

use statrs::function::{erf, gamma};

/// Two-sided 95 % of a normal distribution, `Φ⁻¹(0.975)`.
pub const COVERAGE_95: f64 = 1.959_963_984_540_054;

/// `Φ(x) = P(X ≤ x)` for a standard normal `X`.
#[must_use]
pub fn normal_cdf(x: f64) -> f64 {
    0.5 * erf::erfc(-x * core::f64::consts::FRAC_1_SQRT_2)
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
    const REACH: f64 = 6.0;
    const PANELS: usize = 200;
    let standard = |value: f64, (mean, deviation): (f64, f64)| {
        if deviation > 0.0 {
            (value - mean) / deviation
        } else if value == mean {
            0.0
        } else {
            (value - mean) * f64::INFINITY
        }
    };
    let (low, high) = (standard(within_x.0, x).max(-REACH), standard(within_x.1, x).min(REACH));
    if low > high || (low == high && x.1 > 0.0) {
        return 0.0;
    }
    let spread = (1.0 - correlation * correlation).max(0.0).sqrt();
    let conditional = |u: f64| {
        let given = (y.0 + correlation * u * y.1, spread * y.1);
        normal_cdf(standard(within_y.1, given)) - normal_cdf(standard(within_y.0, given))
    };
    if x.1 <= 0.0 {
        let hit = within_x.0 <= x.0 && x.0 <= within_x.1;
        return if hit { conditional(0.0).clamp(0.0, 1.0) } else { 0.0 };
    }
    let width = (high - low) / PANELS as f64;
    let sum: f64 = (0..=PANELS)
        .map(|k| {
            let weight = if k == 0 || k == PANELS {
                1.0
            } else if k % 2 == 1 {
                4.0
            } else {
                2.0
            };
            let u = low + width * k as f64;
            weight * normal_density(u) * conditional(u)
        })
        .sum();
    (sum * width / 3.0).clamp(0.0, 1.0)
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
