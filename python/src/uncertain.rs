//! A value with its standard uncertainty, of any kind.

use pyo3::prelude::*;
use serde::{Deserialize, Serialize};
use wheelrate::units::{Quantity, Uncertain as Core, show_uncertain};

use crate::errors::{raise, run};
use crate::plain::Text;
use crate::units::{KindByName, OutOf, kind_named, plain, read};
use crate::value::getters;

/// A best estimate with its standard uncertainty (JCGM 100:2008).
///
/// Parameters
/// ----------
/// value : quantity
///     Best estimate.
/// standard_uncertainty : quantity
///     One standard deviation, in the kind of the value.
/// kind : str
///     What it is, e.g. ``"length"``.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> rate = wr.Uncertain("52.31 N/mm", "0.84 N/mm", "spring rate")
/// >>> print(rate)
/// 52.3 ± 0.8 N/mm
/// >>> low, high = rate.interval()
/// >>> print(low.round(1), high.round(1))
/// 50.7 newton / millimeter 54.0 newton / millimeter
#[pyclass(module = "wheelrate", frozen, eq, weakref)]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Uncertain {
    kind: KindByName,
    value: f64,
    standard_uncertainty: f64,
}

impl<Q: Quantity> From<Core<Q>> for Uncertain {
    fn from(core: Core<Q>) -> Self {
        Self { kind: KindByName(Q::KIND), value: core.value.si(), standard_uncertainty: core.standard_uncertainty.si() }
    }
}

/// An uncertain value of one kind, or a pair of a value and its standard uncertainty.
pub(crate) fn read_uncertain<Q: Quantity + Send>(given: &Bound<'_, PyAny>, argument: &str) -> PyResult<Core<Q>> {
    let py = given.py();
    let (value, uncertainty) = match given.cast::<Uncertain>() {
        Ok(known) if known.get().kind.0 == Q::KIND => (known.get().value, known.get().standard_uncertainty),
        Ok(known) => {
            let message = format!("{argument}: found a {}, wanted a {}", known.get().kind.0.name, Q::KIND.name);
            return Err(raise(py, "UnitError", (message,)));
        }
        Err(_) => {
            let Ok((value, uncertainty)) = given.extract::<(Bound<'_, PyAny>, Bound<'_, PyAny>)>() else {
                let message = format!("{argument}: wanted an Uncertain, or a pair of value and standard uncertainty");
                return Err(raise(py, "UnitError", (message,)));
            };
            (read(&value, Q::KIND, &format!("{argument}[0]"))?, read(&uncertainty, Q::KIND, &format!("{argument}[1]"))?)
        }
    };
    run(py, || Core::new(Q::from_si(value), Q::from_si(uncertainty)))
}

getters! {
    Uncertain {
        /// Best estimate.
        value: OutOf = |uncertain| OutOf(uncertain.kind.0, uncertain.value);
        /// One standard deviation, of the kind of the value.
        standard_uncertainty: OutOf = |uncertain| OutOf(uncertain.kind.0, uncertain.standard_uncertainty);
        /// What it is.
        kind: &'static str = |uncertain| uncertain.kind.0.name;
    }
}

#[pymethods]
impl Uncertain {
    #[new]
    #[pyo3(signature = (value: "wheelrate.typing.QuantityLike", standard_uncertainty: "wheelrate.typing.QuantityLike", kind))]
    fn new(value: &Bound<'_, PyAny>, standard_uncertainty: &Bound<'_, PyAny>, kind: Text) -> PyResult<Self> {
        let known = kind_named(value.py(), &kind)?;
        let value = read(value, known, "value")?;
        let standard_uncertainty = read(standard_uncertainty, known, "standard_uncertainty")?;
        Ok(Self { kind: KindByName(known), value, standard_uncertainty })
    }
    /// The interval ``value ± coverage_factor·u``; 1.96 covers 95 % of a normal distribution.
    #[pyo3(signature = (coverage_factor: "float" = 1.96))]
    fn interval(&self, #[pyo3(from_py_with = plain::coverage_factor)] coverage_factor: f64) -> (OutOf, OutOf) {
        let half = coverage_factor * self.standard_uncertainty;
        (OutOf(self.kind.0, self.value - half), OutOf(self.kind.0, self.value + half))
    }
    /// The value with its standard uncertainty, in a unit of the kind: ``52.3 ± 0.8 N/mm``.
    #[pyo3(signature = (unit=None))]
    fn show(&self, py: Python<'_>, unit: Option<Text>) -> PyResult<String> {
        let unit = unit.as_deref().unwrap_or(self.kind.0.units[0].symbol);
        run(py, || wheelrate::units::parse_si(self.kind.0, &format!("1 {unit}")))?;
        Ok(show_uncertain(self.kind.0, self.value, self.standard_uncertainty, unit))
    }
    pub(crate) fn __str__(&self) -> String {
        show_uncertain(self.kind.0, self.value, self.standard_uncertainty, self.kind.0.units[0].symbol)
    }
    fn __repr__(&self) -> String {
        let (value, uncertainty, kind) = self.__getnewargs__();
        format!("Uncertain('{value}', '{uncertainty}', '{kind}')")
    }
    fn __hash__(&self) -> u64 {
        crate::value::hash(&(self.kind.0.name, self.value, self.standard_uncertainty))
    }
    fn __getnewargs__(&self) -> (String, String, &'static str) {
        let text = |si| wheelrate::units::exact_text(self.kind.0, si);
        (text(self.value), text(self.standard_uncertainty), self.kind.0.name)
    }
}
