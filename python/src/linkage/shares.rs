//! Masses along the mechanism, as the wheel feels them.

use pyo3::prelude::*;
use pyo3::types::PyDict;
use serde::{Deserialize, Serialize};
use wheelrate::linkage::{self, BodyMass};
use wheelrate::units::{Length, Mass, MomentOfInertia};

use super::{Linkage, pair};
use crate::errors::run;
use crate::plain::Text;
use crate::units::{Given, GivenArray, OutArray, read_optional};
use crate::value::{result_class, rows};

/// What the masses are at the wheel at one travel.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct SharesAt {
    #[serde(with = "wheelrate::units::text_serde")]
    travel: Length,
    shares: linkage::MassShares,
}

result_class! {
    /// What masses along the mechanism are at the wheel, over travel, as arrays of one length.
    MassShares(Vec<SharesAt>) {
        /// Wheel travel from full extension, vertical.
        travel: OutArray<Length> = |shares| OutArray(shares.iter().map(|at| at.travel).collect());
        /// Mass whose weight at the axle does the same work.
        gravity: OutArray<Mass> = |shares| OutArray(shares.iter().map(|at| at.shares.gravity).collect());
        /// Mass that has the same inertia at the axle, moving vertically.
        inertia: OutArray<Mass> = |shares| OutArray(shares.iter().map(|at| at.shares.inertia).collect());
    }
}

rows! { MassShares: travel, inertia, gravity }

#[pymethods]
impl Linkage {
    /// Shares of the masses of swingarm, rocker, links and shock at the wheel, from the mechanism's own velocities.
    ///
    /// Parameters
    /// ----------
    /// bodies : dict of str to tuple
    ///     For each body its mass, its centre of gravity in the drawing, and, where it is known, its moment of inertia
    ///     about that centre (zero without it).
    /// shock : mass, optional
    ///     Of the shock with its spring, spread evenly over its length; none unless given.
    /// travels : array of length, optional
    ///     From full extension; evenly over the whole range unless given.
    ///
    /// Returns
    /// -------
    /// MassShares
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> linkage = wr.demo().rear.linkage
    /// >>> shares = linkage.mass_shares({"swingarm": ("5.6 kg", ["-290 mm", "-80 mm"], "0.21 kg m2")}, "4.1 kg")
    /// >>> print(shares.gravity[0].round(2), shares.inertia[0].round(2))
    /// 3.63 kilogram 2.42 kilogram
    #[pyo3(signature = (bodies: "dict[str, tuple[wheelrate.typing.QuantityLike, wheelrate.typing.ArrayLike] | tuple[wheelrate.typing.QuantityLike, wheelrate.typing.ArrayLike, wheelrate.typing.QuantityLike]]", shock=None, travels=None))]
    fn mass_shares(
        &self,
        py: Python<'_>,
        bodies: &Bound<'_, PyDict>,
        shock: Option<Given<'_, Mass>>,
        travels: Option<GivenArray<'_, Length>>,
    ) -> PyResult<MassShares> {
        let bodies: Vec<BodyMass> =
            bodies.iter().map(|(name, given)| body_mass(&name, &given)).collect::<PyResult<_>>()?;
        let shock = read_optional(shock, "shock")?.unwrap_or_default();
        let travels = self.travels(travels)?;
        let share = |&travel: &Length| Ok(SharesAt { travel, shares: self.0.mass_shares(travel, &bodies, shock)? });
        run(py, || travels.iter().map(share).collect::<Result<_, wheelrate::Error>>()).map(MassShares)
    }
}

fn body_mass(name: &Bound<'_, PyAny>, given: &Bound<'_, PyAny>) -> PyResult<BodyMass> {
    type Three<'py> = (Given<'py, Mass>, GivenArray<'py, Length>, Given<'py, MomentOfInertia>);
    let Text(body) = name.extract()?;
    let argument = |at: usize| format!("bodies[{body:?}][{at}]");
    let (mass, centre, inertia) = match given.extract::<Three<'_>>() {
        Ok((mass, centre, inertia)) => (mass, centre, inertia.read(&argument(2))?),
        Err(_) => {
            let (mass, centre) = given.extract()?;
            (mass, centre, MomentOfInertia::default())
        }
    };
    let centre = pair(name.py(), centre.read(&argument(1))?, &argument(1))?;
    Ok(BodyMass { mass: mass.read(&argument(0))?, centre, inertia, body: body.clone() })
}
