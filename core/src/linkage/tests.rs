use super::*;

pub(crate) mod arrangements;
mod complex_step;
mod explore;
mod faults;
mod invariants;
mod near_dead_point;

use arrangements::*;

/// Rounding of a few operations on lengths of a bike, in metres.
const LENGTH_ROUNDING: f64 = 1e-13;

/// Central differences at `h` and `h/2` extrapolated (Richardson): error of order h⁴.
fn richardson(f: impl Fn(f64) -> f64, at: f64, h: f64) -> f64 {
    let central = |h: f64| (f(at + h) - f(at - h)) / (2.0 * h);
    (16.0 * ((4.0 * central(h / 2.0) - central(h)) / 3.0) - (4.0 * central(h) - central(2.0 * h)) / 3.0) / 15.0
}

/// Gauss–Legendre with five points on every interval.
fn integral(f: impl Fn(f64) -> f64, from: f64, to: f64, intervals: usize) -> f64 {
    const NODES: [f64; 5] =
        [-0.906_179_845_938_664, -0.538_469_310_105_683, 0.0, 0.538_469_310_105_683, 0.906_179_845_938_664];
    const WEIGHTS: [f64; 5] = [
        0.236_926_885_056_189_1,
        0.478_628_670_499_366_5,
        0.568_888_888_888_888_9,
        0.478_628_670_499_366_5,
        0.236_926_885_056_189_1,
    ];
    let half = (to - from) / intervals as f64 / 2.0;
    let panel = |at: usize| {
        let middle = from + half * (2 * at + 1) as f64;
        half * NODES.iter().zip(WEIGHTS).map(|(node, weight)| weight * f(middle + half * node)).sum::<f64>()
    };
    (0..intervals).map(panel).sum()
}

fn gap(a: [Length; 2], b: [Length; 2]) -> f64 {
    (a[0] - b[0]).si().hypot((a[1] - b[1]).si())
}

#[test]
fn every_body_stays_rigid_and_the_shock_has_its_length() {
    for (name, drawing) in all() {
        let linkage = drawing.linkage().unwrap_or_else(|error| panic!("{name}: {error}"));
        let drawn: Vec<_> = linkage.mechanism().points().collect();
        for travel in linkage.travels(23) {
            let pose = linkage.pose(travel).unwrap();
            let at = |point: &str| pose.iter().find(|(name, _)| *name == point).unwrap().1;
            let was = |point: &str| drawn.iter().find(|(name, _)| *name == point).unwrap().1;
            for (body, points) in linkage.mechanism().bodies() {
                for a in &points {
                    for b in &points {
                        let error = gap(at(a), at(b)) - gap(was(a), was(b));
                        assert!(
                            error.abs() < LENGTH_ROUNDING,
                            "{name}: {body} {a}–{b} off by {error:e} m at {travel:?}"
                        );
                    }
                    if body == FRAME {
                        assert_eq!(at(a), was(a), "{name}: {a} moves");
                    }
                }
            }
            let (first, second) = linkage.shock();
            let point = linkage.at(travel).unwrap();
            let length = linkage.shock_length() - point.stroke;
            assert!((gap(at(first), at(second)) - length.si()).abs() < LENGTH_ROUNDING, "{name}");
            assert!(gap(at(linkage.wheel()), point.axle) < LENGTH_ROUNDING, "{name}");
            let rise = point.axle[1] - linkage.at(Length::from_si(0.0)).unwrap().axle[1];
            assert!((rise - travel).si().abs() < LENGTH_ROUNDING, "{name}");
        }
    }
}

#[test]
fn both_ends_of_travel_are_the_ends_of_the_shock() {
    for (name, drawing) in all() {
        let linkage = drawing.linkage().unwrap();
        let stroke = |travel: Length| linkage.at(travel).unwrap().stroke.si();
        assert!(stroke(Length::from_si(0.0)).abs() < LENGTH_ROUNDING, "{name}");
        assert!((stroke(linkage.full_travel()) - linkage.full_stroke().si()).abs() < LENGTH_ROUNDING, "{name}");
    }
}

#[test]
fn the_drawn_position_is_found_again() {
    for (name, drawing) in all() {
        let linkage = drawing.linkage().unwrap();
        if (Length::from_si(0.0)..linkage.full_travel()).contains(&linkage.drawn_travel()) {
            let pose = linkage.pose(linkage.drawn_travel()).unwrap();
            for ((point, found), (_, drawn)) in pose.iter().zip(linkage.mechanism().points()) {
                assert!(gap(*found, drawn) < LENGTH_ROUNDING, "{name}: {point}");
            }
        }
    }
}

#[test]
fn derivatives_are_exact() {
    /// Step of the differences in metres, and what truncation and rounding leave of them.
    const STEP: f64 = 2e-3;
    const DIFFERENCES: f64 = 2e-10;
    for (name, drawing) in all() {
        let linkage = drawing.linkage().unwrap();
        let full = linkage.full_travel().si();
        for share in [0.05, 0.31, 0.5, 0.77, 0.95] {
            let z = share * full;
            let here = linkage.kernel(z);
            let pairs = [
                (here.motion_ratio, richardson(|z| linkage.kernel(z).stroke, z, STEP)),
                (here.slope, richardson(|z| linkage.kernel(z).motion_ratio, z, STEP)),
                (here.axle_slope, richardson(|z| linkage.kernel(z).axle[0], z, STEP)),
                (here.axle_curvature, richardson(|z| linkage.kernel(z).axle_slope, z, STEP)),
            ];
            for (order, (exact, difference)) in pairs.into_iter().enumerate() {
                let error = (exact - difference).abs() / exact.abs().max(1.0);
                assert!(error < DIFFERENCES, "{name} at {z}: derivative {order}: {exact} or {difference}");
            }
        }
    }
}

#[test]
fn a_curve_is_its_points() {
    /// Asked of the fast path, relative to the slow one; differences are roundings of what iterates.
    const SAME: f64 = 1e-12;
    for (name, drawing) in all() {
        let linkage = drawing.linkage().unwrap();
        for count in [0, 1, 31, 32, 33, 200] {
            let travels = linkage.travels(count);
            let curve = linkage.curve(&travels).unwrap();
            assert_eq!((curve.len(), curve.is_empty()), (count, count == 0));
            for (at, &travel) in travels.iter().enumerate() {
                let point = linkage.at(travel).unwrap();
                let pairs = [
                    (curve.travel[at].si(), point.travel.si()),
                    (curve.stroke[at].si() + 1.0, point.stroke.si() + 1.0),
                    (curve.motion_ratio[at].si(), point.motion_ratio.si()),
                    (curve.motion_ratio_slope[at].si(), point.motion_ratio_slope.si()),
                    (curve.axle_x[at].si(), point.axle[0].si()),
                    (curve.axle_z[at].si() + 1.0, point.axle[1].si() + 1.0),
                    (curve.axle_slope[at] + 1.0, point.axle_slope + 1.0),
                ];
                for (column, (fast, slow)) in pairs.into_iter().enumerate() {
                    assert!(
                        (fast - slow).abs() <= SAME * slow.abs(),
                        "{name}: column {column} at {at}: {fast} or {slow}"
                    );
                }
            }
        }
    }
}

/// Wide blocks, narrow ones and one by one: the same kernels on the same numbers, to the last bit. What iterates starts elsewhere
/// and is held above.
#[test]
fn however_many_travels_each_is_what_it_is_alone() {
    for (name, drawing) in all() {
        let linkage = drawing.linkage().unwrap();
        let bound = &linkage.motion.bound;
        if matches!(bound.drive, Drive::Crank { .. }) || bound.groups().next().is_some() {
            continue;
        }
        for count in (0..=67).chain([95, 96, 97, 127]) {
            let travels = linkage.travels(count);
            let curve = linkage.curve(&travels).unwrap();
            let mut ratios = vec![0.0; count];
            linkage.columns_into(&travels, &mut [(LinkageColumn::MotionRatio, &mut ratios)]).unwrap();
            let kernels = linkage.kernels(&travels);
            for (at, &travel) in travels.iter().enumerate() {
                let alone = linkage.kernel(travel.si());
                assert_eq!(curve.point(at), LinkagePoint::from_kernel(travel.si(), &alone), "{name}: {at} of {count}");
                assert_eq!(ratios[at], alone.motion_ratio, "{name}: {at} of {count}");
                assert_eq!(kernels[at], alone, "{name}: {at} of {count}");
            }
        }
    }
}

#[test]
fn the_integral_of_the_motion_ratio_is_the_stroke() {
    for (name, drawing) in all() {
        let linkage = drawing.linkage().unwrap();
        let full = linkage.full_travel().si();
        let stroke = integral(|z| linkage.kernel(z).motion_ratio, 0.0, full, 20);
        assert!((stroke / linkage.full_stroke().si() - 1.0).abs() < 1e-12, "{name}: {stroke}");
    }
}

#[test]
fn only_the_plate_needs_newton() {
    for (name, drawing) in all() {
        let groups = drawing.linkage().unwrap().motion.bound.groups().count();
        assert_eq!(groups, usize::from(name == "plate on three links"), "{name}");
    }
}

#[test]
fn only_the_floating_axle_needs_a_crank() {
    for (name, drawing) in all() {
        let crank = matches!(drawing.linkage().unwrap().motion.bound.drive, Drive::Crank { .. });
        assert_eq!(crank, name == "axle on a floating coupler", "{name}");
    }
}

#[test]
fn a_shorter_shock_moves_the_range_and_not_the_curve() {
    let long = rocker_on_swingarm().linkage().unwrap();
    let short = Drawing { length: 460.0, ..rocker_on_swingarm() }.linkage().unwrap();
    let moved = long.drawn_travel() - short.drawn_travel();
    assert!(moved > mm(20.0) && short.full_travel() < long.full_travel());
    let (a, b) = (long.at(moved + mm(50.0)).unwrap(), short.at(mm(50.0)).unwrap());
    assert!((a.motion_ratio.si() - b.motion_ratio.si()).abs() < 1e-12);
    assert!(((a.stroke - b.stroke).si() - 8.7e-3).abs() < 1e-12);
}

#[test]
fn progression_over_all_and_over_an_interval() {
    let linkage = rocker_on_swingarm().linkage().unwrap();
    let full = linkage.full_travel();
    let ratio = |travel: Length| linkage.at(travel).unwrap().motion_ratio.si();
    let whole = linkage.progression().si();
    assert_eq!(whole, ratio(full) / ratio(Length::from_si(0.0)) - 1.0);
    let halves = [(Length::from_si(0.0), full / 2.0), (full / 2.0, full)]
        .map(|(from, to)| 1.0 + linkage.progression_between(from, to).unwrap().si());
    assert!((halves[0] * halves[1] - (1.0 + whole)).abs() < 1e-14);
    assert!(matches!(linkage.progression_between(full, full), Err(LinkageError::EmptyInterval { .. })));
}

#[test]
fn notes_name_falling_and_turning_back() {
    assert_eq!(rocker_on_swingarm().linkage().unwrap().notes(), []);
    let falling = rocker_on_frame().linkage().unwrap();
    let all = LinkageNote::FallingRate { from: Length::from_si(0.0), to: falling.full_travel() };
    assert_eq!(falling.notes(), [all]);
    let turning = both_ends_moving().linkage().unwrap();
    let notes = turning.notes();
    assert!(
        matches!(notes[..], [LinkageNote::FallingRate { to, .. }, LinkageNote::TurnsBack { at, greatest: false }]
            if to == at && turning.at(at).unwrap().motion_ratio_slope.si().abs() < 1e-5),
        "{notes:?}"
    );
}

#[cfg(feature = "serde")]
#[test]
fn text_round_trips() {
    for (name, drawing) in all() {
        let linkage = drawing.linkage().unwrap();
        let text = serde_json::to_string(&linkage).unwrap();
        assert_eq!(serde_json::from_str::<Linkage>(&text).unwrap(), linkage, "{name}");
    }
    let bare = r#"{"points": {"a": [0, "1 mm"]}, "bodies": {}}"#;
    assert!(serde_json::from_str::<Mechanism>(bare).unwrap_err().to_string().contains("unit"));
}

/// Wheel per shock is one over shock per wheel, in a column as alone.
#[test]
fn a_column_of_leverage_ratios_is_that_of_its_points() {
    let linkage = rocker_on_swingarm().linkage().unwrap();
    let travels: Vec<Length> = (0..=28).map(|at| mm(10.0 * f64::from(at))).collect();
    let curve = linkage.curve(&travels).unwrap();
    let column = curve.leverage_ratio();
    assert_eq!(column.len(), travels.len());
    for (at, ratio) in column.iter().enumerate() {
        let point = linkage.at(travels[at]).unwrap();
        // Two roundings.
        assert!((ratio.si() * point.motion_ratio.si() - 1.0).abs() < 4e-16, "{at}: {ratio:?}");
        assert_eq!(*ratio, point.leverage_ratio());
    }
}
