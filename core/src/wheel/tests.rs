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
