//! Arguments that may be one quantity or an array of any shape, and results of the same shape.

use std::marker::PhantomData;

use numpy::PyArray1;
use pyo3::prelude::*;
use pyo3::types::PyString;
#[cfg(feature = "introspection")]
use pyo3::{inspect::PyStaticExpr, type_hint_identifier};
use wheelrate::units::Quantity;

use super::{Measured, is_sequence_of_quantities, numbers, pint_side, read, read_array, write};
use crate::errors::raise;

/// An argument of one kind, one or many, not yet read: reading needs its name, for the message.
pub(crate) struct GivenAny<'py, Q>(Bound<'py, PyAny>, PhantomData<Q>);

argument!(GivenAny, "AnyShape");

/// Quantities of any shape, row after row; no shape where there is but one.
pub(crate) struct Shaped<Q> {
    values: Vec<Q>,
    shape: Option<Vec<usize>>,
}

impl<Q: Quantity> GivenAny<'_, Q> {
    /// The quantities, each checked to be finite.
    pub(crate) fn read(&self, argument: &str) -> PyResult<Shaped<Q>> {
        let (object, kind) = (&self.0, Q::KIND);
        if is_sequence_of_quantities(object) {
            let values: Vec<Q> = read_array(object, kind, argument)?.into_iter().map(Q::from_si).collect();
            let shape = Some(vec![values.len()]);
            return Ok(Shaped { values, shape });
        }
        let one = || read(object, kind, argument).map(|si| Shaped { values: vec![Q::from_si(si)], shape: None });
        if object.is_instance_of::<PyString>() {
            return one();
        }
        let measured = Measured::of(object, kind, argument)?;
        if measured.magnitude.len().is_err() {
            return one();
        }
        let py = object.py();
        let (found, shape) = numbers::any_shape(&measured.magnitude)
            .map_err(|because| measured.not_a_number(py, "an array of numbers", &because, kind, argument))?;
        let si = |number| measured.si(py, number, kind, argument).map(Q::from_si);
        Ok(Shaped { values: found.into_iter().map(si).collect::<PyResult<_>>()?, shape: Some(shape) })
    }
}

impl<Q: Quantity> Shaped<Q> {
    /// A row of so many: one quantity for all, or one for each. The shape where it is neither.
    pub(crate) fn row_of(self, many: usize) -> Result<Vec<Q>, Vec<usize>> {
        match self.shape {
            None => Ok(vec![self.values[0]; many]),
            Some(shape) if shape == [many] => Ok(self.values),
            Some(shape) => Err(shape),
        }
    }

    /// One result for each.
    pub(crate) fn map<R>(self, result: impl FnMut(Q) -> PyResult<R>) -> PyResult<Shaped<R>> {
        let values = self.values.into_iter().map(result).collect::<PyResult<_>>()?;
        Ok(Shaped { values, shape: self.shape })
    }

    /// One result for each pair: both of one shape, or one of them a single quantity.
    pub(crate) fn zip<P: Quantity, R>(
        self,
        py: Python<'_>,
        other: Shaped<P>,
        mut result: impl FnMut(Q, P) -> PyResult<R>,
    ) -> PyResult<Shaped<R>> {
        let (many, shape) = match (&self.shape, &other.shape) {
            (Some(one), Some(two)) if one != two => {
                let message =
                    format!("found arrays of shapes {one:?} and {two:?}, wanted the same shape, or one number");
                return Err(raise(py, "UnitError", (message, "Shapes")));
            }
            (None, None) => (1, None),
            (Some(shape), _) | (None, Some(shape)) => (shape.iter().product(), Some(shape.clone())),
        };
        let at = |values: usize, index: usize| if values == 1 { 0 } else { index };
        let pair = |index| {
            let (one, two) = (at(self.values.len(), index), at(other.values.len(), index));
            result(self.values[one], other.values[two])
        };
        Ok(Shaped { values: (0..many).map(pair).collect::<PyResult<_>>()?, shape })
    }
}

impl<'py, Q: Quantity> IntoPyObject<'py> for Shaped<Q> {
    type Target = PyAny;
    type Output = Bound<'py, PyAny>;
    type Error = PyErr;
    #[cfg(feature = "introspection")]
    const OUTPUT_TYPE: PyStaticExpr = type_hint_identifier!("wheelrate.typing", "Quantity");
    fn into_pyobject(self, py: Python<'py>) -> PyResult<Self::Output> {
        let Some(shape) = self.shape else {
            return write(py, Q::KIND, self.values[0].si());
        };
        let numbers: Vec<f64> = self.values.into_iter().map(|value| Q::KIND.units[0].from_si(value.si())).collect();
        let array = PyArray1::from_vec(py, numbers).call_method1("reshape", (shape,))?;
        pint_side(py)?.call_method1("write", (array, Q::KIND.name))
    }
}
