//! The fork and its legs.

mod bushes;

pub(crate) use bushes::{BushLoads, Bushes};

use pyo3::prelude::*;
use wheelrate::fork;
use wheelrate::friction::SealFriction;
use wheelrate::record::Range;
use wheelrate::units::{Angle, Force, Length, MotionRatio, SpringRate};

use crate::axial::{AxialState, axial_element, fast_element};
use crate::damper::Damper;
use crate::errors::run;
use crate::gas::{AirSpring, Conditions, Exponents, ForkAir};
use crate::spring::{MainSpring, Preloaded, Stop};
use crate::units::{Given, Out, plain, read_optional};
use crate::value::{getters, result_class, value_class};

value_class! {
    /// One fork leg: what is in it. Any part may be missing.
    ///
    /// Parameters
    /// ----------
    /// spring : Preloaded, optional
    ///     Main spring with its preload.
    /// air : ForkAir, optional
    ///     Air over the oil.
    /// air_spring : AirSpring, optional
    ///     Air in place of a coil spring.
    /// bump_stop, top_out : Stop, optional
    ///     Springs near full compression and near full extension.
    /// friction : force, optional
    ///     Of the seals, along the leg. It is kept out of the spring curves.
    /// damper : Damper, optional
    ///     Along the leg. It acts in motion only.
    ForkLeg(fork::ForkLeg)
}

getters! {
    ForkLeg {
        /// Main spring, where there is one.
        spring: Option<Preloaded> = |leg| leg.0.spring().cloned().map(Preloaded);
        /// Air over the oil, where known.
        air: Option<ForkAir> = |leg| leg.0.air().copied().map(ForkAir);
        /// Air in place of a coil spring, where there is some.
        air_spring: Option<AirSpring> = |leg| leg.0.air_spring().copied().map(AirSpring);
        /// Bump stop, where there is one.
        bump_stop: Option<Stop> = |leg| leg.0.bump_stop().cloned().map(Stop);
        /// Top-out spring, where there is one.
        top_out: Option<Stop> = |leg| leg.0.top_out().cloned().map(Stop);
        /// Damper, where there is one.
        damper: Option<Damper> = |leg| leg.0.damper().cloned().map(Damper);
        /// Friction of the seals, where stated.
        friction: Option<Out<Force>> = |leg| leg.0.friction().map(|friction| Out(friction.force()));
    }
}

#[pymethods]
impl ForkLeg {
    #[new]
    #[pyo3(signature = (spring=None, air=None, *, air_spring=None, bump_stop=None, top_out=None, friction=None, damper=None))]
    #[allow(clippy::too_many_arguments, reason = "keyword arguments on the Python side")]
    fn new(
        py: Python<'_>,
        spring: Option<Preloaded>,
        air: Option<ForkAir>,
        air_spring: Option<AirSpring>,
        bump_stop: Option<Stop>,
        top_out: Option<Stop>,
        friction: Option<Given<'_, Force>>,
        damper: Option<Damper>,
    ) -> PyResult<Self> {
        let friction = read_optional(friction, "friction")?;
        let friction = friction.map(|force| run(py, || SealFriction::new(force))).transpose()?;
        let mut leg = fork::ForkLeg::new();
        leg = spring.map_or(leg.clone(), |Preloaded(spring)| leg.with_spring(spring));
        leg = air.map_or(leg.clone(), |ForkAir(air)| leg.with_air(air));
        leg = air_spring.map_or(leg.clone(), |AirSpring(spring)| leg.with_air_spring(spring));
        leg = bump_stop.map_or(leg.clone(), |Stop(stop)| leg.with_bump_stop(stop));
        leg = top_out.map_or(leg.clone(), |Stop(stop)| leg.with_top_out(stop));
        leg = damper.map_or(leg.clone(), |Damper(damper)| leg.with_damper(damper));
        Ok(Self(friction.map_or(leg.clone(), |friction| leg.with_friction(friction))))
    }
}

value_class! {
    /// Two legs on one stroke, along the steering axis.
    ///
    /// Parameters
    /// ----------
    /// full_stroke : length
    ///     Along the fork, from full extension to full compression.
    /// rake : angle
    ///     Of the steering axis from the vertical.
    /// leg, other_leg : ForkLeg
    ///     The two legs; the other one is the same unless given.
    /// rake_uncertainty : angle, optional
    ///     Standard uncertainty of the rake: fit and advice then hold it. Exact unless given.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> exponents = wr.Exponents(1.0, 1.35)
    /// >>> air = wr.ForkAir(sealing_diameter="47 mm", bore="43 mm", oil_level="105 mm", exponent=exponents)
    /// >>> leg = wr.ForkLeg(wr.Preloaded("4.8 N/mm", "6 mm"), air)
    /// >>> fork = wr.Fork("290 mm", "26.5 deg", leg)
    /// >>> print(fork.at("100 mm").force.round(0))
    /// 1144.0 newton
    Fork(fork::Fork)
}

axial_element!(Fork);
fast_element!(Fork);

getters! {
    Fork {
        /// Angle of the steering axis from the vertical.
        rake: Out<Angle> = |fork| Out(fork.0.rake());
        /// Standard uncertainty of the rake, where stated.
        rake_uncertainty: Option<Out<Angle>> = |fork| fork.0.rake_uncertainty().map(Out);
        /// Motion ratio at the wheel, ``1/cos(rake)``.
        motion_ratio: Out<MotionRatio> = |fork| Out(fork.0.motion_ratio());
        /// The two legs.
        legs: (ForkLeg, ForkLeg) = |fork| {
            let [first, second] = fork.0.legs();
            (ForkLeg(first.clone()), ForkLeg(second.clone()))
        };
        /// The dampers of both legs together, along the fork; None where neither leg has one.
        damper: Option<Damper> = |fork| fork.0.damper().map(Damper);
        /// Friction of both legs together, along the fork; None where none is stated. Times the motion ratio it is felt at the wheel.
        friction: Option<Out<Force>> = |fork| fork.0.friction().map(|friction| Out(friction.force()));
        /// All main springs together; None where there is none.
        main_spring: Option<MainSpring> = |fork| fork.0.main_spring().map(MainSpring);
        /// Compression that the main spring nearest to its end has left at full stroke; None where that is not known.
        bind_clearance: Option<Out<Length>> = |fork| fork.0.bind_clearance().map(Out);
    }
}

#[pymethods]
impl Fork {
    #[new]
    #[pyo3(signature = (full_stroke, rake, leg, other_leg=None, *, rake_uncertainty=None))]
    fn new(
        py: Python<'_>,
        full_stroke: Given<'_, Length>,
        rake: Given<'_, Angle>,
        leg: ForkLeg,
        other_leg: Option<ForkLeg>,
        rake_uncertainty: Option<Given<'_, Angle>>,
    ) -> PyResult<Self> {
        let uncertainty = read_optional(rake_uncertainty, "rake_uncertainty")?;
        let (full_stroke, rake) = (full_stroke.read("full_stroke")?, rake.read("rake")?);
        let other = other_leg.unwrap_or_else(|| leg.clone());
        run(py, || {
            let fork = fork::Fork::new(full_stroke, rake, [leg.0, other.0])?;
            uncertainty.map_or(Ok(fork.clone()), |uncertainty| fork.with_rake_uncertainty(uncertainty))
        })
        .map(Self)
    }
    /// The fork with every main spring's rate times a factor, and more (or less) preload on each.
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
    /// The fork with coil springs of this rate (each) and preload in place of its main springs.
    fn with_spring_rate(
        &self,
        py: Python<'_>,
        rate: Given<'_, SpringRate>,
        preload: Given<'_, Length>,
    ) -> PyResult<Self> {
        let (rate, preload) = (rate.read("rate")?, preload.read("preload")?);
        run(py, || self.0.with_spring_rate(rate, preload)).map(Self)
    }
    /// The fork with this much more oil level in every leg with air. More level is more air, and less oil.
    fn with_oil_level_change(&self, py: Python<'_>, change: Given<'_, Length>) -> PyResult<Self> {
        let change = change.read("change")?;
        run(py, || self.0.with_oil_level_change(change)).map(Self)
    }
    /// The change of oil level that gives this force of the whole fork at full stroke reached fast, springs and stops
    /// included.
    ///
    /// Parameters
    /// ----------
    /// force : force
    ///     Along the fork.
    /// rest : length
    ///     Stroke at which the fork had come to rest before.
    /// permitted : pair of lengths
    ///     Least and most level that the fork may be filled to.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> air = wr.ForkAir(sealing_diameter="47 mm", bore="43 mm", oil_level="105 mm")
    /// >>> fork = wr.Fork("290 mm", "26.5 deg", wr.ForkLeg(wr.Preloaded("4.8 N/mm", "6 mm"), air))
    /// >>> print(fork.oil_level_change_for_force("4.2 kN", "70 mm", ("70 mm", "140 mm")).round(2))
    /// 32.08 millimeter
    fn oil_level_change_for_force(
        &self,
        py: Python<'_>,
        force: Given<'_, Force>,
        rest: Given<'_, Length>,
        permitted: (Given<'_, Length>, Given<'_, Length>),
    ) -> PyResult<Out<Length>> {
        let (force, rest) = (force.read("force")?, rest.read("rest")?);
        let permitted = range(py, &permitted, "permitted")?;
        run(py, || self.0.oil_level_change_for_force(force, rest, &permitted)).map(Out)
    }
    /// The change of oil level with which this fork does the same work as another over a part of the stroke, both fast from
    /// rest at one stroke.
    ///
    /// Parameters
    /// ----------
    /// like : Fork
    ///     The fork it should feel like: the same with other springs, say.
    /// rest : length
    ///     Stroke at which both had come to rest before.
    /// part : pair of lengths
    ///     From which stroke to which.
    /// permitted : pair of lengths
    ///     Least and most level that the fork may be filled to.
    ///
    /// Returns
    /// -------
    /// LevelOffset
    fn oil_level_change_to_match(
        &self,
        py: Python<'_>,
        like: Self,
        rest: Given<'_, Length>,
        part: (Given<'_, Length>, Given<'_, Length>),
        permitted: (Given<'_, Length>, Given<'_, Length>),
    ) -> PyResult<LevelOffset> {
        let rest = rest.read("rest")?;
        let (part, permitted) = (range(py, &part, "part")?, range(py, &permitted, "permitted")?);
        run(py, || self.0.oil_level_change_to_match(&like.0, rest, &part, &permitted)).map(LevelOffset)
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
    /// The fork with these exponents for all its gas.
    fn with_exponents(&self, py: Python<'_>, exponents: Exponents) -> PyResult<Self> {
        run(py, || self.0.with_exponents(exponents.0)).map(Self)
    }
    /// The fork with its air running in these conditions.
    fn running_in(&self, py: Python<'_>, conditions: Conditions) -> PyResult<Self> {
        run(py, || self.0.running_in(conditions.0)).map(Self)
    }
}

result_class! {
    /// A change of oil level that makes up for a change of spring over a part of the stroke.
    LevelOffset(fork::LevelOffset) {
        /// In every leg with air; below zero is more oil.
        change: Out<Length> = |offset| Out(offset.change);
        /// Greatest force left over within the part: changed fork less the one it should feel like.
        difference: Out<Force> = |offset| Out(offset.difference);
        /// Stroke at which it is left over.
        at: Out<Length> = |offset| Out(offset.at);
    }
}

fn range(py: Python<'_>, given: &(Given<'_, Length>, Given<'_, Length>), argument: &str) -> PyResult<Range> {
    let from = given.0.read(&format!("{argument}[0]"))?;
    let to = given.1.read(&format!("{argument}[1]"))?;
    run(py, || Range::new(from, to))
}
