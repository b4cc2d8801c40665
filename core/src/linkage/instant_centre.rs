//! Instant centres, and what a brake on one of the bodies does to the suspension: geometry alone.
//!
//! A body that moves by `v` at a point and turns by `ω` per travel turns about `C = r + (−v_z, v_x)/ω`. A wheel held by the brake
//! turns with the body that carries the caliper, and so its contact moves about that body's instant centre: the line from the
//! contact to it rises forward by `σ`, `tan σ = −dx_c/dz`, and a braking force `X` there pushes the end down by `X·tan σ`. With
//! the load `X·h/p` that braking takes off the rear (`h` height of the centre of gravity, `p` wheelbase)
//!
//! `anti-rise = tan σ/(h/p)`.
//!
//! At 100 % the rear brake alone neither lifts the rear nor pulls it down; below, the rear rises; above, it is pulled down
//! (Foale, *Motorcycle Handling and Chassis Design*, ch. 9; instant centres: Norton, *Design of Machinery*, ch. 6).
//!
//! A caliper on a bracket that floats on the axle, held by a rod, is a body like the others: draw bracket and rod. On `frame` the
//! wheel keeps its attitude, as with a rod parallel to the swingarm: `tan σ = −dx/dz` of the axle.
//!
//! Assumes steady braking with the rear brake alone on level ground, contact straight below the axle, the frame in its reference
//! attitude unless a pitch is given, `h` and `p` held. Engine braking pulls at the lower run of the chain and is not in it.

use super::real::{Vec2, add, cross, dot, norm, scale, sub};
use super::step::State;
use super::{FRAME, Linkage};
use crate::error::LinkageError;
use crate::units::{Angle, Length, Quantity, Share, check};

/// A body that turns by less per metre of travel (rad) only moves along: its instant centre lies beyond 100 km.
const NO_TURN: f64 = 1e-5;

/// What the load that braking moves depends on, and where the wheel stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BrakeStance {
    /// Radius of the braked wheel, axle to ground.
    pub wheel_radius: Length,
    /// Height of the centre of gravity above ground.
    pub cg_height: Length,
    /// Wheelbase.
    pub wheelbase: Length,
}

/// The rear brake at one travel.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct AntiRise {
    /// Wheel travel from full extension.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub travel: Length,
    /// Rise, forward, of the line from the contact to the instant centre of the caliper's body.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub brake_angle: Angle,
    /// Share of the load that braking takes off the rear which the brake gives back to the suspension.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub anti_rise: Share,
}

/// How a body moves per wheel travel: the velocity of one of its points, that point, and its turn from x towards z.
pub(super) struct BodyMotion {
    pub(super) at: Vec2<f64>,
    pub(super) velocity: Vec2<f64>,
    pub(super) turn: f64,
}

impl Linkage {
    /// The point, in the drawing's axes, that a body turns about at one travel, the frame held; `None` for a body that does not
    /// turn there.
    ///
    /// # Errors
    /// [`LinkageError::OutOfTravel`], [`LinkageError::UnknownBody`].
    pub fn instant_centre(&self, body: &str, travel: Length) -> Result<Option<[Length; 2]>, LinkageError> {
        self.check_travel(travel)?;
        let body = self.body_index(body)?;
        let (_, slots) = self.whole.settled(travel.si());
        let BodyMotion { at, velocity: [x, z], turn } = self.body_motion(body, &slots);
        let centre = || add(at, scale(1.0 / turn, [-z, x])).map(Length::from_si);
        Ok((turn.abs() > NO_TURN).then(centre))
    }

    /// What the rear brake does over travel, its caliper on this body: one that carries the axle, or `frame`.
    ///
    /// # Errors
    /// [`LinkageError::OutOfTravel`], [`LinkageError::UnknownBody`], [`LinkageError::Caliper`], and
    /// [`LinkageError::Unit`] for an implausible stance.
    pub fn anti_rise(
        &self,
        caliper: &str,
        stance: &BrakeStance,
        travels: &[Length],
    ) -> Result<Vec<AntiRise>, LinkageError> {
        travels.iter().map(|&travel| self.anti_rise_pitched(caliper, stance, Angle::from_si(0.0), travel)).collect()
    }

    /// The same with the frame pitched nose down on level ground.
    pub(crate) fn anti_rise_pitched(
        &self,
        caliper: &str,
        stance: &BrakeStance,
        pitch: Angle,
        travel: Length,
    ) -> Result<AntiRise, LinkageError> {
        check::positive("wheel radius", stance.wheel_radius)?;
        check::positive("height of the centre of gravity", stance.cg_height)?;
        check::positive("wheelbase", stance.wheelbase)?;
        self.check_travel(travel)?;
        let body = self.caliper_index(caliper)?;
        let (_, slots) = self.whole.settled(travel.si());
        let axle = self.velocity(self.wheel, &slots);
        let (sin, cos) = pitch.si().sin_cos();
        let [x, z] = [axle[0] * cos + axle[1] * sin, axle[1] * cos - axle[0] * sin];
        let contact = x + stance.wheel_radius.si() * self.body_motion(body, &slots).turn;
        let tangent = -contact / z;
        Ok(AntiRise {
            travel,
            brake_angle: Angle::from_si(tangent.atan()),
            anti_rise: Share::from_si(tangent * stance.wheelbase.si() / stance.cg_height.si()),
        })
    }

    /// The body of this name, which can carry the caliper of the rear brake.
    ///
    /// # Errors
    /// [`LinkageError::UnknownBody`], [`LinkageError::Caliper`].
    pub(crate) fn caliper_index(&self, caliper: &str) -> Result<usize, LinkageError> {
        let body = self.body_index(caliper)?;
        let carriers = self.mechanism.carriers(self.wheel);
        if body == self.mechanism.frame() || carriers.contains(&body) {
            return Ok(body);
        }
        let carriers = carriers.iter().map(|&body| self.mechanism.body_name(body).to_owned());
        Err(LinkageError::Caliper { body: caliper.to_owned(), wanted: carriers.chain([FRAME.to_owned()]).collect() })
    }

    /// How far a body has turned at a travel inside the range since full extension, from x towards z: nose up.
    pub(crate) fn body_turned(&self, body: usize, travel: Length) -> Angle {
        let (first, last) = self.body_axis(body);
        let axis = |travel: f64| {
            let (_, slots) = self.whole.settled(travel);
            sub(self.place(last, &slots), self.place(first, &slots))
        };
        let (extended, now) = (axis(0.0), axis(travel.si()));
        Angle::from_si(cross(extended, now).atan2(dot(extended, now)))
    }

    /// The same per travel.
    pub(crate) fn body_turn(&self, body: usize, travel: f64) -> f64 {
        let (_, slots) = self.whole.settled(travel);
        self.body_motion(body, &slots).turn
    }

    pub(super) fn body_index(&self, name: &str) -> Result<usize, LinkageError> {
        let mechanism = &self.mechanism;
        (0..mechanism.body_count()).find(|&body| mechanism.body_name(body) == name).ok_or_else(|| {
            LinkageError::UnknownBody {
                body: name.to_owned(),
                known: mechanism.bodies().map(|(name, _)| name.to_owned()).collect(),
            }
        })
    }

    /// Seen at the first point of the body, turned as seen from there to the point furthest away.
    pub(super) fn body_motion(&self, body: usize, slots: &[State<f64>]) -> BodyMotion {
        let (first, last) = self.body_axis(body);
        let (at, velocity) = (self.place(first, slots), self.velocity(first, slots));
        if body == self.mechanism.frame() || first == last {
            return BodyMotion { at, velocity, turn: 0.0 };
        }
        let now = sub(self.place(last, slots), at);
        let relative = sub(self.velocity(last, slots), velocity);
        BodyMotion { at, velocity, turn: cross(now, relative) / dot(now, now) }
    }

    /// The first point of a body and the one furthest from it.
    pub(super) fn body_axis(&self, body: usize) -> (usize, usize) {
        let points = self.mechanism.on_body(body);
        let first = points.first().copied().unwrap_or_default();
        let gap = |&&point: &&usize| norm(sub(self.mechanism.coordinates(point), self.mechanism.coordinates(first)));
        let last = points.iter().max_by(|a, b| gap(a).total_cmp(&gap(b))).copied().unwrap_or(first);
        (first, last)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::linkage::tests::arrangements::{all, direct_shock, floating_axle, mm};

    fn stance() -> BrakeStance {
        BrakeStance { wheel_radius: mm(320.0), cg_height: mm(600.0), wheelbase: mm(1480.0) }
    }

    /// Differences over 20 µm of places known to 1e-15 m, of curved paths.
    const DIFFERENCE: f64 = 1e-7;

    #[test]
    fn the_braking_force_does_the_work_that_the_angle_says() {
        // Virtual work: a contact that is one piece with the caliper's body goes back by tan σ per travel.
        for (name, drawing) in all() {
            let linkage = drawing.linkage().unwrap();
            let (travel, step) = (0.4 * linkage.full_travel(), mm(0.01));
            let carriers = linkage.mechanism().bodies().filter(|(_, points)| points.contains(&"axle"));
            for (body, points) in carriers {
                let other = points.iter().copied().find(|point| *point != "axle").unwrap();
                let seen = |travel: Length| {
                    let pose = linkage.pose(travel).unwrap();
                    let at = |name: &str| {
                        pose.iter().find(|(point, _)| *point == name).unwrap().1.map(|part: Length| part.si())
                    };
                    (at("axle"), sub(at(other), at("axle")))
                };
                let (ahead, back, here) = (seen(travel + step), seen(travel - step), seen(travel));
                let turned = cross(back.1, ahead.1) / dot(here.1, here.1) / (2.0 * step.si());
                let contact = (ahead.0[0] - back.0[0]) / (2.0 * step.si()) + 0.32 * turned;
                let found = linkage.anti_rise(body, &stance(), &[travel]).unwrap()[0];
                let tangent = found.brake_angle.si().tan();
                assert!((tangent + contact).abs() < DIFFERENCE, "{name} {body}: {tangent} {contact}");
                assert!((found.anti_rise.si() - tangent * 1480.0 / 600.0).abs() < 1e-12);
                let centre = linkage.instant_centre(body, travel).unwrap().unwrap().map(|part| part.si());
                let line = sub(centre, [here.0[0], here.0[1] - 0.32]);
                assert!((line[1] / line[0] - tangent).abs() < 1e-9 * (1.0 + norm(line)), "{name} {body}");
            }
        }
    }

    #[test]
    fn a_swingarm_turns_about_its_pivot_and_a_frame_about_nothing() {
        let linkage = direct_shock().linkage().unwrap();
        let drawn = linkage.drawn_travel();
        let pivot = linkage.instant_centre("swingarm", drawn).unwrap().unwrap();
        assert!(pivot.iter().all(|part| part.si().abs() < 1e-12), "{pivot:?}");
        assert_eq!(linkage.instant_centre("frame", drawn).unwrap(), None);
        let on_arm = linkage.anti_rise("swingarm", &stance(), &[drawn]).unwrap()[0];
        assert!((on_arm.brake_angle.si().tan() - (320.0 + 165.0) / 575.0).abs() < 1e-12, "{on_arm:?}");
        let on_frame = linkage.anti_rise("frame", &stance(), &[drawn]).unwrap()[0];
        assert!((on_frame.brake_angle.si().tan() - 165.0 / 575.0).abs() < 1e-12, "{on_frame:?}");
    }

    #[test]
    fn a_caliper_sits_where_the_axle_is() {
        let linkage = floating_axle().linkage().unwrap();
        let refused = |body: &str| linkage.anti_rise(body, &stance(), &[mm(10.0)]).unwrap_err();
        assert!(matches!(refused("swingrm"), LinkageError::UnknownBody { .. }));
        let names: Vec<String> = linkage.mechanism().bodies().map(|(name, _)| name.to_owned()).collect();
        let mut refusals = 0;
        for body in &names {
            if linkage.caliper_index(body).is_err() {
                refusals += 1;
                let message = refused(body).to_string();
                assert!(message.contains("carries the axle") && message.contains("`frame`"), "{message}");
            }
        }
        assert!(refusals > 0 && refusals < names.len(), "{names:?}");
        let odd = BrakeStance { wheelbase: mm(0.0), ..stance() };
        let message = linkage.anti_rise("frame", &odd, &[mm(10.0)]).unwrap_err().to_string();
        assert!(message.contains("wheelbase"), "{message}");
    }
}
