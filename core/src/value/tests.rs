use proptest::prelude::*;
use serde::de::IntoDeserializer;
use serde::de::value::{BytesDeserializer, Error as DeError, StringDeserializer};

use super::*;
use crate::error::Address;

fn json(value: &Value) -> String {
    serde_json::to_string(value).unwrap()
}

/// A table with one of each.
fn one_of_each() -> Value {
    [
        ("text", "52 N/mm".into()),
        ("number", 1.25.into()),
        ("whole", (-3.0).into()),
        ("flag", Value::Flag(true)),
        ("nothing", Value::Nothing),
        ("list", vec!["-66 mm", "-93 mm"].into()),
        ("table", [("from", Value::from(String::from("25 mm")))].into_iter().collect()),
    ]
    .into_iter()
    .collect()
}

/// A value that JSON has a word for: a date is text to it.
fn any_value() -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        "\\PC{0,8}".prop_map(Value::Text),
        prop::num::f64::NORMAL.prop_map(Value::Number),
        (-9_i32..9).prop_map(|whole| Value::Number(f64::from(whole))),
        any::<bool>().prop_map(Value::Flag),
        Just(Value::Nothing),
    ];
    leaf.prop_recursive(3, 24, 4, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..4).prop_map(Value::from),
            prop::collection::vec(("[a-z]{1,3}", inner), 0..4).prop_map(|entries| entries.into_iter().collect()),
        ]
    })
}

proptest! {
    /// Nothing is lost or rounded, keys keep their order, and repeats are kept.
    #[test]
    fn what_is_written_as_json_reads_back(value in any_value()) {
        prop_assert_eq!(serde_json::from_str::<Value>(&json(&value)).unwrap(), value);
    }
}

#[test]
fn a_table_is_written_in_the_order_of_its_keys_and_whole_numbers_without_a_point() {
    let written = [
        r#"{"text":"52 N/mm","number":1.25,"whole":-3,"flag":true,"nothing":null,"#,
        r#""list":["-66 mm","-93 mm"],"table":{"from":"25 mm"}}"#,
    ];
    assert_eq!(json(&one_of_each()), written.concat());
    assert_eq!(json(&Value::Date("2026-05-31".to_owned())), "\"2026-05-31\"");
    // From 2^53 on not every whole number is an f64, so that an integer would claim digits that are not there.
    assert_eq!(json(&9_007_199_254_740_991.0.into()), "9007199254740991");
    assert_eq!(json(&9_007_199_254_740_992.0.into()), "9007199254740992.0");
}

#[test]
fn a_text_is_a_text_whoever_owns_it_and_bytes_are_no_value() {
    let owned: StringDeserializer<DeError> = "52 N/mm".to_owned().into_deserializer();
    assert_eq!(Value::deserialize(owned).unwrap(), "52 N/mm".into());
    let refused = Value::deserialize(BytesDeserializer::<DeError>::new(b"52")).unwrap_err();
    assert_eq!(refused.to_string(), "invalid type: byte array, expected a value of the bike file");
}

#[test]
fn a_part_without_text_is_refused_by_serde_and_put_into_words_for_a_reader() {
    let part = || Value::NoText("a cone".to_owned());
    let words = "a cone is of your own and has no text form: leave it out of the file, and put it in from code";
    for holds in [part(), [1.0.into(), part()].into_iter().collect(), [("spring", part())].into_iter().collect()] {
        assert_eq!(serde_json::to_string(&holds).unwrap_err().to_string(), words, "{holds:?}");
        let worded = json(&holds.worded());
        assert_eq!(worded, json(&holds.worded().worded()));
        assert!(worded.contains(words), "{worded}");
    }
    assert_eq!(one_of_each().worded(), one_of_each());
}

#[test]
fn every_value_is_shown_shortly_and_called_by_its_kind() {
    let long = "a".repeat(50);
    let keys: Value = ["a", "b", "c", "d", "e", "f", "g", "h", "i"].into_iter().map(|key| (key, 1.0.into())).collect();
    for (value, shown, kind) in [
        ("52 N/mm".into(), "52 N/mm", "text"),
        (Value::from(long), "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa…", "text"),
        (1.25.into(), "1.25", "a number"),
        (Value::Flag(false), "false", "true or false"),
        (Value::Date("2026-05-31".to_owned()), "2026-05-31", "a date"),
        (Value::Nothing, "null", "null"),
        (vec![1.0, 2.0].into(), "[2 of them]", "a list"),
        // Eight keys at most.
        (keys, "{ a, b, c, d, e, f, g, h }", "a table"),
        (Value::NoText("a cone".to_owned()), "a cone", "a part without text"),
    ] {
        let node = Node::from(value);
        assert_eq!((node.show().as_str(), node.kind()), (shown, kind));
    }
}

#[test]
fn what_is_put_somewhere_is_found_there_and_changed_there() {
    let mut root = Node::from(Value::Table(Vec::new()));
    let address: Address = "rear.shock.spring".parse().unwrap();
    root.put_at(address.steps(), Value::from(vec![50.0, 52.0]).into()).unwrap();
    let found = address.steps().iter().try_fold(&root, |node, step| node.at(step)).unwrap();
    assert_eq!(found.value(), &vec![50.0, 52.0].into());
    assert_eq!(
        (root.entries()[0].key(), root.entries()[0].value().clone()),
        ("rear", root.get("rear").unwrap().value.clone())
    );

    let row = Address::default().key("rear").key("shock").key("spring").row(1);
    row.steps().iter().try_fold(&mut root, |node, step| node.at_mut(step)).unwrap().value = 54.0.into();
    assert_eq!(json(&root.value), r#"{"rear":{"shock":{"spring":[50,54]}}}"#);
}

#[test]
fn a_step_that_leads_nowhere_finds_nothing_and_takes_nothing() {
    let mut root = Node::from(one_of_each());
    let (key, row) = (|key: &str| Step::Key(key.to_owned()), Step::Row);
    for (at, step) in
        [("list", row(2)), ("list", key("text")), ("table", row(0)), ("table", key("to")), ("flag", row(0))]
    {
        let node = root.at_mut(&key(at)).unwrap();
        assert_eq!(node.at(&step), None);
        assert_eq!(node.at_mut(&step), None);
    }
    let into_a_text = [key("text"), key("rate"), key("more")];
    assert_eq!(root.put_at(&into_a_text, Value::from(1.0).into()), Err(&into_a_text[1]));
    assert_eq!(root.value, one_of_each());
}
