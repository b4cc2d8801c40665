//! Many designs of one bike.

use numpy::ndarray::Array2;
use numpy::{PyArray1, PyArray2};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList, PyString, PyTuple};
use wheelrate::error::Address;
use wheelrate::keys::Value;
use wheelrate::sweep::{Column, Output, Scheme, SweepAxis, Values, kind_at};
use wheelrate::units::{Kind, exact_text};

use crate::bike::Bike;
use crate::errors::{exception, raise, run, run_long};
use crate::log::value_text;
use crate::plain::{Text, integer, optional_integer, text, whole};
use crate::units::{read, read_array, si_symbol};

/// Many designs of one bike, as data: nothing is worked out before a stretch of it is asked for.
///
/// Each design is the bike as `Bike.what_if` would have it with the values of all axes, what the readings found carried into
/// it. A design is known by its index alone, so that any stretch can be worked out anywhere. `Bike.sweep` makes one and works
/// it out.
///
/// Parameters
/// ----------
/// bike : Bike
///     The bike that is varied.
/// axes : dict of str to values
///     By address, as for `Bike.what_if`: a list of values, an array with a unit, a dict of ``from``, ``to`` and ``steps``, or,
///     where designs are drawn, a pair of both ends.
/// outputs : list of str
///     What is asked, by name; `sweep_outputs` lists them.
/// scheme : {"grid", "list", "random", "latin_hypercube"}
///     Which designs are made of the values.
/// samples : int, optional
///     How many designs are drawn.
/// seed : int
///     Where the draws begin.
/// points : int
///     Points of a curve.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> axes = {"rear.shock.spring.rate": ["52 N/mm", "54 N/mm", "56 N/mm"]}
/// >>> sweep = wr.Sweep(wr.demo(), axes, ["rear.rider_sag"])
/// >>> columns, reasons = sweep.chunk(0, len(sweep))
/// >>> print((columns["rear.rider_sag"] * 1e3).round(1), reasons)
/// [110.3 101.5  97.2] {}
#[pyclass(module = "wheelrate", frozen, eq, weakref)]
#[derive(Clone, PartialEq)]
pub(crate) struct Sweep(pub(crate) wheelrate::sweep::Sweep);

/// Name, kind and SI unit of a column, and how many values a design has in it; no kind and unit for words.
type ColumnRow = (String, Option<&'static str>, Option<&'static str>, usize);

#[pymethods]
impl Sweep {
    #[new]
    #[pyo3(signature = (
        bike, axes: "dict[str, wheelrate.typing.ArrayLike | list[object] | dict[str, object]]", outputs, *,
        scheme: "wheelrate.typing.Scheme"="grid", samples: "SupportsIndex | None"=None, seed: "SupportsIndex"=0, points: "SupportsIndex"=60
    ))]
    #[allow(clippy::too_many_arguments, reason = "the parts of a sweep")]
    pub(crate) fn new(
        py: Python<'_>,
        bike: &Bike,
        axes: &Bound<'_, PyDict>,
        outputs: Vec<Text>,
        #[pyo3(from_py_with = text)] scheme: &str,
        #[pyo3(from_py_with = optional_integer)] samples: Option<i128>,
        #[pyo3(from_py_with = integer)] seed: i128,
        #[pyo3(from_py_with = integer)] points: i128,
    ) -> PyResult<Self> {
        let samples = samples.map(|samples| whole(py, "samples", samples)).transpose()?;
        let (seed, points) = (whole(py, "seed", seed)?, whole(py, "points", points)?);
        let scheme = Scheme::named(scheme, samples, seed).map_err(|error| exception(py, &error.into(), None))?;
        let drawn = matches!(scheme, Scheme::Random { .. } | Scheme::LatinHypercube { .. });
        let one =
            |(address, given): (Bound<'_, PyAny>, Bound<'_, PyAny>)| axis(&address.extract::<Text>()?, &given, drawn);
        let axes: Vec<SweepAxis> = axes.iter().map(one).collect::<PyResult<_>>()?;
        run(py, || wheelrate::sweep::Sweep::with_points(&bike.0, axes, scheme, &outputs, points)).map(Self)
    }
    /// The bike that is varied.
    #[getter]
    fn bike(&self) -> Bike {
        Bike(self.0.bike().clone())
    }
    /// The addresses that are varied.
    #[getter]
    fn addresses(&self) -> Vec<String> {
        self.0.axes().iter().map(|axis| axis.path().to_owned()).collect()
    }
    /// What is asked.
    #[getter]
    fn outputs(&self) -> Vec<String> {
        self.0.outputs().iter().map(|output| output.name()).collect()
    }
    /// Which designs there are.
    #[getter]
    fn scheme(&self) -> &'static str {
        self.0.scheme().name()
    }
    /// How many values each axis has; 0 for one that is given by its ends.
    #[getter]
    fn shape(&self) -> Vec<usize> {
        self.0.shape().to_vec()
    }
    /// Points of a curve.
    #[getter]
    fn points(&self) -> usize {
        self.0.points()
    }
    /// Columns of a result: name, kind and SI unit (None for words), and how many values each design has in it.
    #[getter]
    fn columns(&self) -> Vec<ColumnRow> {
        let row =
            |Column { name, kind, width, .. }: Column| (name, kind.map(|kind| kind.name), kind.map(si_symbol), width);
        self.0.chunk(0..0).columns.into_iter().map(row).collect()
    }
    /// The bike of one design.
    ///
    /// Parameters
    /// ----------
    /// index : int
    ///     From 0.
    #[pyo3(signature = (index: "SupportsIndex"))]
    fn design(&self, py: Python<'_>, #[pyo3(from_py_with = integer)] index: i128) -> PyResult<Bike> {
        let index = whole(py, "index", index)?;
        run(py, || self.0.design(index)).map(Bike)
    }
    /// A stretch of designs with their answers, on all cores and without the interpreter's lock.
    ///
    /// Parameters
    /// ----------
    /// start : int
    ///     Index of the first design.
    /// stop : int
    ///     Index after the last.
    ///
    /// Returns
    /// -------
    /// columns : dict of str to array
    ///     By address and output, in SI units; NaN where a design has no answer. A list of words where values are neither
    ///     quantities nor numbers.
    /// reasons : dict of int to str
    ///     By index, why a design lacks an answer.
    #[pyo3(signature = (start: "SupportsIndex", stop: "SupportsIndex") -> "tuple[dict[str, wheelrate.typing.Numbers | list[str]], dict[int, str]]")]
    fn chunk<'py>(
        &self,
        py: Python<'py>,
        #[pyo3(from_py_with = integer)] start: i128,
        #[pyo3(from_py_with = integer)] stop: i128,
    ) -> PyResult<(Bound<'py, PyDict>, Bound<'py, PyDict>)> {
        let (start, stop) = (whole::<u64>(py, "start", start)?, whole::<u64>(py, "stop", stop)?);
        let chunk = run_long(py, || Ok::<_, wheelrate::Error>(self.0.chunk(start..stop.max(start))))?;
        let columns = PyDict::new(py);
        for Column { name, width, values, .. } in chunk.columns {
            match values {
                Values::Numbers(numbers) if width == 1 => columns.set_item(name, PyArray1::from_vec(py, numbers))?,
                Values::Numbers(numbers) => {
                    let rows = Array2::from_shape_vec((numbers.len() / width, width), numbers);
                    let rows = rows.map_err(|error| pyo3::exceptions::PyValueError::new_err(error.to_string()))?;
                    columns.set_item(name, PyArray2::from_owned_array(py, rows))?;
                }
                Values::Words(words) => columns.set_item(name, words)?,
            }
        }
        let reasons = PyDict::new(py);
        for (index, reason) in chunk.reasons {
            reasons.set_item(index, reason)?;
        }
        Ok((columns, reasons))
    }
    /// The sweep as JSON, which reads back as an equal sweep.
    fn to_json(&self) -> PyResult<String> {
        crate::value::to_json(&self.0)
    }
    /// Read a sweep that `to_json` wrote.
    #[staticmethod]
    fn from_json(py: Python<'_>, text: Text) -> PyResult<Self> {
        let refuse = |error: serde_json::Error| raise(py, "SweepError", (format!("no sweep of `to_json`: {error}"),));
        serde_json::from_str(&text).map(Self).map_err(refuse)
    }
    fn __len__(&self) -> usize {
        self.0.len() as usize
    }
    #[pyo3(signature = () -> "tuple[object, tuple[str]]")]
    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, (String,))> {
        Ok((py.get_type::<Self>().getattr("from_json")?, (self.to_json()?,)))
    }
    fn __hash__(&self) -> PyResult<u64> {
        Ok(crate::value::hash(&self.to_json()?))
    }
    fn __repr__(&self) -> String {
        let [axes, outputs] = [self.addresses(), self.outputs()].map(|names| names.join(", "));
        format!("Sweep({}, {} designs over {axes}: {outputs})", self.scheme(), self.0.len())
    }
}

/// Everything that a sweep can be asked.
///
/// Returns
/// -------
/// dict of str to str
///     What each output is, by its name.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> wr.sweep_outputs()["trail"]
/// 'trail with the rider, springs as stated'
#[pyfunction]
pub(crate) fn sweep_outputs() -> crate::value::Named<&'static str> {
    crate::value::Named(Output::all().map(|output| (output.name(), output.doc())).collect())
}

/// What is varied at one address.
fn axis(address: &str, given: &Bound<'_, PyAny>, drawn: bool) -> PyResult<SweepAxis> {
    let py = given.py();
    let refuse = |error: wheelrate::error::SweepError| exception(py, &error.into(), None);
    let known = match Address::parse(address) {
        Some(parsed) => kind_at(&parsed).map_err(refuse)?,
        None => None,
    };
    if let Ok(range) = given.cast::<PyDict>() {
        return stepped(address, range, known);
    }
    if let (true, Ok(pair)) = (drawn, given.cast::<PyTuple>())
        && let [from, to] = pair.iter().collect::<Vec<_>>().as_slice()
        && (from.is_instance_of::<PyString>() || !to.is_instance_of::<PyString>())
    {
        let [from, to] = [(from, 0), (to, 1)].map(|(end, at)| one(end, known, &format!("{address}[{at}]")));
        return SweepAxis::between(address, from?, to?).map_err(refuse);
    }
    let values: Vec<Value> = match known {
        Some(kind) if !is_list_of_others(given) => {
            read_array(given, kind, address)?.into_iter().map(|si| Value::Text(exact_text(kind, si))).collect()
        }
        _ => given.try_iter()?.map(|value| plain(&value?)).collect::<PyResult<_>>()?,
    };
    SweepAxis::new(address, values).map_err(refuse)
}

/// `{"from": …, "to": …}`, with `"steps"` for so many values at even steps.
fn stepped(address: &str, range: &Bound<'_, PyDict>, kind: Option<&'static Kind>) -> PyResult<SweepAxis> {
    let py = range.py();
    let refuse = |error: wheelrate::error::SweepError| exception(py, &error.into(), None);
    let known = |key: &Bound<'_, PyAny>| {
        key.extract::<String>().is_ok_and(|key| ["from", "to", "steps"].contains(&key.as_str()))
    };
    let end = |name: &str| match range.get_item(name)? {
        Some(given) if range.iter().all(|(key, _)| known(&key)) => one(&given, kind, &format!("{address}.{name}")),
        _ => Err(refuse(wheelrate::error::SweepError::Address {
            address: address.to_owned(),
            found: range.repr()?.to_string(),
            wanted: "a list of values, or a dict of `from`, `to` and perhaps `steps`".to_owned(),
        })),
    };
    let (from, to) = (end("from")?, end("to")?);
    match range.get_item("steps")? {
        Some(steps) => SweepAxis::steps(address, from, to, steps.extract()?).map_err(refuse),
        None => SweepAxis::between(address, from, to).map_err(refuse),
    }
}

/// Is it a list of what are no quantities: plain numbers, tables, lists?
fn is_list_of_others(given: &Bound<'_, PyAny>) -> bool {
    let other = |item: Bound<'_, PyAny>| {
        item.is_instance_of::<PyDict>()
            || item.is_instance_of::<PyList>()
            || item.extract::<f64>().is_ok() && item.getattr("units").is_err()
    };
    given.cast::<PyList>().is_ok_and(|list| !list.is_empty() && list.iter().all(other))
}

fn one(given: &Bound<'_, PyAny>, kind: Option<&'static Kind>, argument: &str) -> PyResult<Value> {
    match kind {
        Some(kind) => Ok(Value::Text(exact_text(kind, read(given, kind, argument)?))),
        None => plain(given),
    }
}

/// A value as the file writes it.
fn plain(given: &Bound<'_, PyAny>) -> PyResult<Value> {
    if let Ok(number) = given.extract::<f64>() {
        return Ok(Value::Number(number));
    }
    Ok(Value::from_text(&value_text(given)?))
}

#[pymethods]
impl Bike {
    /// Many designs at once: the bike as it would be with every combination, list or draw of some values.
    ///
    /// Each design is what `what_if` makes of it, with what the readings found carried into it; each end is solved once. Stretches
    /// of designs are worked out on all cores without the interpreter's lock, here or by the workers of a Dask client, with
    /// the same result to the last bit. A design that fails has NaN for what it lacks, and a reason.
    ///
    /// Parameters
    /// ----------
    /// axes : dict of str to values
    ///     By address, as for `what_if`: a list of values, an array with a unit, a dict of ``from``, ``to`` and ``steps``, or, where
    ///     designs are drawn, a pair of both ends.
    /// outputs : list of str
    ///     What is asked, by name; `sweep_outputs` lists them.
    /// scheme : {"grid", "list", "random", "latin_hypercube"}
    ///     Every combination, the values side by side, or drawn.
    /// samples : int, optional
    ///     How many designs are drawn.
    /// seed : int
    ///     Where the draws begin; the same seed gives the same designs.
    /// points : int
    ///     Points of a curve.
    /// chunk : int
    ///     Designs in one stretch: one call of the core, one task of a cluster, one part of what is written.
    /// client : distributed.Client, optional
    ///     Workers to work it out.
    /// progress : bool or callable, optional
    ///     True for a bar of tqdm, or what makes one of the same protocol: called with ``total`` and ``unit``, it gives something with
    ///     ``update`` and ``close``.
    /// to : str or path, optional
    ///     Where the result is written as it comes: a Parquet file, a CSV file, or a folder of Parquet parts. What is there of the
    ///     same sweep already is not worked out again.
    ///
    /// Returns
    /// -------
    /// SweepResult
    ///     Columns by address and output.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> axes = {"rear.linkage.points.link_frame.x": ("-68 mm", "-64 mm"), "rear.shock.spring.rate": ("50 N/mm", "58 N/mm")}
    /// >>> result = wr.demo().sweep(axes, ["rear.rider_sag", "rear.chance"], scheme="latin_hypercube", samples=100)
    /// >>> len(result), result["rear.rider_sag"].units
    /// (100, <Unit('millimeter')>)
    #[pyo3(signature = (
        axes: "dict[str, wheelrate.typing.ArrayLike | list[object] | dict[str, object]]", outputs, *,
        scheme: "wheelrate.typing.Scheme"="grid", samples: "SupportsIndex | None"=None, seed: "SupportsIndex"=0, points: "SupportsIndex"=60, chunk: "SupportsIndex"=10_000,
        client: "object"=None, progress: "object"=None, to: "str | os.PathLike[str] | None"=None
    ) -> "SweepResult")]
    #[allow(clippy::too_many_arguments, reason = "the parts of a sweep, and how it is carried out")]
    fn sweep<'py>(
        &self,
        py: Python<'py>,
        axes: &Bound<'py, PyDict>,
        outputs: Vec<Text>,
        #[pyo3(from_py_with = text)] scheme: &str,
        #[pyo3(from_py_with = optional_integer)] samples: Option<i128>,
        #[pyo3(from_py_with = integer)] seed: i128,
        #[pyo3(from_py_with = integer)] points: i128,
        #[pyo3(from_py_with = integer)] chunk: i128,
        client: Option<Bound<'py, PyAny>>,
        progress: Option<Bound<'py, PyAny>>,
        to: Option<Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let sweep = Sweep::new(py, self, axes, outputs, scheme, samples, seed, points)?;
        py.import("wheelrate._sweep")?
            .call_method1("work_out", (sweep, whole::<u64>(py, "chunk", chunk)?, client, progress, to))
    }
}
