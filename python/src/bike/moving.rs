//! The whole bike in time: a landing, braking, a road.

use pyo3::prelude::*;
use wheelrate::bike::landing::{self, Braking, MovingBike, WHOLE_LIMITS};
use wheelrate::record::Ends;
use wheelrate::road::RoadProfile;
use wheelrate::units::{
    Acceleration, Angle, DampingRate, Energy, Force, Length, Mass, Quantity, Share, SpringRate, Time, Velocity,
};

use super::landing::Bottoming;
use super::whole::WholeBike;
use crate::damper::Damper;
use crate::errors::run_long;
use crate::plain::{Text, integer, whole};
use crate::road::Road;
use crate::units::{Given, Out, OutArray, read_optional};
use crate::value::{Named, getters, result_class, rows, value_class};

/// What is simulated unless said otherwise.
const DURATION_SI: f64 = 2.0;
const ROAD_SI: f64 = 10.0;
/// Over what time a brake builds up (an estimate, no source), and the grip of a tyre on dry ground (common practice, no source).
const BUILD_UP_SI: f64 = 0.2;
const GRIP: f64 = 1.0;

value_class! {
    /// A rider who stands on legs that bend, over the centre of gravity.
    ///
    /// Parameters
    /// ----------
    /// mass : mass
    ///     What stands on them; part of what the load has.
    /// rate : spring rate
    ///     Of the legs: a rider who sinks by 10 cm under twice his weight has about 7 N/mm (an estimate, no source).
    /// damping : damping rate
    ///     Of the legs.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> legs = wr.Legs("80 kg", "7 N/mm", "700 N s/m")
    /// >>> whole = wr.demo().whole
    /// >>> stiff, soft = whole.land("500 mm"), whole.land("500 mm", legs=legs)
    /// >>> bool(soft.ends["rear"].peak_travel < stiff.ends["rear"].peak_travel)
    /// True
    Legs(landing::Legs)
}

getters! {
    Legs {
        /// What stands on them.
        mass: Out<Mass> = |legs| Out(legs.0.mass);
        /// Their rate.
        rate: Out<SpringRate> = |legs| Out(legs.0.rate);
        /// Their damping.
        damping: Out<DampingRate> = |legs| Out(legs.0.damping);
    }
}

#[pymethods]
impl Legs {
    #[new]
    fn new(mass: Given<'_, Mass>, rate: Given<'_, SpringRate>, damping: Given<'_, DampingRate>) -> PyResult<Self> {
        let (mass, rate, damping) = (mass.read("mass")?, rate.read("rate")?, damping.read("damping")?);
        Ok(Self(landing::Legs { mass, rate, damping }))
    }
}

result_class! {
    /// Where the energy of the whole bike went between start and end.
    BikeEnergy(landing::BikeEnergy) {
        /// Energy of motion, springs, tyres, legs and height given up.
        given_up: Out<Energy> = |account| Out(account.given_up);
        /// Work that the ground put in.
        by_ground: Out<Energy> = |account| Out(account.by_ground);
        /// Work that braking put into pitch and travel.
        by_brakes: Out<Energy> = |account| Out(account.by_brakes);
        /// Taken by both dampers.
        by_damper: Out<Energy> = |account| Out(account.by_damper);
        /// Taken by friction.
        by_friction: Out<Energy> = |account| Out(account.by_friction);
        /// Taken by the rider's legs.
        by_legs: Out<Energy> = |account| Out(account.by_legs);
        /// What is missing: the error of the integration.
        missing: Out<Energy> = |account| Out(account.missing);
    }
}

result_class! {
    /// One end of the whole bike over time, as arrays of one length, and what came of it.
    BikeMotionEnd(landing::BikeMotionEnd) {
        /// Vertical travel from full extension.
        travel: OutArray<Length> = |end| OutArray(end.travel.clone());
        /// Force of springs, damper and friction at the wheel.
        wheel_force: OutArray<Force> = |end| OutArray(end.wheel_force.clone());
        /// Force of the tyre on the ground; zero in the air.
        tyre_force: OutArray<Force> = |end| OutArray(end.tyre_force.clone());
        /// Full travel.
        full_travel: Out<Length> = |end| Out(end.full_travel);
        /// Travel at which the springs alone carry what stands over the wheel.
        rest_travel: Out<Length> = |end| Out(end.rest_travel);
        /// Largest travel, between the instants too.
        peak_travel: Out<Length> = |end| Out(end.peak_travel);
        /// When.
        peak_travel_time: Out<Time> = |end| Out(end.peak_travel_time);
        /// Largest force of the tyre, between the instants too.
        peak_tyre_force: Out<Force> = |end| Out(end.peak_tyre_force);
        /// First time at full travel; None where it did not get there.
        bottoming: Option<Bottoming> = |end| end.bottoming.map(Bottoming);
    }
}

rows! { BikeMotionEnd: travel, wheel_force, tyre_force }

result_class! {
    /// The motion of the whole bike over time, as arrays of one length, and what came of it.
    BikeMotion(landing::BikeMotion) {
        /// Since the start.
        time: OutArray<Time> = |motion| OutArray(motion.time.clone());
        /// Rise of the sprung centre of gravity since the start.
        body_rise: OutArray<Length> = |motion| OutArray(motion.body_rise.clone());
        /// Rise of the rider on his legs; that of the body without legs.
        rider_rise: OutArray<Length> = |motion| OutArray(motion.rider_rise.clone());
        /// Pitch since the start, nose down.
        pitch: OutArray<Angle> = |motion| OutArray(motion.pitch.clone());
        /// Deceleration that the brakes reach.
        deceleration: OutArray<Acceleration> = |motion| OutArray(motion.deceleration.clone());
        /// Both ends.
        ends: Named<BikeMotionEnd> = |motion| Named(vec![
            ("front".to_owned(), BikeMotionEnd(motion.ends.front.clone())),
            ("rear".to_owned(), BikeMotionEnd(motion.ends.rear.clone())),
        ]);
        /// Most pitch nose down since the start.
        peak_pitch: Out<Angle> = |motion| Out(motion.peak_pitch);
        /// Least; below zero it went nose up.
        least_pitch: Out<Angle> = |motion| Out(motion.least_pitch);
        /// Where the energy went.
        energy: BikeEnergy = |motion| BikeEnergy(motion.energy);
        /// What the simulation cannot show, in sentences.
        limits: Vec<&'static str> = |_| WHOLE_LIMITS.to_vec();
    }
}

rows! { BikeMotion: time, body_rise, rider_rise, pitch, deceleration }

/// What a motion of the whole bike is made of besides the bike.
struct Asked {
    load: wheelrate::record::Load,
    dampers: Ends<Option<wheelrate::damper::Damper>>,
    friction: Option<Force>,
    legs: Option<landing::Legs>,
}

impl Asked {
    fn moved<T: Send>(
        self,
        py: Python<'_>,
        whole: &WholeBike,
        then: impl FnOnce(&MovingBike<'_>) -> wheelrate::Result<T> + Send,
    ) -> PyResult<T> {
        run_long(py, move || {
            let friction = Ends { front: self.friction, rear: self.friction };
            let moving = whole.0.whole().moving_bike_with(&self.load, self.dampers, friction)?;
            then(&match self.legs {
                Some(legs) => moving.with_legs(legs)?,
                None => moving,
            })
        })
    }
}

impl WholeBike {
    fn asked(
        &self,
        py: Python<'_>,
        load: Option<&str>,
        dampers: [Option<Damper>; 2],
        friction: Option<Given<'_, Force>>,
        legs: Option<Legs>,
    ) -> PyResult<Asked> {
        let [front, rear] = dampers.map(|damper| damper.map(|damper| damper.0));
        Ok(Asked {
            load: self.load_or_rider(py, load)?,
            dampers: Ends { front, rear },
            friction: read_optional(friction, "friction")?,
            legs: legs.map(|legs| legs.0),
        })
    }
}

#[pymethods]
impl WholeBike {
    /// A landing of the whole bike in time: both ends, pitch, and a rider on legs where they are given.
    ///
    /// A number of a model, not of a jump: compare with it, and believe no height.
    ///
    /// Parameters
    /// ----------
    /// height : length
    ///     Of the fall of the lower wheel.
    /// attitude : angle, optional
    ///     Nose down from where both wheels touch at once; below zero the rear wheel lands first.
    /// load : str, optional
    ///     Names of masses; what rider sag is meant under unless given.
    /// front_damper, rear_damper : Damper, optional
    ///     Along the shaft, a fork's legs together; those of the bike unless given.
    /// friction : force, optional
    ///     Sliding friction at each wheel; what the file states along fork and shock unless given.
    /// legs : Legs, optional
    ///     Of a rider who stands; a weight on the frame unless given.
    /// duration : time, optional
    ///     Simulated from the touch; 2 s unless given.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> landing = wr.demo().whole.land("200 mm", "-5 deg")
    /// >>> bool(landing.peak_pitch > wr.quantity("3 deg", "angle")), landing.ends["rear"].bottoming
    /// (True, None)
    #[pyo3(signature = (
        height, attitude=None, load=None, *, front_damper=None, rear_damper=None, friction=None, legs=None, duration=None
    ))]
    #[allow(clippy::too_many_arguments, reason = "keyword arguments on the Python side")]
    fn land(
        &self,
        py: Python<'_>,
        height: Given<'_, Length>,
        attitude: Option<Given<'_, Angle>>,
        load: Option<Text>,
        front_damper: Option<Damper>,
        rear_damper: Option<Damper>,
        friction: Option<Given<'_, Force>>,
        legs: Option<Legs>,
        duration: Option<Given<'_, Time>>,
    ) -> PyResult<BikeMotion> {
        let height = height.read("height")?;
        let attitude = read_optional(attitude, "attitude")?.unwrap_or(Angle::from_si(0.0));
        let duration = read_optional(duration, "duration")?.unwrap_or(Time::from_si(DURATION_SI));
        let asked = self.asked(py, load.as_deref(), [front_damper, rear_damper], friction, legs)?;
        asked.moved(py, self, |bike| bike.land(height, attitude, duration)).map(BikeMotion)
    }
    /// Braking of the whole bike in time, from rest on its springs: dive, pitch, what the tyres carry.
    ///
    /// Parameters
    /// ----------
    /// deceleration : acceleration
    ///     That the rider asks for.
    /// front_share : share
    ///     Of it on the front brake.
    /// load : str, optional
    ///     Names of masses; what rider sag is meant under unless given.
    /// build_up : time, optional
    ///     Over which it builds up; 0.2 s unless given.
    /// grip : float, optional
    ///     Most that a tyre holds along the ground, as a share of its load.
    /// front_damper, rear_damper, friction, legs, duration
    ///     As for `land`.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> braked = wr.demo().whole.brake("5 m/s2", "70 %")
    /// >>> bool(braked.ends["front"].peak_travel > braked.ends["front"].rest_travel)
    /// True
    #[pyo3(signature = (
        deceleration, front_share, load=None, *, build_up=None, grip=GRIP, front_damper=None, rear_damper=None, friction=None,
        legs=None, duration=None
    ))]
    #[allow(clippy::too_many_arguments, reason = "keyword arguments on the Python side")]
    fn brake(
        &self,
        py: Python<'_>,
        deceleration: Given<'_, Acceleration>,
        front_share: Given<'_, Share>,
        load: Option<Text>,
        build_up: Option<Given<'_, Time>>,
        grip: f64,
        front_damper: Option<Damper>,
        rear_damper: Option<Damper>,
        friction: Option<Given<'_, Force>>,
        legs: Option<Legs>,
        duration: Option<Given<'_, Time>>,
    ) -> PyResult<BikeMotion> {
        let braking = Braking {
            deceleration: deceleration.read("deceleration")?,
            front_share: front_share.read("front_share")?,
            build_up: read_optional(build_up, "build_up")?.unwrap_or(Time::from_si(BUILD_UP_SI)),
            grip,
        };
        let duration = read_optional(duration, "duration")?.unwrap_or(Time::from_si(DURATION_SI));
        let asked = self.asked(py, load.as_deref(), [front_damper, rear_damper], friction, legs)?;
        asked.moved(py, self, |bike| bike.brake(braking, duration)).map(BikeMotion)
    }
    /// The whole bike from rest over the profile that a seed makes of a road; the rear wheel meets it after the front one.
    ///
    /// Parameters
    /// ----------
    /// road : Road
    ///     What it is ridden over.
    /// speed : velocity
    ///     Of riding.
    /// seed : int
    ///     The same profile for the same seed.
    /// load, front_damper, rear_damper, friction, legs
    ///     As for `land`.
    /// duration : time, optional
    ///     Simulated; 10 s unless given.
    #[pyo3(signature = (
        road, speed, seed: "SupportsIndex", load=None, *, front_damper=None, rear_damper=None, friction=None, legs=None, duration=None
    ))]
    #[allow(clippy::too_many_arguments, reason = "keyword arguments on the Python side")]
    fn over_road(
        &self,
        py: Python<'_>,
        road: PyRef<'_, Road>,
        speed: Given<'_, Velocity>,
        #[pyo3(from_py_with = integer)] seed: i128,
        load: Option<Text>,
        front_damper: Option<Damper>,
        rear_damper: Option<Damper>,
        friction: Option<Given<'_, Force>>,
        legs: Option<Legs>,
        duration: Option<Given<'_, Time>>,
    ) -> PyResult<BikeMotion> {
        let (road, speed) = (road.0, speed.read("speed")?);
        let duration = read_optional(duration, "duration")?.unwrap_or(Time::from_si(ROAD_SI));
        let asked = self.asked(py, load.as_deref(), [front_damper, rear_damper], friction, legs)?;
        let seed = whole(py, "seed", seed)?;
        asked.moved(py, self, |bike| RoadProfile::new(road, seed).ride_bike(bike, speed, duration)).map(BikeMotion)
    }
}
