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
//! What an end pushes over its travel does not depend on the attitude. So the rest is looked for first between the nodes of
//! the ends' tables ([`EndTable`]), by Newton's method for both ends at once, or by rounds where an end comes near a stop; then
//! as the kernels have the ends there. At last rounds are taken on the kernels, looking at every cell of the travel for an
//! equilibrium that comes first. Only these have a say in where the bike rests; as a rule there is one, which moves nothing.

use super::plane::{Contact, FRONT, Field, Lump, Plane, Pose, REAR};
use crate::error::{BikeError, Result};
use crate::record::End;
use crate::units::{Force, Quantity, brief};
use crate::wheel::{Equilibrium, Exact, Held, Rest, Sample, rest};

/// Rounds before giving up. A bike of usual rates takes 20; each leaves of an error the share of the pitch stiffness that
/// the high centre of gravity eats up, so this many allow 97 % of it.
const MOST_ROUNDS: usize = 1000;
/// A round that moves either end by less, in metres, was the last: what the searches at the ends leave open.
pub(super) const CLOSE_SI: f64 = 1e-11;

/// Change of travel over which slopes are taken, in metres: springs and linkages change little over it, and rounding of a force
/// of a kilonewton leaves them good to 1e-8.
const DIFFERENCE_SI: f64 = 1e-4;
/// A step of Newton's method on the tables that moves an end by less, in metres, is near enough for the kernels.
const NEAR_SI: f64 = 1e-9;
/// The same on the kernels: what it leaves, by slopes good to a percent and by tyres whose loads are a step behind, is a tenth
/// of that at most, and less than [`CLOSE_SI`].
const NEAREST_SI: f64 = 2e-11;
/// A step shorter than this, in metres, leaves the slopes as they are: what it leaves over is of the tyres, whose loads are a
/// step behind.
const SAYS_SOMETHING_SI: f64 = 1e-6;
/// Share of the way to a stop that one step may go.
const MOST_OF_THE_WAY: f64 = 0.8;
/// Steps of Newton's method before leaving it to the rounds; a bike takes five or six.
const MOST_STEPS: usize = 25;
/// Least share of its stiffness that a bike keeps against pitching where Newton's method is trusted with it: the slopes are good
/// to a percent.
const STABLE: f64 = 0.05;

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
    /// Both ends there, by their kernels.
    pub(super) exact: [Exact; 2],
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

#[cfg(test)]
impl Round {
    pub(super) fn travel(&self) -> [f64; 2] {
        self.travel
    }
}

impl Plane<'_> {
    /// Rest under a burden, reached from full extension.
    pub(super) fn settle(&self, burden: &Burden, field: &Field) -> Result<AtRest> {
        self.settle_from(self.near_rest(burden, field).unwrap_or_default(), burden, field)
    }

    /// Rounds on the kernels alone.
    pub(super) fn settle_from(&self, mut last: Round, burden: &Burden, field: &Field) -> Result<AtRest> {
        let mut exact = [FRONT, REAR].map(|end| self.exact(end, last.travel[end]));
        for _ in 0..MOST_ROUNDS {
            let pose = self.pose_of(&exact, last.contact.normal)?;
            let next = burden.contact(self, &pose, field);
            let ends = [FRONT, REAR].map(|end| self.rest(end, &exact[end].sample, &pose, &next, field));
            let to = [FRONT, REAR].map(|end| match ends[end].0 {
                Rest::ToppedOut(_) => 0.0,
                Rest::At(travel) => travel,
                Rest::Bottomed(_) => self.table(end).full(),
            });
            last = self.round(&last, to, next);
            exact = [FRONT, REAR].map(|end| self.exact(end, to[end]));
            if last.moved < CLOSE_SI {
                on_the_ground(&last.contact)?;
                let pose = self.pose_of(&exact, last.contact.normal)?;
                return Ok(AtRest { travel: last.travel, exact, ends, pose, contact: last.contact });
            }
        }
        on_the_ground(&last.contact)?;
        Err(BikeError::Restless { steps: MOST_ROUNDS }.into())
    }

    /// Where an end rests in an attitude and under forces that are held, looked for near a place and proved over all cells.
    fn rest(
        &self,
        end: usize,
        near: &Sample,
        pose: &Pose,
        contact: &Contact,
        field: &Field,
    ) -> (Rest, Vec<Equilibrium>) {
        let balance = |travel: f64| {
            let sample = if travel == near.travel { *near } else { self.exact(end, travel).sample };
            self.balance(end, &sample, pose, contact, field)
        };
        rest(&self.balances(end, pose, contact, field), Some(near.travel), balance)
    }

    /// The pose of the bike with its ends where they are.
    fn pose_of(&self, exact: &[Exact; 2], normal: [f64; 2]) -> Result<Pose> {
        self.pose_on(exact.each_ref().map(|exact| exact.sample.axle), normal)
    }

    fn round(&self, last: &Round, travel: [f64; 2], contact: Contact) -> Round {
        let moved = [FRONT, REAR].map(|end| {
            let sunk = self.softness[end] * (contact.normal[end] - last.contact.normal[end]);
            (travel[end] - last.travel[end]).abs().max(sunk.abs())
        });
        Round { travel, contact, moved: moved[FRONT].max(moved[REAR]) }
    }

    /// Close to the rest, from full extension: by Newton's method, or else by rounds on the tables. `None` where neither leads
    /// anywhere.
    fn near_rest(&self, burden: &Burden, field: &Field) -> Option<Round> {
        self.newton(burden, field).or_else(|| self.rounds(burden, field))
    }

    /// Rounds on the tables until nothing moves.
    fn rounds(&self, burden: &Burden, field: &Field) -> Option<Round> {
        let mut last = Round::default();
        for _ in 0..MOST_ROUNDS {
            let axles = [FRONT, REAR].map(|end| self.table(end).at(last.travel[end])?.axle);
            let pose = self.pose_on(axles, last.contact.normal).ok()?;
            let next = burden.contact(self, &pose, field);
            let travel = [FRONT, REAR].map(|end| match self.held(end, &pose, &next, field) {
                Held::Extended => 0.0,
                Held::At(travel) => travel,
                Held::Compressed => self.table(end).full(),
            });
            last = self.round(&last, travel, next);
            if last.moved < CLOSE_SI {
                return Some(last);
            }
        }
        None
    }

    /// Where the table has an end rest in an attitude and under forces that are held.
    fn held(&self, end: usize, pose: &Pose, contact: &Contact, field: &Field) -> Held {
        let balance = |at: &Sample| self.balance(end, at, pose, contact, field);
        self.table(end).rest_before(self.first_over(end, pose, contact, field), balance)
    }

    /// Newton's method for both ends at once, on the tables and then on the kernels, from where the ends rest in the attitude
    /// of full extension. The derivatives are differences at the start, kept up by Broyden's rank-one change. `None` where that
    /// leads to a stop, and unless the rest is stable in pitch.
    pub(super) fn newton(&self, burden: &Burden, field: &Field) -> Option<Round> {
        let tabulated = |end: usize, travel| self.table(end).at(travel);
        let exact = |end: usize, travel| Some(self.exact(end, travel).sample);
        let extended = [FRONT, REAR].map(|end| tabulated(end, 0.0)?.axle);
        let pose = self.pose_on(extended, [0.0; 2]).ok()?;
        let contact = burden.contact(self, &pose, field);
        let mut travel = [FRONT, REAR].map(|end| match self.held(end, &pose, &contact, field) {
            Held::Extended => (1.0 - MOST_OF_THE_WAY) * self.table(end).full(),
            Held::At(travel) => travel,
            Held::Compressed => MOST_OF_THE_WAY * self.table(end).full(),
        });
        let mut contact = contact;
        let over = |samples: [Option<Sample>; 2], contact: &Contact| {
            let [Some(front), Some(rear)] = samples else { return None };
            let pose = self.pose_on([front.axle, rear.axle], contact.normal).ok()?;
            let next = burden.contact(self, &pose, field);
            let over =
                [self.balance(FRONT, &front, &pose, &next, field), self.balance(REAR, &rear, &pose, &next, field)];
            Some((over.map(|(over, _)| over), next))
        };
        let at = |how: &dyn Fn(usize, f64) -> Option<Sample>, travel: [f64; 2]| {
            [FRONT, REAR].map(|end| Some(how(end, travel[end])?).filter(|_| self.is_inside(end, travel[end])))
        };
        let (mut left, next) = over(at(&tabulated, travel), &contact)?;
        contact = next;
        let mut slopes = [[0.0; 2]; 2];
        for end in [FRONT, REAR] {
            let mut moved = travel;
            moved[end] += DIFFERENCE_SI;
            let (there, _) = over(at(&tabulated, moved), &contact)?;
            for row in [FRONT, REAR] {
                slopes[row][end] = (there[row] - left[row]) / DIFFERENCE_SI;
            }
        }
        let mut on_tables = true;
        for _ in 0..MOST_STEPS {
            let whole = solve(&slopes, left)?;
            let share = self.share_inside(travel, whole);
            let step = whole.map(|part| share * part);
            let size = whole[0].abs().max(whole[1].abs());
            travel = [travel[0] - step[0], travel[1] - step[1]];
            if !on_tables && size < NEAREST_SI {
                return is_stable(&slopes).then_some(Round { travel, contact, moved: size });
            }
            let samples = if on_tables { at(&tabulated, travel) } else { at(&exact, travel) };
            let (there, next) = over(samples, &contact)?;
            // What the step should have left is nothing, or what it was too short for: anything else is the fault of the slopes.
            let square = step[0] * step[0] + step[1] * step[1];
            if on_tables && size > SAYS_SOMETHING_SI {
                for row in [FRONT, REAR] {
                    let fault = there[row] - (1.0 - share) * left[row];
                    for column in [FRONT, REAR] {
                        slopes[row][column] -= fault * step[column] / square;
                    }
                }
            }
            (left, contact) = (there, next);
            if on_tables && size < NEAR_SI {
                on_tables = false;
                (left, contact) = over(at(&exact, travel), &contact)?;
            }
        }
        None
    }

    /// The share of a step that takes no end more than most of its way to a stop.
    fn share_inside(&self, travel: [f64; 2], step: [f64; 2]) -> f64 {
        let room = |end: usize| {
            let to_stop = if step[end] > 0.0 { travel[end] } else { self.table(end).full() - travel[end] };
            MOST_OF_THE_WAY * to_stop / step[end].abs()
        };
        room(FRONT).min(room(REAR)).min(1.0)
    }

    fn is_inside(&self, end: usize, travel: f64) -> bool {
        travel > 0.0 && travel < self.table(end).full()
    }
}

/// The step that takes away what is left: `x` of `A·x = b`.
fn solve([[a, b], [c, d]]: &[[f64; 2]; 2], [e, f]: [f64; 2]) -> Option<[f64; 2]> {
    let determinant = a * d - b * c;
    let found = [(d * e - b * f) / determinant, (a * f - c * e) / determinant];
    found.iter().all(|part| part.is_finite()).then_some(found)
}

/// Would the rounds come here too? They multiply an error by `I − K⁻¹·J`, no part of which is below zero, and converge where
/// `J` has positive minors.
fn is_stable(&[[a, b], [c, d]]: &[[f64; 2]; 2]) -> bool {
    a > 0.0 && d > 0.0 && a * d - b * c > STABLE * a * d
}

fn on_the_ground(contact: &Contact) -> Result<(), BikeError> {
    for (at, end) in [(FRONT, End::Front), (REAR, End::Rear)] {
        if contact.normal[at] < 0.0 {
            return Err(BikeError::Lifts {
                end,
                load: brief(Force::from_si(contact.normal[at])),
                remedy: "check the centre of gravity, or brake, drive or climb less",
            });
        }
    }
    Ok(())
}
