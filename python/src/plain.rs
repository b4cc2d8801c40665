//! Arguments that Python takes for what they are not: a count below zero, a text with half a character in it.

use std::ops::Deref;

use pyo3::exceptions::PyUnicodeError;
use pyo3::prelude::*;
use pyo3::types::IntoPyDict;
#[cfg(feature = "introspection")]
use pyo3::{inspect::PyStaticExpr, type_hint_identifier};

use crate::errors::raise;

/// A whole number, zero or more, of an argument that Python may give any whole number for.
pub(crate) fn whole<T: TryFrom<i128>>(py: Python<'_>, argument: &str, given: i128) -> PyResult<T> {
    let wanted = "a whole number, zero or more, of no more than 19 digits";
    T::try_from(given).map_err(|_| refused(py, "Count", argument, &given.to_string(), wanted))
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
        let py = object.py();
        object.extract().map(Self).map_err(|error: PyErr| match error.is_instance_of::<PyUnicodeError>(py) {
            true => refused(py, "Text", "text", "half a character (a lone surrogate)", "text of whole characters"),
            false => error,
        })
    }
}

/// An argument that cannot be taken; what is said of it stands in the details too.
fn refused(py: Python<'_>, case: &str, argument: &str, found: &str, wanted: &str) -> PyErr {
    let details = [("field", argument), ("found", found), ("wanted", wanted)].into_py_dict(py);
    let message = format!("{argument}: found {found}, wanted {wanted}");
    details.map_or_else(|error| error, |details| raise(py, "UnitError", (message, case, details)))
}
