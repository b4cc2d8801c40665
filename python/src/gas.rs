//! Gas: a sealed chamber, the air of a fork leg, the reservoir of a shock.

mod air_spring;
mod exponents;
mod reservoir;

pub(crate) use air_spring::AirSpring;
pub(crate) use exponents::Exponents;
pub(crate) use reservoir::Reservoir;

use pyo3::prelude::*;
use wheelrate::gas;
use wheelrate::units::{AbsolutePressure, Area, Force, GaugePressure, Length, Temperature, Volume};

use crate::axial::axial_element;
use crate::errors::run;
use crate::units::{Given, Out, plain, read_optional};
use crate::value::{getters, value_class};

value_class! {
    /// Pressure of the surroundings and temperature of the gas, when a chamber is sealed or while it runs.
    ///
    /// Parameters
    /// ----------
    /// surroundings : absolute pressure, optional
    ///     Outside the chamber; standard sea level (101 325 Pa, ISO 2533) unless given.
    /// temperature : temperature, optional
    ///     Of the gas; 15 °C unless given.
    Conditions(gas::Conditions)
}

getters! {
    Conditions {
        /// Pressure outside the chamber, absolute.
        surroundings: Out<AbsolutePressure> = |conditions| Out(conditions.0.surroundings());
        /// Temperature of the gas.
        temperature: Out<Temperature> = |conditions| Out(conditions.0.temperature());
    }
}

#[pymethods]
impl Conditions {
    #[new]
    #[pyo3(signature = (surroundings=None, temperature=None))]
    fn new(
        py: Python<'_>,
        surroundings: Option<Given<'_, AbsolutePressure>>,
        temperature: Option<Given<'_, Temperature>>,
    ) -> PyResult<Self> {
        let standard = gas::Conditions::sea_level();
        let surroundings = read_optional(surroundings, "surroundings")?.unwrap_or(standard.surroundings());
        let temperature = read_optional(temperature, "temperature")?.unwrap_or(standard.temperature());
        run(py, || gas::Conditions::new(surroundings, temperature)).map(Self)
    }
    /// The standard atmosphere at an altitude (ISO 2533). The weather of a day moves its pressure by 3 %.
    ///
    /// Parameters
    /// ----------
    /// altitude : length
    ///     Above sea level, from −500 m to 9000 m.
    /// temperature : temperature, optional
    ///     Of the gas, where it is not that of the standard atmosphere.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> pass_road = wr.Conditions.at_altitude("2000 m")
    /// >>> print(pass_road.surroundings.round(4), pass_road.temperature.round(2))
    /// 0.795 bar 2.0 degree_Celsius
    #[staticmethod]
    #[pyo3(signature = (altitude, temperature=None))]
    fn at_altitude(
        py: Python<'_>,
        altitude: Given<'_, Length>,
        temperature: Option<Given<'_, Temperature>>,
    ) -> PyResult<Self> {
        let (altitude, temperature) = (altitude.read("altitude")?, read_optional(temperature, "temperature")?);
        run(py, || {
            let standard = gas::Conditions::at_altitude(altitude)?;
            temperature.map_or(Ok(standard), |temperature| standard.with_temperature(temperature))
        })
        .map(Self)
    }
    /// The same surroundings with gas of another temperature: warmed by work, or by the sun.
    fn with_temperature(&self, py: Python<'_>, temperature: Given<'_, Temperature>) -> PyResult<Self> {
        let temperature = temperature.read("temperature")?;
        run(py, || self.0.with_temperature(temperature)).map(Self)
    }
}

value_class! {
    /// A sealed gas chamber, ``p·Vⁿ = const`` and ``F = (p − p_surroundings)·A``.
    ///
    /// Parameters
    /// ----------
    /// pressure : absolute pressure
    ///     At full extension.
    /// volume : volume
    ///     At full extension.
    /// area : area
    ///     By which a stroke shrinks the chamber; negative for one that the stroke expands.
    /// stroke : length
    ///     Full stroke.
    /// exponent : float, optional
    ///     1 for a slow stroke, towards 1.4 for a fast one.
    /// surroundings : absolute pressure, optional
    ///     Standard sea level unless given.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> chamber = wr.Chamber("10 bar", "180 cm3", "200 mm2", "100 mm")
    /// >>> print(chamber.pressure_at("100 mm").round(3))
    /// 11.25 bar
    Chamber(gas::Chamber)
}

axial_element!(Chamber);

getters! {
    Chamber {
        /// Polytropic exponent.
        exponent: f64 = |chamber| chamber.0.exponent();
    }
}

#[pymethods]
impl Chamber {
    #[new]
    #[pyo3(signature = (pressure, volume, area, stroke, *, exponent: "float" = 1.0, surroundings=None))]
    fn new(
        py: Python<'_>,
        pressure: Given<'_, AbsolutePressure>,
        volume: Given<'_, Volume>,
        area: Given<'_, Area>,
        stroke: Given<'_, Length>,
        #[pyo3(from_py_with = plain::exponent)] exponent: f64,
        surroundings: Option<Given<'_, AbsolutePressure>>,
    ) -> PyResult<Self> {
        let (pressure, volume) = (pressure.read("pressure")?, volume.read("volume")?);
        let (area, stroke) = (area.read("area")?, stroke.read("stroke")?);
        let surroundings =
            read_optional(surroundings, "surroundings")?.unwrap_or_else(|| gas::Conditions::sea_level().surroundings());
        let parts = gas::ChamberParts { pressure, volume, area, exponent, surroundings, stroke };
        run(py, || gas::Chamber::new(parts)).map(Self)
    }
    /// Pressure at a stroke, absolute.
    fn pressure_at(&self, py: Python<'_>, stroke: Given<'_, Length>) -> PyResult<Out<AbsolutePressure>> {
        let stroke = stroke.read("stroke")?;
        run(py, || self.0.pressure_at(stroke)).map(Out)
    }
    /// Volume at a stroke.
    fn volume_at(&self, py: Python<'_>, stroke: Given<'_, Length>) -> PyResult<Out<Volume>> {
        let stroke = stroke.read("stroke")?;
        run(py, || self.0.volume_at(stroke)).map(Out)
    }
    /// The same chamber with another exponent, on a stroke from full extension.
    #[pyo3(signature = (exponent: "float"))]
    fn with_exponent(&self, py: Python<'_>, #[pyo3(from_py_with = plain::exponent)] exponent: f64) -> PyResult<Self> {
        run(py, || self.0.with_exponent(exponent)).map(Self)
    }
    /// The same gas, come to rest at a stroke by its exponent and from there moved with another one.
    ///
    /// Its energy counts from where the new curve runs through full extension: take differences.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> chamber = wr.Chamber("10 bar", "180 cm3", "200 mm2", "100 mm")
    /// >>> fast = chamber.settled_at("30 mm", 1.4)
    /// >>> print((fast.at("30 mm").rate / chamber.at("30 mm").rate).round(3))
    /// 1.4 dimensionless
    #[pyo3(signature = (stroke, exponent: "float"))]
    fn settled_at(
        &self,
        py: Python<'_>,
        stroke: Given<'_, Length>,
        #[pyo3(from_py_with = plain::exponent)] exponent: f64,
    ) -> PyResult<Self> {
        let stroke = stroke.read("stroke")?;
        run(py, || self.0.settled_at(stroke, exponent)).map(Self)
    }
}

value_class! {
    /// The air of a fork leg over its oil.
    ///
    /// Parameters
    /// ----------
    /// sealing_diameter : length
    ///     On which the leg seals: its area times the stroke is the volume displaced.
    /// bore : length
    ///     Of the tube the oil level is read in.
    /// oil_level : length
    ///     From the top of the tube, fork fully compressed, spring out.
    /// exponent : float or Exponents, optional
    ///     Both exponents, or the slow one alone; 1 and 1.30 ± 0.06 unless given.
    /// steel_volume : volume, optional
    ///     All that is put in after the level was read.
    /// pressure : gauge pressure, optional
    ///     Pumped up to at full extension.
    /// sealed, running : Conditions, optional
    ///     When it was sealed, and now.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> air = wr.ForkAir(sealing_diameter="47 mm", bore="43 mm", oil_level="105 mm", steel_volume="60 cm3")
    /// >>> print(air.compressed_volume.round(1), air.least_oil_level.round(1))
    /// 92.5 centimeter ** 3 41.3 millimeter
    /// >>> print(air.for_force("290 mm", "70 mm", "900 N").oil_level.round(1))
    /// 148.8 millimeter
    ForkAir(gas::ForkAir)
}

getters! {
    ForkAir {
        /// Oil level, spring out, fork fully compressed.
        oil_level: Out<Length> = |air| Out(air.0.oil_level());
        /// Diameter on which the leg seals.
        sealing_diameter: Out<Length> = |air| Out(air.0.sealing_diameter());
        /// Bore of the tube the level is read in.
        bore: Out<Length> = |air| Out(air.0.bore());
        /// Steel put in after the level was read.
        steel_volume: Out<Volume> = |air| Out(air.0.steel_volume());
        /// Gauge pressure at full extension, when sealed.
        pressure: Out<GaugePressure> = |air| Out(air.0.pressure());
        /// Polytropic exponents.
        exponents: Exponents = |air| Exponents(air.0.exponents());
        /// Air left at full compression.
        compressed_volume: Out<Volume> = |air| Out(air.0.compressed_volume());
        /// The level at which the air just lasts to full travel. A level has to be more than this.
        least_oil_level: Out<Length> = |air| Out(air.0.least_oil_level());
    }
}

#[pymethods]
impl ForkAir {
    #[new]
    #[pyo3(signature = (*, sealing_diameter, bore, oil_level, exponent: "float | Exponents | None" = None, steel_volume=None, pressure=None, sealed=None, running=None))]
    #[allow(clippy::too_many_arguments, reason = "keyword arguments on the Python side")]
    fn new(
        py: Python<'_>,
        sealing_diameter: Given<'_, Length>,
        bore: Given<'_, Length>,
        oil_level: Given<'_, Length>,
        exponent: Option<Bound<'_, PyAny>>,
        steel_volume: Option<Given<'_, Volume>>,
        pressure: Option<Given<'_, GaugePressure>>,
        sealed: Option<Conditions>,
        running: Option<Conditions>,
    ) -> PyResult<Self> {
        let parts = gas::ForkAirParts {
            sealing_diameter: sealing_diameter.read("sealing_diameter")?,
            bore: bore.read("bore")?,
            oil_level: oil_level.read("oil_level")?,
        };
        let steel = read_optional(steel_volume, "steel_volume")?;
        let pressure = read_optional(pressure, "pressure")?;
        let exponents = exponents::read(exponent, gas::Exponents::FORK_AIR)?;
        run(py, || {
            let air = gas::ForkAir::new(parts)?.with_exponents(exponents);
            let air = steel.map_or(Ok(air), |volume| air.with_steel(volume))?;
            let air = pressure.map_or(Ok(air), |pressure| air.with_pressure(pressure))?;
            let air = sealed.map_or(air, |Conditions(sealed)| air.sealed_in(sealed));
            Ok::<_, wheelrate::Error>(running.map_or(air, |Conditions(running)| air.running_in(running)))
        })
        .map(Self)
    }
    /// The sealed chamber of a leg with this travel, settled.
    fn chamber(&self, py: Python<'_>, travel: Given<'_, Length>) -> PyResult<Chamber> {
        let travel = travel.read("travel")?;
        run(py, || self.0.chamber(travel)).map(Chamber)
    }
    /// The level that shows with the steel in place, where it reaches from the bottom to above the oil.
    ///
    /// Parameters
    /// ----------
    /// steel_length : length
    ///     Of spring and spacer together, fork compressed; their volume is taken as spread evenly over it.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> air = wr.ForkAir(sealing_diameter="47 mm", bore="43 mm", oil_level="140 mm", steel_volume="60 cm3")
    /// >>> shown = air.level_with_steel_in("450 mm")
    /// >>> print(shown.round(1))
    /// 108.7 millimeter
    /// >>> print(air.with_level_read_steel_in(shown, "450 mm").oil_level.round(1))
    /// 140.0 millimeter
    fn level_with_steel_in(&self, py: Python<'_>, steel_length: Given<'_, Length>) -> PyResult<Out<Length>> {
        let length = steel_length.read("steel_length")?;
        run(py, || self.0.level_with_steel_in(length)).map(Out)
    }
    /// The same air by a level read with the steel in place: the inverse of `level_with_steel_in`.
    fn with_level_read_steel_in(
        &self,
        py: Python<'_>,
        level: Given<'_, Length>,
        steel_length: Given<'_, Length>,
    ) -> PyResult<Self> {
        let (level, length) = (level.read("level")?, steel_length.read("steel_length")?);
        run(py, || self.0.with_level_read_steel_in(level, length)).map(Self)
    }
    /// The same air over the oil level that gives this air force at full travel, reached fast.
    ///
    /// Parameters
    /// ----------
    /// travel : length
    ///     Along the fork.
    /// rest : length
    ///     Stroke at which the fork had come to rest before.
    /// force : force
    ///     Of the air of this leg alone, at full travel.
    fn for_force(
        &self,
        py: Python<'_>,
        travel: Given<'_, Length>,
        rest: Given<'_, Length>,
        force: Given<'_, Force>,
    ) -> PyResult<Self> {
        let (travel, rest, force) = (travel.read("travel")?, rest.read("rest")?, force.read("force")?);
        run(py, || self.0.for_force(travel, rest, force)).map(Self)
    }
    /// The same air over another oil level.
    fn with_oil_level(&self, py: Python<'_>, oil_level: Given<'_, Length>) -> PyResult<Self> {
        let level = oil_level.read("oil_level")?;
        run(py, || self.0.with_oil_level(level)).map(Self)
    }
    /// The same air with these exponents.
    fn with_exponents(&self, exponents: Exponents) -> Self {
        Self(self.0.with_exponents(exponents.0))
    }
    /// The same air running in these conditions.
    fn running_in(&self, conditions: Conditions) -> Self {
        Self(self.0.running_in(conditions.0))
    }
}
