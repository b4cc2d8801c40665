//! Worked examples of the Guide to the expression of uncertainty in measurement: JCGM 100:2008 H.1 (end gauge),
//! H.2 (correlated inputs), H.3 (straight-line calibration); JCGM 101:2008 9.2 (additive model), 9.3 (weight), first order.

use wheelrate::infer::least_squares::{NormalEquations, Residuals, Stopping, covariance_of, minimise};
use wheelrate::infer::probability::{COVERAGE_95, normal_cdf};

use crate::outside::{Tolerance, agree};

/// A value as it is printed.
const fn half(digit: f64) -> Tolerance {
    Tolerance::absolute(digit, "half of the last printed digit; one digit where the book's own rounding is loose")
}

#[test]
fn h1_end_gauge_budget() {
    // l = ls + d − ls·(δα·θ + αs·δθ), all in nm and K; sensitivities at δα = δθ = 0, θ = −0.1 K.
    let (length, expansion) = (50_000_623.0, 11.5e-6);
    let rectangular = |half: f64| half / 3f64.sqrt();
    let parts = [5.8_f64, 3.9, 6.7];
    let uncertainties: [f64; 6] = [25.0, parts[0], parts[1], parts[2], rectangular(1e-6), rectangular(0.05)];
    let sensitivities = [1.0, 1.0, 1.0, 1.0, length * 0.1, length * expansion];
    let mut covariance = [[0.0; 6]; 6];
    for (k, u) in uncertainties.iter().enumerate() {
        covariance[k][k] = u * u;
    }
    let combined = covariance_of(&covariance, &sensitivities, &sensitivities).sqrt();
    // Printed 32 nm; 31.664 in full.
    agree!(combined, 31.664, half(0.0005));
    agree!(sensitivities[5] * uncertainties[5], 16.599, half(0.0005));
    agree!(sensitivities[4] * uncertainties[4], 2.886_79, half(0.0005));
}

#[test]
fn h2_resistance_and_reactance_from_correlated_means() {
    let rows: [[f64; 3]; 5] = [
        [5.007, 19.663e-3, 1.0456],
        [4.994, 19.639e-3, 1.0438],
        [5.005, 19.640e-3, 1.0468],
        [4.990, 19.685e-3, 1.0428],
        [4.999, 19.678e-3, 1.0433],
    ];
    let mean: [f64; 3] = core::array::from_fn(|k| rows.iter().map(|row| row[k]).sum::<f64>() / 5.0);
    let covariance: [[f64; 3]; 3] = core::array::from_fn(|i| {
        core::array::from_fn(|j| rows.iter().map(|row| (row[i] - mean[i]) * (row[j] - mean[j])).sum::<f64>() / 20.0)
    });
    let [voltage, current, phase] = mean;
    let impedance = voltage / current;
    let resistance = [phase.cos() / current, -impedance / current * phase.cos(), -impedance * phase.sin()];
    let reactance = [phase.sin() / current, -impedance / current * phase.sin(), impedance * phase.cos()];
    let modulus = [1.0 / current, -impedance / current, 0.0];
    let deviation = |g: &[f64; 3]| covariance_of(&covariance, g, g).sqrt();
    let correlation = |g: &[f64; 3], h: &[f64; 3]| covariance_of(&covariance, g, h) / (deviation(g) * deviation(h));
    agree!(impedance * phase.cos(), 127.732, half(5e-4));
    agree!(impedance * phase.sin(), 219.847, half(5e-4));
    agree!(impedance, 254.260, half(5e-4));
    agree!(deviation(&resistance), 0.071, half(5e-4));
    agree!(deviation(&reactance), 0.295, half(1e-3));
    agree!(deviation(&modulus), 0.236, half(5e-4));
    agree!(correlation(&resistance, &reactance), -0.588, half(5e-4));
    agree!(correlation(&resistance, &modulus), -0.485, half(5e-4));
    agree!(correlation(&reactance, &modulus), 0.993, half(5e-4));
}

struct Line;

impl Residuals<2> for Line {
    fn accumulate(&mut self, &[intercept, slope]: &[f64; 2], equations: &mut NormalEquations<2>) {
        let t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511];
        let b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160];
        for (t, b) in t.into_iter().zip(b) {
            equations.add(intercept + slope * (t - 20.0) - b, &[1.0, t - 20.0]);
        }
    }
}

#[test]
fn h3_thermometer_calibration() {
    const FULL: Tolerance = Tolerance::relative(1e-11, "the full values are exact arithmetic of the printed data");
    let fit = minimise(&mut Line, [0.0, 0.0], Stopping { damping: 0.0, ..Stopping::default() }).unwrap();
    let variance = fit.residual_variance();
    agree!(fit.parameters[0], -0.171_203_790_131_35, FULL);
    agree!(fit.parameters[1], 0.002_182_697_739_887_29, FULL);
    agree!((fit.covariance[1][1] * variance).sqrt(), 0.000_667_938_773_227_8, FULL);
    agree!(fit.cost, 0.000_110_096_583_109, FULL);
    agree!((fit.covariance[0][0] * variance).sqrt(), 0.0029, half(5e-5));
    let correlation = fit.covariance[0][1] / (fit.covariance[0][0] * fit.covariance[1][1]).sqrt();
    agree!(correlation, -0.930, half(5e-4));
    // Correction at 30 degC.
    agree!(fit.parameters[0] + 10.0 * fit.parameters[1], -0.1494, half(5e-5));
    agree!((fit.variance_of(&[1.0, 10.0]) * variance).sqrt(), 0.0041, half(5e-5));
}

/// 9.2.2: four standard normals; 9.3: a weight against a reference, first order. Their draws, and those of 9.2.3 and 9.2.4,
/// are checked beside the library's own in `infer::monte_carlo`.
#[test]
fn s1_first_order_of_the_additive_model_and_of_the_weight() {
    let covariance: [[f64; 4]; 4] = core::array::from_fn(|i| core::array::from_fn(|j| f64::from(i == j)));
    let deviation = covariance_of(&covariance, &[1.0; 4], &[1.0; 4]).sqrt();
    agree!(deviation, 2.0, Tolerance::absolute(0.0, "exact"));
    agree!(COVERAGE_95 * deviation, 3.92, half(5e-3));
    agree!(normal_cdf(COVERAGE_95), 0.975, Tolerance::absolute(1e-11, "digits of the constant"));
    // m_R, δm_R, ρ_a, ρ_W, ρ_R in mg and kg/m³: where ρ_a is 1.2 and both weights weigh alike, only the masses count.
    let rectangular = |half: f64| half / 3f64.sqrt();
    let uncertainties = [0.050, 0.020, rectangular(0.1), rectangular(1000.0), rectangular(50.0)];
    let (mass, air, density) = (100_001.234, 1.2 - 1.2, 8000.0);
    let buoyancy = mass * air / (density * density);
    let gradient = [1.0, 1.0, mass * (1.0 / density - 1.0 / density), -buoyancy, buoyancy];
    let covariance: [[f64; 5]; 5] =
        core::array::from_fn(|i| core::array::from_fn(|j| if i == j { uncertainties[i].powi(2) } else { 0.0 }));
    let deviation = covariance_of(&covariance, &gradient, &gradient).sqrt();
    agree!(deviation, 0.0539, half(5e-5));
    agree!(1.2340 - COVERAGE_95 * deviation, 1.1285, half(5e-4));
    agree!(1.2340 + COVERAGE_95 * deviation, 1.3395, half(5e-4));
}
