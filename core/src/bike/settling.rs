//! Settling: where the bike comes to rest on both wheels, and how it then stands.
//!
//! **Equations.** With the frame held, a travel `dz` of an end moves its axle by `(s, 1)·dz` in the frame axes, `s = dx/dz`.
//! On the ground, with the frame pitched nose down by `θ`, it rises by `cos θ − s·sin θ`. Virtual work of the ground's force
//! `N` and of the unsprung weight then asks of each end
//!
//! `F_w(z) = (N − m_u·g)·(cos θ − s·sin θ)`,
//!
//! `F_w = dE/dz` the wheel force of the upright frame. In front `s = −tan ε`, and it says that the fork acts along the
//! settled rake: `F_axial = load·cos(ε − θ)`. Only at zero pitch is `F_w` the load. The loads are known from the scales, or
//! follow by moments from the sprung mass and its place; the pitch follows from the axles and the loaded wheel radii. Each
//! is a stationary point of the potential energy of springs, tyres and weights.
//!
//! **Which rest.** The one reached from full extension: each end on its first equilibrium, or on the stop that carries the
//! rest. Others that an end has under the same loads are reported with it. A bike whose wheel would leave the ground is an
//! error; one that its springs do not hold in pitch falls on its stops.
//!
//! **Braking, driving, slopes** ([`Running`]) lean the gravity that the bike feels; the wheels give the force along the
//! ground in stated shares. The front brake pulls on the sliders of a fork, and so along the rake, or works through the body
//! of a linkage that holds its caliper; the rear force works through swingarm, frame or chain ([`RearReaction`]).
//!
//! **Assumes** a rigid frame and rider, thin wheels (round tyres change nothing upright), the unsprung masses at their
//! axles, no friction, no aerodynamic force, steady acceleration, and no slip.
//!
//! References: Cossalter, *Motorcycle Dynamics*, ch. 1, 5, 6; Foale, *Motorcycle Handling and Chassis Design*, ch. 9.

mod plane;
mod reaction;
mod rest;
mod running;
mod small_motion;
mod stance;
mod tables;
#[cfg(test)]
mod tests;

pub use running::{RearReaction, Running, longitudinal_transfer};
pub(crate) use small_motion::SmallMotion;
pub use stance::{SettledBike, Stance};

use std::sync::Arc;

use crate::bike::ride::Mode;
use crate::bike::steering::Steering;
use crate::error::{BikeError, Result, WheelError};
use crate::record::{End, Ends};
use crate::units::{Acceleration, Force, Length, Mass, MomentOfInertia, Quantity, WheelRate, check};
use crate::wheel::{Exact, FrontEnd, RearEnd, Rest, Wheel};
use plane::{FRONT, Field, Lump, Plane, Pose, REAR};
use rest::{AtRest, Burden};
pub(crate) use tables::EndTables;

/// Range of tyre rates: a balloon tyre at low pressure to solid rubber.
const TYRE_SI: [f64; 2] = [5e3, 5e6];
/// Furthest that a point of the bike lies from the origin of the frame axes.
const FAR_SI: f64 = 10.0;
/// Gravity anywhere on Earth, and in textbooks.
const GRAVITY_SI: [f64; 2] = [9.7, 9.9];
/// Heaviest load of a two-wheeler.
const MOST_MASS_SI: f64 = 3000.0;

/// A wheel on the ground.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct RoadWheel {
    /// Height of the axle over the ground, the tyre unloaded; loaded where no tyre rate is given.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub radius: Length,
    /// Vertical rate of the tyre; rigid when not given.
    #[cfg_attr(feature = "serde", serde(default))]
    pub tyre: Option<WheelRate>,
    /// Unsprung mass.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub unsprung: Mass,
}

/// What stands between the ends and the ground.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct ChassisParts {
    /// Distance of the front axle ahead of the steering axis, square to it.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub fork_offset: Length,
    /// The wheels.
    pub wheels: Ends<RoadWheel>,
    /// Gravity.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub gravity: Acceleration,
}

/// The sprung mass, rider and luggage included.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct Sprung {
    /// How much.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub mass: Mass,
    /// Its centre of gravity in the frame axes: forward of the origin.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub x: Length,
    /// And above it.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub z: Length,
}

/// Both ends in one frame, on their wheels.
#[derive(Debug, Clone)]
pub struct Chassis<'a> {
    front: &'a FrontEnd,
    rear: &'a RearEnd,
    parts: ChassisParts,
    tables: Arc<EndTables>,
}

impl<'a> Chassis<'a> {
    /// Puts the ends on their wheels. The front end has to know where its axle is.
    ///
    /// # Errors
    /// [`WheelError::NoAxle`], [`BikeError::Unit`] naming the part that is impossible, [`BikeError::Axles`].
    pub fn new(front: &'a FrontEnd, rear: &'a RearEnd, parts: ChassisParts) -> Result<Self> {
        Self::with_tables(front, rear, parts, Arc::default())
    }

    /// The same with what was worked out for a bike before: all of it is of these ends and parts.
    pub(crate) fn with_tables(
        front: &'a FrontEnd,
        rear: &'a RearEnd,
        parts: ChassisParts,
        tables: Arc<EndTables>,
    ) -> Result<Self> {
        if tables.is_sound() {
            return Ok(Self { front, rear, parts, tables });
        }
        for (end, unsprung, rate) in
            [(End::Front, "front.unsprung", "front.tyre"), (End::Rear, "rear.unsprung", "rear.tyre")]
        {
            let wheel = parts.wheels.at(end);
            check::not_negative(unsprung, wheel.unsprung).map_err(BikeError::from)?;
            if let Some(tyre) = wheel.tyre {
                let [least, most] = TYRE_SI.map(WheelRate::from_si);
                check::plausible(rate, tyre, least, most).map_err(BikeError::from)?;
            }
            Steering { rake: front.rake(), fork_offset: parts.fork_offset, radius: wheel.radius }.check()?;
        }
        let [least, most] = GRAVITY_SI.map(Acceleration::from_si);
        check::plausible("gravity", parts.gravity, least, most).map_err(BikeError::from)?;
        front.extended_axle().ok_or(WheelError::NoAxle)?;
        let chassis = Self { front, rear, parts, tables };
        chassis.extended()?;
        chassis.tables.found_sound();
        Ok(chassis)
    }

    /// What it was made of.
    #[must_use]
    pub fn parts(&self) -> &ChassisParts {
        &self.parts
    }

    fn plane(&self) -> Plane<'_> {
        let wheels = [&self.parts.wheels.front, &self.parts.wheels.rear];
        Plane {
            ends: [self.front as &dyn Wheel, self.rear],
            tables: &self.tables,
            radius: wheels.map(|wheel| wheel.radius.si()),
            softness: wheels.map(|wheel| wheel.tyre.map_or(0.0, |tyre| 1.0 / tyre.si())),
            unsprung: wheels.map(|wheel| wheel.unsprung.si()),
            caliper: None,
        }
    }

    fn lump(sprung: &Sprung) -> Result<Lump, BikeError> {
        check::positive("sprung.mass", sprung.mass)?;
        check::plausible("sprung.mass", sprung.mass, Mass::from_si(1e-3), Mass::from_si(MOST_MASS_SI))?;
        let far = Length::from_si(FAR_SI);
        let [x, z] = [("sprung.x", sprung.x), ("sprung.z", sprung.z)]
            .map(|(field, place)| check::plausible(field, place, -far, far));
        Ok(Lump { mass: sprung.mass.si(), at: [x?.si(), z?.si()] })
    }

    /// How it stands with both ends fully extended, the wheels just touching.
    ///
    /// # Errors
    /// [`BikeError::Axles`], [`BikeError::Rake`].
    pub fn extended(&self) -> Result<Stance> {
        self.at(Ends { front: Length::from_si(0.0), rear: Length::from_si(0.0) })
    }

    /// How it stands at these travels, tyres unloaded.
    ///
    /// # Errors
    /// [`WheelError::OutOfTravel`], [`BikeError::Axles`], [`BikeError::Rake`].
    pub fn at(&self, travel: Ends<Length>) -> Result<Stance> {
        self.front.at(travel.front)?;
        self.rear.at(travel.rear)?;
        let (plane, travel) = (self.plane(), [travel.front.si(), travel.rear.si()]);
        let exact = [FRONT, REAR].map(|end| plane.exact(end, travel[end]));
        let pose = plane.pose_on(exact.map(|exact| exact.sample.axle), [0.0; 2])?;
        self.stance(&exact, pose)
    }

    /// Rest on level ground with these loads under the wheels, as two scales show them. Nothing of where the masses are
    /// has to be known for it.
    ///
    /// # Errors
    /// [`BikeError::Lifts`] for a load below zero, and as [`extended`](Self::extended).
    pub fn settle_on_scales(&self, loads: Ends<Force>) -> Result<SettledBike> {
        for (field, load) in [("front load", loads.front), ("rear load", loads.rear)] {
            check::finite(field, load).map_err(BikeError::from)?;
        }
        let burden = Burden::Loads([loads.front.si(), loads.rear.si()]);
        let at_rest = self.plane().settle(&burden, &Field::level(self.parts.gravity.si()))?;
        self.settled(at_rest)
    }

    /// Rest under the sprung mass where it is, at rest or running.
    ///
    /// # Errors
    /// [`BikeError::Lifts`] when a wheel would leave the ground, [`BikeError::Restless`] when the springs do not hold the
    /// pitch, [`WheelError::NoCaliper`] for a front end on links that is braked without one, and for impossible magnitudes.
    pub fn settle(&self, sprung: &Sprung, running: &Running) -> Result<SettledBike> {
        let field = running.field(self.parts.gravity.si(), self.rear)?;
        let brakes = field.front_share * field.along != 0.0;
        let caliper = if brakes { self.front.caliper_spin()? } else { None };
        let at_rest = Plane { caliper, ..self.plane() }.settle(&Burden::Mass(Self::lump(sprung)?), &field)?;
        self.settled(at_rest)
    }

    /// The sprung mass that puts these loads on the scales, with its centre of gravity at this height above the ground
    /// while it stands on them.
    ///
    /// # Errors
    /// As [`settle_on_scales`](Self::settle_on_scales), and when a load is below the weight of the unsprung mass.
    pub fn sprung_from_scales(&self, loads: Ends<Force>, height: Length) -> Result<Sprung> {
        let settled = self.settle_on_scales(loads)?;
        let gravity = self.parts.gravity.si();
        let weight = |end: End| {
            let weight = *loads.at(end) - self.parts.wheels.at(end).unsprung * self.parts.gravity;
            check::not_negative(&format!("{end} load less the unsprung weight"), weight).map_err(BikeError::from)
        };
        let (front, rear) = (weight(End::Front)?.si(), weight(End::Rear)?.si());
        let mass = Mass::from_si((front + rear) / gravity);
        check::positive("sprung mass", mass).map_err(BikeError::from)?;
        let ahead = settled.stance.wheelbase.si() * front / (front + rear);
        let [x, z] = settled.stance.point_at([Length::from_si(ahead), height]);
        Ok(Sprung { mass, x, z })
    }

    /// Bounce, pitch and, with tyre rates, wheel hop of the bike about its rest on level ground, exactly: the unsprung
    /// masses move along the paths of their axles, fore and aft too.
    ///
    /// # Errors
    /// [`BikeError::OnStop`] when an end rests on a stop, [`BikeError::Unstable`], and as [`settle`](Self::settle).
    pub fn modes(&self, sprung: &Sprung, pitch_inertia: MomentOfInertia) -> Result<Vec<Mode>> {
        Ok(self.small_motion(sprung, pitch_inertia)?.modes()?)
    }

    /// The small motion about the rest on level ground.
    ///
    /// # Errors
    /// As [`modes`](Self::modes).
    pub(crate) fn small_motion(&self, sprung: &Sprung, pitch_inertia: MomentOfInertia) -> Result<SmallMotion> {
        let inertia = check::positive("pitch_inertia", pitch_inertia).map_err(BikeError::from)?.si();
        let (lump, gravity, plane) = (Self::lump(sprung)?, self.parts.gravity.si(), self.plane());
        let AtRest { travel, ends, pose, contact, .. } = plane.settle(&Burden::Mass(lump), &Field::level(gravity))?;
        for (end, (rest, _)) in End::BOTH.into_iter().zip(&ends) {
            let stop = match rest {
                Rest::At(_) => continue,
                Rest::ToppedOut(_) => "topped out",
                Rest::Bottomed(_) => "bottomed",
            };
            return Err(BikeError::OnStop { end, stop }.into());
        }
        Ok(plane.small_motion(&pose, travel, &contact, &lump, inertia, gravity))
    }

    fn stance(&self, exact: &[Exact; 2], pose: Pose) -> Result<Stance> {
        let pivot = self.tables.pivot(self.rear);
        let travel = Length::from_si(exact[FRONT].sample.travel);
        let axis = self.front.steering_axis(travel, self.parts.fork_offset)?;
        Stance::of(axis, pivot, exact, pose)
    }

    fn settled(&self, at_rest: AtRest) -> Result<SettledBike> {
        let AtRest { exact, ends: [front, rear], pose, contact, .. } = at_rest;
        let (plane, stance) = (self.plane(), self.stance(&exact, pose)?);
        let state = |end: usize| plane.table(end).state(&exact[end]);
        Ok(SettledBike {
            stance,
            ends: Ends { front: stance::settling(front, state(FRONT)), rear: stance::settling(rear, state(REAR)) },
            load: Ends { front: contact.normal[FRONT], rear: contact.normal[REAR] }.map(Force::from_si),
            along: Ends { front: contact.along[FRONT], rear: contact.along[REAR] }.map(Force::from_si),
        })
    }
}
