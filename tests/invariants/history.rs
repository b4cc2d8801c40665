//! Do the tests between sets of readings fire as often as they say, and do their intervals hold the truth? Simulated garages
//! (those of `calibration`) read twice on one state, and a third time on another spring.
//!
//! `make test` runs a few hundred. Thousands, with the table:
//! `WHEELRATE_GARAGES=5000 cargo test --release -p wheelrate-tests --test invariants history -- --nocapture`

use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;
use wheelrate::bike::BikeParts;
use wheelrate::history::EndHistory;
use wheelrate::infer::probability::COVERAGE_95;
use wheelrate::record::{End, Ends, Reading, SagKind, SpringPrior};
use wheelrate::units::{Length, Quantity};
use wheelrate::wheel::Tunable;
use wheelrate::{Bike, Result};

use crate::calibration::{Dice, Garage, Tally, linkages};

/// Garages of a run in `make test`.
const GARAGES: usize = 200;
/// What 95 % may come out as over many garages.
const COVERED: [f64; 2] = [0.93, 0.97];
/// Standard deviations of a binomial share that a run may stray besides: one in 15,000.
const STRAY: f64 = 4.0;
/// A test at 5 % that fires less often than this is too timid to be of use, at more it cries wolf.
const FIRES: [f64; 2] = [0.03, 0.07];

/// The garage read again, with its springs settled by a length, its friction what it is by then.
fn again(garage: &Garage, settled: f64, date: &str, dice: &mut Dice) -> Vec<Reading> {
    let by = Length::from_si(-settled);
    let mut then = garage.clone();
    then.front = garage.front.with_spring_change(1.0, by).unwrap();
    then.rear = garage.rear.with_spring_change(1.0, by).unwrap();
    read(&then, date, dice)
}

fn read(garage: &Garage, date: &str, dice: &mut Dice) -> Vec<Reading> {
    let readings = End::BOTH.into_iter().flat_map(|end| garage.readings(end, dice)).collect::<Vec<_>>();
    readings.into_iter().map(|reading| Reading { date: Some(date.to_owned()), ..reading }).collect()
}

fn with_readings(bike: &Bike, readings: Vec<Reading>) -> Result<Bike> {
    Bike::new(BikeParts { readings, ..bike.parts().clone() })
}

fn history(bike: &Bike, end: End, refused: &mut usize) -> Option<EndHistory> {
    let history = bike.history_end(end);
    *refused += usize::from(history.is_err());
    history.ok()
}

fn garages() -> usize {
    std::env::var("WHEELRATE_GARAGES").ok().and_then(|text| text.parse().ok()).unwrap_or(GARAGES)
}

/// A share that should be this large, give or take what a run may stray.
#[track_caller]
fn within(what: &str, share: f64, [least, most]: [f64; 2], count: f64) {
    let stray = STRAY * (0.95 * 0.05 / count).sqrt();
    assert!(share >= least - stray && share <= most + stray, "{what}: {share:.3} of {count}");
}

#[test]
fn a_drift_is_found_as_often_as_it_says_and_its_interval_holds_it() {
    let linkages = linkages();
    let mut dice = Dice(Xoshiro256PlusPlus::seed_from_u64(11));
    let (mut fired, mut tests) = ([[0.0; 2]; 2], [0.0; 2]);
    let mut covered = [[Tally::default(); 2]; 2];
    let mut refused = 0;
    for _ in 0..garages() {
        let mut garage = Garage::new(&linkages, None, &mut dice);
        let first = read(&garage, "2026-05-01", &mut dice);
        let same = again(&garage, 0.0, "2026-06-01", &mut dice);
        let before = garage.friction;
        let settled = dice.between(0.0, 6e-3);
        garage.friction = Ends { front: dice.between(5.0, 90.0), rear: dice.between(5.0, 90.0) };
        let other = again(&garage, settled, "2026-06-01", &mut dice);
        for (k, end) in End::BOTH.into_iter().enumerate() {
            let twice = with_readings(&garage.bike, [first.clone(), same.clone()].concat()).unwrap();
            if let Some(history) = history(&twice, end, &mut refused) {
                let drift = &history.drifts[0];
                let preload = drift.preload.unwrap();
                tests[k] += 1.0;
                fired[k][0] += f64::from(preload.deviations.abs() > COVERAGE_95);
                fired[k][1] += f64::from(drift.friction.deviations.abs() > COVERAGE_95);
                assert!((preload.probability < 0.05) == (preload.deviations.abs() > COVERAGE_95));
            }
            let twice = with_readings(&garage.bike, [first.clone(), other.clone()].concat()).unwrap();
            if let Some(history) = history(&twice, end, &mut refused) {
                let drift = &history.drifts[0];
                covered[k][0].add(drift.preload.unwrap().change, -settled);
                covered[k][1].add(drift.friction.change, garage.friction.at(end) - before.at(end));
            }
        }
    }
    println!("{} garages, {refused} of {} pairs of sets refused as contradictory", garages(), 4 * garages());
    println!("{:6} {:9} {:>12} {:>14} {:>8}", "end", "drift of", "fires at 5 %", "95 % covers", "bias/u");
    for (k, end) in End::BOTH.into_iter().enumerate() {
        for (j, what) in ["preload", "friction"].into_iter().enumerate() {
            let Tally { count, covered, error } = covered[k][j];
            let (fires, covers) = (fired[k][j] / tests[k], covered / count);
            println!("{end:6} {what:9} {:>10.1} % {:>12.1} % {:>+8.3}", 100.0 * fires, 100.0 * covers, error / count);
        }
    }
    for (k, end) in End::BOTH.into_iter().enumerate() {
        for (j, what) in ["preload", "friction"].into_iter().enumerate() {
            let Tally { count, covered, .. } = covered[k][j];
            within(&format!("{end} {what} fires"), fired[k][j] / tests[k], FIRES, tests[k]);
            within(&format!("{end} {what} covers"), covered / count, COVERED, count);
        }
    }
}

#[test]
fn a_prediction_that_is_true_fails_as_seldom_as_it_says() {
    let linkages = linkages();
    let mut dice = Dice(Xoshiro256PlusPlus::seed_from_u64(13));
    let mut refused = 0;
    let (mut count, mut failed, mut sags) = ([0.0; 2], [0.0; 2], [Tally::default(); 2]);
    for _ in 0..garages() {
        let mut garage = Garage::new(&linkages, None, &mut dice);
        let first = read(&garage, "2026-05-01", &mut dice);
        let rate = |dice: &mut Dice, from: f64, to: f64| format!("{:.1} N/mm", dice.between(from, to));
        let (fork, shock) = (rate(&mut dice, 4.2, 5.2), rate(&mut dice, 50.0, 62.0));
        let changes = [
            ("front.fork.leg[0].spring.rate", fork.as_str()),
            ("front.fork.leg[1].spring.rate", fork.as_str()),
            ("rear.shock.spring.rate", shock.as_str()),
            ("rear.shock.spring.preload", "9 mm"),
        ];
        let bike = with_readings(&garage.bike, first).unwrap();
        let bike = bike.with_logged_change("2026-06-01", &changes, None).unwrap();
        let prior = SpringPrior::default();
        let mut change = || {
            let factor = 1.0 + dice.between(-1.0, 1.0) * prior.rate_tolerance.si();
            (factor, Length::from_si(dice.normal(prior.preload_uncertainty.si())))
        };
        let (front, rear) = (change(), change());
        garage.front = bike.front().unwrap().with_spring_change(front.0, front.1).unwrap();
        garage.rear = bike.rear().unwrap().with_spring_change(rear.0, rear.1).unwrap();
        let after = read(&garage, "2026-07-01", &mut dice);
        let bike = bike.with(|parts| parts.readings.extend(after)).unwrap();
        for (k, end) in End::BOTH.into_iter().enumerate() {
            let Some(history) = history(&bike, end, &mut refused) else { continue };
            let prediction = &history.predictions[0];
            count[k] += 1.0;
            failed[k] += f64::from(prediction.probability().unwrap().si() < 0.05);
            assert_eq!(prediction.held().unwrap(), prediction.cause.is_none());
            for sag in &prediction.sags {
                sags[k].add(sag.difference.unwrap(), 0.0);
            }
        }
    }
    println!("{} garages, {refused} of {} refused as contradictory", garages(), 2 * garages());
    for (k, end) in End::BOTH.into_iter().enumerate() {
        let (fails, covers) = (failed[k] / count[k], sags[k].covered / sags[k].count);
        println!("{end:6} fails at 5 %: {:.1} %, sags within 95 %: {:.1} %", 100.0 * fails, 100.0 * covers);
    }
    for (k, end) in End::BOTH.into_iter().enumerate() {
        // A label that errs uniformly reaches less far than the normal one that predictions reckon with.
        within(&format!("{end} prediction fails"), failed[k] / count[k], [0.015, 0.07], count[k]);
        within(&format!("{end} sags"), sags[k].covered / sags[k].count, [0.93, 0.985], count[k]);
    }
}

/// Over many garages: the collar of each end turned exactly as advised, then the prediction of history against the promise of
/// the advice, and the advice after it against both.
#[test]
fn history_predicts_what_advice_promised() {
    // Advice works the sags out about a setting within a millimetre and a half of preload of the one it ends at, and in a
    // straight line from there; a tape shows millimetres.
    const SAME: f64 = 1e-4;
    let linkages = linkages();
    let mut dice = Dice(Xoshiro256PlusPlus::seed_from_u64(17));
    let mut compared = 0;
    for _ in 0..garages() {
        let garage = Garage::new(&linkages, None, &mut dice);
        let Ok(bike) = with_readings(&garage.bike, read(&garage, "2026-05-01", &mut dice)) else { continue };
        for (end, places) in [
            (End::Front, &["front.fork.leg[0].spring.preload", "front.fork.leg[1].spring.preload"][..]),
            (End::Rear, &["rear.shock.spring.preload"][..]),
        ] {
            let Ok(advice) = bike.advise_end(end) else { continue };
            let Some(promised) = advice.fitted().and_then(|fitted| fitted.outcome) else { continue };
            let preload = format!("{:?} mm", promised.preload.value.si() * 1e3);
            let values: Vec<(&str, &str)> = places.iter().map(|path| (*path, preload.as_str())).collect();
            // A preload that no such spring takes is none to turn to.
            let Ok(turned) = bike.with_logged_change("2026-06-01", &values, None) else { continue };
            let history = turned.history_end(end).unwrap();
            let after = turned.advise_end(end).unwrap();
            let Some(prediction) = history.predictions.first() else {
                assert!(promised.preload_change.value.si().abs() < SAME, "{promised:?}");
                continue;
            };
            for target in &prediction.targets {
                let (promised, today) = match target.sag {
                    SagKind::Rider => (promised.rider_sag, after.today.rider_sag),
                    SagKind::Free => (promised.free_sag, after.today.free_sag),
                };
                let predicted = target.predicted.unwrap();
                let off = (predicted.value - promised.value).si();
                assert!(off.abs() < SAME, "{end} {:?}: {off}, {predicted:?} {promised:?}", target.sag);
                assert_eq!(predicted, today, "{end}");
                compared += 1;
            }
            assert_eq!(after.fit.rate, advice.fit.rate);
        }
    }
    assert!(compared > garages(), "{compared} sags of {} ends", 2 * garages());
}
