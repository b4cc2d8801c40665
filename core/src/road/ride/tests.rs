use super::*;
use crate::bike::ride::QuarterBike;
use crate::road::{RoadClass, quarter_ride};

/// Sums of a thousand and more parts.
const ROUNDING: f64 = 1e-9;
const MASS: f64 = 190.0;
const ARM: [f64; 2] = [0.75, 0.7];
const RATE: [f64; 2] = [9000.0, 8300.0];
const TYRE: [f64; 2] = [160e3, 180e3];
const UNSPRUNG: [f64; 2] = [14.2, 17.5];

fn linear(rate: f64) -> Damper {
    Damper::linear(DampingRate::from_si(rate)).unwrap()
}

/// A bike whose ends do not know each other: the pitch inertia is `m·a·b`, the axles move straight up and down.
fn apart(dampers: [Damper; 2]) -> RoadRider {
    let (travel, up) = ([2, 3], |end: usize| if end == 0 { -ARM[0] } else { ARM[1] });
    let unit = |at: usize| DVector::from_fn(MANY, |row, _| f64::from(row == at));
    let axle = [0, 1].map(|end| unit(0) + unit(1) * up(end) + unit(travel[end]));
    let mut mass = DMatrix::from_diagonal(&DVector::from_vec(vec![MASS, MASS * ARM[0] * ARM[1], 0.0, 0.0]));
    let mut stiffness = DMatrix::zeros(MANY, MANY);
    for end in [0, 1] {
        mass += &axle[end] * axle[end].transpose() * UNSPRUNG[end];
        stiffness += unit(travel[end]) * unit(travel[end]).transpose() * RATE[end];
        stiffness += &axle[end] * axle[end].transpose() * TYRE[end];
    }
    let motion = SmallMotion {
        mass,
        stiffness,
        rise: unit(0),
        pitch: unit(1),
        travel: travel.map(unit),
        axle,
        unsprung: UNSPRUNG,
        arm: ARM,
        rest: [0.1; 2],
    };
    let end = |end: usize| RiderEnd {
        damper: dampers[end].clone(),
        friction: 0.0,
        ratio: 1.0,
        rest: 0.1,
        full: 0.3,
        rate: RATE[end],
        sprung: over(end),
        load: 1000.0,
    };
    RoadRider::put_together(&motion, [end(0), end(1)], TYRE)
}

/// Sprung mass over an end, by moments.
fn over(end: usize) -> f64 {
    MASS * ARM[1 - end] / (ARM[0] + ARM[1])
}

#[test]
fn ends_that_do_not_know_each_other_are_two_quarters() {
    let damping = [500.0, 700.0];
    let (road, speed) = (Road::of_class(RoadClass::D), Velocity::from_si(14.0));
    let ride = apart(damping.map(linear)).ride(&road, speed).unwrap();
    for (end, found) in [ride.ends.front, ride.ends.rear].iter().enumerate() {
        let quarter = QuarterBike {
            sprung: Mass::from_si(over(end)),
            unsprung: Mass::from_si(UNSPRUNG[end]),
            rate: WheelRate::from_si(RATE[end]),
            tyre: WheelRate::from_si(TYRE[end]),
        };
        let alone = quarter_ride(&quarter, DampingRate::from_si(damping[end]), &road, speed).unwrap();
        let pairs = [
            (found.travel_rms.si(), alone.travel_rms.si()),
            (found.travel_speed_rms.si(), alone.travel_speed_rms.si()),
            (found.tyre_force_rms.si(), alone.tyre_force_rms.si()),
        ];
        for (found, alone) in pairs {
            assert!((found / alone - 1.0).abs() < ROUNDING, "end {end}: {found} {alone}");
        }
    }
}

#[test]
fn the_damper_found_takes_the_energy_of_the_speed_found() {
    use crate::damper::{DamperSide, Knee};
    let knee = Knee { velocity: Velocity::from_si(0.2), rate: DampingRate::from_si(200.0) };
    let digressive = Damper::new(
        DamperSide::with_knee(DampingRate::from_si(900.0), knee).unwrap(),
        DamperSide::of_rate(DampingRate::from_si(1200.0)).unwrap(),
    );
    let rider = apart([digressive.clone(), linear(700.0)]);
    let friction = Ends { front: Force::from_si(50.0), rear: Force::from_si(0.0) };
    let ride =
        rider.with_friction(friction).unwrap().ride(&Road::of_class(RoadClass::D), Velocity::from_si(14.0)).unwrap();
    let front = ride.ends.front;
    let speed = front.travel_speed_rms;
    // Mean power of friction in Gaussian noise, F·E|v| = F·σ·√(2/π), beside that of the damper.
    let power =
        digressive.equivalent_in_noise(speed).unwrap().si() * speed.si().powi(2) + 50.0 * speed.si() * FRAC_2_PI.sqrt();
    assert!((front.damping.si() * speed.si().powi(2) / power - 1.0).abs() < 1e-8);
    assert!(front.travel_shift.si() > 0.0, "harder in rebound: it packs down");
    assert_eq!(ride.ends.rear.travel_shift, Length::from_si(0.0));
}

#[test]
fn crossings_of_full_travel_are_those_of_rice() {
    let ride =
        apart([linear(500.0), linear(700.0)]).ride(&Road::of_class(RoadClass::F), Velocity::from_si(14.0)).unwrap();
    let end = ride.ends.rear;
    let zero_crossings = end.travel_speed_rms.si() / (TAU * end.travel_rms.si());
    let away = (end.full_travel - end.rest_travel).si() / end.travel_rms.si();
    let expected = zero_crossings * (-0.5 * away * away).exp() * 1000.0 / 14.0;
    assert!((end.bottomings_per_km / expected - 1.0).abs() < 1e-12, "{end:?}");
    assert!((end.bottoming_chance.si() - (1.0 - (-expected).exp())).abs() < 1e-12);
}
