//! Checked against the same change made on the built bike, and against the lines of the text that may differ.

use proptest::prelude::*;

use super::{append_readings, log_change, set_keys};
use crate::bike::{Bike, BikeParts};
use crate::demo::PATROL;
use crate::error::Error;
use crate::record::{End, Load, Reading, Settled};
use crate::units::{Quantity, parse};

/// Lines of the one text that the other has not, in order.
fn lines_lost<'t>(from: &'t str, to: &str) -> Vec<&'t str> {
    let kept: Vec<&str> = to.lines().collect();
    from.lines().filter(|line| !kept.contains(line)).collect()
}

/// Numbers of the lines that differ between texts of as many lines.
fn lines_changed(from: &str, to: &str) -> Vec<usize> {
    assert_eq!(from.lines().count(), to.lines().count());
    from.lines().zip(to.lines()).enumerate().filter(|(_, (from, to))| from != to).map(|(at, _)| at).collect()
}

fn reading(distance: &str, date: Option<&str>) -> Reading {
    let load = Load::parse("bike + rider").unwrap();
    let reading = Reading::new(End::Rear, load, parse(distance).unwrap(), Some(Settled::Low)).unwrap();
    Reading { date: date.map(str::to_owned), ..reading }
}

#[test]
fn one_value_changes_one_line_and_not_its_comment() {
    for (path, value, line) in [
        ("front.fork.rake", "27 deg", r#"rake   = "27 deg"                                     # from the vertical"#),
        ("rear.chain.rear_teeth", "51", "rear_teeth = 51"),
        (
            "masses.unsprung.rear",
            "18 kg",
            r#"unsprung = { front = "14.2 kg", rear = "18 kg" }      # wheel, brake, axle, lower fork; wheel and half the swingarm"#,
        ),
        ("on_sale.rear[1]", "53 N/mm", r#"rear  = ["50 N/mm", "53 N/mm", "54 N/mm", "56 N/mm", "58 N/mm", "60 N/mm"]"#),
    ] {
        let amended = set_keys(PATROL, &[(path, value)]).unwrap();
        assert_eq!(lines_lost(&amended, PATROL), [line]);
        assert_eq!(lines_changed(PATROL, &amended).len(), 1);
        assert_eq!(
            Bike::from_toml(&amended).unwrap(),
            Bike::from_toml(PATROL).unwrap().correct(&[(path, value)]).unwrap()
        );
    }
    let text = "a = [ # first\n  1, # one\n  2 # two\n]\n";
    assert_eq!(set_keys(text, &[("a[1]", "3")]).unwrap(), text.replace("2 #", "3 #"));
}

#[test]
fn a_new_key_goes_into_its_table_with_tables_made_on_the_way() {
    let bike = Bike::from_toml(PATROL).unwrap();
    for (path, value, lines) in [
        ("front.fork.leg[1].spring.free_length", "460 mm", 0),
        ("front.fork.rake_uncertainty", "0.3 deg", 1),
        ("targets.rear.rider_sag.direction", "vertical", 0),
        ("prices.spring", "4 %", 3),
        ("masses.pack", "{ front = \"1 kg\", rear = \"9 kg\" }", 1),
        ("rear.shock.top_out_spring.rate", "900 N/mm", 1),
    ] {
        let amended = set_keys(PATROL, &[(path, value)]).unwrap();
        assert_eq!(amended.lines().count(), PATROL.lines().count() + lines, "{path}");
        assert!(lines_lost(PATROL, &amended).len() <= 1, "{path}");
        assert_eq!(Bike::from_toml(&amended).ok(), bike.correct(&[(path, value)]).ok(), "{path}");
    }
    let dear = bike.correct(&[("prices.spring", "4 %")]).unwrap();
    assert!((dear.parts().prices.spring.si() - 0.04).abs() < 1e-15);
    let made = set_keys("", &[("format", "1"), ("rear.shock.spring.rate", "52 N/mm"), ("rear.shock.stroke", "118 mm")]);
    assert_eq!(made.unwrap(), "format = 1\n\n[rear.shock]\nspring = { rate = \"52 N/mm\" }\nstroke = \"118 mm\"\n");
}

#[test]
fn a_blank_is_filled_in_where_it_stands() {
    let form = "format = 1\n# One is = to one, as [rear.shock] says.\n# [front.fork]   # if there is one\n# rake = \"26 deg\"\n\
                [rear.shock]\n#spring.rate = \"5 N/mm\"   # on its label\n# [[reading]]\n# stroke = \"1 mm\"\n";
    let values =
        [("front.fork.rake", "63 deg"), ("rear.shock.spring.rate", "52 N/mm"), ("rear.shock.stroke", "118 mm")];
    assert_eq!(
        set_keys(form, &values).unwrap(),
        "format = 1\n# One is = to one, as [rear.shock] says.\n[front.fork]     # if there is one\nrake = \"63 deg\"\n\
         [rear.shock]\nspring.rate = \"52 N/mm\"   # on its label\nstroke = \"118 mm\"\n# [[reading]]\n# stroke = \"1 mm\"\n"
    );
    // What looks like a blank in a text of several lines is none, and a header that would take others' keys along stays.
    let quoted = "note = \"\"\"\n# rake = 1\n\"\"\"\n";
    assert_eq!(set_keys(quoted, &[("rake", "2")]).unwrap(), "note = \"\"\"\n# rake = 1\n\"\"\"\nrake = 2\n");
    let under = "[a]\n# [b]\n# c = 1\nd = 2\n";
    assert_eq!(set_keys(under, &[("b.c", "3")]).unwrap(), "[a]\n# [b]\n# c = 1\nd = 2\n\n[b]\nc = 3\n");
}

#[test]
fn readings_go_after_the_last_one() {
    let more = [reading("540 mm", None), reading("21.25 in", None)];
    let with = |bike: &Bike, more: &[Reading]| {
        let readings = bike.parts().readings.iter().chain(more).cloned().collect();
        Bike::new(BikeParts { readings, ..bike.parts().clone() }).unwrap()
    };
    let ends = [
        "",
        "\n# The end.\n",
        "\n[[change]]\ndate = \"what if\"\nwas = { \"rear.shock.spring.rate\" = \"50 N/mm\" }\n",
    ];
    for end in ends {
        let text = format!("{PATROL}{end}");
        let bike = Bike::from_toml(&text).unwrap();
        let amended = append_readings(&text, &more[..1]).unwrap();
        assert!(amended.starts_with(PATROL.trim_end()) && amended.trim_end().ends_with(end.trim_end()), "{end}");
        assert_eq!(Bike::from_toml(&amended).unwrap(), with(&bike, &more[..1]));
    }
    let unread = PATROL.split("[[reading]]").next().unwrap().trim_end();
    let amended = append_readings(unread, &[reading("540 mm", Some("2026-07-01"))]).unwrap();
    let row = "\n\n[[reading]]\nend = \"rear\"\nload = \"bike + rider\"\nsettled = \"low\"\ndistance = \"540 mm\"\ndate = \"2026-07-01\"\n";
    assert_eq!(amended, format!("{unread}{row}"));
    let inline = unread.replace("format = 1", "format = 1\nreading = []");
    let amended = append_readings(&inline, &more[1..]).unwrap();
    assert_eq!(Bike::from_toml(&amended).unwrap().parts().readings, &more[1..]);
}

#[test]
fn a_change_is_logged_and_made_at_once() {
    let values = [("rear.shock.spring.rate", "56 N/mm"), ("rear.shock.spring.preload", "10 mm")];
    let dated = PATROL.replace("[[reading]]", "[[reading]]\ndate = \"2026-05-31\"");
    let amended = log_change(&dated, "2026-06-14", &values, Some("stiffer")).unwrap();
    let bike = Bike::from_toml(&dated).unwrap();
    assert_eq!(
        Bike::from_toml(&amended).unwrap(),
        bike.with_logged_change("2026-06-14", &values, Some("stiffer")).unwrap()
    );
    assert_eq!(lines_lost(&dated, &amended).len(), 1);
    // A second one goes after the first.
    let again = log_change(&amended, "2026-07-01", &[("front.fork.rake", "27 deg")], None).unwrap();
    assert_eq!(Bike::from_toml(&again).unwrap().parts().changes.len(), 2);
    assert!(again.starts_with(&amended.split("rake ").next().unwrap().to_owned()));
}

#[test]
fn what_cannot_be_amended_is_said_with_its_place() {
    let faults = |amended: crate::Result<String>| match amended {
        Err(Error::File(error)) => {
            error.faults.into_iter().map(|fault| fault.to_string()).collect::<Vec<_>>().join("; ")
        }
        other => panic!("{other:?}"),
    };
    assert!(faults(set_keys("a = = 1", &[("a", "2")])).starts_with("line 1, column"));
    assert!(faults(set_keys("a = 1", &[("a.b", "2")])).contains("a.b: the path leads nowhere at `b`"));
    assert!(faults(set_keys("a = [1]", &[("a[1]", "2")])).contains("nowhere at `[1]`"));
    assert!(faults(set_keys("a = 1", &[("", "2")])).contains("nowhere"));
    assert!(faults(append_readings("format = 1\nreading = 3\n", &[])).contains("reading"));
    assert!(
        faults(append_readings(PATROL, &[Reading { date: Some("Monday".into()), ..reading("540 mm", None) }]))
            .contains("date")
    );
}

proptest! {
    // Values at keys of every form of layout: headers, braces, rows of tables, lists, dotted keys.
    #[test]
    fn amended_text_is_the_bike_changed(
        picks in prop::collection::vec((0..9_usize, 0.8..1.2_f64), 1..4),
    ) {
        let of = |pick: usize, scale: f64| match pick {
            0 => ("rear.shock.spring.rate", format!("{:.2} N/mm", 52.0 * scale)),
            1 => ("front.fork.leg[0].spring.rate", format!("{:.2} N/mm", 4.4 * scale)),
            2 => ("masses.rider.rear", format!("{:.1} kg", 66.0 * scale)),
            3 => ("rear.linkage.points.link_frame", format!("[\"{:.2} mm\", \"-98 mm\"]", -66.0 * scale)),
            4 => ("targets.rear.rider_sag.value", format!("{:.1} mm", 102.0 * scale)),
            5 => ("reading[2].distance", format!("{:.1} mm", 711.0 * scale)),
            6 => ("on_sale.front[0]", format!("{:.2} N/mm", 3.8 * scale)),
            7 => ("bike.name", format!("patrol \"{scale:.3}\" # [a] = 1")),
            _ => ("wheels.rear.tyre", format!("{:.1} N/mm", 180.0 * scale)),
        };
        let mut values: Vec<(&str, String)> = picks.into_iter().map(|(pick, scale)| of(pick, scale)).collect();
        values.sort();
        values.dedup_by(|one, other| one.0 == other.0);
        let values: Vec<(&str, &str)> = values.iter().map(|(path, value)| (*path, value.as_str())).collect();
        let amended = set_keys(PATROL, &values).unwrap();
        let typed = Bike::from_toml(PATROL).unwrap().correct(&values);
        prop_assert_eq!(Bike::from_toml(&amended).ok(), typed.ok());
        prop_assert_eq!(lines_changed(PATROL, &amended).len(), values.len());
        prop_assert_eq!(set_keys(&amended, &values).unwrap(), amended);
    }
}
