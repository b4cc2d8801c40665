//! Coil springs, alone and nested, from V. B. Bhandari, *Design of Machine Elements*, 2nd ed., ch. 10, through its published
//! Scilab companion (FOSSEE/Scilab-TBC-Uploads, folder 764/CH10). Values seen there.

use wheelrate::axial::AxialElement;
use wheelrate::spring::{
    Coil, CoilEnds, CoilGeometry, CoilParts, Material, MaterialParts, Nest, Nested, Spring, StressFactor,
};
use wheelrate::units::{Force, Length, MassDensity, Quantity, SpringRate, Stress};

use crate::outside::{Tolerance, agree};

const PRINTED: Tolerance = Tolerance::relative(1e-6, "printed to 6 decimals of the companion's own arithmetic");

fn mm(length: f64) -> Length {
    Length::from_si(length * 1e-3)
}

/// The book's spring steel: `G` = 81 370 MPa; elastic modulus and density play no part in these examples.
fn steel() -> Material {
    Material::new(MaterialParts {
        name: "spring steel".to_owned(),
        elastic_modulus: Stress::from_si(206e9),
        shear_modulus: Stress::from_si(81.37e9),
        density: MassDensity::from_si(7850.0),
        source: "Bhandari".to_owned(),
    })
    .unwrap()
}

fn spring(wire: f64, mean_diameter: f64, active_coils: f64) -> CoilGeometry {
    let (wire, mean_diameter, ends, material) = (mm(wire), mm(mean_diameter), CoilEnds::ClosedGround, steel());
    CoilGeometry::new(CoilParts { wire, mean_diameter, active_coils, ends, material }).unwrap()
}

fn n_per_mm(rate: SpringRate) -> f64 {
    rate.si() * 1e-3
}

#[test]
fn example_10_2_rate_index_and_coils() {
    let spring = spring(11.0, 55.0, 5.0);
    agree!(n_per_mm(spring.rate()), 179.014, PRINTED);
    agree!(spring.index(), 5.0, PRINTED);
    agree!(spring.total_coils(), 7.0, PRINTED);
}

#[test]
fn example_10_7_free_length_from_solid_deflection_and_gaps() {
    let spring = spring(5.0, 40.0, 5.0);
    agree!(n_per_mm(spring.rate()), 19.865_723, PRINTED);
    let gaps = mm(spring.total_coils() - 1.0);
    let free = spring.solid_length() + Force::from_si(300.0) / spring.rate() + gaps;
    agree!(free.si() * 1e3, 56.101_389, PRINTED, "free length in mm");
}

#[test]
fn example_10_1_wire_from_the_permissible_stress() {
    let required = spring(6.625_083, 6.0 * 6.625_083, 8.0);
    agree!(required.shear_stress(Force::from_si(1250.0), StressFactor::Wahl).si(), 545e6, PRINTED);
    let chosen = spring(7.0, 42.0, 8.0);
    agree!(chosen.total_coils(), 10.0, PRINTED);
    let free = chosen.solid_length() + Force::from_si(1250.0) / chosen.rate() + mm(9.0);
    agree!(free.si() * 1e3, 109.337_611, PRINTED, "free length in mm");
}

#[test]
fn example_10_10_energy_between_two_compressions() {
    const SIX_DIGITS: Tolerance = Tolerance::relative(1e-5, "printed to six digits or fewer");
    let spring = Spring::from(Coil::new(SpringRate::from_si(90_909.1)).unwrap());
    let energy = |x| spring.at(mm(x)).unwrap().energy.si();
    agree!(energy(80.0) - energy(30.0), 250.0, SIX_DIGITS);
    let force = spring.at(mm(80.0)).unwrap().force;
    let required = self::spring(17.5864, 6.0 * 17.5864, 9.0);
    agree!(required.shear_stress(force, StressFactor::Wahl).si(), 450e6, SIX_DIGITS);
    agree!(n_per_mm(self::spring(18.0, 108.0, 9.323_646).rate()), 90.9091, SIX_DIGITS);
    agree!(self::spring(18.0, 108.0, 10.0).solid_length().si() * 1e3, 216.0, PRINTED);
}

#[test]
fn example_10_3_table_of_the_wahl_factor() {
    const THREE_DECIMALS: Tolerance = Tolerance::absolute(6e-4, "printed to three decimals");
    let table =
        [(5.0, 1.311), (6.0, 1.253), (7.0, 1.213), (7.1, 1.21), (7.2, 1.206), (7.3, 1.203), (7.5, 1.197), (8.0, 1.184)];
    for (index, printed) in table {
        agree!(StressFactor::Wahl.at(index), printed, THREE_DECIMALS, "Wahl factor at index {index}");
    }
}

/// Two springs of one free length, one inside the other.
fn nest(outer: &CoilGeometry, inner: &CoilGeometry) -> Spring {
    let nested = |spring: &CoilGeometry| Nested::new(spring.coil().unwrap(), mm(0.0)).unwrap();
    Spring::from(Nest::new(vec![nested(outer), nested(inner)]).unwrap())
}

#[test]
fn example_10_17_nested_springs_of_equal_stress_and_solid_length_share_9_to_4() {
    // Wires in the ratio 3 : 2, index 6, coils in the inverse ratio; the book then rounds the wires to 10 mm and 7 mm.
    let (outer, inner) = (spring(10.0, 60.0, 6.0), spring(20.0 / 3.0, 40.0, 9.0));
    let together = nest(&outer, &inner);
    let compression = Force::from_si(6000.0) / together.initial_rate();
    agree!((outer.rate() * compression).si(), 4153.846, PRINTED);
    agree!((inner.rate() * compression).si(), 1846.154, PRINTED);
    agree!(together.at(compression).unwrap().force.si(), 6000.0, PRINTED);
}

#[test]
fn example_10_18_nested_springs_of_one_free_length() {
    let (outer, inner) = (spring(10.0, 80.0, 8.0), spring(8.0, 64.0, 12.0));
    let compression = mm(52.526_569);
    agree!(nest(&outer, &inner).at(compression).unwrap().force.si(), 2000.0, PRINTED);
    let cases = [(outer, 24.832_153, 1_304.347_826, 314.616_701), (inner, 13.243_815, 695.652_174, 262.180_584)];
    for (spring, rate, share, stress) in cases {
        agree!(n_per_mm(spring.rate()), rate, PRINTED, "rate of one of the two in N/mm");
        let force = spring.rate() * compression;
        agree!(force.si(), share, PRINTED, "share of one of the two in N");
        agree!(
            spring.shear_stress(force, StressFactor::Wahl).si() * 1e-6,
            stress,
            PRINTED,
            "stress of one of the two in MPa"
        );
    }
}
