//! What warm gas does to an end over a descent: pressure, force, sag and reserve.
//!
//! `p(t)/p(0) = T(t)/T(0)` at one volume, `F(z, T)` with the gas running at `T`, rest where `F(z, T) = load`
//!
//! The temperature follows [`Warming`]; the surroundings stay as the file states them. Steel does not feel it. The uncertainty is that
//! of the time constant alone: half of what lies between one standard uncertainty of it more and less. Frame level, springs as the
//! file states them, no friction: a fork stays within its friction of where it was, and moves only when it is shaken.

use super::WholeBike;
use super::ride::reserve_of;
use crate::error::Result;
use crate::gas::Warming;
use crate::record::{End, Load};
use crate::units::{Energy, Force, Length, Quantity, Share, Temperature, Time, Uncertain};
use crate::wheel::{Settling, Wheel};

/// An end at one time of a descent.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct DescentState {
    /// Since the start.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub time: Time,
    /// Of the gas.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub temperature: Temperature,
    /// Pressure over that at the start, at one stroke, above vacuum.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub pressure: Share,
    /// Force at the wheel where the end rested at the start.
    pub force: Uncertain<Force>,
    /// Vertical travel at rest under the load.
    pub travel: Uncertain<Length>,
    /// Energy from there to full travel, reached fast, less what the load does on the way.
    pub reserve: Uncertain<Energy>,
}

impl WholeBike<'_> {
    /// An end under a load as its gas warms, or cools, at some times from the start.
    ///
    /// # Errors
    /// [`BikeError::Missing`](crate::error::BikeError::Missing) for the end or masses; an end of your own has no gas to warm; a time
    /// or temperature out of range; a chamber that the heat brings out of range.
    pub fn descent(&self, end: End, load: &Load, warming: &Warming, times: &[Time]) -> Result<Vec<DescentState>> {
        let sprung = self.bike.masses()?.sprung_load(end, load)?.value;
        let at = |kelvin: f64| self.warmed(end, Temperature::from_si(kelvin));
        let rest = |end: &dyn Wheel| -> Result<Length> {
            Ok(match end.travel_under(sprung)? {
                Settling::Settled { state, .. } => state.travel,
                Settling::ToppedOut { .. } => Length::default(),
                Settling::Bottomed { .. } => end.full_travel(),
            })
        };
        let start = warming.start().si();
        let first = rest(&*at(start)?)?;
        let of = |kelvin: f64| -> Result<[f64; 3]> {
            let end = at(kelvin)?;
            let travel = rest(&*end)?;
            let reserve = reserve_of(&*end, travel, sprung)?.energy;
            Ok([end.at(first)?.wheel_force.si(), travel.si(), reserve.si()])
        };
        let state = |&time: &Time| -> Result<DescentState> {
            let (temperature, spread) = (warming.at(time)?, warming.spread_at(time));
            let here = of(temperature.si())?;
            let beside = if spread > 0.0 {
                let (more, less) = (of(temperature.si() + spread)?, of(temperature.si() - spread)?);
                [0, 1, 2].map(|k| 0.5 * (more[k] - less[k]).abs())
            } else {
                [0.0; 3]
            };
            Ok(DescentState {
                time,
                temperature,
                pressure: Share::from_si(temperature.si() / start),
                force: with(here[0], beside[0]),
                travel: with(here[1], beside[1]),
                reserve: with(here[2], beside[2]),
            })
        };
        times.iter().map(state).collect()
    }

    fn warmed(&self, end: End, temperature: Temperature) -> Result<Box<dyn Wheel>> {
        Ok(match end {
            End::Front => Box::new(self.bike.front()?.warmed_to(temperature)?),
            End::Rear => Box::new(self.bike.rear()?.warmed_to(temperature)?),
        })
    }
}

fn with<Q: Quantity>(value: f64, uncertainty: f64) -> Uncertain<Q> {
    Uncertain { value: Q::from_si(value), standard_uncertainty: Q::from_si(uncertainty) }
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::bike::Bike;
    use crate::demo::PATROL;
    use crate::units::parse;

    fn over(bike: &Bike, end: End, to: &str) -> Vec<DescentState> {
        let warming = Warming::new(parse("15 degC").unwrap(), parse(to).unwrap(), parse("600 s").unwrap()).unwrap();
        let warming = warming.with_time_constant_uncertainty(parse("120 s").unwrap()).unwrap();
        let times = ["0 s", "600 s", "3000 s"].map(|time| parse(time).unwrap());
        bike.whole().descent(end, &bike.parts().rider_load, &warming, &times).unwrap()
    }

    #[test]
    fn warm_gas_lifts_the_end_and_leaves_more_in_reserve() {
        let bike = Bike::from_toml(PATROL).unwrap();
        for end in End::BOTH {
            let [start, middle, late] = over(&bike, end, "60 degC")[..] else { panic!("three times") };
            assert!(start.travel.value > middle.travel.value && middle.travel.value > late.travel.value, "{end}");
            assert!(start.reserve.value < middle.reserve.value && start.force.value < late.force.value, "{end}");
            assert!(start.travel.standard_uncertainty.si() == 0.0 && middle.travel.standard_uncertainty.si() > 0.0);
            // The file's own conditions are 15 °C: at the start nothing has changed.
            let sprung = bike.masses().unwrap().sprung_load(end, &bike.parts().rider_load).unwrap().value;
            let rest = bike.end(end).unwrap().travel_under(sprung).unwrap();
            assert!((rest.state().unwrap().travel - start.travel.value).si().abs() < 1e-9, "{end}");
        }
    }

    #[test]
    fn at_one_temperature_nothing_moves() {
        let bike = Bike::from_toml(PATROL).unwrap();
        let found = over(&bike, End::Front, "15 degC");
        assert!(found.iter().all(|at| at.travel == found[0].travel && at.force == found[0].force));
        assert!(found.iter().all(|at| at.pressure.si() == 1.0));
    }
}
