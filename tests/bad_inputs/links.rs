//! Faults of a front end on links: what only a fork has, what only links have, and bodies that are not there.

use wheelrate::Bike;
use wheelrate::file::check;
use wheelrate::record::End;

use crate::sound::{changed, one_fault};

const LINKS: &str = include_str!("../files/links.toml");

/// The file on links with something changed in it.
fn linked(from: &str, to: &str) -> String {
    assert!(LINKS.contains(from), "{from}");
    LINKS.replacen(from, to, 1)
}

#[test]
fn the_file_is_sound() {
    assert_eq!(check(LINKS), []);
    let bike = Bike::from_toml(LINKS).unwrap();
    assert_eq!(Bike::from_toml(&bike.to_toml()).unwrap(), bike);
    assert!(bike.advise_end(End::Front).is_ok());
}

#[test]
fn what_links_cannot_do_without() {
    let front = ["rake = \"26.5 deg\"\n", "", "front.rake", "`rake` is missing"];
    let faults = check(&linked(front[0], front[1]));
    assert!(faults.iter().any(|fault| fault.key_path == front[2] && fault.message.contains(front[3])), "{faults:#?}");
    let text = LINKS.to_owned();
    let (from, to) = (text.find("[front.shock]").unwrap(), text.find("[rear]").unwrap());
    let faults = check(&format!("{}{}", &text[..from], &text[to..]));
    assert!(faults.iter().any(|fault| fault.key_path == "front.shock"), "{faults:#?}");
    let (from, to) = (text.find("[front.linkage]").unwrap(), text.find("[front.shock]").unwrap());
    let faults = check(&format!("{}{}", &text[..from], &text[to..]));
    assert!(faults.iter().any(|fault| fault.key_path == "front.linkage"), "{faults:#?}");
}

#[test]
fn what_only_a_fork_has() {
    let with = |line: &str| linked("caliper = \"link\"", &format!("caliper = \"link\"\n{line}"));
    let says = ["telescopic fork", "linkage"];
    one_fault(&with("axle = [\"905 mm\", \"-150 mm\"]"), "[\"905 mm\"", "front.axle", &says);
    one_fault(&with("raised = \"5 mm\""), "\"5 mm\"", "front.raised", &says);
    let fork = with(
        "fork = { travel = \"290 mm\", rake = \"26.5 deg\", spring = { rate = \"4.4 N/mm\", preload = \"6 mm\" } }",
    );
    one_fault(&fork, "[front.linkage]", "front.linkage", &["`linkage` beside `fork`", "one of them"]);
    let along = linked("[measuring.front]\ndirection = \"vertical\"", "[measuring.front]\ndirection = \"along fork\"");
    let says = ["`along fork`", "`vertical` or `to mark`", "linkage"];
    one_fault(&along, "\"along fork\"", "measuring.front.direction", &says);
}

#[test]
fn what_only_links_have() {
    for (line, at, key) in [
        ("rake = \"24 deg\"", "\"24 deg\"", "front.rake"),
        ("caliper = \"frame\"", "\"frame\"", "front.caliper"),
        ("steering_body = \"frame\"", "\"frame\"", "front.steering_body"),
        ("shock = { length = \"383 mm\", stroke = \"90 mm\" }", "{ length", "front.shock"),
    ] {
        one_fault(&changed("[front.fork]", &format!("[front]\n{line}\n[front.fork]")), at, key, &["fork"]);
    }
}

#[test]
fn bodies_that_cannot_hold_caliper_or_axis() {
    let lone = linked("caliper = \"link\"", "caliper = \"lnk\"");
    one_fault(&lone, "\"lnk\"", "front.caliper", &["`lnk`", "did you mean `link`?"]);
    let axis = linked("caliper = \"link\"", "steering_body = \"upright\"");
    one_fault(&axis, "\"upright\"", "front.steering_body", &["`upright`", "`link`"]);
    let strut = LINKS.replace(
        "[front.linkage.bodies]",
        "[front.linkage.bodies]\nrod = [\"strut_foot\", \"rod_foot\"]\narm = [\"rod_foot\", \"arm_pivot\"]",
    );
    let strut = strut
        .replace("strut_top = [800, 250]", "strut_top = [800, 250]\nrod_foot = [860, -40]\narm_pivot = [780, -30]")
        .replace("frame = [\"pivot\", \"strut_top\"]", "frame = [\"pivot\", \"strut_top\", \"arm_pivot\"]");
    assert_eq!(check(&strut), []);
    for key in ["caliper", "steering_body"] {
        let text = strut.replace("caliper = \"link\"", &format!("{key} = \"rod\""));
        one_fault(&text, "\"rod\"", &format!("front.{key}"), &["`rod`", "carries the axle", "`frame`"]);
    }
}

#[test]
fn changes_of_a_built_bike() {
    let bike = Bike::from_toml(LINKS).unwrap();
    let caliper = |bike: &Bike| bike.front().unwrap().caliper().map(str::to_owned);
    let moved = bike.what_if(&[("front.linkage.points.axle.x", "910 mm"), ("front.steering_body", "link")]).unwrap();
    assert_eq!(caliper(&moved).as_deref(), Some("link"));
    assert_eq!(moved.front().unwrap().steering_body(), "link");
    for (key, value) in [("front.raised", "5 mm"), ("front.fork.travel", "250 mm"), ("front.caliper", "wheel")] {
        let message = bike.what_if(&[(key, value)]).unwrap_err().to_string();
        assert!(message.contains("front"), "{key}: {message}");
    }
    let message = bike.front().unwrap().fork().unwrap_err().to_string();
    assert!(message.contains("telescopic fork") && message.contains("linkage"), "{message}");
}
