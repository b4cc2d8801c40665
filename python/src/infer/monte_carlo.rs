//! Propagation of distributions through the fit.

use pyo3::prelude::*;
use wheelrate::infer;
use wheelrate::units::Quantity;
use wheelrate::units::kind::Kind;

use crate::units::OutOf;
use crate::value::result_class;

/// A quantity over the draws of a Monte Carlo run.
#[pyclass(module = "wheelrate", frozen, eq)]
#[derive(Clone, PartialEq)]
pub(crate) struct Sampled {
    kind: &'static Kind,
    mean: f64,
    standard_deviation: f64,
    interval: (f64, f64),
}

impl<Q: Quantity> From<infer::Sampled<Q>> for Sampled {
    fn from(core: infer::Sampled<Q>) -> Self {
        let (low, high) = core.interval_95;
        Self {
            kind: Q::KIND,
            mean: core.mean.si(),
            standard_deviation: core.standard_deviation.si(),
            interval: (low.si(), high.si()),
        }
    }
}

#[pymethods]
impl Sampled {
    /// Mean.
    #[getter]
    fn mean(&self) -> OutOf {
        OutOf(self.kind, self.mean)
    }
    /// Standard deviation.
    #[getter]
    fn standard_deviation(&self) -> OutOf {
        OutOf(self.kind, self.standard_deviation)
    }
    /// Ends of the probabilistically symmetric 95 % interval.
    #[getter]
    fn interval_95(&self) -> (OutOf, OutOf) {
        (OutOf(self.kind, self.interval.0), OutOf(self.kind, self.interval.1))
    }
    fn __repr__(&self) -> String {
        let text = |si| wheelrate::units::exact_text(self.kind, si);
        let (low, high) = self.interval;
        format!(
            "Sampled(mean={}, standard_deviation={}, interval_95=({}, {}))",
            text(self.mean),
            text(self.standard_deviation),
            text(low),
            text(high)
        )
    }
}

result_class! {
    /// What Monte Carlo says of one end: spring rate, preload and friction over the draws.
    MonteCarlo(infer::MonteCarlo) {
        /// Draws asked for.
        draws: usize = |found| found.draws;
        /// Draws left out: friction below zero, or no fit.
        left_out: usize = |found| found.left_out;
        /// Rate of all main springs together.
        rate: Sampled = |found| found.rate.into();
        /// Preload of the first main spring.
        preload: Sampled = |found| found.preload.into();
        /// Friction force at the wheel.
        friction: Sampled = |found| found.friction.into();
        /// Correlation of rate and preload.
        rate_preload_correlation: f64 = |found| found.rate_preload_correlation;
    }
}
