use super::*;
use crate::units::parse;

fn patrol() -> Masses {
    let scales =
        |front: f64, rear: f64| Weighing::Scales(Ends { front: Mass::from_si(front), rear: Mass::from_si(rear) });
    Masses::new(
        vec![("bike".to_owned(), scales(61.0, 64.0)), ("rider".to_owned(), scales(30.0, 66.0))],
        Ends { front: Mass::from_si(14.2), rear: Mass::from_si(17.5) },
        None,
    )
    .unwrap()
}

#[test]
fn the_spring_carries_the_scale_less_the_unsprung() {
    let load = patrol().sprung_load(End::Rear, &Load::parse("bike + rider").unwrap()).unwrap();
    assert_eq!(load.value.si(), (64.0 + 66.0 - 17.5) * STANDARD_GRAVITY_SI);
    let three_readings = 0.5 * 3f64.sqrt() * STANDARD_GRAVITY_SI;
    assert!((load.standard_uncertainty.si() - three_readings).abs() < 1e-12);
    assert_eq!(patrol().sprung_load(End::Rear, &Load::None).unwrap().value.si(), 0.0);
}

#[test]
fn faults_name_the_mass() {
    let masses = patrol();
    let say = |text: &str| masses.sprung_load(End::Front, &Load::parse(text).unwrap()).unwrap_err().to_string();
    assert!(say("bike + ridr").contains("did you mean `rider`"), "{}", say("bike + ridr"));
    assert!(say("bike + bike").contains("twice"));
    assert!(say("rider").contains("`bike + rider`"), "a rider without a bike stands on no wheel");
}

#[test]
fn unsprung_above_the_scale_is_refused() {
    let light = Weighing::Scales(Ends { front: Mass::from_si(10.0), rear: Mass::from_si(64.0) });
    let unsprung = Ends { front: Mass::from_si(14.2), rear: Mass::from_si(17.5) };
    let error = Masses::new(vec![("bike".to_owned(), light)], unsprung, None).unwrap_err();
    assert!(matches!(error, MassError::NegativeSprung { end: End::Front, .. }), "{error}");
}

#[test]
fn a_position_needs_a_wheelbase() {
    let pack = Weighing::Position { total: Mass::from_si(8.0), behind_front_axle: parse::<Length>("1.6 m").unwrap() };
    let bike = patrol().named()[0].clone();
    let named = vec![bike, ("pack".to_owned(), pack)];
    let unsprung = patrol().unsprung();
    assert!(matches!(Masses::new(named.clone(), unsprung, None), Err(MassError::NoWheelbase { .. })));
    let masses = Masses::new(named, unsprung, Some(Length::from_si(1.48))).unwrap();
    let share = masses.share("pack").unwrap();
    assert!(share.front.si() < 0.0, "behind the rear axle it lifts the front");
    assert!((share.front + share.rear - Mass::from_si(8.0)).si().abs() < 1e-12);
}

#[test]
fn a_name_that_no_load_could_say_is_refused_with_the_reason() {
    let of_notation = "a name is not empty, has no `+` and no space at its ends";
    for (name, used, reason) in [
        ("", false, of_notation),
        ("a+b", false, of_notation),
        (" pack", false, of_notation),
        ("none", false, "the word has a meaning of its own in a load"),
        ("pack", true, "it is used twice"),
    ] {
        let refused = super::weighing::check_name(name, used).unwrap_err();
        assert_eq!(refused.to_string(), format!("`{name}` cannot name a mass: {reason}"));
    }
    assert_eq!(super::weighing::check_name("medical pack", false), Ok(()));
}

#[test]
fn a_raise_that_takes_no_weight_off_the_raised_wheel_is_refused() {
    let kg = Mass::from_si;
    let raise = |grounded: f64| AxleRaise {
        level: Ends { front: kg(61.0), rear: kg(64.0) },
        raised: End::Rear,
        grounded: kg(grounded),
        lift: Length::from_si(0.5),
        wheelbase: Length::from_si(1.48),
        front_radius: Length::from_si(0.34),
        rear_radius: Length::from_si(0.33),
        scale_uncertainty: kg(0.2),
        tape_uncertainty: Length::from_si(0.002),
    };
    assert!(raise(75.0).cg_height().is_ok());
    for all in [125.0, 130.0] {
        let refused = raise(all).cg_height().unwrap_err().to_string();
        assert_eq!(refused, format!("grounded: found {all} kg, wanted less than the 125 kg of both level readings"));
    }
}

#[test]
fn a_load_of_no_mass_is_not_the_wheel_off_the_ground() {
    let empty = Load::Masses([].into());
    assert_eq!(patrol().wheel_mass(End::Rear, &empty), Err(MassError::Empty));
    assert_eq!(patrol().wheel_mass(End::Rear, &Load::None).unwrap().value.si(), 0.0);
}
