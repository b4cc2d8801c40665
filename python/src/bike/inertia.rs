//! What is on the bike and where: pitch inertia, masses shifted, ballast in place of a rider.

use pyo3::prelude::*;
use wheelrate::units::{Length, Mass, MomentOfInertia, Quantity};

use super::Bike;
use super::whole::WholeBike;
use crate::errors::run;
use crate::linkage::pair;
use crate::mass::Ballast;
use crate::plain::{Text, text};
use crate::units::{Given, GivenArray, Out, OutArray, read_optional};

#[pymethods]
impl WholeBike {
    /// Pitch inertia of the sprung mass about its centre of gravity, from those of the masses, their heights and shares.
    #[pyo3(signature = (load=None))]
    fn pitch_inertia(&self, py: Python<'_>, load: Option<Text>) -> PyResult<Out<MomentOfInertia>> {
        let load = self.load_or_rider(py, load.as_deref())?;
        run(py, || self.0.whole().pitch_inertia(&load)).map(Out)
    }
    /// The bike with one of its masses moved: a rider who leans forward, or stands up.
    ///
    /// Parameters
    /// ----------
    /// name : str
    ///     Of the mass: ``"rider"``.
    /// forward, up : length, optional
    ///     How far its centre of gravity goes; nowhere unless given.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> bike = wr.demo()
    /// >>> forward = bike.whole.with_shift("rider", forward="100 mm")
    /// >>> print((forward.whole.settle().stance.trail - bike.whole.settle().stance.trail).round(1))
    /// -3.9 millimeter
    #[pyo3(signature = (name, *, forward=None, up=None))]
    fn with_shift(
        &self,
        py: Python<'_>,
        name: Text,
        forward: Option<Given<'_, Length>>,
        up: Option<Given<'_, Length>>,
    ) -> PyResult<Bike> {
        let nowhere = Length::from_si(0.0);
        let forward = read_optional(forward, "forward")?.unwrap_or(nowhere);
        let up = read_optional(up, "up")?.unwrap_or(nowhere);
        run(py, || self.0.whole().with_shift(&name, forward, up)).map(Bike)
    }
    /// Ballast that both scales take for what comes on top of the bike: for setting sag without the rider.
    ///
    /// Parameters
    /// ----------
    /// load : str, optional
    ///     Names of masses without the bike.
    ///
    /// Returns
    /// -------
    /// Ballast
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> ballast = wr.demo().whole.ballast("rider")
    /// >>> print(ballast.mass, ballast.behind_front_axle.round(0))
    /// 96.0 kilogram 1013.0 millimeter
    #[pyo3(signature = (load: "str"="rider"))]
    fn ballast(&self, py: Python<'_>, #[pyo3(from_py_with = text)] load: &str) -> PyResult<Ballast> {
        let load = crate::record::load(py, load)?;
        run(py, || {
            Ok::<_, wheelrate::Error>(self.0.masses()?.ballast(&load, Some(self.0.whole().wheelbase_for_moments()?))?)
        })
        .map(Ballast)
    }
    /// The same ballast at two places, one ahead of where the load acts and one behind.
    ///
    /// Parameters
    /// ----------
    /// places : pair of lengths
    ///     Horizontal distances behind the front axle, bike level.
    /// load : str, optional
    ///     Names of masses without the bike.
    ///
    /// Returns
    /// -------
    /// array of mass
    ///     How much at each place.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> print(wr.demo().whole.ballast_at(["850 mm", "1250 mm"]).round(0))
    /// [57.0 39.0] kilogram
    #[pyo3(signature = (places, load: "str"="rider"))]
    fn ballast_at(
        &self,
        py: Python<'_>,
        places: GivenArray<'_, Length>,
        #[pyo3(from_py_with = text)] load: &str,
    ) -> PyResult<OutArray<Mass>> {
        let places = pair(py, places.read("places")?, "places")?;
        let load = crate::record::load(py, load)?;
        run(py, || {
            let wheelbase = self.0.whole().wheelbase_for_moments()?;
            Ok::<_, wheelrate::Error>(self.0.masses()?.ballast_at(&load, places, Some(wheelbase))?)
        })
        .map(|masses| OutArray(masses.to_vec()))
    }
}
