//! Any bike, any end: strategies shared by the test targets.
#![allow(dead_code, reason = "each target takes what it needs")]

use proptest::prelude::*;
use wheelrate::Bike;
use wheelrate::bike::BikeParts;
use wheelrate::damper::{Damper, DamperSide, Knee};
use wheelrate::demo::PATROL;
use wheelrate::fork::{Fork, ForkLeg};
use wheelrate::friction::SealFriction;
use wheelrate::gas::{
    AirSpring, Conditions, Exponents, Filling, ForkAir, ForkAirParts, NegativeChamber, Reservoir, SecondChamber,
    Spacers,
};
use wheelrate::linkage::{Linkage, MeasuredLinkage, MeasuredParts, Mechanism};
use wheelrate::mass::{Masses, Weighing};
use wheelrate::record::{
    Direction, End, Ends, Load, Measuring, OnSale, Range, Reading, SagTarget, Settled, SpringPrior, Targets,
    WheelAndTyre, Wheels,
};
use wheelrate::shock::{Shock, ShockParts};
use wheelrate::spring::{Adjuster, AdjusterParts, Coil, Preloaded, Stop};
use wheelrate::units::{
    AbsolutePressure, Acceleration, Angle, DampingRate, Force, GaugePressure, Length, Mass, MomentOfInertia, Quantity,
    Share, SpringRate, Temperature, Velocity, Volume, WheelRate,
};
use wheelrate::wheel::{FinalDrive, FrontEnd, PivotUncertainty, RearEnd, Sprockets, Tyre, TyreReadings, Wheel};

/// A quantity anywhere in a range, in SI units.
fn any<Q: Quantity>(low: f64, high: f64) -> impl Strategy<Value = Q> {
    (low..high).prop_map(Q::from_si)
}

fn mm(low: f64, high: f64) -> impl Strategy<Value = Length> {
    any(low / 1000.0, high / 1000.0)
}

/// Any text a person could put between quotes, line breaks and quotes included.
fn words() -> impl Strategy<Value = String> {
    "[\\PC\n\t\"'\\\\]{1,20}"
}

fn coil() -> impl Strategy<Value = Coil> {
    (any::<SpringRate>(1e3, 2e5), proptest::option::of((mm(450.0, 600.0), mm(20.0, 60.0)))).prop_filter_map(
        "a coil",
        |(rate, lengths)| {
            let coil = Coil::new(rate).ok()?;
            match lengths {
                Some((free, solid)) => coil.with_lengths(free, solid).ok(),
                None => Some(coil),
            }
        },
    )
}

fn main_spring() -> impl Strategy<Value = Preloaded> {
    let limits = proptest::option::of((mm(0.5, 4.0), mm(-5.0, 5.0), mm(6.0, 30.0)));
    (coil(), mm(-10.0, 30.0), limits).prop_filter_map("a spring in its place", |(coil, preload, limits)| {
        let place = Preloaded::new(coil, preload).ok()?;
        Some(match limits {
            Some((pitch, least, most)) => {
                let parts = AdjusterParts { thread_pitch: Some(pitch), least: Some(least), most: Some(most) };
                place.with_adjuster(Adjuster::new(parts).ok()?)
            }
            None => place,
        })
    })
}

fn stop() -> impl Strategy<Value = Stop> {
    (coil(), mm(1.0, 19.0)).prop_filter_map("a stop", |(coil, acts_over)| Stop::new(coil, acts_over).ok())
}

fn conditions() -> impl Strategy<Value = Conditions> {
    (any::<AbsolutePressure>(0.5e5, 1.1e5), any::<Temperature>(260.0, 340.0))
        .prop_filter_map("conditions", |(pressure, temperature)| Conditions::new(pressure, temperature).ok())
}

/// One stated, or both, the fast one with or without its uncertainty.
fn exponents() -> impl Strategy<Value = Exponents> {
    prop_oneof![
        (1.0..1.4).prop_map(|slow| Exponents::FORK_AIR.with_slow(slow).unwrap()),
        (1.0..1.2, 1.2..1.4, proptest::option::of(0.0..0.1)).prop_map(|(slow, fast, uncertainty)| {
            let both = Exponents::new(slow, fast).unwrap();
            uncertainty.map_or(both, |uncertainty| both.with_fast_uncertainty(uncertainty).unwrap())
        }),
    ]
}

fn air() -> impl Strategy<Value = ForkAir> {
    let added = (proptest::option::of(any::<Volume>(1e-6, 3e-5)), proptest::option::of(any::<GaugePressure>(0.0, 1e5)));
    let around = (proptest::option::of(conditions()), proptest::option::of(conditions()));
    (mm(40.0, 48.0), mm(40.0, 48.0), mm(90.0, 160.0), proptest::option::of(exponents()), added, around).prop_filter_map(
        "air",
        |(sealing_diameter, bore, oil_level, exponents, (steel, pressure), (sealed, running))| {
            let air = ForkAir::new(ForkAirParts { sealing_diameter, bore, oil_level }).ok()?;
            let air = exponents.map_or(air, |exponents| air.with_exponents(exponents));
            let air = steel.map_or(Ok(air), |steel| air.with_steel(steel)).ok()?;
            let air = pressure.map_or(Ok(air), |pressure| air.with_pressure(pressure)).ok()?;
            let air = sealed.map_or(air, |sealed| air.sealed_in(sealed));
            Some(running.map_or(air, |running| air.running_in(running)))
        },
    )
}

fn friction() -> impl Strategy<Value = SealFriction> {
    any::<Force>(0.0, 100.0).prop_filter_map("friction", |force| SealFriction::new(force).ok())
}

fn damper_side() -> impl Strategy<Value = DamperSide> {
    let rate = || any::<DampingRate>(0.0, 2e4);
    let rows = proptest::collection::vec((any::<Velocity>(0.01, 0.5), any::<Force>(0.0, 900.0)), 1..5);
    prop_oneof![
        rate().prop_filter_map("a rate", |rate| DamperSide::of_rate(rate).ok()),
        (rate(), any::<Velocity>(0.01, 2.0), rate()).prop_filter_map("a knee", |(rate, velocity, beyond)| {
            DamperSide::with_knee(rate, Knee { velocity, rate: beyond }).ok()
        }),
        rows.prop_filter_map("a table", |steps| {
            let sum = |(v, f): (Velocity, Force), step: &(Velocity, Force)| (v + step.0, f + step.1);
            let mut last = (Velocity::from_si(0.0), Force::from_si(0.0));
            let rows = steps.iter().map(|step| {
                last = sum(last, step);
                last
            });
            DamperSide::of_table(rows.collect()).ok()
        }),
    ]
}

fn damper() -> impl Strategy<Value = Damper> {
    (damper_side(), damper_side(), any::<Share>(0.0, 0.5))
        .prop_filter_map("a damper", |(one, other, off)| Damper::new(one, other).with_uncertainty(off).ok())
}

fn air_spring() -> impl Strategy<Value = AirSpring> {
    let filling = prop_oneof![
        any::<GaugePressure>(2e5, 15e5).prop_map(Filling::Pressure),
        mm(0.0, 40.0).prop_map(Filling::PortAt),
    ];
    let negative = proptest::option::of((mm(8.0, 14.0), any::<Volume>(5e-6, 5e-5), filling));
    let second = proptest::option::of((any::<Volume>(1e-5, 3e-4), any::<GaugePressure>(16e5, 40e5)));
    let spacers = proptest::option::of((0_u32..6, any::<Volume>(1e-6, 1e-5)));
    let main = (mm(24.0, 36.0), any::<Volume>(5e-4, 9e-4), any::<GaugePressure>(2e5, 15e5));
    (main, negative, second, spacers).prop_map(|((piston, volume, pressure), negative, second, spacers)| {
        let spring = AirSpring::new(piston, volume, pressure).unwrap();
        let spring =
            second.map_or(spring, |(volume, pressure)| spring.with_second(SecondChamber { volume, pressure }).unwrap());
        let spring = spacers
            .map_or(spring, |(count, volume)| spring.with_spacers(Spacers { count, volume, most: Some(6) }).unwrap());
        negative.map_or(spring, |(rod_diameter, volume, filling)| {
            spring.with_negative(NegativeChamber { rod_diameter, volume, filling }).unwrap()
        })
    })
}

fn leg() -> impl Strategy<Value = ForkLeg> {
    let option = proptest::option::of::<BoxedStrategy<_>>;
    let parts = (
        proptest::option::of(main_spring()),
        proptest::option::of(air()),
        proptest::option::of(air_spring()),
        option(stop().boxed()),
        option(stop().boxed()),
        proptest::option::of(friction()),
        proptest::option::of(damper()),
    );
    parts.prop_map(|(spring, air, air_spring, bump_stop, top_out, friction, damper)| {
        let leg = ForkLeg::new();
        let leg = spring.map_or(leg.clone(), |spring| leg.with_spring(spring));
        let leg = air.map_or(leg.clone(), |air| leg.with_air(air));
        let leg = air_spring.map_or(leg.clone(), |spring| leg.with_air_spring(spring));
        let leg = bump_stop.map_or(leg.clone(), |stop| leg.with_bump_stop(stop));
        let leg = top_out.map_or(leg.clone(), |stop| leg.with_top_out(stop));
        let leg = damper.map_or(leg.clone(), |damper| leg.with_damper(damper));
        friction.map_or(leg.clone(), |friction| leg.with_friction(friction))
    })
}

pub fn front() -> impl Strategy<Value = FrontEnd> {
    let axle = proptest::option::of([mm(500.0, 900.0), mm(-300.0, 0.0)]);
    let rake = (any::<Angle>(0.3, 0.6), proptest::option::of(any::<Angle>(1e-3, 0.05)));
    (mm(150.0, 310.0), rake, leg(), leg(), axle).prop_filter_map(
        "a fork",
        |(travel, (rake, known), left, right, axle)| {
            let fork = Fork::new(travel, rake, [left, right]).ok()?;
            let fork = known.map_or(Some(fork.clone()), |known| fork.with_rake_uncertainty(known).ok())?;
            let end = FrontEnd::new(fork);
            axle.map_or(Some(end.clone()), |axle| end.with_axle(axle).ok())
        },
    )
}

/// A double link or a single one with every point moved a little, and any strut or two that fit it.
pub fn linked_front() -> impl Strategy<Value = FrontEnd> {
    let moved = proptest::collection::vec([mm(-4.0, 4.0), mm(-4.0, 4.0)], LINKED_POINTS.len());
    let parts = (
        proptest::option::of(main_spring()),
        proptest::option::of(air_spring()),
        proptest::option::of(stop()),
        proptest::option::of(friction()),
        proptest::option::of(damper()),
        1..=2_u8,
    );
    let known = proptest::option::of((mm(0.1, 3.0), prop_oneof![Just(Length::from_si(0.0)), mm(0.1, 2.0)]));
    let held = (proptest::option::of(0..3_usize), 0..3_usize, proptest::bool::ANY);
    (moved, mm(40.0, 75.0), any::<Angle>(0.3, 0.6), parts, known, held).prop_filter_map(
        "a front end on links",
        |(
            moved,
            stroke,
            rake,
            (spring, air_spring, bump_stop, friction, damper, count),
            known,
            (caliper, steered, single),
        )| {
            let at = |name: &str| {
                let place = LINKED_POINTS.iter().position(|(point, _)| *point == name).unwrap();
                let ([x, z], [dx, dz]) = (LINKED_POINTS[place].1, moved[place]);
                (name.to_owned(), [Length::from_si(x / 1e3) + dx, Length::from_si(z / 1e3) + dz])
            };
            let bodies: Vec<(&str, Vec<&str>)> = if single {
                vec![("frame", vec!["bottom", "mount"]), ("upright", vec!["bottom", "axle", "eye"])]
            } else {
                vec![
                    ("frame", vec!["top", "bottom", "mount"]),
                    ("upper_link", vec!["top", "upper"]),
                    ("lower_link", vec!["bottom", "lower", "eye"]),
                    ("upright", vec!["upper", "lower", "axle"]),
                ]
            };
            let mut points: Vec<(String, [Length; 2])> = Vec::new();
            for name in bodies.iter().flat_map(|(_, on)| on) {
                if points.iter().all(|(known, _)| known != name) {
                    points.push(at(name));
                }
            }
            let ((_, [x, z]), (_, [mount_x, mount_z])) = (at("eye"), at("mount"));
            let length = Length::from_si((mount_x - x).si().hypot((mount_z - z).si()));
            let mut parts = ShockParts::new();
            (parts.spring, parts.air_spring, parts.bump_stop) = (spring, air_spring, bump_stop);
            (parts.friction, parts.damper) = (friction, damper);
            let shock = Shock::new(length, stroke, parts, count).ok()?;
            let mechanism = Mechanism::new(points, bodies).ok()?;
            let linkage = Linkage::new(mechanism, "axle", ("mount", "eye"), length, stroke).ok()?;
            let end = FrontEnd::linked(linkage, shock, rake).ok()?;
            let body = |place: usize| ["frame", "upright", "frame"][place].to_owned();
            let end = end.with_steering_body(body(steered)).ok()?;
            let end = caliper.map_or(Some(end.clone()), |place| end.with_caliper(body(place)).ok())?;
            let known = known.map(|(coordinate, length)| PivotUncertainty { coordinate, shock_length: length });
            known.map_or(Some(end.clone()), |known| end.with_pivots_known_to(known).ok())
        },
    )
}

/// In mm, drawn at full extension.
const LINKED_POINTS: [(&str, [f64; 2]); 7] = [
    ("top", [620.0, 80.0]),
    ("bottom", [660.0, -70.0]),
    ("upper", [790.0, 60.0]),
    ("lower", [840.0, -120.0]),
    ("axle", [905.0, -160.0]),
    ("eye", [790.0, -105.0]),
    ("mount", [640.0, 260.0]),
];

fn final_drive() -> impl Strategy<Value = FinalDrive> {
    let chain = ([mm(50.0, 120.0), mm(-40.0, 60.0)], 10..=18_u32, 36..=60_u32, mm(8.0, 20.0));
    let chain = chain.prop_map(|(centre, front, rear, pitch)| {
        FinalDrive::Chain(Sprockets::new(centre, [front, rear], pitch).unwrap())
    });
    prop_oneof![3 => chain, 1 => Just(FinalDrive::Shaft)]
}

/// The demo's linkage with every point moved a little, and any shock that fits it.
pub fn rear() -> impl Strategy<Value = RearEnd> {
    let demo = Bike::from_toml(PATROL).unwrap();
    let mechanism = demo.rear().unwrap().linkage().unwrap().mechanism().clone();
    let moved = proptest::collection::vec([mm(-2.0, 2.0), mm(-2.0, 2.0)], mechanism.points().len());
    let gas = proptest::option::of((any::<GaugePressure>(4e5, 15e5), any::<Volume>(1e-4, 3e-4), mm(12.0, 18.0)));
    let parts = (
        proptest::option::of(main_spring()),
        gas,
        proptest::option::of(air_spring()),
        proptest::option::of(stop()),
        proptest::option::of(stop()),
        proptest::option::of(friction()),
        1..=2_u8,
        proptest::option::of(final_drive()),
        proptest::option::of((mm(0.1, 3.0), prop_oneof![Just(Length::from_si(0.0)), mm(0.1, 2.0)])),
    );
    (moved, mm(464.0, 470.0), mm(60.0, 115.0), parts).prop_filter_map(
        "a rear end",
        move |(moved, length, stroke, (spring, gas, air_spring, bump_stop, top_out, friction, count, drive, known))| {
            let names: Vec<(String, [Length; 2])> = mechanism
                .points()
                .zip(moved)
                .map(|((name, [x, z]), [dx, dz])| (name.to_owned(), [x + dx, z + dz]))
                .collect();
            let moved = Mechanism::new(names, mechanism.bodies()).ok()?;
            let reservoir = match gas {
                Some((pressure, volume, rod)) => Some(Reservoir::new(pressure, volume, rod).ok()?),
                None => None,
            };
            let mut parts = ShockParts::new();
            (parts.spring, parts.reservoir, parts.air_spring) = (spring, reservoir, air_spring);
            (parts.bump_stop, parts.top_out, parts.friction) = (bump_stop, top_out, friction);
            let shock = Shock::new(length, stroke, parts, count).ok()?;
            let end = RearEnd::new(moved, "axle", ("shock_frame", "shock_rocker"), shock).ok()?;
            let end = drive.map_or(end.clone(), |drive| end.with_final_drive(drive));
            let known = known.map(|(coordinate, length)| PivotUncertainty { coordinate, shock_length: length });
            known.map_or(Some(end.clone()), |known| end.with_pivots_known_to(known).ok())
        },
    )
}

/// A drawn rear end with a table that was taken beside it.
pub fn checked_rear() -> impl Strategy<Value = RearEnd> {
    (rear(), mm(0.1, 1.0), mm(0.1, 1.0)).prop_filter_map("a drawing with a table", |(drawn, travel, length)| {
        drawn.pivot_uncertainty()?;
        let table = table_of(&drawn, [travel, length])?;
        drawn.with_table(table).ok()
    })
}

/// A rear end as it comes out when its wheel is lifted in steps and the length is read at each.
pub fn measured_rear() -> impl Strategy<Value = RearEnd> {
    (rear(), mm(0.1, 1.0), mm(0.1, 1.0)).prop_filter_map("a measured rear end", |(drawn, travel, length)| {
        RearEnd::from_table(table_of(&drawn, [travel, length])?, drawn.shock().clone()).ok()
    })
}

fn table_of(drawn: &RearEnd, [travel_uncertainty, length_uncertainty]: [Length; 2]) -> Option<MeasuredLinkage> {
    const STEPS: usize = 25;
    let shock = drawn.shock();
    let lengths = drawn.curve(&drawn.travels(STEPS)).ok()?;
    let readings = lengths.travel.iter().zip(&lengths.stroke).map(|(z, s)| (*z, shock.length().unwrap() - *s));
    let readings: Vec<(Length, Length)> = readings.collect();
    let (shock_length, stroke) = (shock.length()?, shock.full_stroke());
    let parts = MeasuredParts { travel_uncertainty, length_uncertainty, shock_length, stroke };
    MeasuredLinkage::new(&readings, parts).ok()
}

fn masses() -> impl Strategy<Value = Masses> {
    let kg = |low, high| any::<Mass>(low, high);
    let pack = proptest::option::of((kg(1.0, 20.0), mm(500.0, 1900.0)));
    let scales = |front: Mass, rear: Mass| Weighing::Scales(Ends { front, rear });
    let gravity = (proptest::option::of(any::<Acceleration>(9.77, 9.83)), proptest::option::of(kg(0.1, 9.0)));
    (
        [kg(50.0, 90.0), kg(50.0, 90.0)],
        [kg(20.0, 40.0), kg(40.0, 70.0)],
        [kg(5.0, 20.0), kg(5.0, 20.0)],
        pack,
        kg(0.1, 2.0),
        gravity,
        proptest::option::of((mm(800.0, 1300.0), any::<MomentOfInertia>(0.0, 40.0))),
    )
        .prop_map(move |(bike, rider, unsprung, pack, scale, (gravity, known), height)| {
            let mut named =
                vec![("bike".to_owned(), scales(bike[0], bike[1])), ("rider".to_owned(), scales(rider[0], rider[1]))];
            let wheelbase = Length::from_si(1.48);
            if let Some((total, behind_front_axle)) = pack {
                named.push(("medical pack".to_owned(), Weighing::Position { total, behind_front_axle }));
            }
            let unsprung = Ends { front: unsprung[0], rear: unsprung[1] };
            let masses = Masses::new(named, unsprung, Some(wheelbase)).unwrap();
            let masses = masses.with_scale_uncertainty(scale).unwrap();
            let masses = known.map_or(masses.clone(), |known| masses.with_uncertainty("rider", known).unwrap());
            let masses = height.map_or(masses.clone(), |(height, inertia)| {
                masses.with_height("rider", height).unwrap().with_pitch_inertia("rider", inertia).unwrap()
            });
            gravity.map_or(masses.clone(), |gravity| masses.with_gravity(gravity).unwrap())
        })
}

fn frame_points() -> impl Strategy<Value = Vec<(String, [Length; 2])>> {
    let name = words().prop_filter("`unit` says the unit", |name| name != "unit");
    proptest::collection::btree_map(name, [mm(-900.0, 900.0), mm(-400.0, 900.0)], 0..4)
        .prop_map(|points| points.into_iter().collect())
}

fn tyre() -> impl Strategy<Value = Tyre> {
    let rate = || any::<WheelRate>(1e5, 3e5);
    let read = (rate(), mm(300.0, 400.0), any::<Force>(1.0, 30.0), mm(0.1, 1.0), 2..6_u32).prop_map(
        |(rate, radius, load_uncertainty, height_uncertainty, count)| {
            let rows = (0..count).map(|row| {
                let load = Force::from_si(400.0 + 310.0 * f64::from(row));
                (load, radius - Length::from_si(load.si() / rate.si()))
            });
            let mut readings = TyreReadings::new(rows.collect());
            (readings.load_uncertainty, readings.height_uncertainty) = (load_uncertainty, height_uncertainty);
            Tyre::read(readings).unwrap()
        },
    );
    prop_oneof![
        rate().prop_map(|rate| Tyre::stated(rate).unwrap()),
        (rate(), any::<WheelRate>(1e3, 9e4)).prop_map(|(rate, off)| Tyre::uncertain(rate, off).unwrap()),
        read,
    ]
}

fn wheels() -> impl Strategy<Value = Wheels> {
    let wheel = || {
        (mm(250.0, 400.0), proptest::option::of(tyre()))
            .prop_map(|(radius, tyre)| WheelAndTyre::with_tyre(radius, tyre).unwrap())
    };
    (mm(-20.0, 90.0), wheel(), wheel())
        .prop_map(|(offset, front, rear)| Wheels::new(offset, Ends { front, rear }).unwrap())
}

fn targets(direction: Direction) -> impl Strategy<Value = Targets> {
    let sag = move |least, most| {
        proptest::option::of((mm(least, most), mm(0.1, 9.0), mm(0.1, 9.0)).prop_map(move |(value, below, above)| {
            SagTarget { value, range: Range::new(value - below, value + above).unwrap(), direction }
        }))
    };
    (sag(50.0, 100.0), sag(10.0, 50.0)).prop_map(|(rider_sag, free_sag)| Targets {
        rider_sag,
        free_sag,
        ..Targets::default()
    })
}

/// Readings, all with a date or none.
fn readings() -> impl Strategy<Value = Vec<Reading>> {
    (proptest::collection::vec(reading(), 0..6), proptest::bool::ANY).prop_map(|(readings, dated)| {
        readings.into_iter().map(|reading| if dated { reading } else { Reading { date: None, ..reading } }).collect()
    })
}

/// The bike with changes in its log, where its readings allow one.
fn with_log(bike: Bike, changes: &[(usize, Option<String>)]) -> Bike {
    let values =
        [("bike.name", "\"300\""), ("prior.rear.rate_tolerance", "7 %"), ("frame_points.peg", "[\"1 mm\", \"2 mm\"]")];
    let made = changes.iter().enumerate().fold(bike, |bike, (year, (value, note))| {
        let date = format!("{}-02-28T23:59:00", 2031 + year);
        bike.with_logged_change(&date, &[values[*value]], note.as_deref()).unwrap_or(bike)
    });
    // As many suppositions as changes: none, one, or several that are one step.
    changes.iter().fold(made, |bike, (value, _)| bike.what_if(&[values[*value]]).unwrap_or(bike))
}

fn reading() -> impl Strategy<Value = Reading> {
    let load = prop::sample::select(vec!["none", "bike", "bike + rider"]);
    let settled = prop::sample::select(vec![None, Some(Settled::Low), Some(Settled::High)]);
    let end = prop::sample::select(vec![End::Front, End::Rear]);
    let date = (2020..2030, 1..=12, 1..=28);
    let extra = (proptest::option::of(mm(0.2, 5.0)), date, proptest::option::of(words()));
    (end, load, settled, mm(300.0, 800.0), extra).prop_map(
        |(end, load, settled, distance, (uncertainty, date, note))| {
            let reading = Reading::new(end, Load::parse(load).unwrap(), distance, settled).unwrap();
            let (year, month, day) = date;
            Reading { uncertainty, date: Some(format!("{year}-{month:02}-{day:02}")), note, ..reading }
        },
    )
}

pub fn bike() -> impl Strategy<Value = Bike> {
    bike_with(front().boxed()).boxed()
}

/// The same with its front wheel on links.
pub fn linked_bike() -> impl Strategy<Value = Bike> {
    bike_with(linked_front().boxed()).boxed()
}

fn bike_with(front: BoxedStrategy<FrontEnd>) -> impl Strategy<Value = Bike> {
    let ends = (
        proptest::option::of(front),
        proptest::option::of(
            prop_oneof![3 => rear().boxed(), 1 => measured_rear().boxed(), 1 => checked_rear().boxed()],
        ),
    );
    let rates = || proptest::collection::vec(any::<SpringRate>(3e3, 9e4), 0..5);
    let prior = || {
        (any::<Share>(0.001, 0.5), mm(0.1, 9.0)).prop_map(|(rate, preload)| SpringPrior::new(rate, preload).unwrap())
    };
    let measuring = (mm(0.2, 5.0), mm(0.2, 5.0));
    let wishes = (targets(Direction::AlongFork), targets(Direction::Vertical), rates(), rates());
    (
        words(),
        proptest::option::of(masses()),
        ends,
        (prior(), prior()),
        measuring,
        (wishes, proptest::option::of(wheels()), frame_points()),
        (readings(), proptest::collection::vec((0..3_usize, proptest::option::of(words())), 0..3)),
    )
        .prop_map(
            |(
                name,
                masses,
                (front, rear),
                (prior_front, prior_rear),
                (u_front, u_rear),
                (wishes, wheels, frame_points),
                (readings, changes),
            )| {
                let (mut targets_front, targets_rear, sale_front, sale_rear) = wishes;
                let linked = front.as_ref().filter(|front: &&FrontEnd| front.is_linked()).map(Wheel::full_travel);
                let along = if linked.is_some() { Direction::Vertical } else { Direction::AlongFork };
                for sag in [&mut targets_front.rider_sag, &mut targets_front.free_sag] {
                    // Some links move no further than a sag that is wanted of a fork.
                    *sag = sag.filter(|sag| linked.is_none_or(|travel| sag.range.to < travel));
                    if let Some(sag) = sag {
                        sag.direction = along;
                    }
                }
                let measuring = Ends {
                    front: Some(Measuring::new(along, u_front).unwrap()),
                    rear: Some(Measuring::new(Direction::Vertical, u_rear).unwrap()),
                };
                let bike = Bike::new(BikeParts {
                    name,
                    masses,
                    front,
                    rear,
                    wheels,
                    frame_points,
                    prior: Ends { front: prior_front, rear: prior_rear },
                    measuring,
                    targets: Ends { front: targets_front, rear: targets_rear },
                    on_sale: OnSale::new(sale_front, sale_rear),
                    readings,
                    ..BikeParts::default()
                });
                with_log(bike.unwrap(), &changes)
            },
        )
}
