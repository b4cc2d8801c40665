//! Pitch inertia of what the springs carry, from that of its parts; modes and posture of a bike from its file.
//!
//! `I_s = Σ [I_i + m_i·((x_i − x_s)² + (h_i − h_s)²)] − Σ m_u·((x_u − x_s)² + (r_u − h_s)²)`
//!
//! with each mass `m_i` of the load at its place (its share of the scales, its height), the sprung centre of gravity
//! `(x_s, h_s)` and the unsprung masses `m_u` at their axles (parallel axes; Goldstein, *Classical Mechanics*, 5.3). A wheel
//! that rolls does not pitch with the frame: its own inertia has to be taken off the bike's if that was swung with the
//! wheels held.

use super::ride::Mode;
use super::{Bike, WholeBike};
use crate::error::{BikeError, MassError, Result};
use crate::record::{End, Load};
use crate::units::{Length, MomentOfInertia, Quantity, check};

impl WholeBike<'_> {
    /// Pitch inertia of the sprung mass of a load about its centre of gravity.
    ///
    /// # Errors
    /// As [`sprung`](Self::sprung), [`MassError::NoPitchInertia`], and [`BikeError::Unit`] when what is stated leaves
    /// nothing: the bike's own is too small for its unsprung masses.
    pub fn pitch_inertia(&self, load: &Load) -> Result<MomentOfInertia> {
        let (masses, sprung) = (self.bike.masses()?, self.sprung(load)?);
        let stance = self.settle(load)?.stance;
        let wheelbase = stance.wheelbase.si();
        let [ahead, height] = stance.place([sprung.x, sprung.z]).map(Quantity::si);
        let mut inertia = 0.0;
        for name in load.names() {
            let share = masses.share(name)?;
            let (front, whole) = (share.front.si(), (share.front + share.rear).si());
            let own = masses.pitch_inertia(name).ok_or_else(|| MassError::NoPitchInertia { name: name.clone() })?;
            let at = masses.height(name).ok_or_else(|| MassError::NoHeight { name: name.clone() })?;
            let (dx, dh) = (wheelbase * front / whole - ahead, at.si() - height);
            inertia += own.si() + whole * (dx * dx + dh * dh);
        }
        for (end, place) in [(End::Front, wheelbase), (End::Rear, 0.0)] {
            let (dx, dh) = (place - ahead, stance.axle_height.at(end).si() - height);
            inertia -= masses.unsprung().at(end).si() * (dx * dx + dh * dh);
        }
        let inertia = MomentOfInertia::from_si(inertia);
        Ok(check::positive("pitch inertia of the sprung mass", inertia).map_err(BikeError::from)?)
    }

    /// Bounce, pitch and, with tyre rates, wheel hop about the rest under a load, from what the file states.
    ///
    /// # Errors
    /// As [`pitch_inertia`](Self::pitch_inertia) and [`Chassis::modes`](super::settling::Chassis::modes).
    pub fn modes(&self, load: &Load) -> Result<Vec<Mode>> {
        self.chassis()?.modes(&self.sprung(load)?, self.pitch_inertia(load)?)
    }

    /// The bike with one of its masses moved: the rider forward by so much, up by so much. The wheelbase is the stated one,
    /// else that under the rider.
    ///
    /// # Errors
    /// As [`Masses::shifted`](crate::mass::Masses::shifted), and where no wheelbase is stated as
    /// [`settle`](Self::settle).
    pub fn with_shift(&self, name: &str, forward: Length, up: Length) -> Result<Bike> {
        let masses = self.bike.masses()?;
        let wheelbase = self.wheelbase_for_moments()?;
        let shifted = masses.clone().shifted(name, forward, up, Some(wheelbase))?;
        let mut parts = self.bike.parts().clone();
        parts.masses = Some(shifted);
        Bike::new(parts)
    }

    /// The wheelbase that positions of masses count in: the stated one, else that under the rider.
    ///
    /// # Errors
    /// As [`settle`](Self::settle).
    pub fn wheelbase_for_moments(&self) -> Result<Length> {
        match self.bike.masses()?.wheelbase() {
            Some(stated) => Ok(stated),
            None => Ok(self.settle(&self.bike.parts().rider_load)?.stance.wheelbase),
        }
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::bike::ride::ModeKind;
    use crate::demo::PATROL;
    use crate::error::Error;

    fn demo() -> Bike {
        Bike::from_toml(PATROL).unwrap()
    }

    #[test]
    fn inertia_of_parts_adds_up_about_the_sprung_centre() {
        // Worked by hand from the stated numbers and the settled wheelbase and axle heights.
        let bike = demo();
        let load = bike.parts().rider_load.clone();
        let stance = bike.whole().settle(&load).unwrap().stance;
        let base = stance.wheelbase.si();
        let [front, rear] = [stance.axle_height.front.si(), stance.axle_height.rear.si()];
        let parts = [
            (125.0, base * 61.0 / 125.0, 0.56),
            (96.0, base * 30.0 / 96.0, 1.2),
            (-14.2, base, front),
            (-17.5, 0.0, rear),
        ];
        let sum = |of: &dyn Fn(f64, f64, f64) -> f64| parts.iter().map(|&(m, x, h)| of(m, x, h)).sum::<f64>();
        let mass = sum(&|m, _, _| m);
        let (x, h) = (sum(&|m, x, _| m * x) / mass, sum(&|m, _, h| m * h) / mass);
        let own = [BIKE_OWN_SI, RIDER_OWN_SI].iter().sum::<f64>();
        let about = own + sum(&|m, px, ph| m * ((px - x).powi(2) + (ph - h).powi(2)));
        let found = bike.whole().pitch_inertia(&load).unwrap().si();
        assert!((found - about).abs() < 1e-9, "{found} {about}");
    }

    /// As the demo states them.
    const BIKE_OWN_SI: f64 = 22.0;
    const RIDER_OWN_SI: f64 = 12.0;

    #[test]
    fn the_file_is_enough_for_modes() {
        let bike = demo();
        let modes = bike.whole().modes(&bike.parts().rider_load).unwrap();
        assert_eq!(modes.len(), 4);
        assert!(modes.iter().any(|mode| mode.kind == ModeKind::FrontHop));
        let without = Bike::from_toml(&PATROL.replace(", pitch_inertia = \"12 kg m2\"", "")).unwrap();
        let error = without.whole().modes(&without.parts().rider_load).unwrap_err();
        assert_eq!(error, Error::Mass(MassError::NoPitchInertia { name: "rider".to_owned() }));
    }

    #[test]
    fn a_rider_who_moves_forward_loads_the_front() {
        let bike = demo();
        let (load, none) = (bike.parts().rider_load.clone(), Length::from_si(0.0));
        let forward = bike.whole().with_shift("rider", Length::from_si(0.1), none).unwrap();
        let (before, after) = (bike.whole().settle(&load).unwrap(), forward.whole().settle(&load).unwrap());
        assert!(after.stance.travel.front > before.stance.travel.front);
        assert!(after.stance.travel.rear < before.stance.travel.rear);
        assert!(after.stance.trail < before.stance.trail);
        let moved = (after.load.front - before.load.front).si() / crate::units::kind::STANDARD_GRAVITY_SI;
        let expected = 96.0 * 0.1 / before.stance.wheelbase.si();
        assert!((moved - expected).abs() < 1e-9, "{moved} {expected}");
    }
}
