use super::*;
use crate::bike::BikeParts;
use crate::demo::PATROL;
use crate::record::Ends;
use crate::wheel::OwnEnd;

fn demo() -> Bike {
    Bike::from_toml(PATROL).unwrap()
}

/// The demo without an end, in both directions of time.
fn without(end: End) -> [Between; 2] {
    let bike = demo();
    let mut parts =
        BikeParts { readings: Vec::new(), targets: Ends::default(), scenarios: Vec::new(), ..bike.parts().clone() };
    match end {
        End::Front => parts.front = None,
        End::Rear => parts.rear = None,
    }
    let less = Bike::new(parts).unwrap();
    [Between::new(end, &bike, &less), Between::new(end, &less, &bike)]
}

#[test]
fn of_an_end_that_came_or_went_nothing_stays() {
    for between in [End::Front, End::Rear].into_iter().flat_map(without) {
        assert_eq!(between, Between::another_end());
        let Between { touches, springs, preload, seals, masses, unsprung, way } = between;
        assert!(touches && preload && way && springs == [true; PLACES] && seals == [true; PLACES]);
        assert!(masses.is_empty() && !unsprung, "masses are on the bike, whatever carries them");
    }
}

#[test]
fn nothing_differs_between_a_bike_and_itself() {
    for end in End::BOTH {
        assert_eq!(Between::new(end, &demo(), &demo()), Between::default());
    }
}

#[test]
fn the_end_beside_the_one_that_went_is_untouched() {
    let bike = demo();
    let less =
        Bike::new(BikeParts { front: None, readings: Vec::new(), targets: Ends::default(), ..bike.parts().clone() });
    assert_eq!(Between::new(End::Rear, &bike, &less.unwrap()), Between::default());
}

#[test]
fn an_end_of_ones_own_in_the_place_of_the_usual_one_is_another_end() {
    let bike = demo();
    let own = OwnEnd::new(bike.rear().unwrap().clone()).unwrap();
    let parts = BikeParts { rear: None, own: Ends { front: None, rear: Some(own) }, ..bike.parts().clone() };
    let other = Bike::new(parts).unwrap();
    assert_eq!(Between::new(End::Rear, &bike, &other), Between::another_end());
    assert_eq!(Between::new(End::Front, &bike, &other), Between::default());
    assert_eq!(Between::new(End::Rear, &other, &other), Between::default());
}

#[test]
fn what_differs_after_two_changes_is_what_either_did() {
    let one = Between { touches: true, springs: [true, false], masses: vec!["rider".to_owned()], ..Between::default() };
    let other =
        Between { seals: [false, true], masses: vec!["bike".to_owned(), "rider".to_owned()], ..Between::default() };
    let both = Between {
        touches: true,
        springs: [true, false],
        seals: [false, true],
        masses: vec!["bike".to_owned(), "rider".to_owned()],
        ..Between::default()
    };
    assert_eq!(one.clone().and(&other), both);
    assert_eq!(other.and(&one), both);
}
