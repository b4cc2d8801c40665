//! Readings rehearsed over simulated garages.

use pyo3::prelude::*;
use wheelrate::infer;
use wheelrate::units::kind::Kind;
use wheelrate::units::{Quantity, Share};

use crate::units::{Out, OutOf};
use crate::value::{Named, result_class};

/// How one quantity fared over simulated garages.
#[pyclass(module = "wheelrate", frozen, eq)]
#[derive(Clone, PartialEq)]
pub(crate) struct Rehearsed {
    kind: &'static Kind,
    fared: infer::Rehearsed<Share>,
    standard_uncertainty: f64,
    error: f64,
}

impl<Q: Quantity> From<&infer::Rehearsed<Q>> for Rehearsed {
    fn from(core: &infer::Rehearsed<Q>) -> Self {
        let nothing = Share::from_si(0.0);
        let infer::Rehearsed { garages, covered_95, bias, standard_uncertainty, error } = *core;
        Self {
            kind: Q::KIND,
            fared: infer::Rehearsed { garages, covered_95, bias, standard_uncertainty: nothing, error: nothing },
            standard_uncertainty: standard_uncertainty.si(),
            error: error.si(),
        }
    }
}

#[pymethods]
impl Rehearsed {
    /// Garages in which it has a true value: all, or those in which the end is not topped out.
    #[getter]
    fn garages(&self) -> usize {
        self.fared.garages
    }
    /// Share of them in which the 95 % interval held the truth.
    #[getter]
    fn covered_95(&self) -> Out<Share> {
        Out(self.fared.covered_95)
    }
    /// Mean error in standard uncertainties.
    #[getter]
    fn bias(&self) -> f64 {
        self.fared.bias
    }
    /// Root mean square of the standard uncertainties told: what the readings will be worth.
    #[getter]
    fn standard_uncertainty(&self) -> OutOf {
        OutOf(self.kind, self.standard_uncertainty)
    }
    /// Root mean square of the errors made.
    #[getter]
    fn error(&self) -> OutOf {
        OutOf(self.kind, self.error)
    }
    fn __repr__(&self) -> String {
        let text = |si| wheelrate::units::exact_text(self.kind, si);
        format!(
            "Rehearsed(garages={}, covered_95={:.3}, bias={:+.3}, standard_uncertainty={}, error={})",
            self.garages(),
            self.fared.covered_95.si(),
            self.bias(),
            text(self.standard_uncertainty),
            text(self.error)
        )
    }
}

result_class! {
    /// How the fit of one end fared over simulated garages: coverage, bias, and what the readings will be worth.
    Rehearsal(infer::Rehearsal) {
        /// Which end.
        end: &'static str = |found| found.end.name();
        /// Garages asked for.
        garages: usize = |found| found.garages;
        /// Garages whose readings could not be fitted.
        refused: usize = |found| found.refused;
        /// Rate of all main springs together.
        rate: Rehearsed = |found| (&found.rate).into();
        /// Preload of the first main spring.
        preload: Rehearsed = |found| (&found.preload).into();
        /// Friction force at the wheel.
        friction: Rehearsed = |found| (&found.friction).into();
        /// Vertical sag by load, lightest first.
        sags: Named<Rehearsed> = |found| {
            Named(found.sags.iter().map(|(load, sag)| (load.to_string(), sag.into())).collect())
        };
    }
}
