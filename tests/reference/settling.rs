//! Rest and small motion of a whole bike against SciPy.
//!
//! Source: the bike below written again in Python, its swingarm solved by `fsolve`, its rest found as the least potential
//! energy of springs and weights by SciPy's `minimize`, and its modes from second differences of that energy and first
//! differences of all positions by `scipy.linalg.eigh`. Nothing of the library's equations is in it.

use wheelrate::bike::settling::{
    Chassis, ChassisParts, RearReaction, RoadWheel, Running, Sprung, longitudinal_transfer,
};
use wheelrate::fork::{Fork, ForkLeg};
use wheelrate::linkage::Mechanism;
use wheelrate::record::Ends;
use wheelrate::shock::{Shock, ShockParts};
use wheelrate::spring::Preloaded;
use wheelrate::units::{Acceleration, Angle, Length, Mass, MomentOfInertia, Quantity, Share, SpringRate};
use wheelrate::wheel::{FrontEnd, RearEnd};

use crate::outside::{Tolerance, agree};

fn m(value: f64) -> Length {
    Length::from_si(value)
}

fn coil(rate: f64, preload: f64) -> Preloaded {
    Preloaded::linear(SpringRate::from_si(rate), m(preload)).unwrap()
}

fn trail_bike() -> (FrontEnd, RearEnd, ChassisParts, Sprung) {
    let leg = ForkLeg::new().with_spring(coil(5_200.0, 0.008));
    let fork = Fork::new(m(0.29), Angle::from_si(26f64.to_radians()), [leg.clone(), leg]).unwrap();
    let front = FrontEnd::new(fork).with_axle([m(0.905), m(-0.215)]).unwrap();
    let points = [
        ("pivot", [m(0.0), m(0.0)]),
        ("axle", [m(-0.575), m(-0.165)]),
        ("top", [m(-0.1), m(0.329)]),
        ("eye", [m(-0.25), m(-0.04)]),
    ];
    let bodies = [("frame", vec!["pivot", "top"]), ("swingarm", vec!["pivot", "axle", "eye"])];
    let parts = ShockParts::new().with_spring(coil(68e3, 0.012));
    let shock = Shock::new(m(0.398), m(0.09), parts, 1).unwrap();
    let rear = RearEnd::new(Mechanism::new(points, bodies).unwrap(), "axle", ("top", "eye"), shock).unwrap();
    let wheel =
        |radius: f64, unsprung: f64| RoadWheel { radius: m(radius), tyre: None, unsprung: Mass::from_si(unsprung) };
    let chassis = ChassisParts {
        fork_offset: m(0.03),
        wheels: Ends { front: wheel(0.345, 14.0), rear: wheel(0.335, 18.0) },
        gravity: Acceleration::from_si(9.80665),
    };
    (front, rear, chassis, Sprung { mass: Mass::from_si(190.0), x: m(0.12), z: m(0.36) })
}

#[test]
fn rest_of_a_trail_bike() {
    const DIFFERENCE: Tolerance = Tolerance::absolute(
        1e-7,
        "the difference of energies that SciPy's rest is polished with is good to this many metres, and what follows from it \
         to as many radians and metres",
    );
    let (front, rear, parts, sprung) = trail_bike();
    let settled = Chassis::new(&front, &rear, parts).unwrap().settle(&sprung, &Running::default()).unwrap();
    let stance = &settled.stance;
    agree!(stance.travel.front.si(), 0.0590118549, DIFFERENCE);
    agree!(stance.travel.rear.si(), 0.0675009057, DIFFERENCE);
    agree!(stance.shock_stroke.si(), 0.025635228609, DIFFERENCE);
    agree!(stance.pitch.si(), (-2.7076280759465323_f64).to_radians(), DIFFERENCE);
    agree!(stance.rake.si(), 28.707628075946538_f64.to_radians(), DIFFERENCE);
    agree!(stance.trail.si(), 0.15473736733215382, DIFFERENCE);
    agree!(stance.wheelbase.si(), 1.4677317885453445, DIFFERENCE);
    let [ahead, height] = stance.place([sprung.x, sprung.z]);
    agree!(ahead.si(), 0.6879830494, DIFFERENCE);
    agree!(height.si(), 0.8246887804, DIFFERENCE);
    agree!(settled.load.front.si(), 1010.6772663731789, DIFFERENCE.times(1e4));
}

#[test]
fn exact_modes_of_a_trail_bike() {
    const DIFFERENCE: Tolerance = Tolerance::absolute(1e-4, "second differences of 2 kJ over 0.1 mm");
    let (front, rear, parts, sprung) = trail_bike();
    let modes = Chassis::new(&front, &rear, parts).unwrap().modes(&sprung, MomentOfInertia::from_si(45.0)).unwrap();
    assert_eq!(modes.len(), 2);
    for (mode, frequency, center) in
        [(modes[0], 1.7405572479, 2.7216745258506334), (modes[1], 2.2959642136, -0.07126400658728511)]
    {
        agree!(mode.frequency.si(), frequency, DIFFERENCE.times(frequency));
        agree!(mode.center_ahead.unwrap().si(), center, DIFFERENCE.times(10.0));
    }
}

/// Moments by hand (any statics text): braking at 5 m/s² moves `m·a·h/L`.
#[test]
fn braking_moves_load_forward_and_dives() {
    let (front, rear, parts, sprung) = trail_bike();
    let chassis = Chassis::new(&front, &rear, parts).unwrap();
    let standing = chassis.settle(&sprung, &Running::default()).unwrap();
    let deceleration = Acceleration::from_si(5.0);
    let braking = Running::braking(deceleration, Share::from_si(1.0), RearReaction::Swingarm);
    let dived = chassis.settle(&sprung, &braking).unwrap();
    assert!(dived.stance.travel.front > standing.stance.travel.front);
    assert!(dived.stance.travel.rear < standing.stance.travel.rear);
    assert!(dived.stance.trail < standing.stance.trail);
    let total = Mass::from_si(222.0);
    let heights = dived.stance.axle_height;
    let [ahead, height] = dived.stance.place([sprung.x, sprung.z]);
    let center = (190.0 * height.si() + 14.0 * heights.front.si() + 18.0 * heights.rear.si()) / 222.0;
    let wheelbase = dived.stance.wheelbase;
    let moved = longitudinal_transfer(total, -deceleration, m(center), wheelbase).unwrap();
    let still = (190.0 * ahead.si() + 14.0 * wheelbase.si()) / wheelbase.si() * 9.80665;
    const SUMS: Tolerance = Tolerance::absolute(1e-6, "sums of a few numbers near 2 kN");
    agree!(dived.load.front.si(), still - moved.si(), SUMS);
}
