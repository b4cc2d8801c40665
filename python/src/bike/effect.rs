//! What a change of setting does to how the bike stands.

use pyo3::prelude::*;
use wheelrate::bike;
use wheelrate::record::Ends;
use wheelrate::units::{Angle, Length, SpringRate};

use super::settling::{SettledBike, named};
use crate::linkage::pair;
use crate::units::{Given, GivenArray, Out, read_optional};
use crate::value::{Named, result_class};

result_class! {
    /// What a change of setting does under one load. Changes are after less before.
    Effect(bike::Effect) {
        /// As it was.
        before: SettledBike = |effect| SettledBike(effect.before.clone());
        /// As it is then.
        after: SettledBike = |effect| SettledBike(effect.after.clone());
        /// Whether the loads follow the pitch, for which the heights of all masses have to be known.
        loads_follow: bool = |effect| effect.loads_follow;
        /// Change of rake.
        rake: Out<Angle> = |effect| Out(effect.rake());
        /// Change of trail along the ground.
        trail: Out<Length> = |effect| Out(effect.trail());
        /// Change of wheelbase.
        wheelbase: Out<Length> = |effect| Out(effect.wheelbase());
        /// Change of travel at rest, by end. A longer shock starts its travel elsewhere.
        travel: Named<Out<Length>> = |effect| named(effect.travel(), Out);
    }
}

#[pymethods]
impl Effect {
    /// How much higher a point of the frame stands.
    ///
    /// Parameters
    /// ----------
    /// point : pair of lengths
    ///     In the frame axes, x forward and z up.
    fn rise(&self, py: Python<'_>, point: GivenArray<'_, Length>) -> PyResult<Out<Length>> {
        Ok(Out(self.0.rise(pair(py, point.read("point")?, "point")?)))
    }
}

/// A main spring as it is bought and set: rate of one spring, preload of each.
pub(super) type SpringPair<'py> = (Given<'py, SpringRate>, Given<'py, Length>);

pub(super) fn adjustment(
    fork_raised: Option<Given<'_, Length>>,
    shock_longer: Option<Given<'_, Length>>,
    front_spring: Option<SpringPair<'_>>,
    rear_spring: Option<SpringPair<'_>>,
) -> PyResult<bike::Adjustment> {
    let spring = |given: Option<SpringPair<'_>>, argument: &str| {
        given
            .map(|(rate, preload)| {
                let rate = rate.read(&format!("{argument}[0]"))?;
                Ok::<_, PyErr>(bike::SpringSetting { rate, preload: preload.read(&format!("{argument}[1]"))? })
            })
            .transpose()
    };
    Ok(bike::Adjustment {
        fork_raised: read_optional(fork_raised, "fork_raised")?,
        shock_longer: read_optional(shock_longer, "shock_longer")?,
        springs: Ends { front: spring(front_spring, "front_spring")?, rear: spring(rear_spring, "rear_spring")? },
    })
}
