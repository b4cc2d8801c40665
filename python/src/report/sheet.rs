//! The setup sheet.

use pyo3::prelude::*;
use pyo3::types::PyDict;
use wheelrate::bike;
use wheelrate::record::End;
use wheelrate::report;
use wheelrate::units::UnitSystem;

use crate::bike::Bike;
use crate::errors::run_long;
use crate::plain::{integer, whole};
use crate::value::{Made, Named, to_json};

/// Setup sheet: everything a person hangs on the garage wall.
#[pyclass(module = "wheelrate", frozen, eq, weakref)]
#[derive(Clone, PartialEq)]
pub(crate) struct Sheet {
    bike: bike::Bike,
    pub(crate) sheet: report::Sheet,
    unread: Vec<(End, String)>,
}

impl Sheet {
    pub(crate) fn of(
        py: Python<'_>,
        bike: &bike::Bike,
        units: UnitSystem,
        unread: Vec<(End, String)>,
    ) -> PyResult<Self> {
        let sheet = run_long(py, || bike.sheet(units))?;
        let sheet = unread.iter().fold(sheet, |sheet, (end, why)| sheet.unread(*end, why));
        Ok(Self { bike: bike.clone(), sheet, unread })
    }
    fn units(&self) -> &'static str {
        UnitSystem::ALL.iter().find(|(_, system)| *system == self.sheet.units).map_or("metric", |(name, _)| name)
    }
}

#[pymethods]
impl Sheet {
    /// The sheet as plain text, sentences wrapped to so many characters.
    #[pyo3(signature = (width: "SupportsIndex"=100))]
    fn to_text(&self, py: Python<'_>, #[pyo3(from_py_with = integer)] width: i128) -> PyResult<String> {
        Ok(self.sheet.to_text(whole(py, "width", width)?))
    }
    /// What to do at both ends, as the first screen of a terminal: 22 rows at most on 80 characters.
    #[pyo3(signature = (width: "SupportsIndex"=80))]
    fn to_screen(&self, py: Python<'_>, #[pyo3(from_py_with = integer)] width: i128) -> PyResult<String> {
        Ok(self.sheet.to_screen(whole(py, "width", width)?))
    }
    /// The sheet as JSON text.
    fn to_json(&self) -> PyResult<String> {
        to_json(&self.sheet)
    }
    /// The sheet as one self-contained HTML page.
    fn to_html(&self, py: Python<'_>) -> PyResult<String> {
        py.import("wheelrate._display")?.call_method1("page", (self.to_json()?,))?.extract()
    }
    /// Write the HTML page to a file.
    ///
    /// Parameters
    /// ----------
    /// path : str or path
    ///     The file. A page of this package that is there is replaced, in one step; a symbolic link is not followed.
    /// force : bool, optional
    ///     Replace any other file, too.
    ///
    /// Raises
    /// ------
    /// OverwriteError
    ///     Where the file is no page of this package, or a link.
    #[pyo3(signature = (path: "str | os.PathLike[str]", *, force=false))]
    fn save(&self, path: &Bound<'_, PyAny>, force: bool) -> PyResult<()> {
        let py = path.py();
        let arguments = PyDict::new(py);
        arguments.set_item("force", force)?;
        py.import("wheelrate._files")?.call_method("write", (path, self.to_html(py)?), Some(&arguments)).map(drop)
    }
    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Made<'py, (&'static str, Named<String>)>> {
        let bike = Bike(self.bike.clone()).into_pyobject(py)?;
        let unread = self.unread.iter().map(|(end, why)| (end.name().to_owned(), why.clone())).collect();
        Ok((bike.getattr("sheet")?, (self.units(), Named(unread))))
    }
    fn __hash__(&self) -> u64 {
        crate::value::hash(&(&self.bike, self.units()))
    }
    fn __str__(&self) -> String {
        /// A terminal of the usual width.
        const WIDTH: usize = 100;
        self.sheet.to_text(WIDTH)
    }
    fn __repr__(&self) -> String {
        format!("Sheet({:?}, {})", self.sheet.bike, self.units())
    }
    fn _repr_html_(&self, py: Python<'_>) -> PyResult<String> {
        py.import("wheelrate._display")?.call_method1("embedded", (self.to_json()?,))?.extract()
    }
}
