//! Bike to file and back: equal to the bit, in TOML and in JSON, for every bike.

use proptest::prelude::*;
use wheelrate::Bike;
use wheelrate::demo::PATROL;
use wheelrate::units::Quantity;

use crate::bikes::{bike, linked_bike};

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn every_bike_reads_back_equal(bike in bike()) {
        reads_back_equal(&bike)?;
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn every_bike_on_links_reads_back_equal(bike in linked_bike()) {
        reads_back_equal(&bike)?;
    }
}

fn reads_back_equal(bike: &Bike) -> Result<(), TestCaseError> {
    let toml = bike.to_toml();
    prop_assert_eq!(&Bike::from_toml(&toml).map_err(|error| TestCaseError::fail(format!("{error}\n{toml}")))?, bike);
    let json = bike.to_json();
    prop_assert_eq!(&Bike::from_json(&json).map_err(|error| TestCaseError::fail(format!("{error}\n{json}")))?, bike);
    let serde: Bike = serde_json::from_str(&serde_json::to_string(bike).unwrap()).unwrap();
    prop_assert_eq!(&serde, bike);
    prop_assert_eq!(Bike::from_toml(&toml).unwrap().to_toml(), toml, "writing settles at once");
    Ok(())
}

#[test]
fn a_change_and_back_is_no_change() {
    let bike = Bike::from_toml(PATROL).unwrap();
    for (path, value, was) in [
        ("rear.shock.spring.rate", "56 N/mm", "52 N/mm"),
        ("rear.linkage.points.link_frame", "[\"-66 mm\", \"-93 mm\"]", "[\"-66 mm\", \"-98 mm\"]"),
        ("front.fork.leg[0].air.exponent.fast", "1.3", "1.35"),
        ("front.fork.leg.1.spring.preload", "9 mm", "6 mm"),
        ("rear.chain.rear_teeth", "51", "49"),
        ("bike.name", "Ridge patrol 301", "Ridge patrol 300"),
    ] {
        let changed = bike.correct(&[(path, value)]).unwrap();
        assert_ne!(changed, bike, "{path}");
        assert_eq!(changed.correct(&[(path, was)]).unwrap(), bike, "{path}");
    }
}

#[test]
fn prices_are_kept() {
    let bike = Bike::from_toml(PATROL).unwrap();
    let dear = bike.correct(&[("prices.spring", "25 %")]).unwrap();
    assert!((dear.parts().prices.spring.si() - 0.25).abs() < 1e-12);
    assert_eq!(dear.parts().prices.collar, bike.parts().prices.collar);
    assert_eq!(Bike::from_toml(&dear.to_toml()).unwrap(), dear);
    assert_eq!(Bike::from_json(&dear.to_json()).unwrap(), dear);
    // What is usual is not written.
    assert!(!bike.to_toml().contains("prices"), "{}", bike.to_toml());
}

#[test]
fn the_page_of_keys_is_current() {
    let shipped = include_str!("../../docs/keys.md");
    assert_eq!(shipped, wheelrate::keys::page(), "write it anew: cargo run -p wheelrate --example write_schema");
}

#[test]
fn json_schema_is_current() {
    let shipped = include_str!("../../core/schema/bike.schema.json");
    assert_eq!(shipped, wheelrate::keys::json_schema(), "write it anew: cargo run -p wheelrate --example write_schema");
}
