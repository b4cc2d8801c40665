//! A fast stroke from rest: the state, and what it depends on beside the stroke.

use core::iter::Sum;
use core::ops::{Add, Mul};

use super::{Axial, AxialState};

/// Springs, gas and stops at a stroke reached fast from where they had settled.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FastState {
    /// Force, rate and energy. The energy is that of the rest and the work done since.
    pub state: AxialState,
    /// Their change when every fast exponent is one standard uncertainty more.
    pub by_exponent: AxialState,
    /// Their change per metre of stroke at the rest.
    pub by_rest: AxialState,
}

impl FastState {
    /// Of what holds no gas: it is the same fast or slow.
    #[must_use]
    pub fn same(state: AxialState) -> Self {
        Self { state, by_exponent: AxialState::none(), by_rest: AxialState::none() }
    }
}

/// The kernel's [`FastState`], in SI units.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Fast {
    /// The state. Its energy is that of the rest and the work done since, so that it goes on from the rest without a step.
    pub(crate) state: Axial,
    /// Its change when every fast exponent is one standard uncertainty more. They go together: what heat gets away depends
    /// on the stroke, and that is one for all gas of an end.
    pub(crate) by_exponent: Axial,
    /// Its change per change of the stroke at rest.
    pub(crate) by_rest: Axial,
}

impl Fast {
    /// Of what holds no gas: it is the same fast or slow.
    pub(crate) fn same(state: Axial) -> Self {
        Self { state, ..Self::default() }
    }

    pub(crate) fn typed(self) -> FastState {
        let Self { state, by_exponent, by_rest } = self;
        FastState { state: state.typed(), by_exponent: by_exponent.typed(), by_rest: by_rest.typed() }
    }
}

impl Add for Fast {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            state: self.state + other.state,
            by_exponent: self.by_exponent + other.by_exponent,
            by_rest: self.by_rest + other.by_rest,
        }
    }
}

impl Mul<f64> for Fast {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self { state: self.state * factor, by_exponent: self.by_exponent * factor, by_rest: self.by_rest * factor }
    }
}

impl Sum for Fast {
    fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
        parts.fold(Self::default(), Add::add)
    }
}
