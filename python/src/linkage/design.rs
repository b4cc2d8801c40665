//! Which linkage to make.

use pyo3::prelude::*;
use pyo3::types::PyDict;
use wheelrate::linkage::{self, Freedom, Target};
use wheelrate::units::{Length, MotionRatio, Quantity, Share, UnitSystem, WheelRate};

use super::Linkage;
use super::sensitivity::dimension;
use crate::errors::{raise, run, run_long};
use crate::plain::{Text, text};
use crate::report::system;
use crate::units::{Given, GivenArray, Numbers, OutArray};
use crate::value::result_class;
use crate::wheel::RearEnd;

result_class! {
    /// The best design found, and what was traded for it.
    Design(linkage::Design) {
        /// The linkage.
        linkage: Linkage = |design| Linkage(design.linkage.clone());
        /// Are all targets met within their tolerances?
        is_reached: bool = |design| design.is_reached();
        /// The dimensions that were free to move.
        dimensions: Vec<String> = |design| design.changes.iter().map(|change| change.dimension.to_string()).collect();
        /// What each was.
        was: OutArray<Length> = |design| OutArray(design.changes.iter().map(|change| change.was).collect());
        /// What each is in the design.
        now: OutArray<Length> = |design| OutArray(design.changes.iter().map(|change| change.now).collect());
        /// Those on a bound that would go further if they could.
        held_back: Vec<String> = |design| {
            let held = design.changes.iter().filter(|change| change.held_back);
            held.map(|change| change.dimension.to_string()).collect()
        };
        /// The targets in words.
        targets: Vec<String> = |design| {
            let wanted = design.misses.iter().map(|miss| miss.target.text(UnitSystem::default()));
            wanted.collect()
        };
        /// What is left of each target, found minus wanted, in tolerances: within ±1 it is reached.
        misses: Numbers = |design| Numbers(design.misses.iter().map(|miss| miss.tolerances).collect());
        /// Dimensions whose bounds stand in the way, the one that costs most first; empty where all targets are reached.
        in_the_way: Vec<String> = |design| design.in_the_way.iter().map(ToString::to_string).collect();
        /// Starts that led to a working linkage, and those of them that ended in a design as good as this one.
        starts: (usize, usize) = |design| (design.starts[0], design.starts[1]);
    }
}

#[pymethods]
impl Design {
    /// The design as plain text: what moved, what was reached, what stands in the way.
    #[pyo3(signature = (units: "str"="metric"))]
    fn to_text(&self, py: Python<'_>, #[pyo3(from_py_with = text)] units: &str) -> PyResult<String> {
        Ok(self.0.to_text(system(py, units)?))
    }
    fn __str__(&self) -> String {
        self.0.to_text(UnitSystem::default())
    }
}

#[pymethods]
impl Linkage {
    /// The dimensions inside their bounds that meet the targets best.
    ///
    /// Least squares with exact derivatives, from the dimensions as they are and from points spread over the bounds. A
    /// target out of reach is no error: see `Design.is_reached` and `Design.in_the_way`.
    ///
    /// Parameters
    /// ----------
    /// free : dict of str to pair of lengths
    ///     Dimensions that may move, with their bounds: ``{"z of link_frame": ("-110 mm", "-90 mm")}``. Coordinates,
    ///     lengths of links, or ``"shock length"``; all others stay. Beside the length of a link, only points on the frame
    ///     alone may move.
    /// progression : pair of shares, optional
    ///     Wanted over the whole travel, and the tolerance: ``("35 %", "0.5 %")``.
    /// full_travel : pair of lengths, optional
    ///     Wanted, and the tolerance.
    /// motion_ratio : tuple, optional
    ///     Travels, the motion ratios wanted there, and the tolerance of each.
    ///
    /// Returns
    /// -------
    /// Design
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> design = wr.demo().rear.linkage.design(
    /// ...     {"x of link_frame": ("-100 mm", "-40 mm"), "z of link_frame": ("-120 mm", "-80 mm")},
    /// ...     progression=("40 %", "0.5 %"),
    /// ... )
    /// >>> design.is_reached
    /// True
    #[pyo3(signature = (
        free: "dict[str, tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike]]",
        *,
        progression: "tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike] | None" = None,
        full_travel: "tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike] | None" = None,
        motion_ratio: "tuple[wheelrate.typing.ArrayLike, wheelrate.typing.ArrayLike, wheelrate.typing.QuantityLike] | None" = None,
    ))]
    fn design(
        &self,
        py: Python<'_>,
        free: &Bound<'_, PyDict>,
        progression: Option<Pair<'_, Share>>,
        full_travel: Option<Pair<'_, Length>>,
        motion_ratio: Option<Curve<'_, MotionRatio>>,
    ) -> PyResult<Design> {
        let free = freedoms(py, &self.0, free)?;
        let targets = targets(py, progression, full_travel, motion_ratio)?;
        run_long(py, || self.0.design(&free, &targets)).map(Design)
    }
}

#[pymethods]
impl RearEnd {
    /// The dimensions of the linkage inside their bounds that meet the targets best, springs and preload as they are.
    ///
    /// As `Linkage.design`, with the wheel rate among the targets. Put the linkage of the design in with `with_linkage`.
    ///
    /// Parameters
    /// ----------
    /// free : dict of str to pair of lengths
    ///     Dimensions that may move, with their bounds.
    /// wheel_rate : tuple, optional
    ///     Travels, the wheel rates wanted there, and the tolerance of each.
    /// progression : pair of shares, optional
    ///     Wanted over the whole travel, and the tolerance: ``("35 %", "0.5 %")``.
    /// full_travel : pair of lengths, optional
    ///     Wanted, and the tolerance.
    /// motion_ratio : tuple, optional
    ///     Travels, the motion ratios wanted there, and the tolerance of each.
    ///
    /// Returns
    /// -------
    /// Design
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> rear = wr.demo().rear
    /// >>> design = rear.design(
    /// ...     {"x of link_frame": ("-90 mm", "-40 mm"), "z of link_frame": ("-120 mm", "-80 mm")},
    /// ...     wheel_rate=(([50, 150], "mm"), ([7.2, 9.0], "N/mm"), "0.05 N/mm"),
    /// ... )
    /// >>> design.is_reached
    /// True
    /// >>> print(f"{rear.with_linkage(design.linkage).at('150 mm').wheel_rate.to('N/mm'):.1f~}")
    /// 9.0 N / mm
    #[pyo3(signature = (
        free: "dict[str, tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike]]",
        *,
        wheel_rate: "tuple[wheelrate.typing.ArrayLike, wheelrate.typing.ArrayLike, wheelrate.typing.QuantityLike] | None" = None,
        progression: "tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike] | None" = None,
        full_travel: "tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike] | None" = None,
        motion_ratio: "tuple[wheelrate.typing.ArrayLike, wheelrate.typing.ArrayLike, wheelrate.typing.QuantityLike] | None" = None,
    ))]
    fn design(
        &self,
        py: Python<'_>,
        free: &Bound<'_, PyDict>,
        wheel_rate: Option<Curve<'_, WheelRate>>,
        progression: Option<Pair<'_, Share>>,
        full_travel: Option<Pair<'_, Length>>,
        motion_ratio: Option<Curve<'_, MotionRatio>>,
    ) -> PyResult<Design> {
        let free = freedoms(py, run(py, || self.0.linkage())?, free)?;
        let mut targets = targets(py, progression, full_travel, motion_ratio)?;
        let target = |travel, value, tolerance| Target::WheelRate { travel, value, tolerance };
        targets.extend(points(py, "wheel_rate", wheel_rate, target)?);
        run_long(py, || self.0.design(&free, &targets)).map(Design)
    }
}

/// A value wanted, and its tolerance.
type Pair<'py, Q> = (Given<'py, Q>, Given<'py, Q>);
/// Travels, values wanted there, and the tolerance of each.
type Curve<'py, Q> = (GivenArray<'py, Length>, GivenArray<'py, Q>, Given<'py, Q>);

fn freedoms(py: Python<'_>, linkage: &linkage::Linkage, free: &Bound<'_, PyDict>) -> PyResult<Vec<Freedom>> {
    let freedom = |(name, bounds): (Bound<'_, PyAny>, Bound<'_, PyAny>)| {
        let Text(name) = name.extract()?;
        let (from, to): Pair<'_, Length> = bounds.extract()?;
        let bound = |given: Given<'_, Length>, at: usize| given.read(&format!("free[{name:?}][{at}]"));
        Ok(Freedom { dimension: dimension(py, linkage, &name)?, from: bound(from, 0)?, to: bound(to, 1)? })
    };
    free.iter().map(freedom).collect()
}

fn targets(
    py: Python<'_>,
    progression: Option<Pair<'_, Share>>,
    full_travel: Option<Pair<'_, Length>>,
    motion_ratio: Option<Curve<'_, MotionRatio>>,
) -> PyResult<Vec<Target>> {
    let mut targets = Vec::new();
    if let Some((value, tolerance)) = progression {
        let (value, tolerance) = (value.read("progression[0]")?, tolerance.read("progression[1]")?);
        targets.push(Target::Progression { value, tolerance });
    }
    if let Some((value, tolerance)) = full_travel {
        let (value, tolerance) = (value.read("full_travel[0]")?, tolerance.read("full_travel[1]")?);
        targets.push(Target::FullTravel { value, tolerance });
    }
    let target = |travel, value, tolerance| Target::MotionRatio { travel, value, tolerance };
    targets.extend(points(py, "motion_ratio", motion_ratio, target)?);
    Ok(targets)
}

/// One target per point of a wanted curve.
fn points<Q: Quantity>(
    py: Python<'_>,
    name: &str,
    curve: Option<Curve<'_, Q>>,
    target: impl Fn(Length, Q, Q) -> Target,
) -> PyResult<Vec<Target>> {
    let Some((travels, values, tolerance)) = curve else { return Ok(Vec::new()) };
    let (travels, values) = (travels.read(&format!("{name}[0]"))?, values.read(&format!("{name}[1]"))?);
    let tolerance = tolerance.read(&format!("{name}[2]"))?;
    if travels.len() != values.len() {
        let message = format!("{name}: found {} travels and {} values, wanted as many", travels.len(), values.len());
        return Err(raise(py, "LinkageError", (message,)));
    }
    Ok(travels.into_iter().zip(values).map(|(travel, value)| target(travel, value, tolerance)).collect())
}
