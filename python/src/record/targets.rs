//! The sag a person wants.

use pyo3::prelude::*;
use wheelrate::record::{self, Range};
use wheelrate::units::{Force, Length};

use super::measuring::{AnyDirection, direction};
use crate::errors::{raise, run};
use crate::plain::text;
use crate::units::{Given, Out, read_optional};
use crate::value::{getters, value_class};

/// Least and most.
type Pair<'py> = (Given<'py, Length>, Given<'py, Length>);

value_class! {
    /// A wanted sag: the value aimed at and the range that will do.
    ///
    /// Give `value` with `tolerance`, or `range`, or `value` with `range`.
    ///
    /// Parameters
    /// ----------
    /// value : length, optional
    ///     The sag aimed at; the middle of the range unless given.
    /// tolerance : length, optional
    ///     What will do, either way of the value.
    /// range : pair of lengths, optional
    ///     Least and most that will do.
    /// direction : {"vertical", "along fork"}, optional
    ///     Along what the sag is meant; vertical unless given.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> target = wr.SagTarget("102 mm", tolerance="4 mm")
    /// >>> print(*(bound.round(6) for bound in target.range))
    /// 98.0 millimeter 106.0 millimeter
    /// >>> print(wr.SagTarget(range=("25 mm", "40 mm")).value)
    /// 32.5 millimeter
    SagTarget(record::SagTarget)
}

getters! {
    SagTarget {
        /// The sag aimed at.
        value: Out<Length> = |target| Out(target.0.value);
        /// Least and most that will do.
        range: (Out<Length>, Out<Length>) = |target| (Out(target.0.range.from), Out(target.0.range.to));
        /// Along what the sag is meant.
        direction: AnyDirection = |target| target.0.direction.into();
    }
}

#[pymethods]
impl SagTarget {
    #[new]
    #[pyo3(signature = (value=None, *, tolerance=None, range=None, direction: "str"="vertical"))]
    fn new(
        py: Python<'_>,
        value: Option<Given<'_, Length>>,
        tolerance: Option<Given<'_, Length>>,
        range: Option<Pair<'_>>,
        #[pyo3(from_py_with = text)] direction: &str,
    ) -> PyResult<Self> {
        let along = self::direction(&direction.into_pyobject(py)?.into_any(), "direction")?;
        let (value, tolerance) = (read_optional(value, "value")?, read_optional(tolerance, "tolerance")?);
        let (from, to) = match (range, value, tolerance) {
            (Some((from, to)), _, None) => (from.read("range[0]")?, to.read("range[1]")?),
            (None, Some(value), Some(tolerance)) => (value - tolerance, value + tolerance),
            _ => {
                let wanted = "found neither `range` nor `value` with `tolerance`, or both, wanted one of them";
                return Err(raise(py, "BikeError", (wanted,)));
            }
        };
        run(py, || {
            let range = Range::new(from, to)?;
            record::SagTarget::new(value.unwrap_or_else(|| range.middle()), range, along)
        })
        .map(Self)
    }
}

value_class! {
    /// The targets of one end; a sag that is not stated may come from common practice.
    ///
    /// Parameters
    /// ----------
    /// rider_sag : SagTarget, optional
    ///     With rider and kit.
    /// free_sag : SagTarget, optional
    ///     Of the bike alone.
    /// full_travel_force : force, optional
    ///     Of a fork, along itself, reached fast from the rider sag: the oil level is set by it. Today's unless given.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> rear = wr.Targets(rider_sag=wr.SagTarget("102 mm", tolerance="4 mm"))
    /// >>> bike = wr.Bike("shed", rear=wr.demo().rear, targets={"rear": rear})
    /// >>> bike.targets["rear"] == rear
    /// True
    Targets(record::Targets)
}

getters! {
    Targets {
        /// With rider and kit; None where it is not stated.
        rider_sag: Option<SagTarget> = |targets| targets.0.rider_sag.map(SagTarget);
        /// Of the bike alone; None where it is not stated.
        free_sag: Option<SagTarget> = |targets| targets.0.free_sag.map(SagTarget);
        /// Of a fork at full travel; None where it is not stated.
        full_travel_force: Option<Out<Force>> = |targets| targets.0.full_travel_force.map(Out);
    }
}

#[pymethods]
impl Targets {
    #[new]
    #[pyo3(signature = (*, rider_sag=None, free_sag=None, full_travel_force=None))]
    fn new(
        py: Python<'_>,
        rider_sag: Option<SagTarget>,
        free_sag: Option<SagTarget>,
        full_travel_force: Option<Given<'_, Force>>,
    ) -> PyResult<Self> {
        let full_travel_force = read_optional(full_travel_force, "full_travel_force")?;
        let (rider_sag, free_sag) = (rider_sag.map(|sag| sag.0), free_sag.map(|sag| sag.0));
        run(py, || record::Targets { rider_sag, free_sag, full_travel_force }.checked()).map(Self)
    }
}
