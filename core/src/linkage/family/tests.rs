use proptest::prelude::*;

use super::*;
use crate::linkage::LinkageColumn;
use crate::linkage::bound_recipe::Drive;
use crate::linkage::columns::Columns;
use crate::linkage::tests::arrangements::{Drawing, all, mm};

/// Drawings of every arrangement, mixed, each with its first point on a body that moves put elsewhere by a little.
fn linkages() -> impl Strategy<Value = Vec<Linkage>> {
    let one = (0..all().len(), -3.0..3.0_f64, -3.0..3.0_f64);
    proptest::collection::vec(one, 0..3 * LANES).prop_map(|drawn| {
        let moved = |(which, x, z): (usize, f64, f64)| {
            let drawing = all().swap_remove(which).1;
            drawing.mapped(
                |[px, pz]| if px == 0.0 && pz == 0.0 { [px, pz] } else { [px + 0.01 * x * pz.signum(), pz + 0.01 * z] },
            )
        };
        drawn.into_iter().filter_map(|one| moved(one).linkage().ok()).collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// The same kernels on the same numbers: equal to the last bit, in the order of the linkages.
    #[test]
    fn a_family_gives_what_each_gives_alone(linkages in linkages(), share in 0.0..1.4_f64) {
        let travels: Vec<Length> =
            linkages.iter().enumerate().map(|(at, one)| one.full_travel() * (share * (1.0 - 0.003 * at as f64))).collect();
        let family = LinkageFamily::new(&linkages);
        prop_assert_eq!(family.len(), linkages.len());
        let found = family.at_each(&travels);
        for (at, (linkage, &travel)) in linkages.iter().zip(&travels).enumerate() {
            match linkage.at(travel) {
                Ok(point) => {
                    prop_assert_eq!(found.stroke[at], point.stroke);
                    prop_assert_eq!(found.motion_ratio[at], point.motion_ratio);
                    prop_assert_eq!(found.motion_ratio_slope[at], point.motion_ratio_slope);
                    prop_assert_eq!([found.axle_x[at], found.axle_z[at]], point.axle);
                    prop_assert_eq!(found.axle_slope[at], point.axle_slope);
                }
                Err(_) => prop_assert!(found.stroke[at].si().is_nan() && found.axle_slope[at].is_nan()),
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Redrawn together, each is what it is when drawn alone, or refused for the same reason.
    #[test]
    fn a_redrawn_family_is_its_drawings(
        which in 0..16_usize, by in prop::collection::vec((-1.0..1.0_f64, -1.0..1.0_f64), 1..70), size in 0.0..2.7_f64,
    ) {
        let all = all();
        let (name, drawing) = &all[which % all.len()];
        let base = drawing.linkage().unwrap();
        // The last point of each drawing lies on the shock's way; moved by up to half a metre.
        let (point, at) = drawing.points[drawing.points.len() - 1];
        let place = |by: f64, from: f64| mm(from + 10f64.powf(size) * by);
        let xs: Vec<Length> = by.iter().map(|(x, _)| place(*x, at[0])).collect();
        let zs: Vec<Length> = by.iter().map(|(_, z)| place(*z, at[1])).collect();
        let found = LinkageFamily::redrawn(&base, &[(point, Axis::X, &xs), (point, Axis::Z, &zs)]).unwrap();
        let travel = base.full_travel() * 0.3;
        let together = found.family.at(travel);
        prop_assert_eq!(found.family.len(), by.len());
        for row in 0..by.len() {
            let alone = drawing.moved(point, [1e3 * xs[row].si(), 1e3 * zs[row].si()]).linkage();
            prop_assert_eq!(alone.is_err(), found.reasons[row].is_some(), "{}: {:?}", name, found.reasons[row]);
            match alone.ok().and_then(|linkage| linkage.at(travel).ok()) {
                // Millimetres there and back round a place, and a rounding of the place moves the ratio by its slope.
                Some(alone) => {
                    let off = together.motion_ratio[row].si() / alone.motion_ratio.si() - 1.0;
                    prop_assert!(off.abs() < 1e-9, "{}: {}", name, off);
                }
                None => prop_assert!(together.motion_ratio[row].si().is_nan()),
            }
        }
    }
}

/// The columns of linkages that nobody packed; NaN for one that does not have the travel.
fn loose(linkages: &[Linkage], travel: Length) -> [Vec<f64>; 6] {
    let mut found = [(); 6].map(|()| vec![0.0; linkages.len()]);
    let [stroke, motion_ratio, slope, axle_x, axle_z, axle_slope] = &mut found;
    let mut columns = Columns { stroke, motion_ratio, slope, axle_x, axle_z, axle_slope, axle_curvature: &mut [] };
    at_once(linkages, travel.si(), &mut columns);
    found
}

/// What each is alone, to the last bit; NaN is NaN.
fn alone_at(linkage: &Linkage, travel: Length) -> [u64; 6] {
    let point = linkage.at(travel).map(|point| {
        let [x, z] = point.axle.map(|part| part.si());
        let slope = point.motion_ratio_slope.si();
        [point.stroke.si(), point.motion_ratio.si(), slope, x, z, point.axle_slope]
    });
    point.unwrap_or([f64::NAN; 6]).map(f64::to_bits)
}

fn assert_each_alone(linkages: &[Linkage], travel: Length) {
    let found = loose(linkages, travel);
    for (at, linkage) in linkages.iter().enumerate() {
        assert_eq!(found.each_ref().map(|column| column[at].to_bits()), alone_at(linkage, travel), "{at}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Of all arrangements in turn, some without the travel: what each gives alone, in the order of the linkages.
    #[test]
    fn loose_linkages_give_what_each_gives_alone(linkages in linkages(), travel in 1.0..400.0_f64) {
        assert_each_alone(&linkages, mm(travel));
    }
}

#[test]
fn more_loose_linkages_than_one_core_takes_at_once() {
    let drawn: Vec<Linkage> = all().into_iter().map(|(_, drawing)| drawing.linkage().unwrap()).collect();
    let mixed: Vec<Linkage> = drawn.iter().cycle().take(1201).cloned().collect();
    assert_each_alone(&mixed, mm(60.0));
    let [_, one, ..] = drawn.as_slice() else { panic!("two arrangements at least") };
    for count in [0, 1, 6, 7, 31, 33, 519] {
        assert_each_alone(&vec![one.clone(); count], mm(60.0));
    }
}

/// With more numbers or steps than a row holds: packed the long way, with the same numbers.
#[test]
fn long_chains_are_packed_too() {
    let chains = [4, 8, 20, 38].map(crate::linkage::tests::arrangements::chained);
    assert_eq!(chains.each_ref().map(|chain| chain.row.recipe().is_some()), [true, true, false, false]);
    let linkages: Vec<Linkage> = chains.iter().cycle().take(50).cloned().collect();
    let family = LinkageFamily::new(&linkages);
    assert!(family.alone.is_empty());
    let travel =
        chains.iter().map(Linkage::full_travel).fold(mm(1000.0), |least, one| if one < least { one } else { least });
    let found = family.at(travel * 0.5);
    for (at, linkage) in linkages.iter().enumerate() {
        assert_eq!(found.point(at), linkage.at(travel * 0.5).unwrap(), "{at}");
    }
    assert_each_alone(&linkages, travel * 0.5);
}

#[test]
fn columns_of_the_callers_own_are_those_of_the_curve() {
    const COLUMNS: [LinkageColumn; 7] = [
        LinkageColumn::Travel,
        LinkageColumn::Stroke,
        LinkageColumn::MotionRatio,
        LinkageColumn::MotionRatioSlope,
        LinkageColumn::AxleX,
        LinkageColumn::AxleZ,
        LinkageColumn::AxleSlope,
    ];
    // Recipes in turn, so that no pack's linkages stand side by side; and one that is too short for its travel.
    let drawn: Vec<Linkage> = all().into_iter().map(|(_, drawing)| drawing.linkage().unwrap()).collect();
    let linkages: Vec<&Linkage> = drawn.iter().cycle().take(5 * drawn.len()).collect();
    let mut travels: Vec<Length> = linkages.iter().map(|one| one.full_travel() * 0.4).collect();
    travels[1] = mm(5000.0);
    let family = LinkageFamily::new(linkages);
    let curve = family.at_each(&travels);
    let mut written: Vec<Vec<f64>> = COLUMNS.iter().map(|_| vec![0.0; family.len()]).collect();
    let mut columns: Vec<_> = COLUMNS.into_iter().zip(written.iter_mut().map(Vec::as_mut_slice)).collect();
    family.columns_into(&travels, &mut columns).unwrap();
    let si = |row: &[Length]| row.iter().map(|value| value.si()).collect::<Vec<f64>>();
    let wanted = [
        si(&curve.travel),
        si(&curve.stroke),
        curve.motion_ratio.iter().map(|value| value.si()).collect(),
        curve.motion_ratio_slope.iter().map(|value| value.si()).collect(),
        si(&curve.axle_x),
        si(&curve.axle_z),
        curve.axle_slope.clone(),
    ];
    for (written, wanted) in written.iter().zip(&wanted) {
        // Bits: a linkage without its travel is no number in both.
        let bits = |row: &[f64]| row.iter().map(|value| value.to_bits()).collect::<Vec<_>>();
        assert_eq!(bits(written), bits(wanted));
    }
    let mut short = [0.0; 3];
    let refused = family.columns_into(&travels, &mut [(LinkageColumn::Stroke, &mut short)]).unwrap_err();
    assert_eq!(refused, LinkageError::Column { found: 3, wanted: family.len() });
    assert_eq!(short, [0.0; 3]);
}

#[test]
fn a_redrawn_family_refuses_what_is_no_coordinate_of_it() {
    let base = crate::linkage::tests::arrangements::direct_shock().linkage().unwrap();
    let unknown = LinkageFamily::redrawn(&base, &[("eyes", Axis::X, &[mm(1.0)])]).unwrap_err().to_string();
    assert!(unknown.contains("`eyes`") && unknown.contains("did you mean `eye`"), "{unknown}");
    let (two, one) = ([mm(-250.0), mm(-251.0)], [mm(-40.0)]);
    let uneven = LinkageFamily::redrawn(&base, &[("eye", Axis::X, &two), ("eye", Axis::Z, &one)]).unwrap_err();
    assert_eq!(uneven.to_string(), "1 places for `eye` where the first column has 2");
    assert!(LinkageFamily::redrawn(&base, &[]).unwrap().family.is_empty());
}

#[test]
fn every_arrangement_without_a_group_is_packed() {
    for (name, drawing) in all() {
        let linkage = drawing.linkage().unwrap();
        let is_crank = matches!(linkage.motion.bound.drive, Drive::Crank { .. });
        assert_eq!(linkage.row.recipe().is_some(), !is_crank && linkage.motion.bound.groups().count() == 0, "{name}");
        let family = LinkageFamily::new(&[linkage.clone(), linkage.clone()]);
        let grouped = linkage.motion.bound.groups().count();
        assert_eq!(family.packs.len(), usize::from(grouped == 0), "{name}");
        assert_eq!(family.alone.len(), if grouped == 0 { 0 } else { 2 }, "{name}");
    }
}

#[test]
fn a_travel_that_one_does_not_have_is_no_number() {
    let linkages: Vec<Linkage> = all().into_iter().map(|(_, drawing)| drawing.linkage().unwrap()).collect();
    let found = LinkageFamily::new(&linkages).at(mm(5000.0));
    assert_eq!(found.len(), linkages.len());
    assert!(found.stroke.iter().all(|stroke| stroke.si().is_nan()));
    assert_eq!(found.travel[0], mm(5000.0));
    let short = LinkageFamily::new(&linkages).at_each(&[mm(50.0)]);
    assert!(short.stroke[0].si() > 0.0 && short.stroke[1].si().is_nan());
    assert!(LinkageFamily::new([]).at(mm(1.0)).is_empty());
}

/// Ways in which a motion is solved otherwise, one at a time; numbers alone are none of them.
fn otherwise(motion: &LinkageMotion) -> Vec<LinkageMotion> {
    use crate::linkage::bound_recipe::BoundStep;
    use crate::linkage::operand::Operand;
    let other = |operand: &Operand<f64>| match operand {
        Operand::Fixed(_) => Operand::Moving(0),
        Operand::Moving(slot) => Operand::Moving(slot + 1),
    };
    let mut found = Vec::new();
    let mut change = |change: &mut dyn FnMut(&mut LinkageMotion)| {
        let mut changed = motion.clone();
        change(&mut changed);
        found.push(changed);
    };
    change(&mut |motion| motion.wheel = other(&motion.wheel));
    change(&mut |motion| motion.shock[0] = other(&motion.shock[0]));
    change(&mut |motion| motion.shock[1] = other(&motion.shock[1]));
    change(&mut |motion| {
        motion.bound.drive = match motion.bound.drive {
            Drive::Arm { pivot, .. } => Drive::Crank { pivot, drawn: pivot },
            Drive::Crank { pivot, .. } => Drive::Arm { pivot, radius: 1.0, side: 1.0 },
        };
    });
    for at in 0..motion.bound.steps.len() {
        change(&mut |motion| drop(motion.bound.steps.remove(at)));
        change(&mut |motion| {
            if let BoundStep::Carry { to, .. } | BoundStep::Dyad { to, .. } = &mut motion.bound.steps[at] {
                *to += 1;
            }
        });
        for end in 0..2 {
            change(&mut |motion| {
                if let BoundStep::Carry { a, b, .. } | BoundStep::Dyad { a, b, .. } = &mut motion.bound.steps[at] {
                    let changed = if end == 0 { a } else { b };
                    *changed = other(changed);
                }
            });
        }
        change(&mut |motion| {
            let step = &mut motion.bound.steps[at];
            if let BoundStep::Dyad { to, a, b, .. } = *step {
                *step = BoundStep::Carry { to, a, b, lambda: [0.5, 0.1] };
            } else if let BoundStep::Carry { to, a, b, lambda: [from_a, from_b] } = *step {
                let constants = crate::linkage::step::DyadConstants { from_a, from_b, side: 1.0 };
                *step = BoundStep::Dyad { to, a, b, constants, bodies: [0, 1] };
            }
        });
    }
    found
}

/// By their steps and by their bits.
#[test]
fn what_is_solved_otherwise_is_not_alike() {
    use crate::linkage::operand::Operand;
    let recipe = |motion: &LinkageMotion| Row::of(motion).recipe();
    for (name, drawing) in all() {
        let linkage = drawing.linkage().unwrap();
        let motion = &linkage.motion;
        if motion.bound.groups().next().is_some() {
            continue;
        }
        let moved = drawing.mapped(|[x, z]| [1.01 * x, 1.01 * z]);
        let larger = Drawing { length: 1.01 * drawing.length, ..moved }.linkage().unwrap();
        assert!(packed::alike(motion, &larger.motion), "{name}");
        assert_eq!(recipe(motion), recipe(&larger.motion), "{name}");
        for (at, changed) in otherwise(motion).iter().enumerate() {
            assert!(!packed::alike(motion, changed) && !packed::alike(changed, motion), "{name}: {at}");
            assert!(recipe(changed).is_none() || recipe(changed) != recipe(motion), "{name}: {at}");
            let (one, other) = ((motion, &linkage.row), (changed, &Row::of(changed)));
            assert!(!row::alike(one, other) && !row::alike(other, one), "{name}: {at}");
        }
        // Four bits hold a slot and a sign for what is fixed.
        let mut far = motion.clone();
        far.wheel = Operand::Moving(14);
        assert_eq!(recipe(&far).is_some(), recipe(motion).is_some(), "{name}");
        far.wheel = Operand::Moving(15);
        assert_eq!(recipe(&far), None, "{name}");
    }
}

/// Each at its own height, each wheel where it was wanted; lanes without a linkage are settled from the start.
#[test]
fn cranks_settle_together() {
    let base = crate::linkage::tests::arrangements::floating_axle();
    let drawn = |by: f64| base.moved("upper_end", [-420.0 + by, 150.0 - 0.5 * by]).linkage().unwrap();
    let linkages: Vec<Linkage> = (0..5).map(|at| drawn(2.0 * f64::from(at))).collect();
    let family = LinkageFamily::new(&linkages);
    assert!(!family.is_empty() && family.len() == 5);
    let [pack] = family.packs.as_slice() else { panic!("one pack") };
    for share in [0.0, 0.3, 0.62, 1.0] {
        let mut heights = [0.0; LANES];
        for (height, linkage) in heights.iter_mut().zip(&linkages) {
            *height = linkage.motion.datum + share * linkage.motion.full_travel;
        }
        let mut blocks = vec![Block::ZERO; pack.plan.slots];
        assert_eq!(pack.turn_cranks(&heights, &mut blocks), [true; LANES], "{share}");
        let wheel = pack.plan.wheel(&pack.numbers, &blocks);
        for (lane, linkage) in linkages.iter().enumerate() {
            let off = (wheel.p[1][lane] - heights[lane]).abs();
            assert!(off <= linkage.motion.rounding(), "{share}: {lane} off by {off:e} m");
        }
    }
}

/// Two links that meet in a joint, one from the swingarm and one from the rocker: a pair of which both ends move.
#[test]
fn pairs_between_moving_bodies_are_packed_too() {
    let mut drawing = crate::linkage::tests::arrangements::rocker_on_frame();
    drawing.points.extend([("arm_other", [-230., -60.]), ("joint", [-130., 230.])]);
    drawing.bodies[1].1.push("arm_other");
    drawing.bodies.push(("other_link", vec!["arm_other", "joint"]));
    drawing.bodies.push(("bell_link", vec!["rocker_shock", "joint"]));
    drawing.shock = ("top", "joint");
    (drawing.length, drawing.stroke) = (291.0, 12.0);
    let other = drawing.moved("joint", [-131., 229.]);
    let linkages: Vec<Linkage> = [drawing, other].iter().cycle().take(20).map(|one| one.linkage().unwrap()).collect();
    let travel = mm(20.0);
    let family = LinkageFamily::new(&linkages);
    assert!(family.alone.is_empty());
    let found = family.at(travel);
    for (at, linkage) in linkages.iter().enumerate() {
        assert_eq!(found.point(at), linkage.at(travel).unwrap(), "{at}");
    }
    assert_each_alone(&linkages, travel);
}
