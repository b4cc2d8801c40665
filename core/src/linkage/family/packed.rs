//! The numbers of a recipe, each as an array over the linkages that share it.

use std::borrow::Cow;

use super::lanes::{arm_each, carry_fixed_each, carry_moving_each, crank_each, dyad_fixed_each, dyad_moving_each};
use crate::linkage::block::{Block, LANES, Lanes};
use crate::linkage::bound_recipe::{BoundStep, Drive};
use crate::linkage::motion::LinkageMotion;
use crate::linkage::operand::Operand;

#[derive(Debug, Clone, PartialEq)]
pub(super) enum PackedDrive {
    Arm { pivot: [Lanes; 2], radius: Lanes, side: Lanes },
    Crank { pivot: [Lanes; 2], drawn: [Lanes; 2] },
}

#[derive(Debug, Clone, PartialEq)]
pub(super) enum PackedStep {
    Carry { to: usize, a: PackedOperand, b: PackedOperand, lambda: Box<[Lanes; 2]> },
    Dyad { to: usize, a: PackedOperand, b: PackedOperand, constants: Box<[Lanes; 3]> },
}

#[derive(Debug, Clone, PartialEq)]
pub(super) enum PackedOperand {
    Fixed(Box<[Lanes; 2]>),
    Moving(usize),
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

/// A plane vector in all lanes.
fn everywhere(at: [f64; 2]) -> [Lanes; 2] {
    at.map(|part| [part; LANES])
}

fn put(to: &mut [Lanes; 2], lane: usize, at: [f64; 2]) {
    (to[0][lane], to[1][lane]) = (at[0], at[1]);
}

impl PackedDrive {
    /// The driven point at a coordinate of its own in every lane.
    pub(super) fn run(&self, coordinates: &Lanes, out: &mut Block) {
        match self {
            Self::Arm { pivot, radius, side } => arm_each(pivot, radius, side, coordinates, out),
            Self::Crank { pivot, drawn } => crank_each(pivot, drawn, coordinates, out),
        }
    }

    pub(super) fn like(drive: &Drive<f64>) -> Self {
        match *drive {
            Drive::Arm { pivot, radius, side } => {
                Self::Arm { pivot: everywhere(pivot), radius: [radius; LANES], side: [side; LANES] }
            }
            Drive::Crank { pivot, drawn } => Self::Crank { pivot: everywhere(pivot), drawn: everywhere(drawn) },
        }
    }

    pub(super) fn put(&mut self, lane: usize, drive: &Drive<f64>) {
        match (self, drive) {
            (Self::Arm { pivot, radius, side }, Drive::Arm { pivot: at, radius: long, side: which }) => {
                put(pivot, lane, *at);
                (radius[lane], side[lane]) = (*long, *which);
            }
            (Self::Crank { pivot, drawn }, Drive::Crank { pivot: at, drawn: arm }) => {
                put(pivot, lane, *at);
                put(drawn, lane, *arm);
            }
            // Only alike ones are packed.
            _ => {}
        }
    }
}

impl PackedStep {
    /// One more point in every lane, from those done before.
    pub(super) fn run(&self, blocks: &mut [Block]) {
        let (Self::Carry { to, a, b, .. } | Self::Dyad { to, a, b, .. }) = self;
        let (done, rest) = blocks.split_at_mut(*to);
        let to = &mut rest[0];
        match (self, a, b) {
            (Self::Carry { lambda, .. }, PackedOperand::Fixed(a), PackedOperand::Moving(b)) => {
                carry_fixed_each(a, &done[*b], lambda, to);
            }
            (Self::Carry { lambda, .. }, ..) => carry_moving_each(&a.seen(done), &b.seen(done), lambda, to),
            (Self::Dyad { constants, .. }, PackedOperand::Fixed(a), PackedOperand::Moving(b)) => {
                dyad_fixed_each(a, &done[*b], constants, to);
            }
            (Self::Dyad { constants, .. }, ..) => dyad_moving_each(&a.seen(done), &b.seen(done), constants, to),
        }
    }

    /// Nothing for a group.
    pub(super) fn like(step: &BoundStep<f64>) -> Option<Self> {
        match step {
            BoundStep::Carry { to, a, b, lambda } => Some(Self::Carry {
                to: *to,
                a: PackedOperand::like(a),
                b: PackedOperand::like(b),
                lambda: Box::new(everywhere(*lambda)),
            }),
            BoundStep::Dyad { to, a, b, constants, .. } => Some(Self::Dyad {
                to: *to,
                a: PackedOperand::like(a),
                b: PackedOperand::like(b),
                constants: Box::new([constants.from_a, constants.from_b, constants.side].map(|part| [part; LANES])),
            }),
            BoundStep::Group(_) => None,
        }
    }

    pub(super) fn put(&mut self, lane: usize, step: &BoundStep<f64>) {
        match (self, step) {
            (Self::Carry { a, b, lambda, .. }, BoundStep::Carry { a: from, b: other, lambda: ratio, .. }) => {
                a.put(lane, from);
                b.put(lane, other);
                put(lambda, lane, *ratio);
            }
            (Self::Dyad { a, b, constants, .. }, BoundStep::Dyad { a: from, b: other, constants: k, .. }) => {
                a.put(lane, from);
                b.put(lane, other);
                (constants[0][lane], constants[1][lane], constants[2][lane]) = (k.from_a, k.from_b, k.side);
            }
            // Only alike ones are packed.
            _ => {}
        }
    }
}

impl PackedOperand {
    pub(super) fn like(operand: &Operand<f64>) -> Self {
        match operand {
            Operand::Moving(slot) => Self::Moving(*slot),
            Operand::Fixed(state) => Self::Fixed(Box::new(everywhere(state.p))),
        }
    }

    pub(super) fn put(&mut self, lane: usize, operand: &Operand<f64>) {
        if let (Self::Fixed(p), Operand::Fixed(state)) = (self, operand) {
            put(p, lane, state.p);
        }
    }

    /// Over the lanes: a slot where it stands, or fixed points.
    pub(super) fn seen<'a>(&self, blocks: &'a [Block]) -> Cow<'a, Block> {
        match self {
            Self::Moving(slot) => Cow::Borrowed(&blocks[*slot]),
            Self::Fixed(p) => Cow::Owned(Block { p: **p, ..Block::ZERO }),
        }
    }
}
