//! Uncertainty of the wheel curves from measured pivots, against pivots drawn at random.

use rand_distr::{Distribution, Normal};
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;
use wheelrate::Bike;
use wheelrate::demo::PATROL;
use wheelrate::linkage::Linkage;
use wheelrate::units::{Length, Quantity};
use wheelrate::wheel::Wheel;

/// Draws, and what they leave of a standard deviation: 1/√(2N) is 1.6 %, four times that and a little for the second order.
const DRAWS: usize = 2_000;
const SCATTER: f64 = 0.07;
/// Standard uncertainty of a coordinate and of the shock's length, in metres.
const COORDINATE: f64 = 0.4e-3;
const SHOCK_LENGTH: f64 = 0.3e-3;

/// JCGM 101:2008: propagation of distributions, to check the first-order propagation of JCGM 100:2008.
#[test]
fn wheel_force_and_rate_spread_as_drawn_pivots_do() {
    let bike = Bike::from_toml(PATROL).unwrap();
    let end = bike.rear().unwrap();
    let linkage = end.linkage().unwrap();
    let travels = [30.0, 102.0, 220.0].map(|mm| Length::from_si(mm / 1e3));
    let stated =
        end.with_pivot_uncertainty(&travels, Length::from_si(COORDINATE), Length::from_si(SHOCK_LENGTH)).unwrap();
    let mut random = Xoshiro256PlusPlus::seed_from_u64(20);
    let [pivot, length] = [COORDINATE, SHOCK_LENGTH].map(|spread| Normal::new(0.0, spread).unwrap());
    let names: Vec<String> = linkage.mechanism().points().map(|(name, _)| name.to_owned()).collect();
    let mut drawn = vec![Vec::with_capacity(DRAWS); travels.len()];
    for _ in 0..DRAWS {
        let mechanism = names.iter().fold(linkage.mechanism().clone(), |mechanism, name| {
            let at = mechanism.point(name).unwrap();
            let moved = at.map(|part| part + Length::from_si(pivot.sample(&mut random)));
            mechanism.with_point(name, moved).unwrap()
        });
        let shock_length = linkage.shock_length() + Length::from_si(length.sample(&mut random));
        let moved =
            Linkage::new(mechanism, linkage.wheel(), linkage.shock(), shock_length, linkage.full_stroke()).unwrap();
        let moved = end.with_linkage(moved).unwrap();
        for (drawn, &travel) in drawn.iter_mut().zip(&travels) {
            let state = moved.at(travel).unwrap();
            drawn.push([state.wheel_force.si(), state.wheel_rate.si()]);
        }
    }
    for (stated, drawn) in stated.iter().zip(drawn) {
        let spread = |axis: usize| {
            let mean = drawn.iter().map(|pair| pair[axis]).sum::<f64>() / DRAWS as f64;
            (drawn.iter().map(|pair| (pair[axis] - mean).powi(2)).sum::<f64>() / (DRAWS - 1) as f64).sqrt()
        };
        let both = [stated.wheel_force.standard_uncertainty.si(), stated.wheel_rate.standard_uncertainty.si()];
        for (axis, stated) in both.into_iter().enumerate() {
            assert!((spread(axis) / stated - 1.0).abs() < SCATTER, "{axis}: drawn {}, stated {stated}", spread(axis));
        }
    }
}
