//! Springs, and where they sit: preloaded in a leg or shock, or as a stop at one end of the stroke.

mod geometry;
pub(crate) mod lasting;
mod spacer;

pub(crate) use geometry::{CoilGeometry, Material, UnmarkedSpring};
pub(crate) use spacer::SpacerLengths;

use pyo3::prelude::*;
use pyo3::types::PyList;
use wheelrate::spring;
use wheelrate::units::{Force, Length, SpringRate};

use crate::axial::axial_element;
use crate::errors::{raise, run};
use crate::units::{Given, GivenArray, Out, plain, read_optional};
use crate::value::{getters, result_class, value_class};

value_class! {
    /// A spring: here a coil of constant rate, ``F = k·x``; `stack`, `nest` and `table` make the others.
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

getters! {
    Spring {
        /// The rate at first touch.
        rate: Out<SpringRate> = |spring| Out(spring.0.initial_rate());
        /// Where the rate of a stack jumps, in rising order.
        ///
        /// Examples
        /// --------
        /// >>> import wheelrate as wr
        /// >>> wr.Spring.stack(["20 N/mm", "60 N/mm"], ["12 mm", None]).changeovers
        /// [Changeover(compression=16.0 millimeter, force=240.0 newton)]
        changeovers: Vec<Changeover> = |spring| {
            match &spring.0 {
                spring::Spring::Stack(stack) => stack.changeovers().into_iter().map(Changeover).collect(),
                _ => Vec::new(),
            }
        };
    }
}

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
    /// Springs end to end: one force, compressions add.
    ///
    /// Parameters
    /// ----------
    /// springs : list of Spring or spring rate
    ///     In any order.
    /// limits : list of length or None, optional
    ///     Compression at which a spacer stops each; None where nothing but its own end does.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> stack = wr.Spring.stack(["20 N/mm", "60 N/mm"], ["12 mm", None])
    /// >>> print(stack.rate.round(3))  # in series
    /// 15.0 newton / millimeter
    /// >>> print(stack.kinks.round(3))  # the soft one meets its spacer, and only the other is left
    /// [16.0] millimeter
    #[staticmethod]
    #[pyo3(signature = (springs: "list[Spring | wheelrate.typing.QuantityLike]", limits: "list[wheelrate.typing.QuantityLike | None] | None" = None))]
    fn stack(springs: Bound<'_, PyList>, limits: Option<Vec<Option<Given<'_, Length>>>>) -> PyResult<Self> {
        let py = springs.py();
        let limits = limits.unwrap_or_else(|| springs.iter().map(|_| None).collect());
        let mut stages = Vec::new();
        for (at, (spring, limit)) in paired(&springs, limits, "limits")?.into_iter().enumerate() {
            let stage = spring::Stage::new(spring_of(&spring, &format!("springs[{at}]"))?);
            stages.push(match read_optional(limit, &format!("limits[{at}]"))? {
                Some(limit) => run(py, || stage.with_limit(limit))?,
                None => stage,
            });
        }
        run(py, || spring::Stack::new(stages)).map(|stack| Self(spring::Spring::Stack(stack)))
    }
    /// Springs one inside the other: one compression, forces add.
    ///
    /// Parameters
    /// ----------
    /// springs : list of Spring or spring rate
    ///     The springs.
    /// gaps : list of length
    ///     By how much each is shorter than the longest: where it joins in.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> nest = wr.Spring.nest(["40 N/mm", "15 N/mm"], ["0 mm", "30 mm"])
    /// >>> print(nest.at("40 mm").rate.round(3))
    /// 55.0 newton / millimeter
    #[staticmethod]
    #[pyo3(signature = (springs: "list[Spring | wheelrate.typing.QuantityLike]", gaps: "list[wheelrate.typing.QuantityLike]"))]
    fn nest(springs: Bound<'_, PyList>, gaps: Vec<Given<'_, Length>>) -> PyResult<Self> {
        let py = springs.py();
        let mut nested = Vec::new();
        for (at, (spring, gap)) in paired(&springs, gaps, "gaps")?.into_iter().enumerate() {
            let spring = spring_of(&spring, &format!("springs[{at}]"))?;
            let gap = gap.read(&format!("gaps[{at}]"))?;
            nested.push(run(py, || spring::Nested::new(spring, gap))?);
        }
        run(py, || spring::Nest::new(nested)).map(|nest| Self(spring::Spring::Nest(nest)))
    }
    /// A progressive spring by its measured table.
    ///
    /// Parameters
    /// ----------
    /// compressions : array of length
    ///     Rising.
    /// forces : array of force
    ///     At each, rising.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> table = wr.Spring.table(([20, 40, 60], "mm"), ([900, 2000, 3300], "N"))
    /// >>> print(table.at("40 mm").force.round(3))
    /// 2000.0 newton
    #[staticmethod]
    fn table(py: Python<'_>, compressions: GivenArray<'_, Length>, forces: GivenArray<'_, Force>) -> PyResult<Self> {
        let (compressions, forces) = (compressions.read("compressions")?, forces.read("forces")?);
        if compressions.len() != forces.len() {
            return Err(differ(py, "forces", forces.len(), compressions.len()));
        }
        let rows = compressions.into_iter().zip(forces).collect();
        run(py, || spring::Table::new(rows)).map(|table| Self(spring::Spring::Table(table)))
    }
    /// The spring with all its rates times a factor, its lengths unchanged.
    #[pyo3(signature = (factor: "float"))]
    fn scaled(&self, py: Python<'_>, #[pyo3(from_py_with = plain::factor)] factor: f64) -> PyResult<Self> {
        run(py, || self.0.scaled(factor)).map(Self)
    }
}

result_class! {
    /// Where one spring of a stack drops out.
    Changeover(spring::Changeover) {
        /// Compression of the whole stack.
        compression: Out<Length> = |at| Out(at.compression);
        /// Force at it.
        force: Out<Force> = |at| Out(at.force);
    }
}

result_class! {
    /// The main springs of one end together. Springs side by side: rates add.
    MainSpring(spring::MainSpring) {
        /// Total rate, at first touch.
        rate: Out<SpringRate> = |springs| Out(springs.rate);
        /// Preload of the first.
        preload: Out<Length> = |springs| Out(springs.preload);
        /// Rate and preload of each.
        each: Vec<(Out<SpringRate>, Out<Length>)> =
            |springs| springs.each.iter().map(|(rate, preload)| (Out(*rate), Out(*preload))).collect();
    }
}

/// Springs with what is said of each.
fn paired<'py, T>(springs: &Bound<'py, PyList>, each: Vec<T>, name: &str) -> PyResult<Vec<(Bound<'py, PyAny>, T)>> {
    if springs.len() != each.len() {
        return Err(differ(springs.py(), name, each.len(), springs.len()));
    }
    Ok(springs.iter().zip(each).collect())
}

fn differ(py: Python<'_>, name: &str, found: usize, wanted: usize) -> PyErr {
    raise(py, "SpringError", (format!("{name}: found {found} values, wanted {wanted}, one for each"),))
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
