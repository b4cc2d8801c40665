//! The unit boundary: what a dimensional argument may be, and what comes back.
//!
//! An argument is text (`"102 mm"`, read by the core), a pair of a number or array and a unit (`(102, "mm")`), a pint
//! quantity of any registry, or, where an array is meant, a sequence of these. A number alone is refused with what to
//! write. Results are pint quantities of the application registry. pint is imported on first need, by
//! `wheelrate/_units.py`, which is all that knows pint.

mod numbers;
pub(crate) mod plain;

use std::marker::PhantomData;

use numpy::ndarray::arr2;
use numpy::{PyArray1, PyArray2, PyArrayMethods, ToPyArray};
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::{PyDict, PyFloat, PyInt, PyList, PyString, PyTuple};
#[cfg(feature = "introspection")]
use pyo3::{inspect::PyStaticExpr, type_hint_identifier};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use wheelrate::error::UnitError;
use wheelrate::units::kind::{ALL, Kind, Unit};
use wheelrate::units::{Quantity, parse_si, parse_unit};

use crate::errors::{exception, raise, run};
use crate::plain::Text;

/// An argument of one kind, not yet read: reading needs its name, for the message.
pub(crate) struct Given<'py, Q>(Bound<'py, PyAny>, PhantomData<Q>);

/// As [`Given`], for an array.
pub(crate) struct GivenArray<'py, Q>(Bound<'py, PyAny>, PhantomData<Q>);

/// A result of one kind: a pint quantity on the Python side.
pub(crate) struct Out<Q>(pub(crate) Q);

/// As [`Out`], of a kind known only at run time: the SI value.
pub(crate) struct OutOf(pub(crate) &'static Kind, pub(crate) f64);

/// A kind known only at run time, written by its name.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct KindByName(pub(crate) &'static Kind);

impl Serialize for KindByName {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.0.name)
    }
}

impl<'de> Deserialize<'de> for KindByName {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let name = String::deserialize(deserializer)?;
        let known = ALL.iter().copied().find(|kind| kind.name == name);
        known.map(Self).ok_or_else(|| serde::de::Error::custom(format!("no kind `{name}`")))
    }
}

/// As [`Out`], for an array.
pub(crate) struct OutArray<Q>(pub(crate) Vec<Q>);

/// Numbers without a dimension: a NumPy array on the Python side.
pub(crate) struct Numbers(pub(crate) Vec<f64>);

impl<'py> IntoPyObject<'py> for Numbers {
    type Target = PyArray1<f64>;
    type Output = Bound<'py, PyArray1<f64>>;
    type Error = PyErr;
    #[cfg(feature = "introspection")]
    const OUTPUT_TYPE: PyStaticExpr = type_hint_identifier!("wheelrate.typing", "Numbers");
    fn into_pyobject(self, py: Python<'py>) -> PyResult<Self::Output> {
        Ok(PyArray1::from_vec(py, self.0))
    }
}

/// Numbers in rows and columns: a NumPy array on the Python side.
pub(crate) struct Matrix<const N: usize>(pub(crate) [[f64; N]; N]);

impl<'py, const N: usize> IntoPyObject<'py> for Matrix<N> {
    type Target = PyArray2<f64>;
    type Output = Bound<'py, PyArray2<f64>>;
    type Error = PyErr;
    #[cfg(feature = "introspection")]
    const OUTPUT_TYPE: PyStaticExpr = type_hint_identifier!("wheelrate.typing", "Numbers");
    fn into_pyobject(self, py: Python<'py>) -> PyResult<Self::Output> {
        Ok(arr2(&self.0).to_pyarray(py))
    }
}

/// Numbers (4 MiB of them) from which on NumPy asks the system for large pages, which cost a fraction of the small ones.
const LARGE: usize = 1 << 19;

/// Numbers as an array, written once.
pub(crate) fn column<'py>(
    py: Python<'py>,
    numbers: impl ExactSizeIterator<Item = f64>,
) -> PyResult<Bound<'py, PyArray1<f64>>> {
    if numbers.len() < LARGE {
        return Ok(PyArray1::from_vec(py, numbers.collect()));
    }
    let array = PyArray1::zeros(py, numbers.len(), false);
    array.try_readwrite()?.as_slice_mut()?.iter_mut().zip(numbers).for_each(|(to, from)| *to = from);
    Ok(array)
}

/// The same of quantities, in SI units.
pub(crate) fn si_column<'py, Q: Quantity>(py: Python<'py>, quantities: &[Q]) -> PyResult<Bound<'py, PyArray1<f64>>> {
    column(py, quantities.iter().map(|quantity| quantity.si()))
}

/// A column of a result without its unit: an array of numbers in SI units, or a list of words.
pub(crate) trait Plain {
    fn plain(self, py: Python<'_>) -> PyResult<Bound<'_, PyAny>>;
}

impl<Q: Quantity> Plain for OutArray<Q> {
    fn plain(self, py: Python<'_>) -> PyResult<Bound<'_, PyAny>> {
        Numbers(self.0.into_iter().map(Q::si).collect()).plain(py)
    }
}

impl Plain for Numbers {
    fn plain(self, py: Python<'_>) -> PyResult<Bound<'_, PyAny>> {
        Ok(self.into_pyobject(py)?.into_any())
    }
}

impl Plain for Vec<String> {
    fn plain(self, py: Python<'_>) -> PyResult<Bound<'_, PyAny>> {
        Ok(self.into_pyobject(py)?.into_any())
    }
}

impl<Q: Quantity> Given<'_, Q> {
    /// The quantity, checked to be finite.
    pub(crate) fn read(&self, argument: &str) -> PyResult<Q> {
        read(&self.0, Q::KIND, argument).map(Q::from_si)
    }
}

/// An argument that may be left out.
pub(crate) fn read_optional<Q: Quantity>(given: Option<Given<'_, Q>>, argument: &str) -> PyResult<Option<Q>> {
    given.map(|given| given.read(argument)).transpose()
}

impl<Q: Quantity> GivenArray<'_, Q> {
    /// The quantities, each checked to be finite.
    pub(crate) fn read(&self, argument: &str) -> PyResult<Vec<Q>> {
        Ok(read_array(&self.0, Q::KIND, argument)?.into_iter().map(Q::from_si).collect())
    }

    /// The quantities, of which some may be no number: where a sensor said nothing.
    pub(crate) fn read_with_gaps(&self, argument: &str) -> PyResult<Vec<Q>> {
        let measured = Measured::of(&self.0, Q::KIND, argument)?;
        let row = numbers::row(&measured.magnitude)
            .map_err(|because| measured.not_a_number(self.0.py(), "a row of numbers", &because, Q::KIND, argument))?;
        Ok(row.iter().map(|&number| Q::from_si(measured.in_si(number))).collect())
    }
}

macro_rules! argument {
    ($name:ident, $hint:literal) => {
        impl<'py, Q: Quantity> FromPyObject<'_, 'py> for $name<'py, Q> {
            type Error = PyErr;
            #[cfg(feature = "introspection")]
            const INPUT_TYPE: PyStaticExpr = type_hint_identifier!("wheelrate.typing", $hint);
            fn extract(object: Borrowed<'_, 'py, PyAny>) -> PyResult<Self> {
                Ok(Self(object.to_owned(), PhantomData))
            }
        }
    };
}

argument!(Given, "QuantityLike");
argument!(GivenArray, "ArrayLike");

pub(crate) mod shaped;

macro_rules! result {
    ([$($generics:tt)*] $name:ty, $write:expr) => {
        impl<'py $($generics)*> IntoPyObject<'py> for $name {
            type Target = PyAny;
            type Output = Bound<'py, PyAny>;
            type Error = PyErr;
            #[cfg(feature = "introspection")]
            const OUTPUT_TYPE: PyStaticExpr = type_hint_identifier!("wheelrate.typing", "Quantity");
            fn into_pyobject(self, py: Python<'py>) -> PyResult<Self::Output> {
                let write: fn(Python<'py>, Self) -> PyResult<Self::Output> = $write;
                write(py, self)
            }
        }
    };
}

result!([] OutOf, |py, OutOf(kind, si)| write(py, kind, si));
result!([, Q: Quantity] Out<Q>, |py, Out(quantity)| write(py, Q::KIND, quantity.si()));
/// `stroke [m]`: a name with the SI unit of what stands in the column.
pub(crate) fn column_name<Q: Quantity>(name: &str) -> String {
    format!("{name} [{}]", si_symbol(Q::KIND))
}

/// The SI unit of a kind.
pub(crate) fn si_symbol(kind: &Kind) -> &'static str {
    let si = kind.units.iter().find(|unit| unit.numerator == unit.denominator && unit.offset == 0.0);
    si.map_or("SI", |unit| unit.symbol)
}

result!([, Q: Quantity] OutArray<Q>, |py, OutArray(row)| write_array(py, Q::KIND, row.into_iter().map(Q::si)));

fn write<'py>(py: Python<'py>, kind: &'static Kind, si: f64) -> PyResult<Bound<'py, PyAny>> {
    pint_side(py)?.call_method1("write", (kind.units[0].from_si(si), kind.name))
}

fn write_array<'py>(
    py: Python<'py>,
    kind: &'static Kind,
    si: impl ExactSizeIterator<Item = f64>,
) -> PyResult<Bound<'py, PyAny>> {
    let numbers = PyArray1::from_vec(py, si.map(|value| kind.units[0].from_si(value)).collect());
    pint_side(py)?.call_method1("write", (numbers, kind.name))
}

pub(crate) fn read(object: &Bound<'_, PyAny>, kind: &'static Kind, argument: &str) -> PyResult<f64> {
    let py = object.py();
    if let Ok(text) = object.cast::<PyString>() {
        return parse_si(kind, &text.to_string_lossy()).map_err(|error| exception(py, &error.into(), Some(argument)));
    }
    let measured = Measured::of(object, kind, argument)?;
    let number = numbers::one(&measured.magnitude).map_err(|because| {
        // What takes one travel or stroke has a `curve` beside it that takes a row of them.
        let row = because == numbers::HAS_A_LENGTH && matches!(argument, "travel" | "stroke");
        let because = if row { format!("{because}: `curve` takes a row of them") } else { because };
        measured.not_a_number(py, "one number", &because, kind, argument)
    })?;
    measured.si(py, number, kind, argument)
}

pub(crate) fn read_array(object: &Bound<'_, PyAny>, kind: &'static Kind, argument: &str) -> PyResult<Vec<f64>> {
    let py = object.py();
    let name = |index: usize| format!("{argument}[{index}]");
    if is_sequence_of_quantities(object) {
        return object.try_iter()?.enumerate().map(|(index, item)| read(&item?, kind, &name(index))).collect();
    }
    let measured = Measured::of(object, kind, argument)?;
    let row = || {
        let refuse = |because: String| measured.not_a_number(py, "a row of numbers", &because, kind, argument);
        numbers::row(&measured.magnitude).map_err(refuse)
    };
    // In the memory that they came in.
    let mut si = row()?;
    measured.all_in_si(&mut si);
    // Counted, not looked for: that is one pass without a branch.
    if si.iter().filter(|value| !value.is_finite()).count() == 0 {
        return Ok(si);
    }
    let given = row()?;
    let refused = given.iter().zip(&si).enumerate().find(|(_, (_, si))| !si.is_finite());
    refused.map_or(Ok(si.clone()), |(index, (number, _))| Err(measured.refuse(py, *number, kind, &name(index))))
}

/// Numbers with the factor that brings them to SI, applied as the text parser applies it: the same bits come out.
struct Measured<'py> {
    magnitude: Bound<'py, PyAny>,
    unit: (f64, f64, f64),
}

impl<'py> Measured<'py> {
    fn of(object: &Bound<'py, PyAny>, kind: &'static Kind, argument: &str) -> PyResult<Self> {
        let py = object.py();
        let refuse = |error: UnitError| exception(py, &error.into(), Some(argument));
        if let Some((magnitude, spelling)) = as_pair(object) {
            let unit = parse_unit(kind, &spelling).map_err(refuse)?;
            return Ok(Self { magnitude, unit: (unit.numerator, unit.denominator, unit.offset) });
        }
        if !(object.is_instance_of::<PyFloat>() || object.is_instance_of::<PyInt>()) {
            let found = pint_side(py)?.call_method1("read", (object, kind.name, argument))?;
            if let Some((magnitude, unit)) = found.extract()? {
                return Ok(Self { magnitude, unit });
            }
        }
        Err(refuse(bare_number(object, kind)))
    }

    fn in_si(&self, number: f64) -> f64 {
        let (numerator, denominator, offset) = self.unit;
        number * numerator / denominator + offset
    }

    /// As [`in_si`](Self::in_si), each in its place. To divide by one changes no number, and takes as long as all the rest.
    fn all_in_si(&self, numbers: &mut [f64]) {
        let (numerator, denominator, offset) = self.unit;
        if denominator == 1.0 {
            numbers.iter_mut().for_each(|number| *number = *number * numerator + offset);
        } else {
            numbers.iter_mut().for_each(|number| *number = self.in_si(*number));
        }
    }

    fn si(&self, py: Python<'_>, number: f64, kind: &'static Kind, argument: &str) -> PyResult<f64> {
        let si = self.in_si(number);
        if si.is_finite() { Ok(si) } else { Err(self.refuse(py, number, kind, argument)) }
    }

    fn not_a_number(&self, py: Python<'_>, wanted: &str, because: &str, kind: &Kind, argument: &str) -> PyErr {
        let found = shown(&self.magnitude);
        let message = format!("{argument}: {found} is not {wanted}: {because}; wanted: {}", kind.name);
        let details = PyDict::new(py);
        let fields = [("field", argument), ("found", &found), ("wanted", wanted), ("kind", kind.name)];
        match fields.into_iter().try_for_each(|(name, value)| details.set_item(name, value)) {
            Ok(()) => raise(py, "UnitError", (message, "NotNumbers", details)),
            Err(failure) => failure,
        }
    }

    fn refuse(&self, py: Python<'_>, number: f64, kind: &'static Kind, argument: &str) -> PyErr {
        let error =
            UnitError::NotFiniteField { field: argument.to_owned(), kind: kind.name, found: number.to_string() };
        exception(py, &error.into(), None)
    }
}

/// `(numbers, unit)`, as opposed to a sequence of texts.
fn as_pair<'py>(object: &Bound<'py, PyAny>) -> Option<(Bound<'py, PyAny>, String)> {
    let tuple = object.cast::<PyTuple>().ok()?;
    let (magnitude, spelling): (Bound<'py, PyAny>, String) = tuple.extract().ok()?;
    (!magnitude.is_instance_of::<PyString>()).then_some((magnitude, spelling))
}

fn is_sequence_of_quantities(object: &Bound<'_, PyAny>) -> bool {
    object.is_instance_of::<PyList>() || object.is_instance_of::<PyTuple>() && as_pair(object).is_none()
}

fn bare_number(object: &Bound<'_, PyAny>, kind: &'static Kind) -> UnitError {
    let symbol = kind.units[0].symbol;
    let example = match object.extract::<f64>() {
        Ok(number) => format!("\"{number} {symbol}\""),
        Err(_) => format!("(numbers, \"{symbol}\")"),
    };
    UnitError::BareNumber { kind: kind.name, found: shown(object), units: kind.unit_list(), example }
}

/// An object as a message shows it: short, on one line.
fn shown(object: &Bound<'_, PyAny>) -> String {
    /// More of an object than this says nothing in a message.
    const MOST: usize = 40;
    let text = object.repr().map_or_else(|_| "this object".to_owned(), |text| text.to_string());
    let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if line.chars().count() <= MOST { line } else { line.chars().take(MOST).chain("…".chars()).collect() }
}

fn pint_side(py: Python<'_>) -> PyResult<&Bound<'_, PyModule>> {
    static MODULE: PyOnceLock<Py<PyModule>> = PyOnceLock::new();
    MODULE.get_or_try_init(py, || py.import("wheelrate._units").map(Bound::unbind)).map(|module| module.bind(py))
}

/// The kind of this name.
pub(crate) fn kind_named(py: Python<'_>, name: &str) -> PyResult<&'static Kind> {
    ALL.iter().copied().find(|known| known.name == name).ok_or_else(|| {
        let names = ALL.iter().map(|known| known.name).collect::<Vec<_>>().join(", ");
        raise(py, "UnitError", (format!("kind: found `{name}`, wanted one of {names}"),))
    })
}

/// Symbol, other spellings, numerator, denominator, offset.
type UnitRow = (&'static str, Vec<&'static str>, f64, f64, f64);

/// Every kind of quantity with its units, the one used in results first.
///
/// Returns
/// -------
/// list of tuple
///     Name of the kind, and a list of ``(symbol, other spellings, numerator, denominator, offset)`` per unit, with
///     SI value = number × numerator / denominator + offset.
#[pyfunction]
pub(crate) fn unit_tables() -> Vec<(&'static str, Vec<UnitRow>)> {
    let row = |unit: &Unit| (unit.symbol, unit.aliases.to_vec(), unit.numerator, unit.denominator, unit.offset);
    ALL.iter().map(|kind| (kind.name, kind.units.iter().map(row).collect())).collect()
}

/// Read one quantity as every dimensional argument of this package is read.
///
/// Parameters
/// ----------
/// given : quantity
///     Text with a unit, a pair of a number or an array and a unit, or a pint quantity of any registry.
/// kind : str
///     What it is, e.g. ``"length"`` or ``"spring rate"``.
///
/// Returns
/// -------
/// pint.Quantity
///     The same quantity in the unit that results of this kind have.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> print(wr.quantity("26 lbf/in", "spring rate").round(3))
/// 4.553 newton / millimeter
/// >>> wr.quantity(26, "spring rate")
/// Traceback (most recent call last):
///     ...
/// wheelrate.errors.UnitError: given: `26` has no unit: a spring rate wants N/mm, kgf/mm, ..., e.g. `"26 N/mm"`
#[pyfunction]
#[pyo3(signature = (given: "wheelrate.typing.ArrayLike", kind: "str") -> "wheelrate.typing.Quantity")]
pub(crate) fn quantity<'py>(given: &Bound<'py, PyAny>, kind: Text) -> PyResult<Bound<'py, PyAny>> {
    let py = given.py();
    let known = kind_named(py, &kind)?;
    let one = given.is_instance_of::<PyString>()
        || !is_sequence_of_quantities(given) && Measured::of(given, known, "given")?.magnitude.len().is_err();
    if one {
        write(py, known, read(given, known, "given")?)
    } else {
        write_array(py, known, read_array(given, known, "given")?.into_iter())
    }
}

/// The text of a quantity as it is said at the bike, in words that a file takes.
///
/// Whoever asks should repeat what was heard: a file refuses a comma and a bare number, and says what would do.
///
/// Parameters
/// ----------
/// kind : str
///     What it is, e.g. ``"length"`` or ``"spring rate"``.
/// text : str
///     As it is said: ``"5.6 kg"`` of a spring, ``"4,4 N/mm"``, ``"22 inches"``, ``"41"``.
/// unit : str, optional
///     Of a number without one; the unit of results unless given.
///
/// Returns
/// -------
/// str
///     Number and unit.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> wr.heard("spring rate", "5,6 kg")
/// '5.6 kgf/mm'
#[pyfunction]
#[pyo3(signature = (kind: "str", text: "str", unit: "str | None" = None) -> "str")]
pub(crate) fn heard(py: Python<'_>, kind: Text, text: Text, unit: Option<Text>) -> PyResult<String> {
    let kind = kind_named(py, &kind)?;
    run(py, || wheelrate::units::heard(kind, &text, unit.as_deref().unwrap_or(kind.units[0].symbol)))
}
