//! What to measure next, as a plan for one person alone.

use pyo3::prelude::*;
use wheelrate::bike;
use wheelrate::decide;
use wheelrate::units::{Share, SpringRate, Time};

use crate::bike::Bike;
use crate::errors::run_on;
use crate::plain::text;
use crate::record::End;
use crate::report::system;
use crate::units::Out;
use crate::value::{AskedOf, Named, core_class, made_from_bike, to_json};

/// One task with what it would bring.
#[pyclass(module = "wheelrate", frozen, eq, weakref)]
#[derive(Clone, PartialEq)]
pub(crate) struct NextReading(pub(crate) decide::NextReading);

core_class!(NextReading(decide::NextReading));

#[pymethods]
impl NextReading {
    /// Standard uncertainty of the number that decides, after it, as a share of what it is now.
    #[getter]
    fn remaining(&self) -> Out<Share> {
        Out(self.0.remaining)
    }
    /// Standard uncertainty of the rate called for, per spring, now and after it; None where no rate is called for.
    #[getter]
    fn wanted_rate(&self) -> Option<(Out<SpringRate>, Out<SpringRate>)> {
        self.0.wanted_rate.map(|[now, then]| (Out(now), Out(then)))
    }
    /// How long it takes one person: common practice, no source.
    #[getter]
    fn effort(&self) -> Out<Time> {
        Out(self.0.effort)
    }
    /// The task as JSON text: its name and its numbers.
    fn to_json(&self) -> PyResult<String> {
        to_json(&self.0)
    }
    /// What to do and what it brings, in a sentence.
    ///
    /// Parameters
    /// ----------
    /// units : {"metric", "kilogram-force", "inch"}
    ///     Units of the sentence.
    #[pyo3(signature = (units: "str"="metric"))]
    fn text(&self, py: Python<'_>, #[pyo3(from_py_with = text)] units: &str) -> PyResult<String> {
        Ok(self.0.text(system(py, units)?))
    }
    fn __repr__(&self) -> PyResult<String> {
        Ok(format!("NextReading({})", self.to_json()?))
    }
}

/// What to measure next at one end: steps in the order of an evening, and what they are worth.
#[pyclass(module = "wheelrate", frozen, eq, weakref)]
#[derive(Clone, PartialEq)]
pub(crate) struct Plan {
    pub(crate) bike: bike::Bike,
    pub(crate) asked_of: AskedOf,
    pub(crate) plan: decide::Plan,
}

made_from_bike!(Plan, "plan_end", "plan");

#[pymethods]
impl Plan {
    /// Which end.
    #[getter]
    fn end(&self) -> &'static str {
        self.plan.end.name()
    }
    /// ``measure``, ``clear`` (nothing more needs measuring), ``check`` (the verdict stands, all of it on one extended reading:
    /// take a second), ``repeat first`` (a reading is misread) or
    /// ``will not settle`` (other springs or targets would).
    #[getter]
    fn worth(&self) -> &'static str {
        self.plan.worth.name()
    }
    /// What to do, in this order; what each says is with all before it done.
    #[getter]
    fn steps(&self) -> Vec<NextReading> {
        self.plan.steps.iter().cloned().map(NextReading).collect()
    }
    /// All steps together, the spring taken out once.
    #[getter]
    fn effort(&self) -> Out<Time> {
        Out(self.plan.effort)
    }
    /// Probability that the best action lands both sags: as it is, and on average with everything read that is worth it.
    #[getter]
    fn lands(&self) -> (Out<Share>, Out<Share>) {
        (Out(self.plan.now.lands), Out(self.plan.then.lands))
    }
    /// The same less the price of the action: as it is, and on average then. The price of measuring is not in it.
    #[getter]
    fn utility(&self) -> (Out<Share>, Out<Share>) {
        (Out(self.plan.now.utility), Out(self.plan.then.utility))
    }
    /// Probability that another action than the one that is best now is best then.
    #[getter]
    fn changes(&self) -> Out<Share> {
        Out(self.plan.then.changes)
    }
    /// The plan in sentences: what it is worth, then its steps.
    ///
    /// Parameters
    /// ----------
    /// units : {"metric", "kilogram-force", "inch"}
    ///     Units of the sentences.
    #[pyo3(signature = (units: "str"="metric"))]
    fn text(&self, py: Python<'_>, #[pyo3(from_py_with = text)] units: &str) -> PyResult<Vec<String>> {
        Ok(self.plan.text(system(py, units)?))
    }
    /// The plan as JSON text, quantities as text with units.
    fn to_json(&self) -> PyResult<String> {
        to_json(&self.plan)
    }
    fn __str__(&self, py: Python<'_>) -> PyResult<String> {
        Ok(self.text(py, "metric")?.join("\n"))
    }
    fn __repr__(&self) -> String {
        format!("Plan({}: {}, {} steps)", self.end(), self.worth(), self.plan.steps.len())
    }
}

#[pymethods]
impl Bike {
    /// What to measure next at every end that has a rider sag target, as a plan for one person alone.
    ///
    /// Returns
    /// -------
    /// dict of str to Plan
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> wr.demo().plan()["rear"].worth
    /// 'clear'
    #[pyo3(signature = () -> "PerEnd[Plan]")]
    fn plan<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let plans = run_on(py, &self.0, || self.0.plan())?;
        let named = plans.into_iter().map(|plan| {
            (plan.end.name().to_owned(), Plan { bike: self.0.clone(), asked_of: AskedOf::default(), plan })
        });
        crate::report::per_end(py, Named(named.collect()), Vec::new())
    }
    /// What to measure next at one end.
    ///
    /// Parameters
    /// ----------
    /// end : {"front", "rear"}
    ///     Which end.
    fn plan_end(&self, py: Python<'_>, end: End) -> PyResult<Plan> {
        run_on(py, &self.0, || self.0.plan_end(end.0)).map(|plan| Plan {
            bike: self.0.clone(),
            asked_of: AskedOf::default(),
            plan,
        })
    }
}
