//! The shock: one, or two alike side by side.

use pyo3::prelude::*;
use wheelrate::friction::SealFriction;
use wheelrate::shock;
use wheelrate::units::{Force, Length, SpringRate};

use crate::axial::{AxialState, axial_element, fast_element};
use crate::damper::Damper;
use crate::errors::run;
use crate::gas::{AirSpring, Conditions, Exponents, Reservoir};
use crate::plain::{integer, whole};
use crate::spring::{MainSpring, Preloaded, Stop};
use crate::units::{Given, Out, plain, read_optional};
use crate::value::{getters, value_class};

value_class! {
    /// Spring, gas and stops between two eyes.
    ///
    /// Parameters
    /// ----------
    /// length : length
    ///     Eye to eye, extended.
    /// full_stroke : length
    ///     From full extension to full compression.
    /// spring : Preloaded, optional
    ///     Main spring with its preload.
    /// reservoir : Reservoir, optional
    ///     Gas on the rod.
    /// air_spring : AirSpring, optional
    ///     Air in place of a coil spring.
    /// bump_stop, top_out : Stop, optional
    ///     Springs near full compression and near full extension.
    /// friction : force, optional
    ///     Of the seals, along the shock. It is kept out of the spring curves.
    /// damper : Damper, optional
    ///     Along one shock. It acts in motion only.
    /// count : int, optional
    ///     2 for twin shocks: forces are those of both.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> shock = wr.Shock("468.7 mm", "118 mm", wr.Preloaded("52 N/mm", "14 mm"), wr.Reservoir("10 bar", "180 cm3", "16 mm"))
    /// >>> print(shock.at("0 mm").force.round(0))
    /// 929.0 newton
    Shock(shock::Shock)
}

axial_element!(Shock);
fast_element!(Shock);

getters! {
    Shock {
        /// Eye to eye, extended; None where nobody knows it.
        length: Option<Out<Length>> = |shock| shock.0.length().map(Out);
        /// Number of shocks side by side.
        count: u8 = |shock| shock.0.count();
        /// Main spring with its preload, where there is one.
        spring: Option<Preloaded> = |shock| shock.0.parts().spring.clone().map(Preloaded);
        /// Gas on the rod, where known.
        reservoir: Option<Reservoir> = |shock| shock.0.parts().reservoir.map(Reservoir);
        /// Air in place of a coil spring, where there is some.
        air_spring: Option<AirSpring> = |shock| shock.0.parts().air_spring.map(AirSpring);
        /// Bump stop, where there is one.
        bump_stop: Option<Stop> = |shock| shock.0.parts().bump_stop.clone().map(Stop);
        /// Top-out spring, where there is one.
        top_out: Option<Stop> = |shock| shock.0.parts().top_out.clone().map(Stop);
        /// Friction of all shocks together, along their axis; None where none is stated. Times the motion ratio it is felt at the wheel.
        friction: Option<Out<Force>> = |shock| shock.0.friction().map(|friction| Out(friction.force()));
        /// The dampers of all shocks together, along their axis; None where none is stated.
        damper: Option<Damper> = |shock| shock.0.damper().map(Damper);
        /// All main springs together; None where there is none.
        main_spring: Option<MainSpring> = |shock| shock.0.main_spring().map(MainSpring);
        /// Compression that the main spring has left at full stroke; None where that is not known.
        bind_clearance: Option<Out<Length>> = |shock| shock.0.bind_clearance().map(Out);
    }
}

#[pymethods]
impl Shock {
    #[new]
    #[pyo3(signature = (length, full_stroke, spring=None, reservoir=None, *, air_spring=None, bump_stop=None, top_out=None, friction=None, damper=None, count: "SupportsIndex"=1))]
    #[allow(clippy::too_many_arguments, reason = "keyword arguments on the Python side")]
    fn new(
        py: Python<'_>,
        length: Given<'_, Length>,
        full_stroke: Given<'_, Length>,
        spring: Option<Preloaded>,
        reservoir: Option<Reservoir>,
        air_spring: Option<AirSpring>,
        bump_stop: Option<Stop>,
        top_out: Option<Stop>,
        friction: Option<Given<'_, Force>>,
        damper: Option<Damper>,
        #[pyo3(from_py_with = integer)] count: i128,
    ) -> PyResult<Self> {
        let (length, full_stroke) = (length.read("length")?, full_stroke.read("full_stroke")?);
        let friction = read_optional(friction, "friction")?;
        let count = whole(py, "count", count)?;
        run(py, || {
            let mut parts = shock::ShockParts::new();
            parts.spring = spring.map(|spring| spring.0);
            parts.reservoir = reservoir.map(|reservoir| reservoir.0);
            parts.bump_stop = bump_stop.map(|stop| stop.0);
            parts.top_out = top_out.map(|stop| stop.0);
            parts.friction = friction.map(SealFriction::new).transpose()?;
            parts.damper = damper.map(|damper| damper.0);
            parts.air_spring = air_spring.map(|spring| spring.0);
            shock::Shock::new(length, full_stroke, parts, count)
        })
        .map(Self)
    }
    /// The shock with every main spring's rate times a factor, and more (or less) preload on each.
    #[pyo3(signature = (rate_factor: "float", preload_change))]
    fn with_spring_change(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = plain::rate_factor)] rate_factor: f64,
        preload_change: Given<'_, Length>,
    ) -> PyResult<Self> {
        let change = preload_change.read("preload_change")?;
        run(py, || self.0.with_spring_change(rate_factor, change)).map(Self)
    }
    /// The shock with coil springs of this rate (each) and preload in place of its main springs.
    fn with_spring_rate(
        &self,
        py: Python<'_>,
        rate: Given<'_, SpringRate>,
        preload: Given<'_, Length>,
    ) -> PyResult<Self> {
        let (rate, preload) = (rate.read("rate")?, preload.read("preload")?);
        run(py, || self.0.with_spring_rate(rate, preload)).map(Self)
    }
    /// The main spring alone at a stroke, of all shocks.
    fn springs_at(&self, py: Python<'_>, stroke: Given<'_, Length>) -> PyResult<AxialState> {
        let stroke = stroke.read("stroke")?;
        run(py, || self.0.springs_at(stroke)).map(AxialState)
    }
    /// The gas alone at a stroke, of all shocks.
    fn gas_at(&self, py: Python<'_>, stroke: Given<'_, Length>) -> PyResult<AxialState> {
        let stroke = stroke.read("stroke")?;
        run(py, || self.0.gas_at(stroke)).map(AxialState)
    }
    /// The shock with these exponents for all its gas.
    fn with_exponents(&self, py: Python<'_>, exponents: Exponents) -> PyResult<Self> {
        run(py, || self.0.with_exponents(exponents.0)).map(Self)
    }
    /// The shock with its gas running in these conditions.
    fn running_in(&self, py: Python<'_>, conditions: Conditions) -> PyResult<Self> {
        run(py, || self.0.running_in(conditions.0)).map(Self)
    }
}
