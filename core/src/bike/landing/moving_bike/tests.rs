//! Against the two ends alone, statics under braking, and the account of energies.

use super::*;
use crate::Bike;
use crate::bike::landing::BikeMotionEnd;
use crate::demo::PATROL;
use crate::record::Ends;
use crate::units::{Force, parse};

fn demo() -> Bike {
    Bike::from_toml(PATROL).unwrap()
}

fn moving(bike: &Bike) -> MovingBike<'_> {
    bike.whole().moving_bike(&bike.parts().rider_load).unwrap()
}

/// Two integrations of the same motion, each to a billionth a step.
const SAME: f64 = 1e-6;
/// Share of the energy given up that may be missing.
const ACCOUNT: f64 = 1e-5;

#[test]
fn it_decouples_where_the_inertia_is_m_a_b() {
    let bike = demo();
    let both = moving(&bike);
    let apart = both.clone().with_pitch_inertia(both.apart_inertia()).unwrap();
    let (height, duration) = (parse("400 mm").unwrap(), parse("0.8 s").unwrap());
    let whole = apart.land(height, Angle::from_si(0.0), duration).unwrap();
    for (end, found) in [(End::Front, &whole.ends.front), (End::Rear, &whole.ends.rear)] {
        let alone = apart.end(end).land(height, duration).unwrap();
        for (one, other) in found.travel.iter().zip(&alone.travel) {
            assert!((*one - *other).si().abs() < SAME, "{end}: {one:?} {other:?}");
        }
        assert!((found.peak_travel - alone.peak_travel).si().abs() < SAME);
        assert!((found.peak_tyre_force.si() / alone.peak_tyre_force.si() - 1.0).abs() < 1e-5);
    }
    // With its own inertia it does not.
    let own = both.land(height, Angle::from_si(0.0), duration).unwrap();
    assert!((own.ends.rear.peak_travel - whole.ends.rear.peak_travel).si().abs() > 100.0 * SAME);
}

#[test]
fn nothing_of_the_energy_is_lost() {
    let bike = demo();
    let legs =
        Legs { mass: parse("60 kg").unwrap(), rate: "9 N/mm".parse().unwrap(), damping: "900 N s/m".parse().unwrap() };
    let braking = Braking {
        deceleration: parse("6 m/s2").unwrap(),
        front_share: parse("70 %").unwrap(),
        build_up: parse("0.3 s").unwrap(),
        grip: 1.0,
    };
    for both in [moving(&bike), moving(&bike).with_legs(legs).unwrap()] {
        let second = parse("1.2 s").unwrap();
        for motion in [
            both.land(parse("600 mm").unwrap(), parse("-6 deg").unwrap(), second).unwrap(),
            both.land(parse("300 mm").unwrap(), parse("4 deg").unwrap(), second).unwrap(),
            both.brake(braking, second).unwrap(),
        ] {
            let energy = &motion.energy;
            let turned = energy.by_damper.si() + energy.by_friction.si() + energy.by_legs.si();
            assert!(energy.missing.si().abs() < ACCOUNT * turned.max(1.0), "{energy:?}");
        }
    }
}

#[test]
fn braked_steadily_it_stands_as_statics_have_it() {
    let bike = demo();
    let none = Some(Force::from_si(0.0));
    let whole = bike.whole();
    let load = &bike.parts().rider_load;
    let dampers = Ends { front: None, rear: None };
    let both = whole.moving_bike_with(load, dampers, Ends { front: none, rear: none }).unwrap();
    let gentle = 1.0;
    let braking = Braking {
        deceleration: Acceleration::from_si(gentle),
        front_share: Share::from_si(0.6),
        build_up: Time::from_si(1.0),
        grip: 1.0,
    };
    let motion = both.brake(braking, Time::from_si(8.0)).unwrap();
    let transfer = both.tied.total * gentle * both.tied.height / both.tied.wheelbase;
    let loads = |end: &BikeMotionEnd| [end.tyre_force[0].si(), end.tyre_force.last().unwrap().si()];
    let [before, after] = loads(&motion.ends.front);
    // What is left of the swing after eight seconds.
    assert!(((after - before) / transfer - 1.0).abs() < 1e-3, "{before} {after} {transfer}");
    let [before, after] = loads(&motion.ends.rear);
    assert!(((before - after) / transfer - 1.0).abs() < 1e-3, "{before} {after} {transfer}");
    let dive = whole.anti_dive_at_rest(load).unwrap().anti_dive.si();
    let end = &motion.ends.front;
    let more = end.wheel_force.last().unwrap().si() - end.wheel_force[0].si();
    // The springs take what is not carried past them; a fork without anti-dive takes more.
    assert!((more / transfer - (1.0 - 0.6 * dive)).abs() < 2e-3, "{more} {transfer} {dive}");
    assert!((motion.deceleration.last().unwrap().si() - gentle).abs() < 1e-9);
    assert!(motion.pitch.last().unwrap().si() > 0.0);
}

#[test]
fn a_grip_that_is_too_little_brakes_less_and_legs_take_from_the_tyres() {
    let bike = demo();
    let both = moving(&bike);
    let braking = |grip: f64| Braking {
        deceleration: Acceleration::from_si(9.0),
        front_share: Share::from_si(0.5),
        build_up: Time::from_si(0.3),
        grip,
    };
    let ice = both.brake(braking(0.2), Time::from_si(1.0)).unwrap();
    assert!(ice.deceleration.iter().all(|now| now.si() < 0.3 * 9.80665));
    let (height, level, second) = (parse("500 mm").unwrap(), Angle::from_si(0.0), parse("0.6 s").unwrap());
    let legs =
        Legs { mass: parse("60 kg").unwrap(), rate: "6 N/mm".parse().unwrap(), damping: "600 N s/m".parse().unwrap() };
    let stiff = both.land(height, level, second).unwrap();
    let soft = both.clone().with_legs(legs).unwrap().land(height, level, second).unwrap();
    assert!(soft.ends.rear.peak_travel < stiff.ends.rear.peak_travel);
    let refused = both.with_legs(Legs { mass: parse("500 kg").unwrap(), ..legs }).unwrap_err().to_string();
    assert!(refused.contains("mass"), "{refused}");
}

#[test]
fn a_rider_who_rests_on_his_legs_stays_there() {
    let bike = demo();
    let legs =
        Legs { mass: parse("60 kg").unwrap(), rate: "9 N/mm".parse().unwrap(), damping: "50 N s/m".parse().unwrap() };
    let braking = Braking {
        deceleration: Acceleration::from_si(0.0),
        front_share: Share::from_si(0.5),
        build_up: Time::from_si(0.1),
        grip: 1.0,
    };
    for both in [moving(&bike), moving(&bike).with_legs(legs).unwrap()] {
        let motion = both.brake(braking, Time::from_si(0.5)).unwrap();
        for (at, rise) in motion.rider_rise.iter().enumerate() {
            assert!(rise.si().abs() < SAME && motion.body_rise[at].si().abs() < SAME, "{rise:?}");
            assert!(motion.pitch[at].si().abs() < SAME);
            // A tyre of 160 N/mm shows a place as a force.
            let carried = motion.ends.front.tyre_force[at].si() + motion.ends.rear.tyre_force[at].si();
            assert!((carried - both.tied.total * 9.80665).abs() < 400e3 * SAME, "{carried}");
        }
    }
}

#[test]
fn the_lower_tyre_just_touches_as_a_fall_begins() {
    let bike = demo();
    let both = moving(&bike);
    for (attitude, touches) in [(6.0_f64, [true, false]), (0.0, [true, true]), (-6.0, [false, true])] {
        let attitude = Angle::from_si(attitude.to_radians());
        let motion = both.land(parse("600 mm").unwrap(), attitude, parse("100 ms").unwrap()).unwrap();
        for (end, touches) in [&motion.ends.front, &motion.ends.rear].into_iter().zip(touches) {
            let [start, next] = [end.tyre_force[0].si(), end.tyre_force[1].si()];
            // Places are added up of arm and pitch: some roundings of a metre, on 180 N/mm.
            assert!(start < 1e-8, "{attitude:?}: {start}");
            // At 3.4 m/s it is pressed in by a third of a millimetre after a ten-thousandth of a second.
            assert_eq!(next > 50.0, touches, "{attitude:?}: {next}");
            assert!(touches || next == 0.0, "{attitude:?}: {next}");
        }
    }
}

#[test]
fn an_end_that_meets_its_stop_says_when_and_how_fast() {
    /// The speed and the energy of two integrations, relative.
    const ALIKE: f64 = 1e-4;
    let bike = demo();
    let both = moving(&bike);
    // Decoupled, so that each end meets its stop as it does alone.
    let both = both.clone().with_pitch_inertia(both.apart_inertia()).unwrap();
    let (duration, level) = (parse("0.3 s").unwrap(), Angle::from_si(0.0));
    let [low, high] = ["20 mm", "2.5 m"].map(|height| parse(height).unwrap());
    let (soft, hard) = (both.land(low, level, duration).unwrap(), both.land(high, level, duration).unwrap());
    for (end, soft, hard) in
        [(End::Front, &soft.ends.front, &hard.ends.front), (End::Rear, &soft.ends.rear, &hard.ends.rear)]
    {
        assert!(soft.bottoming.is_none() && soft.peak_travel < soft.full_travel);
        let (found, alone) = (hard.bottoming.unwrap(), both.end(end).land(high, duration).unwrap().bottoming.unwrap());
        assert!((found.time - alone.time).si().abs() < SAME, "{end}: {found:?} {alone:?}");
        assert!((found.speed.si() / alone.speed.si() - 1.0).abs() < ALIKE, "{end}: {found:?} {alone:?}");
        assert!((found.energy.si() / alone.energy.si() - 1.0).abs() < ALIKE, "{end}: {found:?} {alone:?}");
    }
}

#[test]
fn ground_that_comes_later_is_level_until_then() {
    #[derive(Debug)]
    struct Ramp;
    impl GroundHeight for Ramp {
        fn at(&self, time: f64) -> [f64; 2] {
            [0.01 + 0.5 * time, 0.5]
        }
        fn grain(&self) -> f64 {
            0.125
        }
    }
    let later = Later { ground: &Ramp, delay: 0.25 };
    assert_eq!([later.at(0.0), later.at(0.2)], [[0.0; 2]; 2]);
    assert_eq!([later.at(0.25), later.at(1.25)], [[0.01, 0.5], [0.51, 0.5]]);
    assert_eq!(later.grain(), 0.125);
}
