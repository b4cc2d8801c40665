//! Preload from the lengths of the parts in a fork leg.

use pyo3::prelude::*;
use wheelrate::spring;
use wheelrate::units::Length;

use crate::errors::run;
use crate::units::{Given, Out};
use crate::value::{getters, value_class};

value_class! {
    /// The parts on top of each other in a fork leg, as a tape measures them: fork extended, cap off.
    ///
    /// Parameters
    /// ----------
    /// free_length : length
    ///     Of the spring.
    /// spacer : length
    ///     Of the spacer tube.
    /// washers : length
    ///     Of all washers together.
    /// seat_depth : length
    ///     From the top of the tube down to where the spring stands.
    /// cap_depth : length
    ///     How far the cap, screwed home, reaches into the tube.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> leg = wr.SpacerLengths("460 mm", "120 mm", "4 mm", "590 mm", "18 mm")
    /// >>> print(leg.preload.round(3))
    /// 12.0 millimeter
    /// >>> print(leg.cut_for("8 mm").spacer.round(3))
    /// 116.0 millimeter
    SpacerLengths(spring::SpacerLengths)
}

getters! {
    SpacerLengths {
        /// The preload they give; below zero, a gap.
        preload: Out<Length> = |lengths| Out(lengths.0.preload());
        /// How far the parts stand above the tube before the cap goes on; below zero, how far down they end.
        stands_proud: Out<Length> = |lengths| Out(lengths.0.stands_proud());
        /// Length of the spacer.
        spacer: Out<Length> = |lengths| Out(lengths.0.spacer());
    }
}

#[pymethods]
impl SpacerLengths {
    #[new]
    fn new(
        py: Python<'_>,
        free_length: Given<'_, Length>,
        spacer: Given<'_, Length>,
        washers: Given<'_, Length>,
        seat_depth: Given<'_, Length>,
        cap_depth: Given<'_, Length>,
    ) -> PyResult<Self> {
        let parts = spring::SpacerParts {
            free_length: free_length.read("free_length")?,
            spacer: spacer.read("spacer")?,
            washers: washers.read("washers")?,
            seat_depth: seat_depth.read("seat_depth")?,
            cap_depth: cap_depth.read("cap_depth")?,
        };
        run(py, || spring::SpacerLengths::new(parts)).map(Self)
    }
    /// The same leg with the spacer cut for this preload.
    fn cut_for(&self, py: Python<'_>, preload: Given<'_, Length>) -> PyResult<Self> {
        let preload = preload.read("preload")?;
        run(py, || self.0.cut_for(preload)).map(Self)
    }
    /// The same leg with a spring of another free length.
    fn with_free_length(&self, py: Python<'_>, free_length: Given<'_, Length>) -> PyResult<Self> {
        let free = free_length.read("free_length")?;
        run(py, || self.0.with_free_length(free)).map(Self)
    }
}
