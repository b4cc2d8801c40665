//! Rake, offset and trail of published bicycles and of a published motorcycle.
//!
//! Sources: Meijaard, Papadopoulos, Ruina & Schwab, Proc. R. Soc. A 463 (2007) 1955–1982, table 1 (benchmark bicycle);
//! J. K. Moore, *Human Control of a Bicycle*, dissertation, UC Davis 2012, with the BicycleParameters package's raw data and
//! results (bicycles 'Browser' and 'Pista'); coordinates of a sport motorcycle from the multibody example set
//! BPMinaker/EoM_samples, which match Sharp, Evangelou & Limebeer, Multibody Syst. Dyn. 12 (2004) 251–283 as far as
//! remembered.

use std::f64::consts::{FRAC_PI_2, TAU};

use wheelrate::bike::steering::{Steering, SteeringUncertainty};
use wheelrate::units::{Angle, Length, Quantity};

use crate::outside::{Tolerance, agree};

fn m(value: f64) -> Length {
    Length::from_si(value)
}

#[test]
fn benchmark_bicycle() {
    const DIGITS: Tolerance = Tolerance::absolute(1e-10, "the published digits");
    let steering = Steering::from_trail(Angle::from_si(std::f64::consts::PI / 10.0), m(0.08), m(0.35)).unwrap();
    agree!(steering.fork_offset.si(), 0.0320714267, DIGITS);
    agree!(steering.normal_trail().unwrap().si(), 0.0760845213, DIGITS);
    agree!(steering.wheel_flop().unwrap().si(), 0.0235114101, DIGITS);
}

#[test]
fn measured_bicycles_with_their_uncertainty() {
    struct Bicycle {
        rollout: f64,
        turns: f64,
        head_angle: f64,
        offset: f64,
        printed: [f64; 3],
        trail_digits: Tolerance,
    }
    let browser = Bicycle {
        rollout: 28.06,
        turns: 13.0,
        head_angle: 67.1,
        offset: 0.0705,
        printed: [0.344, 0.0686, 0.001_694_641_134_88],
        trail_digits: Tolerance::absolute(0.5e-4, "trail printed to 0.1 mm"),
    };
    let pista = Bicycle {
        rollout: 29.366,
        turns: 14.0,
        head_angle: 74.2,
        offset: 0.0315,
        printed: [0.334, 0.062, 0.001_607_762_114_74],
        trail_digits: Tolerance::absolute(0.5e-3, "trail printed to 1 mm"),
    };
    const UNCERTAINTY_DIGITS: Tolerance = Tolerance::relative(1e-10, "twelve digits are printed for the uncertainty");
    const RADIUS_DIGITS: Tolerance = Tolerance::absolute(0.5e-3, "radius printed to 1 mm");
    for bike in [browser, pista] {
        let [radius, trail, u_trail] = bike.printed;
        let per_turn = TAU * bike.turns;
        let steering = Steering {
            rake: Angle::from_si(FRAC_PI_2 - bike.head_angle.to_radians()),
            fork_offset: m(bike.offset),
            radius: m(bike.rollout / per_turn),
        };
        let uncertainty = SteeringUncertainty {
            rake: Angle::from_si(0.2_f64.to_radians()),
            fork_offset: m(0.001),
            radius: m(0.01 / per_turn),
        };
        let found = steering.trail_with_uncertainty(&uncertainty).unwrap();
        agree!(steering.radius.si(), radius, RADIUS_DIGITS);
        agree!(found.value.si(), trail, bike.trail_digits, "trail in m");
        agree!(found.standard_uncertainty.si(), u_trail, UNCERTAINTY_DIGITS, "uncertainty of the trail in m");
    }
}

#[test]
fn sport_motorcycle_from_its_coordinates() {
    const DIGITS: Tolerance = Tolerance::absolute(1e-7, "recomputed from the coordinates to 0.1 µm");
    let (rake, axle, on_axis) = (0.4189_f64, [1.41, 0.282], [1.173, 0.749]);
    let (sin, cos) = rake.sin_cos();
    let fork_offset = m((axle[0] - on_axis[0]) * cos + (axle[1] - on_axis[1]) * sin);
    let steering = Steering { rake: Angle::from_si(rake), fork_offset, radius: m(axle[1]) };
    let trail = steering.trail().unwrap().si();
    agree!(trail, 0.0964951, DIGITS);
}
