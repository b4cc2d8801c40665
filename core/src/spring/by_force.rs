//! A spring asked the other way round: compression, compliance and complementary energy as functions of force.
//!
//! `x(F)`, `c(F) = dx/dF = 1/k`, `dc/dF = −(dk/dx)/k³`, `E*(F) = ∫x dF`, with `E + E* = F·x`.
//!
//! In parallel, force, rate and energy add at one compression; in series, compression, compliance and complementary
//! energy add at one force. So a stack is the sum of its parts by force, and either view follows from the other by solving one
//! monotone equation.

use core::ops::Add;

use crate::axial::Axial;
use crate::solve::{Close, Slope, root};

/// Compression, compliance and complementary energy at one force, in SI units.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct ByForce {
    pub(super) compression: f64,
    pub(super) compliance: f64,
    /// `dc/dF`.
    pub(super) compliance_slope: f64,
    pub(super) complementary_energy: f64,
}

impl Add for ByForce {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            compression: self.compression + other.compression,
            compliance: self.compliance + other.compliance,
            compliance_slope: self.compliance_slope + other.compliance_slope,
            complementary_energy: self.complementary_energy + other.complementary_energy,
        }
    }
}

impl core::iter::Sum for ByForce {
    fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
        parts.fold(Self::default(), Add::add)
    }
}

impl ByForce {
    /// From the view over compression.
    pub(super) fn of(compression: f64, state: Axial) -> Self {
        Self {
            compression,
            compliance: 1.0 / state.rate,
            compliance_slope: -state.slope / state.rate.powi(3),
            complementary_energy: state.force * compression - state.energy,
        }
    }

    /// To the view over compression.
    pub(super) fn at_force(self, force: f64) -> Axial {
        let rate = 1.0 / self.compliance;
        let slope = -self.compliance_slope * rate.powi(3);
        Axial { force, rate, slope, energy: force * self.compression - self.complementary_energy }
    }
}

/// The argument between two places (argument and value) at which a rising smooth function takes a value, looked for from the
/// secant: exact at once where the function is linear.
pub(super) fn solve_rising(f: impl Fn(f64) -> (f64, f64), value: f64, low: (f64, f64), high: (f64, f64)) -> f64 {
    /// Roundings of the function's own value, a sum over nested springs. Below it, misses are noise.
    const CONVERGED: f64 = 16.0 * f64::EPSILON;
    let secant = low.0 + (value - low.1) * (high.0 - low.0) / (high.1 - low.1);
    let miss = |x| {
        let (found, slope) = f(x);
        (found - value, slope)
    };
    let close = Close { step: 0.0, value: CONVERGED * value.abs() };
    root(miss, Slope::Rising, [low.0, high.0], secant, close)
}

/// As [`solve_rising`], from one place on: the bracket doubles until it spans the value.
pub(super) fn solve_rising_beyond(f: impl Fn(f64) -> (f64, f64), value: f64, low: (f64, f64), guess: f64) -> f64 {
    let mut above = guess;
    while f(above).0 < value && above.is_finite() {
        above *= 2.0;
    }
    solve_rising(&f, value, low, (above, f(above).0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use core::cell::Cell;

    #[test]
    fn a_straight_line_is_met_at_the_first_look() {
        let looks = Cell::new(0);
        let line = |x: f64| {
            looks.set(looks.get() + 1);
            (3.0 + 2.0 * x, 2.0)
        };
        assert_eq!(solve_rising(line, 8.0, (1.0, 5.0), (5.0, 13.0)), 2.5);
        assert_eq!(looks.get(), 1);
    }

    #[test]
    fn from_one_place_on_the_bracket_grows_until_it_holds() {
        // The guess is far below, at and above what is wanted.
        for guess in [1e-6, 3.0, 40.0] {
            let found = solve_rising_beyond(|x| (x * x, 2.0 * x), 9.0, (1.0, 1.0), guess);
            assert!((found - 3.0).abs() < 1e-14, "{guess}: {found}");
        }
    }

    #[test]
    fn both_views_turn_into_each_other() {
        let state = Axial { force: 120.0, rate: 5e3, slope: 2e4, energy: 1.3 };
        let by_force = ByForce::of(0.03, state);
        assert!((by_force.complementary_energy - (120.0 * 0.03 - 1.3)).abs() < 1e-15);
        let back = by_force.at_force(120.0);
        assert!((back.rate / 5e3 - 1.0).abs() < 1e-14 && (back.slope / 2e4 - 1.0).abs() < 1e-14);
        assert!((back.energy - 1.3).abs() < 1e-14 && back.force == 120.0);
    }
}
