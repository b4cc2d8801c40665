//! What is around a sealed chamber: the pressure outside it and the temperature of its gas.

use crate::error::Result;
use crate::units::{AbsolutePressure, Quantity, Temperature, check, show};

/// Pressure of the surroundings and temperature of the gas, when a chamber is sealed or while it runs.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(try_from = "ConditionsText", into = "ConditionsText"))]
pub struct Conditions {
    surroundings: AbsolutePressure,
    temperature: Temperature,
}

/// Standard pressure at sea level in Pa (ISO 2533, exact).
pub(crate) const SEA_LEVEL_PRESSURE: f64 = 101_325.0;
/// Standard temperature at sea level in K (ISO 2533, exact).
pub(crate) const SEA_LEVEL_TEMPERATURE: f64 = 288.15;

impl Conditions {
    /// Surroundings of this pressure, gas of this temperature.
    ///
    /// # Errors
    /// Unless the pressure lies from 0.2 bar to 1.3 bar and the temperature from −60 °C to 200 °C.
    pub fn new(surroundings: AbsolutePressure, temperature: Temperature) -> Result<Self> {
        let (low, high) = (AbsolutePressure::from_si(0.2e5), AbsolutePressure::from_si(1.3e5));
        check::plausible("surroundings", surroundings, low, high)?;
        check::plausible("temperature", temperature, Temperature::from_si(213.15), Temperature::from_si(473.15))?;
        Ok(Self { surroundings, temperature })
    }

    /// The standard atmosphere at sea level: 101 325 Pa, 15 °C (ISO 2533).
    #[must_use]
    pub fn sea_level() -> Self {
        Self {
            surroundings: AbsolutePressure::from_si(SEA_LEVEL_PRESSURE),
            temperature: Temperature::from_si(SEA_LEVEL_TEMPERATURE),
        }
    }

    /// The same surroundings with gas of another temperature: warmed by work, or by the sun.
    ///
    /// # Errors
    /// As [`new`](Self::new).
    pub fn with_temperature(self, temperature: Temperature) -> Result<Self> {
        Self::new(self.surroundings, temperature)
    }

    /// Pressure outside the chamber.
    #[must_use]
    pub fn surroundings(&self) -> AbsolutePressure {
        self.surroundings
    }

    /// Temperature of the gas.
    #[must_use]
    pub fn temperature(&self) -> Temperature {
        self.temperature
    }

    pub(crate) fn describe(&self) -> String {
        format!("{}, {}", show(self.surroundings, "mbar", 0), show(self.temperature, "degC", 0))
    }
}

impl Default for Conditions {
    fn default() -> Self {
        Self::sea_level()
    }
}

#[cfg(feature = "serde")]
#[derive(serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct ConditionsText {
    surroundings: AbsolutePressure,
    #[serde(with = "crate::units::text_serde")]
    temperature: Temperature,
}

#[cfg(feature = "serde")]
impl TryFrom<ConditionsText> for Conditions {
    type Error = crate::Error;
    fn try_from(text: ConditionsText) -> Result<Self> {
        Self::new(text.surroundings, text.temperature)
    }
}

#[cfg(feature = "serde")]
impl From<Conditions> for ConditionsText {
    fn from(conditions: Conditions) -> Self {
        Self { surroundings: conditions.surroundings, temperature: conditions.temperature }
    }
}
