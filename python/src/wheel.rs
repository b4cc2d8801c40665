//! An end of the bike as its wheel feels it.

pub(crate) mod chain;
pub(crate) mod final_drive;
pub(crate) mod pivots;
mod rear;
pub(crate) mod tyre;

pub(crate) use rear::RearEnd;

use pyo3::prelude::*;
use pyo3::types::PyTuple;
use wheelrate::bike::steering::Steering;
use wheelrate::units::{
    Angle, Energy, Force, Length, LeverageRatio, MotionRatio, MotionRatioSlope, Quantity, SpringRate, WheelRate,
};
use wheelrate::wheel::{self, Settling as CoreSettling, Stability};

use crate::bike::ride::Reserve;
use crate::errors::run;
use crate::fork::Fork;
use crate::linkage::{EVEN_TRAVELS, Linkage, pair};
use crate::plain::Text;
use crate::shock::Shock;
use crate::units::shaped::{GivenAny, Shaped};
use crate::units::{Given, GivenArray, Out, OutArray, read_optional};
use crate::value::{getters, result_class, rows};

result_class! {
    /// What the wheel feels at one travel.
    WheelState(wheel::WheelState) {
        /// Vertical travel from full extension.
        travel: Out<Length> = |state| Out(state.travel);
        /// Stroke of the shock, or of the fork along itself.
        stroke: Out<Length> = |state| Out(state.stroke);
        /// Motion ratio ``ds/dz``, shock per wheel.
        motion_ratio: Out<MotionRatio> = |state| Out(state.motion_ratio);
        /// Leverage ratio ``dz/ds``, wheel per shock.
        leverage_ratio: Out<LeverageRatio> = |state| Out(state.leverage_ratio());
        /// Slope of the motion ratio over travel.
        motion_ratio_slope: Out<MotionRatioSlope> = |state| Out(state.motion_ratio_slope);
        /// Force along the shock or the fork.
        axial_force: Out<Force> = |state| Out(state.axial_force);
        /// Rate along the shock or the fork.
        axial_rate: Out<SpringRate> = |state| Out(state.axial_rate);
        /// Vertical force at the wheel.
        wheel_force: Out<Force> = |state| Out(state.wheel_force);
        /// Rate at the wheel, the geometric term included.
        wheel_rate: Out<WheelRate> = |state| Out(state.wheel_rate);
        /// The part of the wheel rate that comes from the changing motion ratio, ``F·dMR/dz``.
        geometric_rate: Out<WheelRate> = |state| Out(state.geometric_rate());
        /// Energy taken up from full extension.
        energy: Out<Energy> = |state| Out(state.energy);
    }
}

result_class! {
    /// What the wheel feels over many travels, as arrays of one length.
    WheelCurve(wheel::WheelCurve) {
        /// Vertical travel from full extension.
        travel: OutArray<Length> = |curve| OutArray(curve.travel.clone());
        /// Stroke of the shock, or of the fork along itself.
        stroke: OutArray<Length> = |curve| OutArray(curve.stroke.clone());
        /// Motion ratio ``ds/dz``, shock per wheel.
        motion_ratio: OutArray<MotionRatio> = |curve| OutArray(curve.motion_ratio.clone());
        /// Leverage ratio ``dz/ds``, wheel per shock.
        leverage_ratio: OutArray<LeverageRatio> = |curve| OutArray(curve.leverage_ratio());
        /// Slope of the motion ratio over travel.
        motion_ratio_slope: OutArray<MotionRatioSlope> = |curve| OutArray(curve.motion_ratio_slope.clone());
        /// Force along the shock or the fork.
        axial_force: OutArray<Force> = |curve| OutArray(curve.axial_force.clone());
        /// Rate along the shock or the fork.
        axial_rate: OutArray<SpringRate> = |curve| OutArray(curve.axial_rate.clone());
        /// Vertical force at the wheel.
        wheel_force: OutArray<Force> = |curve| OutArray(curve.wheel_force.clone());
        /// Rate at the wheel, the geometric term included.
        wheel_rate: OutArray<WheelRate> = |curve| OutArray(curve.wheel_rate.clone());
        /// Energy taken up from full extension.
        energy: OutArray<Energy> = |curve| OutArray(curve.energy.clone());
    }
}

rows! {
    WheelCurve: travel, stroke, motion_ratio, leverage_ratio, motion_ratio_slope, axial_force, axial_rate, wheel_force, wheel_rate, energy
}

result_class! {
    /// Where a wheel comes to rest under a load: the first equilibrium on the way from full extension.
    Settling(CoreSettling) {
        /// ``settled``, ``topped out`` or ``bottomed``.
        outcome: &'static str = |settling| match settling {
            CoreSettling::Settled { .. } => "settled",
            CoreSettling::ToppedOut { .. } => "topped out",
            CoreSettling::Bottomed { .. } => "bottomed",
        };
        /// The wheel where it rests; None on a stop.
        state: Option<WheelState> = |settling| settling.state().copied().map(WheelState);
        /// Force by which the wheel rests on its stop; None where it is on none.
        margin: Option<Out<Force>> = |settling| match settling {
            CoreSettling::Settled { .. } => None,
            CoreSettling::ToppedOut { margin, .. } | CoreSettling::Bottomed { margin, .. } => Some(Out(*margin)),
        };
        /// Travels of other equilibria, with what they are: ``stable``, ``unstable`` or ``bottomed``.
        others: Vec<(Out<Length>, &'static str)> = |settling| {
            settling.others().iter().map(|other| (Out(other.travel), stability(other.stability))).collect()
        };
    }
}

result_class! {
    /// What a small change of every dimension of the linkage does where the wheel has settled: one entry per dimension.
    EndEffects(Vec<wheel::EndEffect>) {
        /// The dimensions: ``x of eye``, ``length of link``, ``shock length``.
        dimensions: Vec<String> = |effects| effects.iter().map(|effect| effect.dimension.to_string()).collect();
        /// The change of each.
        step: OutArray<Length> = |effects| OutArray(effects.iter().map(|effect| effect.step).collect());
        /// Change of the wheel force at the same travel.
        wheel_force: OutArray<Force> = |effects| OutArray(effects.iter().map(|effect| effect.wheel_force).collect());
        /// Change of the wheel rate at the same travel.
        wheel_rate: OutArray<WheelRate> = |effects| OutArray(effects.iter().map(|effect| effect.wheel_rate).collect());
        /// Change of the wheel rate at the sag, which moves, under the same load.
        wheel_rate_at_sag: OutArray<WheelRate> = |effects| {
            OutArray(effects.iter().map(|effect| effect.wheel_rate_at_sag).collect())
        };
        /// Change of the sag under the same load.
        sag: OutArray<Length> = |effects| OutArray(effects.iter().map(|effect| effect.sag).collect());
        /// Change of the frame's height over the axle under the same load.
        ride_height: OutArray<Length> = |effects| OutArray(effects.iter().map(|effect| effect.ride_height).collect());
    }
}

rows! { EndEffects: dimensions, step, wheel_force, wheel_rate, sag, ride_height, wheel_rate_at_sag }

result_class! {
    /// What a small change of every dimension of the linkage does at the wheel at one travel: one entry per dimension.
    WheelEffects(Vec<wheel::WheelEffect>) {
        /// The dimensions: ``x of eye``, ``length of link``, ``shock length``.
        dimensions: Vec<String> = |effects| effects.iter().map(|effect| effect.dimension.to_string()).collect();
        /// The change of each.
        step: OutArray<Length> = |effects| OutArray(effects.iter().map(|effect| effect.step).collect());
        /// Change of the wheel force.
        wheel_force: OutArray<Force> = |effects| OutArray(effects.iter().map(|effect| effect.wheel_force).collect());
        /// Change of the wheel rate.
        wheel_rate: OutArray<WheelRate> = |effects| OutArray(effects.iter().map(|effect| effect.wheel_rate).collect());
    }
}

rows! { WheelEffects: dimensions, step, wheel_force, wheel_rate }

fn stability(of: Stability) -> &'static str {
    match of {
        Stability::Stable => "stable",
        Stability::Unstable => "unstable",
        Stability::Bottomed => "bottomed",
    }
}

/// The methods of both ends.
macro_rules! wheel_end {
    ($class:ident) => {
        #[pymethods]
        impl $class {
            /// Vertical travel from full extension to full compression.
            #[getter]
            fn full_travel(&self) -> Out<Length> {
                Out(wheel::Wheel::full_travel(&self.0))
            }
            /// Travels at which the rate jumps, in rising order.
            #[getter]
            fn kinks(&self) -> OutArray<Length> {
                OutArray(wheel::Wheel::kinks(&self.0))
            }
            /// Everything at one vertical travel.
            ///
            /// Parameters
            /// ----------
            /// travel : length
            ///     From full extension.
            ///
            /// Returns
            /// -------
            /// WheelState
            fn at(&self, py: Python<'_>, travel: Given<'_, Length>) -> PyResult<WheelState> {
                let travel = travel.read("travel")?;
                run(py, || wheel::Wheel::at(&self.0, travel)).map(WheelState)
            }
            /// Rate at the wheel, the geometric term included, at one travel or an array of any shape; `curve` gives all
            /// there is over a row of travels.
            fn wheel_rate(&self, py: Python<'_>, travel: GivenAny<'_, Length>) -> PyResult<Shaped<WheelRate>> {
                let at = |travel| run(py, || wheel::Wheel::at(&self.0, travel)).map(|state| state.wheel_rate);
                travel.read("travel")?.map(at)
            }
            /// Vertical force at the wheel at one travel or an array of any shape.
            fn wheel_force(&self, py: Python<'_>, travel: GivenAny<'_, Length>) -> PyResult<Shaped<Force>> {
                let at = |travel| run(py, || wheel::Wheel::at(&self.0, travel)).map(|state| state.wheel_force);
                travel.read("travel")?.map(at)
            }
            /// Everything over many vertical travels, as arrays.
            ///
            /// Parameters
            /// ----------
            /// travels : array of length, optional
            ///     From full extension; evenly over the whole range unless given.
            ///
            /// Returns
            /// -------
            /// WheelCurve
            #[pyo3(signature = (travels=None))]
            fn curve(&self, py: Python<'_>, travels: Option<GivenArray<'_, Length>>) -> PyResult<WheelCurve> {
                let travels = match travels {
                    Some(travels) => travels.read("travels")?,
                    None => wheel::Wheel::travels(&self.0, EVEN_TRAVELS),
                };
                run(py, || wheel::Wheel::curve(&self.0, &travels)).map(WheelCurve)
            }
            /// Everything at one travel reached fast, in a tenth of a second or two, from where the end had settled.
            ///
            /// The gas answers with its fast exponent from the pressure that it had at rest; springs, stops and linkage are
            /// as they are slowly. The energy is that of the rest and the work done since.
            ///
            /// Parameters
            /// ----------
            /// rest : length
            ///     Vertical travel at which the end had come to rest.
            /// travel : length
            ///     From full extension.
            ///
            /// Returns
            /// -------
            /// WheelState
            fn fast_at(
                &self,
                py: Python<'_>,
                rest: Given<'_, Length>,
                travel: Given<'_, Length>,
            ) -> PyResult<WheelState> {
                let (rest, travel) = (rest.read("rest")?, travel.read("travel")?);
                run(py, || wheel::Wheel::fast_at(&self.0, rest, travel)).map(WheelState)
            }
            /// Everything over many vertical travels, all reached fast from one rest.
            ///
            /// Parameters
            /// ----------
            /// rest : length
            ///     Vertical travel at which the end had come to rest.
            /// travels : array of length, optional
            ///     From full extension; evenly over the whole range unless given.
            ///
            /// Returns
            /// -------
            /// WheelCurve
            #[pyo3(signature = (rest, travels=None))]
            fn fast_curve(
                &self,
                py: Python<'_>,
                rest: Given<'_, Length>,
                travels: Option<GivenArray<'_, Length>>,
            ) -> PyResult<WheelCurve> {
                let rest = rest.read("rest")?;
                let travels = match travels {
                    Some(travels) => travels.read("travels")?,
                    None => wheel::Wheel::travels(&self.0, EVEN_TRAVELS),
                };
                run(py, || wheel::Wheel::fast_curve(&self.0, rest, &travels)).map(WheelCurve)
            }
            /// Where the wheel comes to rest under a vertical load on the springs, friction left out.
            ///
            /// Parameters
            /// ----------
            /// load : force
            ///     Sprung load at the wheel.
            ///
            /// Returns
            /// -------
            /// Settling
            fn travel_under(&self, py: Python<'_>, load: Given<'_, Force>) -> PyResult<Settling> {
                let load = load.read("load")?;
                run(py, || wheel::Wheel::travel_under(&self.0, load)).map(Settling)
            }
            /// What the end can still take in from this travel on, under a load: it has settled there, and goes on fast.
            ///
            /// Parameters
            /// ----------
            /// load : force
            ///     At the wheel.
            /// travel : length, optional
            ///     Where it stands; full extension unless given, which is a drop onto unloaded wheels.
            ///
            /// Returns
            /// -------
            /// Reserve
            #[pyo3(signature = (load, travel=None))]
            fn reserve(
                &self,
                py: Python<'_>,
                load: Given<'_, Force>,
                travel: Option<Given<'_, Length>>,
            ) -> PyResult<Reserve> {
                let load = load.read("load")?;
                let travel = read_optional(travel, "travel")?.unwrap_or(Length::from_si(0.0));
                run(py, || wheelrate::bike::ride::reserve_of(&self.0, travel, load)).map(Reserve)
            }
            /// Position of the axle in the frame axes, x forward and z up.
            fn axle(&self, py: Python<'_>, travel: Given<'_, Length>) -> PyResult<OutArray<Length>> {
                let travel = travel.read("travel")?;
                run(py, || wheel::Wheel::axle(&self.0, travel)).map(|at| OutArray(at.to_vec()))
            }
            /// The end with springs of this rate (each) and preload in place of its main springs.
            fn with_spring_rate(
                &self,
                py: Python<'_>,
                rate: Given<'_, SpringRate>,
                preload: Given<'_, Length>,
            ) -> PyResult<Self> {
                let (rate, preload) = (rate.read("rate")?, preload.read("preload")?);
                run(py, || wheel::Tunable::with_spring_rate(&self.0, rate, preload)).map(Self)
            }
            /// The end with every main spring's rate times a factor, and more (or less) preload on each.
            #[pyo3(signature = (rate_factor: "float", preload_change))]
            fn with_spring_change(
                &self,
                py: Python<'_>,
                #[pyo3(from_py_with = $crate::units::plain::rate_factor)] rate_factor: f64,
                preload_change: Given<'_, Length>,
            ) -> PyResult<Self> {
                let change = preload_change.read("preload_change")?;
                run(py, || wheel::Tunable::with_spring_change(&self.0, rate_factor, change)).map(Self)
            }
        }
    };
}

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

use wheel_end;

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
