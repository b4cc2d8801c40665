//! Close to a dead point, against the same four-bar driven from its other side, where nothing is singular.

use super::*;

/// A swingarm, a link and a rocker on the frame: rocker and link come into line as the wheel rises.
fn four_bar() -> Drawing {
    Drawing {
        points: vec![
            ("pivot", [0., 0.]),
            ("axle", [-550., -150.]),
            ("arm_link", [-220., -60.]),
            ("rocker_link", [-120., 137.]),
            ("rocker_pivot", [-90., 60.]),
            ("shock_frame", [60., -60.]),
            ("rocker_shock", [-60., 150.]),
        ],
        bodies: vec![
            ("frame", vec!["pivot", "rocker_pivot", "shock_frame"]),
            ("swingarm", vec!["pivot", "axle", "arm_link"]),
            ("link", vec!["arm_link", "rocker_link"]),
            ("rocker", vec!["rocker_pivot", "rocker_link", "rocker_shock"]),
        ],
        wheel: "axle",
        shock: ("shock_frame", "rocker_shock"),
        length: 241.0,
        stroke: 200.0,
    }
}

/// Wheel height and shock length, with derivatives by the rocker's angle, by trigonometry.
fn from_the_rocker(drawing: &Drawing, angle: f64) -> [[f64; 3]; 2] {
    let at = |name: &str| drawing.points.iter().find(|(point, _)| *point == name).unwrap().1.map(|part| part / 1000.0);
    let [pivot, axle, arm, link, centre, top, eye] =
        ["pivot", "axle", "arm_link", "rocker_link", "rocker_pivot", "shock_frame", "rocker_shock"].map(at);
    let rotated = |point: [f64; 2]| {
        let (d, (s, c)) = (real::sub(point, centre), angle.sin_cos());
        let turned = [d[0] * c - d[1] * s, d[0] * s + d[1] * c];
        step::State { p: real::add(centre, turned), v: [-turned[1], turned[0]], a: [-turned[0], -turned[1]] }
    };
    let distance2 = |a: [f64; 2], b: [f64; 2]| real::dot(real::sub(b, a), real::sub(b, a));
    let (fixed, moving) = (step::State::fixed(pivot), rotated(link));
    let side = 1f64.copysign(real::cross(real::sub(link, pivot), real::sub(arm, pivot)));
    let constants = step::DyadConstants { from_a: distance2(pivot, arm), from_b: distance2(link, arm), side };
    let joint = step::dyad::<f64, true>(&fixed, &moving, &constants);
    let base = real::sub(arm, pivot);
    let lambda = real::scale(1.0 / real::dot(base, base), real::turn(real::sub(axle, pivot), [base[0], -base[1]]));
    let wheel = step::carry::<f64, true>(&fixed, &joint, lambda);
    [[wheel.p[1], wheel.v[1], wheel.a[1]], step::distance(&step::State::fixed(top), &rotated(eye))]
}

#[test]
fn ten_digits_until_a_tenth_of_a_millimetre() {
    let error = four_bar().linkage().unwrap_err();
    let LinkageError::ShockLength { nearest, reason, .. } = &error else { panic!("{error}") };
    let LinkageError::DeadPoint { bodies, at, reachable } = &**reason else { panic!("{error}") };
    assert_eq!(bodies, &["link", "rocker"]);
    let (crate::error::Place::Travel(at), crate::error::Place::Travel(reachable)) = (at, reachable) else {
        panic!("{error}")
    };
    assert!(((*at - *reachable).si() - 1e-4).abs() < 1e-7, "{at:?} {reachable:?}");
    let shorter = (mm(four_bar().length) - *nearest).si() * 1000.0 - 1e-6;
    let linkage = four_bar().linkage_with_stroke(shorter);
    assert!(
        (linkage.full_travel() - *reachable).si().abs() < 1e-8,
        "the nearest reachable travel is one that can be had"
    );

    let datum = linkage.motion.datum;
    for before in [0.0, 1e-4, 1e-3, 1e-2] {
        let travel = linkage.full_travel().si() - before;
        let pose = linkage.pose(Length::from_si(travel)).unwrap();
        let place = |name: &str| pose.iter().find(|(point, _)| *point == name).unwrap().1.map(|part| part.si());
        let drawn = linkage.mechanism.point("rocker_link").unwrap().map(|part| part.si());
        let centre = place("rocker_pivot");
        let [was, is] = [drawn, place("rocker_link")].map(|at| (at[1] - centre[1]).atan2(at[0] - centre[0]));
        let mut angle = is - was;
        for _ in 0..50 {
            let [[z, rate, _], _] = from_the_rocker(&four_bar(), angle);
            angle -= (z - datum - travel) / rate;
        }
        let [[_, z1, z2], [length, l1, l2]] = from_the_rocker(&four_bar(), angle);
        let ratio = -l1 / z1;
        let slope = -(l2 - l1 / z1 * z2) / (z1 * z1);
        let found = linkage.kernel(travel);
        assert!((found.stroke - (linkage.shock_length().si() - length)).abs() < 1e-13, "{before}");
        assert!((found.motion_ratio / ratio - 1.0).abs() < 1e-10, "{before}: {} or {ratio}", found.motion_ratio);
        assert!((found.slope / slope - 1.0).abs() < 1e-10, "{before}: {} or {slope}", found.slope);
    }
}
