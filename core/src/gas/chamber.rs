//! A sealed gas chamber that a stroke makes smaller (or, with a negative area, larger).
//!
//! `V(s) = V₀ − A·s`, `p = p₀·(V₀/V)ⁿ`, `F = (p − p_s)·A`, `k = n·p·A²/V`, `dk/ds = (n + 1)·k·A/V`,
//! `E = p₀·V₀·[(V₀/V)ⁿ⁻¹ − 1]/(n − 1) − p_s·A·s`, whose limit at `n = 1` is `p₀·V₀·ln(V₀/V) − p_s·A·s`.
//!
//! `p_s` is the pressure of the surroundings. All pressures are absolute. Energy counts from full extension.
//! Textbook: Moran & Shapiro, *Fundamentals of Engineering Thermodynamics*, section 2.2 (polytropic process).

use crate::axial::{Axial, AxialElement, AxialState, END_ROUNDING, Fast, stroke_within};
use crate::error::{GasError, Result};
use crate::units::{AbsolutePressure, Area, Length, Quantity, Volume, check, show};

use super::exponents::check_exponent;

/// A sealed gas chamber on its stroke, by one process: what settles and what is fast are two of them, the second from
/// where the first has come to rest ([`settled_at`](Self::settled_at)).
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
        check_exponent("exponent", exponent)?;
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
        check_exponent("exponent", exponent)?;
        Ok(Self { exponent, ..self })
    }

    /// The same chamber, its pressure being the one at this stroke and not at full extension.
    pub(crate) fn charged_at(self, port: &str, stroke: Length) -> Result<Self> {
        let s = stroke_within(port, stroke, Some(self.stroke))?;
        Ok(Self { pressure: self.pressure * (self.exponent * self.log_volume_ratio(s)).exp(), ..self })
    }

    /// `p = p_r·(V_r/V)^m` with `p_r = p₀·(V₀/V_r)ⁿ`: the same gas, come to rest at a stroke by its exponent `n` and from
    /// there compressed with another exponent `m`. What a fast stroke meets on a bike that stands at its sag.
    ///
    /// The chamber returned has the pressure at full extension that the fast curve runs through there, and its energy counts
    /// from there: take differences.
    ///
    /// # Errors
    /// [`SpringError::OutOfStroke`](crate::error::SpringError::OutOfStroke), or an exponent not from 1 to 1.7.
    pub fn settled_at(self, stroke: Length, exponent: f64) -> Result<Self> {
        let s = stroke_within("chamber", stroke, Some(self.stroke))?;
        check_exponent("exponent", exponent)?;
        Ok(self.fast_from(s, exponent))
    }

    /// The kernel of [`settled_at`](Self::settled_at): `p₀·(V₀/V_r)ⁿ = p₀′·(V₀/V_r)^m` gives the new `p₀′`.
    fn fast_from(self, rest: f64, exponent: f64) -> Self {
        let pressure = self.pressure * ((exponent - self.exponent) * self.log_volume_ratio(rest)).exp();
        Self { pressure, exponent, ..self }
    }

    /// At a stroke reached with the exponent `m`, standard uncertainty `u(m)`, from rest at another. With `L = ln(V_r/V)`,
    ///
    /// `F = (p − p_s)·A`, `∂F/∂m = p·A·L`, `∂F/∂s_r = −(m − n)·p·A²/V_r`,
    ///
    /// `E − E_r = p_r·V_r·[e^((m−1)·L) − 1]/(m − 1) − p_s·A·(s − s_r)`, `∂E/∂m = p_r·V_r·∫₀ᴸ l·e^((m−1)·l) dl`,
    /// `∂E/∂s_r = −(m − n)·p_r·A·[e^((m−1)·L) − 1]/(m − 1)`.
    pub(super) fn fast(&self, rest: f64, s: f64, [exponent, uncertainty]: [f64; 2]) -> Fast {
        let quick = self.fast_from(rest, exponent);
        let (at_rest, now) = (self.eval(rest), quick.eval(s));
        let state = Axial { energy: at_rest.energy + now.energy - quick.eval(rest).energy, ..now };
        let area = self.area;
        let log = self.log_volume_ratio(rest) - self.log_volume_ratio(s);
        let (volume_at_rest, volume) = (self.volume - area * rest, self.volume - area * s);
        let (pressure, pressure_at_rest) = (quick.pressure(s), self.pressure(rest));
        let steep = (exponent - 1.0) * log;
        let per_volume = area / volume;
        let stiffens = pressure * area * (1.0 + exponent * log) * per_volume;
        let by_exponent = Axial {
            force: pressure * area * log,
            rate: stiffens,
            slope: ((exponent + 1.0) * stiffens + now.rate) * per_volume,
            energy: pressure_at_rest * volume_at_rest * log * log * second_moment(steep),
        };
        let excess = exponent - self.exponent;
        let softens = -excess * area / volume_at_rest;
        let by_rest = Axial {
            force: softens * pressure * area,
            rate: softens * now.rate,
            slope: softens * now.slope,
            energy: -excess * pressure_at_rest * area * log * growth(steep),
        };
        Fast { state, by_exponent: by_exponent * uncertainty, by_rest }
    }

    /// Pressure at a stroke.
    ///
    /// # Errors
    /// [`SpringError::OutOfStroke`](crate::error::SpringError::OutOfStroke).
    pub fn pressure_at(&self, stroke: Length) -> Result<AbsolutePressure> {
        let s = stroke_within("chamber", stroke, Some(self.stroke))?;
        Ok(AbsolutePressure::from_si(self.pressure(s)))
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

    fn pressure(&self, s: f64) -> f64 {
        self.pressure * (-self.exponent * self.log_volume_ratio(s)).exp()
    }

    /// `ln(V/V₀)`, exact also for a chamber so large that `V/V₀` rounds to 1.
    fn log_volume_ratio(&self, s: f64) -> f64 {
        (-self.area * s / self.volume).ln_1p()
    }

    pub(crate) fn eval(&self, s: f64) -> Axial {
        let Self { pressure, volume, area, exponent, surroundings, .. } = *self;
        let log = -self.log_volume_ratio(s);
        let now = pressure * (exponent * log).exp();
        let growth = growth((exponent - 1.0) * log);
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

/// `(eʸ − 1)/y = ∫₀¹ e^(t·y) dt`, continued through `y = 0` where the stroke is isothermal.
fn growth(y: f64) -> f64 {
    if y == 0.0 { 1.0 } else { y.exp_m1() / y }
}

/// `(y·eʸ − eʸ + 1)/y² = ∫₀¹ t·e^(t·y) dt`.
fn second_moment(y: f64) -> f64 {
    /// Below it the difference loses more digits than the series, of which the first term left out is `y⁵/840`.
    const SMALL: f64 = 1e-2;
    if y.abs() < SMALL {
        1.0 / 2.0 + y * (1.0 / 3.0 + y * (1.0 / 8.0 + y * (1.0 / 30.0 + y / 144.0)))
    } else {
        (y * y.exp() - y.exp_m1()) / (y * y)
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

    /// The closed forms of a polytrope from rest, written out for one chamber: 500 cm³ at 1 bar and 1500 mm², settled by
    /// `n = 1.1` at 100 mm, then 250 mm by `m = 1.35`.
    #[test]
    fn a_fast_stroke_follows_its_own_polytrope_from_the_settled_state() {
        let (area, n, m) = (1500e-6, 1.1, 1.35);
        let gas = chamber(1.0, 500.0, 1500.0, n, 290.0).unwrap();
        let volume = |s: f64| 500e-6 - area * s;
        let at_rest = 1e5 * (500e-6 / volume(0.1)).powf(n);
        let pressure = at_rest * (volume(0.1) / volume(0.25)).powf(m);
        let found = gas.fast(0.1, 0.25, [m, 1.0]);
        assert!((found.state.force / ((pressure - 101_325.0) * area) - 1.0).abs() < 1e-12);
        assert!((found.state.rate / (m * pressure * area * area / volume(0.25)) - 1.0).abs() < 1e-12);
        let work = (pressure * volume(0.25) - at_rest * volume(0.1)) / (m - 1.0) - 101_325.0 * area * 0.15;
        assert!(((found.state.energy - gas.eval(0.1).energy) / work - 1.0).abs() < 1e-12);
        let same = gas.settled_at(Length::from_si(0.1), m).unwrap().eval(0.25);
        assert_eq!((same.force, same.rate), (found.state.force, found.state.rate));
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

        /// Central differences: over exponent and rest, of force, rate, its slope and the work.
        #[test]
        fn derivatives_of_a_fast_stroke_are_those_of_it(
            n in 1.0..1.3_f64, more in 0.0..0.4_f64, left in 0.1..2.0_f64, rest in 0.02..0.28_f64, s in 0.02..0.28_f64, sign in prop::bool::ANY,
        ) {
            /// Step, and what truncation and rounding leave of the derivative (its square over the scale of the curve; 1e-16 of
            /// the value over the step).
            const STEP: f64 = 1e-5;
            const LEFT: f64 = 1e-6;
            let area = if sign { 1000.0 } else { -1000.0 };
            let gas = chamber(2.0, 300.0 * (1.0 + left), area, n, 300.0).unwrap();
            let m = n + more;
            let at = |rest: f64, m: f64| { let Fast { state, .. } = gas.fast(rest, s, [m, 1.0]); [state.force, state.rate, state.slope, state.energy] };
            let found = gas.fast(rest, s, [m, 1.0]);
            let check = |of: Axial, by: [f64; 4], more: [f64; 4], less: [f64; 4]| {
                let exact = [of.force, of.rate, of.slope, of.energy];
                (0..4).all(|k| {
                    let difference = (more[k] - less[k]) / (2.0 * STEP);
                    (exact[k] - difference).abs() <= LEFT * (by[k].abs() + exact[k].abs() * 1e2)
                })
            };
            let here = at(rest, m);
            prop_assert!(check(found.by_exponent, here, at(rest, m + STEP), at(rest, m - STEP)), "{found:?}");
            prop_assert!(check(found.by_rest, here.map(|v| v / 0.01), at(rest + STEP, m), at(rest - STEP, m)), "{found:?}");
        }

        /// Near the isothermal limit the closed forms go over into their series without a step.
        #[test]
        fn series_and_closed_form_meet(y in 0.009..0.011_f64, sign in prop::bool::ANY) {
            let y = if sign { y } else { -y };
            // ∫₀¹ t·e^(t·y) dt to y⁶, from its power series.
            let terms = [0.5, 1.0 / 3.0, 1.0 / 8.0, 1.0 / 30.0, 1.0 / 144.0, 1.0 / 840.0, 1.0 / 5760.0];
            let exact = terms.iter().rev().fold(0.0, |sum, term| sum * y + term);
            // The difference in the closed form loses 1e-16/y² = 1e-12.
            prop_assert!((second_moment(y) - exact).abs() < 3e-12, "{} {exact}", second_moment(y));
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
