//! Which setting gives a wanted trail or rake.

use pyo3::prelude::*;
use wheelrate::units::{Angle, Length};
use wheelrate::{bike, infer};

use super::effect::Effect;
use super::settling::Stance;
use super::whole::WholeBike;
use crate::errors::run;
use crate::plain::Text;
use crate::units::Out;
use crate::value::result_class;

/// A lever, as a file would name it.
fn lever(lever: bike::Lever) -> &'static str {
    match lever {
        bike::Lever::ForkRaised => "fork_raised",
        bike::Lever::ShockLonger => "shock_longer",
        bike::Lever::FrontPreload => "front_preload",
        bike::Lever::RearPreload => "rear_preload",
        _ => "another",
    }
}

result_class! {
    /// One lever, and where it goes.
    Move(bike::Move) {
        /// Which: ``"fork_raised"``, ``"shock_longer"``, ``"front_preload"`` or ``"rear_preload"``.
        lever: &'static str = |one| lever(one.lever);
        /// The same in words.
        words: &'static str = |one| one.lever.words();
        /// By how much it would have to be moved; None where no move of it does.
        by: Option<Out<Length>> = |one| one.by.map(Out);
        /// Where it is put: that, held within its room.
        set: Out<Length> = |one| Out(one.set);
    }
}

result_class! {
    /// One choice of levers for a wanted trail or rake.
    Correction(bike::Correction) {
        /// Its levers.
        moves: Vec<Move> = |found| found.moves.iter().map(|one| Move(*one)).collect();
        /// Is the wish met, every lever within its room?
        is_reachable: bool = |found| found.is_reachable;
        /// How the bike stands before, and with the levers where they are put.
        effect: Effect = |found| Effect(found.effect.clone());
    }
}

result_class! {
    /// How surely rake and trail of a standing bike are known: standard uncertainties.
    GeometryDoubt(infer::GeometryDoubt) {
        /// Of the rake.
        rake: Out<Angle> = |doubt| Out(doubt.rake);
        /// Of the trail.
        trail: Out<Length> = |doubt| Out(doubt.trail);
    }
}

#[pymethods]
impl WholeBike {
    /// How surely rake and trail are known of a stance, from what the readings leave open of both sags, and the stated rake's own.
    ///
    /// Parameters
    /// ----------
    /// stance : Stance
    ///     Of a bike at rest: before a correction, or after it.
    /// load : str, optional
    ///     Names of masses; what rider sag is meant under unless given.
    ///
    /// Returns
    /// -------
    /// GeometryDoubt
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> whole = wr.demo().whole
    /// >>> print(whole.geometry_doubt(whole.settle().stance).trail.round(1))
    /// 0.5 millimeter
    #[pyo3(signature = (stance, load=None))]
    fn geometry_doubt(&self, py: Python<'_>, stance: PyRef<'_, Stance>, load: Option<Text>) -> PyResult<GeometryDoubt> {
        let load = self.load_or_rider(py, load.as_deref())?;
        let stance = stance.0.clone();
        run(py, || self.0.whole().geometry_doubt(&load, &stance)).map(GeometryDoubt)
    }
}
