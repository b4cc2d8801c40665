//! Text to quantity and back. Text always carries a unit; the two directions round-trip to the last bit.

use core::fmt;

use super::Quantity;
use super::kind::{ALL, Kind, Unit};
use crate::error::{UnitError, shortened};

/// Reads a quantity: `"105 mm"`, `"0.47 kgf/mm"`, `"26.5 deg"`. The space before the unit may be left out.
///
/// # Errors
/// [`UnitError`] when the unit is missing, unknown or of another kind, the number is not a finite decimal number, or its sign
/// is impossible for the kind.
pub fn parse<Q: Quantity>(text: &str) -> Result<Q, UnitError> {
    parse_si(Q::KIND, text).and_then(|si| Q::from_si(si).checked())
}

/// Reads a text of the given kind as its value in SI units. Used where the kind is known only at run time.
///
/// # Errors
/// As [`parse`].
pub fn parse_si(kind: &'static Kind, text: &str) -> Result<f64, UnitError> {
    let (number, unit) = split(kind, text)?;
    let si = unit.to_si(number);
    if si.is_finite() { Ok(si) } else { Err(UnitError::NotFinite { kind: kind.name, found: shortened(text.trim()) }) }
}

/// The unit of a spelling that stands beside numbers: as in a text, superscripts and spaces included.
///
/// # Errors
/// As [`parse`], of a text of one such unit.
pub fn parse_unit(kind: &'static Kind, spelling: &str) -> Result<&'static Unit, UnitError> {
    if let Some(unit) = kind.unit(spelling.trim()) {
        return Ok(unit);
    }
    let text = format!("1 {spelling}");
    match split(kind, &text)? {
        (1.0, unit) => Ok(unit),
        // A spelling that goes on with the number.
        _ => Err(wrong_unit(kind, &text, "1", spelling.trim())),
    }
}

/// Splits a text into its number and its unit, both checked.
fn split(kind: &'static Kind, text: &str) -> Result<(f64, &'static Unit), UnitError> {
    let normal = normalise(text);
    if let Some(found) = fraction(kind, &normal) {
        return Ok(found);
    }
    let (number_text, unit_text) = normal.split_at(number_end(&normal));
    let unit_text = unit_text.trim();
    if number_text.is_empty() {
        let lower = normal.to_ascii_lowercase();
        let bare = lower.trim_start_matches(['+', '-']);
        if bare.starts_with("nan") || bare.starts_with("inf") {
            return Err(UnitError::NotFinite { kind: kind.name, found: shortened(text.trim()) });
        }
        return Err(UnitError::NotANumber { kind: kind.name, found: shortened(text.trim()), example: example(kind) });
    }
    if let Some(rest) = unit_text.strip_prefix(',') {
        return Err(UnitError::DecimalComma {
            found: shortened(text.trim()),
            wanted: shortened(&format!("{number_text}.{rest}")),
        });
    }
    let number: f64 = number_text.parse().map_err(|_| UnitError::NotANumber {
        kind: kind.name,
        found: shortened(text.trim()),
        example: example(kind),
    })?;
    if unit_text.is_empty() {
        return Err(UnitError::BareNumber {
            kind: kind.name,
            found: shortened(text.trim()),
            units: kind.unit_list(),
            example: format!("{} {}", shortened(number_text), kind.units[0].symbol),
        });
    }
    match kind.unit(unit_text) {
        Some(unit) => Ok((number, unit)),
        None => Err(wrong_unit(kind, text.trim(), number_text, unit_text)),
    }
}

/// A length as it stands on a tape in inches: `2 5/8 in`, `5/8"`. Of a fraction that is none, or of another unit, nothing.
fn fraction(kind: &'static Kind, normal: &str) -> Option<(f64, &'static Unit)> {
    let (before, after) = normal.split_once('/')?;
    let below_end = after.find(|sign: char| !sign.is_ascii_digit()).unwrap_or(after.len());
    let (below, unit) = after.split_at(below_end);
    let unit = kind.unit(unit.trim()).filter(|unit| unit.symbol == "in")?;
    let (whole, above) = match before.trim().rsplit_once([' ', '-']) {
        Some((whole, above)) if !whole.is_empty() => (whole.trim(), above),
        _ => ("0", before.trim()),
    };
    let count =
        |digits: &str| digits.bytes().all(|digit| digit.is_ascii_digit()).then(|| digits.parse::<u32>().ok())?;
    let (whole, above, below) = (count(whole)?, count(above)?, count(below)?);
    (above < below).then(|| (f64::from(whole) + f64::from(above) / f64::from(below), unit))
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
            found: shortened(found),
            is: owner.name,
            units: kind.unit_list(),
        };
    }
    let lower = spelling.to_lowercase();
    let close = kind.units.iter().find(|unit| unit.symbol.to_lowercase() == lower);
    UnitError::UnknownUnit {
        kind: kind.name,
        found: shortened(found),
        unit: shortened(spelling),
        units: kind.unit_list(),
        suggestion: close.map(|unit| format!("{} {}", shortened(number), unit.symbol)),
    }
}

/// A quantity as a message names it: to five digits, in the unit that it was written in where that can be seen.
pub(crate) fn brief<Q: Quantity>(quantity: Q) -> String {
    quantity.display().to_string()
}

/// Writes a quantity with the fewest digits that read back to the same bits: in the unit that it was written in, where that
/// can be seen from its digits (`300 lbf/in`), else in its kind's output unit.
pub fn to_text<Q: Quantity>(quantity: Q) -> String {
    exact_text(Q::KIND, quantity.si())
}

/// As [`to_text`] for an SI value whose kind is known only at run time.
#[must_use]
pub fn exact_text(kind: &'static Kind, si: f64) -> String {
    /// Neighbours of the converted number to try: two roundings lose at most one unit in the last place each.
    const NEIGHBOURS: i32 = 3;
    if let Some((number, unit)) = as_written(kind, si) {
        return format!("{number} {}", unit.symbol);
    }
    for unit in kind.units {
        let near = unit.from_si(si);
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

/// The number and unit that a person wrote, where they can be seen from the value: a number of few digits in some unit that
/// gives the same bits. Of several, the first unit of the kind in which five digits do, else the one with the fewest.
///
/// A computed value is taken for a written one about once in a million times; it then reads back to the same bits all the
/// same.
pub(crate) fn as_written(kind: &'static Kind, si: f64) -> Option<(f64, &'static Unit)> {
    let short = |unit: &'static Unit| {
        let number = ten_digits(unit.from_si(si));
        (unit.to_si(number).to_bits() == si.to_bits()).then_some((number, unit))
    };
    let written: Vec<_> = kind.units.iter().filter_map(short).collect();
    let few = written.iter().find(|(number, _)| digits(*number) <= FEW_DIGITS);
    few.or_else(|| written.iter().min_by_key(|(number, _)| digits(*number))).copied()
}

/// As many digits as anybody writes on a label or reads off a tape, and as are shown of a computed value.
const FEW_DIGITS: usize = 5;

/// Significant digits of a number of ten digits.
fn digits(number: f64) -> usize {
    let text = format!("{:.9e}", number.abs());
    let mantissa = text.split('e').next().unwrap_or_default().trim_end_matches('0');
    mantissa.chars().filter(char::is_ascii_digit).count()
}

/// A quantity for a reader: five significant digits unless asked otherwise, in the unit that it was written in where that can
/// be seen, else in its kind's output unit. `{:.2}` asks for decimals, `{:>12}` for a width.
#[derive(Debug, Clone, Copy)]
pub struct Shown<Q>(pub(super) Q);

impl<Q: Quantity> fmt::Display for Shown<Q> {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let si = self.0.si();
        let (number, unit) = as_written(Q::KIND, si).unwrap_or_else(|| {
            let unit = &Q::KIND.units[0];
            (unit.from_si(si), unit)
        });
        let number = match formatter.precision() {
            Some(decimals) => rounded(number, decimals),
            None => significant(number),
        };
        padded(formatter, &format!("{number} {}", unit.symbol))
    }
}

/// A number to five significant digits, no zeros at its end.
fn significant(number: f64) -> String {
    let short: f64 = format!("{number:.*e}", FEW_DIGITS - 1).parse().unwrap_or(number);
    format!("{}", if short == 0.0 { 0.0 } else { short })
}

/// As `pad`, which would take the precision for a number of characters.
fn padded(formatter: &mut fmt::Formatter<'_>, text: &str) -> fmt::Result {
    let missing = formatter.width().unwrap_or(0).saturating_sub(text.chars().count());
    let before = match formatter.align() {
        None | Some(fmt::Alignment::Left) => 0,
        Some(fmt::Alignment::Right) => missing,
        Some(fmt::Alignment::Center) => missing / 2,
    };
    let fill = |count: usize| formatter.fill().to_string().repeat(count);
    let (left, right) = (fill(before), fill(missing - before));
    write!(formatter, "{left}{text}{right}")
}

/// The number of a quantity in the unit with this spelling.
///
/// # Errors
/// [`UnitError::UnknownUnit`] or [`UnitError::WrongKind`] when the kind has no such unit.
pub(super) fn number_in<Q: Quantity>(quantity: Q, spelling: &str) -> Result<f64, UnitError> {
    let unit = Q::KIND.unit(spelling).ok_or_else(|| wrong_unit(Q::KIND, spelling, "1", spelling))?;
    Ok(unit.from_si(quantity.si()))
}

/// A number as a quantity in the unit with this spelling.
///
/// # Errors
/// As [`number_in`], and [`UnitError::NotFinite`].
pub(super) fn from_number<Q: Quantity>(number: f64, spelling: &str) -> Result<Q, UnitError> {
    let unit = Q::KIND.unit(spelling).ok_or_else(|| wrong_unit(Q::KIND, spelling, "1", spelling))?;
    let si = unit.to_si(number);
    if si.is_finite() {
        Q::from_si(si).checked()
    } else {
        Err(UnitError::NotFinite { kind: Q::KIND.name, found: shortened(&format!("{number} {spelling}")) })
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
mod tests;
