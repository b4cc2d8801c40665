//! The text form of a shock.

use serde::{Deserialize, Serialize};

use super::{Shock, ShockParts};
use crate::axial::OwnElement;
use crate::error::{Error, Result};
use crate::friction::SealFriction;
use crate::gas::{AirSpring, Reservoir};
use crate::spring::{Preloaded, Stop};
use crate::units::{Length, text_serde};

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ShockText {
    #[serde(with = "text_serde")]
    length: Length,
    #[serde(rename = "stroke", with = "text_serde")]
    full_stroke: Length,
    #[serde(default = "one", skip_serializing_if = "is_one")]
    count: u8,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    spring: Option<Preloaded>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    reservoir: Option<Reservoir>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    air_spring: Option<AirSpring>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    bump_stop: Option<Stop>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    top_out: Option<Stop>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    friction: Option<SealFriction>,
    #[serde(skip_deserializing, skip_serializing_if = "Vec::is_empty")]
    own: Vec<OwnElement>,
}

fn one() -> u8 {
    1
}

#[allow(clippy::trivially_copy_pass_by_ref, reason = "serde passes a reference")]
fn is_one(count: &u8) -> bool {
    *count == 1
}

impl TryFrom<ShockText> for Shock {
    type Error = Error;
    fn try_from(text: ShockText) -> Result<Self> {
        let ShockText { length, full_stroke, count, spring, reservoir, air_spring, bump_stop, top_out, friction, own } =
            text;
        Self::new(
            length,
            full_stroke,
            ShockParts { spring, reservoir, air_spring, bump_stop, top_out, friction, own },
            count,
        )
    }
}

impl From<Shock> for ShockText {
    fn from(shock: Shock) -> Self {
        let ShockParts { spring, reservoir, air_spring, bump_stop, top_out, friction, own } = shock.parts;
        Self {
            length: shock.length,
            full_stroke: shock.full_stroke,
            count: shock.count,
            spring,
            reservoir,
            air_spring,
            bump_stop,
            top_out,
            friction,
            own,
        }
    }
}
