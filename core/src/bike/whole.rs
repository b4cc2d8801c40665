//! The whole bike at rest, from what its file states.
//!
//! Loads are those of the scales, so that the place of no mass has to be known for rake, trail and sag; for braking,
//! driving and modes the sprung mass is placed by its share of the loads and its stated height,
//!
//! `h_s = (M·h − Σ m_u·r) / (M − Σ m_u)`,
//!
//! with the whole mass `M` at the height `h` and each unsprung mass `m_u` at its axle's height `r`.

use std::sync::{Arc, OnceLock};

use super::landing::{Damper, MovingEnd, MovingParts};
use super::settling::{Chassis, ChassisParts, RoadWheel, SettledBike, Sprung, Stance};
use super::{Bike, missing};
use crate::error::{Error, Result};
use crate::record::{End, Ends, Load};
use crate::units::{Force, Length, Quantity};

/// How a bike stands: fully extended, under itself, and under its rider.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Stances {
    /// Both ends fully extended, the wheels just touching.
    pub extended: Stance,
    /// The bike alone.
    pub free: SettledBike,
    /// With the rider, under the load of the rider.
    pub rider: SettledBike,
}

/// A bike on both wheels: what its ends do together. Made by [`Bike::whole`]; what an answer lacks is said when it is asked
/// for. The chassis is put together once, on first need, whatever is asked of it.
#[derive(Debug)]
pub struct WholeBike<'a> {
    pub(super) bike: &'a Bike,
    chassis: OnceLock<Result<Chassis<'a>>>,
}

impl Bike {
    /// The bike on both wheels.
    ///
    /// ```
    /// use wheelrate::{Bike, demo::PATROL};
    /// let bike = Bike::from_toml(PATROL)?;
    /// let whole = bike.whole();
    /// let (stances, modes) = (whole.stances()?, whole.modes(&bike.parts().rider_load)?);
    /// assert!(stances.rider.stance.trail > stances.free.stance.trail && modes.len() == 4);
    /// # Ok::<(), wheelrate::Error>(())
    /// ```
    #[must_use]
    pub fn whole(&self) -> WholeBike<'_> {
        WholeBike { bike: self, chassis: OnceLock::new() }
    }
}

impl<'a> WholeBike<'a> {
    /// The bike itself.
    #[must_use]
    pub fn bike(&self) -> &'a Bike {
        self.bike
    }

    /// Both ends in one frame, on their wheels.
    ///
    /// # Errors
    /// [`BikeError::Missing`](crate::error::BikeError::Missing) without either end, masses or wheels;
    /// [`WheelError::NoAxle`](crate::error::WheelError::NoAxle) unless `front.axle` is stated.
    pub fn chassis(&self) -> Result<&Chassis<'a>> {
        self.chassis.get_or_init(|| self.made()).as_ref().map_err(Clone::clone)
    }

    fn made(&self) -> Result<Chassis<'a>> {
        let (wheels, masses) = (self.bike.wheels()?, self.bike.masses()?);
        let on_road = |end: End| RoadWheel {
            radius: wheels.ends.at(end).radius,
            tyre: wheels.ends.at(end).tyre_rate(),
            unsprung: *masses.unsprung().at(end),
        };
        let parts = ChassisParts {
            fork_offset: wheels.fork_offset,
            wheels: Ends { front: on_road(End::Front), rear: on_road(End::Rear) },
            gravity: masses.gravity(),
        };
        Chassis::with_tables(self.bike.front()?, self.bike.rear()?, parts, Arc::clone(&self.bike.tables))
    }

    /// What a load shows under each wheel, the unsprung masses included.
    fn on_scales(&self, load: &Load) -> Result<Ends<Force>> {
        let masses = self.bike.masses()?;
        let force = |end| Ok::<_, Error>(masses.wheel_mass(end, load)?.value * masses.gravity());
        Ok(Ends { front: force(End::Front)?, rear: force(End::Rear)? })
    }

    /// How the whole bike comes to rest on level ground under a load, both sags and the pitch together, friction left
    /// out.
    ///
    /// # Errors
    /// As [`chassis`](Self::chassis) and [`Chassis::settle_on_scales`]; [`MassError`](crate::error::MassError).
    pub fn settle(&self, load: &Load) -> Result<SettledBike> {
        self.chassis()?.settle_on_scales(self.on_scales(load)?)
    }

    /// How the bike stands in its three states.
    ///
    /// # Errors
    /// As [`settle`](Self::settle).
    pub fn stances(&self) -> Result<Stances> {
        Ok(Stances {
            extended: self.chassis()?.extended()?,
            free: self.settle(&Load::bike_alone())?,
            rider: self.settle(&self.bike.parts().rider_load)?,
        })
    }

    /// An end under a load with its masses and tyre, for landings and steps; the damper of the file unless another is
    /// given.
    ///
    /// # Errors
    /// [`BikeError::Missing`](crate::error::BikeError::Missing) for the end, masses, the rate of its tyre or its damper;
    /// [`MassError`](crate::error::MassError); and as [`MovingEnd::front`].
    pub fn moving_end(&self, end: End, load: &Load, friction: Force, damper: Option<Damper>) -> Result<MovingEnd<'a>> {
        let (masses, wheels) = (self.bike.masses()?, self.bike.parts().wheels.as_ref());
        let lacks_tyre = || missing(&format!("wheels.{end}.tyre"), "the end lands on its tyre");
        let own = || self.bike.end(end)?.damper().ok_or_else(|| lacks_damper(self.bike, end));
        let parts = MovingParts {
            sprung: masses.sprung_mass(end, load)?.value,
            unsprung: *masses.unsprung().at(end),
            tyre: wheels.and_then(|wheels| wheels.ends.at(end).tyre_rate()).ok_or_else(lacks_tyre)?,
            friction,
            damper: damper.map_or_else(own, Ok)?,
        };
        MovingEnd::of(self.bike.end(end)?, parts)
    }

    /// The sprung mass of a load and its centre of gravity in the frame axes.
    ///
    /// # Errors
    /// As [`settle`](Self::settle), and [`MassError::NoHeight`](crate::error::MassError::NoHeight).
    pub fn sprung(&self, load: &Load) -> Result<Sprung> {
        let (chassis, loads) = (self.chassis()?, self.on_scales(load)?);
        let masses = self.bike.masses()?;
        let axles = chassis.settle_on_scales(loads)?.stance.axle_height;
        let unsprung = masses.unsprung();
        let whole = (loads.front + loads.rear).si() / masses.gravity().si();
        let carried: f64 = End::BOTH.into_iter().map(|end| unsprung.at(end).si()).sum();
        let at_axles: f64 = End::BOTH.into_iter().map(|end| unsprung.at(end).si() * axles.at(end).si()).sum();
        let height = (whole * masses.load_height(load)?.si() - at_axles) / (whole - carried);
        chassis.sprung_from_scales(loads, Length::from_si(height))
    }

    /// Where the centre of gravity of the whole bike is in a stance: its distance ahead of the rear contact and its height
    /// above the ground. The sprung mass goes with the frame, each unsprung mass with its axle.
    ///
    /// # Errors
    /// As [`sprung`](Self::sprung).
    pub fn centre_of_gravity(&self, load: &Load, stance: &Stance) -> Result<[Length; 2]> {
        let (sprung, unsprung) = (self.sprung(load)?, self.bike.masses()?.unsprung());
        let [front, rear] = [unsprung.front, unsprung.rear];
        let whole = sprung.mass + front + rear;
        let [ahead, above] = stance.place([sprung.x, sprung.z]);
        let heights = stance.axle_height;
        Ok([
            (sprung.mass * ahead + front * stance.wheelbase) / whole,
            (sprung.mass * above + front * heights.front + rear * heights.rear) / whole,
        ])
    }
}

/// What is said where an answer needs a damper and the file has none.
pub(crate) fn lacks_damper(bike: &Bike, end: End) -> Error {
    let key = match end {
        End::Front if bike.sprung(end).is_some() => "front.shock.damper",
        End::Front => "front.fork.damper",
        End::Rear => "rear.shock.damper",
    };
    missing(key, "what slows the motion down")
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::bike::BikeParts;
    use crate::bike::settling::Running;
    use crate::demo::PATROL;
    use crate::error::{BikeError, WheelError};
    use crate::wheel::{FrontEnd, Wheel};

    fn demo() -> Bike {
        Bike::from_toml(PATROL).unwrap()
    }

    #[test]
    fn the_placed_mass_rests_as_the_scales_say() {
        let bike = demo();
        let load = bike.parts().rider_load.clone();
        let scales = bike.whole().settle(&load).unwrap();
        let sprung = bike.whole().sprung(&load).unwrap();
        let placed = bike.whole().chassis().unwrap().settle(&sprung, &Running::default()).unwrap();
        for end in End::BOTH {
            assert!((placed.load.at(end).si() - scales.load.at(end).si()).abs() < 1e-6, "{end}");
            let travels = [&placed, &scales].map(|settled| settled.stance.travel.at(end).si());
            assert!((travels[0] - travels[1]).abs() < 1e-9, "{end}: {travels:?} m");
        }
        assert!((sprung.mass.si() - (221.0 - 31.7)).abs() < 1e-9);
    }

    #[test]
    fn the_centre_of_gravity_is_where_the_scales_and_its_height_put_it() {
        let bike = demo();
        for load in [Load::bike_alone(), bike.parts().rider_load.clone()] {
            let stance = bike.whole().settle(&load).unwrap().stance;
            let [ahead, above] = bike.whole().centre_of_gravity(&load, &stance).unwrap();
            let masses = bike.masses().unwrap();
            let mass = |end| masses.wheel_mass(end, &load).unwrap().value.si();
            let share = mass(End::Front) / (mass(End::Front) + mass(End::Rear));
            // Moments about the rear contact, and the stated height; both come back up to rounding.
            assert!(((ahead / stance.wheelbase).value - share).abs() < 1e-9, "{ahead:?}");
            assert!((above - masses.load_height(&load).unwrap()).si().abs() < 1e-9, "{above:?}");
        }
        let free = Load::bike_alone();
        let heights = [bike.whole().chassis().unwrap().extended().unwrap(), bike.whole().settle(&free).unwrap().stance]
            .map(|stance| bike.whole().centre_of_gravity(&free, &stance).unwrap()[1]);
        assert!(heights[0] > heights[1], "{heights:?}");
    }

    #[test]
    fn the_ends_settle_together_nearly_as_alone() {
        // The pitch of a degree or two turns the load by its cosine and brings in a little of the axle's path.
        const PITCH_EFFECT: f64 = 0.01;
        let bike = demo();
        let stances = bike.whole().stances().unwrap();
        for end in End::BOTH {
            let load = bike.masses().unwrap().sprung_load(end, &bike.parts().rider_load).unwrap().value;
            let alone = bike.end(end).unwrap().travel_under(load).unwrap().state().unwrap().travel.si();
            let together = stances.rider.stance.travel.at(end).si();
            assert!((together - alone).abs() < PITCH_EFFECT, "{end}: {alone} m alone, {together} m together");
            assert!(stances.free.stance.travel.at(end) < stances.rider.stance.travel.at(end));
        }
        // Axles 1480 mm apart and 15 mm from level: so are the contacts.
        assert!((stances.extended.wheelbase.si() - 1.48).abs() < 1e-4, "{:?}", stances.extended.wheelbase);
        assert!((stances.extended.trail.si() - 0.113).abs() < 1e-3, "{:?}", stances.extended.trail);
    }

    #[test]
    fn an_end_lands_with_the_masses_and_tyre_of_the_file() {
        let bike = demo();
        let damper = Damper::linear(Quantity::from_si(3000.0)).unwrap();
        let none = Force::from_si(0.0);
        let rear = bike.whole().moving_end(End::Rear, &bike.parts().rider_load, none, Some(damper.clone())).unwrap();
        assert!((rear.parts().sprung.si() - (64.0 + 66.0 - 17.5)).abs() < 1e-12);
        let landing = rear.land(Length::from_si(0.3), Quantity::from_si(1.0)).unwrap();
        assert_eq!(landing.full_travel, bike.rear().unwrap().full_travel());
        assert!(landing.peak_travel < landing.full_travel && landing.peak_travel > landing.rest_travel);
        let undamped = bike.whole().moving_end(End::Rear, &bike.parts().rider_load, none, None).map(|_| ());
        assert_eq!(undamped, Ok(()), "the demo states its dampers");
        let rigid = Bike::from_toml(&PATROL.replace(", tyre = \"180 N/mm\"", "")).unwrap();
        let error = rigid.whole().moving_end(End::Rear, &rigid.parts().rider_load, none, Some(damper)).unwrap_err();
        assert!(error.to_string().starts_with("`wheels.rear.tyre` is missing"), "{error}");
    }

    #[test]
    fn a_damper_is_missed_where_the_file_would_have_it() {
        let linked = Bike::from_toml(include_str!("../../../tests/files/links.toml")).unwrap();
        let said = |bike: &Bike, end: End| lacks_damper(bike, end).to_string();
        assert!(said(&linked, End::Front).starts_with("`front.shock.damper` is missing"));
        assert!(said(&demo(), End::Front).starts_with("`front.fork.damper` is missing"));
        for bike in [&linked, &demo()] {
            assert!(said(bike, End::Rear).starts_with("`rear.shock.damper` is missing"));
        }
    }

    #[test]
    fn says_what_is_missing() {
        let bike = demo();
        let without = |change: fn(&mut BikeParts)| {
            let mut parts = bike.parts().clone();
            change(&mut parts);
            Bike::new(parts).unwrap().whole().stances().unwrap_err()
        };
        let missing =
            |error: Error, key: &str| matches!(error, Error::Bike(BikeError::Missing { part, .. }) if part == key);
        assert!(missing(without(|parts| parts.wheels = None), "wheels"));
        assert!(missing(without(|parts| parts.masses = None), "masses"));
        assert!(missing(without(|parts| parts.rear = None), "rear.linkage"));
        let no_axle =
            without(|parts| parts.front = parts.front.as_ref().map(|end| FrontEnd::new(end.fork().unwrap().clone())));
        assert_eq!(no_axle, Error::Wheel(WheelError::NoAxle));
    }
}
