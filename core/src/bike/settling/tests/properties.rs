//! What holds of every bike that stands.

use proptest::prelude::*;

use super::super::rest::Round;
use super::*;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// The tables only start the search: rest, stops and other equilibria are those of the kernels alone, taken from full
    /// extension.
    #[test]
    fn the_tables_lead_where_the_kernels_do(
        x in -0.2..0.5_f64, z in 0.1..0.7_f64, mass in 60.0..400.0_f64, acceleration in -6.0..4.0_f64,
        slope in -0.25..0.25_f64, share in 0.0..1.0_f64, soft in any::<bool>(), tyre in 40e3..400e3_f64,
        swingarm in any::<bool>(), scales in any::<bool>(),
    ) {
        /// Both stop once a round moves less than 1e-11 m; what is left of a slow approach is some ten times that.
        const LEFT: f64 = 1e-9;
        let (front, rear) = bike();
        let chassis = Chassis::new(&front, &rear, parts(soft.then_some(tyre))).unwrap();
        let plane = chassis.plane();
        let running = Running {
            slope: Angle::from_si(slope),
            acceleration: Acceleration::from_si(acceleration),
            front_share: Share::from_si(share),
            rear_reaction: if swingarm { RearReaction::Swingarm } else { RearReaction::Frame },
        };
        let (burden, field) = if scales {
            (Burden::Loads([mass * GRAVITY * (0.5 + x), mass * GRAVITY * (0.5 - x)]), Field::level(GRAVITY))
        } else {
            (Burden::Mass(Lump { mass, at: [x, z] }), running.field(GRAVITY, &rear).unwrap())
        };
        let plain = plane.settle_from(Round::default(), &burden, &field);
        let found = plane.settle(&burden, &field);
        match (plain, found) {
            (Ok(plain), Ok(found)) => {
                for end in [FRONT, REAR] {
                    prop_assert!((plain.travel[end] - found.travel[end]).abs() < LEFT, "{plain:?}\n{found:?}");
                    prop_assert!((plain.contact.normal[end] - found.contact.normal[end]).abs() < 1e5 * LEFT);
                    let [(a, others), (b, same)] = [&plain.ends[end], &found.ends[end]];
                    prop_assert_eq!(core::mem::discriminant(a), core::mem::discriminant(b));
                    prop_assert_eq!(others.len(), same.len());
                }
            }
            (Err(plain), Err(found)) => prop_assert_eq!(
                core::mem::discriminant(&plain), core::mem::discriminant(&found), "{} or {}", plain, found
            ),
            (plain, found) => prop_assert!(false, "{plain:?}\n{found:?}"),
        }
    }

    #[test]
    fn moments_balance(
        x in -0.1..0.3_f64, z in 0.2..0.6_f64, mass in 90.0..260.0_f64,
        acceleration in -4.0..3.0_f64, slope in -0.2..0.2_f64, share in 0.0..1.0_f64, soft in any::<bool>(),
    ) {
        /// Pose and loads agree to what the last round moved.
        const LEFT: f64 = 1e-6;
        let (front, rear) = bike();
        let chassis = Chassis::new(&front, &rear, parts(soft.then_some(170e3))).unwrap();
        let sprung = Sprung { mass: Mass::from_si(mass), x: m(x), z: m(z) };
        let running = Running {
            slope: Angle::from_si(slope),
            acceleration: Acceleration::from_si(acceleration),
            front_share: Share::from_si(share),
            rear_reaction: RearReaction::Swingarm,
        };
        let settled = match chassis.settle(&sprung, &running) {
            Err(crate::Error::Bike(BikeError::Lifts { .. })) => return Err(TestCaseError::reject("a wheel lifts")),
            settled => settled.unwrap(),
        };
        let stance = &settled.stance;
        let [ahead, height] = stance.place([sprung.x, sprung.z]).map(Quantity::si);
        let wheelbase = stance.wheelbase.si();
        let (fx, fz) = (-GRAVITY * slope.sin() - acceleration, -GRAVITY * slope.cos());
        let heights = stance.axle_height;
        let parts = [(mass, ahead, height), (14.0, wheelbase, heights.front.si()), (18.0, 0.0, heights.rear.si())];
        let [mut up, mut along, mut about_front] = [0.0; 3];
        for (mass, x, z) in parts {
            up += mass * fz;
            along += mass * fx;
            about_front += mass * (z * fx - (x - wheelbase) * fz);
        }
        prop_assert!(((settled.load.front + settled.load.rear).si() + up).abs() < LEFT);
        prop_assert!(((settled.along.front + settled.along.rear).si() + along).abs() < LEFT);
        prop_assert!((settled.load.rear.si() * wheelbase + about_front).abs() < LEFT, "about the front contact");
    }

    #[test]
    fn a_heavier_rider_never_sags_less(
        front_rate in 7e3..14e3_f64, rear_rate in 45e3..90e3_f64, x in -0.05..0.25_f64, more in 0.0..40.0_f64,
    ) {
        let (front, rear) = (fork_end(RAKE, front_rate, 0.008), rear_end(rear_rate, 0.012));
        let chassis = Chassis::new(&front, &rear, parts(None)).unwrap();
        let at = |mass: f64| {
            let sprung = Sprung { mass: Mass::from_si(mass), x: m(x), z: m(0.36) };
            pair(chassis.settle(&sprung, &Running::default()).unwrap().stance.travel)
        };
        let ([front_less, rear_less], [front_more, rear_more]) = (at(150.0), at(150.0 + more));
        // 1e-10 m is what two searches leave open.
        prop_assert!(front_more >= front_less - 1e-10 && rear_more >= rear_less - 1e-10);
    }

    /// A bike within its travels is settled by Newton's method, and the first round on the kernels moves nothing.
    #[test]
    fn newton_leads_to_the_rest(x in 0.0..0.2_f64, mass in 150.0..210.0_f64, soft in any::<bool>()) {
        let (front, rear) = bike();
        let chassis = Chassis::new(&front, &rear, parts(soft.then_some(180e3))).unwrap();
        let plane = chassis.plane();
        let burden = Burden::Mass(Lump { mass, at: [x, 0.36] });
        let Some(near) = plane.newton(&burden, &Field::level(GRAVITY)) else {
            let plain = plane.settle_from(Round::default(), &burden, &Field::level(GRAVITY)).unwrap();
            prop_assert!(plain.ends.iter().any(|(rest, _)| !matches!(rest, Rest::At(_))), "{plain:?}");
            return Ok(());
        };
        let found = plane.settle_from(near, &burden, &Field::level(GRAVITY)).unwrap();
        for end in [FRONT, REAR] {
            prop_assert!((found.travel[end] - near.travel()[end]).abs() < super::rest::CLOSE_SI, "{found:?} {near:?}");
        }
    }

    /// Twice the mass on twice the springs stands the same, in any unit of force.
    #[test]
    fn only_the_ratio_of_loads_and_rates_counts(factor in 0.5..2.0_f64) {
        let (front, rear) = bike();
        let scaled = parts(Some(170e3 * factor));
        let wheels = scaled.wheels.map(|wheel| RoadWheel { unsprung: wheel.unsprung * factor, ..wheel });
        let stiffer = (
            front.with_spring_change(factor, m(0.0)).unwrap(),
            rear.with_spring_change(factor, m(0.0)).unwrap(),
        );
        let heavier = Sprung { mass: ridden().mass * factor, ..ridden() };
        let one = Chassis::new(&front, &rear, parts(Some(170e3))).unwrap().settle(&ridden(), &Running::default()).unwrap();
        let two = Chassis::new(&stiffer.0, &stiffer.1, ChassisParts { wheels, ..scaled })
            .unwrap()
            .settle(&heavier, &Running::default())
            .unwrap();
        for (a, b) in pair(one.stance.travel).into_iter().zip(pair(two.stance.travel)) {
            prop_assert!((a - b).abs() < 1e-9, "{a} {b}");
        }
        prop_assert!((two.load.front.si() / one.load.front.si() / factor - 1.0).abs() < 1e-9);
    }
}
