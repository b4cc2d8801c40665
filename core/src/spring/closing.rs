//! A coil spring wound with several pitches, whose coils close one after the other.
//!
//! `x(F) = Σ n_i·min(F/k₁, p_i − d)`, `k₁ = G·d⁴/(8·D³)`; while no coil is closed, `k = k₁/Σn_i`.
//!
//! Every coil carries the same force. One wound with the pitch `p` has the gap `p − d` to the next and closes at
//! `F = k₁·(p − d)`; from there it gives no more, and fewer coils are left: the rate jumps to `k₁/Σn` of those still open.
//! Coils of one pitch close at once, so that this is a stack of one spring for each pitch ([`Stack`]), each stopped where its
//! gap is used up. Exactly at a closing the softer rate holds.
//!
//! Assumes round wire, one mean diameter, a small pitch angle, linear elasticity, and coils that meet all round at once. A real coil rolls
//! up from the side of the closed end, so that each jump is spread over the turn before it; for that, measure the spring
//! ([`MeasuredSpring`](super::MeasuredSpring)). The pitch is that of the loose spring. Buckling and friction between coils are not in it.
//!
//! References: EN 13906-1:2013 (rate); Wahl, *Mechanical Springs*, 2nd ed. (1963), on springs of variable pitch.

use crate::axial::Axial;
use crate::error::{Result, SpringError};
use crate::units::{Force, Length, Quantity, Stress, check, show};

use super::by_force::ByForce;
use super::{Changeover, Coil, Spring, Stack, Stage};

/// Shear modulus of oil-tempered wire: EN 13906-1:2013, material EN 10270-2, from memory.
const OIL_TEMPERED: f64 = 79.5e9;

/// Coils that are wound with one pitch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoilZone {
    coils: f64,
    pitch: Length,
}

impl CoilZone {
    /// So many active coils (parts of one count), with this distance from one to the next, centre to centre, on the loose spring.
    ///
    /// # Errors
    /// When the coils are not from 0.25 to 60, or the pitch not from 0.5 mm to 200 mm.
    pub fn new(coils: f64, pitch: Length) -> Result<Self> {
        check::number_within("coils", coils, 0.25, 60.0)?;
        check::plausible("pitch", pitch, Length::from_si(0.5e-3), Length::from_si(0.2))?;
        Ok(Self { coils, pitch })
    }

    /// Active coils.
    #[must_use]
    pub fn coils(&self) -> f64 {
        self.coils
    }

    /// Pitch of the loose spring.
    #[must_use]
    pub fn pitch(&self) -> Length {
        self.pitch
    }
}

/// What a spring of several pitches is wound from.
#[derive(Debug, Clone, PartialEq)]
pub struct ClosingCoilParts {
    /// Wire diameter.
    pub wire: Length,
    /// Mean diameter of the coil: outside diameter less the wire.
    pub mean_diameter: Length,
    /// Shear modulus of the wire.
    pub shear_modulus: Stress,
    /// Its coils by their pitch, in any order.
    pub zones: Vec<CoilZone>,
}

impl ClosingCoilParts {
    /// Of oil-tempered wire, 79.5 GPa (EN 13906-1).
    #[must_use]
    pub fn oil_tempered(wire: Length, mean_diameter: Length, zones: Vec<CoilZone>) -> Self {
        Self { wire, mean_diameter, shear_modulus: Self::usual_modulus(), zones }
    }

    /// The shear modulus that is taken where none is stated.
    #[must_use]
    pub fn usual_modulus() -> Stress {
        Stress::from_si(OIL_TEMPERED)
    }
}

/// A coil spring whose coils close one after the other.
///
/// ```
/// use wheelrate::spring::{ClosingCoil, ClosingCoilParts, CoilZone};
/// use wheelrate::units::{Quantity, parse};
/// let zones = vec![CoilZone::new(4.0, parse("12 mm")?)?, CoilZone::new(5.0, parse("18 mm")?)?];
/// let spring = ClosingCoil::new(ClosingCoilParts::oil_tempered(parse("10 mm")?, parse("70 mm")?, zones))?;
/// let [first, last] = spring.closings()[..] else { panic!() };
/// // Coils of the small pitch have a gap of 2 mm, the others one of 8 mm.
/// assert!((last.force.in_unit("N")? / first.force.in_unit("N")? - 4.0).abs() < 1e-9);
/// # Ok::<(), wheelrate::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct ClosingCoil {
    parts: ClosingCoilParts,
    stack: Stack,
}

impl ClosingCoil {
    /// A spring from its wire and pitches.
    ///
    /// # Errors
    /// [`SpringError::Description`] without a coil; [`SpringError::Order`] when a pitch is not more than the wire, or the mean
    /// diameter not at least twice it; a quantity out of range.
    pub fn new(parts: ClosingCoilParts) -> Result<Self> {
        check::plausible("wire", parts.wire, Length::from_si(0.2e-3), Length::from_si(0.05))?;
        check::plausible("mean_diameter", parts.mean_diameter, 2.0 * parts.wire, Length::from_si(0.5))?;
        check::plausible("shear_modulus", parts.shear_modulus, Stress::from_si(1e9), Stress::from_si(1e12))?;
        if parts.zones.is_empty() {
            return Err(SpringError::Description {
                part: "zones".to_owned(),
                found: "no coil".to_owned(),
                wanted: "coils and their pitch, once or more".to_owned(),
            }
            .into());
        }
        let one_coil = parts.of_one_coil();
        let stage = |(row, zone): (usize, &CoilZone)| {
            check::above(&format!("zones[{row}].pitch"), zone.pitch, "wire", parts.wire)?;
            let rate = crate::units::SpringRate::from_si(one_coil / zone.coils);
            let gaps = (zone.pitch - parts.wire) * zone.coils;
            Stage::new(Spring::Coil(Coil::new(rate)?)).with_limit(gaps)
        };
        let stages = parts.zones.iter().enumerate().map(stage).collect::<Result<_>>()?;
        Ok(Self { stack: Stack::new(stages)?, parts })
    }

    /// What it is wound from.
    #[must_use]
    pub fn parts(&self) -> &ClosingCoilParts {
        &self.parts
    }

    /// Where coils close, in rising order; at the last the spring is solid.
    #[must_use]
    pub fn closings(&self) -> Vec<Changeover> {
        let mut closings = self.stack.changeovers();
        let most =
            self.parts.zones.iter().map(|zone| zone.pitch - self.parts.wire).fold(Length::default(), Length::max);
        let force = Force::from_si(self.parts.of_one_coil() * most.si());
        closings.push(Changeover { compression: Length::from_si(self.end()), force });
        closings
    }

    pub(super) fn scaled(&self, factor: f64) -> Result<Self> {
        let shear_modulus = self.parts.shear_modulus * factor;
        Self::new(ClosingCoilParts { shear_modulus, ..self.parts.clone() })
    }

    pub(super) fn end(&self) -> f64 {
        self.stack.end().unwrap_or_default()
    }

    pub(super) fn eval(&self, x: f64) -> Axial {
        self.stack.eval(x)
    }

    pub(super) fn by_force(&self, force: f64) -> ByForce {
        self.stack.by_force(force)
    }

    pub(super) fn jumps(&self) -> Vec<f64> {
        self.stack.jumps()
    }

    pub(super) fn describe(&self) -> String {
        let zone = |zone: &CoilZone| format!("{} at {}", zone.coils, show(zone.pitch, "mm", 1));
        let zones: Vec<String> = self.parts.zones.iter().map(zone).collect();
        format!("coil spring of {} wire, coils {}", show(self.parts.wire, "mm", 1), zones.join(" and "))
    }
}

impl ClosingCoilParts {
    /// Rate of one coil, in SI units.
    fn of_one_coil(&self) -> f64 {
        self.shear_modulus.si() * self.wire.si().powi(4) / (8.0 * self.mean_diameter.si().powi(3))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::axial::testing::assert_consistent;
    use proptest::prelude::*;

    fn mm(length: f64) -> Length {
        Length::from_si(length * 1e-3)
    }

    fn coil(zones: &[(f64, f64)]) -> Result<ClosingCoil> {
        let zones = zones.iter().map(|&(coils, pitch)| CoilZone::new(coils, mm(pitch)).unwrap()).collect();
        ClosingCoil::new(ClosingCoilParts::oil_tempered(mm(10.0), mm(70.0), zones))
    }

    #[test]
    fn coils_of_one_pitch_are_a_coil_spring_until_it_is_solid() {
        let spring = Spring::from(coil(&[(8.0, 18.0)]).unwrap());
        let material = super::super::Material::named("EN 10270-2").unwrap();
        let parts = super::super::CoilParts {
            wire: mm(10.0),
            mean_diameter: mm(70.0),
            active_coils: 8.0,
            ends: super::super::CoilEnds::Closed,
            material,
        };
        let plain = super::super::CoilGeometry::new(parts).unwrap().rate();
        assert!((spring.initial_rate().si() / plain.si() - 1.0).abs() < 1e-12);
        assert!((spring.most_compression().unwrap().si() - 0.064).abs() < 1e-15, "eight gaps of 8 mm");
    }

    #[test]
    fn says_which_pitch_is_no_more_than_the_wire() {
        let fault = coil(&[(4.0, 18.0), (2.0, 9.0)]).unwrap_err().to_string();
        assert!(fault.contains("zones[1].pitch") && fault.contains("wire"), "{fault}");
        assert!(coil(&[]).unwrap_err().to_string().contains("no coil"));
    }

    proptest! {
        /// One coil at a time, by the equation at the head of the file.
        #[test]
        fn the_compression_is_the_sum_over_its_coils(
            zones in proptest::collection::vec((1.0..8.0_f64, 10.5..25.0_f64), 1..5), share in 0.01..0.99_f64,
        ) {
            let spring = coil(&zones).unwrap();
            let one_coil = 79.5e9 * 0.01_f64.powi(4) / (8.0 * 0.07_f64.powi(3));
            let x = share * spring.end();
            let force = spring.eval(x).force;
            let sum: f64 = zones.iter().map(|(n, pitch)| n * (force / one_coil).min((pitch - 10.0) * 1e-3)).sum();
            prop_assert!((sum - x).abs() < 1e-12, "{sum} {x}");
            let end = spring.end();
            assert_consistent(&Spring::from(spring), 0.999 * end);
        }
    }
}
