//! One end, studied: fit, Monte Carlo, rehearsal.

pub(crate) mod monte_carlo;
pub(crate) mod rehearsal;
pub(crate) mod study;

use pyo3::prelude::*;
use wheelrate::bike;
use wheelrate::infer;
use wheelrate::units::{Quantity, Share, Uncertain as Core};

use crate::bike::Bike;
use crate::errors::run;
use crate::plain::text;
use crate::record::End;
use crate::report::{per_end, system};
use crate::uncertain::Uncertain;
use crate::units::{Matrix, Out};
use crate::value::{AskedOf, Named, made_from_bike, result_class, to_json};

pub(crate) fn maybe<Q: Quantity>(value: Option<Core<Q>>) -> Option<Uncertain> {
    value.map(Uncertain::from)
}

result_class! {
    /// A load with the sag that follows.
    FittedLoad(infer::FittedLoad) {
        /// What stands on the wheels.
        load: String = |load| load.load.to_string();
        /// Sprung load at the wheel, from the scales.
        stated: Uncertain = |load| load.stated.into();
        /// The same with what the readings say of it.
        fitted: Uncertain = |load| load.fitted.into();
        /// Vertical sag where the spring force equals the load; below zero the end is topped out by that much.
        sag: Uncertain = |load| load.sag.into();
    }
}

/// What the readings of one end say: spring rate, preload, friction.
#[pyclass(module = "wheelrate", frozen, eq, weakref)]
#[derive(Clone, PartialEq)]
pub(crate) struct Fit {
    pub(crate) bike: bike::Bike,
    pub(crate) asked_of: AskedOf,
    pub(crate) fit: infer::Fit,
}

made_from_bike!(Fit, "fit_end", "fit");

#[pymethods]
impl Fit {
    /// Which end.
    #[getter]
    fn end(&self) -> &'static str {
        self.fit.end.name()
    }
    /// Rate of all main springs together.
    #[getter]
    fn rate(&self) -> Uncertain {
        self.fit.rate.into()
    }
    /// Common factor on the rates as labelled.
    #[getter]
    fn rate_factor(&self) -> Uncertain {
        self.fit.rate_factor.into()
    }
    /// Rate of each main spring, twins repeated.
    #[getter]
    fn springs(&self) -> Vec<Uncertain> {
        self.fit.springs.iter().copied().map(Uncertain::from).collect()
    }
    /// Preload of the first main spring.
    #[getter]
    fn preload(&self) -> Uncertain {
        self.fit.preload.into()
    }
    /// Friction force at the wheel, either way.
    #[getter]
    fn friction(&self) -> Uncertain {
        self.fit.friction.into()
    }
    /// Distance at full extension; None without readings, and where all of them are of a zeroed gauge.
    #[getter]
    fn extended(&self) -> Option<Uncertain> {
        maybe(self.fit.extended)
    }
    /// Correlation of rate, preload and friction, in this order.
    #[getter]
    fn correlation(&self) -> Matrix<3> {
        Matrix(self.fit.correlation)
    }
    /// How far the readings, and not the labels, decide each number.
    #[getter(from_readings)]
    fn shares(&self) -> Named<Out<Share>> {
        let of = self.fit.from_readings;
        let named = [("rate", of.rate), ("preload", of.preload), ("friction", of.friction)];
        Named(named.into_iter().map(|(name, share)| (name.to_owned(), Out(share))).collect())
    }
    /// Loads, lightest first, with their sags.
    #[getter]
    fn loads(&self) -> Vec<FittedLoad> {
        self.fit.loads.iter().cloned().map(FittedLoad).collect()
    }
    /// Agreement of readings and labels: χ², its degrees of freedom, and the probability of as much or more by chance.
    #[getter]
    fn chi_square(&self) -> (f64, usize, f64) {
        (self.fit.chi_square.value, self.fit.chi_square.degrees, self.fit.chi_square.probability)
    }
    /// What was noticed about the readings, as sentences.
    ///
    /// Parameters
    /// ----------
    /// units : {"metric", "kilogram-force", "inch"}
    ///     Units of the sentences.
    #[pyo3(signature = (units: "str"="metric"))]
    fn findings(&self, py: Python<'_>, #[pyo3(from_py_with = text)] units: &str) -> PyResult<Vec<String>> {
        let units = system(py, units)?;
        Ok(self.fit.findings.iter().map(|finding| finding.text(units)).collect())
    }
    /// On what all this hangs and the readings cannot decide, as sentences: a lone extended reading, a reading that is
    /// grossly off, a label that the springs do not keep.
    #[getter]
    fn conditions(&self) -> Vec<String> {
        self.fit.conditions.iter().map(wheelrate::infer::Condition::text).collect()
    }
    /// The fit as JSON text, quantities as text with units.
    fn to_json(&self) -> PyResult<String> {
        to_json(&self.fit)
    }
    fn _repr_html_(slf: &Bound<'_, Self>) -> PyResult<String> {
        slf.py().import("wheelrate._display")?.call_method1("fit", (slf,))?.extract()
    }
    fn __repr__(&self) -> String {
        let (rate, preload, friction) = (self.rate(), self.preload(), self.friction());
        let text = |number: Uncertain| number.__str__();
        format!("Fit({}: rate {}, preload {}, friction {})", self.end(), text(rate), text(preload), text(friction))
    }
}

#[pymethods]
impl Bike {
    /// What the readings say of each end: rate, preload and friction, with uncertainty. An end whose readings are refused is
    /// left out, and `fit_end` says why; it is an error only where every end is.
    ///
    /// Returns
    /// -------
    /// dict of str to Fit
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> fit = wr.demo().fit()
    /// >>> print(fit["rear"].rate)
    /// 50.8 ± 0.9 N/mm
    #[pyo3(signature = () -> "PerEnd[Fit]")]
    fn fit<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let fits = run(py, || self.0.fit())?;
        let named = fits
            .ends
            .into_iter()
            .map(|fit| (fit.end.name().to_owned(), Fit { bike: self.0.clone(), asked_of: AskedOf::default(), fit }));
        per_end(py, Named(named.collect()), fits.without)
    }
    /// What the readings of one end say.
    ///
    /// Parameters
    /// ----------
    /// end : {"front", "rear"}
    ///     Which end.
    fn fit_end(&self, py: Python<'_>, end: End) -> PyResult<Fit> {
        run(py, || self.0.fit_end(end.0)).map(|fit| Fit { bike: self.0.clone(), asked_of: AskedOf::default(), fit })
    }
}
