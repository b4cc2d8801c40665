use crate::Bike;
use crate::bike::BikeParts;
use crate::demo::PATROL;
use crate::error::{BikeError, Error};
use crate::record::{Change, End, Reading};

fn dated(date: &str) -> Bike {
    let bike = Bike::from_toml(PATROL).unwrap();
    let readings = bike.parts().readings.iter().cloned();
    let readings = readings.map(|reading| Reading { date: Some(date.to_owned()), ..reading }).collect();
    Bike::new(BikeParts { readings, ..bike.parts().clone() }).unwrap()
}

const STIFFER: [(&str, &str); 2] = [("rear.shock.spring.rate", "56 N/mm"), ("rear.shock.spring.preload", "10 mm")];

#[test]
fn a_logged_change_is_undone_to_the_bit() {
    let before = dated("2026-05-31");
    let after = before.with_logged_change("2026-06-14", &STIFFER, Some("stiffer")).unwrap();
    let again = after
        .with_logged_change(
            "2026-07-01 18:00",
            &[
                ("front.fork.leg.0.spring.rate", "4.6 N/mm"),
                ("rear.shock.top_out.rate", "100 N/mm"),
                ("rear.shock.spring.rate", "58 N/mm"),
                ("rear.linkage.points.link_frame", "[\"-66 mm\", \"-93 mm\"]"),
                ("rear.shock.top_out.acts_over", "8 mm"),
            ],
            None,
        )
        .unwrap();
    let Change { was, added, .. } = &again.parts().changes[1];
    assert_eq!(was[0], ("front.fork.leg[0].spring.rate".to_owned(), "4.4 N/mm".to_owned()));
    assert_eq!(was[1], ("rear.shock.spring.rate".to_owned(), "56 N/mm".to_owned()));
    assert_eq!(*added, ["rear.shock.top_out"], "the whole part is new, and noted once");
    assert_eq!(Bike::from_toml(&again.to_toml()).unwrap(), again);
    assert_eq!(Bike::from_json(&again.to_json()).unwrap(), again);
    assert_eq!(again.at("2026-07-01 17:59").unwrap(), after);
    assert_eq!(again.at("2026-06-13").unwrap(), before);
    assert_eq!(again.at("2026-07-01").unwrap(), again, "a day is its end");
    assert!(again.at("2026-05-30").unwrap().parts().readings.is_empty());
    assert!(matches!(again.at("2026-06-14 12:00"), Err(Error::Bike(BikeError::Order { .. }))));
}

#[test]
fn a_part_taken_out_comes_back() {
    let text = dated("2026-05-31").to_toml();
    let part = "[rear.shock.bump_stop]\nrate = \"120 N/mm\"\nacts_over = \"14 mm\"\n\n";
    assert!(text.contains(part), "{text}");
    let log = "\n[[change]]\ndate = 2026-06-14\nwas = { \"rear.shock.bump_stop\" = { rate = \"120 N/mm\", acts_over = \"14 mm\" } }\n";
    let bike = Bike::from_toml(&(text.replace(part, "") + log)).unwrap();
    assert!(bike.rear().unwrap().shock().parts().bump_stop.is_none());
    assert_eq!(bike.at("2026-06-01").unwrap(), dated("2026-05-31"));
}

#[test]
fn values_keep_their_kind() {
    let bike = dated("2026-05-31").correct(&[("bike.name", "\"300\"")]).unwrap();
    let renamed = bike.with_logged_change("2026-06-14", &[("bike.name", "Ridge")], None).unwrap();
    assert_eq!(renamed.parts().changes[0].was[0].1, "\"300\"");
    assert_eq!(renamed.at("2026-06-01").unwrap(), bike);
    // Quotes that are not needed are left out on the way in.
    let by_hand = Change {
        date: "2026-06-14".to_owned(),
        note: None,
        was: vec![("rear.shock.spring.rate".to_owned(), "\"50 N/mm\"".to_owned())],
        added: Vec::new(),
    };
    let bike = Bike::new(BikeParts { changes: vec![by_hand], ..bike.parts().clone() }).unwrap();
    assert_eq!(bike.parts().changes[0].was[0].1, "50 N/mm");
    assert_eq!(Bike::from_toml(&bike.to_toml()).unwrap(), bike);
}

#[test]
fn what_a_log_cannot_hold_is_refused() {
    let bike = dated("2026-05-31");
    let says = |bike: Result<Bike, Error>, parts: &[&str]| {
        let message = bike.unwrap_err().to_string();
        for part in parts {
            assert!(message.contains(part), "`{part}` in {message}");
        }
    };
    says(bike.with_logged_change("2026-05-31", &STIFFER, None), &["2026-05-31", "a reading", "with a time"]);
    says(bike.with_logged_change("yesterday", &STIFFER, None), &["`yesterday`", "2026-05-31 19:30"]);
    says(bike.with_logged_change("2026-06-14", &[("reading[0].distance", "1 m")], None), &["reading[0].distance"]);
    says(bike.with_logged_change("2026-06-14", &[("rear..shock", "1 m")], None), &["leads nowhere"]);
    says(Bike::from_toml(PATROL).unwrap().with_logged_change("2026-06-14", &STIFFER, None), &["date", "was changed"]);
    let logged = bike.with_logged_change("2026-06-14", &STIFFER, None).unwrap();
    says(logged.with_logged_change("2026-06-14", &STIFFER, None), &["the change of `2026-06-14`"]);
    says(logged.with_logged_change("2026-06-01", &STIFFER[..1], None), &["wanted a date after `2026-06-14`"]);
    says(logged.with_logged_change("yesterday", &STIFFER, None), &["wanted a day"]);
    let further =
        logged.with_logged_change("2026-06-14", &[("front.fork.leg[0].spring.preload", "7 mm")], None).unwrap();
    assert_eq!(further.parts().changes.len(), logged.parts().changes.len() + 1);
}

/// A part and a key of it, both with what stood there before, either way round: undone in turn, one would be lost.
#[test]
fn a_change_names_nothing_twice() {
    const SPRING: &str = "{ rate = \"50 N/mm\", preload = \"12 mm\" }";
    let bike = dated("2026-05-31");
    let log = |was: &[(&str, &str)], added: &[&str]| {
        let was = was.iter().map(|(path, value)| ((*path).to_owned(), (*value).to_owned())).collect();
        let added = added.iter().map(|path| (*path).to_owned()).collect();
        let change = Change { date: "2026-06-14".to_owned(), note: None, was, added };
        let bike = Bike::new(BikeParts { changes: vec![change], ..bike.parts().clone() })?;
        bike.log().map(|_| bike)
    };
    let (whole, inner) = (("rear.shock.spring", SPRING), ("rear.shock.spring.preload", "10 mm"));
    for (was, added, field) in [
        (vec![whole, inner], vec![], "was"),
        (vec![inner, whole], vec![], "was"),
        (vec![whole], vec!["rear.shock.spring.preload"], "added"),
        (vec![inner], vec!["rear.shock.spring"], "added"),
        (vec![("rear.shock.\"spring\"", SPRING), inner], vec![], "was"),
    ] {
        match log(&was, &added).unwrap_err() {
            Error::Bike(error @ BikeError::Nested { field: at, .. }) if at == field => {
                assert!(error.to_string().contains("`rear.shock.spring.preload`, which is in it"), "{error}");
            }
            other => panic!("{was:?} {added:?}: {other}"),
        }
    }
    let repeated = |bike: Result<Bike, Error>| matches!(bike, Err(Error::Bike(BikeError::Repeated { .. })));
    assert!(repeated(log(&[inner, inner], &[])));
    assert!(repeated(log(&[inner], &[inner.0])));
    assert!(repeated(log(&[], &["front.fork.leg[0].air", "front.fork.leg.0.air"])), "two spellings of one key");
    let beside = log(&[("rear.shock.spring.rate", "50 N/mm"), inner], &[]).unwrap();
    assert_eq!(beside.log().unwrap().changes(End::Rear), beside.parts().changes);

    let logged = |values: &[(&str, &str)]| bike.with_logged_change("2026-06-14", values, None);
    for values in [[whole, inner], [inner, whole]] {
        assert!(matches!(logged(&values), Err(Error::Bike(BikeError::Nested { field: "key path", .. }))), "{values:?}");
    }
    assert!(repeated(logged(&[inner, inner])));
    assert!(repeated(logged(&[
        ("front.fork.leg.0.spring.preload", "7 mm"),
        ("front.fork.leg[0].spring.preload", "8 mm")
    ])));
}
