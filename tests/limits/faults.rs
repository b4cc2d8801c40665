//! Every kind of nasty file, small and at its limits.

use wheelrate::Bike;
use wheelrate::error::Fault;
use wheelrate::file::{LARGEST, MOST_FAULTS, MOST_MARKS, MOST_ROWS, amend, check, check_json};
use wheelrate::units::{Length, parse};

use crate::nasty::{Nasty, Written, all};

/// Most characters of a fault on one line: its place, its path and its message.
const LONGEST: usize = 2_200;

fn answer(kind: &Nasty, text: &str) -> Vec<Fault> {
    match kind.written {
        Written::Toml => check(text),
        Written::Json => check_json(text),
    }
}

fn kind(name: &str) -> Nasty {
    all().into_iter().find(|kind| kind.name == name).unwrap()
}

/// No panic, few faults, short lines: with few parts and with some thousand.
#[test]
fn every_kind_is_answered_in_few_short_lines() {
    for kind in all() {
        for parts in [0, 1, 2, 70, 1_500] {
            let faults = answer(&kind, &kind.of(parts));
            assert!(faults.len() <= MOST_FAULTS + 1, "{}: {} faults", kind.name, faults.len());
            for fault in &faults {
                let line = fault.to_string();
                assert!(line.chars().count() <= LONGEST, "{}: {} characters", kind.name, line.chars().count());
                assert!(!line.chars().any(char::is_control), "{}: {line:?}", kind.name);
            }
        }
    }
}

#[test]
fn fifty_faults_are_shown_and_the_rest_counted() {
    let faults = answer(&kind("bad readings"), &kind("bad readings").of(8_000));
    assert_eq!(faults.len(), MOST_FAULTS + 1);
    assert_eq!(
        faults[0].to_string(),
        "line 5, column 10: reading 1.distance: `655 kg` is a mass, not a length: use mm, cm, m, in or ft"
    );
    // In the order of the text.
    assert_eq!(faults[MOST_FAULTS - 1].key_path, "reading 50.distance");
    assert_eq!(faults[MOST_FAULTS].to_string(), "and 7950 more faults");
    let error = Bike::from_toml(&kind("bad readings").of(51)).unwrap_err().to_string();
    assert!(error.ends_with("\nand 1 more fault"), "{error}");
    assert_eq!(error.lines().count(), MOST_FAULTS + 1);
    let misspelt = answer(&kind("misspelt keys"), &kind("misspelt keys").of(9_000));
    assert_eq!(misspelt[MOST_FAULTS].message, "and 8950 more faults");
}

#[test]
fn more_rows_than_are_read_are_one_fault() {
    for (name, says) in [
        ("bad readings", format!("reading: found {} rows, wanted at most {MOST_ROWS}", MOST_ROWS + 1)),
        ("unknown keys", format!("found {} keys, wanted at most {MOST_ROWS}", MOST_ROWS + 2)),
        ("changes of nothing", format!("change: found {} rows", MOST_ROWS + 1)),
    ] {
        let faults = answer(&kind(name), &kind(name).of(MOST_ROWS + 1));
        let [fault] = faults.as_slice() else { panic!("{name}: {} faults", faults.len()) };
        assert!(fault.to_string().contains(&says), "{fault}");
    }
}

#[test]
fn a_text_too_long_is_refused_by_whatever_reads_it() {
    let long = kind("one comment").sized(LARGEST + 1);
    let says = "found 4.0 MB of text, wanted at most 4.0 MB";
    let set = amend::set_keys(&long, &[("front.fork.rake", "27 deg")]);
    for error in [Bike::from_toml(&long).unwrap_err(), Bike::from_json(&long).unwrap_err(), set.unwrap_err()] {
        assert!(error.to_string().starts_with(says), "{error}");
    }
    let many = kind("equals signs").sized(MOST_MARKS + 100);
    let said = &check(&many)[0].message;
    assert!(said.contains("brackets, commas") && said.ends_with("wanted at most 1000000 of them"), "{said}");
}

#[test]
fn a_chain_of_hundreds_of_links_is_refused_before_it_is_looked_at() {
    let faults = answer(&kind("an open chain"), &kind("an open chain").of(300));
    assert!(faults.iter().any(|fault| fault.message.contains("found 61 or more, wanted at most 60")), "{faults:#?}");
}

#[test]
fn one_long_number_is_shown_in_part() {
    let digits = "9".repeat(1_000_000);
    for text in
        [format!("{digits} mm"), digits.clone(), format!("9 {}", "m".repeat(1_000_000)), format!("9,{digits} mm")]
    {
        let said = parse::<Length>(&text).unwrap_err().to_string();
        assert!(said.chars().count() < 300, "{} characters", said.chars().count());
    }
}

/// A line break, an escape and an override of direction in a name stand in messages as what they are.
#[test]
fn a_name_forges_no_line_and_moves_no_cursor() {
    let forged = "x\\nbike.toml:1:1: all is well\\u001b[2J\\u202e";
    for text in [
        format!("format = 1\n\"{forged}\" = 1\n"),
        format!("format = 1\n[bike]\nkind = \"{forged}\"\n"),
        format!("format = 1\n[[reading]]\nend = \"rear\"\nload = \"{forged}\"\ndistance = \"1 mm\"\n"),
        format!("format = 1\n[masses]\n\"{forged}\" = {{ front = \"1 mm\" }}\n"),
        format!("format = 1\n[[change]]\ndate = \"{forged}\"\n"),
        format!("format = 1\n[[change]]\ndate = \"2026-06-14\"\nadded = [\"{forged}\"]\n"),
        format!("format = 1\n[front.fork]\ntravel = \"{forged}\"\n"),
        format!(
            "format = 1\n[rear.linkage.points]\n\"{forged}\" = [\"1 mm\", \"1 mm\"]\n[rear.linkage.bodies]\nframe = [\"{forged}y\"]\n"
        ),
    ] {
        let faults = check(&text);
        assert!(!faults.is_empty(), "{text}");
        let shown = Bike::from_toml(&text).map_or_else(|error| error.to_string(), |_| faults[0].to_string());
        assert_eq!(shown.lines().count(), faults.len(), "{shown}");
        let acts = |symbol: char| (symbol.is_control() && symbol != '\n') || symbol == '\u{202e}';
        assert!(!shown.chars().any(acts), "{shown:?}");
        for fault in &faults {
            let texts = [&fault.message, &fault.found, &fault.wanted, &fault.key_path.to_string()];
            assert!(!texts.iter().any(|text| text.contains(['\n', '\u{1b}', '\u{202e}'])), "{fault:?}");
        }
    }
}
