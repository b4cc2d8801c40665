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
//!
//! What an end pushes over its travel does not depend on the attitude. So the rounds are taken three times: between the
//! nodes of the ends' tables ([`EndTable`]), from full extension; then with both ends straight about where that leads, as
//! the kernels have them there; and at last on the kernels, looking at every cell of the travel for an equilibrium that
//! comes first. Only these last have a say in where the bike rests; as a rule there is one, which moves nothing.

use super::plane::{Contact, FRONT, Field, Lump, Plane, Pose, REAR};
use crate::error::{BikeError, Result};
use crate::record::End;
use crate::units::{Force, Quantity, to_text};
use crate::wheel::{AxlePoint, Equilibrium, Held, Rest, Sample, rest};

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

/// Travels, and what the wheels carried when they were found.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Round {
    travel: [f64; 2],
    contact: Contact,
    /// How far the last round moved an end or a tyre.
    moved: f64,
}

impl Plane<'_> {
    /// Rest under a burden, reached from full extension.
    pub(super) fn settle(&self, burden: &Burden, field: &Field) -> Result<AtRest> {
        self.settle_from(self.near_rest(burden, field).unwrap_or_default(), burden, field)
    }

    /// Rounds on the kernels alone.
    pub(super) fn settle_from(&self, mut last: Round, burden: &Burden, field: &Field) -> Result<AtRest> {
        for _ in 0..MOST_ROUNDS {
            let pose = self.pose(last.travel, last.contact.normal)?;
            let next = burden.contact(self, &pose, field);
            let ends = [FRONT, REAR].map(|end| self.rest(end, last.travel[end], &pose, &next, field));
            let to = [FRONT, REAR].map(|end| match ends[end].0 {
                Rest::ToppedOut(_) => 0.0,
                Rest::At(travel) => travel,
                Rest::Bottomed(_) => self.table(end).full(),
            });
            last = self.round(&last, to, next);
            if last.moved < CLOSE_SI {
                on_the_ground(&last.contact)?;
                let pose = self.pose(last.travel, last.contact.normal)?;
                return Ok(AtRest { travel: last.travel, ends, pose, contact: last.contact });
            }
        }
        on_the_ground(&last.contact)?;
        Err(BikeError::Restless { steps: MOST_ROUNDS }.into())
    }

    /// Where an end rests in an attitude and under forces that are held, looked for near a travel and proved over all cells.
    fn rest(&self, end: usize, near: f64, pose: &Pose, contact: &Contact, field: &Field) -> (Rest, Vec<Equilibrium>) {
        let balance = |at: &Sample| self.balance(end, at, pose, contact, field);
        let nodes = self.table(end).nodes().iter().map(|node| (node.travel, balance(node)));
        rest(nodes, Some(near), |travel| balance(&Sample::of(self.ends[end], travel)))
    }

    fn round(&self, last: &Round, travel: [f64; 2], contact: Contact) -> Round {
        let moved = [FRONT, REAR].map(|end| {
            let sunk = self.softness[end] * (contact.normal[end] - last.contact.normal[end]);
            (travel[end] - last.travel[end]).abs().max(sunk.abs())
        });
        Round { travel, contact, moved: moved[FRONT].max(moved[REAR]) }
    }

    /// Close to the rest, from full extension: on the tables, then straight about where those lead. `None` where the tables
    /// lead nowhere.
    fn near_rest(&self, burden: &Burden, field: &Field) -> Option<Round> {
        let mut held = [Held::Extended; 2];
        let on_table = |end: usize, last: &Round, pose: &Pose, contact: &Contact| {
            held[end] = self.table(end).first_rest(last.travel[end], |at| self.balance(end, at, pose, contact, field));
            match held[end] {
                Held::Extended => 0.0,
                Held::At(travel) => travel,
                Held::Compressed => self.table(end).full(),
            }
        };
        let axle = |end: usize, travel| self.table(end).at(travel)?.axle;
        let near = self.rounds(Round::default(), burden, field, axle, on_table)?;
        let about = [FRONT, REAR].map(|end| Sample::of(self.ends[end], near.travel[end]));
        let straight = |end: usize, last: &Round, pose: &Pose, contact: &Contact| {
            let Held::At(_) = held[end] else { return last.travel[end] };
            let (over, rate) = self.balance(end, &about[end], pose, contact, field);
            (about[end].travel - over / rate).clamp(0.0, self.table(end).full())
        };
        let axle = |end: usize, travel| about[end].moved(travel).axle;
        Some(self.rounds(near, burden, field, axle, straight).unwrap_or(near))
    }

    /// Rounds until nothing moves, with axles and rests from somewhere.
    fn rounds(
        &self,
        mut last: Round,
        burden: &Burden,
        field: &Field,
        axle: impl Fn(usize, f64) -> Option<AxlePoint>,
        mut rest: impl FnMut(usize, &Round, &Pose, &Contact) -> f64,
    ) -> Option<Round> {
        for _ in 0..MOST_ROUNDS {
            let axles = [FRONT, REAR].map(|end| axle(end, last.travel[end]));
            let pose = self.pose_on(axles, last.contact.normal).ok()?;
            let next = burden.contact(self, &pose, field);
            let travel = [FRONT, REAR].map(|end| rest(end, &last, &pose, &next));
            last = self.round(&last, travel, next);
            if last.moved < CLOSE_SI {
                return Some(last);
            }
        }
        None
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
