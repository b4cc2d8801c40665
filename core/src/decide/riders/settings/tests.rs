//! Riders whose sags run straight over preload and draws, counted one by one.

use super::*;

/// Collar at the start (m), and its steps.
const CHANGE: f64 = 2e-3;
const SETTABLE: Settable = Settable { origin: 0.0, step: 0.25e-3, ends: (-3.1e-3, 6.2e-3), open: false };

/// One unknown of the fit, label and zero of the collar, and the tape.
fn draws() -> Draws {
    let mut random = Xoshiro256PlusPlus::seed_from_u64(7);
    let draw = |_| (0..1 + BESIDE).map(|_| StandardNormal.sample(&mut random)).collect();
    drawn((0..60).map(draw).collect())
}

/// These draws, one after the other.
fn drawn(each: Vec<Vec<f64>>) -> Draws {
    let columns = (0..1 + BESIDE).map(|unknown| each.iter().map(|draw| draw[unknown]).collect()).collect();
    Draws { root: nalgebra::DMatrix::identity(1, 1), columns }
}

fn dot(left: &[f64], right: &[f64]) -> f64 {
    left.iter().zip(right).map(|(a, b)| a * b).sum()
}

/// A rider whose sag is so much deeper than that of a middle one (m).
fn line(deeper: f64, weight: f64) -> Lines {
    line_over(&draws(), deeper, weight)
}

fn line_over(draws: &Draws, deeper: f64, weight: f64) -> Lines {
    let of = |draw: usize| draws.columns.iter().map(|column| column[draw]).collect::<Vec<f64>>();
    let over = |along: [f64; 4]| (0..draws.count()).map(|draw| dot(&along, &of(draw))).collect();
    Lines {
        place: Place { under: 0, on_top: 600.0, weight },
        aim: Aim { rider: (98e-3, 106e-3), free: (28e-3, 40e-3), value: 102e-3 },
        change: CHANGE,
        sags: [102e-3 + deeper, 33e-3],
        slopes: [-2.4, -2.9],
        turned: [over([1.5e-3, 0.4e-3, -0.8e-3, 0.0]), over([1.1e-3, -0.3e-3, -0.9e-3, 0.0])],
        needed: over([0.7e-3, 0.2e-3, -0.3e-3, 0.0]),
        tape: 0.6e-3,
    }
}

fn lines() -> Vec<Lines> {
    vec![line(-3e-3, 0.2), line(0.5e-3, 0.5), line(5e-3, 0.3)]
}

fn inside(value: f64, (low, high): Interval) -> bool {
    low <= value && value <= high
}

/// Share of riders, over all draws, that a collar suits which is turned to a change and left, or read again there.
fn counted(draws: &Draws, lines: &[Lines], read: Option<usize>, at: f64) -> f64 {
    let mut suited = 0.0;
    for draw in 0..draws.count() {
        let collar = (at + reading(draws, lines, read, draw)).clamp(SETTABLE.ends.0, SETTABLE.ends.1);
        for line in lines {
            let [rider, free] = line.sags(draw, collar);
            suited +=
                if inside(rider, line.aim.rider) && inside(free, line.aim.free) { line.place.weight } else { 0.0 };
        }
    }
    suited / draws.count() as f64
}

#[test]
fn sags_run_straight_over_collar_and_draw() {
    let draws = drawn(vec![vec![0.5, -2.0, 1.5, 9.0]]);
    let line = line_over(&draws, 1e-3, 1.0);
    let [rider, free] = line.sags(0, CHANGE + 1e-3);
    // What the tape of a common reading puts off is in the collar.
    assert!((rider - (103e-3 + 0.75e-3 - 0.8e-3 - 1.2e-3 - 2.4e-3)).abs() < 1e-15, "{rider}");
    assert!((free - (33e-3 + 0.55e-3 + 0.6e-3 - 1.35e-3 - 2.9e-3)).abs() < 1e-15, "{free}");
    let further = reading(&draws, core::slice::from_ref(&line), Some(0), 0);
    assert!((further - (0.35e-3 - 0.4e-3 - 0.45e-3 + 5.4e-3)).abs() < 1e-15, "{further}");
    assert!(reading(&draws, &[line], None, 0).abs() < 1e-300);
}

#[test]
fn what_suits_a_rider_ends_where_a_sag_leaves_its_range() {
    /// Of a tenth of a metre, some roundings.
    const EDGE: f64 = 1e-12;
    let count = draws().count();
    for (line, draw) in lines().iter().flat_map(|line| (0..count).map(move |draw| (line, draw))) {
        let (low, high) = line.suits(draw);
        if low > high {
            // Nowhere are both in range.
            assert!((-80..80).all(|step| {
                let [rider, free] = line.sags(draw, f64::from(step) * 0.25e-3);
                !inside(rider, line.aim.rider) || !inside(free, line.aim.free)
            }));
            continue;
        }
        for end in [low, high] {
            let [rider, free] = line.sags(draw, end);
            let off = |sag: f64, (low, high): Interval| (sag - low).abs().min((sag - high).abs());
            assert!(off(rider, line.aim.rider).min(off(free, line.aim.free)) < EDGE, "{end}");
            let within = |sag: f64, (low, high): Interval| inside(sag, (low - EDGE, high + EDGE));
            assert!(within(rider, line.aim.rider) && within(free, line.aim.free), "{end}");
        }
    }
    // A collar that does nothing suits everywhere or nowhere.
    let none = drawn(vec![vec![0.0; 4]]);
    let still = Lines { slopes: [0.0, 0.0], ..line_over(&none, 0.0, 1.0) };
    assert_eq!(still.suits(0), (f64::NEG_INFINITY, f64::INFINITY));
    let (low, high) = Lines { sags: [120e-3, 33e-3], ..still }.suits(0);
    assert!(low > high);
}

#[test]
fn the_best_step_suits_as_many_as_any() {
    let (draws, lines) = (draws(), lines());
    for read in [None, Some(1)] {
        let (at, share) = best(&draws, &lines, read, &SETTABLE);
        let steps: Vec<f64> = (-13..=25).map(|place| SETTABLE.at(place)).collect();
        let most = steps.iter().map(|&step| counted(&draws, &lines, read, step)).fold(0.0, f64::max);
        assert!(most > 0.3, "{most}");
        assert!((share - most).abs() < 1e-12, "{read:?}: {share} of {most}");
        assert!((counted(&draws, &lines, read, at) - most).abs() < 1e-12, "{read:?}: at {at}");
    }
    // Nobody can be suited within the ends: the step nearest to where the collar is, and nobody.
    let far = vec![line(90e-3, 1.0)];
    assert_eq!(best(&draws, &far, None, &SETTABLE), (2e-3, 0.0));
}

#[test]
fn a_common_setting_is_what_its_draws_count() {
    let (draws, lines) = (draws(), lines());
    for (read, at) in [(None, 2.5e-3), (Some(1), 2.5e-3), (Some(0), 6e-3)] {
        let found = common(&draws, &lines, read, at, &SETTABLE);
        let collars: Vec<f64> = (0..draws.count())
            .map(|draw| (at + reading(&draws, &lines, read, draw)).clamp(SETTABLE.ends.0, SETTABLE.ends.1))
            .collect();
        let count = collars.len() as f64;
        let share = |of: &dyn Fn(&Lines, [f64; 2]) -> bool| {
            let each = collars.iter().enumerate();
            let shares = each.map(|(draw, &collar)| {
                lines.iter().filter(|line| of(line, line.sags(draw, collar))).map(|line| line.place.weight).sum::<f64>()
            });
            shares.collect::<Vec<f64>>()
        };
        let mean = |of: &[f64]| of.iter().sum::<f64>() / count;
        let deviation = |of: &[f64]| (of.iter().map(|one| (one - mean(of)).powi(2)).sum::<f64>() / count).sqrt();
        let close = |one: f64, other: f64| assert!((one - other).abs() < 1e-9, "{one} and {other} of {found:?}");
        let suited = share(&|line, [rider, free]| inside(rider, line.aim.rider) && inside(free, line.aim.free));
        close(found.share.value.si(), mean(&suited));
        close(found.share.standard_uncertainty.si(), deviation(&suited));
        close(found.too_deep.si(), mean(&share(&|line, [rider, _]| rider > line.aim.rider.1)));
        close(found.too_high.si(), mean(&share(&|line, [rider, _]| rider < line.aim.rider.0)));
        // Over the riders, the bike as it is expected.
        let sags: Vec<f64> = lines.iter().map(|line| line.sags[0] - 2.4 * (at - CHANGE)).collect();
        let middle: f64 = lines.iter().zip(&sags).map(|(line, sag)| line.place.weight * sag).sum();
        let square: f64 = lines.iter().zip(&sags).map(|(line, sag)| line.place.weight * (sag - middle).powi(2)).sum();
        close(found.rider_sag.value.si(), middle);
        close(found.rider_sag.standard_uncertainty.si(), square.sqrt());
        let free: Vec<f64> = collars.iter().enumerate().map(|(draw, &collar)| lines[0].sags(draw, collar)[1]).collect();
        close(found.free_sag.value.si(), mean(&free));
        close(found.free_sag.standard_uncertainty.si(), deviation(&free));
        let off: f64 = collars.iter().map(|collar| (collar - at).powi(2)).sum();
        close(found.preload.value.si(), at);
        close(found.preload.standard_uncertainty.si(), (off / count).sqrt());
        assert_eq!(found.way == Way::ReRead, read.is_some());
    }
}

#[test]
fn a_rider_who_reads_alone_is_suited_as_often_as_the_tape_allows() {
    /// Midpoints over eight deviations of the tape.
    const STEPS: usize = 20_000;
    let (draws, ends) = (draws(), SETTABLE.ends);
    let mut least = 1.0_f64;
    for (line, draw) in lines().iter().flat_map(|line| (0..draws.count()).map(move |draw| (line, draw))) {
        let found = line.own(draw, Way::ReRead, ends);
        let (low, high) = line.suits(draw);
        let at = CHANGE + line.needed[draw];
        let sum: f64 = (0..STEPS)
            .map(|step| -8.0 + 16.0 * (step as f64 + 0.5) / STEPS as f64)
            .filter(|off| inside((at + off * line.tape).clamp(ends.0, ends.1), (low, high)))
            .map(|off| (-0.5 * off * off).exp() * 16.0 / STEPS as f64 / (2.0 * core::f64::consts::PI).sqrt())
            .sum();
        // A bound lies anywhere within a step.
        assert!((found - sum).abs() < 1e-3, "{found} and {sum}");
        least = least.min(found);
        let turned = line.own(draw, Way::Turned, ends);
        assert!((turned - f64::from(u8::from(inside(CHANGE, (low, high))))).abs() < 1e-300);
    }
    assert!(least < 0.5, "no draw is out of reach");
}

#[test]
fn the_middle_rider_is_the_middle_one() {
    let under = |under: usize, count: usize| {
        (0..count).map(move |_| {
            let line = line(0.0, 0.1);
            Lines { place: Place { under, ..line.place }, ..line }
        })
    };
    assert_eq!(middle(&under(0, 5).chain(under(1, 9)).collect::<Vec<_>>()), Some(2));
    assert_eq!(middle(&under(1, 4).collect::<Vec<_>>()), None);
}

#[test]
fn a_rider_who_is_suited_beyond_the_ends_alone_is_suited_by_no_step() {
    let (draws, still) = (draws(), SETTABLE.nearest(CHANGE));
    // Both sags are in range with the collar at 10 mm, or at −8 mm; it ends at 6.2 mm and at −3.1 mm.
    for off in [8e-3, -10e-3] {
        let near = line(0.0, 1.0);
        let [rider, free] = near.slopes;
        let far = Lines {
            sags: [102e-3 - rider * off, 33e-3 - free * off],
            turned: near.turned.map(|over| vec![0.0; over.len()]),
            ..near
        };
        let (low, high) = far.suits(0);
        assert!(low < high && (low > SETTABLE.ends.1 || high < SETTABLE.ends.0), "{low} {high}");
        for read in [None, Some(0)] {
            assert_eq!(best(&draws, core::slice::from_ref(&far), read, &SETTABLE), (still, 0.0), "{off} {read:?}");
        }
        // Nor does he count beside others.
        let (at, share) = best(&draws, &[far, line(0.0, 0.5)], None, &SETTABLE);
        assert!((counted(&draws, &[line(0.0, 0.5)], None, at) - share).abs() < 1e-12, "{off}: {share} at {at}");
    }
}

#[test]
fn the_last_step_and_the_first_may_be_the_best() {
    let draws = draws();
    for (off, end) in [(5e-3, 6.2e-3), (-6.5e-3, -3.1e-3)] {
        let near = line(0.0, 1.0);
        let [rider, free] = near.slopes;
        // In range from the end of the adjuster on: a range of 8 mm is 3.3 mm of collar.
        let there = Lines {
            sags: [102e-3 - rider * off, 33e-3 - free * off],
            turned: near.turned.map(|over| vec![0.0; over.len()]),
            aim: Aim { free: (0.0, 1.0), ..near.aim },
            ..near
        };
        let (low, high) = there.suits(0);
        assert!(low < end && end < high && (low > 0.0 || high < 0.0), "{low} {high}");
        let (at, share) = best(&draws, core::slice::from_ref(&there), None, &SETTABLE);
        assert!((share - 1.0).abs() < 1e-12 && low <= at && at <= high, "{at} {share}");
    }
}

#[test]
fn sags_at_the_very_edge_are_in_range() {
    let draws = draws();
    let still = |rider: f64| Lines { sags: [rider, 33e-3], turned: [vec![0.0; 60], vec![0.0; 60]], ..line(0.0, 1.0) };
    for edge in [98e-3, 106e-3] {
        let found = common(&draws, &[still(edge)], None, CHANGE, &SETTABLE);
        let shares = [found.share.value, found.too_deep, found.too_high].map(|share| share.si());
        assert_eq!(shares, [1.0, 0.0, 0.0], "{edge}");
    }
    for (beside, shares) in [(97.9e-3, [0.0, 0.0, 1.0]), (106.1e-3, [0.0, 1.0, 0.0])] {
        let found = common(&draws, &[still(beside)], None, CHANGE, &SETTABLE);
        assert_eq!([found.share.value, found.too_deep, found.too_high].map(|share| share.si()), shares, "{beside}");
    }
}

#[test]
fn sags_of_riders_are_averaged_over_their_weights_whatever_these_add_up_to() {
    let draws = draws();
    let found = [1.0, 0.5].map(|all| {
        let lines: Vec<Lines> =
            [(-3e-3, 0.2), (0.5e-3, 0.5), (5e-3, 0.3)].map(|(deep, of)| line(deep, of * all)).into();
        common(&draws, &lines, None, CHANGE, &SETTABLE).rider_sag
    });
    let mean = 102e-3 + 0.2 * -3e-3 + 0.5 * 0.5e-3 + 0.3 * 5e-3;
    let square = 0.2 * (99e-3_f64 - mean).powi(2) + 0.5 * (102.5e-3 - mean).powi(2) + 0.3 * (107e-3 - mean).powi(2);
    for sag in found {
        assert!((sag.value.si() - mean).abs() < 1e-12, "{sag:?}");
        // The mean of squares of a decimetre cancels to a few millimetres.
        assert!((sag.standard_uncertainty.si() - square.sqrt()).abs() < 1e-10, "{sag:?}");
    }
}

#[test]
fn what_draws_make_of_a_gradient_varies_as_the_gradient_does() {
    let covariance = nalgebra::Matrix3::new(4.0, 1.2, -0.6, 1.2, 2.0, 0.3, -0.6, 0.3, 1.0);
    let covariance = nalgebra::DMatrix::from_column_slice(3, 3, covariance.as_slice());
    // In draws of which each is one unknown, a gradient is itself.
    let each = (0..3 + BESIDE).map(|one| (0..3 + BESIDE).map(|other| f64::from(u8::from(one == other))).collect());
    let draws = Draws { root: semidefinite_root(&covariance), columns: each.collect() };
    let gradient = |fit: [f64; 3], label: f64, setting: f64, collar: f64| Gradient {
        fit: fit.to_vec(),
        label,
        setting,
        collar,
        gas: 0.0,
    };
    let (one, other) = (gradient([0.5, -1.0, 2.0], 0.7, 9.0, 0.0), gradient([1.5, 0.2, -0.4], -0.3, 0.0, 1.1));
    let along = [&one, &other].map(|gradient| draws.along(gradient));
    assert!(along.iter().all(|along| along.len() == 3 + BESIDE && along[3 + BESIDE - 1].abs() < 1e-300));
    // The tape is read anew by every rider, and is no part of them.
    let without = |gradient: &Gradient| Gradient { setting: 0.0, ..gradient.clone() };
    for (left, right, found) in [
        (&one, &one, dot(&along[0], &along[0])),
        (&one, &other, dot(&along[0], &along[1])),
        (&other, &other, dot(&along[1], &along[1])),
    ] {
        let stated = without(left).covariance(&without(right), &covariance);
        assert!((found - stated).abs() < 1e-12, "{found} {stated}");
    }
}
