//! Which setting gives a wanted trail or rake.

use pyo3::prelude::*;
use wheelrate::bike;
use wheelrate::units::Length;

use super::effect::Effect;
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
