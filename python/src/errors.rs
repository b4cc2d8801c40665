//! Errors of the core as Python exceptions, and the one wrapper around its work.
//!
//! The classes live in `wheelrate/errors.py`. An error of the core is data (topic, case, fields), so the translation is
//! the same for all of them: the topic names the class, the fields become attributes, and beside them what every
//! case says: `field`, `found`, `wanted`, `suggestion`.

use std::panic::{AssertUnwindSafe, catch_unwind};

use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use wheelrate::Error;

/// Does the work of the core without the GIL. Errors become exceptions, so does a panic, and Ctrl-C is heard.
pub(crate) fn run<T: Send, E: Into<Error> + Send>(
    py: Python<'_>,
    work: impl FnOnce() -> Result<T, E> + Send,
) -> PyResult<T> {
    let outcome = py.detach(|| catch_unwind(AssertUnwindSafe(work)));
    py.check_signals()?;
    match outcome {
        Ok(result) => result.map_err(|error| exception(py, &error.into(), None)),
        Err(panic) => {
            let reason = panic.downcast_ref::<String>().map(String::as_str);
            let reason = reason.or_else(|| panic.downcast_ref::<&str>().copied()).unwrap_or("no reason given");
            Err(raise(py, "InternalError", (format!("a fault of wheelrate itself, please report it: {reason}"),)))
        }
    }
}

/// The exception of an error, with the name of the argument at fault in front when the error does not know it.
pub(crate) fn exception(py: Python<'_>, error: &Error, argument: Option<&str>) -> PyErr {
    // Serialising plain enums of text and numbers does not fail; if it did, the message would still arrive.
    let text = |data: serde_json::Result<String>| data.unwrap_or_else(|_| "{}".to_owned());
    let [case, said] = [serde_json::to_string(error), serde_json::to_string(&error.details())].map(text);
    let made = py.import("json").and_then(|json| {
        let read = |data: String| json.call_method1("loads", (data,));
        classes(py)?.call_method1("_from_core", (error.to_string(), read(case)?, read(said)?, argument))
    });
    made.map_or_else(|failure| failure, PyErr::from_value)
}

/// An exception made here, by the name of its class.
pub(crate) fn raise<'py>(py: Python<'py>, class: &str, arguments: impl pyo3::call::PyCallArgs<'py>) -> PyErr {
    classes(py)
        .and_then(|module| module.call_method1(class, arguments))
        .map_or_else(|failure| failure, PyErr::from_value)
}

pub(crate) fn classes(py: Python<'_>) -> PyResult<&Bound<'_, PyModule>> {
    static CLASSES: PyOnceLock<Py<PyModule>> = PyOnceLock::new();
    CLASSES.get_or_try_init(py, || py.import("wheelrate.errors").map(Bound::unbind)).map(|module| module.bind(py))
}
