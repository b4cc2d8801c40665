//! The fork and its legs.

use pyo3::prelude::*;
use wheelrate::fork;
use wheelrate::friction::SealFriction;
use wheelrate::units::{Angle, Force, Length, MotionRatio};

use crate::axial::{AxialState, axial_element};
use crate::errors::run;
use crate::gas::{Conditions, ForkAir};
use crate::spring::{Preloaded, Stop};
use crate::units::{Given, Out, read_optional};
use crate::value::value_class;

value_class! {
    /// One fork leg: what is in it. Any part may be missing.
    ///
    /// Parameters
    /// ----------
    /// spring : Preloaded, optional
    ///     Main spring with its preload.
    /// air : ForkAir, optional
    ///     Air over the oil.
    /// bump_stop, top_out : Stop, optional
    ///     Springs near full compression and near full extension.
    /// friction : force, optional
    ///     Of the seals, along the leg. It is kept out of the spring curves.
    ForkLeg(fork::ForkLeg)
}

#[pymethods]
impl ForkLeg {
    #[new]
    #[pyo3(signature = (spring=None, air=None, *, bump_stop=None, top_out=None, friction=None))]
    fn new(
        py: Python<'_>,
        spring: Option<Preloaded>,
        air: Option<ForkAir>,
        bump_stop: Option<Stop>,
        top_out: Option<Stop>,
        friction: Option<Given<'_, Force>>,
    ) -> PyResult<Self> {
        let friction = read_optional(friction, "friction")?;
        let friction = friction.map(|force| run(py, || SealFriction::new(force))).transpose()?;
        let mut leg = fork::ForkLeg::new();
        leg = spring.map_or(leg.clone(), |Preloaded(spring)| leg.with_spring(spring));
        leg = air.map_or(leg.clone(), |ForkAir(air)| leg.with_air(air));
        leg = bump_stop.map_or(leg.clone(), |Stop(stop)| leg.with_bump_stop(stop));
        leg = top_out.map_or(leg.clone(), |Stop(stop)| leg.with_top_out(stop));
        Ok(Self(friction.map_or(leg.clone(), |friction| leg.with_friction(friction))))
    }
    /// Main spring, where there is one.
    #[getter]
    fn spring(&self) -> Option<Preloaded> {
        self.0.spring().cloned().map(Preloaded)
    }
    /// Air over the oil, where known.
    #[getter]
    fn air(&self) -> Option<ForkAir> {
        self.0.air().copied().map(ForkAir)
    }
}

value_class! {
    /// Two legs on one stroke, along the steering axis.
    ///
    /// Parameters
    /// ----------
    /// travel : length
    ///     Along the fork.
    /// rake : angle
    ///     Of the steering axis from the vertical.
    /// leg, other_leg : ForkLeg
    ///     The two legs; the other one is the same unless given.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> leg = wr.ForkLeg(wr.Preloaded("4.8 N/mm", "6 mm"), wr.ForkAir("47 mm", "43 mm", "105 mm", exponent=1.2))
    /// >>> fork = wr.Fork("290 mm", "26.5 deg", leg)
    /// >>> print(fork.at("100 mm").force.round(0))
    /// 1174.0 newton
    Fork(fork::Fork)
}

axial_element!(Fork);

#[pymethods]
impl Fork {
    #[new]
    #[pyo3(signature = (travel, rake, leg, other_leg=None))]
    fn new(
        py: Python<'_>,
        travel: Given<'_, Length>,
        rake: Given<'_, Angle>,
        leg: ForkLeg,
        other_leg: Option<ForkLeg>,
    ) -> PyResult<Self> {
        let (travel, rake) = (travel.read("travel")?, rake.read("rake")?);
        let other = other_leg.unwrap_or_else(|| leg.clone());
        run(py, || fork::Fork::new(travel, rake, [leg.0, other.0])).map(Self)
    }
    /// Travel along the fork.
    #[getter]
    fn travel(&self) -> Out<Length> {
        Out(self.0.travel())
    }
    /// Angle of the steering axis from the vertical.
    #[getter]
    fn rake(&self) -> Out<Angle> {
        Out(self.0.rake())
    }
    /// Motion ratio at the wheel, ``1/cos(rake)``.
    #[getter]
    fn motion_ratio(&self) -> Out<MotionRatio> {
        Out(self.0.motion_ratio())
    }
    /// The two legs.
    #[getter]
    fn legs(&self) -> (ForkLeg, ForkLeg) {
        let [first, second] = self.0.legs();
        (ForkLeg(first.clone()), ForkLeg(second.clone()))
    }
    /// Compression that the main spring nearest to its end has left at full stroke; None where that is not known.
    #[getter]
    fn bind_clearance(&self) -> Option<Out<Length>> {
        self.0.bind_clearance().map(Out)
    }
    /// The main springs alone at a stroke.
    fn springs_at(&self, py: Python<'_>, stroke: Given<'_, Length>) -> PyResult<AxialState> {
        let stroke = stroke.read("stroke")?;
        run(py, || self.0.springs_at(stroke)).map(AxialState)
    }
    /// The air alone at a stroke.
    fn gas_at(&self, py: Python<'_>, stroke: Given<'_, Length>) -> PyResult<AxialState> {
        let stroke = stroke.read("stroke")?;
        run(py, || self.0.gas_at(stroke)).map(AxialState)
    }
    /// The fork with its air following another polytropic exponent.
    fn with_exponent(&self, py: Python<'_>, exponent: f64) -> PyResult<Self> {
        run(py, || self.0.with_exponent(exponent)).map(Self)
    }
    /// The fork with its air running in these conditions.
    fn running_in(&self, py: Python<'_>, conditions: Conditions) -> PyResult<Self> {
        run(py, || self.0.running_in(conditions.0)).map(Self)
    }
}
