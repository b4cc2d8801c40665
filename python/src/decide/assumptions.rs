//! What was assumed because nobody stated it.

use pyo3::prelude::*;
use wheelrate::decide;
use wheelrate::units::{Share, Time, UnitSystem};

use crate::bike::Bike;
use crate::decide::advice::Decision;
use crate::errors::run;
use crate::infer::study::Study;
use crate::units::Out;
use crate::value::result_class;

result_class! {
    /// One thing that was assumed because nobody stated it, and what would remove it.
    Assumption(decide::Assumption) {
        /// At which end.
        end: &'static str = |one| one.end.name();
        /// What was assumed, in a few words.
        name: String = |one| one.name();
        /// Its value with its standard uncertainty, as text.
        value: String = |one| one.value.as_ref().map_or_else(String::new, |_| one.value_text(UnitSystem::Metric));
        /// By how much knowing it would narrow the variance of the rate called for, as a share.
        of_spring: Out<Share> = |one| Out(one.of_spring);
        /// The same of the preload to set.
        of_preload: Out<Share> = |one| Out(one.of_preload);
        /// The one act that removes it, in a few words with its minutes.
        act: String = |one| one.act_text();
        /// How long that takes one person; None where it only has to be stated.
        effort: Option<Out<Time>> = |one| one.act.as_ref().map(|act| Out(act.effort));
        /// Standard uncertainty of the number that decides the spring, after it, as a share of what it is now.
        remaining: Option<Out<Share>> = |one| one.act.as_ref().map(|act| Out(act.remaining));
    }
}

/// A list that shows itself as a table in a notebook, and has rows for a data frame.
fn listed<'py>(py: Python<'py>, all: &[decide::Assumption]) -> PyResult<Bound<'py, PyAny>> {
    let all: Vec<Assumption> = all.iter().cloned().map(Assumption).collect();
    py.import("wheelrate._display")?.call_method1("Assumptions", (all,))
}

#[pymethods]
impl Bike {
    /// What was assumed at both ends because nobody stated it, what costs most first.
    ///
    /// Returns
    /// -------
    /// list of Assumption
    ///     A table in a notebook; ``pandas.DataFrame(bike.assumptions().rows())`` is a data frame.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> wr.demo().assumptions()
    /// []
    #[pyo3(signature = () -> "list[Assumption]")]
    fn assumptions<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let all = run(py, || self.0.assumed().ranked())?;
        listed(py, &all)
    }
}

#[pymethods]
impl Study {
    /// What was assumed at the end because nobody stated it, what costs most first.
    #[pyo3(signature = () -> "list[Assumption]")]
    fn assumptions<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let all = run(py, || self.0.assumptions())?;
        listed(py, &all)
    }
}

#[pymethods]
impl Decision {
    /// What was assumed because nobody stated it, what costs most first.
    #[getter]
    fn assumptions(&self) -> Vec<Assumption> {
        self.advice.assumptions.iter().cloned().map(Assumption).collect()
    }
    /// Are the other rates those to look for, because none is stated as on sale?
    #[getter]
    fn to_look_for(&self) -> bool {
        self.advice.to_look_for
    }
}
