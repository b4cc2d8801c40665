//! Arguments that Python takes for what they are not: a count below zero, a text with half a character in it.

use std::fmt;
use std::ops::Deref;

use pyo3::exceptions::{PyOverflowError, PyUnicodeError};
use pyo3::prelude::*;
use pyo3::types::IntoPyDict;
#[cfg(feature = "introspection")]
use pyo3::{inspect::PyStaticExpr, type_hint_identifier};

use crate::errors::raise;

const WHOLE: &str = "a whole number, zero or more, of no more than 19 digits";

/// A whole number, zero or more, of an argument that Python may give any whole number for.
pub(crate) fn whole<T: TryFrom<i128>>(py: Python<'_>, argument: &str, given: i128) -> PyResult<T> {
    T::try_from(given).map_err(|_| refused(py, "Count", argument, &given.to_string(), WHOLE))
}

/// A whole number of any argument, to be held to its bounds by [`whole`] under the argument's name.
pub(crate) fn integer(object: &Bound<'_, PyAny>) -> PyResult<i128> {
    let py = object.py();
    object.extract().map_err(|error: PyErr| match error.is_instance_of::<PyOverflowError>(py) {
        true => refused(py, "Count", "number", "a number of more than 38 digits", WHOLE),
        false => error,
    })
}

/// The same of an argument that may be left out.
pub(crate) fn optional_integer(object: &Bound<'_, PyAny>) -> PyResult<Option<i128>> {
    if object.is_none() { Ok(None) } else { integer(object).map(Some) }
}

/// A text of whole characters.
#[derive(Debug, Clone)]
pub(crate) struct Text(pub(crate) String);

impl Deref for Text {
    type Target = str;
    fn deref(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Text {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(self)
    }
}

impl AsRef<str> for Text {
    fn as_ref(&self) -> &str {
        &self.0
    }
}

impl<'py> FromPyObject<'_, 'py> for Text {
    type Error = PyErr;
    #[cfg(feature = "introspection")]
    const INPUT_TYPE: PyStaticExpr = type_hint_identifier!("builtins", "str");
    fn extract(object: Borrowed<'_, 'py, PyAny>) -> PyResult<Self> {
        object.extract().map(Self).map_err(|error| half_a_character(object.py(), error))
    }
}

/// A text of whole characters, of an argument that stands for one by default: the default is seen in its signature.
pub(crate) fn text<'a>(object: &'a Bound<'_, PyAny>) -> PyResult<&'a str> {
    object.extract().map_err(|error| half_a_character(object.py(), error))
}

fn half_a_character(py: Python<'_>, error: PyErr) -> PyErr {
    match error.is_instance_of::<PyUnicodeError>(py) {
        true => refused(py, "Text", "text", "half a character (a lone surrogate)", "text of whole characters"),
        false => error,
    }
}

/// An argument that cannot be taken; what is said of it stands in the details too.
fn refused(py: Python<'_>, case: &str, argument: &str, found: &str, wanted: &str) -> PyErr {
    let details = [("field", argument), ("found", found), ("wanted", wanted)].into_py_dict(py);
    let message = format!("{argument}: found {found}, wanted {wanted}");
    details.map_or_else(|error| error, |details| raise(py, "UnitError", (message, case, details)))
}
