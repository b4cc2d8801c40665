//! Bodies that no circle–circle step can take apart, solved together by Newton's method with the exact Jacobian.
//!
//! Unknowns are the coordinates of the pivots between the bodies. Every body keeps one squared distance (quadratic) and
//! carries its further pivots (linear). Converges quadratically from the warm start; fails near a dead point, where the
//! Jacobian is singular. Derivatives follow from two more solves with the same factors.

use nalgebra::{DMatrix, Dyn, LU};

use super::operand::Operand;
use super::real::{Real, Vec2, add, dot, scale, sub, turn, values};
use super::step::State;

/// Newton iterations before giving up: from a warm start two or three suffice.
const MOST_ITERATIONS: usize = 12;
/// Convergence: a step below this share of the group's size leaves an error below rounding, as convergence is quadratic.
const SMALL_STEP: f64 = 1e-9;

/// What stays the same about a body, with its numbers.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Row<T> {
    Distance { a: Operand<T>, b: Operand<T>, squared: T },
    Carried { c: Operand<T>, a: Operand<T>, b: Operand<T>, lambda: Vec2<T> },
}

/// A group: unknown points in consecutive slots, and its equations.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Group<T> {
    pub(crate) first: usize,
    pub(crate) points: usize,
    pub(crate) rows: Vec<Row<T>>,
    pub(crate) bodies: Vec<usize>,
    /// Size in metres, for the convergence test.
    pub(crate) size: f64,
}

/// Which of position, velocity and acceleration an equation is about.
#[derive(Clone, Copy)]
enum Order {
    Position,
    Velocity,
    Acceleration,
}

impl<T: Real> Group<T> {
    /// Moves the unknown points from where they are to the solution, then fills in their derivatives.
    pub(crate) fn solve(&self, slots: &mut [State<T>]) -> bool {
        for iteration in 0..MOST_ITERATIONS {
            let lu = self.jacobian(slots).lu();
            let mut residual = self.residual(slots, Order::Position);
            if !T::solve(&lu, &mut residual) {
                return false;
            }
            let step = residual.iter().map(|delta| delta.value().abs()).fold(0.0, f64::max);
            self.correct(slots, &residual, Order::Position);
            if !step.is_finite() {
                return false;
            }
            // A number that carries derivatives needs one pass after its value has settled.
            if step < SMALL_STEP * self.size && iteration + 1 >= T::LINEAR_PASSES {
                let lu = self.jacobian(slots).lu();
                return self.settle(slots, &lu, Order::Velocity) && self.settle(slots, &lu, Order::Acceleration);
            }
        }
        false
    }

    fn settle(&self, slots: &mut [State<T>], lu: &LU<f64, Dyn, Dyn>, order: Order) -> bool {
        self.unknowns(slots).iter_mut().for_each(|state| match order {
            Order::Velocity => state.v = [T::of(0.0); 2],
            _ => state.a = [T::of(0.0); 2],
        });
        (0..T::LINEAR_PASSES).all(|_| {
            let mut residual = self.residual(slots, order);
            let solved = T::solve(lu, &mut residual);
            self.correct(slots, &residual, order);
            solved
        })
    }

    fn unknowns<'s>(&self, slots: &'s mut [State<T>]) -> &'s mut [State<T>] {
        &mut slots[self.first..self.first + self.points]
    }

    fn correct(&self, slots: &mut [State<T>], delta: &[T], order: Order) {
        for (state, delta) in self.unknowns(slots).iter_mut().zip(delta.chunks_exact(2)) {
            let target = match order {
                Order::Position => &mut state.p,
                Order::Velocity => &mut state.v,
                Order::Acceleration => &mut state.a,
            };
            *target = sub(*target, [delta[0], delta[1]]);
        }
    }

    fn residual(&self, slots: &[State<T>], order: Order) -> Vec<T> {
        let mut residual = Vec::with_capacity(2 * self.points);
        for row in &self.rows {
            match row {
                Row::Distance { a, b, squared } => {
                    let (a, b) = (a.state(slots), b.state(slots));
                    let (d, v) = (sub(b.p, a.p), sub(b.v, a.v));
                    residual.push(match order {
                        Order::Position => T::of(0.5) * (dot(d, d) - *squared),
                        Order::Velocity => dot(d, v),
                        Order::Acceleration => dot(d, sub(b.a, a.a)) + dot(v, v),
                    });
                }
                Row::Carried { c, a, b, lambda } => {
                    let part = |operand: &Operand<T>| {
                        let state = operand.state(slots);
                        match order {
                            Order::Position => state.p,
                            Order::Velocity => state.v,
                            Order::Acceleration => state.a,
                        }
                    };
                    let (c, a, b) = (part(c), part(a), part(b));
                    residual.extend(sub(sub(c, a), turn(*lambda, sub(b, a))));
                }
            }
        }
        residual
    }

    fn jacobian(&self, slots: &[State<T>]) -> DMatrix<f64> {
        let size = 2 * self.points;
        let mut jacobian = DMatrix::zeros(size, size);
        let column = |operand: &Operand<T>| match operand {
            Operand::Moving(slot) if (self.first..self.first + self.points).contains(slot) => {
                Some(2 * (slot - self.first))
            }
            _ => None,
        };
        let mut at = 0;
        for row in &self.rows {
            match row {
                Row::Distance { a, b, .. } => {
                    let d = values(sub(b.state(slots).p, a.state(slots).p));
                    for (operand, sign) in [(a, -1.0), (b, 1.0)] {
                        if let Some(column) = column(operand) {
                            jacobian[(at, column)] += sign * d[0];
                            jacobian[(at, column + 1)] += sign * d[1];
                        }
                    }
                    at += 1;
                }
                Row::Carried { c, a, b, lambda } => {
                    let lambda = values(*lambda);
                    let one = [1.0, 0.0];
                    for (operand, factor) in [(c, one), (a, sub(lambda, one)), (b, scale(-1.0, lambda))] {
                        if let Some(column) = column(operand) {
                            jacobian[(at, column)] += factor[0];
                            jacobian[(at, column + 1)] -= factor[1];
                            jacobian[(at + 1, column)] += factor[1];
                            jacobian[(at + 1, column + 1)] += factor[0];
                        }
                    }
                    at += 2;
                }
            }
        }
        jacobian
    }

    /// Determinant of the Jacobian over the product of its rows' lengths: 0 in a dead point, signed by the branch.
    pub(crate) fn openness(&self, slots: &[State<T>]) -> f64 {
        let jacobian = self.jacobian(slots);
        let lengths: f64 = jacobian.row_iter().map(|row| row.norm()).product();
        jacobian.determinant() / lengths
    }

    /// Where the unknown points will be one step of the driver further, to second order.
    pub(crate) fn predict(&self, slots: &mut [State<T>], step: T) {
        for state in self.unknowns(slots) {
            let ahead = add(state.v, scale(T::of(0.5) * step, state.a));
            state.p = add(state.p, scale(step, ahead));
        }
    }
}
