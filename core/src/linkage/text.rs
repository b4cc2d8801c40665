//! A linkage as text: the mechanism, and what is put into it.

use super::{Linkage, Mechanism};
use crate::error::LinkageError;
use crate::units::Length;

#[derive(serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LinkageText {
    mechanism: Mechanism,
    wheel: String,
    shock: [String; 2],
    #[serde(with = "crate::units::text_serde")]
    shock_length: Length,
    #[serde(with = "crate::units::text_serde")]
    stroke: Length,
}

impl TryFrom<LinkageText> for Linkage {
    type Error = LinkageError;
    fn try_from(text: LinkageText) -> Result<Self, LinkageError> {
        let [first, second] = &text.shock;
        Self::new(text.mechanism, &text.wheel, (first, second), text.shock_length, text.stroke)
    }
}

impl From<Linkage> for LinkageText {
    fn from(linkage: Linkage) -> Self {
        let name = |point: usize| linkage.mechanism.point_name(point).to_owned();
        Self {
            wheel: name(linkage.wheel),
            shock: linkage.shock.map(name),
            shock_length: linkage.shock_length,
            stroke: linkage.stroke,
            mechanism: linkage.mechanism,
        }
    }
}
