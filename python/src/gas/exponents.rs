//! The two exponents of a gas.

use pyo3::prelude::*;
use wheelrate::gas;

use crate::errors::run;
use crate::units::plain;
use crate::value::{getters, value_class};

value_class! {
    /// The polytropic exponents of one gas: while it settles, and on a fast stroke.
    ///
    /// Settling takes seconds and heat flows: 1. A stroke from sag to full travel takes a tenth of a second or two, and little
    /// heat flows: towards 1.4, that of air and nitrogen without any. Sag, readings and the fit use the slow one; force at full
    /// travel, energy and drop left, landings and ride frequencies the fast one, from where the gas had settled.
    ///
    /// Parameters
    /// ----------
    /// slow : float
    ///     Of gas that settles, from 1 to 1.7.
    /// fast : float
    ///     Of a fast stroke, not less than the slow one.
    /// fast_uncertainty : float, optional
    ///     Standard uncertainty of the fast one; 0.03 unless given.
    ///
    /// Notes
    /// -----
    /// Where nothing is stated, the air of a fork has 1 and 1.30 ± 0.06 (anything from 1.2 to 1.4), pumped gas (air springs,
    /// reservoirs) 1 and 1.35 ± 0.03 (from 1.3 to 1.4): common practice, no source.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> air = wr.ForkAir(sealing_diameter="47 mm", bore="43 mm", oil_level="105 mm", exponent=wr.Exponents(1.0, 1.35))
    /// >>> print(air.exponents.fast, air.exponents.fast_uncertainty)
    /// 1.35 0.03
    /// >>> air = wr.ForkAir(sealing_diameter="47 mm", bore="43 mm", oil_level="105 mm", exponent=1.1)
    /// >>> print(air.exponents)  # one number sets the slow one
    /// Exponents(slow=1.1, fast=1.3, fast_uncertainty=0.06)
    Exponents(gas::Exponents)
}

getters! {
    Exponents {
        /// Of gas that settles: sag, readings.
        slow: f64 = |exponents| exponents.0.slow();
        /// Of a fast stroke: bottoming, landing, the small motion of riding.
        fast: f64 = |exponents| exponents.0.fast();
        /// Standard uncertainty of the fast one.
        fast_uncertainty: f64 = |exponents| exponents.0.fast_uncertainty();
    }
}

#[pymethods]
impl Exponents {
    #[new]
    #[pyo3(signature = (slow: "float", fast: "float", *, fast_uncertainty: "float | None" = None))]
    fn new(
        py: Python<'_>,
        #[pyo3(from_py_with = plain::slow)] slow: f64,
        #[pyo3(from_py_with = plain::fast)] fast: f64,
        fast_uncertainty: Option<Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let uncertainty = fast_uncertainty.map(|given| plain::number(&given, "fast_uncertainty")).transpose()?;
        run(py, || {
            let both = gas::Exponents::new(slow, fast)?;
            uncertainty.map_or(Ok(both), |uncertainty| both.with_fast_uncertainty(uncertainty))
        })
        .map(Self)
    }
}

/// The exponents of a part that has these where nothing is stated: one number sets the slow one.
pub(super) fn read(given: Option<Bound<'_, PyAny>>, unstated: gas::Exponents) -> PyResult<gas::Exponents> {
    let Some(given) = given else { return Ok(unstated) };
    if let Ok(both) = given.cast::<Exponents>() {
        return Ok(both.get().0);
    }
    let slow = plain::number(&given, "exponent")?;
    run(given.py(), || unstated.with_slow(slow))
}
