//! The front end.

use pyo3::prelude::*;
use pyo3::types::PyTuple;
use wheelrate::bike::steering::Steering;
use wheelrate::units::{Angle, Force, Length, Quantity, SpringRate, WheelRate};
use wheelrate::wheel;

use super::{Settling, WheelCurve, WheelState, wheel_end};
use crate::bike::ride::Reserve;
use crate::errors::run;
use crate::fork::Fork;
use crate::linkage::{EVEN_TRAVELS, Linkage, pair};
use crate::plain::Text;
use crate::shock::Shock;
use crate::units::shaped::{GivenAny, Shaped};
use crate::units::{Given, GivenArray, Out, OutArray, read_optional};
use crate::value::{getters, result_class, rows};

/// The front end: a fork at its rake. One on links is made by `FrontEnd.linked`.
///
/// Parameters
/// ----------
/// fork : Fork
///     The fork.
/// axle : pair of lengths, optional
///     The axle at full extension in the frame axes, x forward and z up.
/// raised : length, optional
///     How far the tubes are raised in their clamps from where the axle was placed.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> leg = wr.ForkLeg(wr.Preloaded("4.8 N/mm", "6 mm"))
/// >>> end = wr.FrontEnd(wr.Fork("290 mm", "26.5 deg", leg))
/// >>> print(end.wheel_rate("100 mm").round(3))  # 2 × 4.8 N/mm / cos²(26.5°)
/// 11.986 newton / millimeter
#[pyclass(module = "wheelrate", frozen, eq, weakref, from_py_object)]
#[derive(Clone, PartialEq)]
pub(crate) struct FrontEnd(pub(crate) wheel::FrontEnd);

wheel_end!(FrontEnd);

getters! {
    FrontEnd {
        /// Is the wheel on links, and not on a fork?
        is_linked: bool = |end| end.0.is_linked();
        /// How far the tubes of a fork are raised in their clamps from where the axle was placed.
        raised: Out<Length> = |end| Out(end.0.raised());
        /// Rake of the steering axis at full extension.
        rake: Out<Angle> = |end| Out(end.0.rake());
        /// The body that the steering axis lies in: ``frame``, or one of the linkage.
        steering_body: String = |end| end.0.steering_body().to_owned();
        /// The body of the linkage with the caliper of the front brake, where it is stated.
        caliper: Option<String> = |end| end.0.caliper().map(str::to_owned);
        /// Standard uncertainty of every coordinate of the linkage, where stated.
        point_uncertainty: Option<Out<Length>> = |end| end.0.pivot_uncertainty().map(|known| Out(known.coordinate));
        /// Standard uncertainty of the shock's length, where that of the points is stated.
        shock_length_uncertainty: Option<Out<Length>> = |end| {
            end.0.pivot_uncertainty().map(|known| Out(known.shock_length))
        };
    }
}

result_class! {
    /// The steering axis over the travel of a front end, the frame in its reference attitude: one entry per travel.
    SteeringAxis(Vec<SteeredAt>) {
        /// Vertical travel from full extension.
        travel: OutArray<Length> = |all| OutArray(all.iter().map(|at| at.travel).collect());
        /// Angle of the steering axis from the vertical, top leaning back.
        rake: OutArray<Angle> = |all| OutArray(all.iter().map(|at| at.wheel.rake).collect());
        /// Distance of the axle ahead of the steering axis, square to it.
        fork_offset: OutArray<Length> = |all| OutArray(all.iter().map(|at| at.wheel.fork_offset).collect());
        /// Trail along the ground.
        trail: OutArray<Length> = |all| OutArray(all.iter().map(|at| at.trail).collect());
    }
}

rows! { SteeringAxis: travel, rake, fork_offset, trail }

/// A front wheel at one travel.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
pub(crate) struct SteeredAt {
    #[serde(with = "wheelrate::units::text_serde")]
    travel: Length,
    wheel: Steering,
    #[serde(with = "wheelrate::units::text_serde")]
    trail: Length,
}

#[pymethods]
impl FrontEnd {
    #[new]
    #[pyo3(signature = (fork, axle=None, raised=None))]
    fn new(
        py: Python<'_>,
        fork: Fork,
        axle: Option<GivenArray<'_, Length>>,
        raised: Option<Given<'_, Length>>,
    ) -> PyResult<Self> {
        let axle = axle.map(|axle| pair(py, axle.read("axle")?, "axle")).transpose()?;
        let raised = read_optional(raised, "raised")?;
        run(py, || {
            let end = wheel::FrontEnd::new(fork.0);
            let end = raised.map_or(Ok(end.clone()), |raised| end.with_raised(raised))?;
            axle.map_or(Ok(end.clone()), |axle| end.with_axle(axle))
        })
        .map(Self)
    }
    /// A front end on links: leading or trailing links, a girder, a double link, with the wheel straight ahead.
    ///
    /// Parameters
    /// ----------
    /// linkage : Linkage
    ///     Made for a shock of this length and stroke. What turns with the handlebar and carries the links is its ``frame``.
    /// shock : Shock
    ///     The shock, or two struts alike.
    /// rake : angle
    ///     Of the steering axis from the vertical, at full extension.
    /// steering_body : str, optional
    ///     The body that the steering axis lies in: one with the axle on it where an upright is steered at its own joints;
    ///     ``frame`` unless given.
    /// caliper : str, optional
    ///     The body with the caliper of the front brake, for anti-dive: one with the axle on it, or ``frame`` where a rod parallel
    ///     to the link holds it.
    /// point_uncertainty : length, optional
    ///     Standard uncertainty of every coordinate: fit and advice then hold it. Exact unless given.
    /// shock_length_uncertainty : length, optional
    ///     That of the shock's length, beside it. Exact unless given.
    ///
    /// Returns
    /// -------
    /// FrontEnd
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> points = {"pivot": ("700 mm", "0 mm"), "axle": ("820 mm", "0 mm"), "top": ("820 mm", "350 mm")}
    /// >>> link = wr.Mechanism(points, {"frame": ["pivot", "top"], "link": ["pivot", "axle"]})
    /// >>> shock = wr.Shock("380 mm", "80 mm", spring=wr.Preloaded("12 N/mm", "5 mm"), count=2)
    /// >>> linkage = wr.Linkage(link, "axle", ("axle", "top"), shock_length="380 mm", stroke="80 mm")
    /// >>> end = wr.FrontEnd.linked(linkage, shock, "27 deg")
    /// >>> level = end.linkage.drawn_travel  # the struts are square to the link there: one to one
    /// >>> print(end.at(level).motion_ratio.round(3))
    /// 1.0
    #[staticmethod]
    #[pyo3(signature = (linkage, shock, rake, steering_body=None, caliper=None, point_uncertainty=None, shock_length_uncertainty=None))]
    #[allow(clippy::too_many_arguments, reason = "what is known of an end, once each")]
    fn linked(
        py: Python<'_>,
        linkage: Linkage,
        shock: Shock,
        rake: Given<'_, Angle>,
        steering_body: Option<Text>,
        caliper: Option<Text>,
        point_uncertainty: Option<Given<'_, Length>>,
        shock_length_uncertainty: Option<Given<'_, Length>>,
    ) -> PyResult<Self> {
        let rake = rake.read("rake")?;
        let points = read_optional(point_uncertainty, "point_uncertainty")?;
        let length = read_optional(shock_length_uncertainty, "shock_length_uncertainty")?;
        run(py, || {
            let mut end = wheel::FrontEnd::linked(linkage.0, shock.0, rake)?;
            if let Some(body) = steering_body {
                end = end.with_steering_body(body.0)?;
            }
            if let Some(body) = caliper {
                end = end.with_caliper(body.0)?;
            }
            if points.is_some() || length.is_some() {
                let (coordinate, shock_length) = (points.unwrap_or_default(), length.unwrap_or_default());
                end = end.with_pivots_known_to(wheel::PivotUncertainty { coordinate, shock_length })?;
            }
            Ok::<_, wheelrate::Error>(end)
        })
        .map(Self)
    }
    /// The fork; an end on links has none.
    #[getter]
    fn fork(&self, py: Python<'_>) -> PyResult<Fork> {
        run(py, || self.0.fork().cloned()).map(Fork)
    }
    /// The linkage; a fork has none.
    #[getter]
    fn linkage(&self, py: Python<'_>) -> PyResult<Linkage> {
        run(py, || self.0.linkage().cloned()).map(Linkage)
    }
    /// The shock in the linkage; a fork has none.
    #[getter]
    fn shock(&self, py: Python<'_>) -> PyResult<Shock> {
        run(py, || self.0.shock().cloned()).map(Shock)
    }
    /// Rake, offset and trail over travel, the frame in its reference attitude: a fork keeps them, links do not.
    ///
    /// Parameters
    /// ----------
    /// fork_offset : length
    ///     Distance of the axle ahead of the steering axis at full extension, square to the axis.
    /// radius : length
    ///     Height of the axle above the ground.
    /// travels : array of length, optional
    ///     From full extension; evenly over the whole range unless given.
    ///
    /// Returns
    /// -------
    /// SteeringAxis
    #[pyo3(signature = (fork_offset, radius, travels=None))]
    fn steering_axis(
        &self,
        py: Python<'_>,
        fork_offset: Given<'_, Length>,
        radius: Given<'_, Length>,
        travels: Option<GivenArray<'_, Length>>,
    ) -> PyResult<SteeringAxis> {
        let (fork_offset, radius) = (fork_offset.read("fork_offset")?, radius.read("radius")?);
        let travels = match travels {
            Some(travels) => travels.read("travels")?,
            None => wheel::Wheel::travels(&self.0, EVEN_TRAVELS),
        };
        let at = |&travel: &Length| {
            let wheel = Steering::at(&self.0, travel, fork_offset, radius)?;
            Ok::<_, wheelrate::Error>(SteeredAt { travel, wheel, trail: wheel.trail()? })
        };
        run(py, || travels.iter().map(at).collect::<Result<_, _>>()).map(SteeringAxis)
    }
    #[pyo3(signature = () -> "tuple[object, tuple[object, ...]]")]
    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, Bound<'py, PyTuple>)> {
        let text = wheelrate::units::to_text::<Length>;
        let class = py.get_type::<Self>();
        if let Ok(fork) = self.fork(py) {
            let axle: Option<Vec<String>> = self.0.extended_axle().map(|at| at.iter().map(|&at| text(at)).collect());
            return Ok((class.into_any(), (fork, axle, text(self.0.raised())).into_pyobject(py)?));
        }
        let known = self.0.pivot_uncertainty();
        let [points, length] =
            known.map_or([None, None], |known| [known.coordinate, known.shock_length].map(|length| Some(text(length))));
        let rake = wheelrate::units::to_text(self.0.rake());
        let args = (self.linkage(py)?, self.shock(py)?, rake, self.steering_body(), self.caliper(), points, length);
        Ok((class.getattr("linked")?, args.into_pyobject(py)?))
    }
    fn __hash__(&self) -> u64 {
        crate::value::hash(&self.0)
    }
    fn __repr__(&self) -> String {
        match (self.0.fork(), self.0.shock()) {
            (Ok(fork), _) => format!("FrontEnd({})", crate::value::repr("Fork", fork)),
            (_, Ok(shock)) => format!("FrontEnd.linked({})", crate::value::repr("Shock", shock)),
            _ => "FrontEnd".to_owned(),
        }
    }
}
