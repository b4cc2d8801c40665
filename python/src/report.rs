//! What a person reads: the sheet, and how it is shown.

pub(crate) mod questions;
pub(crate) mod sheet;
pub(crate) mod taking;

use pyo3::prelude::*;
use wheelrate::units::UnitSystem;

use crate::bike::Bike;
use crate::errors::run;
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
    #[pyo3(signature = (units="metric"))]
    fn sheet(&self, py: Python<'_>, units: &str) -> PyResult<Sheet> {
        let units = system(py, units)?;
        Sheet::of(py, &self.0, units)
    }
}

/// A dict by the names of ends that shows itself in a notebook.
pub(crate) fn per_end<'py, T: IntoPyObject<'py>>(py: Python<'py>, named: Named<T>) -> PyResult<Bound<'py, PyAny>> {
    py.import("wheelrate._display")?.call_method1("PerEnd", (named,))
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
pub(crate) fn unit_symbols(py: Python<'_>, units: &str) -> PyResult<Named<&'static str>> {
    let system = system(py, units)?;
    let kinds = wheelrate::units::kind::ALL.iter();
    Ok(Named(kinds.map(|kind| (kind.name.to_owned(), system.symbol(kind))).collect()))
}
