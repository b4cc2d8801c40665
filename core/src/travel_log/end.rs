//! One end: a stroke becomes a travel, a sample a line, and what is kept of the lines are sums.

use super::found::EndTravel;
use super::histogram::Histogram;
use super::series::Series;
use crate::error::{BikeError, Result};
use crate::units::{Length, Quantity, Share, Time, Velocity};
use crate::wheel::{EndKernel, Wheel};

/// Nodes of the way from stroke to travel; a cubic between them is off by nanometres.
const NODES: usize = 1024;
/// Bins of travel, and of speed each way.
const TRAVEL_BINS: usize = 100;
const SPEED_BINS: usize = 200;
/// Fastest shaft and wheel that have a bin (m/s).
const FASTEST_SHAFT: f64 = 4.0;
const FASTEST_WHEEL: f64 = 10.0;
/// Speeds are differences over at least so long (s).
const SPEED_OVER: f64 = 5e-3;
/// Share of the travel at either end that is near a stop.
const NEAR: f64 = 0.05;
/// Travel is at its end within this share of it, and has left the end beyond that one.
const AT_END: f64 = 0.01;
const LEFT_END: f64 = 0.04;
/// How far beyond its travel a sensor may show, as a share, before it counts as outside.
const OUTSIDE: f64 = 0.02;
/// Newton steps from a stroke to its travel; three are usual.
const MOST_STEPS: usize = 40;

/// A sensor of one end: strokes at which it goes no further, and beyond which a sample says nothing.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct LogSensor {
    /// Stroke at and below which it is clipped.
    pub low: Option<Length>,
    /// Stroke at and above which it is clipped.
    pub high: Option<Length>,
}

/// Travel over stroke at even strokes, with slopes.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Way {
    pub(super) full: f64,
    stroke: f64,
    nodes: Vec<[f64; 2]>,
}

impl Way {
    fn of(kernel: &dyn Wheel) -> Self {
        let full = kernel.full();
        let stroke = kernel.motion(full).stroke;
        let mut travel = 0.0;
        let nodes = (0..=NODES).map(|at| {
            let wanted = stroke * at as f64 / NODES as f64;
            for _ in 0..MOST_STEPS {
                let motion = kernel.motion(travel);
                let step = (wanted - motion.stroke) / motion.ratio;
                travel = (travel + step).clamp(0.0, full);
                if step.abs() < 1e-12 {
                    break;
                }
            }
            [travel, 1.0 / kernel.motion(travel).ratio]
        });
        let nodes = nodes.collect();
        Self { full, stroke, nodes }
    }

    /// Travel at a stroke; straight on beyond both ends.
    fn travel(&self, stroke: f64) -> f64 {
        let width = self.stroke / NODES as f64;
        let place = (stroke / width).clamp(0.0, NODES as f64);
        let at = (place as usize).min(NODES - 1);
        let t = place - at as f64;
        let ([z0, s0], [z1, s1]) = (self.nodes[at], self.nodes[at + 1]);
        let (s0, s1) = (s0 * width, s1 * width);
        let hermite = z0 + t * (s0 + t * (3.0 * (z1 - z0) - 2.0 * s0 - s1 + t * (2.0 * (z0 - z1) + s0 + s1)));
        let beyond = stroke - place * width;
        if beyond == 0.0 { hermite } else { hermite + beyond / width * if beyond > 0.0 { s1 } else { s0 } }
    }
}

/// A sample that stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Sample {
    pub(super) time: f64,
    stroke: f64,
    pub(super) travel: f64,
}

/// What is kept of one end.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct EndRecorder {
    pub(super) way: Way,
    sensor: LogSensor,
    last: Option<Sample>,
    /// Where the speed under way counts from.
    from: Option<Sample>,
    series: Series,
    travel: Histogram,
    shaft_speed: Histogram,
    wheel_speed: Histogram,
    speed_square: [f64; 2],
    speed_time: [f64; 2],
    samples: u64,
    missing: u64,
    gaps: u64,
    gap_time: f64,
    clipped: f64,
    outside: f64,
    near: [f64; 2],
    at_end: [bool; 2],
    hits: [u64; 2],
    hardest: f64,
    fastest: f64,
}

impl EndRecorder {
    pub(super) fn new(kernel: &dyn Wheel, sensor: LogSensor) -> Self {
        let way = Way::of(kernel);
        Self {
            travel: Histogram::new(0.0, way.full, TRAVEL_BINS),
            shaft_speed: Histogram::new(-FASTEST_SHAFT, FASTEST_SHAFT, 2 * SPEED_BINS),
            wheel_speed: Histogram::new(-FASTEST_WHEEL, FASTEST_WHEEL, 2 * SPEED_BINS),
            way,
            sensor,
            last: None,
            from: None,
            series: Series::new(),
            speed_square: [0.0; 2],
            speed_time: [0.0; 2],
            samples: 0,
            missing: 0,
            gaps: 0,
            gap_time: 0.0,
            clipped: 0.0,
            outside: 0.0,
            near: [0.0; 2],
            at_end: [false; 2],
            hits: [0; 2],
            hardest: 0.0,
            fastest: 0.0,
        }
    }

    /// One sample; the line from the one before where both stand and lie no further apart than a gap.
    pub(super) fn sample(&mut self, time: f64, stroke: f64, gap: f64) -> Option<(Sample, Sample)> {
        self.samples += 1;
        if !stroke.is_finite() {
            self.missing += 1;
            return None;
        }
        let now = Sample { time, stroke, travel: self.way.travel(stroke) };
        let before = self.last.replace(now);
        let Some(before) = before else {
            self.from = Some(now);
            return None;
        };
        let span = time - before.time;
        if span > gap {
            self.gaps += 1;
            self.gap_time += span;
            self.from = Some(now);
            self.series.break_off();
            return None;
        }
        self.line(before, now, span);
        Some((before, now))
    }

    fn line(&mut self, before: Sample, now: Sample, span: f64) {
        let full = self.way.full;
        self.series.line([before.time, now.time], [before.travel, now.travel]);
        self.travel.sweep(before.travel, now.travel, span);
        let clips = |stroke: f64| {
            self.sensor.low.is_some_and(|low| stroke <= low.si())
                || self.sensor.high.is_some_and(|high| stroke >= high.si())
        };
        if clips(now.stroke) {
            self.clipped += span;
        }
        if now.travel < -OUTSIDE * full || now.travel > (1.0 + OUTSIDE) * full {
            self.outside += span;
        }
        let share = |low: f64, high: f64| {
            let (from, to) = (before.travel.min(now.travel), before.travel.max(now.travel));
            if to - from < f64::EPSILON * full {
                return if low <= from && from <= high { span } else { 0.0 };
            }
            span * (to.min(high) - from.max(low)).max(0.0) / (to - from)
        };
        self.near[0] += share(f64::NEG_INFINITY, NEAR * full);
        self.near[1] += share((1.0 - NEAR) * full, f64::INFINITY);
        let speed = self.speed(now);
        for (end, left) in [now.travel, full - now.travel].into_iter().enumerate() {
            if left <= AT_END * full && !self.at_end[end] {
                self.at_end[end] = true;
                self.hits[end] += 1;
                if end == 1 {
                    self.hardest = self.hardest.max(speed.unwrap_or((now.travel - before.travel) / span));
                }
            } else if left > LEFT_END * full {
                self.at_end[end] = false;
            }
        }
    }

    /// Speed over the time since the last one, once that is long enough.
    fn speed(&mut self, now: Sample) -> Option<f64> {
        let from = self.from?;
        let span = now.time - from.time;
        // A clock of just that step is off by a rounding.
        if span < SPEED_OVER * (1.0 - 1e-6) {
            return None;
        }
        self.from = Some(now);
        let [shaft, wheel] = [(now.stroke - from.stroke) / span, (now.travel - from.travel) / span];
        self.shaft_speed.add(shaft, span);
        self.wheel_speed.add(wheel, span);
        let way = usize::from(shaft < 0.0);
        self.speed_square[way] += shaft * shaft * span;
        self.speed_time[way] += span;
        self.fastest = self.fastest.max(shaft.abs());
        Some(wheel)
    }

    pub(super) fn merge(&mut self, other: Self) {
        self.series.merge(other.series);
        for (to, from) in [
            (&mut self.travel, &other.travel),
            (&mut self.shaft_speed, &other.shaft_speed),
            (&mut self.wheel_speed, &other.wheel_speed),
        ] {
            to.merge(from);
        }
        for end in [0, 1] {
            self.speed_square[end] += other.speed_square[end];
            self.speed_time[end] += other.speed_time[end];
            self.near[end] += other.near[end];
            self.hits[end] += other.hits[end];
        }
        self.samples += other.samples;
        self.missing += other.missing;
        self.gaps += other.gaps;
        self.gap_time += other.gap_time;
        self.clipped += other.clipped;
        self.outside += other.outside;
        self.hardest = self.hardest.max(other.hardest);
        self.fastest = self.fastest.max(other.fastest);
        (self.last, self.from, self.at_end) = (None, None, [false; 2]);
    }

    pub(super) fn found(&self) -> Result<EndTravel> {
        let Some(mean) = self.series.mean() else {
            let reason = "a log needs two samples or more that are no further apart than a gap".to_owned();
            return Err(BikeError::TravelLog { reason }.into());
        };
        let time: f64 = self.travel.shares.iter().sum::<f64>() + self.travel.below + self.travel.above;
        let share = |part: f64| Share::from_si(part / time);
        let rms = |way: usize| {
            Velocity::from_si((self.speed_square[way] / self.speed_time[way].max(f64::MIN_POSITIVE)).sqrt())
        };
        let moving = self.speed_time[0] + self.speed_time[1];
        Ok(EndTravel {
            duration: Time::from_si(time),
            samples: self.samples,
            missing: self.missing,
            gaps: self.gaps,
            gap_time: Time::from_si(self.gap_time),
            clipped: share(self.clipped),
            outside: share(self.outside),
            full_travel: Length::from_si(self.way.full),
            mean_travel: Length::from_si(mean.mean),
            mean_uncertainty: mean.sure.map(|(deviation, _)| Length::from_si(deviation)),
            correlation_time: mean.sure.map(|(_, time)| Time::from_si(time)),
            travel_deviation: Length::from_si(mean.deviation),
            near_extension: share(self.near[0]),
            near_full: share(self.near[1]),
            top_outs: self.hits[0],
            bottomings: self.hits[1],
            hardest_bottoming: Velocity::from_si(self.hardest),
            compression_speed_rms: rms(0),
            rebound_speed_rms: rms(1),
            fastest_shaft: Velocity::from_si(self.fastest),
            travel_histogram: self.travel.over(time),
            shaft_speed_histogram: self.shaft_speed.over(moving),
            wheel_speed_histogram: self.wheel_speed.over(moving),
        })
    }
}
