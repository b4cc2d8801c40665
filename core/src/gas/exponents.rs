//! Two exponents of one gas: while it settles, and on a fast stroke.
//!
//! `p·V^slow = const` from where it was sealed to where it has come to rest, and from that state on
//! `p = p_rest·(V_rest/V)^fast`
//!
//! Settling takes seconds: heat flows, and the exponent is 1. A stroke from sag to full travel takes a tenth or two of a
//! second, and from the gas only a thin layer on the walls gives up its heat meanwhile. A layer as deep as conduction reaches
//! in the time `t` is a share `λ = (S/V)·√(4·α·t/π)` of the gas, with `S/V` wall per volume and `α` the thermal diffusivity
//! of the gas (Carslaw & Jaeger, *Conduction of Heat in Solids*, ch. 2), and `fast ≈ 1 + 0.4·(1 − λ)`, 0.4 being that of air
//! and nitrogen without any heat flow. In 0.15 s:
//!
//! | gas | `S/V` | `α` | `λ` | fast |
//! |---|---|---|---|---|
//! | air in a tube of 43 mm with a coil in it, 1 to 3 bar | 260 /m | 20 to 7 mm²/s | 0.51 to 0.30 | 1.20 to 1.28 |
//! | the same without a coil | 95 /m | 20 to 7 mm²/s | 0.19 to 0.11 | 1.32 to 1.36 |
//! | air spring of 34 mm, or a reservoir, 10 bar | 120 /m | 2 mm²/s | 0.07 | 1.37 |
//!
//! So what is not stated is taken from 1.2 to 1.4 for the air of a fork ([`Exponents::FORK_AIR`]) and from 1.3 to 1.4 for gas
//! that is pumped up, dense and dry ([`Exponents::PUMPED`]), anywhere between alike: common practice and the estimate above,
//! no measurement. Foam and gas mixed into the oil give heat faster, down to the slow exponent: state what is known there.
//!
//! Fails where a stroke is neither slow nor fast (a second or so), and for the way back from a fast stroke, which gives back
//! less than went in.

use crate::error::{Result, UnitError};
use crate::units::check;

/// Least polytropic exponent taken: isothermal.
pub(super) const LEAST_EXPONENT: f64 = 1.0;
/// Most polytropic exponent taken: a monatomic gas, compressed fast, has 5/3.
const MOST_EXPONENT: f64 = 1.7;
/// Standard uncertainty of a fast exponent that is stated without one: it is a number between 1 and 1.4 that nobody
/// measures, good to ±0.05 at best (rectangular: over √3).
const STATED: f64 = 0.03;
/// Most standard uncertainty taken: that of anything from 1 to 1.7.
const MOST_UNCERTAINTY: f64 = 0.2;

/// Refuses an exponent outside 1 to 1.7.
pub(crate) fn check_exponent(field: &str, exponent: f64) -> Result<f64, UnitError> {
    check::number_within(field, exponent, LEAST_EXPONENT, MOST_EXPONENT)
}

/// The polytropic exponents of one gas: `slow` for all that settles, `fast` for a stroke from there.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(try_from = "BothText", into = "BothText"))]
pub struct Exponents {
    slow: f64,
    fast: f64,
    fast_uncertainty: f64,
}

impl Exponents {
    /// Air of a fork of which nothing is stated: 1, and 1.3 from a rectangle over 1.2 to 1.4.
    pub const FORK_AIR: Self = Self { slow: LEAST_EXPONENT, fast: 1.3, fast_uncertainty: 0.06 };
    /// Pumped gas (air spring, reservoir) of which nothing is stated: 1, and 1.35 from a rectangle over 1.3 to 1.4.
    pub const PUMPED: Self = Self { slow: LEAST_EXPONENT, fast: 1.35, fast_uncertainty: 0.03 };

    /// Both stated; the fast one then has a standard uncertainty of 0.03.
    ///
    /// # Errors
    /// Unless both lie from 1 to 1.7, the fast one not below the slow one.
    pub fn new(slow: f64, fast: f64) -> Result<Self> {
        check_exponent("exponent.slow", slow)?;
        check::number_within("exponent.fast", fast, slow, MOST_EXPONENT)?;
        Ok(Self { slow, fast, fast_uncertainty: STATED })
    }

    /// The slow one stated, the fast one as it was; at least as much as the slow one.
    ///
    /// # Errors
    /// Unless it lies from 1 to 1.7.
    pub fn with_slow(self, slow: f64) -> Result<Self> {
        check_exponent("exponent", slow)?;
        Ok(Self { slow, fast: self.fast.max(slow), ..self })
    }

    /// The fast one known to this standard uncertainty; zero for exactly.
    ///
    /// # Errors
    /// Unless it lies from 0 to 0.2.
    pub fn with_fast_uncertainty(self, fast_uncertainty: f64) -> Result<Self> {
        check::number_within("exponent.fast_uncertainty", fast_uncertainty, 0.0, MOST_UNCERTAINTY)?;
        Ok(Self { fast_uncertainty, ..self })
    }

    /// Of gas that settles: sag, readings.
    #[must_use]
    pub fn slow(&self) -> f64 {
        self.slow
    }

    /// Of a fast stroke: bottoming, landing, the small motion of riding.
    #[must_use]
    pub fn fast(&self) -> f64 {
        self.fast
    }

    /// Standard uncertainty of the fast one.
    #[must_use]
    pub fn fast_uncertainty(&self) -> f64 {
        self.fast_uncertainty
    }

    pub(super) fn describe(&self) -> String {
        format!("exponent {} slow, {} ± {} fast", self.slow, self.fast, self.fast_uncertainty)
    }
}

#[cfg(feature = "serde")]
#[derive(serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct BothText {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    slow: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    fast: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    fast_uncertainty: Option<f64>,
}

#[cfg(feature = "serde")]
impl TryFrom<BothText> for Exponents {
    type Error = crate::Error;
    fn try_from(text: BothText) -> Result<Self> {
        let fast = text.fast.ok_or_else(|| crate::error::SpringError::Description {
            part: "exponent".to_owned(),
            found: "no `fast`".to_owned(),
            wanted: "`slow` and `fast`".to_owned(),
        })?;
        let both = Self::new(text.slow.unwrap_or(LEAST_EXPONENT), fast)?;
        text.fast_uncertainty.map_or(Ok(both), |uncertainty| both.with_fast_uncertainty(uncertainty))
    }
}

#[cfg(feature = "serde")]
impl From<Exponents> for BothText {
    fn from(exponents: Exponents) -> Self {
        let Exponents { slow, fast, fast_uncertainty } = exponents;
        Self { slow: Some(slow), fast: Some(fast), fast_uncertainty: Some(fast_uncertainty) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_number_sets_the_slow_one_only() {
        let slow = Exponents::FORK_AIR.with_slow(1.1).unwrap();
        assert_eq!((slow.slow(), slow.fast(), slow.fast_uncertainty()), (1.1, 1.3, 0.06));
        // A stroke too fast for heat is never softer than one that is not.
        assert_eq!(Exponents::FORK_AIR.with_slow(1.35).unwrap().fast(), 1.35);
    }

    #[cfg(feature = "serde")]
    #[test]
    fn a_table_of_exponents_has_the_fast_one_in_it() {
        let read = |text: &str| serde_json::from_str::<Exponents>(text);
        assert_eq!(read(r#"{ "fast": 1.3 }"#).unwrap(), Exponents::new(LEAST_EXPONENT, 1.3).unwrap());
        let refused = read(r#"{ "slow": 1.1 }"#).unwrap_err().to_string();
        assert!(refused.contains("exponent: found no `fast`; wanted `slow` and `fast`"), "{refused}");
    }

    /// Standard deviation of a rectangle, `width/√12`, to the digits stated.
    #[test]
    fn what_is_not_stated_spans_its_rectangle() {
        for (unstated, from, to) in [(Exponents::FORK_AIR, 1.2, 1.4), (Exponents::PUMPED, 1.3, 1.4)] {
            assert!((unstated.fast() - f64::midpoint(from, to)).abs() < 1e-12);
            assert!((unstated.fast_uncertainty() - (to - from) / 12f64.sqrt()).abs() < 0.005);
        }
    }

    #[test]
    fn faults_name_the_exponent() {
        let fault = |slow, fast| Exponents::new(slow, fast).unwrap_err().to_string();
        assert!(fault(0.9, 1.3).starts_with("exponent.slow"), "{}", fault(0.9, 1.3));
        assert!(fault(1.2, 1.1).starts_with("exponent.fast"), "{}", fault(1.2, 1.1));
        assert!(fault(1.0, f64::NAN).starts_with("exponent.fast"));
        assert!(Exponents::PUMPED.with_slow(14.0).unwrap_err().to_string().starts_with("exponent"));
        let fault = Exponents::PUMPED.with_fast_uncertainty(-0.1).unwrap_err().to_string();
        assert!(fault.starts_with("exponent.fast_uncertainty"), "{fault}");
    }
}
