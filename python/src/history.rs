//! Sets of readings in time: what drifted between them, and whether predictions held.

use pyo3::prelude::*;
use serde::{Deserialize, Serialize};
use wheelrate::bike;
use wheelrate::history;
use wheelrate::record::{Range, Settled};
use wheelrate::units::{Length, UnitSystem};

use crate::bike::Bike;
use crate::errors::run_long;
use crate::plain::{integer, text, whole};
use crate::record::End;
use crate::record::change::Change;
use crate::report::system;
use crate::uncertain::Uncertain;
use crate::units::Out;
use crate::value::{Named, getters, made_from_bike, result_class, to_json};

result_class! {
    /// What one set of readings says, on the bike as it was then.
    SetResult(history::SetResult) {
        /// When its first reading was taken; None for readings without dates.
        date: Option<String> = |set| set.date.clone();
        /// Places of its readings among all readings of the bike, from 0.
        readings: Vec<usize> = |set| set.readings.clone();
        /// Changes that came before it, of those that touch the end.
        changes: usize = |set| set.changes;
        /// Rate of all main springs together.
        rate: Uncertain = |set| set.rate.into();
        /// Preload of the first main spring.
        preload: Uncertain = |set| set.preload.into();
        /// Friction force at the wheel, either way.
        friction: Uncertain = |set| set.friction.into();
        /// Vertical sag under the rider load; None where the bike does not state it.
        rider_sag: Option<Uncertain> = |set| set.rider_sag.map(Uncertain::from);
        /// Vertical sag of the bike alone; below zero it is topped out.
        free_sag: Option<Uncertain> = |set| set.free_sag.map(Uncertain::from);
    }
}

/// A number that may have changed between two sets.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct AnyShift {
    before: Uncertain,
    after: Uncertain,
    change: Uncertain,
    deviations: f64,
    probability: f64,
}

result_class! {
    /// A number that may have changed between two sets.
    Shift(AnyShift) {
        /// In the earlier set.
        before: Uncertain = |shift| shift.before.clone();
        /// In the later set.
        after: Uncertain = |shift| shift.after.clone();
        /// Later less earlier; surer than the two apart, which share loads and label.
        change: Uncertain = |shift| shift.change.clone();
        /// The change in its own standard deviations.
        deviations: f64 = |shift| shift.deviations;
        /// Probability of as large a change, either way, by chance.
        probability: f64 = |shift| shift.probability;
    }
}

impl<Q: wheelrate::units::Quantity> From<history::Shift<Q>> for Shift {
    fn from(of: history::Shift<Q>) -> Self {
        Self(AnyShift {
            before: of.before.into(),
            after: of.after.into(),
            change: of.change.into(),
            deviations: of.deviations,
            probability: of.probability,
        })
    }
}

result_class! {
    /// What changed between two sets.
    Drift(history::Drift) {
        /// Place of the earlier set.
        earlier: usize = |drift| drift.earlier;
        /// Place of the later one.
        later: usize = |drift| drift.later;
        /// Preload of the first main spring; None where a change set it anew.
        preload: Option<Shift> = |drift| drift.preload.map(Shift::from);
        /// Friction at the wheel.
        friction: Shift = |drift| drift.friction.into();
    }
}

#[pymethods]
impl Drift {
    /// What changed and whether it is more than noise.
    #[pyo3(signature = (units: "str"="metric"))]
    fn sentences(&self, py: Python<'_>, #[pyo3(from_py_with = text)] units: &str) -> PyResult<Vec<String>> {
        Ok(self.0.sentences(system(py, units)?))
    }
}

result_class! {
    /// One sag predicted and read.
    PredictedSag(history::PredictedSag) {
        /// Under what.
        load: String = |sag| sag.load.to_string();
        /// From which side; None where nobody noted it.
        settled: Option<&'static str> = |sag| sag.settled.map(|settled| match settled {
            Settled::Low => "low",
            Settled::High => "high",
            Settled::Middle => "middle",
        });
        /// Predicted before it was read.
        predicted: Uncertain = |sag| sag.predicted.into();
        /// Read; None while nothing is.
        read: Option<Uncertain> = |sag| sag.read.map(Uncertain::from);
        /// Read less predicted.
        difference: Option<Uncertain> = |sag| sag.difference.map(Uncertain::from);
        /// The difference in its own standard deviations.
        deviations: Option<f64> = |sag| sag.deviations;
    }
}

fn ends_of(range: &Range) -> (Out<Length>, Out<Length>) {
    (Out(range.from), Out(range.to))
}

result_class! {
    /// A target against what was and what came.
    TargetOutcome(history::TargetOutcome) {
        /// Which sag: ``rider`` or ``free``.
        sag: &'static str = |outcome| outcome.sag.name();
        /// What all its sags run along: ``vertical``, ``along fork`` or ``to mark``.
        direction: &'static str = |outcome| outcome.direction.name();
        /// Least and most that will do.
        wanted: (Out<Length>, Out<Length>) = |outcome| ends_of(&outcome.wanted);
        /// Before the change.
        before: Option<Uncertain> = |outcome| outcome.before.map(Uncertain::from);
        /// After it, as predicted from what was found before.
        predicted: Option<Uncertain> = |outcome| outcome.predicted.map(Uncertain::from);
        /// After it, by what was read then; None while nothing is read.
        after: Option<Uncertain> = |outcome| outcome.after.map(Uncertain::from);
        /// Did it land? None while nothing is read.
        met: Option<bool> = |outcome| outcome.met();
    }
}

result_class! {
    /// What was predicted of a change, and how it held.
    Prediction(history::Prediction) {
        /// Place of the set it was made from: the last before the change.
        earlier: usize = |prediction| prediction.earlier;
        /// Place of the first set after the change; None while nothing is read.
        later: Option<usize> = |prediction| prediction.later;
        /// Every sag that was read after the change, or will be.
        sags: Vec<PredictedSag> = |prediction| prediction.sags.iter().cloned().map(PredictedSag).collect();
        /// χ² of all sags read, its degrees of freedom, and the probability of as much or more by chance.
        chi_square: Option<(f64, usize, f64)> = |prediction| {
            prediction.chi_square.map(|chi_square| (chi_square.value, chi_square.degrees, chi_square.probability))
        };
        /// Did it hold? None while nothing is read.
        held: Option<bool> = |prediction| prediction.held();
        /// Targets against what was and what came.
        targets: Vec<TargetOutcome> = |prediction| prediction.targets.iter().cloned().map(TargetOutcome).collect();
    }
}

#[pymethods]
impl Prediction {
    /// Whether it held, what came otherwise, and what that means for the targets.
    #[pyo3(signature = (units: "str"="metric"))]
    fn sentences(&self, py: Python<'_>, #[pyo3(from_py_with = text)] units: &str) -> PyResult<Vec<String>> {
        Ok(self.0.sentences(system(py, units)?))
    }
}

/// The sets of one end in time.
#[pyclass(module = "wheelrate", frozen, eq, weakref)]
#[derive(Clone, PartialEq)]
pub(crate) struct EndHistory {
    bike: bike::Bike,
    history: history::EndHistory,
}

getters! {
    EndHistory {
        /// Which end.
        end: &'static str = |history| history.history.end.name();
        /// What each set says, oldest first.
        sets: Vec<SetResult> = |history| history.history.sets.iter().cloned().map(SetResult).collect();
        /// Changes that touch the end, oldest first.
        changes: Vec<Change> = |history| history.history.changes.iter().cloned().map(Change).collect();
        /// What drifted: between neighbours in time, and from the first set to the last where there are three or more.
        drifts: Vec<Drift> = |history| history.history.drifts.iter().cloned().map(Drift).collect();
        /// What was predicted of each change.
        predictions: Vec<Prediction> = |history| history.history.predictions.iter().cloned().map(Prediction).collect();
        /// Which readings fit, advice and sheet are from.
        basis: String = |history| history.history.basis();
    }
}

made_from_bike!(EndHistory, "history_end");

#[pymethods]
impl EndHistory {
    /// Tables, sentences and the points of a plot as JSON text.
    #[pyo3(signature = (units: "str"="metric"))]
    fn to_json(&self, py: Python<'_>, #[pyo3(from_py_with = text)] units: &str) -> PyResult<String> {
        to_json(&self.history.page(system(py, units)?))
    }
    fn __repr__(&self) -> String {
        let (sets, changes) = (self.history.sets.len(), self.history.changes.len());
        format!("EndHistory({}: {sets} sets of readings, {changes} changes)", self.end())
    }
    /// The history as plain text, sentences wrapped to so many characters; empty for one set of readings and no change.
    #[pyo3(signature = (units: "str"="metric", width: "SupportsIndex"=100))]
    fn to_text(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = text)] units: &str,
        #[pyo3(from_py_with = integer)] width: i128,
    ) -> PyResult<String> {
        let units = system(py, units)?;
        Ok(self.history.to_text(units, whole(py, "width", width)?))
    }
    fn __str__(&self, py: Python<'_>) -> PyResult<String> {
        /// A terminal of the usual width.
        const WIDTH: i128 = 100;
        self.to_text(py, "metric", WIDTH)
    }
    fn _repr_html_(&self, py: Python<'_>) -> PyResult<String> {
        let page = to_json(&self.history.page(UnitSystem::Metric))?;
        py.import("wheelrate._display")?.call_method1("history", (page,))?.extract()
    }
}

getters! {
    Bike {
        /// What was done to the bike, in the order stated.
        changes: Vec<Change> = |bike| bike.0.parts().changes.iter().cloned().map(Change).collect();
    }
}

#[pymethods]
impl Bike {
    /// Sets of readings in time, by end: what drifted between them, and how predictions before changes held.
    ///
    /// Returns
    /// -------
    /// dict of str to EndHistory
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> wr.demo().history()["rear"].basis
    /// 'From readings without a date.'
    #[pyo3(signature = () -> "PerEnd[EndHistory]")]
    fn history<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let history = run_long(py, || self.0.history())?;
        let named = history
            .ends
            .into_iter()
            .map(|history| (history.end.name().to_owned(), EndHistory { bike: self.0.clone(), history }));
        crate::report::per_end(py, Named(named.collect()), history.without)
    }
    /// Sets of readings of one end in time.
    fn history_end(&self, py: Python<'_>, end: End) -> PyResult<EndHistory> {
        run_long(py, || self.0.history_end(end.0)).map(|history| EndHistory { bike: self.0.clone(), history })
    }
}
