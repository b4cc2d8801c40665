//! The whole bike at rest, from what its file states: stances, changes, modes, landings, ballast, posture.

use pyo3::prelude::*;
use wheelrate::bike;
use wheelrate::record::{self, Ends, Load};
use wheelrate::units::{Acceleration, Angle, Force, Length, MomentOfInertia, Quantity, Share};
use wheelrate::wheel::Wheel as _;

use super::Bike;
use super::correction::Correction;
use super::effect::{Effect, SpringPair, adjustment};
use super::landing::{EitherEnd, MovingEnd};
use super::ride::Mode;
use super::settling::{Reaction, SettledBike, Stance, Stances, running};
use crate::damper::Damper;
use crate::errors::run;
use crate::linkage::{EVEN_TRAVELS, Squat, pair};
use crate::plain::Text;
use crate::record::End;
use crate::units::{Given, GivenArray, OutArray, read_optional};
use crate::wheel::{FrontEnd, RearEnd};

/// A bike on both wheels: stances, changes, modes, squat, landings, ballast, posture.
///
/// Made by `Bike.whole`; what an answer lacks is said when it is asked for.
#[pyclass(module = "wheelrate", frozen, eq, weakref)]
#[derive(Clone, PartialEq)]
pub(crate) struct WholeBike(pub(crate) bike::Bike);

#[pymethods]
impl Bike {
    /// The bike on both wheels: stances, changes, modes, squat, landings.
    #[getter]
    fn whole(&self) -> WholeBike {
        WholeBike(self.0.clone())
    }
}

impl WholeBike {
    pub(crate) fn load_or_rider(&self, py: Python<'_>, load: Option<&str>) -> PyResult<Load> {
        load.map_or_else(|| Ok(self.0.parts().rider_load.clone()), |load| crate::record::load(py, load))
    }
}

#[pymethods]
impl WholeBike {
    /// How the bike stands fully extended, under itself, and under its rider.
    ///
    /// Returns
    /// -------
    /// Stances
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> stances = wr.demo().whole.stances()
    /// >>> for stance in (stances.extended, stances.free.stance, stances.rider.stance):
    /// ...     print(stance.rake.round(1), stance.trail.round(0), stance.wheelbase.round(0))
    /// 26.5 degree 113.0 millimeter 1480.0 millimeter
    /// 26.0 degree 108.0 millimeter 1469.0 millimeter
    /// 28.5 degree 124.0 millimeter 1473.0 millimeter
    fn stances(&self, py: Python<'_>) -> PyResult<Stances> {
        run(py, || self.0.whole().stances()).map(Stances)
    }
    /// How the bike stands at these travels, tyres unloaded.
    ///
    /// Parameters
    /// ----------
    /// front, rear : length
    ///     Vertical travel of each end from full extension.
    fn stance_at(&self, py: Python<'_>, front: Given<'_, Length>, rear: Given<'_, Length>) -> PyResult<Stance> {
        let travel = Ends { front: front.read("front")?, rear: rear.read("rear")? };
        run(py, || self.0.whole().chassis()?.at(travel)).map(Stance)
    }
    /// Where the centre of gravity of the whole bike is in a stance; the heights of the masses have to be known.
    ///
    /// Parameters
    /// ----------
    /// stance : Stance
    ///     How the bike stands.
    /// load : str, optional
    ///     Names of masses; what rider sag is meant under unless given.
    ///
    /// Returns
    /// -------
    /// array of length
    ///     Distance ahead of the rear contact, and height above the ground.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> bike = wr.demo()
    /// >>> print(bike.whole.centre_of_gravity(bike.whole.settle("bike").stance, "bike").round(0))
    /// [717.0 560.0] millimeter
    #[pyo3(signature = (stance, load=None))]
    fn centre_of_gravity(
        &self,
        py: Python<'_>,
        stance: PyRef<'_, Stance>,
        load: Option<Text>,
    ) -> PyResult<OutArray<Length>> {
        let load = self.load_or_rider(py, load.as_deref())?;
        let stance = &stance.0;
        run(py, || self.0.whole().centre_of_gravity(&load, stance)).map(|place| OutArray(place.to_vec()))
    }
    /// How the whole bike comes to rest under a load, both sags and the pitch together, friction left out.
    ///
    /// On level ground the scales say all; on a slope, braking or driving the heights of the masses have to be known.
    ///
    /// Parameters
    /// ----------
    /// load : str, optional
    ///     Names of masses; what rider sag is meant under unless given.
    /// slope : angle, optional
    ///     Of the ground, uphill positive.
    /// acceleration : acceleration, optional
    ///     Along the ground, forward positive; braking is below zero.
    /// front_share : share, optional
    ///     Share of the force along the ground that the front wheel gives; none unless given.
    /// rear_reaction : {"frame", "swingarm"} or Chain, optional
    ///     What carries the torque of the rear wheel; the frame unless given.
    ///
    /// Returns
    /// -------
    /// SettledBike
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> bike = wr.demo()
    /// >>> braking = bike.whole.settle("bike + rider", acceleration="-5 m/s2", front_share="100 %", rear_reaction="swingarm")
    /// >>> dive = braking.stance.fork_stroke - bike.whole.settle("bike + rider").stance.fork_stroke
    /// >>> print(dive.round(0))
    /// 104.0 millimeter
    #[pyo3(signature = (load=None, *, slope=None, acceleration=None, front_share=None, rear_reaction: "str | Chain | None"=None))]
    #[allow(clippy::too_many_arguments, reason = "how a bike runs")]
    fn settle(
        &self,
        py: Python<'_>,
        load: Option<Text>,
        slope: Option<Given<'_, Angle>>,
        acceleration: Option<Given<'_, Acceleration>>,
        front_share: Option<Given<'_, Share>>,
        rear_reaction: Option<Reaction>,
    ) -> PyResult<SettledBike> {
        let load = self.load_or_rider(py, load.as_deref())?;
        let running = running(py, slope, acceleration, front_share, rear_reaction)?;
        run(py, || match running {
            Some(running) => {
                let whole = self.0.whole();
                whole.chassis()?.settle(&whole.sprung(&load)?, &running)
            }
            None => self.0.whole().settle(&load),
        })
        .map(SettledBike)
    }
    /// The bike after a change of setting; parameters as `effect_of`.
    #[pyo3(signature = (*, fork_raised=None, shock_longer=None, front_spring=None, rear_spring=None))]
    fn with_adjustment(
        &self,
        py: Python<'_>,
        fork_raised: Option<Given<'_, Length>>,
        shock_longer: Option<Given<'_, Length>>,
        front_spring: Option<SpringPair<'_>>,
        rear_spring: Option<SpringPair<'_>>,
    ) -> PyResult<Bike> {
        let change = adjustment(fork_raised, shock_longer, front_spring, rear_spring)?;
        run(py, || self.0.whole().with_adjustment(&change)).map(Bike)
    }
    /// Which settings give a wanted trail or rake: every choice of levers, those that reach it first.
    ///
    /// Each lever is given with its room: the least and the most by which it may be moved from where it is now. Preloads go to
    /// the ends of their adjusters unless given.
    ///
    /// Parameters
    /// ----------
    /// trail, rake : length, angle, optional
    ///     What is wanted of the bike at rest; one or both.
    /// load : str, optional
    ///     Names of masses; what rider sag is meant under unless given.
    /// fork_raised, shock_longer : pair of lengths, optional
    ///     Room of the tubes in their clamps, and of the shock's length; not moved unless given.
    /// front_preload, rear_preload : pair of lengths, optional
    ///     Room of the preloads.
    ///
    /// Returns
    /// -------
    /// list of Correction
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> for found in wr.demo().whole.corrections(trail="121 mm", fork_raised=["-5 mm", "15 mm"])[:2]:
    /// ...     for move in found.moves:
    /// ...         print(move.lever, move.by.round(1))
    /// rear_preload 4.8 millimeter
    /// fork_raised 11.7 millimeter
    #[pyo3(signature = (*, trail=None, rake=None, load=None, fork_raised=None, shock_longer=None, front_preload=None, rear_preload=None))]
    #[allow(clippy::too_many_arguments, reason = "all that can be wanted and moved")]
    fn corrections(
        &self,
        py: Python<'_>,
        trail: Option<Given<'_, Length>>,
        rake: Option<Given<'_, Angle>>,
        load: Option<Text>,
        fork_raised: Option<GivenArray<'_, Length>>,
        shock_longer: Option<GivenArray<'_, Length>>,
        front_preload: Option<GivenArray<'_, Length>>,
        rear_preload: Option<GivenArray<'_, Length>>,
    ) -> PyResult<Vec<Correction>> {
        let (trail, rake) = (read_optional(trail, "trail")?, read_optional(rake, "rake")?);
        let room = |given: Option<GivenArray<'_, Length>>, name: &str| {
            given.map(|given| pair(py, given.read(name)?, name)).transpose()
        };
        let (fork_raised, shock_longer) = (room(fork_raised, "fork_raised")?, room(shock_longer, "shock_longer")?);
        let (front, rear) = (room(front_preload, "front_preload")?, room(rear_preload, "rear_preload")?);
        let load = self.load_or_rider(py, load.as_deref())?;
        run(py, || {
            let whole = self.0.whole();
            let stated = whole.room()?;
            let room = bike::Room {
                fork_raised,
                shock_longer,
                front_preload: front.or(stated.front_preload),
                rear_preload: rear.or(stated.rear_preload),
            };
            whole.corrections(&bike::GeometryWish { trail, rake }, &room, &load)
        })
        .map(|found| found.into_iter().map(Correction).collect())
    }
    /// What a change of setting does to rake, trail, wheelbase and both travels.
    ///
    /// Parameters
    /// ----------
    /// load : str, optional
    ///     Names of masses; what rider sag is meant under unless given.
    /// fork_raised : length, optional
    ///     How far the tubes are raised in their clamps, further than now.
    /// shock_longer : length, optional
    ///     How much longer the shock is made by its ride-height adjuster.
    /// front_spring, rear_spring : pair of spring rate and length, optional
    ///     Other main springs: rate of one, preload of each.
    ///
    /// Returns
    /// -------
    /// Effect
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> effect = wr.demo().whole.effect_of(fork_raised="5 mm", front_spring=("4.0 N/mm", "6 mm"))
    /// >>> print(effect.trail.round(1), effect.rake.round(2))
    /// -3.2 millimeter -0.44 degree
    #[pyo3(signature = (load=None, *, fork_raised=None, shock_longer=None, front_spring=None, rear_spring=None))]
    #[allow(clippy::too_many_arguments, reason = "all that can be changed")]
    fn effect_of(
        &self,
        py: Python<'_>,
        load: Option<Text>,
        fork_raised: Option<Given<'_, Length>>,
        shock_longer: Option<Given<'_, Length>>,
        front_spring: Option<SpringPair<'_>>,
        rear_spring: Option<SpringPair<'_>>,
    ) -> PyResult<Effect> {
        let change = adjustment(fork_raised, shock_longer, front_spring, rear_spring)?;
        let load = self.load_or_rider(py, load.as_deref())?;
        run(py, || self.0.whole().effect_of(&change, &load)).map(Effect)
    }
    /// Bounce, pitch and, with tyre rates, wheel hop of the settled bike; needs the heights of the masses.
    ///
    /// Parameters
    /// ----------
    /// load : str, optional
    ///     Names of masses; what rider sag is meant under unless given.
    /// pitch_inertia : moment of inertia, optional
    ///     Of the sprung mass, rider included, about its centre of gravity; from those of the masses unless given.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> for mode in wr.demo().whole.modes():
    /// ...     print(mode.kind, mode.frequency.round(1))
    /// bounce 1.5 hertz
    /// pitch 2.4 hertz
    /// front hop 15.9 hertz
    /// rear hop 16.4 hertz
    #[pyo3(signature = (load=None, *, pitch_inertia=None))]
    fn modes(
        &self,
        py: Python<'_>,
        load: Option<Text>,
        pitch_inertia: Option<Given<'_, MomentOfInertia>>,
    ) -> PyResult<Vec<Mode>> {
        let (inertia, load) =
            (read_optional(pitch_inertia, "pitch_inertia")?, self.load_or_rider(py, load.as_deref())?);
        run(py, || match inertia {
            Some(inertia) => {
                let whole = self.0.whole();
                whole.chassis()?.modes(&whole.sprung(&load)?, inertia)
            }
            None => self.0.whole().modes(&load),
        })
        .map(|modes| modes.into_iter().map(Mode).collect())
    }
    /// Chain line, squat ratio, anti-squat and swingarm angle over travel, the bike standing as this load leaves it.
    ///
    /// Parameters
    /// ----------
    /// load : str, optional
    ///     Names of masses; what rider sag is meant under unless given.
    /// travels : array of length, optional
    ///     From full extension; evenly over the whole range unless given.
    ///
    /// Returns
    /// -------
    /// Squat
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> bike = wr.demo()
    /// >>> squat = bike.whole.squat(travels=[bike.whole.settle("bike + rider").stance.travel["rear"]])
    /// >>> print(squat.travel.round(0), squat.swingarm_angle.round(1))
    /// [105.0] millimeter [7.8] degree
    /// >>> print(squat.squat_ratio.round(2), squat.anti_squat.round(0))
    /// [1.12] [89.0] percent
    #[pyo3(signature = (load=None, travels=None))]
    fn squat(&self, py: Python<'_>, load: Option<Text>, travels: Option<GivenArray<'_, Length>>) -> PyResult<Squat> {
        let load = self.load_or_rider(py, load.as_deref())?;
        let travels = travels.map(|travels| travels.read("travels")).transpose()?;
        run(py, || match travels {
            Some(travels) => self.0.whole().squat(&load, &travels),
            None => self.0.whole().squat(&load, &self.0.rear()?.travels(EVEN_TRAVELS)),
        })
        .map(Squat)
    }
    /// An end with the masses and the tyre of the bike, for landings and steps.
    ///
    /// Parameters
    /// ----------
    /// end : {"front", "rear"}
    ///     Which end.
    /// damper : Damper, optional
    ///     Along its shaft, a fork's legs together; that of the bike unless given.
    /// load : str, optional
    ///     Names of masses; what rider sag is meant under unless given.
    /// friction : force, optional
    ///     Sliding friction at the wheel; none unless given.
    ///
    /// Returns
    /// -------
    /// MovingEnd
    #[pyo3(signature = (end, damper=None, load=None, friction=None))]
    fn moving_end(
        &self,
        py: Python<'_>,
        end: End,
        damper: Option<Damper>,
        load: Option<Text>,
        friction: Option<Given<'_, Force>>,
    ) -> PyResult<MovingEnd> {
        let load = self.load_or_rider(py, load.as_deref())?;
        let friction = read_optional(friction, "friction")?.unwrap_or(Force::from_si(0.0));
        let parts = run(py, || {
            self.0
                .whole()
                .moving_end(end.0, &load, friction, damper.map(|damper| damper.0))
                .map(|moving| moving.parts().clone())
        })?;
        let end = match end.0 {
            record::End::Front => EitherEnd::Front(run(py, || self.0.front().cloned()).map(FrontEnd)?),
            record::End::Rear => EitherEnd::Rear(run(py, || self.0.rear().cloned()).map(RearEnd)?),
        };
        Ok(MovingEnd { end, parts })
    }
    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, (Bike, &'static str))> {
        Ok((py.import("builtins")?.getattr("getattr")?, (Bike(self.0.clone()), "whole")))
    }
    fn __hash__(&self) -> u64 {
        crate::value::hash(&self.0)
    }
    fn __repr__(&self) -> String {
        format!("WholeBike({:?})", self.0.parts().name)
    }
}
