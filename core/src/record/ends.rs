//! One thing for each end.

use super::End;
use crate::error::{Error, Result};
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
    fn write<S: serde::Serializer>(&self, serializer: S) -> core::result::Result<S::Ok, S::Error> {
        serde::Serialize::serialize(&Ends { front: Out(&self.front), rear: Out(&self.rear) }, serializer)
    }
    fn read<'de, D: serde::Deserializer<'de>>(deserializer: D) -> core::result::Result<Self, D::Error> {
        let Ends { front, rear } = <Ends<In<T>> as serde::Deserialize>::deserialize(deserializer)?;
        Ok(Self { front: front.0, rear: rear.0 })
    }
}

/// Answers by end, and why others have none.
pub(crate) type Answered<T> = (Vec<T>, Vec<(End, String)>);

impl End {
    /// What is answered of each of these ends, and why another has no answer: one bad end never hides the other.
    ///
    /// # Errors
    /// The first, where no end has an answer.
    pub(crate) fn each<T>(
        ends: impl IntoIterator<Item = Self>,
        ask: impl Fn(Self) -> Result<T>,
    ) -> Result<Answered<T>> {
        let (mut answers, mut without): Answered<T> = (Vec::new(), Vec::new());
        let mut refused: Option<Error> = None;
        for end in ends {
            match ask(end) {
                Ok(answer) => answers.push(answer),
                Err(error) => {
                    without.push((end, error.to_string()));
                    refused.get_or_insert(error);
                }
            }
        }
        match refused {
            Some(error) if answers.is_empty() => Err(error),
            _ => Ok((answers, without)),
        }
    }
}
