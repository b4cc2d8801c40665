//! The kernels in loops over lanes that are linkages: every number of a step is an array.
//!
//! As the loops of [`block`](crate::linkage::block), which share the numbers of one linkage among positions.

use archmage::autoversion;

use crate::linkage::block::{Block, LANES, Lanes, Results};
use crate::linkage::motion::by_travel;
use crate::linkage::step::{DyadConstants, State, arm, carry, crank, distance, dyad};

#[inline(always)]
fn at(plane: [&Lanes; 2], lane: usize) -> [f64; 2] {
    [plane[0][lane], plane[1][lane]]
}

#[inline(always)]
fn fixed(p: [&Lanes; 2], lane: usize) -> State<f64> {
    State::fixed(at(p, lane))
}

#[inline(always)]
fn constants(k: [&Lanes; 3], lane: usize) -> DyadConstants<f64> {
    DyadConstants { from_a: k[0][lane], from_b: k[1][lane], side: k[2][lane] }
}

#[autoversion]
pub(super) fn arm_each(pivot: [&Lanes; 2], radius: &Lanes, side: &Lanes, heights: &Lanes, out: &mut Block) {
    for lane in 0..LANES {
        out.put(lane, arm(at(pivot, lane), radius[lane], side[lane], heights[lane]));
    }
}

#[autoversion]
pub(super) fn crank_each(pivot: [&Lanes; 2], drawn: [&Lanes; 2], coordinates: &Lanes, out: &mut Block) {
    for (lane, coordinate) in coordinates.iter().enumerate() {
        out.put(lane, crank(at(pivot, lane), at(drawn, lane), *coordinate));
    }
}

#[autoversion]
pub(super) fn carry_fixed_each(a: [&Lanes; 2], b: &Block, lambda: [&Lanes; 2], out: &mut Block) {
    for lane in 0..LANES {
        out.put(lane, carry::<f64, true>(&fixed(a, lane), &b.get(lane), at(lambda, lane)));
    }
}

#[autoversion]
pub(super) fn carry_moving_each(a: &Block, b: &Block, lambda: [&Lanes; 2], out: &mut Block) {
    for lane in 0..LANES {
        out.put(lane, carry::<f64, false>(&a.get(lane), &b.get(lane), at(lambda, lane)));
    }
}

#[autoversion]
pub(super) fn dyad_fixed_each(a: [&Lanes; 2], b: &Block, k: [&Lanes; 3], out: &mut Block) {
    for lane in 0..LANES {
        out.put(lane, dyad::<f64, true>(&fixed(a, lane), &b.get(lane), &constants(k, lane)));
    }
}

#[autoversion]
pub(super) fn dyad_moving_each(a: &Block, b: &Block, k: [&Lanes; 3], out: &mut Block) {
    for lane in 0..LANES {
        out.put(lane, dyad::<f64, false>(&a.get(lane), &b.get(lane), &constants(k, lane)));
    }
}

#[autoversion]
pub(super) fn results_each(wheel: &Block, shock: [&Block; 2], extended: &Lanes, found: &mut Results) {
    for (lane, extended) in extended.iter().enumerate() {
        let length = distance(&shock[0].get(lane), &shock[1].get(lane));
        found.put(lane, &by_travel(&wheel.get(lane), length, *extended));
    }
}

#[autoversion]
pub(super) fn results_from_fixed_each(
    wheel: &Block,
    shock: [&Lanes; 2],
    moving: &Block,
    extended: &Lanes,
    found: &mut Results,
) {
    for (lane, extended) in extended.iter().enumerate() {
        let length = distance(&fixed(shock, lane), &moving.get(lane));
        found.put(lane, &by_travel(&wheel.get(lane), length, *extended));
    }
}
