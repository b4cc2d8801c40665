//! The numbers that the kernels compute with: plain `f64`, or any number that carries derivatives along.

use core::ops::{Add, Div, Mul, Neg, Sub};

use nalgebra::{Dyn, LU};

/// A real number in SI units.
pub(crate) trait Real:
    Copy
    + core::fmt::Debug
    + PartialEq
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + Neg<Output = Self>
{
    /// Passes of `x ← x − J⁻¹·r(x)` with the real Jacobian that solve a linear system exactly.
    const LINEAR_PASSES: usize;
    /// A constant.
    fn of(value: f64) -> Self;
    /// The value without its derivatives.
    fn value(self) -> f64;
    /// Square root.
    fn sqrt(self) -> Self;
    /// Solves `J·x = r` in place, part by part. False when `J` is singular.
    fn solve(lu: &LU<f64, Dyn, Dyn>, right: &mut [Self]) -> bool;
}

impl Real for f64 {
    const LINEAR_PASSES: usize = 1;
    #[inline(always)]
    fn of(value: f64) -> Self {
        value
    }
    #[inline(always)]
    fn value(self) -> f64 {
        self
    }
    #[inline(always)]
    fn sqrt(self) -> Self {
        f64::sqrt(self)
    }
    fn solve(lu: &LU<f64, Dyn, Dyn>, right: &mut [Self]) -> bool {
        let mut column = nalgebra::DVector::from_column_slice(right);
        let solved = lu.solve_mut(&mut column);
        right.copy_from_slice(column.as_slice());
        solved
    }
}

/// A vector in the plane, x forward, z up.
pub(crate) type Vec2<T> = [T; 2];

#[inline(always)]
pub(crate) fn add<T: Real>(a: Vec2<T>, b: Vec2<T>) -> Vec2<T> {
    [a[0] + b[0], a[1] + b[1]]
}

#[inline(always)]
pub(crate) fn sub<T: Real>(a: Vec2<T>, b: Vec2<T>) -> Vec2<T> {
    [a[0] - b[0], a[1] - b[1]]
}

#[inline(always)]
pub(crate) fn dot<T: Real>(a: Vec2<T>, b: Vec2<T>) -> T {
    a[0] * b[0] + a[1] * b[1]
}

#[inline(always)]
pub(crate) fn cross<T: Real>(a: Vec2<T>, b: Vec2<T>) -> T {
    a[0] * b[1] - a[1] * b[0]
}

/// Product of two plane vectors as complex numbers: turns and scales one by the other.
#[inline(always)]
pub(crate) fn turn<T: Real>(a: Vec2<T>, b: Vec2<T>) -> Vec2<T> {
    [a[0] * b[0] - a[1] * b[1], a[0] * b[1] + a[1] * b[0]]
}

#[inline(always)]
pub(crate) fn scale<T: Real>(factor: T, a: Vec2<T>) -> Vec2<T> {
    [factor * a[0], factor * a[1]]
}

#[inline(always)]
pub(crate) fn zero<T: Real>() -> Vec2<T> {
    [T::of(0.0), T::of(0.0)]
}

/// The values of a vector without their derivatives.
pub(crate) fn values<T: Real>(a: Vec2<T>) -> Vec2<f64> {
    [a[0].value(), a[1].value()]
}

/// Length of a plain vector.
pub(crate) fn norm(a: Vec2<f64>) -> f64 {
    dot(a, a).sqrt()
}
