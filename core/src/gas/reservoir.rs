//! Gas behind the oil of a shock, acting on its rod.
//!
//! `V(s) = V₀ − A_rod·s`, `F = (p − p_surroundings)·A_rod`: a nearly constant push of 100 N to 250 N that counts as
//! preload at the wheel.
//!
//! Pressure and volume are those at full extension, where the gas is charged. The rod's area counts whichever way the
//! gas is kept apart from the oil (piston, bladder, emulsion). The stiffness of a bladder is not in it.

use core::f64::consts::FRAC_PI_4;

use crate::error::Result;
use crate::units::{Area, Force, GaugePressure, Length, Quantity, SpringRate, Temperature, Volume, check, show};

use super::{Chamber, ChamberParts, Conditions, Exponents, SealedGas, charge};
use crate::error::inside;

/// The gas of a shock.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reservoir {
    pressure: GaugePressure,
    volume: Volume,
    rod_diameter: Length,
    exponents: Exponents,
    sealed: Conditions,
    running: Option<Conditions>,
}

impl Reservoir {
    sealed_in_place!();

    /// Gas charged to this gauge pressure at full extension and standard sea level.
    ///
    /// # Errors
    /// When the pressure is not from 0 to 100 bar, the volume not from 1 cm³ to 5 l, or the rod not from 3 mm to
    /// 60 mm.
    pub fn new(pressure: GaugePressure, volume: Volume, rod_diameter: Length) -> Result<Self> {
        check::not_negative("pressure", pressure)?;
        check::plausible("pressure", pressure, GaugePressure::from_si(0.0), GaugePressure::from_si(1e7))?;
        check::plausible("volume", volume, Volume::from_si(1e-6), Volume::from_si(5e-3))?;
        check::plausible("rod_diameter", rod_diameter, Length::from_si(3e-3), Length::from_si(0.06))?;
        let sealed = Conditions::sea_level();
        Ok(Self { pressure, volume, rod_diameter, exponents: Exponents::PUMPED, sealed, running: None })
    }

    /// Gas volume at full extension.
    #[must_use]
    pub fn volume(&self) -> Volume {
        self.volume
    }

    /// Diameter of the rod.
    #[must_use]
    pub fn rod_diameter(&self) -> Length {
        self.rod_diameter
    }

    /// Area of the rod.
    #[must_use]
    pub fn rod_area(&self) -> Area {
        Area::from_si(FRAC_PI_4 * self.rod_diameter.si() * self.rod_diameter.si())
    }

    /// Force at full extension, running: what the gas adds to the preload force of the spring.
    ///
    /// # Errors
    /// [`GasError::BelowVacuum`](crate::error::GasError::BelowVacuum).
    pub fn force_extended(&self) -> Result<Force> {
        let running = self.around();
        let pressure = charge("pressure", self.pressure, &self.sealed, &running)?;
        Ok(Force::from_si(pressure.gauge(running.surroundings()).si() * self.rod_area().si()))
    }

    /// The preload of a spring of this rate that gives the same force at full extension.
    ///
    /// # Errors
    /// As [`force_extended`](Self::force_extended), and for a rate of zero.
    pub fn equivalent_preload(&self, rate: SpringRate) -> Result<Length> {
        check::positive("rate", rate)?;
        Ok(self.force_extended()? / rate)
    }

    /// The sealed chamber of a shock with this stroke, settled.
    ///
    /// # Errors
    /// [`GasError::ChamberCloses`](crate::error::GasError::ChamberCloses) when the rod takes up all the volume before
    /// full stroke.
    pub fn chamber(&self, stroke: Length) -> Result<Chamber> {
        self.chamber_of("", stroke)
    }

    /// The chamber of the reservoir at this address, empty for itself.
    pub(crate) fn chamber_of(&self, part: &str, stroke: Length) -> Result<Chamber> {
        let running = self.around();
        let parts = ChamberParts {
            pressure: charge(&inside(part, "pressure"), self.pressure, &self.sealed, &running)?,
            volume: self.volume,
            area: self.rod_area(),
            exponent: self.exponents.slow(),
            surroundings: running.surroundings(),
            stroke,
        };
        Chamber::of_part(&inside(part, "volume"), parts)
    }

    pub(crate) fn sealed_of(&self, part: &str, stroke: Length) -> Result<SealedGas> {
        Ok(SealedGas::new(self.chamber_of(part, stroke)?, self.exponents))
    }

    pub(crate) fn describe(&self) -> String {
        let mut text = format!(
            "gas {} at {} gauge on a {} rod, {}",
            show(self.volume, "cm3", 0),
            show(self.pressure, "bar", 1),
            show(self.rod_diameter, "mm", 1),
            self.exponents.describe()
        );
        if let Some(running) = self.running {
            text += &format!(", charged at {}, running at {}", self.sealed.describe(), running.describe());
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::axial::AxialElement;
    use crate::units::{Temperature, parse};

    fn gas() -> Reservoir {
        Reservoir::new(parse("10 bar").unwrap(), parse("180 cm3").unwrap(), parse("16 mm").unwrap()).unwrap()
    }

    #[test]
    fn pushes_with_gauge_pressure_on_the_rod() {
        // 1 MPa on π·8² mm² = 201.06 N.
        let area = core::f64::consts::PI * 64.0;
        assert!((gas().force_extended().unwrap().si() - area).abs() < 1e-9);
        let chamber = gas().chamber(parse("118 mm").unwrap()).unwrap();
        assert!((chamber.at(parse("0 mm").unwrap()).unwrap().force.si() - area).abs() < 1e-9);
        let preload = gas().equivalent_preload(parse("50 N/mm").unwrap()).unwrap();
        assert!((preload.si() - area / 50e3).abs() < 1e-12, "4 mm of a 50 N/mm spring");
        // Isothermal: p·V = const, V = 180 − 23.725 cm³ at full stroke.
        let full = (1.101_325 * 180.0 / (180.0 - area * 0.118) - 0.101_325) * area;
        assert!((chamber.at(parse("118 mm").unwrap()).unwrap().force.si() - full).abs() < 1e-9 * full);
    }

    #[test]
    fn moves_with_temperature() {
        let hot = gas().running_in(Conditions::sea_level().with_temperature(Temperature::from_si(345.78)).unwrap());
        // 345.78/288.15 = 1.2 on the absolute pressure of 11.01325 bar.
        let area = core::f64::consts::PI * 64.0;
        assert!((hot.force_extended().unwrap().si() - (1.2 * 1.101_325 - 0.101_325) * area).abs() < 1e-9);
    }

    #[test]
    fn refuses_a_rod_that_takes_all_the_volume() {
        let small =
            Reservoir::new(parse("10 bar").unwrap(), parse("20 cm3").unwrap(), parse("16 mm").unwrap()).unwrap();
        assert!(small.chamber(parse("118 mm").unwrap()).unwrap_err().to_string().starts_with("volume: "));
    }
}
