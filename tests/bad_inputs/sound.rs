//! A sound bike file to be damaged, and what a fault must say.

use wheelrate::error::Fault;
use wheelrate::file::check;

/// A sound bike, small enough to look through.
pub(crate) const SOUND: &str = r#"format = 1
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
sag = "103 mm"
"#;

/// The sound bike with one passage replaced; the passage must be there, once.
pub(crate) fn changed(from: &str, to: &str) -> String {
    assert_eq!(SOUND.matches(from).count(), 1, "`{from}` once");
    SOUND.replace(from, to)
}

/// Line and column at which a passage starts.
pub(crate) fn place(text: &str, passage: &str) -> (usize, usize) {
    let byte = text.find(passage).unwrap_or_else(|| panic!("`{passage}` is in the text"));
    let line_start = text[..byte].rfind('\n').map_or(0, |at| at + 1);
    (text[..byte].matches('\n').count() + 1, text[line_start..byte].chars().count() + 1)
}

/// The one fault of a text: at this passage, under this key path, saying all these things.
#[track_caller]
pub(crate) fn one_fault(text: &str, at: &str, key_path: &str, says: &[&str]) {
    let faults = check(text);
    let [fault] = faults.as_slice() else { panic!("one fault, found {faults:#?}") };
    reported(fault, Some(place(text, at)), key_path, says);
}

#[track_caller]
pub(crate) fn reported(fault: &Fault, place: Option<(usize, usize)>, key_path: &str, says: &[&str]) {
    assert_eq!(fault.key_path, key_path, "{fault}");
    assert_eq!(fault.line.zip(fault.column), place, "{fault}");
    for part in says {
        assert!(fault.message.contains(part), "`{part}` in: {fault}");
    }
    assert!(!fault.found.is_empty() && !fault.wanted.is_empty(), "{fault:?}");
}
