//! Every kind of fault that a bike file can have: place, key path, and what the message says.

use wheelrate::Bike;
use wheelrate::file::{check, check_json};

use crate::sound::{SOUND, changed, one_fault, place, reported};

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
    let text = changed("travel = \"290 mm\"\n", "");
    one_fault(&text, "[front.fork]", "front.fork.travel", &["`travel` is missing", "length", "mm"]);
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
    reported(&faults[2], Some(place(&text, "-165]")), "rear.linkage.points.axle[1]", &["`-165` has no unit"]);
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
    one_fault(
        &text,
        "\"lows\"",
        "reading[0].settled",
        &["found `lows`", "`low`, `high` or `middle`", "did you mean `low`?"],
    );
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
        &["found front", "front + rear, total + behind_front_axle, total or total + on_front"],
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
    one_fault(&text, "\"25 mm\" }", "targets.rear.rider_sag.to", &["found 25 mm, wanted more than the from of 40 mm"]);
}

#[test]
fn negative_sprung_mass() {
    let text = changed("unsprung = { front = \"14.2 kg\"", "unsprung = { front = \"61.5 kg\"");
    one_fault(&text, "\"61.5 kg\"", "masses.unsprung.front", &["61.5 kg", "61 kg", "sprung mass would be negative"]);
}

#[test]
fn no_mass_of_the_bike() {
    let text = changed("bike = {", "motorcycle = {").replace("bike + rider", "motorcycle + rider");
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
fn rear_read_along_the_fork() {
    let text = changed("[measuring.front]", "[measuring.rear]");
    one_fault(&text, "\"along fork\"", "measuring.rear.direction", &["along fork", "`vertical` or `to mark`"]);
}

#[test]
fn front_readings_without_their_direction() {
    // No fault: along what they ran is assumed, and said.
    let text =
        changed("[measuring.front]\ndirection = \"along fork\"\n", "").replace("end = \"rear\"", "end = \"front\"");
    assert_eq!(check(&text), []);
    let bike = wheelrate::Bike::from_toml(&text).unwrap();
    assert!(bike.assumed().direction(wheelrate::record::End::Front));
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
         [[reading]]\nend = \"rear\"\nload = \"bike\"\nsettled = \"low\"\ndistance = \"560 mm\"\n"
    );
    let faults = check(&text);
    assert!(!faults.is_empty());
    for fault in &faults {
        assert_eq!(fault.key_path, "reading 3", "{fault}");
    }
    assert!(
        faults.iter().any(|fault| fault.message.contains("longer than with the wheel off the ground")),
        "{faults:#?}"
    );
    let readings = |text: &str| Bike::from_toml(text).unwrap().parts().readings.len();
    assert_eq!(readings(&text), readings(SOUND) + 2, "the bike itself is sound");
}

#[test]
fn all_faults_in_one_go_in_the_order_of_the_text() {
    let text = changed("travel = \"290 mm\"", "travel = 290")
        .replace("name = \"Test\"", "nam = \"Test\"")
        .replace("stroke = \"90 mm\"", "stroke = \"90 kg\"")
        .replace("unsprung = { front = \"14.2 kg\"", "unsprung = { front = \"99 kg\"")
        .replace("sag = \"103 mm\"", "sag = \"103 mm\"\ndepth = 3");
    let paths: Vec<String> = check(&text).into_iter().map(|fault| fault.key_path.to_string()).collect();
    let wanted = ["bike.nam", "masses.unsprung.front", "front.fork.travel", "rear.shock.stroke", "reading 1.depth"];
    assert_eq!(paths, wanted);
}

#[test]
fn json_has_places_too() {
    let json = Bike::from_toml(SOUND).unwrap().to_json();
    assert_eq!(check_json(&json), Vec::new());
    let text = json.replace("\"stroke\": \"90 mm\"", "\"stroke\": 90");
    let faults = check_json(&text);
    let [fault] = faults.as_slice() else { panic!("{faults:#?}") };
    let (line, column) = place(&text, "\"stroke\": 90");
    reported(fault, Some((line, column + "\"stroke\": ".len())), "rear.shock.stroke", &["`90` has no unit"]);
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
    let faults = check(&format!("a = {deep}"));
    assert!(faults.len() == 1 && faults[0].line == Some(1), "{faults:?}");
}

#[test]
fn a_change_that_leads_nowhere_or_breaks_the_bike() {
    let bike = Bike::from_toml(SOUND).unwrap();
    let fault = |path: &str, value: &str| match bike.correct(&[(path, value)]) {
        Err(wheelrate::Error::File(error)) => error.faults[0].clone(),
        other => panic!("a file error, found {other:?}"),
    };
    reported(
        &fault("front.fork.leg[7].spring.rate", "5 N/mm"),
        None,
        "front.fork.leg[7].spring.rate",
        &["nowhere at `[7]`"],
    );
    reported(&fault("rear.shock.spring.rat", "5 N/mm"), None, "rear.shock.spring.rat", &["did you mean `rate`?"]);
    reported(&fault("rear.shock.spring.rate", "5 mm"), None, "rear.shock.spring.rate", &["length, not a spring rate"]);
    reported(&fault("rear.shock..rate", "5 mm"), None, "", &["nowhere at `rear.shock..rate`", "keys joined by points"]);
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(512))]

    /// Any damage to a file is reported or harmless; nothing panics, and a bike comes only out of a sound text.
    #[test]
    fn damaged_files_do_not_panic(at in 0..SOUND.len(), length in 0..40_usize, scrap in "[\\PC\n]{0,12}") {
        let start = (at..).find(|&byte| SOUND.is_char_boundary(byte)).unwrap_or(SOUND.len());
        let end = ((start + length).min(SOUND.len())..).find(|&byte| SOUND.is_char_boundary(byte)).unwrap_or(SOUND.len());
        let text = format!("{}{scrap}{}", &SOUND[..start], &SOUND[end..]);
        proptest::prop_assert!(Bike::from_toml(&text).is_ok() || !check(&text).is_empty());
        let _ = check_json(&text);
    }
}

#[test]
fn a_rake_from_the_horizontal_is_suspected() {
    let text = changed("rake = \"26.5 deg\"", "rake = \"63.5 deg\"");
    one_fault(&text, "\"63.5 deg\"", "front.fork.rake", &["26.5 deg, from the vertical"]);
}

#[test]
fn a_weight_for_a_mass() {
    let text = changed("\"14.2 kg\"", "\"139 N\"");
    one_fault(&text, "\"139 N\"", "masses.unsprung.front", &["this is a weight, a mass is wanted"]);
}

#[test]
fn a_slip_in_masses_is_no_mass_of_its_own() {
    let text = changed("[masses]", "[masses]\nscale_uncertanty = \"1 kg\"");
    one_fault(&text, "scale_uncertanty", "masses.scale_uncertanty", &["did you mean `scale_uncertainty`?"]);
}

#[test]
fn a_rear_end_of_which_nothing_is_known() {
    let least = wheelrate::demo::LEAST.replace("travel = \"310 mm\"", "");
    let faults = check(&least);
    let [fault] = faults.as_slice() else { panic!("{faults:#?}") };
    assert!(fault.key_path == "rear" && fault.message.contains("`travel`"), "{fault}");
    let contradicted =
        wheelrate::demo::LEAST.replace("travel = \"310 mm\"", "travel = \"310 mm\"\nlever = \"3.5 ± 0.1 wheel/shock\"");
    let faults = check(&contradicted);
    let [fault] = faults.as_slice() else { panic!("{faults:#?}") };
    assert!(fault.key_path == "rear.lever" && fault.message.contains("2.35"), "{fault}");
}
