//! Checks at construction: every constructor of the library runs its inputs through one of these, so that a fault is
//! reported in the same words everywhere: the field, what was found, what would do.

use super::text::ten_digits;
use super::{Quantity, exact_text};
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
    Err(UnitError::Implausible {
        field: field.to_owned(),
        kind: Q::KIND.name,
        found: brief(quantity),
        low: brief(low),
        high: brief(high),
        suggestion: probable_slip(quantity, low.si(), high.si()),
    })
}

/// The quantity as text to ten digits.
fn brief<Q: Quantity>(quantity: Q) -> String {
    let unit = &Q::KIND.units[0];
    format!("{} {}", ten_digits(unit.from_si(quantity.si())), unit.symbol)
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
    let (field, wanted) = (field.to_owned(), "more");
    Err(UnitError::Order { field, found: brief(quantity), wanted, other, than: brief(than) })
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
    UnitError::Sign {
        field: field.to_owned(),
        kind: Q::KIND.name,
        found: exact_text(Q::KIND, ten_digits(quantity.si())),
        wanted,
    }
}
