//! The reservoir of a shock.

use pyo3::prelude::*;
use wheelrate::gas;
use wheelrate::units::{Force, GaugePressure, Length, SpringRate, Volume};

use super::{Chamber, Conditions, Exponents, exponents};
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
    /// exponent : float or Exponents, optional
    ///     Both exponents, or the slow one alone; 1 and 1.35 ± 0.03 unless given.
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
        /// Polytropic exponents.
        exponents: Exponents = |reservoir| Exponents(reservoir.0.exponents());
        /// Diameter of the rod.
        rod_diameter: Out<Length> = |reservoir| Out(reservoir.0.rod_diameter());
    }
}

#[pymethods]
impl Reservoir {
    #[new]
    #[pyo3(signature = (pressure, volume, rod_diameter, *, exponent: "float | Exponents | None" = None, sealed=None, running=None))]
    fn new(
        py: Python<'_>,
        pressure: Given<'_, GaugePressure>,
        volume: Given<'_, Volume>,
        rod_diameter: Given<'_, Length>,
        exponent: Option<Bound<'_, PyAny>>,
        sealed: Option<Conditions>,
        running: Option<Conditions>,
    ) -> PyResult<Self> {
        let (pressure, volume) = (pressure.read("pressure")?, volume.read("volume")?);
        let rod = rod_diameter.read("rod_diameter")?;
        let exponents = exponents::read(exponent, gas::Exponents::PUMPED)?;
        run(py, || {
            let gas = gas::Reservoir::new(pressure, volume, rod)?.with_exponents(exponents);
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
    /// The same gas with these exponents.
    fn with_exponents(&self, exponents: Exponents) -> Self {
        Self(self.0.with_exponents(exponents.0))
    }
    /// The same gas running in these conditions.
    fn running_in(&self, conditions: Conditions) -> Self {
        Self(self.0.running_in(conditions.0))
    }
}
