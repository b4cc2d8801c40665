//! Springs.

mod geometry;
pub(crate) mod lasting;
pub(crate) mod measured;
mod placed;
mod spacer;

pub(crate) use geometry::{CoilGeometry, Material, UnmarkedSpring};
pub(crate) use placed::{Preloaded, Stop};
pub(crate) use spacer::SpacerLengths;

use pyo3::prelude::*;
use pyo3::types::PyList;
use wheelrate::spring;
use wheelrate::units::{Force, Length, Share, SpringRate, Stress};

use crate::axial::axial_element;
use crate::errors::{raise, run};
use crate::uncertain::Uncertain;
use crate::units::{Given, GivenArray, Out, plain, read_optional};
use crate::value::{getters, result_class, value_class};

value_class! {
    /// A spring: here a coil of constant rate, ``F = k·x``; `stack`, `nest`, `table`, `closing` and
    /// `measured` make the others.
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
        /// Where the rate of a stack jumps, in rising order; of a spring of several pitches, where coils close.
        ///
        /// Examples
        /// --------
        /// >>> import wheelrate as wr
        /// >>> wr.Spring.stack(["20 N/mm", "60 N/mm"], ["12 mm", None]).changeovers
        /// [Changeover(compression=16.0 millimeter, force=240.0 newton)]
        changeovers: Vec<Changeover> = |spring| {
            match &spring.0 {
                spring::Spring::Stack(stack) => stack.changeovers().into_iter().map(Changeover).collect(),
                spring::Spring::Closing(coil) => coil.closings().into_iter().map(Changeover).collect(),
                _ => Vec::new(),
            }
        };
        /// Of a measured spring, load over compression at its furthest reading; None where it was not measured.
        mean_rate: Option<Uncertain> = |spring| spring.read_off().map(|spring| spring.mean_rate().into());
        /// Readings of a measured spring far off what the others say: place from 0, and by how much.
        suspect_readings: Vec<(usize, Out<Force>)> = |spring| {
            let found = spring.read_off().map(spring::MeasuredSpring::suspect_readings).unwrap_or_default();
            found.into_iter().map(|reading| (reading.index, Out(reading.off()))).collect()
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
    /// A coil spring wound with several pitches, whose coils close one after the other: the rate rises as fewer are left.
    ///
    /// Parameters
    /// ----------
    /// wire, mean_diameter : length
    ///     Of the wire, bare of paint; of the coil, outside less one wire.
    /// coils : list of float
    ///     Active coils of each pitch; parts of one count.
    /// pitches : array of length
    ///     Of each, from one coil to the next on the loose spring.
    /// shear_modulus : stress, optional
    ///     79.5 GPa unless given: oil-tempered wire (EN 13906-1).
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> spring = wr.Spring.closing(wire="10 mm", mean_diameter="70 mm", coils=[4, 5], pitches=([12, 18], "mm"))
    /// >>> for at in spring.changeovers:
    /// ...     print(at.compression.round(1), at.force.round(0))
    /// 18.0 millimeter 579.0 newton
    /// 48.0 millimeter 2318.0 newton
    #[staticmethod]
    #[pyo3(signature = (*, wire, mean_diameter, coils: "list[float]", pitches, shear_modulus=None))]
    fn closing(
        py: Python<'_>,
        wire: Given<'_, Length>,
        mean_diameter: Given<'_, Length>,
        #[pyo3(from_py_with = plain::coils)] coils: Vec<f64>,
        pitches: GivenArray<'_, Length>,
        shear_modulus: Option<Given<'_, Stress>>,
    ) -> PyResult<Self> {
        let pitches = pitches.read("pitches")?;
        if pitches.len() != coils.len() {
            return Err(differ(py, "pitches", pitches.len(), coils.len()));
        }
        let (wire, mean_diameter) = (wire.read("wire")?, mean_diameter.read("mean_diameter")?);
        let shear_modulus = read_optional(shear_modulus, "shear_modulus")?;
        run(py, || {
            let zones = coils.into_iter().zip(pitches).map(|(coils, pitch)| spring::CoilZone::new(coils, pitch));
            let zones = zones.collect::<Result<_, _>>()?;
            let shear_modulus = shear_modulus.unwrap_or_else(spring::ClosingCoilParts::usual_modulus);
            spring::ClosingCoil::new(spring::ClosingCoilParts { wire, mean_diameter, shear_modulus, zones })
        })
        .map(|coil| Self(spring::Spring::Closing(coil)))
    }
    /// A spring by what a press or scales showed, made smooth; what the readings leave open goes into fit and advice.
    ///
    /// Parameters
    /// ----------
    /// compressions : array of length
    ///     In any order, each as often as it was read; lengths where the free length is given.
    /// loads : array of force
    ///     At each.
    /// force_uncertainty, compression_uncertainty : force, length, optional
    ///     Standard uncertainty of one load (20 N unless given) and of one compression (0.5 mm).
    /// scale_uncertainty : share, optional
    ///     Standard uncertainty that all loads share, of scales and lever; 1 % unless given.
    /// free_length : length, optional
    ///     Of the loose spring, where lengths are read and not compressions.
    ///
    /// Examples
    /// --------
    /// >>> import numpy as np
    /// >>> import wheelrate as wr
    /// >>> x = np.arange(12.0, 121.0, 12.0)
    /// >>> spring = wr.Spring.measured((x, "mm"), (50 * x + 0.02 * x**2, "N"))
    /// >>> print(spring.mean_rate)
    /// 52.4 ± 0.6 N/mm
    /// >>> print(spring.uncertain_at("60 mm").force)
    /// 3072 ± 34 N
    #[staticmethod]
    #[pyo3(signature = (compressions, loads, *, force_uncertainty=None, compression_uncertainty=None, scale_uncertainty=None, free_length=None))]
    fn measured(
        py: Python<'_>,
        compressions: GivenArray<'_, Length>,
        loads: GivenArray<'_, Force>,
        force_uncertainty: Option<Given<'_, Force>>,
        compression_uncertainty: Option<Given<'_, Length>>,
        scale_uncertainty: Option<Given<'_, Share>>,
        free_length: Option<Given<'_, Length>>,
    ) -> PyResult<Self> {
        let (compressions, loads) = (compressions.read("compressions")?, loads.read("loads")?);
        if compressions.len() != loads.len() {
            return Err(differ(py, "loads", loads.len(), compressions.len()));
        }
        let usual = spring::MeasuredSpringParts::usual();
        let parts = spring::MeasuredSpringParts {
            force_uncertainty: read_optional(force_uncertainty, "force_uncertainty")?
                .unwrap_or(usual.force_uncertainty),
            compression_uncertainty: read_optional(compression_uncertainty, "compression_uncertainty")?
                .unwrap_or(usual.compression_uncertainty),
            scale_uncertainty: read_optional(scale_uncertainty, "scale_uncertainty")?
                .unwrap_or(usual.scale_uncertainty),
            free_length: read_optional(free_length, "free_length")?,
        };
        let readings = compressions.into_iter().zip(loads).collect();
        run(py, || spring::MeasuredSpring::new(readings, parts)).map(|spring| Self(spring.into()))
    }
    /// Force and rate with their standard uncertainties, where the spring was measured; None where it was not.
    fn uncertain_at(&self, py: Python<'_>, compression: Given<'_, Length>) -> PyResult<Option<measured::SpringPoint>> {
        let compression = compression.read("compression")?;
        self.read_off().map(|spring| run(py, || spring.at(compression)).map(measured::SpringPoint)).transpose()
    }
    /// The spring with all its rates times a factor, its lengths unchanged.
    #[pyo3(signature = (factor: "float"))]
    fn scaled(&self, py: Python<'_>, #[pyo3(from_py_with = plain::factor)] factor: f64) -> PyResult<Self> {
        run(py, || self.0.scaled(factor)).map(Self)
    }
}

impl Spring {
    fn read_off(&self) -> Option<&spring::MeasuredSpring> {
        match &self.0 {
            spring::Spring::Measured(spring) => Some(spring),
            _ => None,
        }
    }
}

result_class! {
    /// Where one spring of a stack drops out, or coils close.
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
        /// Total rate: at first touch, or the mean of a measured one.
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
