//! An air spring: a main chamber that the stroke shrinks, a negative chamber that it lets grow, a second chamber behind a piston.
//!
//! `F = (p_m − p_s)·A_m − (p_n − p_s)·A_n`, `A_m = π·D²/4`, `A_n = π·(D² − d²)/4`
//!
//! Piston diameter `D`, rod diameter `d` on the negative side. Each chamber is sealed gas ([`Chamber`]). The negative
//! chamber is filled to a pressure of its own at full extension, or through a port that joins both chambers at one stroke:
//! there the two pressures are equal. A second positive chamber stands behind a floating piston, which lifts once the main one is at
//! its pressure and keeps the end from stiffening as much. Spacers take their volume from the main chamber.
//!
//! Both have the same two exponents ([`Exponents`]): they move in one stroke.
//!
//! Assumes that nothing leaks past the piston and that the port is narrow in stroke. Textbook: polytropic process, as for
//! the chamber.

use core::f64::consts::FRAC_PI_4;

use crate::error::{Result, SpringError};
use crate::units::{AbsolutePressure, Area, GaugePressure, Length, Quantity, Temperature, Volume, brief, check, show};

use super::{Chamber, ChamberParts, Conditions, Exponents, SealedGas, charge};
use crate::error::inside;

/// How a negative chamber is filled.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Filling {
    /// To this gauge pressure at full extension, by a valve of its own.
    Pressure(GaugePressure),
    /// From the main chamber, through a port at this stroke.
    PortAt(Length),
}

/// A negative chamber.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NegativeChamber {
    /// Rod that takes up part of the piston's area.
    pub rod_diameter: Length,
    /// Volume at full extension.
    pub volume: Volume,
    /// How it is filled.
    pub filling: Filling,
}

/// A second positive chamber, behind a floating piston.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SecondChamber {
    /// Its volume while the piston is seated.
    pub volume: Volume,
    /// What it is pumped to.
    pub pressure: GaugePressure,
}

/// Spacers that take up volume.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spacers {
    /// How many are in.
    pub count: u32,
    /// The volume of each.
    pub volume: Volume,
    /// How many go in at most, where known.
    pub most: Option<u32>,
}

/// More spacers than any air spring takes.
const MOST_SPACERS: u32 = 40;

/// An air spring with or without a negative chamber.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AirSpring {
    piston_diameter: Length,
    volume: Volume,
    pressure: GaugePressure,
    negative: Option<NegativeChamber>,
    second: Option<SecondChamber>,
    spacers: Option<Spacers>,
    exponents: Exponents,
    sealed: Conditions,
    running: Option<Conditions>,
}

impl AirSpring {
    sealed_in_place!();

    /// A main chamber of this volume at full extension, pumped to this gauge pressure: at full extension, or where the
    /// port of the negative chamber is.
    ///
    /// # Errors
    /// When the piston is not from 5 mm to 100 mm, the volume not from 1 cm³ to 5 l, or the pressure not from 0 to 50 bar.
    pub fn new(piston_diameter: Length, volume: Volume, pressure: GaugePressure) -> Result<Self> {
        check::plausible("piston_diameter", piston_diameter, Length::from_si(5e-3), Length::from_si(0.1))?;
        check::plausible("volume", volume, Volume::from_si(1e-6), Volume::from_si(5e-3))?;
        check::not_negative("pressure", pressure)?;
        check::plausible("pressure", pressure, GaugePressure::from_si(0.0), GaugePressure::from_si(50e5))?;
        let (sealed, exponents) = (Conditions::sea_level(), Exponents::PUMPED);
        Ok(Self {
            piston_diameter,
            volume,
            pressure,
            negative: None,
            second: None,
            spacers: None,
            exponents,
            sealed,
            running: None,
        })
    }

    /// The same spring with a negative chamber.
    ///
    /// # Errors
    /// When the rod is not thinner than the piston, the volume not from 0.1 cm³ to 5 l, or the filling out of range.
    pub fn with_negative(self, negative: NegativeChamber) -> Result<Self> {
        check::positive("negative.rod_diameter", negative.rod_diameter)?;
        check::plausible("negative.volume", negative.volume, Volume::from_si(1e-7), Volume::from_si(5e-3))?;
        match negative.filling {
            Filling::Pressure(pressure) => {
                check::not_negative("negative.pressure", pressure)?;
                check::plausible(
                    "negative.pressure",
                    pressure,
                    GaugePressure::from_si(0.0),
                    GaugePressure::from_si(50e5),
                )?;
            }
            Filling::PortAt(stroke) => {
                check::not_negative("negative.port_at", stroke)?;
            }
        }
        if negative.rod_diameter >= self.piston_diameter {
            return Err(SpringError::Order {
                field: "negative.rod_diameter".to_owned(),
                found: brief(negative.rod_diameter),
                wanted: "less",
                other: "piston_diameter".to_owned(),
                than: brief(self.piston_diameter),
            }
            .into());
        }
        Ok(Self { negative: Some(negative), ..self })
    }

    /// The same spring with a second positive chamber.
    ///
    /// # Errors
    /// When its volume is not from 0.1 cm³ to 5 l, or its pressure not more than that of the main chamber and at most 100 bar: the
    /// piston would be lifted from the start.
    pub fn with_second(self, second: SecondChamber) -> Result<Self> {
        let most = GaugePressure::from_si(100e5);
        check::plausible("second.volume", second.volume, Volume::from_si(1e-7), Volume::from_si(5e-3))?;
        check::plausible("second.pressure", second.pressure, GaugePressure::from_si(0.0), most)?;
        if second.pressure <= self.pressure {
            return Err(SpringError::Order {
                field: "second.pressure".to_owned(),
                found: brief(second.pressure),
                wanted: "more",
                other: "pressure".to_owned(),
                than: brief(self.pressure),
            }
            .into());
        }
        Ok(Self { second: Some(second), ..self })
    }

    /// The same spring with spacers in its main chamber.
    ///
    /// # Errors
    /// When there are more than go in, one has not from 0.1 cm³ to 500 cm³, or all of them more than the chamber.
    pub fn with_spacers(self, spacers: Spacers) -> Result<Self> {
        let most = spacers.most.unwrap_or(MOST_SPACERS);
        check::number_within("spacers.most", f64::from(most), 1.0, f64::from(MOST_SPACERS))?;
        check::number_within("spacers.count", f64::from(spacers.count), 0.0, f64::from(most))?;
        check::plausible("spacers.volume", spacers.volume, Volume::from_si(1e-7), Volume::from_si(5e-4))?;
        let taken = spacers.volume * f64::from(spacers.count);
        if taken >= self.volume {
            return Err(SpringError::Order {
                field: "spacers.count".to_owned(),
                found: format!("{} in all", show(taken, "cm3", 1)),
                wanted: "less",
                other: "volume".to_owned(),
                than: show(self.volume, "cm3", 1),
            }
            .into());
        }
        Ok(Self { spacers: Some(spacers), ..self })
    }

    /// Stroke at which the piston of the second chamber lifts while the end settles; `None` without one, or where it stays seated
    /// over this stroke.
    ///
    /// # Errors
    /// As [`chambers`](Self::chambers).
    pub fn lifts_at(&self, stroke: Length) -> Result<Option<Length>> {
        let lifts = self.sealed_of("", stroke)?.iter().find_map(SealedGas::lifts_at);
        Ok(lifts.map(Length::from_si).filter(|lifts| *lifts <= stroke))
    }

    /// The second positive chamber.
    #[must_use]
    pub fn second(&self) -> Option<&SecondChamber> {
        self.second.as_ref()
    }

    /// The spacers in its main chamber.
    #[must_use]
    pub fn spacers(&self) -> Option<&Spacers> {
        self.spacers.as_ref()
    }

    /// Diameter of the piston.
    #[must_use]
    pub fn piston_diameter(&self) -> Length {
        self.piston_diameter
    }

    /// Volume of the main chamber at full extension, without spacers.
    #[must_use]
    pub fn volume(&self) -> Volume {
        self.volume
    }

    /// The negative chamber.
    #[must_use]
    pub fn negative(&self) -> Option<&NegativeChamber> {
        self.negative.as_ref()
    }

    /// The sealed chambers over this stroke, settled: the main one, and the negative one where there is one. The main one is as it is
    /// while the piston of a second chamber is seated.
    ///
    /// # Errors
    /// [`GasError::ChamberCloses`](crate::error::GasError::ChamberCloses) when the piston takes up all the volume before
    /// full stroke; a port beyond the stroke.
    pub fn chambers(&self, stroke: Length) -> Result<Vec<Chamber>> {
        Ok(self.sealed_of("", stroke)?.iter().map(SealedGas::chamber).collect())
    }

    pub(crate) fn sealed_of(&self, part: &str, stroke: Length) -> Result<Vec<SealedGas>> {
        let both = |chamber| SealedGas::new(chamber, self.exponents);
        let running = self.around();
        let circle = |diameter: Length| FRAC_PI_4 * diameter.si() * diameter.si();
        let second = inside(part, "negative");
        let absolute = |part: &str, gauge| charge(&inside(part, "pressure"), gauge, &self.sealed, &running);
        let (exponent, surroundings) = (self.exponents.slow(), running.surroundings());
        let chamber = |part: &str, pressure: AbsolutePressure, volume: Volume, area: f64| {
            let area = Area::from_si(area);
            let parts = ChamberParts { pressure, volume, area, exponent, surroundings, stroke };
            Chamber::of_part(&inside(part, "volume"), parts)
        };
        let area = circle(self.piston_diameter);
        let taken = self.spacers.map_or(Volume::default(), |spacers| spacers.volume * f64::from(spacers.count));
        let main = chamber(part, absolute(part, self.pressure)?, self.volume - taken, area)?;
        let behind = self.second.map(|behind| -> Result<_> {
            Ok((absolute(&inside(part, "second"), behind.pressure)?.si(), behind.volume.si()))
        });
        let behind = behind.transpose()?;
        let pushing = |main| match behind {
            Some((pressure, volume)) => both(main).with_second(pressure, volume),
            None => both(main),
        };
        let Some(negative) = self.negative else { return Ok(vec![pushing(main)]) };
        let grows = circle(negative.rod_diameter) - area;
        match negative.filling {
            Filling::Pressure(pressure) => {
                let other = chamber(&second, absolute(&second, pressure)?, negative.volume, grows)?;
                Ok(vec![pushing(main), both(other)])
            }
            Filling::PortAt(port) => {
                let other = chamber(&second, absolute(part, self.pressure)?, negative.volume, grows)?;
                let at = inside(&second, "port_at");
                Ok(vec![pushing(main.charged_at(&at, port)?), both(other.charged_at(&at, port)?)])
            }
        }
    }

    pub(crate) fn describe(&self) -> String {
        let mut text = format!(
            "air spring {} at {} gauge on a {} piston",
            show(self.volume, "cm3", 0),
            show(self.pressure, "bar", 2),
            show(self.piston_diameter, "mm", 1)
        );
        if let Some(negative) = &self.negative {
            let filling = match negative.filling {
                Filling::Pressure(pressure) => format!("at {} gauge", show(pressure, "bar", 2)),
                Filling::PortAt(stroke) => format!("filled through a port at {}", show(stroke, "mm", 1)),
            };
            text += &format!(", negative chamber {} {filling}", show(negative.volume, "cm3", 1));
        }
        if let Some(second) = &self.second {
            let (volume, pressure) = (show(second.volume, "cm3", 1), show(second.pressure, "bar", 2));
            text += &format!(", second chamber {volume} at {pressure} gauge");
        }
        if let Some(Spacers { count, volume, .. }) = self.spacers {
            text += &format!(", {count} spacers of {}", show(volume, "cm3", 1));
        }
        text + ", " + &self.exponents.describe()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::axial::AxialElement;
    use crate::axial::testing::assert_consistent;
    use crate::units::parse;

    fn spring(filling: Filling) -> AirSpring {
        let main = AirSpring::new(parse("34 mm").unwrap(), parse("320 cm3").unwrap(), parse("9 bar").unwrap()).unwrap();
        let (rod_diameter, volume) = (parse("12 mm").unwrap(), parse("15 cm3").unwrap());
        main.with_negative(NegativeChamber { rod_diameter, volume, filling }).unwrap()
    }

    #[test]
    fn a_port_makes_both_pressures_equal_where_it_is() {
        let port: Length = parse("12 mm").unwrap();
        let chambers = spring(Filling::PortAt(port))
            .with_exponents(Exponents::new(1.3, 1.4).unwrap())
            .chambers(parse("200 mm").unwrap())
            .unwrap();
        for chamber in &chambers {
            assert!((chamber.pressure_at(port).unwrap().si() - 1_001_325.0).abs() < 1e-6);
            assert_consistent(chamber, 0.2);
        }
        let net = |s: &str| chambers.iter().map(|c| c.at(parse(s).unwrap()).unwrap().force.si()).sum::<f64>();
        // At the port only the rod's area is out of balance: 0.9 MPa on π·6² mm².
        assert!((net("12 mm") - 0.9 * core::f64::consts::PI * 36.0).abs() < 1e-9, "{}", net("12 mm"));
        assert!(net("0 mm") < net("12 mm") && net("12 mm") < net("100 mm"));
    }

    #[test]
    fn faults_name_the_chamber_and_the_key() {
        let flooded = spring(Filling::PortAt(parse("12 mm").unwrap())).chambers(parse("400 mm").unwrap());
        assert!(flooded.unwrap_err().to_string().starts_with("volume: "));
        let late = spring(Filling::PortAt(parse("300 mm").unwrap())).chambers(parse("200 mm").unwrap());
        let late = late.unwrap_err().to_string();
        assert_eq!(late, "negative.port_at: stroke 300 mm lies outside 0 mm to 200 mm");
        let text = r#"{"piston_diameter": "34 mm", "volume": "320 cm3", "pressure": "9 bar",
            "negative": {"rod_diameter": "12 mm", "volume": "15 cm3", "port_at": "12 mm"}, "exponent": 1.3}"#;
        let read: AirSpring = serde_json::from_str(text).unwrap();
        let stated = Exponents::PUMPED.with_slow(1.3).unwrap();
        assert_eq!(read, spring(Filling::PortAt(parse("12 mm").unwrap())).with_exponents(stated));
        assert_eq!(serde_json::from_str::<AirSpring>(&serde_json::to_string(&read).unwrap()).unwrap(), read);
        let fault =
            |from: &str, to: &str| serde_json::from_str::<AirSpring>(&text.replace(from, to)).unwrap_err().to_string();
        assert!(
            fault(r#", "port_at": "12 mm""#, "").contains("negative: found none of them, wanted pressure or port_at")
        );
        assert!(
            fault(r#""port_at": "12 mm""#, r#""port_at": "12 mm", "pressure": "9 bar""#)
                .contains("negative: found port_at + pressure")
        );
        assert!(fault("\"12 mm\", \"volume\"", "\"40 mm\", \"volume\"").starts_with("negative.rod_diameter: "));
    }

    #[test]
    fn spacers_take_their_volume_from_the_main_chamber() {
        let main = |volume: &str| {
            AirSpring::new(parse("34 mm").unwrap(), parse(volume).unwrap(), parse("9 bar").unwrap()).unwrap()
        };
        let with = |count: u32, each: &str, most: Option<u32>| {
            main("320 cm3").with_spacers(Spacers { count, volume: parse(each).unwrap(), most })
        };
        let [found] = with(5, "10 cm3", Some(5)).unwrap().chambers(parse("200 mm").unwrap()).unwrap()[..] else {
            panic!()
        };
        let [wanted] = main("270 cm3").chambers(parse("200 mm").unwrap()).unwrap()[..] else { panic!() };
        assert!((found.eval(0.2).force / wanted.eval(0.2).force - 1.0).abs() < 1e-12);
        assert!(with(6, "10 cm3", Some(5)).unwrap_err().to_string().starts_with("spacers.count"));
        // Sixteen of 20 cm³ are all of it.
        assert!(with(16, "20 cm3", None).unwrap_err().to_string().contains("320.0 cm3 in all"));
    }

    #[test]
    fn the_second_chamber_yields_where_the_main_one_has_its_pressure() {
        let main = AirSpring::new(parse("34 mm").unwrap(), parse("320 cm3").unwrap(), parse("9 bar").unwrap()).unwrap();
        let main = main.with_exponents(Exponents::new(1.2, 1.35).unwrap());
        let (short, long) = (parse("100 mm").unwrap(), parse("200 mm").unwrap());
        assert_eq!(main.lifts_at(long).unwrap(), None);
        let (volume, pressure) = (parse("60 cm3").unwrap(), parse("15 bar").unwrap());
        let both = main.with_second(SecondChamber { volume, pressure }).unwrap();
        // p·Vⁿ from 10.01325 bar to 16.01325 bar, on 34 mm.
        let left = 320e-6 * (10.01325_f64 / 16.01325).powf(1.0 / 1.2);
        let at = (320e-6 - left) / (core::f64::consts::PI * 0.017 * 0.017);
        assert!((both.lifts_at(long).unwrap().unwrap().si() - at).abs() < 1e-12);
        assert_eq!(both.lifts_at(short).unwrap(), None, "it stays seated");
    }
}
