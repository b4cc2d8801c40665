use super::*;
use crate::axial::testing::assert_consistent;
use crate::units::{Temperature, parse};
use proptest::prelude::*;

fn mm(length: f64) -> Length {
    Length::from_si(length * 1e-3)
}

fn air(level: f64) -> ForkAir {
    let exponents = Exponents::new(1.2, 1.35).unwrap();
    ForkAir::new(ForkAirParts { sealing_diameter: mm(47.0), bore: mm(43.0), oil_level: mm(level) })
        .unwrap()
        .with_exponents(exponents)
}

#[test]
fn volumes_follow_from_level_bore_steel_and_sealing_diameter() {
    let steel = air(105.0).with_steel(parse("60 cm3").unwrap()).unwrap();
    let compressed = core::f64::consts::PI * 21.5 * 21.5 * 105.0 - 60_000.0;
    assert!((steel.compressed_volume().si() * 1e9 - compressed).abs() < 1e-6, "mm³");
    let chamber = steel.chamber(mm(290.0)).unwrap();
    let extended = compressed + core::f64::consts::PI * 23.5 * 23.5 * 290.0;
    assert!((chamber.volume_at(mm(0.0)).unwrap().si() * 1e9 - extended).abs() < 1e-6, "mm³");
    // p = p₀·(V₀/V_c)ⁿ on the sealing area, by hand.
    let force = 0.101_325 * ((extended / compressed).powf(1.2) - 1.0) * core::f64::consts::PI * 23.5 * 23.5;
    assert!((chamber.at(mm(290.0)).unwrap().force.si() - force).abs() < 1e-9 * force);
    assert_eq!(chamber.at(mm(0.0)).unwrap().force.si(), 0.0);
}

#[test]
fn the_level_for_a_force_gives_that_force() {
    let air = air(105.0).with_steel(parse("60 cm3").unwrap()).unwrap();
    for (wanted, rest) in [(400.0, 0.0), (900.0, 80.0), (3000.0, 80.0), (3000.0, 290.0)] {
        let solved = air.for_force(mm(290.0), mm(rest), Force::from_si(wanted)).unwrap();
        let fast = solved.chamber(mm(290.0)).unwrap().settled_at(mm(rest), 1.35).unwrap();
        let found = fast.at(mm(290.0)).unwrap().force.si();
        assert!((found - wanted).abs() < 1e-9 * wanted, "{found}");
    }
    // From full extension in closed form: V_c = A_s·S/(r^(1/m) − 1).
    let solved = air.for_force(mm(290.0), mm(0.0), Force::from_si(900.0)).unwrap();
    let ratio = 1.0 + 900.0 / (air.sealing_area().si() * 101_325.0);
    let closed = air.sealing_area().si() * 0.29 / (ratio.powf(1.0 / 1.35) - 1.0);
    assert!((solved.compressed_volume().si() / closed - 1.0).abs() < 1e-12);
    let fault = air.for_force(mm(290.0), mm(80.0), Force::from_si(50.0)).unwrap_err().to_string();
    assert!(fault.contains("50 N") && fault.contains("500 mm"), "{fault}");
}

#[test]
fn steel_put_in_lifts_the_oil() {
    let air = air(105.0).with_steel(parse("60 cm3").unwrap()).unwrap();
    let shown = air.level_with_steel_in(mm(400.0)).unwrap();
    // Submerged: 150 mm² of steel over 400 mm less the level; the oil rises until its volume is where it was.
    let risen = core::f64::consts::PI * 21.5 * 21.5 * (105.0 - shown.si() * 1e3);
    assert!((risen - 150.0 * (400.0 - shown.si() * 1e3)).abs() < 1e-6, "mm³: {shown:?}");
    let back = air.with_level_read_steel_in(shown, mm(400.0)).unwrap();
    assert!((back.oil_level() - air.oil_level()).si().abs() < 1e-12);
    // 2000 mm² of steel in a bore of 1452 mm².
    let fault = air.level_with_steel_in(mm(30.0)).unwrap_err().to_string();
    assert!(fault.contains("steel"), "{fault}");
}

#[test]
fn says_where_the_air_gap_closes() {
    let steel = air(40.0).with_steel(parse("70 cm3").unwrap()).unwrap();
    let message = steel.chamber_of("leg 2", mm(290.0)).unwrap_err().to_string();
    // 58.09 − 70 cm³ over 1734.9 mm² of sealing area: 6.9 mm before the end; 70 cm³ over 1452.2 mm²: 48.2 mm.
    for part in ["leg 2", "40.0 mm", "283.1 mm", "290.0 mm", "48.2 mm"] {
        assert!(message.contains(part), "{message} lacks {part}");
    }
}

#[test]
fn altitude_adds_force_and_no_rate() {
    let valley = air(105.0).chamber(mm(290.0)).unwrap();
    let high = Conditions::new(parse("747 mbar").unwrap(), Conditions::sea_level().temperature()).unwrap();
    let ridge = air(105.0).running_in(high).chamber(mm(290.0)).unwrap();
    let push = (101_325.0 - 74_700.0) * air(105.0).sealing_area().si();
    for s in [0.0, 150.0, 290.0] {
        let (low, up) = (valley.at(mm(s)).unwrap(), ridge.at(mm(s)).unwrap());
        assert!((up.force.si() - low.force.si() - push).abs() < 1e-9 * up.force.si());
        assert_eq!(up.rate, low.rate);
    }
}

#[test]
fn warm_gas_presses_in_proportion_to_its_absolute_temperature() {
    let warm = Conditions::sea_level().with_temperature(Temperature::from_si(2.0 * 288.15 - 230.52)).unwrap();
    let chamber = air(105.0).running_in(warm).chamber(mm(290.0)).unwrap();
    assert!((chamber.pressure_at(mm(0.0)).unwrap().si() - 101_325.0 * 1.2).abs() < 1e-6);
}

#[test]
fn below_vacuum_is_refused() {
    let thin = Conditions::new(parse("0.3 bar").unwrap(), Conditions::sea_level().temperature()).unwrap();
    let message = air(105.0).with_pressure(parse("-0.4 bar").unwrap()).unwrap().sealed_in(thin).chamber(mm(290.0));
    assert!(message.unwrap_err().to_string().contains("below vacuum"));
}

proptest! {
    #[test]
    fn energy_force_and_rate_agree(level in 40.0..200.0_f64, bar in 0.0..3.0_f64) {
        let air = air(level).with_pressure(GaugePressure::from_si(bar * 1e5)).unwrap();
        assert_consistent(&air.chamber(mm(290.0)).unwrap(), 0.29);
    }
}

#[test]
fn the_slope_of_the_pressure_over_the_volume_left_is_that_of_it() {
    let at = |volume: f64| log_ratio(volume, [5e-4, 3e-4], [1.05, 1.4]);
    for volume in [4e-5, 1e-4, 3e-4] {
        let step = 1e-4 * volume;
        let difference = (at(volume + step).0 - at(volume - step).0) / (2.0 * step);
        // What truncation leaves: the square of the relative step.
        assert!((at(volume).1 / difference - 1.0).abs() < 1e-7, "{volume}");
    }
}
