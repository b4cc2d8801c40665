//! Shocks against the sum of their parts.

use super::*;
use crate::axial::testing::assert_consistent;
use crate::units::{Force, parse};

fn mm(length: f64) -> Length {
    Length::from_si(length * 1e-3)
}

fn parts() -> ShockParts {
    ShockParts {
        spring: Some(Preloaded::linear(parse("52 N/mm").unwrap(), mm(14.0)).unwrap()),
        reservoir: Some(
            Reservoir::new(parse("10 bar").unwrap(), parse("180 cm3").unwrap(), parse("16 mm").unwrap()).unwrap(),
        ),
        bump_stop: Some(Stop::linear(parse("150 N/mm").unwrap(), mm(15.0)).unwrap()),
        friction: Some(SealFriction::new(Force::from_si(25.0)).unwrap()),
        ..ShockParts::default()
    }
}

#[test]
fn gas_counts_as_preload() {
    let shock = Shock::new(mm(468.7), mm(118.0), parts(), 1).unwrap();
    let force = shock.at(mm(0.0)).unwrap().force.si();
    assert!((force - (52.0 * 14.0 + core::f64::consts::PI * 64.0)).abs() < 1e-9, "{force}");
    assert_consistent(&shock, 0.118);
}

#[test]
fn twin_shocks_double_everything() {
    let one = Shock::new(mm(468.7), mm(118.0), parts(), 1).unwrap();
    let two = Shock::new(mm(468.7), mm(118.0), parts(), 2).unwrap();
    for s in [0.0, 60.0, 118.0] {
        assert_eq!(two.at(mm(s)).unwrap().force.si(), 2.0 * one.at(mm(s)).unwrap().force.si());
    }
    assert_eq!(two.main_spring().unwrap().rate, SpringRate::from_si(104e3));
    assert_eq!(two.friction().unwrap().force().si(), 50.0);
    assert_eq!(
        two.with_spring_rate(parse("26 N/mm").unwrap(), mm(14.0)).unwrap().main_spring().unwrap().rate,
        one.main_spring().unwrap().rate
    );
}

#[test]
fn faults_name_the_field() {
    let fault = |length, stroke, count| Shock::new(mm(length), mm(stroke), parts(), count).unwrap_err().to_string();
    assert!(fault(468.7, 1180.0, 1).contains("stroke"));
    assert!(fault(100.0, 118.0, 1).contains("less than the length"));
    assert!(fault(468.7, 118.0, 3).contains("count"));
    let bare = Shock::new(mm(468.7), mm(118.0), ShockParts::default(), 1).unwrap();
    assert!(bare.with_spring_change(1.1, mm(0.0)).unwrap_err().to_string().contains("no main spring"));
    assert!(bare.at(mm(118.1)).unwrap_err().to_string().contains("outside"));
}

#[test]
fn reads_and_writes_text() {
    let text = r#"{"length": "468.7 mm", "stroke": "118 mm",
        "spring": {"rate": "52 N/mm", "preload": "14 mm", "thread_pitch": "1.5 mm", "max_preload": "24 mm"},
        "reservoir": {"pressure": "10 bar", "volume": "180 cm3", "rod_diameter": "16 mm"}}"#;
    let shock: Shock = serde_json::from_str(text).unwrap();
    assert_eq!(shock.parts().spring.as_ref().and_then(|s| s.adjuster()).and_then(|a| a.turns(mm(3.0))), Some(2.0));
    let again: Shock = serde_json::from_str(&serde_json::to_string(&shock).unwrap()).unwrap();
    assert_eq!(again, shock);
}

/// A few roundings of powers and sums.
const ROUNDING: f64 = 1e-12;

fn near(found: f64, expected: f64) -> bool {
    (found - expected).abs() <= ROUNDING * expected.abs()
}

#[test]
fn a_fast_stroke_is_springs_and_stop_as_they_are_and_the_gas_as_its_polytrope_from_rest() {
    for count in [1, 2] {
        let shock = Shock::new(mm(468.7), mm(118.0), parts(), count).unwrap();
        let (rest, s) = (mm(40.0), mm(112.0));
        let gas = parts().reservoir.unwrap();
        let (area, volume) = (gas.rod_area().si(), |stroke: Length| 180e-6 - gas.rod_area().si() * stroke.si());
        let at_rest = (10e5 + 101_325.0) * (180e-6 / volume(rest)).powf(gas.exponents().slow());
        let pressure = at_rest * (volume(rest) / volume(s)).powf(gas.exponents().fast());
        let gas = f64::from(count) * (pressure - 101_325.0) * area;
        assert!(near(shock.fast_gas_at(rest, s).unwrap().force.si(), gas));
        // The stop acts over its last 15 mm, of which 9 are used.
        let stop = parts().bump_stop.unwrap().eval_bump(0.112, 0.118).force * f64::from(count);
        let all = shock.springs_at(s).unwrap().force.si() + gas + stop;
        assert!(near(shock.fast_at(rest, s).unwrap().force.si(), all));
        assert!(stop > 0.0 && gas > shock.gas_at(s).unwrap().force.si(), "fast gas is stiffer");
        // From a rest nothing has happened yet.
        assert!(near(shock.fast_at(s, s).unwrap().force.si(), shock.at(s).unwrap().force.si()));
        assert!(near(shock.fast_rate_at(s).unwrap().si(), shock.fast_at(s, s).unwrap().rate.si()));
        assert!(shock.fast_at(mm(119.0), s).is_err() && shock.fast_at(rest, mm(119.0)).is_err());
    }
}

#[test]
fn gas_of_one_exponent_knows_no_fast_and_slow() {
    let shock = Shock::new(mm(468.7), mm(118.0), parts(), 1).unwrap();
    let one = shock.with_exponents(Exponents::new(1.3, 1.3).unwrap()).unwrap();
    for s in [10.0, 60.0, 115.0] {
        let (slow, fast) = (one.at(mm(s)).unwrap(), one.fast_at(mm(30.0), mm(s)).unwrap());
        assert!(near(fast.force.si(), slow.force.si()) && near(fast.rate.si(), slow.rate.si()), "{s}");
    }
    assert_eq!(one.with_exponents(parts().reservoir.unwrap().exponents()).unwrap(), shock);
}

#[test]
fn thinner_air_around_a_shock_adds_its_difference_on_the_rod_all_the_way() {
    let shock = Shock::new(mm(468.7), mm(118.0), parts(), 1).unwrap();
    let charged = Conditions::sea_level();
    let thin = Conditions::new(parse("0.8 bar").unwrap(), charged.temperature()).unwrap();
    let high = shock.running_in(thin).unwrap();
    let push = (charged.surroundings().si() - 0.8e5) * parts().reservoir.unwrap().rod_area().si();
    for s in [0.0, 50.0, 118.0] {
        let [low, high] = [&shock, &high].map(|shock| shock.at(mm(s)).unwrap().force.si());
        // A difference of forces, good to their rounding.
        assert!((high - low - push).abs() < ROUNDING * low, "{s}: {} {push}", high - low);
    }
    let at_home = shock.running_in(charged).unwrap();
    assert!(near(at_home.at(mm(50.0)).unwrap().force.si(), shock.at(mm(50.0)).unwrap().force.si()));
}

#[test]
fn an_element_of_ones_own_adds_its_force_and_is_the_same_fast_and_slow() {
    use crate::axial::OwnElement;
    use crate::spring::{Coil, Spring};
    let coil = Coil::new(parse("9 N/mm").unwrap()).unwrap().with_lengths(mm(260.0), mm(118.0)).unwrap();
    let own = OwnElement::new(Spring::from(coil)).unwrap();
    let usual = ShockParts { reservoir: None, ..parts() };
    let without = Shock::new(mm(468.7), mm(118.0), usual.clone(), 2).unwrap();
    let with = Shock::new(mm(468.7), mm(118.0), usual.with_element(own), 2).unwrap();
    for s in [0.0, 50.0, 112.0] {
        let more = with.at(mm(s)).unwrap().force.si() - without.at(mm(s)).unwrap().force.si();
        // A difference of forces, good to their rounding.
        assert!((more - 2.0 * 9.0 * s).abs() < ROUNDING * with.at(mm(s)).unwrap().force.si(), "{s}: {more}");
        let [slow, fast] = [with.at(mm(s)), with.fast_at(mm(30.0), mm(s))].map(|state| state.unwrap().force.si());
        assert!(near(fast, slow), "{s}: {fast} {slow}");
    }
    assert!(with.describe().lines().count() == without.describe().lines().count() + 1, "{}", with.describe());
}
