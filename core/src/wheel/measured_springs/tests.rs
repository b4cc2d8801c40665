//! The deviations against what the measured spring itself says of its own uncertainty.

use super::*;
use crate::fork::{Fork, ForkLeg};
use crate::shock::{Shock, ShockParts};
use crate::spring::MeasuredSpringParts;
use crate::units::{Angle, Force, Length, SpringRate};

fn mm(length: f64) -> Length {
    Length::from_si(length / 1000.0)
}

/// A spring that stiffens by a quarter, read at ten compressions up to `end` millimetres.
fn spring(rate: f64, end: f64, force: f64, scale: f64) -> MeasuredSpring {
    let at = |step: u8| end * f64::from(step) / 10.0;
    let readings = (1..=10).map(at).map(|x| (mm(x), Force::from_si(rate * x * (1.0 + 0.25 * x / end)))).collect();
    let parts = MeasuredSpringParts {
        force_uncertainty: Force::from_si(force),
        compression_uncertainty: mm(0.3),
        scale_uncertainty: Share::from_si(scale),
        free_length: None,
    };
    MeasuredSpring::new(readings, parts).unwrap()
}

fn preloaded(spring: &MeasuredSpring, preload: f64) -> Preloaded {
    Preloaded::new(spring.clone(), mm(preload)).unwrap()
}

fn nodes(full: f64) -> impl Iterator<Item = f64> {
    (0..NODES).map(move |node| full * node as f64 / (NODES - 1) as f64)
}

/// Variances of force and rate at a compression, without what all loads share unless that is asked for; nothing of a loose one.
fn said(spring: &MeasuredSpring, compression: f64, shared: bool) -> [f64; 2] {
    if compression <= 0.0 {
        return [0.0; 2];
    }
    let point = spring.at(Length::from_si(compression)).unwrap();
    let scale = if shared { 0.0 } else { spring.parts().scale_uncertainty.si() };
    let force = point.force.standard_uncertainty.si().powi(2) - (scale * point.force.value.si()).powi(2);
    let rate = point.rate.standard_uncertainty.si().powi(2) - (scale * point.rate.value.si()).powi(2);
    [force, rate]
}

/// Principal components under 3e-3 of the greatest are left out of a variance over 41 nodes: under a hundredth of the most.
fn hold(found: &[(Origin, Deviation)], of: Origin, full: f64, wanted: impl Fn(f64) -> [f64; 2]) {
    assert!(!found.is_empty() && found.iter().all(|(origin, _)| *origin == of), "{found:?}");
    let wanted: Vec<[f64; 2]> = nodes(full).map(wanted).collect();
    for number in 0..2 {
        let most = wanted.iter().map(|one| one[number]).fold(0.0, f64::max);
        assert!(most > 0.0, "nothing is uncertain");
        for (s, wanted) in nodes(full).zip(&wanted) {
            let variance: f64 = found.iter().map(|(_, one)| one.at(s)[number + 1].powi(2)).sum();
            assert!((variance - wanted[number]).abs() < 1e-2 * most, "{number} at {s}: {variance}, {}", wanted[number]);
        }
    }
}

/// Energy is the integral of force, and force of rate, to what the corrected trapezium leaves of smooth deviations over 40 steps.
fn are_integrals(found: &[Vec<[f64; 3]>], step: f64, bent: f64) {
    let most = found.iter().flatten().map(|one| one[1].abs()).fold(0.0, f64::max);
    for of in found {
        assert_eq!((of.len(), of[0][0]), (NODES, 0.0));
        let long = step * NODES as f64;
        for pair in of.windows(2) {
            let [from, to] = [pair[0], pair[1]];
            let energy = 0.5 * step * (from[1] + to[1]) + step * step / 12.0 * (from[2] - to[2]);
            assert!((to[0] - from[0] - energy).abs() < 1e-4 * most * long, "{from:?} {to:?} {energy}");
            let force = 0.5 * step * (from[2] + to[2]);
            assert!((to[1] - from[1] - force).abs() < bent * most, "{from:?} {to:?} {force}");
        }
    }
}

#[test]
fn a_main_spring_pushes_as_uncertain_as_it_was_read() {
    let (full, spring) = (0.1, spring(50.0, 120.0, 15.0, 0.02));
    for count in [1, 2] {
        let found = of_main([&preloaded(&spring, 14.0)].into_iter(), count, full);
        hold(&found, Origin::Spring, full, |s| {
            said(&spring, s + 0.014, false).map(|one| one * f64::from(count).powi(2))
        });
    }
    assert!(of_main([&Preloaded::linear(SpringRate::from_si(5e4), mm(14.0)).unwrap()].into_iter(), 1, full).is_empty());
}

#[test]
fn energies_are_integrals_and_courses_add_up() {
    let (full, spring) = (0.1, spring(50.0, 120.0, 15.0, 0.02));
    let course = |start: f64, times: f64| Course { start, sign: 1.0, times };
    let [one, other] =
        [(0.005, 1.0), (0.016, 2.0)].map(|(start, times)| pushes(&spring, &[course(start, times)], full));
    let both = pushes(&spring, &[course(0.005, 1.0), course(0.016, 2.0)], full);
    let step = full / (NODES - 1) as f64;
    // The force itself is a cubic in each of a few dozen cells; the trapezium leaves a few thousandths of it.
    for found in [&one, &other, &both] {
        are_integrals(found, step, 0.01);
    }
    assert_eq!((one.len(), other.len()), (both.len(), both.len()));
    let most = both.iter().flatten().map(|at| at[2].abs()).fold(0.0, f64::max);
    for (k, all) in both.iter().enumerate() {
        for (node, found) in all.iter().enumerate() {
            for number in 0..3 {
                let sum = one[k][node][number] + other[k][node][number];
                // Rounding of sums of numbers up to the greatest rate.
                assert!((found[number] - sum).abs() < 1e-12 * most, "{found:?} {sum}");
            }
        }
    }
}

#[test]
fn legs_share_the_error_of_one_spring_and_add_those_of_two() {
    let full = 0.1;
    let [one, other] = [spring(5.0, 140.0, 3.0, 0.01), spring(6.0, 140.0, 5.0, 0.01)];
    let legs = |springs: [&MeasuredSpring; 2]| {
        let legs = springs.map(|spring| ForkLeg::new().with_spring(preloaded(spring, 10.0)));
        FrontEnd::new(Fork::new(Length::from_si(full), Angle::from_si(0.4), legs).unwrap()).measured_pushes()
    };
    hold(&legs([&one, &one]), Origin::Spring, full, |s| said(&one, s + 0.01, false).map(|own| 4.0 * own));
    hold(&legs([&one, &other]), Origin::Spring, full, |s| {
        let [a, b] = [&one, &other].map(|spring| said(spring, s + 0.01, false));
        [a[0] + b[0], a[1] + b[1]]
    });
}

/// Of stops what all loads share is in it too: one error more.
#[test]
fn stops_push_as_uncertain_as_they_were_read_where_they_act() {
    // No node lies on the kink at which they begin.
    let (full, acts) = (0.1, 0.021);
    let spring = spring(60.0, 25.0, 10.0, 0.05);
    let stop = Stop::new(spring.clone(), Length::from_si(acts)).unwrap();
    for count in [1, 2] {
        let by = f64::from(count).powi(2);
        let bump = of_stops([(&stop, true)].into_iter(), count, full);
        hold(&bump, Origin::Stop, full, |s| said(&spring, s - (full - acts), true).map(|one| one * by));
        let top = of_stops([(&stop, false)].into_iter(), count, full);
        hold(&top, Origin::Stop, full, |s| said(&spring, acts - s, true).map(|one| one * by));
    }
    assert!(
        of_stops([(&Stop::linear(SpringRate::from_si(5e4), mm(20.0)).unwrap(), true)].into_iter(), 1, full).is_empty()
    );
}

#[test]
fn an_end_gathers_its_stops_before_its_springs() {
    let (main, soft) = (spring(50.0, 150.0, 15.0, 0.02), spring(60.0, 25.0, 10.0, 0.05));
    let stop = || Stop::new(soft.clone(), mm(20.0)).unwrap();
    let parts = || ShockParts::new().with_spring(preloaded(&main, 14.0)).with_bump_stop(stop()).with_top_out(stop());
    let shock = Shock::new(mm(468.7), mm(118.0), parts(), 1).unwrap();
    let travel = crate::wheel::Outline { travel: Some(mm(300.0)), ..Default::default() };
    let rear = RearEnd::from_outline(travel, shock, crate::record::Usual::any()).unwrap();
    let found = rear.measured_pushes();
    let stops = found.iter().take_while(|(origin, _)| *origin == Origin::Stop).count();
    assert!(stops >= 2 && stops < found.len() && found[stops..].iter().all(|(origin, _)| *origin == Origin::Spring));
}

#[test]
fn a_measured_spring_is_known_as_well_as_its_scales() {
    let labels = SpringPrior::default();
    let (read, label) = (spring(5.0, 140.0, 3.0, 0.01), Spring::linear(SpringRate::from_si(6e3)).unwrap());
    let read = Spring::from(read);
    assert_eq!(prior_of([&label].into_iter(), labels), labels);
    let of = |springs: &[&Spring]| prior_of(springs.iter().copied(), labels).rate_standard_uncertainty().si();
    // Rounding of a product with √3 and back.
    assert!((of(&[&read]) - 0.01).abs() < 1e-15);
    let [a, b] = [&read, &label].map(|spring| spring.named_rate().si());
    let both = (0.01 * a + labels.rate_standard_uncertainty().si() * b) / (a + b);
    assert!((of(&[&read, &label]) - both).abs() < 1e-15);
    assert_eq!(prior_of([&read].into_iter(), labels).preload_uncertainty, labels.preload_uncertainty);
}
