//! The load that springs and damper held on average, and the travel at which it rests.

use super::EndTravel;
use crate::bike::{Bike, SagConversion};
use crate::error::{BikeError, Result};
use crate::record::{End, Load, Reading, Settled};
use crate::units::{Force, Length, Quantity, Share, Uncertain, check};
use crate::wheel::{EndKernel, Rest, Wheel, rest_under};

/// Standard uncertainty of the mean load of an end over a ride, as a share of it: what drag, drive, braking and slopes shift between
/// the wheels (an estimate, no source: braking and driving at 0.5 m/s² more than the other way, all the time, would be as much).
pub const LOAD_SHIFT: f64 = 0.03;
/// Standard uncertainty of the mean force of a damper beside that of its curve, as a share: its motion ratio is taken at the mean.
const AT_THE_MEAN: f64 = 0.1;

/// Where an end would rest under the load that it carried on average.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct DynamicSag {
    /// Mean force of the springs at the wheel.
    pub spring_force: Uncertain<Force>,
    /// Mean force of the damper at the wheel: below zero where rebound is harder, and holds the end down.
    pub damper_force: Uncertain<Force>,
    /// The load that both held.
    pub load: Uncertain<Force>,
    /// The travel at which that load rests.
    pub travel: Uncertain<Length>,
}

impl DynamicSag {
    /// The sag of a ride as one more reading of the bike, under the masses that were ridden: along the direction in which
    /// that end is read, in the middle of the friction band, with its own standard uncertainty.
    ///
    /// The travel is that of the bike's own springs under the mean load. Where those are off, both go along: the travel
    /// stays the mean travel of the log, but for what the bends of the springs and the damper make of it.
    ///
    /// # Errors
    /// Those of [`SagConversion::of`]; a load of no mass, or of a mass that the bike does not have, is refused where the
    /// reading is put in a bike.
    pub fn reading(&self, bike: &Bike, end: End, load: Load) -> Result<Reading> {
        let direction = bike.assumed().measuring(end)?.direction;
        let (sag, slope) = SagConversion::of(bike, end, direction)?.sag_and_slope(self.travel.value.si());
        let mut reading = Reading::of_sag(end, load, Length::from_si(sag), Some(Settled::Middle))?;
        reading.uncertainty = Some(Length::from_si(slope.abs() * self.travel.standard_uncertainty.si()));
        Ok(reading)
    }
}

impl EndTravel {
    /// Where the end would rest under the load that it carried on average, its damper's asymmetry taken off. `zero` is the
    /// standard uncertainty of the sensor's zero, in travel of the wheel.
    ///
    /// # Errors
    /// [`BikeError::TravelLog`] where the log is too short for its mean to have an uncertainty, or carries no load.
    pub fn dynamic_sag(&self, end: &dyn Wheel, zero: Length) -> Result<DynamicSag> {
        let zero = check::not_negative("zero", zero)?.si();
        let Some(mean) = self.mean() else {
            let reason =
                "the log is too short for the autocorrelation of its travel: no sag is read from it".to_owned();
            return Err(BikeError::TravelLog { reason }.into());
        };
        let full = end.full();
        let at = mean.value.si().clamp(0.0, full);
        let rest = end.motion(at);
        let force = |travel: f64| {
            let motion = end.motion(travel.clamp(0.0, full));
            end.fast_axial(rest.stroke, motion.stroke).force * motion.ratio
        };
        let times = || self.travel_histogram.middles().into_iter().zip(&self.travel_histogram.shares);
        let ends = self.travel_histogram.below * force(0.0) + self.travel_histogram.above * force(full);
        let in_bins = ends + times().map(|(travel, share)| share * force(travel)).sum::<f64>();
        let middles = self.travel_histogram.above * full + times().map(|(travel, share)| share * travel).sum::<f64>();
        let rate = end.fast_wheel_rate(at);
        // Within a bin travel is not at its middle: to first order the means differ by as much as the means of travel.
        let springs = in_bins + rate * (at - middles);
        let damper = end.damper();
        let speeds = self.shaft_speed_histogram.middles().into_iter().zip(&self.shaft_speed_histogram.shares);
        let damping = damper
            .as_ref()
            .map_or(0.0, |damper| rest.ratio * speeds.map(|(speed, share)| share * damper.eval(speed)).sum::<f64>());
        let springs_off = rate * mean.standard_uncertainty.si().hypot(zero);
        let curve = damper.map_or(0.0, |damper| damper.uncertainty().si());
        let damping_off = damping.abs() * curve.hypot(AT_THE_MEAN);
        let load = springs + damping;
        if load <= 0.0 {
            let reason = "springs and damper carried no load on average: is the zero of the sensor full extension?";
            return Err(BikeError::TravelLog { reason: reason.to_owned() }.into());
        }
        let load_off = springs_off.hypot(damping_off).hypot(LOAD_SHIFT * load);
        let Rest::At(travel) = rest_under(end, load) else {
            let reason = "the load carried on average rests at a stop: is the zero of the sensor full extension?";
            return Err(BikeError::TravelLog { reason: reason.to_owned() }.into());
        };
        let uncertain = |value: f64, deviation: f64| Uncertain {
            value: Force::from_si(value),
            standard_uncertainty: Force::from_si(deviation),
        };
        let settled = end.force_and_rate(travel).1;
        Ok(DynamicSag {
            spring_force: uncertain(springs, springs_off),
            damper_force: uncertain(damping, damping_off),
            load: uncertain(load, load_off),
            travel: Uncertain {
                value: Length::from_si(travel),
                standard_uncertainty: Length::from_si(load_off / settled.max(f64::MIN_POSITIVE)),
            },
        })
    }

    /// Share of time below a travel.
    ///
    /// # Errors
    /// [`UnitError`](crate::error::UnitError) for a travel that is not finite.
    pub fn time_below(&self, travel: Length) -> Result<Share> {
        let travel = check::finite("travel", travel)?.si();
        let bins = self.travel_histogram.shares.iter().enumerate().map(|(bin, share)| {
            let start = self.travel_histogram.start + bin as f64 * self.travel_histogram.width;
            share * ((travel - start) / self.travel_histogram.width).clamp(0.0, 1.0)
        });
        Ok(Share::from_si(self.travel_histogram.below + bins.sum::<f64>()))
    }
}
