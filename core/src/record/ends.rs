//! One thing for each end.

use super::End;
#[cfg(feature = "serde")]
use crate::units::text_serde::nested::{HoldsText, In, Out};

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

#[cfg(feature = "serde")]
impl<T: HoldsText> HoldsText for Ends<T> {
    fn write<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serde::Serialize::serialize(&Ends { front: Out(&self.front), rear: Out(&self.rear) }, serializer)
    }
    fn read<'de, D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let Ends { front, rear } = <Ends<In<T>> as serde::Deserialize>::deserialize(deserializer)?;
        Ok(Self { front: front.0, rear: rear.0 })
    }
}
