//! Coming to rest: both ends and the pitch together.
//!
//! Both ends start fully extended. Each settles on the first equilibrium under the load that it has in this attitude; the
//! new travels give a new attitude, that new loads, and so on until nothing moves. Each round is a bracketed search at
//! either end, which always finds a place: a root, or the stop that carries the rest. So there always is a rest, on the
//! stops if need be, unless a wheel lifts.
//!
//! The rounds converge on a rest exactly where it is stable in pitch. With the rates `K` at the wheels and the change of
//! load with travel `C ≤ 0`, one round multiplies an error by `−K⁻¹·C`, whose eigenvalues lie below one where `K + C`, the
//! second derivative of the potential energy, is positive definite. Where it is not, the rounds do what the bike would do:
//! fall over on its springs until the stops hold it. Only on the very edge between the two do they take for ever.

use super::plane::{Contact, FRONT, Field, Lump, Plane, Pose, REAR};
use crate::error::{BikeError, Result};
use crate::record::End;
use crate::units::{Force, Quantity, to_text};
use crate::wheel::{EndKernel, Equilibrium, Rest, cells, rest};

/// Rounds before giving up. A bike of usual rates takes 20; each leaves of an error the share of the pitch stiffness that
/// the high centre of gravity eats up, so this many allow 97 % of it.
const MOST_ROUNDS: usize = 1000;
/// A round that moves either end by less, in metres, was the last: what the searches at the ends leave open.
const CLOSE_SI: f64 = 1e-11;

/// What the wheels carry.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Burden {
    /// Known ground loads.
    Loads([f64; 2]),
    /// The sprung mass where it is.
    Mass(Lump),
}

/// The bike at rest.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct AtRest {
    pub(super) travel: [f64; 2],
    pub(super) ends: [(Rest, Vec<Equilibrium>); 2],
    pub(super) pose: Pose,
    pub(super) contact: Contact,
}

impl Burden {
    fn contact(&self, plane: &Plane<'_>, pose: &Pose, field: &Field) -> Contact {
        match self {
            Self::Loads(normal) => Contact { normal: *normal, along: [0.0; 2] },
            Self::Mass(lump) => plane.contact(pose, lump, field),
        }
    }
}

impl Plane<'_> {
    /// Rest under a burden, reached from full extension.
    pub(super) fn settle(&self, burden: &Burden, field: &Field) -> Result<AtRest> {
        let nodes = self.ends.map(cells);
        let full = self.ends.map(|end| end.full());
        let mut travel = [0.0; 2];
        let mut contact = Contact::default();
        for _ in 0..MOST_ROUNDS {
            let pose = self.pose(travel, contact.normal)?;
            let next = burden.contact(self, &pose, field);
            let ends = [FRONT, REAR].map(|end| rest(&nodes[end], |z| self.balance(end, z, &pose, &next, field)));
            let moved_to = [FRONT, REAR].map(|end| match ends[end].0 {
                Rest::ToppedOut(_) => 0.0,
                Rest::At(travel) => travel,
                Rest::Bottomed(_) => full[end],
            });
            let moved = [FRONT, REAR].map(|end| {
                let sunk = self.softness[end] * (next.normal[end] - contact.normal[end]);
                (moved_to[end] - travel[end]).abs().max(sunk.abs())
            });
            (travel, contact) = (moved_to, next);
            if moved[FRONT].max(moved[REAR]) < CLOSE_SI {
                on_the_ground(&contact)?;
                let pose = self.pose(travel, contact.normal)?;
                return Ok(AtRest { travel, ends, pose, contact });
            }
        }
        on_the_ground(&contact)?;
        Err(BikeError::Restless { steps: MOST_ROUNDS }.into())
    }
}

fn on_the_ground(contact: &Contact) -> Result<(), BikeError> {
    for (at, end) in [(FRONT, End::Front), (REAR, End::Rear)] {
        if contact.normal[at] < 0.0 {
            return Err(BikeError::Lifts {
                end,
                load: to_text(Force::from_si(contact.normal[at])),
                remedy: "check the centre of gravity, or brake, drive or climb less",
            });
        }
    }
    Ok(())
}
