use super::*;
use crate::infer::model::tests::Straight;
use crate::mass::Weighing;
use crate::record::{Direction, Ends};
use crate::units::Mass;

fn masses() -> Masses {
    let scales =
        |front: f64, rear: f64| Weighing::Scales(Ends { front: Mass::from_si(front), rear: Mass::from_si(rear) });
    let named = [("bike", scales(61.0, 64.0)), ("rider", scales(30.0, 66.0)), ("pack", scales(2.0, 12.0))];
    let named = named.into_iter().map(|(name, weighing)| (name.to_owned(), weighing)).collect();
    Masses::new(named, Ends { front: Mass::from_si(14.2), rear: Mass::from_si(17.5) }, None).unwrap()
}

fn gather(readings: &[(&str, Option<Settled>, f64)]) -> Result<Gathered> {
    let readings: Vec<Reading> = readings
        .iter()
        .map(|(load, settled, mm)| {
            Reading::new(End::Rear, Load::parse(load).unwrap(), Length::from_si(mm * 1e-3), *settled).unwrap()
        })
        .collect();
    let measuring = Measuring::new(Direction::Vertical, Measuring::default_uncertainty()).unwrap();
    let readings: Vec<&Reading> = readings.iter().collect();
    Gathered::new(End::Rear, &Straight::usual(), &readings, &measuring, &masses(), &[], &Doubts::AS_STATED)
}

const LOW: Option<Settled> = Some(Settled::Low);
const HIGH: Option<Settled> = Some(Settled::High);

#[test]
fn repeats_are_averaged_and_share_the_extended_reading() {
    let gathered = gather(&[
        ("none", None, 655.0),
        ("none", None, 657.0),
        ("rider + bike", LOW, 550.0),
        ("bike", LOW, 620.0),
        ("bike + rider", LOW, 552.0),
        ("bike + rider", HIGH, 561.0),
    ])
    .unwrap();
    assert_eq!(gathered.loads, [Load::parse("bike").unwrap(), Load::parse("rider + bike").unwrap()]);
    let rider = &gathered.rows[1];
    let low = rider.low.unwrap();
    assert!((low.value.si() - 0.105).abs() < 1e-12);
    // Two extended and two loaded readings of 1.5 mm.
    assert!((low.standard_uncertainty.si() - 1.5e-3).abs() < 1e-12);
    assert!((rider.band.unwrap().value.si() - 0.010).abs() < 1e-12);
    assert!((rider.middle().unwrap().si() - 0.100).abs() < 1e-12);
    assert_eq!(rider.counts, [2, 1, 0, 0]);
}

#[test]
fn loads_share_the_bike() {
    let loads = ["bike", "bike + pack", "bike + rider", "bike + rider + pack"].map(|load| Load::parse(load).unwrap());
    let law = load_law(End::Rear, &loads, &masses(), &Doubts::AS_STATED).unwrap();
    let covariance = &law.root * law.root.transpose();
    let one = (0.5 * 9.80665_f64).powi(2);
    for (i, j, masses_in_both) in [(0, 0, 2.0), (0, 3, 2.0), (1, 2, 2.0), (1, 3, 3.0), (3, 3, 4.0), (2, 3, 3.0)] {
        assert!((covariance[(i, j)] - one * masses_in_both).abs() < 1e-9, "{i} {j}: {}", covariance[(i, j)] / one);
    }
    assert_eq!(law.root[(3, 3)], 0.0, "the fourth load is the sum of the others");
}

#[test]
fn contradictions_are_reported_all_at_once_with_their_numbers() {
    let error = gather(&[
        ("none", None, 655.0),
        ("bike", LOW, 540.0),
        ("bike", HIGH, 530.0),
        ("bike + rider", LOW, 560.0),
        ("bike + rider + pack", HIGH, 300.0),
        ("bike + pack", HIGH, 680.0),
    ])
    .unwrap_err()
    .to_string();
    for part in [
        "swapped",
        "sags less",
        "95.0 mm against 115.0 mm",
        "355.0 mm, more than the whole travel of 300.0 mm",
        "25.0 mm longer",
    ] {
        assert!(error.contains(part), "{part}: {error}");
    }
}

#[test]
fn noise_is_no_contradiction() {
    // Two readings of 1.5 mm that differ by 4 mm the wrong way: 1.9 standard deviations.
    let readings = |rows: &[(&str, Option<Settled>, f64)]| gather(rows).unwrap().observations.len();
    assert_eq!(readings(&[("none", None, 655.0), ("bike", LOW, 620.0), ("bike", HIGH, 616.0)]), 3);
    assert_eq!(readings(&[("none", None, 655.0), ("bike", HIGH, 657.0)]), 2);
}

#[test]
fn near_a_stop_a_reading_may_be_on_it() {
    let gathered = gather(&[("none", None, 655.0), ("bike", HIGH, 653.0), ("bike + rider", LOW, 356.0)]).unwrap();
    assert_eq!(gathered.observations.iter().map(|o| o.may_top_out).collect::<Vec<_>>(), [true, true, false]);
    assert_eq!(gathered.observations.iter().map(|o| o.may_bottom_out).collect::<Vec<_>>(), [false, false, true]);
}

#[test]
fn sags_that_count_from_nothing_are_refused_by_their_number() {
    let refused = |rows: &[(&str, Option<Settled>, f64)]| gather(rows).unwrap_err();
    let missing = |loaded: usize| crate::Error::from(SetupError::NoExtendedReading { end: End::Rear, loaded });
    assert_eq!(refused(&[("bike", LOW, 540.0)]), missing(1));
    assert_eq!(refused(&[("bike", LOW, 540.0), ("bike", HIGH, 545.0), ("bike + rider", LOW, 500.0)]), missing(3));
    let gathered = gather(&[]).unwrap();
    assert_eq!((gathered.zero, gathered.zeroed, gathered.observations.len()), (0.0, None, 0));
}

/// Binary fractions, so that the mean and the limit are exact.
#[test]
fn repeats_scatter_beyond_four_deviations_from_their_mean_and_not_at_them() {
    let deviation = 2f64.powi(-9);
    let scattered = |apart: f64| {
        let (mut repeats, both) = (Repeats::default(), [0.5, 0.5 + apart]);
        both.iter().for_each(|distance| repeats.add(*distance, deviation));
        both.iter().for_each(|distance| repeats.compare(*distance, deviation));
        let mean = repeats.mean().unwrap();
        assert_eq!((mean.distance, mean.count, mean.variance), (0.5 + 0.5 * apart, 2, 0.5 * deviation * deviation));
        !mean.repeats_agree
    };
    let limit = 2.0 * CONTRADICTION * deviation;
    let hair = f64::EPSILON;
    assert_eq!([limit - hair, limit, limit + 2.0 * hair].map(scattered), [false, false, true]);
}

#[test]
fn twenty_loads_are_taken_and_one_more_is_too_many() {
    use crate::infer::posterior::MOST_LOADS;
    let names = ["rider", "pack", "a", "b", "c"];
    let one = |name: &str, kilogram: f64| {
        let both = Ends { front: Mass::from_si(kilogram), rear: Mass::from_si(kilogram) };
        (name.to_owned(), Weighing::Scales(both))
    };
    let named = [one("bike", 64.0)].into_iter().chain(names.iter().zip(0..).map(|(name, k)| one(name, 2f64.powi(k))));
    let masses =
        Masses::new(named.collect(), Ends { front: Mass::from_si(14.2), rear: Mass::from_si(17.5) }, None).unwrap();
    // Every one of the 32 sums is another load, by its binary digits.
    let load = |sum: usize| {
        let with: Vec<&str> =
            names.iter().enumerate().filter(|(k, _)| sum >> k & 1 == 1).map(|(_, name)| *name).collect();
        Load::parse(&[&["bike"][..], &with].concat().join(" + ")).unwrap()
    };
    let loads: Vec<Load> = (0..=MOST_LOADS).rev().map(load).collect();
    let distinct = |loads: &[Load]| distinct_loads(End::Rear, loads.iter().chain(&loads[..3]), &masses);
    let sorted: Vec<Load> = (1..=MOST_LOADS).map(load).collect();
    assert_eq!(distinct(&loads[..MOST_LOADS]).unwrap(), sorted, "each once, the lightest first");
    let most = SetupError::TooManyLoads { end: End::Rear, found: MOST_LOADS + 1, most: MOST_LOADS };
    assert_eq!(distinct(&loads).unwrap_err(), most.into());
}

/// A load with one sag and its deviation.
fn exact(load: &str, side: usize, [sag, deviation]: [f64; 2]) -> SagRow {
    let read = Some(Uncertain { value: Length::from_si(sag), standard_uncertainty: Length::from_si(deviation) });
    let [low, high, unnoted, mean] = core::array::from_fn(|one| if one == side { read } else { None });
    SagRow { load: Load::parse(load).unwrap(), counts: [0; 4], low, high, unnoted, mean, band: None }
}

/// Loads of these means, the first error of which is in both.
fn law(means: [f64; 2], root: [f64; 3]) -> Loads {
    let [first, shared, own] = root;
    let root = nalgebra::DMatrix::from_row_slice(2, 2, &[first, 0.0, shared, own]);
    Loads { mean: means.to_vec(), unsprung: 0.0, root }
}

#[test]
fn four_deviations_are_no_contradiction_and_a_hair_more_is() {
    const HAIR: f64 = 1e-9;
    let deviation = 2f64.powi(-9);
    let (margin, travel) = (CONTRADICTION * deviation, 0.25);
    let law = law([500.0, 1000.0], [1.0, 1.0, 1.0]);
    let count = |rows: &[SagRow]| contradictions(rows, &law, travel).len();
    for side in 0..SIDES {
        let of = |sag: f64| count(&[exact("bike", side, [sag, deviation])]);
        assert_eq!([-margin - HAIR, -margin, travel + margin, travel + margin + HAIR].map(of), [1, 0, 0, 1]);
        let fall = |fall: f64| {
            count(&[exact("bike", side, [0.125, deviation]), exact("bike + rider", side, [0.125 - fall, 0.0])])
        };
        assert_eq!([-margin, margin, margin + HAIR].map(fall), [0, 0, 1]);
    }
    let swapped = |band: f64| {
        let band = Some(Uncertain { value: Length::from_si(band), standard_uncertainty: Length::from_si(deviation) });
        count(&[SagRow { band, ..exact("bike", 0, [0.125, deviation]) }])
    };
    assert_eq!([-margin - HAIR, -margin, margin].map(swapped), [1, 0, 0]);
    // Sags of different sides are not compared.
    assert_eq!(count(&[exact("bike", 0, [0.125, deviation]), exact("bike + rider", 1, [0.0625, deviation])]), 0);
}

/// What two loads have in common is off by the same in both: one is the heavier by four deviations of what they differ by.
#[test]
fn a_load_is_the_heavier_by_what_is_not_in_both() {
    let rows = [exact("bike", 0, [0.125, 1e-3]), exact("bike + rider", 0, [0.0625, 1e-3])];
    let count = |more: f64| contradictions(&rows, &law([500.0, 500.0 + more], [256.0, 256.0, 2.0]), 0.25).len();
    assert_eq!([7.0, 8.0, 50.0, -50.0].map(count), [0, 1, 1, 0]);
}
