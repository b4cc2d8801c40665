//! Steering geometry of one wheel on level ground.

use pyo3::prelude::*;
use wheelrate::bike::steering;
use wheelrate::units::{Angle, Length};

use crate::errors::run;
use crate::uncertain::Uncertain;
use crate::units::{Given, Out};
use crate::value::{getters, value_class};

value_class! {
    /// A steered wheel: the steering axis, and the wheel on it.
    ///
    /// ``trail = (R·sin ε − d)/cos ε``, with the rake ``ε``, the fork offset ``d`` and the wheel radius ``R``.
    ///
    /// Parameters
    /// ----------
    /// rake : angle
    ///     Of the steering axis from the vertical, top leaning back.
    /// fork_offset : length
    ///     Of the axle ahead of the steering axis, square to it.
    /// radius : length
    ///     Axle over the ground.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> steering = wr.Steering("26.5 deg", "30 mm", "340 mm")
    /// >>> print(steering.trail.round(1))  # (340 mm · sin 26.5° − 30 mm)/cos 26.5°
    /// 136.0 millimeter
    /// >>> print(steering.pitched("1 deg").trail.round(1))  # the frame one degree nose down
    /// 128.9 millimeter
    Steering(steering::Steering)
}

getters! {
    Steering {
        /// Angle of the steering axis from the vertical.
        rake: Out<Angle> = |steering| Out(steering.0.rake);
        /// Distance of the axle ahead of the steering axis, square to it.
        fork_offset: Out<Length> = |steering| Out(steering.0.fork_offset);
        /// Axle over the ground.
        radius: Out<Length> = |steering| Out(steering.0.radius);
    }
}

#[pymethods]
impl Steering {
    #[new]
    fn new(
        py: Python<'_>,
        rake: Given<'_, Angle>,
        fork_offset: Given<'_, Length>,
        radius: Given<'_, Length>,
    ) -> PyResult<Self> {
        let (rake, fork_offset) = (rake.read("rake")?, fork_offset.read("fork_offset")?);
        let steering = steering::Steering { rake, fork_offset, radius: radius.read("radius")? };
        run(py, || steering.trail().map(|_| steering)).map(Self)
    }
    /// The wheel whose fork offset gives this trail.
    #[staticmethod]
    fn from_trail(
        py: Python<'_>,
        rake: Given<'_, Angle>,
        trail: Given<'_, Length>,
        radius: Given<'_, Length>,
    ) -> PyResult<Self> {
        let (rake, trail, radius) = (rake.read("rake")?, trail.read("trail")?, radius.read("radius")?);
        run(py, || steering::Steering::from_trail(rake, trail, radius)).map(Self)
    }
    /// Distance along the ground from where the axis meets it back to the contact.
    #[getter]
    fn trail(&self, py: Python<'_>) -> PyResult<Out<Length>> {
        run(py, || self.0.trail()).map(Out)
    }
    /// The same square to the axis: ``R·sin ε − d``.
    #[getter]
    fn normal_trail(&self, py: Python<'_>) -> PyResult<Out<Length>> {
        run(py, || self.0.normal_trail()).map(Out)
    }
    /// Wheel flop ``trail·sin ε·cos ε``: steered by a small angle ``δ``, the axle sinks by half of it times ``δ²``.
    #[getter]
    fn wheel_flop(&self, py: Python<'_>) -> PyResult<Out<Length>> {
        run(py, || self.0.wheel_flop()).map(Out)
    }
    /// The same wheel on a frame pitched nose down.
    fn pitched(&self, py: Python<'_>, nose_down: Given<'_, Angle>) -> PyResult<Self> {
        let nose_down = nose_down.read("nose_down")?;
        run(py, || self.0.pitched(nose_down)).map(Self)
    }
    /// The trail with its standard uncertainty, to first order.
    ///
    /// Parameters
    /// ----------
    /// rake : angle
    /// fork_offset, radius : length
    ///     Standard uncertainty of each, independent of the others.
    ///
    /// Returns
    /// -------
    /// Uncertain
    fn trail_with_uncertainty(
        &self,
        py: Python<'_>,
        rake: Given<'_, Angle>,
        fork_offset: Given<'_, Length>,
        radius: Given<'_, Length>,
    ) -> PyResult<Uncertain> {
        let (rake, fork_offset) = (rake.read("rake")?, fork_offset.read("fork_offset")?);
        let of = steering::SteeringUncertainty { rake, fork_offset, radius: radius.read("radius")? };
        run(py, || self.0.trail_with_uncertainty(&of)).map(Uncertain::from)
    }
}
