//! The rate of a tyre, from what was read.

use pyo3::prelude::*;
use wheelrate::units::{self, Force, Length, Quantity};
use wheelrate::wheel;

use crate::errors::{raise, run};
use crate::uncertain::Uncertain;
use crate::units::{Given, GivenArray, read_optional};
use crate::value::result_class;

result_class! {
    /// The vertical rate of a tyre, as it was found.
    TyreRate(wheel::TyreRate) {
        /// Vertical rate.
        rate: Uncertain = |tyre| tyre.rate.into();
        /// Height of the axle with no load on the tyre: the radius that a bike file asks for.
        radius: Uncertain = |tyre| tyre.radius.into();
        /// How far off the readings are over what was said of them; None where none is left over.
        misfit: Option<f64> = |tyre| tyre.misfit;
    }
}

/// The rate of a tyre from loads on the ground and heights of the axle: a straight line with errors in both.
///
/// Parameters
/// ----------
/// loads : array of force
///     Two or more, about those of the ride.
/// heights : array of length
///     Of the axle above the ground, at each.
/// load_uncertainty, height_uncertainty : force, length, optional
///     Standard uncertainty of one load (10 N unless given) and of one height (0.5 mm).
///
/// Returns
/// -------
/// TyreRate
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> tyre = wr.tyre_rate(([400, 900, 1400], "N"), ([341.2, 337.3, 332.8], "mm"))
/// >>> print(tyre.rate, "on", tyre.radius)
/// 119 ± 10 N/mm on 344.7 ± 0.7 mm
#[pyfunction]
#[pyo3(signature = (loads, heights, *, load_uncertainty=None, height_uncertainty=None))]
pub(crate) fn tyre_rate(
    py: Python<'_>,
    loads: GivenArray<'_, Force>,
    heights: GivenArray<'_, Length>,
    load_uncertainty: Option<Given<'_, Force>>,
    height_uncertainty: Option<Given<'_, Length>>,
) -> PyResult<TyreRate> {
    let (loads, heights) = (loads.read("loads")?, heights.read("heights")?);
    if loads.len() != heights.len() {
        let message = format!("heights: found {}, wanted {}, one for each load", heights.len(), loads.len());
        return Err(raise(py, "WheelError", (message,)));
    }
    let load = read_optional(load_uncertainty, "load_uncertainty")?.unwrap_or_else(|| Force::from_si(10.0));
    let height = read_optional(height_uncertainty, "height_uncertainty")?.unwrap_or_else(|| Length::from_si(0.5e-3));
    let readings: Vec<(Force, Length)> = loads.into_iter().zip(heights).collect();
    run(py, || wheel::TyreRate::from_heights(&readings, load, height)).map(TyreRate)
}

/// A rough rate of a tyre from the length of its footprint, uncertain by a fifth: the chord that a rigid ring would sink by.
///
/// Parameters
/// ----------
/// load : force
///     On the ground.
/// length : length
///     Of the footprint, along the wheel.
/// radius : length
///     Of the unloaded tyre.
/// length_uncertainty : length, optional
///     Standard uncertainty of the footprint's length; 5 mm unless given.
///
/// Returns
/// -------
/// TyreRate
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> print(wr.tyre_rate_of_footprint("900 N", "120 mm", "300 mm").rate)
/// 148 ± 32 N/mm
#[pyfunction]
#[pyo3(signature = (load, length, radius, *, length_uncertainty=None))]
pub(crate) fn tyre_rate_of_footprint(
    py: Python<'_>,
    load: Given<'_, Force>,
    length: Given<'_, Length>,
    radius: Given<'_, Length>,
    length_uncertainty: Option<Given<'_, Length>>,
) -> PyResult<TyreRate> {
    let (load, value, radius) = (load.read("load")?, length.read("length")?, radius.read("radius")?);
    let usual = || Length::from_si(5e-3);
    let standard_uncertainty = read_optional(length_uncertainty, "length_uncertainty")?.unwrap_or_else(usual);
    let length = units::Uncertain { value, standard_uncertainty };
    run(py, || wheel::TyreRate::from_footprint(load, length, radius)).map(TyreRate)
}
