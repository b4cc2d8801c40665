//! What counts as a number: floats, integers and unsigned integers, alone or in a row, with nothing masked.
//!
//! Asked for floats, NumPy gives them out of nearly anything: it drops masks and imaginary parts, counts truth values and
//! reads text. So an array is taken by what it holds, and only then made floats, of any width, byte order and stride.

use numpy::{PyArray1, PyArrayMethods, PyReadonlyArray1, PyUntypedArray};
use pyo3::PyTypeInfo;
use pyo3::prelude::*;
use pyo3::types::{PyBool, PyBytes, PyFloat, PyInt, PyList, PyString, PyTuple};

/// Why a row is not one number.
pub(super) const HAS_A_LENGTH: &str = "it has a length";

/// Most axes of nested lists; as many as a NumPy array has.
const MOST_AXES: usize = 64;

/// One number. NumPy would turn a row of one into a number too, and Python a truth value.
pub(super) fn one(object: &Bound<'_, PyAny>) -> Result<f64, String> {
    if object.is_instance_of::<PyFloat>() {
        return object.extract().map_err(|error: PyErr| error.to_string());
    }
    refuse_plain(object)?;
    if object.is_instance_of::<PyInt>() {
        return object.extract().map_err(|_| "it is larger than any float".to_owned());
    }
    if object.len().is_ok() {
        return Err(HAS_A_LENGTH.to_owned());
    }
    if object.hasattr("dtype").unwrap_or(false) {
        let array = array(object)?;
        if array.getattr("ndim").and_then(|axes| axes.extract::<usize>()).unwrap_or(0) > 0 {
            return Err(HAS_A_LENGTH.to_owned());
        }
    }
    object.extract().map_err(|_| format!("it is of type {}", type_name(object)))
}

/// A row of numbers.
pub(super) fn row(object: &Bound<'_, PyAny>) -> Result<Vec<f64>, String> {
    let (numbers, shape) = any_shape(object)?;
    match shape.len() {
        1 => Ok(numbers),
        0 => Err("it has 0 axes".to_owned()),
        axes => Err(format!("it has {axes} axes: `numpy.ravel` makes it one row")),
    }
}

/// A row of floats as NumPy itself makes it, no subclass that might hold more: nothing of it needs asking.
fn plain_row<'py>(object: &Bound<'py, PyAny>) -> Option<PyReadonlyArray1<'py, f64>> {
    let plain = object.get_type().is(PyUntypedArray::type_object(object.py()));
    plain.then(|| object.cast::<PyArray1<f64>>().ok()?.try_readonly().ok()).flatten()
}

/// Numbers in any shape, row after row, with the shape.
pub(super) fn any_shape(object: &Bound<'_, PyAny>) -> Result<(Vec<f64>, Vec<usize>), String> {
    if let Some(floats) = plain_row(object) {
        let numbers = floats.as_array().to_vec();
        let length = numbers.len();
        return Ok((numbers, vec![length]));
    }
    refuse_plain(object)?;
    if is_sequence(object) {
        return sequence(object, 0);
    }
    let array = array(object)?;
    let shape: Vec<usize> = array.getattr("shape").and_then(|shape| shape.extract()).unwrap_or_default();
    let floats = numpy(object)
        .and_then(|numpy| numpy.call_method1("asarray", (&array, "float64")))
        .and_then(|floats| floats.call_method1("reshape", (-1,)))
        .and_then(|floats| floats.extract::<PyReadonlyArray1<'_, f64>>());
    floats.map(|floats| (floats.as_array().to_vec(), shape)).map_err(|error| error.to_string())
}

fn is_sequence(object: &Bound<'_, PyAny>) -> bool {
    object.is_instance_of::<PyList>() || object.is_instance_of::<PyTuple>()
}

/// Numbers of a list, or of lists within it that are as long as each other.
fn sequence(object: &Bound<'_, PyAny>, outer: usize) -> Result<(Vec<f64>, Vec<usize>), String> {
    if outer == MOST_AXES {
        return Err(format!("it has more than {MOST_AXES} axes"));
    }
    let items: Vec<Bound<'_, PyAny>> =
        object.try_iter().and_then(Iterator::collect).map_err(|error| error.to_string())?;
    let at = |index: usize, because: String| format!("item {index} is not one number: {because}");
    if !items.first().is_some_and(is_sequence) {
        let number = |(index, item): (usize, &Bound<'_, PyAny>)| one(item).map_err(|because| at(index, because));
        return items.iter().enumerate().map(number).collect::<Result<_, _>>().map(|row| (row, vec![items.len()]));
    }
    let (mut numbers, mut within) = (Vec::new(), None);
    for (index, item) in items.iter().enumerate() {
        if !is_sequence(item) {
            return Err(format!("item {index} is one number where item 0 is a row: rows go with rows"));
        }
        let (row, shape) = sequence(item, outer + 1)?;
        if *within.get_or_insert_with(|| shape.clone()) != shape {
            return Err(format!("item {index} is not as long as item 0: rows of one array are alike"));
        }
        numbers.extend(row);
    }
    Ok((numbers, [vec![items.len()], within.unwrap_or_default()].concat()))
}

/// What Python itself would take for a number, or for many.
fn refuse_plain(object: &Bound<'_, PyAny>) -> Result<(), String> {
    if object.is_instance_of::<PyBool>() {
        Err("it is a truth value".to_owned())
    } else if object.is_instance_of::<PyString>() || object.is_instance_of::<PyBytes>() {
        Err("it is text: numbers go without quotes".to_owned())
    } else {
        Ok(())
    }
}

/// An object as an array of real numbers, all of them there.
fn array<'py>(object: &Bound<'py, PyAny>) -> Result<Bound<'py, PyAny>, String> {
    let unlike = |_| format!("it is of type {}", type_name(object));
    let numpy = numpy(object).map_err(|error| error.to_string())?;
    // Not `asarray`: that drops the mask.
    let array = numpy.call_method1("asanyarray", (object,)).map_err(unlike)?;
    let dtype = array.getattr("dtype").map_err(unlike)?;
    let kind: String = dtype.getattr("kind").and_then(|kind| kind.extract()).map_err(unlike)?;
    let because = match kind.as_str() {
        "f" | "i" | "u" => return masked(&numpy, &array).map_or(Ok(array), Err),
        "c" => "has imaginary parts: take the real part if that is meant",
        "b" => "holds truth values",
        "U" | "S" | "T" => "holds text",
        "O" => "may hold anything: make it an array of floats first",
        _ => "holds no plain numbers",
    };
    Err(format!("dtype {dtype} {because}; wanted float, int or unsigned"))
}

/// What is wrong with the mask of an array, if anything is.
fn masked(numpy: &Bound<'_, PyModule>, array: &Bound<'_, PyAny>) -> Option<String> {
    let masks = numpy.getattr("ma").ok()?;
    let any: bool = masks.call_method1("is_masked", (array,)).and_then(|any| any.extract()).ok()?;
    let first = || masks.call_method1("getmaskarray", (array,)).and_then(|mask| mask.call_method0("argmax"));
    any.then(|| {
        let place = first().map_or(String::new(), |index| format!(", the first at {index}"));
        format!("it has masked values{place}: leave them out (`.compressed()`) or fill them (`.filled(...)`)")
    })
}

fn numpy<'py>(object: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyModule>> {
    object.py().import("numpy")
}

fn type_name(object: &Bound<'_, PyAny>) -> String {
    object.get_type().name().map_or_else(|_| "unknown".to_owned(), |name| name.to_string())
}
