//! Budynas & Nisbett, *Shigley's Mechanical Engineering Design*, 8th to 10th ed.: examples 10-1 and 10-4, table 10-2. Values
//! from memory, recomputed; printed to three digits. The surge formula is also seen in a derivation that cites the book.

use core::f64::consts::PI;

use wheelrate::spring::{CoilEnds, CoilGeometry, Material, Seating, StressFactor};
use wheelrate::units::{Force, Length, MassDensity, Quantity, Stress, parse};

/// Three printed digits, and intermediate values rounded to three.
const THREE_DIGITS: f64 = 5e-3;

fn inch(number: f64) -> Length {
    Length::from_si(number * 0.0254)
}

fn wire(shear_modulus: &str) -> Material {
    let density: MassDensity = parse("0.284 lb/in3").unwrap();
    Material::new("music wire", parse("28.5e6 psi").unwrap(), parse(shear_modulus).unwrap(), density, "Shigley")
        .unwrap()
}

fn assert_close(found: f64, printed: f64) {
    assert!((found / printed - 1.0).abs() <= THREE_DIGITS, "found {found}, printed {printed}");
}

#[test]
fn example_10_1_squared_ends() {
    let spring = CoilGeometry::new(inch(0.037), inch(0.4), 10.5, CoilEnds::Closed, wire("11.85e6 psi")).unwrap();
    assert_close(spring.index(), 10.8);
    assert_close(StressFactor::Bergstrasser.at(spring.index()), 1.124);
    assert_close(spring.rate().in_unit("lbf/in").unwrap(), 4.13);
    assert_close(spring.total_coils(), 12.5);
    assert_close(spring.solid_length().si() / 0.0254, 0.5);
    let force: Force = parse("6.46 lbf").unwrap();
    // At this force the stress is the torsional yield strength, 146 kpsi.
    assert_close(spring.shear_stress(force, StressFactor::Bergstrasser).in_unit("kpsi").unwrap(), 146.0);
    let deflection = force / spring.rate();
    assert_close(deflection.si() / 0.0254, 1.56);
    let free = spring.solid_length() + deflection;
    assert_close(free.si() / 0.0254, 2.06);
    let stiff = Material::new(
        "steel of the rule 2.63·D/α",
        parse("30e6 psi").unwrap(),
        parse("11.5e6 psi").unwrap(),
        MassDensity::from_si(7850.0),
        "Shigley",
    );
    let steel = CoilGeometry::new(inch(0.037), inch(0.4), 10.5, CoilEnds::Closed, stiff.unwrap()).unwrap();
    assert_close(steel.stable_free_length(Seating::Fixed).si() / 0.0254, 2.1);
}

#[test]
fn example_10_4_stress_rate_weight_and_surge() {
    let spring = CoilGeometry::new(inch(0.092), inch(0.4705), 21.0, CoilEnds::Closed, wire("11.75e6 psi")).unwrap();
    assert_close(spring.index(), 5.11);
    assert_close(StressFactor::Bergstrasser.at(spring.index()), 1.287);
    // Alternating 15 lbf, mean 20 lbf.
    for (force, kpsi) in [("15 lbf", 29.7), ("20 lbf", 39.6)] {
        let stress: Stress = spring.shear_stress(parse(force).unwrap(), StressFactor::Bergstrasser);
        assert_close(stress.in_unit("kpsi").unwrap(), kpsi);
    }
    assert_close(spring.rate().in_unit("lbf/in").unwrap(), 48.1);
    assert_close(spring.active_mass().in_unit("lb").unwrap(), 0.0586);
    assert_close(spring.surge_frequency().si(), 281.0);
}

#[test]
fn table_10_2_stable_free_length() {
    /// The printed constant is rounded to three digits: 2.63 against 2.6249.
    const ROUNDED_CONSTANT: f64 = 3e-3;
    let (elastic, shear) = (parse("30e6 psi").unwrap(), parse("11.5e6 psi").unwrap());
    let steel = Material::new("steel", elastic, shear, MassDensity::from_si(7850.0), "Shigley").unwrap();
    let spring = CoilGeometry::new(inch(0.1), inch(1.0), 10.0, CoilEnds::ClosedGround, steel).unwrap();
    let table =
        [(Seating::Fixed, 5.26), (Seating::FixedHinged, 3.72), (Seating::Hinged, 2.63), (Seating::FixedFree, 1.315)];
    for (seating, printed) in table {
        let found = spring.stable_free_length(seating).si() / 0.0254;
        assert!((found / printed - 1.0).abs() <= ROUNDED_CONSTANT, "{seating:?}: found {found}, printed {printed}");
    }
}

#[test]
fn surge_is_half_the_root_of_rate_over_active_mass() {
    let spring = CoilGeometry::new(inch(0.092), inch(0.4705), 21.0, CoilEnds::Closed, wire("11.75e6 psi")).unwrap();
    let (d, mean, shear) = (inch(0.092).si(), inch(0.4705).si(), wire("11.75e6 psi").shear_modulus().si());
    let density = wire("11.75e6 psi").density().si();
    // The same by the wire's own numbers: f = d/(2π·n·D²)·√(G/(2ρ)).
    let closed = d / (2.0 * PI * 21.0 * mean * mean) * (shear / (2.0 * density)).sqrt();
    assert!((spring.surge_frequency().si() / closed - 1.0).abs() < 1e-12, "the same formula, rearranged");
}
