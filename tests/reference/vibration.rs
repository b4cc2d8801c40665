//! Natural frequencies and modes of textbook vehicles.
//!
//! Sources: Barton & Fieldhouse, *Automotive Chassis Engineering*, Springer 2018, section 3.13 (quarter car); S. S. Rao,
//! *Mechanical Vibrations*, example 5.7 (half car; printed outputs from memory); Thomson, *Theory of Vibration with
//! Applications*, ch. 5 (half car in US units; from memory); OpenStax, *College Physics* ch. 16, *University Physics* vol. 1
//! ch. 15, *Calculus* vol. 3 section 7.3; Gillespie, *Fundamentals of Vehicle Dynamics*, ch. 5 (from memory).

use std::f64::consts::TAU;

use wheelrate::bike::ride::{
    HalfBike, HalfBikeEnd, ModeKind, QuarterBike, damping_ratio, natural_frequency, static_deflection,
};
use wheelrate::record::Ends;
use wheelrate::units::{DampingRate, Frequency, Length, Mass, MomentOfInertia, Quantity, WheelRate};

use crate::outside::{Tolerance, agree};

const FOOT: f64 = 0.3048;
const POUND_FORCE: f64 = 4.448_221_615_260_5;

/// A value as it is printed.
const fn half(digit: f64) -> Tolerance {
    Tolerance::absolute(digit, "half of the last printed digit")
}

#[test]
fn quarter_car() {
    const BOOK: Tolerance = Tolerance::relative(
        1.5e-3,
        "the book rounds its quadratic (4786 for 4782.95), which moves the second root by 0.03 %; the others are printed to \
         three digits",
    );
    let car = QuarterBike {
        sprung: Mass::from_si(317.5),
        unsprung: Mass::from_si(45.4),
        rate: WheelRate::from_si(22e3),
        tyre: WheelRate::from_si(192e3),
    };
    let [ride, hop] = car.modes().unwrap();
    agree!(ride.frequency.si() * TAU, 7.87, BOOK);
    agree!(hop.frequency.si() * TAU, 68.73, BOOK);
    agree!(ride.unsprung_over_sprung, 0.104, half(0.5e-3));
    // Recomputed from the exact quadratic: sum 4782.95, product 293038 (six digits).
    let [slow, fast] = [ride, hop].map(|mode| (mode.frequency.si() * TAU).powi(2));
    agree!(slow + fast, 4782.95, half(0.005));
    agree!(slow * fast, 293_038.0, half(0.5));
    assert!(hop.unsprung_over_sprung < 0.0);
}

fn half_car(mass: f64, gyration: f64, arms: [f64; 2], rates: [f64; 2]) -> HalfBike {
    let end = |at: usize| HalfBikeEnd {
        distance: Length::from_si(arms[at]),
        rate: WheelRate::from_si(rates[at]),
        tyre: None,
        unsprung: None,
    };
    HalfBike {
        sprung: Mass::from_si(mass),
        pitch_inertia: MomentOfInertia::from_si(mass * gyration * gyration),
        ends: Ends { front: end(0), rear: end(1) },
    }
}

#[test]
fn half_car_of_rao() {
    let modes = half_car(1000.0, 0.9, [1.0, 1.5], [18e3, 22e3]).modes().unwrap();
    for (mode, kind, omega, center) in
        [(modes[0], ModeKind::Bounce, 5.8593, -2.6461), (modes[1], ModeKind::Pitch, 9.4341, 0.3061)]
    {
        assert_eq!(mode.kind, kind);
        agree!(mode.frequency.si() * TAU, omega, half(0.5e-4), "frequency of a mode in rad/s");
        agree!(mode.center_ahead.unwrap().si(), center, half(0.5e-4), "centre of a mode ahead, in m");
    }
}

#[test]
fn half_car_of_thomson() {
    const BOOK: Tolerance = Tolerance::relative(
        7e-3,
        "three printed digits, the last of them rounded loosely: 14.6 for 14.596, 1.09 for 1.096",
    );
    let per_foot = POUND_FORCE / FOOT;
    let mass = 3220.0 / 32.2 * POUND_FORCE / FOOT;
    let arms = [4.5 * FOOT, 5.5 * FOOT];
    let modes = half_car(mass, 4.0 * FOOT, arms, [2400.0 * per_foot, 2600.0 * per_foot]).modes().unwrap();
    for (mode, omega, center) in [(modes[0], 6.90, -14.6), (modes[1], 9.06, 1.09)] {
        agree!(mode.frequency.si() * TAU, omega, BOOK, "frequency of a mode in rad/s");
        agree!(mode.center_ahead.unwrap().si() / FOOT, center, BOOK, "centre of a mode ahead, in ft");
    }
}

#[test]
fn one_mass_on_one_spring() {
    let frequency = natural_frequency(WheelRate::from_si(6.53e4), Mass::from_si(900.0)).unwrap().si();
    agree!(frequency, 1.36, half(0.005));
    agree!(1.0 / frequency, 0.738, half(0.0005));
    agree!(TAU * frequency * 0.1, 0.852, half(0.0005));
    let infant = natural_frequency(WheelRate::from_si(8.0 * 9.8 / 0.25), Mass::from_si(8.0)).unwrap().si();
    agree!(1.0 / infant, 1.00, half(0.005));
    agree!(TAU * infant * 0.2, 1.25, half(0.005));
}

#[test]
fn motocross_landing_is_just_overdamped() {
    // The text hangs all 384 lbf on the 4 in sag and takes 12 slugs, so 1152 lbf/ft; both roots are whole numbers.
    let per_foot = POUND_FORCE / FOOT;
    let (rate, mass) = (WheelRate::from_si(1152.0 * per_foot), Mass::from_si(12.0 * per_foot));
    let damping = DampingRate::from_si(240.0 * per_foot);
    let ratio = damping_ratio(damping, rate, mass).unwrap().si();
    let omega = natural_frequency(rate, mass).unwrap().si() * TAU;
    let spread = omega * (ratio * ratio - 1.0).sqrt();
    const ROUNDING: Tolerance =
        Tolerance::relative(1e-12, "two roots from a difference of squares that agree to 4 %, but for rounding");
    agree!(ratio * omega - spread, 8.0, ROUNDING);
    agree!(ratio * omega + spread, 12.0, ROUNDING);
    agree!(rate.in_unit("N/mm").unwrap(), 16.812176, half(0.5e-6));
}

#[test]
fn one_hertz_is_a_quarter_metre() {
    let deflection = |frequency: f64| static_deflection(Frequency::from_si(frequency)).unwrap().si();
    agree!(deflection(1.0), 0.2484, half(0.5e-4));
    // It goes with the inverse square of the frequency.
    agree!(9.0 * deflection(3.0), 0.2484, half(0.5e-4));
}
