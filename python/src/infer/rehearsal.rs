//! Readings rehearsed over simulated garages.

use pyo3::prelude::*;
use serde::{Deserialize, Serialize};
use wheelrate::infer;
use wheelrate::units::{Quantity, Share};

use crate::units::{KindByName, Out, OutOf};
use crate::value::{Named, result_class};

/// How one quantity of any kind fared over simulated garages.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct AnyRehearsed {
    kind: KindByName,
    garages: usize,
    covered_95: Share,
    bias: f64,
    standard_uncertainty: f64,
    error: f64,
}

result_class! {
    /// How one quantity fared over simulated garages.
    Rehearsed(AnyRehearsed) {
        /// Garages in which it has a true value: all, or those in which the end is not topped out.
        garages: usize = |fared| fared.garages;
        /// Share of them in which the 95 % interval held the truth.
        covered_95: Out<Share> = |fared| Out(fared.covered_95);
        /// Mean error in standard uncertainties.
        bias: f64 = |fared| fared.bias;
        /// Root mean square of the standard uncertainties reported: what the readings will be worth.
        standard_uncertainty: OutOf = |fared| OutOf(fared.kind.0, fared.standard_uncertainty);
        /// Root mean square of the errors made.
        error: OutOf = |fared| OutOf(fared.kind.0, fared.error);
    }
}

impl<Q: Quantity> From<&infer::Rehearsed<Q>> for Rehearsed {
    fn from(core: &infer::Rehearsed<Q>) -> Self {
        let infer::Rehearsed { garages, covered_95, bias, standard_uncertainty, error, .. } = *core;
        let (standard_uncertainty, error) = (standard_uncertainty.si(), error.si());
        Self(AnyRehearsed { kind: KindByName(Q::KIND), garages, covered_95, bias, standard_uncertainty, error })
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
