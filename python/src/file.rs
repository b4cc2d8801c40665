//! The bike file: read and written, what is wrong with one, and its schema.

use pyo3::prelude::*;
use pyo3::types::PyDict;
use wheelrate::error::Fault;
use wheelrate::file::start::Template;
use wheelrate::file::{self, amend};

use crate::bike::Bike;
use crate::errors::{classes, raise, run, run_long};
use crate::log::{pairs, value_texts};
use crate::plain::{Text, text};
use crate::record::Reading;
use crate::value::to_json;

/// The text of a file, and whether its name ends in `.json`.
pub(crate) fn text_of(path: &Bound<'_, PyAny>) -> PyResult<(Text, bool)> {
    let path = path.py().import("pathlib")?.getattr("Path")?.call1((path,))?;
    // As much of it as is refused: no file is too long for the machine.
    let opened = path.call_method1("open", ("r", -1, "utf-8"))?;
    let text = opened.call_method1("read", (file::LARGEST + 1,)).and_then(|text| text.extract());
    opened.call_method0("close")?;
    let text: Text = text?;
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
///     Empty for a sound file. Of more than 50 the last says how many more there are.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> [fault] = wr.check('format = 1\n[bike]\nname = "x"\ncolour = "red"')
/// >>> fault.line, fault.column, fault.key_path
/// (4, 1, 'bike.colour')
#[pyfunction]
#[pyo3(signature = (text: "str", *, json: "bool" = false) -> "list[Fault]")]
pub(crate) fn check<'py>(py: Python<'py>, text: Text, json: bool) -> PyResult<Bound<'py, PyAny>> {
    let checked = || Ok::<_, wheelrate::Error>(if json { file::check_json(&text) } else { file::check(&text) });
    let faults: Vec<Fault> = run_long(py, checked)?;
    classes(py)?.call_method1("_faults", (to_json(&faults)?,))
}

/// Read a bike file as far as it can be read: faults of one end never hide the other.
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
/// tuple of Bike and dict of str to list of Fault
///     The bike without the end at fault, and the faults of that end by its name; none for a sound file.
///
/// Raises
/// ------
/// FileError
///     With every fault of the text, where they are not all of one end.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> bike, faults = wr.read_partly(wr.demo_file().replace('stroke = "118 mm"', 'stroke = "118"'))
/// >>> bike.ends, faults["rear"][0].key_path
/// (['front'], 'rear.shock.stroke')
#[pyfunction]
#[pyo3(signature = (text: "str", *, json: "bool" = false) -> "tuple[Bike, dict[str, list[Fault]]]")]
pub(crate) fn read_partly<'py>(py: Python<'py>, text: Text, json: bool) -> PyResult<(Bike, Bound<'py, PyDict>)> {
    let read = run(py, || if json { file::partly_json(&text) } else { file::partly(&text) })?;
    let faults = PyDict::new(py);
    if let Some(unread) = read.unread {
        let of_end = classes(py)?.call_method1("_faults", (to_json(&unread.faults)?,))?;
        faults.set_item(unread.end.name(), of_end)?;
    }
    Ok((Bike(read.bike), faults))
}

/// The JSON Schema of the bike file, as text.
#[pyfunction]
pub(crate) fn json_schema() -> String {
    wheelrate::keys::json_schema()
}

/// Put values at key paths of a bike file's text; its comments, order and blanks stay.
///
/// A key that stands in a comment is brought out of it. Whether the result is a sound bike is for `check` to say.
///
/// Parameters
/// ----------
/// text : str
///     A bike file in TOML.
/// values : dict of str to value
///     By key path, as for `Bike.correct`.
///
/// Returns
/// -------
/// str
///     The text amended.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> wr.set_keys('[front.fork]\n# rake = "26 deg"  # as read\n', {"front.fork.rake": "27 deg"})
/// '[front.fork]\nrake = "27 deg"    # as read\n'
#[pyfunction]
#[pyo3(signature = (text: "str", values: "dict[str, str | float | list[str] | dict[str, str]]") -> "str")]
pub(crate) fn set_keys(py: Python<'_>, text: Text, values: &Bound<'_, PyDict>) -> PyResult<String> {
    let texts = value_texts(values)?;
    run(py, || amend::set_keys(&text, &pairs(&texts)))
}

/// Put readings after those of a bike file's text; all else stays as it is.
///
/// Parameters
/// ----------
/// text : str
///     A bike file in TOML.
/// readings : list of Reading
///     What was read.
///
/// Returns
/// -------
/// str
///     The text amended.
#[pyfunction]
#[pyo3(signature = (text: "str", readings) -> "str")]
pub(crate) fn append_readings(py: Python<'_>, text: Text, readings: Vec<Reading>) -> PyResult<String> {
    let readings: Vec<_> = readings.into_iter().map(|reading| reading.0).collect();
    run_long(py, || amend::append_readings(&text, &readings))
}

/// Change values of a bike file's text on a date, and log the change there; all else stays as it is.
///
/// Parameters
/// ----------
/// text : str
///     A bike file in TOML.
/// date : str
///     A day, ``"2026-06-14"``, or a day with a time, ``"2026-06-14 19:30"``.
/// values : dict of str to value
///     By key path, as for `Bike.with_logged_change`.
/// note : str, optional
///     Anything worth remembering.
///
/// Returns
/// -------
/// str
///     The text amended.
#[pyfunction]
#[pyo3(signature = (text: "str", date: "str", values: "dict[str, str | float | list[str] | dict[str, str]]", note: "str | None" = None) -> "str")]
pub(crate) fn log_change(
    py: Python<'_>,
    text: Text,
    date: Text,
    values: &Bound<'_, PyDict>,
    note: Option<Text>,
) -> PyResult<String> {
    let texts = value_texts(values)?;
    run_long(py, || amend::log_change(&text, &date, &pairs(&texts), note.as_deref()))
}

/// The text of a bike file to start from: every key that a person may know, behind a ``#`` until it is known.
///
/// Parameters
/// ----------
/// template : {"little", "table", "pivots"}
///     Room for what a data sheet, labels and bathroom scales give; for a table of shock lengths and two scales too; for the
///     pivots of the linkage too.
///
/// Returns
/// -------
/// str
///     A sound file, to be filled in with `set_keys` or by hand.
#[pyfunction]
#[pyo3(signature = (template: "str" = "little") -> "str")]
pub(crate) fn start_file(py: Python<'_>, #[pyo3(from_py_with = text)] template: &str) -> PyResult<String> {
    let found = Template::ALL.iter().find(|(name, _)| *name == template);
    let wanted = Template::ALL.map(|(name, _)| format!("`{name}`")).join(", ");
    let message = || format!("template: found `{template}`, wanted one of {wanted}");
    found.map(|(_, template)| template.text()).ok_or_else(|| raise(py, "BikeError", (message(),)))
}

#[pymethods]
impl Bike {
    /// Read a bike file: JSON where its name ends in ``.json``, else TOML.
    ///
    /// Parameters
    /// ----------
    /// path : str or path
    ///     The file.
    #[staticmethod]
    #[pyo3(signature = (path: "str | os.PathLike[str]"))]
    fn load(path: &Bound<'_, PyAny>) -> PyResult<Self> {
        let py = path.py();
        let (text, json) = text_of(path)?;
        if json { Self::from_json(py, text) } else { Self::from_toml(py, text) }
    }
    /// Read the text of a bike file.
    #[staticmethod]
    pub(crate) fn from_toml(py: Python<'_>, text: Text) -> PyResult<Self> {
        run_long(py, || wheelrate::Bike::from_toml(&text)).map(Self)
    }
    /// Read the text of a bike file written as JSON.
    #[staticmethod]
    fn from_json(py: Python<'_>, text: Text) -> PyResult<Self> {
        run_long(py, || wheelrate::Bike::from_json(&text)).map(Self)
    }
    /// Make a bike from a dict with the keys of the bike file.
    #[staticmethod]
    #[pyo3(signature = (keys: "dict[str, object]"))]
    fn from_dict(keys: Bound<'_, PyDict>) -> PyResult<Self> {
        let py = keys.py();
        let text: Text = py.import("json")?.call_method1("dumps", (keys,))?.extract()?;
        Self::from_json(py, text)
    }
    /// The bike as the text of a file, which reads back as an equal bike.
    fn to_toml(&self) -> String {
        self.0.to_toml()
    }
    /// The same as JSON.
    fn to_json(&self) -> String {
        self.0.to_json()
    }
    /// The bike as a dict with the keys of the bike file.
    #[pyo3(signature = () -> "dict[str, object]")]
    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        py.import("json")?.call_method1("loads", (self.0.to_json(),))
    }
}
