//! Air above the oil of a fork leg.
//!
//! `V_c = A_b·h − V_st` fully compressed, `V(s) = V_c + A_s·(S − s)`
//!
//! | symbol | meaning |
//! |---|---|
//! | `h` | oil level: top of the tube to the oil, fork fully compressed |
//! | `A_b` | bore area, of the tube in which the level is read |
//! | `A_s` | sealing area, swept by the stroke: what the leg displaces per stroke |
//! | `V_st` | volume of the steel put in after the reading |
//! | `S` | travel along the fork |
//!
//! A level is read with the spring out. All the steel that goes in afterwards is taken off, not only what stands above
//! the oil: submerged steel lifts the oil by its own volume. The chamber is sealed at full extension, under the pressure
//! and at the temperature of that moment.
//!
//! It fails where oil is carried into the air (foam), and for a leg that is not air-tight to the other space of a
//! cartridge. Source: geometry; the convention of the level is common practice, no source.

use core::f64::consts::FRAC_PI_4;

use crate::axial::AxialElement;
use crate::error::{GasError, Result};
use crate::solve::{Close, Slope, root};
use crate::units::{Area, Force, GaugePressure, Length, Quantity, Temperature, Volume, check, show};

use super::{Chamber, ChamberParts, Conditions, Exponents, SealedGas, charge};
use crate::error::inside;

/// Most oil level taken, in m.
pub(crate) const MOST_LEVEL: f64 = 0.5;

/// The tube and the oil that the air of a fork leg stands over.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ForkAirParts {
    /// Diameter on which the leg seals.
    pub sealing_diameter: Length,
    /// Bore of the tube in which the level is read.
    pub bore: Length,
    /// From the top of the tube to the oil, spring out, fork fully compressed.
    pub oil_level: Length,
}

/// The air space of one fork leg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ForkAir {
    sealing_diameter: Length,
    bore: Length,
    oil_level: Length,
    exponents: Exponents,
    steel_volume: Volume,
    pressure: GaugePressure,
    sealed: Conditions,
    running: Option<Conditions>,
}

impl ForkAir {
    sealed_in_place!();

    /// Air sealed without pressure at standard sea level, over oil with no steel put in afterwards.
    ///
    /// # Errors
    /// When a diameter is not from 10 mm to 100 mm, or the level not from 0 mm to 500 mm.
    pub fn new(parts: ForkAirParts) -> Result<Self> {
        let ForkAirParts { sealing_diameter, bore, oil_level } = parts;
        let (low, high) = (Length::from_si(0.01), Length::from_si(0.1));
        check::plausible("sealing_diameter", sealing_diameter, low, high)?;
        check::plausible("bore", bore, low, high)?;
        check::not_negative("oil_level", oil_level)?;
        check::plausible("oil_level", oil_level, Length::from_si(0.0), Length::from_si(MOST_LEVEL))?;
        Ok(Self {
            sealing_diameter,
            bore,
            oil_level,
            exponents: Exponents::FORK_AIR,
            steel_volume: Volume::from_si(0.0),
            pressure: GaugePressure::from_si(0.0),
            sealed: Conditions::sea_level(),
            running: None,
        })
    }

    /// The same air with this volume of steel (spring, spacer, rod, cap) put in after the level was read. A level read
    /// with everything in place wants only the steel that stands above the oil.
    ///
    /// # Errors
    /// When the volume is not from 0 to 1 l.
    pub fn with_steel(self, volume: Volume) -> Result<Self> {
        check::not_negative("steel_volume", volume)?;
        check::plausible("steel_volume", volume, Volume::from_si(0.0), Volume::from_si(1e-3))?;
        Ok(Self { steel_volume: volume, ..self })
    }

    /// The same air pumped up to this gauge pressure at full extension.
    ///
    /// # Errors
    /// When the pressure is not from −0.5 bar to 30 bar, or below vacuum.
    pub fn with_pressure(self, pressure: GaugePressure) -> Result<Self> {
        check::plausible("pressure", pressure, GaugePressure::from_si(-0.5e5), GaugePressure::from_si(30e5))?;
        Ok(Self { pressure, ..self })
    }

    /// The same air over another oil level.
    ///
    /// # Errors
    /// Unless the level lies from 0 mm to 500 mm.
    pub fn with_oil_level(self, oil_level: Length) -> Result<Self> {
        let new = Self::new(ForkAirParts { sealing_diameter: self.sealing_diameter, bore: self.bore, oil_level })?;
        Ok(Self { oil_level: new.oil_level, ..self })
    }

    /// Oil level, spring out, fork fully compressed.
    #[must_use]
    pub fn oil_level(&self) -> Length {
        self.oil_level
    }

    /// Steel put in after the level was read.
    #[must_use]
    pub fn steel_volume(&self) -> Volume {
        self.steel_volume
    }

    /// Diameter on which the leg seals.
    #[must_use]
    pub fn sealing_diameter(&self) -> Length {
        self.sealing_diameter
    }

    /// Bore of the tube in which the level is read.
    #[must_use]
    pub fn bore(&self) -> Length {
        self.bore
    }

    /// Area swept by the stroke.
    #[must_use]
    pub fn sealing_area(&self) -> Area {
        Area::from_si(circle(self.sealing_diameter))
    }

    /// Area of the tube in which the level is read.
    #[must_use]
    pub fn bore_area(&self) -> Area {
        Area::from_si(circle(self.bore))
    }

    /// Air volume with the fork fully compressed. Not above zero when the oil fills the leg before that.
    #[must_use]
    pub fn compressed_volume(&self) -> Volume {
        self.bore_area() * self.oil_level - self.steel_volume
    }

    /// The oil level at which the air just lasts to full travel: `V_st/A_b`. A level has to be more than this.
    #[must_use]
    pub fn least_oil_level(&self) -> Length {
        self.steel_volume / self.bore_area()
    }

    /// The level that shows with the steel in place, where the steel reaches from the bottom to above the oil and is
    /// spread evenly over `steel_length` (a spring and its spacer, fork compressed):
    /// `h' = (A_b·h − V_st)/(A_b − V_st/L)`. The oil has risen: the level is less than the one read spring-out.
    ///
    /// # Errors
    /// When the steel would fill the bore, or not reach the oil's surface.
    pub fn level_with_steel_in(&self, steel_length: Length) -> Result<Length> {
        let steel_area = check::positive("steel_length", steel_length).map(|length| self.steel_volume / length)?;
        check::positive("bore area less that of the steel", self.bore_area() - steel_area)?;
        let level = self.compressed_volume() / (self.bore_area() - steel_area);
        check::not_negative("oil level with the steel in", level)?;
        check::not_negative("steel_length − oil level with the steel in", steel_length - level)?;
        Ok(level)
    }

    /// The same air by a level read with the steel in place, evenly spread over `steel_length`: the inverse of
    /// [`level_with_steel_in`](Self::level_with_steel_in).
    ///
    /// # Errors
    /// As [`with_oil_level`](Self::with_oil_level); when the steel would fill the bore.
    pub fn with_level_read_steel_in(self, level: Length, steel_length: Length) -> Result<Self> {
        let steel_area = check::positive("steel_length", steel_length).map(|length| self.steel_volume / length)?;
        check::positive("bore area less that of the steel", self.bore_area() - steel_area)?;
        let free = (self.bore_area() - steel_area) * level + self.steel_volume;
        self.with_oil_level(free / self.bore_area())
    }

    /// The same air over the oil level that gives this force at full travel, reached fast from rest at a stroke: `V_c` from
    /// `ln[(F/A_s + p_surroundings)/p₀] = n·ln(V₀/V_r) + m·ln(V_r/V_c)`, with `n` slow and `m` fast. From rest at full
    /// extension `V_c = A_s·S/(r^(1/m) − 1)`, `r` the ratio of pressures.
    ///
    /// # Errors
    /// [`GasError::LevelOutOfReach`] for a force that even a level of 500 mm exceeds; otherwise as
    /// [`chamber`](Self::chamber), and for a rest outside the travel.
    pub fn for_force(self, travel: Length, rest: Length, force: Force) -> Result<Self> {
        let most = self.with_oil_level(Length::from_si(MOST_LEVEL))?;
        let least = most.chamber(travel)?.settled_at(rest, self.exponents.fast())?.at(travel)?.force;
        check::finite("force", force)?;
        if force < least {
            return Err(GasError::LevelOutOfReach {
                wanted: show(force, "N", 0),
                least_air: format!("above {}", show(self.least_oil_level(), "mm", 1)),
                at_least_air: "any force".to_owned(),
                most_air: show(most.oil_level, "mm", 0),
                at_most_air: show(least, "N", 0),
            }
            .into());
        }
        let running = self.around();
        let area = self.sealing_area().si();
        let charged = charge("pressure", self.pressure, &self.sealed, &running)?.si();
        let wanted = ((force.si() / area + running.surroundings().si()) / charged).ln();
        let (slow, fast) = (self.exponents.slow(), self.exponents.fast());
        let (whole, left) = (area * travel.si(), area * (travel - rest).si());
        // All slow is the least volume that may do, all fast the most.
        let bounds = [slow, fast].map(|exponent| whole / (wanted / exponent).exp_m1());
        let above = |volume: f64| {
            let (ratio, slope) = log_ratio(volume, [whole, left], [slow, fast]);
            (ratio - wanted, slope)
        };
        let compressed = root(above, Slope::Falling, bounds, bounds[0], Close::step(0.0));
        self.with_oil_level((Volume::from_si(compressed) + self.steel_volume) / self.bore_area())
    }

    /// The sealed chamber of a leg with this travel along the fork, settled.
    ///
    /// # Errors
    /// [`GasError::AirGapCloses`] when the air is gone before full travel.
    pub fn chamber(&self, travel: Length) -> Result<Chamber> {
        self.chamber_of("", travel)
    }

    pub(crate) fn sealed_of(&self, part: &str, travel: Length) -> Result<SealedGas> {
        Ok(SealedGas::new(self.chamber_of(part, travel)?, self.exponents))
    }

    fn chamber_of(&self, part: &str, travel: Length) -> Result<Chamber> {
        check::finite("travel", travel)?;
        let (area, compressed) = (self.sealing_area().si(), self.compressed_volume().si());
        if compressed <= 0.0 {
            return Err(GasError::AirGapCloses {
                part: inside(part, "oil_level"),
                level: show(self.oil_level, "mm", 1),
                closes_at: show(travel + Length::from_si(compressed / area), "mm", 1),
                full: show(travel, "mm", 1),
                least_level: show(self.least_oil_level(), "mm", 1),
            }
            .into());
        }
        let running = self.around();
        let parts = ChamberParts {
            pressure: charge(&inside(part, "pressure"), self.pressure, &self.sealed, &running)?,
            volume: Volume::from_si(compressed + area * travel.si()),
            area: self.sealing_area(),
            exponent: self.exponents.slow(),
            surroundings: running.surroundings(),
            stroke: travel,
        };
        Chamber::of_part(&inside(part, "oil_level"), parts)
    }

    pub(crate) fn describe(&self) -> String {
        let mut text = format!(
            "air over oil level {}, sealing on {}, bore {}, {}",
            show(self.oil_level, "mm", 1),
            show(self.sealing_diameter, "mm", 1),
            show(self.bore, "mm", 1),
            self.exponents.describe()
        );
        if self.steel_volume.si() > 0.0 {
            text += &format!(", less {} of steel", show(self.steel_volume, "cm3", 0));
        }
        if self.pressure.si() != 0.0 {
            text += &format!(", {} gauge", show(self.pressure, "bar", 2));
        }
        if let Some(running) = self.running {
            text += &format!(", sealed at {}, running at {}", self.sealed.describe(), running.describe());
        }
        text
    }
}

/// Logarithm of the pressure at full travel over that at full extension, and its slope over the volume left there: swept slowly from
/// the whole to what is left at rest, and fast from there.
fn log_ratio(volume: f64, [whole, left]: [f64; 2], [slow, fast]: [f64; 2]) -> (f64, f64) {
    let ratio = slow * ((volume + whole) / (volume + left)).ln() + fast * (left / volume).ln_1p();
    (ratio, slow / (volume + whole) + (fast - slow) / (volume + left) - fast / volume)
}

fn circle(diameter: Length) -> f64 {
    FRAC_PI_4 * diameter.si() * diameter.si()
}

#[cfg(test)]
mod tests;
