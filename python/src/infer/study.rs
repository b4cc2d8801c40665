//! One end studied: solved once, asked as often as one likes.

use pyo3::prelude::*;
use wheelrate::infer;

use crate::bike::Bike;
use crate::decide::advice::Decision;
use crate::decide::plan::Plan;
use crate::decide::riders::EndRiders;
use crate::decide::scenarios::EndScenarios;
use crate::errors::{run, run_long};
use crate::infer::Fit;
use crate::infer::monte_carlo::MonteCarlo;
use crate::infer::rehearsal::Rehearsal;
use crate::plain::{integer, whole};
use crate::record::End;
use crate::value::AskedOf;

/// One end of a bike, solved once: fit, advice, plan, scenarios, Monte Carlo and rehearsal hang on it.
///
/// Made by `Bike.study`.
#[pyclass(module = "wheelrate", frozen, eq, weakref)]
#[derive(Clone, PartialEq)]
pub(crate) struct Study(pub(crate) infer::Study);

impl Study {
    fn bike_of(&self) -> wheelrate::Bike {
        self.0.bike().clone()
    }

    fn asked_of(&self) -> AskedOf {
        AskedOf(Some(self.0.clone()))
    }
}

#[pymethods]
impl Study {
    /// Which end.
    #[getter]
    fn end(&self) -> &'static str {
        self.0.end().name()
    }
    /// The bike that is studied.
    #[getter]
    fn bike(&self) -> Bike {
        Bike(self.bike_of())
    }
    /// The study that this one was carried from; None where it was solved from its own readings and labels.
    #[getter]
    fn source(&self) -> Option<Self> {
        self.0.source().cloned().map(Self)
    }
    /// What the readings say: rate, preload and friction, with uncertainty.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> rear = wr.demo().study("rear")
    /// >>> rear.fit() == rear.advise().fit
    /// True
    fn fit(&self, py: Python<'_>) -> PyResult<Fit> {
        run(py, || {
            Ok::<_, wheelrate::Error>(Fit { bike: self.bike_of(), asked_of: self.asked_of(), fit: self.0.fit() })
        })
    }
    /// The same end with everything taken as stated: no gross errors, friction alike everywhere, masses as weighed.
    fn as_stated(&self, py: Python<'_>) -> PyResult<Self> {
        run(py, || self.0.as_stated()).map(Self)
    }
    /// Advice: every spring on sale weighed, and what to do.
    fn advise(&self, py: Python<'_>) -> PyResult<Decision> {
        run(py, || self.0.advise()).map(|advice| Decision { bike: self.bike_of(), asked_of: self.asked_of(), advice })
    }
    /// What to measure next, as a plan for one person alone.
    fn plan(&self, py: Python<'_>) -> PyResult<Plan> {
        run(py, || self.0.plan()).map(|plan| Plan { bike: self.bike_of(), asked_of: self.asked_of(), plan })
    }
    /// The end under the usual load and those of the scenarios.
    fn advise_scenarios(&self, py: Python<'_>) -> PyResult<EndScenarios> {
        run(py, || self.0.advise_scenarios()).map(|found| EndScenarios {
            bike: self.bike_of(),
            asked_of: self.asked_of(),
            found,
        })
    }
    /// The end under all riders that the bike states: the share of them in range per spring, with one preload for all and with
    /// one for each.
    fn advise_riders(&self, py: Python<'_>) -> PyResult<EndRiders> {
        run_long(py, || self.0.advise_riders()).map(|found| EndRiders { study: self.0.clone(), found })
    }
    /// The fit by Monte Carlo, to check its standard uncertainties where they are large. The same seed gives the same draws.
    ///
    /// Parameters
    /// ----------
    /// draws : int
    ///     From 200 to 5,000,000.
    /// seed : int
    ///     Start of the random numbers.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> found = wr.demo().study("rear").monte_carlo(draws=2000)
    /// >>> low, high = found.rate.interval_95
    /// >>> print(low.round(0), high.round(0))
    /// 49.0 newton / millimeter 52.0 newton / millimeter
    #[pyo3(signature = (draws: "SupportsIndex"=10_000, seed: "SupportsIndex"=0))]
    fn monte_carlo(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = integer)] draws: i128,
        #[pyo3(from_py_with = integer)] seed: i128,
    ) -> PyResult<MonteCarlo> {
        let (draws, seed) = (whole(py, "draws", draws)?, whole(py, "seed", seed)?);
        run_long(py, || self.0.monte_carlo(draws, seed)).map(MonteCarlo)
    }
    /// How much the readings would say, over simulated garages.
    ///
    /// The loads, sides, repeats and tape are those of the bike's own readings; the true springs, loads and friction, and
    /// what the readings then show, are drawn anew in each garage. The same seed gives the same garages.
    ///
    /// Parameters
    /// ----------
    /// garages : int
    ///     From 100 to 10,000,000.
    /// seed : int
    ///     Start of the random numbers.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> found = wr.demo().study("rear").rehearse(garages=20_000)
    /// >>> print(found.rate.standard_uncertainty.round(1))
    /// 0.7 newton / millimeter
    /// >>> print(found.preload.covered_95.round())
    /// 95.0 percent
    #[pyo3(signature = (garages: "SupportsIndex"=10_000, seed: "SupportsIndex"=0))]
    fn rehearse(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = integer)] garages: i128,
        #[pyo3(from_py_with = integer)] seed: i128,
    ) -> PyResult<Rehearsal> {
        let (garages, seed) = (whole(py, "garages", garages)?, whole(py, "seed", seed)?);
        run_long(py, || self.0.rehearse(garages, seed)).map(Rehearsal)
    }
    /// What was found here, on a changed bike: as far as the change left it alone, with nothing read there.
    ///
    /// Parameters
    /// ----------
    /// changed : Bike
    ///     The bike after the change.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> bike = wr.demo()
    /// >>> turned = bike.correct({"rear.shock.spring.preload": "17 mm"})
    /// >>> carried = bike.study("rear").carried(turned)
    /// >>> carried.fit().rate == bike.fit_end("rear").rate
    /// True
    fn carried(&self, py: Python<'_>, changed: &Bike) -> PyResult<Self> {
        run(py, || self.0.carried(&changed.0)).map(Self)
    }
    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<(Bound<'py, PyAny>, (Py<PyAny>,))> {
        let (py, study) = (slf.py(), slf.get());
        let bike = study.bike().into_pyobject(py)?;
        Ok(match study.source() {
            None => {
                let again = if study.0.is_as_stated() {
                    let with = pyo3::types::PyDict::new(py);
                    with.set_item("doubting", false)?;
                    py.import("functools")?.getattr("partial")?.call((bike.getattr("study")?,), Some(&with))?
                } else {
                    bike.getattr("study")?
                };
                (again, (study.end().into_pyobject(py)?.into_any().unbind(),))
            }
            Some(source) => (source.into_pyobject(py)?.getattr("carried")?, (bike.into_any().unbind(),)),
        })
    }
    fn __hash__(&self) -> u64 {
        crate::value::hash(self.0.bike())
    }
    fn __repr__(&self) -> String {
        let carried = if self.0.source().is_some() { ", carried" } else { "" };
        format!("Study({}: {:?}{carried})", self.end(), self.0.bike().parts().name)
    }
}

#[pymethods]
impl Bike {
    /// One end studied: what its newest readings and its labels say, solved once.
    ///
    /// Parameters
    /// ----------
    /// end : {"front", "rear"}
    ///     Which end.
    /// doubting : bool
    ///     Doubt what is stated: gross errors of a reading, a place or a label, uneven friction, a guessed unsprung mass, a
    ///     rider on the day. What the answer hangs on besides is in ``fit().conditions``. False takes everything as stated.
    #[pyo3(signature = (end, *, doubting=true))]
    fn study(&self, py: Python<'_>, end: End, doubting: bool) -> PyResult<Study> {
        run(py, || if doubting { self.0.study(end.0) } else { infer::Study::plain(&self.0, end.0) }).map(Study)
    }
}
