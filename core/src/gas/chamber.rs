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

mod piston;

pub(super) use piston::Piston;

use super::exponents::check_exponent;

/// What a chamber is made of.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct ChamberParts {
    /// Pressure at full extension.
    pub pressure: AbsolutePressure,
    /// Volume at full extension.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub volume: Volume,
    /// What a stroke shrinks it by, per length; negative where the stroke expands it (it pulls the end shut).
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub area: Area,
    /// Exponent of the process.
    pub exponent: f64,
    /// Pressure of what is around it.
    pub surroundings: AbsolutePressure,
    /// Its full stroke.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub stroke: Length,
}

/// A sealed gas chamber on its stroke, by one process: what settles and what is fast are two of them, the second from
/// where the first has come to rest ([`settled_at`](Self::settled_at)).
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(try_from = "ChamberParts", into = "ChamberParts"))]
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
    /// A chamber of these parts.
    ///
    /// # Errors
    /// When a quantity is out of range, or the chamber is swept empty within the stroke
    /// ([`GasError::ChamberCloses`]).
    pub fn new(parts: ChamberParts) -> Result<Self> {
        let most = AbsolutePressure::from_si(5e7);
        check::positive("pressure", parts.pressure)?;
        check::plausible("pressure", parts.pressure, AbsolutePressure::from_si(1e3), most)?;
        check::plausible("volume", parts.volume, Volume::from_si(1e-8), Volume::from_si(1e3))?;
        check::plausible("area", parts.area, Area::from_si(-0.1), Area::from_si(0.1))?;
        check_exponent("exponent", parts.exponent)?;
        check::not_negative("surroundings", parts.surroundings)?;
        Self::of_part("chamber", parts)
    }

    /// From checked parts; refuses a chamber that is swept empty.
    pub(crate) fn of_part(part: &str, parts: ChamberParts) -> Result<Self> {
        let ChamberParts { pressure, volume, area, exponent, surroundings, stroke } = parts;
        let [pressure, surroundings] = [pressure, surroundings].map(Quantity::si);
        let (volume, area, stroke) = (volume.si(), area.si(), stroke.si());
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
        let room = volume - area * s;
        // Settled gas is isothermal, `p·V = p₀·V₀`: what a fit asks for most takes no exponential.
        let now = pressure * if exponent == 1.0 { volume / room } else { (exponent * log).exp() };
        let growth = growth((exponent - 1.0) * log);
        let per_volume = area / room;
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

impl TryFrom<ChamberParts> for Chamber {
    type Error = crate::Error;
    fn try_from(parts: ChamberParts) -> Result<Self> {
        Self::new(parts)
    }
}

impl From<Chamber> for ChamberParts {
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
mod tests;
