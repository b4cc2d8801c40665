//! Quantities through serde.

use proptest::prelude::*;
use wheelrate::units::{Length, MotionRatio, Quantity, SpringRate, Uncertain, WheelRate};

fn through_json<T: serde::Serialize + serde::de::DeserializeOwned>(value: &T) -> T {
    serde_json::from_str(&serde_json::to_string(value).expect("serialises")).expect("reads back")
}

proptest! {
    /// Bit for bit: text carries every digit that matters.
    #[test]
    fn newtypes_and_uncertain_values(value in 1e-9..1e9_f64, uncertainty in 0.0..1e6_f64) {
        let rate = SpringRate::from_si(value);
        prop_assert_eq!(through_json(&rate), rate);
        let falling = WheelRate::from_si(-value);
        prop_assert_eq!(through_json(&falling), falling);
        let length = Uncertain { value: Length::from_si(value), standard_uncertainty: Length::from_si(uncertainty) };
        prop_assert_eq!(through_json(&length), length);
    }
}

#[test]
fn what_does_not_load() {
    let refusal = |json: &str| serde_json::from_str::<SpringRate>(json).expect_err("must not load").to_string();
    assert!(refusal("52").contains("no unit"), "{}", refusal("52"));
    assert!(refusal("52.5").contains("N/mm"), "{}", refusal("52.5"));
    assert!(refusal("\"-52 N/mm\"").contains("zero or more"), "{}", refusal("\"-52 N/mm\""));
    assert!(refusal("\"52 N\"").contains("force"), "{}", refusal("\"52 N\""));
    assert!(refusal("null").contains("spring rate"), "{}", refusal("null"));
}

/// A motion ratio and a leverage ratio are each other's inverse, and a text says which of the two it is.
#[test]
fn ratios_are_not_mistaken_for_one_another() {
    let refusal = "2.4 wheel/shock".parse::<MotionRatio>().expect_err("a leverage ratio").to_string();
    assert!(refusal.contains("leverage ratio"), "{refusal}");
}
