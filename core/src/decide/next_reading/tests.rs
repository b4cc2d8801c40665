use super::*;
use crate::infer::fit::tests::{BOTH, LABEL, readings, solve};
use crate::infer::model::tests::Straight;

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
