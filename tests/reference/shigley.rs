//! Budynas & Nisbett, *Shigley's Mechanical Engineering Design*, 8th to 10th ed.: examples 10-1 and 10-4, tables 10-2 and 10-4. Values
//! from memory, recomputed; printed to three digits. The surge formula is also seen in a derivation that cites the book.

use core::f64::consts::PI;

use wheelrate::spring::{
    CoilEnds, CoilGeometry, CoilParts, Material, MaterialParts, Seating, SpringDuty, SpringWire, StressFactor,
};
use wheelrate::units::{Force, Length, MassDensity, Quantity, Stress, parse};

use crate::outside::{Tolerance, agree};

const THREE_DIGITS: Tolerance =
    Tolerance::relative(5e-3, "three printed digits, and intermediate values rounded to three");

fn inch(number: f64) -> Length {
    Length::from_si(number * 0.0254)
}

fn wire(shear_modulus: &str) -> Material {
    steel("music wire", ["28.5e6 psi", shear_modulus], parse("0.284 lb/in3").unwrap())
}

fn steel(name: &str, [elastic, shear]: [&str; 2], density: MassDensity) -> Material {
    Material::new(MaterialParts {
        name: name.to_owned(),
        elastic_modulus: parse(elastic).unwrap(),
        shear_modulus: parse(shear).unwrap(),
        density,
        source: "Shigley".to_owned(),
    })
    .unwrap()
}

/// Of lengths in inches.
fn coil([wire, mean_diameter]: [f64; 2], active_coils: f64, ends: CoilEnds, material: Material) -> CoilGeometry {
    let (wire, mean_diameter) = (inch(wire), inch(mean_diameter));
    CoilGeometry::new(CoilParts { wire, mean_diameter, active_coils, ends, material }).unwrap()
}

#[test]
fn example_10_1_squared_ends() {
    let spring = coil([0.037, 0.4], 10.5, CoilEnds::Closed, wire("11.85e6 psi"));
    agree!(spring.index(), 10.8, THREE_DIGITS);
    agree!(StressFactor::Bergstrasser.at(spring.index()), 1.124, THREE_DIGITS);
    agree!(spring.rate().in_unit("lbf/in").unwrap(), 4.13, THREE_DIGITS);
    agree!(spring.total_coils(), 12.5, THREE_DIGITS);
    agree!(spring.solid_length().si() / 0.0254, 0.5, THREE_DIGITS);
    let force: Force = parse("6.46 lbf").unwrap();
    // At this force the stress is the torsional yield strength, 146 kpsi.
    agree!(spring.shear_stress(force, StressFactor::Bergstrasser).in_unit("kpsi").unwrap(), 146.0, THREE_DIGITS);
    let deflection = force / spring.rate();
    agree!(deflection.si() / 0.0254, 1.56, THREE_DIGITS);
    let free = spring.solid_length() + deflection;
    agree!(free.si() / 0.0254, 2.06, THREE_DIGITS);
    let stiff = steel("steel of the rule 2.63·D/α", ["30e6 psi", "11.5e6 psi"], MassDensity::from_si(7850.0));
    let steel = coil([0.037, 0.4], 10.5, CoilEnds::Closed, stiff);
    agree!(steel.stable_free_length(Seating::Fixed).si() / 0.0254, 2.1, THREE_DIGITS);
}

#[test]
fn example_10_4_stress_rate_weight_and_surge() {
    let spring = coil([0.092, 0.4705], 21.0, CoilEnds::Closed, wire("11.75e6 psi"));
    agree!(spring.index(), 5.11, THREE_DIGITS);
    agree!(StressFactor::Bergstrasser.at(spring.index()), 1.287, THREE_DIGITS);
    // Alternating 15 lbf, mean 20 lbf.
    for (force, kpsi) in [("15 lbf", 29.7), ("20 lbf", 39.6)] {
        let stress: Stress = spring.shear_stress(parse(force).unwrap(), StressFactor::Bergstrasser);
        agree!(stress.in_unit("kpsi").unwrap(), kpsi, THREE_DIGITS, "stress in kpsi at {force}");
    }
    agree!(spring.rate().in_unit("lbf/in").unwrap(), 48.1, THREE_DIGITS);
    agree!(spring.active_mass().in_unit("lb").unwrap(), 0.0586, THREE_DIGITS);
    agree!(spring.surge_frequency().si(), 281.0, THREE_DIGITS);
}

#[test]
fn table_10_2_stable_free_length() {
    const ROUNDED_CONSTANT: Tolerance =
        Tolerance::relative(3e-3, "the printed constant is rounded to three digits: 2.63 against 2.6249");
    let steel = steel("steel", ["30e6 psi", "11.5e6 psi"], MassDensity::from_si(7850.0));
    let spring = coil([0.1, 1.0], 10.0, CoilEnds::ClosedGround, steel);
    let table =
        [(Seating::Fixed, 5.26), (Seating::FixedHinged, 3.72), (Seating::Hinged, 2.63), (Seating::FixedFree, 1.315)];
    for (seating, printed) in table {
        let found = spring.stable_free_length(seating).si() / 0.0254;
        agree!(found, printed, ROUNDED_CONSTANT, "stable free length in inches, {seating:?}");
    }
}

#[test]
fn surge_is_half_the_root_of_rate_over_active_mass() {
    let spring = coil([0.092, 0.4705], 21.0, CoilEnds::Closed, wire("11.75e6 psi"));
    let (d, mean, shear) = (inch(0.092).si(), inch(0.4705).si(), wire("11.75e6 psi").shear_modulus().si());
    let density = wire("11.75e6 psi").density().si();
    // The same by the wire's own numbers: f = d/(2π·n·D²)·√(G/(2ρ)).
    let closed = d / (2.0 * PI * 21.0 * mean * mean) * (shear / (2.0 * density)).sqrt();
    agree!(spring.surge_frequency().si(), closed, Tolerance::relative(1e-12, "the same formula, rearranged"));
}

/// As-wound music wire of 0.092 in between 5 lbf and 35 lbf, unpeened: Goodman's factor against torsional fatigue.
#[test]
fn example_10_4_goodman_factor() {
    let spring = coil([0.092, 0.4705], 21.0, CoilEnds::Closed, wire("11.75e6 psi"));
    let at = |force: &str| parse::<Force>(force).unwrap() / spring.rate();
    let duty = SpringDuty { least: at("5 lbf"), most: at("35 lbf"), is_peened: false, is_pressed: false };
    let life = spring.life(SpringWire::named("music wire A228").unwrap(), &duty).unwrap();
    agree!(life.fatigue_factor.unwrap(), 1.23, THREE_DIGITS, "Goodman's factor of example 10-4");
    let mean = 0.5 * (life.least_stress.in_unit("kpsi").unwrap() + life.most_stress.in_unit("kpsi").unwrap());
    agree!(mean, 39.6, THREE_DIGITS, "mean stress in kpsi");
}

/// Table 10-4: strength at 0.037 in and 0.092 in by its constants in inches, 201 kpsi and 0.145; and the stress at which the spring
/// of example 10-1 sets, 0.45 of it.
#[test]
fn music_wire_is_as_strong_as_printed() {
    let wire = SpringWire::named("music wire A228").unwrap();
    for diameter in [0.037, 0.092] {
        let found: Stress = wire.tensile_strength(inch(diameter)).unwrap();
        agree!(found.in_unit("kpsi").unwrap(), 201.0 / f64::powf(diameter, 0.145), THREE_DIGITS, "strength in kpsi");
    }
    let spring = coil([0.037, 0.4], 10.5, CoilEnds::Closed, self::wire("11.85e6 psi"));
    let most = parse::<Force>("6.46 lbf").unwrap() / spring.rate();
    let duty = SpringDuty { least: Length::from_si(0.0), most, is_peened: false, is_pressed: false };
    agree!(spring.life(wire, &duty).unwrap().set_share.si(), 1.0, THREE_DIGITS, "stress over that at which it sets");
}
