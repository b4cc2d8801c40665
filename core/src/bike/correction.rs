//! Which setting gives a wanted trail or rake: fork height in the clamps, shock length, preloads.
//!
//! `g(V·λ) = g*`, `λ ← λ − (dg/dλ)⁻¹·(g − g*)`
//!
//! with `g` the trail, the rake or both of the bike settled under its load, and `V` the levers that are moved: one for each
//! wish, every choice of them in turn; where no single one reaches one wish, all of them together, each by the same share of
//! its room. Every step settles the whole bike anew, so that a changed spring force, the pitch it makes and the mass that moves with the pitch
//! are in it (where the heights of the masses are known). Slopes are differences over a hundredth of a millimetre; what is
//! found is held against the wish itself.
//!
//! A lever has its room: how far its change may go either way. A move that needs more is said, with what the bike does at
//! the end of that room. Trail and rake hang together closely (both follow the pitch), so that two wishes often need levers far
//! beyond their room. Assumes rigid tyres where none are stated, and a steering axis that the fork is parallel to.
//!
//! References: Cossalter, *Motorcycle Dynamics*, 2nd ed., ch. 1 (trail); Foale, *Motorcycle Handling and Chassis Design*, ch. 3 (ride
//! height and rake).

use super::settling::{Running, SettledBike, Sprung};
use super::{Bike, Effect, WholeBike};
use crate::error::{BikeError, Error, MassError, Result};
use crate::record::{End, Load};
use crate::units::{Angle, Length, Quantity, check};
use crate::wheel::{Tunable, Wheel};

/// Step of a slope (m): a difference over it is good to a millionth, settling leaves a hundred-millionth of a millimetre.
const SLOPE_STEP: f64 = 1e-5;
/// A lever this near its place has arrived (m).
const ARRIVED: f64 = 1e-8;
/// Trail (m) and rake (rad) this near their wish are it: a thousandth of a millimetre, of a degree a twentieth of that.
const REACHED: f64 = 1e-6;
/// Longest step of one round (m).
const LONGEST_STEP: f64 = 0.05;
/// Rounds of a search; four are usual.
const MOST_ROUNDS: usize = 25;
/// A move this far beyond its room is inside (m): rounding of what a person wrote.
const INSIDE: f64 = 1e-7;

/// What can be set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum Lever {
    /// The tubes further up in their clamps, which lowers the front.
    ForkRaised,
    /// A longer shock, which lifts the rear.
    ShockLonger,
    /// More preload on the fork springs.
    FrontPreload,
    /// More preload on the shock spring.
    RearPreload,
}

impl Lever {
    const ALL: [Self; 4] = [Self::ForkRaised, Self::ShockLonger, Self::FrontPreload, Self::RearPreload];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::ForkRaised => "tubes raised in the clamps",
            Self::ShockLonger => "shock made longer",
            Self::FrontPreload => "more preload at the front",
            Self::RearPreload => "more preload at the rear",
        }
    }
}

/// How far each lever may be moved from where it is, least and most; what is not stated is not moved.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Room {
    /// Of the tubes in their clamps, up.
    pub fork_raised: Option<[Length; 2]>,
    /// Of the shock's length.
    pub shock_longer: Option<[Length; 2]>,
    /// Of the preload at the front.
    pub front_preload: Option<[Length; 2]>,
    /// Of the preload at the rear.
    pub rear_preload: Option<[Length; 2]>,
}

impl Room {
    fn of(&self, lever: Lever) -> Option<[f64; 2]> {
        let room = match lever {
            Lever::ForkRaised => self.fork_raised,
            Lever::ShockLonger => self.shock_longer,
            Lever::FrontPreload => self.front_preload,
            Lever::RearPreload => self.rear_preload,
        };
        room.map(|room| room.map(Quantity::si))
    }

    fn check(&self) -> Result<()> {
        let most = Length::from_si(0.2);
        let named = [
            ("fork_raised", self.fork_raised),
            ("shock_longer", self.shock_longer),
            ("front_preload", self.front_preload),
            ("rear_preload", self.rear_preload),
        ];
        for (name, room) in named {
            let Some([least, highest]) = room else { continue };
            check::plausible(&format!("{name}[0]"), least, -most, Length::default())?;
            check::plausible(&format!("{name}[1]"), highest, Length::default(), most)?;
        }
        Ok(())
    }
}

/// What is wanted of a bike at rest.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct GeometryWish {
    /// Trail along the ground.
    pub trail: Option<Length>,
    /// Rake from the vertical.
    pub rake: Option<Angle>,
}

/// One lever, and where it goes.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Move {
    /// Which.
    pub lever: Lever,
    /// By how much it would have to be moved; `None` where no move of it does.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::option"))]
    pub by: Option<Length>,
    /// Where it is put: that, held within its room.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub set: Length,
}

/// One choice of levers.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Correction {
    /// Its levers.
    pub moves: Vec<Move>,
    /// Is the wish met, every lever within its room?
    pub is_reachable: bool,
    /// How the bike stands before, and with the levers where they are put.
    pub effect: Effect,
}

impl WholeBike<'_> {
    /// The room that the file states: preloads to the ends of their adjusters. Clamps and shock lengths are the user's to add.
    ///
    /// # Errors
    /// [`BikeError::Missing`] without either end.
    pub fn room(&self) -> Result<Room> {
        let of = |end: &dyn Wheel| -> Option<[Length; 2]> {
            let (adjuster, preload) = (end.adjuster()?, end.main_spring()?.preload);
            let (least, most) = (adjuster.least_preload()? - preload, adjuster.most_preload()? - preload);
            Some([least.min(Length::default()), most.max(Length::default())])
        };
        let (front, rear) = (self.bike.end(End::Front)?, self.bike.end(End::Rear)?);
        Ok(Room { front_preload: of(front), rear_preload: of(rear), ..Room::default() })
    }

    /// Every choice of levers that might give a wish under a load, those that reach it first, and of these the ones that use
    /// least of their room.
    ///
    /// ```
    /// use wheelrate::bike::{GeometryWish, Room};
    /// use wheelrate::{Bike, demo::PATROL, units::parse};
    /// let bike = Bike::from_toml(PATROL)?;
    /// let (whole, load) = (bike.whole(), &bike.parts().rider_load);
    /// let trail = whole.settle(load)?.stance.trail;
    /// let wish = GeometryWish { trail: Some(trail - parse("2 mm")?), rake: None };
    /// let clamps = Some([parse("-5 mm")?, parse("10 mm")?]);
    /// let found = whole.corrections(&wish, &Room { fork_raised: clamps, ..whole.room()? }, load)?;
    /// assert!(found[0].is_reachable);
    /// # Ok::<(), wheelrate::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`BikeError::Missing`] without a wish, or with fewer levers than wishes; a wish or room out of range; as
    /// [`settle`](Self::settle).
    pub fn corrections(&self, wish: &GeometryWish, room: &Room, load: &Load) -> Result<Vec<Correction>> {
        let search = Search::new(self, wish, room, load)?;
        let levers: Vec<Lever> = Lever::ALL.into_iter().filter(|lever| room.of(*lever).is_some()).collect();
        let wishes = search.wanted.len();
        if levers.len() < wishes {
            return Err(missing("room", "as many levers as wishes must be free to move"));
        }
        let mut found = Vec::new();
        for (at, &first) in levers.iter().enumerate() {
            if wishes == 1 {
                found.push(search.with(&[first])?);
            } else {
                for &second in &levers[at + 1..] {
                    found.push(search.with(&[first, second])?);
                }
            }
        }
        if wishes == 1 && levers.len() > 1 && !found.iter().any(|one| one.is_reachable) {
            found.push(search.together(&levers)?);
        }
        found.sort_by(|one, other| {
            let order = other.is_reachable.cmp(&one.is_reachable);
            order.then(search.used(one).total_cmp(&search.used(other)))
        });
        Ok(found)
    }
}

fn missing(part: &str, purpose: &str) -> Error {
    BikeError::Missing { part: part.to_owned(), purpose: purpose.to_owned() }.into()
}

/// Everything that a search needs.
struct Search<'a> {
    bike: &'a Bike,
    load: &'a Load,
    room: &'a Room,
    before: SettledBike,
    /// The sprung mass where it is on the frame; `None` where heights are not known.
    sprung: Option<Sprung>,
    /// Is it the trail, and what it should be.
    wanted: Vec<(bool, f64)>,
}

impl<'a> Search<'a> {
    fn new<'b: 'a>(whole: &WholeBike<'b>, wish: &GeometryWish, room: &'a Room, load: &'a Load) -> Result<Self> {
        let mut wanted = Vec::new();
        if let Some(trail) = wish.trail {
            wanted.push((true, check::plausible("trail", trail, Length::from_si(0.0), Length::from_si(0.4))?.si()));
        }
        if let Some(rake) = wish.rake {
            wanted.push((false, check::plausible("rake", rake, Angle::from_si(0.05), Angle::from_si(1.2))?.si()));
        }
        if wanted.is_empty() {
            return Err(missing("trail", "a trail, a rake or both have to be wanted"));
        }
        room.check()?;
        let sprung = match whole.sprung(load) {
            Ok(sprung) => Some(sprung),
            Err(Error::Mass(MassError::NoHeight { .. })) => None,
            Err(error) => return Err(error),
        };
        Ok(Self { bike: whole.bike, load, room, before: whole.settle(load)?, sprung, wanted })
    }

    /// The bike with levers moved, at rest.
    fn stand(&self, moves: &[(Lever, f64)]) -> Result<SettledBike> {
        let mut parts = self.bike.parts().clone();
        for &(lever, by) in moves {
            let by = Length::from_si(by);
            let front = || parts.front.as_ref().map_or_else(|| self.bike.front(), Ok);
            let rear = || parts.rear.as_ref().map_or_else(|| self.bike.rear(), Ok);
            match lever {
                Lever::ForkRaised => parts.front = Some(front()?.raised_in_clamps(by)?),
                Lever::FrontPreload => parts.front = Some(front()?.with_spring_change(1.0, by)?),
                Lever::ShockLonger => parts.rear = Some(rear()?.with_longer_shock(by)?),
                Lever::RearPreload => parts.rear = Some(rear()?.with_spring_change(1.0, by)?),
            }
        }
        let changed = Bike::new(parts)?;
        match &self.sprung {
            Some(sprung) => changed.whole().chassis()?.settle(sprung, &Running::default()),
            None => changed.whole().settle(self.load),
        }
    }

    /// What is missed of every wish.
    fn missed(&self, at: &SettledBike) -> Vec<f64> {
        let of =
            |&(trail, wanted): &(bool, f64)| (if trail { at.stance.trail.si() } else { at.stance.rake.si() }) - wanted;
        self.wanted.iter().map(of).collect()
    }

    /// The levers moved along directions until the wishes are met; `None` where they cannot be.
    fn solve(&self, directions: &[Vec<(Lever, f64)>]) -> Option<Vec<f64>> {
        let moved = |shares: &[f64]| -> Vec<(Lever, f64)> {
            let along = directions.iter().zip(shares);
            along.flat_map(|(direction, share)| direction.iter().map(move |(lever, by)| (*lever, share * by))).collect()
        };
        let missed = |shares: &[f64]| Some(self.missed(&self.stand(&moved(shares)).ok()?));
        let length = |direction: &[(Lever, f64)]| direction.iter().map(|(_, by)| by.abs()).fold(0.0, f64::max);
        let mut at = vec![0.0; directions.len()];
        for _ in 0..MOST_ROUNDS {
            let off = missed(&at)?;
            let slopes: Option<Vec<Vec<f64>>> = directions
                .iter()
                .enumerate()
                .map(|(k, direction)| {
                    let step = SLOPE_STEP / length(direction);
                    let mut beside = at.clone();
                    beside[k] += step;
                    Some(missed(&beside)?.iter().zip(&off).map(|(there, here)| (there - here) / step).collect())
                })
                .collect();
            let step = newton(&slopes?, &off)?;
            let furthest =
                step.iter().zip(directions).map(|(by, direction)| by.abs() * length(direction)).fold(0.0, f64::max);
            let held = if furthest > LONGEST_STEP { LONGEST_STEP / furthest } else { 1.0 };
            at.iter_mut().zip(&step).for_each(|(at, by)| *at += held * by);
            if furthest < ARRIVED {
                return missed(&at)?.iter().all(|off| off.abs() < REACHED).then_some(at);
            }
        }
        None
    }

    /// These levers, one for each wish.
    fn with(&self, levers: &[Lever]) -> Result<Correction> {
        let directions: Vec<Vec<(Lever, f64)>> = levers.iter().map(|&lever| vec![(lever, 1.0)]).collect();
        let found = self.solve(&directions);
        let place = |k: usize| found.as_ref().and_then(|found| found.get(k).copied());
        self.put(levers.iter().enumerate().map(|(k, &lever)| (lever, place(k))).collect())
    }

    /// All levers, each by the same share of its room towards the one wish.
    fn together(&self, levers: &[Lever]) -> Result<Correction> {
        let mut direction = Vec::new();
        for &lever in levers {
            let [least, most] = self.room.of(lever).unwrap_or_default();
            let off = |by: f64| self.stand(&[(lever, by)]).map_or(f64::INFINITY, |at| self.missed(&at)[0].abs());
            direction.push((lever, if off(least) < off(most) { least } else { most }));
        }
        direction.retain(|(_, by)| *by != 0.0);
        let share = if direction.is_empty() { None } else { self.solve(&[direction.clone()]) };
        // Beyond its room all of it is used.
        let share = share.and_then(|share| share.first().copied()).unwrap_or(f64::INFINITY);
        self.put(direction.iter().map(|&(lever, by)| (lever, share.is_finite().then_some(share * by))).collect())
    }

    /// The levers put where they are needed, as far as they go.
    fn put(&self, needed: Vec<(Lever, Option<f64>)>) -> Result<Correction> {
        let mut is_reachable = !needed.is_empty();
        let mut moves = Vec::new();
        for (lever, by) in needed {
            let [least, most] = self.room.of(lever).unwrap_or_default();
            is_reachable &= by.is_some_and(|by| (least - INSIDE..=most + INSIDE).contains(&by));
            let set = match by {
                Some(by) => by.clamp(least, most),
                None => self.nearer(lever, [least, most]),
            };
            moves.push(Move { lever, by: by.map(Length::from_si), set: Length::from_si(set) });
        }
        let set: Vec<(Lever, f64)> = moves.iter().map(|one| (one.lever, one.set.si())).collect();
        let after = self.stand(&set)?;
        let effect = Effect { before: self.before.clone(), after, loads_follow: self.sprung.is_some() };
        Ok(Correction { moves, is_reachable, effect })
    }

    /// The end of a lever's room, or where it is now, that is nearest to the wishes.
    fn nearer(&self, lever: Lever, [least, most]: [f64; 2]) -> f64 {
        let off = |by: f64| {
            self.stand(&[(lever, by)]).map_or(f64::INFINITY, |at| self.missed(&at).iter().map(|off| off * off).sum())
        };
        let places = [0.0, least, most].map(|by| (off(by), by));
        places.into_iter().min_by(|one, other| one.0.total_cmp(&other.0)).map_or(0.0, |(_, by)| by)
    }

    /// The greatest share of its room that a lever takes.
    fn used(&self, correction: &Correction) -> f64 {
        let share = |one: &Move| {
            let [least, most] = self.room.of(one.lever).unwrap_or_default();
            let by = one.by.map_or(f64::INFINITY, Quantity::si);
            (if by < 0.0 { by / least } else { by / most }).abs()
        };
        correction.moves.iter().map(share).fold(0.0, |most, share| if share.is_nan() { most } else { most.max(share) })
    }
}

/// The step that takes one or two linear functions to zero, from their slopes over each variable.
fn newton(slopes: &[Vec<f64>], off: &[f64]) -> Option<Vec<f64>> {
    let step = match (slopes, off) {
        ([one], [off]) => vec![-off / one[0]],
        ([one, other], [first, second]) => {
            let determinant = one[0] * other[1] - other[0] * one[1];
            vec![(other[0] * second - other[1] * first) / determinant, (one[1] * first - one[0] * second) / determinant]
        }
        _ => return None,
    };
    step.iter().all(|by| by.is_finite()).then_some(step)
}

#[cfg(all(test, feature = "serde"))]
mod tests;
