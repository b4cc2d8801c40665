//! Friction of the fork's bushes on the bike: what the side load of its own weight and of the front brake makes of it.
//!
//! `V = F_springs/(cos ε + κ·sin ε)` over travel, `V` = the sprung load where the bike rests: see the head of
//! [`fork`](crate::fork)'s bushes for the statics.
//!
//! The frame is taken as level, at its stated rake; pitch turns both by a degree or two, and the side load by some per cent. The
//! springs are taken as the file states them. The friction that the readings find is all that rubs, bushes and seals, at the loads
//! read: what the bushes make of it at rest is a part of that, and what the brake adds is not in it.

use super::{Bike, WholeBike, missing};
use crate::error::Result;
use crate::fork::{BushLoads, FrontBrake};
use crate::record::{End, Load};
use crate::units::{Force, Length, Quantity, Share};
use crate::wheel::Wheel;

impl WholeBike<'_> {
    /// What the bushes of the fork take at some travels, and their friction; under a braking force of this share of the wheel's load.
    ///
    /// # Errors
    /// [`SpringError::NoBushes`](crate::error::SpringError::NoBushes),
    /// [`SpringError::Binds`](crate::error::SpringError::Binds); [`BikeError::Missing`](crate::error::BikeError::Missing) without a
    /// fork, or braked without the radius of its wheel; a travel or share out of range.
    pub fn fork_friction(&self, braking: Share, travels: &[Length]) -> Result<Vec<BushLoads>> {
        let front = self.bike.front()?;
        let braking = of_wheel(self.bike, braking)?;
        let stroke = |&travel: &Length| front.at(travel).map(|_| front.stroke_at(travel).stroke);
        let fork = front.fork()?;
        travels.iter().map(|travel| fork.bush_loads(stroke(travel)?, &braking)).collect()
    }

    /// The same where the front rests under a load; braked, with the fork held there.
    ///
    /// # Errors
    /// As [`fork_friction`](Self::fork_friction); without masses; on a bike that does not rest between its stops.
    pub fn fork_friction_at_rest(&self, load: &Load, braking: Share) -> Result<BushLoads> {
        let sprung = self.bike.masses()?.sprung_load(End::Front, load)?.value;
        let rest = self.bike.front()?.travel_under(sprung)?;
        let travel = rest
            .state()
            .map(|state| state.travel)
            .ok_or_else(|| missing("front.fork", "a rest between its stops: here a stop takes a part of the load"))?;
        let [found] = self.fork_friction(braking, &[travel])?[..] else {
            return Err(missing("front.fork", "its bushes rub"));
        };
        Ok(found)
    }
}

/// The brake at the wheel of a bike.
fn of_wheel(bike: &Bike, share: Share) -> Result<FrontBrake> {
    if share.si() == 0.0 {
        return Ok(FrontBrake::default());
    }
    let masses = bike.masses()?;
    Ok(FrontBrake {
        share,
        radius: bike.wheels()?.ends.front.radius,
        unsprung: Force::from_si(masses.unsprung().front.si() * masses.gravity().si()),
    })
}
