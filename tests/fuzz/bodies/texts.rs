//! Texts: quantities and addresses.

use wheelrate::error::Address;
use wheelrate::units::kind::ALL;
use wheelrate::units::{exact_text, heard, parse_si};

use crate::choices::Choices;

/// Signs that mean something to somebody, and some that should not.
const SIGNS: &[&str] = &[
    "-", "+", ".", ",", "/", " ", "e", "E9", "0", "9", "²", "\u{2212}", "\u{a0}", "±", "\"", "'", "%", "\0",
    "\u{202e}", "𝄞", "\n",
];

/// A text with some signs put in, taken out or doubled.
pub fn mutated(text: &str, choices: &mut Choices<'_>) -> String {
    let mut signs: Vec<String> = text.chars().map(String::from).collect();
    for _ in 0..choices.below(4) {
        let at = choices.below(signs.len() + 1);
        match choices.below(4) {
            0 if at < signs.len() => drop(signs.remove(at)),
            1 if at < signs.len() => {
                let twice = signs[at].clone();
                signs.insert(at, twice);
            }
            2 if at < signs.len() => signs[at] = choices.of(SIGNS).to_owned(),
            _ => signs.insert(at, choices.of(SIGNS).to_owned()),
        }
    }
    signs.concat()
}

/// What is read is finite and reads back to the bit; what is said aloud reads as what it is heard as.
pub fn unit(choices: &mut Choices<'_>) {
    let kind = ALL[choices.below(ALL.len())];
    let of = &ALL[choices.below(ALL.len())];
    let unit = if choices.once_in(4) { of.units } else { kind.units };
    let unit = &unit[choices.below(unit.len())];
    let spelling = if choices.once_in(2) || unit.aliases.is_empty() {
        unit.symbol
    } else {
        unit.aliases[choices.below(unit.aliases.len())]
    };
    let size = choices.within(-1e3, 1e3);
    let number = choices.near(size);
    let gap = if choices.once_in(2) { " " } else { "" };
    let text = mutated(&format!("{number}{gap}{spelling}"), choices);
    if let Ok(si) = parse_si(kind, &text) {
        assert!(si.is_finite(), "{text:?} is {si}");
        let written = exact_text(kind, si);
        assert_eq!(parse_si(kind, &written).map(f64::to_bits), Ok(si.to_bits()), "{text:?} as {written:?}");
    }
    if let Ok(meant) = heard(kind, &text, kind.units[0].symbol) {
        assert!(parse_si(kind, &meant).is_ok(), "{text:?} heard as {meant:?}");
    }
}

/// What is read as an address is written as it, and written again reads back.
pub fn address(choices: &mut Choices<'_>) {
    let known = choices.of(&[
        "front.fork.leg[0].spring.rate",
        "masses.\"medical pack\".rear",
        "reading 2.sag",
        "rear.linkage.points.axle.x",
        "change[0].was.\"rear.shock.spring.rate\"",
    ]);
    let text = mutated(known, choices);
    if let Some(address) = Address::parse(&text) {
        assert_eq!(Address::parse(&address.to_string()).as_ref(), Some(&address), "{text:?}");
        assert!(address == *text.as_str() || Address::parse(&text).as_ref() == Some(&address));
    }
}
