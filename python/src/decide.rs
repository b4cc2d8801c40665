//! What to do about an end: advice, scenarios, plan.

pub(crate) mod advice;
pub(crate) mod assumptions;
pub(crate) mod oil;
pub(crate) mod plan;
pub(crate) mod riders;
pub(crate) mod scenarios;

use pyo3::prelude::*;

use crate::bike::Bike;
use crate::decide::advice::Decision;
use crate::errors::run_on;
use crate::record::End;
use crate::report::per_end;
use crate::value::{AskedOf, Named};

#[pymethods]
impl Bike {
    /// Advice for every end that has a rider sag target: what to do, and every spring on sale weighed.
    ///
    /// Returns
    /// -------
    /// dict of str to Decision
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> advice = wr.demo().advise()
    /// >>> advice["rear"].verdict
    /// 'change spring'
    #[pyo3(signature = () -> "PerEnd[Decision]")]
    fn advise<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let advice = run_on(py, &self.0, || self.0.advise())?;
        let named = advice.ends.into_iter().map(|advice| {
            (advice.end.name().to_owned(), Decision { bike: self.0.clone(), asked_of: AskedOf::default(), advice })
        });
        per_end(py, Named(named.collect()), advice.without)
    }
    /// Advice for one end.
    fn advise_end(&self, py: Python<'_>, end: End) -> PyResult<Decision> {
        run_on(py, &self.0, || self.0.advise_end(end.0)).map(|advice| Decision {
            bike: self.0.clone(),
            asked_of: AskedOf::default(),
            advice,
        })
    }
}
