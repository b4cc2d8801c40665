//! Instant centres, and what the rear brake does.

use pyo3::prelude::*;
use wheelrate::linkage;
use wheelrate::units::{Angle, Length, Share};

use super::Linkage;
use crate::errors::run;
use crate::plain::Text;
use crate::units::{Given, GivenArray, OutArray};
use crate::value::{result_class, rows};

result_class! {
    /// What the rear brake does over travel, as arrays of one length.
    AntiRise(Vec<linkage::AntiRise>) {
        /// Wheel travel from full extension, vertical.
        travel: OutArray<Length> = |found| OutArray(found.iter().map(|at| at.travel).collect());
        /// Rise, forward, of the line from the contact to the instant centre of the caliper's body.
        brake_angle: OutArray<Angle> = |found| OutArray(found.iter().map(|at| at.brake_angle).collect());
        /// Share of the load that braking takes off the rear which the brake gives back: at 100 % the rear brake alone neither
        /// lifts the rear nor pulls it down; below, the rear rises.
        anti_rise: OutArray<Share> = |found| OutArray(found.iter().map(|at| at.anti_rise).collect());
    }
}

rows! { AntiRise: travel, anti_rise, brake_angle }

#[pymethods]
impl Linkage {
    /// The point that a body turns about at one travel, the frame held; None for a body that does not turn there.
    ///
    /// Parameters
    /// ----------
    /// body : str
    ///     A body of the mechanism.
    /// travel : length
    ///     From full extension.
    ///
    /// Returns
    /// -------
    /// array of length or None
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> linkage = wr.demo().rear.linkage
    /// >>> print(linkage.instant_centre("rocker", "100 mm").round(0))
    /// [498.0 53.0] millimeter
    fn instant_centre(
        &self,
        py: Python<'_>,
        body: Text,
        travel: Given<'_, Length>,
    ) -> PyResult<Option<OutArray<Length>>> {
        let travel = travel.read("travel")?;
        Ok(run(py, || self.0.instant_centre(&body, travel))?.map(|centre| OutArray(centre.to_vec())))
    }
    /// What the rear brake does over travel, from the geometry alone.
    ///
    /// Parameters
    /// ----------
    /// caliper : str
    ///     The body that carries the caliper: one with the axle on it, or ``frame`` where a rod parallel to the swingarm holds it.
    /// travels : array of length, optional
    ///     From full extension; evenly over the whole range unless given.
    /// wheel_radius : length
    ///     Of the rear wheel, axle to ground.
    /// cg_height : length
    ///     Height of the centre of gravity above ground.
    /// wheelbase : length
    ///     Contact to contact.
    ///
    /// Returns
    /// -------
    /// AntiRise
    #[pyo3(signature = (caliper, travels=None, *, wheel_radius, cg_height, wheelbase))]
    fn anti_rise(
        &self,
        py: Python<'_>,
        caliper: Text,
        travels: Option<GivenArray<'_, Length>>,
        wheel_radius: Given<'_, Length>,
        cg_height: Given<'_, Length>,
        wheelbase: Given<'_, Length>,
    ) -> PyResult<AntiRise> {
        let travels = self.travels(travels)?;
        let stance = linkage::BrakeStance {
            wheel_radius: wheel_radius.read("wheel_radius")?,
            cg_height: cg_height.read("cg_height")?,
            wheelbase: wheelbase.read("wheelbase")?,
        };
        run(py, || self.0.anti_rise(&caliper, &stance, &travels)).map(AntiRise)
    }
}
