use super::*;
use crate::demo::PATROL;
use crate::file::LARGEST;
use crate::record::Reading;

/// The demo with a stroke that has no unit, and in JSON.
fn rear_at_fault() -> [String; 2] {
    let bad = |text: &str, good: &str, bad: &str| {
        assert!(text.contains(good));
        text.replacen(good, bad, 1)
    };
    let json = Bike::from_toml(PATROL).unwrap().to_json();
    [
        bad(PATROL, "stroke = \"118 mm\"", "stroke = \"118\""),
        bad(&json, "\"stroke\": \"118 mm\"", "\"stroke\": \"118\""),
    ]
}

#[test]
fn a_file_in_json_is_read_as_far_as_one_in_toml() {
    let [toml, json] = rear_at_fault();
    let (toml, json) = (partly(&toml).unwrap(), partly_json(&json).unwrap());
    assert_eq!(toml.bike, json.bike);
    let (toml, json) = (toml.unread.unwrap(), json.unread.unwrap());
    assert_eq!((toml.end, &toml.faults[0].key_path), (json.end, &json.faults[0].key_path));
    let json = Bike::from_toml(PATROL).unwrap().to_json();
    assert_eq!(partly_json(&json).unwrap(), partly(PATROL).unwrap());
}

#[test]
fn what_is_no_file_at_all_stays_the_error_that_it_was() {
    let broken = "{ \"format\": 1, ";
    assert_eq!(partly_json(broken).unwrap_err(), Bike::from_json(broken).unwrap_err());
    let endless = " ".repeat(LARGEST + 100_000);
    assert_eq!(partly(&endless).unwrap_err(), Bike::from_toml(&endless).unwrap_err());
    assert_eq!(partly_json(&endless).unwrap_err(), Bike::from_json(&endless).unwrap_err());
    let without_ends = "format = 1\nrear = 3\n";
    assert_eq!(partly(without_ends).unwrap_err(), Bike::from_toml(without_ends).unwrap_err());
}

#[test]
fn the_sheet_says_of_the_end_left_out_what_is_wrong_with_it_and_of_the_other_what_it_always_says() {
    let read = partly(&rear_at_fault()[0]).unwrap();
    let unread = read.unread.as_ref().unwrap();
    let said = unread.to_string();
    assert_eq!(said, format!("rear: cannot be read. {}.", unread.faults[0]));
    let sheet = read.sheet(UnitSystem::Metric).unwrap();
    assert!(sheet.without.contains(&said), "{:?}", sheet.without);
    assert_eq!(sheet.without.iter().filter(|line| line.starts_with("rear: ")).count(), 1, "{:?}", sheet.without);
    let whole = partly(PATROL).unwrap().sheet(UnitSystem::Metric).unwrap();
    assert_eq!(whole, Bike::from_toml(PATROL).unwrap().sheet(UnitSystem::Metric).unwrap());
}

#[test]
fn two_faults_of_one_end_are_both_said() {
    let text = rear_at_fault()[0].replacen("length = \"468.7 mm\"", "length = \"468.7\"", 1);
    let unread = partly(&text).unwrap().unread.unwrap();
    let [one, other] = &unread.faults[..] else { panic!("{unread}") };
    assert_eq!(unread.to_string(), format!("rear: cannot be read. {one}; {other}."));
}

#[test]
fn a_log_is_kept_but_for_what_it_says_of_the_end_left_out() {
    let bike = Bike::from_toml(PATROL).unwrap();
    let read = |reading: &Reading| Reading { date: Some("2026-05-31".to_owned()), ..reading.clone() };
    let dated = bike.with(|parts| parts.readings = parts.readings.iter().map(read).collect()).unwrap();
    let log = "
[[change]]
date = 2026-06-14
was = { \"rear.shock.spring.rate\" = \"50 N/mm\", \"front.fork.leg[0].spring.preload\" = \"7 mm\" }
added = [\"rear.shock.bump_stop\", \"front.fork.bushes\"]

[[change]]
date = 2026-06-20
added = [\"rear.shock.reservoir\"]
";
    let text = dated.to_toml() + log;
    assert_eq!(Bike::from_toml(&text).unwrap().parts().changes.len(), 2);
    let left = partly(&text.replacen("stroke = \"118 mm\"", "stroke = \"118\"", 1)).unwrap();
    assert_eq!(left.unread.unwrap().end, End::Rear);
    let [change] = &left.bike.parts().changes[..] else { panic!("{:?}", left.bike.parts().changes) };
    assert_eq!(change.date, "2026-06-14");
    assert_eq!(change.was, [("front.fork.leg[0].spring.preload".to_owned(), "7 mm".to_owned())]);
    assert_eq!(change.added, ["front.fork.bushes"]);
}

#[test]
fn a_reading_that_cannot_be_read_takes_its_end_along_and_the_others_keep_their_numbers() {
    let rider = "load = \"bike + rider\"\nsettled = \"low\"\ndistance = \"679 mm\"";
    assert!(PATROL.contains(rider));
    let read = partly(&PATROL.replacen(rider, "load = \"bike + rider\"\ndistance = \"679\"", 1)).unwrap();
    let unread = read.unread.unwrap();
    assert_eq!((unread.end, unread.faults[0].key_path.to_string().as_str()), (End::Front, "reading 4.distance"));
    let whole = Bike::from_toml(PATROL).unwrap();
    assert_eq!(read.bike.rear().unwrap(), whole.rear().unwrap());
    let places = |bike: &Bike| -> Vec<usize> {
        let rows = bike.parts().readings.iter().enumerate();
        rows.filter(|(_, reading)| reading.end == End::Rear).map(|(place, _)| place).collect()
    };
    assert_eq!(places(&read.bike), places(&whole));
    // Scenarios of the other end stay, without what they want of this one.
    assert_eq!(read.bike.parts().scenarios, whole.parts().scenarios);
}
