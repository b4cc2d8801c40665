//! Unit factors against their definitions and against printed tables.

use wheelrate::error::UnitError;
use wheelrate::units::{
    AbsolutePressure, Acceleration, Area, Energy, Force, GaugePressure, Length, Mass, Quantity, SpringRate, Volume,
    parse,
};

use crate::outside::{Tolerance, agree};

const EXACT: Tolerance = Tolerance::relative(
    1e-15,
    "exact definitions: nothing may be lost but the last rounding of a product and a quotient (2 × 1.1e-16)",
);

fn si<Q: Quantity>(text: &str) -> f64 {
    parse::<Q>(text).map_or(f64::NAN, Quantity::si)
}

/// International yard and pound agreement of 1959; standard gravity by the 3rd CGPM (1901). The products are worked out
/// in exact decimal arithmetic and agree with pint 0.25.3 and scipy.constants 1.17.1.
#[test]
fn exact_definitions() {
    agree!(si::<Length>("1 in"), 0.0254, EXACT);
    agree!(si::<Length>("1 ft"), 0.3048, EXACT);
    agree!(si::<Area>("1 in2"), 6.4516e-4, EXACT);
    agree!(si::<Volume>("1 in3"), 1.638_706_4e-5, EXACT);
    agree!(si::<Mass>("1 lb"), 0.453_592_37, EXACT);
    agree!(si::<Acceleration>("1 g0"), 9.80665, EXACT);
    agree!(si::<Force>("1 lbf"), 4.448_221_615_260_5, EXACT);
    agree!(si::<Force>("1 kgf"), 9.80665, EXACT);
    agree!(si::<GaugePressure>("1 psi"), 6_894.757_293_168_361, EXACT);
    agree!(si::<AbsolutePressure>("1 psi"), 6_894.757_293_168_361, EXACT);
    agree!(si::<SpringRate>("1 lbf/in"), 175.126_835_246_476_36, EXACT);
    agree!(si::<SpringRate>("1 kgf/mm"), 9_806.65, EXACT);
    agree!(si::<GaugePressure>("1 bar"), 1e5, EXACT);
    agree!(si::<AbsolutePressure>("1 atm"), 101_325.0, EXACT);
    agree!(si::<GaugePressure>("1 kgf/cm2"), 98_066.5, EXACT);
    agree!(si::<Energy>("1 ft lbf"), 1.355_817_948_331_400_3, EXACT);
}

/// Written for a spring rate, the scale's kilogram and the shop's pound mean force; anywhere else they are mass.
#[test]
fn kilograms_and_pounds_per_length_mean_force_for_a_spring_rate_only() {
    assert_eq!(si::<SpringRate>("0.47 kg/mm").to_bits(), si::<SpringRate>("0.47 kgf/mm").to_bits());
    assert_eq!(si::<SpringRate>("26 lb/in").to_bits(), si::<SpringRate>("26 lbf/in").to_bits());
    for mass in ["64 kg", "140 lb"] {
        let fault = parse::<Force>(mass).unwrap_err();
        assert!(
            matches!(&fault, UnitError::WrongKind { kind: "force", is: "mass", found, .. } if found == mass),
            "{fault}"
        );
    }
}

/// pint 0.25.3, printed to 9 digits or more.
#[test]
fn everyday_factors() {
    const PRINTED: Tolerance = Tolerance::relative(1e-9, "pint 0.25.3, printed to 9 digits or more");
    let rate = |text, unit| parse::<SpringRate>(text).and_then(|rate| rate.in_unit(unit)).unwrap_or(f64::NAN);
    agree!(rate("1 N/mm", "lbf/in"), 5.710_147_154_732_647, PRINTED);
    agree!(rate("1 N/mm", "kgf/mm"), 0.101_971_621_297_792_83, PRINTED);
    agree!(rate("1 kgf/mm", "lbf/in"), 55.997_414_59, PRINTED);
    let pressure = parse::<GaugePressure>("1 bar").and_then(|bar| bar.in_unit("psi"));
    agree!(pressure.unwrap_or(f64::NAN), 14.503_773_773_020_923, PRINTED, "1 bar in psi");
}

/// US Navy NAVFAC, Appendix B, SI conversion factors: printed to 6 digits, so half of the last one.
#[test]
fn navfac_appendix_b() {
    const SIX_DIGITS: Tolerance = Tolerance::relative(5e-6, "half of the last of six printed digits");
    agree!(si::<Force>("1 lbf"), 4.44822, SIX_DIGITS);
    agree!(si::<Volume>("1 in3"), 16_387.1e-9, SIX_DIGITS);
}

/// NIST SP 811 (2008), Appendix B.8, seven printed digits (values from memory, they match the exact definitions).
#[test]
fn nist_sp_811() {
    const SEVEN_DIGITS: Tolerance = Tolerance::relative(5e-7, "half of the last of seven printed digits");
    agree!(si::<Force>("1 lbf"), 4.448_222, SEVEN_DIGITS);
    agree!(si::<GaugePressure>("1 psi"), 6_894.757, SEVEN_DIGITS);
    agree!(si::<SpringRate>("1 lbf/in"), 175.126_8, SEVEN_DIGITS);
    agree!(si::<SpringRate>("1 lbf/ft"), 14.593_9, SEVEN_DIGITS.times(10.0));
}

/// A number and its unit give the same bits as the text of the two.
#[test]
fn number_and_text_agree() {
    for unit in Length::KIND.units {
        let text = parse::<Length>(&format!("12.3 {}", unit.symbol)).map(|length| length.si().to_bits());
        let number = Length::of(12.3, unit.symbol).map(|length| length.si().to_bits());
        assert_eq!(text, number, "{}", unit.symbol);
    }
}
