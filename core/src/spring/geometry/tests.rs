use super::*;
use crate::units::parse;

fn shock_spring() -> CoilGeometry {
    let material = Material::named("EN 10270-2").unwrap();
    let (wire, mean_diameter) = (parse("12 mm").unwrap(), parse("72 mm").unwrap());
    let ends = CoilEnds::ClosedGround;
    CoilGeometry::new(CoilParts { wire, mean_diameter, active_coils: 6.0, ends, material }).unwrap()
}

#[test]
fn titanium_is_about_half_as_stiff_and_light() {
    let steel = shock_spring();
    let titanium = CoilGeometry { material: Material::named("Ti-3Al-8V-6Cr-4Mo-4Zr").unwrap(), ..steel.clone() };
    assert!((titanium.rate() / steel.rate() - 41.0 / 79.5).abs() < 1e-12);
    assert!((titanium.mass().si() / steel.mass().si() - 4.82 / 7.85).abs() < 1e-12);
}

#[test]
fn buckles_just_above_its_stable_length_and_not_below() {
    for seating in [Seating::Fixed, Seating::FixedHinged, Seating::Hinged] {
        let stable = shock_spring().stable_free_length(seating);
        let above = shock_spring().with_free_length(stable * 1.001).unwrap();
        let below = shock_spring().with_free_length(stable * 0.999).unwrap();
        assert!(above.buckling_compression(seating).is_some() && below.buckling_compression(seating).is_none());
    }
    assert_eq!(shock_spring().buckling_compression(Seating::Fixed), None);
}

#[test]
fn gives_the_element_with_its_lengths() {
    let spring = shock_spring().with_free_length(parse("230 mm").unwrap()).unwrap();
    let coil = spring.coil().unwrap();
    assert_eq!(coil.rate(), spring.rate());
    assert_eq!(coil.solid_length(), Some(parse("96 mm").unwrap()));
    let solid = spring.solid_stress(StressFactor::Wahl).unwrap();
    let force = spring.rate() * (spring.free_length().unwrap() - spring.solid_length());
    assert_eq!(solid, spring.shear_stress(force, StressFactor::Wahl));
    let solid = shock_spring().with_free_length(parse("96 mm").unwrap()).unwrap_err().to_string();
    assert!(solid.contains("free_length") && solid.contains("96 mm"), "{solid}");
}

#[test]
fn reads_and_writes_text() {
    let text = r#"{"wire": "12 mm", "mean_diameter": "72 mm", "active_coils": 6, "ends": "closed-ground",
        "material": {"name": "EN 10270-2"}, "free_length": "230 mm"}"#;
    let spring: CoilGeometry = serde_json::from_str(text).unwrap();
    assert_eq!(serde_json::from_str::<CoilGeometry>(&serde_json::to_string(&spring).unwrap()).unwrap(), spring);
    let fault =
        |from: &str, to: &str| serde_json::from_str::<CoilGeometry>(&text.replace(from, to)).unwrap_err().to_string();
    assert!(fault("EN 10270-2", "unobtainium").contains("EN 10270-1"));
    assert!(fault("12 mm", "480 mm").contains("plausible"));
    assert!(fault("72 mm", "12 mm").contains("mean_diameter / wire"));
    let own = r#"{"name": "wire A", "elastic_modulus": "200 GPa", "shear_modulus": "80 GPa", "density": "7.8 kg/dm3"}"#;
    let material: Material = serde_json::from_str(own).unwrap();
    assert_eq!(serde_json::from_str::<Material>(&serde_json::to_string(&material).unwrap()).unwrap(), material);
    let half = serde_json::from_str::<Material>(r#"{"name": "wire A", "shear_modulus": "80 GPa"}"#).unwrap_err();
    assert!(half.to_string().contains("elastic_modulus"), "{half}");
}

/// Shigley's Mechanical Engineering Design, table 10-1: total coils and solid length of compression springs by their ends.
#[test]
fn ends_take_coils_and_solid_length_as_the_book_has_it() {
    let (active, wire) = (6.0, 12e-3);
    for (ends, total, solid) in [
        (CoilEnds::Open, active, wire * (active + 1.0)),
        (CoilEnds::OpenGround, active + 1.0, wire * (active + 1.0)),
        (CoilEnds::Closed, active + 2.0, wire * (active + 3.0)),
        (CoilEnds::ClosedGround, active + 2.0, wire * (active + 2.0)),
    ] {
        let spring = CoilGeometry { ends, ..shock_spring() };
        assert_eq!(spring.total_coils(), total, "{ends:?}");
        // One rounding of a sum and a product.
        assert!((spring.solid_length().si() / solid - 1.0).abs() < 1e-15, "{ends:?}");
        assert_eq!(spring.rate(), shock_spring().rate(), "active coils alone twist");
    }
}
