//! The demo bike with one thing grossly wrong.

use crate::Bike;
use crate::demo::PATROL;
use crate::infer::doubts::Doubts;
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
