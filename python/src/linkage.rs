//! Mechanisms, and the motion of a wheel and a shock in one.

mod arrangement;
mod chain_path;
mod columns;
mod design;
mod family;
mod instant_centre;
mod measured;
mod photograph;
mod sensitivity;
mod shares;
mod squat;
mod survey;

use numpy::PyArray1;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple};
use wheelrate::linkage;
use wheelrate::units::{Length, LeverageRatio, MotionRatio, MotionRatioSlope, Quantity, Share};

use crate::errors::{raise, run};
use crate::plain::Text;
use crate::units::{Given, GivenArray, Numbers, Out, OutArray, column, si_column};
use crate::value::{Named, getters, result_class, value_class};

pub(crate) use arrangement::arrangements;
pub(crate) use chain_path::Idler;
pub(crate) use design::Design;
pub(crate) use family::LinkageFamily;
pub(crate) use instant_centre::AntiRise;
pub(crate) use measured::{MeasuredLinkage, UncertainPoint};
pub(crate) use photograph::Photograph;
pub(crate) use sensitivity::{LinkageEffects, UncertainCurve, read_step};
pub(crate) use shares::MassShares;
pub(crate) use squat::{ChainDrive, Squat, pitch_radius};
pub(crate) use survey::Survey;

value_class! {
    /// Points, and the bodies that carry them, with exactly one degree of freedom.
    ///
    /// A point on two bodies is a pivot. One body is the ``frame``, which stands still. A body with two points is a link.
    ///
    /// Parameters
    /// ----------
    /// points : dict of str to pair of lengths
    ///     Name and position, x forward and z up, any origin on the frame: ``{"axle": ["-575 mm", "-165 mm"]}``; or all of
    ///     them as numbers with one unit, ``({"axle": (-575, -165)}, "mm")``.
    /// bodies : dict of str to list of str
    ///     Name of each body, and the names of the points on it.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> mechanism = wr.Mechanism(
    /// ...     ({"pivot": (0, 0), "axle": (-575, -165), "top": (-100, 329), "eye": (-250, -40)}, "mm"),
    /// ...     {"frame": ["pivot", "top"], "swingarm": ["pivot", "axle", "eye"]},
    /// ... )
    /// >>> mechanism.degrees_of_freedom
    /// 1
    Mechanism(linkage::Mechanism)
}

getters! {
    Mechanism {
        /// Degrees of freedom by Grübler and Kutzbach; 1 for every mechanism that exists.
        degrees_of_freedom: i64 = |mechanism| mechanism.0.degrees_of_freedom();
        /// Names and drawn positions of the points, x forward and z up.
        points: Named<OutArray<Length>> = |mechanism| positions(mechanism.0.points());
        /// Names of the bodies, and of the points on them.
        bodies: Named<Vec<String>> = |mechanism| {
            let owned = |on: Vec<&str>| on.into_iter().map(str::to_owned).collect();
            Named(mechanism.0.bodies().map(|(name, on)| (name.to_owned(), owned(on))).collect())
        };
    }
}

#[pymethods]
impl Mechanism {
    #[new]
    #[pyo3(signature = (points: "dict[str, wheelrate.typing.ArrayLike] | tuple[dict[str, tuple[float, float]], str]", bodies: "dict[str, list[str]]"))]
    fn new(py: Python<'_>, points: &Bound<'_, PyAny>, bodies: Bound<'_, PyDict>) -> PyResult<Self> {
        let points = read_points(points)?;
        let bodies: Vec<(String, Vec<String>)> =
            bodies.iter().map(|(name, on)| Ok((name.extract::<Text>()?.0, on.extract()?))).collect::<PyResult<_>>()?;
        run(py, || linkage::Mechanism::new(points, bodies)).map(Self)
    }
    /// The same mechanism with one point moved.
    ///
    /// Parameters
    /// ----------
    /// name : str
    ///     The point.
    /// position : pair of lengths
    ///     Its new position, x forward and z up.
    fn with_point(&self, py: Python<'_>, name: Text, position: GivenArray<'_, Length>) -> PyResult<Self> {
        let at = pair(py, position.read("position")?, "position")?;
        run(py, || self.0.with_point(&name, at)).map(Self)
    }
}

/// `{name: position}`, or `({name: numbers}, unit)`.
fn read_points(points: &Bound<'_, PyAny>) -> PyResult<Vec<(String, [Length; 2])>> {
    let py = points.py();
    let (named, unit): (Bound<'_, PyDict>, Option<String>) = match points.extract::<(Bound<'_, PyDict>, String)>() {
        Ok((named, unit)) => (named, Some(unit)),
        Err(_) => (points.extract()?, None),
    };
    let read = |(name, at): (Bound<'_, PyAny>, Bound<'_, PyAny>)| {
        let Text(name) = name.extract()?;
        let argument = format!("points[{name:?}]");
        let at = match &unit {
            Some(unit) => PyTuple::new(py, [at, unit.into_pyobject(py)?.into_any()])?.into_any(),
            None => at,
        };
        let at = pair(py, at.extract::<GivenArray<'_, Length>>()?.read(&argument)?, &argument)?;
        Ok((name, at))
    };
    named.iter().map(read).collect()
}

/// Exactly two lengths.
pub(crate) fn pair(py: Python<'_>, at: Vec<Length>, argument: &str) -> PyResult<[Length; 2]> {
    at.try_into().map_err(|at: Vec<Length>| {
        raise(py, "UnitError", (format!("{argument}: found {} lengths, wanted two: x forward, z up", at.len()),))
    })
}

fn positions<'a>(points: impl IntoIterator<Item = (&'a str, [Length; 2])>) -> Named<OutArray<Length>> {
    Named(points.into_iter().map(|(name, at)| (name.to_owned(), OutArray(at.to_vec()))).collect())
}

value_class! {
    /// A mechanism with its wheel and its shock: motion as a function of wheel travel.
    ///
    /// Parameters
    /// ----------
    /// mechanism : Mechanism
    ///     Points and bodies.
    /// wheel : str
    ///     The point that is the axle.
    /// shock : pair of str
    ///     The two points that the shock joins.
    /// shock_length : length
    ///     Eye to eye, extended. With the stroke it sets both ends of travel.
    /// stroke : length
    ///     Of the shock.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> mechanism = wr.Mechanism(
    /// ...     ({"pivot": (0, 0), "axle": (-575, -165), "top": (-100, 329), "eye": (-250, -40)}, "mm"),
    /// ...     {"frame": ["pivot", "top"], "swingarm": ["pivot", "axle", "eye"]},
    /// ... )
    /// >>> linkage = wr.Linkage(mechanism, "axle", ("top", "eye"), shock_length="398 mm", stroke="90 mm")
    /// >>> print(linkage.full_travel.round(1))
    /// 230.1 millimeter
    Linkage(linkage::Linkage)
}

getters! {
    Linkage {
        /// Wheel travel from full extension to the end of the shock's stroke.
        full_travel: Out<Length> = |linkage| Out(linkage.0.full_travel());
        /// Stroke of the shock.
        full_stroke: Out<Length> = |linkage| Out(linkage.0.full_stroke());
        /// Length of the extended shock, eye to eye.
        shock_length: Out<Length> = |linkage| Out(linkage.0.shock_length());
        /// The mechanism as drawn.
        mechanism: Mechanism = |linkage| Mechanism(linkage.0.mechanism().clone());
        /// The point that is the axle.
        wheel: &str = |linkage| linkage.0.wheel();
        /// The two points that the shock joins.
        shock: (&str, &str) = |linkage| linkage.0.shock();
        /// The travel that the drawn coordinates describe; it may lie outside the working range.
        drawn_travel: Out<Length> = |linkage| Out(linkage.0.drawn_travel());
        /// Progression of the motion ratio over the whole travel, ``MR_end/MR_start − 1``.
        progression: Out<Share> = |linkage| Out(linkage.0.progression());
        /// What a tuner should know about the motion ratio: falling parts and turning points, in words.
        notes: Vec<String> = |linkage| linkage.0.notes().iter().map(ToString::to_string).collect();
    }
}

#[pymethods]
impl Linkage {
    #[new]
    #[pyo3(signature = (mechanism, wheel, shock, *, shock_length, stroke))]
    fn new(
        py: Python<'_>,
        mechanism: Mechanism,
        wheel: Text,
        shock: (String, String),
        shock_length: Given<'_, Length>,
        stroke: Given<'_, Length>,
    ) -> PyResult<Self> {
        let (length, stroke) = (shock_length.read("shock_length")?, stroke.read("stroke")?);
        run(py, || linkage::Linkage::new(mechanism.0, &wheel, (&shock.0, &shock.1), length, stroke)).map(Self)
    }
    /// Progression between two travels, ``MR(to)/MR(from) − 1``.
    #[pyo3(signature = (start, end))]
    fn progression_between(
        &self,
        py: Python<'_>,
        start: Given<'_, Length>,
        end: Given<'_, Length>,
    ) -> PyResult<Out<Share>> {
        let (from, to) = (start.read("start")?, end.read("end")?);
        run(py, || self.0.progression_between(from, to)).map(Out)
    }
    /// Stroke, motion ratio, its slope and the axle at one travel.
    fn at(&self, py: Python<'_>, travel: Given<'_, Length>) -> PyResult<LinkagePoint> {
        let travel = travel.read("travel")?;
        run(py, || self.0.at(travel)).map(LinkagePoint)
    }
    /// The same over many travels, as arrays; evenly over the whole range unless they are given.
    #[pyo3(signature = (travels=None))]
    fn curve(&self, py: Python<'_>, travels: Option<GivenArray<'_, Length>>) -> PyResult<LinkageCurve> {
        let travels = self.travels(travels)?;
        run(py, || self.0.curve(&travels)).map(LinkageCurve)
    }
    /// Positions of all points at one travel, by name.
    fn pose(&self, py: Python<'_>, travel: Given<'_, Length>) -> PyResult<Named<OutArray<Length>>> {
        let travel = travel.read("travel")?;
        run(py, || self.0.pose(travel)).map(positions)
    }
}

impl Linkage {
    /// The travels given, or evenly spaced ones.
    fn travels(&self, given: Option<GivenArray<'_, Length>>) -> PyResult<Vec<Length>> {
        given.map_or_else(|| Ok(self.0.travels(EVEN_TRAVELS)), |travels| travels.read("travels"))
    }
}

/// Travels of a curve when none are given: fine enough to draw.
pub(crate) const EVEN_TRAVELS: usize = 201;

result_class! {
    /// A linkage at one travel.
    LinkagePoint(linkage::LinkagePoint) {
        /// Wheel travel from full extension, vertical.
        travel: Out<Length> = |point| Out(point.travel);
        /// Shock stroke from full extension.
        stroke: Out<Length> = |point| Out(point.stroke);
        /// Motion ratio ``ds/dz``, shock per wheel.
        motion_ratio: Out<MotionRatio> = |point| Out(point.motion_ratio);
        /// Leverage ratio ``dz/ds``, wheel per shock.
        leverage_ratio: Out<LeverageRatio> = |point| Out(point.leverage_ratio());
        /// Slope of the motion ratio over travel, positive where the rate rises.
        motion_ratio_slope: Out<MotionRatioSlope> = |point| Out(point.motion_ratio_slope);
        /// The axle, x forward and z up, in the axes of the drawing.
        axle: OutArray<Length> = |point| OutArray(point.axle.to_vec());
        /// ``dx/dz`` of the axle: positive where it moves forward as it rises.
        axle_slope: f64 = |point| point.axle_slope;
    }
}

result_class! {
    /// A linkage over many travels, as arrays of one length.
    LinkageCurve(linkage::LinkageCurve) {
        /// Wheel travel from full extension, vertical.
        travel: OutArray<Length> = |curve| OutArray(curve.travel.clone());
        /// Shock stroke from full extension.
        stroke: OutArray<Length> = |curve| OutArray(curve.stroke.clone());
        /// Motion ratio ``ds/dz``, shock per wheel.
        motion_ratio: OutArray<MotionRatio> = |curve| OutArray(curve.motion_ratio.clone());
        /// Leverage ratio ``dz/ds``, wheel per shock.
        leverage_ratio: OutArray<LeverageRatio> = |curve| OutArray(curve.leverage_ratio());
        /// Slope of the motion ratio over travel, positive where the rate rises.
        motion_ratio_slope: OutArray<MotionRatioSlope> = |curve| OutArray(curve.motion_ratio_slope.clone());
        /// The axle's position forward.
        axle_x: OutArray<Length> = |curve| OutArray(curve.axle_x.clone());
        /// The axle's height.
        axle_z: OutArray<Length> = |curve| OutArray(curve.axle_z.clone());
        /// ``dx/dz`` of the axle: positive where it moves forward as it rises.
        axle_slope: Numbers = |curve| Numbers(curve.axle_slope.clone());
    }
}

#[pymethods]
impl LinkageCurve {
    /// As `rows!`, each column written once: a curve may be a million long.
    #[pyo3(signature = () -> "tuple[object, ...]")]
    fn _rows<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let curve = &self.0;
        let columns = [
            si_column(py, &curve.travel)?,
            si_column(py, &curve.stroke)?,
            si_column(py, &curve.motion_ratio)?,
            si_column(py, &curve.motion_ratio_slope)?,
            si_column(py, &curve.axle_x)?,
            si_column(py, &curve.axle_z)?,
            PyArray1::from_vec(py, curve.leverage_ratio().into_iter().map(LeverageRatio::si).collect()),
            column(py, curve.axle_slope.iter().copied())?,
        ];
        PyTuple::new(py, columns)
    }
}
