//! The way through the travel: parts that lock, groups that jump, and how far everything is from its dead point.

use super::*;
use crate::error::Place;
use crate::linkage::explore::{Explorer, MARGIN, Obstacle, Probe};

fn explored<T>(linkage: &Linkage, ask: impl FnOnce(&Explorer<'_>, &Probe) -> T) -> T {
    let motion = &linkage.whole;
    let carriers = [linkage.mechanism.carriers(linkage.wheel), Vec::new()];
    let explorer = Explorer { bound: &motion.bound, wheel: motion.wheel, shock: motion.shock, carriers };
    let drawn = explorer.drawn().unwrap();
    ask(&explorer, &drawn)
}

const STAY_FRAME: [f64; 2] = [-200., -200.];
const STAY_MIDDLE: [f64; 2] = [-180., -120.];
const STAY_ARM: [f64; 2] = [-300., -90.];

/// A swingarm with a folding stay beside it that neither wheel nor shock needs, and that stops both when it is straight.
fn stayed() -> Drawing {
    let mut drawing = direct_shock();
    drawing.points.extend([("stay_frame", STAY_FRAME), ("stay_middle", STAY_MIDDLE), ("stay_arm", STAY_ARM)]);
    drawing.bodies[0].1.push("stay_frame");
    drawing.bodies[1].1.push("stay_arm");
    drawing.bodies.push(("lower_stay", vec!["stay_frame", "stay_middle"]));
    drawing.bodies.push(("upper_stay", vec!["stay_middle", "stay_arm"]));
    drawing
}

/// Height of the axle, in metres, where the stay is straight: its two pieces in line between their ends.
fn straight() -> f64 {
    let turned = |[x, z]: [f64; 2], angle: f64| {
        let (sin, cos) = angle.sin_cos();
        [x * cos - z * sin, x * sin + z * cos]
    };
    let gap = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]);
    let reach = gap(STAY_FRAME, STAY_MIDDLE) + gap(STAY_MIDDLE, STAY_ARM);
    let (mut bent, mut beyond) = (0.0, -0.28);
    for _ in 0..60 {
        let middle = 0.5 * (bent + beyond);
        let short = gap(turned(STAY_ARM, middle), STAY_FRAME) < reach;
        *(if short { &mut bent } else { &mut beyond }) = middle;
    }
    turned([-575., -165.], bent)[1] / 1e3
}

#[test]
fn a_stay_beside_the_shock_stops_the_wheel_where_it_is_straight() {
    let linkage = stayed().linkage_with_stroke(20.0);
    explored(&linkage, |explorer, drawn| {
        let blocked = explorer.follow(drawn, true, 0.2).unwrap_err();
        let names: Vec<&str> = blocked.bodies.iter().map(|&body| linkage.mechanism.body_name(body)).collect();
        assert_eq!(blocked.obstacle, Obstacle::DeadPoint);
        assert!(names.contains(&"lower_stay") && names.contains(&"upper_stay"), "{names:?}");
        // The shortest step of the fastest point ends the search; the wheel goes less.
        assert!((blocked.height - straight()).abs() < 2e-6, "{} {}", blocked.height, straight());
        // A root to the last bits.
        assert!((blocked.usable.height() - (blocked.height - MARGIN)).abs() < 1e-12);
        assert!(explorer.stride(drawn, true, 0.2).is_none());
        // As far as nothing stands in the way both lead on.
        let near = drawn.length[0] - 0.02;
        assert!(explorer.follow(drawn, true, near).is_ok() && explorer.stride(drawn, true, near).is_some());
    });
    let LinkageError::ShockLength { reason, .. } = stayed().linkage().unwrap_err() else { panic!("another fault") };
    assert!(matches!(*reason, LinkageError::DeadPoint { .. }), "{reason}");
}

/// Nothing is made of a position that the stay does not reach, though wheel and shock alone would.
#[test]
fn out_of_reach_of_any_part_there_is_no_position() {
    let linkage = stayed().linkage_with_stroke(20.0);
    explored(&linkage, |explorer, drawn| {
        assert!(explorer.probe(drawn, straight() - 1e-3).is_some());
        assert!(explorer.probe(drawn, straight() + 1e-3).is_none());
    });
}

#[test]
fn openness_has_its_derivative() {
    /// Differences extrapolated over a millimetre, of sines of angles.
    const DIFFERENCES: f64 = 1e-8;
    for (name, drawing) in all().into_iter().chain([("stayed", Drawing { stroke: 20.0, ..stayed() })]) {
        let linkage = drawing.linkage().unwrap();
        explored(&linkage, |explorer, drawn| {
            let parts = explorer.bound.parts();
            assert_eq!(explorer.bound.openness(&drawn.slots).count(), parts.len(), "{name}");
            for by in [-3e-3, 5e-3, 2e-2] {
                let at = drawn.coordinate + by;
                let openness = |at: f64, part: usize| {
                    let probe = explorer.probe(drawn, at).unwrap();
                    explorer.bound.openness(&probe.slots).nth(part).unwrap()
                };
                for part in 0..parts.len() {
                    let Some(slope) = openness(at, part).slope else { continue };
                    let difference = richardson(|at| openness(at, part).value, at, 1e-3);
                    assert!((slope - difference).abs() < DIFFERENCES * slope.abs().max(1.0), "{name}: {part} {slope}");
                }
            }
        });
    }
}

/// The wheel's own arm is flat where it points straight up or down; its openness is the cosine of its rise.
#[test]
fn the_wheels_arm_is_a_part_of_its_own() {
    for (name, drawing) in all() {
        let linkage = drawing.linkage().unwrap();
        let (mechanism, bound) = (&linkage.mechanism, &linkage.whole.bound);
        let Drive::Arm { .. } = bound.drive else { continue };
        let parts = bound.parts();
        assert_eq!(parts[0].iter().map(|&body| mechanism.body_name(body)).collect::<Vec<_>>(), ["swingarm"], "{name}");
        explored(&linkage, |explorer, drawn| {
            let (axle, pivot) = (drawn.wheel.p, mechanism.coordinates(0));
            let cosine = (axle[0] - pivot[0]) / (axle[0] - pivot[0]).hypot(axle[1] - pivot[1]);
            let found = explorer.bound.openness(&drawn.slots).next().unwrap().value;
            assert!((found - cosine).abs() < 1e-15, "{name}: {found} {cosine}");
        });
    }
}

/// Newton that ends elsewhere than the motion leads has changed its branch.
#[test]
fn a_group_that_is_not_where_its_motion_leads_has_jumped() {
    let linkage = plate_on_three_links().linkage().unwrap();
    explored(&linkage, |explorer, drawn| {
        let next = drawn.coordinate + 4e-3;
        assert!(explorer.probe(drawn, next).is_some());
        let group = explorer.bound.groups().next().unwrap();
        // Predicted a centimetre further: the solution is found from there too, and is not where it was looked for.
        let mut off = drawn.slots.clone();
        off[group.first].p[0] += 0.01;
        assert!(explorer.bound.run(next, &mut off));
        let mut other = drawn.clone();
        other.slots[group.first].v[0] += 0.01 / 4e-3;
        assert!(explorer.probe(&other, next).is_none());
    });
}

#[test]
fn a_dead_end_names_the_part_that_is_nearest_to_flat() {
    let linkage = stayed().linkage_with_stroke(20.0);
    explored(&linkage, |explorer, drawn| {
        let usable = explorer.probe(drawn, straight() - 2e-4).unwrap();
        let end = explorer.dead_end(usable.clone());
        let names: Vec<&str> = end.bodies.iter().map(|&body| linkage.mechanism.body_name(body)).collect();
        assert!(names.len() == 2 && names.contains(&"lower_stay") && names.contains(&"upper_stay"), "{names:?}");
        assert_eq!((end.obstacle, end.height, end.usable), (Obstacle::DeadPoint, usable.height(), usable));
    });
}

/// Right below its pivot the arm hangs, and the axle is as low as it gets: by trigonometry.
#[test]
fn the_way_down_ends_where_the_arm_hangs() {
    let drawing = Drawing { length: 492.0, stroke: 10.0, ..direct_shock().moved("top", [-575., 329.]) };
    let linkage = drawing.linkage().unwrap();
    explored(&linkage, |explorer, drawn| {
        let blocked = explorer.follow(drawn, false, 10.0).unwrap_err();
        let lowest = -(0.575_f64.hypot(0.165));
        assert_eq!((blocked.obstacle, blocked.bodies.as_slice()), (Obstacle::DeadPoint, [1].as_slice()));
        // The shortest step of the fastest point ends the search.
        assert!((blocked.height - lowest).abs() < 2e-6, "{} {lowest}", blocked.height);
        assert!((blocked.usable.height() - (blocked.height + MARGIN)).abs() < 1e-12);
    });
}

/// The way goes on behind the target, so that an obstacle right behind it is seen.
#[test]
fn the_way_leads_a_margin_beyond_the_target() {
    for (name, drawing) in all() {
        let linkage = drawing.linkage().unwrap();
        explored(&linkage, |explorer, drawn| {
            for by in [-4e-3, 4e-3] {
                let target = drawn.length[0] - by;
                let Ok(path) = explorer.follow(drawn, by > 0.0, target) else { continue };
                let passed =
                    |probe: &&Probe| if by > 0.0 { probe.length[0] <= target } else { probe.length[0] >= target };
                let (first, last) = (path.iter().find(passed).unwrap(), path.last().unwrap());
                assert!((last.height() - first.height()).abs() >= MARGIN, "{name} by {by}");
            }
        });
    }
}

/// Heights in a refusal count from where the wheel was drawn: the arm hangs below that as far as trigonometry says.
#[test]
fn a_refusal_counts_from_the_drawn_wheel() {
    let drawing = Drawing { length: 830.0, stroke: 10.0, ..direct_shock().moved("top", [-575., 329.]) };
    let error = drawing.linkage().unwrap_err();
    let LinkageError::ShockLength { reason, .. } = error else { panic!("{error}") };
    let LinkageError::DeadPoint { at, reachable, .. } = *reason else { panic!("{reason}") };
    let wanted = 0.165 - 0.575_f64.hypot(0.165);
    let (Place::AboveDrawn(at), Place::AboveDrawn(reachable)) = (at, reachable) else { panic!("another place") };
    // As near as the search comes; what can be used ends a margin before.
    assert!((at.si() - wanted).abs() < 2e-6, "{at:?} {wanted}");
    assert!((reachable.si() - (wanted + MARGIN)).abs() < 2e-6, "{reachable:?}");
}

/// Towards where the arm hangs the axle moves ever faster for its height, and strides get shorter in time.
#[test]
fn strides_get_shorter_where_points_get_fast() {
    let drawing = Drawing { length: 492.0, stroke: 10.0, ..direct_shock().moved("top", [-575., 329.]) };
    let linkage = drawing.linkage().unwrap();
    explored(&linkage, |explorer, drawn| {
        let lowest = -(0.575_f64.hypot(0.165));
        // A millimetre before, the axle moves 20 times as fast as it rises: strides as long as before would lead beyond.
        for before in [3e-3, 1e-3] {
            let place = explorer.probe(drawn, lowest + before).unwrap();
            let [from, to] = explorer.stride(drawn, false, place.length[0]).unwrap();
            assert!(to.height() <= place.height() && place.height() <= from.height(), "{before}");
        }
    });
}
