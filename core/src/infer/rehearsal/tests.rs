//! The demo bike rehearsed.

use super::*;
use crate::bike::Bike;
use crate::demo::PATROL;
use crate::record::Reading;

const GARAGES: usize = 4_000;
/// Four standard deviations of a binomial share of 95 % over so many garages: one run in 15,000 strays further.
const STRAY: f64 = 4.0 * 0.0034;
/// By how much a label that errs uniformly may be covered more often than a normal one.
const UNIFORM: f64 = 0.02;

fn demo() -> Bike {
    Bike::from_toml(PATROL).unwrap()
}

/// The demo bike with its readings changed.
fn with_readings(change: impl Fn(Reading) -> Option<Reading>) -> Bike {
    let mut parts = demo().parts().clone();
    parts.readings = parts.readings.into_iter().filter_map(change).collect();
    Bike::new(parts).unwrap()
}

fn assert_covered<Q: Quantity>(name: &str, found: &Rehearsed<Q>) {
    let covered = found.covered_95.si();
    assert!(covered > 0.95 - STRAY && covered < 0.95 + STRAY + UNIFORM, "{name}: {covered}");
    // Mean error of as many normal errors, and what the prior of the rate (normal for uniform) adds.
    assert!(found.bias.abs() < 4.0 / (GARAGES as f64).sqrt() + 0.05, "{name}: {}", found.bias);
    let ratio = found.error.si() / found.standard_uncertainty.si();
    assert!((ratio - 1.0).abs() < 0.06, "{name}: made {ratio} times what was stated");
}

fn assert_all_covered(rehearsal: &Rehearsal) {
    assert_covered("rate", &rehearsal.rate);
    assert_covered("preload", &rehearsal.preload);
    assert_covered("friction", &rehearsal.friction);
    for (load, sag) in &rehearsal.sags {
        assert_covered(&load.to_string(), sag);
    }
    assert!(rehearsal.refused == 0, "{} refused", rehearsal.refused);
}

#[test]
fn the_demo_bike_is_covered_at_both_ends() {
    for end in End::BOTH {
        assert_all_covered(&demo().study(end).unwrap().rehearse(GARAGES, 3).unwrap());
    }
}

#[test]
fn so_is_a_bike_whose_pivots_are_known_to_a_millimetre() {
    let bike = demo().correct(&[("rear.linkage.point_uncertainty", "\"1 mm\"")]).unwrap();
    let rehearsal = bike.study(End::Rear).unwrap().rehearse(GARAGES, 4).unwrap();
    assert_all_covered(&rehearsal);
    let exact = demo().study(End::Rear).unwrap().rehearse(GARAGES, 4).unwrap();
    assert!(rehearsal.rate.standard_uncertainty > exact.rate.standard_uncertainty * 1.05);
}

#[test]
fn readings_whose_settling_nobody_noted_say_less() {
    let unnoted = with_readings(|reading| Some(Reading { settled: None, ..reading }));
    let [noted, unnoted] = [demo(), unnoted].map(|bike| bike.study(End::Rear).unwrap().rehearse(GARAGES, 5).unwrap());
    assert!(unnoted.friction.standard_uncertainty > noted.friction.standard_uncertainty * 3.0);
    assert!(unnoted.rate.standard_uncertainty > noted.rate.standard_uncertainty);
    // Nothing is said of friction then: no more is claimed than the prior, which the truth follows.
    assert!((0.93..=1.0).contains(&unnoted.friction.covered_95.si()), "{:?}", unnoted.friction.covered_95);
    assert!((0.93..=0.99).contains(&unnoted.rate.covered_95.si()), "{:?}", unnoted.rate.covered_95);
}

#[test]
fn what_the_readings_will_be_worth_is_what_the_fit_then_says() {
    let fit = demo().study(End::Rear).unwrap().as_stated().unwrap().fit();
    let rehearsal = demo().study(End::Rear).unwrap().rehearse(GARAGES, 6).unwrap();
    // The fit's own uncertainty is that of one garage: loads and rates differ by a few per cent between them.
    let near = |one: f64, other: f64| assert!((one / other - 1.0).abs() < 0.1, "{one} {other}");
    near(rehearsal.rate.standard_uncertainty.si(), fit.rate.standard_uncertainty.si());
    near(rehearsal.preload.standard_uncertainty.si(), fit.preload.standard_uncertainty.si());
    near(rehearsal.friction.standard_uncertainty.si(), fit.friction.standard_uncertainty.si());
}

#[test]
fn a_seed_is_a_rehearsal_on_any_number_of_cores() {
    let once = demo().study(End::Front).unwrap().rehearse(1_300, 9).unwrap();
    assert_eq!(once, demo().study(End::Front).unwrap().rehearse(1_300, 9).unwrap());
    assert_ne!(once, demo().study(End::Front).unwrap().rehearse(1_300, 10).unwrap());
    assert_eq!(once.rate.garages, 1_300);
    #[cfg(feature = "rayon")]
    {
        let one_core = rayon::ThreadPoolBuilder::new().num_threads(1).build().unwrap();
        assert_eq!(once, one_core.install(|| demo().study(End::Front).unwrap().rehearse(1_300, 9)).unwrap());
    }
}

#[test]
fn nothing_is_rehearsed_without_readings_or_with_too_few_garages() {
    let bare = with_readings(|_| None);
    let error = bare.study(End::Rear).unwrap().rehearse(GARAGES, 1).unwrap_err().to_string();
    assert!(error.contains("reading"), "{error}");
    let error = demo().study(End::Rear).unwrap().rehearse(5, 1).unwrap_err().to_string();
    assert!(error.contains("garages") && error.contains('5'), "{error}");
}

#[test]
fn a_tally_counts_what_it_was_given() {
    let mut all = Tally::default();
    // Off by 1, −2 and 5 deviations of 2.
    for (found, truth) in [(12.0, 10.0), (6.0, 10.0), (20.0, 10.0)] {
        all.add(found, 4.0, truth);
    }
    assert_eq!((all.garages, all.covered), (3, 1), "two deviations are beyond 1.96");
    assert!((all.bias - 4.0).abs() < 1e-12 && (all.reported - 12.0).abs() < 1e-12 && (all.made - 120.0).abs() < 1e-12);
    let mut twice = all;
    twice.merge(&all);
    assert_eq!((twice.garages, twice.covered), (6, 2));
    assert!(
        (twice.bias - 8.0).abs() < 1e-12 && (twice.reported - 24.0).abs() < 1e-12 && (twice.made - 240.0).abs() < 1e-12
    );
}
