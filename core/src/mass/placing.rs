//! Where a rider's weight acts: posture as a shift of position, and ballast in the rider's place.
//!
//! By moments about the wheels' contacts, the bike level: a mass `m` that goes forward by `d` moves `m·d/L` from the rear
//! scale to the front one, and one that shows `f` and `r` on the scales acts at `L·r/(f + r)` behind the front axle. Two
//! places at `x₁` and `x₂` carry
//!
//! `m₂ = (f + r)·(x − x₁)/(x₂ − x₁)`, `m₁ = f + r − m₂`
//!
//! between them, and no other way. Heights do not matter to scales under a level bike.
//!
//! Reference: any statics text.

use super::{MOST_WHEELBASE_SI, Masses, Weighing};
use crate::error::MassError;
use crate::record::{End, Ends, Load};
use crate::units::{Length, Mass, Quantity, Share, brief, check};

/// Ballast that both scales take for a load.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Ballast {
    /// How much of it.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub mass: Mass,
    /// Where its centre of gravity goes: horizontal distance behind the front axle, bike level.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub behind_front_axle: Length,
}

impl Masses {
    /// Wheelbase to take moments about: the one given, else the one stated.
    fn base(&self, given: Option<Length>, name: &str) -> Result<Length, MassError> {
        let base = given.or(self.wheelbase).ok_or_else(|| MassError::NoWheelbase { name: name.to_owned() })?;
        Ok(check::plausible("wheelbase", base, Length::from_si(0.3), Length::from_si(MOST_WHEELBASE_SI))?)
    }

    /// The same masses, one of them moved on the bike: a rider who leans forward by so much, stands up by so much. The
    /// wheelbase is the stated one unless given.
    ///
    /// # Errors
    /// [`MassError::UnknownMass`], [`MassError::NoWheelbase`]; [`MassError::NoHeight`] when something of unknown height is
    /// raised; [`MassError::Unit`] for a shift of more than 4 m or to an impossible place; and the bike itself stays.
    pub fn shifted(
        mut self,
        name: &str,
        forward: Length,
        up: Length,
        wheelbase: Option<Length>,
    ) -> Result<Self, MassError> {
        let far = Length::from_si(MOST_WHEELBASE_SI);
        check::plausible("forward", forward, -far, far)?;
        check::plausible("up", up, -far, far)?;
        if name == Load::BIKE {
            return Err(MassError::Placed { load: name.to_owned() });
        }
        let place = self.named.iter().position(|(known, _)| known == name).ok_or_else(|| self.unknown(name))?;
        let base = self.base(wheelbase, name)?;
        if let Some((_, weighing)) = self.named.get_mut(place) {
            match weighing {
                Weighing::Scales(Ends { front, rear }) => {
                    let moved = (*front + *rear) * (forward.si() / base.si());
                    *front += moved;
                    *rear -= moved;
                }
                Weighing::Position { behind_front_axle, .. } => *behind_front_axle -= forward,
                Weighing::Total { on_front, .. } => {
                    on_front.value = Share::from_si(on_front.value.si() + forward.si() / base.si());
                }
            }
            super::check_weighing(name, weighing, Some(base))?;
        }
        match self.height(name) {
            Some(height) => self.with_height(name, height + up),
            None if up.si() == 0.0 => Ok(self),
            None => Err(MassError::NoHeight { name: name.to_owned() }),
        }
    }

    /// What comes on top of the bike, as one lump of ballast that shows the same on both scales: for setting sag without
    /// the rider. The wheelbase is the stated one unless given.
    ///
    /// # Errors
    /// [`MassError::UnknownMass`], [`MassError::Twice`], [`MassError::NoWheelbase`], and [`MassError::Placed`] for a load
    /// with the bike in it or without any mass.
    pub fn ballast(&self, load: &Load, wheelbase: Option<Length>) -> Result<Ballast, MassError> {
        let names = load.names();
        if names.is_empty() || names.iter().any(|name| name == Load::BIKE) {
            return Err(MassError::Placed { load: load.to_string() });
        }
        let base = self.base(wheelbase, &load.to_string())?;
        let [front, rear] = [End::Front, End::Rear].map(|end| self.wheel_mass(end, load).map(|mass| mass.value));
        let (front, rear) = (front?, rear?);
        let mass = front + rear;
        check::positive("ballast", mass)?;
        Ok(Ballast { mass, behind_front_axle: base * (rear.si() / mass.si()) })
    }

    /// The same at two places, given behind the front axle: how much at each (foot pegs and tail, say).
    ///
    /// # Errors
    /// As [`ballast`](Self::ballast); [`MassError::Places`] when the load does not act between the places.
    pub fn ballast_at(
        &self,
        load: &Load,
        places: [Length; 2],
        wheelbase: Option<Length>,
    ) -> Result<[Mass; 2], MassError> {
        let whole = self.ballast(load, wheelbase)?;
        let far = Length::from_si(MOST_WHEELBASE_SI);
        for place in places {
            check::plausible("place", place, -far, far)?;
        }
        let [first, second] = places.map(Quantity::si);
        let share = (whole.behind_front_axle.si() - first) / (second - first);
        if !(0.0..=1.0).contains(&share) {
            return Err(MassError::Places {
                first: brief(places[0]),
                second: brief(places[1]),
                load: load.to_string(),
                at: brief(whole.behind_front_axle),
            });
        }
        let at_second = whole.mass * share;
        Ok([whole.mass - at_second, at_second])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// A few roundings on masses of some hundred kilograms.
    const ROUNDING_SI: f64 = 1e-12;

    fn kg(value: f64) -> Mass {
        Mass::from_si(value)
    }

    fn m(value: f64) -> Length {
        Length::from_si(value)
    }

    fn masses(front: f64, rear: f64) -> Masses {
        let scales = |front: f64, rear: f64| Weighing::Scales(Ends { front: kg(front), rear: kg(rear) });
        let named = vec![(Load::BIKE.to_owned(), scales(61.0, 64.0)), ("rider".to_owned(), scales(front, rear))];
        Masses::new(named, Ends { front: kg(14.2), rear: kg(17.5) }, None).unwrap()
    }

    fn rider() -> Load {
        Load::parse("rider").unwrap()
    }

    proptest! {
        #[test]
        fn ballast_shows_what_the_rider_shows(front in 5.0..60.0_f64, rear in 5.0..90.0_f64, base in 1.2..1.7_f64) {
            let masses = masses(front, rear);
            let whole = masses.ballast(&rider(), Some(m(base))).unwrap();
            let places = [m(0.3 * whole.behind_front_axle.si()), m(1.4 * whole.behind_front_axle.si())];
            let [first, second] = masses.ballast_at(&rider(), places, Some(m(base))).unwrap();
            let on_rear = (first.si() * places[0].si() + second.si() * places[1].si()) / base;
            prop_assert!((on_rear - rear).abs() < ROUNDING_SI * 100.0 && first.si() > 0.0 && second.si() > 0.0);
            prop_assert!((first + second - kg(front + rear)).si().abs() < ROUNDING_SI);
        }

        #[test]
        fn a_shift_moves_the_place_of_the_ballast(forward in -0.3..0.3_f64, base in 1.2..1.7_f64) {
            let before = masses(30.0, 66.0).with_height("rider", m(1.2)).unwrap();
            let after = before.clone().shifted("rider", m(forward), m(-0.1), Some(m(base))).unwrap();
            let place = |masses: &Masses| masses.ballast(&rider(), Some(m(base))).unwrap().behind_front_axle.si();
            prop_assert!((place(&before) - place(&after) - forward).abs() < ROUNDING_SI);
            prop_assert!((after.height("rider").unwrap().si() - 1.1).abs() < ROUNDING_SI);
            let back = after.shifted("rider", m(-forward), m(0.1), Some(m(base))).unwrap();
            let share = back.share("rider").unwrap();
            prop_assert!((share.front.si() - 30.0).abs() < ROUNDING_SI * 100.0);
        }
    }

    #[test]
    fn a_place_shifts_as_a_place() {
        let pack = Weighing::Position { total: kg(8.0), behind_front_axle: m(1.5) };
        let bike = masses(30.0, 66.0).named()[0].clone();
        let unsprung = Ends { front: kg(14.2), rear: kg(17.5) };
        let masses = Masses::new(vec![bike, ("pack".to_owned(), pack)], unsprung, Some(m(1.48))).unwrap();
        let moved = masses.shifted("pack", m(0.2), m(0.0), None).unwrap();
        let front = moved.share("pack").unwrap().front.si();
        assert!((front - 8.0 * (1.0 - 1.3 / 1.48)).abs() < ROUNDING_SI, "{front}");
    }

    #[test]
    fn what_cannot_be_placed_is_refused() {
        let masses = masses(30.0, 66.0);
        let say = |error: MassError| error.to_string();
        assert!(
            say(masses.ballast(&Load::parse("bike + rider").unwrap(), Some(m(1.48))).unwrap_err()).contains("`rider`")
        );
        assert!(matches!(masses.ballast(&rider(), None), Err(MassError::NoWheelbase { .. })));
        let behind = masses.ballast_at(&rider(), [m(1.2), m(1.6)], Some(m(1.48))).unwrap_err();
        assert!(say(behind.clone()).contains("1017"), "{behind}");
        let nowhere = masses.ballast_at(&rider(), [m(1.2), m(1.2)], Some(m(1.48))).unwrap_err();
        assert!(matches!(&nowhere, MassError::Places { first, second, .. } if first == second), "{nowhere}");
        let raised = masses.clone().shifted("rider", m(0.0), m(0.1), Some(m(1.48))).unwrap_err();
        assert!(matches!(raised, MassError::NoHeight { .. }));
        let bike = masses.shifted(Load::BIKE, m(0.1), m(0.0), Some(m(1.48))).unwrap_err();
        assert_eq!(bike, MassError::Placed { load: Load::BIKE.to_owned() });
    }
}
