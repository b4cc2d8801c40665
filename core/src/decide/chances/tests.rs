//! Chances of one spring against products of normal distributions, integrals by trapezes and every step of a collar.

use super::*;
use crate::decide::search::{LastTops, Settable};
use crate::infer::probability::normal_density;

/// Ends far from everything.
const NO_ENDS: Interval = (f64::NEG_INFINITY, f64::INFINITY);

const AIM: Aim = Aim { rider: (98e-3, 106e-3), free: (28e-3, 40e-3), value: 102e-3 };

/// A spring whose sags, turned to or read again, have nothing in common unless stated.
fn chances(turned: Pair, read: Pair) -> Chances {
    Chances {
        change: 2e-3,
        rider: 103e-3,
        free: 33e-3,
        slopes: [-2.4, -2.9],
        rough: [turned, read].map(|pair| Roughly::new(pair.correlation)),
        turned,
        read,
        needed: 1.2e-3,
        needed_with: [0.0, 0.0],
    }
}

fn apart(rider: f64, free: f64) -> Pair {
    Pair { rider, free, correlation: 0.0 }
}

/// `P(low ≤ X ≤ high)`.
fn share(mean: f64, deviation: f64, (low, high): Interval) -> f64 {
    if low >= high { 0.0 } else { normal_cdf((high - mean) / deviation) - normal_cdf((low - mean) / deviation) }
}

#[test]
fn a_collar_that_meets_its_ends_is_a_sum_of_products_where_nothing_is_correlated() {
    let chances = chances(apart(3e-3, 4e-3), apart(1.5e-3, 2e-3));
    // Aims within the range, beneath it and beyond it: then one of both windows at the ends is empty, or both are.
    for change in [-5e-3, -1e-3, 1e-3, 2.5e-3, 4e-3, 8e-3] {
        for ends in [(-0.5e-3, 4e-3), (f64::NEG_INFINITY, 3e-3), (0.5e-3, f64::INFINITY), (-9e-3, -4e-3)] {
            let [rider, free] = chances.sags_at(change, Moved::default());
            let reached = share(rider, 1.5e-3, AIM.rider) * share(free, 2e-3, AIM.free) * share(change, 1.2e-3, ends);
            let stuck = |end: f64, window: Interval| {
                if !end.is_finite() {
                    return 0.0;
                }
                let [rider, free] = chances.sags_at(end, Moved::default());
                share(rider, 3e-3, window) * share(free, 4e-3, AIM.free)
            };
            let low = stuck(ends.0, (AIM.rider.0, AIM.rider.1.min(rider)));
            let high = stuck(ends.1, (AIM.rider.0.max(rider), AIM.rider.1));
            let expected = (reached + low + high).min(1.0);
            let found = chances.re_read(change, ends, &AIM, Moved::default());
            // Integrals over three to 1e-9; ends further off than five deviations are left out, 3e-7 each.
            assert!((found - expected).abs() < 1e-6, "{change} within {ends:?}: {found} and {expected}");
            // A search is good to 1e-5 for each of its three rectangles.
            let rough = chances.roughly(Way::ReRead, change, ends, &AIM, Moved::default());
            assert!((rough - expected).abs() < 3e-5, "{change} within {ends:?}: {rough} and {expected}");
        }
    }
}

#[test]
fn a_needed_change_that_is_left_unsaid_goes_along_with_the_sags_the_less() {
    /// Trapezes over eight deviations to either side: of a smooth integrand, far below the tolerance.
    const STEPS: i32 = 800;
    let read = Pair { rider: 1.5e-3, free: 2e-3, correlation: 0.3 };
    // Turned, the sags at the ends are never in range: what is left is the chance that the ends are not met.
    let mut chances = chances(apart(0.1e-3, 4e-3), read);
    chances.needed_with = [0.7, -0.4];
    let (change, ends) = (2.2e-3, (-0.6e-3, 4.5e-3));
    let [rider, free] = chances.sags_at(change, Moved::default());
    let reached = |by: f64| {
        joint_probability_of_three(
            [(rider, read.rider), (free, read.free), (change + by, 1.2e-3)],
            [0.3, 0.7, -0.4],
            [AIM.rider, AIM.free, ends],
        )
    };
    for change_spread in [0.0, 0.8e-3, 2e-3] {
        let found = chances.re_read(change, ends, &AIM, Moved { change_spread, ..Moved::default() });
        // The change left unsaid, independent of all else, integrated over by itself.
        let at = |step: i32| f64::from(step) * 8.0 / f64::from(STEPS);
        let width = 8.0 / f64::from(STEPS);
        let expected: f64 =
            (-STEPS..=STEPS).map(|step| normal_density(at(step)) * width * reached(at(step) * change_spread)).sum();
        assert!((found - expected).abs() < 1e-7, "{change_spread}: {found} and {expected}");
    }
}

#[test]
fn turned_and_left_a_rider_sag_lands_at_most_as_often_as_dead_on() {
    let chances = chances(apart(3e-3, 4e-3), apart(1.5e-3, 2e-3));
    let any = Aim { free: NO_ENDS, ..AIM };
    let tried = (-4000..=4000).map(|step| chances.turned(f64::from(step) * 2e-6, &any, Moved::default()));
    let most = tried.fold(0.0, f64::max);
    // Flat at the top: half a step of 2 µm off is 2.4 µm of sag, squared over the 3 mm it spreads.
    assert!((chances.most_turned(&AIM) - most).abs() < 1e-6, "{} and {most}", chances.most_turned(&AIM));
    assert!((0.5..0.99).contains(&most), "{most}");
}

fn settable() -> Settable {
    Settable { origin: 0.0, step: 0.25e-3, ends: (-8e-3, 12e-3), open: false }
}

#[test]
fn where_no_chance_is_there_is_none_below_nought() {
    // Both ranges lie where one collar gives either, hundreds of deviations apart.
    let chances = chances(apart(0.02e-3, 0.02e-3), apart(0.01e-3, 0.02e-3));
    let nowhere = Aim { free: (70e-3, 71e-3), ..AIM };
    for value in [98e-3, 99e-3, 100e-3, 102e-3, 104e-3, 106e-3] {
        let aim = Aim { value, ..nowhere };
        for way in [Way::Turned, Way::ReRead] {
            let top = chances.top(way, &settable(), &aim, Moved::default(), &mut LastTops::default());
            assert!(top.probability.abs() < 1e-9, "{value} {way:?}: {top:?}");
        }
    }
    // Where the stated sag itself is the step that misses least.
    let missed = Aim { free: (60e-3, 61e-3), value: 98e-3, rider: (98e-3, 98.001e-3) };
    for step in -40..40 {
        let aim = Aim { value: 98e-3 + f64::from(step) * 0.25e-3, ..missed };
        let top = chances.top(Way::Turned, &settable(), &aim, Moved::default(), &mut LastTops::default());
        assert!((0.0..1e-9).contains(&top.probability), "{step}: {top:?}");
    }
}

#[test]
fn the_best_setting_is_read_again_where_that_gains_more_than_its_price() {
    // The rider sag alone would be sure either way; what follows of the free sag is not, by turns or once read.
    for (turned, read) in [(12e-3, 2e-3), (2e-3, 12e-3), (5e-3, 4.9e-3)] {
        let chances = chances(apart(0.5e-3, turned), apart(0.5e-3, read));
        let (settable, none) = (settable(), Moved::default());
        let most = |way: Way| {
            let steps = (-32..=48).map(|place| chances.by(way, settable.at(place), settable.ends, &AIM, none));
            steps.fold(0.0, f64::max)
        };
        let [by_turns, by_reading] = [most(Way::Turned), most(Way::ReRead)];
        for worth in [0.0, 0.03, 0.3, 0.9] {
            let best = chances.best(&settable, &AIM, none, worth, &mut LastTops::default());
            let reads = by_reading - worth > by_turns;
            assert_eq!(best.way == Way::ReRead, reads, "{turned} {read} at {worth}: {by_turns} {by_reading}");
            let expected = if reads { by_reading } else { by_turns };
            let height = chances.height_of_best(&settable, &AIM, none, worth, &mut LastTops::default());
            // Half a percent is as likely; a search is good to 1e-5.
            for found in [best.top.probability, height] {
                assert!(found > expected - 0.00502 && found < expected + 2e-5, "{found} and {expected} at {worth}");
            }
        }
    }
}

#[test]
fn a_collar_whose_needed_change_is_known_goes_there_or_to_its_end() {
    // Lengths that are sums of powers of two come out without a rounding: the settings lie on the ends to the bit.
    let read = Pair { rider: 2e-3, free: 3e-3, correlation: 0.4 };
    let turned = Pair { rider: 0.0, free: 3e-3, correlation: 0.0 };
    let known =
        Chances { change: 0.0, rider: 0.125, free: 0.0625, slopes: [-1.0, -1.0], needed: 0.0, ..chances(turned, read) };
    let aim = Aim { rider: (0.125, 0.1328125), free: (0.05859375, 0.06640625), value: 0.125 };
    let ends = (-0.0078125, 0.00390625);
    let both = |change: f64| {
        let [rider, free] = known.sags_at(change, Moved::default());
        joint_probability((rider, read.rider), (free, read.free), read.correlation, aim.rider, aim.free)
    };
    // Sure of the rider sag at an end, from its range on.
    let at_end = |end: f64| {
        let [rider, free] = known.sags_at(end, Moved::default());
        let lands = (aim.rider.0..=aim.rider.1).contains(&rider);
        if lands { share(free, turned.free, aim.free) } else { 0.0 }
    };
    for (change, expected) in [
        (0.0, both(0.0)),
        (ends.0, both(ends.0)),
        (ends.1, both(ends.1)),
        (-0.00390625, both(-0.00390625)),
        (ends.0 - 0.0009765625, at_end(ends.0)),
        (ends.1 + 0.0009765625, at_end(ends.1)),
    ] {
        let found = known.re_read(change, ends, &aim, Moved::default());
        assert!((found - expected).abs() < 1e-12, "{change}: {found} and {expected}");
        // A search is good to 1e-5.
        let rough = known.roughly(Way::ReRead, change, ends, &aim, Moved::default());
        assert!((rough - expected).abs() < 1e-5, "{change}: {rough} and {expected}");
    }
    assert!(at_end(ends.0) > 0.05 && at_end(ends.1) == 0.0 && both(0.0) > 0.1);
}

#[test]
fn what_a_setting_misses_by_is_counted_in_deviations_squared() {
    let chances = chances(apart(2e-3, 4e-3), apart(1e-3, 0.5e-3));
    let missed = |way: Way, rider: f64, free: f64| {
        let aim = Aim { rider: (rider, rider + 1e-3), free: (free - 2e-3, free), value: rider };
        chances.miss(way, chances.change, &aim, Moved::default())
    };
    // Expected are 103 and 33 mm; a range from 109 mm is three deviations off turned and six read again, one up to 31 mm a
    // half and four.
    for (way, rider, free, by_hand) in [
        (Way::Turned, 109e-3, 34e-3, 9.0),
        (Way::ReRead, 109e-3, 34e-3, 36.0),
        (Way::Turned, 102.5e-3, 31e-3, 0.25),
        (Way::ReRead, 102.5e-3, 31e-3, 16.0),
        (Way::Turned, 109e-3, 31e-3, 9.25),
        (Way::ReRead, 102.5e-3, 34e-3, 0.0),
    ] {
        let found = missed(way, rider, free);
        assert!((found - by_hand).abs() < 1e-9, "{way:?} {rider} {free}: {found}");
    }
}

#[test]
fn a_search_remembers_where_the_top_lay_and_finds_it_from_anywhere() {
    let (settable, none) = (settable(), Moved::default());
    let chances = chances(apart(3e-3, 4e-3), apart(1.5e-3, 2e-3));
    // The middles of both ranges are some steps apart.
    let aim = Aim { free: (22e-3, 34e-3), ..AIM };
    for way in [Way::Turned, Way::ReRead] {
        let mut last = LastTops::default();
        let first = chances.top(way, &settable, &aim, none, &mut last);
        assert_ne!(last, LastTops::default(), "{way:?}");
        let (kept, again) = (last, chances.top(way, &settable, &aim, none, &mut last));
        assert_eq!(first, again, "{way:?}");
        assert_eq!(kept, last, "{way:?}");
        // From where another aim had it.
        for off in [-6e-3, 9e-3] {
            let other = Aim { free: (aim.free.0 + off, aim.free.1 + off), ..aim };
            let mut last = LastTops::default();
            chances.top(way, &settable, &other, none, &mut last);
            assert_eq!(chances.top(way, &settable, &aim, none, &mut last), first, "{way:?} {off}");
        }
    }
}
