//! Wheel force and wheel rate with the uncertainty of measured pivots.

use pyo3::prelude::*;
use wheelrate::units::{Force, Length, WheelRate};
use wheelrate::wheel::{UncertainWheel, Wheel};

use super::RearEnd;
use crate::errors::run;
use crate::linkage::{EVEN_TRAVELS, Survey};
use crate::units::{Given, GivenArray, OutArray, read_optional};
use crate::value::{result_class, rows};

result_class! {
    /// Wheel force and wheel rate over travel, with their standard uncertainties.
    UncertainWheelCurve(Vec<UncertainWheel>) {
        /// Wheel travel from full extension, vertical.
        travel: OutArray<Length> = |points| OutArray(points.iter().map(|point| point.travel).collect());
        /// Force at the wheel.
        wheel_force: OutArray<Force> = |points| OutArray(points.iter().map(|point| point.wheel_force.value).collect());
        /// Standard uncertainty of it.
        wheel_force_uncertainty: OutArray<Force> = |points| {
            OutArray(points.iter().map(|point| point.wheel_force.standard_uncertainty).collect())
        };
        /// Rate at the wheel, the geometric term included.
        wheel_rate: OutArray<WheelRate> = |points| OutArray(points.iter().map(|point| point.wheel_rate.value).collect());
        /// Standard uncertainty of it.
        wheel_rate_uncertainty: OutArray<WheelRate> = |points| {
            OutArray(points.iter().map(|point| point.wheel_rate.standard_uncertainty).collect())
        };
    }
}

rows! { UncertainWheelCurve: travel, wheel_force, wheel_force_uncertainty, wheel_rate, wheel_rate_uncertainty }

#[pymethods]
impl RearEnd {
    /// Wheel force and wheel rate with the uncertainty that measured pivots give them, to first order (JCGM 100:2008).
    ///
    /// Springs and gas are taken as known.
    ///
    /// Parameters
    /// ----------
    /// coordinate : length
    ///     Standard uncertainty of every coordinate.
    /// shock_length : length, optional
    ///     Standard uncertainty of the shock's length; known exactly unless given.
    /// travels : array of length, optional
    ///     From full extension; evenly over the whole range unless given.
    ///
    /// Returns
    /// -------
    /// UncertainWheelCurve
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> band = wr.demo().rear.with_pivot_uncertainty("0.5 mm", travels=["102 mm"])
    /// >>> print(band.wheel_rate.round(2), band.wheel_rate_uncertainty.round(2))
    /// [8.37] newton / millimeter [0.06] newton / millimeter
    #[pyo3(signature = (coordinate, shock_length=None, travels=None))]
    fn with_pivot_uncertainty(
        &self,
        py: Python<'_>,
        coordinate: Given<'_, Length>,
        shock_length: Option<Given<'_, Length>>,
        travels: Option<GivenArray<'_, Length>>,
    ) -> PyResult<UncertainWheelCurve> {
        let coordinate = coordinate.read("coordinate")?;
        let shock_length = read_optional(shock_length, "shock_length")?.unwrap_or_default();
        let travels = match travels {
            Some(travels) => travels.read("travels")?,
            None => self.0.travels(EVEN_TRAVELS),
        };
        run(py, || self.0.with_pivot_uncertainty(&travels, coordinate, shock_length)).map(UncertainWheelCurve)
    }
    /// Wheel force and wheel rate with the uncertainty that surveyed pivots give them, all their correlations in it.
    ///
    /// Parameters
    /// ----------
    /// survey : Survey
    ///     Its points by the names of the linkage's; points that are not in it are exact.
    /// shock_length : length, optional
    ///     Standard uncertainty of the shock's length; known exactly unless given.
    /// travels : array of length, optional
    ///     From full extension; evenly over the whole range unless given.
    ///
    /// Returns
    /// -------
    /// UncertainWheelCurve
    #[pyo3(signature = (survey, shock_length=None, travels=None))]
    fn with_surveyed_pivots(
        &self,
        py: Python<'_>,
        survey: Survey,
        shock_length: Option<Given<'_, Length>>,
        travels: Option<GivenArray<'_, Length>>,
    ) -> PyResult<UncertainWheelCurve> {
        let shock_length = read_optional(shock_length, "shock_length")?.unwrap_or_default();
        let travels = match travels {
            Some(travels) => travels.read("travels")?,
            None => self.0.travels(EVEN_TRAVELS),
        };
        run(py, || self.0.with_surveyed_pivots(&travels, &survey.core, shock_length)).map(UncertainWheelCurve)
    }
}
