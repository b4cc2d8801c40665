//! Against closed forms: a sine, an autoregressive series; and that neither pieces nor rates change a result.

use core::f64::consts::TAU;

use proptest::prelude::*;
use rand_distr::{Distribution, StandardNormal};
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;

use super::series::Series;
use super::*;
use crate::fork::{Fork, ForkLeg};
use crate::record::Ends;
use crate::spring::Preloaded;
use crate::units::{Angle, Length, Quantity, Time};
use crate::wheel::{FrontEnd, Wheel};

/// An upright fork of 300 mm: stroke is travel.
fn upright() -> FrontEnd {
    let leg = ForkLeg::new().with_spring(Preloaded::linear("5 N/mm".parse().unwrap(), Length::from_si(5e-3)).unwrap());
    FrontEnd::new(Fork::new(Length::from_si(0.3), Angle::from_si(0.0), [leg.clone(), leg]).unwrap())
}

fn recorder(front: &FrontEnd) -> TravelRecorder {
    let front: &dyn Wheel = front;
    let ends = Ends { front: Some((front, LogSensor::default())), rear: None };
    TravelRecorder::new(ends, None).unwrap()
}

fn column(values: &[f64]) -> Vec<Length> {
    values.iter().map(|value| Length::from_si(*value)).collect()
}

fn clock(count: usize, step: f64) -> Vec<Time> {
    (0..count).map(|at| Time::from_si(at as f64 * step)).collect()
}

/// Straight lines between samples of a sine leave out a share `(ω·Δt)²/12` of its height.
const CHORDS: f64 = 3e-5;

#[test]
fn a_sine_spends_its_time_as_the_arcsine_says() {
    let front = upright();
    let (middle, height, frequency, step) = (0.12, 0.05, 1.6, 1e-3);
    // A whole number of periods.
    let times = clock(40_001, step);
    let strokes: Vec<f64> = times.iter().map(|t| middle + height * (TAU * frequency * t.si()).sin()).collect();
    let mut recorder = recorder(&front);
    recorder.push(&times, Some(&column(&strokes)), None).unwrap();
    let found = recorder.found().unwrap().ends.front.unwrap();
    assert!((found.mean_travel.si() - middle).abs() < CHORDS * height);
    assert!((found.travel_deviation.si() / (height / 2f64.sqrt()) - 1.0).abs() < CHORDS);
    let below = |travel: f64| found.time_below(Length::from_si(travel)).unwrap().si();
    for travel in [0.075, 0.09, 0.12, 0.15, 0.165] {
        let closed = 0.5 + ((travel - middle) / height).asin() / core::f64::consts::PI;
        assert!((below(travel) - closed).abs() < 2e-4, "{travel}: {} {closed}", below(travel));
    }
    // Over 5 ms a difference is the mean speed: sin(x)/x of it.
    let half = 0.5 * TAU * frequency * 5e-3;
    let speed = TAU * frequency * height * half.sin() / half;
    // One of 62 differences a half swing has hardly any speed, and counts one way.
    let rms = found.compression_speed_rms.si() / (speed / 2f64.sqrt());
    assert!((rms - 1.0).abs() < 0.5 / 62.0, "{rms}");
    // Differences 5 ms apart miss the top by 2.5 ms at most.
    let missed = 1.0 - half.cos();
    let fastest = found.fastest_shaft.si() / speed;
    assert!(fastest > 1.0 - missed - 1e-6 && fastest < 1.0 + 1e-6, "{fastest} {missed}");
    assert_eq!((found.bottomings, found.gaps, found.missing), (0, 0, 0));
}

#[test]
fn an_autoregressive_series_has_its_autocorrelation_time() {
    // x_i = φ·x_{i−1} + e: τ = ½·(1 + φ)/(1 − φ), and means spread by √(2·τ·σ²/N).
    let (phi, cells, series) = (0.9_f64, 4000, 60);
    let (tau, deviation) = (0.5 * (1.0 + phi) / (1.0 - phi), (1.0 / (1.0 - phi * phi)).sqrt());
    let mut random = Xoshiro256PlusPlus::seed_from_u64(3);
    let (mut times, mut stated, mut off) = (0.0, 0.0, 0.0);
    for _ in 0..series {
        let mut found = Series::new();
        let mut x: f64 = StandardNormal.sample(&mut random);
        x *= deviation;
        for cell in 0..cells {
            found.line([0.05 * f64::from(cell), 0.05 * f64::from(cell + 1)], [x, x]);
            let push: f64 = StandardNormal.sample(&mut random);
            x = phi * x + push;
        }
        let mean = found.mean().unwrap();
        let (uncertainty, time) = mean.sure.unwrap();
        times += time / 0.05 / f64::from(series);
        stated += uncertainty.powi(2) / f64::from(series);
        off += mean.mean.powi(2) / f64::from(series);
    }
    let closed = 2.0 * tau * deviation.powi(2) / f64::from(cells);
    // Sokal: the relative error of τ is √(2·(2·W + 1)/N), 0.2 here; over 60 series 3 %, and the window leaves out e⁻⁵.
    assert!((times / tau - 1.0).abs() < 0.1, "{times} {tau}");
    assert!((stated / closed - 1.0).abs() < 0.1, "{stated} {closed}");
    // A variance of 60 means is sure to 18 %.
    assert!((off / closed - 1.0).abs() < 0.5, "{off} {closed}");
}

#[test]
fn gaps_missing_samples_clipping_and_stops_are_counted() {
    let front = upright();
    let sensor = LogSensor { low: None, high: Some(Length::from_si(0.25)) };
    let kernel: &dyn Wheel = &front;
    let mut recorder = TravelRecorder::new(Ends { front: Some((kernel, sensor)), rear: None }, None).unwrap();
    let mut push = |times: &[f64], strokes: &[f64]| {
        let times: Vec<Time> = times.iter().map(|time| Time::from_si(*time)).collect();
        recorder.push(&times, Some(&column(strokes)), None)
    };
    push(&[0.0, 0.1, 0.2, 0.3], &[0.1, f64::NAN, 0.1, 0.26]).unwrap();
    push(&[1.3, 1.4, 1.5, 1.6, 1.7], &[0.1, 0.299, 0.295, 0.299, 0.1]).unwrap();
    assert!(push(&[1.7], &[0.1]).unwrap_err().to_string().contains("row 10"), "time stands still");
    assert!(push(&[1.8, 1.9], &[0.1]).unwrap_err().to_string().contains("found 1 strokes, wanted 2"));
    let found = recorder.found().unwrap().ends.front.unwrap();
    assert_eq!((found.samples, found.missing, found.gaps), (9, 1, 1));
    assert!((found.gap_time.si() - 1.0).abs() < 1e-12 && (found.duration.si() - 0.7).abs() < 1e-12);
    assert!((found.clipped.si() - 0.4 / 0.7).abs() < 1e-12, "{found:?}");
    assert_eq!(found.bottomings, 1, "it left the end by less than what counts as leaving");
    assert!((found.hardest_bottoming.si() - 1.99).abs() < 1e-9);
    assert!(found.mean_uncertainty.is_none(), "far too short");
}

#[test]
fn a_still_end_rests_where_it_stands() {
    let front = upright();
    let mut recorder = recorder(&front);
    recorder.push(&clock(20_000, 0.01), Some(&column(&vec![0.08; 20_000])), None).unwrap();
    let found = recorder.found().unwrap().ends.front.unwrap();
    let sag = found.dynamic_sag(&front, Length::from_si(1e-3)).unwrap();
    // Two springs of 5 N/mm, 5 mm of preload.
    assert!((sag.load.value.si() - 1e4 * 0.085).abs() < 1e-6, "{sag:?}");
    let shift = LOAD_SHIFT * sag.load.value.si();
    assert!((sag.load.standard_uncertainty.si() - shift.hypot(10.0)).abs() < 1e-6);
    assert!((sag.travel.standard_uncertainty.si() - sag.load.standard_uncertainty.si() / 1e4).abs() < 1e-9);
}

proptest! {
    /// The same samples give the same bits, however they were cut.
    #[test]
    fn pieces_change_nothing(
        strokes in prop::collection::vec(-0.01..0.31_f64, 2..200),
        cuts in prop::collection::vec(1_usize..60, 1..40),
        steps in prop::collection::vec(1e-3..0.4_f64, 200),
    ) {
        let front = upright();
        let mut time = 0.0;
        let times: Vec<Time> = strokes.iter().zip(&steps).map(|(_, step)| { time += step; Time::from_si(time) }).collect();
        let strokes = column(&strokes);
        let mut whole = recorder(&front);
        whole.push(&times, Some(&strokes), None).unwrap();
        let mut cut = recorder(&front);
        let (mut from, mut at) = (0, cuts.iter().cycle());
        while from < times.len() {
            let to = times.len().min(from + at.next().unwrap());
            cut.push(&times[from..to], Some(&strokes[from..to]), None).unwrap();
            from = to;
        }
        prop_assert_eq!(&cut, &whole);
        if let (Ok(one), Ok(other)) = (cut.found(), whole.found()) {
            prop_assert_eq!(one, other);
        }
    }

    /// Two logs together are of both times, whichever came first.
    #[test]
    fn merged_logs_add_up(one in prop::collection::vec(0.0..0.3_f64, 3..60), other in prop::collection::vec(0.0..0.3_f64, 3..60)) {
        let front = upright();
        let of = |strokes: &[f64]| {
            let mut recorder = recorder(&front);
            recorder.push(&clock(strokes.len(), 0.02), Some(&column(strokes)), None).unwrap();
            recorder
        };
        let merged = |first: &[f64], second: &[f64]| {
            let mut all = of(first);
            all.merge(of(second)).unwrap();
            all.found().unwrap().ends.front.unwrap()
        };
        let (found, turned) = (merged(&one, &other), merged(&other, &one));
        let [a, b] = [&one, &other].map(|part| of(part).found().unwrap().ends.front.unwrap());
        let time = a.duration + b.duration;
        let mean = (a.mean_travel.si() * a.duration.si() + b.mean_travel.si() * b.duration.si()) / time.si();
        prop_assert!((found.duration - time).si().abs() < 1e-12);
        prop_assert!((found.mean_travel.si() - mean).abs() < 1e-12);
        prop_assert!((found.mean_travel - turned.mean_travel).si().abs() < 1e-12);
        prop_assert_eq!(found.samples, a.samples + b.samples);
    }
}

fn both(front: &FrontEnd, rear: &FrontEnd) -> TravelRecorder {
    let (front, rear): (&dyn Wheel, &dyn Wheel) = (front, rear);
    let ends = Ends { front: Some((front, LogSensor::default())), rear: Some((rear, LogSensor::default())) };
    TravelRecorder::new(ends, None).unwrap()
}

#[test]
fn samples_further_apart_than_the_gap_are_not_joined() {
    let front = upright();
    let times = [0.0, 0.1, 0.2, 0.44, 0.54].map(Time::from_si);
    let log = |gap: Option<f64>| {
        let wheel: &dyn Wheel = &front;
        let ends = Ends { front: Some((wheel, LogSensor::default())), rear: None };
        let mut recorder = TravelRecorder::new(ends, gap.map(Time::from_si)).unwrap();
        recorder.push(&times, Some(&column(&[0.1; 5])), None).unwrap();
        (recorder.gap().si(), recorder.found().unwrap().ends.front.unwrap().gaps)
    };
    assert_eq!(log(None), (0.25, 0));
    assert_eq!(log(Some(0.2)), (0.2, 1));
}

#[test]
fn the_balance_is_of_moments_that_both_sensors_saw() {
    let (front, rear) = (upright(), upright());
    let mut recorder = both(&front, &rear);
    let times = clock(2001, 0.01);
    // A third and a fifth of 300 mm; every tenth sample of the front is missing, and what it would have been is not made up.
    let missed: Vec<f64> = (0..2001).map(|at| if at % 10 == 5 { f64::NAN } else { 0.1 }).collect();
    recorder.push(&times, Some(&column(&missed)), Some(&column(&[0.06; 2001]))).unwrap();
    let balance = recorder.found().unwrap().balance.unwrap();
    assert!((balance.travel.si() - (1.0 / 3.0 - 0.2)).abs() < 1e-12, "{balance:?}");
}

#[test]
fn a_log_that_says_nothing_is_refused_with_what_it_lacks() {
    let front = upright();
    let refused = |log: crate::Result<TravelLog>| log.unwrap_err().to_string();
    let nobody = TravelRecorder::new(Ends { front: None, rear: None }, None).unwrap_err().to_string();
    assert_eq!(nobody, "`travel log` is missing: it has the stroke of fork or shock, or both");
    let mut one = recorder(&front);
    one.push(&clock(1, 0.01), Some(&column(&[0.1])), None).unwrap();
    let few = "travel log: a log needs two samples or more that are no further apart than a gap";
    assert_eq!(refused(one.found()), few);
    let other = both(&front, &front).merge(recorder(&front)).unwrap_err().to_string();
    assert_eq!(other, "travel log: two logs are of other ends: wanted both of the same bike");
}
