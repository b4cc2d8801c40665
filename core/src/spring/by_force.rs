//! A spring asked the other way round: compression, compliance and complementary energy as functions of force.
//!
//! `x(F)`, `c(F) = dx/dF = 1/k`, `dc/dF = −(dk/dx)/k³`, `E*(F) = ∫x dF`, with `E + E* = F·x`.
//!
//! In parallel, force, rate and energy add at one compression; in series, compression, compliance and complementary
//! energy add at one force. So a stack is the sum of its parts by force, and either view follows from the other by solving one
//! monotone equation.

use core::ops::Add;

use crate::axial::Axial;

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

/// The argument in `low..=high` at which a rising smooth function takes the value: Newton from the secant; bisection
/// where Newton leaves the bracket or gains less than half. Exact after the first step where the function is linear.
pub(super) fn solve_rising(
    f: impl Fn(f64) -> (f64, f64),
    value: f64,
    mut low: (f64, f64),
    mut high: (f64, f64),
) -> f64 {
    /// Each step halves the bracket or the miss: a double has no more than this many halvings of each.
    const MOST_STEPS: usize = 128;
    /// Roundings of the function's own value, a sum over nested springs. Below it, misses are noise.
    const CONVERGED: f64 = 16.0 * f64::EPSILON;
    let secant = low.0 + (value - low.1) * (high.0 - low.0) / (high.1 - low.1);
    let mut x = if secant.is_finite() { secant.clamp(low.0, high.0) } else { 0.5 * (low.0 + high.0) };
    let mut last_miss = f64::INFINITY;
    for _ in 0..MOST_STEPS {
        let (found, slope) = f(x);
        let miss = (found - value).abs();
        if miss <= CONVERGED * value.abs() {
            break;
        }
        if found < value {
            low = (x, found)
        } else {
            high = (x, found)
        }
        let newton = x + (value - found) / slope;
        let gains = miss < 0.5 * last_miss && newton > low.0 && newton < high.0;
        let next = if gains { newton } else { 0.5 * (low.0 + high.0) };
        if (next - x).abs() <= f64::EPSILON * x.abs() {
            break;
        }
        (x, last_miss) = (next, miss);
    }
    x
}
