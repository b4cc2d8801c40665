//! Chambers against the gas law, at rest and fast.

use super::*;
use crate::axial::testing::{assert_consistent, assert_slope};
use proptest::prelude::*;

fn chamber(bar: f64, cm3: f64, mm2: f64, exponent: f64, stroke_mm: f64) -> Result<Chamber> {
    Chamber::new(ChamberParts {
        pressure: AbsolutePressure::from_si(bar * 1e5),
        volume: Volume::from_si(cm3 * 1e-6),
        area: Area::from_si(mm2 * 1e-6),
        exponent,
        surroundings: AbsolutePressure::from_si(101_325.0),
        stroke: Length::from_si(stroke_mm * 1e-3),
    })
}

#[test]
fn says_when_the_stroke_sweeps_it_empty() {
    let message = chamber(10.0, 20.0, 200.0, 1.0, 118.0).unwrap_err().to_string();
    for part in ["20.0 cm3", "stroke 100.0 mm", "118.0 mm", "more than 23.6 cm3"] {
        assert!(message.contains(part), "{message} lacks {part}");
    }
}

#[test]
fn isothermal_is_the_limit_of_the_polytrope() {
    let near = chamber(1.0, 400.0, 1500.0, 1.0 + 1e-9, 200.0).unwrap().eval(0.18);
    let slow = chamber(1.0, 400.0, 1500.0, 1.0, 200.0).unwrap().eval(0.18);
    // First order in n − 1: force by ln(V₀/V) = 1.1, so 1e-8 is ten times the step.
    assert!((near.force / slow.force - 1.0).abs() < 1e-8 && (near.energy / slow.energy - 1.0).abs() < 1e-8);
}

/// The closed forms of a polytrope from rest, written out for one chamber: 500 cm³ at 1 bar and 1500 mm², settled by
/// `n = 1.1` at 100 mm, then 250 mm by `m = 1.35`.
#[test]
fn a_fast_stroke_follows_its_own_polytrope_from_the_settled_state() {
    let (area, n, m) = (1500e-6, 1.1, 1.35);
    let gas = chamber(1.0, 500.0, 1500.0, n, 290.0).unwrap();
    let volume = |s: f64| 500e-6 - area * s;
    let at_rest = 1e5 * (500e-6 / volume(0.1)).powf(n);
    let pressure = at_rest * (volume(0.1) / volume(0.25)).powf(m);
    let found = gas.fast(0.1, 0.25, [m, 1.0]);
    assert!((found.state.force / ((pressure - 101_325.0) * area) - 1.0).abs() < 1e-12);
    assert!((found.state.rate / (m * pressure * area * area / volume(0.25)) - 1.0).abs() < 1e-12);
    let work = (pressure * volume(0.25) - at_rest * volume(0.1)) / (m - 1.0) - 101_325.0 * area * 0.15;
    assert!(((found.state.energy - gas.eval(0.1).energy) / work - 1.0).abs() < 1e-12);
    let same = gas.settled_at(Length::from_si(0.1), m).unwrap().eval(0.25);
    assert_eq!((same.force, same.rate), (found.state.force, found.state.rate));
}

#[test]
fn a_fast_stroke_starts_from_where_the_gas_settled() {
    let slow = chamber(1.0, 500.0, 1500.0, 1.0, 290.0).unwrap();
    let fast = slow.settled_at(Length::from_si(0.1), 1.4).unwrap();
    let (rest, start) = (slow.eval(0.1), fast.eval(0.1));
    assert!((rest.force / start.force - 1.0).abs() < 1e-12, "a few roundings");
    assert!((start.rate / rest.rate - 1.4).abs() < 1e-12);
    assert!(fast.eval(0.2).force > slow.eval(0.2).force && fast.eval(0.05).force < slow.eval(0.05).force);
}

#[test]
fn text_round_trips() {
    let gas = chamber(1.0, 500.0, 1500.0, 1.2, 290.0).unwrap();
    assert_eq!(serde_json::from_str::<Chamber>(&serde_json::to_string(&gas).unwrap()).unwrap(), gas);
}

proptest! {
    #[test]
    fn energy_force_and_rate_agree(
        bar in 0.8..20.0_f64, mm2 in 50.0..1500.0_f64, exponent in 1.0..1.7_f64, left in 0.05..2.0_f64, sign in prop::bool::ANY,
    ) {
        let swept = mm2 * 0.3;
        let area = if sign { mm2 } else { -mm2 };
        let gas = chamber(bar, swept * (1.0 + left), area, exponent, 300.0).unwrap();
        assert_consistent(&gas, 0.3);
        assert_slope(|s| gas.eval(s), [0.01, 0.15, 0.29]);
    }

    /// Central differences: over exponent and rest, of force, rate, its slope and the work.
    #[test]
    fn derivatives_of_a_fast_stroke_are_those_of_it(
        n in 1.0..1.3_f64, more in 0.0..0.4_f64, left in 0.1..2.0_f64, rest in 0.02..0.28_f64, s in 0.02..0.28_f64, sign in prop::bool::ANY,
    ) {
        /// Step, and what truncation and rounding leave of the derivative (its square over the scale of the curve; 1e-16 of
        /// the value over the step).
        const STEP: f64 = 1e-5;
        const LEFT: f64 = 1e-6;
        let area = if sign { 1000.0 } else { -1000.0 };
        let gas = chamber(2.0, 300.0 * (1.0 + left), area, n, 300.0).unwrap();
        let m = n + more;
        let at = |rest: f64, m: f64| { let Fast { state, .. } = gas.fast(rest, s, [m, 1.0]); [state.force, state.rate, state.slope, state.energy] };
        let found = gas.fast(rest, s, [m, 1.0]);
        let check = |of: Axial, by: [f64; 4], more: [f64; 4], less: [f64; 4]| {
            let exact = [of.force, of.rate, of.slope, of.energy];
            (0..4).all(|k| {
                let difference = (more[k] - less[k]) / (2.0 * STEP);
                (exact[k] - difference).abs() <= LEFT * (by[k].abs() + exact[k].abs() * 1e2)
            })
        };
        let here = at(rest, m);
        prop_assert!(check(found.by_exponent, here, at(rest, m + STEP), at(rest, m - STEP)), "{found:?}");
        prop_assert!(check(found.by_rest, here.map(|v| v / 0.01), at(rest + STEP, m), at(rest - STEP, m)), "{found:?}");
    }

    /// Near the isothermal limit the closed forms go over into their series without a step.
    #[test]
    fn series_and_closed_form_meet(y in 0.009..0.011_f64, sign in prop::bool::ANY) {
        let y = if sign { y } else { -y };
        // ∫₀¹ t·e^(t·y) dt to y⁶, from its power series.
        let terms = [0.5, 1.0 / 3.0, 1.0 / 8.0, 1.0 / 30.0, 1.0 / 144.0, 1.0 / 840.0, 1.0 / 5760.0];
        let exact = terms.iter().rev().fold(0.0, |sum, term| sum * y + term);
        // The difference in the closed form loses 1e-16/y² = 1e-12.
        prop_assert!((second_moment(y) - exact).abs() < 3e-12, "{} {exact}", second_moment(y));
    }

    #[test]
    fn stiffens_as_it_shrinks(exponent in 1.0..1.7_f64, left in 0.05..2.0_f64) {
        let gas = chamber(1.0, 300.0 * (1.0 + left), 1000.0, exponent, 300.0).unwrap();
        let rates: Vec<f64> = (0..=30).map(|i| gas.eval(0.01 * f64::from(i)).rate).collect();
        prop_assert!(rates.windows(2).all(|pair| pair[0] < pair[1]));
    }

    #[test]
    fn a_great_chamber_at_the_pressure_around_it_does_nothing(exponent in 1.0..1.7_f64) {
        // n·p·A²/V for 1000 m³ and 1500 mm²: 3.9e-4 N/m at most; over 0.3 m, 1.2e-4 N and 1.8e-5 J.
        let state = chamber(1.01325, 1e9, 1500.0, exponent, 300.0).unwrap().eval(0.3);
        prop_assert!(state.force.abs() < 1.3e-4 && state.rate < 4e-4 && state.energy.abs() < 2e-5, "{state:?}");
    }
}

#[test]
fn a_chamber_says_what_it_is() {
    let gas = chamber(2.0, 500.0, 1500.0, 1.2, 290.0).unwrap();
    assert_eq!((gas.exponent(), gas.full_stroke()), (1.2, Some(Length::from_si(0.29))));
    assert!(gas.at(Length::from_si(0.29)).is_ok() && gas.at(Length::from_si(0.291)).is_err());
    let quick = gas.with_exponent(1.4).unwrap();
    assert!(quick.exponent() == 1.4 && quick.eval(0.0).force == gas.eval(0.0).force);
    assert!(gas.with_exponent(1.71).is_err());
    assert_eq!(gas.describe(), "gas, 500.0 cm3 at 2.00 bar absolute, on 1500 mm2, exponent 1.2");
}
