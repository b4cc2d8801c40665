//! An end of which only the five things are given that a wheel must say: the rest follows.

use super::*;
use crate::units::Energy;

/// A coil on a lever of one ratio, with nothing beside it.
#[derive(Debug)]
struct Lever;

const FULL: f64 = 0.2;
const RATIO: f64 = 0.5;
const RATE: f64 = 40e3;
const PRELOAD: f64 = 0.02;

impl Wheel for Lever {
    fn full_travel(&self) -> Length {
        Length::from_si(FULL)
    }

    fn stroke_at(&self, travel: Length) -> StrokeAt {
        StrokeAt {
            stroke: travel * RATIO,
            motion_ratio: MotionRatio::from_si(RATIO),
            motion_ratio_slope: MotionRatioSlope::from_si(0.0),
        }
    }

    fn springs(&self, stroke: Length) -> AxialState {
        let x = stroke.si() + PRELOAD;
        AxialState {
            force: Force::from_si(RATE * x),
            rate: SpringRate::from_si(RATE),
            energy: Energy::from_si(0.5 * RATE * x * x),
        }
    }

    fn rest(&self, _: Length) -> AxialState {
        AxialState::none()
    }

    fn main_spring(&self) -> Option<MainSpring> {
        let (rate, preload) = (SpringRate::from_si(RATE), Length::from_si(PRELOAD));
        Some(MainSpring { rate, preload, each: vec![(rate, preload)] })
    }
}

/// A few roundings of products of two and three.
const ROUNDING: f64 = 1e-12;

fn near(found: f64, expected: f64) -> bool {
    (found - expected).abs() <= ROUNDING * expected.abs().max(1.0)
}

#[test]
fn a_coil_on_a_lever_has_the_square_of_the_ratio_as_its_wheel_rate() {
    for z in [0.0, 0.05, FULL] {
        let state = Lever.at(Length::from_si(z)).unwrap();
        let x = RATIO * z + PRELOAD;
        assert!(near(state.wheel_force.si(), RATIO * RATE * x), "{state:?}");
        assert!(near(state.wheel_rate.si(), RATE * RATIO * RATIO), "{state:?}");
    }
}

#[test]
fn what_holds_no_gas_is_the_same_fast_and_slow() {
    let (rest, travel) = (Length::from_si(0.05), Length::from_si(0.15));
    let (slow, fast) = (Lever.at(travel).unwrap(), Lever.fast_at(rest, travel).unwrap());
    assert!(near(fast.wheel_force.si(), slow.wheel_force.si()) && near(fast.wheel_rate.si(), slow.wheel_rate.si()));
    assert!(near(fast.energy.si(), slow.energy.si()), "{fast:?} {slow:?}");
    for (rest, travel) in [(-0.01, 0.15), (0.05, FULL + 0.01)] {
        assert!(Lever.fast_at(Length::from_si(rest), Length::from_si(travel)).is_err());
    }
}

#[test]
fn it_rests_where_its_force_is_the_load() {
    let load = RATIO * RATE * (RATIO * 0.08 + PRELOAD);
    let travel = Lever.travel_under(Force::from_si(load)).unwrap().state().unwrap().travel.si();
    assert!(near(travel, 0.08), "{travel}");
}

#[test]
fn what_an_end_does_not_say_is_not_known_of_it_and_nothing_is_made_up() {
    let path = Lever.path_at(Length::from_si(0.1));
    assert_eq!(path, PathAt { stroke: Lever.stroke_at(Length::from_si(0.1)), axle: None });
    assert_eq!(Lever.paths_at(&[Length::from_si(0.1)]), [path]);
    assert_eq!((Lever.friction(), Lever.damper()), (None, None));
    assert_eq!((Lever.bind_clearance(), Lever.adjuster()), (None, None));
    assert_eq!((Lever.stroke_kinks(), Lever.kinks()), (Vec::new(), Vec::new()));
}

#[cfg(feature = "serde")]
mod of_the_demo {
    use super::*;
    use crate::bike::Bike;
    use crate::demo::PATROL;
    use crate::fork::{Fork, ForkLeg};
    use crate::spring::Preloaded;
    use crate::units::parse;

    fn fork() -> Fork {
        let leg =
            ForkLeg::new().with_spring(Preloaded::linear(parse("5 N/mm").unwrap(), parse("8 mm").unwrap()).unwrap());
        Fork::new(parse("250 mm").unwrap(), parse("25 deg").unwrap(), [leg.clone(), leg]).unwrap()
    }

    /// The demo's front end, and its rear end put in front.
    fn ends() -> [FrontEnd; 2] {
        let bike = Bike::from_toml(PATROL).unwrap();
        let linked = FrontEnd::of_sprung(bike.rear().unwrap().clone(), parse("25 deg").unwrap()).unwrap();
        [bike.front().unwrap().clone(), linked]
    }

    #[test]
    fn another_fork_stands_where_the_fork_stood_and_nowhere_where_links_were() {
        let [telescopic, linked] = ends();
        let placed = telescopic.with_fork(fork());
        assert_eq!(placed.fork().unwrap(), &fork());
        assert_eq!(placed.extended_axle(), telescopic.extended_axle());
        assert_eq!(linked.with_fork(fork()), FrontEnd::new(fork()));
    }

    #[test]
    fn another_shock_goes_into_links_and_not_into_a_fork() {
        let [telescopic, linked] = ends();
        let shock = linked.sprung().unwrap().shock();
        let stiffer = shock.with_spring_change(1.2, parse("0 mm").unwrap()).unwrap();
        let changed = linked.with_shock(stiffer.clone()).unwrap();
        assert_eq!(changed.sprung().unwrap().shock(), &stiffer);
        assert_eq!(changed.with_shock(shock.clone()).unwrap(), linked);
        let refused = telescopic.with_shock(shock.clone()).unwrap_err().to_string();
        assert!(refused.contains("is a telescopic fork, which has no linkage and no shock"), "{refused}");
    }

    #[test]
    fn a_curve_has_one_row_a_travel() {
        let bike = Bike::from_toml(PATROL).unwrap();
        let rear = bike.rear().unwrap();
        for count in [0, 1, 7] {
            let travels: Vec<Length> = (0..count).map(|at| Length::from_si(0.04 * f64::from(at))).collect();
            let curve = rear.curve(&travels).unwrap();
            assert_eq!((curve.len(), curve.is_empty()), (travels.len(), travels.is_empty()));
            let alone: Vec<_> = travels.iter().map(|travel| rear.at(*travel).unwrap().wheel_rate).collect();
            for (one, row) in alone.iter().zip(&curve.wheel_rate) {
                assert!(near(row.si(), one.si()));
            }
        }
    }
}
