//! Every kind of fault that a bike file can have: place, key path, and what the message says.

use wheelrate::Bike;
use wheelrate::error::Fault;
use wheelrate::file::{check, check_json};
use wheelrate::units::Quantity;
use wheelrate::wheel::Wheel;

/// A sound bike, small enough to look through.
const SOUND: &str = r#"format = 1
[bike]
name = "Test"
[masses]
bike = { front = "61 kg", rear = "64 kg" }
rider = { front = "30 kg", rear = "66 kg" }
unsprung = { front = "14.2 kg", rear = "17.5 kg" }
[front.fork]
travel = "290 mm"
rake = "26.5 deg"
[[front.fork.leg]]
spring = { rate = "4.8 N/mm", preload = "6 mm" }
air = { sealing_diameter = "47 mm", bore = "43 mm", oil_level = "105 mm" }
[[front.fork.leg]]
[rear.linkage]
wheel = "axle"
shock = ["top", "eye"]
[rear.linkage.points]
unit = "mm"
pivot = [0, 0]
axle = [-575, -165]
top = [-100, 329]
eye = [-250, -40]
[rear.linkage.bodies]
frame = ["pivot", "top"]
swingarm = ["pivot", "axle", "eye"]
[rear.shock]
length = "398 mm"
stroke = "90 mm"
spring = { rate = "90 N/mm", preload = "14 mm" }
reservoir = { pressure = "10 bar", volume = "180 cm3", rod_diameter = "16 mm" }
[measuring.front]
direction = "along fork"
[targets.rear]
rider_sag = { value = "102 mm", tolerance = "4 mm" }
[on_sale]
rear = ["50 N/mm", "52 N/mm"]
[[reading]]
end = "rear"
load = "bike + rider"
settled = "low"
distance = "551 mm"
"#;

/// The sound bike with one passage replaced; the passage must be there, once.
fn changed(from: &str, to: &str) -> String {
    assert_eq!(SOUND.matches(from).count(), 1, "`{from}` once");
    SOUND.replace(from, to)
}

/// Line and column at which a passage starts.
fn place(text: &str, passage: &str) -> (usize, usize) {
    let byte = text.find(passage).unwrap_or_else(|| panic!("`{passage}` is in the text"));
    let line_start = text[..byte].rfind('\n').map_or(0, |at| at + 1);
    (text[..byte].matches('\n').count() + 1, text[line_start..byte].chars().count() + 1)
}

/// The one fault of a text: at this passage, under this key path, saying all these things.
#[track_caller]
fn one_fault(text: &str, at: &str, key_path: &str, says: &[&str]) {
    let faults = check(text);
    let [fault] = faults.as_slice() else { panic!("one fault, found {faults:#?}") };
    told(fault, Some(place(text, at)), key_path, says);
}

#[track_caller]
fn told(fault: &Fault, place: Option<(usize, usize)>, key_path: &str, says: &[&str]) {
    assert_eq!(fault.key_path, key_path, "{fault}");
    assert_eq!(fault.line.zip(fault.column), place, "{fault}");
    for part in says {
        assert!(fault.message.contains(part), "`{part}` in: {fault}");
    }
    assert!(!fault.found.is_empty() && !fault.wanted.is_empty(), "{fault:?}");
}

#[test]
fn the_sound_bike_has_no_fault() {
    assert_eq!(check(SOUND), Vec::new());
}

#[test]
fn unknown_key_with_the_nearest_known() {
    let text = changed("travel = \"290 mm\"", "travle = \"290 mm\"\ntravel = \"290 mm\"");
    one_fault(&text, "travle", "front.fork.travle", &["unknown key `travle`", "did you mean `travel`?", "rake"]);
}

#[test]
fn missing_key_at_its_table() {
    let text = changed("rake = \"26.5 deg\"\n", "");
    one_fault(&text, "[front.fork]", "front.fork.rake", &["`rake` is missing", "angle", "deg"]);
}

#[test]
fn missing_part_of_an_end() {
    let start = SOUND.find("[rear.shock]").unwrap();
    let end = SOUND.find("[measuring.front]").unwrap();
    let text = format!("{}{}", &SOUND[..start], &SOUND[end..]);
    let faults = check(&text);
    let [fault] = faults.as_slice() else { panic!("{faults:#?}") };
    assert_eq!(fault.key_path, "rear.shock");
    assert!(fault.message.contains("`shock` is missing"), "{fault}");
}

#[test]
fn bare_number_says_which_units_would_do() {
    let text = changed("stroke = \"90 mm\"", "stroke = 90");
    one_fault(&text, "90\n", "rear.shock.stroke", &["`90` has no unit", "mm, cm, m, in or ft", "90 mm"]);
}

#[test]
fn bare_number_in_text() {
    let text = changed("stroke = \"90 mm\"", "stroke = \"90\"");
    one_fault(&text, "\"90\"", "rear.shock.stroke", &["`90` has no unit", "90 mm"]);
}

#[test]
fn bare_number_in_a_list() {
    let text = changed("\"52 N/mm\"]", "52]");
    one_fault(&text, "52]", "on_sale.rear[1]", &["`52` has no unit", "N/mm", "lbf/in"]);
}

#[test]
fn bare_coordinates_without_a_unit() {
    let text = changed("pivot = [0, 0]", "pivot = [0, 0]")
        .replace("unit = \"mm\"\n", "")
        .replace("axle = [-575, -165]", "axle = [\"-575 mm\", -165]");
    let faults = check(&text);
    assert_eq!(faults.len(), 7, "each bare coordinate: {faults:#?}");
    told(&faults[2], Some(place(&text, "-165]")), "rear.linkage.points.axle[z]", &["`-165` has no unit"]);
}

#[test]
fn uncertainty_of_the_geometry() {
    let alone =
        changed("shock = [\"top\", \"eye\"]", "shock = [\"top\", \"eye\"]\nshock_length_uncertainty = \"1 mm\"");
    let says = ["point_uncertainty", "missing"];
    one_fault(&alone, "\"1 mm\"", "rear.linkage.shock_length_uncertainty", &says);
    let none = changed("shock = [\"top\", \"eye\"]", "shock = [\"top\", \"eye\"]\npoint_uncertainty = \"0 mm\"");
    one_fault(&none, "\"0 mm\"", "rear.linkage.point_uncertainty", &["more than zero"]);
    let sloppy = changed("rake = \"26.5 deg\"", "rake = \"26.5 deg\"\nrake_uncertainty = \"20 deg\"");
    one_fault(&sloppy, "\"20 deg\"", "front.fork.rake_uncertainty", &["10 deg"]);
}

#[test]
fn wrong_dimension() {
    let text = changed("length = \"398 mm\"", "length = \"398 N\"");
    one_fault(&text, "\"398 N\"", "rear.shock.length", &["`398 N` is a force, not a length"]);
}

#[test]
fn mass_per_length_is_a_spring_rate_and_nothing_else() {
    assert_eq!(check(&changed("rate = \"90 N/mm\"", "rate = \"9.2 kg/mm\"")), Vec::new());
    let text = changed("front = \"30 kg\"", "front = \"30 kg/mm\"");
    one_fault(&text, "\"30 kg/mm\"", "masses.rider.front", &["spring rate, not a mass"]);
}

#[test]
fn decimal_comma() {
    let text = changed("rake = \"26.5 deg\"", "rake = \"26,5 deg\"");
    one_fault(&text, "\"26,5 deg\"", "front.fork.rake", &["comma", "26.5 deg"]);
}

#[test]
fn not_a_number() {
    let text = changed("rake = \"26.5 deg\"", "rake = \"nan deg\"");
    one_fault(&text, "\"nan deg\"", "front.fork.rake", &["not a finite"]);
}

#[test]
fn implausible_magnitude_with_the_unit_that_was_meant() {
    let text = changed("length = \"398 mm\"", "length = \"398 m\"");
    one_fault(&text, "\"398 m\"", "rear.shock.length", &["398 m", "398 mm` meant?"]);
}

#[test]
fn wrong_kind_of_value() {
    let text = changed("rake = \"26.5 deg\"", "rake = [\"26.5 deg\"]");
    one_fault(&text, "[\"26.5 deg\"]", "front.fork.rake", &["found a list", "wanted an angle"]);
}

#[test]
fn wrong_word_with_the_nearest() {
    let text = changed("settled = \"low\"", "settled = \"lows\"");
    one_fault(&text, "\"lows\"", "reading[0].settled", &["found `lows`", "`low` or `high`", "did you mean `low`?"]);
}

#[test]
fn another_format() {
    let text = changed("format = 1", "format = 2");
    one_fault(&text, "2\n", "format", &["found a number `2`", "format 1"]);
}

#[test]
fn key_given_twice() {
    let text = changed("rake = \"26.5 deg\"", "rake = \"26.5 deg\"\nrake = \"27 deg\"");
    let faults = check(&text);
    assert!(
        faults.iter().any(|fault| fault.line == Some(11) && fault.message.contains("duplicate key")),
        "{faults:#?}"
    );
}

#[test]
fn broken_grammar_with_the_other_faults() {
    let text = changed("name = \"Test\"", "name = \"Test").replace("stroke = \"90 mm\"", "stroke = 90");
    let faults = check(&text);
    assert_eq!(faults.first().and_then(|fault| fault.line), Some(3), "{faults:#?}");
    assert!(faults.iter().any(|fault| fault.key_path == "rear.shock.stroke"), "{faults:#?}");
}

#[test]
fn half_of_a_description() {
    let text = changed("rider = { front = \"30 kg\", rear = \"66 kg\" }", "rider = { front = \"30 kg\" }");
    one_fault(
        &text,
        "{ front = \"30 kg\" }",
        "masses.rider",
        &["found front", "front + rear or total + behind_front_axle"],
    );
}

#[test]
fn contradictory_description() {
    let text = changed("tolerance = \"4 mm\"", "from = \"90 mm\"");
    one_fault(&text, "{ value", "targets.rear.rider_sag", &["found from + value", "value + tolerance"]);
}

#[test]
fn empty_range() {
    let text = changed("{ value = \"102 mm\", tolerance = \"4 mm\" }", "{ from = \"40 mm\", to = \"25 mm\" }");
    one_fault(&text, "\"40 mm\"", "targets.rear.rider_sag.from", &["to − from", "-15 mm"]);
}

#[test]
fn negative_sprung_mass() {
    let text = changed("unsprung = { front = \"14.2 kg\"", "unsprung = { front = \"61.5 kg\"");
    one_fault(&text, "\"61.5 kg\"", "masses.unsprung.front", &["61.5 kg", "61 kg", "sprung mass would be negative"]);
}

#[test]
fn no_mass_of_the_bike() {
    let text = changed("bike = {", "motorcycle = {").replace("bike + rider", "none");
    one_fault(&text, "[masses]", "masses", &["no mass is called `bike`"]);
}

#[test]
fn unknown_mass_in_a_load_with_the_nearest() {
    let text = changed("load = \"bike + rider\"", "load = \"bike + ridr\"");
    one_fault(&text, "\"bike + ridr\"", "reading[0].load", &["`ridr`", "did you mean `rider`?"]);
}

#[test]
fn load_without_the_bike() {
    let text = changed("load = \"bike + rider\"", "load = \"rider\"");
    one_fault(&text, "\"rider\"\n", "reading[0].load", &["without the bike", "bike + rider"]);
}

#[test]
fn linkage_that_does_not_reach() {
    let text = changed("length = \"398 mm\"", "length = \"698 mm\"");
    let faults = check(&text);
    let [fault] = faults.as_slice() else { panic!("{faults:#?}") };
    told(fault, Some(place(&text, "\"698 mm\"")), "rear.shock.length", &["698", "mm"]);
}

#[test]
fn stroke_that_the_linkage_does_not_have() {
    let text = changed("stroke = \"90 mm\"", "stroke = \"390 mm\"");
    one_fault(&text, "\"390 mm\"", "rear.shock.stroke", &["compressed length", "cannot be reached"]);
}

#[test]
fn mechanism_that_floats() {
    let text = changed("frame = [\"pivot\", \"top\"]", "frame = [\"top\"]");
    one_fault(&text, "[rear.linkage.bodies]", "rear.linkage.bodies", &["degrees of freedom", "exactly 1"]);
}

#[test]
fn bodies_and_points_that_do_not_match() {
    let text = changed("frame = [\"pivot\", \"top\"]", "frame = [\"pivot\", \"tip\"]");
    let faults = check(&text);
    let [point, body] = faults.as_slice() else { panic!("{faults:#?}") };
    told(point, Some(place(&text, "[-100, 329]")), "rear.linkage.points.top", &["`top` is on no body"]);
    told(
        body,
        Some(place(&text, "[\"pivot\", \"tip\"]")),
        "rear.linkage.bodies.frame",
        &["`tip`", "did you mean `top`?"],
    );
}

#[test]
fn wheel_that_is_no_point() {
    let text = changed("wheel = \"axle\"", "wheel = \"axel\"");
    one_fault(&text, "\"axel\"", "rear.linkage.wheel", &["`axel`", "did you mean `axle`?"]);
}

#[test]
fn linkage_drawn_and_measured() {
    // A table that the drawing could have given, beside pivots that are taken as exact.
    let rear = Bike::from_toml(SOUND).unwrap().rear().unwrap().clone();
    let curve = rear.curve(&rear.travels(9)).unwrap();
    let rows =
        curve.travel.iter().zip(&curve.stroke).map(|(travel, stroke)| {
            format!("[\"{} m\", \"{} m\"]", travel.si(), (rear.shock().length() - *stroke).si())
        });
    let table = format!(
        "{SOUND}[rear.measured]\ntravel_uncertainty = \"1 mm\"\nlength_uncertainty = \"1 mm\"\nreadings = [{}]\n",
        rows.collect::<Vec<_>>().join(", ")
    );
    let faults = check(&table);
    let [fault] = faults.as_slice() else { panic!("one fault, found {faults:#?}") };
    assert!(fault.key_path.starts_with("rear") && fault.message.contains("point_uncertainty"), "{fault}");
    let known = table.replace("wheel = \"axle\"", "wheel = \"axle\"\npoint_uncertainty = \"1 mm\"");
    assert_eq!(check(&known), Vec::new());
}

#[test]
fn measured_table_too_short() {
    let start = SOUND.find("[rear.linkage]").unwrap();
    let end = SOUND.find("[rear.shock]").unwrap();
    let table = "[rear.measured]\ntravel_uncertainty = \"1 mm\"\nlength_uncertainty = \"1 mm\"\n\
                 readings = [[\"0 mm\", \"398 mm\"], [\"10 mm\", \"395 mm\"]]\n";
    let text = format!("{}{table}{}", &SOUND[..start], &SOUND[end..]);
    let faults = check(&text);
    let [fault] = faults.as_slice() else { panic!("{faults:#?}") };
    assert!(fault.key_path == "rear.measured" && fault.message.contains('6'), "{fault}");
}

#[test]
fn a_slip_of_a_key_among_names() {
    let text = changed("[masses]\n", "[masses]\nscale_uncertanty = \"0.4 kg\"\n");
    let says = ["unknown key", "did you mean `scale_uncertainty`?"];
    one_fault(&text, "scale_uncertanty", "masses.scale_uncertanty", &says);
}

#[test]
fn one_and_a_half_shocks() {
    let text = changed("stroke = \"90 mm\"", "stroke = \"90 mm\"\ncount = 1.5");
    one_fault(&text, "1.5", "rear.shock.count", &["`1.5`", "a whole number"]);
}

#[test]
fn negative_spring_rate() {
    let text = changed("rate = \"90 N/mm\"", "rate = \"-90 N/mm\"");
    one_fault(&text, "\"-90 N/mm\"", "rear.shock.spring.rate", &["-90 N/mm", "zero or more"]);
}

#[test]
fn shock_between_three_points() {
    let text = changed("shock = [\"top\", \"eye\"]", "shock = [\"top\", \"eye\", \"axle\"]");
    one_fault(&text, "[\"top\", \"eye\", \"axle\"]", "rear.linkage.shock", &["found 3 points", "wanted the two"]);
}

#[test]
fn air_gap_that_closes_before_full_travel() {
    let text = changed("oil_level = \"105 mm\"", "oil_level = \"105 mm\", steel_volume = \"400 cm3\"");
    let faults = check(&text);
    let [fault] = faults.as_slice() else { panic!("{faults:#?}") };
    assert!(fault.key_path.starts_with("front.fork") && fault.line.is_some(), "{fault}");
}

#[test]
fn both_legs_tell_their_faults() {
    let leg = "[[front.fork.leg]]\nspring = { rate = \"4.8 N/mm\", preload = \"6 mm\" }\nair = { sealing_diameter = \"47 mm\", \
               bore = \"43 mm\", oil_level = \"105 mm\" }\n";
    let closing = leg.replace("oil_level", "steel_volume = \"400 cm3\", oil_level");
    let text = changed(&format!("{leg}[[front.fork.leg]]\n"), &closing.repeat(2));
    let faults: Vec<String> = check(&text).into_iter().map(|fault| fault.key_path).collect();
    assert_eq!(faults, ["front.fork.leg[0]", "front.fork.leg[1]"]);
}

#[test]
fn spring_that_goes_solid_before_full_stroke() {
    let text = changed(
        "spring = { rate = \"90 N/mm\", preload = \"14 mm\" }",
        "spring = { rate = \"90 N/mm\", preload = \"14 mm\", free_length = \"200 mm\", solid_length = \"100 mm\" }",
    );
    let faults = check(&text);
    let [fault] = faults.as_slice() else { panic!("{faults:#?}") };
    assert!(fault.key_path.starts_with("rear.shock") && fault.message.contains("before the full stroke"), "{fault}");
}

#[test]
fn one_leg_only() {
    let text = changed("[[front.fork.leg]]\n[rear.linkage]", "[rear.linkage]");
    let faults = check(&text);
    let [fault] = faults.as_slice() else { panic!("{faults:#?}") };
    assert!(fault.key_path == "front.fork.leg" && fault.message.contains("found 1, wanted two legs"), "{fault}");
}

#[test]
fn rear_read_along_the_fork() {
    let text = changed("[measuring.front]", "[measuring.rear]");
    one_fault(&text, "\"along fork\"", "measuring.rear.direction", &["along fork", "`vertical` or `to mark`"]);
}

#[test]
fn front_readings_without_their_direction() {
    let text =
        changed("[measuring.front]\ndirection = \"along fork\"\n", "").replace("end = \"rear\"", "end = \"front\"");
    let faults = check(&text);
    let [fault] = faults.as_slice() else { panic!("{faults:#?}") };
    assert!(fault.message.contains("measuring.front.direction"), "{fault}");
}

#[test]
fn mark_without_its_direction() {
    let text = changed("direction = \"along fork\"", "direction = \"along fork\"\nmark = [\"1 mm\", \"2 mm\"]");
    one_fault(&text, "[\"1 mm\", \"2 mm\"]", "measuring.front.mark", &["to mark"]);
}

#[test]
fn mark_that_the_axle_does_not_approach() {
    let text = format!("{SOUND}[measuring.rear]\ndirection = \"to mark\"\nmark = [\"-575 mm\", \"-400 mm\"]\n");
    one_fault(&text, "[\"-575 mm\", \"-400 mm\"]", "measuring.rear.mark", &["stops shrinking"]);
}

#[test]
fn day_that_does_not_exist() {
    let text = format!("{SOUND}date = \"2026-02-30\"\n");
    one_fault(&text, "\"2026-02-30\"", "reading[0].date", &["a day, e.g. 2026-05-31"]);
}

#[test]
fn readings_that_contradict_each_other() {
    let text = format!(
        "{SOUND}[[reading]]\nend = \"rear\"\nload = \"none\"\ndistance = \"540 mm\"\n\
         [[reading]]\nend = \"rear\"\nload = \"bike\"\nsettled = \"low\"\ndistance = \"500 mm\"\n"
    );
    let faults = check(&text);
    assert!(!faults.is_empty());
    for fault in &faults {
        told(fault, Some(place(&text, "[[reading]]")), "reading[0]", &["bike"]);
    }
    assert!(
        faults.iter().any(|fault| fault.message.contains("longer than with the wheel off the ground")),
        "{faults:#?}"
    );
    assert!(Bike::from_toml(&text).is_ok(), "the bike itself is sound");
}

#[test]
fn all_faults_in_one_go_in_the_order_of_the_text() {
    let text = changed("travel = \"290 mm\"", "travel = 290")
        .replace("name = \"Test\"", "nam = \"Test\"")
        .replace("stroke = \"90 mm\"", "stroke = \"90 kg\"")
        .replace("unsprung = { front = \"14.2 kg\"", "unsprung = { front = \"99 kg\"")
        .replace("distance = \"551 mm\"", "distance = \"551 mm\"\ndepth = 3");
    let paths: Vec<String> = check(&text).into_iter().map(|fault| fault.key_path).collect();
    let wanted = [
        "bike.name",
        "bike.nam",
        "masses.unsprung.front",
        "front.fork.travel",
        "rear.shock.stroke",
        "reading[0].depth",
    ];
    assert_eq!(paths, wanted);
}

#[test]
fn json_tells_places_too() {
    let json = Bike::from_toml(SOUND).unwrap().to_json();
    assert_eq!(check_json(&json), Vec::new());
    let text = json.replace("\"stroke\": \"90 mm\"", "\"stroke\": 90");
    let faults = check_json(&text);
    let [fault] = faults.as_slice() else { panic!("{faults:#?}") };
    let (line, column) = place(&text, "\"stroke\": 90");
    told(fault, Some((line, column + "\"stroke\": ".len())), "rear.shock.stroke", &["`90` has no unit"]);
}

#[test]
fn json_with_a_key_given_twice() {
    let json = Bike::from_toml(SOUND).unwrap().to_json();
    let text = json.replace("\"rake\": \"26.5 deg\"", "\"rake\": \"26.5 deg\", \"rake\": \"27 deg\"");
    let faults = check_json(&text);
    let [fault] = faults.as_slice() else { panic!("{faults:#?}") };
    assert!(fault.key_path == "front.fork.rake" && fault.message.contains("given twice"), "{fault}");
}

#[test]
fn json_of_broken_grammar_and_of_silly_depth() {
    let faults = check_json("{\n  \"format\": 1,\n  \"bike\": }");
    let [fault] = faults.as_slice() else { panic!("{faults:#?}") };
    assert_eq!(fault.line, Some(3), "{fault}");
    let deep = format!("{}{}", "[".repeat(100_000), "]".repeat(100_000));
    assert_eq!(check_json(&deep).len(), 1);
    assert!(!check(&format!("a = {deep}")).is_empty());
}

#[test]
fn a_change_that_leads_nowhere_or_breaks_the_bike() {
    let bike = Bike::from_toml(SOUND).unwrap();
    let fault = |path: &str, value: &str| match bike.with_change(path, value) {
        Err(wheelrate::Error::File(error)) => error.faults[0].clone(),
        other => panic!("a file error, found {other:?}"),
    };
    told(
        &fault("front.fork.leg[7].spring.rate", "5 N/mm"),
        None,
        "front.fork.leg[7].spring.rate",
        &["nowhere at `[7]`"],
    );
    told(&fault("rear.shock.spring.rat", "5 N/mm"), None, "rear.shock.spring.rat", &["did you mean `rate`?"]);
    told(&fault("rear.shock.spring.rate", "5 mm"), None, "rear.shock.spring.rate", &["length, not a spring rate"]);
    told(&fault("rear.shock..rate", "5 mm"), None, "rear.shock..rate", &["keys joined by points"]);
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(512))]

    /// Any damage to a file is told or harmless; nothing panics, and a bike comes only out of a sound text.
    #[test]
    fn damaged_files_do_not_panic(at in 0..SOUND.len(), length in 0..40_usize, scrap in "[\\PC\n]{0,12}") {
        let start = (at..).find(|&byte| SOUND.is_char_boundary(byte)).unwrap_or(SOUND.len());
        let end = ((start + length).min(SOUND.len())..).find(|&byte| SOUND.is_char_boundary(byte)).unwrap_or(SOUND.len());
        let text = format!("{}{scrap}{}", &SOUND[..start], &SOUND[end..]);
        proptest::prop_assert!(Bike::from_toml(&text).is_ok() || !check(&text).is_empty());
        let _ = check_json(&text);
    }
}

/// The sound bike with a chain, or what is said to be one.
fn driven(chain: &str) -> String {
    changed("[measuring.front]", &format!("{chain}\n[measuring.front]"))
}

const CHAIN: &str =
    "[rear.chain]\nfront_centre = [\"85 mm\", \"10 mm\"]\nfront_teeth = 13\nrear_teeth = 49\npitch = \"15.875 mm\"";

#[test]
fn chain_with_a_slip_in_one_value() {
    assert_eq!(check(&driven(CHAIN)), Vec::new());
    for (from, to, key, says) in [
        ("front_teeth = 13", "front_teeth = 3", "front_teeth", ["found 3", "from 6 to 120"]),
        ("front_teeth = 13", "front_teeth = 13.5", "front_teeth", ["13.5", "whole number"]),
        ("rear_teeth = 49", "rear_teeth = 4900", "rear_teeth", ["found 4900", "from 6 to 120"]),
        ("\"15.875 mm\"", "\"5/8 in\"", "pitch", ["5/8 in", "mm"]),
        ("\"15.875 mm\"", "\"15.875 cm\"", "pitch", ["158.75 mm", "6 mm to 40 mm"]),
        ("[\"85 mm\", \"10 mm\"]", "[\"85 m\", \"10 mm\"]", "front_centre", ["85000 mm", "was `85 mm` meant?"]),
    ] {
        let text = driven(&CHAIN.replace(from, to));
        let faults = check(&text);
        let [fault] = faults.as_slice() else { panic!("one fault of `{to}`, found {faults:#?}") };
        assert_eq!(fault.key_path.strip_prefix("rear.chain.").map(|at| at.split('[').next().unwrap()), Some(key));
        for part in says {
            assert!(fault.message.contains(part), "`{part}` in: {fault}");
        }
    }
    one_fault(
        &driven(&CHAIN.replace("rear_teeth = 49\n", "")),
        "[rear.chain]",
        "rear.chain.rear_teeth",
        &["`rear_teeth` is missing"],
    );
}

#[test]
fn shaft_beside_a_chain() {
    let text = driven(&format!("{CHAIN}\n[rear]\nfinal_drive = \"shaft\""));
    one_fault(&text, "\"shaft\"", "rear.final_drive", &["`[rear.chain]`", "wanted one of them"]);
    let text = driven("[rear]\nfinal_drive = \"belt\"");
    one_fault(&text, "\"belt\"", "rear.final_drive", &["`belt`", "`chain`", "`shaft`"]);
    assert_eq!(check(&driven("[rear]\nfinal_drive = \"shaft\"")), Vec::new());
}

/// The sound bike, its reading dated, with a change in its log.
fn logged(change: &str) -> String {
    format!("{SOUND}date = \"2026-05-31\"\n\n[[change]]\n{change}\n")
}

#[test]
fn a_sound_log() {
    let text =
        logged("date = 2026-06-14T19:30:00\nwas = { \"rear.shock.spring.rate\" = \"80 N/mm\" }\nnote = \"stiffer\"");
    assert_eq!(check(&text), Vec::new());
}

#[test]
fn a_change_without_a_day() {
    let text = logged("was = { \"rear.shock.spring.rate\" = \"80 N/mm\" }");
    one_fault(&text, "[[change]]", "change[0].date", &["`date` is missing", "2026-05-31 19:30"]);
}

#[test]
fn readings_without_a_day_beside_a_change() {
    let text = logged("date = 2026-06-14").replace("date = \"2026-05-31\"\n", "");
    one_fault(&text, "[[reading]]", "reading[0]", &["found none", "the bike was changed"]);
}

#[test]
fn a_reading_without_a_day_beside_dated_ones() {
    let row = &SOUND[SOUND.find("[[reading]]").unwrap()..];
    let text = format!("{SOUND}date = \"2026-05-31\"\n\n{row}");
    let faults = check(&text);
    let [fault] = faults.as_slice() else { panic!("{faults:#?}") };
    assert_eq!(fault.key_path, "reading[1]");
    assert!(fault.message.contains("other readings of this end have one"), "{fault}");
}

#[test]
fn reading_and_change_of_one_day_without_times() {
    let text = logged("date = \"2026-05-31\"\nwas = { \"rear.shock.spring.rate\" = \"80 N/mm\" }");
    let faults = check(&text);
    let [fault] = faults.as_slice() else { panic!("{faults:#?}") };
    assert_eq!(fault.key_path, "change[0].date");
    assert!(fault.message.contains("a reading of `2026-05-31` came before or after"), "{fault}");
}

#[test]
fn a_log_that_cannot_be_undone() {
    let text = logged("date = 2026-06-14\nwas = { \"rear.shock.spring.rate\" = \"80 mm\" }");
    let says = ["undone", "rear.shock.spring.rate", "`80 mm` is a length, not a spring rate"];
    one_fault(&text, "{ \"rear.shock.spring.rate\" = \"80 mm\" }", "change[0].was", &says);
    let text = logged("date = 2026-06-14\nadded = [\"rear.shock.top_out\"]");
    let faults = check(&text);
    assert!(faults.len() == 1 && faults[0].message.contains("leads nowhere"), "{faults:#?}");
}

#[test]
fn a_log_of_what_is_no_part_of_the_bike() {
    let text = logged("date = 2026-06-14\nwas = { \"reading[0].distance\" = \"650 mm\" }");
    let faults = check(&text);
    let [fault] = faults.as_slice() else { panic!("{faults:#?}") };
    assert_eq!(fault.key_path, "change[0].was");
    assert!(fault.message.contains("wanted a key of the bike itself"), "{fault}");
}
