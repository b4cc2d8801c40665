//! A cylindrical coil spring from its wire: rate, stress, lengths, mass, surge, buckling.
//!
//! `k = G·d⁴/(8·D³·n)`
//!
//! | symbol | meaning |
//! |---|---|
//! | `d`, `D` | wire diameter, mean coil diameter (outside diameter less `d`) |
//! | `n`, `n_t` | active coils, all coils |
//! | `w = D/d` | spring index |
//! | `E`, `G`, `ρ` | moduli and density of the [`Material`] |
//!
//! Round wire, constant pitch, small pitch angle, linear elastic. The standard covers `4 ≤ w ≤ 20` and `n ≥ 2`; outside it the
//! stress factors lose accuracy first.
//!
//! Sources: EN 13906-1:2013 (rate, stress, buckling, surge); Budynas & Nisbett, *Shigley's Mechanical Engineering Design*,
//! ch. 10 (solid length by kind of end, table 10-1; Wahl and Bergsträsser factors, eq. 10-4 and 10-5).

use core::f64::consts::PI;

use crate::error::{Result, SpringError};
use crate::units::{Force, Frequency, Length, Mass, Quantity, SpringRate, Stress, Volume, brief, check};

use super::{Coil, Material};

/// How the ends of a coil spring are made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum CoilEnds {
    /// Cut off: every coil is active.
    Open,
    /// Cut off and ground.
    OpenGround,
    /// The last coil at each end laid against the next one.
    Closed,
    /// Closed, and ground flat.
    ClosedGround,
}

impl CoilEnds {
    /// Coils that carry no twist, both ends together.
    #[must_use]
    pub fn inactive_coils(self) -> f64 {
        match self {
            Self::Open => 0.0,
            Self::OpenGround => 1.0,
            Self::Closed | Self::ClosedGround => 2.0,
        }
    }

    /// Wire diameters that the solid length counts beyond one for each coil.
    fn unground(self) -> f64 {
        match self {
            Self::Open | Self::Closed => 1.0,
            Self::OpenGround | Self::ClosedGround => 0.0,
        }
    }
}

/// Which curvature correction the shear stress carries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum StressFactor {
    /// Torsion alone: 1.
    Torsion,
    /// Torsion and direct shear: `1 + 1/(2w)`.
    DirectShear,
    /// Wahl: `(4w − 1)/(4w − 4) + 0.615/w`.
    Wahl,
    /// Bergsträsser, as in EN 13906-1: `(w + 0.5)/(w − 0.75)`.
    Bergstrasser,
}

impl StressFactor {
    /// Its value at a spring index.
    #[must_use]
    pub fn at(self, index: f64) -> f64 {
        match self {
            Self::Torsion => 1.0,
            Self::DirectShear => 1.0 + 0.5 / index,
            Self::Wahl => (4.0 * index - 1.0) / (4.0 * index - 4.0) + 0.615 / index,
            Self::Bergstrasser => (index + 0.5) / (index - 0.75),
        }
    }
}

/// How the ends of a spring are held, for buckling: the seating coefficient `ν`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum Seating {
    /// Both ends between flat parallel plates.
    Fixed,
    /// One end on a flat plate, the other on a pivot.
    FixedHinged,
    /// Both ends on pivots.
    Hinged,
    /// One end on a flat plate, the other free to move sideways.
    FixedFree,
}

impl Seating {
    /// The seating coefficient (Shigley, table 10-2; EN 13906-1 rounds the second to 0.7).
    #[must_use]
    pub fn coefficient(self) -> f64 {
        match self {
            Self::Fixed => 0.5,
            Self::FixedHinged => 0.707,
            Self::Hinged => 1.0,
            Self::FixedFree => 2.0,
        }
    }
}

/// What a cylindrical coil spring is wound from, and how.
#[derive(Debug, Clone, PartialEq)]
pub struct CoilParts {
    /// Wire diameter.
    pub wire: Length,
    /// Mean diameter of the coil: outside diameter less the wire.
    pub mean_diameter: Length,
    /// Active coils.
    pub active_coils: f64,
    /// How its ends are made.
    pub ends: CoilEnds,
    /// What the wire is made of.
    pub material: Material,
}

/// A cylindrical coil spring of round wire.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(try_from = "GeometryText", into = "GeometryText"))]
pub struct CoilGeometry {
    wire: Length,
    mean_diameter: Length,
    active_coils: f64,
    ends: CoilEnds,
    material: Material,
    free_length: Option<Length>,
}

impl CoilGeometry {
    /// A spring by its wire, mean diameter and active coils.
    ///
    /// # Errors
    /// When the wire is not from 0.2 mm to 30 mm, the mean diameter not from 1 mm to 300 mm, the index not from 2 to 30,
    /// or the coils not from 0.5 to 200.
    pub fn new(parts: CoilParts) -> Result<Self> {
        let CoilParts { wire, mean_diameter, active_coils, ends, material } = parts;
        check::plausible("wire", wire, Length::from_si(2e-4), Length::from_si(0.03))?;
        check::plausible("mean_diameter", mean_diameter, Length::from_si(1e-3), Length::from_si(0.3))?;
        check::number_within("mean_diameter / wire", mean_diameter.si() / wire.si(), 2.0, 30.0)?;
        check::number_within("active_coils", active_coils, 0.5, 200.0)?;
        Ok(Self { wire, mean_diameter, active_coils, ends, material, free_length: None })
    }

    /// The same spring with its free length.
    ///
    /// # Errors
    /// When the length is not more than the solid length, or over 2 m.
    pub fn with_free_length(self, free_length: Length) -> Result<Self> {
        check::plausible("free_length", free_length, Length::from_si(1e-3), Length::from_si(2.0))?;
        if free_length <= self.solid_length() {
            return Err(SpringError::Order {
                field: "free_length".to_owned(),
                found: brief(free_length),
                wanted: "more",
                other: "solid length".to_owned(),
                than: brief(self.solid_length()),
            }
            .into());
        }
        Ok(Self { free_length: Some(free_length), ..self })
    }

    /// Diameter of the wire.
    #[must_use]
    pub fn wire(&self) -> Length {
        self.wire
    }

    /// What the wire is made of.
    #[must_use]
    pub fn material(&self) -> &Material {
        &self.material
    }

    /// Spring index `w = D/d`.
    #[must_use]
    pub fn index(&self) -> f64 {
        self.mean_diameter.si() / self.wire.si()
    }

    /// All coils, `n_t`.
    #[must_use]
    pub fn total_coils(&self) -> f64 {
        self.active_coils + self.ends.inactive_coils()
    }

    /// `k = G·d⁴/(8·D³·n)`.
    #[must_use]
    pub fn rate(&self) -> SpringRate {
        let shear = self.material.shear_modulus().si();
        let (d, mean) = (self.wire.si(), self.mean_diameter.si());
        SpringRate::from_si(shear * d.powi(4) / (8.0 * mean.powi(3) * self.active_coils))
    }

    /// Shear stress in the wire, `τ = K·8·F·D/(π·d³)`.
    #[must_use]
    pub fn shear_stress(&self, force: Force, factor: StressFactor) -> Stress {
        let torsion = 8.0 * force.si() * self.mean_diameter.si() / (PI * self.wire.si().powi(3));
        Stress::from_si(factor.at(self.index()) * torsion)
    }

    /// Length with all coils touching: `d·n_t` with ground ends, `d·(n_t + 1)` without (EN 13906-1 allows up to
    /// `d·(n_t + 1.5)` for closed ends not ground).
    #[must_use]
    pub fn solid_length(&self) -> Length {
        self.wire * (self.total_coils() + self.ends.unground())
    }

    /// Free length, where given.
    #[must_use]
    pub fn free_length(&self) -> Option<Length> {
        self.free_length
    }

    /// Compression until the coils touch, where the free length is given.
    #[must_use]
    pub fn solid_compression(&self) -> Option<Length> {
        self.free_length.map(|free| free - self.solid_length())
    }

    /// Stress with all coils touching, where the free length is given.
    #[must_use]
    pub fn solid_stress(&self, factor: StressFactor) -> Option<Stress> {
        self.solid_compression().map(|compression| self.shear_stress(self.rate() * compression, factor))
    }

    /// Volume of the wire, `π²·d²·D·n_t/4`: what the spring takes from the air of a fork leg.
    #[must_use]
    pub fn volume(&self) -> Volume {
        Volume::from_si(self.wire_volume(self.total_coils()))
    }

    /// Mass of the whole spring.
    #[must_use]
    pub fn mass(&self) -> Mass {
        Mass::from_si(self.wire_volume(self.total_coils()) * self.material.density().si())
    }

    /// Mass of the active coils.
    #[must_use]
    pub fn active_mass(&self) -> Mass {
        Mass::from_si(self.wire_volume(self.active_coils) * self.material.density().si())
    }

    fn wire_volume(&self, coils: f64) -> f64 {
        0.25 * PI * PI * self.wire.si().powi(2) * self.mean_diameter.si() * coils
    }

    /// First natural frequency of the spring between two plates, `f = √(k/m)/2` with the mass of the active coils.
    #[must_use]
    pub fn surge_frequency(&self) -> Frequency {
        Frequency::from_si(0.5 * (self.rate().si() / self.active_mass().si()).sqrt())
    }

    /// Free length below which the spring does not buckle at any compression:
    /// `L₀ = (π·D/ν)·√((1 − G/E)/(0.5 + G/E))`.
    #[must_use]
    pub fn stable_free_length(&self, seating: Seating) -> Length {
        let (slender, _) = self.buckling_terms();
        self.mean_diameter * (PI / seating.coefficient() * slender.sqrt())
    }

    /// Compression at which the spring buckles,
    /// `s_k = L₀·0.5/(1 − G/E)·[1 − √(1 − (1 − G/E)/(0.5 + G/E)·(π·D/(ν·L₀))²)]`; `None` when it never does, or its free
    /// length is not given. A guide, or a bore that leaves little room, holds a longer spring.
    #[must_use]
    pub fn buckling_compression(&self, seating: Seating) -> Option<Length> {
        let free = self.free_length?;
        let (slender, complement) = self.buckling_terms();
        let ratio = PI * self.mean_diameter.si() / (seating.coefficient() * free.si());
        let radicand = 1.0 - slender * ratio * ratio;
        (radicand >= 0.0).then(|| free * (0.5 / complement * (1.0 - radicand.sqrt())))
    }

    /// `(1 − G/E)/(0.5 + G/E)` and `1 − G/E`.
    fn buckling_terms(&self) -> (f64, f64) {
        let ratio = self.material.shear_modulus() / self.material.elastic_modulus();
        ((1.0 - ratio) / (0.5 + ratio), 1.0 - ratio)
    }

    /// The spring as an element: its rate, and its lengths where the free length is given.
    ///
    /// # Errors
    /// As [`Coil::new`].
    pub fn coil(&self) -> Result<Coil> {
        let coil = Coil::new(self.rate())?;
        self.free_length.map_or(Ok(coil), |free| coil.with_lengths(free, self.solid_length()))
    }
}

#[cfg(feature = "serde")]
#[derive(serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct GeometryText {
    #[serde(with = "crate::units::text_serde")]
    wire: Length,
    #[serde(with = "crate::units::text_serde")]
    mean_diameter: Length,
    active_coils: f64,
    ends: CoilEnds,
    material: Material,
    #[serde(default, skip_serializing_if = "Option::is_none", with = "crate::units::text_serde::option")]
    free_length: Option<Length>,
}

#[cfg(feature = "serde")]
impl TryFrom<GeometryText> for CoilGeometry {
    type Error = crate::Error;
    fn try_from(text: GeometryText) -> Result<Self> {
        let GeometryText { wire, mean_diameter, active_coils, ends, material, free_length } = text;
        let spring = Self::new(CoilParts { wire, mean_diameter, active_coils, ends, material })?;
        free_length.map_or(Ok(spring.clone()), |free| spring.with_free_length(free))
    }
}

#[cfg(feature = "serde")]
impl From<CoilGeometry> for GeometryText {
    fn from(spring: CoilGeometry) -> Self {
        let CoilGeometry { wire, mean_diameter, active_coils, ends, material, free_length } = spring;
        Self { wire, mean_diameter, active_coils, ends, material, free_length }
    }
}

#[cfg(test)]
mod tests;
