//! The text form of a fork.

use serde::{Deserialize, Serialize};

use super::{Fork, ForkLeg};
use crate::error::{Error, Result};
use crate::units::{Angle, Length, text_serde};

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ForkText {
    #[serde(with = "text_serde")]
    travel: Length,
    #[serde(with = "text_serde")]
    rake: Angle,
    leg: [ForkLeg; 2],
}

impl TryFrom<ForkText> for Fork {
    type Error = Error;
    fn try_from(text: ForkText) -> Result<Self> {
        Self::new(text.travel, text.rake, text.leg)
    }
}

impl From<Fork> for ForkText {
    fn from(fork: Fork) -> Self {
        Self { travel: fork.travel, rake: fork.rake, leg: fork.legs }
    }
}
