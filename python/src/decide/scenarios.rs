//! The same bike under other loads: what to set for each, and which spring does for all.

use pyo3::prelude::*;
use serde::{Deserialize, Serialize};
use wheelrate::bike;
use wheelrate::decide;
use wheelrate::units::{Share, SpringRate, UnitSystem};

use crate::bike::Bike;
use crate::decide::advice::SpringChoice;
use crate::errors::run_long;
use crate::plain::{Text, text};
use crate::record::End;
use crate::report::{per_end, system};
use crate::uncertain::Uncertain;
use crate::units::Out;
use crate::value::{AskedOf, Named, core_class, made_from_bike, result_class, to_json};

result_class! {
    /// A load, and how the end stands under it today.
    ScenarioLoad(decide::ScenarioLoad) {
        /// Name of the scenario; of the usual load, the load itself.
        name: String = |load| load.name.clone();
        /// What stands on the wheels.
        load: String = |load| load.load.to_string();
        /// What the springs carry at the wheel.
        sprung_load: Uncertain = |load| load.sprung_load.into();
        /// Sag under it today, along the direction of the target.
        sag_today: Uncertain = |load| load.sag_today.into();
        /// Sag of the bike alone today; below zero it is topped out.
        free_sag_today: Uncertain = |load| load.free_sag_today.into();
    }
}

result_class! {
    /// A change of preload from one load to another on the same spring.
    PreloadChange(decide::PreloadChange) {
        /// How much more, below zero less. What the fit is off by is in both settings and mostly cancels.
        preload: Uncertain = |change| change.preload.into();
        /// The same in turns of the adjuster with its standard uncertainty; None where its pitch is not known.
        turns: Option<(f64, f64)> = |change| change.turns.map(|turns| (turns.value, turns.standard_uncertainty));
    }
}

/// One spring under every load.
#[pyclass(module = "wheelrate", frozen, eq, weakref)]
#[derive(Clone, PartialEq)]
pub(crate) struct SpringAcross(NamedLoads);

/// A spring with the names of the loads.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct NamedLoads {
    spring: decide::SpringAcross,
    names: Vec<String>,
}

core_class!(SpringAcross(NamedLoads));

impl SpringAcross {
    fn place(&self, py: Python<'_>, name: &str, argument: &str) -> PyResult<usize> {
        self.0.names.iter().position(|known| known == name).ok_or_else(|| {
            let wanted = self.0.names.join("`, `");
            crate::errors::raise(py, "BikeError", (format!("{argument}: found `{name}`, wanted one of `{wanted}`"),))
        })
    }
}

#[pymethods]
impl SpringAcross {
    /// Rate as labelled, per spring.
    #[getter]
    fn rate(&self) -> Out<SpringRate> {
        Out(self.0.spring.rate)
    }
    /// Is it the one that is in now?
    #[getter]
    fn is_fitted(&self) -> bool {
        self.0.spring.is_fitted
    }
    /// What it does under each load, by name.
    #[getter]
    fn choices(&self) -> Named<SpringChoice> {
        let choices = self.0.spring.choices.iter().cloned().map(SpringChoice);
        Named(self.0.names.iter().cloned().zip(choices).collect())
    }
    /// Probability that both sags land and the preload can be set under every load, the collar turned for each.
    #[getter]
    fn probability(&self) -> Out<Share> {
        Out(self.0.spring.probability)
    }
    /// Change of preload from one load to another, by name; None where one of them has no preload.
    ///
    /// Parameters
    /// ----------
    /// start, end : str
    ///     Names of scenarios, or the usual load.
    fn change(&self, py: Python<'_>, start: Text, end: Text) -> PyResult<Option<PreloadChange>> {
        let (from, to) = (self.place(py, &start, "start")?, self.place(py, &end, "end")?);
        Ok(self.0.spring.change(from, to).map(PreloadChange))
    }
    fn __repr__(&self) -> String {
        let percent = 100.0 * wheelrate::units::Quantity::si(self.0.spring.probability);
        format!("SpringAcross({}: {percent:.1} % under every load)", wheelrate::units::to_text(self.0.spring.rate))
    }
}

/// One end under the usual load and under those of the scenarios.
#[pyclass(module = "wheelrate", frozen, eq, weakref)]
#[derive(Clone, PartialEq)]
pub(crate) struct EndScenarios {
    pub(crate) bike: bike::Bike,
    pub(crate) asked_of: AskedOf,
    pub(crate) found: decide::EndScenarios,
}

impl EndScenarios {
    fn across(&self, spring: &decide::SpringAcross) -> SpringAcross {
        let names = self.found.loads.iter().map(|load| load.name.clone()).collect();
        SpringAcross(NamedLoads { spring: spring.clone(), names })
    }
}

made_from_bike!(EndScenarios, "advise_scenarios_end", "advise_scenarios");

#[pymethods]
impl EndScenarios {
    /// Which end.
    #[getter]
    fn end(&self) -> &'static str {
        self.found.end.name()
    }
    /// The loads, the usual one first.
    #[getter]
    fn loads(&self) -> Vec<ScenarioLoad> {
        self.found.loads.iter().cloned().map(ScenarioLoad).collect()
    }
    /// Every spring, the one that does for all loads best first; the one fitted now is among them.
    #[getter]
    fn springs(&self) -> Vec<SpringAcross> {
        self.found.springs.iter().map(|spring| self.across(spring)).collect()
    }
    /// The spring that is in now.
    #[getter]
    fn fitted(&self) -> Option<SpringAcross> {
        self.found.fitted().map(|spring| self.across(spring))
    }
    /// The spring that is advised for the usual load; None where none is.
    #[getter]
    fn advised(&self) -> Option<SpringAcross> {
        let advised = self.found.advised().and_then(|rate| self.found.spring(rate));
        advised.map(|spring| self.across(spring))
    }
    /// The springs that do for all loads as well as the best, within what can be known; the best itself first.
    #[getter]
    fn ties(&self) -> Vec<SpringAcross> {
        self.found.ties().into_iter().map(|spring| self.across(spring)).collect()
    }
    /// Is there a spring that is likely to do for all loads?
    #[getter]
    fn one_does(&self) -> bool {
        self.found.one_does()
    }
    /// Which spring serves all loads best, how sure that is, and what to turn from load to load.
    #[pyo3(signature = (units: "str"="metric"))]
    fn sentences(&self, py: Python<'_>, #[pyo3(from_py_with = text)] units: &str) -> PyResult<Vec<String>> {
        Ok(self.found.sentences(system(py, units)?))
    }
    /// The tables of the sheet as JSON text.
    #[pyo3(signature = (units: "str"="metric"))]
    fn to_json(&self, py: Python<'_>, #[pyo3(from_py_with = text)] units: &str) -> PyResult<String> {
        to_json(&self.found.to_sheet(system(py, units)?))
    }
    fn __repr__(&self) -> String {
        let first = self.found.sentences(UnitSystem::Metric).into_iter().next().unwrap_or_default();
        format!("EndScenarios({}: {first})", self.end())
    }
    fn _repr_html_(&self, py: Python<'_>) -> PyResult<String> {
        let arguments = (self.to_json(py, "metric")?, self.end());
        py.import("wheelrate._display")?.call_method1("scenarios", arguments)?.extract()
    }
}

#[pymethods]
impl Bike {
    /// The same bike under its usual load and those of its scenarios: what to set for each, how far to turn from one to
    /// the other, and which spring does for all.
    ///
    /// Returns
    /// -------
    /// dict of str to EndScenarios
    ///     By end, for every end that has a rider sag target.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> rear = wr.demo().advise_scenarios()["rear"]
    /// >>> turns, uncertainty = rear.advised.change("bike + rider", "with stretcher").turns
    /// >>> turns > 5 * uncertainty > 0
    /// True
    #[pyo3(signature = () -> "PerEnd[EndScenarios]")]
    fn advise_scenarios<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let found = run_long(py, || self.0.advise_scenarios())?;
        let of = |found: decide::EndScenarios| {
            (found.end.name().to_owned(), EndScenarios { bike: self.0.clone(), asked_of: AskedOf::default(), found })
        };
        per_end(py, Named(found.ends.into_iter().map(of).collect()), found.without)
    }
    /// One end under the usual load and those of the scenarios.
    ///
    /// Parameters
    /// ----------
    /// end : {"front", "rear"}
    ///     Which end.
    fn advise_scenarios_end(&self, py: Python<'_>, end: End) -> PyResult<EndScenarios> {
        run_long(py, || self.0.advise_scenarios_end(end.0)).map(|found| EndScenarios {
            bike: self.0.clone(),
            asked_of: AskedOf::default(),
            found,
        })
    }
}
