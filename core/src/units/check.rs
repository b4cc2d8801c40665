//! Checks at construction: every constructor of the library runs its inputs through one of these, so that a fault is
//! reported in the same words everywhere: the field, what was found, what would do.

use super::Quantity;
use super::text::{brief, ten_digits};
use crate::error::UnitError;

/// Refuses NaN and infinity.
///
/// # Errors
/// [`UnitError::NotFiniteField`].
pub fn finite<Q: Quantity>(field: &str, quantity: Q) -> Result<Q, UnitError> {
    if quantity.si().is_finite() {
        Ok(quantity)
    } else {
        Err(UnitError::NotFiniteField { field: field.to_owned(), kind: Q::KIND.name, found: quantity.si().to_string() })
    }
}

/// Refuses everything that is not above zero.
///
/// # Errors
/// [`UnitError::NotFiniteField`], [`UnitError::Sign`].
pub fn positive<Q: Quantity>(field: &str, quantity: Q) -> Result<Q, UnitError> {
    let checked = finite(field, quantity)?;
    if checked.si() > 0.0 { Ok(checked) } else { Err(sign(field, quantity, "more than zero")) }
}

/// Refuses everything below zero.
///
/// # Errors
/// [`UnitError::NotFiniteField`], [`UnitError::Sign`].
pub fn not_negative<Q: Quantity>(field: &str, quantity: Q) -> Result<Q, UnitError> {
    let checked = finite(field, quantity)?;
    if checked.si() >= 0.0 { Ok(checked) } else { Err(sign(field, quantity, "zero or more")) }
}

/// Refuses a magnitude outside a generous range and says which unit was probably meant: a 480 mm wire, a 5 N/m spring.
/// The range is one no real part leaves; it catches slips of unit, not taste.
///
/// # Errors
/// [`UnitError::NotFiniteField`], [`UnitError::Implausible`].
pub fn plausible<Q: Quantity>(field: &str, quantity: Q, low: Q, high: Q) -> Result<Q, UnitError> {
    let si = finite(field, quantity)?.si();
    if (low.si()..=high.si()).contains(&si) {
        return Ok(quantity);
    }
    let ((found, low_text), (_, high_text)) = (apart(quantity, low), apart(quantity, high));
    let found = if si > high.si() { apart(quantity, high).0 } else { found };
    Err(UnitError::Implausible {
        field: field.to_owned(),
        kind: Q::KIND.name,
        found,
        low: low_text,
        high: high_text,
        suggestion: probable_slip(quantity, low.si(), high.si()),
    })
}

/// Both, to as many digits as keep them apart.
fn apart<Q: Quantity>(one: Q, other: Q) -> (String, String) {
    let (first, second) = (brief(one), brief(other));
    if first != second {
        return (first, second);
    }
    let unit = &Q::KIND.units[0];
    let exact = |quantity: Q| format!("{} {}", ten_digits(unit.from_si(quantity.si())), unit.symbol);
    (exact(one), exact(other))
}

/// The likeliest pair of units that turns the value into a plausible one: the number as it stands in one unit of the
/// kind, read in another. Units are tried in table order, which is how common they are.
fn probable_slip<Q: Quantity>(quantity: Q, low: f64, high: f64) -> Option<String> {
    let units = Q::KIND.units;
    let written = units.iter().map(|unit| (unit, unit.from_si(quantity.si())));
    // Prefer the reading whose number a person could have written: the fewest digits.
    let (unit, number) = written.min_by_key(|(_, number)| format!("{number}").len())?;
    units
        .iter()
        .filter(|meant| meant.symbol != unit.symbol)
        .find(|meant| (low..=high).contains(&meant.to_si(number)))
        .map(|meant| format!("{number} {}", meant.symbol))
}

/// Refuses what is not above another quantity.
///
/// # Errors
/// [`UnitError::NotFiniteField`], [`UnitError::Order`].
pub fn above<Q: Quantity>(field: &str, quantity: Q, other: &'static str, than: Q) -> Result<Q, UnitError> {
    if finite(field, quantity)?.si() > finite(other, than)?.si() {
        return Ok(quantity);
    }
    let (field, wanted, (found, than)) = (field.to_owned(), "more", apart(quantity, than));
    Err(UnitError::Order { field, found, wanted, other, than })
}

/// A dimensionless field: a finite plain number inside a closed range.
///
/// # Errors
/// [`UnitError::NumberRange`].
pub fn number_within(field: &str, number: f64, low: f64, high: f64) -> Result<f64, UnitError> {
    if number.is_finite() && (low..=high).contains(&number) {
        Ok(number)
    } else {
        Err(UnitError::NumberRange { field: field.to_owned(), found: number.to_string(), low, high })
    }
}

fn sign<Q: Quantity>(field: &str, quantity: Q, wanted: &'static str) -> UnitError {
    UnitError::Sign { field: field.to_owned(), kind: Q::KIND.name, found: brief(quantity), wanted }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Length;

    #[test]
    fn two_that_look_alike_are_written_to_more_digits() {
        let texts = |one: f64, other: f64| apart(Length::from_si(one), Length::from_si(other));
        assert_eq!(texts(0.1, 0.2), ("100 mm".to_owned(), "200 mm".to_owned()));
        assert_eq!(texts(0.1 / 3.0, 0.2), ("33.333 mm".to_owned(), "200 mm".to_owned()));
        let (one, other) = texts(0.1, 0.1 + 1e-8);
        assert!(one != other && other == "100.00001 mm", "{one} {other}");
    }
}
