//! The rear end.

use pyo3::prelude::*;
use pyo3::types::{IntoPyDict, PyDict};
use wheelrate::units::{Force, Length, Quantity, SpringRate, WheelRate};
use wheelrate::wheel;

use super::final_drive::FinalDrive;
use super::{EndEffects, Settling, WheelCurve, WheelEffects, WheelState, wheel_end};
use crate::bike::ride::Reserve;
use crate::errors::run;
use crate::linkage::{EVEN_TRAVELS, Linkage, MeasuredLinkage, read_step};
use crate::plain::Text;
use crate::shock::Shock;
use crate::uncertain::Uncertain;
use crate::units::shaped::{GivenAny, Shaped};
use crate::units::{Given, GivenArray, Out, OutArray, read_optional};
use crate::value::getters;

/// How the way from wheel to shock is known.
#[derive(FromPyObject, IntoPyObject)]
#[allow(clippy::large_enum_variant, reason = "moved once, from an argument into an end")]
enum AnyLinkage {
    Drawn(Linkage),
    Measured(MeasuredLinkage),
}

/// The rear end: a linkage with a shock in it.
///
/// Parameters
/// ----------
/// linkage : Linkage or MeasuredLinkage
///     Made for a shock of this length and stroke.
/// shock : Shock
///     The shock.
/// final_drive : Sprockets or "shaft", optional
///     What drives the wheel, for squat.
/// caliper : str, optional
///     The body of a drawn linkage that carries the caliper of the rear brake, for anti-rise: one with the axle on it, or ``frame``
///     where a rod parallel to the swingarm holds it.
/// point_uncertainty : length, optional
///     Standard uncertainty of every coordinate of a drawn linkage: fit and advice then hold it. Exact unless given.
/// shock_length_uncertainty : length, optional
///     That of the shock's length, beside it. Exact unless given.
/// table : MeasuredLinkage, optional
///     A table taken beside a drawing: fit and advice let it correct the pivots within their uncertainty.
#[pyclass(module = "wheelrate", frozen, eq, weakref, from_py_object)]
#[derive(Clone, PartialEq)]
pub(crate) struct RearEnd(pub(crate) wheel::RearEnd);

wheel_end!(RearEnd);

getters! {
    RearEnd {
        /// Standard uncertainty of every coordinate of the drawn linkage, where stated.
        point_uncertainty: Option<Out<Length>> = |end| end.0.pivot_uncertainty().map(|known| Out(known.coordinate));
        /// Standard uncertainty of the shock's length, where that of the points is stated.
        shock_length_uncertainty: Option<Out<Length>> = |end| {
            end.0.pivot_uncertainty().map(|known| Out(known.shock_length))
        };
        /// The table taken beside the drawing, where there is one.
        table: Option<MeasuredLinkage> = |end| end.0.table().cloned().map(MeasuredLinkage);
        /// What drives the wheel: sprockets, ``"shaft"``, or None where it is not stated.
        final_drive: Option<FinalDrive> = |end| end.0.final_drive().copied().map(FinalDrive::from);
        /// The body with the caliper of the rear brake, where it is stated.
        caliper: Option<String> = |end| end.0.caliper().map(str::to_owned);
        /// The measured table, where the end is known from one.
        measured: Option<MeasuredLinkage> = |end| end.0.measured().cloned().map(MeasuredLinkage);
        /// The shock.
        shock: Shock = |end| Shock(end.0.shock().clone());
    }
}

#[pymethods]
impl RearEnd {
    #[new]
    #[pyo3(signature = (linkage, shock, *, final_drive: "Sprockets | str | None"=None, caliper=None, point_uncertainty=None, shock_length_uncertainty=None, table=None))]
    #[allow(clippy::too_many_arguments, reason = "what is known of an end, once each")]
    fn new(
        py: Python<'_>,
        linkage: AnyLinkage,
        shock: Shock,
        final_drive: Option<FinalDrive>,
        caliper: Option<Text>,
        point_uncertainty: Option<Given<'_, Length>>,
        shock_length_uncertainty: Option<Given<'_, Length>>,
        table: Option<MeasuredLinkage>,
    ) -> PyResult<Self> {
        let points = read_optional(point_uncertainty, "point_uncertainty")?;
        let length = read_optional(shock_length_uncertainty, "shock_length_uncertainty")?;
        let end = run(py, || {
            let end = match linkage {
                AnyLinkage::Drawn(linkage) => wheel::RearEnd::from_parts(linkage.0, shock.0),
                AnyLinkage::Measured(table) => wheel::RearEnd::from_table(table.0, shock.0),
            }?;
            let end = match (points, length) {
                (None, None) => end,
                // Without the first the core says what is missing.
                (points, length) => end.with_pivots_known_to(wheel::PivotUncertainty {
                    coordinate: points.unwrap_or_default(),
                    shock_length: length.unwrap_or_default(),
                })?,
            };
            let end = match table {
                Some(table) => end.with_table(table.0)?,
                None => end,
            };
            match caliper.map(|text| text.0) {
                Some(body) => end.with_caliper(body),
                None => Ok(end),
            }
        })?;
        Ok(Self(match final_drive {
            Some(drive) => end.with_final_drive(drive.read(py)?),
            None => end,
        }))
    }
    /// The same springs, gas and stops in another linkage of the same stroke, the shock as long as that wants it.
    fn with_linkage(&self, py: Python<'_>, linkage: Linkage) -> PyResult<Self> {
        run(py, || self.0.with_linkage(linkage.0)).map(Self)
    }
    /// The linkage as drawn; an end known from a measured table has none.
    #[getter]
    fn linkage(&self, py: Python<'_>) -> PyResult<Linkage> {
        run(py, || self.0.linkage().cloned()).map(Linkage)
    }
    /// What a small change of every dimension of the linkage does to wheel force and wheel rate at one travel, to first
    /// order, by exact derivatives.
    ///
    /// Parameters
    /// ----------
    /// travel : length
    ///     From full extension, which moves with the dimension.
    /// step : length, optional
    ///     How much each dimension changes; 1 mm unless given.
    ///
    /// Returns
    /// -------
    /// WheelEffects
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> effects = wr.demo().rear.effects_at("102 mm")
    /// >>> longer = effects.dimensions.index("length of link")
    /// >>> print(f"{effects.wheel_rate[longer].to('N/mm'):.3f~}")
    /// 0.016 N / mm
    #[pyo3(signature = (travel, step=None))]
    fn effects_at(
        &self,
        py: Python<'_>,
        travel: Given<'_, Length>,
        step: Option<Given<'_, Length>>,
    ) -> PyResult<WheelEffects> {
        let (travel, step) = (travel.read("travel")?, read_step(step)?);
        run(py, || self.0.effects_at(travel, step)).map(WheelEffects)
    }
    /// What a small change of every dimension of the linkage does under a load, to first order; None when the load leaves
    /// the wheel on a stop.
    ///
    /// Parameters
    /// ----------
    /// load : force
    ///     Sprung load at the wheel.
    /// step : length, optional
    ///     How much each dimension changes; 1 mm unless given.
    ///
    /// Returns
    /// -------
    /// EndEffects or None
    #[pyo3(signature = (load, step=None))]
    fn effects_under(
        &self,
        py: Python<'_>,
        load: Given<'_, Force>,
        step: Option<Given<'_, Length>>,
    ) -> PyResult<Option<EndEffects>> {
        let (load, step) = (load.read("load")?, read_step(step)?);
        Ok(run(py, || self.0.effects_under(load, step))?.map(EndEffects))
    }
    /// Wheel force and wheel rate at one travel with the uncertainty that a measured table gives them; None for an end known
    /// from a drawing.
    fn uncertain(&self, py: Python<'_>, travel: Given<'_, Length>) -> PyResult<Option<(Uncertain, Uncertain)>> {
        let travel = travel.read("travel")?;
        let found = run(py, || self.0.uncertain(travel))?;
        Ok(found.map(|(force, rate)| (force.into(), rate.into())))
    }
    #[pyo3(signature = () -> "tuple[tuple[Linkage | MeasuredLinkage, Shock], dict[str, object]]")]
    fn __getnewargs_ex__<'py>(&self, py: Python<'py>) -> PyResult<((AnyLinkage, Shock), Bound<'py, PyDict>)> {
        let linkage = match self.measured() {
            Some(table) => AnyLinkage::Measured(table),
            None => AnyLinkage::Drawn(self.linkage(py)?),
        };
        let known = self.0.pivot_uncertainty().map(|known| [known.coordinate, known.shock_length]);
        let known = known.map(|both| both.map(wheelrate::units::to_text));
        let [points, length] = known.map_or([None, None], |both| both.map(Some));
        let named = [("point_uncertainty", points), ("shock_length_uncertainty", length)].into_py_dict(py)?;
        named.set_item("final_drive", self.final_drive())?;
        named.set_item("caliper", self.caliper())?;
        named.set_item("table", self.table())?;
        Ok(((linkage, self.shock()), named))
    }
    fn __hash__(&self) -> u64 {
        crate::value::hash(&self.0)
    }
    fn __repr__(&self) -> String {
        format!("RearEnd({})", crate::value::repr("Shock", self.0.shock()))
    }
}
