//! The bushes of a fork, and what they rub with under side load.

use pyo3::prelude::*;
use wheelrate::fork::{self, FrontBrake};
use wheelrate::units::{Force, Length, Share};

use super::Fork;
use crate::errors::run;
use crate::plain::{optional_integer, whole};
use crate::units::{Given, GivenArray, Out, OutArray, plain, read_optional};
use crate::value::{getters, result_class, rows, value_class};

/// Strokes of a whole table where none are asked for.
const EVEN_STROKES: u32 = 11;

value_class! {
    /// Where the bushes of a fork are, alike in both legs, and how they rub.
    ///
    /// Parameters
    /// ----------
    /// overlap : length
    ///     Distance of the two bushes along the fork, fully extended.
    /// to_axle : length
    ///     Distance of the lower bush from the axle along the fork, fully extended.
    /// axle_offset : length, optional
    ///     How far the axle is ahead of the tubes; 0 unless given.
    /// calipers : int, optional
    ///     Legs that carry a brake caliper; 1 unless given.
    /// coefficient : float, optional
    ///     Coefficient of friction; 0.05 ± 0.025 unless given.
    /// coefficient_uncertainty : float, optional
    ///     Its standard uncertainty; half of it unless given.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> fork = wr.demo().front.fork.with_bushes(wr.Bushes("180 mm", "420 mm", axle_offset="35 mm"))
    /// >>> found = fork.bush_loads(["80 mm", "200 mm"])
    /// >>> print(found.friction_at_wheel.round(0))
    /// [100.0 159.0] newton
    Bushes(fork::Bushes)
}

getters! {
    Bushes {
        /// Distance of the two bushes, fully extended.
        overlap: Out<Length> = |bushes| Out(bushes.0.overlap());
        /// Distance of the lower bush from the axle, fully extended.
        to_axle: Out<Length> = |bushes| Out(bushes.0.to_axle());
        /// How far the axle is ahead of the tubes.
        axle_offset: Out<Length> = |bushes| Out(bushes.0.axle_offset());
        /// Legs that carry a brake caliper.
        calipers: u32 = |bushes| bushes.0.calipers();
        /// Coefficient of friction.
        coefficient: f64 = |bushes| bushes.0.coefficient();
        /// Its standard uncertainty.
        coefficient_uncertainty: f64 = |bushes| bushes.0.coefficient_uncertainty();
    }
}

#[pymethods]
impl Bushes {
    #[new]
    #[pyo3(signature = (overlap, to_axle, *, axle_offset=None, calipers: "int | None" = None,
        coefficient: "float | None" = None, coefficient_uncertainty: "float | None" = None))]
    fn new(
        py: Python<'_>,
        overlap: Given<'_, Length>,
        to_axle: Given<'_, Length>,
        axle_offset: Option<Given<'_, Length>>,
        #[pyo3(from_py_with = optional_integer)] calipers: Option<i128>,
        coefficient: Option<Bound<'_, PyAny>>,
        coefficient_uncertainty: Option<Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let (overlap, to_axle) = (overlap.read("overlap")?, to_axle.read("to_axle")?);
        let offset = read_optional(axle_offset, "axle_offset")?;
        let calipers = calipers.map(|given| whole(py, "calipers", given)).transpose()?;
        let coefficient = coefficient.map(|given| plain::number(&given, "coefficient")).transpose()?;
        let uncertainty = coefficient_uncertainty.map(|given| plain::number(&given, "coefficient_uncertainty"));
        let uncertainty = uncertainty.transpose()?;
        run(py, || {
            let mut made = fork::Bushes::new(overlap, to_axle)?;
            made = offset.map_or(Ok(made), |offset| made.with_axle_offset(offset))?;
            made = calipers.map_or(Ok(made), |calipers| made.with_calipers(calipers))?;
            made = coefficient.map_or(Ok(made), |coefficient| made.with_coefficient(coefficient))?;
            uncertainty.map_or(Ok(made), |uncertainty| made.with_coefficient_uncertainty(uncertainty))
        })
        .map(Self)
    }
}

result_class! {
    /// What the bushes of a fork take, as arrays of one length. Forces of a bush are those on the lower tube, square to the fork,
    /// forward; the other leg is the one without a caliper where one leg carries it.
    BushLoads(Vec<fork::BushLoads>) {
        /// Stroke along the fork.
        stroke: OutArray<Length> = |found| OutArray(found.iter().map(|at| at.stroke).collect());
        /// Vertical wheel travel, the frame level.
        travel: OutArray<Length> = |found| OutArray(found.iter().map(|at| at.travel).collect());
        /// Distance of the bushes.
        overlap: OutArray<Length> = |found| OutArray(found.iter().map(|at| at.overlap).collect());
        /// Vertical load at the axle that the springs balance there.
        load: OutArray<Force> = |found| OutArray(found.iter().map(|at| at.load).collect());
        /// Force of the upper bush.
        upper: OutArray<Force> = |found| OutArray(found.iter().map(|at| at.upper[0]).collect());
        /// The same in the other leg.
        upper_other: OutArray<Force> = |found| OutArray(found.iter().map(|at| at.upper[1]).collect());
        /// Force of the lower bush.
        lower: OutArray<Force> = |found| OutArray(found.iter().map(|at| at.lower[0]).collect());
        /// The same in the other leg.
        lower_other: OutArray<Force> = |found| OutArray(found.iter().map(|at| at.lower[1]).collect());
        /// Friction of all bushes along the fork, under that load.
        friction: OutArray<Force> = |found| OutArray(found.iter().map(|at| at.friction.value).collect());
        /// Its standard uncertainty.
        friction_uncertainty: OutArray<Force> = |found| {
            OutArray(found.iter().map(|at| at.friction.standard_uncertainty).collect())
        };
        /// Vertical load under which the fork just goes in.
        load_in: OutArray<Force> = |found| OutArray(found.iter().map(|at| at.load_in).collect());
        /// And under which it just comes out.
        load_out: OutArray<Force> = |found| OutArray(found.iter().map(|at| at.load_out).collect());
        /// Friction at the wheel: half of what lies between the two.
        friction_at_wheel: OutArray<Force> = |found| {
            OutArray(found.iter().map(|at| at.friction_at_wheel.value).collect())
        };
        /// Its standard uncertainty.
        friction_at_wheel_uncertainty: OutArray<Force> = |found| {
            OutArray(found.iter().map(|at| at.friction_at_wheel.standard_uncertainty).collect())
        };
    }
}

rows! {
    BushLoads: stroke, travel, overlap, load, upper, upper_other, lower, lower_other, friction, friction_uncertainty, load_in,
    load_out, friction_at_wheel, friction_at_wheel_uncertainty
}

#[pymethods]
impl Fork {
    /// The fork with its bushes where these are.
    fn with_bushes(&self, py: Python<'_>, bushes: Bushes) -> PyResult<Self> {
        run(py, || self.0.clone().with_bushes(bushes.0)).map(Self)
    }
    /// Its bushes, where stated.
    #[getter]
    fn bushes(&self) -> Option<Bushes> {
        self.0.bushes().copied().map(Bushes)
    }
    /// What the bushes take at some strokes, and their friction: under the load that the springs balance there.
    ///
    /// Parameters
    /// ----------
    /// strokes : array of length, optional
    ///     Along the fork, from full extension; evenly over the whole range unless given.
    /// braking : share, optional
    ///     FrontBrake force as a share of the wheel's load on the ground; not braked unless given.
    /// radius : length, optional
    ///     Height of the axle over the ground, for the torque of the caliper.
    /// unsprung : force, optional
    ///     Weight of what the fork does not carry.
    ///
    /// Returns
    /// -------
    /// BushLoads
    #[pyo3(signature = (strokes=None, *, braking=None, radius=None, unsprung=None))]
    fn bush_loads(
        &self,
        py: Python<'_>,
        strokes: Option<GivenArray<'_, Length>>,
        braking: Option<Given<'_, Share>>,
        radius: Option<Given<'_, Length>>,
        unsprung: Option<Given<'_, Force>>,
    ) -> PyResult<BushLoads> {
        let strokes = strokes.map(|strokes| strokes.read("strokes")).transpose()?;
        let still = FrontBrake::default();
        let braking = FrontBrake {
            share: read_optional(braking, "braking")?.unwrap_or(still.share),
            radius: read_optional(radius, "radius")?.unwrap_or(still.radius),
            unsprung: read_optional(unsprung, "unsprung")?.unwrap_or(still.unsprung),
        };
        run(py, || {
            let full = self.0.full_stroke();
            let even = || (0..EVEN_STROKES).map(|at| full * (f64::from(at) / f64::from(EVEN_STROKES - 1))).collect();
            let strokes: Vec<Length> = strokes.unwrap_or_else(even);
            strokes.into_iter().map(|stroke| self.0.bush_loads(stroke, &braking)).collect::<Result<Vec<_>, _>>()
        })
        .map(BushLoads)
    }
}
