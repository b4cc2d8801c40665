//! What is refused, and in which words.

use super::*;

fn message<T: core::fmt::Debug>(result: Result<T, LinkageError>) -> String {
    result.map_or_else(|error| error.to_string(), |made| panic!("accepted: {made:?}"))
}

fn with_bodies(change: impl FnOnce(&mut Drawing)) -> String {
    let mut drawing = rocker_on_swingarm();
    change(&mut drawing);
    message(drawing.mechanism())
}

#[track_caller]
fn says(message: &str, wanted: &[&str]) {
    for part in wanted {
        assert!(message.contains(part), "`{part}` is not in: {message}");
    }
}

#[test]
fn a_missing_link_leaves_two_degrees_of_freedom() {
    let message = with_bodies(|drawing| {
        drawing.bodies.truncate(3);
    });
    says(&message, &["has 2 degrees of freedom", "`swingarm` and `rocker` float", "only one pivot holds `rocker`"]);
}

#[test]
fn a_body_that_leads_nowhere_is_named() {
    let message = with_bodies(|drawing| {
        drawing.points.extend([("a", [100., 100.]), ("b", [150., 90.])]);
        drawing.bodies.push(("strut", vec!["a", "b"]));
    });
    says(&message, &["has 4 degrees of freedom", "no pivot leads from the frame to `strut`"]);
}

#[test]
fn a_link_too_many_locks() {
    let message = with_bodies(|drawing| drawing.bodies.push(("stay", vec!["shock_frame", "link_rocker"])));
    says(&message, &["has 0 degrees of freedom", "`swingarm`, `rocker`, `link` and `stay` lock"]);
}

#[test]
fn two_names_for_one_pivot_are_pointed_out() {
    let message = with_bodies(|drawing| {
        drawing.points.push(("link_end", [-215., -184.]));
        drawing.bodies[3].1[1] = "link_end";
    });
    says(&message, &["has 3 degrees of freedom", "`link_rocker` and `link_end` lie in one place but are no pivot"]);
    assert_eq!(message.matches("lie in one place").count(), 1, "{message}");
}

#[test]
fn parallel_bars_are_a_paradox() {
    let parallel = Mechanism::new(
        [
            ("a", [0., 0.]),
            ("b", [0., 100.]),
            ("c", [0., 200.]),
            ("d", [-300., 10.]),
            ("e", [-300., 110.]),
            ("f", [-300., 210.]),
        ]
        .map(|(name, at)| (name, at.map(mm))),
        [
            ("frame", vec!["a", "b", "c"]),
            ("low", vec!["a", "d"]),
            ("middle", vec!["b", "e"]),
            ("high", vec!["c", "f"]),
            ("carrier", vec!["d", "e", "f"]),
        ],
    );
    says(
        &message(parallel),
        &["count gives 0", "has 1", "parallel bars", "leave out one of `low`, `middle` and `high`"],
    );
}

#[test]
fn links_drawn_in_line_are_a_paradox() {
    let flat = Mechanism::new(
        [("a", [0., 0.]), ("b", [-100., 0.]), ("c", [-250., 0.]), ("d", [-400., 0.])]
            .map(|(name, at)| (name, at.map(mm))),
        [("frame", vec!["a", "d"]), ("crank", vec!["a", "b"]), ("coupler", vec!["b", "c"]), ("rocker", vec!["c", "d"])],
    );
    says(&message(flat), &["count gives 1", "has 2", "dead point"]);
}

#[test]
fn all_faults_are_reported_at_once() {
    let message = with_bodies(|drawing| {
        drawing.points.push(("axle", [0., 0.]));
        drawing.points.push(("loose", [0., 5.]));
        drawing.points.push(("far", [1e6, f64::NAN]));
        drawing.bodies[0].0 = "chassis";
        drawing.bodies[1].1.push("axel");
        drawing.bodies[1].1.push("axle");
        drawing.bodies.push(("link", vec!["axle"]));
        drawing.bodies.push(("stub", vec!["axle"]));
        drawing.bodies.push(("nothing", vec![]));
    });
    says(
        &message,
        &[
            "point `axle` is given twice",
            "point `loose` is on no body",
            "points.far[0]: found",
            "points.far[1]: NaN",
            "no body is named `frame`",
            "bodies.swingarm: there is no point `axel`",
            "`swingarm` names point `axle` twice",
            "body `link` is given twice",
            "body `stub` has one point",
            "body `nothing` has no points",
        ],
    );
}

#[test]
fn bodies_sharing_two_points_and_points_in_one_place() {
    let message = with_bodies(|drawing| drawing.bodies[3].1.push("rocker_pivot"));
    says(&message, &["`rocker` and `link` share `rocker_pivot` and `link_rocker`"]);
    let message = message_of_moved("shock_rocker", [-253., -72.]);
    says(&message, &["points `rocker_pivot` and `shock_rocker` of body `rocker` lie in one place"]);
}

fn message_of_moved(point: &str, to: [f64; 2]) -> String {
    message(rocker_on_swingarm().moved(point, to).mechanism())
}

#[test]
fn a_shock_that_does_not_fit_says_how_far_off_it_is() {
    let long = message(Drawing { length: 700.0, ..rocker_on_swingarm() }.linkage());
    says(
        &long,
        &["extended length of 700.00 mm cannot be reached", "468.68 mm apart", "nearest", "below the drawn position"],
    );
    let strokes = message(Drawing { stroke: 300.0, ..rocker_on_swingarm() }.linkage());
    says(&strokes, &["compressed length of 168.70 mm cannot be reached", "of travel", "`"]);
    says(&message(Drawing { length: 4.687, ..rocker_on_swingarm() }.linkage()), &["shock length", "stroke"]);
}

#[test]
fn wheel_and_shock_must_move() {
    let fixed_wheel = message(Drawing { wheel: "link_frame", ..rocker_on_swingarm() }.linkage());
    says(&fixed_wheel, &["wheel `link_frame` does not move"]);
    let on_one = message(Drawing { shock: ("link_rocker", "shock_rocker"), ..rocker_on_swingarm() }.linkage());
    says(&on_one, &["length does not change"]);
    let unknown = message(Drawing { wheel: "hub", shock: ("top", "eye"), ..rocker_on_swingarm() }.linkage());
    says(
        &unknown,
        &["wheel: there is no point `hub`", "shock: there is no point `top`", "shock: there is no point `eye`"],
    );
}

#[test]
fn a_wheel_that_drops_as_the_shock_shortens() {
    let upside_down = rocker_on_swingarm().mapped(|[x, z]| [x, -z]);
    says(&message(upside_down.linkage()), &["wheel moves down as the shock shortens"]);
}

#[test]
fn a_motion_ratio_that_crosses_zero() {
    // As the wheel drops the eye swings past the line from the shock's top through the pivot.
    let drawing = direct_shock().moved("top", [-10., 329.]).moved("eye", [-20., -160.]);
    let drawing = Drawing { length: 495.0, stroke: 30.0, ..drawing };
    let error = drawing.linkage().unwrap_err();
    let LinkageError::ShockLength { reason, .. } = &error else { panic!("{error}") };
    assert!(matches!(**reason, LinkageError::MotionRatioZero { .. }), "{error}");
    says(&error.to_string(), &["motion ratio falls to zero at", "`swingarm`"]);
}

#[test]
fn a_parallelogram_going_flat_is_a_branch_point() {
    let points = [
        ("pivot", [0., 0.]),
        ("axle", [-500., -150.]),
        ("arm_joint", [-300., -90.]),
        ("top_pivot", [-100., 0.]),
        ("top_joint", [-400., -90.]),
        ("shock_frame", [-250., 400.]),
    ];
    let drawing = Drawing {
        points: points.to_vec(),
        bodies: vec![
            ("frame", vec!["pivot", "top_pivot", "shock_frame"]),
            ("swingarm", vec!["pivot", "axle", "arm_joint"]),
            ("coupler", vec!["arm_joint", "top_joint"]),
            ("follower", vec!["top_pivot", "top_joint"]),
        ],
        wheel: "axle",
        shock: ("shock_frame", "top_joint"),
        length: 511.0,
        stroke: 150.0,
    };
    let error = drawing.linkage().unwrap_err();
    let LinkageError::ShockLength { reason, .. } = &error else { panic!("{error}") };
    let LinkageError::BranchPoint { bodies, at: crate::error::Place::Travel(at), .. } = &**reason else {
        panic!("{error}")
    };
    assert_eq!(bodies, &["coupler", "follower"]);
    let flat = drawing.linkage_with_stroke(20.0).drawn_travel() + mm(150.0);
    assert!((*at - flat).si().abs() < 1e-6, "{at:?}, flat at {flat:?}");
}

#[test]
fn travel_outside_the_range_is_refused() {
    let linkage = rocker_on_swingarm().linkage().unwrap();
    says(&message(linkage.at(mm(300.0))), &["300.000 mm", "299.019 mm"]);
    says(&message(linkage.at(mm(-1.0))), &["-1.000 mm"]);
    says(&message(linkage.at(mm(f64::NAN))), &["travel NaN mm", "299.019 mm"]);
    says(&message(linkage.curve(&[mm(10.0), mm(-10.0)])), &["-10.000 mm"]);
    says(&message(linkage.pose(mm(1e9))), &["299.019 mm"]);
}

#[test]
fn bodies_and_pivots_are_counted() {
    // Without its link: swingarm and rocker, on two pivots: 3·2 − 2·2.
    let mut loose = rocker_on_swingarm();
    loose.bodies.truncate(3);
    let Err(LinkageError::Mobility { found, moving, pivots, .. }) = loose.mechanism() else { panic!("accepted") };
    assert_eq!((found, moving, pivots), (2, 2, 2));
    for (name, drawing) in all() {
        assert_eq!(drawing.mechanism().unwrap().degrees_of_freedom(), 1, "{name}");
    }
    assert_eq!(chain(40, 1.0).unwrap().degrees_of_freedom(), 1);
}

#[test]
fn no_more_points_and_bodies_than_may_be() {
    let points = |count: usize| (0..count).map(|at| (format!("p{at}"), [mm(10.0 * at as f64), mm(0.0)]));
    let names = |count: usize| (0..count).map(|at| format!("p{at}"));
    let too_many =
        |place: &str, found: usize, most: usize| LinkageError::TooMany { place: place.to_owned(), found, most };
    let one_body = |count: usize| Mechanism::new(points(count), [("frame", names(count))]).unwrap_err();
    assert_eq!(one_body(61), too_many("points", 61, 60));
    assert!(!matches!(one_body(60), LinkageError::TooMany { .. }));
    let on_one = Mechanism::new(points(2), [("frame", names(1).cycle().take(61))]).unwrap_err();
    assert_eq!(on_one, too_many("bodies", 61, 60));
    let bodies = |count: usize| (0..count).map(|at| (format!("b{at}"), ["p0", "p1"]));
    assert_eq!(Mechanism::new(points(2), bodies(41)).unwrap_err(), too_many("bodies", 41, 40));
    assert!(!matches!(Mechanism::new(points(2), bodies(40)).unwrap_err(), LinkageError::TooMany { .. }));
}
