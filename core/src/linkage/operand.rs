//! A point as a step of a recipe finds it.

use super::real::Real;
use super::step::State;

/// Where a step finds a point: in itself, because it never moves, or in a slot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Operand<T> {
    Fixed(State<T>),
    Moving(usize),
}

impl<T: Real> Operand<T> {
    #[inline]
    pub(crate) fn state(&self, slots: &[State<T>]) -> State<T> {
        match self {
            Self::Fixed(state) => *state,
            Self::Moving(slot) => slots[*slot],
        }
    }

    pub(crate) fn is_fixed(&self) -> bool {
        matches!(self, Self::Fixed(_))
    }
}
