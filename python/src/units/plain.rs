//! Arguments that are plain numbers: one finite real number, by the door that all numbers go through.

use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple};
use wheelrate::error::UnitError;

use super::{numbers, shown};
use crate::errors::{exception, raise};

/// What it has to be.
const WANTED: &str = "one number";

/// A finite number under this name.
pub(crate) fn number(object: &Bound<'_, PyAny>, argument: &str) -> PyResult<f64> {
    let py = object.py();
    match numbers::one(object) {
        Ok(number) if number.is_finite() => Ok(number),
        Ok(number) => {
            let (field, found) = (argument.to_owned(), number.to_string());
            Err(exception(py, &UnitError::NotFiniteField { field, kind: "number", found }.into(), None))
        }
        Err(because) => {
            let found = shown(object);
            let message = format!("{argument}: {found} is not {WANTED}: {because}; wanted: a plain number");
            let details = PyDict::new(py);
            for (name, value) in [("field", argument), ("found", &found), ("wanted", WANTED), ("kind", "number")] {
                details.set_item(name, value)?;
            }
            Err(raise(py, "UnitError", (message, "NotNumbers", details)))
        }
    }
}

/// Readers for `from_py_with`, each under the name of its argument.
macro_rules! named {
    ($($name:ident),+) => {
        $(pub(crate) fn $name(object: &Bound<'_, PyAny>) -> PyResult<f64> {
            number(object, stringify!($name))
        })+
    };
}

named!(
    active_coils,
    coverage_factor,
    exponent,
    factor,
    fast,
    pixel_uncertainty,
    rate_factor,
    shear_modulus_uncertainty,
    slow
);

/// Counts of coils.
pub(crate) fn coils(object: &Bound<'_, PyAny>) -> PyResult<Vec<f64>> {
    let each = object.try_iter()?.enumerate();
    each.map(|(at, count)| number(&count?, &format!("coils[{at}]"))).collect()
}

/// A count of coils and its uncertainty.
pub(crate) fn active_coils_known_to(object: &Bound<'_, PyAny>) -> PyResult<(f64, f64)> {
    let items: Vec<_> = object.cast::<PyTuple>().map(|pair| pair.iter().collect()).unwrap_or_default();
    match items.as_slice() {
        [coils, spread] => Ok((number(coils, "active_coils[0]")?, number(spread, "active_coils[1]")?)),
        _ => {
            let message = format!(
                "active_coils: {} is not a pair; wanted: the count and its standard uncertainty, e.g. (6.5, 0.25)",
                shown(object)
            );
            Err(raise(object.py(), "UnitError", (message,)))
        }
    }
}
