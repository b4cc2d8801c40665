use super::*;
use crate::demo::PATROL;

/// What would be read of a spring of 50 N/mm by a press that is good to a newton, at one compression by so much too high.
fn measured(off: f64) -> String {
    let load = |k: usize| 1250.0 * k as f64 + if k == 4 { off } else { 0.0 };
    let rows: Vec<String> = (1..=12).map(|k| format!("[\"{} mm\", \"{} N\"]", 25 * k, load(k))).collect();
    let readings = rows.join(", ");
    format!("{{ readings = [{readings}], force_uncertainty = \"1 N\", compression_uncertainty = \"0.1 mm\" }}")
}

/// Where an end of a bike has suspect readings, and which they are.
fn places(text: &str, end: End) -> Vec<(String, usize)> {
    let found = Bike::from_toml(text).unwrap().misread_parts(end);
    found.iter().map(|(place, reading)| (place.to_string(), reading.index())).collect()
}

fn put(text: &str, from: &str, to: &str) -> String {
    assert!(text.contains(from), "{from}");
    text.replacen(from, to, 1)
}

#[test]
fn every_spring_and_stop_of_a_shock_is_looked_through() {
    let of = |spring: f64, stop: f64, top: f64| {
        let springs = format!("spring = {{ measured = {}, preload = \"1 mm\" }}", measured(spring));
        let line = PATROL.lines().find(|line| line.starts_with("spring = { rate = \"52 N/mm\"")).unwrap();
        let text = put(PATROL, line, &springs);
        let stops = format!(
            "bump_stop = {{ measured = {}, acts_over = \"14 mm\" }}\ntop_out = {{ measured = {}, acts_over = \"9 mm\" }}",
            measured(stop),
            measured(top)
        );
        let line = PATROL.lines().find(|line| line.starts_with("bump_stop")).unwrap();
        places(&put(&text, line, &stops), End::Rear)
    };
    assert!(of(0.0, 0.0, 0.0).is_empty());
    let place = |part: &str| (format!("rear.shock.{part}.measured.readings"), 3);
    assert_eq!(of(150.0, 0.0, 0.0), [place("spring")]);
    assert_eq!(of(0.0, -150.0, 0.0), [place("bump_stop")]);
    assert_eq!(of(0.0, 0.0, 150.0), [place("top_out")]);
    assert_eq!(of(150.0, 150.0, 150.0), [place("spring"), place("bump_stop"), place("top_out")]);
}

#[test]
fn legs_alike_are_looked_through_once_and_others_each() {
    let line = PATROL.lines().find(|line| line.starts_with("spring = { rate = \"4.4 N/mm\"")).unwrap();
    let spring = |off: f64| format!("spring = {{ measured = {}, preload = \"1 mm\" }}", measured(off));
    let right = put(&PATROL.replacen(line, "LEFT", 1), line, &spring(150.0));
    let one = right.replacen("LEFT", line, 1);
    let place = |row: usize| (format!("front.fork.leg[{row}].spring.measured.readings"), 3);
    assert!(places(&one, End::Rear).is_empty());
    assert_eq!(places(&one, End::Front), [place(1)]);
    let both = right.replacen("LEFT", &spring(150.0), 1);
    assert_eq!(places(&both, End::Front), [place(0), place(1)]);
    // Described at once, they have one place in the file.
    let legs =
        PATROL.find("[[front.fork.leg]]").unwrap()..PATROL.find("# ").unwrap().max(PATROL.find("[rear").unwrap());
    let mut once = PATROL.to_owned();
    once.replace_range(legs, "");
    let fork = PATROL.lines().find(|line| line.starts_with("[front.fork]")).unwrap();
    let once = put(&once, fork, &format!("[front.fork]\n{}", spring(150.0)));
    assert_eq!(places(&once, End::Front), [("front.fork.spring.measured.readings".to_owned(), 3)]);
}

#[test]
fn a_front_end_on_links_has_a_shock_of_its_own() {
    use crate::units::{Force, Length, Quantity};
    let bike = Bike::from_toml(PATROL).unwrap();
    let rows: Vec<(Length, Force)> = (1..=12)
        .map(|k| f64::from(k) * 0.01)
        .map(|x| (Length::from_si(x), Force::from_si(50e3 * x + if x == 0.04 { 300.0 } else { 0.0 })))
        .collect();
    let spring = crate::spring::MeasuredSpring::new(rows, crate::spring::MeasuredSpringParts::usual()).unwrap();
    let rear = bike.rear().unwrap();
    let place = crate::spring::Preloaded::new(spring, Length::from_si(1e-3)).unwrap();
    let shock = rear.shock();
    let parts = crate::shock::ShockParts { spring: Some(place), ..shock.parts().clone() };
    let shock = Shock::new(shock.length().unwrap(), shock.full_stroke(), parts, 1).unwrap();
    let rake = bike.front().unwrap().rake();
    let front = crate::wheel::FrontEnd::linked(rear.linkage().unwrap().clone(), shock, rake).unwrap();
    let mut parts = bike.parts().clone();
    (parts.front, parts.readings) = (Some(front), Vec::new());
    (parts.measuring, parts.targets) = Default::default();
    let found = Bike::new(parts).unwrap().misread_parts(End::Front);
    let [(place, reading)] = &found[..] else { panic!("{found:?}") };
    assert_eq!((place.to_string().as_str(), reading.index()), ("front.shock.spring.measured.readings", 3));
}
