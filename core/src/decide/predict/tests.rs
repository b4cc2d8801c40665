//! Predictions against the model itself: values by substitution, derivatives by moving one unknown at a time.

use core::sync::atomic::{AtomicUsize, Ordering};

use super::*;
use crate::axial::{Axial, FastState};
use crate::gas::{Exponents, ForkAir, ForkAirParts, SealedGas};
use crate::infer::fit::tests::{BOTH, LABEL, readings, solve};
use crate::infer::model::Kinematics;
use crate::infer::model::tests::{OnTape, Straight};
use crate::infer::posterior::PRELOAD;
use crate::units::{Length, Quantity};

pub(super) fn wish<'a>(solved: &'a Solved, model: &'a Straight) -> Wish<'a> {
    Wish { solved, model, rider: 1, on_top: 0.0, bike: 0, rider_sag: 0.1, tape: 1.5e-3, step: 0.0, gravity: 9.80665 }
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

/// The same end with air in place of its gas of constant force.
#[derive(Debug)]
struct Airy {
    straight: Straight,
    air: SealedGas,
}

/// Fast exponent of the air in [`Airy`], and its standard uncertainty.
const FAST: [f64; 2] = [1.33, 0.05];

impl Airy {
    fn new(fast: f64) -> Self {
        let exponents = Exponents::new(1.05, fast).unwrap().with_fast_uncertainty(FAST[1]).unwrap();
        let mm = |length: f64| Length::from_si(length * 1e-3);
        let air = ForkAir::new(ForkAirParts { sealing_diameter: mm(47.0), bore: mm(43.0), oil_level: mm(60.0) })
            .unwrap()
            .with_exponents(exponents);
        let straight = Straight { gas: 0.0, ..Straight::usual() };
        let stroke = straight.kinematics(straight.travel).unwrap().stroke;
        Self { straight, air: air.sealed_of("air", Length::from_si(stroke)).unwrap() }
    }
}

impl SprungEnd for Airy {
    fn full_travel(&self) -> f64 {
        self.straight.full_travel()
    }
    fn kinematics(&self, travel: f64) -> Option<Kinematics> {
        self.straight.kinematics(travel)
    }
    fn spring(&self, stroke: f64) -> (f64, f64) {
        self.straight.spring(stroke)
    }
    fn rest(&self, stroke: f64) -> (f64, f64) {
        let Axial { force, rate, .. } = self.air.eval(stroke);
        (force, rate)
    }
    fn fast(&self, rest: f64, stroke: f64) -> FastState {
        self.air.fast(rest, stroke).typed()
    }
    fn energies(&self, stroke: f64, preload: f64) -> (f64, f64) {
        (self.straight.energies(stroke, preload).0, self.air.eval(stroke).energy)
    }
}

/// Settled at the rider sag, then fast: the force integrated along the way by Simpson's rule.
#[test]
fn the_reserve_is_that_of_a_fast_stroke_from_the_rider_sag() {
    let (end, straight) = (Airy::new(FAST[0]), Straight::usual());
    let solved = solve(&straight, &readings(&straight, &BOTH), LABEL, 1.5e-3);
    let wish = Wish { model: &end, ..wish(&solved, &straight) };
    let setting = wish.set(1.1, RateKnowledge::Label(0.03)).unwrap();
    let rest = end.kinematics(setting.rider_travel).unwrap().stroke;
    let force = |z: f64| {
        let at = end.kinematics(z).unwrap();
        at.ratio * (1.1 * end.spring(at.stroke + setting.preload.value).0 + end.fast(rest, at.stroke).state.force.si())
    };
    assert!((force(setting.rider_travel) - solved.load(1).value).abs() < 2e-5, "it rests there");
    assert!((force(straight.travel) - setting.full_force.value).abs() < 1e-6);
    let (from, cells) = (setting.rider_travel, 200);
    let step = (straight.travel - from) / f64::from(cells);
    let cell = |at: u32| {
        let z = from + step * f64::from(at);
        step / 6.0 * (force(z) + 4.0 * force(z + 0.5 * step) + force(z + step))
    };
    let energy = (0..cells).map(cell).sum::<f64>() - solved.load(1).value * (straight.travel - from);
    // Simpson's error falls with the fourth power of 1 mm over a decimetre.
    assert!((setting.energy_left.value / energy - 1.0).abs() < 1e-7, "{} {energy}", setting.energy_left.value);
    let fast_rate = (force(from + 1e-6) - force(from - 1e-6)) / 2e-6;
    let frequency = (fast_rate * 9.80665 / solved.load(1).value).sqrt() / core::f64::consts::TAU;
    assert!((setting.frequency.value / frequency - 1.0).abs() < 1e-6);
    assert!(fast_rate > setting.wheel_rate.value, "gas that has no time is stiffer");
}

#[test]
fn the_reserve_carries_the_fast_exponent_and_the_sag_it_starts_from() {
    /// Steps of the central differences: truncation and rounding both leave under a millionth.
    const OF_EXPONENT: f64 = 1e-4;
    const OF_SAG: f64 = 1e-5;
    let straight = Straight::usual();
    let solved = solve(&straight, &readings(&straight, &BOTH), LABEL, 1.5e-3);
    let numbers = |fast: f64, sag: f64| {
        let end = Airy::new(fast);
        let wish = Wish { model: &end, rider_sag: sag, ..wish(&solved, &straight) };
        let setting = wish.set(1.1, RateKnowledge::Label(0.03)).unwrap();
        [setting.full_force, setting.energy_left, setting.drop_height, setting.frequency, setting.free_sag]
    };
    let base = numbers(FAST[0], 0.1);
    let (stiffer, softer) = (numbers(FAST[0] + OF_EXPONENT, 0.1), numbers(FAST[0] - OF_EXPONENT, 0.1));
    let (lower, higher) = (numbers(FAST[0], 0.1 + OF_SAG), numbers(FAST[0], 0.1 - OF_SAG));
    for k in 0..base.len() {
        let by_exponent = FAST[1] * (stiffer[k].value - softer[k].value) / (2.0 * OF_EXPONENT);
        let found = &base[k].gradient;
        assert!((found.gas - by_exponent).abs() < 1e-5 * by_exponent.abs() + 1e-9, "{k}: {} {by_exponent}", found.gas);
        // The frequency is that at the wanted sag, however well it is met.
        if k != 3 {
            let by_sag = 1.5e-3 * (lower[k].value - higher[k].value) / (2.0 * OF_SAG);
            assert!((found.setting / by_sag - 1.0).abs() < 1e-3, "{k}: {} {by_sag}", found.setting);
        }
    }
    assert_eq!(base[4].gradient.gas, 0.0, "sags are settled");
    assert!(solved.deviation_of(&base[2].gradient) > base[2].gradient.gas.abs());
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
    let found = wish.set_for_free_sag(between, RateKnowledge::Label(0.0)).unwrap();
    assert!((found.free_sag.value - between).abs() < 1e-7 && (0.95..1.15).contains(&found.factor));
    assert!(wish.factor_for_free_sag(0.5, None).is_none(), "no spring sags half a metre");
}

#[test]
fn a_setting_is_the_one_that_its_preload_was_found_for() {
    let end = Straight::usual();
    let solved = solve(&end, &readings(&end, &BOTH), LABEL, 1.5e-3);
    let wish = wish(&solved, &end);
    let by_sag = wish.set(1.1, RateKnowledge::Label(0.03)).unwrap();
    let by_preload = wish.at(1.1, RateKnowledge::Label(0.03), by_sag.preload.value).unwrap();
    // Found to 1e-5 N, over 8 N/mm.
    assert!((by_preload.rider_sag.value - 0.1).abs() < 1e-8);
    assert!((by_preload.free_sag.value - by_sag.free_sag.value).abs() < 1e-8);
    // Slopes over the preload by central differences of a hundredth of a millimetre, good to its square.
    let at = |preload: f64| wish.at(1.1, RateKnowledge::Label(0.03), by_sag.preload.value + preload).unwrap();
    let (more, less) = (at(1e-5), at(-1e-5));
    let slopes = [&more.rider_sag, &more.free_sag].map(|sag| sag.value);
    let slopes = [(slopes[0] - less.rider_sag.value) / 2e-5, (slopes[1] - less.free_sag.value) / 2e-5];
    for (found, difference) in by_sag.per_preload.iter().zip(slopes) {
        assert!((found / difference - 1.0).abs() < 1e-6, "{found} {difference}");
    }
    // A collar that stops at steps adds a uniform error of that width to the sag.
    let stepped = Wish { step: 1e-3, ..wish }.set(1.1, RateKnowledge::Label(0.03)).unwrap();
    let width = by_sag.per_preload[0] * 1e-3;
    let both = (1.5e-3_f64.powi(2) + width * width / 12.0).sqrt();
    assert!((stepped.rider_sag.gradient.setting / both - 1.0).abs() < 1e-12);
}

/// The tape runs slowly at both ends of the travel and fast between: Newton's method alone would go back and forth.
#[test]
fn the_travel_of_a_sag_is_found_wherever_the_tape_runs_fast() {
    let straight = Straight::usual();
    let tape = |travel: f64| {
        let bend = ((travel - 0.5 * straight.travel) / 0.015).tanh();
        [travel + 0.3 * bend, 1.0 + 0.3 / 0.015 * (1.0 - bend * bend)]
    };
    let taped = OnTape(straight, tape);
    let tape = |travel: f64| tape(travel)[0];
    let solved = solve(&straight, &readings(&straight, &BOTH), LABEL, 1.5e-3);
    let wish = Wish { model: &taped, ..wish(&solved, &straight) };
    let full = taped.full_travel();
    for from in [0.0, 0.04] {
        for share in [0.0, 0.02, 0.2, 0.45, 0.5, 0.55, 0.8, 0.98, 1.0] {
            let travel = from + share * (full - from);
            let found = wish.travel_at_sag(tape(travel) - tape(from), from).unwrap();
            // Where the tape has lost all but its own slope, a rounding of it is one of the travel.
            assert!((found - travel).abs() < 1e-10, "{travel} from {from}: {found}");
        }
        let most = tape(full) - tape(from);
        assert!(wish.travel_at_sag(most + 1e-6, from).is_none(), "beyond the travel");
        assert!(wish.travel_at_sag(tape(0.0) - tape(from) - 1e-6, from).is_none(), "above it");
    }
}

#[test]
fn what_a_preload_is_about_is_what_it_is_on_a_straight_end() {
    let end = Straight::usual();
    let solved = solve(&end, &readings(&end, &BOTH), LABEL, 1.5e-3);
    let wish = wish(&solved, &end);
    for factor in [0.9, 1.0, 1.2] {
        let set = wish.set(factor, RateKnowledge::Label(0.03)).unwrap().preload.value;
        // One spring of constant rate in contact: the balance of forces is a straight line. The search is good to 1e-5 N over 50 N/mm.
        assert!((wish.about(factor).unwrap() - set).abs() < 1e-8, "{factor}");
    }
}

#[test]
fn the_travel_of_a_sag_is_found_on_a_slow_tape() {
    let straight = Straight::usual();
    let slow = OnTape(straight, |travel| [0.1 * travel, 0.1]);
    let solved = solve(&straight, &readings(&straight, &BOTH), LABEL, 1.5e-3);
    let wish = Wish { model: &slow, ..wish(&solved, &straight) };
    for (sag, from, travel) in [(0.01, 0.0, 0.1), (0.01, 0.02, 0.12), (0.03, 0.0, 0.3), (0.0, 0.05, 0.05)] {
        let found = wish.travel_at_sag(sag, from).unwrap();
        // A rounding of the tape is ten of the travel.
        assert!((found - travel).abs() < 1e-12, "{sag} from {from}: {found}");
    }
    assert!(wish.travel_at_sag(0.0301, 0.0).is_none());
}

#[test]
fn an_end_rests_where_its_springs_carry_load_and_friction_and_on_its_stops_beyond() {
    let end = Straight::usual();
    let solved = solve(&end, &readings(&end, &BOTH), LABEL, 1.5e-3);
    let wish = wish(&solved, &end);
    let setting = wish.set(1.1, RateKnowledge::Label(0.03)).unwrap();
    let force = |z: f64| {
        let at = end.kinematics(z).unwrap();
        at.ratio * (1.1 * end.spring(at.stroke + setting.preload.value).0 + end.gas)
    };
    let friction = solved.friction().value;
    let [rider, alone] = wish.rests(&setting).unwrap();
    for (sides, load) in [(rider, 1), (alone, 0)] {
        for (rest, side) in sides.into_iter().zip([1.0, -1.0]) {
            // A travel found to a nanometre, over some 10 N/mm.
            assert!((force(rest) - solved.load(load).value - side * friction).abs() < 1e-5, "{load} {side}: {rest}");
        }
    }
    // So heavy a rider lies on the stop from either side; the bike alone rests as before.
    let heavy = Wish { on_top: 50e3, ..wish };
    assert_eq!(heavy.rests(&setting).unwrap(), [[end.travel; 2], alone]);
    // Lifted by all of it, and more, the end is topped out and has no sag.
    let light = Wish { on_top: -5e3, ..wish };
    assert_eq!(light.rests(&setting).unwrap(), [[0.0; 2], alone]);
}

#[test]
fn a_tape_that_goes_with_the_travel_is_looked_at_once() {
    let (straight, looks) = (Straight::usual(), AtomicUsize::new(0));
    let counted = OnTape(straight, |travel| {
        looks.fetch_add(1, Ordering::Relaxed);
        [travel, 1.0]
    });
    let solved = solve(&straight, &readings(&straight, &BOTH), LABEL, 1.5e-3);
    let wish = Wish { model: &counted, ..wish(&solved, &straight) };
    for (sag, from) in [(0.1, 0.0), (0.05, 0.02), (0.0, 0.03), (0.2, 0.01)] {
        looks.store(0, Ordering::Relaxed);
        assert!((wish.travel_at_sag(sag, from).unwrap() - (from + sag)).abs() < 1e-15);
        // Where it hangs, and where the sag is.
        assert_eq!(looks.load(Ordering::Relaxed), 2, "{sag} from {from}");
    }
}
