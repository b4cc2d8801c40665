//! Air springs: a main chamber that pushes, and a negative one that pulls.

use pyo3::prelude::*;
use wheelrate::gas::{self, Filling, SecondChamber, Spacers};
use wheelrate::units::{GaugePressure, Length, Volume};

use super::{Chamber, Conditions, Exponents, exponents};
use crate::errors::{raise, run};
use crate::plain::{integer, optional_integer, whole};
use crate::units::{Given, Out, read_optional};
use crate::value::{getters, value_class};

value_class! {
    /// Air in place of a coil spring.
    ///
    /// Parameters
    /// ----------
    /// piston_diameter : length
    ///     On which the main chamber pushes.
    /// volume : volume
    ///     Of the main chamber at full extension.
    /// pressure : gauge pressure
    ///     Pumped up to at full extension, or where the port of the negative chamber is.
    /// exponent : float or Exponents, optional
    ///     Both exponents, or the slow one alone; 1 and 1.35 ± 0.03 unless given.
    /// sealed, running : Conditions, optional
    ///     When it was pumped up, and now.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> main = wr.AirSpring("30 mm", "260 cm3", "9 bar")
    /// >>> spring = main.with_negative("12 mm", "30 cm3", port_at="5 mm")
    /// >>> for air in (main, spring):
    /// ...     fork = wr.Fork("230 mm", "26 deg", wr.ForkLeg(air_spring=air), wr.ForkLeg())
    /// ...     print(fork.at("0 mm").force.round(0))  # the negative chamber eases the start
    /// 636.0 newton
    /// 33.0 newton
    AirSpring(gas::AirSpring)
}

getters! {
    AirSpring {
        /// Polytropic exponents.
        exponents: Exponents = |spring| Exponents(spring.0.exponents());
    }
}

#[pymethods]
impl AirSpring {
    #[new]
    #[pyo3(signature = (piston_diameter, volume, pressure, *, exponent: "float | Exponents | None" = None, sealed=None, running=None))]
    fn new(
        py: Python<'_>,
        piston_diameter: Given<'_, Length>,
        volume: Given<'_, Volume>,
        pressure: Given<'_, GaugePressure>,
        exponent: Option<Bound<'_, PyAny>>,
        sealed: Option<Conditions>,
        running: Option<Conditions>,
    ) -> PyResult<Self> {
        let piston = piston_diameter.read("piston_diameter")?;
        let (volume, pressure) = (volume.read("volume")?, pressure.read("pressure")?);
        let exponents = exponents::read(exponent, gas::Exponents::PUMPED)?;
        run(py, || {
            let spring = gas::AirSpring::new(piston, volume, pressure)?.with_exponents(exponents);
            let spring = sealed.map_or(spring, |Conditions(sealed)| spring.sealed_in(sealed));
            Ok::<_, wheelrate::Error>(running.map_or(spring, |Conditions(running)| spring.running_in(running)))
        })
        .map(Self)
    }
    /// The same spring with a negative chamber, which the stroke expands.
    ///
    /// Parameters
    /// ----------
    /// rod_diameter : length
    ///     Of the rod that takes up part of the piston's area.
    /// volume : volume
    ///     At full extension.
    /// pressure : gauge pressure, optional
    ///     At full extension, for one with a valve of its own.
    /// port_at : length, optional
    ///     Stroke of the port through which the main chamber fills it. Give one of the two.
    #[pyo3(signature = (rod_diameter, volume, *, pressure=None, port_at=None))]
    fn with_negative(
        &self,
        py: Python<'_>,
        rod_diameter: Given<'_, Length>,
        volume: Given<'_, Volume>,
        pressure: Option<Given<'_, GaugePressure>>,
        port_at: Option<Given<'_, Length>>,
    ) -> PyResult<Self> {
        let (rod_diameter, volume) = (rod_diameter.read("rod_diameter")?, volume.read("volume")?);
        let filling = match (read_optional(pressure, "pressure")?, read_optional(port_at, "port_at")?) {
            (Some(pressure), None) => Filling::Pressure(pressure),
            (None, Some(stroke)) => Filling::PortAt(stroke),
            _ => return Err(raise(py, "GasError", ("pressure and port_at: give one of the two",))),
        };
        run(py, || self.0.with_negative(gas::NegativeChamber { rod_diameter, volume, filling })).map(Self)
    }
    /// The same spring with a second positive chamber behind a floating piston, which lifts once the main one is at its pressure.
    ///
    /// Parameters
    /// ----------
    /// volume : volume
    ///     While the piston is seated.
    /// pressure : gauge pressure
    ///     What it is pumped to; more than the main chamber.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> main = wr.AirSpring("36 mm", "390 cm3", "6 bar")
    /// >>> ramp = main.with_second("80 cm3", "10 bar")
    /// >>> print(ramp.lifts_at("200 mm").round(1))
    /// 139.2 millimeter
    fn with_second(
        &self,
        py: Python<'_>,
        volume: Given<'_, Volume>,
        pressure: Given<'_, GaugePressure>,
    ) -> PyResult<Self> {
        let (volume, pressure) = (volume.read("volume")?, pressure.read("pressure")?);
        run(py, || self.0.with_second(SecondChamber { volume, pressure })).map(Self)
    }
    /// The same spring with spacers that take up volume of its main chamber.
    ///
    /// Parameters
    /// ----------
    /// count : int
    ///     How many are in.
    /// volume : volume
    ///     Of each.
    /// most : int, optional
    ///     How many go in at most.
    #[pyo3(signature = (count: "int", volume, *, most: "int | None" = None))]
    fn with_spacers(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = integer)] count: i128,
        volume: Given<'_, Volume>,
        #[pyo3(from_py_with = optional_integer)] most: Option<i128>,
    ) -> PyResult<Self> {
        let count = whole(py, "count", count)?;
        let most = most.map(|most| whole(py, "most", most)).transpose()?;
        let volume = volume.read("volume")?;
        run(py, || self.0.with_spacers(Spacers { count, volume, most })).map(Self)
    }
    /// Stroke at which the piston of the second chamber lifts while the end settles; None without one, or where it stays seated.
    ///
    /// Parameters
    /// ----------
    /// stroke : length
    ///     The full stroke.
    fn lifts_at(&self, py: Python<'_>, stroke: Given<'_, Length>) -> PyResult<Option<Out<Length>>> {
        let stroke = stroke.read("stroke")?;
        Ok(run(py, || self.0.lifts_at(stroke))?.map(Out))
    }
    /// The sealed chambers over a stroke: the main one, and the negative one where there is one.
    fn chambers(&self, py: Python<'_>, stroke: Given<'_, Length>) -> PyResult<Vec<Chamber>> {
        let stroke = stroke.read("stroke")?;
        Ok(run(py, || self.0.chambers(stroke))?.into_iter().map(Chamber).collect())
    }
    /// The same spring with these exponents.
    fn with_exponents(&self, exponents: Exponents) -> Self {
        Self(self.0.with_exponents(exponents.0))
    }
    /// The same spring with its gas running in these conditions.
    fn running_in(&self, conditions: Conditions) -> Self {
        Self(self.0.running_in(conditions.0))
    }
}
