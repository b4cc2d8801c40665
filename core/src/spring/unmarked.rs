//! What is this unmarked spring? Its rate and standard uncertainty from caliper readings.
//!
//! `k = G·d⁴/(8·(D_o − d)³·n)`, and by the law of propagation (JCGM 100:2008, 5.1)
//! `(u_k/k)² = (4/d + 3/D)²·u_d² + (3/D)²·u_Do² + (u_n/n)² + (u_G/G)²`, with `D = D_o − d`.
//!
//! The readings count as independent. First order: at 2 % in the wire diameter the neglected curvature of `d⁴` is 0.3 % of
//! the rate, small against its 9 %. Active coils are the hard part: on closed ends count to a quarter. Nobody knows the grade
//! of unmarked wire: its shear modulus is [`UNCERTIFIED_SHEAR_MODULUS`] uncertain unless a certificate says better.

use crate::error::Result;
use crate::units::{Length, Quantity, SpringRate, Uncertain, check};

use super::Material;

/// Relative standard uncertainty of the shear modulus of steel wire without a certificate: anywhere from 77.2 GPa to 82.7 GPa
/// alike, which is what textbooks give for spring steels of all grades ([`Material`]), `5.5/√12 = 1.6` GPa on 80 GPa.
pub const UNCERTIFIED_SHEAR_MODULUS: f64 = 0.02;

/// Caliper readings of a coil spring.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct UnmarkedParts {
    /// Wire diameter.
    pub wire: Uncertain<Length>,
    /// Outside diameter of the coil.
    pub outside_diameter: Uncertain<Length>,
    /// Active coils.
    pub active_coils: f64,
    /// Standard uncertainty of that count.
    pub active_coils_uncertainty: f64,
    /// What the wire is made of.
    pub material: Material,
    /// Relative standard uncertainty of its shear modulus: [`UNCERTIFIED_SHEAR_MODULUS`] without a certificate.
    pub shear_modulus_uncertainty: f64,
}

/// A coil spring known by caliper readings.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(try_from = "UnmarkedParts", into = "UnmarkedParts"))]
pub struct UnmarkedSpring(UnmarkedParts);

/// What each reading adds to the relative standard uncertainty of the rate.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct RateBudget {
    /// From the wire diameter.
    pub wire: f64,
    /// From the outside diameter.
    pub outside_diameter: f64,
    /// From the count of coils.
    pub active_coils: f64,
    /// From the shear modulus.
    pub shear_modulus: f64,
}

impl RateBudget {
    /// Relative standard uncertainty of the rate: root of the sum of squares.
    #[must_use]
    pub fn total(&self) -> f64 {
        let Self { wire, outside_diameter, active_coils, shear_modulus } = *self;
        [wire, outside_diameter, active_coils, shear_modulus].iter().map(|part| part * part).sum::<f64>().sqrt()
    }
}

impl UnmarkedSpring {
    /// Readings with their standard uncertainties.
    ///
    /// # Errors
    /// When a reading is out of the range of [`CoilGeometry`](super::CoilGeometry), or an uncertainty is more than a
    /// fifth of its value.
    pub fn new(parts: UnmarkedParts) -> Result<Self> {
        /// Beyond this the first-order law of propagation is no guide any more.
        const MOST_RELATIVE: f64 = 0.2;
        let UnmarkedParts { wire, outside_diameter, active_coils, active_coils_uncertainty, .. } = parts;
        let (d, outside) = (wire.value, outside_diameter.value);
        check::plausible("wire", d, Length::from_si(2e-4), Length::from_si(0.03))?;
        check::plausible("outside_diameter", outside, Length::from_si(1e-3), Length::from_si(0.33))?;
        check::number_within("(outside_diameter − wire) / wire", (outside - d).si() / d.si(), 2.0, 30.0)?;
        check::number_within("active_coils", active_coils, 0.5, 200.0)?;
        let relative = [
            ("uncertainty of wire / wire", wire.standard_uncertainty.si() / d.si()),
            ("uncertainty of outside_diameter / it", outside_diameter.standard_uncertainty.si() / outside.si()),
            ("uncertainty of active_coils / active_coils", active_coils_uncertainty / active_coils),
            ("shear_modulus_uncertainty", parts.shear_modulus_uncertainty),
        ];
        for (field, share) in relative {
            check::number_within(field, share, 0.0, MOST_RELATIVE)?;
        }
        Ok(Self(parts))
    }

    /// The rate and its standard uncertainty.
    ///
    /// # Errors
    /// None for readings that [`new`](Self::new) took.
    pub fn rate(&self) -> Result<Uncertain<SpringRate>> {
        let d = self.0.wire.value.si();
        let mean = self.0.outside_diameter.value.si() - d;
        let shear = self.0.material.shear_modulus().si();
        let rate = SpringRate::from_si(shear * d.powi(4) / (8.0 * mean.powi(3) * self.0.active_coils));
        Ok(Uncertain::new(rate, rate * self.budget().total())?)
    }

    /// Where the uncertainty comes from.
    #[must_use]
    pub fn budget(&self) -> RateBudget {
        let d = self.0.wire.value.si();
        let mean = self.0.outside_diameter.value.si() - d;
        RateBudget {
            wire: (4.0 / d + 3.0 / mean) * self.0.wire.standard_uncertainty.si(),
            outside_diameter: 3.0 / mean * self.0.outside_diameter.standard_uncertainty.si(),
            active_coils: self.0.active_coils_uncertainty / self.0.active_coils,
            shear_modulus: self.0.shear_modulus_uncertainty,
        }
    }

    /// Those of some rates that the readings cannot distinguish from the spring's: within `coverage_factor` standard
    /// uncertainties (2 for about 95 %).
    ///
    /// # Errors
    /// As [`rate`](Self::rate).
    pub fn candidates(&self, rates: &[SpringRate], coverage_factor: f64) -> Result<Vec<SpringRate>> {
        let (low, high) = self.rate()?.interval(coverage_factor);
        Ok(rates.iter().copied().filter(|rate| low <= *rate && *rate <= high).collect())
    }
}

impl TryFrom<UnmarkedParts> for UnmarkedSpring {
    type Error = crate::Error;
    fn try_from(parts: UnmarkedParts) -> Result<Self> {
        Self::new(parts)
    }
}

impl From<UnmarkedSpring> for UnmarkedParts {
    fn from(spring: UnmarkedSpring) -> Self {
        spring.0
    }
}

#[cfg(test)]
mod tests {
    use super::super::{CoilEnds, CoilGeometry, CoilParts};
    use super::*;
    use crate::units::parse;
    use proptest::prelude::*;

    fn reading(value: &str, uncertainty: &str) -> Uncertain<Length> {
        Uncertain::new(parse(value).unwrap(), parse(uncertainty).unwrap()).unwrap()
    }

    fn fork_spring() -> UnmarkedSpring {
        spring_of(reading("5 mm", "0.05 mm"), 0.25).unwrap()
    }

    fn spring_of(wire: Uncertain<Length>, active_coils_uncertainty: f64) -> Result<UnmarkedSpring> {
        UnmarkedSpring::new(UnmarkedParts {
            wire,
            outside_diameter: reading("38 mm", "0.1 mm"),
            active_coils: 30.0,
            active_coils_uncertainty,
            material: Material::named("EN 10270-1").unwrap(),
            shear_modulus_uncertainty: 0.01,
        })
    }

    #[test]
    fn a_twentieth_of_a_millimetre_of_wire_is_four_per_cent() {
        let budget = fork_spring().budget();
        // 4·0.05/5 = 4 %, and 3·0.05/33 = 0.45 % through the mean diameter.
        assert!((budget.wire - (0.04 + 0.15 / 33.0)).abs() < 1e-12);
        assert!(budget.wire > budget.outside_diameter.max(budget.active_coils).max(budget.shear_modulus));
    }

    /// A rectangle over what textbooks give for spring steels (Shigley, table 10-5).
    #[test]
    fn wire_without_a_certificate_is_as_uncertain_as_the_books_differ() {
        let spread = (82.7 - 77.2) / 12f64.sqrt() / f64::midpoint(82.7, 77.2);
        assert!((UNCERTIFIED_SHEAR_MODULUS - spread).abs() < 5e-4, "two digits of {spread}");
    }

    #[test]
    fn names_the_rates_it_could_be() {
        let found = fork_spring().rate().unwrap();
        let geometry = CoilGeometry::new(CoilParts {
            wire: parse("5 mm").unwrap(),
            mean_diameter: parse("33 mm").unwrap(),
            active_coils: 30.0,
            ends: CoilEnds::ClosedGround,
            material: Material::named("EN 10270-1").unwrap(),
        });
        assert!((found.value / geometry.unwrap().rate() - 1.0).abs() < 1e-12);
        let rates: Vec<SpringRate> =
            [44, 48, 56, 60, 68, 74].map(|tenths| SpringRate::from_si(f64::from(tenths) * 100.0)).into();
        let close = fork_spring().candidates(&rates, 2.0).unwrap();
        assert_eq!(close, vec![SpringRate::from_si(5600.0), SpringRate::from_si(6000.0)], "{}", found.show("N/mm"));
    }

    #[test]
    fn refuses_readings_that_say_nothing() {
        let vague = spring_of(reading("5 mm", "2 mm"), 0.25);
        assert!(vague.unwrap_err().to_string().contains("uncertainty of wire"));
    }

    #[test]
    fn reads_and_writes_text() {
        let text = serde_json::to_string(&fork_spring()).unwrap();
        assert_eq!(serde_json::from_str::<UnmarkedSpring>(&text).unwrap(), fork_spring());
    }

    proptest! {
        /// The first-order law against drawn readings (JCGM 101:2008): a quasi-random normal sample of 4096.
        #[test]
        fn uncertainty_agrees_with_drawn_readings(u_wire in 0.005..0.05_f64, u_coils in 0.0..0.5_f64, seed in 0.0..1.0_f64) {
            const DRAWS: usize = 4096;
            let wire = Uncertain::new(Length::from_si(5e-3), Length::from_si(u_wire * 1e-3)).unwrap();
            let spring = spring_of(wire, u_coils).unwrap();
            // Kronecker sequence with the roots of the generalised golden ratio in four dimensions.
            let step = [0.856_674_883_854_502_8, 0.733_891_856_627_126, 0.628_706_721_037_817_1, 0.538_597_257_223_612_5];
            let normal = |i: usize, axis: usize| {
                let share = (seed + (i + 1) as f64 * step[axis]).fract();
                inverse_normal(share.clamp(1e-12, 1.0 - 1e-12))
            };
            let rates: Vec<f64> = (0..DRAWS).map(|i| {
                let d: f64 = 5e-3 + normal(i, 0) * u_wire * 1e-3;
                let outside: f64 = 0.038 + normal(i, 1) * 1e-4;
                let coils = 30.0 + normal(i, 2) * u_coils;
                let shear = 81.5e9 * (1.0 + 0.01 * normal(i, 3));
                shear * d.powi(4) / (8.0 * (outside - d).powi(3) * coils)
            }).collect();
            let mean = rates.iter().sum::<f64>() / DRAWS as f64;
            let spread = (rates.iter().map(|rate| (rate - mean).powi(2)).sum::<f64>() / DRAWS as f64).sqrt();
            let found = spring.rate().unwrap();
            // Second-order terms at 1 % of wire, and the discrepancy of the sequence.
            prop_assert!((spread / found.standard_uncertainty.si() - 1.0).abs() < 0.03, "{spread} {found:?}");
            prop_assert!((mean / found.value.si() - 1.0).abs() < 0.003);
        }
    }

    /// Quantile of the normal distribution (Beasley & Springer 1977 as refined by Moro 1995), to 3e-9.
    fn inverse_normal(share: f64) -> f64 {
        let y = share - 0.5;
        if y.abs() < 0.42 {
            let r = y * y;
            let a = [2.506_628_238_84, -18.615_000_625_29, 41.391_197_735_34, -25.441_060_496_37];
            let b = [-8.473_510_930_90, 23.083_367_437_43, -21.062_241_018_26, 3.130_829_098_33];
            let top = a.iter().rev().fold(0.0, |sum, c| sum * r + c);
            return y * top / (b.iter().rev().fold(0.0, |sum, c| sum * r + c) * r + 1.0);
        }
        let tail = if y > 0.0 { 1.0 - share } else { share };
        let c = [
            0.337_475_482_272_614_7,
            0.976_169_019_091_718_6,
            0.160_797_971_491_820_9,
            0.027_643_881_033_386_3,
            0.003_840_572_937_360_9,
            0.000_395_189_651_191_9,
            0.000_032_176_788_176_8,
            0.000_000_288_816_736_4,
            0.000_000_396_031_518_7,
        ];
        let x = (-tail.ln()).ln();
        c.iter().rev().fold(0.0, |sum, c| sum * x + c) * y.signum()
    }
}
