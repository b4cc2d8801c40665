//! Roads by their displacement spectrum (ISO 8608).

use crate::error::{Result, UnitError};
use crate::units::{Length, Quantity, Volume, check};

/// Reference wavenumber of ISO 8608, in cycles per metre.
const REFERENCE: f64 = 0.1;
/// Roughness of class A, the middle of its range by ratio, in m³: 16·10⁻⁶ m²/(cycle/m). Each class is four times the one before.
const CLASS_A_SI: f64 = 16e-6;
const STEP: f64 = 4.0;
/// Wavelengths that are ridden over unless said otherwise: from a tyre's patch to a bump that only lifts the whole bike (m).
const WAVELENGTHS_SI: [f64; 2] = [0.1, 100.0];
/// Roughness that is no slip of unit: a table's top to a ploughed field.
const ROUGHNESS_SI: [f64; 2] = [1e-9, 10.0];

/// Class of a road, from a very good one (A) to a very bad one (H). Tarred roads are A to C, gravel and forest roads C to E,
/// trails E and beyond (common practice, no source).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[allow(missing_docs, reason = "letters")]
pub enum RoadClass {
    A,
    B,
    C,
    D,
    E,
    F,
    G,
    H,
}

impl RoadClass {
    /// Every class.
    pub const ALL: [Self; 8] = [Self::A, Self::B, Self::C, Self::D, Self::E, Self::F, Self::G, Self::H];

    /// `G_d(n₀)`, the middle of the class by ratio, in m²/(cycle/m), which is a volume: `4ᵏ·16·10⁻⁶ m³` from A on.
    #[must_use]
    pub fn roughness(self) -> Volume {
        Volume::from_si(CLASS_A_SI * STEP.powi(self as i32))
    }

    /// Least and most of the class: half and double, of which the rms is `1/√2` and `√2` times that of the middle.
    #[must_use]
    pub fn bounds(self) -> [Volume; 2] {
        [self.roughness() * 0.5, self.roughness() * 2.0]
    }

    /// The class of a letter.
    ///
    /// # Errors
    /// [`UnitError::NotANumber`] for anything but A to H.
    pub fn from_letter(letter: &str) -> Result<Self, UnitError> {
        let place = Self::ALL.iter().position(|class| format!("{class:?}") == letter.trim().to_uppercase());
        place.map(|place| Self::ALL[place]).ok_or_else(|| UnitError::NotANumber {
            kind: "class of road, A to H",
            found: letter.to_owned(),
            example: "D".to_owned(),
        })
    }
}

/// A road: how rough, and which wavelengths of it.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize, serde::Deserialize),
    serde(try_from = "RoadText", into = "RoadText")
)]
pub struct Road {
    roughness: Volume,
    wavelengths: [Length; 2],
}

impl Road {
    /// The middle of a class.
    #[must_use]
    pub fn of_class(class: RoadClass) -> Self {
        Self { roughness: class.roughness(), wavelengths: WAVELENGTHS_SI.map(Length::from_si) }
    }

    /// A roughness `G_d(n₀)` in m²/(cycle/m), which is a volume.
    ///
    /// # Errors
    /// [`UnitError`] unless it is from 10⁻⁹ to 10 m³.
    pub fn of_roughness(roughness: Volume) -> Result<Self> {
        let [least, most] = ROUGHNESS_SI.map(Volume::from_si);
        check::plausible("roughness", roughness, least, most)?;
        Ok(Self { roughness, wavelengths: WAVELENGTHS_SI.map(Length::from_si) })
    }

    /// With the wavelengths from the shortest to the longest; 0.1 m to 100 m unless said.
    ///
    /// # Errors
    /// [`UnitError`] unless both are above zero and the longest is longer.
    pub fn with_wavelengths(self, shortest: Length, longest: Length) -> Result<Self> {
        check::positive("shortest", shortest)?;
        check::finite("longest", longest)?;
        if longest <= shortest {
            return Err(UnitError::Order {
                field: "longest".to_owned(),
                found: crate::units::brief(longest),
                wanted: "more",
                other: "shortest",
                than: crate::units::brief(shortest),
            }
            .into());
        }
        Ok(Self { wavelengths: [shortest, longest], ..self })
    }

    /// `G_d(n₀)`.
    #[must_use]
    pub fn roughness(&self) -> Volume {
        self.roughness
    }

    /// Shortest and longest wavelength.
    #[must_use]
    pub fn wavelengths(&self) -> [Length; 2] {
        self.wavelengths
    }

    /// Least and most wavenumber in cycles per metre.
    pub(super) fn wavenumbers(&self) -> [f64; 2] {
        [1.0 / self.wavelengths[1].si(), 1.0 / self.wavelengths[0].si()]
    }

    /// `G_d(n)` in m³, one-sided.
    pub(super) fn density(&self, wavenumber: f64) -> f64 {
        self.roughness.si() * (REFERENCE / wavenumber).powi(2)
    }
}

/// A road as text.
#[cfg(feature = "serde")]
#[derive(serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct RoadText {
    #[serde(with = "crate::units::text_serde")]
    roughness: Volume,
    #[serde(with = "crate::units::text_serde")]
    shortest: Length,
    #[serde(with = "crate::units::text_serde")]
    longest: Length,
}

#[cfg(feature = "serde")]
impl TryFrom<RoadText> for Road {
    type Error = crate::Error;
    fn try_from(RoadText { roughness, shortest, longest }: RoadText) -> Result<Self> {
        Self::of_roughness(roughness)?.with_wavelengths(shortest, longest)
    }
}

#[cfg(feature = "serde")]
impl From<Road> for RoadText {
    fn from(Road { roughness, wavelengths: [shortest, longest] }: Road) -> Self {
        Self { roughness, shortest, longest }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_class_ends_where_the_next_begins_and_its_middle_is_that_of_its_ratio() {
        // Powers of two: products are exact.
        for pair in RoadClass::ALL.windows(2) {
            assert_eq!(pair[0].bounds()[1], pair[1].bounds()[0]);
        }
        for class in RoadClass::ALL {
            let [low, high] = class.bounds().map(Quantity::si);
            assert!(((low * high).sqrt() / class.roughness().si() - 1.0).abs() < 1e-15);
        }
        assert!((RoadClass::A.bounds()[1].si() - 32e-6).abs() < 1e-20);
    }
}
