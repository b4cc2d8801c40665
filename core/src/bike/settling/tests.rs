//! A trail bike with a shock straight to its swingarm, coil springs only.

use super::*;
use crate::fork::{Fork, ForkLeg};
use crate::linkage::Mechanism;
use crate::shock::{Shock, ShockParts};
use crate::spring::Preloaded;
use crate::units::kind::STANDARD_GRAVITY_SI as GRAVITY;
use crate::units::{Angle, Share, SpringRate};
use crate::wheel::{Settling, Tunable, Wheel};

const RAKE: f64 = 26.0;

pub(super) fn m(value: f64) -> Length {
    Length::from_si(value)
}

fn preloaded(rate: f64, preload: f64) -> Preloaded {
    Preloaded::linear(SpringRate::from_si(rate), m(preload)).unwrap()
}

pub(super) fn fork_end(rake: f64, rate: f64, preload: f64) -> FrontEnd {
    let leg = ForkLeg::new().with_spring(preloaded(rate / 2.0, preload));
    let fork = Fork::new(m(0.29), Angle::from_si(rake.to_radians()), [leg.clone(), leg]).unwrap();
    FrontEnd::new(fork).with_axle([m(0.905), m(-0.215)]).unwrap()
}

pub(super) fn rear_end(rate: f64, preload: f64) -> RearEnd {
    let points = [
        ("pivot", [m(0.0), m(0.0)]),
        ("axle", [m(-0.575), m(-0.165)]),
        ("top", [m(-0.1), m(0.329)]),
        ("eye", [m(-0.25), m(-0.04)]),
    ];
    let bodies = [("frame", vec!["pivot", "top"]), ("swingarm", vec!["pivot", "axle", "eye"])];
    let mechanism = Mechanism::new(points, bodies).unwrap();
    let parts = ShockParts { spring: Some(preloaded(rate, preload)), ..ShockParts::default() };
    let shock = Shock::new(m(0.398), m(0.09), parts, 1).unwrap();
    RearEnd::new(mechanism, "axle", ("top", "eye"), shock).unwrap()
}

pub(super) fn parts(tyres: Option<f64>) -> ChassisParts {
    let wheel = |radius: f64, unsprung: f64| RoadWheel {
        radius: m(radius),
        tyre: tyres.map(WheelRate::from_si),
        unsprung: Mass::from_si(unsprung),
    };
    ChassisParts {
        fork_offset: m(0.03),
        wheels: Ends { front: wheel(0.345, 14.0), rear: wheel(0.335, 18.0) },
        gravity: Acceleration::from_si(GRAVITY),
    }
}

pub(super) fn ridden() -> Sprung {
    Sprung { mass: Mass::from_si(190.0), x: m(0.12), z: m(0.36) }
}

pub(super) fn bike() -> (FrontEnd, RearEnd) {
    (fork_end(RAKE, 10_400.0, 0.008), rear_end(68e3, 0.012))
}

fn pair(ends: Ends<Length>) -> [f64; 2] {
    [ends.front.si(), ends.rear.si()]
}

/// The potential energy of the bike on rigid wheels, from the ends' own energies and axles; the pitch by halving.
fn potential(chassis: &Chassis<'_>, sprung: &Sprung, travel: [f64; 2]) -> f64 {
    let [zf, zr] = travel.map(m);
    let energy = chassis.front.at(zf).unwrap().energy.si() + chassis.rear.at(zr).unwrap().energy.si();
    let [front, rear] =
        [chassis.front.axle(zf).unwrap(), chassis.rear.axle(zr).unwrap()].map(|at| at.map(Quantity::si));
    let wheels = chassis.parts.wheels;
    let height = |pitch: f64, [x, z]: [f64; 2]| (z - rear[1]) * pitch.cos() - (x - rear[0]) * pitch.sin();
    let (mut low, mut high) = (-1.0_f64, 1.0_f64);
    for _ in 0..80 {
        let middle = f64::midpoint(low, high);
        let above = height(middle, front) + wheels.rear.radius.si() - wheels.front.radius.si();
        if above > 0.0 { low = middle } else { high = middle }
    }
    energy + sprung.mass.si() * GRAVITY * height(low, [sprung.x.si(), sprung.z.si()])
}

/// The lowest potential energy, by steps along both travels that halve until they no longer help.
fn lowest(energy: impl Fn([f64; 2]) -> f64, mut at: [f64; 2]) -> [f64; 2] {
    let mut step = 0.02;
    while step > 1e-8 {
        let around = [[step, 0.0], [-step, 0.0], [0.0, step], [0.0, -step], [step, step], [-step, -step]];
        let moved = around.map(|[a, b]| [at[0] + a, at[1] + b]);
        let inside = moved.into_iter().filter(|&[a, b]| (0.0..0.25).contains(&a) && (0.0..0.2).contains(&b));
        let best = inside.min_by(|&a, &b| energy(a).total_cmp(&energy(b))).unwrap();
        if energy(best) < energy(at) { at = best } else { step /= 2.0 }
    }
    at
}

#[test]
fn rest_is_where_the_potential_energy_is_lowest() {
    /// The energy of some 2 kJ is known to 1e-13 of it, which lets 8 N/mm move by this.
    const FLAT: f64 = 1e-6;
    let (front, rear) = bike();
    let chassis = Chassis::new(&front, &rear, parts(None)).unwrap();
    let settled = chassis.settle(&ridden(), &Running::default()).unwrap();
    let found = pair(settled.stance.travel);
    let least = lowest(|travel| potential(&chassis, &ridden(), travel), [0.05, 0.05]);
    assert!((found[0] - least[0]).abs() < FLAT && (found[1] - least[1]).abs() < FLAT, "{found:?} {least:?}");
    // Pitched by more than a degree, so that the attitude counts.
    assert!(settled.stance.pitch.si().abs() > 0.015, "{:?}", settled.stance);
}

#[test]
fn the_fork_acts_along_the_settled_rake() {
    /// The search at an end leaves 1e-11 m of some 10 kN/m open.
    const LEFT: f64 = 1e-6;
    let (front, rear) = bike();
    let chassis = Chassis::new(&front, &rear, parts(None)).unwrap();
    let settled = chassis.settle(&ridden(), &Running::default()).unwrap();
    let axial = settled.ends.front.state().unwrap().axial_force.si();
    let load = settled.load.front.si() - 14.0 * GRAVITY;
    assert!((axial - load * settled.stance.rake.si().cos()).abs() < LEFT);
    let shock = settled.ends.rear.state().unwrap();
    let slope = {
        let [near, far] = [-1e-4, 1e-4].map(|by| chassis.rear.axle(shock.travel + m(by)).unwrap()[0].si());
        (far - near) / 2e-4
    };
    let pitch = settled.stance.pitch.si();
    let load = settled.load.rear.si() - 18.0 * GRAVITY;
    // The slope of the axle's path by a difference over 0.2 mm is good to 1e-8.
    assert!((shock.wheel_force.si() - load * (pitch.cos() - pitch.sin() * slope)).abs() < 1e-4);
}

#[test]
fn scales_and_mass_say_the_same() {
    /// Two searches that each leave 1e-11 m open.
    const LEFT: f64 = 1e-9;
    let (front, rear) = bike();
    for tyres in [None, Some(170e3)] {
        let chassis = Chassis::new(&front, &rear, parts(tyres)).unwrap();
        let settled = chassis.settle(&ridden(), &Running::default()).unwrap();
        let on_scales = chassis.settle_on_scales(settled.load).unwrap();
        for (a, b) in pair(settled.stance.travel).into_iter().zip(pair(on_scales.stance.travel)) {
            assert!((a - b).abs() < LEFT, "{a} {b}");
        }
        let [_, height] = settled.stance.place([ridden().x, ridden().z]);
        let again = chassis.sprung_from_scales(settled.load, height).unwrap();
        assert!((again.mass - ridden().mass).si().abs() < 1e-6, "{again:?}");
        assert!((again.x - ridden().x).si().abs() < 1e-7 && (again.z - ridden().z).si().abs() < 1e-7, "{again:?}");
    }
}

#[test]
fn tyres_lower_the_axles_by_their_load() {
    let (front, rear) = bike();
    let settled =
        Chassis::new(&front, &rear, parts(Some(170e3))).unwrap().settle(&ridden(), &Running::default()).unwrap();
    for (height, radius, load) in [
        (settled.stance.axle_height.front, 0.345, settled.load.front),
        (settled.stance.axle_height.rear, 0.335, settled.load.rear),
    ] {
        assert!((radius - height.si() - load.si() / 170e3).abs() < 1e-9);
    }
}

#[test]
fn stops_carry_what_springs_do_not() {
    let (front, rear) = bike();
    let chassis = Chassis::new(&front, &rear, parts(None)).unwrap();
    let standing = Running::default();
    let feather = Sprung { mass: Mass::from_si(1.0), ..ridden() };
    let light = chassis.settle(&feather, &standing).unwrap();
    assert!(matches!(light.ends.front, Settling::ToppedOut { margin, .. } if margin.si() > 0.0));
    let extended = chassis.extended().unwrap();
    assert_eq!(light.stance, extended);
    let heavy = chassis.settle(&Sprung { mass: Mass::from_si(900.0), ..ridden() }, &standing).unwrap();
    assert!(matches!(heavy.ends.rear, Settling::Bottomed { .. }));
    assert_eq!(heavy.stance.travel.rear, rear.full_travel());
}

#[test]
fn a_bike_that_cannot_stand_is_refused() {
    let (front, rear) = bike();
    let chassis = Chassis::new(&front, &rear, parts(None)).unwrap();
    let say = |sprung: Sprung, running: Running| chassis.settle(&sprung, &running).unwrap_err().to_string();
    let behind = Sprung { x: m(-1.2), ..ridden() };
    assert!(say(behind, Running::default()).starts_with("the front wheel would leave the ground"));
    let hard = Running::driving(Acceleration::from_si(15.0), RearReaction::Frame);
    assert!(say(ridden(), hard).contains("front wheel"));
    let stoppie = Running::braking(Acceleration::from_si(15.0), Share::from_si(1.0), RearReaction::Frame);
    assert!(say(ridden(), stoppie).contains("rear wheel"));
    let front = fork_end(RAKE, 10_400.0, 0.008);
    let far = FrontEnd::new(front.fork().unwrap().clone());
    assert!(Chassis::new(&far, &rear, parts(None)).unwrap_err().to_string().contains("front.axle"));
    let swapped = front.with_axle([m(-0.905), m(-0.215)]).unwrap();
    assert!(matches!(Chassis::new(&swapped, &rear, parts(None)), Err(crate::Error::Bike(BikeError::Axles { .. }))));
}

/// Springs so soft under a mass so high that the bike falls over on them, until the stops hold it.
#[test]
fn soft_springs_under_a_high_mass_do_not_hold_the_pitch() {
    let (front, rear) = (fork_end(RAKE, 2_500.0, 0.28), rear_end(20e3, 0.1));
    let chassis = Chassis::new(&front, &rear, parts(None)).unwrap();
    let at = |z: f64| chassis.settle(&Sprung { z: m(z), ..ridden() }, &Running::default()).unwrap();
    assert!(at(0.1).ends.front.state().is_some() && at(0.1).ends.rear.state().is_some());
    let fallen = at(2.5).ends;
    let stops = |low: &Settling, high: &Settling| {
        matches!((low, high), (Settling::Bottomed { .. }, Settling::ToppedOut { .. }))
    };
    assert!(stops(&fallen.front, &fallen.rear) || stops(&fallen.rear, &fallen.front), "{fallen:?}");
}

#[test]
fn raising_the_fork_in_its_clamps_steepens_the_steering() {
    let (front, rear) = bike();
    let raised = front.raised_in_clamps(m(0.005)).unwrap();
    let before = Chassis::new(&front, &rear, parts(None)).unwrap().settle(&ridden(), &Running::default()).unwrap();
    let after = Chassis::new(&raised, &rear, parts(None)).unwrap().settle(&ridden(), &Running::default()).unwrap();
    assert!(after.stance.rake < before.stance.rake && after.stance.trail < before.stance.trail);
    // 5 mm over a wheelbase of 1.47 m turn a bike on locked ends by 0.2 degrees. On its springs it turns further, because
    // the mass moves forward and the front sinks.
    let turned = before.stance.rake.si() - after.stance.rake.si();
    let locked = 0.005 * RAKE.to_radians().cos() / before.stance.wheelbase.si();
    assert!(turned > 1.1 * locked && turned < 1.5 * locked, "{turned} {locked}");
    let lifted = rear.with_longer_shock(m(0.002)).unwrap();
    let after = Chassis::new(&front, &lifted, parts(None)).unwrap().settle(&ridden(), &Running::default()).unwrap();
    assert!(after.stance.rake < before.stance.rake);
    let seat = [m(-0.1), m(0.45)];
    assert!(after.stance.place(seat)[1] > before.stance.place(seat)[1]);
}

#[test]
fn a_place_on_the_frame_is_found_again() {
    let (front, rear) = bike();
    let stance = Chassis::new(&front, &rear, parts(None)).unwrap().extended().unwrap();
    let point = [m(0.3), m(0.7)];
    let again = stance.point_at(stance.place(point));
    assert!((again[0] - point[0]).si().abs() < 1e-14 && (again[1] - point[1]).si().abs() < 1e-14);
}

/// Ends alike, upright, so that the bike can be turned round.
#[test]
fn a_mirrored_bike_rests_mirrored() {
    /// The searches at the ends leave 1e-11 m open.
    const LEFT: f64 = 1e-9;
    let (soft, hard) = (fork_end(0.0, 8_000.0, 0.01), fork_end(0.0, 11_000.0, 0.004));
    let mirror = |end: &FrontEnd| {
        let [x, z] = end.extended_axle().unwrap();
        end.clone().with_axle([-x, z]).unwrap()
    };
    let plane = |front: &FrontEnd, rear: &FrontEnd, x: f64| {
        let tables = EndTables::default();
        let plane = Plane {
            ends: [front as &dyn Wheel, rear],
            tables: &tables,
            radius: [0.34; 2],
            softness: [1.0 / 160e3; 2],
            unsprung: [15.0; 2],
            caliper: None,
        };
        let lump = Lump { mass: 190.0, at: [x, 0.4] };
        plane.settle(&Burden::Mass(lump), &Field::level(GRAVITY)).unwrap()
    };
    let ahead = plane(&soft, &mirror(&hard), 0.1);
    let behind = plane(&hard, &mirror(&soft), -0.1);
    assert!((ahead.pose.pitch() + behind.pose.pitch()).abs() < LEFT);
    for end in [FRONT, REAR] {
        assert!((ahead.travel[end] - behind.travel[1 - end]).abs() < LEFT);
        assert!((ahead.contact.normal[end] - behind.contact.normal[1 - end]).abs() < 1e4 * LEFT);
    }
}

mod properties;

#[test]
fn a_chain_needs_its_sprockets_apart_at_both_ends_of_the_travel() {
    let (front, rear) = bike();
    let chassis = Chassis::new(&front, &rear, parts(None)).unwrap();
    let settles = |ahead: f64| {
        // Ahead of the axle of the extended bike, which moves by millimetres over its travel.
        let reaction = RearReaction::Chain {
            sprocket: [m(-0.575 + ahead), m(0.0)],
            front_radius: m(0.033),
            rear_radius: m(0.105),
        };
        chassis.settle(&ridden(), &Running::driving(Acceleration::from_si(1.0), reaction)).map(drop)
    };
    assert!(settles(0.25).is_ok());
    for ahead in [0.13, 0.09, 0.05, -0.1] {
        let refused = settles(ahead).unwrap_err().to_string();
        assert!(refused.contains("sprockets"), "{ahead}: {refused}");
    }
}

#[test]
fn what_carries_an_end_first_is_found_alike_with_forces_along_the_ground_and_without() {
    use super::plane::Contact;
    let (front, rear) = bike();
    let chassis = Chassis::new(&front, &rear, parts(None)).unwrap();
    let plane = chassis.plane();
    let pose = plane.pose_on([0, 1].map(|end| plane.exact(end, 0.05).sample.axle), [0.0; 2]).unwrap();
    let running = Running { rear_reaction: RearReaction::Swingarm, ..Running::default() };
    let field = running.field(GRAVITY, &rear).unwrap();
    let mut differ = 0;
    for normal in [0.0, 300.0, 700.0, 1000.0, 1500.0, 2500.0, 60e3] {
        for along in [-600.0, 0.0, 600.0] {
            let contact = Contact { normal: [normal; 2], along: [along; 2] };
            for end in [0, 1] {
                // Node by node, the turn of the wheel in it.
                let found = plane.first_over(end, &pose, &contact, &field);
                let expected = plane.table(end).first_over(|at| plane.balance(end, at, &pose, &contact, &field));
                assert_eq!(found, expected, "{end} under {normal} and {along}");
                let still = Contact { along: [0.0; 2], ..contact };
                differ += usize::from(found != plane.first_over(end, &pose, &still, &field));
            }
        }
    }
    assert!(differ > 0, "the torque at the wheel moves an end");
}
