//! One end in time: a landing, a step.

use pyo3::prelude::*;
use pyo3::types::{IntoPyDict, PyDict};
use wheelrate::bike::landing::{self, LIMITS, MovingParts};
use wheelrate::units::{Energy, Force, Length, Mass, Quantity, Time, Velocity, WheelRate, to_text};

use crate::damper::Damper;
use crate::errors::{run, run_long};
use crate::units::{Given, Out, OutArray, read_optional};
use crate::value::{result_class, rows};
use crate::wheel::{FrontEnd, RearEnd};

/// What is simulated unless said otherwise: most bikes are at rest by then.
const DURATION_SI: f64 = 2.0;
/// Time in which the ground rises by a step unless given: 20 cm of ramp at 10 m/s, the order of a tyre over an edge.
const RISE_SI: f64 = 0.02;

result_class! {
    /// The first time an end reaches full travel.
    Bottoming(landing::Bottoming) {
        /// When.
        time: Out<Time> = |bottoming| Out(bottoming.time);
        /// How fast the end was still compressing, at the wheel.
        speed: Out<Velocity> = |bottoming| Out(bottoming.speed);
        /// The most energy that the metal had to take.
        energy: Out<Energy> = |bottoming| Out(bottoming.energy);
    }
}

result_class! {
    /// Where the energy went between start and end.
    EnergyAccount(landing::EnergyAccount) {
        /// Energy of motion, springs, tyre and height given up.
        given_up: Out<Energy> = |account| Out(account.given_up);
        /// Work that the rising ground put in.
        by_ground: Out<Energy> = |account| Out(account.by_ground);
        /// Taken by the damper.
        by_damper: Out<Energy> = |account| Out(account.by_damper);
        /// Taken by friction.
        by_friction: Out<Energy> = |account| Out(account.by_friction);
        /// What is missing: the error of the integration.
        missing: Out<Energy> = |account| Out(account.missing);
    }
}

result_class! {
    /// The motion of one end over time, as arrays of one length, and what came of it.
    EndMotion(landing::EndMotion) {
        /// Since the start.
        time: OutArray<Time> = |motion| OutArray(motion.time.clone());
        /// Vertical travel from full extension.
        travel: OutArray<Length> = |motion| OutArray(motion.travel.clone());
        /// Rise of the sprung mass since the start.
        body_rise: OutArray<Length> = |motion| OutArray(motion.body_rise.clone());
        /// Rise of the wheel since the start.
        wheel_rise: OutArray<Length> = |motion| OutArray(motion.wheel_rise.clone());
        /// Force of springs, damper and friction at the wheel.
        wheel_force: OutArray<Force> = |motion| OutArray(motion.wheel_force.clone());
        /// Force of the tyre on the ground; zero in the air.
        tyre_force: OutArray<Force> = |motion| OutArray(motion.tyre_force.clone());
        /// Full travel of the end.
        full_travel: Out<Length> = |motion| Out(motion.full_travel);
        /// Largest travel, between the instants too.
        peak_travel: Out<Length> = |motion| Out(motion.peak_travel);
        /// When.
        peak_travel_time: Out<Time> = |motion| Out(motion.peak_travel_time);
        /// Largest force of the tyre among the instants.
        peak_tyre_force: Out<Force> = |motion| Out(motion.peak_tyre_force);
        /// First time at full travel; None where it did not get there.
        bottoming: Option<Bottoming> = |motion| motion.bottoming.map(Bottoming);
        /// Travel at which the springs alone carry the sprung mass.
        rest_travel: Out<Length> = |motion| Out(motion.rest_travel);
        /// When the travel came within 5 % of its last value for good; None when it still moves at the end.
        settled_after: Option<Out<Time>> = |motion| motion.settled_after.map(Out);
        /// Where the energy went.
        energy: EnergyAccount = |motion| EnergyAccount(motion.energy);
        /// What the simulation cannot show, in sentences.
        limits: Vec<&'static str> = |_| LIMITS.to_vec();
    }
}

rows! { EndMotion: time, travel, wheel_rise, body_rise, wheel_force, tyre_force }

/// Either end of a bike.
#[derive(Clone, PartialEq, FromPyObject, IntoPyObject)]
#[allow(clippy::large_enum_variant, reason = "one object holds one of them")]
pub(super) enum EitherEnd {
    Front(FrontEnd),
    Rear(RearEnd),
}

/// An end with everything that moves with it.
///
/// Parameters
/// ----------
/// end : FrontEnd or RearEnd
///     The springs.
/// sprung, unsprung : mass
///     Over the wheel, and of it.
/// tyre : wheel rate
///     Vertical rate of the tyre.
/// damper : Damper
///     Along its shaft.
/// friction : force, optional
///     Sliding friction at the wheel; none unless given.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> damper = wr.Damper("6000 N s/m", "9000 N s/m")
/// >>> rear = wr.MovingEnd(
/// ...     wr.demo().rear, sprung="112.5 kg", unsprung="17.5 kg", tyre="180 N/mm", damper=damper, friction="60 N"
/// ... )
/// >>> landing = rear.land("500 mm")
/// >>> print(landing.peak_travel.round(0), landing.bottoming)
/// 262.0 millimeter None
#[pyclass(module = "wheelrate", frozen, eq, weakref)]
#[derive(Clone, PartialEq)]
pub(crate) struct MovingEnd {
    pub(super) end: EitherEnd,
    pub(super) parts: MovingParts,
}

impl MovingEnd {
    pub(crate) fn moving(&self) -> wheelrate::Result<landing::MovingEnd<'_>> {
        match &self.end {
            EitherEnd::Front(end) => landing::MovingEnd::front(&end.0, self.parts.clone()),
            EitherEnd::Rear(end) => landing::MovingEnd::rear(&end.0, self.parts.clone()),
        }
    }
}

#[pymethods]
impl MovingEnd {
    #[new]
    #[pyo3(signature = (end: "FrontEnd | RearEnd", *, sprung, unsprung, tyre, damper, friction=None))]
    #[allow(clippy::too_many_arguments, reason = "all that moves with an end")]
    fn new(
        py: Python<'_>,
        end: EitherEnd,
        sprung: Given<'_, Mass>,
        unsprung: Given<'_, Mass>,
        tyre: Given<'_, WheelRate>,
        damper: Damper,
        friction: Option<Given<'_, Force>>,
    ) -> PyResult<Self> {
        let parts = MovingParts {
            sprung: sprung.read("sprung")?,
            unsprung: unsprung.read("unsprung")?,
            tyre: tyre.read("tyre")?,
            friction: read_optional(friction, "friction")?.unwrap_or(Force::from_si(0.0)),
            damper: damper.0,
        };
        let made = Self { end, parts };
        run(py, || made.moving().map(drop))?;
        Ok(made)
    }
    /// A landing on both wheels alike, the end hanging at full extension until the tyre touches.
    ///
    /// Parameters
    /// ----------
    /// height : length
    ///     Of the fall.
    /// duration : time, optional
    ///     Simulated from the touch; 2 s unless given.
    ///
    /// Returns
    /// -------
    /// EndMotion
    #[pyo3(signature = (height, duration=None))]
    fn land(
        &self,
        py: Python<'_>,
        height: Given<'_, Length>,
        duration: Option<Given<'_, Time>>,
    ) -> PyResult<EndMotion> {
        let height = height.read("height")?;
        let duration = read_optional(duration, "duration")?.unwrap_or(Time::from_si(DURATION_SI));
        run_long(py, || self.moving()?.land(height, duration)).map(EndMotion)
    }
    /// A step (a hole where below zero) under the wheel of a bike at rest on its springs.
    ///
    /// Parameters
    /// ----------
    /// height : length
    ///     Of the step.
    /// rise : time, optional
    ///     In which the ground rises, as half a cosine: ramp over riding speed; 20 ms unless given.
    /// duration : time, optional
    ///     Simulated; 2 s unless given.
    ///
    /// Returns
    /// -------
    /// EndMotion
    #[pyo3(signature = (height, rise=None, duration=None))]
    fn step(
        &self,
        py: Python<'_>,
        height: Given<'_, Length>,
        rise: Option<Given<'_, Time>>,
        duration: Option<Given<'_, Time>>,
    ) -> PyResult<EndMotion> {
        let height = height.read("height")?;
        let rise = read_optional(rise, "rise")?.unwrap_or(Time::from_si(RISE_SI));
        let duration = read_optional(duration, "duration")?.unwrap_or(Time::from_si(DURATION_SI));
        run_long(py, || self.moving()?.step(height, rise, duration)).map(EndMotion)
    }
    #[pyo3(signature = () -> "tuple[tuple[FrontEnd | RearEnd], dict[str, object]]")]
    fn __getnewargs_ex__<'py>(&self, py: Python<'py>) -> PyResult<((EitherEnd,), Bound<'py, PyDict>)> {
        let MovingParts { sprung, unsprung, tyre, friction, damper } = self.parts.clone();
        let texts = [("sprung", to_text(sprung)), ("unsprung", to_text(unsprung)), ("tyre", to_text(tyre))];
        let named = texts.into_iter().chain([("friction", to_text(friction))]).into_py_dict(py)?;
        named.set_item("damper", Damper(damper))?;
        Ok(((self.end.clone(),), named))
    }
    fn __hash__(&self) -> u64 {
        let end = match &self.end {
            EitherEnd::Front(end) => crate::value::hash(&end.0),
            EitherEnd::Rear(end) => crate::value::hash(&end.0),
        };
        crate::value::hash(&(end, &self.parts))
    }
    fn __repr__(&self) -> String {
        let end = match self.end {
            EitherEnd::Front(_) => "front",
            EitherEnd::Rear(_) => "rear",
        };
        crate::value::repr("MovingEnd", &self.parts).replacen('(', &format!("({end}, "), 1)
    }
}
