//! Preload of a fork spring from the lengths of its parts.
//!
//! `p = L₀ + L_spacer + L_washers + c − H`
//!
//! | symbol | how a person measures it |
//! |---|---|
//! | `L₀` | free length of the spring |
//! | `L_spacer`, `L_washers` | the spacer tube; all washers together |
//! | `H` | depth of the spring's seat below the tube's top, fork fully extended, everything out |
//! | `c` | depth to which the cap reaches into the tube when screwed home |
//!
//! Or with everything in and the cap off: how far the last part stands above the tube's top, plus `c`.
//! Geometry; no source needed.

use crate::error::{Result, SpringError};
use crate::units::{Length, Quantity, check, show};

/// Lengths of the parts in a fork leg, as measured.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct SpacerParts {
    /// Free length of the spring.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub free_length: Length,
    /// The spacer tube.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub spacer: Length,
    /// All washers together.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub washers: Length,
    /// Depth of the spring's seat below the tube's top, fork fully extended.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub seat_depth: Length,
    /// Depth to which the cap reaches into the tube.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub cap_depth: Length,
}

/// Lengths of the parts in a fork leg, and the preload that follows.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(try_from = "SpacerParts", into = "SpacerParts"))]
pub struct SpacerLengths(SpacerParts);

impl SpacerLengths {
    /// The parts of one leg.
    ///
    /// # Errors
    /// When a length is below zero or over 2 m; free length and seat depth must be more than zero.
    pub fn new(parts: SpacerParts) -> Result<Self> {
        let SpacerParts { free_length, spacer, washers, seat_depth, cap_depth } = parts;
        let most = Length::from_si(2.0);
        for (field, length) in [("free_length", free_length), ("seat_depth", seat_depth)] {
            check::plausible(field, length, Length::from_si(0.01), most)?;
        }
        for (field, length) in [("spacer", spacer), ("washers", washers), ("cap_depth", cap_depth)] {
            check::not_negative(field, length)?;
            check::plausible(field, length, Length::from_si(0.0), most)?;
        }
        Ok(Self(parts))
    }

    /// What they were made of.
    #[must_use]
    pub fn parts(&self) -> SpacerParts {
        self.0
    }

    /// The preload they give; below zero, a gap.
    #[must_use]
    pub fn preload(&self) -> Length {
        let SpacerParts { free_length, spacer, washers, seat_depth, cap_depth } = self.0;
        free_length + spacer + washers + cap_depth - seat_depth
    }

    /// How far the parts stand above the tube's top before the cap goes on; below zero, how far below it they end.
    #[must_use]
    pub fn stands_proud(&self) -> Length {
        self.preload() - self.0.cap_depth
    }

    /// The same leg with the spacer cut for this preload.
    ///
    /// # Errors
    /// [`SpringError::Description`] when even no spacer at all gives more.
    pub fn cut_for(&self, preload: Length) -> Result<Self> {
        check::finite("preload", preload)?;
        let spacer = self.0.spacer + preload - self.preload();
        if spacer.si() < 0.0 {
            return Err(SpringError::Description {
                part: "spacer".to_owned(),
                found: format!("{} wanted for preload {}", show(spacer, "mm", 1), show(preload, "mm", 1)),
                wanted: format!(
                    "preload {} or more: that is without a spacer",
                    show(self.preload() - self.0.spacer, "mm", 1)
                ),
            }
            .into());
        }
        Self::new(SpacerParts { spacer, ..self.0 })
    }

    /// The same leg with a spring of another free length.
    ///
    /// # Errors
    /// As [`new`](Self::new).
    pub fn with_free_length(&self, free_length: Length) -> Result<Self> {
        Self::new(SpacerParts { free_length, ..self.0 })
    }

    /// Length of the spacer.
    #[must_use]
    pub fn spacer(&self) -> Length {
        self.0.spacer
    }
}

impl TryFrom<SpacerParts> for SpacerLengths {
    type Error = crate::Error;
    fn try_from(parts: SpacerParts) -> Result<Self> {
        Self::new(parts)
    }
}

impl From<SpacerLengths> for SpacerParts {
    fn from(lengths: SpacerLengths) -> Self {
        lengths.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(length: f64) -> Length {
        Length::from_si(length * 1e-3)
    }

    fn leg(spacer: f64) -> SpacerLengths {
        let [free_length, spacer, washers] = [460.0, spacer, 3.0].map(mm);
        let [seat_depth, cap_depth] = [545.0, 12.0].map(mm);
        SpacerLengths::new(SpacerParts { free_length, spacer, washers, seat_depth, cap_depth }).unwrap()
    }

    #[test]
    fn preload_is_what_does_not_fit() {
        // 460 + 80 + 3 + 12 − 545 = 10 mm; the parts end 2 mm below the top, the cap reaches 12 mm in.
        assert!((leg(80.0).preload().si() - 0.010).abs() < 1e-12);
        assert!((leg(80.0).stands_proud().si() + 0.002).abs() < 1e-12);
        assert!(leg(60.0).preload().si() < 0.0, "a gap");
    }

    #[test]
    fn lengths_are_what_they_were_made_of() {
        assert_eq!(SpacerLengths::new(leg(80.0).parts()).unwrap(), leg(80.0));
        assert_ne!(leg(80.0).parts(), leg(60.0).parts());
    }

    #[test]
    fn the_spacer_for_a_preload_gives_it() {
        let cut = leg(80.0).cut_for(mm(6.0)).unwrap();
        assert!((cut.preload() - mm(6.0)).si().abs() < 1e-12 && (cut.spacer() - mm(76.0)).si().abs() < 1e-12);
        let longer = leg(80.0).with_free_length(mm(470.0)).unwrap().cut_for(mm(10.0)).unwrap();
        assert!((longer.spacer() - mm(70.0)).si().abs() < 1e-12);
        let message = leg(80.0).cut_for(mm(-75.0)).unwrap_err().to_string();
        assert!(message.contains("-70.0 mm or more"), "{message}");
    }

    #[test]
    fn reads_and_writes_text() {
        let text = serde_json::to_string(&leg(80.0)).unwrap();
        assert_eq!(serde_json::from_str::<SpacerLengths>(&text).unwrap(), leg(80.0));
    }

    #[test]
    fn no_spacer_at_all_is_a_spacer() {
        // In halves of a metre, so that nothing is rounded.
        let [free_length, spacer, washers, seat_depth, cap_depth] =
            [0.5, 0.125, 0.0, 0.625, 0.0625].map(Length::from_si);
        let leg = SpacerLengths::new(SpacerParts { free_length, spacer, washers, seat_depth, cap_depth }).unwrap();
        let bare = leg.cut_for(leg.preload() - spacer).unwrap();
        assert_eq!((bare.spacer().si(), bare.preload().si()), (0.0, -0.0625));
        assert!(leg.cut_for(Length::from_si(-0.0626)).is_err());
    }
}
