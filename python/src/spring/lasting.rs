//! Will the spring last: stress in the wire against what the wire stands.

use pyo3::prelude::*;
use wheelrate::spring::{self, SpringVerdict};
use wheelrate::units::{Length, Share, Stress};

use super::geometry::CoilGeometry;
use crate::errors::run;
use crate::plain::Text;
use crate::units::{Given, Out};
use crate::value::result_class;

result_class! {
    /// The stress of a spring, held against its wire.
    SpringLife(spring::SpringLife) {
        /// Tensile strength of the wire.
        tensile_strength: Out<Stress> = |life| Out(life.tensile_strength);
        /// Shear stress at the least compression, corrected for the wire's curvature.
        least_stress: Out<Stress> = |life| Out(life.least_stress);
        /// Shear stress at the most compression.
        most_stress: Out<Stress> = |life| Out(life.most_stress);
        /// The stress at most compression over that at which the spring sets.
        set_share: Out<Share> = |life| Out(life.set_share);
        /// The stress with the coils touching over what EN 13906-1 permits there; None without a free length.
        solid_share: Option<Out<Share>> = |life| life.solid_share.map(Out);
        /// Goodman's factor of safety for endless life; None for wire that no test is known of.
        fatigue_factor: Option<f64> = |life| life.fatigue_factor;
        /// ``lasts``, ``too close``, ``may set``, ``may break`` or ``life unknown``.
        verdict: &'static str = |life| match life.verdict {
            SpringVerdict::Lasts => "lasts",
            SpringVerdict::TooClose => "too close",
            SpringVerdict::MaySet => "may set",
            SpringVerdict::MayBreak => "may break",
            SpringVerdict::LifeUnknown => "life unknown",
        };
        /// What to mind beside the numbers.
        cautions: Vec<String> = |life| life.cautions.clone();
    }
}

/// Kinds of spring wire whose strength is known, with where it comes from.
///
/// Returns
/// -------
/// dict of str to str
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> wr.spring_wires()["music wire A228"]
/// 'Shigley, table 10-4, from memory'
#[pyfunction]
pub(crate) fn spring_wires() -> crate::value::Named<&'static str> {
    crate::value::Named(
        spring::SpringWire::known().into_iter().map(|wire| (wire.name().to_owned(), wire.source())).collect(),
    )
}

#[pymethods]
impl CoilGeometry {
    /// Will the spring last: stress between two compressions against the strength of its wire, once and for endless life.
    ///
    /// Parameters
    /// ----------
    /// wire_kind : str
    ///     One of `spring_wires`.
    /// least, most : length
    ///     Compressions it works between: at rest under the rider, and with preload and full stroke.
    /// is_peened : bool, optional
    ///     Shot-peened; not unless given.
    /// is_pressed : bool, optional
    ///     Pressed solid by its maker until it set no further; not unless given.
    ///
    /// Returns
    /// -------
    /// SpringLife
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> coil = wr.CoilGeometry(
    /// ...     wire="11.6 mm", mean_diameter="66 mm", active_coils=11, ends="closed-ground",
    /// ...     material="EN 10270-2", free_length="290 mm",
    /// ... )
    /// >>> life = coil.life("oil-tempered A229", "54 mm", "132 mm", is_peened=True, is_pressed=True)
    /// >>> print(life.verdict, round(life.fatigue_factor, 2), life.most_stress.round(0))
    /// too close 0.87 1013.0 megapascal
    #[pyo3(signature = (wire_kind, least, most, *, is_peened=false, is_pressed=false))]
    fn life(
        &self,
        py: Python<'_>,
        wire_kind: Text,
        least: Given<'_, Length>,
        most: Given<'_, Length>,
        is_peened: bool,
        is_pressed: bool,
    ) -> PyResult<SpringLife> {
        let (least, most) = (least.read("least")?, most.read("most")?);
        run(py, || {
            let duty = spring::SpringDuty { least, most, is_peened, is_pressed };
            self.0.life(spring::SpringWire::named(&wire_kind)?, &duty)
        })
        .map(SpringLife)
    }
}
