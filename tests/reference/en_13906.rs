//! EN 13906-1:2013, cylindrical compression springs: curvature factor, surge, buckling, moduli, from memory and recomputed;
//! constants of patented wire (EN 10270-1) as seen in the DIN handbook extract, part 38; stainless 1.4310 as seen in a wire
//! data sheet that quotes EN 10270-3.

use wheelrate::spring::{CoilEnds, CoilGeometry, CoilParts, Material, Seating, SpringWire, StressFactor};
use wheelrate::units::{Length, Quantity, Stress};

use crate::outside::{Tolerance, agree};

fn mm(length: f64) -> Length {
    Length::from_si(length * 1e-3)
}

#[test]
fn curvature_factors() {
    const SIX_DECIMALS: Tolerance = Tolerance::absolute(1e-6, "printed to six decimals");
    let rows = [
        (4.0, 1.384_615, 1.403_75),
        (5.0, 1.294_118, 1.3105),
        (6.0, 1.238_095, 1.2525),
        (8.0, 1.172_414, 1.184_018),
        (10.0, 1.135_135, 1.144_833),
        (12.0, 1.111_111, 1.119_432),
    ];
    for (index, bergstrasser, wahl) in rows {
        agree!(StressFactor::Bergstrasser.at(index), bergstrasser, SIX_DECIMALS);
        agree!(StressFactor::Wahl.at(index), wahl, SIX_DECIMALS);
    }
}

/// Of wire of 5 mm, its ends ground.
fn coil(mean_diameter: f64, active_coils: f64) -> CoilGeometry {
    let material = Material::named("EN 10270-1").unwrap();
    let (wire, mean_diameter, ends) = (mm(5.0), mm(mean_diameter), CoilEnds::ClosedGround);
    CoilGeometry::new(CoilParts { wire, mean_diameter, active_coils, ends, material }).unwrap()
}

#[test]
fn surge_by_the_numerical_formula() {
    // f = 3560·d/(n·D²)·√(G/ρ), d and D in mm, G in MPa, ρ in kg/dm³.
    const ROUNDED_CONSTANT: Tolerance = Tolerance::relative(1e-3, "its constant is rounded: 1.0003 of the SI value");
    let spring = coil(34.6, 9.5);
    let numerical = 3560.0 * 5.0 / (9.5 * 34.6 * 34.6) * (81_500.0_f64 / 7.85).sqrt();
    agree!(spring.surge_frequency().si(), numerical, ROUNDED_CONSTANT);
}

#[test]
fn buckling_compression() {
    const FOUR_DIGITS: Tolerance = Tolerance::relative(2e-3, "recomputed to four digits");
    let spring = coil(50.0, 10.0);
    let free = mm(3.647 * 50.0);
    let spring = spring.with_free_length(free).unwrap();
    let share = spring.buckling_compression(Seating::Hinged).unwrap().si() / free.si();
    agree!(share, 0.2427, FOUR_DIGITS, "buckling compression per free length, hinged ends");
    // Between flat plates the same spring holds: slenderness 3.647 is below 5.16.
    assert_eq!(spring.buckling_compression(Seating::Fixed), None);
}

#[test]
fn moduli_and_density() {
    const EXACT: Tolerance = Tolerance::absolute(0.0, "the same number, taken over");
    let gpa = |value: f64| Stress::from_si(value * 1e9);
    let rows = [
        ("EN 10270-1", 206.0, 81.5, Some(7850.0)), // seen
        ("EN 10270-2", 206.0, 79.5, None),
        ("EN 10089", 206.0, 78.5, None),
        ("1.4310", 180.0, 70.0, None),
        ("1.4401", 175.0, 68.0, None),
        ("1.4568", 190.0, 73.0, None),
    ];
    for (name, elastic, shear, density) in rows {
        let material = Material::named(name).unwrap();
        agree!(material.elastic_modulus().si(), gpa(elastic).si(), EXACT, "elastic modulus of {name} in Pa");
        agree!(material.shear_modulus().si(), gpa(shear).si(), EXACT, "shear modulus of {name} in Pa");
        if let Some(density) = density {
            agree!(material.density().si(), density, EXACT, "density of {name} in kg/m³");
        }
    }
    // EN 10270-3 gives 71 GPa to 73 GPa as a guide for 1.4310, ±2 %: the calculation value lies just at its edge.
    let stainless = Material::named("1.4310").unwrap().shear_modulus();
    assert!(stainless >= gpa(71.0 * 0.98) && stainless <= gpa(73.0 * 1.02));
    assert!(Material::known().iter().all(|material| !material.source().is_empty()));
}

/// Lower limits of tensile strength of grade SM of EN 10270-1, as seen in a wire maker's table that quotes the standard.
#[test]
fn patented_wire_is_as_strong_as_printed() {
    const ROUNDED: Tolerance =
        Tolerance::absolute(8.0, "printed to 10 MPa, and the formula follows the table within 4 MPa");
    let wire = SpringWire::named("EN 10270-1 SM").unwrap();
    let printed = [
        (0.3, 2370.0),
        (0.5, 2200.0),
        (1.0, 1980.0),
        (2.0, 1760.0),
        (3.0, 1630.0),
        (4.0, 1530.0),
        (5.0, 1460.0),
        (6.0, 1400.0),
        (8.0, 1310.0),
        (10.0, 1240.0),
        (12.0, 1180.0),
        (14.0, 1130.0),
        (20.0, 1020.0),
    ];
    for (diameter, strength) in printed {
        let found = wire.tensile_strength(mm(diameter)).unwrap().si() / 1e6;
        agree!(found, strength, ROUNDED, "tensile strength of SM in MPa at {diameter} mm");
    }
}
