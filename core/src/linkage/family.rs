//! Many linkages at one travel each: the steps of a recipe over blocks whose lanes are linkages.
//!
//! A sweep asks thousands of designs the same question once. Linkages that are solved in the same order (one recipe) are
//! packed side by side, every length and carried ratio as an array over the linkages, and go through the kernels of
//! [`block`](super::block) together: bit for bit what each gives alone. What no closed form solves (groups left to Newton)
//! is asked one by one; so is a crank that settles late.
//!
//! A linkage that does not have the travel gives NaN in every column.

mod asked;
mod lanes;
mod loose;
mod packed;
mod row;

use std::sync::Arc;

pub(super) use self::loose::at_once;
use self::packed::{DATUM, FULL_TRAVEL, Plan, numbers_of};
pub(super) use self::row::Row;
use super::block::{Block, LANES, Lanes, PASSES, Results};
use super::columns::ROWS;
use super::motion::{LinkageMotion, Turn, has};
use super::{Axis, Linkage};
use crate::error::LinkageError;
use crate::parallel;
use crate::units::{Length, Quantity};

/// Linkages packed for being asked together.
///
/// ```
/// # use wheelrate::linkage::{Linkage, LinkageFamily, Mechanism};
/// # use wheelrate::units::parse;
/// # fn drawn(eye: &str) -> Result<Linkage, wheelrate::Error> {
/// #     let at = |x: &str, z: &str| -> Result<_, wheelrate::error::UnitError> { Ok([parse(x)?, parse(z)?]) };
/// #     let points = [("pivot", at("0 mm", "0 mm")?), ("axle", at("-575 mm", "-165 mm")?),
/// #         ("top", at("-100 mm", "329 mm")?), ("eye", at(eye, "-40 mm")?)];
/// #     let bodies = [("frame", vec!["pivot", "top"]), ("swingarm", vec!["pivot", "axle", "eye"])];
/// #     Ok(Linkage::new(Mechanism::new(points, bodies)?, "axle", ("top", "eye"), parse("398 mm")?, parse("90 mm")?)?)
/// # }
/// let linkages = [drawn("-250 mm")?, drawn("-245 mm")?];
/// let family = LinkageFamily::new(&linkages);
/// let columns = family.at(parse("100 mm")?);
/// assert_eq!(columns.stroke[1], linkages[1].at(parse("100 mm")?)?.stroke);
/// # Ok::<(), wheelrate::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct LinkageFamily {
    count: usize,
    packs: Vec<Pack>,
    /// Those that no pack takes, with their place.
    alone: Vec<(usize, LinkageMotion)>,
    /// Places at which no linkage could be made.
    refused: Vec<usize>,
}

/// Linkages drawn like one, each with some coordinates of its own; made by [`LinkageFamily::redrawn`].
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct RedrawnFamily {
    /// All of them; one that could not be made gives NaN.
    pub family: LinkageFamily,
    /// Why one could not be made, for each.
    pub reasons: Vec<Option<LinkageError>>,
}

/// Up to [`LANES`] linkages that are solved in the same order; lanes beyond them repeat the first.
#[derive(Debug, Clone, PartialEq)]
struct Pack {
    /// Place of each among all.
    places: Vec<usize>,
    plan: Arc<Plan>,
    /// The numbers of all, as the plan has them.
    numbers: Vec<Lanes>,
    /// The linkages themselves, where a crank needs its start.
    cranked: Vec<LinkageMotion>,
}

/// A linkage on its way into a pack.
type Member<'a> = (&'a LinkageMotion, &'a Row);

/// Linkages of one recipe that wait for their pack to be full, each with its place among all; the first there was stays, to be
/// compared with.
struct Waiting<'a> {
    first: Member<'a>,
    plan: Arc<Plan>,
    members: Vec<(usize, Member<'a>)>,
}

impl Linkage {
    /// The same linkage, its shock with it, with coordinates of its drawing set: which point, which coordinate, where.
    ///
    /// # Errors
    /// [`LinkageError::UnknownPoint`], and as [`Linkage::new`].
    pub fn with_coordinates(&self, moved: &[(&str, Axis, Length)]) -> Result<Self, LinkageError> {
        let place = |(point, axis, to): &(&str, Axis, Length)| {
            Ok::<_, LinkageError>((self.mechanism.index_of("moved", point)?, axis.index(), to.si()))
        };
        let moved: Vec<(usize, usize, f64)> = moved.iter().map(place).collect::<Result<_, _>>()?;
        let mechanism = self.mechanism.moved(&moved)?;
        Self::new(mechanism, self.wheel(), self.shock(), self.shock_length, self.stroke)
    }
}

impl LinkageFamily {
    /// Packs linkages; their order is kept.
    #[must_use]
    pub fn new<'a>(linkages: impl IntoIterator<Item = &'a Linkage>) -> Self {
        Self::of_motions(linkages.into_iter().map(|linkage| Some((&linkage.motion, &linkage.row))))
    }

    /// Linkages like one of them, the shock with them, each with its own place for some coordinates of the drawing: a column
    /// of places for each coordinate, an entry for each linkage. Each is checked as [`Linkage::new`] does.
    ///
    /// ```
    /// # use wheelrate::linkage::{Axis, LinkageFamily};
    /// # use wheelrate::units::{Length, Quantity};
    /// # let bike = wheelrate::Bike::from_toml(wheelrate::demo::PATROL)?;
    /// let linkage = bike.rear()?.linkage()?;
    /// let heights: Vec<Length> = (0..100).map(|at| Length::from_si(-0.098 + 4e-5 * f64::from(at))).collect();
    /// let redrawn = LinkageFamily::redrawn(linkage, &[("link_frame", Axis::Z, &heights)])?;
    /// assert!(redrawn.reasons.iter().all(Option::is_none));
    /// assert_eq!(redrawn.family.at(Length::from_si(0.1)).motion_ratio[0], linkage.at(Length::from_si(0.1))?.motion_ratio);
    /// # Ok::<(), wheelrate::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`LinkageError::UnknownPoint`], [`LinkageError::Places`] for columns that are not equally long. What is wrong with one
    /// linkage is in `reasons`.
    pub fn redrawn(base: &Linkage, moved: &[(&str, Axis, &[Length])]) -> Result<RedrawnFamily, LinkageError> {
        let wanted = moved.first().map_or(0, |(.., places)| places.len());
        for (point, _, places) in moved {
            base.mechanism.index_of("redrawn", point)?;
            if places.len() != wanted {
                return Err(LinkageError::Places { point: (*point).to_owned(), found: places.len(), wanted });
            }
        }
        let rows: Vec<usize> = (0..wanted).collect();
        let made = parallel::each(&rows, |&row| {
            let moved: Vec<_> = moved.iter().map(|(point, axis, places)| (*point, *axis, places[row])).collect();
            base.with_coordinates(&moved).map(|linkage| (linkage.motion, linkage.row))
        });
        let family = Self::of_motions(made.iter().map(|made| made.as_ref().ok().map(|(motion, row)| (motion, row))));
        Ok(RedrawnFamily { family, reasons: made.into_iter().map(Result::err).collect() })
    }

    fn of_motions<'a>(motions: impl Iterator<Item = Option<Member<'a>>>) -> Self {
        let mut family = Self { count: 0, packs: Vec::new(), alone: Vec::new(), refused: Vec::new() };
        let mut open: Vec<Waiting<'a>> = Vec::new();
        let mut last = 0;
        for (place, one) in motions.enumerate() {
            family.count = place + 1;
            let Some(one) = one else {
                family.refused.push(place);
                continue;
            };
            let fits = |waiting: &Waiting<'a>| row::alike(waiting.first, one);
            if !open.get(last).is_some_and(fits) {
                last = match open.iter().position(fits).map_or_else(|| Err(Plan::of(one.0)), Ok) {
                    Ok(known) => known,
                    Err(Some(plan)) => {
                        let members = Vec::with_capacity(LANES);
                        open.push(Waiting { first: one, plan: Arc::new(plan), members });
                        open.len() - 1
                    }
                    Err(None) => {
                        family.alone.push((place, one.0.clone()));
                        continue;
                    }
                };
            }
            if let Some(Waiting { plan, members, .. }) = open.get_mut(last) {
                members.push((place, one));
                if members.len() == LANES {
                    family.packs.push(Pack::new(plan, members));
                    members.clear();
                }
            }
        }
        let left = open.iter().filter(|waiting| !waiting.members.is_empty());
        family.packs.extend(left.map(|waiting| Pack::new(&waiting.plan, &waiting.members)));
        family
    }

    /// Number of linkages.
    #[must_use]
    pub fn len(&self) -> usize {
        self.count
    }

    /// Is there none?
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.count == 0
    }
}

impl Pack {
    /// Each linkage in its lane; it is looked at once.
    fn new(plan: &Arc<Plan>, members: &[(usize, Member<'_>)]) -> Self {
        let mut numbers = vec![[0.0; LANES]; plan.numbers];
        for (lane, (_, (motion, row))) in members.iter().enumerate() {
            let mut rows = numbers.iter_mut();
            match row.numbers() {
                Some(numbers) => rows.zip(numbers).for_each(|(to, number)| to[lane] = *number),
                None => numbers_of(motion, |number| rows.next().into_iter().for_each(|to| to[lane] = number)),
            }
        }
        for row in &mut numbers {
            let (first, left) = (row[0], members.len()..LANES);
            row[left].fill(first);
        }
        let cranked = members.iter().filter(|_| plan.is_crank()).map(|(_, (motion, _))| (*motion).clone()).collect();
        Self { places: members.iter().map(|(place, _)| *place).collect(), plan: Arc::clone(plan), numbers, cranked }
    }

    /// Each at its own of all travels, with this room for the motion of at least as many points as move.
    fn at(&self, all: &[f64], blocks: &mut [Block]) -> Results {
        let mut travels = [0.0; LANES];
        for (travel, &place) in travels.iter_mut().zip(&self.places) {
            *travel = all[place];
        }
        let heights: Lanes = core::array::from_fn(|lane| self.numbers[DATUM][lane] + travels[lane]);
        let settled = if self.plan.is_crank() {
            self.turn_cranks(&heights, blocks)
        } else {
            self.plan.run(&self.numbers, &heights, blocks);
            [true; LANES]
        };
        let mut found = Results::ZERO;
        self.plan.results(&self.numbers, blocks, &mut found);
        for (lane, travel) in travels.iter().enumerate().take(self.places.len()) {
            if !has(self.numbers[FULL_TRAVEL][lane], *travel) {
                found.put_all(lane, [f64::NAN; ROWS]);
            } else if let (false, Some(motion)) = (settled[lane], self.cranked.get(lane)) {
                found.put(lane, &motion.at(*travel));
            }
        }
        found
    }

    /// Newton for all cranks at once. False where one has not settled; lanes without a linkage of their own have.
    fn turn_cranks(&self, heights: &Lanes, blocks: &mut [Block]) -> [bool; LANES] {
        let mut turns: Vec<Turn> = self
            .cranked
            .iter()
            .zip(heights)
            .map(|(motion, &height)| motion.turn(&motion.knots.near(height), height))
            .collect();
        let mut coordinates = [0.0; LANES];
        for _ in 0..PASSES {
            coordinates.iter_mut().zip(&turns).for_each(|(to, turn)| *to = turn.coordinate);
            self.plan.run(&self.numbers, &coordinates, blocks);
            let wheel = self.plan.wheel(&self.numbers, blocks);
            for (lane, (turn, motion)) in turns.iter_mut().zip(&self.cranked).enumerate() {
                turn.correct(wheel.p[1][lane] - heights[lane], wheel.v[1][lane], motion.rounding());
            }
            if turns.iter().all(|turn| turn.settled) {
                break;
            }
        }
        core::array::from_fn(|lane| turns.get(lane).is_none_or(|turn| turn.settled))
    }
}

#[cfg(test)]
mod tests;
