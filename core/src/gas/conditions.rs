//! What is around a sealed chamber: the pressure outside it and the temperature of its gas.

use crate::error::{GasError, Result};
use crate::units::kind::STANDARD_GRAVITY_SI;
use crate::units::{AbsolutePressure, Length, Quantity, Temperature, check, show};

/// Pressure of the surroundings and temperature of the gas, when a chamber is sealed or while it runs.
#[derive(Debug, Clone, Copy, PartialEq)]
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

    /// The standard atmosphere at an altitude above sea level,
    /// `T = T₀ − L·H`, `p = p₀·(T/T₀)^(g₀/(R·L))`, `H = r·h/(r + h)` (ISO 2533, troposphere; the ICAO standard atmosphere is
    /// the same there). The weather of a day moves the pressure by 3 %.
    ///
    /// # Errors
    /// [`GasError::Altitude`] outside −500 m to 9000 m.
    pub fn at_altitude(altitude: Length) -> Result<Self> {
        /// Temperature lapse in K per geopotential metre (ISO 2533).
        const LAPSE: f64 = 6.5e-3;
        /// Specific gas constant of dry air in J/(kg K) (ISO 2533).
        const AIR_CONSTANT: f64 = 287.052_87;
        /// Nominal radius of the earth in m (ISO 2533).
        const EARTH_RADIUS: f64 = 6_356_766.0;
        const LOWEST: f64 = -500.0;
        const HIGHEST: f64 = 9000.0;
        let height = check::finite("altitude", altitude)?.si();
        if !(LOWEST..=HIGHEST).contains(&height) {
            let metres = |h: f64| show(Length::from_si(h), "m", 0);
            let (found, low, high) = (metres(height), metres(LOWEST), metres(HIGHEST));
            return Err(GasError::Altitude { found, low, high }.into());
        }
        let geopotential = EARTH_RADIUS * height / (EARTH_RADIUS + height);
        let temperature = SEA_LEVEL_TEMPERATURE - LAPSE * geopotential;
        let exponent = STANDARD_GRAVITY_SI / (AIR_CONSTANT * LAPSE);
        let pressure = SEA_LEVEL_PRESSURE * (temperature / SEA_LEVEL_TEMPERATURE).powf(exponent);
        Ok(Self { surroundings: AbsolutePressure::from_si(pressure), temperature: Temperature::from_si(temperature) })
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::parse;

    #[test]
    fn text_gives_an_altitude_or_a_pressure() {
        let read = |text: &str| serde_json::from_str::<Conditions>(text);
        let ridge = read(r#"{"altitude": "2500 m"}"#).unwrap();
        assert_eq!(ridge, Conditions::at_altitude(parse("2500 m").unwrap()).unwrap());
        assert_eq!(serde_json::from_str::<Conditions>(&serde_json::to_string(&ridge).unwrap()).unwrap(), ridge);
        let warm = read(r#"{"altitude": "2500 m", "temperature": "45 degC"}"#).unwrap();
        assert_eq!(warm.surroundings(), ridge.surroundings());
        assert_eq!(warm.temperature(), parse("45 degC").unwrap());
        assert_eq!(read("{}").unwrap(), Conditions::sea_level());
        assert!(read(r#"{"altitude": "0 m", "surroundings": "1 bar"}"#).unwrap_err().to_string().contains("altitude"));
    }

    #[test]
    fn refuses_what_no_rider_meets() {
        let fault = Conditions::at_altitude(parse("12 km").unwrap_or(Length::from_si(12e3))).unwrap_err().to_string();
        assert!(fault.contains("12000 m") && fault.contains("9000 m"), "{fault}");
        let cold = Conditions::new(parse("1 bar").unwrap(), parse("15 K").unwrap()).unwrap_err().to_string();
        assert!(cold.starts_with("temperature: found -258.15 degC"), "{cold}");
        let nowhere = Conditions::at_altitude(Length::from_si(f64::NAN)).unwrap_err().to_string();
        assert!(nowhere.starts_with("altitude: NaN is not a finite length"), "{nowhere}");
    }

    #[test]
    fn says_pressure_and_temperature() {
        assert_eq!(Conditions::sea_level().describe(), "1013 mbar, 15 degC");
    }
}
