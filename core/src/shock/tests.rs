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
