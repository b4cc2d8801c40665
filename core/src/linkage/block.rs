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
use super::motion::{Kernel, LinkageMotion, Turn, by_travel};
use super::operand::Operand;
use super::step::{DyadConstants, State, arm, carry, crank, distance, dyad};

/// Positions per block: the states of a six-point linkage stay in the first-level cache, and the choice of step is paid
/// once per block.
pub(super) const LANES: usize = 32;
/// Newton passes over a block; positions that need more (next to where the wheel turns back) are done one by one.
pub(super) const PASSES: usize = 4;

pub(super) type Lanes = [f64; LANES];

/// The motion of one point at all positions of a block.
#[derive(Debug, Clone)]
#[repr(align(64))]
pub(super) struct Block {
    pub(super) p: [Lanes; 2],
    pub(super) v: [Lanes; 2],
    pub(super) a: [Lanes; 2],
}

impl Block {
    pub(super) const ZERO: Self = Self { p: [[0.0; LANES]; 2], v: [[0.0; LANES]; 2], a: [[0.0; LANES]; 2] };

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
            Operand::Fixed(state) => Cow::Owned(Self { p: state.p.map(|part| [part; LANES]), ..Self::ZERO }),
        }
    }
}

/// Working memory for the blocks of one motion.
pub(super) struct Workspace {
    pub(super) blocks: Vec<Block>,
    /// One position, for what is solved one by one.
    pub(super) slots: Vec<State<f64>>,
}

impl Workspace {
    pub(super) fn of(bound: &BoundRecipe<f64>) -> Self {
        let slots = bound.drawn_slots();
        Self { blocks: vec![Block::ZERO; slots.len()], slots }
    }
}

/// Fewer travels than this are solved one by one: a block is paid for in full.
pub(super) const FEW_TRAVELS: usize = 6;

impl LinkageMotion {
    /// Everything at many travels.
    pub(crate) fn over(&self, travels: &[f64], columns: &mut Columns<'_>) {
        let mut place = 0;
        self.each_block(travels, |travels, found| {
            found.copy_to(&mut columns.part(place, place + travels.len()));
            place += travels.len();
        });
    }

    /// Chosen columns, each in memory of its own as long as the travels.
    pub(super) fn chosen(&self, travels: &[f64], columns: &mut [(LinkageColumn, &mut [f64])]) {
        let mut place = 0;
        self.each_block(travels, |travels, found| {
            let stretch = place..place + travels.len();
            for (column, to) in columns.iter_mut() {
                let from = match column.place() {
                    Some(row) => &found.0[row][..travels.len()],
                    None => travels,
                };
                to[stretch.clone()].copy_from_slice(from);
            }
            place += travels.len();
        });
    }

    /// Blocks of at most [`LANES`] travels, and what is found at each.
    fn each_block(&self, travels: &[f64], mut take: impl FnMut(&[f64], &Results)) {
        let mut work = None;
        let mut found = Results::ZERO;
        for travels in travels.chunks(LANES) {
            if travels.len() < FEW_TRAVELS {
                travels.iter().enumerate().for_each(|(lane, &travel)| found.put(lane, &self.at(travel)));
            } else {
                self.block(travels, &mut found, work.get_or_insert_with(|| Workspace::of(&self.bound)));
            }
            take(travels, &found);
        }
    }

    fn block(&self, travels: &[f64], found: &mut Results, work: &mut Workspace) {
        let mut heights = [self.datum; LANES];
        for (height, travel) in heights.iter_mut().zip(travels) {
            *height += travel;
        }
        self.guess_block(&heights, work);
        let settled = match self.bound.drive {
            Drive::Arm { .. } => {
                self.bound.run_block(&heights, &[true; LANES], work);
                [true; LANES]
            }
            Drive::Crank { .. } => self.turn_cranks(&heights, work),
        };
        let wheel = Block::seen(&self.wheel, &work.blocks);
        match &self.shock {
            // A distance is the same from either end, to the last bit.
            [Operand::Fixed(fixed), Operand::Moving(moving)] | [Operand::Moving(moving), Operand::Fixed(fixed)] => {
                results_from_fixed(&wheel, fixed, &work.blocks[*moving], self.extended, found);
            }
            shock => {
                let [a, b] = shock.each_ref().map(|part| Block::seen(part, &work.blocks));
                results_block(&wheel, [&a, &b], self.extended, found);
            }
        }
        for (at, travel) in travels.iter().enumerate().filter(|(at, _)| !settled[*at]) {
            found.put(at, &self.at(*travel));
        }
    }

    /// Newton for all cranks of a block at once. False where one has not settled.
    fn turn_cranks(&self, heights: &Lanes, work: &mut Workspace) -> [bool; LANES] {
        let mut turns = heights.map(|height| self.turn(&self.knots.near(height), height));
        let settled = |turns: &[Turn; LANES]| turns.map(|turn| turn.settled);
        for _ in 0..PASSES {
            let turning = settled(&turns).map(|settled| !settled);
            self.bound.run_block(&turns.map(|turn| turn.coordinate), &turning, work);
            let wheel = Block::seen(&self.wheel, &work.blocks);
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
    fn guess_block(&self, heights: &Lanes, work: &mut Workspace) {
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
    pub(super) fn run_block(&self, coordinates: &Lanes, wanted: &[bool; LANES], work: &mut Workspace) {
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
                    for lane in (0..LANES).filter(|&lane| wanted[lane]) {
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
fn results_block(wheel: &Block, shock: [&Block; 2], extended: f64, found: &mut Results) {
    for lane in 0..LANES {
        let length = distance(&shock[0].get(lane), &shock[1].get(lane));
        found.put(lane, &by_travel(&wheel.get(lane), length, extended));
    }
}

#[autoversion]
fn results_from_fixed(wheel: &Block, fixed: &State<f64>, moving: &Block, extended: f64, found: &mut Results) {
    for lane in 0..LANES {
        let length = distance(&State::fixed(fixed.p), &moving.get(lane));
        found.put(lane, &by_travel(&wheel.get(lane), length, extended));
    }
}

#[autoversion]
fn arm_block(pivot: [f64; 2], radius: f64, side: f64, heights: &Lanes, out: &mut Block) {
    for (lane, height) in heights.iter().enumerate() {
        out.put(lane, arm(pivot, radius, side, *height));
    }
}

#[autoversion]
fn crank_block(pivot: [f64; 2], drawn: [f64; 2], coordinates: &Lanes, out: &mut Block) {
    for (lane, coordinate) in coordinates.iter().enumerate() {
        out.put(lane, crank(pivot, drawn, *coordinate));
    }
}

#[autoversion]
fn carry_fixed(a: &State<f64>, b: &Block, lambda: [f64; 2], out: &mut Block) {
    for lane in 0..LANES {
        out.put(lane, carry::<f64, true>(a, &b.get(lane), lambda));
    }
}

#[autoversion]
fn carry_moving(a: &Block, b: &Block, lambda: [f64; 2], out: &mut Block) {
    for lane in 0..LANES {
        out.put(lane, carry::<f64, false>(&a.get(lane), &b.get(lane), lambda));
    }
}

#[autoversion]
fn dyad_fixed(a: &State<f64>, b: &Block, constants: &DyadConstants<f64>, out: &mut Block) {
    for lane in 0..LANES {
        out.put(lane, dyad::<f64, true>(a, &b.get(lane), constants));
    }
}

#[autoversion]
fn dyad_moving(a: &Block, b: &Block, constants: &DyadConstants<f64>, out: &mut Block) {
    for lane in 0..LANES {
        out.put(lane, dyad::<f64, false>(&a.get(lane), &b.get(lane), constants));
    }
}

/// Results of a block, before they go to columns that may be shorter.
pub(super) struct Results([Lanes; ROWS]);

impl Results {
    pub(super) const ZERO: Self = Self([[0.0; LANES]; ROWS]);

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

    fn copy_to(&self, columns: &mut Columns<'_>) {
        let length = columns.stroke.len();
        columns.stroke.copy_from_slice(&self.0[0][..length]);
        columns.motion_ratio.copy_from_slice(&self.0[1][..length]);
        columns.slope.copy_from_slice(&self.0[2][..length]);
        columns.axle_x.copy_from_slice(&self.0[3][..length]);
        columns.axle_z.copy_from_slice(&self.0[4][..length]);
        columns.axle_slope.copy_from_slice(&self.0[5][..length]);
        let curvatures = columns.axle_curvature.len();
        columns.axle_curvature.copy_from_slice(&self.0[6][..curvatures]);
    }
}
