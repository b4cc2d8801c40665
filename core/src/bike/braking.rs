//! What the brakes do to the suspension of a bike on its wheels: anti-rise of the rear brake, anti-dive of the front one.
//!
//! `anti-dive = (dx_c/dz)/(h/p)` for the front: the contact of a braked wheel moves back along a telescopic fork as the fork goes in,
//! `dx_c/dz = −tan ε`, so that the braking force adds to the dive: below zero, and the more so the slacker the fork
//! (Cossalter, *Motorcycle Dynamics*, ch. 6; Foale, *Motorcycle Handling and Chassis Design*, ch. 9). On links the contact moves about
//! the [instant centre](crate::linkage::Linkage::instant_centre) of the body that holds the caliper, forward perhaps, and the brake
//! carries part of the load past the springs. Each speaks of its own brake alone.
//!
//! As for [squat](crate::bike::WholeBike::squat): wheelbase, axle heights and pitch of the frame are those of the bike at rest under
//! the load, and are held over the travel; the height of the centre of gravity is that of the load, bike level.

use super::settling::Stance;
use super::{WholeBike, missing};
use crate::error::{BikeError, Error, Result, WheelError};
use crate::linkage::{AntiRise, BrakeStance};
use crate::record::Load;
use crate::units::{Angle, Length, Quantity, Share};
use crate::wheel::Wheel;

/// The front brake where the bike rests.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct AntiDive {
    /// Wheel travel from full extension.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub travel: Length,
    /// Rise, backward, of the line from the contact to the instant centre of the caliper's body; of a fork the settled rake, below
    /// zero: its contact goes back as the fork goes in.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub brake_angle: Angle,
    /// Share of the load that braking moves to the front which the brake carries past the springs; below zero it adds to the dive.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub anti_dive: Share,
}

impl WholeBike<'_> {
    /// What the rear brake does at some travels, the bike standing as this load leaves it.
    ///
    /// # Errors
    /// [`BikeError::NoBraking`] with everything that is not known; as [`settle`](Self::settle) and
    /// [`Linkage::anti_rise`](crate::linkage::Linkage::anti_rise).
    pub fn anti_rise(&self, load: &Load, travels: &[Length]) -> Result<Vec<AntiRise>> {
        let caliper = self.bike.rear().map(|rear| rear.caliper().map(str::to_owned));
        let caliper = caliper.and_then(|body| {
            body.ok_or_else(|| missing("rear.caliper", "the body with the caliper of the rear brake holds the wheel"))
        });
        self.known_for_braking(load, caliper.as_ref().err().cloned())?;
        let (stance, caliper) = (self.settle(load)?.stance, caliper?);
        let linkage = self.bike.rear()?.linkage()?;
        let brake = self.brake_stance(load, &stance, stance.axle_height.rear)?;
        let at = |&travel: &Length| Ok(linkage.anti_rise_pitched(&caliper, &brake, stance.pitch, travel)?);
        travels.iter().map(at).collect()
    }

    /// The same where the bike rests under the load.
    ///
    /// # Errors
    /// As [`anti_rise`](Self::anti_rise).
    pub fn anti_rise_at_rest(&self, load: &Load) -> Result<AntiRise> {
        let travel = self.settle(load)?.stance.travel.rear;
        let [found] = self.anti_rise(load, &[travel])?[..] else {
            return Err(missing("rear.linkage", "the brake works through it"));
        };
        Ok(found)
    }

    /// What the front brake does at some travels, the bike standing as this load leaves it: the caliper on the sliders of a fork,
    /// or on the stated body of a linkage.
    ///
    /// # Errors
    /// As [`anti_rise`](Self::anti_rise); the caliper is not asked for on a fork.
    pub fn anti_dive(&self, load: &Load, travels: &[Length]) -> Result<Vec<AntiDive>> {
        let lacks = self.bike.front().and_then(|front| front.caliper_spin().map(drop)).err();
        self.known_for_braking(load, lacks.filter(|error| matches!(error, Error::Wheel(WheelError::NoCaliper))))?;
        let (stance, front) = (self.settle(load)?.stance, self.bike.front()?);
        let brake = self.brake_stance(load, &stance, stance.axle_height.front)?;
        let at = |&travel: &Length| {
            let (Ok(linkage), Some(caliper)) = (front.linkage(), front.caliper()) else {
                front.at(travel)?;
                let slope = -stance.rake.si().tan();
                let anti_dive = Share::from_si(slope * brake.wheelbase.si() / brake.cg_height.si());
                return Ok(AntiDive { travel, brake_angle: Angle::from_si(slope.atan()), anti_dive });
            };
            // The load that braking moves comes on here, where at the rear it goes.
            let found = linkage.anti_rise_pitched(caliper, &brake, stance.pitch, travel)?;
            let anti_dive = Share::from_si(-found.anti_rise.si());
            Ok(AntiDive { travel, brake_angle: -found.brake_angle, anti_dive })
        };
        travels.iter().map(at).collect()
    }

    /// The same where the bike rests under the load.
    ///
    /// # Errors
    /// As [`anti_dive`](Self::anti_dive).
    pub fn anti_dive_at_rest(&self, load: &Load) -> Result<AntiDive> {
        let travel = self.settle(load)?.stance.travel.front;
        let [found] = self.anti_dive(load, &[travel])?[..] else {
            return Err(missing("front", "the brake works through it"));
        };
        Ok(found)
    }

    fn brake_stance(&self, load: &Load, stance: &Stance, wheel_radius: Length) -> Result<BrakeStance> {
        let cg_height = self.bike.masses()?.load_height(load)?;
        Ok(BrakeStance { wheel_radius, cg_height, wheelbase: stance.wheelbase })
    }

    /// Refuses what lacks a part, all of them at once.
    fn known_for_braking(&self, load: &Load, first: Option<Error>) -> Result<()> {
        let reasons = self.not_known_for_transfer(load, first);
        if reasons.is_empty() { Ok(()) } else { Err(BikeError::NoBraking { reasons }.into()) }
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::bike::Bike;
    use crate::bike::settling::{RearReaction, Running};
    use crate::demo::PATROL;
    use crate::units::Acceleration;

    fn demo() -> Bike {
        Bike::from_toml(PATROL).unwrap()
    }

    /// Braked so gently that everything is straight, and more than the searches resolve (m/s²).
    const GENTLE: f64 = 0.01;
    /// An end's own way pitches the frame a little, and the load then works along the axle's path too.
    const LEFT_OUT: f64 = 0.015;

    /// What the springs of both ends take up, and the load that moves, gently braked with one wheel.
    fn taken(bike: &Bike, front_share: f64, reaction: RearReaction) -> ([f64; 2], f64) {
        let (load, whole) = (&bike.parts().rider_load, bike.whole());
        let (chassis, sprung) = (whole.chassis().unwrap(), whole.sprung(load).unwrap());
        let settle = |deceleration: f64| {
            let deceleration = Acceleration::from_si(deceleration);
            let running = Running::braking(deceleration, Share::from_si(front_share), reaction);
            chassis.settle(&sprung, &running).unwrap()
        };
        let (still, braked) = (settle(0.0), settle(GENTLE));
        let front = bike.front().unwrap().wheel_rate(still.stance.travel.front).unwrap().si()
            * (braked.stance.travel.front - still.stance.travel.front).si();
        let rear = bike.rear().unwrap().wheel_rate(still.stance.travel.rear).unwrap().si()
            * (braked.stance.travel.rear - still.stance.travel.rear).si();
        ([front, rear], (braked.load.front - still.load.front).si())
    }

    /// The rest of a gently braked bike comes by virtual work on the whole of it, which knows no instant centre. The front stands
    /// on its top-out, so that the frame hardly pitches.
    #[test]
    fn a_gently_braked_rear_rises_by_what_anti_rise_leaves() {
        let stiff = (0..2).fold(demo(), |bike, leg| {
            bike.correct(&[(&format!("front.fork.leg[{leg}].spring.rate"), "400 N/mm")]).unwrap()
        });
        for (body, reaction) in [("swingarm", RearReaction::Swingarm), ("frame", RearReaction::Frame)] {
            let bike = stiff.correct(&[("rear.caliper", body)]).unwrap();
            let ([_, rear], moved) = taken(&bike, 0.0, reaction);
            let found = bike.whole().anti_rise_at_rest(&bike.parts().rider_load).unwrap();
            // What stops the wheel itself goes through the swingarm, not through the contact's line.
            let arm = bike.whole().settle(&bike.parts().rider_load).unwrap().stance.swingarm_angle.unwrap().si().tan();
            let wheel = bike.masses().unwrap().unsprung().rear.si() * GENTLE * arm;
            let left = 1.0 - found.anti_rise.si();
            assert!(
                (-(rear + wheel) / moved - left).abs() < LEFT_OUT,
                "{body}: {} {} {left}",
                -rear / moved,
                wheel / moved
            );
        }
    }

    #[test]
    fn a_gently_braked_front_dives_by_what_anti_dive_adds() {
        // The rear stiff, and so the frame nearly still.
        let bike = demo().correct(&[("rear.shock.spring.rate", "500 N/mm")]).unwrap();
        let ([front, _], moved) = taken(&bike, 1.0, RearReaction::Frame);
        let whole = bike.whole();
        let found = whole.anti_dive_at_rest(&bike.parts().rider_load).unwrap();
        assert!(found.anti_dive.si() < -0.5 && found.brake_angle.si() < 0.0, "{found:?}");
        // What stops the wheel itself works along the fork too.
        let wheel = bike.masses().unwrap().unsprung().front.si() * GENTLE * found.brake_angle.si().tan();
        let wanted = 1.0 - found.anti_dive.si();
        assert!(
            ((front - wheel) / moved - wanted).abs() < 2.0 * LEFT_OUT,
            "{} {} {wanted}",
            front / moved,
            wheel / moved
        );
    }

    #[test]
    fn everything_missing_is_said_at_once() {
        let bike = demo();
        let mut parts = bike.parts().clone();
        parts.wheels = None;
        let rear = bike.rear().unwrap();
        parts.rear =
            Some(crate::wheel::RearEnd::from_parts(rear.linkage().unwrap().clone(), rear.shock().clone()).unwrap());
        let bike = Bike::new(parts).unwrap();
        let message = bike.whole().anti_rise(&bike.parts().rider_load, &[]).unwrap_err().to_string();
        for key in ["`rear.caliper`", "`wheels`"] {
            assert!(message.contains(&format!("{key} is missing")), "{key}: {message}");
        }
    }

    #[test]
    fn a_caliper_is_on_a_body_with_the_axle_and_stays_there() {
        let bike = demo();
        let message = bike.correct(&[("rear.caliper", "rocker")]).unwrap_err().to_string();
        assert!(message.contains("rear.caliper") && message.contains("cannot sit on `rocker`"), "{message}");
        let rear = bike.rear().unwrap();
        assert_eq!(rear.caliper(), Some("swingarm"));
        let linkage = rear.linkage().unwrap().clone();
        let kept = [
            rear.with_longer_shock(Length::from_si(0.002)).unwrap(),
            rear.with_mechanism(linkage.mechanism().clone()).unwrap(),
            rear.with_linkage(linkage).unwrap(),
        ];
        assert!(kept.iter().all(|end| end.caliper() == Some("swingarm")));
        assert_eq!(Bike::from_toml(&bike.to_toml()).unwrap(), bike);
    }
}
