//! The bike file: what is wrong with one, and its schema.

use pyo3::prelude::*;
use wheelrate::error::Fault;
use wheelrate::file;

use crate::errors::classes;
use crate::value::to_json;

/// The text of a file, and whether its name ends in `.json`.
pub(crate) fn text_of(path: &Bound<'_, PyAny>) -> PyResult<(String, bool)> {
    let path = path.py().import("pathlib")?.getattr("Path")?.call1((path,))?;
    let text: String = path.call_method1("read_text", ("utf-8",))?.extract()?;
    Ok((text, path.getattr("suffix")?.eq(".json")?))
}

/// Report every fault of a bike file, in the order of the text.
///
/// Parameters
/// ----------
/// text : str
///     A bike file.
/// json : bool, optional
///     Written as JSON; TOML unless so.
///
/// Returns
/// -------
/// list of Fault
///     Empty for a sound file.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> [fault] = wr.check('format = 1\n[bike]\nname = "x"\ncolour = "red"')
/// >>> fault.line, fault.column, fault.key_path
/// (4, 1, 'bike.colour')
#[pyfunction]
#[pyo3(signature = (text: "str", *, json: "bool" = false) -> "list[Fault]")]
pub(crate) fn check<'py>(py: Python<'py>, text: &str, json: bool) -> PyResult<Bound<'py, PyAny>> {
    let faults: Vec<Fault> = py.detach(|| if json { file::check_json(text) } else { file::check(text) });
    classes(py)?.call_method1("_faults", (to_json(&faults)?,))
}

/// The JSON Schema of the bike file, as text.
#[pyfunction]
pub(crate) fn json_schema() -> String {
    wheelrate::keys::json_schema()
}
