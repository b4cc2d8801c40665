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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::linkage::bound_recipe::BoundRecipe;
    use crate::linkage::real::norm;
    use crate::linkage::recipe::Recipe;
    use crate::linkage::tests::arrangements::{Drawing, all};

    /// A plate between the axle itself and two links from the frame: driven by the arm, the group follows the driven point at once.
    fn plate_on_the_axle() -> Drawing {
        Drawing {
            points: vec![
                ("pivot", [0., 0.]),
                ("axle", [-560., -130.]),
                ("plate_rear", [-480., -20.]),
                ("plate_top", [-300., 40.]),
                ("plate_low", [-330., -120.]),
                ("link_top", [-100., 60.]),
                ("link_low", [-90., -140.]),
            ],
            bodies: vec![
                ("frame", vec!["pivot", "link_top", "link_low"]),
                ("swingarm", vec!["pivot", "axle"]),
                ("rear_link", vec!["axle", "plate_rear"]),
                ("plate", vec!["plate_rear", "plate_top", "plate_low"]),
                ("top_link", vec!["plate_top", "link_top"]),
                ("low_link", vec!["plate_low", "link_low"]),
            ],
            wheel: "axle",
            shock: ("link_top", "plate_rear"),
            length: 390.0,
            stroke: 10.0,
        }
    }

    /// Every group, whoever drives: its slots as drawn.
    fn each_group(mut ask: impl FnMut(&str, &BoundRecipe<f64>, &Group<f64>, Vec<State<f64>>)) -> Vec<usize> {
        let mut firsts = Vec::new();
        for (name, drawing) in all().into_iter().chain([("plate on the axle", plate_on_the_axle())]) {
            let mechanism = drawing.mechanism().unwrap();
            let wheel = mechanism.index_of("wheel", drawing.wheel).unwrap();
            let at: Vec<_> = (0..mechanism.point_count()).map(|point| mechanism.coordinates(point)).collect();
            for recipe in Recipe::candidates(&mechanism, wheel).unwrap() {
                let bound = BoundRecipe::bind(&recipe, &at);
                for group in bound.groups() {
                    firsts.push(group.first);
                    ask(name, &bound, group, bound.drawn_slots());
                }
            }
        }
        firsts
    }

    #[test]
    fn the_jacobian_is_the_derivative_of_the_equations() {
        /// Equations of second degree: central differences have the error of rounding alone, 1e-16 m² over the step.
        const STEP: f64 = 1e-3;
        const ROUNDING: f64 = 1e-12;
        let firsts = each_group(|name, _, group, slots| {
            let jacobian = group.jacobian(&slots);
            for column in 0..2 * group.points {
                let moved = |by: f64| {
                    let mut slots = slots.clone();
                    slots[group.first + column / 2].p[column % 2] += by;
                    group.residual(&slots, Order::Position)
                };
                let (ahead, back) = (moved(STEP), moved(-STEP));
                assert_eq!(ahead.len(), 2 * group.points, "{name}");
                for (row, (ahead, back)) in ahead.into_iter().zip(back).enumerate() {
                    let difference = (ahead - back) / (2.0 * STEP);
                    let found = jacobian[(row, column)];
                    assert!((found - difference).abs() < ROUNDING, "{name}: {row} {column}: {found} {difference}");
                }
            }
        });
        assert!(firsts.contains(&1) && firsts.iter().any(|&first| first > 1), "{firsts:?}");
    }

    #[test]
    fn a_group_is_found_again_from_a_little_beside_it() {
        each_group(|name, bound, group, slots| {
            let mut found = slots.clone();
            found[group.first].p = add(found[group.first].p, [1e-3, -1e-3]);
            assert!(bound.run(bound.drawn_coordinate(), &mut found), "{name}");
            for (found, drawn) in found.iter().zip(&slots) {
                // Roundings of lengths of a bike, through equations that are far from a dead point.
                assert!(sub(found.p, drawn.p).iter().all(|off| off.abs() < 1e-13), "{name}");
            }
        });
    }

    /// Rows of length one have a determinant within one, by Hadamard, and lengths do not matter.
    #[test]
    fn openness_is_that_of_directions() {
        let found = |scale: f64| {
            let mut found = Vec::new();
            for drawing in [plate_on_the_axle(), crate::linkage::tests::arrangements::plate_on_three_links()] {
                let larger = drawing.mapped(|at| at.map(|part| scale * part)).mechanism().unwrap();
                let at: Vec<_> = (0..larger.point_count()).map(|point| larger.coordinates(point)).collect();
                let wheel = larger.index_of("wheel", drawing.wheel).unwrap();
                for recipe in Recipe::candidates(&larger, wheel).unwrap() {
                    let bound = BoundRecipe::<f64>::bind(&recipe, &at);
                    found.extend(bound.groups().map(|group| group.openness(&bound.drawn_slots())));
                }
            }
            found
        };
        let (one, two) = (found(1.0), found(2.0));
        assert!(!one.is_empty() && one.len() == two.len());
        for (one, two) in one.into_iter().zip(two) {
            // Each row is divided by its own length: nothing but rounding is left.
            assert!((one / two - 1.0).abs() < 1e-12 && (1e-6..=1.0).contains(&one.abs()), "{one} {two}");
        }
    }

    /// To second order: what is left falls with the third power of the step.
    #[test]
    fn a_group_is_predicted_to_second_order() {
        each_group(|name, bound, group, mut slots| {
            let at = bound.drawn_coordinate();
            assert!(bound.run(at, &mut slots));
            let missed = |step: f64| {
                let (mut predicted, mut found) = (slots.clone(), slots.clone());
                group.predict(&mut predicted, step);
                assert!(bound.run(at + step, &mut found));
                let last = group.first + group.points - 1;
                norm(sub(predicted[last].p, found[last].p))
            };
            let (coarse, fine) = (missed(2e-3), missed(1e-3));
            assert!(fine < 1e-6 && (6.0..10.0).contains(&(coarse / fine)), "{name}: {coarse:e} {fine:e}");
        });
    }

    /// Three links hold a plate unless their lines meet in one point: by hand, those of the front and the rear link meet at
    /// (−216, 312), and the third is turned a little to either side of it.
    #[test]
    fn openness_is_zero_where_three_links_meet_in_a_point() {
        let found = |turn: f64| {
            let (sin, cos) = f64::sin_cos(turn);
            let [x, z] = [-66.0, 502.0].map(|part| 0.3 * part);
            let to = [-150.0 + x * cos - z * sin, -190.0 + x * sin + z * cos];
            let drawing = crate::linkage::tests::arrangements::plate_on_three_links().moved("link_frame", to);
            let mechanism = drawing.mechanism().unwrap();
            let at: Vec<_> = (0..mechanism.point_count()).map(|point| mechanism.coordinates(point)).collect();
            let wheel = mechanism.index_of("wheel", drawing.wheel).unwrap();
            let mut found = Vec::new();
            for recipe in Recipe::candidates(&mechanism, wheel).unwrap() {
                let bound = BoundRecipe::<f64>::bind(&recipe, &at);
                found.extend(bound.groups().map(|group| group.openness(&bound.drawn_slots())));
            }
            found
        };
        let [left, right] = [found(-1e-3), found(1e-3)];
        assert_eq!(left.len(), right.len());
        // Directions turned by a thousandth: a determinant of that order, on the other side of zero.
        let passes = |(left, right): (&f64, &f64)| left * right < 0.0 && left.abs() < 1e-3 && right.abs() < 1e-3;
        assert!(left.iter().zip(&right).any(passes), "{left:?} {right:?}");
    }
}
