use super::*;
use crate::decide::narrowing::{after, spread_after};
use crate::infer::fit::tests::{BOTH, LABEL, readings, solve};
use crate::infer::model::tests::Straight;
use crate::units::Length;

const TOOLS: Tools = Tools { tape: 1.5e-3, scale: 4.9 };

fn rate(solved: &Solved) -> Deciding {
    Deciding { number: solved.factor().gradient, wanted: None }
}

/// Every task with what it brings.
fn brought(solved: &Solved) -> Vec<NextReading> {
    let (deciding, covariance) = (rate(solved), &solved.posterior.covariance);
    let tasks = solved.tasks(TOOLS).into_iter();
    tasks.filter_map(|(task, coming)| worth(task, &deciding, covariance, &after(covariance, &coming))).collect()
}

/// Uncertainty of the rate once the readings are taken.
fn rate_uncertainty(rows: &[(&str, f64)]) -> f64 {
    let end = Straight::usual();
    solve(&end, &readings(&end, rows), LABEL, 1.5e-3).fit().rate.standard_uncertainty.si()
}

#[test]
fn the_gain_promised_is_the_gain_had() {
    let end = Straight::usual();
    let solved = solve(&end, &readings(&end, &BOTH), LABEL, 1.5e-3);
    let plans = brought(&solved);
    assert!(plans.iter().any(|plan| plan.remaining.si() < 0.9));
    let pair = |load: &str, pairs: usize| {
        let rows: Vec<_> = BOTH.iter().copied().filter(|(name, _)| *name == load).cycle().take(2 * pairs).collect();
        rate_uncertainty(&[&BOTH[..], &rows].concat()) / rate_uncertainty(&BOTH)
    };
    for plan in &plans {
        let had = match &plan.task {
            Task::Pairs { load, pairs: count } => pair(&load.to_string(), *count),
            Task::Extended { readings } => {
                rate_uncertainty(&[&BOTH[..], &vec![("none", 0.0); *readings]].concat()) / rate_uncertainty(&BOTH)
            }
            _ => continue,
        };
        // Exact readings: the expansion points hardly move.
        assert!((plan.remaining.si() - had).abs() < 0.01, "{:?}: {had}", plan);
    }
}

#[test]
fn a_load_weighed_twice_as_one_is_known_as_scales_and_unsprung_mass_allow() {
    let end = Straight::usual();
    let rows = [readings(&end, &BOTH[..1]), readings(&end, &BOTH[3..4])].concat();
    let solved = solve(&end, &rows, LABEL, 1.5e-3);
    let scale = 0.5 * STANDARD_GRAVITY_SI;
    let count = solved.evidence.all_unknowns();
    // Prior of bike + rider: two masses on the scale and the unsprung one, 3u²; the scale once more over both masses, by
    // the textbook on the three errors apart: 1/(1/2u² + 1/u²) + u² = (2/3 + 1)u².
    let mut prior = DMatrix::zeros(count, count);
    prior[(LOADS, LOADS)] = 1.0;
    let gradient = solved.load(0).gradient;
    assert!((spread(&prior, &gradient) / scale - 3f64.sqrt()).abs() < 1e-9);
    let narrowed = after(&prior, &[solved.weighing(0, scale)]);
    assert!((spread(&narrowed, &gradient) / scale - (5f64 / 3.0).sqrt()).abs() < 1e-9);
}

#[test]
fn what_readings_share_is_not_averaged_away() {
    let prior = DMatrix::identity(1, 1) * 1e6;
    let coming = Coming { derivatives: DVector::from_element(1, 1.0), variance: 1.0, shared: 0.5 };
    let variance = after(&prior, &vec![coming; 100])[(0, 0)];
    // A hundredth of the variance of one reading, and the whole of what they share; 1e-6 of the prior.
    assert!((variance - (0.01 + 0.25)).abs() < 1e-5, "{variance}");
}

#[test]
fn a_topped_out_load_is_never_asked_for() {
    let stiff = Straight { preload: 0.035, ..Straight::usual() };
    let solved = solve(&stiff, &readings(&stiff, &BOTH), LABEL, 1.5e-3);
    let plans = brought(&solved);
    let bike = Load::parse("bike").unwrap();
    assert!(plans.iter().all(|plan| !matches!(&plan.task, Task::Pairs { load, .. } if *load == bike)), "{plans:?}");
}

#[test]
fn a_reading_with_ballast_has_the_derivatives_of_the_place_where_the_wheel_rests() {
    /// Central differences of unknowns of unit variance, on smooth places.
    const STEP: f64 = 1e-4;
    let end = Straight::usual();
    let solved = solve(&end, &readings(&end, &BOTH), LABEL, 1.5e-3);
    let rider = solved.gathered.loads.len() - 1;
    // What the tape shows under the last load, with so many newtons on it, the unknowns moved.
    let shown = |side: f64, added: f64, unknown: usize, by: f64| {
        let mut unknowns = solved.posterior.unknowns.clone();
        unknowns[unknown] += by;
        let [factor, preload, friction, zero] = solved.evidence.physical(&unknowns);
        let force = solved.evidence.load(&unknowns, rider) + added + side * friction;
        let (expansion, travel, _) = settle_exactly(&end, force, factor, preload, 0.1).unwrap();
        zero - expansion.tape(travel).0
    };
    for ballast in [0.0, 20.0] {
        let added = ballast * STANDARD_GRAVITY_SI;
        let coming = solved.pairs(rider, ballast, TOOLS, 1).unwrap();
        assert_eq!(coming.len(), 2);
        for (coming, side) in coming.iter().zip([1.0, -1.0]) {
            for unknown in [RATE, PRELOAD, FRICTION, ZERO, LOADS, LOADS + rider] {
                let found = (shown(side, added, unknown, STEP) - shown(side, added, unknown, -STEP)) / (2.0 * STEP);
                let stated = coming.derivatives[unknown];
                assert!((found - stated).abs() < 1e-6 * (1e-3 + stated.abs()), "{unknown}: {found} and {stated}");
            }
            // The ballast is on the scale once, for both.
            let per_newton = (shown(side, added + 1.0, RATE, 0.0) - shown(side, added - 1.0, RATE, 0.0)) / 2.0;
            let shared = if ballast > 0.0 { per_newton * TOOLS.scale } else { 0.0 };
            assert!((coming.shared - shared).abs() <= 1e-5 * shared.abs(), "{} and {shared}", coming.shared);
        }
    }
}

#[test]
fn a_spring_under_a_press_is_as_good_as_scale_and_caliper() {
    // A stiff spring takes all that the scale does, a soft one all that a person can press.
    for spring_rate in [120e3, 9e3] {
        let end = Straight { spring_rate, ..Straight::usual() };
        let solved = solve(&end, &[], LABEL, 1.5e-3);
        let tasks = solved.tasks(TOOLS);
        let (_, coming) = tasks.iter().find(|(task, _)| *task == Task::SpringRate).unwrap();
        let force = (100.0 * STANDARD_GRAVITY_SI).min(0.05 * spring_rate);
        let pressed = force / spring_rate;
        // k = F/x: the scale once, the caliper before and after, propagated by numbers.
        let rate = |force: f64, pressed: f64| force / pressed;
        let by_scale = rate(force + 0.5 * STANDARD_GRAVITY_SI, pressed) / spring_rate - 1.0;
        let by_caliper = (rate(force, pressed - 1e-9) / spring_rate - 1.0) / 1e-9 * 0.3e-3 * 2f64.sqrt();
        let expected = by_scale * by_scale + by_caliper * by_caliper;
        assert!((coming[0].variance / expected - 1.0).abs() < 1e-5, "{} and {expected}", coming[0].variance);
        assert!((coming[0].derivatives[RATE] - solved.evidence.priors.rate).abs() < 1e-15);
    }
}

#[test]
fn a_table_of_lengths_counts_from_one_zero() {
    let end = Straight::usual();
    let solved = solve(&end, &readings(&end, &BOTH), LABEL, 1.5e-3);
    // What is known exactly of the way from wheel to shock has nothing to be read of it.
    assert!(solved.evidence.end.path_at().is_empty());
    assert!(solved.tasks(TOOLS).iter().all(|(task, _)| !matches!(task, Task::ShockTable { .. })));
    let known =
        crate::wheel::PivotUncertainty { coordinate: Length::from_si(2e-3), shock_length: Length::from_si(0.0) };
    let bike = crate::Bike::from_toml(crate::demo::PATROL).unwrap();
    let rear = bike.rear().unwrap().clone().with_pivots_known_to(known).unwrap();
    let bike = bike.with(|parts| parts.rear = Some(rear)).unwrap();
    let study = bike.study(End::Rear).unwrap();
    let solved = &study.solved;
    let tasks = solved.tasks(TOOLS);
    let (_, coming) = tasks.iter().find(|(task, _)| matches!(task, Task::ShockTable { .. })).unwrap();
    assert_eq!(coming.len(), TABLE_STEPS);
    for (step, row) in (1..).zip(coming) {
        // A length read at a travel read from the zero: the tape on the shock, and on the wheel once here and once at the zero.
        let travel = solved.evidence.end.full_travel() * f64::from(step) / TABLE_STEPS as f64;
        let ratio = solved.evidence.end.kinematics(travel).unwrap().ratio;
        let alone = TOOLS.tape.powi(2) + (ratio * TOOLS.tape).powi(2);
        assert!((row.variance / alone - 1.0).abs() < 1e-12, "{step}");
        assert!((row.shared / (ratio * TOOLS.tape) - 1.0).abs() < 1e-12, "{step}");
    }
}

#[test]
fn what_is_left_of_one_number_is_what_the_narrowed_covariance_says_of_it() {
    let end = Straight::usual();
    let solved = solve(&end, &readings(&end, &BOTH), LABEL, 1.5e-3);
    let (covariance, number) = (&solved.posterior.covariance, rate(&solved).number);
    for (task, coming) in solved.tasks(TOOLS) {
        let (one, other) = (spread_after(covariance, &coming, &number), spread(&after(covariance, &coming), &number));
        // Two orders of the same sums.
        assert!((one / other - 1.0).abs() < 1e-9, "{task:?}: {one} {other}");
    }
}

#[test]
fn a_task_is_worth_what_it_leaves_of_what_is_left_to_narrow() {
    let before = DMatrix::identity(2, 2) * 4.0;
    let after = DMatrix::from_diagonal(&DVector::from_vec(vec![1.0, 4.0]));
    let deciding = |number: [f64; 2]| Deciding { number: number.to_vec(), wanted: Some(vec![500.0, 0.0]) };
    let found = worth(Task::Weigh, &deciding([0.3, 0.0]), &before, &after).unwrap();
    assert!((found.remaining.si() - 0.5).abs() < 1e-12, "{found:?}");
    let [now, then] = found.wanted_rate.unwrap();
    assert!((now.si() - 1000.0).abs() < 1e-9 && (then.si() - 500.0).abs() < 1e-9, "{found:?}");
    assert!((found.effort.si() - 1200.0).abs() < 1e-12 && found.task == Task::Weigh);
    // √((4·(0.3² + 0.4²) − 3·0.3²)/(4·0.25))
    let both = worth(Task::Weigh, &deciding([0.3, 0.4]), &before, &after).unwrap();
    assert!((both.remaining.si() - 0.73_f64.sqrt()).abs() < 1e-12, "{both:?}");
    assert_eq!(worth(Task::Weigh, &deciding([0.0, 0.0]), &before, &after), None, "nothing is left to narrow");
}
