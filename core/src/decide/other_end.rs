//! What an action at one end does to the sag of the other: both ends settle together.
//!
//! `Δz_other = c/(c − k_other)·Δz`, `c = g·(M·h − Σ m_u·r)/L²`
//!
//! An end that comes up by `Δz` pitches the bike by `Δz/L`, which moves the sprung mass by its height along the wheelbase `L`,
//! and so shifts `c·Δz` of load between the wheels; the other end gives by that over its wheel rate, which pitches the bike
//! again. To first order in the change, with the wheel rate under the rider, the wheelbase and the fork's attitude held: good
//! to a fifth of some tenths of a millimetre. [`WholeBike::effect_of`](crate::bike::WholeBike::effect_of) settles the whole bike.

use crate::bike::{Bike, SagConversion};
use crate::decide::verdict::Act;
use crate::record::{Direction, End};
use crate::units::{Length, Quantity};
use crate::wheel::{EndKernel, Rest};

/// What the action does to the other end.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct OtherEnd {
    /// Which end.
    pub end: End,
    /// Change of its sag with the rider on, along the direction in which it is read; positive where it sits lower then.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub rider_sag: Length,
    /// That direction.
    pub direction: Direction,
}

impl OtherEnd {
    /// `moved` is the travel by which the end itself sits lower. `None` where nothing is changed, or heights, wheels or axles of
    /// the whole bike are not known.
    pub(crate) fn of(bike: &Bike, end: End, act: Act, moved: Length) -> Option<Self> {
        if act == Act::Leave {
            return None;
        }
        let end = end.other();
        let (masses, wheels, load) = (bike.masses().ok()?, bike.wheels().ok()?, &bike.parts().rider_load);
        let whole: f64 = End::BOTH.iter().filter_map(|end| Some(masses.wheel_mass(*end, load).ok()?.value.si())).sum();
        let unsprung = masses.unsprung();
        let at_axles: f64 = End::BOTH.iter().map(|end| unsprung.at(*end).si() * wheels.ends.at(*end).radius.si()).sum();
        let moment = whole * masses.load_height(load).ok()?.si() - at_axles;
        let mut axles = [0.0_f64; 2];
        let direction = bike.measuring_or_vertical(end).direction;
        let (mut rate, mut per_travel) = (0.0, 1.0);
        for (place, of) in axles.iter_mut().zip(End::BOTH) {
            let wheel = bike.end(of).ok()?;
            let Rest::At(travel) = bike.end_under(of, masses.sprung_load(of, load).ok()?.value.si()).ok()? else {
                return None;
            };
            *place = wheel.axle_point(travel)?.at[0];
            if of == end {
                rate = wheel.wheel_rate(Length::from_si(travel)).ok()?.si();
                per_travel = SagConversion::of(bike, end, direction).ok()?.sag_and_slope(travel).1;
            }
        }
        let shift = masses.gravity().si() * moment / (axles[0] - axles[1]).powi(2);
        let rider_sag = shift / (shift - rate) * moved * per_travel;
        Some(Self { end, rider_sag, direction })
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::bike::{Adjustment, SpringSetting};
    use crate::demo::PATROL;
    use crate::units::SpringRate;

    #[test]
    fn it_is_what_settling_the_whole_bike_gives() {
        let bike = Bike::from_toml(PATROL).unwrap();
        let decision = bike.advise_end(End::Rear).unwrap();
        let found = decision.other_end.unwrap();
        assert_eq!(found.end, End::Front);
        // A change of preload that moves the rear as far as the action does, settled as a whole.
        let set = |preload: f64| {
            let rear = SpringSetting { rate: SpringRate::from_si(52e3), preload: Length::from_si(preload) };
            let mut change = Adjustment::default();
            change.springs.rear = Some(rear);
            bike.whole().effect_of(&change, &bike.parts().rider_load).unwrap().travel()
        };
        let effect = set(18e-3);
        // The fork is read along itself, which is shorter than the travel by the cosine of its rake.
        let whole = effect.front.si() / effect.rear.si() * bike.front().unwrap().fork().unwrap().motion_ratio().si();
        let advised = decision.choice_of(decision.action().unwrap().act).unwrap().outcome.unwrap();
        let moved = (advised.rider_sag.value - decision.today.rider_sag.value).si();
        let first_order = found.rider_sag.si() / moved;
        // What the module says it leaves out.
        assert!(whole < 0.0 && (first_order / whole - 1.0).abs() < 0.2, "{first_order} {whole}");
    }
}
