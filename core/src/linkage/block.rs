//! Many travels at once: the steps of a bound recipe over blocks of positions, structure of arrays.
//!
//! The same kernels as for one position, in loops of fixed length over plain arrays, which the compiler turns into vector
//! instructions (square roots and divisions included). Each loop is compiled for several widths of vector, and the widest
//! that the machine has is taken as it runs. Bit for bit the same results as one by one, on every machine: no product and
//! sum are fused, and a position whose crank has settled is left alone while its neighbours iterate.

use std::borrow::Cow;

use archmage::autoversion;

use super::bound_recipe::{BoundRecipe, BoundStep, Drive};
use super::columns::LinkageColumn;
use super::columns::{Columns, ROWS, row};
use super::motion::{FEW, Kernel, LinkageMotion, Turn, by_travel};
use super::operand::Operand;
use super::step::{DyadConstants, State, arm, carry, crank, distance, dyad};

/// Positions per block: the states of a six-point linkage stay in the first-level cache, and the choice of step is paid
/// once per block.
pub(super) const LANES: usize = 32;
/// Positions of the block that fewer travels go through: one or two vectors, whatever the machine has.
pub(super) const FEW_LANES: usize = 8;
/// Newton passes over a block; positions that need more (next to where the wheel turns back) are done one by one.
pub(super) const PASSES: usize = 4;

pub(super) type Lanes<const N: usize = LANES> = [f64; N];

/// The motion of one point at all positions of a block.
#[derive(Debug, Clone)]
#[repr(align(64))]
pub(super) struct Block<const N: usize = LANES> {
    pub(super) p: [Lanes<N>; 2],
    pub(super) v: [Lanes<N>; 2],
    pub(super) a: [Lanes<N>; 2],
}

impl<const N: usize> Block<N> {
    pub(super) const ZERO: Self = Self { p: [[0.0; N]; 2], v: [[0.0; N]; 2], a: [[0.0; N]; 2] };

    #[inline(always)]
    pub(super) fn get(&self, lane: usize) -> State<f64> {
        State {
            p: [self.p[0][lane], self.p[1][lane]],
            v: [self.v[0][lane], self.v[1][lane]],
            a: [self.a[0][lane], self.a[1][lane]],
        }
    }

    #[inline(always)]
    pub(super) fn put(&mut self, lane: usize, state: State<f64>) {
        for axis in 0..2 {
            self.p[axis][lane] = state.p[axis];
            self.v[axis][lane] = state.v[axis];
            self.a[axis][lane] = state.a[axis];
        }
    }

    /// An operand over the block: a slot where it stands, or a fixed point spread out.
    pub(super) fn seen<'a>(operand: &Operand<f64>, blocks: &'a [Self]) -> Cow<'a, Self> {
        match operand {
            Operand::Moving(slot) => Cow::Borrowed(&blocks[*slot]),
            Operand::Fixed(state) => Cow::Owned(Self { p: state.p.map(|part| [part; N]), ..Self::ZERO }),
        }
    }
}

/// Working memory for the blocks of one motion.
pub(super) struct Workspace<'a, const N: usize = LANES> {
    /// As many as points move.
    pub(super) blocks: &'a mut [Block<N>],
    /// One position, for groups, which are solved one by one; empty where there are none.
    slots: Vec<State<f64>>,
}

impl<'a, const N: usize> Workspace<'a, N> {
    /// Blocks as many as points move.
    pub(super) fn room(bound: &BoundRecipe<f64>) -> Vec<Block<N>> {
        vec![Block::ZERO; bound.drawn.len()]
    }

    pub(super) fn of(bound: &BoundRecipe<f64>, blocks: &'a mut [Block<N>]) -> Self {
        let slots = if bound.groups().next().is_some() { bound.drawn_slots() } else { Vec::new() };
        Self { blocks, slots }
    }
}

/// Up to so many travels are solved one by one: a narrow block costs as much as one or two.
pub(super) const ALONE: usize = 1;
/// Up to so many go through narrow blocks: three of them cost less than a wide one, four as much.
const NARROW: usize = 3 * FEW_LANES;

impl LinkageMotion {
    /// Everything at many travels.
    pub(crate) fn over(&self, travels: &[f64], columns: &mut Columns<'_>) {
        self.each_block(travels, columns);
    }

    /// Chosen columns, each in memory of its own as long as the travels.
    pub(super) fn chosen(&self, travels: &[f64], columns: &mut [(LinkageColumn, &mut [f64])]) {
        for (_, to) in columns.iter_mut().filter(|(column, _)| column.place().is_none()) {
            to.copy_from_slice(travels);
        }
        self.each_block(travels, columns);
    }

    /// Block by block: wide ones, and what is left over in narrow ones or one by one, whichever costs least.
    fn each_block(&self, travels: &[f64], to: &mut (impl Take + ?Sized)) {
        let left = travels.len() % LANES;
        let wide = if left > NARROW { travels.len() } else { travels.len() - left };
        let (wide, rest) = travels.split_at(wide);
        if !wide.is_empty() {
            let mut room = Workspace::<LANES>::room(&self.bound);
            self.each_of(wide, 0, &mut Workspace::of(&self.bound, &mut room), to);
        }
        match self.bound.drawn.len() {
            _ if rest.is_empty() => {}
            _ if rest.len() <= ALONE => {
                let mut found = Results::<ALONE>::ZERO;
                rest.iter().enumerate().for_each(|(lane, &travel)| found.put(lane, &self.at(travel)));
                to.take(wide.len(), rest.len(), &found);
            }
            count @ ..=FEW => {
                let mut room = [Block::<FEW_LANES>::ZERO; FEW];
                self.each_of(rest, wide.len(), &mut Workspace::of(&self.bound, &mut room[..count]), to);
            }
            _ => {
                let mut room = Workspace::<FEW_LANES>::room(&self.bound);
                self.each_of(rest, wide.len(), &mut Workspace::of(&self.bound, &mut room), to);
            }
        }
    }

    /// Blocks of one width.
    fn each_of<const N: usize>(
        &self,
        travels: &[f64],
        first: usize,
        work: &mut Workspace<'_, N>,
        to: &mut (impl Take + ?Sized),
    ) {
        let mut found = Results::ZERO;
        for (at, travels) in travels.chunks(N).enumerate() {
            self.block(travels, &mut found, work);
            to.take(first + N * at, travels.len(), &found);
        }
    }

    fn block<const N: usize>(&self, travels: &[f64], found: &mut Results<N>, work: &mut Workspace<'_, N>) {
        let mut heights = [self.datum; N];
        for (height, travel) in heights.iter_mut().zip(travels) {
            *height += travel;
        }
        self.guess_block(&heights, work);
        let settled = match self.bound.drive {
            Drive::Arm { .. } => {
                self.bound.run_block(&heights, &[true; N], work);
                [true; N]
            }
            Drive::Crank { .. } => self.turn_cranks(&heights, work),
        };
        let wheel = Block::seen(&self.wheel, work.blocks);
        match &self.shock {
            // A distance is the same from either end, to the last bit.
            [Operand::Fixed(fixed), Operand::Moving(moving)] | [Operand::Moving(moving), Operand::Fixed(fixed)] => {
                results_from_fixed(&wheel, fixed, &work.blocks[*moving], self.extended, found);
            }
            shock => {
                let [a, b] = shock.each_ref().map(|part| Block::seen(part, work.blocks));
                results_block(&wheel, [&a, &b], self.extended, found);
            }
        }
        for (at, travel) in travels.iter().enumerate().filter(|(at, _)| !settled[*at]) {
            found.put(at, &self.at(*travel));
        }
    }

    /// Newton for all cranks of a block at once. False where one has not settled.
    fn turn_cranks<const N: usize>(&self, heights: &Lanes<N>, work: &mut Workspace<'_, N>) -> [bool; N] {
        let mut turns = heights.map(|height| self.turn(&self.knots.near(height), height));
        let settled = |turns: &[Turn; N]| turns.map(|turn| turn.settled);
        for _ in 0..PASSES {
            let turning = settled(&turns).map(|settled| !settled);
            self.bound.run_block(&turns.map(|turn| turn.coordinate), &turning, work);
            let wheel = Block::seen(&self.wheel, work.blocks);
            for (lane, turn) in turns.iter_mut().enumerate() {
                turn.correct(wheel.p[1][lane] - heights[lane], wheel.v[1][lane], self.rounding());
            }
            if turns.iter().all(|turn| turn.settled) {
                break;
            }
        }
        settled(&turns)
    }

    /// Puts the points of groups near their solution.
    fn guess_block<const N: usize>(&self, heights: &Lanes<N>, work: &mut Workspace<'_, N>) {
        if self.bound.groups().next().is_none() {
            return;
        }
        for (lane, height) in heights.iter().enumerate() {
            let near = self.knots.near(*height);
            let mut points = 0;
            for group in self.bound.groups() {
                for slot in group.first..group.first + group.points {
                    let p = self.knots.group_at(&near, *height, points);
                    work.blocks[slot].put(lane, State::fixed(p));
                    points += 1;
                }
            }
        }
    }
}

impl BoundRecipe<f64> {
    /// Groups only where their position is wanted: there they move on from where they are.
    pub(super) fn run_block<const N: usize>(
        &self,
        coordinates: &Lanes<N>,
        wanted: &[bool; N],
        work: &mut Workspace<'_, N>,
    ) {
        let Workspace { blocks, slots } = work;
        match self.drive {
            Drive::Arm { pivot, radius, side } => arm_block(pivot, radius, side, coordinates, &mut blocks[0]),
            Drive::Crank { pivot, drawn } => crank_block(pivot, drawn, coordinates, &mut blocks[0]),
        }
        for step in &self.steps {
            match step {
                BoundStep::Carry { to, a, b, lambda } => {
                    let (done, rest) = blocks.split_at_mut(*to);
                    match (a, b) {
                        (Operand::Fixed(a), Operand::Moving(b)) => carry_fixed(a, &done[*b], *lambda, &mut rest[0]),
                        _ => carry_moving(&Block::seen(a, done), &Block::seen(b, done), *lambda, &mut rest[0]),
                    }
                }
                BoundStep::Dyad { to, a, b, constants, .. } => {
                    let (done, rest) = blocks.split_at_mut(*to);
                    match (a, b) {
                        (Operand::Fixed(a), Operand::Moving(b)) => dyad_fixed(a, &done[*b], constants, &mut rest[0]),
                        _ => dyad_moving(&Block::seen(a, done), &Block::seen(b, done), constants, &mut rest[0]),
                    }
                }
                BoundStep::Group(group) => {
                    let last = group.first + group.points;
                    for lane in (0..N).filter(|&lane| wanted[lane]) {
                        for (slot, block) in slots.iter_mut().zip(blocks.iter()).take(last) {
                            *slot = block.get(lane);
                        }
                        group.solve(slots);
                        for slot in group.first..last {
                            blocks[slot].put(lane, slots[slot]);
                        }
                    }
                }
            }
        }
    }
}

#[autoversion]
fn results_block<const N: usize>(wheel: &Block<N>, shock: [&Block<N>; 2], extended: f64, found: &mut Results<N>) {
    for lane in 0..N {
        let length = distance(&shock[0].get(lane), &shock[1].get(lane));
        found.put(lane, &by_travel(&wheel.get(lane), length, extended));
    }
}

#[autoversion]
fn results_from_fixed<const N: usize>(
    wheel: &Block<N>,
    fixed: &State<f64>,
    moving: &Block<N>,
    extended: f64,
    found: &mut Results<N>,
) {
    for lane in 0..N {
        let length = distance(&State::fixed(fixed.p), &moving.get(lane));
        found.put(lane, &by_travel(&wheel.get(lane), length, extended));
    }
}

#[autoversion]
fn arm_block<const N: usize>(pivot: [f64; 2], radius: f64, side: f64, heights: &Lanes<N>, out: &mut Block<N>) {
    for (lane, height) in heights.iter().enumerate() {
        out.put(lane, arm(pivot, radius, side, *height));
    }
}

#[autoversion]
fn crank_block<const N: usize>(pivot: [f64; 2], drawn: [f64; 2], coordinates: &Lanes<N>, out: &mut Block<N>) {
    for (lane, coordinate) in coordinates.iter().enumerate() {
        out.put(lane, crank(pivot, drawn, *coordinate));
    }
}

#[autoversion]
fn carry_fixed<const N: usize>(a: &State<f64>, b: &Block<N>, lambda: [f64; 2], out: &mut Block<N>) {
    for lane in 0..N {
        out.put(lane, carry::<f64, true>(a, &b.get(lane), lambda));
    }
}

#[autoversion]
fn carry_moving<const N: usize>(a: &Block<N>, b: &Block<N>, lambda: [f64; 2], out: &mut Block<N>) {
    for lane in 0..N {
        out.put(lane, carry::<f64, false>(&a.get(lane), &b.get(lane), lambda));
    }
}

#[autoversion]
fn dyad_fixed<const N: usize>(a: &State<f64>, b: &Block<N>, constants: &DyadConstants<f64>, out: &mut Block<N>) {
    for lane in 0..N {
        out.put(lane, dyad::<f64, true>(a, &b.get(lane), constants));
    }
}

#[autoversion]
fn dyad_moving<const N: usize>(a: &Block<N>, b: &Block<N>, constants: &DyadConstants<f64>, out: &mut Block<N>) {
    for lane in 0..N {
        out.put(lane, dyad::<f64, false>(&a.get(lane), &b.get(lane), constants));
    }
}

/// Results of a block, before they go to columns that may be shorter.
pub(super) struct Results<const N: usize = LANES>([Lanes<N>; ROWS]);

impl<const N: usize> Results<N> {
    pub(super) const ZERO: Self = Self([[0.0; N]; ROWS]);

    #[inline(always)]
    pub(super) fn put(&mut self, lane: usize, kernel: &Kernel<f64>) {
        self.put_all(lane, row(kernel));
    }

    #[inline(always)]
    pub(super) fn put_all(&mut self, lane: usize, row: [f64; ROWS]) {
        for (column, value) in self.0.iter_mut().zip(row) {
            column[lane] = value;
        }
    }

    /// One column over all lanes.
    pub(super) fn row(&self, column: usize) -> &[f64] {
        &self.0[column]
    }
}

/// Where results of blocks go.
trait Take {
    /// The first so many lanes, to this place of the columns.
    fn take<const N: usize>(&mut self, place: usize, count: usize, found: &Results<N>);
}

impl Take for Columns<'_> {
    fn take<const N: usize>(&mut self, place: usize, count: usize, found: &Results<N>) {
        let part = self.part(place, place + count);
        if let Some(curvature) = part.axle_curvature.get_mut(..count) {
            curvature.copy_from_slice(&found.0[6][..count]);
        }
        let to = [part.stroke, part.motion_ratio, part.slope, part.axle_x, part.axle_z, part.axle_slope];
        found.0.iter().zip(to).for_each(|(from, to)| to.copy_from_slice(&from[..count]));
    }
}

impl Take for [(LinkageColumn, &mut [f64])] {
    fn take<const N: usize>(&mut self, place: usize, count: usize, found: &Results<N>) {
        for (column, to) in self.iter_mut() {
            if let Some(row) = column.place() {
                to[place..place + count].copy_from_slice(&found.0[row][..count]);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::linkage::tests::arrangements::floating_axle;

    /// Within the passes of a block, wherever on the travel.
    #[test]
    fn cranks_of_a_block_settle_together() {
        let linkage = floating_axle().linkage().unwrap();
        let motion = &linkage.motion;
        let heights: Lanes = core::array::from_fn(|lane| motion.datum + motion.full_travel * lane as f64 / 31.0);
        let mut room = Workspace::<LANES>::room(&motion.bound);
        let mut work = Workspace::of(&motion.bound, &mut room);
        assert_eq!(motion.turn_cranks(&heights, &mut work), [true; LANES]);
        let wheel = Block::seen(&motion.wheel, work.blocks);
        assert!(wheel.p[1].iter().zip(heights).all(|(at, wanted)| (at - wanted).abs() <= motion.rounding()));
    }
}
