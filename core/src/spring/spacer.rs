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

/// Lengths of the parts in a fork leg.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(try_from = "SpacerText", into = "SpacerText"))]
pub struct SpacerLengths {
    free_length: Length,
    spacer: Length,
    washers: Length,
    seat_depth: Length,
    cap_depth: Length,
}

impl SpacerLengths {
    /// The parts of one leg.
    ///
    /// # Errors
    /// When a length is below zero or over 2 m; free length and seat depth must be more than zero.
    pub fn new(
        free_length: Length,
        spacer: Length,
        washers: Length,
        seat_depth: Length,
        cap_depth: Length,
    ) -> Result<Self> {
        let most = Length::from_si(2.0);
        for (field, length) in [("free_length", free_length), ("seat_depth", seat_depth)] {
            check::plausible(field, length, Length::from_si(0.01), most)?;
        }
        for (field, length) in [("spacer", spacer), ("washers", washers), ("cap_depth", cap_depth)] {
            check::not_negative(field, length)?;
            check::plausible(field, length, Length::from_si(0.0), most)?;
        }
        Ok(Self { free_length, spacer, washers, seat_depth, cap_depth })
    }

    /// The preload they give; below zero, a gap.
    #[must_use]
    pub fn preload(&self) -> Length {
        self.free_length + self.spacer + self.washers + self.cap_depth - self.seat_depth
    }

    /// How far the parts stand above the tube's top before the cap goes on; below zero, how far below it they end.
    #[must_use]
    pub fn stands_proud(&self) -> Length {
        self.preload() - self.cap_depth
    }

    /// The same leg with the spacer cut for this preload.
    ///
    /// # Errors
    /// [`SpringError::Description`] when even no spacer at all gives more.
    pub fn cut_for(&self, preload: Length) -> Result<Self> {
        check::finite("preload", preload)?;
        let spacer = self.spacer + preload - self.preload();
        if spacer.si() < 0.0 {
            return Err(SpringError::Description {
                part: "spacer".to_owned(),
                found: format!("{} wanted for preload {}", show(spacer, "mm", 1), show(preload, "mm", 1)),
                wanted: format!(
                    "preload {} or more: that is without a spacer",
                    show(self.preload() - self.spacer, "mm", 1)
                ),
            }
            .into());
        }
        Self::new(self.free_length, spacer, self.washers, self.seat_depth, self.cap_depth)
    }

    /// The same leg with a spring of another free length.
    ///
    /// # Errors
    /// As [`new`](Self::new).
    pub fn with_free_length(&self, free_length: Length) -> Result<Self> {
        Self::new(free_length, self.spacer, self.washers, self.seat_depth, self.cap_depth)
    }

    /// Length of the spacer.
    #[must_use]
    pub fn spacer(&self) -> Length {
        self.spacer
    }
}

#[cfg(feature = "serde")]
#[derive(serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct SpacerText {
    #[serde(with = "crate::units::text_serde")]
    free_length: Length,
    #[serde(with = "crate::units::text_serde")]
    spacer: Length,
    #[serde(with = "crate::units::text_serde")]
    washers: Length,
    #[serde(with = "crate::units::text_serde")]
    seat_depth: Length,
    #[serde(with = "crate::units::text_serde")]
    cap_depth: Length,
}

#[cfg(feature = "serde")]
impl TryFrom<SpacerText> for SpacerLengths {
    type Error = crate::Error;
    fn try_from(text: SpacerText) -> Result<Self> {
        Self::new(text.free_length, text.spacer, text.washers, text.seat_depth, text.cap_depth)
    }
}

#[cfg(feature = "serde")]
impl From<SpacerLengths> for SpacerText {
    fn from(lengths: SpacerLengths) -> Self {
        let SpacerLengths { free_length, spacer, washers, seat_depth, cap_depth } = lengths;
        Self { free_length, spacer, washers, seat_depth, cap_depth }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(length: f64) -> Length {
        Length::from_si(length * 1e-3)
    }

    fn leg(spacer: f64) -> SpacerLengths {
        SpacerLengths::new(mm(460.0), mm(spacer), mm(3.0), mm(545.0), mm(12.0)).unwrap()
    }

    #[test]
    fn preload_is_what_does_not_fit() {
        // 460 + 80 + 3 + 12 − 545 = 10 mm; the parts end 2 mm below the top, the cap reaches 12 mm in.
        assert!((leg(80.0).preload().si() - 0.010).abs() < 1e-12);
        assert!((leg(80.0).stands_proud().si() + 0.002).abs() < 1e-12);
        assert!(leg(60.0).preload().si() < 0.0, "a gap");
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
}
