//! Friction of the fork's bushes on the bike.

use pyo3::prelude::*;
use wheelrate::units::{Length, Quantity, Share};
use wheelrate::wheel::Wheel as _;

use super::whole::WholeBike;
use crate::errors::run;
use crate::fork::BushLoads;
use crate::linkage::EVEN_TRAVELS;
use crate::plain::Text;
use crate::units::{Given, GivenArray, read_optional};

#[pymethods]
impl WholeBike {
    /// What the bushes of the fork take over travel, and their friction, the frame level.
    ///
    /// Parameters
    /// ----------
    /// travels : array of length, optional
    ///     From full extension; evenly over the whole range unless given.
    /// braking : share, optional
    ///     Force of the front brake as a share of the wheel's load on the ground; not braked unless given.
    ///
    /// Returns
    /// -------
    /// BushLoads
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> bike = wr.demo()
    /// >>> for share in ("0 %", "60 %"):
    /// ...     print(bike.whole.fork_friction(["100 mm"], braking=share).friction_at_wheel.round(0))
    /// [44.0] newton
    /// [28.0] newton
    #[pyo3(signature = (travels=None, *, braking=None))]
    fn fork_friction(
        &self,
        py: Python<'_>,
        travels: Option<GivenArray<'_, Length>>,
        braking: Option<Given<'_, Share>>,
    ) -> PyResult<BushLoads> {
        let travels = travels.map(|travels| travels.read("travels")).transpose()?;
        let braking = read_optional(braking, "braking")?.unwrap_or(Share::from_si(0.0));
        run(py, || {
            let even = || Ok::<_, wheelrate::Error>(self.0.front()?.travels(EVEN_TRAVELS));
            self.0.whole().fork_friction(braking, &travels.map_or_else(even, Ok)?)
        })
        .map(BushLoads)
    }
    /// The same where the front rests under a load; braked, with the fork held there. One row.
    ///
    /// Parameters
    /// ----------
    /// load : str, optional
    ///     Names of masses; what rider sag is meant under unless given.
    /// braking : share, optional
    ///     As for ``fork_friction``.
    ///
    /// Returns
    /// -------
    /// BushLoads
    #[pyo3(signature = (load=None, *, braking=None))]
    fn fork_friction_at_rest(
        &self,
        py: Python<'_>,
        load: Option<Text>,
        braking: Option<Given<'_, Share>>,
    ) -> PyResult<BushLoads> {
        let load = self.load_or_rider(py, load.as_deref())?;
        let braking = read_optional(braking, "braking")?.unwrap_or(Share::from_si(0.0));
        run(py, || self.0.whole().fork_friction_at_rest(&load, braking)).map(|found| BushLoads(vec![found]))
    }
}
