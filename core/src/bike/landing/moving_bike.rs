//! The whole bike with everything that moves with it, and what became of it.

use super::bike_motion::BikeMotion;
use super::{GroundHeight, MOST_DROP_SI, MovingEnd, checked_time};
use crate::error::{BikeError, Result};
use crate::record::End;
use crate::units::{
    Acceleration, Angle, DampingRate, Length, Mass, MomentOfInertia, Quantity, Share, SpringRate, Time, check,
};

/// What the motion of the whole bike cannot show.
pub const WHOLE_LIMITS: [&str; 7] = [
    "Numbers of a model, not of a jump: a real landing has run-up, slope, wind and a rider who moves. Nobody is safe because a number here is small.",
    "No number has a ±: what the model leaves out (slope, rider, heat in the damper) is more than what the readings leave open. The difference between two springs in one landing or braking is surer than either number.",
    "Dampers are force over speed alone. Compare springs, loads and brakes with it; choose no clicks by it.",
    "Legs are a spring and a damper that stand over the centre of gravity. Real legs are better, and end.",
    "Pitch is taken as small and wheels as moving straight up and down: beyond some ten degrees it is a picture.",
    "A tyre grips with a share of its load, up to the stated grip: no slip, no skid, no lean, no front wheel that washes out.",
    "Once an end is against its metal stop, only speed and energy are described: the force depends on how stiff the metal is.",
];

/// Steepest attitude that is still taken as small (rad).
const MOST_PITCH_SI: f64 = 0.35;
/// Hardest braking (m/s²), and most grip of a tyre.
const MOST_BRAKING_SI: f64 = 15.0;
const MOST_GRIP: f64 = 2.0;
/// Ranges of a rider's legs: rate (N/m) and damping (N s/m).
const LEGS_RATE_SI: [f64; 2] = [500.0, 5e5];
const LEGS_DAMPING_SI: f64 = 5e4;

/// A rider who stands on his legs, over the centre of gravity.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Legs {
    /// What stands on them; part of the sprung mass of the load.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub mass: Mass,
    /// Their rate.
    pub rate: SpringRate,
    /// Their damping.
    pub damping: DampingRate,
}

/// How a bike at rest on its springs is braked.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Braking {
    /// Deceleration that the rider asks for.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub deceleration: Acceleration,
    /// The share of it on the front brake.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub front_share: Share,
    /// Over what time it builds up.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub build_up: Time,
    /// Most that a tyre holds along the ground, as a share of its load.
    pub grip: f64,
}

/// The whole bike with everything that moves with it.
///
/// ```
/// use wheelrate::units::{Angle, Quantity, parse};
/// use wheelrate::{Bike, demo::PATROL};
/// let bike = Bike::from_toml(PATROL)?;
/// let moving = bike.whole().moving_bike(&bike.parts().rider_load)?;
/// let landing = moving.land(parse("500 mm")?, parse("-5 deg")?, parse("1.5 s")?)?;
/// assert!(landing.peak_pitch > Angle::from_si(0.0), "on the rear wheel first: it pitches forward");
/// # Ok::<(), wheelrate::Error>(())
/// ```
#[derive(Debug, Clone)]
#[cfg_attr(not(feature = "landing"), expect(dead_code, reason = "nothing moves without the feature"))]
pub struct MovingBike<'a> {
    ends: [MovingEnd<'a>; 2],
    tied: Tied,
    legs: Option<Legs>,
}

/// What ties both ends, in SI units.
#[derive(Debug, Clone)]
#[cfg_attr(not(feature = "landing"), expect(dead_code, reason = "nothing moves without the feature"))]
pub(in crate::bike) struct Tied {
    /// Pitch inertia of the sprung mass.
    pub(in crate::bike) inertia: f64,
    pub(in crate::bike) wheelbase: f64,
    /// Mass of the whole bike, and the height of its centre of gravity.
    pub(in crate::bike) total: f64,
    pub(in crate::bike) height: f64,
    /// `H/p·anti` of both brakes, or what is not known of them.
    pub(in crate::bike) along: Result<[f64; 2]>,
}

/// What sets it in motion.
#[cfg_attr(not(feature = "landing"), expect(dead_code, reason = "nothing moves without the feature"))]
enum Cause<'a> {
    Fall { height: f64, pitch: f64 },
    Brake(Braking),
    Ground { ground: &'a dyn GroundHeight, delay: f64 },
}

impl<'a> MovingBike<'a> {
    /// Put together of its ends and of what ties them.
    pub(in crate::bike) fn put_together(ends: [MovingEnd<'a>; 2], tied: Tied) -> Self {
        Self { ends, tied, legs: None }
    }

    /// The same with a rider on legs.
    ///
    /// # Errors
    /// [`BikeError::Unit`] for a rate or a damping that no legs have, or a mass that leaves no body.
    pub fn with_legs(self, legs: Legs) -> Result<Self> {
        let [least, most] = LEGS_RATE_SI.map(SpringRate::from_si);
        check::plausible("rate", legs.rate, least, most).map_err(BikeError::from)?;
        check::not_negative("damping", legs.damping).map_err(BikeError::from)?;
        let hardest = DampingRate::from_si(LEGS_DAMPING_SI);
        check::plausible("damping", legs.damping, DampingRate::from_si(0.0), hardest).map_err(BikeError::from)?;
        check::positive("mass", legs.mass).map_err(BikeError::from)?;
        let most = Mass::from_si(0.9 * self.sprung());
        check::plausible("mass", legs.mass, Mass::from_si(0.0), most).map_err(BikeError::from)?;
        Ok(Self { legs: Some(legs), ..self })
    }

    /// The same with another pitch inertia of the sprung mass.
    ///
    /// # Errors
    /// [`BikeError::Unit`] unless it is above zero.
    pub fn with_pitch_inertia(self, inertia: MomentOfInertia) -> Result<Self> {
        let inertia = check::positive("pitch_inertia", inertia).map_err(BikeError::from)?.si();
        Ok(Self { tied: Tied { inertia, ..self.tied.clone() }, ..self })
    }

    /// The sprung mass over both ends times both arms: the pitch inertia at which the ends do not know each other.
    #[must_use]
    pub fn apart_inertia(&self) -> MomentOfInertia {
        let [a, b] = self.arms();
        MomentOfInertia::from_si(self.sprung() * a * b)
    }

    /// One of its ends, as it would move alone.
    #[must_use]
    pub fn end(&self, end: End) -> &MovingEnd<'a> {
        &self.ends[end as usize]
    }

    fn sprung(&self) -> f64 {
        self.ends.iter().map(|end| end.parts().sprung.si()).sum()
    }

    /// From the sprung centre of gravity to the front and to the rear wheel.
    fn arms(&self) -> [f64; 2] {
        let shares = [1, 0].map(|end: usize| self.ends[end].parts().sprung.si() / self.sprung());
        shares.map(|share| share * self.tied.wheelbase)
    }

    /// A landing from this height of fall of the lower wheel, nose down by this angle from where both wheels touch at once; nose
    /// up below zero.
    ///
    /// # Errors
    /// As [`MovingEnd::land`], and for an attitude over 20 degrees.
    pub fn land(&self, height: Length, attitude: Angle, duration: Time) -> Result<BikeMotion> {
        check::not_negative("height", height).map_err(BikeError::from)?;
        check::plausible("height", height, Length::from_si(0.0), Length::from_si(MOST_DROP_SI))
            .map_err(BikeError::from)?;
        let most = Angle::from_si(MOST_PITCH_SI);
        check::plausible("attitude", attitude, -most, most).map_err(BikeError::from)?;
        let cause = Cause::Fall { height: height.si(), pitch: attitude.si() };
        self.follow(cause, checked_time("duration", duration)?)
    }

    /// Braking from rest on the springs.
    ///
    /// # Errors
    /// [`BikeError::NoBraking`] with everything that is not known of the brakes; [`BikeError::Unit`] for what is out of range.
    pub fn brake(&self, braking: Braking, duration: Time) -> Result<BikeMotion> {
        let none = Acceleration::from_si(0.0);
        check::plausible("deceleration", braking.deceleration, none, Acceleration::from_si(MOST_BRAKING_SI))
            .map_err(BikeError::from)?;
        let [least, most] = [0.0, 1.0].map(Share::from_si);
        check::plausible("front_share", braking.front_share, least, most).map_err(BikeError::from)?;
        checked_time("build_up", braking.build_up)?;
        check::number_within("grip", braking.grip, 0.0, MOST_GRIP).map_err(BikeError::from)?;
        self.follow(Cause::Brake(braking), checked_time("duration", duration)?)
    }

    /// A bike at rest on its springs whose ground begins to move, under the rear wheel later than under the front one.
    pub(crate) fn over(&self, ground: &dyn GroundHeight, speed: f64, duration: Time) -> Result<BikeMotion> {
        let cause = Cause::Ground { ground, delay: self.tied.wheelbase / speed };
        self.follow(cause, checked_time("duration", duration)?)
    }

    #[cfg(not(feature = "landing"))]
    fn follow(&self, _cause: Cause<'_>, _duration: f64) -> Result<BikeMotion> {
        Err(BikeError::NotBuilt { what: "a motion in time", feature: "landing" }.into())
    }

    #[cfg(feature = "landing")]
    fn follow(&self, cause: Cause<'_>, duration: f64) -> Result<BikeMotion> {
        use super::both::{Both, BrakingSi, LegsSi};
        use super::both_recorded::record;
        use super::motion::{Ground, Model};
        use crate::units::kind::STANDARD_GRAVITY_SI;
        let braking = match &cause {
            Cause::Brake(braking) => Some(BrakingSi {
                deceleration: braking.deceleration.si(),
                front: braking.front_share.si(),
                build_up: braking.build_up.si(),
                grip: braking.grip,
                along: self.tied.along.clone()?,
            }),
            _ => None,
        };
        let later = match &cause {
            Cause::Ground { ground, delay } => Some(Later { ground: *ground, delay: *delay }),
            _ => None,
        };
        let grounds = match (&cause, &later) {
            (Cause::Ground { ground, .. }, Some(later)) => [Ground::Given(*ground), Ground::Given(later)],
            _ => [Ground::Flat, Ground::Flat],
        };
        let falls = matches!(cause, Cause::Fall { .. });
        let [front, rear] = grounds;
        let model = |end: usize, ground| {
            let moving = &self.ends[end];
            let model = Model::new(moving.kernel, &moving.parts, ground);
            model.settled_at(if falls { Model::hangs } else { Model::rest })
        };
        let legs =
            self.legs.map(|legs| LegsSi { mass: legs.mass.si(), rate: legs.rate.si(), damping: legs.damping.si() });
        let both = Both {
            ends: [model(0, front), model(1, rear)],
            sprung: self.sprung(),
            total: self.tied.total,
            inertia: self.tied.inertia,
            arm: self.arms(),
            height: self.tied.height,
            legs,
            braking,
        };
        let start = match cause {
            Cause::Fall { height, pitch } => both.hanging(-(2.0 * STANDARD_GRAVITY_SI * height).sqrt(), pitch),
            _ => both.resting(),
        };
        record(&both, start, duration)
    }
}

/// Ground that comes later.
#[cfg(feature = "landing")]
#[derive(Debug)]
struct Later<'a> {
    ground: &'a dyn GroundHeight,
    delay: f64,
}

#[cfg(feature = "landing")]
impl GroundHeight for Later<'_> {
    fn at(&self, time: f64) -> [f64; 2] {
        if time < self.delay { [0.0, 0.0] } else { self.ground.at(time - self.delay) }
    }

    fn grain(&self) -> f64 {
        self.ground.grain()
    }
}

#[cfg(all(test, feature = "landing", feature = "serde"))]
mod tests;
