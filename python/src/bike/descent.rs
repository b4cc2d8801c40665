//! Warm gas over a descent.

use pyo3::prelude::*;
use wheelrate::bike;
use wheelrate::gas::Warming;
use wheelrate::units::{Energy, Force, Length, Share, Temperature, Time};

use super::whole::WholeBike;
use crate::errors::run;
use crate::plain::Text;
use crate::record::End;
use crate::units::{Given, GivenArray, OutArray, read_optional};
use crate::value::{result_class, rows};

result_class! {
    /// An end over a descent, as arrays of one length.
    DescentState(Vec<bike::DescentState>) {
        /// Since the start.
        time: OutArray<Time> = |found| OutArray(found.iter().map(|at| at.time).collect());
        /// Of the gas.
        temperature: OutArray<Temperature> = |found| OutArray(found.iter().map(|at| at.temperature).collect());
        /// Pressure over that at the start, at one stroke, above vacuum.
        pressure: OutArray<Share> = |found| OutArray(found.iter().map(|at| at.pressure).collect());
        /// Force at the wheel where the end rested at the start.
        force: OutArray<Force> = |found| OutArray(found.iter().map(|at| at.force.value).collect());
        /// Its standard uncertainty.
        force_uncertainty: OutArray<Force> = |found| {
            OutArray(found.iter().map(|at| at.force.standard_uncertainty).collect())
        };
        /// Vertical travel at rest under the load.
        travel: OutArray<Length> = |found| OutArray(found.iter().map(|at| at.travel.value).collect());
        /// Its standard uncertainty.
        travel_uncertainty: OutArray<Length> = |found| {
            OutArray(found.iter().map(|at| at.travel.standard_uncertainty).collect())
        };
        /// Energy from there to full travel, reached fast, less what the load does on the way.
        reserve: OutArray<Energy> = |found| OutArray(found.iter().map(|at| at.reserve.value).collect());
        /// Its standard uncertainty.
        reserve_uncertainty: OutArray<Energy> = |found| {
            OutArray(found.iter().map(|at| at.reserve.standard_uncertainty).collect())
        };
    }
}

rows! {
    DescentState: time, temperature, pressure, force, force_uncertainty, travel, travel_uncertainty, reserve,
    reserve_uncertainty
}

#[pymethods]
impl WholeBike {
    /// An end under a load as its gas warms, or cools: ``T = T_e + (T_0 - T_e)*exp(-t/tau)``.
    ///
    /// Parameters
    /// ----------
    /// end : {"front", "rear"}
    ///     Which end.
    /// start, towards : temperature
    ///     Of the gas at the start, and where it would end.
    /// time_constant : time
    ///     In which 63 % of the way is done; yours to state.
    /// times : array of time
    ///     From the start.
    /// time_constant_uncertainty : time, optional
    ///     Its standard uncertainty; exact unless given.
    /// load : str, optional
    ///     Names of masses; what rider sag is meant under unless given.
    ///
    /// Returns
    /// -------
    /// DescentState
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> warm = wr.demo().whole.descent("rear", "15 degC", "60 degC", "600 s", ["0 s", "600 s", "1800 s"])
    /// >>> print(warm.pressure.round(1))
    /// [100.0 109.9 114.8] percent
    #[pyo3(signature = (end, start, towards, time_constant, times, *, time_constant_uncertainty=None, load=None))]
    #[allow(clippy::too_many_arguments, reason = "keyword arguments on the Python side")]
    fn descent(
        &self,
        py: Python<'_>,
        end: End,
        start: Given<'_, Temperature>,
        towards: Given<'_, Temperature>,
        time_constant: Given<'_, Time>,
        times: GivenArray<'_, Time>,
        time_constant_uncertainty: Option<Given<'_, Time>>,
        load: Option<Text>,
    ) -> PyResult<DescentState> {
        let load = self.load_or_rider(py, load.as_deref())?;
        let (start, towards) = (start.read("start")?, towards.read("towards")?);
        let (constant, times) = (time_constant.read("time_constant")?, times.read("times")?);
        let uncertainty = read_optional(time_constant_uncertainty, "time_constant_uncertainty")?;
        run(py, || {
            let mut warming = Warming::new(start, towards, constant)?;
            if let Some(uncertainty) = uncertainty {
                warming = warming.with_time_constant_uncertainty(uncertainty)?;
            }
            self.0.whole().descent(end.0, &load, &warming, &times)
        })
        .map(DescentState)
    }
}
