//! Propagation of distributions through the fit.

use pyo3::prelude::*;
use serde::{Deserialize, Serialize};
use wheelrate::infer;
use wheelrate::units::Quantity;

use crate::units::{KindByName, OutOf};
use crate::value::result_class;

/// A quantity over the draws of a Monte Carlo run, of any kind.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct AnySampled {
    kind: KindByName,
    mean: f64,
    standard_deviation: f64,
    interval: (f64, f64),
}

result_class! {
    /// A quantity over the draws of a Monte Carlo run.
    Sampled(AnySampled) {
        /// Mean.
        mean: OutOf = |sampled| OutOf(sampled.kind.0, sampled.mean);
        /// Standard deviation.
        standard_deviation: OutOf = |sampled| OutOf(sampled.kind.0, sampled.standard_deviation);
        /// Ends of the probabilistically symmetric 95 % interval.
        interval_95: (OutOf, OutOf) = |sampled| {
            (OutOf(sampled.kind.0, sampled.interval.0), OutOf(sampled.kind.0, sampled.interval.1))
        };
    }
}

impl<Q: Quantity> From<infer::Sampled<Q>> for Sampled {
    fn from(core: infer::Sampled<Q>) -> Self {
        let (low, high) = core.interval_95;
        Self(AnySampled {
            kind: KindByName(Q::KIND),
            mean: core.mean.si(),
            standard_deviation: core.standard_deviation.si(),
            interval: (low.si(), high.si()),
        })
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
