//! Text to quantity and back. Text always carries a unit; the two directions round-trip to the last bit.

use super::Quantity;
use super::kind::{ALL, Kind, Unit};
use crate::error::UnitError;

/// Reads a quantity: `"105 mm"`, `"0.47 kgf/mm"`, `"26.5 deg"`. The space before the unit may be left out.
///
/// # Errors
/// [`UnitError`] when the unit is missing, unknown or of another kind, or the number is not a finite decimal number.
pub fn parse<Q: Quantity>(text: &str) -> Result<Q, UnitError> {
    parse_si(Q::KIND, text).map(Q::from_si)
}

/// Reads a text of the given kind as its value in SI units. Used where the kind is known only at run time.
///
/// # Errors
/// As [`parse`].
pub fn parse_si(kind: &'static Kind, text: &str) -> Result<f64, UnitError> {
    let (number, unit) = split(kind, text)?;
    let si = unit.to_si(number);
    if si.is_finite() { Ok(si) } else { Err(UnitError::NotFinite { kind: kind.name, found: text.trim().to_owned() }) }
}

/// Splits a text into its number and its unit, both checked.
fn split(kind: &'static Kind, text: &str) -> Result<(f64, &'static Unit), UnitError> {
    let normal = normalise(text);
    let end = number_end(&normal);
    let (number_text, unit_text) = (&normal[..end], normal[end..].trim());
    if number_text.is_empty() {
        let lower = normal.to_ascii_lowercase();
        let bare = lower.trim_start_matches(['+', '-']);
        if bare.starts_with("nan") || bare.starts_with("inf") {
            return Err(UnitError::NotFinite { kind: kind.name, found: text.trim().to_owned() });
        }
        return Err(UnitError::NotANumber { kind: kind.name, found: text.trim().to_owned(), example: example(kind) });
    }
    if let Some(rest) = unit_text.strip_prefix(',') {
        return Err(UnitError::DecimalComma { found: text.trim().to_owned(), wanted: format!("{number_text}.{rest}") });
    }
    let number: f64 = number_text.parse().map_err(|_| UnitError::NotANumber {
        kind: kind.name,
        found: text.trim().to_owned(),
        example: example(kind),
    })?;
    if unit_text.is_empty() {
        return Err(UnitError::BareNumber {
            kind: kind.name,
            found: text.trim().to_owned(),
            units: kind.unit_list(),
            example: format!("{number_text} {}", kind.units[0].symbol),
        });
    }
    match kind.unit(unit_text) {
        Some(unit) => Ok((number, unit)),
        None => Err(wrong_unit(kind, text.trim(), number_text, unit_text)),
    }
}

/// Superscripts, Unicode minus and runs of white space brought to one spelling.
fn normalise(text: &str) -> String {
    let plain: String = text
        .chars()
        .map(|c| match c {
            '\u{2212}' => '-',
            '²' => '2',
            '³' => '3',
            '\u{a0}' | '\u{2009}' | '\u{202f}' => ' ',
            other => other,
        })
        .collect();
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Length in bytes of the leading decimal number (sign, digits, point, exponent), 0 if there is none.
fn number_end(text: &str) -> usize {
    let bytes = text.as_bytes();
    let digits = |mut at: usize| {
        while bytes.get(at).is_some_and(u8::is_ascii_digit) {
            at += 1;
        }
        at
    };
    let start = usize::from(matches!(bytes.first(), Some(b'+' | b'-')));
    let mut end = digits(start);
    let mut count = end - start;
    if bytes.get(end) == Some(&b'.') {
        let fraction = digits(end + 1);
        count += fraction - end - 1;
        end = fraction;
    }
    if count == 0 {
        return 0;
    }
    if matches!(bytes.get(end), Some(b'e' | b'E')) {
        let sign = end + 1 + usize::from(matches!(bytes.get(end + 1), Some(b'+' | b'-')));
        let exponent = digits(sign);
        if exponent > sign {
            end = exponent;
        }
    }
    end
}

fn example(kind: &Kind) -> String {
    format!("100 {}", kind.units[0].symbol)
}

fn wrong_unit(kind: &'static Kind, found: &str, number: &str, spelling: &str) -> UnitError {
    let owner = ALL.iter().find(|other| other.unit(spelling).is_some());
    if let Some(owner) = owner {
        return UnitError::WrongKind {
            kind: kind.name,
            found: found.to_owned(),
            is: owner.name,
            units: kind.unit_list(),
        };
    }
    let lower = spelling.to_lowercase();
    let close = kind.units.iter().find(|unit| unit.symbol.to_lowercase() == lower);
    UnitError::UnknownUnit {
        kind: kind.name,
        found: found.to_owned(),
        unit: spelling.to_owned(),
        units: kind.unit_list(),
        hint: close.map(|unit| format!("; did you mean `{number} {}`?", unit.symbol)).unwrap_or_default(),
    }
}

/// Writes a quantity in its kind's output unit, with the fewest digits that read back to the same bits.
pub fn to_text<Q: Quantity>(quantity: Q) -> String {
    exact_text(Q::KIND, quantity.si())
}

/// As [`to_text`] for an SI value whose kind is known only at run time.
#[must_use]
pub fn exact_text(kind: &'static Kind, si: f64) -> String {
    /// Neighbours of the converted number to try: two roundings lose at most one unit in the last place each.
    const NEIGHBOURS: i32 = 3;
    for unit in kind.units {
        let near = unit.from_si(si);
        // What a person wrote has few digits: `28 %` and not a neighbour that reads the same.
        let short = ten_digits(near);
        if unit.to_si(short).to_bits() == si.to_bits() {
            return format!("{short} {}", unit.symbol);
        }
        let (mut below, mut above) = (near, near);
        for step in 0..=NEIGHBOURS {
            if step > 0 {
                below = below.next_down();
                above = above.next_up();
            }
            for candidate in [below, above] {
                if unit.to_si(candidate).to_bits() == si.to_bits() {
                    return format!("{candidate} {}", unit.symbol);
                }
            }
        }
    }
    // Every kind has a unit of factor 1, so only non-finite values, which no constructor lets in, come this far.
    format!("{} {}", kind.units[0].from_si(si), kind.units[0].symbol)
}

/// The number of a quantity in the unit with this spelling.
///
/// # Errors
/// [`UnitError::UnknownUnit`] or [`UnitError::WrongKind`] when the kind has no such unit.
pub fn number_in<Q: Quantity>(quantity: Q, spelling: &str) -> Result<f64, UnitError> {
    let unit = Q::KIND.unit(spelling).ok_or_else(|| wrong_unit(Q::KIND, spelling, "1", spelling))?;
    Ok(unit.from_si(quantity.si()))
}

/// A number as a quantity in the unit with this spelling.
///
/// # Errors
/// As [`number_in`], and [`UnitError::NotFinite`].
pub fn from_number<Q: Quantity>(number: f64, spelling: &str) -> Result<Q, UnitError> {
    let unit = Q::KIND.unit(spelling).ok_or_else(|| wrong_unit(Q::KIND, spelling, "1", spelling))?;
    let si = unit.to_si(number);
    if si.is_finite() {
        Ok(Q::from_si(si))
    } else {
        Err(UnitError::NotFinite { kind: Q::KIND.name, found: format!("{number} {spelling}") })
    }
}

/// Writes a quantity for a reader: the number rounded to `decimals` places, then the unit, e.g. `102.0 mm`.
/// An unknown spelling falls back to the kind's output unit, so that a report never fails over its units.
pub fn show<Q: Quantity>(quantity: Q, spelling: &str, decimals: usize) -> String {
    let unit = Q::KIND.unit(spelling).unwrap_or(&Q::KIND.units[0]);
    format!("{} {}", rounded(unit.from_si(quantity.si()), decimals), unit.symbol)
}

/// A number to so many places; "-0.0" is a rounding artefact, not information.
pub(super) fn rounded(number: f64, decimals: usize) -> String {
    let text = format!("{number:.decimals$}");
    match text.strip_prefix('-') {
        Some(size) if size.chars().all(|c| c == '0' || c == '.') => size.to_owned(),
        _ => text,
    }
}

/// A number to ten digits: a bound given in degrees is 60, not 59.99999999999999.
pub(super) fn ten_digits(exact: f64) -> f64 {
    format!("{exact:.9e}").parse().unwrap_or(exact)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Angle, Length, SpringRate, Temperature};
    use proptest::prelude::*;

    #[test]
    fn reads_what_a_person_writes() {
        for (text, si) in [("105 mm", 0.105), ("105mm", 0.105), (" 4.134 in ", 4.134 * 25.4 / 1000.0), ("1e2 mm", 0.1)]
        {
            assert_eq!(parse::<Length>(text).map(Quantity::si), Ok(si), "{text}");
        }
        assert_eq!(parse::<SpringRate>("0.47 kg/mm"), parse::<SpringRate>("0.47 kgf/mm"));
        assert!(
            (parse::<Angle>("26.5 deg").map(Quantity::si).unwrap_or(f64::NAN) - 26.5_f64.to_radians()).abs() < 1e-16
        );
        assert!((parse::<Temperature>("68 degF").map(Quantity::si).unwrap_or(f64::NAN) - 293.15).abs() < 1e-12);
    }

    #[test]
    fn few_digits_and_no_zero_below_zero() {
        use crate::units::{Share, Uncertain};
        // 100·0.28 is 28.000000000000004.
        assert_eq!(to_text(parse::<Share>("28 %").unwrap()), "28 %");
        let hardly = Uncertain { value: Length::from_si(-2e-5), standard_uncertainty: Length::from_si(1.8e-3) };
        assert_eq!((show(hardly.value, "mm", 1).as_str(), hardly.show("mm").as_str()), ("0.0 mm", "0.0 ± 1.8 mm"));
    }

    #[test]
    fn says_what_is_wrong() {
        let message = |text| parse::<Length>(text).map_or_else(|e| e.to_string(), |q| format!("read as {q:?}"));
        assert!(message("105").contains("no unit") && message("105").contains("105 mm"), "{}", message("105"));
        assert!(message("1,5 mm").contains("1.5 mm"), "{}", message("1,5 mm"));
        assert!(message("105 N").contains("force"), "{}", message("105 N"));
        assert!(message("105 MM").contains("did you mean `105 mm`"), "{}", message("105 MM"));
        assert!(message("NaN mm").contains("finite"), "{}", message("NaN mm"));
        assert!(message("inf mm").contains("finite"), "{}", message("inf mm"));
        assert!(message("1e999 mm").contains("finite"), "{}", message("1e999 mm"));
        assert!(message("about 5 mm").contains("number"), "{}", message("about 5 mm"));
        assert!(message("").contains("number"), "{}", message(""));
    }

    proptest! {
        #[test]
        fn text_round_trips_to_the_bit(mantissa in -10.0..10.0_f64, exponent in -12..12) {
            let value = mantissa * 10f64.powi(exponent);
            for kind in ALL {
                prop_assert_eq!(parse_si(kind, &exact_text(kind, value)).map(f64::to_bits), Ok(value.to_bits()), "{}", kind.name);
            }
        }

        #[test]
        fn any_text_is_read_or_refused_without_panic(text in "\\PC{0,24}") {
            for kind in ALL {
                let _ = parse_si(kind, &text);
            }
        }
    }
}
