use super::super::faults::Faults;
use super::*;
use crate::error::{Address, BikeError};
use crate::keys::shape_at;
use crate::record::SagKind;

#[test]
fn a_contradiction_stands_at_a_key_that_the_file_has() {
    let (front, rear) = (End::Front, End::Rear);
    for (place, key) in [
        (BikePart::OwnEnd(front), "front"),
        (BikePart::Masses, "masses"),
        (BikePart::Kind, "bike.kind"),
        (BikePart::Wheels, "wheels"),
        (BikePart::Prior(rear), "prior.rear"),
        (BikePart::Measuring(front), "measuring.front"),
        (BikePart::Targets(rear), "targets.rear"),
        (BikePart::Target(front, SagKind::Rider), "targets.front.rider_sag"),
        (BikePart::Target(rear, SagKind::Free), "targets.rear.free_sag"),
        (BikePart::RiderLoad, "targets.rider_load"),
        (BikePart::Discipline, "targets.discipline"),
        (BikePart::Practice(2), "targets.practice[2]"),
        (BikePart::Scenario(1), "scenario 2"),
        (BikePart::ScenarioTarget(0, front, SagKind::Free), "scenario 1.front.free_sag"),
        (BikePart::Riders, "riders"),
        (BikePart::OnSale(rear, 3), "on_sale.rear[3]"),
        (BikePart::Reading(6), "reading 7"),
        (BikePart::Change(0), "change 1"),
    ] {
        let faults = Faults::new();
        let found = Contradictions { place, first: BikeError::NoModes.into(), others: Vec::new() };
        contradictions(&At::root(None, &faults), found);
        let noted = faults.finish(None);
        let places: Vec<String> = noted.iter().map(|fault| fault.key_path.to_string()).collect();
        assert_eq!(places, [key], "{place:?}");
        assert!(noted[0].message.contains(&BikeError::NoModes.to_string()), "{noted:?}");
        assert!(shape_at(&Address::parse(key).unwrap()).is_some(), "{key}");
    }
}

#[test]
fn every_contradiction_is_noted_and_not_the_first_alone() {
    let faults = Faults::new();
    let others = vec![(BikePart::Masses, BikeError::NoModes.into()), (BikePart::Riders, BikeError::Unstable.into())];
    let found = Contradictions { place: BikePart::Wheels, first: BikeError::NoModes.into(), others };
    contradictions(&At::root(None, &faults), found);
    let mut places: Vec<String> = faults.finish(None).iter().map(|fault| fault.key_path.to_string()).collect();
    places.sort();
    assert_eq!(places, ["masses", "riders", "wheels"]);
}
