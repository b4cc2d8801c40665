//! Linkages as plain arrays, written once into memory that NumPy owns: one over many travels, many at one travel each.

use numpy::{PyArray1, PyArrayMethods, PyReadwriteArray1};
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::{PyDict, PyString};
use wheelrate::error::LinkageError;
use wheelrate::linkage::LinkageColumn;
use wheelrate::units::{Length, MotionRatio, MotionRatioSlope};

use super::{Linkage, LinkageFamily};
use crate::errors::{raise, run};
use crate::units::{GivenArray, column_name};

/// A column: its name, its name with the unit, and which it is.
struct Known {
    name: &'static str,
    titled: Py<PyString>,
    column: LinkageColumn,
}

/// Every column there is.
fn all(py: Python<'_>) -> &'static [Known; 6] {
    static ALL: PyOnceLock<[Known; 6]> = PyOnceLock::new();
    ALL.get_or_init(py, || {
        let known = |name, titled: fn(&str) -> String, column| Known {
            name,
            titled: PyString::intern(py, &titled(name)).unbind(),
            column,
        };
        [
            known("travel", column_name::<Length>, LinkageColumn::Travel),
            known("stroke", column_name::<Length>, LinkageColumn::Stroke),
            known("motion_ratio", column_name::<MotionRatio>, LinkageColumn::MotionRatio),
            known("motion_ratio_slope", column_name::<MotionRatioSlope>, LinkageColumn::MotionRatioSlope),
            known("axle_x", column_name::<Length>, LinkageColumn::AxleX),
            known("axle_z", column_name::<Length>, LinkageColumn::AxleZ),
        ]
    })
}

#[pymethods]
impl Linkage {
    /// The linkage over many travels as plain arrays in SI units, the unit in each name.
    ///
    /// As ``curve(travels).columns()``, without anything in between: each column is written once.
    ///
    /// Parameters
    /// ----------
    /// travels : array of length, optional
    ///     From full extension; evenly over the whole range unless they are given.
    /// columns : list of str, optional
    ///     Which: ``travel``, ``stroke``, ``motion_ratio``, ``motion_ratio_slope``, ``axle_x``, ``axle_z``; all of them unless
    ///     given.
    /// out : dict of str to array, optional
    ///     What an earlier call gave, for as many travels. It is written over and given back.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> linkage = wr.demo().rear.linkage
    /// >>> found = linkage.columns(["0 mm", "102 mm"], columns=["motion_ratio"])
    /// >>> print(found["motion_ratio [shock/wheel]"].round(3))
    /// [0.343 0.377]
    /// >>> linkage.columns(["0 mm", "200 mm"], out=found) is found
    /// True
    #[pyo3(signature = (travels=None, *, columns=None, out: "dict[str, Numbers] | None"=None) -> "dict[str, Numbers]")]
    fn columns<'py>(
        &self,
        py: Python<'py>,
        travels: Option<GivenArray<'_, Length>>,
        columns: Option<Vec<String>>,
        out: Option<Bound<'py, PyDict>>,
    ) -> PyResult<Bound<'py, PyDict>> {
        let travels = self.travels(travels)?;
        written(py, travels.len(), columns, out, |columns| self.0.columns_into(&travels, columns))
    }
}

#[pymethods]
impl LinkageFamily {
    /// All at one travel, or each at its own, as plain arrays in SI units, the unit in each name; one entry per linkage.
    ///
    /// As ``at(travel).columns()``, without anything in between: each column is written once.
    ///
    /// Parameters
    /// ----------
    /// travel : length or array of length
    ///     One for all, or one for each.
    /// columns : list of str, optional
    ///     Which, as in `Linkage.columns`; all of them unless given.
    /// out : dict of str to array, optional
    ///     What an earlier call gave. It is written over and given back.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> linkage = wr.demo().rear.linkage
    /// >>> family = wr.LinkageFamily([linkage, linkage.with_link_length("link", "176 mm")])
    /// >>> print(family.columns("100 mm", columns=["motion_ratio"])["motion_ratio [shock/wheel]"].round(3))
    /// [0.377 0.379]
    #[pyo3(signature = (travel: "wheelrate.typing.AnyShape", *, columns=None, out: "dict[str, Numbers] | None"=None) -> "dict[str, Numbers]")]
    fn columns<'py>(
        &self,
        py: Python<'py>,
        travel: &Bound<'_, PyAny>,
        columns: Option<Vec<String>>,
        out: Option<Bound<'py, PyDict>>,
    ) -> PyResult<Bound<'py, PyDict>> {
        let travels = self.travels(travel)?;
        written(py, travels.len(), columns, out, |columns| self.packed().columns_into(&travels, columns))
    }
}

/// Columns that some work fills, in new memory or in that of an earlier call.
fn written<'py>(
    py: Python<'py>,
    count: usize,
    columns: Option<Vec<String>>,
    out: Option<Bound<'py, PyDict>>,
    work: impl FnOnce(&mut [(LinkageColumn, &mut [f64])]) -> Result<(), LinkageError> + Send,
) -> PyResult<Bound<'py, PyDict>> {
    match (out, columns) {
        (Some(_), Some(_)) => {
            Err(raise(py, "LinkageError", ("columns: `out` says which columns there are; leave one of the two out",)))
        }
        (Some(out), None) => {
            write_over(py, count, &out, work)?;
            Ok(out)
        }
        (None, columns) => write_anew(py, count, columns, work),
    }
}

fn write_anew<'py>(
    py: Python<'py>,
    count: usize,
    columns: Option<Vec<String>>,
    work: impl FnOnce(&mut [(LinkageColumn, &mut [f64])]) -> Result<(), LinkageError> + Send,
) -> PyResult<Bound<'py, PyDict>> {
    let all = all(py);
    let chosen: Vec<&Known> = match columns {
        None => all.iter().collect(),
        Some(names) => {
            let titled = |known: &Known, name: &str| known.titled.bind(py).to_str().is_ok_and(|titled| titled == name);
            let known = |name: &String| {
                let known = all.iter().find(|known| known.name == name || titled(known, name));
                known.ok_or_else(|| no_column(py, "columns", name))
            };
            names.iter().map(known).collect::<PyResult<_>>()?
        }
    };
    let mut found: Vec<Vec<f64>> = chosen.iter().map(|_| vec![0.0; count]).collect();
    let mut columns: Vec<(LinkageColumn, &mut [f64])> =
        chosen.iter().zip(&mut found).map(|(known, numbers)| (known.column, numbers.as_mut_slice())).collect();
    run(py, || work(&mut columns))?;
    let named = PyDict::new(py);
    for (known, numbers) in chosen.iter().zip(found) {
        named.set_item(&known.titled, PyArray1::from_vec(py, numbers))?;
    }
    Ok(named)
}

fn write_over(
    py: Python<'_>,
    count: usize,
    out: &Bound<'_, PyDict>,
    work: impl FnOnce(&mut [(LinkageColumn, &mut [f64])]) -> Result<(), LinkageError> + Send,
) -> PyResult<()> {
    let all = all(py);
    let mut arrays: Vec<(LinkageColumn, PyReadwriteArray1<'_, f64>)> = Vec::with_capacity(out.len());
    for (name, array) in out.iter() {
        let name = name.cast::<PyString>()?.to_str()?;
        let known = all.iter().find(|known| known.titled.bind(py).to_str().is_ok_and(|titled| titled == name));
        let known = known.ok_or_else(|| no_column(py, "out", name))?;
        let wrong = |found: String| {
            let wanted = format!("an array of {count} floats that can be written to");
            raise(py, "LinkageError", (format!("out[{name:?}]: {found} where {wanted} is wanted"),))
        };
        let array = array.cast::<PyArray1<f64>>().map_err(|_| wrong(array.get_type().to_string()))?;
        let length = array.len()?;
        if length != count {
            return Err(wrong(format!("{length} floats")));
        }
        arrays.push((known.column, array.try_readwrite().map_err(|error| wrong(error.to_string()))?));
    }
    let mut columns: Vec<(LinkageColumn, &mut [f64])> = Vec::with_capacity(arrays.len());
    for (column, array) in &mut arrays {
        let apart = |_| raise(py, "LinkageError", ("out: an array whose numbers do not lie side by side",));
        columns.push((*column, array.as_slice_mut().map_err(apart)?));
    }
    run(py, || work(&mut columns))
}

fn no_column(py: Python<'_>, argument: &str, found: &str) -> PyErr {
    let known: Vec<&str> = all(py).iter().map(|known| known.name).collect();
    raise(py, "LinkageError", (format!("{argument}: no column {found:?}; there are {}", known.join(", ")),))
}
