//! Numbers that carry the derivative by one parameter along: forward-mode differentiation of the same kernels.

use core::ops::{Add, Div, Mul, Neg, Sub};

use nalgebra::{Dyn, LU};

use super::real::Real;

/// A value and its derivative by a parameter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Dual {
    pub(crate) value: f64,
    pub(crate) derivative: f64,
}

impl Dual {
    pub(crate) fn new(value: f64, derivative: f64) -> Self {
        Self { value, derivative }
    }
}

impl Add for Dual {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.value + other.value, self.derivative + other.derivative)
    }
}

impl Sub for Dual {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.value - other.value, self.derivative - other.derivative)
    }
}

impl Mul for Dual {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        Self::new(self.value * other.value, self.derivative * other.value + self.value * other.derivative)
    }
}

impl Div for Dual {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        let value = self.value / other.value;
        Self::new(value, (self.derivative - value * other.derivative) / other.value)
    }
}

impl Neg for Dual {
    type Output = Self;
    fn neg(self) -> Self {
        Self::new(-self.value, -self.derivative)
    }
}

impl Real for Dual {
    // The first pass settles the values, the second the derivatives.
    const LINEAR_PASSES: usize = 2;
    fn of(value: f64) -> Self {
        Self::new(value, 0.0)
    }
    fn value(self) -> f64 {
        self.value
    }
    fn sqrt(self) -> Self {
        let root = self.value.sqrt();
        Self::new(root, 0.5 * self.derivative / root)
    }
    fn solve(lu: &LU<f64, Dyn, Dyn>, right: &mut [Self]) -> bool {
        let mut values: Vec<f64> = right.iter().map(|entry| entry.value).collect();
        let mut derivatives: Vec<f64> = right.iter().map(|entry| entry.derivative).collect();
        let solved = f64::solve(lu, &mut values) && f64::solve(lu, &mut derivatives);
        for (entry, (value, derivative)) in right.iter_mut().zip(values.into_iter().zip(derivatives)) {
            *entry = Self::new(value, derivative);
        }
        solved
    }
}
