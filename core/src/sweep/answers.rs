//! What a design answers: each part of it worked out once, when an output first asks for it.

use std::cell::OnceCell;

use super::output::{Asks, Output};
use crate::Result;
use crate::bike::Bike;
use crate::bike::settling::SettledBike;
use crate::decide::adviser::Adviser;
use crate::decide::decision::{Best, Today};
use crate::decide::predict::Setting;
use crate::error::{BikeError, Error, SetupError, SweepError};
use crate::infer::Study;
use crate::infer::model::settle_exactly;
use crate::infer::study::Carrier;
use crate::record::{End, Ends, Load};
use crate::units::{Length, Quantity};
use crate::wheel::{Wheel, WheelCurve};

/// One design with what has been worked out of it so far.
pub(super) struct Answers<'a> {
    bike: &'a Bike,
    carriers: &'a Ends<Option<Result<Carrier>>>,
    points: usize,
    ends: Ends<OfEnd>,
    settled: OnceCell<Result<SettledBike>>,
}

/// What has been worked out of one end.
#[derive(Default)]
struct OfEnd {
    curve: OnceCell<Result<WheelCurve>>,
    study: OnceCell<Result<Study>>,
    adviser: OnceCell<Result<Adviser>>,
    today: OnceCell<Result<Today>>,
    best: OnceCell<Result<Best>>,
    setting: OnceCell<Result<Setting>>,
}

impl<'a> Answers<'a> {
    pub(super) fn new(bike: &'a Bike, carriers: &'a Ends<Option<Result<Carrier>>>, points: usize) -> Self {
        Self { bike, carriers, points, ends: Ends::default(), settled: OnceCell::new() }
    }

    /// Writes what is asked, in SI units: one number, or one per point of the curve.
    pub(super) fn write(&self, output: Output, to: &mut Vec<f64>) -> Result<()> {
        match (output.end, output.asks.is_row()) {
            (Some(end), true) => {
                let curve = self.curve(end)?;
                match output.asks {
                    Asks::CurveRatio => to.extend(curve.motion_ratio.iter().map(|value| value.si())),
                    Asks::CurveForce => to.extend(curve.wheel_force.iter().map(|value| value.si())),
                    Asks::CurveRate => to.extend(curve.wheel_rate.iter().map(|value| value.si())),
                    Asks::CurveEnergy => to.extend(curve.energy.iter().map(|value| value.si())),
                    _ => to.extend(curve.travel.iter().map(|value| value.si())),
                }
            }
            (Some(end), false) => to.push(self.of_end(end, output.asks)?),
            (None, _) => to.push(self.of_bike(output.asks)?),
        }
        Ok(())
    }

    fn of_end(&self, end: End, asks: Asks) -> Result<f64> {
        let kernel = self.bike.end(end)?;
        let least = |values: &mut dyn Iterator<Item = f64>| values.fold(f64::INFINITY, f64::min);
        Ok(match asks {
            Asks::FullTravel => kernel.full_travel().si(),
            Asks::Progression => {
                let ratio = |travel: Length| kernel.stroke_at(travel).motion_ratio.si();
                ratio(kernel.full_travel()) / ratio(Length::from_si(0.0)) - 1.0
            }
            Asks::LeastRatio => least(&mut self.curve(end)?.motion_ratio.iter().map(|ratio| ratio.si())),
            Asks::GreatestRatio => -least(&mut self.curve(end)?.motion_ratio.iter().map(|ratio| -ratio.si())),
            Asks::LeastRate => least(&mut self.curve(end)?.wheel_rate.iter().map(|rate| rate.si())),
            Asks::RiderTravel => self.travel(end, &self.bike.parts().rider_load)?,
            Asks::FreeTravel => self.travel(end, &Load::bike_alone())?,
            Asks::RatioAtSag => self.at_sag(end)?.0,
            Asks::RateAtSag => self.at_sag(end)?.1,
            Asks::RiderSag => self.today(end)?.rider_sag.value.si(),
            Asks::FreeSag => self.today(end)?.free_sag.value.si(),
            Asks::RiderSagUncertainty => self.today(end)?.rider_sag.standard_uncertainty.si(),
            Asks::FreeSagUncertainty => self.today(end)?.free_sag.standard_uncertainty.si(),
            Asks::Chance => self.today(end)?.probability.si(),
            Asks::BestChance => self.best(end)?.action.probability.si(),
            Asks::BestRate => self.best(end)?.rate.si(),
            Asks::BestPreloadChange => self.best(end)?.preload_change.si(),
            Asks::RideFrequency => self.setting(end)?.frequency.value,
            Asks::FullForce => self.setting(end)?.full_force.value,
            Asks::EnergyLeft => self.setting(end)?.energy_left.value,
            Asks::DropHeight => self.setting(end)?.drop_height.value,
            Asks::StatedRiderTravel => self.stated(kernel, end, &self.bike.parts().rider_load)?,
            Asks::StatedFreeTravel => self.stated(kernel, end, &Load::bike_alone())?,
            _ => f64::NAN,
        })
    }

    fn of_bike(&self, asks: Asks) -> Result<f64> {
        if asks == Asks::AntiSquat {
            return Ok(self.bike.whole().squat_at_rest(&self.bike.parts().rider_load)?.anti_squat.si());
        }
        let settled = once(&self.settled, || self.bike.whole().settle(&self.bike.parts().rider_load))?;
        let stance = &settled.stance;
        Ok(match asks {
            Asks::Trail => stance.trail.si(),
            Asks::Rake => stance.rake.si(),
            Asks::Wheelbase => stance.wheelbase.si(),
            Asks::Pitch => stance.pitch.si(),
            _ => stance.swingarm_angle.ok_or(crate::error::WheelError::NotDrawn)?.si(),
        })
    }

    fn curve(&self, end: End) -> Result<&WheelCurve> {
        once(&self.ends.at(end).curve, || {
            let kernel = self.bike.end(end)?;
            kernel.curve(&kernel.travels(self.points))
        })
    }

    fn study(&self, end: End) -> Result<&Study> {
        once(&self.ends.at(end).study, || match self.carriers.at(end) {
            Some(Ok(carrier)) => carrier.into(self.bike),
            Some(Err(error)) => Err(error.clone()),
            None => Err(BikeError::Missing { part: end.to_string(), purpose: "it is asked for".to_owned() }.into()),
        })
    }

    fn adviser(&self, end: End) -> Result<&Adviser> {
        once(&self.ends.at(end).adviser, || self.study(end)?.adviser())
    }

    fn today(&self, end: End) -> Result<&Today> {
        once(&self.ends.at(end).today, || self.adviser(end)?.stands())
    }

    fn best(&self, end: End) -> Result<&Best> {
        once(&self.ends.at(end).best, || self.adviser(end)?.best_action())
    }

    fn setting(&self, end: End) -> Result<&Setting> {
        once(&self.ends.at(end).setting, || {
            let setting = self.adviser(end)?.left_alone()?;
            setting.ok_or_else(|| self.on_stop(end, &self.bike.parts().rider_load))
        })
    }

    /// Travel at which the springs carry a load, as found.
    fn travel(&self, end: End, load: &Load) -> Result<f64> {
        let solved = &self.study(end)?.solved;
        Ok(solved.travel(self.place(end, load)?).ok_or(SetupError::Singular)?.value)
    }

    fn place(&self, end: End, load: &Load) -> Result<usize> {
        let place = self.study(end)?.solved.gathered.place(load);
        let wanted = "state the masses that it is made of";
        Ok(place.ok_or(SetupError::Missing { end, what: "load", wanted })?)
    }

    /// Motion ratio and wheel rate under the rider load.
    fn at_sag(&self, end: End) -> Result<(f64, f64)> {
        let load = &self.bike.parts().rider_load;
        let solved = &self.study(end)?.solved;
        let place = self.place(end, load)?;
        let kernel = solved.evidence.end.as_ref();
        let [factor, preload, ..] = solved.evidence.physical(&solved.posterior.unknowns);
        let weight = solved.evidence.load(&solved.posterior.unknowns, place);
        let (_, travel, wheel) =
            settle_exactly(kernel, weight, factor, preload, solved.near(place)).ok_or(SetupError::Singular)?;
        if !(0.0..=kernel.full_travel()).contains(&travel) {
            return Err(self.on_stop(end, load));
        }
        let at = kernel.kinematics(travel).ok_or(SetupError::Singular)?;
        Ok((at.ratio, wheel.rate))
    }

    /// Travel under a load by the labels.
    fn stated(&self, kernel: &dyn Wheel, end: End, load: &Load) -> Result<f64> {
        let settling = kernel.travel_under(self.bike.masses()?.sprung_load(end, load)?.value)?;
        Ok(settling.state().ok_or_else(|| self.on_stop(end, load))?.travel.si())
    }

    fn on_stop(&self, end: End, load: &Load) -> Error {
        SweepError::OnStop { end, load: load.to_string() }.into()
    }
}

/// What is in a cell, worked out the first time.
fn once<T>(cell: &OnceCell<Result<T>>, make: impl FnOnce() -> Result<T>) -> Result<&T> {
    cell.get_or_init(make).as_ref().map_err(Clone::clone)
}
