//! The model against simulated garages: intervals must cover the truth as often as they say.

use super::*;
use crate::infer::model::settle_exactly;
use crate::infer::model::tests::Straight;
use crate::infer::probability::COVERAGE_95;
use rand_distr::{Distribution, StandardNormal, Uniform};
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;

struct Truth {
    unknowns: Vec<f64>,
    observations: Vec<Observation>,
}

const PRIORS: Priors = Priors { rate: 0.03, preload: 2e-3, friction: (40.0, 40.0) };
const EXTENDED: f64 = 0.655;
const TAPE: f64 = 1.5e-3;

/// Bike and bike + rider: 46.5 and 112.5 kg sprung, scales to 0.5 kg, the bike and the unsprung parts in both.
fn loads(bike: f64, rider: f64) -> Loads {
    let g = 9.80665;
    let u = 0.5 * g;
    let (first, cross) = ((2.0_f64).sqrt() * u, 2.0 * u * u);
    let root = DMatrix::from_row_slice(2, 2, &[first, 0.0, cross / first, (3.0 * u * u - 2.0 * u * u).sqrt()]);
    Loads { mean: vec![bike * g, rider * g], unsprung: u, root }
}

fn evidence(end: &Straight, loads: &Loads, observations: Vec<Observation>) -> Evidence {
    Evidence {
        end: Arc::new(*end),
        priors: PRIORS,
        loads: Arc::new(loads.clone()),
        hanging: -170.0,
        observations,
        zero: EXTENDED,
        zeroed: None,
        doubts: Doubts::AS_STATED,
        unnoted: (0.0, 1.0 / 3.0),
        centres: Vec::new(),
        before: None,
    }
}

/// A bike in a random true state, and what a person would read on it. `sides` lists the loaded readings.
fn garage(end: &Straight, loads: &Loads, sides: &[(usize, f64)], random: &mut Xoshiro256PlusPlus) -> Truth {
    let mut normal = || -> f64 { StandardNormal.sample(random) };
    let mut unknowns: Vec<f64> = (0..LOADS + loads.mean.len()).map(|_| normal()).collect();
    unknowns[ZERO] = 0.0;
    while PRIORS.friction.0 + unknowns[FRICTION] * PRIORS.friction.1 < 0.0 {
        unknowns[FRICTION] = normal();
    }
    let model = evidence(end, loads, Vec::new());
    let [factor, preload, friction, _] = model.physical(&unknowns);
    let mut observations = Vec::new();
    for (load, side) in
        [(None, 0.0), (None, 0.0)].into_iter().chain(sides.iter().map(|&(load, side)| (Some(load), side)))
    {
        let position = match load {
            None => 0.0,
            Some(load) => {
                let slip = if side == 0.0 { Uniform::new(-1.0, 1.0).unwrap().sample(random) } else { side };
                let force = model.load(&unknowns, load) + slip * friction;
                settle_exactly(end, force, factor, preload, 0.05).unwrap().1.max(0.0)
            }
        };
        let noise: f64 = StandardNormal.sample(random);
        let distance = EXTENDED - position + noise * TAPE;
        let sag = EXTENDED - distance;
        observations.push(Observation {
            distance,
            deviation: TAPE,
            load,
            side,
            unnoted: load.is_some() && side == 0.0,
            zeroed: false,
            own_zero: false,
            may_top_out: load.is_none() || sag < NEAR_STOP * TAPE * 2f64.sqrt(),
            may_bottom_out: false,
            gross: Found::default(),
        });
    }
    Truth { unknowns, observations }
}

/// Shares of garages in which the 95 % interval of rate, preload and friction holds the truth, and the mean errors in
/// standard uncertainties.
fn coverage(garages: usize, sides: &[(usize, f64)], bike: f64) -> ([f64; 3], [f64; 3]) {
    let mut random = Xoshiro256PlusPlus::seed_from_u64(20);
    let (mut covered, mut bias) = ([0.0; 3], [0.0; 3]);
    for _ in 0..garages {
        let vary: [f64; 3] = core::array::from_fn(|_| Uniform::new(-1.0, 1.0).unwrap().sample(&mut random));
        let usual = Straight::usual();
        let end = Straight {
            slope: 0.5 + 0.4 * vary[0],
            spring_rate: usual.spring_rate * (1.0 + 0.15 * vary[1]),
            preload: 0.012 + 0.004 * vary[2],
            ..usual
        };
        let loads = loads(bike, bike + 66.0);
        let truth = garage(&end, &loads, sides, &mut random);
        let evidence = evidence(&end, &loads, truth.observations);
        let posterior = evidence.solve_cut(&vec![0.0; evidence.unknowns()]).unwrap();
        for k in [RATE, PRELOAD, FRICTION] {
            let deviation = posterior.covariance[(k, k)].sqrt();
            let error = (posterior.unknowns[k] - truth.unknowns[k]) / deviation;
            covered[k] += f64::from(error.abs() <= COVERAGE_95) / garages as f64;
            bias[k] += error / garages as f64;
        }
    }
    (covered, bias)
}

/// Garages in the test run: a share of 0.95 of them has a standard deviation of 0.7 %.
const GARAGES: usize = 1000;
/// Four standard deviations of the binomial share, and of the mean error: one run in ten thousand strays further.
const SHARE_LIMIT: f64 = 4.0 * 0.0069;
const BIAS_LIMIT: f64 = 4.0 / 31.6;

fn assert_calibrated(what: &str, (covered, bias): ([f64; 3], [f64; 3])) {
    for (k, name) in ["rate", "preload", "friction"].into_iter().enumerate() {
        assert!((covered[k] - 0.95).abs() <= SHARE_LIMIT, "{what}: {name} is covered {:.3}", covered[k]);
        assert!(bias[k].abs() <= BIAS_LIMIT, "{what}: {name} is off by {:.3} u on average", bias[k]);
    }
}

#[test]
fn intervals_cover_the_truth() {
    let both = [(0, 1.0), (0, -1.0), (1, 1.0), (1, -1.0)];
    assert_calibrated("both loads, both sides", coverage(GARAGES, &both, 46.5));
    assert_calibrated("repeats", coverage(GARAGES, &[both, both].concat(), 46.5));
    assert_calibrated("one load", coverage(GARAGES, &both[..2], 46.5));
    assert_calibrated("settling not noted", coverage(GARAGES, &[(0, 0.0), (0, 0.0), (1, 0.0), (1, 0.0)], 46.5));
    assert_calibrated("light bike, often topped out", coverage(GARAGES, &both, 36.0));
}

/// A reading and the zero it is counted from are both uncertain: `u² = d² + d²/n` of a sag counted from the mean of n readings.
#[test]
fn what_may_be_on_a_stop_counts_the_uncertainty_of_the_zero() {
    let reading = |distance: f64, load: Option<usize>| at(distance, TAPE, load);
    let (full, near) = (0.3, NEAR_STOP * TAPE * 1.5_f64.sqrt());
    let sags = [near - 1e-5, near + 1e-5, full - near - 1e-5, full - near + 1e-5];
    let mut all = vec![reading(EXTENDED + 1e-3, None), reading(EXTENDED - 1e-3, None)];
    all.extend(sags.map(|sag| reading(EXTENDED - sag, Some(0))));
    let zero = Observation::mark_stops(&mut all, full);
    assert!((zero - EXTENDED).abs() < 1e-15);
    let marked: Vec<(bool, bool)> = all[2..].iter().map(|one| (one.may_top_out, one.may_bottom_out)).collect();
    assert_eq!(marked, [(true, false), (false, false), (false, false), (false, true)]);
    assert!(all[..2].iter().all(|one| one.may_top_out && !one.may_bottom_out));
}

/// Repeats at one place are brought together, and cost what each of them alone costs: `Σ w·(d − p)² + Σ θ²`.
#[test]
fn repeats_cost_what_they_cost_one_by_one() {
    let mut random = Xoshiro256PlusPlus::seed_from_u64(3);
    let (end, loads) = (Straight::usual(), loads(46.5, 112.5));
    let sides = [(0, 1.0), (0, 1.0), (0, -1.0), (1, 1.0), (1, 1.0), (1, 1.0), (1, -1.0)];
    let evidence = evidence(&end, &loads, garage(&end, &loads, &sides, &mut random).observations);
    let posterior = evidence.solve_cut(&vec![0.0; evidence.unknowns()]).unwrap();
    let distances =
        posterior.predictions.readings.iter().map(|&(place, _)| posterior.predictions.places[place].distance);
    let off =
        evidence.observations.iter().zip(distances).map(|(one, distance)| (one.distance - distance) / one.deviation);
    let priors = posterior.unknowns.iter().enumerate().filter(|(k, _)| *k != ZERO).map(|(_, unknown)| unknown);
    let plain: f64 = off.map(|off| off * off).sum::<f64>() + priors.map(|unknown| unknown * unknown).sum::<f64>();
    assert!((posterior.cost / plain - 1.0).abs() < 1e-9, "{} against {plain}", posterior.cost);
}

fn at(distance: f64, deviation: f64, load: Option<usize>) -> Observation {
    Observation {
        distance,
        deviation,
        load,
        side: if load.is_some() { 1.0 } else { 0.0 },
        unnoted: false,
        zeroed: false,
        own_zero: false,
        may_top_out: false,
        may_bottom_out: false,
        gross: Found::default(),
    }
}

/// All numbers are exact in binary. Sags that count from no reading have the zero of a gauge: none of it is uncertain here.
#[test]
fn a_sag_three_deviations_from_a_stop_is_no_longer_near_it() {
    const HAIR: f64 = 1e-9;
    let (deviation, full) = (2f64.powi(-9), 0.25);
    let near = NEAR_STOP * deviation;
    let sags = [near - HAIR, near, full - near, full - near + HAIR];
    let mut all = sags.map(|sag| at(-sag, deviation, Some(0)));
    assert_eq!(Observation::mark_stops(&mut all, full), 0.0);
    let marked = all.map(|one| (one.may_top_out, one.may_bottom_out));
    assert_eq!(marked, [(true, false), (false, false), (false, false), (false, true)]);
}

/// Errors that were found count with what the tape errs: `(x − p)ᵀ·C⁻¹·(x − p) + Σ θ²`, with `C` of the readings' own errors on
/// its diagonal, and that of the place in every element of it.
#[test]
fn errors_that_were_found_widen_a_reading_or_its_whole_place() {
    let mut random = Xoshiro256PlusPlus::seed_from_u64(5);
    let (end, loads) = (Straight::usual(), loads(46.5, 112.5));
    let sides = [(0, 1.0), (0, 1.0), (0, -1.0), (1, 1.0), (1, 1.0), (1, 1.0), (1, -1.0)];
    let mut evidence = evidence(&end, &loads, garage(&end, &loads, &sides, &mut random).observations);
    // After two extended readings: one reading at the first place, and all of the fourth.
    evidence.observations[2].gross.own = 4e-3;
    evidence.observations[2].distance += 5e-3;
    for one in &mut evidence.observations[5..8] {
        one.gross.shared = 6e-3;
        one.distance -= 4e-3;
    }
    let posterior = evidence.solve(&[]).unwrap();
    let readings: Vec<(&Observation, usize)> =
        evidence.observations.iter().zip(posterior.predictions.readings.iter().map(|(place, _)| *place)).collect();
    let covariance = DMatrix::from_fn(readings.len(), readings.len(), |i, j| {
        let ((one, place), (other, place_of_other)) = (readings[i], readings[j]);
        let own = if i == j { one.deviation.powi(2) + one.gross.own.powi(2) } else { 0.0 };
        own + if place == place_of_other { one.gross.shared * other.gross.shared } else { 0.0 }
    });
    let off = readings.iter().map(|(one, place)| one.distance - posterior.predictions.places[*place].distance);
    let off = DVector::from_iterator(readings.len(), off);
    let priors = posterior.unknowns.iter().enumerate().filter(|(k, _)| *k != ZERO).map(|(_, unknown)| unknown);
    let plain = off.dot(&covariance.cholesky().unwrap().solve(&off)) + priors.map(|one| one * one).sum::<f64>();
    // Places end within a ten-thousandth of a standard deviation of where they rest.
    assert!((posterior.cost / plain - 1.0).abs() < 1e-6, "{} against {plain}", posterior.cost);
    let narrow = 1.0 / (3.0 * TAPE.powi(-2)) + 36e-6;
    let place = &posterior.predictions.places[readings[5].1];
    assert!((place.weight * narrow - 1.0).abs() < 1e-9, "three of a tape, and what they share: {}", place.weight);
}

#[test]
fn whatever_is_not_worth_the_distribution_function_is_not_beyond_chance() {
    let beyond = |above: f64| (1..=3000).filter(|&n| chi_square_exceeds(n as f64 + above, n) < BEYOND_CHANCE).count();
    assert_eq!(beyond(ODD), 0);
    // A little further above it is, with one degree of freedom.
    assert!(beyond(ODD + 1.0) > 0);
}
