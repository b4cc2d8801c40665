//! Coil springs in texts on strength of materials and machine design, through FOSSEE/Python-Textbook-Companions: S. S.
//! Bhavikatti, *Strength of Materials*, ex. 6.6.22, p. 254; B. K. Sarkar, *Strength of Materials*, problems 8.5, p. 210, and
//! 8.8, p. 212; T. H. Wentzell, *Machine Design*, ex. 8.2, p. 163; U. C. Jindal, *Machine Design*, exa 8-1, p. 224. Values
//! seen there; Jindal's are ours from his inputs, since the companion divides integers.

use wheelrate::axial::AxialElement;
use wheelrate::spring::{
    Coil, CoilEnds, CoilGeometry, CoilParts, Material, MaterialParts, Nest, Nested, Spring, StressFactor,
};
use wheelrate::units::{Energy, Force, Length, MassDensity, Quantity, SpringRate, Stress, parse};

use crate::outside::{Tolerance, agree};

fn length(text: &str) -> Length {
    parse(text).unwrap()
}

/// A spring of steel with the book's shear modulus; elastic modulus and density play no part.
fn spring(wire: &str, mean_diameter: &str, active_coils: f64, shear_modulus: &str) -> CoilGeometry {
    let material = Material::new(MaterialParts {
        name: "steel".to_owned(),
        elastic_modulus: Stress::from_si(206e9),
        shear_modulus: parse(shear_modulus).unwrap(),
        density: MassDensity::from_si(7850.0),
        source: "the book".to_owned(),
    })
    .unwrap();
    let (wire, mean_diameter, ends) = (length(wire), length(mean_diameter), CoilEnds::Closed);
    CoilGeometry::new(CoilParts { wire, mean_diameter, active_coils, ends, material }).unwrap()
}

#[test]
fn bhavikatti_6_6_22_stress_energy_deflection_rate() {
    const HALF_DIGIT: Tolerance = Tolerance::absolute(0.005, "half of the last printed digit");
    let spring = spring("12 mm", "150 mm", 10.0, "80000 MPa");
    let load = Force::from_si(450.0);
    let deflection = load / spring.rate();
    let energy = Spring::from(spring.coil().unwrap()).at(deflection).unwrap().energy;
    let checks = [
        ("stress in MPa", spring.shear_stress(load, StressFactor::Torsion).si() * 1e-6, 99.47),
        ("energy in N mm", energy.si() * 1e3, 16_479.49),
        ("deflection in mm", deflection.si() * 1e3, 73.24),
        ("rate in N/mm", spring.rate().si() * 1e-3, 6.14),
    ];
    for (what, found, printed) in checks {
        agree!(found, printed, HALF_DIGIT, "{what}");
    }
}

#[test]
fn sarkar_8_5_a_weight_falls_on_a_spring() {
    const ROUNDED_QUADRATIC: Tolerance =
        Tolerance::relative(1e-3, "the book rounds its quadratic: 18.39 cm against 18.399 cm");
    let spring = spring("6 mm", "50 mm", 50.0, "80000 MPa");
    agree!(spring.rate().si(), 2073.6, Tolerance::relative(1e-9, "exact by hand"));
    let most = length("18.39 cm");
    let state = Spring::from(spring.coil().unwrap()).at(most).unwrap();
    let fallen = Energy::from_si(150.0 * (0.05 + most.si()));
    agree!(state.energy.si(), fallen.si(), ROUNDED_QUADRATIC);
    let stress = spring.shear_stress(state.force, StressFactor::Torsion);
    agree!(stress.si(), 224.8e6, ROUNDED_QUADRATIC);
}

#[test]
fn sarkar_8_8_an_inner_spring_joins_after_1_cm() {
    let outer = spring("3 mm", "30 mm", 10.0, "80000 MPa").coil().unwrap();
    let inner = Coil::new(SpringRate::from_si(4000.0)).unwrap();
    let nested = |coil, gap| Nested::new(coil, length(gap)).unwrap();
    let both = Spring::from(Nest::new(vec![nested(outer, "0 mm"), nested(inner, "1 cm")]).unwrap());
    let at = length("2 cm");
    const BY_HAND: Tolerance = Tolerance::absolute(1e-9, "exact by hand");
    const PRINTED_WIRE: Tolerance = Tolerance::relative(
        0.01,
        "wire printed as 2.31 mm (exact 2.3075): 0.1 % in the wire is 0.5 % in the rate at a fixed outside diameter",
    );
    agree!(Spring::from(outer).at(at).unwrap().force.si(), 60.0, BY_HAND);
    agree!(both.at(at).unwrap().force.si(), 100.0, BY_HAND);
    let inner = spring("2.31 mm", "20.69 mm", 8.0, "80000 MPa");
    agree!(inner.rate().si(), 4000.0, PRINTED_WIRE);
}

#[test]
fn wentzell_8_2_active_coils_for_70_lbf_per_inch() {
    const HALF_DIGIT: Tolerance =
        Tolerance::relative(0.005 / 10.79, "half of the last digit of the printed coils, 0.005 of 10.79");
    let spring = spring("0.105 in", "0.62 in", 10.79, "11.85e6 psi");
    agree!(spring.rate().in_unit("lbf/in").unwrap(), 70.0, HALF_DIGIT);
    agree!(spring.total_coils(), 12.79, Tolerance::absolute(1e-12, "two coils more, but for rounding"));
}

#[test]
fn jindal_8_1_rate_and_factors() {
    const FIVE_DIGITS: Tolerance = Tolerance::relative(1e-4, "printed to five digits");
    let spring = spring("5 mm", "30 mm", 15.0, "84000 MPa");
    let checks = [
        ("rate in N/mm", spring.rate().si() * 1e-3, 16.2037),
        ("deflection in mm", (Force::from_si(300.0) / spring.rate()).si() * 1e3, 18.514),
        ("Wahl factor", StressFactor::Wahl.at(spring.index()), 1.2525),
        ("direct shear factor", StressFactor::DirectShear.at(spring.index()), 1.0833),
    ];
    for (what, found, expected) in checks {
        agree!(found, expected, FIVE_DIGITS, "{what}");
    }
}
