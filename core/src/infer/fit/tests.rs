//! The fit of a mock rear end whose true state is known.

use std::sync::Arc;

use super::*;
use crate::infer::Slip;
use crate::infer::doubts::Doubts;
use crate::infer::model::settle_exactly;
use crate::infer::model::tests::Straight;
use crate::infer::posterior::Priors;
use crate::infer::readings::Gathered;
use crate::mass::{Masses, Weighing};
use crate::record::{Direction, Ends, Measuring, Reading, Settled};
use crate::spring::MainSpring;
use crate::units::{Mass, UnitSystem};

const EXTENDED: f64 = 0.655;
const TRUE_FACTOR: f64 = 1.03;
const TRUE_PRELOAD_CHANGE: f64 = 1.2e-3;
const TRUE_FRICTION: f64 = 45.0;

fn masses() -> Masses {
    let scales =
        |front: f64, rear: f64| Weighing::Scales(Ends { front: Mass::from_si(front), rear: Mass::from_si(rear) });
    let named = [("bike", scales(61.0, 64.0)), ("rider", scales(30.0, 66.0)), ("sand", scales(0.0, 20.0))];
    let named = named.into_iter().map(|(name, weighing)| (name.to_owned(), weighing)).collect();
    Masses::new(named, Ends { front: Mass::from_si(14.2), rear: Mass::from_si(17.5) }, None).unwrap()
}

fn main_spring(end: &Straight) -> MainSpring {
    let (rate, preload) = (SpringRate::from_si(end.spring_rate), Length::from_si(end.preload));
    MainSpring { rate, preload, each: vec![(rate, preload)] }
}

/// The distance that the true state gives, without error.
fn distance(end: &Straight, load: &str, side: f64) -> f64 {
    let load = Load::parse(load).unwrap();
    if load == Load::None {
        return EXTENDED;
    }
    let force = masses().sprung_load(End::Rear, &load).unwrap().value.si() + side * TRUE_FRICTION;
    EXTENDED - settle_exactly(end, force, TRUE_FACTOR, TRUE_PRELOAD_CHANGE, 0.1).unwrap().1.max(0.0)
}

pub(crate) const BOTH: [(&str, f64); 5] =
    [("none", 0.0), ("bike", 1.0), ("bike", -1.0), ("bike + rider", 1.0), ("bike + rider", -1.0)];

pub(crate) fn readings(end: &Straight, rows: &[(&str, f64)]) -> Vec<Reading> {
    rows.iter()
        .map(|&(load, side)| {
            let settled = if side > 0.0 {
                Some(Settled::Low)
            } else if side < 0.0 {
                Some(Settled::High)
            } else {
                None
            };
            let distance = Length::from_si(distance(end, load, side));
            Reading::new(End::Rear, Load::parse(load).unwrap(), distance, settled).unwrap()
        })
        .collect()
}

pub(crate) fn solve(end: &Straight, readings: &[Reading], priors: Priors, tape: f64) -> Solved {
    let measuring = Measuring::new(Direction::Vertical, Length::from_si(tape)).unwrap();
    let readings: Vec<&Reading> = readings.iter().collect();
    let gathered = Gathered::new(End::Rear, end, &readings, &measuring, &masses(), &[], &Doubts::AS_STATED).unwrap();
    Solved::new(
        End::Rear,
        Arc::new(*end),
        Arc::new(main_spring(end)),
        priors,
        -170.0,
        Arc::new(gathered),
        Doubts::AS_STATED,
    )
    .unwrap()
}

pub(crate) const LABEL: Priors = Priors { rate: 0.03, preload: 1e-3, friction: (40.0, 40.0) };
const NO_LABEL: Priors = Priors { rate: 0.5, preload: 50e-3, friction: (40.0, 40.0) };

#[test]
fn exact_readings_without_a_label_give_the_true_state() {
    let end = Straight::usual();
    // A tape of a hundredth of a millimetre and an extra load leave hardly anything to the wide priors.
    let rows = [&BOTH[..], &[("bike + rider + sand", 1.0), ("bike + rider + sand", -1.0)]].concat();
    let fit = solve(&end, &readings(&end, &rows), NO_LABEL, 1e-5).fit();
    let near = |found: f64, truth: f64, share: f64| assert!((found / truth - 1.0).abs() < share, "{found} {truth}");
    near(fit.rate.value.si(), TRUE_FACTOR * end.spring_rate, 1e-3);
    near(fit.preload.value.si(), end.preload + TRUE_PRELOAD_CHANGE, 5e-3);
    near(fit.friction.value.si(), TRUE_FRICTION, 1e-3);
    near(fit.extended.unwrap().value.si(), EXTENDED, 1e-5);
    assert!(fit.from_readings.rate.si() > 0.9 && fit.from_readings.friction.si() > 0.99);
    assert!(fit.chi_square.value < 0.05 && fit.chi_square.degrees == 6);
}

#[test]
fn a_garage_tape_says_so_in_its_uncertainty() {
    let end = Straight::usual();
    let fit = solve(&end, &readings(&end, &BOTH), LABEL, 1.5e-3).fit();
    let within = |found: f64, u: f64, truth: f64| assert!((found - truth).abs() < 2.0 * u, "{found} ± {u}, {truth}");
    within(fit.rate.value.si(), fit.rate.standard_uncertainty.si(), TRUE_FACTOR * end.spring_rate);
    within(fit.preload.value.si(), fit.preload.standard_uncertainty.si(), end.preload + TRUE_PRELOAD_CHANGE);
    within(fit.friction.value.si(), fit.friction.standard_uncertainty.si(), TRUE_FRICTION);
    assert!(fit.correlation[0][1] < -0.2, "a stiffer spring needs less preload: {:?}", fit.correlation);
    assert!(fit.rate.standard_uncertainty.si() < 0.03 * fit.rate.value.si());
    let spoken: Vec<String> = fit.findings.iter().map(|finding| finding.text(UnitSystem::Metric)).collect();
    assert!(spoken.is_empty(), "{spoken:?}");
}

#[test]
fn one_reading_is_an_answer_as_wide_as_it_deserves() {
    let end = Straight::usual();
    let fit = solve(&end, &readings(&end, &BOTH[..2]), LABEL, 1.5e-3).fit();
    assert!(fit.rate.standard_uncertainty.si() > 0.9 * 0.03 * end.spring_rate, "the label is hardly narrowed");
    assert!(matches!(fit.findings[..], [Finding::FrictionAssumed { .. }]), "{:?}", fit.findings);
    let label_only = solve(&end, &[], LABEL, 1.5e-3).fit();
    assert_eq!(label_only.findings, [Finding::NoReadings]);
    assert_eq!(label_only.from_readings.rate.si(), 0.0);
    assert!(label_only.extended.is_none());
}

#[test]
fn a_misread_value_is_named_with_its_slip_and_stays_in() {
    let end = Straight::usual();
    let rows = [BOTH, BOTH].concat();
    let mut wrong = readings(&end, &rows);
    wrong[8].distance += Length::from_si(0.05);
    let fit = solve(&end, &wrong, LABEL, 1.5e-3).fit();
    let Some(Finding::Misread { reading: 8, slip, rate: [with, without], .. }) = fit.findings.first() else {
        panic!("{:?}", fit.findings)
    };
    assert_eq!(*slip, Slip::RoundAmount(Length::from_si(0.05)));
    assert_eq!(*with, fit.rate);
    assert!((without.value.si() / (TRUE_FACTOR * end.spring_rate) - 1.0).abs() < 0.02);
    assert!(fit.findings.iter().any(|finding| matches!(finding, Finding::Scatter { .. })));
    let text = fit.findings[0].text(UnitSystem::Metric);
    assert!(text.contains("Reading 9") && text.contains("settled low") && text.contains("50.0 mm"), "{text}");

    let mut swapped = readings(&end, &rows);
    swapped[8].settled = Some(Settled::High);
    let fit = solve(&end, &swapped, LABEL, 1.0e-3).fit();
    assert!(
        matches!(fit.findings.first(), Some(Finding::Misread { slip: Slip::SettledSwapped, .. })),
        "{:?}",
        fit.findings
    );
}

#[test]
fn a_topped_out_reading_is_an_inequality() {
    // So much preload that the bike alone does not move the wheel.
    let stiff = Straight { preload: 0.035, ..Straight::usual() };
    let without: Vec<(&str, f64)> = vec![("none", 0.0), ("bike + rider", 1.0), ("bike + rider", -1.0)];
    let with = [&without[..], &[("bike", 1.0), ("bike", -1.0)]].concat();
    let loose = Priors { preload: 4e-3, ..LABEL };
    let fit = solve(&stiff, &readings(&stiff, &with), loose, 1.5e-3).fit();
    let blind = solve(&stiff, &readings(&stiff, &without), loose, 1.5e-3).fit();
    // An inequality that holds anyway changes nothing but the zero, which two more readings on the stop make surer.
    assert!((fit.rate.value.si() / blind.rate.value.si() - 1.0).abs() < 2e-3);
    assert!((fit.rate.standard_uncertainty.si() / blind.rate.standard_uncertainty.si() - 1.0).abs() < 0.02);
    assert_eq!(fit.findings.iter().filter(|finding| matches!(finding, Finding::ToppedOut { .. })).count(), 2);
    assert!(fit.loads[0].sag.value.si() < 0.0, "topped out by a negative travel");
}

#[test]
fn monte_carlo_agrees_with_the_covariance() {
    let end = Straight::usual();
    let solved = solve(&end, &readings(&end, &BOTH), LABEL, 1.5e-3);
    let fit = solved.fit();
    let draws = 20_000;
    let sampled = solved.monte_carlo(draws, 1).unwrap();
    // A standard deviation from this many draws is itself known to 0.5 %; nonlinearity adds its own per cent.
    let same = |found: f64, expected: f64, what: &str| {
        assert!((found / expected - 1.0).abs() < 0.03, "{what}: {found} {expected}");
    };
    same(sampled.rate.standard_deviation.si(), fit.rate.standard_uncertainty.si(), "u(rate)");
    same(sampled.preload.standard_deviation.si(), fit.preload.standard_uncertainty.si(), "u(preload)");
    same(sampled.friction.standard_deviation.si(), fit.friction.standard_uncertainty.si(), "u(friction)");
    same(sampled.rate.mean.si(), fit.rate.value.si(), "rate");
    same(sampled.friction.mean.si(), fit.friction.value.si(), "friction");
    assert!((sampled.rate_preload_correlation - fit.correlation[0][1]).abs() < 0.03);
    assert_eq!(solved.monte_carlo(draws, 1).unwrap(), sampled, "the same seed gives the same draws");
    let few = solved.monte_carlo(10, 1).unwrap_err().to_string();
    assert!(few.contains("draws") && few.contains("10"), "{few}");
}

#[test]
fn an_end_topped_out_by_its_labels_is_found_by_the_balance_of_forces() {
    // Eighty millimetres of preload stated where fourteen are: by its labels nothing moves, and every derivative is zero.
    let end = Straight { preload: 0.08, ..Straight::usual() };
    let truth = -0.066;
    let read = |load: &str, side: f64, settled| {
        let load = Load::parse(load).unwrap();
        let force = masses().sprung_load(End::Rear, &load).unwrap().value.si() + side * TRUE_FRICTION;
        let distance = EXTENDED - settle_exactly(&end, force, 1.0, truth, 0.05).unwrap().1;
        Reading::new(End::Rear, load, Length::from_si(distance), Some(settled)).unwrap()
    };
    let mut all = readings(&Straight::usual(), &BOTH[..1]);
    for load in ["bike", "bike + rider"] {
        all.extend([read(load, 1.0, Settled::Low), read(load, -1.0, Settled::High)]);
    }
    let wide = Priors { preload: 0.04, ..LABEL };
    let fit = solve(&end, &all, wide, 1.5e-3).fit();
    let off = fit.preload.value.si() - (end.preload + truth);
    assert!(off.abs() < 2.0 * fit.preload.standard_uncertainty.si(), "{:?}", fit.preload);
    assert!(fit.preload.standard_uncertainty.si() < 4e-3 && fit.chi_square.probability > 0.05, "{fit:?}");
}

#[test]
fn a_balance_of_forces_starts_where_the_readings_are() {
    // Exact readings of a spring 3 % stiffer with 1.2 mm more preload; the prior mean of the friction is not the true one.
    let end = Straight::usual();
    let solved = solve(&end, &readings(&end, &BOTH), LABEL, 1.5e-3);
    let start = solved.evidence.balanced().unwrap();
    let [factor, preload, ..] = solved.evidence.physical(&start);
    assert!((factor / TRUE_FACTOR - 1.0).abs() < 0.01, "{factor}");
    assert!((preload - TRUE_PRELOAD_CHANGE).abs() < 0.5e-3, "{preload}");
    let alone = solve(&end, &readings(&end, &BOTH[..1]), LABEL, 1.5e-3);
    assert!(alone.evidence.balanced().is_none(), "no load, no balance");
}

/// What is said from a bound on is not said at it: "more than", "further off than", "as wide as".
#[test]
fn findings_begin_beyond_their_bounds() {
    let end = Straight::usual();
    let solved = solve(&end, &readings(&end, &BOTH), LABEL, 1.5e-3);
    let fit = solved.fit();
    assert!(fit.findings.is_empty(), "{:?}", fit.findings);
    let band = |value: f64, deviation: f64| {
        Some(Uncertain { value: Length::from_si(value), standard_uncertainty: Length::from_si(deviation) })
    };
    let with_band = |row: usize, band| {
        let mut fit = fit.clone();
        fit.rows[row].band = band;
        solved.findings(&fit)
    };
    // Two standard uncertainties below the band are the widest of a healthy end, exactly and more by the last bit.
    let (healthy, half) = (2.0 * HEALTHY_BAND, 0.5 * HEALTHY_BAND);
    assert_eq!(with_band(1, band(healthy, half)), []);
    let beyond = with_band(1, band(healthy * (1.0 + f64::EPSILON), half));
    assert!(matches!(beyond[..], [Finding::StickyEnd { .. }]), "{beyond:?}");
    let sag = fit.rows[0].middle().unwrap();
    assert_eq!(with_band(0, band(sag.si() * (1.0 - f64::EPSILON), sag.si())), []);
    let as_wide = with_band(0, band(sag.si(), sag.si()));
    assert_eq!(as_wide, [Finding::WideBand { load: fit.rows[0].load.clone(), band: sag, sag }]);

    for sign in [1.0, -1.0] {
        let off_label = |deviations: f64| {
            let mut solved = solved.clone();
            solved.posterior.unknowns[RATE] = sign * deviations;
            solved.findings(&fit)
        };
        assert_eq!(off_label(2.0), []);
        let [Finding::OffLabel { label, tolerance, .. }] = off_label(2.0 * (1.0 + f64::EPSILON))[..] else { panic!() };
        assert_eq!((label, tolerance), (solved.main.rate, Share::from_si(LABEL.rate)));
    }

    let by_chance = |probability: f64| {
        let chi_square = ChiSquare { probability, ..fit.chi_square };
        solved.findings(&Fit { chi_square, ..fit.clone() })
    };
    assert_eq!(by_chance(BY_CHANCE), []);
    let rarer = by_chance(BY_CHANCE * (1.0 - f64::EPSILON));
    assert!(matches!(rarer[..], [Finding::Scatter { degrees: 4, .. }]), "{rarer:?}");
}

/// Sags on a zeroed gauge, and beside readings of a tape: five centimetres more, or pushed down where lifting was noted.
#[test]
fn a_misread_sag_is_named_as_a_sag_with_its_slip() {
    let end = Straight::usual();
    let loaded = [&BOTH[1..], &BOTH[1..]].concat();
    let sags = || -> Vec<Reading> {
        let sag = |one: Reading| {
            let sag = Length::from_si(EXTENDED) - one.distance;
            Reading::of_sag(End::Rear, one.load, sag, one.settled).unwrap()
        };
        readings(&end, &loaded).into_iter().map(sag).collect()
    };
    for tape in [vec![], readings(&end, &BOTH)] {
        let place = tape.len() + 7;
        let fit_of = |change: fn(&mut Reading)| {
            let mut all = [tape.clone(), sags()].concat();
            change(&mut all[place]);
            (all[place].distance, solve(&end, &all, LABEL, 1.0e-3).fit())
        };
        let (_, right) = fit_of(|_| {});
        assert!(right.findings.is_empty(), "{:?}", right.findings);
        let (read, deeper) = fit_of(|one| one.distance += Length::from_si(0.05));
        let Some(Finding::Misread { reading, found, expected, slip, .. }) = deeper.findings.first() else {
            panic!("{:?}", deeper.findings)
        };
        assert_eq!((*reading, *slip), (place, Slip::RoundAmount(Length::from_si(0.05))));
        assert!((*found - read).si().abs() < 1e-12, "{found:?}, {read:?}");
        let off = (read - expected.value).si() - 0.05;
        // The step that leaves a reading out is linear: a tenth of the slip covers its bend, and what the labels are off by.
        assert!(off.abs() < 5e-3, "{off} {expected:?}");
        let (_, swapped) = fit_of(|one| one.settled = Some(Settled::Low));
        let first = swapped.findings.first();
        assert!(matches!(first, Some(Finding::Misread { slip: Slip::SettledSwapped, .. })), "{first:?}");
    }
}

/// By its labels nothing moves, no derivative leads away from there, and a tape so coarse that all may be on the stop does not
/// cry out: twice its degrees of freedom. Of a hundred readings that is chance once in ten million fits.
#[test]
fn many_readings_at_odds_ask_for_a_second_start_before_they_cost_much_each() {
    /// Cost per degree of freedom where nothing moves.
    const EACH: f64 = 2.0;
    let (labelled, truth) = (Straight { preload: 0.08, ..Straight::usual() }, 0.08 - 0.066);
    let real = Straight { preload: truth, ..labelled };
    let rows = vec![BOTH; 20].concat();
    let wide = Priors { preload: 0.04, ..LABEL };
    let mut evidence = solve(&real, &readings(&real, &rows), wide, 1.5e-3).evidence;
    evidence.end = Arc::new(labelled);
    let count = evidence.observations.len() as f64;
    let mean = evidence.observations.iter().map(|one| one.distance).sum::<f64>() / count;
    let spread = evidence.observations.iter().map(|one| (one.distance - mean).powi(2)).sum::<f64>();
    let degrees = evidence.degrees() as f64;
    for one in &mut evidence.observations {
        one.deviation = (spread / (EACH * degrees)).sqrt();
        one.may_top_out = true;
    }
    assert!(chi_square_exceeds(EACH * degrees, evidence.degrees()) < 1e-6);
    let found = evidence.solve(&vec![0.0; evidence.unknowns()]).unwrap();
    // The readings are exact: what is left is what the labels are off by, under three standard deviations.
    assert!(found.cost < 9.0, "{}", found.cost);
    let [_, preload, ..] = evidence.physical(&found.unknowns);
    let deviation = wide.preload * found.covariance[(PRELOAD, PRELOAD)].sqrt();
    assert!((preload + 0.066).abs() < 2.0 * deviation && deviation < 0.02, "{preload} ± {deviation}");
}
