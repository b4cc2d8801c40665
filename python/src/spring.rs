//! Springs, and where they sit: preloaded in a leg or shock, or as a stop at one end of the stroke.

use pyo3::prelude::*;
use wheelrate::spring;
use wheelrate::units::{Length, SpringRate};

use crate::axial::axial_element;
use crate::errors::{raise, run};
use crate::units::{Given, Out, read_optional};
use crate::value::value_class;

value_class! {
    /// A coil spring of constant rate, ``F = k·x``.
    ///
    /// Parameters
    /// ----------
    /// rate : spring rate
    ///     Of the spring by itself.
    /// free_length, solid_length : length, optional
    ///     Unloaded, and with all coils touching; both or neither. They say how far it compresses.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> spring = wr.Spring("52 N/mm", free_length="230 mm", solid_length="85 mm")
    /// >>> print(spring.at("20 mm").force)
    /// 1040.0 newton
    /// >>> print(spring.full_stroke.round(3))
    /// 145.0 millimeter
    Spring(spring::Spring)
}

axial_element!(Spring);

#[pymethods]
impl Spring {
    #[new]
    #[pyo3(signature = (rate, *, free_length=None, solid_length=None))]
    fn new(
        py: Python<'_>,
        rate: Given<'_, SpringRate>,
        free_length: Option<Given<'_, Length>>,
        solid_length: Option<Given<'_, Length>>,
    ) -> PyResult<Self> {
        let rate = rate.read("rate")?;
        let lengths = (read_optional(free_length, "free_length")?, read_optional(solid_length, "solid_length")?);
        let coil = run(py, || spring::Coil::new(rate))?;
        match lengths {
            (Some(free), Some(solid)) => run(py, || coil.with_lengths(free, solid)).map(|coil| Self(coil.into())),
            (None, None) => Ok(Self(coil.into())),
            _ => Err(raise(py, "SpringError", ("free_length and solid_length: give both or neither",))),
        }
    }
    /// The rate at first touch.
    #[getter]
    fn rate(&self) -> Out<SpringRate> {
        Out(self.0.initial_rate())
    }
}

/// A spring, or the rate of one whose lengths are not known.
pub(crate) fn spring_of(given: &Bound<'_, PyAny>, argument: &str) -> PyResult<spring::Spring> {
    if let Ok(Spring(known)) = given.extract() {
        return Ok(known);
    }
    let rate: SpringRate = given.extract::<Given<'_, SpringRate>>()?.read(argument)?;
    run(given.py(), || spring::Spring::linear(rate))
}

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
        let pitch = read_optional(thread_pitch, "thread_pitch")?;
        let least = read_optional(min_preload, "min_preload")?;
        let most = read_optional(max_preload, "max_preload")?;
        run(py, || {
            let place = spring::Preloaded::new(spring, preload)?;
            let adjuster = spring::Adjuster::new(pitch, least, most)?;
            let known = adjuster != spring::Adjuster::default();
            Ok::<_, wheelrate::Error>(if known { place.with_adjuster(adjuster) } else { place })
        })
        .map(Self)
    }
    /// The spring.
    #[getter]
    fn spring(&self) -> Spring {
        Spring(self.0.spring().clone())
    }
    /// Its preload.
    #[getter]
    fn preload(&self) -> Out<Length> {
        Out(self.0.preload())
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

#[pymethods]
impl Stop {
    #[new]
    #[pyo3(signature = (spring: "Spring | wheelrate.typing.QuantityLike", acts_over))]
    fn new(spring: &Bound<'_, PyAny>, acts_over: Given<'_, Length>) -> PyResult<Self> {
        let py = spring.py();
        let (spring, acts_over) = (spring_of(spring, "spring")?, acts_over.read("acts_over")?);
        run(py, || spring::Stop::new(spring, acts_over)).map(Self)
    }
    /// Part of the stroke over which it acts.
    #[getter]
    fn acts_over(&self) -> Out<Length> {
        Out(self.0.acts_over())
    }
}
