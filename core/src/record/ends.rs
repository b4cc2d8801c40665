//! One thing for each end.

use super::End;

/// The same thing at the front and at the rear.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Ends<T> {
    /// At the front.
    pub front: T,
    /// At the rear.
    pub rear: T,
}

impl<T> Ends<T> {
    /// The one at this end.
    #[must_use]
    pub fn at(&self, end: End) -> &T {
        match end {
            End::Front => &self.front,
            End::Rear => &self.rear,
        }
    }

    /// Something made of the thing at each end.
    #[must_use]
    pub fn map<U>(self, make: impl Fn(T) -> U) -> Ends<U> {
        Ends { front: make(self.front), rear: make(self.rear) }
    }

    /// The same ends, with this one replaced.
    #[must_use]
    pub fn with(mut self, end: End, thing: T) -> Self {
        match end {
            End::Front => self.front = thing,
            End::Rear => self.rear = thing,
        }
        self
    }
}
