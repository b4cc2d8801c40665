//! A value with its standard uncertainty (JCGM 100:2008).

use core::str::FromStr;

use super::text::rounded;
use super::{Kind, Quantity, check, parse, to_text};
use crate::error::UnitError;

/// A best estimate and its standard uncertainty, both in the same kind.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(deny_unknown_fields))]
#[cfg_attr(feature = "serde", serde(bound(serialize = "Q: Quantity", deserialize = "Q: Quantity")))]
pub struct Uncertain<Q> {
    /// Best estimate.
    #[cfg_attr(feature = "serde", serde(with = "super::text_serde"))]
    pub value: Q,
    /// Standard uncertainty (one standard deviation), in the kind of the value.
    #[cfg_attr(feature = "serde", serde(with = "super::text_serde"))]
    pub standard_uncertainty: Q,
}

impl<Q: Quantity> Uncertain<Q> {
    /// A value with its standard uncertainty.
    ///
    /// # Errors
    /// [`UnitError`] when either is not finite, or the uncertainty is below zero.
    pub fn new(value: Q, standard_uncertainty: Q) -> Result<Self, UnitError> {
        Ok(Self {
            value: check::finite("value", value)?,
            standard_uncertainty: check::not_negative("standard uncertainty", standard_uncertainty)?,
        })
    }

    /// As text that reads back equal: `26.5 deg ± 1.5 deg`.
    #[must_use]
    pub fn to_text(self) -> String {
        format!("{} ± {}", to_text(self.value), to_text(self.standard_uncertainty))
    }

    /// The interval `value ± coverage_factor·u`, e.g. 1.96 for 95 % of a normal distribution.
    #[must_use]
    pub fn interval(self, coverage_factor: f64) -> (Q, Q) {
        let half = coverage_factor * self.standard_uncertainty.si();
        (Q::from_si(self.value.si() - half), Q::from_si(self.value.si() + half))
    }

    /// For a reader: `52.3 ± 0.8 N/mm`, the uncertainty to two significant digits and the value to the same place
    /// (JCGM 100:2008, 7.2.6). The number after ± is the standard uncertainty. An unknown unit falls back to the
    /// kind's output unit.
    #[must_use]
    pub fn show(self, spelling: &str) -> String {
        show_uncertain(Q::KIND, self.value.si(), self.standard_uncertainty.si(), spelling)
    }
}

/// Signs between a value and its uncertainty, as people type them.
const SIGNS: [&str; 3] = ["±", "+-", "+/-"];

impl<Q: Quantity> FromStr for Uncertain<Q> {
    type Err = UnitError;

    /// Reads `26.5 ± 1.5 deg`, `26.5 deg ± 1.5 deg`, `2.9 +- 0.1 wheel/shock`: one unit for both, or each its own.
    fn from_str(text: &str) -> Result<Self, UnitError> {
        let Some((value, uncertainty)) = SIGNS.iter().find_map(|sign| text.split_once(sign)) else {
            // Without its uncertainty the number is not what is asked for.
            parse::<Q>(text)?;
            return Err(UnitError::NoUncertainty { kind: Q::KIND.name, found: text.trim().to_owned() });
        };
        let standard_uncertainty: Q = parse(uncertainty)?;
        let value = match parse(value) {
            Err(UnitError::BareNumber { .. }) => {
                let unit =
                    uncertainty.trim_start_matches(|sign: char| !sign.is_alphabetic() && sign != '%' && sign != '°');
                parse(&format!("{value} {unit}"))?
            }
            read => read?,
        };
        Self::new(value, standard_uncertainty)
    }
}

/// As [`Uncertain::show`] for SI values whose kind is known only at run time.
#[must_use]
pub fn show_uncertain(kind: &Kind, value: f64, standard_uncertainty: f64, spelling: &str) -> String {
    let unit = kind.unit(spelling).unwrap_or(&kind.units[0]);
    let uncertainty = unit.difference_from_si(standard_uncertainty);
    let decimals = decimals_for(uncertainty);
    format!("{} ± {uncertainty:.decimals$} {}", rounded(unit.from_si(value), decimals), unit.symbol)
}

/// Decimals that show two significant digits of the uncertainty; one digit when its lead is 3 or more.
fn decimals_for(uncertainty: f64) -> usize {
    /// Places shown for an exact value, and the most ever shown.
    const MOST: i32 = 9;
    const EXACT: usize = 3;
    if uncertainty <= 0.0 || !uncertainty.is_finite() {
        return EXACT;
    }
    let exponent = uncertainty.log10().floor();
    let lead = uncertainty / 10f64.powf(exponent);
    let digits = if lead < 2.95 { 1 } else { 0 };
    (digits - exponent as i32).clamp(0, MOST) as usize
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::SpringRate;

    #[test]
    fn two_digits_of_the_uncertainty_and_one_from_three_on() {
        for (uncertainty, decimals) in [
            (2.94, 1),
            (2.95, 0),
            (0.294, 2),
            (0.3, 1),
            (1.0, 1),
            (9.9, 0),
            (12.0, 0),
            (350.0, 0),
            (1e-12, 9),
            (0.0, 3),
            (-1.0, 3),
            (f64::INFINITY, 3),
            (f64::NAN, 3),
        ] {
            assert_eq!(decimals_for(uncertainty), decimals, "{uncertainty}");
        }
    }

    #[test]
    fn an_exact_value_is_shown_as_one() {
        let exact = Uncertain::new(SpringRate::from_si(52_345.67), SpringRate::from_si(0.0)).unwrap();
        assert_eq!(exact.show("N/mm"), "52.346 ± 0.000 N/mm");
        assert_eq!(exact.interval(1.96), (exact.value, exact.value));
    }
}
