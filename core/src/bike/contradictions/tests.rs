//! What is refused of a bike, part by part.

use crate::bike::{Bike, BikeParts};
use crate::demo::PATROL;
use crate::record::{Direction, End, Load, Riders, SagTarget};
use crate::units::{Force, Length, Quantity, Share, SpringRate, parse};

fn demo() -> Bike {
    Bike::from_toml(PATROL).unwrap()
}

#[test]
fn every_load_of_riders_has_the_rider_in_it_and_something_to_ride() {
    let with = |loads: &[&str]| {
        let loads = loads.iter().map(|load| (Load::parse(load).unwrap(), 1.0)).collect();
        let riders = Riders::normal(parse("92 kg").unwrap(), parse("9 kg").unwrap()).unwrap();
        demo().with(|parts| parts.riders = Some(riders.with_loads(loads).unwrap()))
    };
    assert!(with(&["bike + rider", "bike + rider + stretcher"]).is_ok());
    for (load, said) in [("bike + stretcher", "loads[1].load"), ("rider", "loads[1].load"), ("none", "loads[1].load")] {
        let found = with(&["bike + rider", load]).unwrap_err().to_string();
        assert!(found.contains(said) && found.contains("rider"), "{load}: {found}");
    }
    let unknown = with(&["bike + rider + trailer"]).unwrap_err().to_string();
    assert!(unknown.contains("trailer"), "{unknown}");
}

#[test]
fn a_target_lies_in_its_range_and_runs_along_what_the_end_has() {
    let with = |end: End, change: fn(&mut SagTarget)| {
        demo().with(|parts| {
            let targets = match end {
                End::Front => &mut parts.targets.front,
                End::Rear => &mut parts.targets.rear,
            };
            change(targets.rider_sag.as_mut().unwrap());
        })
    };
    for end in End::BOTH {
        assert!(with(end, |target| target.value = target.range.to).is_ok(), "{end}");
        assert!(with(end, |target| target.value = target.range.to + Length::from_si(1e-3)).is_err(), "{end}");
        assert!(with(end, |target| target.value = target.range.from - Length::from_si(1e-3)).is_err(), "{end}");
    }
    assert!(with(End::Front, |target| target.direction = Direction::AlongFork).is_ok());
    let refused = with(End::Rear, |target| target.direction = Direction::AlongFork).unwrap_err().to_string();
    assert!(refused.contains("direction"), "{refused}");
}

#[test]
fn what_contradicts_the_bike_or_itself_is_refused_part_by_part() {
    let mm = |value: f64| Length::from_si(value / 1000.0);
    let refused = |change: &dyn Fn(&mut BikeParts), said: &str| {
        let found = demo().with(|parts| change(parts)).unwrap_err().to_string();
        assert!(found.contains(said), "{said}: {found}");
    };
    refused(&|parts| parts.prior.rear.rate_tolerance = Share::from_si(-0.1), "rate_tolerance");
    refused(&|parts| parts.prior.front.preload_uncertainty = mm(-1.0), "preload_uncertainty");
    refused(&|parts| parts.measuring.rear.as_mut().unwrap().direction = Direction::AlongFork, "direction");
    refused(&|parts| parts.measuring.front.as_mut().unwrap().uncertainty = mm(-1.0), "uncertainty");
    refused(&|parts| parts.on_sale.rear.push(SpringRate::from_si(0.0)), "rate");
    refused(&|parts| parts.on_sale.front.push(SpringRate::from_si(-1.0)), "rate");
    refused(&|parts| parts.targets.rear.full_travel_force = Some(Force::from_si(4e3)), "full_travel_force");
    refused(&|parts| parts.wheels.as_mut().unwrap().fork_offset = mm(9e3), "fork_offset");
    refused(&|parts| parts.frame_points.push(parts.frame_points[0].clone()), &demo().parts().frame_points[0].0);
    refused(&|parts| parts.rider_load = Load::None, "rider_load");
    refused(&|parts| parts.rider_load = Load::parse("bike + pillion").unwrap(), "pillion");
    refused(&|parts| parts.discipline = Some("ploughing".to_owned()), "ploughing");
    refused(&|parts| parts.readings[1].load = Load::parse("bike + pillion").unwrap(), "pillion");
    // A bike alone that sinks as much as with its rider, and a sag that is more than the travel.
    let alike = |parts: &mut BikeParts| parts.targets.rear.free_sag = parts.targets.rear.rider_sag;
    refused(&alike, "free_sag");
    let deep = |target: &mut SagTarget| {
        (target.value, target.range.to) = (mm(500.0), mm(510.0));
    };
    refused(&|parts| deep(parts.targets.rear.rider_sag.as_mut().unwrap()), "rider_sag");
    // The same of a scenario.
    refused(&|parts| parts.scenarios.push(parts.scenarios[0].clone()), &demo().parts().scenarios[0].name);
    refused(&|parts| parts.scenarios[0].name.clear(), "name");
    refused(&|parts| parts.scenarios[0].load = Load::None, "load");
    refused(&|parts| deep(parts.scenarios[0].targets.rear.rider_sag.as_mut().unwrap()), "rear.rider_sag");
    let alike = |parts: &mut BikeParts| {
        let targets = &mut parts.scenarios[0].targets.rear;
        targets.free_sag = targets.rider_sag;
    };
    refused(&alike, "rear.free_sag");
}

#[test]
fn an_end_of_ones_own_stands_in_the_place_of_the_usual_one_and_not_beside_it() {
    use crate::record::Ends;
    use crate::wheel::OwnEnd;
    let bike = demo();
    let own = Ends { front: None, rear: Some(OwnEnd::new(bike.rear().unwrap().clone()).unwrap()) };
    let both = Bike::new(BikeParts { own: own.clone(), ..bike.parts().clone() }).unwrap_err();
    assert_eq!(both.to_string(), "the rear end is a linkage and one of your own as well: leave one of the two out");
    let alone = Bike::new(BikeParts { own, rear: None, ..bike.parts().clone() }).unwrap();
    assert_eq!(
        alone.rear().unwrap_err().to_string(),
        "`rear.linkage` is missing: the rear end is one of your own, and what is asked needs a linkage and a shock"
    );
    // It answers as what it is made of, up to the order of a few products.
    let (travel, rate, preload) = (Length::from_si(0.1), SpringRate::from_si(56e3), Length::from_si(0.01));
    let answers = |bike: &Bike| {
        let ends = [
            bike.shared_end(End::Rear),
            bike.end_with_spring_rate(End::Rear, rate, preload),
            bike.end_with_spring_change(End::Rear, 1.1, preload),
        ];
        let states = ends.map(|end| end.unwrap().at(travel).unwrap());
        let asked = bike.end(End::Rear).unwrap().at(travel).unwrap();
        [&states[..], &[asked]].concat().iter().map(|at| [at.wheel_force.si(), at.wheel_rate.si()]).collect::<Vec<_>>()
    };
    for (own, usual) in answers(&alone).as_flattened().iter().zip(answers(&bike).as_flattened()) {
        assert!((own / usual - 1.0).abs() < 1e-12, "{own} {usual}");
    }
    let text = serde_json::to_string(&alone).unwrap_err().to_string();
    assert!(text.starts_with("the rear end, or something in it, is of your own and has no text form"), "{text}");
}

#[test]
fn a_load_that_cannot_be_written_down_is_refused() {
    let names = ["bike".to_owned(), "a+b".to_owned()];
    let refused = demo().with(|parts| parts.readings[6].load = Load::Masses(names.into())).unwrap_err().to_string();
    assert!(refused.contains("load: found `bike, a+b`, wanted names of masses joined by `+`"), "{refused}");
}
