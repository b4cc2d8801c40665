//! Forks against the sum of their legs.

use super::*;
use crate::axial::testing::assert_consistent;
use crate::gas::{AirSpring, Conditions, ForkAir, ForkAirParts};
use crate::spring::Stop;
use crate::units::{Force, parse};
use proptest::prelude::*;

fn mm(length: f64) -> Length {
    Length::from_si(length * 1e-3)
}

fn spring(rate: f64, preload: f64) -> Preloaded {
    Preloaded::linear(SpringRate::from_si(rate * 1e3), mm(preload)).unwrap()
}

fn air(level: f64) -> ForkAir {
    ForkAir::new(ForkAirParts { sealing_diameter: mm(47.0), bore: mm(43.0), oil_level: mm(level) }).unwrap()
}

fn fork(legs: [ForkLeg; 2]) -> Fork {
    Fork::new(mm(290.0), parse("26.5 deg").unwrap(), legs).unwrap()
}

#[test]
fn legs_act_side_by_side_and_may_differ() {
    let both =
        fork([ForkLeg::new().with_spring(spring(4.8, 6.0)).with_air(air(105.0)), ForkLeg::new().with_air(air(140.0))]);
    let sprung = fork([both.legs()[0].clone(), ForkLeg::new()]);
    let airy = fork([ForkLeg::new(), both.legs()[1].clone()]);
    for s in [0.0, 100.0, 290.0] {
        let sum = sprung.at(mm(s)).unwrap().force + airy.at(mm(s)).unwrap().force;
        let force = both.at(mm(s)).unwrap().force;
        assert!((force - sum).si().abs() < 1e-9, "rounding of a sum of kN");
        let split = both.springs_at(mm(s)).unwrap().force + both.gas_at(mm(s)).unwrap().force;
        assert!((force - split).si().abs() < 1e-9);
    }
    assert_eq!(both.main_spring().unwrap().rate, SpringRate::from_si(4800.0));
    assert_eq!(fork([ForkLeg::new(), ForkLeg::new()]).main_spring(), None);
}

#[test]
fn a_spring_change_is_the_scaled_and_shifted_spring_part() {
    let leg = ForkLeg::new().with_spring(spring(4.8, 6.0)).with_air(air(105.0));
    let before = fork([leg.clone(), leg]);
    let after = before.with_spring_change(1.1, mm(3.0)).unwrap();
    let expected = before.spring_part(0.1 + 0.003) * 1.1 + before.rest_part(0.1);
    let found = after.eval(0.1);
    assert!((found.force - expected.force).abs() < 1e-9 && (found.rate - expected.rate).abs() < 1e-9);
    let replaced = before.with_spring_rate(SpringRate::from_si(5000.0), mm(8.0)).unwrap();
    assert_eq!(replaced.main_spring().unwrap().each, vec![(SpringRate::from_si(5000.0), mm(8.0)); 2]);
    let bare = fork([ForkLeg::new(), ForkLeg::new()]).with_spring_change(1.1, mm(0.0)).unwrap_err();
    assert_eq!(bare, SpringError::NoSpring { part: "fork".to_owned() }.into());
}

#[test]
fn names_the_leg_at_fault() {
    let flooded = ForkLeg::new().with_air(air(20.0).with_steel(parse("70 cm3").unwrap()).unwrap());
    let message = Fork::new(mm(290.0), parse("26.5 deg").unwrap(), [ForkLeg::new(), flooded]).unwrap_err().to_string();
    assert!(message.starts_with("leg[1].air.oil_level: "), "{message}");
    let late = ForkLeg::new().with_bump_stop(Stop::linear(parse("40 N/mm").unwrap(), mm(60.0)).unwrap());
    let message = Fork::new(mm(50.0), parse("26.5 deg").unwrap(), [late, ForkLeg::new()]).unwrap_err().to_string();
    assert!(message.starts_with("leg[0].bump_stop.acts_over: "), "{message}");
}

#[test]
fn friction_adds_over_the_legs_and_grows_at_the_wheel() {
    let dry = ForkLeg::new().with_friction(SealFriction::new(Force::from_si(20.0)).unwrap());
    let both = fork([dry.clone(), dry]);
    let friction = both.friction().unwrap();
    assert_eq!(friction.force().si(), 40.0);
    let expected = 40.0 / 26.5f64.to_radians().cos();
    assert!((friction.at_wheel(both.motion_ratio()).si() - expected).abs() < 1e-12 * expected);
    assert_eq!(fork([ForkLeg::new(), ForkLeg::new()]).friction(), None);
}

#[test]
fn hangs_below_full_extension_on_its_top_out_spring() {
    let leg = ForkLeg::new()
        .with_spring(spring(4.8, 6.0))
        .with_top_out(Stop::linear(parse("20 N/mm").unwrap(), mm(25.0)).unwrap());
    let one = fork([leg, ForkLeg::new()]);
    assert!(one.at(mm(0.0)).unwrap().force.si() < 0.0 && one.at(mm(25.0)).unwrap().force.si() > 0.0);
    assert_eq!(one.kinks(), vec![mm(25.0)]);
    assert_consistent(&one, 0.29);
}

#[test]
fn reads_and_writes_text() {
    let text = r#"{"travel": "290 mm", "rake": "26.5 deg", "leg": [
        {"spring": {"rate": "4.8 N/mm", "preload": "6 mm", "free_length": "480 mm", "solid_length": "170 mm"},
         "air": {"sealing_diameter": "47 mm", "bore": "43 mm", "oil_level": "105 mm", "exponent": {"slow": 1.0, "fast": 1.35}, "steel_volume": "40 cm3"},
         "bump_stop": {"rate": "60 N/mm", "acts_over": "25 mm"}, "friction": "18 N"},
        {"top_out": {"rate": "12 N/mm", "acts_over": "30 mm"}}]}"#;
    let fork: Fork = serde_json::from_str(text).unwrap();
    assert_eq!(fork.bind_clearance().map(|clearance| (clearance.si() * 1e6).round()), Some(14e3));
    let again: Fork = serde_json::from_str(&serde_json::to_string(&fork).unwrap()).unwrap();
    assert_eq!(again, fork);
    assert!(serde_json::from_str::<Fork>(&text.replace("290 mm", "290")).unwrap_err().to_string().contains("unit"));
    let fault = serde_json::from_str::<Fork>(&text.replace("friction", "stiction")).unwrap_err().to_string();
    assert!(fault.starts_with("leg[0].stiction: unknown key `stiction`; did you mean `friction`?"), "{fault}");
    assert!(fork.describe().contains("leg 2: top-out spring"), "{}", fork.describe());
}

#[test]
fn a_small_fast_movement_meets_the_gas_stiffer_by_its_exponents() {
    let leg = ForkLeg::new().with_spring(spring(4.8, 6.0)).with_air(air(105.0));
    let fork = fork([leg.clone(), leg]).with_exponents(Exponents::new(1.1, 1.4).unwrap()).unwrap();
    let (slow, fast) = (fork.at(mm(80.0)).unwrap(), fork.fast_rate_at(mm(80.0)).unwrap());
    let gas = fork.gas_at(mm(80.0)).unwrap().rate;
    assert!((fast.si() - slow.rate.si() - (1.4 / 1.1 - 1.0) * gas.si()).abs() < 1e-9 * fast.si());
    // At the rest itself nothing has moved: force and energy are those at rest.
    let there = fork.fast_at(mm(80.0), mm(80.0)).unwrap();
    assert!((there.force - slow.force).si().abs() < 1e-9 && (there.energy - slow.energy).si().abs() < 1e-9);
    for [rest, stroke] in [[291.0, 80.0], [80.0, 291.0]] {
        let error = fork.fast_at(mm(rest), mm(stroke)).unwrap_err().to_string();
        assert!(error.contains("291 mm"), "{error}");
    }
}

#[test]
fn without_gas_fast_is_slow() {
    let leg = ForkLeg::new()
        .with_spring(spring(4.8, 6.0))
        .with_bump_stop(Stop::linear(parse("60 N/mm").unwrap(), mm(25.0)).unwrap());
    let dry = fork([leg.clone(), leg]);
    for s in [0.0, 140.0, 285.0] {
        assert_eq!(dry.fast_at(mm(80.0), mm(s)).unwrap(), dry.at(mm(s)).unwrap());
    }
}

proptest! {
    #[test]
    fn energy_force_and_rate_agree(rate in 2.0..10.0_f64, preload in -20.0..30.0_f64, level in 60.0..200.0_f64, over in 5.0..60.0_f64) {
        let stop = Stop::linear(SpringRate::from_si(3e4), mm(over)).unwrap();
        let leg = ForkLeg::new().with_spring(spring(rate, preload)).with_air(air(level)).with_bump_stop(stop.clone());
        assert_consistent(&fork([leg, ForkLeg::new().with_top_out(stop)]), 0.29);
    }
}

#[test]
fn air_is_assumed_only_where_nothing_is_known_of_what_pushes_the_leg() {
    let usual = crate::record::Usual::any();
    let length = |value: f64, off: f64| crate::units::Uncertain::new(mm(value), mm(off)).unwrap();
    let linear = crate::spring::Spring::linear(SpringRate::from_si(4800.0)).unwrap();
    let unknown = ForkLeg::new().with_spring(Preloaded::of_unknown_preload(linear, length(10.0, 5.0), None).unwrap());
    let assuming = |leg: &ForkLeg| leg.assuming(usual, mm(290.0)).unwrap();
    let assumed = assuming(&unknown);
    assert_eq!((assumed.assumed_air(), assumed.stated_air()), (Some(usual.fork_air), None));
    assert_eq!(assumed.air().unwrap().oil_level(), usual.oil_level);
    assert_eq!(assuming(&assumed), assumed, "assumed once more it is the same");
    let stated = assuming(&unknown.clone().with_air(air(105.0)));
    assert_eq!((stated.assumed_air(), stated.stated_air()), (None, Some(&air(105.0))));
    let filled = assumed.with_air(air(105.0));
    assert_eq!((filled.assumed_air(), filled.stated_air()), (None, Some(&air(105.0))), "stated after it was assumed");
    let pumped = AirSpring::new(mm(34.0), parse("320 cm3").unwrap(), parse("9 bar").unwrap()).unwrap();
    for leg in [unknown.with_air_spring(pumped), ForkLeg::new().with_spring(spring(4.8, 6.0)), ForkLeg::new()] {
        assert_eq!(assuming(&leg).air(), None, "{}", leg.describe());
    }
}

/// Air over oil in one leg, an air spring beside a coil in the other.
fn airy() -> Fork {
    let pumped = AirSpring::new(mm(34.0), parse("320 cm3").unwrap(), parse("9 bar").unwrap()).unwrap();
    fork([ForkLeg::new().with_air(air(105.0)), ForkLeg::new().with_spring(spring(4.8, 6.0)).with_air_spring(pumped)])
}

/// Areas of both gases (m²): a seal of 47 mm and a piston of 34 mm.
fn areas() -> [f64; 2] {
    [47e-3_f64, 34e-3].map(|diameter| 0.25 * core::f64::consts::PI * diameter * diameter)
}

/// What is outside pushes on both areas alike, at every stroke: `ΔF = Δp·A`.
#[test]
fn on_a_mountain_the_gas_of_both_legs_pushes_by_what_is_missing_outside() {
    let high = Conditions::new(parse("747 mbar").unwrap(), Conditions::sea_level().temperature()).unwrap();
    let (valley, ridge) = (airy(), airy().running_in(high).unwrap());
    let push = (101_325.0 - 74_700.0) * areas().iter().sum::<f64>();
    for s in [0.0, 120.0, 250.0] {
        let (low, up) = (valley.at(mm(s)).unwrap(), ridge.at(mm(s)).unwrap());
        assert!((up.force.si() - low.force.si() - push).abs() < 1e-9 * up.force.si(), "rounding at {s} mm");
        assert!((up.rate.si() - low.rate.si()).abs() < 1e-9 * up.rate.si());
    }
    assert_eq!(ridge.main_spring(), valley.main_spring());
}

/// At full extension the absolute pressures grow as the absolute temperature: `ΔF = Σ p·A·(T/T₀ − 1)`.
#[test]
fn warm_gas_of_both_legs_presses_harder_in_proportion() {
    let (cold, warm) = (airy(), airy().warmed_to(Temperature::from_si(1.2 * 288.15)).unwrap());
    let [open, pumped] = areas();
    let more = 0.2 * (101_325.0 * open + 1_001_325.0 * pumped);
    let found = warm.at(mm(0.0)).unwrap().force.si() - cold.at(mm(0.0)).unwrap().force.si();
    assert!((found / more - 1.0).abs() < 1e-9, "{found} {more}");
    assert_eq!(warm.main_spring(), cold.main_spring());
    let hot = airy().warmed_to(Temperature::from_si(480.0)).unwrap_err().to_string();
    assert!(hot.contains("temperature"), "{hot}");
}

/// Nothing moved from full extension: exponents change only what comes after it, of both gases.
#[test]
fn exponents_are_those_of_all_gas_in_a_fork() {
    let [soft, hard] = [1.0, 1.3].map(|slow| airy().with_exponents(Exponents::new(slow, 1.4).unwrap()).unwrap());
    let force = |fork: &Fork, s: f64| fork.gas_at(mm(s)).unwrap().force.si();
    assert!((force(&hard, 0.0) - force(&soft, 0.0)).abs() < 1e-9 * force(&soft, 0.0));
    let [open, pumped] = areas();
    // (V₀/V)^n of 320 cm³ less what the piston takes.
    let absolute = |fork: &Fork, s: f64| force(fork, s) + 101_325.0 * (open + pumped);
    let ratio = 1.0 / (1.0 - 0.1 * pumped / 320e-6);
    let bare = |fork: &Fork| fork.legs()[1].air_spring().copied().unwrap();
    let alone = [&soft, &hard].map(|fork| {
        let alone = self::fork([ForkLeg::new(), ForkLeg::new().with_air_spring(bare(fork))]);
        force(&alone, 100.0) + 101_325.0 * pumped
    });
    assert!((alone[1] / alone[0] / ratio.powf(0.3) - 1.0).abs() < 1e-9, "{alone:?} {ratio}");
    // And more beside the air over oil, the gap of which shrinks by more.
    assert!(absolute(&hard, 100.0) - absolute(&soft, 100.0) > alone[1] - alone[0]);
}
