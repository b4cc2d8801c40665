//! `eˣ` without a table and without a branch, so that the compiler takes several at once.
//!
//! `eˣ = 2ⁿ·eᶠ` with `|f| ≤ ln 2/2`, the series of `eᶠ` by Taylor, and `n` added to the exponent of the number.

use core::f64::consts::{LN_2, LOG2_E};

/// Added to a number, it leaves that rounded in the last bits: `1.5·2⁵²`.
const ROUNDING: f64 = 6_755_399_441_055_744.0;

/// `2ⁿ` times a series near 1, with `n` in the last bits of what was shifted.
#[inline(always)]
fn times_power_of_two(series: f64, shifted: f64) -> f64 {
    f64::from_bits(series.to_bits().wrapping_add(shifted.to_bits() << 52))
}

/// `eˣ` to the last digit or two, for `x` up to 700; of less than −708 it is 0, where a number loses its digits.
///
/// `f = x − n·ln 2` with `ln 2` in two parts, so that `n` times the first has no rounding; what the series leaves out is
/// `f¹⁴/14! < 5e-18`.
#[inline(always)]
pub(super) fn exp(x: f64) -> f64 {
    /// `ln 2` to 33 bits, and the rest (the parts of fdlibm's `e_exp.c`).
    const HIGH: f64 = 0.693_147_180_369_123_8;
    const LOW: f64 = 1.908_214_929_270_587_7e-10;
    const LEAST: f64 = -708.0;
    const TERMS: [f64; 13] = [
        1.0 / 6_227_020_800.0,
        1.0 / 479_001_600.0,
        1.0 / 39_916_800.0,
        1.0 / 3_628_800.0,
        1.0 / 362_880.0,
        1.0 / 40_320.0,
        1.0 / 5_040.0,
        1.0 / 720.0,
        1.0 / 120.0,
        1.0 / 24.0,
        1.0 / 6.0,
        1.0 / 2.0,
        1.0,
    ];
    let inside = x.max(LEAST);
    let shifted = inside * LOG2_E + ROUNDING;
    let n = shifted - ROUNDING;
    let f = (inside - n * HIGH) - n * LOW;
    let mut series = 0.0;
    for term in TERMS {
        series = series * f + term;
    }
    let found = times_power_of_two(1.0 + f * series, shifted);
    if x < LEAST { 0.0 } else { found }
}

/// The same of an `x` of at most zero, to 8e-9 relative: the series to degree 7.
#[inline(always)]
pub(super) fn exp_below_zero(x: f64) -> f64 {
    /// `eˣ` of less is 1e-26 here.
    const LEAST: f64 = -60.0;
    let x = x.max(LEAST);
    let shifted = x * LOG2_E + ROUNDING;
    let f = x - (shifted - ROUNDING) * LN_2;
    let series = 1.0
        + f * (1.0
            + f * (1.0 / 2.0
                + f * (1.0 / 6.0 + f * (1.0 / 24.0 + f * (1.0 / 120.0 + f * (1.0 / 720.0 + f / 5040.0))))));
    times_power_of_two(series, shifted)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_is_that_of_the_standard_library_to_the_last_digits() {
        /// Two units in the last place: rounding of the series, and of the standard library's.
        const LAST: f64 = 2.0 * f64::EPSILON;
        for k in -70_800..=70_000 {
            let x = 1e-2 * f64::from(k);
            assert!((exp(x) / x.exp() - 1.0).abs() <= LAST, "{x}");
        }
        assert_eq!([exp(0.0), exp(-0.0), exp(-709.0), exp(f64::NEG_INFINITY)], [1.0, 1.0, 0.0, 0.0]);
    }

    #[test]
    fn the_shorter_series_gives_eight_digits() {
        /// The term left out, `f⁸/8!/eᶠ` with `f = −ln 2/2`, and the next.
        const LEFT: f64 = 8e-9;
        for k in 0..=60_000 {
            let x = -1e-3 * f64::from(k);
            assert!((exp_below_zero(x) / x.exp() - 1.0).abs() < LEFT, "{x}");
        }
        assert!(exp_below_zero(-1e9) < 1e-26 && exp_below_zero(-0.0) == 1.0);
    }
}
