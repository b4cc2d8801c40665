//! A linkage over many travels as plain arrays, written once into memory that NumPy owns.

use numpy::{PyArray1, PyArrayMethods, PyReadwriteArray1};
use pyo3::prelude::*;
use pyo3::types::PyDict;
use wheelrate::linkage::LinkageColumn;
use wheelrate::units::{Length, MotionRatio, MotionRatioSlope};

use super::Linkage;
use crate::errors::{raise, run};
use crate::units::{GivenArray, column_name};

/// All columns: name, name with unit, and which it is.
fn all() -> [(&'static str, String, LinkageColumn); 6] {
    [
        ("travel", column_name::<Length>("travel"), LinkageColumn::Travel),
        ("stroke", column_name::<Length>("stroke"), LinkageColumn::Stroke),
        ("motion_ratio", column_name::<MotionRatio>("motion_ratio"), LinkageColumn::MotionRatio),
        ("motion_ratio_slope", column_name::<MotionRatioSlope>("motion_ratio_slope"), LinkageColumn::MotionRatioSlope),
        ("axle_x", column_name::<Length>("axle_x"), LinkageColumn::AxleX),
        ("axle_z", column_name::<Length>("axle_z"), LinkageColumn::AxleZ),
    ]
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
        match out {
            Some(out) => {
                if columns.is_some() {
                    let wrong = "columns: `out` says which columns there are; leave one of the two out";
                    return Err(raise(py, "LinkageError", (wrong,)));
                }
                self.write_over(py, &travels, &out)?;
                Ok(out)
            }
            None => self.write_anew(py, &travels, columns),
        }
    }
}

impl Linkage {
    fn write_anew<'py>(
        &self,
        py: Python<'py>,
        travels: &[Length],
        columns: Option<Vec<String>>,
    ) -> PyResult<Bound<'py, PyDict>> {
        let all = all();
        let chosen: Vec<usize> = match columns {
            None => (0..all.len()).collect(),
            Some(names) => names
                .iter()
                .map(|name| {
                    let known = all.iter().position(|(known, named, _)| known == name || named == name);
                    known.ok_or_else(|| no_column(py, "columns", name))
                })
                .collect::<PyResult<_>>()?,
        };
        let mut found: Vec<Vec<f64>> = chosen.iter().map(|_| vec![0.0; travels.len()]).collect();
        let mut columns: Vec<(LinkageColumn, &mut [f64])> =
            chosen.iter().zip(&mut found).map(|(&column, numbers)| (all[column].2, numbers.as_mut_slice())).collect();
        run(py, || self.0.columns_into(travels, &mut columns))?;
        let named = PyDict::new(py);
        for (&column, numbers) in chosen.iter().zip(found) {
            named.set_item(&all[column].1, PyArray1::from_vec(py, numbers))?;
        }
        Ok(named)
    }

    fn write_over(&self, py: Python<'_>, travels: &[Length], out: &Bound<'_, PyDict>) -> PyResult<()> {
        let all = all();
        let mut arrays: Vec<(LinkageColumn, PyReadwriteArray1<'_, f64>)> = Vec::new();
        for (name, array) in out.iter() {
            let name: String = name.extract()?;
            let known = all.iter().find(|(_, named, _)| *named == name);
            let (_, _, column) = known.ok_or_else(|| no_column(py, "out", &name))?;
            let wanted = format!("an array of {} floats that can be written to", travels.len());
            let wrong = |found: String| {
                raise(py, "LinkageError", (format!("out[{name:?}]: {found} where {wanted} is wanted"),))
            };
            let array = array.cast::<PyArray1<f64>>().map_err(|_| wrong(array.get_type().to_string()))?;
            let length = array.len()?;
            if length != travels.len() {
                return Err(wrong(format!("{length} floats")));
            }
            arrays.push((*column, array.try_readwrite().map_err(|error| wrong(error.to_string()))?));
        }
        let mut columns: Vec<(LinkageColumn, &mut [f64])> = Vec::with_capacity(arrays.len());
        for (column, array) in &mut arrays {
            let apart = |_| raise(py, "LinkageError", ("out: an array whose numbers do not lie side by side",));
            columns.push((*column, array.as_slice_mut().map_err(apart)?));
        }
        run(py, || self.0.columns_into(travels, &mut columns))
    }
}

fn no_column(py: Python<'_>, argument: &str, found: &str) -> PyErr {
    let known = all().map(|(name, _, _)| name).join(", ");
    raise(py, "LinkageError", (format!("{argument}: no column {found:?}; there are {known}"),))
}
