use super::*;
use crate::linkage::Linkage;
use crate::linkage::tests::arrangements::mm;

fn centres(first: f64, second: f64, side: Side) -> Centres {
    Centres { first: mm(first), second: mm(second), side }
}

/// Measures every arrangement on a drawing, builds it from the measures, and finds the drawing again.
#[test]
fn every_arrangement_is_found_again_from_its_measures() {
    for arrangement in Arrangement::ALL {
        let drawn = drawing(arrangement);
        let at = |name: &str| drawn.iter().find(|(point, _)| *point == name).unwrap().1;
        let gap = |a: &str, b: &str| (at(a)[0] - at(b)[0]).hypot(at(a)[1] - at(b)[1]);
        let measured: Vec<Centres> = arrangement
            .measures()
            .iter()
            .map(|&[point, first, second]| {
                let [p, a, b] = [point, first, second].map(at);
                let cross = (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
                // The mirror image lies across the line; above or below unless the line is steep.
                let steep = (b[1] - a[1]).abs() > (b[0] - a[0]).abs();
                let side = match (steep, (cross > 0.0) == if steep { b[1] > a[1] } else { b[0] > a[0] }) {
                    (false, true) => Side::Above,
                    (false, false) => Side::Below,
                    (true, true) => Side::Behind,
                    (true, false) => Side::Ahead,
                };
                centres(gap(point, first), gap(point, second), side)
            })
            .collect();
        let end = if arrangement == Arrangement::FloatingAxle { "lower_end" } else { "axle" };
        let arm = Arm { length: mm(gap("swingarm_pivot", end)), rise: mm(at(end)[1]) };
        let mechanism = arrangement.mechanism(arm, &measured).unwrap_or_else(|e| panic!("{arrangement:?}: {e}"));
        for (name, found) in mechanism.points() {
            let error = (found[0] - mm(at(name)[0])).si().hypot((found[1] - mm(at(name)[1])).si());
            assert!(error < 1e-12, "{arrangement:?}: {name} off by {error:e}");
        }
        let (first, second) = arrangement.shock();
        let shock = (first, second);
        let made = Linkage::new(mechanism, arrangement.wheel(), shock, mm(gap(first, second)), mm(25.0));
        made.unwrap_or_else(|error| panic!("{arrangement:?}: {error}"));
    }
}

fn drawing(arrangement: Arrangement) -> Vec<(&'static str, [f64; 2])> {
    let swingarm = [("swingarm_pivot", [0., 0.]), ("axle", [-575., -165.])];
    let rocker = [("link_swingarm", [-180., -50.]), ("rocker_pivot", [-40., 120.]), ("link_rocker", [-150., 110.])];
    match arrangement {
        Arrangement::DirectShock | Arrangement::TwinShocks => {
            [&swingarm[..], &[("eye", [-250., -40.]), ("shock_frame", [-100., 329.])]].concat()
        }
        Arrangement::RockerOnFrame => {
            [&swingarm[..], &rocker, &[("shock_rocker", [-60., 190.]), ("shock_frame", [160., 250.])]].concat()
        }
        Arrangement::RockerOnSwingarm => [
            &swingarm[..],
            &[
                ("rocker_pivot", [-253., -72.]),
                ("link_frame", [-66., -98.]),
                ("link_rocker", [-215., -184.]),
                ("shock_rocker", [-204., -128.]),
                ("shock_frame", [-100., 329.]),
            ],
        ]
        .concat(),
        Arrangement::BothEndsMoving => [
            &swingarm[..],
            &[
                ("link_swingarm", [-190., 30.]),
                ("shock_swingarm", [-130., -70.]),
                ("rocker_pivot", [20., 190.]),
                ("link_rocker", [-110., 200.]),
                ("shock_rocker", [90., 110.]),
            ],
        ]
        .concat(),
        Arrangement::FloatingAxle => vec![
            ("swingarm_pivot", [0., 0.]),
            ("lower_end", [-430., -70.]),
            ("upper_pivot", [-60., 190.]),
            ("upper_end", [-420., 150.]),
            ("axle", [-470., -20.]),
            ("eye", [-250., -20.]),
            ("shock_frame", [-60., 330.]),
        ],
        Arrangement::TwoRockers => [
            &swingarm[..],
            &rocker,
            &[
                ("rocker_out", [-70., 210.]),
                ("second_pivot", [130., 190.]),
                ("second_in", [110., 280.]),
                ("shock_rocker", [190., 130.]),
                ("shock_frame", [-20., 20.]),
            ],
        ]
        .concat(),
    }
}

#[test]
fn a_point_on_the_line_of_its_centres_is_taken_as_read() {
    let arm = Arm { length: mm(598.2), rise: mm(-165.0) };
    let end = arm.end().unwrap();
    let place = |first: f64, second: f64| {
        let measured = Centres { first: mm(first), second: mm(second), side: Side::Above };
        measured.meet("eye", [("swingarm_pivot", [0.0; 2]), ("axle", end)])
    };
    // Between the two and beyond the axle; met, and short of meeting by less than a tape reads, which both share.
    for (first, second) in [(263.0, 335.2), (263.0, 334.8), (898.2, 300.0), (898.6, 300.0)] {
        let [x, z] = place(first, second).unwrap();
        let (along, across) = ((x * end[0] + z * end[1]) / 0.5982, (x * end[1] - z * end[0]) / 0.5982);
        assert!((along * 1e3 - first).abs() < 0.5 && across.abs() < 1e-6, "{first}: {along} {across}");
    }
    for (first, second) in [(263.0, 334.6), (898.8, 300.0)] {
        assert!(matches!(place(first, second), Err(LinkageError::CentresDoNotMeet { .. })), "{first}");
    }
    // Two centres so close together that the tapes run alike show no direction, on the line or off it.
    let near = Centres { first: mm(300.0), second: mm(300.0), side: Side::Above };
    for apart in [0.0, 1e-4, 5e-3] {
        let met = near.meet("eye", [("one", [0.0; 2]), ("other", [apart, 0.0])]);
        assert!(matches!(met, Err(LinkageError::CentresDoNotMeet { .. })), "{apart}: {met:?}");
    }
}

#[test]
fn lengths_that_do_not_meet_are_named() {
    let arm = Arm { length: mm(598.0), rise: mm(-165.0) };
    let build = |centres: &[Centres]| Arrangement::DirectShock.mechanism(arm, centres).unwrap_err().to_string();
    let short = build(&[centres(100.0, 300.0, Side::Above), centres(340.0, 400.0, Side::Above)]);
    assert!(short.contains("`eye`") && short.contains("598.00 mm"), "{short}");
    assert!(build(&[]).contains("found 0") && build(&[]).contains('2'));
    let steep = Arm { length: mm(100.0), rise: mm(-165.0) };
    let twin = Arrangement::TwinShocks.mechanism(steep, &[centres(1.0, 1.0, Side::Above); 2]).unwrap_err().to_string();
    assert!(twin.contains("165") && twin.contains("100"), "the rise and the length: {twin}");
    let negative = build(&[centres(-250.0, 350.0, Side::Above), centres(340.0, 400.0, Side::Above)]);
    assert!(negative.contains("swingarm_pivot to eye"), "{negative}");
}

#[test]
fn an_arm_rises_less_than_it_is_long() {
    for (length, rise, end) in
        [(500.0, 300.0, [-400.0, 300.0]), (500.0, -300.0, [-400.0, -300.0]), (65.0, 0.0, [-65.0, 0.0])]
    {
        let found = Arm { length: mm(length), rise: mm(rise) }.end().unwrap();
        assert!((0..2).all(|axis| (found[axis] * 1e3 - end[axis]).abs() < 1e-12), "{found:?}");
    }
    // Straight up or down there is no arm to lift a wheel; a hair less is one.
    for rise in [500.0, -500.0] {
        assert!(matches!(Arm { length: mm(500.0), rise: mm(rise) }.end(), Err(LinkageError::ArmRise { .. })), "{rise}");
        assert!(Arm { length: mm(500.0), rise: mm(0.999_999 * rise) }.end().is_ok());
    }
}

/// Three, four, five: a line of centres that is level, and one that stands.
#[test]
fn the_side_says_which_of_two_places_is_meant() {
    let met = |side: Side, second: [f64; 2]| {
        centres(300.0, 400.0, side).meet("eye", [("one", [0.0; 2]), ("other", second)]).unwrap().map(|part| part * 1e3)
    };
    let (level, upright) = ([0.5, 0.0], [0.0, 0.5]);
    for (side, second, wanted) in [
        (Side::Above, level, [180.0, 240.0]),
        (Side::Below, level, [180.0, -240.0]),
        (Side::Ahead, upright, [240.0, 180.0]),
        (Side::Behind, upright, [-240.0, 180.0]),
    ] {
        let found = met(side, second);
        assert!((0..2).all(|axis| (found[axis] - wanted[axis]).abs() < 1e-10), "{side:?}: {found:?}");
        // The same from the other end of the line.
        let back = centres(400.0, 300.0, side).meet("eye", [("other", second), ("one", [0.0; 2])]).unwrap();
        assert!((0..2).all(|axis| (back[axis] * 1e3 - wanted[axis]).abs() < 1e-10), "{side:?}: {back:?}");
    }
}
