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

const FOOT: f64 = 0.3048;
const POUND_FORCE: f64 = 4.448_221_615_260_5;

fn within(found: f64, printed: f64, tolerance: f64) {
    assert!((found - printed).abs() <= tolerance, "found {found}, printed {printed}");
}

#[test]
fn quarter_car() {
    // The book rounds its quadratic (4786 for 4782.95), which moves the second root by 0.03 %; the others are printed to
    // three digits.
    const BOOK: f64 = 1.5e-3;
    let car = QuarterBike {
        sprung: Mass::from_si(317.5),
        unsprung: Mass::from_si(45.4),
        rate: WheelRate::from_si(22e3),
        tyre: WheelRate::from_si(192e3),
    };
    let [ride, hop] = car.modes().unwrap();
    within(ride.frequency.si() * TAU, 7.87, 7.87 * BOOK);
    within(hop.frequency.si() * TAU, 68.73, 68.73 * BOOK);
    within(ride.unsprung_over_sprung, 0.104, 0.5e-3);
    // Recomputed from the exact quadratic: sum 4782.95, product 293038 (six digits).
    let [slow, fast] = [ride, hop].map(|mode| (mode.frequency.si() * TAU).powi(2));
    within(slow + fast, 4782.95, 0.005);
    within(slow * fast, 293_038.0, 0.5);
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
        within(mode.frequency.si() * TAU, omega, 0.5e-4);
        within(mode.center_ahead.unwrap().si(), center, 0.5e-4);
    }
}

#[test]
fn half_car_of_thomson() {
    // Three printed digits, the last of them rounded loosely: 14.6 for 14.596, 1.09 for 1.096.
    const BOOK: f64 = 7e-3;
    let per_foot = POUND_FORCE / FOOT;
    let mass = 3220.0 / 32.2 * POUND_FORCE / FOOT;
    let arms = [4.5 * FOOT, 5.5 * FOOT];
    let modes = half_car(mass, 4.0 * FOOT, arms, [2400.0 * per_foot, 2600.0 * per_foot]).modes().unwrap();
    for (mode, omega, center) in [(modes[0], 6.90, -14.6), (modes[1], 9.06, 1.09)] {
        within(mode.frequency.si() * TAU, omega, omega * BOOK);
        within(mode.center_ahead.unwrap().si() / FOOT, center, center.abs() * BOOK);
    }
}

#[test]
fn one_mass_on_one_spring() {
    let frequency = natural_frequency(WheelRate::from_si(6.53e4), Mass::from_si(900.0)).unwrap().si();
    within(frequency, 1.36, 0.005);
    within(1.0 / frequency, 0.738, 0.0005);
    within(TAU * frequency * 0.1, 0.852, 0.0005);
    let infant = natural_frequency(WheelRate::from_si(8.0 * 9.8 / 0.25), Mass::from_si(8.0)).unwrap().si();
    within(1.0 / infant, 1.00, 0.005);
    within(TAU * infant * 0.2, 1.25, 0.005);
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
    // Two roots from a difference of squares that agree to 4 %.
    const ROUNDING: f64 = 1e-12;
    within(ratio * omega - spread, 8.0, 8.0 * ROUNDING);
    within(ratio * omega + spread, 12.0, 12.0 * ROUNDING);
    within(rate.in_unit("N/mm").unwrap(), 16.812176, 0.5e-6);
}

#[test]
fn one_hertz_is_a_quarter_metre() {
    within(static_deflection(Frequency::from_si(1.0)).unwrap().si(), 0.2484, 0.5e-4);
}
