//! The way to an end of the shock's stroke in strides: blocks of positions at once, where nothing stands in the way.
//!
//! The same steps and the same questions as [`follow`](Explorer::follow) asks from probe to probe, over the lanes of a block:
//! no longer than [`STEP`] of the fastest point, and between neighbours no sign of a dead point, of a flat position or of a
//! motion ratio that crosses zero. Anything else than a clear way is left to `follow`, which finds out what it is.
//!
//! Only for a wheel on the driven arm and steps in closed form, as most bikes have: then the driver coordinate is the height of
//! the wheel, which cannot turn back.
#![allow(clippy::needless_range_loop, reason = "a loop over lanes of fixed length is what becomes vectors")]

use archmage::autoversion;

use super::block::{Block, LANES, Lanes, Workspace};
use super::bound_recipe::{BoundStep, Drive};
use super::explore::{Explorer, MARGIN, Probe, STEP};
use super::step::{distance, openness};

/// Strides along a block are as long as its start allows; lanes at which the fastest point has become faster than that by
/// more than this share begin a block of their own.
const FASTER: f64 = 1.05;

/// A quantity of a part of the mechanism, and its slope, in all lanes.
type Course = [Lanes; 2];

/// What is asked of the lanes of a block.
struct Lane {
    /// Shock length and its slope.
    length: Course,
    /// Largest speed of a point; not finite where any state is not.
    speed: Lanes,
    /// How far each part is from its dead point.
    openness: Vec<Course>,
}

/// The same at one position.
struct Here {
    probe: Probe,
    openness: Vec<[f64; 2]>,
}

impl Explorer<'_> {
    /// The neighbours between which the shock has the wanted length, as [`follow`](Explorer::follow) would find them; `None`
    /// where the way is not clear, or not of the kind that blocks can go.
    pub(super) fn stride(&self, start: &Probe, upwards: bool, target: f64) -> Option<[Probe; 2]> {
        let Drive::Arm { .. } = self.bound.drive else { return None };
        if self.bound.groups().next().is_some() || !start.speed().is_finite() {
            return None;
        }
        let direction = if upwards { 1.0 } else { -1.0 };
        let passed = |length: f64| if upwards { length <= target } else { length >= target };
        if passed(start.length[0]) {
            return None;
        }
        let mut room = Workspace::<LANES>::room(self.bound);
        let mut work = Workspace::of(self.bound, &mut room);
        let mut found: Option<([Probe; 2], f64)> = None;
        let mut here = Here {
            openness: self
                .bound
                .openness(&start.slots)
                .map(|part| Some([part.value, part.slope?]))
                .collect::<Option<_>>()?,
            probe: start.clone(),
        };
        loop {
            let stride = STEP / here.probe.speed();
            let mut heights = [here.probe.coordinate; LANES];
            for (lane, height) in heights.iter_mut().enumerate() {
                *height += direction * stride * (lane + 1) as f64;
            }
            self.bound.run_block(&heights, &[true; LANES], &mut work);
            let lanes = self.look(work.blocks);
            let (mut length, mut before) = (here.probe.length, here.openness.clone());
            let mut last = None;
            for lane in 0..LANES {
                if !lanes.speed[lane].is_finite() {
                    return None;
                }
                if lane > 0 && lanes.speed[lane] * stride > FASTER * STEP {
                    break;
                }
                let next = [lanes.length[0][lane], lanes.length[1][lane]];
                let same_way = length[1] * next[1] > 0.0;
                if !same_way || !clear(&mut before, &lanes.openness, lane, direction) {
                    return None;
                }
                if found.is_none() && passed(next[0]) {
                    let from = match lane.checked_sub(1) {
                        Some(earlier) => self.probe_of(work.blocks, &heights, earlier),
                        None => here.probe.clone(),
                    };
                    found = Some(([from, self.probe_of(work.blocks, &heights, lane)], heights[lane]));
                }
                if found.as_ref().is_some_and(|(_, first)| (heights[lane] - first).abs() >= MARGIN) {
                    return found.map(|(pair, _)| pair);
                }
                (length[0], length[1]) = (next[0], next[1]);
                last = Some(lane);
            }
            here = Here { probe: self.probe_of(work.blocks, &heights, last?), openness: before };
        }
    }

    fn probe_of(&self, blocks: &[Block], heights: &Lanes, lane: usize) -> Probe {
        let slots: Vec<_> = blocks.iter().map(|block| block.get(lane)).collect();
        let length = distance(&self.shock[0].state(&slots), &self.shock[1].state(&slots));
        Probe { coordinate: heights[lane], wheel: self.wheel.state(&slots), slots, length }
    }

    fn look(&self, blocks: &[Block]) -> Lane {
        let [a, b] = [&self.shock[0], &self.shock[1]].map(|end| Block::seen(end, blocks));
        let mut lanes = Lane { length: [[0.0; LANES]; 2], speed: [0.0; LANES], openness: Vec::new() };
        lengths(&a, &b, &mut lanes.length);
        blocks.iter().for_each(|block| faster(block, &mut lanes.speed));
        lanes.speed = lanes.speed.map(f64::sqrt);
        if let (Drive::Arm { pivot, radius, .. }, Some(wheel)) = (&self.bound.drive, blocks.first()) {
            let reach = wheel.p[0].map(|x| (x - pivot[0]) / radius);
            lanes.openness.push([reach, wheel.v[0].map(|slope| slope / radius)]);
        }
        for step in &self.bound.steps {
            if let BoundStep::Dyad { to, a, b, .. } = step {
                let mut course = [[0.0; LANES]; 2];
                sines(&Block::seen(a, blocks), &Block::seen(b, blocks), &blocks[*to], &mut course);
                lanes.openness.push(course);
            }
        }
        lanes
    }
}

/// No part passes its dead point or comes nearest to it between the last position and this lane. The lane's values take the
/// place of the last ones.
fn clear(before: &mut [[f64; 2]], openness: &[Course], lane: usize, direction: f64) -> bool {
    before.iter_mut().zip(openness).all(|(last, course)| {
        let next = [course[0][lane], course[1][lane]];
        let closing = |[value, slope]: [f64; 2]| value * slope * direction < 0.0;
        let clear = last[0] * next[0] > 0.0 && (!closing(*last) || closing(next));
        *last = next;
        clear
    })
}

#[autoversion]
fn lengths(a: &Block, b: &Block, out: &mut Course) {
    for lane in 0..LANES {
        let [length, slope, _] = distance(&a.get(lane), &b.get(lane));
        (out[0][lane], out[1][lane]) = (length, slope);
    }
}

#[autoversion]
fn sines(a: &Block, b: &Block, p: &Block, out: &mut Course) {
    for lane in 0..LANES {
        let [sine, slope] = openness(&a.get(lane), &b.get(lane), &p.get(lane));
        (out[0][lane], out[1][lane]) = (sine, slope);
    }
}

/// The larger of the square of a speed so far and that of this point. What is not finite stays so: a product with zero is a
/// number only of one that is finite.
#[autoversion]
fn faster(block: &Block, squares: &mut Lanes) {
    for lane in 0..LANES {
        let [x, z] = [block.v[0][lane], block.v[1][lane]];
        let trace = 0.0 * (block.p[0][lane] + block.p[1][lane] + x + z + block.a[0][lane] + block.a[1][lane]);
        let square = x * x + z * z;
        // What is no number already is not larger than anything, and stays.
        squares[lane] = if square > squares[lane] { square } else { squares[lane] };
        squares[lane] += trace;
    }
}

#[cfg(test)]
mod tests {
    use super::super::step::State;
    use super::super::tests::arrangements;
    use super::super::{Linkage, Mechanism};
    use super::*;
    use crate::units::Quantity;
    use proptest::prelude::*;

    /// Two searches that each end within a rounding of the height, 1e-16 m, of one root; a motion ratio near zero makes the
    /// shock's length blind to the height and the root that much less sharp.
    const SAME: f64 = 1e-13;

    fn with_explorer<T>(linkage: &Linkage, ask: impl FnOnce(&Explorer<'_>, &Probe) -> T) -> T {
        let motion = &linkage.whole;
        let carriers = [linkage.mechanism.carriers(linkage.wheel), Vec::new()];
        let explorer = Explorer { bound: &motion.bound, wheel: motion.wheel, shock: motion.shock, carriers };
        let drawn = explorer.drawn().unwrap();
        ask(&explorer, &drawn)
    }

    /// Where the shock has the wanted length between neighbours.
    fn height(explorer: &Explorer<'_>, pair: &[Probe], target: f64) -> f64 {
        let short = |probe: &Probe| [probe.length[0] - target, probe.length[1]];
        explorer.root(&pair[0], &pair[1], short).unwrap().height()
    }

    /// Every arrangement with its wheel on the driven arm and no group goes in strides, both ways.
    #[test]
    fn usual_linkages_go_in_strides() {
        for (name, drawing) in arrangements::all() {
            let linkage = drawing.linkage().unwrap();
            let direct =
                matches!(linkage.whole.bound.drive, Drive::Arm { .. }) && linkage.whole.bound.groups().count() == 0;
            with_explorer(&linkage, |explorer, drawn| {
                let length = linkage.motion.extended;
                let ends =
                    [length, length - linkage.full_stroke().si()].into_iter().filter(|end| *end != drawn.length[0]);
                for target in ends {
                    let found = explorer.stride(drawn, drawn.length[0] > target, target);
                    assert_eq!(found.is_some(), direct, "{name} to {target}");
                }
            });
        }
    }

    proptest! {
        /// However far: where strides arrive the plain way arrives at the same height, and where it is stopped they are not
        /// taken.
        #[test]
        fn strides_lead_where_the_plain_way_leads(which in 0..16_usize, share in 0.0..1.0_f64, by in -0.35..0.35_f64) {
            let all = arrangements::all();
            let (name, drawing) = &all[which % all.len()];
            let linkage = drawing.linkage().unwrap();
            let pose = linkage.pose(share * linkage.full_travel()).unwrap();
            let elsewhere = Mechanism::new(pose, linkage.mechanism().bodies()).unwrap();
            let (length, stroke) = (linkage.shock_length(), linkage.full_stroke());
            let elsewhere = Linkage::new(elsewhere, linkage.wheel(), linkage.shock(), length, stroke).unwrap();
            with_explorer(&elsewhere, |explorer, drawn| {
                let target = drawn.length[0] - by;
                let upwards = by > 0.0;
                let Some(pair) = explorer.stride(drawn, upwards, target) else { return Ok(()) };
                let path = explorer.follow(drawn, upwards, target);
                let path = path.map_err(|blocked| TestCaseError::fail(format!("{name}: {:?}", blocked.obstacle)))?;
                let crossing = path.windows(2).find(|two| (two[0].length[0] - target) * (two[1].length[0] - target) <= 0.0);
                let (plain, strides) = (height(explorer, crossing.unwrap(), target), height(explorer, &pair, target));
                prop_assert!((plain - strides).abs() < SAME, "{name}: {plain} {strides}");
                Ok(())
            })?;
        }
    }

    /// The largest square of a speed among points, lane by lane, by hand; not finite where any number is not.
    #[test]
    fn the_fastest_point_of_each_lane_and_whether_all_is_finite() {
        let mut blocks = [Block::ZERO; 3];
        let velocity = |of: usize, lane: usize| {
            let (of, lane) = (of as f64, lane as f64);
            [(3.0 * lane + of).sin() * (1.0 + of), (lane - 7.0 * of).cos()]
        };
        for (of, block) in blocks.iter_mut().enumerate() {
            for lane in 0..LANES {
                // The first lane lies at the origin and has no acceleration: sums of zero.
                let p = if lane == 0 { [0.0; 2] } else { [0.3 - 0.1 * lane as f64, 0.2 * of as f64] };
                let a = if lane == 0 { [0.0; 2] } else { [0.5, -0.3 * lane as f64] };
                block.put(lane, State { p, v: velocity(of, lane), a });
            }
        }
        let fastest = |lane: usize| (0..3).map(|of| velocity(of, lane)).map(|[x, z]| x * x + z * z).fold(0.0, f64::max);
        let found = |blocks: &[Block]| {
            let mut squares = [0.0; LANES];
            blocks.iter().for_each(|block| faster(block, &mut squares));
            squares
        };
        for (lane, square) in found(&blocks).into_iter().enumerate() {
            assert!((square - fastest(lane)).abs() < 1e-15 * (1.0 + square), "{lane}");
        }
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            for of in 0..3 {
                for place in 0..6 {
                    let mut broken = blocks.clone();
                    let axis = place % 2;
                    [&mut broken[of].p, &mut broken[of].v, &mut broken[of].a][place / 2][axis][4] = bad;
                    let squares = found(&broken);
                    assert!(!squares[4].is_finite(), "{bad} of {of} in {place}");
                    assert!(squares[3].is_finite() && squares[5].is_finite());
                }
            }
        }
    }

    /// The shock is left alone with what lies within the margin behind its end: there the plain way knows what to do.
    #[test]
    fn no_stride_ends_right_before_the_motion_ratio_is_zero() {
        let mut drawing = arrangements::direct_shock();
        drawing.stroke = 40.0;
        let linkage = drawing.linkage().unwrap();
        with_explorer(&linkage, |explorer, drawn| {
            // Pivot, eye and top in line: the shock is as short as it gets.
            let (eye, top) = ([-250.0_f64, -40.0], [-100.0_f64, 329.0]);
            let turned = top[1].atan2(top[0]) - eye[1].atan2(eye[0]) - core::f64::consts::TAU;
            let dead = (-575.0 * turned.sin() - 165.0 * turned.cos()) / 1e3;
            // Three strides from here lead to half a margin before the dead place.
            let mut start = drawn.clone();
            for _ in 0..60 {
                let wanted = dead - 0.5 * MARGIN - 3.0 * STEP / start.speed();
                start = explorer.probe(drawn, wanted).unwrap();
            }
            let last = explorer.probe(&start, dead - 0.5 * MARGIN).unwrap();
            assert!(last.length[1] < 0.0 && explorer.probe(&start, dead + 0.5 * MARGIN).unwrap().length[1] > 0.0);
            let target = last.length[0] + 1e-12;
            assert!(explorer.stride(&start, true, target).is_none());
            let plain = explorer.follow(&start, true, target);
            assert!(plain.is_err(), "the margin before the dead place ends short of the target");
        });
    }
}
