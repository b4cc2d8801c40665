//! Gas: a sealed chamber, the air of a fork leg, the reservoir of a shock.

use pyo3::prelude::*;
use wheelrate::gas;
use wheelrate::units::{AbsolutePressure, Area, Force, GaugePressure, Length, Temperature, Volume};

use crate::axial::axial_element;
use crate::errors::run;
use crate::units::{Given, Out, read_optional};
use crate::value::value_class;

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
    /// Pressure outside the chamber, absolute.
    #[getter]
    fn surroundings(&self) -> Out<AbsolutePressure> {
        Out(self.0.surroundings())
    }
    /// Temperature of the gas.
    #[getter]
    fn temperature(&self) -> Out<Temperature> {
        Out(self.0.temperature())
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

#[pymethods]
impl Chamber {
    #[new]
    #[pyo3(signature = (pressure, volume, area, stroke, *, exponent=1.0, surroundings=None))]
    fn new(
        py: Python<'_>,
        pressure: Given<'_, AbsolutePressure>,
        volume: Given<'_, Volume>,
        area: Given<'_, Area>,
        stroke: Given<'_, Length>,
        exponent: f64,
        surroundings: Option<Given<'_, AbsolutePressure>>,
    ) -> PyResult<Self> {
        let (pressure, volume) = (pressure.read("pressure")?, volume.read("volume")?);
        let (area, stroke) = (area.read("area")?, stroke.read("stroke")?);
        let surroundings =
            read_optional(surroundings, "surroundings")?.unwrap_or_else(|| gas::Conditions::sea_level().surroundings());
        run(py, || gas::Chamber::new(pressure, volume, area, exponent, surroundings, stroke)).map(Self)
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
    /// Polytropic exponent.
    #[getter]
    fn exponent(&self) -> f64 {
        self.0.exponent()
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
    /// exponent : float, optional
    ///     1 for a slow stroke, towards 1.4 for a fast one.
    /// steel_volume : volume, optional
    ///     All that is put in after the level was read.
    /// pressure : gauge pressure, optional
    ///     Pumped up to at full extension.
    /// sealed, running : Conditions, optional
    ///     When it was sealed, and now.
    ForkAir(gas::ForkAir)
}

#[pymethods]
impl ForkAir {
    #[new]
    #[pyo3(signature = (sealing_diameter, bore, oil_level, *, exponent=1.0, steel_volume=None, pressure=None, sealed=None, running=None))]
    #[allow(clippy::too_many_arguments, reason = "keyword arguments on the Python side")]
    fn new(
        py: Python<'_>,
        sealing_diameter: Given<'_, Length>,
        bore: Given<'_, Length>,
        oil_level: Given<'_, Length>,
        exponent: f64,
        steel_volume: Option<Given<'_, Volume>>,
        pressure: Option<Given<'_, GaugePressure>>,
        sealed: Option<Conditions>,
        running: Option<Conditions>,
    ) -> PyResult<Self> {
        let (sealing, bore) = (sealing_diameter.read("sealing_diameter")?, bore.read("bore")?);
        let level = oil_level.read("oil_level")?;
        let steel = read_optional(steel_volume, "steel_volume")?;
        let pressure = read_optional(pressure, "pressure")?;
        run(py, || {
            let air = gas::ForkAir::new(sealing, bore, level, exponent)?;
            let air = steel.map_or(Ok(air), |volume| air.with_steel(volume))?;
            let air = pressure.map_or(Ok(air), |pressure| air.with_pressure(pressure))?;
            let air = sealed.map_or(air, |Conditions(sealed)| air.sealed_in(sealed));
            Ok::<_, wheelrate::Error>(running.map_or(air, |Conditions(running)| air.running_in(running)))
        })
        .map(Self)
    }
    /// The sealed chamber of a leg with this travel.
    fn chamber(&self, py: Python<'_>, travel: Given<'_, Length>) -> PyResult<Chamber> {
        let travel = travel.read("travel")?;
        run(py, || self.0.chamber(travel)).map(Chamber)
    }
    /// Oil level, spring out, fork fully compressed.
    #[getter]
    fn oil_level(&self) -> Out<Length> {
        Out(self.0.oil_level())
    }
    /// Air left at full compression.
    #[getter]
    fn compressed_volume(&self) -> Out<Volume> {
        Out(self.0.compressed_volume())
    }
}

value_class! {
    /// The gas of a shock, which pushes on its rod.
    ///
    /// Parameters
    /// ----------
    /// pressure : gauge pressure
    ///     At full extension, when charged.
    /// volume : volume
    ///     Of the gas at full extension.
    /// rod_diameter : length
    ///     Of the shock's rod.
    /// exponent : float, optional
    ///     1 for a slow stroke, towards 1.4 for a fast one.
    /// sealed, running : Conditions, optional
    ///     When it was charged, and now.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> print(wr.Reservoir("10 bar", "180 cm3", "16 mm").force_extended.round(1))
    /// 201.1 newton
    Reservoir(gas::Reservoir)
}

#[pymethods]
impl Reservoir {
    #[new]
    #[pyo3(signature = (pressure, volume, rod_diameter, *, exponent=1.0, sealed=None, running=None))]
    fn new(
        py: Python<'_>,
        pressure: Given<'_, GaugePressure>,
        volume: Given<'_, Volume>,
        rod_diameter: Given<'_, Length>,
        exponent: f64,
        sealed: Option<Conditions>,
        running: Option<Conditions>,
    ) -> PyResult<Self> {
        let (pressure, volume) = (pressure.read("pressure")?, volume.read("volume")?);
        let rod = rod_diameter.read("rod_diameter")?;
        run(py, || {
            let gas = gas::Reservoir::new(pressure, volume, rod)?.with_exponent(exponent)?;
            let gas = sealed.map_or(gas, |Conditions(sealed)| gas.sealed_in(sealed));
            Ok::<_, wheelrate::Error>(running.map_or(gas, |Conditions(running)| gas.running_in(running)))
        })
        .map(Self)
    }
    /// The sealed chamber of a shock with this stroke.
    fn chamber(&self, py: Python<'_>, stroke: Given<'_, Length>) -> PyResult<Chamber> {
        let stroke = stroke.read("stroke")?;
        run(py, || self.0.chamber(stroke)).map(Chamber)
    }
    /// Force at full extension: what the gas adds to the preload force of the spring.
    #[getter]
    fn force_extended(&self, py: Python<'_>) -> PyResult<Out<Force>> {
        run(py, || self.0.force_extended()).map(Out)
    }
}
