//! A rear end of which nobody knows more than where it begins and ends.

use super::{KnownFrom, RearEnd};
use crate::error::{Result, WheelError};
use crate::linkage::{AssumedLinkage, AssumedParts};
use crate::record::Usual;
use crate::shock::Shock;
use crate::units::{Length, LeverageRatio, Quantity, Share, Uncertain, check};

/// What a person knows of a rear end without a drawing or a table: any two of travel, stroke of the shock and lever say where
/// it begins and ends.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Outline {
    /// Vertical wheel travel.
    pub travel: Option<Length>,
    /// Wheel travel per stroke of the shock, on average over the travel.
    pub lever: Option<Uncertain<LeverageRatio>>,
    /// By how much the motion ratio rises over the travel, `MR_end/MR_start − 1`.
    pub progression: Option<Uncertain<Share>>,
}

impl RearEnd {
    /// An end of which nobody knows more than travel, stroke and lever: what is open about the way from wheel to shock is a
    /// prior, at what is usual where nothing is stated. Of a shock whose stroke nobody knows, the stroke follows from travel and
    /// lever.
    ///
    /// # Errors
    /// [`WheelError::NoOutline`] where less than two of them are known; [`WheelError::Lever`] where all three are, and
    /// contradict each other; as [`AssumedLinkage::new`].
    pub fn from_outline(outline: Outline, shock: Shock, usual: &Usual) -> Result<Self> {
        let (way, shock) = outlined(&outline, &shock, usual)?;
        Ok(Self { outline, ..Self::of(KnownFrom::Assumed(way), shock) })
    }

    /// What a data sheet says of the end, where it was stated.
    #[must_use]
    pub fn outline(&self) -> &Outline {
        &self.outline
    }

    /// The end with what a data sheet says of it; of an end that is drawn or measured it is only kept.
    #[cfg(feature = "serde")]
    pub(crate) fn outlined(self, outline: Outline) -> Self {
        Self { outline, ..self }
    }

    /// The linkage that is assumed, where nothing says more than its ends.
    #[must_use]
    pub fn assumed(&self) -> Option<&AssumedLinkage> {
        match &self.way {
            KnownFrom::Assumed(way) => Some(way),
            _ => None,
        }
    }

    /// The end at what is usual, wherever nobody stated it.
    pub(crate) fn assuming(&self, usual: &Usual) -> Result<Self> {
        let shock = self.shock.assuming(usual)?;
        match &self.way {
            KnownFrom::Assumed(_) => {
                let (way, shock) = outlined(&self.outline, &shock, usual)?;
                Ok(Self { way: KnownFrom::Assumed(way), shock, ..self.clone() })
            }
            _ => self.with_shock(shock),
        }
    }
}

/// A stated lever this far off travel over stroke, in its standard uncertainties and as a share, is of another bike.
const LEVER_OFF: (f64, f64) = (4.0, 0.1);

/// The linkage that an outline leaves, and its shock with a stroke.
pub(super) fn outlined(outline: &Outline, shock: &Shock, usual: &Usual) -> Result<(AssumedLinkage, Shock)> {
    let Outline { travel, lever, progression } = *outline;
    let stroke = Some(shock.full_stroke()).filter(|_| !shock.is_stroke_assumed());
    let of_lever = |lever: Uncertain<LeverageRatio>| {
        let value = check::positive("lever", lever.value)?.si();
        Ok::<_, crate::Error>((value, Share::from_si(lever.standard_uncertainty.si() / value)))
    };
    let lever = lever.map(of_lever).transpose()?;
    let (travel, stroke, ratio) = match (travel, stroke, lever) {
        (Some(travel), Some(stroke), None) => (travel, stroke, usual.ratio),
        (Some(travel), Some(stroke), Some((lever, known))) => {
            let off = (travel.si() / stroke.si() / lever - 1.0).abs();
            if off > (LEVER_OFF.0 * known.si()).max(LEVER_OFF.1) {
                let (found, follows) = (format!("{lever:.2} wheel/shock"), format!("{:.2}", travel.si() / stroke.si()));
                return Err(WheelError::Lever { found, follows }.into());
            }
            (travel, stroke, usual.ratio)
        }
        (Some(travel), None, Some((lever, known))) => (travel, travel / lever, known),
        (None, Some(stroke), Some((lever, known))) => (stroke * lever, stroke, known),
        _ => return Err(WheelError::NoOutline.into()),
    };
    let (progression, bend) = (progression.unwrap_or(usual.progression), usual.bend);
    let way = AssumedLinkage::new(AssumedParts { travel, stroke, ratio, progression, bend })?;
    let shock = if shock.is_stroke_assumed() { shock.with_assumed_stroke(stroke)? } else { shock.clone() };
    Ok((way, shock))
}
