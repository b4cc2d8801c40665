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
    let error = gather(&[("bike", LOW, 540.0)]).unwrap_err().to_string();
    assert!(error.contains("wheel off the ground"), "{error}");
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
