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

use super::plane::{Contact, FRONT, Field, Lump, Plane, Pose, REAR, both};
use crate::error::{BikeError, Result};
use crate::record::End;
use crate::units::{Force, Quantity, brief};
use crate::wheel::{Equilibrium, Exact, Held, Rest, Sample};

/// Rounds before giving up. A bike of usual rates takes 20; each leaves of an error the share of the pitch stiffness that
/// the high centre of gravity eats up, so this many allow 97 % of it.
const MOST_ROUNDS: usize = 1000;
/// A round that moves either end by less, in metres, was the last: what the searches at the ends leave open.
pub(super) const CLOSE_SI: f64 = 1e-11;

/// A round that would move an end by less, in metres, leaves it where the kernels were asked: 1e-13 of a travel.
const SAME_SI: f64 = 1e-14;

/// Change of travel over which slopes are taken, in metres: the pitch bends the loads little over it, and rounding of a force of
/// a kilonewton leaves the slopes good to 1e-8.
const DIFFERENCE_SI: f64 = 1e-4;
/// A step of Newton's method on the tables that moves an end by less, in metres, is near enough for the kernels: the next
/// would move it by the square of it, times some ten per metre, which is what the tables are off by.
const NEAR_SI: f64 = 3e-6;
/// The same on the kernels, where nothing is a step behind: with slopes good to 1e-5 it leaves less than [`SAME_SI`].
const NEARER_SI: f64 = 1e-9;
/// The same where loads of the tyres are a step behind: what that leaves is a tenth at most, and less than [`CLOSE_SI`].
const NEAREST_SI: f64 = 2e-11;
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
        let mut exact = both(|end| self.exact(end, last.travel[end]));
        for _ in 0..MOST_ROUNDS {
            let pose = self.pose_of(&exact, last.contact.normal)?;
            let next = burden.contact(self, &pose, field);
            let ends = both(|end| self.rest(end, &exact[end].sample, &pose, &next, field));
            let to = both(|end| match ends[end].0 {
                Rest::ToppedOut(_) => 0.0,
                Rest::At(travel) if (travel - last.travel[end]).abs() <= SAME_SI => last.travel[end],
                Rest::At(travel) => travel,
                Rest::Bottomed(_) => self.table(end).full(),
            });
            exact = both(|end| if to[end] == last.travel[end] { exact[end] } else { self.exact(end, to[end]) });
            last = self.round(&last, to, next);
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
        self.rest_of(end, near.travel, (pose, contact, field), balance)
    }

    /// The pose of the bike with its ends where they are.
    fn pose_of(&self, exact: &[Exact; 2], normal: [f64; 2]) -> Result<Pose> {
        self.pose_on(exact.each_ref().map(|exact| exact.sample.axle), normal)
    }

    fn round(&self, last: &Round, travel: [f64; 2], contact: Contact) -> Round {
        let moved = both(|end| {
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
            let axles = both(|end| self.table(end).at(last.travel[end])?.axle);
            let pose = self.pose_on(axles, last.contact.normal).ok()?;
            let next = burden.contact(self, &pose, field);
            let travel = both(|end| match self.held(end, &pose, &next, field) {
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
    /// of full extension. The derivatives are differences along the slopes of the tables, anew at every place of them. `None`
    /// where that leads to a stop, and unless the rest is stable in pitch.
    pub(super) fn newton(&self, burden: &Burden, field: &Field) -> Option<Round> {
        let tables = both(|end| self.table(end));
        let extended = [tables[FRONT].at(0.0)?.axle, tables[REAR].at(0.0)?.axle];
        let pose = self.pose_on(extended, [0.0; 2]).ok()?;
        let mut contact = burden.contact(self, &pose, field);
        let mut travel = both(|end| match self.held_about(end, &pose, &contact, field) {
            Held::Extended => (1.0 - MOST_OF_THE_WAY) * tables[end].full(),
            Held::At(travel) => travel,
            Held::Compressed => MOST_OF_THE_WAY * tables[end].full(),
        });
        let over = |front: &Sample, rear: &Sample, contact: &Contact| {
            let pose = self.pose_on([front.axle, rear.axle], contact.normal).ok()?;
            let next = burden.contact(self, &pose, field);
            let over = [self.balance(FRONT, front, &pose, &next, field), self.balance(REAR, rear, &pose, &next, field)];
            Some(([over[FRONT].0, over[REAR].0], next))
        };
        let behind = self.softness != [0.0; 2] && matches!(burden, Burden::Mass(_));
        let near_enough = if behind { NEAREST_SI } else { NEARER_SI };
        let (mut on_tables, mut slopes) = (true, [[0.0; 2]; 2]);
        for _ in 0..MOST_STEPS {
            if !(self.is_inside(FRONT, travel[FRONT]) && self.is_inside(REAR, travel[REAR])) {
                return None;
            }
            let left = if on_tables {
                let [front, rear] = [tables[FRONT].at(travel[FRONT])?, tables[REAR].at(travel[REAR])?];
                let (left, next) = over(&front, &rear, &contact)?;
                let (by_front, _) = over(&front.moved(DIFFERENCE_SI), &rear, &contact)?;
                let (by_rear, _) = over(&front, &rear.moved(DIFFERENCE_SI), &contact)?;
                let slope = |row: usize| {
                    [(by_front[row] - left[row]) / DIFFERENCE_SI, (by_rear[row] - left[row]) / DIFFERENCE_SI]
                };
                slopes = both(slope);
                contact = next;
                left
            } else {
                let exact = both(|end| self.exact(end, travel[end]).sample);
                let (left, next) = over(&exact[FRONT], &exact[REAR], &contact)?;
                contact = next;
                left
            };
            let whole = solve(&slopes, left)?;
            let share = self.share_inside(travel, whole);
            let size = whole[FRONT].abs().max(whole[REAR].abs());
            travel = both(|end| travel[end] - share * whole[end]);
            if !on_tables && size < near_enough {
                return is_stable(&slopes).then_some(Round { travel, contact, moved: size });
            }
            on_tables &= size >= NEAR_SI;
        }
        None
    }

    /// About where the table has an end rest in an attitude and under forces that are held: on the straight line between two
    /// nodes.
    fn held_about(&self, end: usize, pose: &Pose, contact: &Contact, field: &Field) -> Held {
        let over = |at: &Sample| self.balance(end, at, pose, contact, field).0;
        self.table(end).rest_about(self.first_over(end, pose, contact, field), over)
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

#[cfg(test)]
mod tests {
    use super::super::Chassis;
    use super::super::tests::{bike, parts};
    use super::*;

    #[test]
    fn a_step_goes_four_fifths_of_the_way_to_a_stop_at_most() {
        let (front, rear) = bike();
        let chassis = Chassis::new(&front, &rear, parts(None)).unwrap();
        let plane = chassis.plane();
        let full = both(|end| plane.table(end).full());
        // A step is taken off. Its share leaves a fifth of the way that was left to the nearer stop.
        let cases = [
            ([0.9, 0.5], [-0.2, 0.0], 0.8 * 0.1 / 0.2),
            ([0.9, 0.5], [0.95, 0.0], 0.8 * 0.9 / 0.95),
            ([0.5, 0.95], [0.0, -0.5], 0.8 * 0.05 / 0.5),
            ([0.5, 0.1], [0.3, 0.4], 0.8 * 0.1 / 0.4),
            ([0.5, 0.1], [0.3, -0.5], 1.0),
            ([0.5, 0.5], [0.1, -0.1], 1.0),
        ];
        for (travel, step, share) in cases {
            let of = |shares: [f64; 2]| [shares[FRONT] * full[FRONT], shares[REAR] * full[REAR]];
            let found = plane.share_inside(of(travel), of(step));
            assert!((found - share).abs() < 1e-12, "{travel:?} {step:?}: {found}");
        }
    }

    #[test]
    fn a_stop_is_not_inside() {
        let (front, rear) = bike();
        let chassis = Chassis::new(&front, &rear, parts(None)).unwrap();
        let plane = chassis.plane();
        for end in [FRONT, REAR] {
            let full = plane.table(end).full();
            let inside =
                [-1e-3, 0.0, 1e-9, 0.5 * full, full - 1e-9, full, full + 1e-3].map(|z| plane.is_inside(end, z));
            assert_eq!(inside, [false, false, true, true, true, false, false]);
        }
    }

    #[test]
    fn a_rest_is_trusted_where_a_twentieth_of_the_stiffness_is_left_against_pitching() {
        // A twentieth of a·d = 20 is 1: more than that has to be left of it.
        for (b, c, is) in [(0.0, 0.0, true), (3.0, 6.0, true), (1.0, 19.0, false), (5.0, 5.0, false), (5.0, -5.0, true)]
        {
            assert_eq!(is_stable(&[[1.0, b], [c, 20.0]]), is, "{b} {c}");
        }
        for (a, d) in [(0.0, 20.0), (20.0, 0.0), (-1.0, -20.0)] {
            assert!(!is_stable(&[[a, 0.0], [0.0, d]]));
        }
    }

    #[test]
    fn a_step_takes_away_what_is_left() {
        let slopes = [[3.0, 1.0], [-2.0, 5.0]];
        let [x, y] = solve(&slopes, [5.0, 8.0]).unwrap();
        assert!((3.0 * x + y - 5.0).abs() < 1e-12 && (5.0 * y - 2.0 * x - 8.0).abs() < 1e-12, "{x} {y}");
        assert_eq!(solve(&[[1.0, 2.0], [2.0, 4.0]], [1.0, 1.0]), None);
    }
}
