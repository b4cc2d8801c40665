//! A sealed gas chamber that a stroke makes smaller (or, with a negative area, larger).
//!
//! `V(s) = V₀ − A·s`, `p = p₀·(V₀/V)ⁿ`, `F = (p − p_s)·A`, `k = n·p·A²/V`, `dk/ds = (n + 1)·k·A/V`,
//! `E = p₀·V₀·[(V₀/V)ⁿ⁻¹ − 1]/(n − 1) − p_s·A·s`, whose limit at `n = 1` is `p₀·V₀·ln(V₀/V) − p_s·A·s`.
//!
//! `p_s` is the pressure of the surroundings. All pressures are absolute. Energy counts from full extension.
//! Textbook: Moran & Shapiro, *Fundamentals of Engineering Thermodynamics*, section 2.2 (polytropic process).

use crate::axial::{Axial, AxialElement, AxialState, END_ROUNDING, stroke_within};
use crate::error::{GasError, Result};
use crate::units::{AbsolutePressure, Area, Length, Quantity, Volume, check, show};

/// Least polytropic exponent taken: isothermal.
pub(super) const LEAST_EXPONENT: f64 = 1.0;
/// Most polytropic exponent taken: a monatomic gas, compressed fast, has 5/3.
const MOST_EXPONENT: f64 = 1.7;

/// Exponent of gas whose exponent is not stated: a slow stroke.
#[cfg(feature = "serde")]
pub(super) fn isothermal() -> f64 {
    LEAST_EXPONENT
}

/// Refuses an exponent outside 1 to 1.7.
pub(crate) fn check_exponent(exponent: f64) -> Result<f64> {
    Ok(check::number_within("exponent", exponent, LEAST_EXPONENT, MOST_EXPONENT)?)
}

/// A sealed gas chamber on its stroke.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(try_from = "ChamberText", into = "ChamberText"))]
pub struct Chamber {
    pressure: f64,
    volume: f64,
    /// Positive when the stroke shrinks the chamber, negative when it expands it.
    area: f64,
    exponent: f64,
    surroundings: f64,
    stroke: f64,
}

impl Chamber {
    /// A chamber with this pressure and volume at full extension, which a stroke shrinks by `area` times its length;
    /// a negative area is a chamber that the stroke expands (it pulls the end shut).
    ///
    /// # Errors
    /// When a quantity is out of range, or the chamber is swept empty within the stroke
    /// ([`GasError::ChamberCloses`]).
    pub fn new(
        pressure: AbsolutePressure,
        volume: Volume,
        area: Area,
        exponent: f64,
        surroundings: AbsolutePressure,
        stroke: Length,
    ) -> Result<Self> {
        check::positive("pressure", pressure)?;
        check::plausible("pressure", pressure, AbsolutePressure::from_si(1e3), AbsolutePressure::from_si(5e7))?;
        check::plausible("volume", volume, Volume::from_si(1e-8), Volume::from_si(1e3))?;
        check::plausible("area", area, Area::from_si(-0.1), Area::from_si(0.1))?;
        check_exponent(exponent)?;
        check::not_negative("surroundings", surroundings)?;
        Self {
            pressure: pressure.si(),
            volume: volume.si(),
            area: area.si(),
            exponent,
            surroundings: surroundings.si(),
            stroke: stroke.si(),
        }
        .checked("chamber")
    }

    /// From checked SI values; refuses a chamber that is swept empty.
    pub(crate) fn from_kernel(
        part: &str,
        pressure: f64,
        volume: f64,
        area: f64,
        exponent: f64,
        surroundings: f64,
        stroke: f64,
    ) -> Result<Self> {
        Self { pressure, volume, area, exponent, surroundings, stroke }.checked(part)
    }

    fn checked(self, part: &str) -> Result<Self> {
        check::plausible("stroke", Length::from_si(self.stroke), Length::from_si(1e-3), Length::from_si(2.0))?;
        let least = self.area * self.stroke;
        // Clear of zero also at a stroke that rounding has put just beyond the end.
        if self.volume > least * (1.0 + 2.0 * END_ROUNDING) {
            return Ok(self);
        }
        let length = |s| show(Length::from_si(s), "mm", 1);
        let volume = |v| show(Volume::from_si(v), "cm3", 1);
        Err(GasError::ChamberCloses {
            part: part.to_owned(),
            volume: volume(self.volume),
            closes_at: length(self.volume / self.area),
            full: length(self.stroke),
            least_volume: volume(least),
        }
        .into())
    }

    /// The same chamber with another exponent: 1 for a slow stroke, towards 1.4 for a fast one from full extension.
    ///
    /// # Errors
    /// Unless the exponent lies from 1 to 1.7.
    pub fn with_exponent(self, exponent: f64) -> Result<Self> {
        check_exponent(exponent)?;
        Ok(Self { exponent, ..self })
    }

    /// The same chamber, its pressure being the one at this stroke and not at full extension.
    pub(crate) fn charged_at(self, stroke: Length) -> Result<Self> {
        let s = stroke_within("port of the negative chamber", stroke, Some(self.stroke))?;
        Ok(Self { pressure: self.pressure * (self.exponent * self.log_volume_ratio(s)).exp(), ..self })
    }

    /// The same gas, settled slowly (`n = 1`) to a stroke and from there compressed with another exponent: what a fast
    /// stroke meets on a bike that has come to rest at its sag.
    ///
    /// # Errors
    /// [`SpringError::OutOfStroke`](crate::error::SpringError::OutOfStroke), or an exponent not from 1 to 1.7.
    pub fn settled_at(self, stroke: Length, exponent: f64) -> Result<Self> {
        let s = stroke_within("chamber", stroke, Some(self.stroke))?;
        let fast = self.with_exponent(exponent)?;
        // p(s) = p₀·V₀/V(s) slowly, and p₀'·(V₀/V(s))ⁿ on the new curve.
        let pressure = self.pressure * ((exponent - 1.0) * self.log_volume_ratio(s)).exp();
        Ok(Self { pressure, ..fast })
    }

    /// Pressure at a stroke.
    ///
    /// # Errors
    /// [`SpringError::OutOfStroke`](crate::error::SpringError::OutOfStroke).
    pub fn pressure_at(&self, stroke: Length) -> Result<AbsolutePressure> {
        let s = stroke_within("chamber", stroke, Some(self.stroke))?;
        Ok(AbsolutePressure::from_si(self.pressure * (-self.exponent * self.log_volume_ratio(s)).exp()))
    }

    /// Volume at a stroke.
    ///
    /// # Errors
    /// [`SpringError::OutOfStroke`](crate::error::SpringError::OutOfStroke).
    pub fn volume_at(&self, stroke: Length) -> Result<Volume> {
        let s = stroke_within("chamber", stroke, Some(self.stroke))?;
        Ok(Volume::from_si(self.volume - self.area * s))
    }

    /// Polytropic exponent.
    #[must_use]
    pub fn exponent(&self) -> f64 {
        self.exponent
    }

    /// `ln(V/V₀)`, exact also for a chamber so large that `V/V₀` rounds to 1.
    fn log_volume_ratio(&self, s: f64) -> f64 {
        (-self.area * s / self.volume).ln_1p()
    }

    pub(crate) fn eval(&self, s: f64) -> Axial {
        let Self { pressure, volume, area, exponent, surroundings, .. } = *self;
        let log = -self.log_volume_ratio(s);
        let now = pressure * (exponent * log).exp();
        let steep = (exponent - 1.0) * log;
        // (eʸ − 1)/y, continued through y = 0 where the stroke is isothermal.
        let growth = if steep == 0.0 { 1.0 } else { steep.exp_m1() / steep };
        let per_volume = area / (volume - area * s);
        let rate = exponent * now * area * per_volume;
        Axial {
            force: (now - surroundings) * area,
            rate,
            slope: (exponent + 1.0) * rate * per_volume,
            energy: pressure * volume * log * growth - surroundings * area * s,
        }
    }
}

impl AxialElement for Chamber {
    fn at(&self, stroke: Length) -> Result<AxialState> {
        Ok(self.eval(stroke_within("chamber", stroke, Some(self.stroke))?).typed())
    }

    fn full_stroke(&self) -> Option<Length> {
        Some(Length::from_si(self.stroke))
    }

    fn kinks(&self) -> Vec<Length> {
        Vec::new()
    }

    fn describe(&self) -> String {
        format!(
            "gas, {} at {} absolute, on {}, exponent {}",
            show(Volume::from_si(self.volume), "cm3", 1),
            show(AbsolutePressure::from_si(self.pressure), "bar", 2),
            show(Area::from_si(self.area), "mm2", 0),
            self.exponent
        )
    }
}

#[cfg(feature = "serde")]
#[derive(serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct ChamberText {
    pressure: AbsolutePressure,
    #[serde(with = "crate::units::text_serde")]
    volume: Volume,
    #[serde(with = "crate::units::text_serde")]
    area: Area,
    exponent: f64,
    surroundings: AbsolutePressure,
    #[serde(with = "crate::units::text_serde")]
    stroke: Length,
}

#[cfg(feature = "serde")]
impl TryFrom<ChamberText> for Chamber {
    type Error = crate::Error;
    fn try_from(text: ChamberText) -> Result<Self> {
        Self::new(text.pressure, text.volume, text.area, text.exponent, text.surroundings, text.stroke)
    }
}

#[cfg(feature = "serde")]
impl From<Chamber> for ChamberText {
    fn from(chamber: Chamber) -> Self {
        Self {
            pressure: AbsolutePressure::from_si(chamber.pressure),
            volume: Volume::from_si(chamber.volume),
            area: Area::from_si(chamber.area),
            exponent: chamber.exponent,
            surroundings: AbsolutePressure::from_si(chamber.surroundings),
            stroke: Length::from_si(chamber.stroke),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::axial::testing::{assert_consistent, assert_slope};
    use proptest::prelude::*;

    fn chamber(bar: f64, cm3: f64, mm2: f64, exponent: f64, stroke_mm: f64) -> Result<Chamber> {
        Chamber::new(
            AbsolutePressure::from_si(bar * 1e5),
            Volume::from_si(cm3 * 1e-6),
            Area::from_si(mm2 * 1e-6),
            exponent,
            AbsolutePressure::from_si(101_325.0),
            Length::from_si(stroke_mm * 1e-3),
        )
    }

    #[test]
    fn says_when_the_stroke_sweeps_it_empty() {
        let message = chamber(10.0, 20.0, 200.0, 1.0, 118.0).unwrap_err().to_string();
        for part in ["20.0 cm3", "stroke 100.0 mm", "118.0 mm", "more than 23.6 cm3"] {
            assert!(message.contains(part), "{message} lacks {part}");
        }
    }

    #[test]
    fn isothermal_is_the_limit_of_the_polytrope() {
        let near = chamber(1.0, 400.0, 1500.0, 1.0 + 1e-9, 200.0).unwrap().eval(0.18);
        let slow = chamber(1.0, 400.0, 1500.0, 1.0, 200.0).unwrap().eval(0.18);
        // First order in n − 1: force by ln(V₀/V) = 1.1, so 1e-8 is ten times the step.
        assert!((near.force / slow.force - 1.0).abs() < 1e-8 && (near.energy / slow.energy - 1.0).abs() < 1e-8);
    }

    #[test]
    fn a_fast_stroke_starts_from_where_the_gas_settled() {
        let slow = chamber(1.0, 500.0, 1500.0, 1.0, 290.0).unwrap();
        let fast = slow.settled_at(Length::from_si(0.1), 1.4).unwrap();
        let (rest, start) = (slow.eval(0.1), fast.eval(0.1));
        assert!((rest.force / start.force - 1.0).abs() < 1e-12, "a few roundings");
        assert!((start.rate / rest.rate - 1.4).abs() < 1e-12);
        assert!(fast.eval(0.2).force > slow.eval(0.2).force && fast.eval(0.05).force < slow.eval(0.05).force);
    }

    #[test]
    fn text_round_trips() {
        let gas = chamber(1.0, 500.0, 1500.0, 1.2, 290.0).unwrap();
        assert_eq!(serde_json::from_str::<Chamber>(&serde_json::to_string(&gas).unwrap()).unwrap(), gas);
    }

    proptest! {
        #[test]
        fn energy_force_and_rate_agree(
            bar in 0.8..20.0_f64, mm2 in 50.0..1500.0_f64, exponent in 1.0..1.7_f64, left in 0.05..2.0_f64, sign in prop::bool::ANY,
        ) {
            let swept = mm2 * 0.3;
            let area = if sign { mm2 } else { -mm2 };
            let gas = chamber(bar, swept * (1.0 + left), area, exponent, 300.0).unwrap();
            assert_consistent(&gas, 0.3);
            assert_slope(|s| gas.eval(s), [0.01, 0.15, 0.29]);
        }

        #[test]
        fn stiffens_as_it_shrinks(exponent in 1.0..1.7_f64, left in 0.05..2.0_f64) {
            let gas = chamber(1.0, 300.0 * (1.0 + left), 1000.0, exponent, 300.0).unwrap();
            let rates: Vec<f64> = (0..=30).map(|i| gas.eval(0.01 * f64::from(i)).rate).collect();
            prop_assert!(rates.windows(2).all(|pair| pair[0] < pair[1]));
        }

        #[test]
        fn a_great_chamber_at_the_pressure_around_it_does_nothing(exponent in 1.0..1.7_f64) {
            // n·p·A²/V for 1000 m³ and 1500 mm²: 3.9e-4 N/m at most; over 0.3 m, 1.2e-4 N and 1.8e-5 J.
            let state = chamber(1.01325, 1e9, 1500.0, exponent, 300.0).unwrap().eval(0.3);
            prop_assert!(state.force.abs() < 1.3e-4 && state.rate < 4e-4 && state.energy.abs() < 2e-5, "{state:?}");
        }
    }
}
