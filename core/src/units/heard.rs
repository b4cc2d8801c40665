//! A quantity as people say it at the bike, made into the text that a file takes: `5.6 kg` of a spring, `4,4 N/mm`,
//! `190 pounds`, a bare `41`.
//!
//! A file stays strict, as nobody is there to be asked what was meant. Whoever asks repeats what was heard, and it is put
//! right there.

use super::kind::Kind;
use super::text::parse_si;
use crate::error::UnitError;

/// What people say for a unit, by kind: the unit's symbol, and the words for it beside its own spellings, in small letters. A
/// spring of `5.6 kg` is one of 5.6 kgf/mm: springs are sold so (common practice, no source).
const SAID: &[(&str, &str, &[&str])] = &[
    ("spring rate", "kgf/mm", &["kg", "kgf", "kilo", "kp", "kgf mm", "kg mm"]),
    ("spring rate", "lbf/in", &["lb", "lbf", "pound", "#", "lb in", "lbf in", "lb/inch", "pounds per inch"]),
    ("spring rate", "N/mm", &["n", "nm", "nmm", "n mm", "newton"]),
    ("mass", "kg", &["kilo", "kilogram", "kilogramme", "kgf"]),
    ("mass", "lb", &["pound", "#", "lbf"]),
    ("length", "in", &["inche", "''", "″", "”"]),
    ("angle", "deg", &["º", "degree"]),
    ("share", "%", &["per cent", "pct"]),
];

/// The text of a quantity as it is said, in words that [`parse`](super::parse) takes. A number without a unit is one of
/// `usual`, or of inches where it has a fraction.
///
/// ```
/// use wheelrate::units::{heard, kind};
/// assert_eq!(heard(&kind::SPRING_RATE, "5,6 kg", "N/mm")?, "5.6 kgf/mm");
/// assert_eq!(heard(&kind::LENGTH, "41", "mm")?, "41 mm");
/// assert!(heard(&kind::LENGTH, "41 kg", "mm").is_err());
/// # Ok::<(), wheelrate::error::UnitError>(())
/// ```
///
/// # Errors
/// As [`parse`](super::parse), of the text with its comma mended.
pub fn heard(kind: &'static Kind, text: &str, usual: &str) -> Result<String, UnitError> {
    let said = with_points(text.trim());
    let end = said.find(|sign: char| !(sign.is_ascii_digit() || "+-−./ ".contains(sign))).unwrap_or(said.len());
    let (number, unit) = said.split_at(end);
    let (number, unit) = (number.trim(), unit.trim());
    let symbol = match unit {
        "" if number.contains('/') => Some("in"),
        "" => Some(usual),
        _ => symbol(kind, unit),
    };
    let meant = match symbol {
        Some(symbol) if !number.is_empty() => format!("{number} {symbol}"),
        _ => said,
    };
    parse_si(kind, &meant).map(|_| meant)
}

/// Commas between digits made into points.
fn with_points(text: &str) -> String {
    let signs: Vec<char> = text.chars().collect();
    let digit = |at: Option<usize>| at.and_then(|at| signs.get(at)).is_some_and(char::is_ascii_digit);
    let mended = |(at, sign): (usize, &char)| match sign {
        ',' if digit(at.checked_sub(1)) && digit(Some(at + 1)) => '.',
        _ => *sign,
    };
    signs.iter().enumerate().map(mended).collect()
}

/// The unit that a word means: by its own spellings, then whatever its letters' size, then by what people say.
fn symbol(kind: &'static Kind, word: &str) -> Option<&'static str> {
    if let Some(unit) = kind.unit(word) {
        return Some(unit.symbol);
    }
    let small = word.to_lowercase();
    let bare = small.trim_end_matches('.');
    let one = bare.strip_suffix('s').unwrap_or(bare);
    let alike = |spelling: &str| [bare, one].contains(&spelling.to_lowercase().as_str());
    let spelled = kind.units.iter().find(|unit| alike(unit.symbol) || unit.aliases.iter().any(|alias| alike(alias)));
    let said = SAID.iter().find(|(of, _, words)| *of == kind.name && words.iter().any(|word| alike(word)));
    spelled.map(|unit| unit.symbol).or(said.map(|(_, symbol, _)| *symbol))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::kind;

    #[test]
    fn what_people_say_is_understood() {
        for (of, said, meant) in [
            (&kind::SPRING_RATE, "5.6 kg", "5.6 kgf/mm"),
            (&kind::SPRING_RATE, "0,47kgf/mm", "0.47 kgf/mm"),
            (&kind::SPRING_RATE, "4,4 n/mm", "4.4 N/mm"),
            (&kind::SPRING_RATE, "300 Pounds", "300 lbf/in"),
            (&kind::SPRING_RATE, "300#", "300 lbf/in"),
            (&kind::SPRING_RATE, "52", "52 N/mm"),
            (&kind::MASS, "88 kilos", "88 kg"),
            (&kind::MASS, "190 lbs.", "190 lb"),
            (&kind::LENGTH, "41 MM", "41 mm"),
            (&kind::LENGTH, "12.5 inches", "12.5 in"),
            (&kind::LENGTH, "-3", "-3 mm"),
            (&kind::ANGLE, "26,5°", "26.5 deg"),
            (&kind::SHARE, "33 per cent", "33 %"),
            (&kind::SHARE, "33%", "33 %"),
        ] {
            assert_eq!(heard(of, said, of.units[0].symbol).as_deref(), Ok(meant), "{said}");
        }
    }

    #[test]
    fn what_makes_no_sense_is_said_as_of_a_file() {
        for (of, said, says) in [
            (&kind::LENGTH, "41 kg", "mass"),
            (&kind::LENGTH, "41 furlong", "furlong"),
            (&kind::MASS, "heavy", "heavy"),
            (&kind::MASS, "", "mass"),
            (&kind::SPRING_RATE, "5.6 mm", "length"),
            (&kind::LENGTH, "1.2.3 mm", "1.2.3"),
        ] {
            let error = heard(of, said, of.units[0].symbol).unwrap_err().to_string();
            assert!(error.contains(says), "{said}: {error}");
        }
    }

    #[test]
    fn every_spelling_of_every_unit_is_heard_as_that_unit() {
        for of in kind::ALL {
            for unit in of.units {
                for spelling in [unit.symbol].iter().chain(unit.aliases) {
                    let text = heard(of, &format!("2 {spelling}"), of.units[0].symbol).unwrap();
                    assert_eq!(parse_si(of, &text), parse_si(of, &format!("2 {}", unit.symbol)), "{spelling}");
                }
            }
        }
    }
}
