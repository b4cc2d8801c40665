//! Weighting of vertical acceleration by frequency (ISO 2631-1).

use core::f64::consts::{SQRT_2, TAU};

use nalgebra::Complex;

use crate::error::Result;
use crate::units::{Frequency, Quantity, check};

/// `W_k = H_h·H_l·H_t·H_s`: how much a standing or sitting person feels of a vertical acceleration of this frequency,
///
/// `H_h = 1/(1 + √2·ω₁/p + (ω₁/p)²)`, `H_l = 1/(1 + √2·p/ω₂ + (p/ω₂)²)`, `H_t = (1 + p/ω₃)/(1 + p/(Q₄·ω₄) + (p/ω₄)²)`,
/// `H_s = (1 + p/(Q₅·ω₅) + (p/ω₅)²)/(1 + p/(Q₆·ω₆) + (p/ω₆)²)·(ω₅/ω₆)²`, `p = i·ω`.
///
/// Constants of ISO 2631-1:1997, annex A, weighting `W_k`: 0.4, 100, 12.5, 12.5, 2.37 and 3.35 Hz, `Q₄` 0.63, `Q₅` and `Q₆` 0.91
/// (constants from memory, not looked up in the standard).
///
/// # Errors
/// [`UnitError`](crate::error::UnitError) unless the frequency is above zero.
pub fn vertical_weighting(frequency: Frequency) -> Result<f64> {
    Ok(squared(check::positive("frequency", frequency)?.si()).sqrt())
}

/// `|W_k|²` at a frequency in Hz.
pub(super) fn squared(frequency: f64) -> f64 {
    const F: [f64; 6] = [0.4, 100.0, 12.5, 12.5, 2.37, 3.35];
    const Q: [f64; 3] = [0.63, 0.91, 0.91];
    let p = Complex::new(0.0, TAU * frequency);
    let w = F.map(|corner| TAU * corner);
    let one = Complex::new(1.0, 0.0);
    let quadratic = |corner: f64, q: f64| one + p / (q * corner) + (p / corner).powi(2);
    let high = one / (one + Complex::new(SQRT_2 * w[0], 0.0) / p + (Complex::new(w[0], 0.0) / p).powi(2));
    let low = one / quadratic(w[1], 1.0 / SQRT_2);
    let transition = (one + p / w[2]) / quadratic(w[3], Q[0]);
    let step = quadratic(w[4], Q[1]) / quadratic(w[5], Q[2]) * (w[4] / w[5]).powi(2);
    (high * low * transition * step).norm_sqr()
}
