//! Faults of the log of changes and of dated readings.

use wheelrate::file::check;

use crate::sound::{SOUND, one_fault};

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
    let says = ["undoing", "rear.shock.spring.rate", "`80 mm` is a length, not a spring rate"];
    one_fault(&text, "\"80 mm\" }", "change[0].was.\"rear.shock.spring.rate\"", &says);
    let text = logged("date = 2026-06-14\nadded = [\"rear.shock.top_out\"]");
    let faults = check(&text);
    assert!(faults.len() == 1 && faults[0].message.contains("leads nowhere"), "{faults:#?}");
}

#[test]
fn a_log_of_what_is_no_part_of_the_bike() {
    let text = logged("date = 2026-06-14\nwas = { \"reading[0].sag\" = \"90 mm\" }");
    let faults = check(&text);
    let [fault] = faults.as_slice() else { panic!("{faults:#?}") };
    assert_eq!(fault.key_path, "change[0].was");
    assert!(fault.message.contains("wanted a key of the bike itself"), "{fault}");
}
