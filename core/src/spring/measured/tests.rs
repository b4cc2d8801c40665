use super::faults::MOST_SOUGHT;
use super::*;
use crate::axial::testing::assert_consistent;
use crate::spring::{Nest, Nested, Spring, Stack, Stage};
use crate::units::parse;
use rand_distr::{Distribution, StandardNormal};
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;

fn mm(length: f64) -> Length {
    Length::from_si(length * 1e-3)
}

/// A spring that stiffens by a quarter over 120 mm: force, and rate in N/m.
fn truth(x: f64) -> [f64; 2] {
    [46e3 * x + 50e3 * x * x, 46e3 + 100e3 * x]
}

fn parts() -> MeasuredSpringParts {
    MeasuredSpringParts { force_uncertainty: Force::from_si(15.0), ..MeasuredSpringParts::usual() }
}

/// A reading every 10 mm, the compressions misread as stated, and all loads by one factor.
fn read(seed: u64, scale: f64) -> MeasuredSpring {
    let mut random = Xoshiro256PlusPlus::seed_from_u64(seed);
    let mut normal = || -> f64 { StandardNormal.sample(&mut random) };
    let row = |k: i32| {
        let x = 0.01 * f64::from(k);
        let force = scale * truth(x)[0] + 15.0 * normal();
        (Length::from_si(x + 0.5e-3 * normal()), Force::from_si(force))
    };
    MeasuredSpring::new((1..=12).map(row).collect(), parts()).unwrap()
}

#[test]
fn bands_hold_the_spring_as_often_as_they_say() {
    let (mut inside, mut all) = ([0.0; 2], 0.0);
    for seed in 0..80 {
        let mut random = Xoshiro256PlusPlus::seed_from_u64(seed + 1000);
        let off: f64 = StandardNormal.sample(&mut random);
        let spring = read(seed, 1.0 + 0.01 * off);
        for x in [10.0, 40.0, 70.0, 100.0] {
            let at = spring.at(mm(x)).unwrap();
            let [force, rate] = truth(x * 1e-3);
            let hit = |off: f64, u: f64| if off.abs() < 1.96 * u { 1.0 } else { 0.0 };
            inside[0] += hit(at.force.value.si() - force, at.force.standard_uncertainty.si());
            inside[1] += hit(at.rate.value.si() - rate, at.rate.standard_uncertainty.si());
            all += 1.0;
        }
    }
    // 95 % of 320 that hang together by fours: ± 3.5 % is two standard deviations; smooth springs are favoured, so that bands of the
    // rate may be wider than needed.
    let [force, rate] = inside.map(|count| count / all);
    assert!((0.915..=0.985).contains(&force), "{force}");
    assert!((0.915..=1.0).contains(&rate), "{rate}");
}

#[test]
fn readings_without_error_give_the_spring_back() {
    let exact = MeasuredSpringParts {
        force_uncertainty: Force::from_si(0.01),
        compression_uncertainty: mm(0.0),
        scale_uncertainty: Share::from_si(1e-4),
        free_length: None,
    };
    let row = |k: i32| (mm(10.0 * f64::from(k)), Force::from_si(truth(0.01 * f64::from(k))[0]));
    let spring = MeasuredSpring::new((1..=12).map(row).collect(), exact).unwrap();
    for x in [0.0, 0.033, 0.0712, 0.1199] {
        let at = spring.at(Length::from_si(x)).unwrap();
        // The curve is a parabola, which no smoothing touches; its rows are 1.25 mm apart.
        assert!((at.force.value.si() - truth(x)[0]).abs() < 0.02, "{x}: {at:?}");
        assert!((at.rate.value.si() / truth(x)[1] - 1.0).abs() < 1e-4, "{x}: {at:?}");
    }
    assert_consistent(&Spring::from(spring), 0.119);
}

#[test]
fn lengths_say_the_same_as_compressions() {
    let spring = read(3, 1.0);
    let free = mm(245.0);
    let lengths = spring.readings().iter().map(|&(x, force)| (free - x, force)).collect();
    let by_length = MeasuredSpring::new(lengths, MeasuredSpringParts { free_length: Some(free), ..parts() }).unwrap();
    let at = |spring: &MeasuredSpring| spring.at(mm(55.0)).unwrap().force.value.si();
    assert!((at(&spring) - at(&by_length)).abs() < 1e-6, "rounding of the differences of lengths");
    let longer = MeasuredSpring::new(vec![(mm(250.0), Force::from_si(10.0)); 6], by_length.parts()).unwrap_err();
    assert!(longer.to_string().contains("readings[0][0]"), "{longer}");
}

#[test]
fn a_touch_misjudged_moves_the_spring_and_does_not_bend_it() {
    let spring = read(5, 1.0);
    let late = spring.readings().iter().map(|&(x, force)| (x - mm(0.8), force)).collect();
    let late = MeasuredSpring::new(late, parts()).unwrap();
    for x in [30.0, 60.0, 90.0] {
        let [one, other] = [&spring, &late].map(|spring| spring.at(mm(x)).unwrap().rate);
        let off = (one.value.si() - other.value.si()).abs();
        assert!(off < one.standard_uncertainty.si(), "{x}: {one:?} {other:?}");
    }
}

#[test]
fn deviations_are_the_covariance_of_force_and_rate() {
    let spring = read(7, 1.0);
    let scale = spring.parts().scale_uncertainty.si();
    for x in [0.02, 0.06, 0.1] {
        let at = spring.at(Length::from_si(x)).unwrap();
        let rows = spring.deviations(&[x]);
        for (k, (value, u)) in [
            (at.force.value.si(), at.force.standard_uncertainty.si()),
            (at.rate.value.si(), at.rate.standard_uncertainty.si()),
        ]
        .into_iter()
        .enumerate()
        {
            let own: f64 = rows.iter().map(|row| row[0][k].powi(2)).sum();
            assert!((own.sqrt().hypot(scale * value) / u - 1.0).abs() < 1e-9, "{x}, {k}");
        }
    }
    assert!(spring.deviations(&[-0.01]).iter().all(|row| row[0] == [0.0; 2]), "loose");
}

#[test]
fn a_load_misread_is_named() {
    let spring = read(11, 1.0);
    assert!(spring.suspect_readings().is_empty());
    let mut readings = spring.readings().to_vec();
    readings[6].1 += Force::from_si(300.0);
    let found = MeasuredSpring::new(readings, parts()).unwrap().suspect_readings();
    // Ten times its error bends the curve beside it too, and its neighbours are not taken for it.
    assert_eq!(found.iter().map(|one| one.index).collect::<Vec<_>>(), [6], "{found:?}");
    let [one] = found[..] else { panic!() };
    assert!((one.off().si() - 300.0).abs() < 60.0 && one.deviations > 8.0, "{one:?}");
}

/// Eight readings of a spring that is straight but for some newtons, one of them a digit short.
#[test]
fn a_load_a_digit_short_is_the_only_one_that_is_named() {
    let rows = [232.0, 218.0, 203.0, 188.0, 173.0, 158.0, 142.0, 126.0].map(mm);
    let loads = [1478.0, 2193.0, 2999.0, 3801.0, 4632.0, 5490.0, 6398.0, 7340.0].map(Force::from_si);
    let usual = MeasuredSpringParts { free_length: Some(mm(260.0)), ..MeasuredSpringParts::usual() };
    let sound: Vec<(Length, Force)> = rows.into_iter().zip(loads).collect();
    assert!(MeasuredSpring::new(sound.clone(), usual).unwrap().suspect_readings().is_empty());
    for row in 0..sound.len() {
        let mut readings = sound.clone();
        readings[row].1 *= 0.1;
        // Some make no spring, and are refused by their row; what makes one is named.
        match MeasuredSpring::new(readings, usual) {
            Err(error) => assert!(error.to_string().starts_with(&format!("readings[{row}]")), "{row}: {error}"),
            Ok(spring) => {
                let found = spring.suspect_readings();
                assert_eq!(found.iter().map(|one| one.index).collect::<Vec<_>>(), [row], "{found:?}");
                let off = found[0].others.value.si() - sound[row].1.si();
                assert!(off.abs() < 0.05 * sound[row].1.si(), "{row}: {off}");
            }
        }
    }
}

#[test]
fn refuses_what_is_no_spring() {
    let fault = |rows: &[(f64, f64)]| {
        let rows = rows.iter().map(|&(x, force)| (mm(x), Force::from_si(force))).collect();
        MeasuredSpring::new(rows, parts()).unwrap_err().to_string()
    };
    let few = fault(&[(10.0, 500.0), (20.0, 1000.0), (20.0, 1010.0), (30.0, 1500.0)]);
    assert!(few.contains("3 compressions") && few.contains("5 or more"), "{few}");
    let loose =
        fault(&[(60.0, 100.0), (70.0, 600.0), (80.0, 1100.0), (90.0, 1600.0), (100.0, 2100.0), (110.0, 2600.0)]);
    assert!(loose.contains("free_length") || loose.contains("do not rise"), "{loose}");
    let falls = fault(&[(10.0, 900.0), (20.0, 800.0), (30.0, 700.0), (40.0, 600.0), (50.0, 500.0), (60.0, 400.0)]);
    assert!(falls.contains("readings"), "{falls}");
    let soft = fault(&[(100.0, 1.0), (200.0, 2.0), (300.0, 3.0), (400.0, 4.0), (500.0, 5.0)]);
    assert!(soft.contains("10 N/m") || soft.contains("0.01 N/mm"), "{soft}");
}

#[test]
fn has_no_place_in_a_stack_or_a_nest() {
    let spring = read(2, 1.0);
    let stack = Stack::new(vec![Stage::new(spring.clone())]).unwrap_err().to_string();
    assert!(stack.contains("measured") && stack.contains("as a whole"), "{stack}");
    let nest = Nest::new(vec![Nested::new(spring, parse("0 mm").unwrap()).unwrap()]).unwrap_err().to_string();
    assert!(nest.contains("as a whole"), "{nest}");
}

#[test]
fn a_factor_goes_through_readings_and_curve_alike() {
    let spring = Spring::from(read(4, 1.0));
    let stiffer = spring.scaled(1.2).unwrap();
    let at = |spring: &Spring| spring.eval(0.05).force;
    assert!((at(&stiffer) / at(&spring) - 1.2).abs() < 1e-9, "the same fit in other units");
}

#[test]
fn a_reading_that_makes_no_spring_of_the_others_is_named() {
    let sound: Vec<(Length, Force)> =
        (1..=8).map(|k| (mm(10.0 * f64::from(k)), Force::from_si(truth(0.01 * f64::from(k))[0]))).collect();
    let refused = |row: usize, reading: (Length, Force)| {
        let mut readings = sound.clone();
        readings[row] = reading;
        MeasuredSpring::new(readings, parts()).unwrap_err().to_string()
    };
    // A zero too many, a load not read, a compression in centimetres, and a load in another unit.
    for (row, reading) in [
        (2, (mm(30.0), Force::from_si(14250.0))),
        (5, (mm(60.0), Force::from_si(0.0))),
        (6, (mm(7.0), Force::from_si(truth(0.07)[0]))),
        (7, (mm(80.0), Force::from_si(0.04 * truth(0.08)[0]))),
    ] {
        let said = refused(row, reading);
        assert!(said.starts_with(&format!("readings[{row}]: found ")), "{row}: {said}");
        assert!(said.contains("where the other readings say"), "{said}");
    }
    let few = MeasuredSpring::new(sound[..4].iter().chain([&sound[1]]).copied().collect(), parts()).unwrap_err();
    assert!(few.to_string().contains("loads at 4 compressions, `readings[4]` at no new one"), "{few}");
}

#[test]
fn where_it_touches_nothing_is_open_but_the_place() {
    let spring = read(9, 1.0);
    let touch = spring.at(mm(0.0)).unwrap();
    // Force is counted from where the curve has none: rounding of a covariance of some 15 N.
    assert!(touch.force.standard_uncertainty.si() < 1e-9 && touch.force.value.si().abs() < 1e-9, "{touch:?}");
    assert!(touch.rate.standard_uncertainty.si() > 10.0, "the rate is open there too: {touch:?}");
}

#[test]
fn a_straight_spring_has_its_rate_on_average() {
    let points: Vec<(f64, f64)> = (0..=8).map(|k| (0.01 * f64::from(k), 520.0 * f64::from(k))).collect();
    let found = fitted(&points, &parts()).unwrap();
    let Smoothed { mean_rate, touch, .. } = found.smoothed;
    assert!((mean_rate / 52e3 - 1.0).abs() < 1e-12, "{mean_rate}");
    // A straight line is smooth already, and touches where it is nothing.
    assert!(touch.abs() < 1e-9 && (found.end - 0.08).abs() < 1e-9, "{touch} {}", found.end);
}

#[test]
fn good_readings_are_seldom_suspect() {
    // 480 readings, one in 2000 by chance: more than three come once in ten thousand such tests.
    let found: usize = (200..240).map(|seed| read(seed, 1.0).suspect_readings().len()).sum();
    assert!(found <= 3, "{found}");
}

#[test]
fn a_load_is_held_against_what_the_others_say_without_it() {
    let mut readings = read(11, 1.0).readings().to_vec();
    readings[6].1 += Force::from_si(300.0);
    let with = MeasuredSpring::new(readings.clone(), parts()).unwrap();
    let (at, load) = readings.remove(6);
    let without = MeasuredSpring::new(readings, parts()).unwrap();
    let said = without.at(at - Length::from_si(without.fitted.smoothed.touch)).unwrap().force.value;
    let found = with.suspect_readings().into_iter().find(|one| one.index == 6).unwrap();
    // One and the same curve but for the mean rate that its forces are counted in, and the parabolas that follow it.
    assert!((found.off() - (load - said)).si().abs() < 1.0, "{found:?} {said:?}");
}

#[test]
fn as_a_spring_it_ends_where_it_was_read_and_answers_either_way() {
    let measured = read(13, 1.0);
    let spring = Spring::from(measured.clone());
    // Read to 120 mm; where it touches is off by some half millimetres.
    assert_eq!(spring.most_compression(), Some(measured.most_compression()));
    assert!((measured.most_compression() - mm(120.0)).si().abs() < 4e-3);
    for x in [0.02, 0.07, 0.11] {
        let by_force = spring.by_force(spring.eval(x).force);
        assert!(
            (by_force.compression - x).abs() < 1e-9 && (by_force.compliance * spring.eval(x).rate - 1.0).abs() < 1e-9
        );
    }
    let text = measured.describe();
    assert!(text.starts_with("measured spring, 12 readings to 1") && text.contains("N/mm on average"), "{text}");
}

#[test]
fn how_well_it_was_read_must_be_possible() {
    let sound = read(3, 1.0).readings().to_vec();
    let usual = parts();
    for (field, parts) in [
        ("force_uncertainty", MeasuredSpringParts { force_uncertainty: Force::from_si(0.0), ..usual }),
        ("compression_uncertainty", MeasuredSpringParts { compression_uncertainty: mm(-0.1), ..usual }),
        ("scale_uncertainty", MeasuredSpringParts { scale_uncertainty: Share::from_si(0.4), ..usual }),
        ("free_length", MeasuredSpringParts { free_length: Some(mm(2001.0)), ..usual }),
    ] {
        let said = MeasuredSpring::new(sound.clone(), parts).unwrap_err().to_string();
        assert!(said.starts_with(&format!("{field}: ")), "{said}");
    }
}

/// Which way round the compressions were written changes nothing of what is suspect, nor by how much.
#[test]
fn a_misread_load_is_the_same_by_length_as_by_compression() {
    let mut readings = read(11, 1.0).readings().to_vec();
    readings[6].1 += Force::from_si(300.0);
    let free = mm(260.0);
    let by_length = readings.iter().map(|&(at, force)| (free - at, force)).collect();
    let one = MeasuredSpring::new(readings, parts()).unwrap().suspect_readings();
    let other = MeasuredSpring::new(by_length, MeasuredSpringParts { free_length: Some(free), ..parts() }).unwrap();
    let other = other.suspect_readings();
    assert!(!one.is_empty() && one.len() == other.len());
    for (one, other) in one.iter().zip(&other) {
        assert!(one.index == other.index && (one.off() - other.off()).si().abs() < 1e-6, "{one:?} {other:?}");
    }
}

/// What the others say in the place of a reading at fault: a straight spring goes on straight, inside and beyond them.
#[test]
fn the_others_say_what_a_straight_spring_says() {
    let rate = 52e3;
    for (row, x, force) in [(3, 0.04, 9e3), (7, 0.095, 0.0), (7, 0.16, 100.0)] {
        let mut points: Vec<(f64, f64)> = (0..=8).map(|k| (0.01 * f64::from(k), 0.01 * rate * f64::from(k))).collect();
        points[row + 1] = (x, force);
        let (found, load) = odd_one(&points, &parts()).unwrap();
        assert_eq!(found, row);
        // The curve is straight to a thousandth of the load: the prior knows nothing of its rate.
        assert!((load / (rate * x) - 1.0).abs() < 1e-3, "{row}: {load} {}", rate * x);
    }
}

/// Of two readings of which either may be the one at fault, the one that is further off the others is named.
#[test]
fn of_two_that_may_be_at_fault_the_one_further_off_is_named() {
    let rate = 52e3;
    // Read well, so that nothing is smoothed away.
    let sure =
        MeasuredSpringParts { force_uncertainty: Force::from_si(1.0), compression_uncertainty: mm(0.02), ..parts() };
    for (up, down, named) in [(600.0, 900.0, 6), (900.0, 600.0, 5)] {
        let mut points: Vec<(f64, f64)> = (0..=8).map(|k| 0.01 * f64::from(k)).map(|x| (x, rate * x)).collect();
        // Neighbours in the wrong order: without either the rest rises.
        points[6].1 += up;
        points[7].1 -= down;
        assert!(fitted(&points, &sure).is_err());
        for out in [6, 7] {
            let others = [&points[..out], &points[out + 1..]].concat();
            assert!(fitted(&others, &sure).is_ok(), "{out}");
        }
        assert_eq!(odd_one(&points, &sure).map(|(row, _)| row), Some(named));
    }
}

/// Readings close together, and one far out, which is nearly all that says where the curve lies there: a load that is a fifth high is
/// no more than a spring that stiffens.
#[test]
fn a_reading_far_from_all_others_is_not_held_against_them() {
    for far in [30.0, 35.0, 40.0] {
        let load = |x: f64| Force::from_si(52.0 * x);
        let mut readings: Vec<(Length, Force)> =
            (1..=12).map(|k| 2.0 * f64::from(k)).map(|x| (mm(x), load(x))).collect();
        readings.push((mm(far), load(1.2 * far)));
        let spring = MeasuredSpring::new(readings, parts()).unwrap();
        assert!(spring.suspect_readings().is_empty(), "{far}: {:?}", spring.suspect_readings());
    }
}

/// Each reading left out costs a curve: none is sought among more than a person writes.
#[test]
fn a_reading_at_fault_is_sought_among_thirty_at_most() {
    let with_one_off = |count: usize| {
        let mut points: Vec<(f64, f64)> =
            (0..count).map(|k| 0.12 * k as f64 / count as f64).map(|x| (x, 52e3 * x)).collect();
        points[count / 2].1 = 14e3;
        assert!(fitted(&points, &parts()).is_err());
        odd_one(&points, &parts()).map(|(row, _)| row)
    };
    assert_eq!(with_one_off(20), Some(9));
    assert_eq!(with_one_off(MOST_SOUGHT), Some(MOST_SOUGHT / 2 - 1));
    for count in [MOST_SOUGHT + 1, 60] {
        assert_eq!(with_one_off(count), None, "{count}");
    }
}
