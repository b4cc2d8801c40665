//! What a person reads: the sheet, and how it is shown.

pub(crate) mod questions;
pub(crate) mod sheet;
pub(crate) mod taking;

use pyo3::prelude::*;
use pyo3::types::PyDict;
use wheelrate::record;
use wheelrate::units::UnitSystem;

use crate::bike::Bike;
use crate::errors::run;
use crate::plain::{Text, text};
use crate::record::by_end;
use crate::report::sheet::Sheet;
use crate::value::Named;

pub(crate) fn system(py: Python<'_>, name: &str) -> PyResult<UnitSystem> {
    run(py, || UnitSystem::from_name(name))
}

#[pymethods]
impl Bike {
    /// The setup sheet.
    ///
    /// Parameters
    /// ----------
    /// units : {"metric", "kilogram-force", "inch"}
    ///     Units of its numbers and sentences.
    /// unread : dict of str to str, optional
    ///     Why an end of the file could not be read, by its name: `read_partly` finds it. The sheet says so.
    #[pyo3(signature = (units: "str"="metric", unread: "dict[str, str] | None"=None))]
    fn sheet(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = text)] units: &str,
        unread: Option<Bound<'_, PyDict>>,
    ) -> PyResult<Sheet> {
        let units = system(py, units)?;
        let unread = by_end::<String>(unread)?;
        let said = |end: record::End| unread.at(end).clone().map(|why| (end, why));
        Sheet::of(py, &self.0, units, record::End::BOTH.into_iter().filter_map(said).collect())
    }
}

/// A dict by the names of ends that shows itself in a notebook, with why an end is not in it.
pub(crate) fn per_end<'py, T: IntoPyObject<'py>>(
    py: Python<'py>,
    named: Named<T>,
    without: Vec<(record::End, String)>,
) -> PyResult<Bound<'py, PyAny>> {
    let without = without.into_iter().map(|(end, why)| (end.name().to_owned(), why)).collect();
    py.import("wheelrate._display")?.call_method1("PerEnd", (named, Named(without)))
}

/// The unit symbol that a unit system uses for each kind of quantity.
///
/// Parameters
/// ----------
/// units : {"metric", "kilogram-force", "inch"}
///     The system.
///
/// Returns
/// -------
/// dict of str to str
///     Kind to symbol.
#[pyfunction]
pub(crate) fn unit_symbols(py: Python<'_>, units: Text) -> PyResult<Named<&'static str>> {
    let system = system(py, &units)?;
    let kinds = wheelrate::units::kind::ALL.iter();
    Ok(Named(kinds.map(|kind| (kind.name.to_owned(), system.symbol(kind))).collect()))
}
