//! Where springs sit: preloaded in a leg or shock, or as a stop at one end of the stroke.

use pyo3::prelude::*;
use wheelrate::spring;
use wheelrate::units::Length;

use super::{Spring, spring_of};
use crate::axial::axial_element;
use crate::errors::run;
use crate::units::{Given, Out, plain, read_optional};
use crate::value::{getters, value_class};

value_class! {
    /// A spring in its place, ``F(s) = F_spring(s + p)``.
    ///
    /// Parameters
    /// ----------
    /// spring : Spring or spring rate
    ///     The spring.
    /// preload : length
    ///     Its compression at stroke 0; below zero, a gap.
    /// thread_pitch, min_preload, max_preload : length, optional
    ///     Of the adjuster, as far as they are known.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> print(wr.Preloaded("52 N/mm", "14 mm").at("0 mm").force)
    /// 728.0 newton
    /// >>> print(wr.Preloaded("52 N/mm", "-5 mm").at("3 mm").force)  # a gap: the spring hangs loose
    /// 0.0 newton
    Preloaded(spring::Preloaded)
}

axial_element!(Preloaded);

getters! {
    Preloaded {
        /// The spring.
        spring: Spring = |preloaded| Spring(preloaded.0.spring().clone());
        /// Its preload.
        preload: Out<Length> = |preloaded| Out(preloaded.0.preload());
    }
}

#[pymethods]
impl Preloaded {
    #[new]
    #[pyo3(signature = (spring: "Spring | wheelrate.typing.QuantityLike", preload, *, thread_pitch=None, min_preload=None, max_preload=None))]
    fn new(
        spring: &Bound<'_, PyAny>,
        preload: Given<'_, Length>,
        thread_pitch: Option<Given<'_, Length>>,
        min_preload: Option<Given<'_, Length>>,
        max_preload: Option<Given<'_, Length>>,
    ) -> PyResult<Self> {
        let py = spring.py();
        let (spring, preload) = (spring_of(spring, "spring")?, preload.read("preload")?);
        let parts = spring::AdjusterParts {
            thread_pitch: read_optional(thread_pitch, "thread_pitch")?,
            least: read_optional(min_preload, "min_preload")?,
            most: read_optional(max_preload, "max_preload")?,
        };
        run(py, || {
            let place = spring::Preloaded::new(spring, preload)?;
            let adjuster = spring::Adjuster::new(parts)?;
            let known = adjuster != spring::Adjuster::default();
            Ok::<_, wheelrate::Error>(if known { place.with_adjuster(adjuster) } else { place })
        })
        .map(Self)
    }
    /// Compression left at the end of a stroke; below zero the spring ends too early, None where its end is not known.
    fn clearance(&self, full_stroke: Given<'_, Length>) -> PyResult<Option<Out<Length>>> {
        Ok(self.0.clearance(full_stroke.read("full_stroke")?).map(Out))
    }
    /// The same place with the rates times a factor and more (or less) preload.
    #[pyo3(signature = (rate_factor: "float", preload_change))]
    fn changed(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = plain::rate_factor)] rate_factor: f64,
        preload_change: Given<'_, Length>,
    ) -> PyResult<Self> {
        let change = preload_change.read("preload_change")?;
        run(py, || self.0.changed(rate_factor, change)).map(Self)
    }
    /// Does a preload lie within the limits of the adjuster, as far as they are known?
    fn reaches(&self, preload: Given<'_, Length>) -> PyResult<bool> {
        let preload = preload.read("preload")?;
        Ok(self.0.adjuster().is_none_or(|adjuster| adjuster.reaches(preload)))
    }
    /// Turns of the adjuster for a change of preload, positive for more; None where the pitch is not known.
    fn turns(&self, preload_change: Given<'_, Length>) -> PyResult<Option<f64>> {
        let change = preload_change.read("preload_change")?;
        Ok(self.0.adjuster().and_then(|adjuster| adjuster.turns(change)))
    }
}

value_class! {
    /// A spring that acts only near one end of the stroke: bump stop or top-out spring, by where it is put.
    ///
    /// Parameters
    /// ----------
    /// spring : Spring or spring rate
    ///     The spring.
    /// acts_over : length
    ///     Part of the stroke over which it acts.
    Stop(spring::Stop)
}

getters! {
    Stop {
        /// The spring.
        spring: Spring = |stop| Spring(stop.0.spring().clone());
        /// Part of the stroke over which it acts.
        acts_over: Out<Length> = |stop| Out(stop.0.acts_over());
    }
}

#[pymethods]
impl Stop {
    #[new]
    #[pyo3(signature = (spring: "Spring | wheelrate.typing.QuantityLike", acts_over))]
    fn new(spring: &Bound<'_, PyAny>, acts_over: Given<'_, Length>) -> PyResult<Self> {
        let py = spring.py();
        let (spring, acts_over) = (spring_of(spring, "spring")?, acts_over.read("acts_over")?);
        run(py, || spring::Stop::new(spring, acts_over)).map(Self)
    }
}
