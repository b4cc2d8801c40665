//! A recipe with its numbers: lengths, carried ratios and sides taken from the drawn position, ready to be run.

use super::group::{Group, Row};
use super::operand::Operand;
use super::real::{Real, Vec2, cross, dot, scale, sub, turn, values};
use super::recipe::{Driver, Elimination, Recipe, Rigid};
use super::step::{DyadConstants, State, arm, carry, crank, dyad, openness};

/// One step with its numbers. Steps write slots in rising order and read only lower ones.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum BoundStep<T> {
    Carry { to: usize, a: Operand<T>, b: Operand<T>, lambda: Vec2<T> },
    Dyad { to: usize, a: Operand<T>, b: Operand<T>, constants: DyadConstants<T>, bodies: [usize; 2] },
    Group(Group<T>),
}

/// The driver with its numbers. It writes slot 0.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Drive<T> {
    Arm { pivot: Vec2<T>, radius: T, side: T },
    Crank { pivot: Vec2<T>, drawn: Vec2<T> },
}

/// How close a part of the mechanism is to a dead point: 0 there, and its derivative by the driver coordinate if known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Openness {
    pub(crate) value: f64,
    pub(crate) slope: Option<f64>,
}

/// Everything that is needed to find where all points are.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct BoundRecipe<T> {
    pub(crate) drive: Drive<T>,
    driver_body: usize,
    pub(crate) steps: Vec<BoundStep<T>>,
    /// Where each point of the mechanism is found; `None` when the bound recipe does not lead there.
    operands: Vec<Option<Operand<T>>>,
    /// The moving points as drawn, by slot.
    pub(crate) drawn: Vec<Vec2<T>>,
    /// Largest coordinate as drawn, in metres: what rounding is a share of.
    pub(crate) size: f64,
}

impl<T: Real> BoundRecipe<T> {
    /// Puts drawn coordinates (by point) into a recipe.
    pub(crate) fn bind(recipe: &Recipe, at: &[Vec2<T>]) -> Self {
        Self::bind_stretched(recipe, at, None)
    }

    /// As [`BoundRecipe::bind`], with one two-point body longer than drawn by some length.
    pub(crate) fn bind_stretched(recipe: &Recipe, at: &[Vec2<T>], stretched: Option<(usize, T)>) -> Self {
        let mut binder = Binder { at, stretched, operands: vec![None; at.len()], drawn: Vec::new() };
        for (point, _) in recipe.fixed.iter().enumerate().filter(|(_, fixed)| **fixed) {
            binder.operands[point] = Some(Operand::Fixed(State::fixed(at[point])));
        }
        binder.allot(recipe.driver.point());
        let drive = binder.drive(recipe.driver);
        let steps = recipe.steps.iter().filter_map(|step| binder.step(step)).collect();
        let size = at.iter().flat_map(|&point| values(point)).map(f64::abs).fold(0.0, f64::max);
        Self { drive, driver_body: recipe.driver.body(), steps, operands: binder.operands, drawn: binder.drawn, size }
    }

    /// Where a point is found.
    pub(crate) fn operand(&self, point: usize) -> Option<Operand<T>> {
        self.operands[point]
    }

    /// Driver coordinate of the drawn position.
    pub(crate) fn drawn_coordinate(&self) -> T {
        match self.drive {
            Drive::Arm { .. } => self.drawn[0][1],
            Drive::Crank { .. } => T::of(0.0),
        }
    }

    /// Slots with the points as drawn.
    pub(crate) fn drawn_slots(&self) -> Vec<State<T>> {
        self.drawn.iter().map(|&p| State::fixed(p)).collect()
    }

    /// Groups left to Newton.
    pub(crate) fn groups(&self) -> impl Iterator<Item = &Group<T>> {
        self.steps.iter().filter_map(|step| match step {
            BoundStep::Group(group) => Some(group),
            _ => None,
        })
    }

    /// The motion of all points at a driver coordinate. Points of groups must be near their solution already. False when
    /// a group does not converge; out of reach of a dyad the states are NaN.
    pub(crate) fn run(&self, coordinate: T, slots: &mut [State<T>]) -> bool {
        slots[0] = self.drive.state(coordinate);
        self.steps.iter().all(|step| {
            match step {
                BoundStep::Carry { to, a, b, lambda } => {
                    let (from, other) = (a.state(slots), b.state(slots));
                    slots[*to] = if a.is_fixed() {
                        carry::<T, true>(&from, &other, *lambda)
                    } else {
                        carry::<T, false>(&from, &other, *lambda)
                    };
                }
                BoundStep::Dyad { to, a, b, constants, .. } => {
                    let (from, other) = (a.state(slots), b.state(slots));
                    slots[*to] = if a.is_fixed() {
                        dyad::<T, true>(&from, &other, constants)
                    } else {
                        dyad::<T, false>(&from, &other, constants)
                    };
                }
                BoundStep::Group(group) => return group.solve(slots),
            }
            true
        })
    }
}

impl BoundRecipe<f64> {
    /// How far every part that has a dead point is from it.
    pub(crate) fn openness(&self, slots: &[State<f64>]) -> impl Iterator<Item = Openness> {
        let arm = match self.drive {
            Drive::Arm { pivot, radius, .. } => {
                Some(Openness { value: (slots[0].p[0] - pivot[0]) / radius, slope: Some(slots[0].v[0] / radius) })
            }
            Drive::Crank { .. } => None,
        };
        let steps = self.steps.iter().filter_map(|step| match step {
            BoundStep::Carry { .. } => None,
            BoundStep::Dyad { to, a, b, .. } => {
                let [value, slope] = openness(&a.state(slots), &b.state(slots), &slots[*to]);
                Some(Openness { value, slope: Some(slope) })
            }
            BoundStep::Group(group) => Some(Openness { value: group.openness(slots), slope: None }),
        });
        arm.into_iter().chain(steps)
    }

    /// The bodies of each part, in the order of [`BoundRecipe::openness`].
    pub(crate) fn parts(&self) -> Vec<Vec<usize>> {
        let arm = matches!(self.drive, Drive::Arm { .. }).then(|| vec![self.driver_body]);
        let steps = self.steps.iter().filter_map(|step| match step {
            BoundStep::Carry { .. } => None,
            BoundStep::Dyad { bodies, .. } => Some(bodies.to_vec()),
            BoundStep::Group(group) => Some(group.bodies.clone()),
        });
        arm.into_iter().chain(steps).collect()
    }
}

impl<T: Real> Drive<T> {
    #[inline(always)]
    pub(crate) fn state(&self, coordinate: T) -> State<T> {
        match *self {
            Self::Arm { pivot, radius, side } => arm(pivot, radius, side, coordinate),
            Self::Crank { pivot, drawn } => crank(pivot, drawn, coordinate),
        }
    }
}

struct Binder<'a, T> {
    at: &'a [Vec2<T>],
    stretched: Option<(usize, T)>,
    operands: Vec<Option<Operand<T>>>,
    drawn: Vec<Vec2<T>>,
}

impl<T: Real> Binder<'_, T> {
    fn allot(&mut self, point: usize) -> usize {
        let slot = self.drawn.len();
        self.operands[point] = Some(Operand::Moving(slot));
        self.drawn.push(self.at[point]);
        slot
    }

    /// Squared distance of two points of a body.
    fn squared(&self, body: usize, a: usize, b: usize) -> T {
        let d = sub(self.at[b], self.at[a]);
        match self.stretched {
            Some((stretched, by)) if stretched == body => {
                let length = dot(d, d).sqrt() + by;
                length * length
            }
            _ => dot(d, d),
        }
    }

    /// `(C − A)/(B − A)` as complex numbers.
    fn lambda(&self, [a, b]: [usize; 2], c: usize) -> Vec2<T> {
        let (base, arm) = (sub(self.at[b], self.at[a]), sub(self.at[c], self.at[a]));
        scale(T::of(1.0) / dot(base, base), turn(arm, [base[0], -base[1]]))
    }

    fn drive(&self, driver: Driver) -> Drive<T> {
        match driver {
            Driver::Arm { pivot, wheel, body } => {
                let reach = values(sub(self.at[wheel], self.at[pivot]))[0];
                Drive::Arm {
                    pivot: self.at[pivot],
                    radius: self.squared(body, pivot, wheel).sqrt(),
                    side: T::of(1f64.copysign(reach)),
                }
            }
            Driver::Crank { pivot, tip, body } => {
                let arm = sub(self.at[tip], self.at[pivot]);
                let growth = (self.squared(body, pivot, tip) / dot(arm, arm)).sqrt();
                Drive::Crank { pivot: self.at[pivot], drawn: scale(growth, arm) }
            }
        }
    }

    /// The fixed one of a pair first: steps know how to profit from that.
    fn pair(&self, [a, b]: [usize; 2]) -> Option<([usize; 2], Operand<T>, Operand<T>)> {
        let (first, second) = (self.operands[a]?, self.operands[b]?);
        Some(if second.is_fixed() { ([b, a], second, first) } else { ([a, b], first, second) })
    }

    fn step(&mut self, step: &Elimination) -> Option<BoundStep<T>> {
        match step {
            Elimination::Carry { point, base } => {
                let (base, a, b) = self.pair(*base)?;
                Some(BoundStep::Carry { lambda: self.lambda(base, *point), to: self.allot(*point), a, b })
            }
            Elimination::Dyad { point, from, bodies } => {
                let carried = if self.operands[from[1]]?.is_fixed() { [bodies[1], bodies[0]] } else { *bodies };
                let (from, a, b) = self.pair(*from)?;
                let side = cross(
                    values(sub(self.at[from[1]], self.at[from[0]])),
                    values(sub(self.at[*point], self.at[from[0]])),
                );
                let constants = DyadConstants {
                    from_a: self.squared(carried[0], from[0], *point),
                    from_b: self.squared(carried[1], from[1], *point),
                    side: T::of(1f64.copysign(side)),
                };
                Some(BoundStep::Dyad { to: self.allot(*point), a, b, constants, bodies: *bodies })
            }
            Elimination::Group { points, bodies, rigid } => {
                let first = self.drawn.len();
                for &point in points {
                    self.allot(point);
                }
                let mut rows = Vec::new();
                let mut size = 0f64;
                for row in rigid {
                    rows.push(match *row {
                        Rigid::Distance { a, b, body } => {
                            let squared = self.squared(body, a, b);
                            size = size.max(squared.value().sqrt());
                            Row::Distance { a: self.operands[a]?, b: self.operands[b]?, squared }
                        }
                        Rigid::Carried { c, a, b } => Row::Carried {
                            c: self.operands[c]?,
                            a: self.operands[a]?,
                            b: self.operands[b]?,
                            lambda: self.lambda([a, b], c),
                        },
                    });
                }
                Some(BoundStep::Group(Group { first, points: points.len(), rows, bodies: bodies.clone(), size }))
            }
        }
    }
}
