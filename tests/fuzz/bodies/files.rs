//! Bike files: lines mutated, values edited, logs of many days, and what is decided on them.

use wheelrate::Bike;
use wheelrate::demo::{LEAST, PATROL};
use wheelrate::file::check;
use wheelrate::record::End;
use wheelrate::units::{Quantity, UnitSystem};

use super::texts::mutated;
use crate::choices::Choices;

const FILES: &[&str] = &[
    PATROL,
    LEAST,
    include_str!("../../files/least_imperial.toml"),
    include_str!("../../files/much.toml"),
    include_str!("../../files/links.toml"),
    include_str!("../../files/workshop.toml"),
];

/// Every number of a line that is not in a comment, one of them off.
fn other_number(line: &str, choices: &mut Choices<'_>) -> String {
    let code = line.split('#').next().unwrap_or_default();
    let starts: Vec<usize> = code
        .char_indices()
        .filter(|(at, sign)| {
            sign.is_ascii_digit() && !code[..*at].ends_with(|before: char| before.is_ascii_digit() || before == '.')
        })
        .map(|(at, _)| at)
        .collect();
    let Some(&start) = starts.get(choices.below(starts.len())) else { return line.to_owned() };
    let end =
        code[start..].find(|sign: char| !(sign.is_ascii_digit() || sign == '.')).map_or(code.len(), |end| start + end);
    let Ok(number) = code[start..end].parse::<f64>() else { return line.to_owned() };
    format!("{}{}{}", &line[..start], choices.near(number), &line[end..])
}

/// A valid file, some of its lines mutated.
fn text(choices: &mut Choices<'_>, gently: bool) -> String {
    let of = choices.of(FILES);
    let mut lines: Vec<String> = of.lines().map(str::to_owned).collect();
    for _ in 0..=choices.below(3) {
        let at = choices.below(lines.len());
        match choices.below(if gently { 3 } else { 8 }) {
            0..3 => lines[at] = other_number(&lines[at], choices),
            3 => drop(lines.remove(at)),
            4 => {
                let twice = lines[at].clone();
                lines.insert(choices.below(lines.len()), twice);
            }
            5 => {
                let other = choices.of(FILES);
                let others: Vec<&str> = other.lines().collect();
                lines.insert(at, others[choices.below(others.len())].to_owned());
            }
            _ => lines[at] = mutated(&lines[at], choices),
        }
    }
    lines.join("\n")
}

/// What reads is written and reads back equal, in both grammars; faults are few and on one line.
pub fn file(choices: &mut Choices<'_>) {
    let text = text(choices, false);
    match Bike::from_toml(&text) {
        Ok(bike) => {
            assert_eq!(Bike::from_toml(&bike.to_toml()).as_ref(), Ok(&bike), "{text}");
            assert_eq!(Bike::from_json(&bike.to_json()).as_ref(), Ok(&bike), "{text}");
        }
        // What cannot be read has a fault with a place.
        Err(error) => assert!(check(&text).iter().any(|fault| fault.line.is_some()), "{error}: {text}"),
    }
    if choices.once_in(8) {
        for fault in check(&text) {
            assert!(!fault.to_string().contains('\n'), "{fault:?}");
        }
    }
}

/// Addresses with a value of the patrol's bike.
const EDITED: [(&str, f64, &str); 15] = [
    ("rear.shock.spring.rate", 52.0, "N/mm"),
    ("rear.shock.spring.preload", 14.0, "mm"),
    ("rear.shock.stroke", 118.0, "mm"),
    ("rear.linkage.points.link_frame.x", -66.0, "mm"),
    ("rear.linkage.points.shock_frame.z", 329.0, "mm"),
    ("front.fork.rake", 26.5, "deg"),
    ("front.rake", 26.5, "deg"),
    ("front.shock.length", 383.05, "mm"),
    ("front.shock.spring.rate", 11.5, "N/mm"),
    ("front.linkage.points.axle.x", 905.0, "mm"),
    ("front.fork.leg[0].air.oil_level", 115.0, "mm"),
    ("front.fork.leg[1].spring.preload", 6.0, "mm"),
    ("masses.rider.front", 30.0, "kg"),
    ("targets.rear.rider_sag.value", 102.0, "mm"),
    ("measuring.rear.uncertainty", 2.0, "mm"),
];

/// A value at an address: taken, and then there, or refused.
pub fn edit(choices: &mut Choices<'_>) {
    let Ok(bike) = Bike::from_toml(FILES[choices.below(FILES.len())]) else { return };
    let (address, value, unit) = *choices.of(&EDITED.each_ref());
    let value = format!("{} {unit}", choices.near(value));
    let text = mutated(&value, choices);
    for changed in [bike.what_if(&[(address, &text)]), bike.correct(&[(address, &text)])].into_iter().flatten() {
        assert_eq!(Bike::from_toml(&changed.to_toml()).as_ref(), Ok(&changed), "{address} = {text}");
    }
}

/// A log of changes and readings in any order: walked through, or refused; the bike of a day is a bike.
pub fn log(choices: &mut Choices<'_>) {
    let alone = PATROL.split("[[reading]]").next().unwrap_or_default();
    let mut text = alone.to_owned();
    let day = |choices: &mut Choices<'_>| {
        let day = format!("2026-{:02}-{:02}", 1 + choices.below(12), 1 + choices.below(28));
        if choices.once_in(3) { format!("{day} {:02}:{:02}", choices.below(24), choices.below(60)) } else { day }
    };
    for _ in 0..choices.below(6) {
        let (key, value, unit) = *choices.of(&EDITED.each_ref());
        let value = if choices.once_in(12) { choices.near(value) } else { value * choices.within(0.97, 1.03) };
        let date = if choices.once_in(8) { "what if".to_owned() } else { day(choices) };
        let what = if choices.once_in(12) {
            format!("added = [\"{key}\"]")
        } else {
            format!("was = {{ \"{key}\" = \"{value} {unit}\" }}")
        };
        text += &mutated_seldom(&format!("[[change]]\ndate = \"{date}\"\n{what}\n"), choices);
    }
    for _ in 0..choices.below(8) {
        let end = choices.of(&["front", "rear"]);
        let load = choices.of(&["none", "bike", "bike + rider"]);
        let distance = choices.within(500.0, 660.0);
        let dated = if choices.once_in(12) { String::new() } else { format!("date = \"{}\"\n", day(choices)) };
        let row = format!("[[reading]]\nend = \"{end}\"\nload = \"{load}\"\ndistance = \"{distance:.1} mm\"\n{dated}");
        text += &mutated_seldom(&row, choices);
    }
    if let Ok(bike) = Bike::from_toml(&text) {
        assert_eq!(Bike::from_toml(&bike.to_toml()).as_ref(), Ok(&bike), "{text}");
        let log = bike.log().unwrap();
        let sets = End::BOTH.map(|end| log.sets(end).iter().map(|set| set.readings.len()).sum::<usize>());
        assert_eq!(sets[0] + sets[1], bike.parts().readings.len(), "{text}");
        if let Ok(then) = bike.at(&day(choices)) {
            assert!(then.log().is_ok(), "{text}");
        }
    }
}

fn mutated_seldom(text: &str, choices: &mut Choices<'_>) -> String {
    if choices.once_in(10) { mutated(text, choices) } else { text.to_owned() }
}

/// The text without its riders: a sheet for a team takes as long as thirty without.
fn without_riders(text: &str) -> String {
    let mut inside = false;
    let keeps = |line: &&str| {
        if line.starts_with('[') {
            inside = line.starts_with("[riders");
        }
        !inside
    };
    text.lines().filter(keeps).collect::<Vec<_>>().join("\n")
}

/// Readings to fit to decision to sheet: chances are chances, and no number of the sheet is none.
pub fn decision(choices: &mut Choices<'_>) {
    let mut text = text(choices, true);
    if choices.below(16) != 0 {
        text = without_riders(&text);
    }
    let Ok(bike) = Bike::from_toml(&text) else { return };
    for end in End::BOTH {
        if let Ok(fit) = bike.fit_end(end) {
            let numbers = [
                fit.rate.value.si(),
                fit.rate.standard_uncertainty.si(),
                fit.preload.value.si(),
                fit.friction.value.si(),
            ];
            assert!(numbers.iter().all(|number| number.is_finite()), "{text}\n{fit:?}");
        }
        if let Ok(advice) = bike.advise_end(end) {
            let said = serde_json::to_string(&advice).unwrap();
            assert!(!said.contains("NaN") && !said.contains("inf "), "{text}\n{said}");
        }
    }
    if let Ok(sheet) = bike.sheet(UnitSystem::Metric) {
        let page = sheet.to_text(80);
        assert!(
            !page.contains("NaN") && !page.split_whitespace().any(|word| word.trim_matches(['-', '(', ')']) == "inf"),
            "{text}\n{page}"
        );
    }
}
