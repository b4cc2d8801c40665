//! Predictions against the model itself: values by substitution, derivatives by moving one unknown at a time.

use super::*;
use crate::infer::fit::tests::{BOTH, LABEL, readings, solve};
use crate::infer::model::tests::Straight;
use crate::infer::posterior::PRELOAD;

fn wish<'a>(solved: &'a Solved, model: &'a Straight) -> Wish<'a> {
    Wish { solved, model, rider: 1, bike: 0, rider_sag: 0.1, tape: 1.5e-3, gravity: 9.80665 }
}

#[test]
fn the_setting_carries_both_loads() {
    let end = Straight::usual();
    let solved = solve(&end, &readings(&end, &BOTH), LABEL, 1.5e-3);
    let setting = wish(&solved, &end).set(1.1, RateKnowledge::Label(0.03)).unwrap();
    let force = |z: f64| {
        let at = end.kinematics(z).unwrap();
        at.ratio * (1.1 * end.spring(at.stroke + setting.preload.value).0 + end.gas)
    };
    // Found to 1e-5 N by the search.
    assert!((force(0.1) - solved.load(1).value).abs() < 2e-5);
    assert!((force(setting.free_sag.value) - solved.load(0).value).abs() < 1e-3);
    assert!((force(end.travel) - setting.full_force.value).abs() < 1e-6);
    // Energy by Simpson's rule over a cubic: exact but for rounding.
    let (from, to) = (0.1, end.travel);
    let work = (to - from) / 6.0 * (force(from) + 4.0 * force(f64::midpoint(from, to)) + force(to));
    let energy = work - solved.load(1).value * (to - from);
    assert!((setting.energy_left.value / energy - 1.0).abs() < 1e-3, "{} {energy}", setting.energy_left.value);
    assert!((setting.drop_height.value - setting.energy_left.value / solved.load(1).value).abs() < 1e-12);
    let k = (force(0.1 + 1e-6) - force(0.1 - 1e-6)) / 2e-6;
    assert!((setting.wheel_rate.value / k - 1.0).abs() < 1e-6);
}

#[test]
fn derivatives_are_those_of_the_setting() {
    let end = Straight::usual();
    let solved = solve(&end, &readings(&end, &BOTH), LABEL, 1.5e-3);
    let fitted = solved.factor().value;
    let base = wish(&solved, &end).set(fitted, RateKnowledge::Fitted).unwrap();
    let numbers = |setting: &Setting| {
        [
            &setting.preload,
            &setting.free_sag,
            &setting.full_force,
            &setting.wheel_rate,
            &setting.frequency,
            &setting.energy_left,
            &setting.drop_height,
        ]
        .map(Clone::clone)
    };
    for unknown in 0..solved.evidence.unknowns() {
        // Central differences over a hundredth of a prior standard deviation.
        let step = 0.01;
        let moved = |by: f64| {
            let mut moved = solved.clone();
            moved.posterior.unknowns[unknown] += by;
            numbers(&wish(&moved, &end).set(moved.factor().value, RateKnowledge::Fitted).unwrap()).map(|p| p.value)
        };
        let (more, less) = (moved(step), moved(-step));
        for (k, predicted) in numbers(&base).iter().enumerate() {
            let difference = (more[k] - less[k]) / (2.0 * step);
            let scale = predicted.gradient.fit.iter().fold(0.0_f64, |most, g| most.max(g.abs()));
            let found = predicted.gradient.fit[unknown];
            assert!((found - difference).abs() < 1e-4 * scale, "{k} over {unknown}: {found} {difference}");
        }
    }
    // The spring's own preload offset does not decide what follows once the sag is set.
    assert!(base.free_sag.gradient.fit[PRELOAD].abs() < 1e-12);
    let h = 1e-4;
    let at = |log: f64| wish(&solved, &end).set(fitted * log.exp(), RateKnowledge::Fitted).unwrap().free_sag.value;
    let slope = (at(h) - at(-h)) / (2.0 * h);
    assert!((base.free_sag_per_rate / slope - 1.0).abs() < 1e-5, "{} {slope}", base.free_sag_per_rate);
    let other = Wish { rider_sag: 0.1 + 1e-5, ..wish(&solved, &end) };
    let shift = (other.set(fitted, RateKnowledge::Fitted).unwrap().free_sag.value - base.free_sag.value) / 1e-5;
    assert!((base.free_sag.gradient.setting / (1.5e-3 * shift) - 1.0).abs() < 1e-3);
}

#[test]
fn a_stiffer_spring_leaves_more_free_sag() {
    let end = Straight::usual();
    let solved = solve(&end, &readings(&end, &BOTH), LABEL, 1.5e-3);
    let wish = wish(&solved, &end);
    let soft = wish.set(0.95, RateKnowledge::Label(0.03)).unwrap();
    let stiff = wish.set(1.15, RateKnowledge::Label(0.03)).unwrap();
    assert!(stiff.preload.value < soft.preload.value && stiff.free_sag.value > soft.free_sag.value);
    let between = f64::midpoint(soft.free_sag.value, stiff.free_sag.value);
    let found = wish.factor_for_free_sag(between, RateKnowledge::Label(0.0)).unwrap();
    assert!((found.free_sag.value - between).abs() < 1e-7 && (0.95..1.15).contains(&found.factor));
    assert!(wish.factor_for_free_sag(0.5, RateKnowledge::Label(0.0)).is_none(), "no spring sags half a metre");
}
