//! What drive does to the rear suspension of a bike on its wheels: its own sprockets, linkage, masses and wheels.
//!
//! Wheelbase, rear axle height and pitch of the frame are those of the bike at rest under the load, and are held over the
//! travel; the height of the centre of gravity is that of the load, bike level. At the travel of rest the numbers are
//! those of the bike as it stands; further away the pitch would change a little too, which is left out. A frame that
//! stands a degree or two nose up turns swingarm and chain with it, and anti-squat by several per cent.

use super::settling::Stance;
use super::{WholeBike, missing};
use crate::error::{BikeError, Error, Result};
use crate::linkage::{ChainDrive, Squat};
use crate::record::Load;
use crate::units::Length;
use crate::wheel::{FinalDrive, Sprockets};

impl WholeBike<'_> {
    /// Chain line, squat ratio, anti-squat and swingarm angle at some travels, the bike standing as this load leaves it.
    ///
    /// # Errors
    /// [`BikeError::ShaftDrive`]; [`BikeError::NoSquat`] with everything that is not known; as [`settle`](Self::settle)
    /// and [`Linkage::squat`](crate::linkage::Linkage::squat).
    pub fn squat(&self, load: &Load, travels: &[Length]) -> Result<Vec<Squat>> {
        let sprockets = self.sprockets_for_squat(load)?;
        let stance = self.settle(load)?.stance;
        travels.iter().map(|&travel| self.squat_standing(&sprockets, load, &stance, travel)).collect()
    }

    /// The same where the bike rests under the load.
    ///
    /// # Errors
    /// As [`squat`](Self::squat).
    pub fn squat_at_rest(&self, load: &Load) -> Result<Squat> {
        let sprockets = self.sprockets_for_squat(load)?;
        let stance = self.settle(load)?.stance;
        self.squat_standing(&sprockets, load, &stance, stance.travel.rear)
    }

    fn squat_standing(&self, sprockets: &Sprockets, load: &Load, stance: &Stance, travel: Length) -> Result<Squat> {
        let [front_radius, rear_radius] = sprockets.radii();
        let drive = ChainDrive {
            front_centre: sprockets.front_centre(),
            front_radius,
            rear_radius,
            idler: sprockets.idler(),
            wheel_radius: stance.axle_height.rear,
            cg_height: self.bike.masses()?.load_height(load)?,
            wheelbase: stance.wheelbase,
        };
        Ok(self.bike.rear()?.linkage()?.squat_pitched(&drive, stance.pitch, travel)?)
    }

    /// The sprockets, once everything else is there as well.
    fn sprockets_for_squat(&self, load: &Load) -> Result<Sprockets> {
        let rear = self.bike.rear()?;
        let sprockets = match rear.final_drive() {
            Some(FinalDrive::Chain(sprockets)) => Ok(*sprockets),
            Some(FinalDrive::Shaft) => return Err(BikeError::ShaftDrive.into()),
            None => Err(missing("rear.chain", "the chain line runs between its sprockets")),
        };
        let reasons = self.not_known_for_transfer(load, sprockets.as_ref().err().cloned());
        match (sprockets, reasons.is_empty()) {
            (Ok(sprockets), true) => Ok(sprockets),
            _ => Err(BikeError::NoSquat { reasons }.into()),
        }
    }

    /// What is missing to say how a force along the ground loads the suspension, one sentence each; `first` is missing as well.
    pub(super) fn not_known_for_transfer(&self, load: &Load, first: Option<Error>) -> Vec<String> {
        let lacks = |found: Result<()>| found.err();
        let mut reasons: Vec<Error> = [
            first,
            lacks(self.bike.rear().and_then(|rear| rear.linkage().map(drop))),
            lacks(self.bike.front().and_then(|front| {
                let purpose = "the wheelbase and the pitch of the frame come from it";
                front.extended_axle().map(drop).ok_or_else(|| missing("front.axle", purpose))
            })),
            lacks(self.bike.wheels().map(drop)),
            lacks(self.bike.masses().map(drop)),
        ]
        .into_iter()
        .flatten()
        .collect();
        if let Ok(masses) = self.bike.masses() {
            let unknown = load.names().iter().filter(|name| masses.height(name).is_none());
            reasons.extend(unknown.map(|name| {
                missing(&format!("masses.{name}.height"), "the load that moves between the wheels grows with it")
            }));
        }
        reasons.iter().map(ToString::to_string).collect()
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::bike::Bike;
    use crate::bike::settling::{RearReaction, Running};
    use crate::demo::PATROL;
    use crate::units::{Acceleration, Quantity};
    use crate::wheel::Wheel;

    fn demo() -> Bike {
        Bike::from_toml(PATROL).unwrap()
    }

    fn at_rest(bike: &Bike) -> Squat {
        let found = bike.whole().squat_at_rest(&bike.parts().rider_load).unwrap();
        assert_eq!(bike.whole().squat(&bike.parts().rider_load, &[found.travel]).unwrap(), [found]);
        found
    }

    #[test]
    fn the_swingarm_is_that_of_the_standing_bike() {
        let bike = demo();
        let stance = bike.whole().settle(&bike.parts().rider_load).unwrap().stance;
        let found = at_rest(&bike).swingarm_angle.si();
        assert!((found - stance.swingarm_angle.unwrap().si()).abs() < 1e-12, "{found} rad");
        // The frame stands nose up, and the swingarm flatter than in the drawing's axes at the same travel.
        let axes = bike.rear().unwrap().linkage().unwrap().at(stance.travel.rear).unwrap();
        assert!(stance.pitch.si() < 0.0 && (found - (-axes.axle_slope).atan() + stance.pitch.si()).abs() < 1e-12);
    }

    /// A gently driven bike comes to rest by virtual work on the whole of it, which knows no squat line. Of the load
    /// `M·a·h/p` that drive moves to the rear, the springs there take the share that anti-squat leaves. The front stands on
    /// its top-out, so that the frame hardly pitches.
    #[test]
    fn a_gently_driven_bike_sinks_by_what_anti_squat_leaves() {
        /// m/s²: a difference that the searches resolve, and small enough for everything to be straight.
        const GENTLE: f64 = 0.01;
        /// The rear's own sinking pitches the frame a little, and the load then works along the axle's path too.
        const LEFT_OUT: f64 = 0.01;
        let stiff = (0..2).fold(demo(), |bike, leg| {
            bike.correct(&[(&format!("front.fork.leg[{leg}].spring.rate"), "400 N/mm")]).unwrap()
        });
        for teeth in ["11", "13", "16"] {
            let bike = stiff.correct(&[("rear.chain.front_teeth", teeth)]).unwrap();
            let (load, rear) = (&bike.parts().rider_load, bike.rear().unwrap());
            let Some(FinalDrive::Chain(sprockets)) = rear.final_drive() else { panic!("a chain") };
            let [front_radius, rear_radius] = sprockets.radii();
            let reaction = RearReaction::Chain { sprocket: sprockets.front_centre(), front_radius, rear_radius };
            let whole = bike.whole();
            let (chassis, sprung) = (whole.chassis().unwrap(), whole.sprung(load).unwrap());
            let settle = |acceleration: f64| {
                let acceleration = Acceleration::from_si(acceleration);
                let running = Running { acceleration, rear_reaction: reaction, ..Running::default() };
                chassis.settle(&sprung, &running).unwrap()
            };
            let (still, driven) = (settle(0.0), settle(GENTLE));
            let rate = rear.wheel_rate(still.stance.travel.rear).unwrap().si();
            let taken = rate * (driven.stance.travel.rear - still.stance.travel.rear).si();
            let moved = (driven.load.rear - still.load.rear).si();
            let squat = at_rest(&bike);
            // What pushes the wheel itself forward goes through the swingarm, not through the contact's line.
            let wheel = bike.masses().unwrap().unsprung().rear.si() * GENTLE * squat.swingarm_angle.si().tan();
            let left = 1.0 - squat.anti_squat.si();
            assert!(
                ((taken - wheel) / moved - left).abs() < LEFT_OUT,
                "{teeth}: {} {} {left}",
                taken / moved,
                wheel / moved
            );
        }
    }

    #[test]
    fn everything_missing_is_reported_at_once() {
        let mut parts = demo().parts().clone();
        parts.wheels = None;
        let heights = parts.masses.take().unwrap();
        parts.masses = Some(
            crate::mass::Masses::new(heights.named().to_vec(), heights.unsprung(), None)
                .unwrap()
                .with_height("bike", Length::from_si(0.56))
                .unwrap(),
        );
        let before_chain = PATROL.split("[rear.chain]").next().unwrap();
        parts.rear = Some(Bike::from_toml(before_chain).unwrap().rear().unwrap().clone());
        let bike = Bike::new(parts).unwrap();
        let message = bike.whole().squat(&bike.parts().rider_load, &[]).unwrap_err().to_string();
        for key in ["`rear.chain`", "`wheels`", "`masses.rider.height`"] {
            assert!(message.contains(&format!("{key} is missing")), "{key}: {message}");
        }
        assert!(!message.contains("masses.bike.height"), "{message}");
    }

    #[test]
    fn a_shaft_has_no_chain_squat() {
        let mut parts = demo().parts().clone();
        parts.rear = parts.rear.map(|rear| rear.with_final_drive(FinalDrive::Shaft));
        let bike = Bike::new(parts).unwrap();
        assert_eq!(bike.whole().squat(&bike.parts().rider_load, &[]).unwrap_err(), Error::Bike(BikeError::ShaftDrive));
        assert_eq!(Bike::from_toml(&bike.to_toml()).unwrap(), bike);
    }

    #[test]
    fn another_shock_or_link_keeps_the_chain() {
        let rear = demo().rear().unwrap().clone();
        let longer = rear.with_longer_shock(Length::from_si(0.002)).unwrap();
        let drawn = rear.with_mechanism(rear.linkage().unwrap().mechanism().clone()).unwrap();
        let other = rear.with_linkage(longer.linkage().unwrap().clone()).unwrap();
        assert!(rear.final_drive().is_some());
        assert_eq!([longer, drawn, other].map(|end| end.final_drive().copied()), [rear.final_drive().copied(); 3]);
    }
}
