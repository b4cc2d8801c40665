//! The reservoir of a shock.

use pyo3::prelude::*;
use wheelrate::gas;
use wheelrate::units::{Force, GaugePressure, Length, SpringRate, Volume};

use super::{Chamber, Conditions};
use crate::errors::run;
use crate::units::{Given, Out};
use crate::value::{getters, value_class};

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

getters! {
    Reservoir {
        /// Gauge pressure at full extension, when charged.
        pressure: Out<GaugePressure> = |reservoir| Out(reservoir.0.pressure());
        /// Gas volume at full extension.
        volume: Out<Volume> = |reservoir| Out(reservoir.0.volume());
        /// Diameter of the rod.
        rod_diameter: Out<Length> = |reservoir| Out(reservoir.0.rod_diameter());
    }
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
    /// The preload of a spring of this rate that gives the same force at full extension.
    fn equivalent_preload(&self, py: Python<'_>, rate: Given<'_, SpringRate>) -> PyResult<Out<Length>> {
        let rate = rate.read("rate")?;
        run(py, || self.0.equivalent_preload(rate)).map(Out)
    }
    /// The same gas following another polytropic exponent.
    fn with_exponent(&self, py: Python<'_>, exponent: f64) -> PyResult<Self> {
        run(py, || self.0.with_exponent(exponent)).map(Self)
    }
    /// The same gas running in these conditions.
    fn running_in(&self, conditions: Conditions) -> Self {
        Self(self.0.running_in(conditions.0))
    }
}
