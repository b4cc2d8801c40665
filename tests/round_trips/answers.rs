//! The answers of `tests/files/answers.json`, to eight digits: Python and the command line are held to the same file by
//! `tests/python/test_answers.py`.

use serde_json::Value;
use wheelrate::Bike;
use wheelrate::demo::{LEAST, PATROL};
use wheelrate::record::End;
use wheelrate::units::{Length, Quantity, Uncertain, parse};

/// A number to the digits of the file.
fn eight(found: f64) -> f64 {
    format!("{found:.7e}").parse().unwrap()
}

fn is<Q: Quantity>(found: Q, unit: &str, wanted: &Value, what: &str) {
    assert_eq!(eight(found.in_unit(unit).unwrap()), wanted.as_f64().unwrap(), "{what}");
}

fn uncertain<Q: Quantity>(found: Uncertain<Q>, unit: &str, wanted: &Value, what: &str) {
    is(found.value, unit, &wanted[0], what);
    is(found.standard_uncertainty, unit, &wanted[1], &format!("uncertainty of the {what}"));
}

#[test]
fn rust_gives_the_digits_that_python_and_the_command_line_give() {
    let cases: Value = serde_json::from_str(include_str!("../files/answers.json")).unwrap();
    let cases = cases.as_array().unwrap();
    assert_eq!(cases.len(), 8);
    for case in cases {
        let text = match case["bike"].as_str().unwrap() {
            "patrol" => PATROL,
            "least" => LEAST,
            "imperial" => include_str!("../files/least_imperial.toml"),
            _ => include_str!("../files/much.toml"),
        };
        let bike = Bike::from_toml(text).unwrap();
        let end: End = if case["end"] == "front" { End::Front } else { End::Rear };
        let of = |what: &str| format!("{} of the {end} of {}", what, case["bike"]);
        for row in case["curve"].as_array().unwrap() {
            let travel: Length = parse(row["travel"].as_str().unwrap()).unwrap();
            let state = bike.end(end).unwrap().at(travel).unwrap();
            is(state.stroke, "mm", &row["stroke"], &of("stroke"));
            assert_eq!(eight(state.motion_ratio.si()), row["motion ratio"].as_f64().unwrap(), "{}", of("motion ratio"));
            is(state.wheel_force, "N", &row["wheel force"], &of("wheel force"));
            is(state.wheel_rate, "N/mm", &row["wheel rate"], &of("wheel rate"));
            is(state.energy, "J", &row["energy"], &of("energy"));
        }
        let (fit, wanted) = (bike.fit_end(end).unwrap(), &case["fit"]);
        uncertain(fit.rate, "N/mm", &wanted["rate"], &of("rate"));
        uncertain(fit.preload, "mm", &wanted["preload"], &of("preload"));
        uncertain(fit.friction, "N", &wanted["friction"], &of("friction"));
    }
}
