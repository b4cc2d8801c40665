use super::bike::BikeKeys;
use super::item::Item;
use super::shape::{Shape, Table};
use super::table::Keys;
use super::*;
use crate::demo::PATROL;
use crate::edit::{value_at, with_edits};
use crate::spring::{Preloaded, Spring};
use crate::{Bike, error::Address};

/// Every table of the format, each once.
fn tables() -> Vec<&'static Table> {
    fn of(shape: &Shape, found: &mut Vec<&'static Table>) {
        match shape {
            Shape::Table(table) => add(table(), found),
            Shape::List(inner) | Shape::Point(inner) => of(inner, found),
            Shape::OneOf(forms) => forms.iter().for_each(|form| of(form, found)),
            _ => {}
        }
    }
    fn add(table: &'static Table, found: &mut Vec<&'static Table>) {
        if found.iter().any(|other| core::ptr::eq(*other, table)) {
            return;
        }
        found.push(table);
        table.keys().for_each(|key| of(&key.shape, found));
        table.named.iter().for_each(|named| of(named, found));
    }
    let mut found = Vec::new();
    add(BikeKeys::table(), &mut found);
    found
}

#[test]
fn every_key_is_described_once_and_every_set_is_of_its_keys() {
    let all = tables();
    assert!(all.len() > 30, "{}", all.len());
    for table in all {
        let mut names: Vec<&str> = table.key_names().collect();
        names.sort_unstable();
        assert!(names.windows(2).all(|pair| pair[0] != pair[1]), "{names:?}");
        for key in table.keys() {
            assert!(key.doc.len() > 4 && key.doc.ends_with('.'), "{}: {}", key.name, key.doc);
        }
        for name in table.sets().iter().copied().flatten() {
            assert!(table.keys().any(|key| key.name == *name && !key.required), "{name} in {:?}", table.sets());
        }
    }
}

/// Addresses of all that stands in a tree, tables and lists included.
fn addresses(node: &Node, at: Address, found: &mut Vec<Address>) {
    if !at.is_empty() {
        found.push(at.clone());
    }
    for entry in node.entries() {
        addresses(&entry.node, at.clone().key(&entry.key), found);
    }
    for (row, item) in node.items().iter().enumerate() {
        addresses(item, at.clone().row(row), found);
    }
}

#[test]
fn whatever_is_written_can_be_asked_and_put_back_where_it_was() {
    let bike = Bike::from_toml(PATROL).unwrap();
    let tree = Node::from(bike.write());
    let mut all = Vec::new();
    addresses(&tree, Address::default(), &mut all);
    assert!(all.len() > 250, "{}", all.len());
    for address in all {
        let stands = address.steps().iter().try_fold(&tree, |node, step| node.at(step)).unwrap();
        let found = value_at(&bike, &address).unwrap_or_else(|| panic!("{address}"));
        assert_eq!(found, stands.value, "{address}");
        // A row of quantities is one value.
        let edit = crate::edit::Edit { address: address.clone(), value: Some(found) };
        assert_eq!(with_edits(&bike, &[edit]).unwrap_or_else(|error| panic!("{address}: {error}")), bike, "{address}");
    }
}

#[test]
fn a_part_within_another_shares_its_table() {
    let read = |text: &str| serde_json::from_str::<Preloaded>(text);
    let place = read(r#"{"rate": "5 N/mm", "preload": "-3 mm", "thread_pitch": "1 mm"}"#).unwrap();
    assert_eq!(read(&serde_json::to_string(&place).unwrap()).unwrap(), place);
    let fault = |text: &str| read(text).unwrap_err().to_string();
    let unknown = read(r#"{"rate": "5 N/mm"}"#).unwrap();
    assert!(unknown.assumed_preload().is_some());
    assert_eq!(serde_json::to_value(&unknown).unwrap(), serde_json::json!({ "rate": "5 N/mm" }));
    assert!(fault(r#"{"preload": "5 mm"}"#).contains("found none of them, wanted rate, rate + free_length"));
    let other_place = fault(r#"{"rate": "5 N/mm", "preload": "5 mm", "acts_over": "9 mm"}"#);
    assert!(other_place.starts_with("acts_over: unknown key `acts_over`"), "{other_place}");
    assert!(fault(r#"{"rate": "5 N/m", "preload": "5 mm"}"#).contains("was `5 N/mm` meant?"));
    assert!(fault(r#"{"rate": "5 N/mm", "preload": "5 mm", "free_length": "300 mm"}"#).contains("free_length + rate"));
    let stray = serde_json::from_str::<Spring>(r#"{"rate": "5 N/mm", "preload": "5 mm"}"#).unwrap_err().to_string();
    assert!(stray.contains("preload"), "{stray}");
    let short = serde_json::from_str::<crate::spring::Stop>(r#"{"rate": "5 N/mm"}"#).unwrap_err().to_string();
    assert!(short.contains("acts_over"), "{short}");
}

#[test]
fn every_part_of_a_spring_round_trips_by_itself() {
    use crate::spring::{Adjuster, Coil, Nest, Nested, Stack, Stage, Stop, Table};
    fn round_trip<T: serde::Serialize + serde::de::DeserializeOwned + PartialEq + core::fmt::Debug>(text: &str) {
        let read: T = serde_json::from_str(text).unwrap();
        assert_eq!(serde_json::from_str::<T>(&serde_json::to_string(&read).unwrap()).unwrap(), read);
    }
    round_trip::<Coil>(r#"{"rate": "5 N/mm", "free_length": "300 mm", "solid_length": "120 mm"}"#);
    round_trip::<Stage>(r#"{"rate": "5 N/mm", "limit": "30 mm"}"#);
    round_trip::<Stack>(r#"{"stack": [{"rate": "5 N/mm", "limit": "30 mm"}, {"rate": "8 N/mm"}]}"#);
    round_trip::<Nested>(r#"{"rate": "5 N/mm", "gap": "3 mm"}"#);
    round_trip::<Nest>(r#"{"nest": [{"rate": "5 N/mm"}, {"rate": "2 N/mm", "gap": "3 mm"}]}"#);
    round_trip::<Table>(r#"{"table": [["10 mm", "50 N"], ["20 mm", "110 N"]]}"#);
    round_trip::<Adjuster>(r#"{"thread_pitch": "1.5 mm", "min_preload": "2 mm"}"#);
    round_trip::<Stop>(r#"{"rate": "50 N/mm", "acts_over": "12 mm"}"#);
    let fault = serde_json::from_str::<Coil>(r#"{"table": [["10 mm", "50 N"], ["20 mm", "110 N"]]}"#).unwrap_err();
    assert!(fault.to_string().contains("`rate`"), "{fault}");
}

#[test]
fn exponents_say_as_much_as_was_stated() {
    use crate::gas::{Exponents, ForkAir};
    let air = |exponent: &str| {
        let text = format!(r#"{{"sealing_diameter": "47 mm", "bore": "43 mm", "oil_level": "105 mm"{exponent}}}"#);
        serde_json::from_str::<ForkAir>(&text)
    };
    let round = |exponent: &str| {
        let read = air(&format!(r#", "exponent": {exponent}"#)).unwrap();
        serde_json::to_value(read).unwrap().get("exponent").map(ToString::to_string)
    };
    for text in ["1.2", r#"{"slow":1,"fast":1.35}"#, r#"{"slow":1,"fast":1.35,"fast_uncertainty":0.1}"#] {
        assert_eq!(round(text).as_deref(), Some(text));
    }
    assert_eq!(round(r#"{"slow": 1.0}"#), None);
    assert_eq!(round(r#"{"fast": 1.4}"#).as_deref(), Some(r#"{"slow":1,"fast":1.4}"#));
    assert_eq!(air("").unwrap().exponents(), Exponents::FORK_AIR);
    let fault = |exponent: &str| air(&format!(r#", "exponent": {exponent}"#)).unwrap_err().to_string();
    assert!(fault(r#"{"fest": 1.4}"#).starts_with("exponent.fest: unknown key `fest`; did you mean `fast`?"));
    assert!(fault(r#"{"slow": 1.2, "fast": 1.1}"#).starts_with("exponent.fast: found 1.1, wanted a number from 1.2"));
    assert!(fault("14").starts_with("exponent: found 14, wanted a number from 1 to 1.7"));
    let neither = fault(r#""1.2""#);
    assert!(neither.contains("wanted a plain number or a table with slow, fast, fast_uncertainty"), "{neither}");
}

#[test]
fn a_tyre_is_stated_or_read_and_never_both() {
    const FRONT: &str = r#"tyre = "160 N/mm" }"#;
    let with = |keys: &str| Bike::from_toml(&PATROL.replacen(FRONT, &format!("{keys} }}"), 1));
    let refused = |keys: &str| with(keys).unwrap_err().to_string();
    let readings = r#"tyre_readings = [["400 N", "341.2 mm"], ["900 N", "337.3 mm"], ["1400 N", "332.8 mm"]]"#;
    let read = with(&format!("{readings}, tyre_load_uncertainty = \"7 N\"")).unwrap();
    let tyre = |bike: &Bike| bike.wheels().unwrap().ends.front.tyre.clone().unwrap();
    let rows = tyre(&read).readings().unwrap().rows.clone();
    let direct = crate::wheel::TyreRate::from_heights(
        &rows,
        crate::units::parse("7 N").unwrap(),
        crate::units::parse("0.5 mm").unwrap(),
    );
    assert_eq!(tyre(&read).known().unwrap(), direct.unwrap().rate);
    assert_eq!(Bike::from_toml(&read.to_toml()).unwrap(), read);
    assert_eq!(Bike::from_json(&read.to_json()).unwrap(), read);
    // A rate that is tried stands in place of the readings.
    let tried = read.what_if(&[("wheels.front.tyre", "150 N/mm")]).unwrap();
    assert!(tyre(&tried).readings().is_none() && tyre(&tried).uncertainty().is_none(), "{:?}", tyre(&tried));
    let stated = with(r#"tyre = "160 N/mm", tyre_uncertainty = "8 N/mm""#).unwrap();
    assert_eq!(tyre(&stated).known().unwrap().to_text(), "160 N/mm ± 8 N/mm");
    assert_eq!(Bike::from_toml(&stated.to_toml()).unwrap(), stated);
    for (keys, said) in [
        (format!("tyre = \"160 N/mm\", {readings}"), "`tyre` beside them, wanted one of both"),
        (format!("tyre_uncertainty = \"8 N/mm\", {readings}"), "wheels.front.tyre_uncertainty"),
        (r#"tyre_uncertainty = "8 N/mm""#.to_owned(), "no `tyre` beside it"),
        (r#"tyre = "160 N/mm", tyre_uncertainty = "200 N/mm""#.to_owned(), "wheels.front.tyre_uncertainty"),
        (r#"tyre = "160 N/mm", tyre_height_uncertainty = "1 mm""#.to_owned(), "no `tyre_readings` beside it"),
        (r#"tyre_readings = [["400 N", "341.2 mm"]]"#.to_owned(), "fewer than two loads"),
        (r#"tyre_readings = [["400 N", "341 mm"], ["900 N", "342 mm"]]"#.to_owned(), "wheels.front.tyre_readings"),
        (
            r#"tyre_readings = [["400 N", "341 mm"], ["900 N", "3373 mm"]]"#.to_owned(),
            "wheels.front.tyre_readings[1][1]: found 3373 mm",
        ),
    ] {
        let words = refused(&keys);
        assert!(words.contains(said), "{keys}: {words}");
    }
}
