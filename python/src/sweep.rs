//! Many designs at once, on all cores.

pub(crate) mod designs;

use pyo3::exceptions::PyTypeError;
#[cfg(feature = "introspection")]
use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::types::{PyList, PyTuple};
use wheelrate::linkage as core;
use wheelrate::sweep::{each, together};
use wheelrate::units::Length;

use crate::errors::run;
use crate::linkage::{Linkage, LinkageCurve};
use crate::units::{Given, GivenArray};

/// Many linkages at one travel, on all cores.
///
/// Parameters
/// ----------
/// linkages : list of Linkage
///     In any number.
/// travel : length
///     From full extension of each.
///
/// Returns
/// -------
/// LinkageCurve
///     One entry per linkage.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> linkage = wr.demo().rear.linkage
/// >>> longer = linkage.with_link_length("link", "176 mm")
/// >>> wr.sweep_points([linkage, longer], "100 mm").motion_ratio.shape
/// (2,)
#[pyfunction]
pub(crate) fn sweep_points(py: Python<'_>, linkages: Loose<'_>, travel: Given<'_, Length>) -> PyResult<LinkageCurve> {
    let travel = travel.read("travel")?;
    let linkages = linkages.referred()?;
    run(py, || together(&linkages, travel)).map(LinkageCurve)
}

/// Linkages in a row that nobody can change while work goes on: a list is copied whole, not item by item.
pub(crate) struct Loose<'py>(Bound<'py, PyTuple>);

impl<'py> FromPyObject<'_, 'py> for Loose<'py> {
    type Error = PyErr;
    #[cfg(feature = "introspection")]
    const INPUT_TYPE: PyStaticExpr = <Vec<Py<Linkage>> as FromPyObject<'_, '_>>::INPUT_TYPE;
    fn extract(object: Borrowed<'_, 'py, PyAny>) -> PyResult<Self> {
        if let Ok(list) = object.cast::<PyList>() {
            return Ok(Self(list.to_tuple()));
        }
        match object.cast::<PyTuple>() {
            Ok(tuple) => Ok(Self(tuple.to_owned())),
            Err(_) => PyTuple::new(object.py(), object.extract::<Vec<Py<Linkage>>>()?).map(Self),
        }
    }
}

impl Loose<'_> {
    /// The linkages where they are.
    fn referred(&self) -> PyResult<Vec<&core::Linkage>> {
        let wrong = |error| PyTypeError::new_err(format!("argument 'linkages': {}", PyErr::from(error)));
        let mut referred = Vec::with_capacity(self.0.len());
        for linkage in self.0.iter_borrowed() {
            referred.push(&linkage.cast::<Linkage>().map_err(wrong)?.get().0);
        }
        Ok(referred)
    }
}

/// Many linkages over the same travels, on all cores.
///
/// Parameters
/// ----------
/// linkages : list of Linkage
///     In any number.
/// travels : array of length
///     From full extension of each.
///
/// Returns
/// -------
/// list of LinkageCurve
///     In the order of the linkages.
#[pyfunction]
pub(crate) fn sweep_curves(
    py: Python<'_>,
    linkages: Vec<Py<Linkage>>,
    travels: GivenArray<'_, Length>,
) -> PyResult<Vec<LinkageCurve>> {
    let travels = travels.read("travels")?;
    let curves = run(py, || {
        let curves = each(&drawn(&linkages), |linkage| linkage.curve(&travels));
        curves.into_iter().collect::<Result<Vec<_>, _>>()
    })?;
    Ok(curves.into_iter().map(LinkageCurve).collect())
}

fn drawn(linkages: &[Py<Linkage>]) -> Vec<&core::Linkage> {
    linkages.iter().map(|linkage| &linkage.get().0).collect()
}
