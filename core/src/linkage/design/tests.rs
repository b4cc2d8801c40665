use super::*;
use crate::linkage::Axis;
use crate::linkage::tests::arrangements::{mm, rocker_on_swingarm};

fn coordinate(point: &str, axis: Axis) -> Dimension {
    Dimension::Coordinate { point: point.to_owned(), axis }
}

fn within(dimension: Dimension, from: f64, to: f64) -> Freedom {
    Freedom { dimension, from: mm(from), to: mm(to) }
}

fn ratio_at(linkage: &Linkage, travel: f64, tolerance: f64) -> Target {
    let value = linkage.at(mm(travel)).unwrap().motion_ratio;
    Target::MotionRatio { travel: mm(travel), value, tolerance: MotionRatio::from_si(tolerance) }
}

#[test]
fn a_hidden_change_is_found_from_its_curve() {
    let hidden = rocker_on_swingarm().moved("link_frame", [-62.0, -103.0]).linkage().unwrap();
    let targets: Vec<Target> = [0.0, 60.0, 120.0, 180.0, 240.0].map(|z| ratio_at(&hidden, z, 1e-5)).to_vec();
    let free = [
        within(coordinate("link_frame", Axis::X), -76.0, -56.0),
        within(coordinate("link_frame", Axis::Z), -108.0, -88.0),
    ];
    let design = rocker_on_swingarm().linkage().unwrap().design(&free, &targets).unwrap();
    assert!(design.is_reached() && design.in_the_way.is_empty(), "{:?}", design.misses);
    for (changed, truth) in design.changes.iter().zip([-62.0, -103.0]) {
        assert!((changed.now - mm(truth)).si().abs() < 1e-5, "{changed:?}");
    }
    assert!(design.starts[1] > 1, "{:?}", design.starts);
}

#[test]
fn a_hidden_length_and_a_hidden_shock_mount_are_found_together() {
    let hidden = rocker_on_swingarm().moved("shock_frame", [-94.0, 329.0]).linkage().unwrap();
    let hidden = hidden.with_link_length("link", mm(176.0)).unwrap();
    let targets: Vec<Target> = [0.0, 60.0, 120.0, 180.0, 240.0].map(|z| ratio_at(&hidden, z, 1e-5)).to_vec();
    let free = [
        within(Dimension::LinkLength { body: "link".to_owned() }, 168.0, 180.0),
        within(coordinate("shock_frame", Axis::X), -110.0, -90.0),
    ];
    let design = rocker_on_swingarm().linkage().unwrap().design(&free, &targets).unwrap();
    assert!(design.is_reached(), "{:?}", design.misses);
    for (changed, truth) in design.changes.iter().zip([176.0, -94.0]) {
        assert!((changed.now - mm(truth)).si().abs() < 1e-5, "{changed:?}");
    }
    let made = design.linkage.length_of(&free[0].dimension).unwrap();
    assert!((made - design.changes[0].now).si().abs() < 1e-15);
}

#[test]
fn a_progression_and_a_start_ratio_are_reached_and_the_rest_stays() {
    let linkage = rocker_on_swingarm().linkage().unwrap();
    let targets = [
        Target::Progression { value: Share::from_si(0.40), tolerance: Share::from_si(0.005) },
        ratio_at(&linkage, 0.0, 0.002),
    ];
    let free = [
        within(coordinate("link_frame", Axis::X), -90.0, -40.0),
        within(coordinate("link_frame", Axis::Z), -125.0, -75.0),
        within(coordinate("shock_rocker", Axis::X), -215.0, -190.0),
        within(Dimension::ShockLength, 460.0, 475.0),
    ];
    let design = linkage.design(&free, &targets).unwrap();
    assert!(design.is_reached(), "{:?}", design.misses);
    assert!((design.linkage.progression().si() - 0.40).abs() < 0.005);
    for changed in &design.changes {
        let freedom = free.iter().find(|freedom| freedom.dimension == changed.dimension).unwrap();
        assert!((freedom.from..=freedom.to).contains(&changed.now), "{changed:?}");
    }
}

#[test]
fn a_bound_in_the_way_is_named() {
    let linkage = rocker_on_swingarm().linkage().unwrap();
    let targets = [Target::FullTravel { value: mm(330.0), tolerance: mm(0.5) }];
    let free = [within(coordinate("link_frame", Axis::Z), -99.0, -97.0)];
    let design = linkage.design(&free, &targets).unwrap();
    assert!(!design.is_reached());
    assert_eq!(design.in_the_way, [coordinate("link_frame", Axis::Z)]);
    assert!(design.changes[0].held_back && design.misses[0].tolerances < -1.0);
}

#[test]
fn bad_tasks_are_refused() {
    let linkage = rocker_on_swingarm().linkage().unwrap();
    let target = [Target::FullTravel { value: mm(300.0), tolerance: mm(1.0) }];
    let good = [within(Dimension::ShockLength, 460.0, 470.0)];
    let message = |free: &[Freedom], targets: &[Target]| linkage.design(free, targets).unwrap_err().to_string();
    assert!(message(&[], &target).contains("found 0"));
    assert!(message(&good, &[]).contains("and 0"));
    assert!(message(&[within(Dimension::ShockLength, 470.0, 460.0)], &target).contains("interval"));
    let link = || within(Dimension::LinkLength { body: "link".to_owned() }, 165.0, 180.0);
    let tied = message(&[link(), within(coordinate("link_frame", Axis::X), -70.0, -60.0)], &target);
    assert!(tied.contains("length of link cannot be free beside x of link_frame"), "{tied}");
    let loose = [link(), within(coordinate("shock_frame", Axis::X), -110.0, -90.0)];
    assert_eq!(linkage.design(&loose, &target).unwrap().changes.len(), loose.len());
    let (value, tolerance) = (WheelRate::from_si(8e3), WheelRate::from_si(100.0));
    let rate = [Target::WheelRate { travel: mm(100.0), value, tolerance }];
    assert!(message(&good, &rate).contains("springs"));
    let zero = [Target::FullTravel { value: mm(300.0), tolerance: mm(0.0) }];
    assert!(message(&good, &zero).contains("tolerance"));
    assert!(
        message(&[within(Dimension::ShockLength, 700.0, 800.0)], &target).contains("no linkage inside these bounds")
    );
    assert!(message(&[within(coordinate("nowhere", Axis::X), 0.0, 1.0)], &target).contains("nowhere"));
}

/// Whatever their order: first the one whose next hundredth of its bounds brings most of what is missing.
#[test]
fn the_bound_that_costs_most_is_named_first() {
    let drawing = rocker_on_swingarm();
    let linkage = drawing.linkage().unwrap();
    let targets = [Target::FullTravel { value: mm(330.0), tolerance: mm(0.5) }];
    let free = [
        within(coordinate("link_frame", Axis::Z), -99.0, -97.0),
        within(coordinate("shock_frame", Axis::X), -101.0, -99.0),
        within(coordinate("rocker_pivot", Axis::X), -253.5, -252.5),
    ];
    let mut turned = free.clone();
    turned.reverse();
    let [one, other] = [&free, &turned].map(|free| linkage.design(free, &targets).unwrap());
    assert_eq!((one.in_the_way.len(), &one.in_the_way), (3, &other.in_the_way));
    let gain = |dimension: &Dimension| {
        let Dimension::Coordinate { point, axis } = dimension else { panic!("only coordinates are free") };
        let freedom = free.iter().find(|freedom| freedom.dimension == *dimension).unwrap();
        let by = 0.01 * (freedom.to - freedom.from);
        [by, -by]
            .map(|by| {
                let mechanism = one.linkage.mechanism();
                let mut at = mechanism.point(point).unwrap();
                at[axis.index()] = at[axis.index()] + by;
                let made = one.linkage.with_coordinates(&[(point, Axis::X, at[0]), (point, Axis::Z, at[1])]).unwrap();
                (made.full_travel() - one.linkage.full_travel()).si()
            })
            .into_iter()
            .fold(0.0, f64::max)
    };
    let gains: Vec<f64> = one.in_the_way.iter().map(gain).collect();
    assert!(gains.iter().all(|gain| *gain > 0.0) && gains.windows(2).all(|pair| pair[0] > pair[1]), "{gains:?}");
}

/// Two targets that contradict each other leave the middle between them, thousands of tolerances from both: all that came there
/// came to the same design, though their costs differ by the rounding of a large number.
#[test]
fn starts_that_end_alike_are_counted_together_however_far_from_the_targets() {
    let linkage = rocker_on_swingarm().linkage().unwrap();
    let tolerance = MotionRatio::from_si(1e-5);
    let wanted = |value: f64| Target::MotionRatio { travel: mm(100.0), value: MotionRatio::from_si(value), tolerance };
    let free = [within(coordinate("link_frame", Axis::X), -90.0, -30.0)];
    let design = linkage.design(&free, &[wanted(0.36), wanted(0.39)]).unwrap();
    let found = design.linkage.at(mm(100.0)).unwrap().motion_ratio.si();
    assert!((found - 0.375).abs() < 1e-6 && !design.is_reached(), "{found}");
    let [came, alike] = design.starts;
    assert!(came > 3 && alike == came, "{:?}", design.starts);
}
