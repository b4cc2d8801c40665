//! In which order a mechanism can be solved: found once from the names alone, without a single number.
//!
//! With the motion of one point given by the driver, a body with two known points is known (*carry*), and two bodies that
//! share an unknown pivot and have one known point each are solved together (*dyad*). Where neither is left, the smallest
//! set of bodies with as many equations as unknowns is solved by Newton (*group*; the Assur groups of higher class).
//! Of all drivers the one that leaves the fewest points to Newton is taken, the wheel's own arm before any crank.

use super::mechanism::Mechanism;
use super::real::{norm, sub};
use crate::error::LinkageError;

/// The body that is moved, about a pivot that does not move.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Driver {
    /// The wheel is on it: the wheel's height is the driver coordinate.
    Arm { pivot: usize, wheel: usize, body: usize },
    /// The wheel is not on it: half the tangent of its turn is the driver coordinate, and the wheel's height an outcome.
    Crank { pivot: usize, tip: usize, body: usize },
}

impl Driver {
    pub(crate) fn body(self) -> usize {
        match self {
            Self::Arm { body, .. } | Self::Crank { body, .. } => body,
        }
    }

    pub(crate) fn point(self) -> usize {
        match self {
            Self::Arm { wheel, .. } => wheel,
            Self::Crank { tip, .. } => tip,
        }
    }
}

/// What stays the same about a body of a group.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Rigid {
    /// Two points keep their distance.
    Distance { a: usize, b: usize, body: usize },
    /// A third point is carried by the two.
    Carried { c: usize, a: usize, b: usize },
}

/// One step of the solution.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Elimination {
    Carry { point: usize, base: [usize; 2] },
    Dyad { point: usize, from: [usize; 2], bodies: [usize; 2] },
    Group { points: Vec<usize>, bodies: Vec<usize>, rigid: Vec<Rigid> },
}

impl Elimination {
    pub(crate) fn solves(&self) -> &[usize] {
        match self {
            Self::Carry { point, .. } | Self::Dyad { point, .. } => core::slice::from_ref(point),
            Self::Group { points, .. } => points,
        }
    }

    fn needs(&self) -> Vec<usize> {
        match self {
            Self::Carry { base, .. } => base.to_vec(),
            Self::Dyad { from, .. } => from.to_vec(),
            Self::Group { rigid, .. } => rigid
                .iter()
                .flat_map(|row| match *row {
                    Rigid::Distance { a, b, .. } => vec![a, b],
                    Rigid::Carried { c, a, b } => vec![c, a, b],
                })
                .collect(),
        }
    }
}

/// The order of solution, and the points that never move.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Recipe {
    pub(crate) driver: Driver,
    pub(crate) steps: Vec<Elimination>,
    pub(crate) fixed: Vec<bool>,
}

impl Recipe {
    /// All ways to drive the mechanism, the best first; each is looked for when it is asked for.
    pub(crate) fn candidates(
        mechanism: &Mechanism,
        wheel: usize,
    ) -> Result<impl Iterator<Item = Self> + '_, LinkageError> {
        let mut still = Progress::new(mechanism);
        still.run(false);
        if still.known[wheel] {
            return Err(LinkageError::Immobile { part: "wheel", point: mechanism.point_name(wheel).to_owned() });
        }
        let drivers = drivers(mechanism, &still, wheel);
        let arm = drivers.iter().find(|driver| matches!(driver, Driver::Arm { .. })).copied();
        // None is better than the wheel's own arm where that leaves nothing to Newton.
        let direct = arm.and_then(|arm| still.clone().drive(arm)).filter(|recipe| recipe.newton_points() == 0);
        let first = direct.as_ref().map(|recipe| recipe.driver);
        let others = core::iter::once_with(move || {
            let others = drivers.into_iter().filter(|driver| Some(*driver) != first);
            let mut found: Vec<Self> = others.filter_map(|driver| still.clone().drive(driver)).collect();
            found.sort_by_key(|recipe| (recipe.newton_points(), matches!(recipe.driver, Driver::Crank { .. })));
            found
        });
        Ok(direct.into_iter().chain(others.flatten()))
    }

    /// Points left to Newton.
    fn newton_points(&self) -> usize {
        let groups = self.steps.iter().filter(|step| matches!(step, Elimination::Group { .. }));
        groups.map(|step| step.solves().len()).sum()
    }

    /// Only the steps that lead to the wanted points.
    pub(crate) fn pruned(&self, wanted: &[usize]) -> Self {
        let mut needed = wanted.to_vec();
        let mut kept: Vec<Elimination> = Vec::new();
        for step in self.steps.iter().rev() {
            if step.solves().iter().any(|point| needed.contains(point)) {
                needed.extend(step.needs());
                kept.push(step.clone());
            }
        }
        kept.reverse();
        Self { driver: self.driver, steps: kept, fixed: self.fixed.clone() }
    }
}

/// Every body about a fixed pivot can drive; the wheel's arm by the height of the wheel.
fn drivers(mechanism: &Mechanism, still: &Progress<'_>, wheel: usize) -> Vec<Driver> {
    let mut found = Vec::new();
    for body in (0..mechanism.body_count()).filter(|&body| body != mechanism.frame()) {
        let points = mechanism.on_body(body);
        let known: Vec<usize> = points.iter().copied().filter(|&point| still.known[point]).collect();
        if let [pivot] = known[..] {
            if points.contains(&wheel) {
                found.push(Driver::Arm { pivot, wheel, body });
            } else if let Some(tip) = farthest(mechanism, pivot, points) {
                found.push(Driver::Crank { pivot, tip, body });
            }
        }
    }
    found
}

fn farthest(mechanism: &Mechanism, from: usize, points: &[usize]) -> Option<usize> {
    let gap = |point: usize| norm(sub(mechanism.coordinates(point), mechanism.coordinates(from)));
    points.iter().copied().filter(|&point| point != from).max_by(|&a, &b| gap(a).total_cmp(&gap(b)))
}

/// The pair of points furthest apart: the base that carries the others with the least error.
fn widest_pair(mechanism: &Mechanism, points: &[usize]) -> Option<[usize; 2]> {
    let pairs = points.iter().filter_map(|&a| farthest(mechanism, a, points).map(|b| [a, b]));
    let gap = |pair: &[usize; 2]| norm(sub(mechanism.coordinates(pair[0]), mechanism.coordinates(pair[1])));
    pairs.max_by(|a, b| gap(a).total_cmp(&gap(b)))
}

/// What is known so far.
#[derive(Debug, Clone)]
struct Progress<'a> {
    mechanism: &'a Mechanism,
    known: Vec<bool>,
    fixed: Vec<bool>,
    steps: Vec<Elimination>,
}

impl<'a> Progress<'a> {
    fn new(mechanism: &'a Mechanism) -> Self {
        let mut known = vec![false; mechanism.point_count()];
        for &point in mechanism.on_body(mechanism.frame()) {
            known[point] = true;
        }
        Self { mechanism, fixed: known.clone(), known, steps: Vec::new() }
    }

    fn drive(mut self, driver: Driver) -> Option<Recipe> {
        self.known[driver.point()] = true;
        self.run(true);
        let complete = self.known.iter().all(|&known| known);
        complete.then_some(Recipe { driver, steps: self.steps, fixed: self.fixed })
    }

    fn run(&mut self, with_groups: bool) {
        while self.carry() || self.dyad() || (with_groups && self.group()) {}
    }

    fn known_on(&self, body: usize) -> Vec<usize> {
        self.mechanism.on_body(body).iter().copied().filter(|&point| self.known[point]).collect()
    }

    fn unknown_bodies(&self) -> Vec<usize> {
        let frame = self.mechanism.frame();
        (0..self.mechanism.body_count()).filter(|&body| body != frame && self.known_on(body).len() < 2).collect()
    }

    fn take(&mut self, step: Elimination) {
        let fixed = step.needs().iter().all(|&point| self.fixed[point]);
        for &point in step.solves() {
            self.known[point] = true;
            self.fixed[point] = fixed;
        }
        // What hangs on fixed points alone stays where it is drawn.
        if !fixed {
            self.steps.push(step);
        }
    }

    fn carry(&mut self) -> bool {
        for body in (0..self.mechanism.body_count()).filter(|&body| body != self.mechanism.frame()) {
            let Some(base) = widest_pair(self.mechanism, &self.known_on(body)) else { continue };
            let unknown = self.mechanism.on_body(body).iter().copied().find(|&point| !self.known[point]);
            if let Some(point) = unknown {
                self.take(Elimination::Carry { point, base });
                return true;
            }
        }
        false
    }

    fn dyad(&mut self) -> bool {
        for point in (0..self.mechanism.point_count()).filter(|&point| !self.known[point]) {
            let anchored: Vec<(usize, usize)> = self
                .mechanism
                .carriers(point)
                .into_iter()
                .filter_map(|body| self.known_on(body).first().map(|&anchor| (body, anchor)))
                .collect();
            let pair = anchored.split_first().and_then(|(&one, others)| {
                others.iter().find(|(_, anchor)| *anchor != one.1).map(|&other| [one, other])
            });
            if let Some([(first, a), (second, b)]) = pair {
                self.take(Elimination::Dyad { point, from: [a, b], bodies: [first, second] });
                return true;
            }
        }
        false
    }

    /// The smallest set of unknown bodies with as many equations as unknown coordinates.
    fn group(&mut self) -> bool {
        /// Sets are tried one by one up to this many bodies; beyond it only all of them together.
        const SEARCHED: usize = 14;
        let bodies = self.unknown_bodies();
        let all = (1usize << bodies.len().min(usize::BITS as usize - 1)) - 1;
        let mut sets: Vec<usize> = if bodies.len() <= SEARCHED { (1..=all).collect() } else { vec![all] };
        sets.sort_by_key(|set| set.count_ones());
        for set in sets {
            let chosen: Vec<usize> =
                bodies.iter().enumerate().filter(|(at, _)| set >> at & 1 == 1).map(|(_, &body)| body).collect();
            if let Some(step) = self.square_group(&chosen) {
                self.take(step);
                return true;
            }
        }
        false
    }

    fn square_group(&self, bodies: &[usize]) -> Option<Elimination> {
        let shared =
            |point: usize| bodies.iter().filter(|&&body| self.mechanism.on_body(body).contains(&point)).count();
        let points: Vec<usize> =
            (0..self.mechanism.point_count()).filter(|&point| !self.known[point] && shared(point) > 1).collect();
        let mut rigid = Vec::new();
        let mut equations = 0;
        for &body in bodies {
            let joints: Vec<usize> = self
                .mechanism
                .on_body(body)
                .iter()
                .copied()
                .filter(|&point| self.known[point] || points.contains(&point))
                .collect();
            let [a, b] = widest_pair(self.mechanism, &joints)?;
            rigid.push(Rigid::Distance { a, b, body });
            let others = joints.iter().filter(|&&point| point != a && point != b);
            rigid.extend(others.map(|&c| Rigid::Carried { c, a, b }));
            equations += 2 * joints.len() - 3;
        }
        (equations == 2 * points.len() && !points.is_empty()).then(|| Elimination::Group {
            points,
            bodies: bodies.to_vec(),
            rigid,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::linkage::tests::arrangements::{all, mm, plate_on_three_links};

    /// The plate on three links with rockers on the frame behind it, each drawn by a link from the one before.
    fn with_tail(rockers: usize) -> Mechanism {
        let drawing = plate_on_three_links();
        let owned = |(name, at): (&str, [f64; 2])| (name.to_owned(), at.map(mm));
        let mut points: Vec<_> = drawing.points.into_iter().map(owned).collect();
        let own = |names: Vec<&str>| names.into_iter().map(str::to_owned).collect::<Vec<_>>();
        let mut bodies: Vec<_> = drawing.bodies.into_iter().map(|(name, on)| (name.to_owned(), own(on))).collect();
        let mut tip = "eye".to_owned();
        for rocker in 1..=rockers {
            let (pivot, next) = (format!("pivot {rocker}"), format!("tip {rocker}"));
            let x = 150.0 * rocker as f64;
            points.extend([(pivot.clone(), [x, 0.0].map(mm)), (next.clone(), [x - 100.0, 100.0].map(mm))]);
            bodies[0].1.push(pivot.clone());
            bodies.push((format!("tail link {rocker}"), vec![tip, next.clone()]));
            bodies.push((format!("tail rocker {rocker}"), vec![pivot, next.clone()]));
            tip = next;
        }
        Mechanism::new(points, bodies).unwrap()
    }

    /// What the wheel's own arm leads to.
    fn by_the_arm(mechanism: &Mechanism) -> Recipe {
        let wheel = mechanism.index_of("wheel", "axle").unwrap();
        let mut still = Progress::new(mechanism);
        still.run(false);
        let arm = drivers(mechanism, &still, wheel).into_iter().find(|driver| matches!(driver, Driver::Arm { .. }));
        still.drive(arm.unwrap()).unwrap()
    }

    #[test]
    fn newton_gets_the_smallest_group_and_the_rest_is_in_closed_form() {
        for rockers in [0, 1, 5] {
            let mechanism = with_tail(rockers);
            let recipe = by_the_arm(&mechanism);
            assert_eq!(recipe.newton_points(), 3, "{rockers}");
            let dyads = recipe.steps.iter().filter(|step| matches!(step, Elimination::Dyad { .. })).count();
            assert_eq!(dyads, rockers);
        }
    }

    #[test]
    fn more_bodies_than_can_be_searched_are_one_group() {
        // Four bodies that need Newton and twelve behind them.
        let mechanism = with_tail(6);
        let recipe = by_the_arm(&mechanism);
        let groups: Vec<_> = recipe
            .steps
            .iter()
            .filter_map(|step| match step {
                Elimination::Group { points, bodies, .. } => Some((points.len(), bodies.len())),
                _ => None,
            })
            .collect();
        assert_eq!(groups, [(10, 16)]);
    }

    #[test]
    fn a_driver_is_a_body_on_the_frame_and_its_point_lies_on_it() {
        for (name, drawing) in all() {
            let mechanism = drawing.mechanism().unwrap();
            let wheel = mechanism.index_of("wheel", drawing.wheel).unwrap();
            let still = Progress::new(&mechanism);
            let found = drivers(&mechanism, &still, wheel);
            assert!(!found.is_empty(), "{name}");
            for driver in found {
                let on = mechanism.on_body(driver.body());
                assert!(driver.body() != mechanism.frame() && on.contains(&driver.point()), "{name}: {driver:?}");
                let (Driver::Arm { pivot, .. } | Driver::Crank { pivot, .. }) = driver;
                assert!(on.contains(&pivot) && mechanism.on_body(mechanism.frame()).contains(&pivot), "{name}");
                assert_eq!(matches!(driver, Driver::Arm { .. }), on.contains(&wheel), "{name}");
                assert!(pivot != driver.point());
            }
        }
    }
}
