//! A linkage known from a measured table.

use pyo3::prelude::*;
use wheelrate::linkage;
use wheelrate::units::Length;

use crate::errors::{raise, run};
use crate::uncertain::Uncertain;
use crate::units::{Given, GivenArray, Out};
use crate::value::{getters, result_class, value_class};

value_class! {
    /// A measured table of wheel travel against shock length, made smooth, with the uncertainty of what follows.
    ///
    /// Parameters
    /// ----------
    /// travels : array of length
    ///     Wheel travels, counted from anywhere, in any order.
    /// lengths : array of length
    ///     Shock length at each, eye to eye.
    /// shock_length, stroke : length
    ///     Of the shock that goes in: full extension is where the length is the shock's.
    /// travel_uncertainty, length_uncertainty : length
    ///     Standard uncertainty of one travel and of one length.
    ///
    /// Examples
    /// --------
    /// >>> import numpy as np
    /// >>> import wheelrate as wr
    /// >>> travel = np.linspace(0, 300, 31)
    /// >>> table = wr.MeasuredLinkage(
    /// ...     (travel, "mm"), (468 - 0.35 * travel - 1.5e-4 * travel**2, "mm"), shock_length="468 mm", stroke="110 mm",
    /// ...     travel_uncertainty="0.5 mm", length_uncertainty="0.5 mm",
    /// ... )
    /// >>> print(table.at("100 mm").motion_ratio)
    /// 0.3800 ± 0.0024 shock/wheel
    MeasuredLinkage(linkage::MeasuredLinkage)
}

getters! {
    MeasuredLinkage {
        /// Wheel travel from full extension to the end of the shock's stroke.
        full_travel: Out<Length> = |linkage| Out(linkage.0.full_travel());
        /// Where full extension lies in the travel of the table.
        full_extension: Uncertain = |linkage| linkage.0.full_extension().into();
        /// Readings far off what the others say: place in the table from 0, and by how much.
        suspect_readings: Vec<(usize, Out<Length>)> = |linkage| {
            linkage.0.suspect_readings().into_iter().map(|reading| (reading.index, Out(reading.off()))).collect()
        };
    }
}

#[pymethods]
impl MeasuredLinkage {
    #[new]
    #[pyo3(signature = (travels, lengths, *, shock_length, stroke, travel_uncertainty, length_uncertainty))]
    fn new(
        py: Python<'_>,
        travels: GivenArray<'_, Length>,
        lengths: GivenArray<'_, Length>,
        shock_length: Given<'_, Length>,
        stroke: Given<'_, Length>,
        travel_uncertainty: Given<'_, Length>,
        length_uncertainty: Given<'_, Length>,
    ) -> PyResult<Self> {
        let (travels, lengths) = (travels.read("travels")?, lengths.read("lengths")?);
        if travels.len() != lengths.len() {
            let message = format!("lengths: found {}, wanted {}, one for each travel", lengths.len(), travels.len());
            return Err(raise(py, "LinkageError", (message,)));
        }
        let readings: Vec<(Length, Length)> = travels.into_iter().zip(lengths).collect();
        let parts = linkage::MeasuredParts {
            travel_uncertainty: travel_uncertainty.read("travel_uncertainty")?,
            length_uncertainty: length_uncertainty.read("length_uncertainty")?,
            shock_length: shock_length.read("shock_length")?,
            stroke: stroke.read("stroke")?,
        };
        run(py, || linkage::MeasuredLinkage::new(&readings, parts)).map(Self)
    }
    /// Stroke, motion ratio and its slope at one travel, with their uncertainties.
    fn at(&self, py: Python<'_>, travel: Given<'_, Length>) -> PyResult<UncertainPoint> {
        let travel = travel.read("travel")?;
        run(py, || self.0.at(travel)).map(UncertainPoint)
    }
}

result_class! {
    /// A measured linkage at one travel.
    UncertainPoint(linkage::UncertainPoint) {
        /// Wheel travel from full extension, vertical.
        travel: Out<Length> = |point| Out(point.travel);
        /// Shock stroke from full extension.
        stroke: Uncertain = |point| point.stroke.into();
        /// Motion ratio ``ds/dz``, shock per wheel.
        motion_ratio: Uncertain = |point| point.motion_ratio.into();
        /// Slope of the motion ratio over travel.
        motion_ratio_slope: Uncertain = |point| point.motion_ratio_slope.into();
    }
}
