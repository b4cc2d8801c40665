//! What a change of setting does to how the bike stands.
//!
//! 'I raised the fork 5 mm in its clamps and put in softer springs: what happened to the trail?' The bike is settled before
//! and after. Where the heights of the masses are known, the sprung mass stays where it is on the frame and the loads
//! follow as the bike pitches; where not, the loads are taken as they were. The first adds some tenths to the answer: a
//! bike whose front comes down has its mass move forward, which brings the front down further.

use super::settling::{Running, SettledBike};
use super::{Bike, BikeParts, WholeBike};
use crate::error::{Error, MassError, Result};
use crate::record::{End, Ends, Load};
use crate::units::{Angle, Length, SpringRate};
use crate::wheel::Tunable;

/// A main spring as it is bought and set.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct SpringSetting {
    /// Rate of one spring.
    pub rate: SpringRate,
    /// Preload of each.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub preload: Length,
}

/// A change of setting; what is not stated stays.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(default, deny_unknown_fields))]
pub struct Adjustment {
    /// How far the tubes are raised in their clamps, further than now; lowered where negative.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::option"))]
    pub fork_raised: Option<Length>,
    /// How much longer the shock is made by its ride-height adjuster; shorter where negative.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::option"))]
    pub shock_longer: Option<Length>,
    /// Other main springs.
    pub springs: Ends<Option<SpringSetting>>,
}

/// What a change does under one load.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Effect {
    /// As it was.
    pub before: SettledBike,
    /// As it is then.
    pub after: SettledBike,
    /// Whether the loads follow the pitch, for which the heights of all masses in the load have to be known.
    pub loads_follow: bool,
}

impl Effect {
    /// Change of rake.
    #[must_use]
    pub fn rake(&self) -> Angle {
        self.after.stance.rake - self.before.stance.rake
    }

    /// Change of trail along the ground.
    #[must_use]
    pub fn trail(&self) -> Length {
        self.after.stance.trail - self.before.stance.trail
    }

    /// Change of wheelbase.
    #[must_use]
    pub fn wheelbase(&self) -> Length {
        self.after.stance.wheelbase - self.before.stance.wheelbase
    }

    /// Change of travel at rest. A longer shock starts its travel elsewhere, so at the rear this is not how far the axle
    /// went.
    #[must_use]
    pub fn travel(&self) -> Ends<Length> {
        let (before, after) = (self.before.stance.travel, self.after.stance.travel);
        Ends { front: after.front - before.front, rear: after.rear - before.rear }
    }

    /// How much higher a point of the frame stands, given in the frame axes: the seat, the skid plate, the steering head.
    #[must_use]
    pub fn rise(&self, point: [Length; 2]) -> Length {
        self.after.stance.place(point)[1] - self.before.stance.place(point)[1]
    }
}

impl WholeBike<'_> {
    /// The bike after a change of setting.
    ///
    /// # Errors
    /// [`BikeError::Missing`](crate::error::BikeError::Missing) for an end that is changed, and where a part cannot be set
    /// so.
    pub fn with_adjustment(&self, change: &Adjustment) -> Result<Bike> {
        let mut parts: BikeParts = self.bike.parts().clone();
        if let Some(by) = change.fork_raised {
            parts.front = Some(self.bike.front()?.raised_in_clamps(by)?);
        }
        if let Some(by) = change.shock_longer {
            parts.rear = Some(self.bike.rear()?.with_longer_shock(by)?);
        }
        for end in End::BOTH {
            let Some(SpringSetting { rate, preload }) = *change.springs.at(end) else { continue };
            match (self.bike.own_end(end), end) {
                (Some(own), _) => parts.own = parts.own.with(end, Some(own.with_spring_rate(rate, preload)?)),
                (None, End::Front) => {
                    let front = parts.front.as_ref().map_or_else(|| self.bike.front(), Ok)?;
                    parts.front = Some(front.with_spring_rate(rate, preload)?);
                }
                (None, End::Rear) => {
                    let rear = parts.rear.as_ref().map_or_else(|| self.bike.rear(), Ok)?;
                    parts.rear = Some(rear.with_spring_rate(rate, preload)?);
                }
            }
        }
        Bike::new(parts)
    }

    /// How a change of setting alters the way the bike stands under a load.
    ///
    /// # Errors
    /// As [`with_adjustment`](Self::with_adjustment) and [`settle`](Self::settle).
    pub fn effect_of(&self, change: &Adjustment, load: &Load) -> Result<Effect> {
        let (before, changed) = (self.settle(load)?, self.with_adjustment(change)?);
        match self.sprung(load) {
            Ok(sprung) => {
                let after = changed.whole().chassis()?.settle(&sprung, &Running::default())?;
                Ok(Effect { before, after, loads_follow: true })
            }
            Err(Error::Mass(MassError::NoHeight { .. })) => {
                Ok(Effect { before, after: changed.whole().settle(load)?, loads_follow: false })
            }
            Err(error) => Err(error),
        }
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::bike::ride::ModeKind;
    use crate::bike::settling::RearReaction;
    use crate::demo;
    use crate::units::{Acceleration, MomentOfInertia, Quantity, Share};

    fn patrol() -> Bike {
        Bike::from_toml(demo::PATROL).unwrap()
    }

    fn mm(value: f64) -> Length {
        Length::from_si(value / 1000.0)
    }

    /// What two searches at each end leave open, on the loads and on the travels.
    const LEFT_SI: f64 = 1e-8;

    #[test]
    fn raised_clamps_and_softer_springs_take_trail_away() {
        let bike = patrol();
        let softer = SpringSetting { rate: "4.0 N/mm".parse().unwrap(), preload: mm(6.0) };
        let springs = Ends { front: Some(softer), rear: None };
        let change = Adjustment { fork_raised: Some(mm(5.0)), springs, ..Adjustment::default() };
        let effect = bike.whole().effect_of(&change, &bike.parts().rider_load).unwrap();
        assert!(effect.loads_follow);
        assert!(effect.trail().si() < -1e-3 && effect.rake().si() < 0.0 && effect.travel().front.si() > 5e-3);
        assert!(effect.wheelbase().si() < 0.0);
        let head = [mm(560.0), mm(480.0)];
        assert!(effect.rise(head).si() < -5e-3, "{:?}", effect.rise(head));
        let alone = Adjustment { fork_raised: Some(mm(5.0)), ..Adjustment::default() };
        let alone = bike.whole().effect_of(&alone, &bike.parts().rider_load).unwrap();
        assert!(alone.trail() > effect.trail() && alone.trail().si() < 0.0, "the springs did the rest");
    }

    #[test]
    fn nothing_changed_is_nothing_moved() {
        let bike = patrol();
        let none = bike.whole().effect_of(&Adjustment::default(), &bike.parts().rider_load).unwrap();
        assert!(none.trail().si().abs() < LEFT_SI && none.travel().front.si().abs() < LEFT_SI, "{none:?}");
        assert_eq!(bike.whole().with_adjustment(&Adjustment::default()).unwrap(), bike);
    }

    #[test]
    fn without_heights_the_loads_stay_as_weighed() {
        let bike = Bike::from_toml(&demo::PATROL.replace(", height = \"560 mm\"", "")).unwrap();
        let change = Adjustment { shock_longer: Some(mm(2.0)), ..Adjustment::default() };
        let stiff = bike.whole().effect_of(&change, &bike.parts().rider_load).unwrap();
        assert!(!stiff.loads_follow && stiff.after.load == stiff.before.load);
        let known = patrol();
        let follows = known.whole().effect_of(&change, &known.parts().rider_load).unwrap();
        assert!(follows.after.load.front > follows.before.load.front, "a higher tail moves the mass forward");
        assert!(follows.trail() < stiff.trail() && stiff.trail().si() < 0.0);
    }

    #[test]
    fn the_demo_bike_has_four_modes_and_dives() {
        let bike = patrol();
        let whole = bike.whole();
        let (chassis, sprung) = (whole.chassis().unwrap(), whole.sprung(&bike.parts().rider_load).unwrap());
        let modes = chassis.modes(&sprung, MomentOfInertia::from_si(48.0)).unwrap();
        let kinds: Vec<ModeKind> = modes.iter().map(|mode| mode.kind).collect();
        assert!(kinds[2..].contains(&ModeKind::FrontHop) && kinds[2..].contains(&ModeKind::RearHop), "{modes:?}");
        assert!(modes[0].frequency.si() > 1.0 && modes[1].frequency.si() < 3.5, "{modes:?}");
        let brake = Running::braking(Acceleration::from_si(5.0), Share::from_si(1.0), RearReaction::Swingarm);
        let dived = chassis.settle(&sprung, &brake).unwrap().stance;
        let standing = bike.whole().settle(&bike.parts().rider_load).unwrap().stance;
        assert!(dived.travel.front > standing.travel.front && dived.travel.rear < standing.travel.rear);
    }

    #[test]
    fn a_change_that_cannot_be_is_refused() {
        let bike = patrol();
        let say =
            |change: Adjustment| bike.whole().effect_of(&change, &bike.parts().rider_load).unwrap_err().to_string();
        let far = say(Adjustment { fork_raised: Some(mm(500.0)), ..Adjustment::default() });
        assert!(far.starts_with("raised_in_clamps:"), "{far}");
        let long = say(Adjustment { shock_longer: Some(mm(300.0)), ..Adjustment::default() });
        assert!(long.contains("shock"), "{long}");
    }
}
