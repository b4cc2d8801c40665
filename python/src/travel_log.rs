//! What a sensor on fork and shock recorded over a ride.

use pyo3::prelude::*;
use pyo3::types::PyDict;
use wheelrate::record::{self, Ends};
use wheelrate::travel_log as core;
use wheelrate::travel_log::{Histogram, LIMITS, LogSensor, TravelRecorder};
use wheelrate::units::{Length, Quantity, Share, Time, Velocity};
use wheelrate::wheel::Wheel;

use crate::bike::Bike;
use crate::errors::run;
use crate::plain::Text;
use crate::record::{End, Reading, load};
use crate::uncertain::Uncertain;
use crate::units::{Given, GivenArray, Out, OutArray, read_optional};
use crate::value::{Named, getters, result_class};

result_class! {
    /// Where an end would rest under the load that it carried on average.
    DynamicSag(core::DynamicSag) {
        /// Mean force of the springs at the wheel.
        spring_force: Uncertain = |sag| sag.spring_force.into();
        /// Mean force of the damper at the wheel: below zero where rebound is harder, and holds the end down.
        damper_force: Uncertain = |sag| sag.damper_force.into();
        /// The load that both held.
        load: Uncertain = |sag| sag.load.into();
        /// The travel at which that load rests.
        travel: Uncertain = |sag| sag.travel.into();
    }
}

#[pymethods]
impl DynamicSag {
    /// The sag of a ride as one more reading of the bike, with its own standard uncertainty.
    ///
    /// A sag in the middle of the friction band, along the direction in which that end is read. Put it in the bike with
    /// ``bike.with_readings([reading])``.
    ///
    /// Parameters
    /// ----------
    /// bike : Bike
    ///     The bike that was ridden.
    /// end : {"front", "rear"}
    ///     The end that this is of.
    /// load : str
    ///     The masses that were ridden, ``"bike + rider"``.
    fn reading(&self, py: Python<'_>, bike: &Bike, end: End, load: Text) -> PyResult<Reading> {
        let load = self::load(py, &load)?;
        run(py, || self.0.reading(&bike.0, end.0, load)).map(Reading)
    }
}

result_class! {
    /// What a log says of one end.
    EndTravel(core::EndTravel) {
        /// Time that was recorded, gaps left out.
        duration: Out<Time> = |end| Out(end.duration);
        /// Samples.
        samples: u64 = |end| end.samples;
        /// Samples of them that were no number.
        missing: u64 = |end| end.missing;
        /// Stretches between two samples that were too long to be joined.
        gaps: u64 = |end| end.gaps;
        /// Their time together.
        gap_time: Out<Time> = |end| Out(end.gap_time);
        /// Share of time at which the sensor was at one of its limits.
        clipped: Out<Share> = |end| Out(end.clipped);
        /// Share of time at which it showed more than 2 % beyond the travel.
        outside: Out<Share> = |end| Out(end.outside);
        /// Full travel of the wheel.
        full_travel: Out<Length> = |end| Out(end.full_travel);
        /// Mean travel of the wheel.
        mean_travel: Out<Length> = |end| Out(end.mean_travel);
        /// Standard uncertainty of that mean, from its autocorrelation; None where the log is too short for it.
        mean_uncertainty: Option<Out<Length>> = |end| end.mean_uncertainty.map(Out);
        /// Integrated autocorrelation time of the travel; None where the log is too short for it.
        correlation_time: Option<Out<Time>> = |end| end.correlation_time.map(Out);
        /// Standard deviation of the travel about its mean.
        travel_deviation: Out<Length> = |end| Out(end.travel_deviation);
        /// Share of time within the first twentieth of the travel.
        near_extension: Out<Share> = |end| Out(end.near_extension);
        /// Share of time within its last twentieth.
        near_full: Out<Share> = |end| Out(end.near_full);
        /// How often it came to full extension.
        top_outs: u64 = |end| end.top_outs;
        /// How often it came to full travel.
        bottomings: u64 = |end| end.bottomings;
        /// Largest speed of the wheel as it came to full travel; nothing where it never did.
        hardest_bottoming: Out<Velocity> = |end| Out(end.hardest_bottoming);
        /// Root mean square of the shaft's speed while it compresses.
        compression_speed_rms: Out<Velocity> = |end| Out(end.compression_speed_rms);
        /// The same while it extends.
        rebound_speed_rms: Out<Velocity> = |end| Out(end.rebound_speed_rms);
        /// Largest speed of the shaft, either way.
        fastest_shaft: Out<Velocity> = |end| Out(end.fastest_shaft);
        /// Middles of the bins of travel, and the share of time in each.
        travel_histogram: (OutArray<Length>, OutArray<Share>) = |end| bins(&end.travel_histogram);
        /// Middles of the bins of the shaft's speed, positive in compression, and the share of time in each.
        shaft_speed_histogram: (OutArray<Velocity>, OutArray<Share>) = |end| bins(&end.shaft_speed_histogram);
        /// The same for the wheel.
        wheel_speed_histogram: (OutArray<Velocity>, OutArray<Share>) = |end| bins(&end.wheel_speed_histogram);
    }
}

fn bins<Q: Quantity>(histogram: &Histogram) -> (OutArray<Q>, OutArray<Share>) {
    let middles = histogram.middles().into_iter().map(Q::from_si).collect();
    (OutArray(middles), OutArray(histogram.shares.iter().copied().map(Share::from_si).collect()))
}

#[pymethods]
impl EndTravel {
    /// Where the end would rest under the load that it carried on average, its damper's asymmetry taken off.
    ///
    /// Over a ride the mean acceleration is nothing: what springs and damper held on average is the load. Its error has that of the
    /// mean, of the zero, of the damper's curve, and 3 % of the load for what drag, drive, braking and slopes shift (an estimate).
    ///
    /// Parameters
    /// ----------
    /// bike : Bike
    ///     The bike that was ridden.
    /// end : {"front", "rear"}
    ///     The end that this is of.
    /// zero : length, optional
    ///     Standard uncertainty of the sensor's zero, in travel of the wheel.
    #[pyo3(signature = (bike, end, zero=None))]
    fn dynamic_sag(
        &self,
        py: Python<'_>,
        bike: &Bike,
        end: End,
        zero: Option<Given<'_, Length>>,
    ) -> PyResult<DynamicSag> {
        let zero = read_optional(zero, "zero")?.unwrap_or(Length::from_si(2e-3));
        run(py, || self.0.dynamic_sag(bike.0.end(end.0)?, zero)).map(DynamicSag)
    }
    /// Share of time below a travel.
    ///
    /// Parameters
    /// ----------
    /// travel : length
    ///     Of the wheel.
    fn time_below(&self, py: Python<'_>, travel: Given<'_, Length>) -> PyResult<Out<Share>> {
        let travel = travel.read("travel")?;
        run(py, || self.0.time_below(travel)).map(Out)
    }
}

crate::value::value_class! {
    /// What a log says of both ends.
    ///
    /// Made by `travel_log` or `read_travel_log`.
    TravelLog(core::TravelLog)
}

getters! {
    TravelLog {
        /// Each end that had a sensor.
        ends: Named<EndTravel> = |log| {
            let ends = [("front", &log.0.ends.front), ("rear", &log.0.ends.rear)];
            let known = ends.into_iter().filter_map(|(name, end)| Some((name.to_owned(), EndTravel(end.clone()?))));
            Named(known.collect())
        };
        /// How much more of its travel the front uses on average than the rear; None where one has no sensor.
        balance: Option<Out<Share>> = |log| log.0.balance.map(|balance| Out(balance.travel));
        /// Its standard uncertainty; None where the log is too short for one.
        balance_uncertainty: Option<Out<Share>> = |log| {
            let of = |balance: core::Balance| balance.balance_uncertainty;
            log.0.balance.and_then(of).map(Out)
        };
        /// What a log cannot say.
        limits: Vec<&'static str> = |_| LIMITS.to_vec();
    }
}

/// What the strokes of fork and shock over a ride say, taken piece by piece.
///
/// However the samples are cut, the result is the same to the last bit, and memory does not grow with them.
///
/// Parameters
/// ----------
/// bike : Bike
///     The bike that was ridden: strokes become travels through its linkage and rake.
/// pieces : iterable of (array of time, array of length or None, array of length or None)
///     Times, strokes of the fork and of the shock from full extension; None for an end without a sensor, not a number where a
///     sample is missing.
/// gap : time, optional
///     Samples further apart are not joined; 0.25 s unless given.
/// clips : dict of str to (length or None, length or None), optional
///     By end, strokes at which its sensor goes no further.
///
/// Examples
/// --------
/// >>> import numpy as np
/// >>> import wheelrate as wr
/// >>> time = np.arange(0, 60, 0.01)
/// >>> shock = 40 + 10 * np.sin(7 * time)
/// >>> log = wr.travel_log(wr.demo(), [((time, "s"), None, (shock, "mm"))])
/// >>> log.ends["rear"].bottomings
/// 0
#[pyfunction]
#[pyo3(signature = (bike, pieces, *, gap=None, clips: "dict[str, tuple[object, object]] | None"=None))]
pub(crate) fn travel_log(
    py: Python<'_>,
    bike: &Bike,
    pieces: &Bound<'_, PyAny>,
    gap: Option<Given<'_, Time>>,
    clips: Option<Bound<'_, PyDict>>,
) -> PyResult<TravelLog> {
    let gap = read_optional(gap, "gap")?;
    let sensor = |end: record::End| {
        let Some(given) = clips.as_ref().map(|clips| clips.get_item(end.name())).transpose()?.flatten() else {
            return Ok(LogSensor::default());
        };
        let (low, high) = given.extract::<(Option<Given<'_, Length>>, Option<Given<'_, Length>>)>()?;
        let (low, high) = (read_optional(low, "clips[0]")?, read_optional(high, "clips[1]")?);
        Ok::<_, PyErr>(LogSensor { low, high })
    };
    let sensors = Ends { front: sensor(record::End::Front)?, rear: sensor(record::End::Rear)? };
    let mut recorder: Option<TravelRecorder> = None;
    for piece in pieces.try_iter()? {
        type Column<'py> = Option<GivenArray<'py, Length>>;
        let (times, front, rear) = piece?.extract::<(GivenArray<'_, Time>, Column<'_>, Column<'_>)>()?;
        let times = times.read("time")?;
        let read = |column: Column<'_>, name: &str| column.map(|column| column.read_with_gaps(name)).transpose();
        let (front, rear) = (read(front, "front")?, read(rear, "rear")?);
        if recorder.is_none() {
            let of = |end: record::End, there: bool| -> wheelrate::Result<Option<(&dyn Wheel, LogSensor)>> {
                there.then(|| Ok((bike.0.end(end)?, *sensors.at(end)))).transpose()
            };
            recorder = Some(run(py, || {
                let (front, rear) = (of(record::End::Front, front.is_some())?, of(record::End::Rear, rear.is_some())?);
                TravelRecorder::new(Ends { front, rear }, gap)
            })?);
        }
        if let Some(recorder) = &mut recorder {
            run(py, || recorder.push(&times, front.as_deref(), rear.as_deref()))?;
        }
    }
    let Some(recorder) = recorder else {
        let message = "travel log: found no piece, wanted one or more of times and strokes";
        return Err(crate::errors::raise(py, "BikeError", (message,)));
    };
    run(py, || recorder.found()).map(TravelLog)
}
