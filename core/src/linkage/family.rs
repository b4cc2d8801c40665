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
mod packed;

use self::lanes::{results_each, results_from_fixed_each};
use self::packed::{PackedDrive, PackedOperand, PackedStep, alike};
use super::block::{Block, LANES, Lanes, PASSES, Results};
use super::bound_recipe::Drive;
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
    drive: PackedDrive,
    steps: Vec<PackedStep>,
    wheel: PackedOperand,
    shock: [PackedOperand; 2],
    slots: usize,
    /// Wheel height at full extension, full travel, and shock length extended.
    datum: Lanes,
    full_travel: Lanes,
    extended: Lanes,
    /// The linkages themselves, where a crank needs its start.
    cranked: Vec<LinkageMotion>,
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
        Self::of_motions(linkages.into_iter().map(|linkage| Some(&linkage.motion)))
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
            base.with_coordinates(&moved).map(|linkage| linkage.motion)
        });
        let family = Self::of_motions(made.iter().map(|made| made.as_ref().ok()));
        Ok(RedrawnFamily { family, reasons: made.into_iter().map(Result::err).collect() })
    }

    fn of_motions<'a>(motions: impl Iterator<Item = Option<&'a LinkageMotion>>) -> Self {
        let mut family = Self { count: 0, packs: Vec::new(), alone: Vec::new(), refused: Vec::new() };
        let mut open: Vec<Vec<(usize, &LinkageMotion)>> = Vec::new();
        let mut last = 0;
        for (place, motion) in motions.enumerate() {
            family.count = place + 1;
            let Some(motion) = motion else {
                family.refused.push(place);
                continue;
            };
            if motion.bound.groups().next().is_some() {
                family.alone.push((place, motion.clone()));
                continue;
            }
            let fits =
                |members: &Vec<(usize, &LinkageMotion)>| members.first().is_some_and(|(_, first)| alike(first, motion));
            if !open.get(last).is_some_and(fits) {
                last = open.iter().position(fits).unwrap_or_else(|| {
                    open.push(Vec::with_capacity(LANES));
                    open.len() - 1
                });
            }
            if let Some(members) = open.get_mut(last) {
                members.push((place, motion));
                if members.len() == LANES {
                    family.packs.extend(Pack::new(members));
                    members.truncate(0);
                    // An empty set fits nothing; the next of its kind opens it anew.
                    open.swap_remove(last);
                }
            }
        }
        family.packs.extend(open.iter().filter_map(|members| Pack::new(members)));
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
    /// All lanes like the first, then each as it is: every linkage is looked at once.
    fn new(members: &[(usize, &LinkageMotion)]) -> Option<Self> {
        let (_, first) = members.first()?;
        let mut pack = Self {
            places: members.iter().map(|(place, _)| *place).collect(),
            drive: PackedDrive::like(&first.bound.drive),
            steps: first.bound.steps.iter().map(PackedStep::like).collect::<Option<_>>()?,
            wheel: PackedOperand::like(&first.wheel),
            shock: [PackedOperand::like(&first.shock[0]), PackedOperand::like(&first.shock[1])],
            slots: first.bound.drawn.len(),
            datum: [first.datum; LANES],
            full_travel: [first.full_travel; LANES],
            extended: [first.extended; LANES],
            cranked: match first.bound.drive {
                Drive::Arm { .. } => Vec::new(),
                Drive::Crank { .. } => members.iter().map(|(_, motion)| (*motion).clone()).collect(),
            },
        };
        for (lane, (_, motion)) in members.iter().enumerate().skip(1) {
            pack.put(lane, motion);
        }
        Some(pack)
    }

    /// The numbers of a linkage that is solved as the first is.
    fn put(&mut self, lane: usize, motion: &LinkageMotion) {
        self.drive.put(lane, &motion.bound.drive);
        self.steps.iter_mut().zip(&motion.bound.steps).for_each(|(to, from)| to.put(lane, from));
        self.wheel.put(lane, &motion.wheel);
        self.shock.iter_mut().zip(&motion.shock).for_each(|(to, from)| to.put(lane, from));
        self.datum[lane] = motion.datum;
        self.full_travel[lane] = motion.full_travel;
        self.extended[lane] = motion.extended;
    }

    /// Each at its own of all travels, with this room for the motion of at least as many points as move.
    fn at(&self, all: &[f64], blocks: &mut [Block]) -> Results {
        let mut travels = [0.0; LANES];
        for (travel, &place) in travels.iter_mut().zip(&self.places) {
            *travel = all[place];
        }
        let heights: Lanes = core::array::from_fn(|lane| self.datum[lane] + travels[lane]);
        let settled = match &self.drive {
            PackedDrive::Arm { .. } => {
                self.run(&heights, blocks);
                [true; LANES]
            }
            PackedDrive::Crank { .. } => self.turn_cranks(&heights, blocks),
        };
        let wheel = self.wheel.seen(blocks);
        let mut found = Results::ZERO;
        match &self.shock {
            [PackedOperand::Fixed(fixed), PackedOperand::Moving(moving)]
            | [PackedOperand::Moving(moving), PackedOperand::Fixed(fixed)] => {
                results_from_fixed_each(&wheel, fixed, &blocks[*moving], &self.extended, &mut found);
            }
            shock => {
                let [a, b] = shock.each_ref().map(|part| part.seen(blocks));
                results_each(&wheel, [&a, &b], &self.extended, &mut found);
            }
        }
        for (lane, travel) in travels.iter().enumerate().take(self.places.len()) {
            if !has(self.full_travel[lane], *travel) {
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
            self.run(&coordinates, blocks);
            let wheel = self.wheel.seen(blocks);
            for (lane, (turn, motion)) in turns.iter_mut().zip(&self.cranked).enumerate() {
                turn.correct(wheel.p[1][lane] - heights[lane], wheel.v[1][lane], motion.rounding());
            }
            if turns.iter().all(|turn| turn.settled) {
                break;
            }
        }
        core::array::from_fn(|lane| turns.get(lane).is_none_or(|turn| turn.settled))
    }

    fn run(&self, coordinates: &Lanes, blocks: &mut [Block]) {
        self.drive.run(coordinates, &mut blocks[0]);
        self.steps.iter().for_each(|step| step.run(blocks));
    }
}

#[cfg(test)]
mod tests;
