//! Loads and centre of gravity by weighing.
//!
//! Sources: an A-level Mechanics 2 textbook exercise with its printed answers (quoted at physicsforums.com, thread 14219);
//! OpenStax, *University Physics* vol. 1, section 12.2, example 'Center of Gravity of a Car'; Meijaard, Papadopoulos, Ruina
//! & Schwab, Proc. R. Soc. A 463 (2007) 1955–1982, table 1 (benchmark bicycle; sums are ours); plain statics on the published
//! sport motorcycle model of Sharp, Evangelou & Limebeer (2004) for the raised axle.

use wheelrate::mass::{AxleRaise, Masses, Weighing};
use wheelrate::record::{End, Ends, Load};
use wheelrate::units::{Acceleration, Length, Mass, Quantity};

use crate::outside::{Tolerance, agree};

fn kg(value: f64) -> Mass {
    Mass::from_si(value)
}

fn m(value: f64) -> Length {
    Length::from_si(value)
}

const ROUNDING: Tolerance = Tolerance::relative(1e-12, "sums and products of a few binary roundings");
const ROUNDING_OF_ONE: Tolerance =
    Tolerance::absolute(1e-12, "sums and products of a few binary roundings, of one unit");

#[test]
fn axle_loads_of_a_motorcycle_without_and_with_rider() {
    let at = |total, behind| Weighing::Position { total: kg(total), behind_front_axle: m(behind) };
    let named = vec![("bike".to_owned(), at(250.0, 0.7)), ("rider".to_owned(), at(80.0, 1.0))];
    let nothing = Ends { front: kg(0.0), rear: kg(0.0) };
    let masses = Masses::new(named, nothing, Some(m(1.4))).unwrap().with_gravity(Acceleration::from_si(9.8)).unwrap();
    for (load, front, rear) in [("bike", 1225.0, 1225.0), ("bike + rider", 1449.0, 1785.0)] {
        let load = Load::parse(load).unwrap();
        for (end, newtons) in [(End::Front, front), (End::Rear, rear)] {
            let found = masses.sprung_load(end, &load).unwrap().value.si();
            agree!(found, newtons, ROUNDING, "load in N of {load}, {end}");
        }
    }
}

#[test]
fn a_car_of_52_to_48_split_has_its_centre_1_3_m_from_the_rear_axle() {
    let car = Weighing::Position { total: kg(1000.0), behind_front_axle: m(2.5 - 1.3) };
    let nothing = Ends { front: kg(0.0), rear: kg(0.0) };
    let masses = Masses::new(vec![("bike".to_owned(), car)], nothing, Some(m(2.5))).unwrap();
    let share = masses.share("bike").unwrap();
    agree!(share.front.si(), 520.0, ROUNDING_OF_ONE.times(1000.0));
    agree!(share.rear.si(), 480.0, ROUNDING_OF_ONE.times(1000.0));
}

#[test]
fn four_bodies_of_the_benchmark_bicycle() {
    let bodies =
        [("rear wheel", 2.0, 0.0, 0.3), ("bike", 85.0, 0.3, 0.9), ("fork", 4.0, 0.9, 0.7), ("wheel", 3.0, 1.02, 0.35)];
    let placed = |mass, ahead| Weighing::Position { total: kg(mass), behind_front_axle: m(1.02 - ahead) };
    let named = bodies.map(|(name, mass, ahead, _)| (name.to_owned(), placed(mass, ahead))).to_vec();
    let nothing = Ends { front: kg(0.0), rear: kg(0.0) };
    let mut masses =
        Masses::new(named, nothing, Some(m(1.02))).unwrap().with_gravity(Acceleration::from_si(9.81)).unwrap();
    for (name, _, _, height) in bodies {
        masses = masses.with_height(name, m(height)).unwrap();
    }
    let all = Load::parse("bike + rear wheel + fork + wheel").unwrap();
    let front = masses.sprung_load(End::Front, &all).unwrap().value.si();
    agree!(front, 309.303_529, Tolerance::absolute(5e-7, "recomputed to half of the last digit"), "front load in N");
    let height = masses.load_height(&all).unwrap().si();
    agree!(height, 0.861_170_21, Tolerance::absolute(5e-9, "recomputed to half of the last digit"), "height in m");
    let whole = front + masses.sprung_load(End::Rear, &all).unwrap().value.si();
    agree!(whole, 94.0 * 9.81, ROUNDING_OF_ONE.times(1e3), "load of both ends in N");
}

/// The sport motorcycle: 250.65 kg, centre of gravity 0.6614419988 m ahead of the rear contact and 0.5452065111 m high.
fn sport_motorcycle(lift: f64, front_load: f64) -> AxleRaise {
    const GRAVITY: f64 = 9.81;
    const TOTAL: f64 = 250.65;
    let front = 1153.478147 / GRAVITY;
    AxleRaise {
        level: Ends { front: kg(front), rear: kg(TOTAL - front) },
        raised: End::Rear,
        grounded: kg(front_load / GRAVITY),
        lift: m(lift),
        wheelbase: m(1.41),
        front_radius: m(0.282),
        rear_radius: m(0.297),
        scale_uncertainty: kg(0.1),
        tape_uncertainty: m(0.001),
    }
}

#[test]
fn height_of_the_centre_of_gravity_by_raising_the_rear_axle() {
    const DIGITS: Tolerance = Tolerance::absolute(
        1e-7,
        "the loads are given to 1e-6 N of some 2,459 N; over sin 8° and 1.4 m of wheelbase that is 1e-8 m",
    );
    for (lift, load) in [(0.2, 1217.406803), (0.3, 1250.744696), (0.4, 1285.800268), (0.5, 1323.35559)] {
        let height = sport_motorcycle(lift, load).cg_height().unwrap();
        agree!(height.value.si(), 0.5452065111, DIGITS, "height in m with a lift of {lift} m");
    }
}

#[test]
fn raising_the_front_mirrors_raising_the_rear() {
    let rear = sport_motorcycle(0.3, 1250.744696);
    let mirrored = AxleRaise {
        level: Ends { front: rear.level.rear, rear: rear.level.front },
        raised: End::Front,
        front_radius: rear.rear_radius,
        rear_radius: rear.front_radius,
        ..rear
    };
    assert_eq!(rear.cg_height(), mirrored.cg_height());
}

#[test]
fn a_higher_lift_measures_the_height_better() {
    let low = sport_motorcycle(0.2, 1217.406803).cg_height().unwrap();
    let high = sport_motorcycle(0.5, 1323.35559).cg_height().unwrap();
    assert!(high.standard_uncertainty < low.standard_uncertainty * 0.5);
}

#[test]
fn a_lift_over_the_wheelbase_is_refused() {
    let error = sport_motorcycle(1.5, 1217.4).cg_height().unwrap_err().to_string();
    assert!(error.starts_with("lift: found 1500 mm"), "{error}");
}
