//! More than one rider: which spring suits most of them.

use pyo3::prelude::*;
use wheelrate::decide;
use wheelrate::infer;
use wheelrate::units::{Length, Share, SpringRate, UnitSystem};

use crate::decide::advice::way;
use crate::infer::study::Study;
use crate::plain::text;
use crate::record::riders::Riders;
use crate::report::system;
use crate::uncertain::Uncertain;
use crate::units::Out;
use crate::value::{result_class, to_json};

result_class! {
    /// One preload for all riders.
    CommonSetting(decide::CommonSetting) {
        /// Preload to set, on the scale of the preload stated.
        preload: Uncertain = |at| at.preload.into();
        /// The same in turns of the adjuster with their standard uncertainty: from today's setting on today's spring, from where
        /// the collar just touches it on another; None where the pitch is not known.
        turns: Option<(f64, f64)> = |at| at.turns.map(|turns| (turns.value, turns.standard_uncertainty));
        /// ``"turned"`` there and left, or ``"re_read"``: set by the sag under the middle rider.
        way: &'static str = |at| way(at.way);
        /// Share of riders with both sags in range; the uncertainty is what the bike leaves open, the same for every rider.
        share: Uncertain = |at| at.share.into();
        /// Share of riders who sit too deep.
        too_deep: Out<Share> = |at| Out(at.too_deep);
        /// Share of riders who sit too high.
        too_high: Out<Share> = |at| Out(at.too_high);
        /// Rider sag: mean over the riders, and its standard deviation from rider to rider.
        rider_sag: Uncertain = |at| at.rider_sag.into();
        /// Free sag, with what the fit leaves open.
        free_sag: Uncertain = |at| at.free_sag.into();
    }
}

result_class! {
    /// Every rider at a preload of his or her own.
    OwnSettings(decide::OwnSettings) {
        /// Share of riders with both sags in range; the uncertainty is what the bike leaves open, the same for every rider.
        share: Uncertain = |own| own.share.into();
        /// Preload of the rider lighter than nine in ten.
        light: Out<Length> = |own| Out(own.light);
        /// Preload of the rider heavier than nine in ten.
        heavy: Out<Length> = |own| Out(own.heavy);
        /// Turns from the one to the other; None where the pitch of the adjuster is not known.
        turns: Option<f64> = |own| own.turns;
    }
}

result_class! {
    /// One spring under all riders.
    SpringForRiders(decide::SpringForRiders) {
        /// Rate as labelled, per spring.
        rate: Out<SpringRate> = |spring| Out(spring.rate);
        /// Is it the one that is in now?
        is_fitted: bool = |spring| spring.is_fitted;
        /// The best preload for all of them; None where no preload that a collar gives carries them.
        common: Option<CommonSetting> = |spring| spring.common.map(CommonSetting);
        /// A preload for each; None where no preload that a collar gives carries them.
        own: Option<OwnSettings> = |spring| spring.own.map(OwnSettings);
    }
}

/// One end under all riders of a bike.
///
/// Made by `Study.advise_riders`.
#[pyclass(module = "wheelrate", frozen, eq, weakref)]
#[derive(Clone, PartialEq)]
pub(crate) struct EndRiders {
    pub(crate) study: infer::Study,
    pub(crate) found: decide::EndRiders,
}

#[pymethods]
impl EndRiders {
    /// Which end.
    #[getter]
    fn end(&self) -> &'static str {
        self.found.end.name()
    }
    /// The riders.
    #[getter]
    fn riders(&self) -> Riders {
        Riders(self.found.riders.clone())
    }
    /// The loads that are ridden, with the share of rides under each.
    #[getter]
    fn loads(&self) -> Vec<(String, Out<Share>)> {
        self.found.loads.iter().map(|(load, share)| (load.to_string(), Out(*share))).collect()
    }
    /// What a rider puts on this wheel: mean, and standard deviation from rider to rider.
    #[getter]
    fn rider_weight(&self) -> Uncertain {
        self.found.rider_weight.into()
    }
    /// Every spring, the one that suits most riders at one preload first; the one fitted now is among them.
    #[getter]
    fn springs(&self) -> Vec<SpringForRiders> {
        self.found.springs.iter().copied().map(SpringForRiders).collect()
    }
    /// The spring that is in now.
    #[getter]
    fn fitted(&self) -> Option<SpringForRiders> {
        self.found.fitted().copied().map(SpringForRiders)
    }
    /// The spring that suits most riders where each turns the collar, the price of another spring counted.
    #[getter]
    fn best_for_own(&self) -> Option<SpringForRiders> {
        self.found.best_for_own().copied().map(SpringForRiders)
    }
    /// Which spring suits most riders, how it is set, and how sure that is.
    #[pyo3(signature = (units: "str"="metric"))]
    fn sentences(&self, py: Python<'_>, #[pyo3(from_py_with = text)] units: &str) -> PyResult<Vec<String>> {
        Ok(self.found.sentences(system(py, units)?))
    }
    /// The tables of the sheet as JSON text.
    #[pyo3(signature = (units: "str"="metric"))]
    fn to_json(&self, py: Python<'_>, #[pyo3(from_py_with = text)] units: &str) -> PyResult<String> {
        to_json(&self.found.to_sheet(system(py, units)?))
    }
    #[pyo3(signature = () -> "tuple[object, tuple[()]]")]
    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, Bound<'py, pyo3::types::PyTuple>)> {
        let study = Study(self.study.clone()).into_pyobject(py)?;
        Ok((study.getattr("advise_riders")?, pyo3::types::PyTuple::empty(py)))
    }
    fn __hash__(&self) -> u64 {
        crate::value::hash(&(self.study.bike(), self.end()))
    }
    fn __repr__(&self) -> String {
        let first = self.found.sentences(UnitSystem::Metric).into_iter().next().unwrap_or_default();
        format!("EndRiders({}: {first})", self.end())
    }
    fn _repr_html_(&self, py: Python<'_>) -> PyResult<String> {
        let arguments = (self.to_json(py, "metric")?, self.end());
        py.import("wheelrate._display")?.call_method1("riders", arguments)?.extract()
    }
}
