//! What a changed dimension does: exact derivatives, ranking, and what uncertain pivots leave of a curve.

use pyo3::prelude::*;
use wheelrate::linkage::{self, Dimension, UncertainPoint as Point};
use wheelrate::units::{Length, MotionRatio, MotionRatioSlope, Share};

use super::{EVEN_TRAVELS, Linkage, MeasuredLinkage};
use crate::errors::{raise, run};
use crate::plain::Text;
use crate::units::{Given, GivenArray, Out, OutArray};
use crate::value::{Named, getters, result_class, rows};

result_class! {
    /// What a small change of every dimension does at one travel, to first order: one entry per dimension.
    LinkageEffects(Vec<linkage::LinkageEffect>) {
        /// The dimensions: ``x of eye``, ``length of link``, ``shock length``.
        dimensions: Vec<String> = |effects| effects.iter().map(|effect| effect.dimension.to_string()).collect();
        /// The change of each.
        step: OutArray<Length> = |effects| OutArray(effects.iter().map(|effect| effect.step).collect());
        /// Change of the shock stroke.
        stroke: OutArray<Length> = |effects| OutArray(effects.iter().map(|effect| effect.stroke).collect());
        /// Change of the motion ratio.
        motion_ratio: OutArray<MotionRatio> = |effects| OutArray(effects.iter().map(|effect| effect.motion_ratio).collect());
        /// Change of the motion ratio's slope.
        motion_ratio_slope: OutArray<MotionRatioSlope> = |effects| {
            OutArray(effects.iter().map(|effect| effect.motion_ratio_slope).collect())
        };
        /// Change of the axle's position forward, in the axes of the frame.
        axle_x: OutArray<Length> = |effects| OutArray(effects.iter().map(|effect| effect.axle[0]).collect());
        /// Change of the axle's height, in the axes of the frame.
        axle_z: OutArray<Length> = |effects| OutArray(effects.iter().map(|effect| effect.axle[1]).collect());
        /// Change of the full travel.
        full_travel: OutArray<Length> = |effects| OutArray(effects.iter().map(|effect| effect.full_travel).collect());
    }
}

rows! { LinkageEffects: dimensions, step, stroke, motion_ratio, motion_ratio_slope, axle_x, axle_z, full_travel }

result_class! {
    /// A linkage over many travels with standard uncertainties, as arrays of one length.
    UncertainCurve(Vec<Point>) {
        /// Wheel travel from full extension, vertical.
        travel: OutArray<Length> = |points| OutArray(points.iter().map(|point| point.travel).collect());
        /// Shock stroke from full extension.
        stroke: OutArray<Length> = |points| OutArray(points.iter().map(|point| point.stroke.value).collect());
        /// Standard uncertainty of it.
        stroke_uncertainty: OutArray<Length> = |points| {
            OutArray(points.iter().map(|point| point.stroke.standard_uncertainty).collect())
        };
        /// Motion ratio ``ds/dz``, shock per wheel.
        motion_ratio: OutArray<MotionRatio> = |points| OutArray(points.iter().map(|point| point.motion_ratio.value).collect());
        /// Standard uncertainty of it.
        motion_ratio_uncertainty: OutArray<MotionRatio> = |points| {
            OutArray(points.iter().map(|point| point.motion_ratio.standard_uncertainty).collect())
        };
        /// Slope of the motion ratio over travel.
        motion_ratio_slope: OutArray<MotionRatioSlope> = |points| {
            OutArray(points.iter().map(|point| point.motion_ratio_slope.value).collect())
        };
        /// Standard uncertainty of it.
        motion_ratio_slope_uncertainty: OutArray<MotionRatioSlope> = |points| {
            OutArray(points.iter().map(|point| point.motion_ratio_slope.standard_uncertainty).collect())
        };
    }
}

rows! {
    UncertainCurve: travel, stroke, stroke_uncertainty, motion_ratio, motion_ratio_uncertainty, motion_ratio_slope, motion_ratio_slope_uncertainty
}

/// The dimension of this name.
pub(super) fn dimension(py: Python<'_>, linkage: &linkage::Linkage, name: &str) -> PyResult<Dimension> {
    let known = linkage.dimensions();
    known.iter().find(|dimension| dimension.to_string() == name).cloned().ok_or_else(|| {
        let names: Vec<String> = known.iter().map(ToString::to_string).collect();
        raise(py, "LinkageError", (format!("no dimension `{name}`; there are: {}", names.join(", ")),))
    })
}

getters! {
    Linkage {
        /// All dimensions: coordinates of points, lengths of links, length of the shock.
        dimensions: Vec<String> = |linkage| linkage.0.dimensions().iter().map(ToString::to_string).collect();
    }
}

#[pymethods]
impl Linkage {
    /// What a small change of every dimension does at one travel, to first order, by exact derivatives.
    ///
    /// A link longer by the step is taken with everything else as it is; a moved point changes all lengths that end in it.
    ///
    /// Parameters
    /// ----------
    /// travel : length
    ///     From full extension, which moves with the dimension.
    /// step : length, optional
    ///     How much each dimension changes.
    ///
    /// Returns
    /// -------
    /// LinkageEffects
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> effects = wr.demo().rear.linkage.effects("100 mm")
    /// >>> longer = effects.dimensions.index("length of link")
    /// >>> print(f"{effects.motion_ratio[longer]:.4f~}")
    /// 0.0006
    #[pyo3(signature = (travel, step=None))]
    fn effects(
        &self,
        py: Python<'_>,
        travel: Given<'_, Length>,
        step: Option<Given<'_, Length>>,
    ) -> PyResult<LinkageEffects> {
        let (travel, step) = (travel.read("travel")?, read_step(step)?);
        run(py, || self.0.effects(travel, step)).map(LinkageEffects)
    }
    /// Dimensions by what they do to the motion ratio, the greatest first.
    ///
    /// Parameters
    /// ----------
    /// step : length, optional
    ///     How much each dimension changes.
    ///
    /// Returns
    /// -------
    /// dict of str to quantity
    ///     Relative change of the motion ratio for that step, root mean square over the travel.
    #[pyo3(signature = (step=None))]
    fn ranking(&self, py: Python<'_>, step: Option<Given<'_, Length>>) -> PyResult<Named<Out<Share>>> {
        let step = read_step(step)?;
        let ranked = run(py, || self.0.ranking(step))?;
        Ok(Named(ranked.into_iter().map(|(dimension, share)| (dimension.to_string(), Out(share))).collect()))
    }
    /// The curve with the uncertainty that measured pivots give it, to first order (JCGM 100:2008).
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
    /// UncertainCurve
    #[pyo3(signature = (coordinate, shock_length=None, travels=None))]
    fn with_pivot_uncertainty(
        &self,
        py: Python<'_>,
        coordinate: Given<'_, Length>,
        shock_length: Option<Given<'_, Length>>,
        travels: Option<GivenArray<'_, Length>>,
    ) -> PyResult<UncertainCurve> {
        let coordinate = coordinate.read("coordinate")?;
        let shock_length = crate::units::read_optional(shock_length, "shock_length")?.unwrap_or_default();
        let travels = self.travels(travels)?;
        run(py, || self.0.with_pivot_uncertainty(&travels, coordinate, shock_length)).map(UncertainCurve)
    }
    /// The same linkage with one link of another length, its wheel drawn at the same height.
    ///
    /// Parameters
    /// ----------
    /// body : str
    ///     A body with two points.
    /// length : length
    ///     Between them.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> linkage = wr.demo().rear.linkage
    /// >>> print(linkage.with_link_length("link", "176 mm").full_travel.round(1))
    /// 297.9 millimeter
    fn with_link_length(&self, py: Python<'_>, body: Text, length: Given<'_, Length>) -> PyResult<Self> {
        let length = length.read("length")?;
        run(py, || self.0.with_link_length(&body, length)).map(Self)
    }
}

#[pymethods]
impl MeasuredLinkage {
    /// Stroke, motion ratio and its slope over travel, with their uncertainties, as arrays.
    ///
    /// Parameters
    /// ----------
    /// travels : array of length, optional
    ///     From full extension; evenly over the whole range unless given.
    ///
    /// Returns
    /// -------
    /// UncertainCurve
    #[pyo3(signature = (travels=None))]
    fn curve(&self, py: Python<'_>, travels: Option<GivenArray<'_, Length>>) -> PyResult<UncertainCurve> {
        let travels = match travels {
            Some(travels) => travels.read("travels")?,
            None => {
                let last = (EVEN_TRAVELS - 1) as f64;
                (0..EVEN_TRAVELS).map(|at| self.0.full_travel() * (at as f64 / last)).collect()
            }
        };
        run(py, || self.0.curve(&travels)).map(UncertainCurve)
    }
}

/// 1 mm unless given.
pub(crate) fn read_step(step: Option<Given<'_, Length>>) -> PyResult<Length> {
    const STEP: f64 = 1e-3;
    Ok(crate::units::read_optional(step, "step")?.unwrap_or(wheelrate::units::Quantity::from_si(STEP)))
}
