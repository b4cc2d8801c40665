//! Many travels at once: the steps of a bound recipe over blocks of positions, structure of arrays.
//!
//! The same kernels as for one position, in loops of fixed length over plain arrays, which the compiler turns into vector
//! instructions (square roots and divisions included). Bit for bit the same results as one by one: a position whose crank
//! has settled is left alone while its neighbours iterate.

use super::bound_recipe::{BoundRecipe, BoundStep, Drive};
use super::motion::{Kernel, LinkageMotion, Turn, by_travel};
use super::operand::Operand;
use super::step::{DyadConstants, State, arm, carry, crank, distance, dyad};

/// Positions per block: the states of a six-point linkage stay in the first-level cache, and the choice of step is paid
/// once per block.
pub(super) const LANES: usize = 32;
/// Newton passes over a block; positions that need more (next to where the wheel turns back) are done one by one.
const PASSES: usize = 4;

type Lanes = [f64; LANES];

/// The motion of one point at all positions of a block.
#[derive(Debug, Clone)]
#[repr(align(64))]
struct Block {
    p: [Lanes; 2],
    v: [Lanes; 2],
    a: [Lanes; 2],
}

impl Block {
    const ZERO: Self = Self { p: [[0.0; LANES]; 2], v: [[0.0; LANES]; 2], a: [[0.0; LANES]; 2] };

    #[inline(always)]
    fn get(&self, lane: usize) -> State<f64> {
        State {
            p: [self.p[0][lane], self.p[1][lane]],
            v: [self.v[0][lane], self.v[1][lane]],
            a: [self.a[0][lane], self.a[1][lane]],
        }
    }

    #[inline(always)]
    fn put(&mut self, lane: usize, state: State<f64>) {
        for axis in 0..2 {
            self.p[axis][lane] = state.p[axis];
            self.v[axis][lane] = state.v[axis];
            self.a[axis][lane] = state.a[axis];
        }
    }

    fn of(operand: &Operand<f64>, blocks: &[Self]) -> Self {
        match operand {
            Operand::Moving(slot) => blocks[*slot].clone(),
            Operand::Fixed(state) => {
                let mut block = Self::ZERO;
                (0..LANES).for_each(|lane| block.put(lane, *state));
                block
            }
        }
    }
}

/// Where results go: one slice per quantity, all as long as the travels.
#[derive(Debug)]
pub(crate) struct Columns<'a> {
    pub(crate) stroke: &'a mut [f64],
    pub(crate) motion_ratio: &'a mut [f64],
    pub(crate) slope: &'a mut [f64],
    pub(crate) axle_x: &'a mut [f64],
    pub(crate) axle_z: &'a mut [f64],
    pub(crate) axle_slope: &'a mut [f64],
    /// Left out where it is empty.
    pub(crate) axle_curvature: &'a mut [f64],
}

impl Columns<'_> {
    #[inline(always)]
    fn put(&mut self, at: usize, kernel: &Kernel<f64>) {
        self.stroke[at] = kernel.stroke;
        self.motion_ratio[at] = kernel.motion_ratio;
        self.slope[at] = kernel.slope;
        self.axle_x[at] = kernel.axle[0];
        self.axle_z[at] = kernel.axle[1];
        self.axle_slope[at] = kernel.axle_slope;
        if let Some(to) = self.axle_curvature.get_mut(at) {
            *to = kernel.axle_curvature;
        }
    }

    fn part(&mut self, from: usize, to: usize) -> Columns<'_> {
        Columns {
            stroke: &mut self.stroke[from..to],
            motion_ratio: &mut self.motion_ratio[from..to],
            slope: &mut self.slope[from..to],
            axle_x: &mut self.axle_x[from..to],
            axle_z: &mut self.axle_z[from..to],
            axle_slope: &mut self.axle_slope[from..to],
            axle_curvature: self.axle_curvature.get_mut(from..to).unwrap_or_default(),
        }
    }
}

/// Working memory for the blocks of one motion.
struct Workspace {
    blocks: Vec<Block>,
    /// One position, for what is solved one by one.
    slots: Vec<State<f64>>,
}

impl LinkageMotion {
    /// Everything at many travels.
    pub(crate) fn over(&self, travels: &[f64], columns: &mut Columns<'_>) {
        let slots = self.bound.drawn_slots();
        let mut work = Workspace { blocks: vec![Block::ZERO; slots.len()], slots };
        for (index, travels) in travels.chunks(LANES).enumerate() {
            let from = index * LANES;
            self.block(travels, &mut columns.part(from, from + travels.len()), &mut work);
        }
    }

    /// At most [`LANES`] travels.
    fn block(&self, travels: &[f64], columns: &mut Columns<'_>, work: &mut Workspace) {
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
        let mut found = Results::ZERO;
        self.results(work, &mut found);
        found.copy_to(columns);
        for (at, travel) in travels.iter().enumerate().filter(|(at, _)| !settled[*at]) {
            columns.put(at, &self.at(*travel));
        }
    }

    #[inline(never)]
    fn results(&self, work: &Workspace, found: &mut Results) {
        let wheel = Block::of(&self.wheel, &work.blocks);
        let [a, b] = [&self.shock[0], &self.shock[1]].map(|end| Block::of(end, &work.blocks));
        for lane in 0..LANES {
            let kernel = by_travel(&wheel.get(lane), distance(&a.get(lane), &b.get(lane)), self.extended);
            found.put(lane, &kernel);
        }
    }

    /// Newton for all cranks of a block at once. False where one has not settled.
    fn turn_cranks(&self, heights: &Lanes, work: &mut Workspace) -> [bool; LANES] {
        let mut turns = heights.map(|height| self.turn(&self.knots.near(height), height));
        let settled = |turns: &[Turn; LANES]| turns.map(|turn| turn.settled);
        for _ in 0..PASSES {
            let turning = settled(&turns).map(|settled| !settled);
            self.bound.run_block(&turns.map(|turn| turn.coordinate), &turning, work);
            let wheel = Block::of(&self.wheel, &work.blocks);
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
    fn run_block(&self, coordinates: &Lanes, wanted: &[bool; LANES], work: &mut Workspace) {
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
                        _ => carry_moving(&Block::of(a, done), &Block::of(b, done), *lambda, &mut rest[0]),
                    }
                }
                BoundStep::Dyad { to, a, b, constants, .. } => {
                    let (done, rest) = blocks.split_at_mut(*to);
                    match (a, b) {
                        (Operand::Fixed(a), Operand::Moving(b)) => dyad_fixed(a, &done[*b], constants, &mut rest[0]),
                        (Operand::Moving(a), Operand::Moving(b)) => {
                            dyad_moving(&done[*a], &done[*b], constants, &mut rest[0]);
                        }
                        _ => dyad_moving(&Block::of(a, done), &Block::of(b, done), constants, &mut rest[0]),
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

#[inline(never)]
fn arm_block(pivot: [f64; 2], radius: f64, side: f64, heights: &Lanes, out: &mut Block) {
    for (lane, height) in heights.iter().enumerate() {
        out.put(lane, arm(pivot, radius, side, *height));
    }
}

#[inline(never)]
fn crank_block(pivot: [f64; 2], drawn: [f64; 2], coordinates: &Lanes, out: &mut Block) {
    for (lane, coordinate) in coordinates.iter().enumerate() {
        out.put(lane, crank(pivot, drawn, *coordinate));
    }
}

#[inline(never)]
fn carry_fixed(a: &State<f64>, b: &Block, lambda: [f64; 2], out: &mut Block) {
    for lane in 0..LANES {
        out.put(lane, carry::<f64, true>(a, &b.get(lane), lambda));
    }
}

#[inline(never)]
fn carry_moving(a: &Block, b: &Block, lambda: [f64; 2], out: &mut Block) {
    for lane in 0..LANES {
        out.put(lane, carry::<f64, false>(&a.get(lane), &b.get(lane), lambda));
    }
}

#[inline(never)]
fn dyad_fixed(a: &State<f64>, b: &Block, constants: &DyadConstants<f64>, out: &mut Block) {
    for lane in 0..LANES {
        out.put(lane, dyad::<f64, true>(a, &b.get(lane), constants));
    }
}

#[inline(never)]
fn dyad_moving(a: &Block, b: &Block, constants: &DyadConstants<f64>, out: &mut Block) {
    for lane in 0..LANES {
        out.put(lane, dyad::<f64, false>(&a.get(lane), &b.get(lane), constants));
    }
}

/// Results of a block, before they go to columns that may be shorter.
struct Results([Lanes; 7]);

impl Results {
    const ZERO: Self = Self([[0.0; LANES]; 7]);

    #[inline(always)]
    fn put(&mut self, lane: usize, kernel: &Kernel<f64>) {
        self.0[0][lane] = kernel.stroke;
        self.0[1][lane] = kernel.motion_ratio;
        self.0[2][lane] = kernel.slope;
        self.0[3][lane] = kernel.axle[0];
        self.0[4][lane] = kernel.axle[1];
        self.0[5][lane] = kernel.axle_slope;
        self.0[6][lane] = kernel.axle_curvature;
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
