//! Faults of the ends: linkage, springs, legs, chain.

use wheelrate::Bike;
use wheelrate::error::Fault;
use wheelrate::file::check;
use wheelrate::units::Quantity;
use wheelrate::wheel::Wheel;

use crate::sound::{SOUND, changed, one_fault, place, reported};

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
fn linkage_that_does_not_reach() {
    let text = changed("length = \"398 mm\"", "length = \"698 mm\"");
    let faults = check(&text);
    let [fault] = faults.as_slice() else { panic!("{faults:#?}") };
    reported(fault, Some(place(&text, "\"698 mm\"")), "rear.shock.length", &["698", "mm"]);
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
    reported(point, Some(place(&text, "[-100, 329]")), "rear.linkage.points.top", &["`top` is on no body"]);
    reported(
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
    let rows = curve.travel.iter().zip(&curve.stroke).map(|(travel, stroke)| {
        format!("[\"{} m\", \"{} m\"]", travel.si(), (rear.shock().length().unwrap() - *stroke).si())
    });
    let table = format!(
        "{SOUND}[rear.measured]\ntravel_uncertainty = \"1 mm\"\nlength_uncertainty = \"1 mm\"\nreadings = [{}]\n",
        rows.collect::<Vec<_>>().join(", ")
    );
    let faults = check(&table);
    let [fault] = faults.as_slice() else { panic!("one fault, found {faults:#?}") };
    assert!(fault.key_path == "rear.linkage" && fault.message.contains("point_uncertainty"), "{fault}");
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
    assert!(fault.key_path == "rear.measured.readings" && fault.message.contains('6'), "{fault}");
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
    assert!(fault.key_path == "front.fork.leg[0].air.oil_level" && fault.line.is_some(), "{fault}");
}

#[test]
fn both_legs_report_their_faults() {
    let leg = "[[front.fork.leg]]\nspring = { rate = \"4.8 N/mm\", preload = \"6 mm\" }\nair = { sealing_diameter = \"47 mm\", \
               bore = \"43 mm\", oil_level = \"105 mm\" }\n";
    let closing = leg.replace("oil_level", "steel_volume = \"400 cm3\", oil_level");
    let text = changed(&format!("{leg}[[front.fork.leg]]\n"), &closing.repeat(2));
    let faults: Vec<String> = check(&text).into_iter().map(|fault| fault.key_path.to_string()).collect();
    assert_eq!(faults, ["front.fork.leg[0].air.oil_level", "front.fork.leg[1].air.oil_level"]);
}

#[test]
fn spring_that_goes_solid_before_full_stroke() {
    let text = changed(
        "spring = { rate = \"90 N/mm\", preload = \"14 mm\" }",
        "spring = { rate = \"90 N/mm\", preload = \"14 mm\", free_length = \"200 mm\", solid_length = \"100 mm\" }",
    );
    let faults = check(&text);
    let [fault] = faults.as_slice() else { panic!("{faults:#?}") };
    assert!(fault.key_path == "rear.shock.spring" && fault.message.contains("before the full stroke"), "{fault}");
}

#[test]
fn one_leg_only() {
    let text = changed("[[front.fork.leg]]\n[rear.linkage]", "[rear.linkage]");
    let faults = check(&text);
    let [fault] = faults.as_slice() else { panic!("{faults:#?}") };
    assert!(fault.key_path == "front.fork.leg" && fault.message.contains("found 1, wanted two legs"), "{fault}");
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
        ("\"15.875 mm\"", "\"5/0 in\"", "pitch", ["5/0 in", "mm"]),
        ("\"15.875 mm\"", "\"15.875 cm\"", "pitch", ["158.75 mm", "6 mm to 40 mm"]),
        ("[\"85 mm\", \"10 mm\"]", "[\"85 m\", \"10 mm\"]", "front_centre[0]", ["85000 mm", "was `85 mm` meant?"]),
    ] {
        let text = driven(&CHAIN.replace(from, to));
        let faults = check(&text);
        let [fault] = faults.as_slice() else { panic!("one fault of `{to}`, found {faults:#?}") };
        assert!(fault.key_path == *format!("rear.chain.{key}"), "{fault}");
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

/// What weights and springs make of the sags: 41 mm in front, some 100 mm at the rear.
const LEAST: &str = r#"format = 1
[masses]
bike = "127 kg"
rider = "88 kg"
[front.fork]
travel = "305 mm"
spring = { rate = "0.47 kgf/mm" }
[rear]
travel = "310 mm"
[rear.shock]
stroke = "132 mm"
spring = { rate = "5.6 kgf/mm" }
"#;

fn read(sags: &[(&str, &str)]) -> String {
    let row =
        |(end, sag): &(&str, &str)| format!("[[reading]]\nend = \"{end}\"\nload = \"bike + rider\"\nsag = \"{sag}\"\n");
    LEAST.to_owned() + &sags.iter().map(row).collect::<String>()
}

#[test]
fn front_and_rear_in_each_others_place() {
    assert!(check(&read(&[("front", "41 mm"), ("rear", "103 mm")])).is_empty());
    let swapped = read(&[("front", "103 mm"), ("rear", "41 mm")]);
    let says = ["front reads 103 mm", "rear 41 mm", "predict", "front and rear swapped?"];
    one_fault(&swapped, "\"front\"", "reading 1.end", &says);
    // The end of the first row is what is shown, whichever stands first.
    let other = read(&[("rear", "41 mm"), ("front", "103 mm")]);
    one_fault(&other, "\"rear\"", "reading 1.end", &says);
    // One end alone is not exchanged with anything, and neither are sags that are off in the same way.
    assert!(check(&read(&[("front", "103 mm")])).iter().all(|fault| !fault.message.contains("swapped")));
    let soft = check(&read(&[("front", "70 mm"), ("rear", "130 mm")]));
    assert!(soft.iter().all(|fault| !fault.message.contains("swapped")), "{soft:?}");
}

#[test]
fn scales_under_each_others_wheels() {
    let text = LEAST
        .replace("rider = \"88 kg\"", "rider = { front = \"60 kg\", rear = \"28 kg\" }")
        .replace("bike = \"127 kg\"", "bike = { front = \"61 kg\", rear = \"66 kg\" }");
    one_fault(&text, "\"60 kg\"", "masses.rider.front", &["60 kg", "28 kg", "front and rear swapped?"]);
}

#[test]
fn what_a_slip_hides_is_said_with_it() {
    let slipped = |text: &str| check(text).iter().map(|fault| fault.key_path.to_string()).collect::<Vec<_>>();
    // A misspelt key is read as it was meant: what the whole then does not allow is said in the same run.
    let stroke = changed("stroke = \"90 mm\"", "stroke = \"390 mm\"");
    let both = stroke.replacen("rake = \"26.5 deg\"", "rakke = \"26.5 deg\"", 1);
    assert_eq!(slipped(&both), ["front.fork.rakke", "rear.shock.stroke"]);
    // Its value is looked at under that name.
    let unit = changed("stroke = \"90 mm\"", "strok = \"90 N\"");
    assert_eq!(slipped(&unit), ["rear.shock.strok", "rear.shock.stroke"]);
    // What fits no key hides no more than its own table.
    let strange = changed("stroke = \"90 mm\"", "stroke = \"90 mm\"\nxyzzyx = \"1 mm\"");
    assert_eq!(slipped(&strange), ["rear.shock.xyzzyx"]);
    // A key meant by two slips is one.
    let twice = changed("stroke = \"90 mm\"", "strok = \"90 mm\"\nstrokk = \"90 mm\"");
    assert_eq!(slipped(&twice), ["rear.shock.strok", "rear.shock.strokk"]);
}

#[test]
fn an_end_at_fault_does_not_hide_the_other() {
    let at_rear = wheelrate::demo::PATROL.replacen("stroke = \"118 mm\"", "stroke = \"118\"", 1);
    let alone: Vec<Fault> = check(&at_rear);
    assert_eq!(alone.iter().map(|fault| fault.key_path.to_string()).collect::<Vec<_>>(), ["rear.shock.stroke"]);
    // A rate on sale that no such fork takes is found by a look at the whole bike.
    let on_sale = at_rear.replacen("\"3.8 N/mm\", ", "\"38 N/mm\", ", 1);
    let both: Vec<String> = check(&on_sale).iter().map(|fault| fault.key_path.to_string()).collect();
    assert_eq!(both, ["rear.shock.stroke", "on_sale.front[0]"]);
}
