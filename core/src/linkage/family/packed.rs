//! The numbers of a recipe, each as an array over the linkages that share it.

use std::borrow::Cow;

use super::lanes::{arm_each, carry_fixed_each, carry_moving_each, crank_each, dyad_fixed_each, dyad_moving_each};
use super::lanes::{results_each, results_from_fixed_each};
use crate::linkage::block::{Block, Lanes, Results};
use crate::linkage::bound_recipe::{BoundStep, Drive};
use crate::linkage::motion::LinkageMotion;
use crate::linkage::operand::Operand;

/// Places among the numbers of a linkage that every recipe has: wheel height at full extension, full travel, and shock length
/// extended. The numbers of the drive follow, then those of the steps, then fixed ends of wheel and shock.
pub(super) const DATUM: usize = 0;
pub(super) const FULL_TRAVEL: usize = 1;
const EXTENDED: usize = 2;
const DRIVE: usize = 3;

/// What a pack is run by: the steps of a recipe, and where each has its numbers.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Plan {
    is_crank: bool,
    steps: Vec<PackedStep>,
    wheel: PackedOperand,
    shock: [PackedOperand; 2],
    /// Points that move.
    pub(super) slots: usize,
    /// Numbers of a linkage.
    pub(super) numbers: usize,
}

#[derive(Debug, Clone, PartialEq)]
struct PackedStep {
    to: usize,
    a: PackedOperand,
    b: PackedOperand,
    own: Own,
}

/// Which step it is, and where its own numbers are.
#[derive(Debug, Clone, PartialEq)]
enum Own {
    Carry { lambda: usize },
    Dyad { constants: usize },
}

#[derive(Debug, Clone, PartialEq)]
enum PackedOperand {
    /// Where its coordinates are.
    Fixed(usize),
    Moving(usize),
}

/// The numbers of a linkage, in the order of the plan of its recipe. Nothing of a group.
pub(super) fn numbers_of(motion: &LinkageMotion, mut put: impl FnMut(f64)) {
    [motion.datum, motion.full_travel, motion.extended].into_iter().for_each(&mut put);
    match motion.bound.drive {
        Drive::Arm { pivot: [x, z], radius, side } => [x, z, radius, side],
        Drive::Crank { pivot: [x, z], drawn: [reach, rise] } => [x, z, reach, rise],
    }
    .into_iter()
    .for_each(&mut put);
    let fixed = |operand: &Operand<f64>, put: &mut dyn FnMut(f64)| {
        if let Operand::Fixed(state) = operand {
            state.p.into_iter().for_each(put);
        }
    };
    for step in &motion.bound.steps {
        match step {
            BoundStep::Carry { a, b, lambda, .. } => {
                [a, b].into_iter().for_each(|operand| fixed(operand, &mut put));
                lambda.iter().copied().for_each(&mut put);
            }
            BoundStep::Dyad { a, b, constants, .. } => {
                [a, b].into_iter().for_each(|operand| fixed(operand, &mut put));
                [constants.from_a, constants.from_b, constants.side].into_iter().for_each(&mut put);
            }
            BoundStep::Group(_) => {}
        }
    }
    [&motion.wheel, &motion.shock[0], &motion.shock[1]].into_iter().for_each(|operand| fixed(operand, &mut put));
}

/// Are two solved by the same steps on the same slots?
pub(super) fn alike(one: &LinkageMotion, other: &LinkageMotion) -> bool {
    let operands = |a: &Operand<f64>, b: &Operand<f64>| match (a, b) {
        (Operand::Fixed(_), Operand::Fixed(_)) => true,
        (Operand::Moving(a), Operand::Moving(b)) => a == b,
        _ => false,
    };
    let steps = |pair: (&BoundStep<f64>, &BoundStep<f64>)| match pair {
        (BoundStep::Carry { to, a, b, .. }, BoundStep::Carry { to: into, a: c, b: d, .. })
        | (BoundStep::Dyad { to, a, b, .. }, BoundStep::Dyad { to: into, a: c, b: d, .. }) => {
            to == into && operands(a, c) && operands(b, d)
        }
        _ => false,
    };
    core::mem::discriminant(&one.bound.drive) == core::mem::discriminant(&other.bound.drive)
        && one.bound.steps.len() == other.bound.steps.len()
        && one.bound.steps.iter().zip(&other.bound.steps).all(steps)
        && operands(&one.wheel, &other.wheel)
        && one.shock.iter().zip(&other.shock).all(|(a, b)| operands(a, b))
}

impl Plan {
    /// Nothing for a recipe with a group.
    pub(super) fn of(motion: &LinkageMotion) -> Option<Self> {
        let mut next = DRIVE + 4;
        let mut allot = |count: usize| {
            next += count;
            next - count
        };
        let operand = |operand: &Operand<f64>, allot: &mut dyn FnMut(usize) -> usize| match operand {
            Operand::Moving(slot) => PackedOperand::Moving(*slot),
            Operand::Fixed(_) => PackedOperand::Fixed(allot(2)),
        };
        let mut steps = Vec::with_capacity(motion.bound.steps.len());
        for step in &motion.bound.steps {
            steps.push(match step {
                BoundStep::Carry { to, a, b, .. } => {
                    let [a, b] = [a, b].map(|end| operand(end, &mut allot));
                    PackedStep { to: *to, a, b, own: Own::Carry { lambda: allot(2) } }
                }
                BoundStep::Dyad { to, a, b, .. } => {
                    let [a, b] = [a, b].map(|end| operand(end, &mut allot));
                    PackedStep { to: *to, a, b, own: Own::Dyad { constants: allot(3) } }
                }
                BoundStep::Group(_) => return None,
            });
        }
        let [wheel, upper, lower] =
            [&motion.wheel, &motion.shock[0], &motion.shock[1]].map(|end| operand(end, &mut allot));
        Some(Self {
            is_crank: matches!(motion.bound.drive, Drive::Crank { .. }),
            steps,
            wheel,
            shock: [upper, lower],
            slots: motion.bound.drawn.len(),
            numbers: next,
        })
    }

    /// Is the coordinate of the drive found by Newton?
    pub(super) fn is_crank(&self) -> bool {
        self.is_crank
    }

    /// All points at a coordinate of its own in every lane.
    pub(super) fn run(&self, numbers: &[Lanes], coordinates: &Lanes, blocks: &mut [Block]) {
        if let (Some(driven), Some([x, z, c, d])) = (blocks.first_mut(), rows::<4>(numbers, DRIVE)) {
            if self.is_crank {
                crank_each([x, z], [c, d], coordinates, driven);
            } else {
                arm_each([x, z], c, d, coordinates, driven);
            }
        }
        self.steps.iter().for_each(|step| step.run(numbers, blocks));
    }

    /// The wheel in every lane, once it has [run](Self::run).
    pub(super) fn wheel<'a>(&self, numbers: &[Lanes], blocks: &'a [Block]) -> Cow<'a, Block> {
        self.wheel.seen(numbers, blocks)
    }

    /// What is found in every lane, once it has [run](Self::run).
    pub(super) fn results(&self, numbers: &[Lanes], blocks: &[Block], found: &mut Results) {
        let wheel = self.wheel(numbers, blocks);
        let extended = &numbers[EXTENDED];
        match &self.shock {
            // A distance is the same from either end, to the last bit.
            [PackedOperand::Fixed(fixed), PackedOperand::Moving(moving)]
            | [PackedOperand::Moving(moving), PackedOperand::Fixed(fixed)] => {
                results_from_fixed_each(&wheel, plane(numbers, *fixed), &blocks[*moving], extended, found);
            }
            shock => {
                let [a, b] = shock.each_ref().map(|part| part.seen(numbers, blocks));
                results_each(&wheel, [&a, &b], extended, found);
            }
        }
    }
}

/// So many numbers from a place on, each over the lanes.
fn rows<const N: usize>(numbers: &[Lanes], from: usize) -> Option<[&Lanes; N]> {
    numbers.get(from..)?.first_chunk::<N>().map(|rows| rows.each_ref())
}

/// The coordinates of a point over the lanes.
fn plane(numbers: &[Lanes], at: usize) -> [&Lanes; 2] {
    [&numbers[at], &numbers[at + 1]]
}

impl PackedStep {
    /// One more point in every lane, from those done before.
    fn run(&self, numbers: &[Lanes], blocks: &mut [Block]) {
        let (done, rest) = blocks.split_at_mut(self.to);
        let to = &mut rest[0];
        match (&self.own, &self.a, &self.b) {
            (Own::Carry { lambda }, PackedOperand::Fixed(a), PackedOperand::Moving(b)) => {
                carry_fixed_each(plane(numbers, *a), &done[*b], plane(numbers, *lambda), to);
            }
            (Own::Carry { lambda }, a, b) => {
                carry_moving_each(&a.seen(numbers, done), &b.seen(numbers, done), plane(numbers, *lambda), to);
            }
            (Own::Dyad { constants }, a, b) => {
                let at = *constants;
                let constants = [&numbers[at], &numbers[at + 1], &numbers[at + 2]];
                match (a, b) {
                    (PackedOperand::Fixed(a), PackedOperand::Moving(b)) => {
                        dyad_fixed_each(plane(numbers, *a), &done[*b], constants, to);
                    }
                    _ => dyad_moving_each(&a.seen(numbers, done), &b.seen(numbers, done), constants, to),
                }
            }
        }
    }
}

impl PackedOperand {
    /// Over the lanes: a slot where it stands, or fixed points.
    fn seen<'a>(&self, numbers: &[Lanes], blocks: &'a [Block]) -> Cow<'a, Block> {
        match self {
            Self::Moving(slot) => Cow::Borrowed(&blocks[*slot]),
            Self::Fixed(at) => Cow::Owned(Block { p: plane(numbers, *at).map(|part| *part), ..Block::ZERO }),
        }
    }
}
