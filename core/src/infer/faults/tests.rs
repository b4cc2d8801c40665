//! The demo bike with one thing grossly wrong.

use nalgebra::DMatrix;

use super::*;
use crate::Bike;
use crate::demo::PATROL;
use crate::infer::doubts::{Doubts, Gross};
use crate::infer::fit::tests::{BOTH, LABEL, readings, solve};
use crate::infer::model::tests::Straight;
use crate::infer::{Condition, Fit, Study};
use crate::record::{End, Load, Reading};
use crate::units::{Length, Quantity, Share};

fn demo() -> Bike {
    Bike::from_toml(PATROL).unwrap()
}

/// The demo's rear readings changed by their place among those of the rear.
fn rear(change: impl Fn(usize, Reading) -> Option<Reading>) -> Bike {
    let mut parts = demo().parts().clone();
    let (rear, front): (Vec<_>, Vec<_>) = parts.readings.into_iter().partition(|reading| reading.end == End::Rear);
    let rear = rear.into_iter().enumerate().filter_map(|(at, reading)| change(at, reading));
    parts.readings = front.into_iter().chain(rear).collect();
    Bike::new(parts).unwrap()
}

fn fit(bike: &Bike) -> Fit {
    bike.study(End::Rear).unwrap().fit()
}

fn is_under(reading: &Reading, load: &str) -> bool {
    reading.load == Load::parse(load).unwrap()
}

#[test]
fn a_place_that_is_off_by_centimetres_hardly_counts_and_is_named() {
    // Three centimetres, all repeats of the bike pushed down under its rider.
    let wrong =
        |reading: &Reading| is_under(reading, "bike + rider") && reading.settled == Some(crate::record::Settled::Low);
    let off = rear(|_, reading| {
        let by = Length::from_si(if wrong(&reading) { -0.03 } else { 0.0 });
        Some(Reading { distance: reading.distance + by, ..reading })
    });
    let without = rear(|_, reading| (!wrong(&reading)).then_some(reading));
    let (found, expected) = (fit(&off), fit(&without));
    let named = found.conditions.iter().find_map(|condition| match condition {
        Condition::GrossError { readings, probability, .. } => Some((readings.len(), *probability)),
        _ => None,
    });
    let count = demo().parts().readings.iter().filter(|reading| reading.end == End::Rear && wrong(reading)).count();
    assert!(named.is_some_and(|(readings, chance)| readings == count && chance > Share::from_si(0.9)), "{named:?}");
    // A place widened to three centimetres pulls by hundredths of what one of a tape does.
    let apart = (found.rate.value.si() - expected.rate.value.si()).abs() / expected.rate.standard_uncertainty.si();
    assert!(apart < 0.3, "{apart}");
    // As stated everything believes it.
    let believed = Study::plain(&off, End::Rear).unwrap().fit();
    assert!(
        (believed.rate.value.si() - expected.rate.value.si()).abs() > 2.0 * believed.rate.standard_uncertainty.si()
    );
}

#[test]
fn a_lone_extended_reading_asks_for_a_second() {
    let lone = rear(|_, reading| (!is_under(&reading, "none")).then_some(reading));
    let extended =
        demo().parts().readings.iter().find(|one| one.end == End::Rear && is_under(one, "none")).unwrap().clone();
    let once = fit(&lone.with(|parts| parts.readings.extend([extended.clone()])).unwrap());
    let twice = fit(&lone.with(|parts| parts.readings.extend([extended.clone(), extended])).unwrap());
    assert_eq!(once.conditions, [Condition::LoneExtended]);
    assert_eq!(twice.conditions, []);
    let spread = |fit: &Fit| fit.extended.unwrap().standard_uncertainty.si();
    // One that may be off by a centimetre once in ten times is worth less than half of two.
    assert!(spread(&once) > 2f64.sqrt() * spread(&twice), "{} {}", spread(&once), spread(&twice));
}

#[test]
fn readings_that_agree_are_read_as_without_gross_errors_and_a_little_wider() {
    for end in End::BOTH {
        let usual = demo().study(end).unwrap();
        let stated = usual.as_stated().unwrap();
        assert_eq!(stated.solved.evidence.doubts, Doubts::AS_STATED);
        assert_eq!(stated, stated.as_stated().unwrap());
        let (usual, stated) = (usual.fit(), stated.fit());
        let apart = (usual.rate.value.si() - stated.rate.value.si()).abs() / stated.rate.standard_uncertainty.si();
        let wider = usual.rate.standard_uncertainty.si() / stated.rate.standard_uncertainty.si();
        assert!(apart < 0.5 && (1.0..1.5).contains(&wider), "{apart} {wider}");
        assert!(usual.conditions.iter().all(|one| *one == Condition::LoneExtended), "{:?}", usual.conditions);
    }
}

#[test]
fn a_label_that_the_readings_contradict_is_a_condition() {
    // The spring reads a fifth softer than it is.
    let bike = demo().correct(&[("rear.shock.spring.rate", "64 N/mm")]).unwrap();
    let fit = fit(&bike);
    assert!(fit.conditions.iter().any(|one| matches!(one, Condition::Label { .. })), "{:?}", fit.conditions);
    let known = demo().fit_end(End::Rear).unwrap();
    let apart = (fit.rate.value.si() - known.rate.value.si()).abs() / fit.rate.standard_uncertainty.si();
    assert!(apart < 2.0, "{:?} {:?}", fit.rate, known.rate);
}

/// The ratio of likelihoods of a reading decimetres off is beyond the largest number there is; its chance is one all the same.
#[test]
fn a_reading_that_is_off_by_decimetres_has_a_chance_and_not_nothing() {
    let first = core::cell::Cell::new(true);
    let off = rear(|_, reading| {
        let by = if reading.load == Load::None && first.take() { 0.3 } else { 0.0 };
        Some(Reading { distance: reading.distance + Length::from_si(by), ..reading })
    });
    let found = fit(&off);
    let chance = found.conditions.iter().find_map(|condition| match condition {
        Condition::GrossError { probability, .. } => Some(probability.si()),
        _ => None,
    });
    assert!(chance.is_some_and(|chance| (0.99..=1.0).contains(&chance)), "{:?}", found.conditions);
    assert!(found.rate.standard_uncertainty.si().is_finite());
}

/// The width of a gross error that is larger than such errors are: how far the reading is off the mean of the others there.
#[test]
fn a_reading_that_is_off_is_widened_by_what_it_is_off_its_repeats() {
    let first = core::cell::Cell::new(true);
    let off = rear(|_, reading| {
        let by = if reading.load == Load::None && first.take() { 0.3 } else { 0.0 };
        Some(Reading { distance: reading.distance + Length::from_si(by), ..reading })
    });
    let study = off.study(End::Rear).unwrap();
    let observations = &study.solved.evidence.observations;
    let extended: Vec<_> = observations.iter().filter(|one| one.load.is_none()).collect();
    let others = &extended[1..];
    assert!(others.iter().all(|one| one.deviation == others[0].deviation), "of one weight");
    let mean = others.iter().map(|one| one.distance).sum::<f64>() / others.len() as f64;
    let widths: Vec<f64> = observations.iter().map(|one| one.gross.own).filter(|own| *own > 0.0).collect();
    assert!(matches!(widths[..], [width] if (width - (extended[0].distance - mean)).abs() < 1e-12), "{widths:?}");
}

#[test]
fn a_lone_extended_reading_with_nothing_that_counts_from_it_asks_for_nothing() {
    let first = core::cell::Cell::new(true);
    let only = rear(|_, reading| (reading.load == Load::None && first.take()).then_some(reading));
    let found = fit(&only);
    assert_eq!((found.readings.len(), found.conditions.len()), (1, 0), "{:?}", found.conditions);
}

/// Readings of the mock end that are off by what a tape errs, some of them by more, every single fault of which is looked at.
fn doubted(rows: &[(&str, f64)]) -> (Evidence, Gross) {
    let end = Straight::usual();
    let mut evidence = solve(&end, &readings(&end, rows), LABEL, 1.5e-3).evidence;
    let gross = Doubts::USUAL.gross.unwrap();
    evidence.doubts = Doubts { gross: Some(gross), ..Doubts::AS_STATED };
    for (k, one) in evidence.observations.iter_mut().enumerate() {
        one.distance += 3e-3 * (2.0 * k as f64 + 1.0).sin();
    }
    (evidence, gross)
}

/// `−2·ln` of how likely the readings of an end are: least squares, the errors' determinant, and what is left of the unknowns.
/// Every reading of a place shares what the place is off by.
fn surprise(evidence: &Evidence, posterior: &Posterior) -> f64 {
    let places: Vec<usize> = posterior.predictions.readings.iter().map(|(place, _)| *place).collect();
    let count = places.len();
    let errors = DMatrix::from_fn(count, count, |i, j| {
        let (one, other) = (&evidence.observations[i], &evidence.observations[j]);
        let own = if i == j { one.deviation.powi(2) + one.gross.own.powi(2) } else { 0.0 };
        own + if places[i] == places[j] { one.gross.shared * other.gross.shared } else { 0.0 }
    });
    posterior.cost + errors.determinant().ln() - posterior.covariance.determinant().ln()
}

/// Under each fault everything is solved again with its wide error in the place of the usual one.
#[test]
fn chance_and_posterior_under_a_fault_are_those_of_a_search_with_its_error() {
    /// Distances bend over the unknowns, by this much of a standard deviation, of a variance, or of a logarithm of odds, where a
    /// place with all its repeats hardly counts any more.
    const BEND: f64 = 0.1;
    for rows in [BOTH.to_vec(), [BOTH, BOTH].concat(), [&BOTH[..], &BOTH[3..], &BOTH[4..]].concat()] {
        let (evidence, gross) = doubted(&rows);
        let posterior = evidence.solve(&[]).unwrap();
        let alternatives = evidence.alternatives(&posterior);
        let repeated = posterior.predictions.places.iter().enumerate().map(|(place, _)| {
            let repeats = posterior.predictions.readings.iter().filter(|(of, _)| *of == place).count();
            if repeats > 1 { repeats } else { 0 }
        });
        assert_eq!(alternatives.len(), posterior.predictions.places.len() + repeated.sum::<usize>() + 1);
        for mut one in alternatives {
            let mut under = evidence.clone();
            let mut scale = DMatrix::<f64>::identity(posterior.unknowns.len(), posterior.unknowns.len());
            let before = match one.fault {
                Fault::Label => {
                    under.priors.rate *= one.width;
                    scale[(RATE, RATE)] = one.width;
                    assert!((under.priors.rate - gross.label_spread).abs() < 1e-12);
                    gross.label
                }
                Fault::Place(place) => {
                    under.widen(one.fault, one.width, &posterior);
                    let lone = place == 0 && rows[1..].iter().all(|(load, _)| *load != "none");
                    if lone { gross.lone_extended } else { gross.place }
                }
                Fault::Reading(_) => {
                    under.widen(one.fault, one.width, &posterior);
                    gross.reading
                }
            };
            let anew = under.solve(&posterior.unknowns).unwrap();
            // A wide prior is in the cost, and in what is left of the unknown in units of its own.
            let ratio = -0.5 * (surprise(&under, &anew) - surprise(&evidence, &posterior));
            let odds = one.log_odds - (before / (1.0 - before)).ln();
            assert!((odds - ratio).abs() < BEND * ratio.abs().max(1.0), "{:?}: {odds} {ratio}", one.fault);
            // Beyond doubt, so that the mixture is what holds under the fault.
            one.log_odds = 1e3;
            let (fault, mut mixed) = (one.fault, posterior.clone());
            let label = mixed.mix(&[one]);
            assert_eq!(label, if fault == Fault::Label { 1.0 } else { 0.0 });
            let covariance = &scale * &anew.covariance * &scale;
            for i in 0..mixed.unknowns.len() {
                let spread = covariance[(i, i)].sqrt();
                let expected = anew.unknowns[i] * scale[(i, i)];
                assert!((mixed.unknowns[i] - expected).abs() < BEND * spread, "{fault:?} {i}: {mixed:?} {anew:?}");
                for j in 0..mixed.unknowns.len() {
                    let both = spread * covariance[(j, j)].sqrt();
                    let off = mixed.covariance[(i, j)] - covariance[(i, j)];
                    assert!(off.abs() < BEND * both, "{fault:?} {i} {j}: {off} of {both}");
                }
            }
        }
    }
}

/// Two alternatives and none: each with its share, the mean in the middle of the three, the spread between them on top.
#[test]
fn a_mixture_has_the_mean_and_the_variance_of_its_parts() {
    let (evidence, _) = doubted(&BOTH);
    let posterior = evidence.solve(&[]).unwrap();
    let under = |at: usize| {
        let mut one = evidence.alternatives(&posterior).swap_remove(at);
        one.log_odds = 1e3;
        let mut alone = posterior.clone();
        alone.mix(&[one]);
        alone
    };
    let mut two: Vec<Alternative> = evidence.alternatives(&posterior).into_iter().take(2).collect();
    // Twice and three times as likely as none.
    (two[0].log_odds, two[1].log_odds) = (2f64.ln(), 3f64.ln());
    let shares = [1.0 / 6.0, 2.0 / 6.0, 3.0 / 6.0];
    let found = chances(&two);
    assert!((found[0] - shares[1]).abs() < 1e-15 && (found[1] - shares[2]).abs() < 1e-15, "{found:?}");
    let parts = [posterior.clone(), under(0), under(1)];
    let mut mixed = posterior.clone();
    mixed.mix(&two);
    let mean = |i: usize| shares.iter().zip(&parts).map(|(share, part)| share * part.unknowns[i]).sum::<f64>();
    for i in 0..mixed.unknowns.len() {
        assert!((mixed.unknowns[i] - mean(i)).abs() < 1e-12, "{i}");
        for j in 0..mixed.unknowns.len() {
            let second = shares.iter().zip(&parts).map(|(share, part)| {
                share * (part.covariance[(i, j)] + (part.unknowns[i] - mean(i)) * (part.unknowns[j] - mean(j)))
            });
            assert!((mixed.covariance[(i, j)] - second.sum::<f64>()).abs() < 1e-12, "{i} {j}");
        }
    }
}
