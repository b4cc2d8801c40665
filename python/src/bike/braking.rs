//! What the brakes do to the suspension.

use pyo3::prelude::*;
use wheelrate::bike;
use wheelrate::units::{Angle, Length, Share};
use wheelrate::wheel::Wheel as _;

use super::whole::WholeBike;
use crate::errors::run;
use crate::linkage::{AntiRise, EVEN_TRAVELS};
use crate::plain::Text;
use crate::units::{GivenArray, Out, OutArray};
use crate::value::{result_class, rows};

result_class! {
    /// What the front brake does where the bike rests.
    AntiDive(bike::AntiDive) {
        /// Wheel travel there, from full extension.
        travel: Out<Length> = |found| Out(found.travel);
        /// Rise, backward, of the line from the contact to what the braked wheel turns about; below zero with a telescopic fork.
        brake_angle: Out<Angle> = |found| Out(found.brake_angle);
        /// Share of the load that braking moves to the front which the brake carries past the springs; below zero it adds to the
        /// dive.
        anti_dive: Out<Share> = |found| Out(found.anti_dive);
    }
}

result_class! {
    /// What the front brake does over travel: one entry per travel.
    AntiDiveCurve(Vec<bike::AntiDive>) {
        /// Wheel travel from full extension.
        travel: OutArray<Length> = |all| OutArray(all.iter().map(|at| at.travel).collect());
        /// Rise, backward, of the line from the contact to what the braked wheel turns about.
        brake_angle: OutArray<Angle> = |all| OutArray(all.iter().map(|at| at.brake_angle).collect());
        /// Share of the load that braking moves to the front which the brake carries past the springs.
        anti_dive: OutArray<Share> = |all| OutArray(all.iter().map(|at| at.anti_dive).collect());
    }
}

rows! { AntiDiveCurve: travel, anti_dive, brake_angle }

#[pymethods]
impl WholeBike {
    /// What the rear brake does over travel, the bike standing as this load leaves it.
    ///
    /// Parameters
    /// ----------
    /// load : str, optional
    ///     Names of masses; what rider sag is meant under unless given.
    /// travels : array of length, optional
    ///     From full extension; evenly over the whole range unless given.
    ///
    /// Returns
    /// -------
    /// AntiRise
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> bike = wr.demo()
    /// >>> found = bike.whole.anti_rise(travels=[bike.whole.settle("bike + rider").stance.travel["rear"]])
    /// >>> print(found.anti_rise.round(0))
    /// [121.0] percent
    #[pyo3(signature = (load=None, travels=None))]
    fn anti_rise(
        &self,
        py: Python<'_>,
        load: Option<Text>,
        travels: Option<GivenArray<'_, Length>>,
    ) -> PyResult<AntiRise> {
        let load = self.load_or_rider(py, load.as_deref())?;
        let travels = travels.map(|travels| travels.read("travels")).transpose()?;
        run(py, || match travels {
            Some(travels) => self.0.whole().anti_rise(&load, &travels),
            None => self.0.whole().anti_rise(&load, &self.0.rear()?.travels(EVEN_TRAVELS)),
        })
        .map(AntiRise)
    }
    /// What the front brake does over travel, the bike standing as this load leaves it: the caliper on the sliders of a fork, or on
    /// the stated body of a linkage.
    ///
    /// Parameters
    /// ----------
    /// load : str, optional
    ///     Names of masses; what rider sag is meant under unless given.
    /// travels : array of length, optional
    ///     From full extension; evenly over the whole range unless given.
    ///
    /// Returns
    /// -------
    /// AntiDiveCurve
    #[pyo3(signature = (load=None, travels=None))]
    fn anti_dive_over_travel(
        &self,
        py: Python<'_>,
        load: Option<Text>,
        travels: Option<GivenArray<'_, Length>>,
    ) -> PyResult<AntiDiveCurve> {
        let load = self.load_or_rider(py, load.as_deref())?;
        let travels = travels.map(|travels| travels.read("travels")).transpose()?;
        run(py, || match travels {
            Some(travels) => self.0.whole().anti_dive(&load, &travels),
            None => self.0.whole().anti_dive(&load, &self.0.front()?.travels(EVEN_TRAVELS)),
        })
        .map(AntiDiveCurve)
    }
    /// What the front brake does where the bike rests under a load: the caliper on the sliders of a fork, or on the stated body of a
    /// linkage.
    ///
    /// Parameters
    /// ----------
    /// load : str, optional
    ///     Names of masses; what rider sag is meant under unless given.
    ///
    /// Returns
    /// -------
    /// AntiDive
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> print(wr.demo().whole.anti_dive().anti_dive.round(0))
    /// -95.0 percent
    #[pyo3(signature = (load=None))]
    fn anti_dive(&self, py: Python<'_>, load: Option<Text>) -> PyResult<AntiDive> {
        let load = self.load_or_rider(py, load.as_deref())?;
        run(py, || self.0.whole().anti_dive_at_rest(&load)).map(AntiDive)
    }
}
