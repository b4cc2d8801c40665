use super::*;
use crate::units::{Force, Length};
use rand_distr::{Distribution, StandardNormal};
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;

/// The mean of some numbers of one standard deviation, and what each says to it.
fn odd_of(values: &[f64]) -> Vec<(usize, Distance)> {
    let mean = |left_out: &[usize]| {
        let kept: Vec<f64> =
            values.iter().enumerate().filter(|(at, _)| !left_out.contains(at)).map(|(_, value)| *value).collect();
        (!kept.is_empty()).then(|| (kept.iter().sum::<f64>() / kept.len() as f64, (kept.len() as f64).sqrt().recip()))
    };
    let distance = |&(mean, curve): &(f64, f64), at: usize| Distance { off: values[at] - mean, reading: 1.0, curve };
    suspects(values.len(), mean, distance)
}

fn places(values: &[f64]) -> Vec<usize> {
    odd_of(values).into_iter().map(|(at, _)| at).collect()
}

/// `w = (y − ȳ₋)/√(1 + 1/(n − 1))`, and a share of `1/n` taken out of the mean of all gives the same.
#[test]
fn few_readings_and_many_are_held_against_the_others_alike() {
    for count in [MOST_LEFT_OUT, MOST_LEFT_OUT + 1] {
        let edge = SUSPECT * (1.0 + 1.0 / (count as f64 - 1.0)).sqrt();
        let with = |value: f64| core::iter::once(value).chain(core::iter::repeat_n(0.0, count - 1)).collect::<Vec<_>>();
        assert_eq!(places(&with(edge * (1.0 + 1e-9))), [0], "{count}");
        assert!(places(&with(-edge * (1.0 - 1e-9))).is_empty(), "{count}");
        let [(_, found)] = odd_of(&with(-9.0))[..] else { panic!("{count}") };
        assert!(found.off == -9.0 && (found.curve - ((count - 1) as f64).sqrt().recip()).abs() < 1e-12);
    }
}

/// The mean of six with a 30 in it is 5 off, which no other reading is to blame for.
#[test]
fn a_wrong_reading_does_not_make_its_neighbours_suspect() {
    assert_eq!(places(&[0.1, -0.2, 30.0, 0.3, -0.1, 0.2]), [2]);
    assert_eq!(places(&[0.1, -40.0, 30.0, 0.3, -0.1, 0.2]), [1, 2], "two of six, one after the other");
}

#[test]
fn a_third_or_six_at_most_are_suspect() {
    // Of three that disagree, one; of five, one; of six, two.
    assert_eq!(places(&[0.0, 0.0, 50.0]), [2]);
    assert_eq!(places(&[0.0, 90.0, 0.1, -0.1, 50.0]).len(), 1);
    assert!(places(&[0.0, 50.0]).is_empty(), "of two, neither");
    // Of readings that scatter a hundred times as much as was said, the worst six.
    let wild: Vec<f64> = (0..90).map(|k| 100.0 * f64::from(k).sin()).collect();
    assert_eq!(places(&wild).len(), MOST_SUSPECT);
}

#[test]
fn what_only_it_says_itself_is_not_held_against_it() {
    let distance = |curve: f64| Distance { off: 90.0, reading: 1.0, curve }.without_its_share();
    assert_eq!(distance(0.98), 0.0);
    // 90 over √(1 − 0.9).
    assert!((distance(0.9f64.sqrt()) - 90.0 / 0.1f64.sqrt()).abs() < 1e-9);
}

#[test]
fn where_no_curve_is_left_nothing_is_suspect() {
    assert!(suspects(6, |_| None::<()>, |(), _| unreachable!()).is_empty());
    assert!(suspects(30, |_| None::<()>, |(), _| unreachable!()).is_empty());
}

/// Sound readings beyond 3.5 standard deviations are one in 2,149 (Abramowitz & Stegun, table 26.1: 2·(1 − P(3.5)) = 4.653e-4).
#[test]
fn sound_readings_are_suspect_as_seldom_as_is_said() {
    let mut random = Xoshiro256PlusPlus::seed_from_u64(3);
    let (draws, count) = (10_000, 12);
    let mut found = 0;
    for _ in 0..draws {
        let values: Vec<f64> = (0..count).map(|_| StandardNormal.sample(&mut random)).collect();
        found += places(&values).len();
    }
    let expected = f64::from(draws * count) * 4.653e-4;
    // 56 by chance, give or take √56: ± 3 of it.
    assert!((f64::from(found as u32) - expected).abs() < 3.0 * expected.sqrt(), "{found} {expected}");
}

#[test]
fn a_suspect_says_what_was_read_and_what_the_others_say() {
    let readings: Vec<(Length, Force)> =
        [100.0, 101.0, 160.0, 99.0].iter().map(|&force| (Length::from_si(0.02), Force::from_si(force))).collect();
    let mean = |left_out: &[usize]| {
        let kept: Vec<f64> = readings
            .iter()
            .enumerate()
            .filter(|(at, _)| !left_out.contains(at))
            .map(|(_, reading)| reading.1.si() / -2.0)
            .collect();
        Some(kept.iter().sum::<f64>() / kept.len() as f64)
    };
    let distance =
        |mean: &f64, at: usize| Distance { off: readings[at].1.si() / -2.0 - mean, reading: 2.0, curve: 1.5 };
    let (kept, calls) = (Suspects::default(), core::cell::Cell::new(0));
    let counted = |left_out: &[usize]| {
        calls.set(calls.get() + 1);
        mean(left_out)
    };
    let found = kept.among(&readings, -2.0, counted, distance);
    let [one] = found[..] else { panic!("{found:?}") };
    assert!(one.index == 2 && one.at == readings[2].0 && one.found == readings[2].1);
    assert!((one.others.value.si() - 100.0).abs() < 1e-9 && (one.others.standard_uncertainty.si() - 3.0).abs() < 1e-9);
    assert!((one.off().si() - 60.0).abs() < 1e-9);
    // 30 in units of −2 N, over √(2² + 1.5²); above the others, and so above zero.
    assert!((one.deviations - 12.0).abs() < 1e-9, "{}", one.deviations);
    // Sought once, whoever asks.
    let before = calls.get();
    assert_eq!(kept.clone().among(&readings, -2.0, counted, distance), found);
    assert_eq!(calls.get(), before);
    // Nor is it seen from outside whether anybody asked.
    let unasked = Suspects::<Length, Force>::default();
    assert!(kept == unasked && format!("{kept:?}") == format!("{unasked:?}"));
}

#[cfg(feature = "serde")]
#[test]
fn in_json_it_counts_from_one_and_reads_back() {
    let one = SuspectReading {
        index: 2,
        at: Length::from_si(0.057),
        found: Force::from_si(299.0),
        others: Uncertain { value: Force::from_si(2995.0), standard_uncertainty: Force::from_si(14.0) },
        deviations: -80.5,
    };
    let text = serde_json::to_string(&one).unwrap();
    assert!(text.starts_with("{\"reading\":3,\"at\":\"57 mm\",\"found\":\"299 N\","), "{text}");
    assert_eq!(serde_json::from_str::<SuspectReading<Length, Force>>(&text).unwrap(), one);
}
