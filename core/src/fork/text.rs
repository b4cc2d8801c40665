//! The text form of a fork.

use serde::{Deserialize, Serialize};

use super::{Fork, ForkLeg};
use crate::error::{Error, Result};
use crate::units::{Angle, Length, text_serde};

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ForkText {
    #[serde(rename = "travel", with = "text_serde")]
    full_stroke: Length,
    #[serde(with = "text_serde")]
    rake: Angle,
    #[serde(default, skip_serializing_if = "Option::is_none", with = "text_serde::option")]
    rake_uncertainty: Option<Angle>,
    leg: [ForkLeg; 2],
}

impl TryFrom<ForkText> for Fork {
    type Error = Error;
    fn try_from(text: ForkText) -> Result<Self> {
        let fork = Self::new(text.full_stroke, text.rake, text.leg)?;
        text.rake_uncertainty.map_or(Ok(fork.clone()), |uncertainty| fork.with_rake_uncertainty(uncertainty))
    }
}

impl From<Fork> for ForkText {
    fn from(fork: Fork) -> Self {
        Self { full_stroke: fork.full_stroke, rake: fork.rake, rake_uncertainty: fork.rake_uncertainty, leg: fork.legs }
    }
}
