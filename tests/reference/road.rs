//! Roads: closed forms of a quarter of a vehicle on white road velocity, ISO 8608 and ISO 2631-1.
//!
//! Sources: the mean squares of a quarter car on road velocity of two-sided density `S₀`, `πS₀(m_s + m_u)/c` of the rattle space
//! and `πS₀[(m_s + m_u)k²/(m_s²c) + k_t·c/m_s²]` of the acceleration (residues; E. Dahlberg, Journal of Sound and Vibration 55
//! (1977) 245 and 58 (1978) for one degree of freedom); ISO 8608, table of classes, and ISO 2631-1:1997, table 3 (`W_k` in
//! thousandths), both from memory; Rao, *Mechanical Vibrations*, 9.10 (transmissibility).

use std::f64::consts::PI;

use wheelrate::bike::ride::QuarterBike;
use wheelrate::road::{Road, RoadClass, quarter_response, quarter_ride, transmissibility, vertical_weighting};
use wheelrate::units::{DampingRate, Frequency, Length, Mass, Quantity, Share, Velocity, Volume, WheelRate};

use crate::outside::{Tolerance, agree};

/// 95 kg on 17.5 kg, 8.3 kN/m, 180 kN/m.
fn quarter() -> QuarterBike {
    QuarterBike {
        sprung: Mass::from_si(95.0),
        unsprung: Mass::from_si(17.5),
        rate: WheelRate::from_si(8300.0),
        tyre: WheelRate::from_si(180e3),
    }
}

/// A road whose velocity has this two-sided density per circular frequency: `S₀ = π·G_d(n₀)·n₀²·v`, at 1 m/s, all of it.
fn white(density: f64) -> (Road, Velocity) {
    let roughness = Volume::from_si(density / (PI * 0.01));
    let all = [1e-9, 1e7].map(Length::from_si);
    (Road::of_roughness(roughness).unwrap().with_wavelengths(all[0], all[1]).unwrap(), Velocity::from_si(1.0))
}

#[test]
fn mean_squares_on_white_road_velocity() {
    const SUM: Tolerance = Tolerance::relative(
        2e-7,
        "the road ends at 10⁻⁹ m and 10⁷ m; what lies beyond goes with the ratio to the wheel's hop",
    );
    let density = 1e-5;
    let (road, speed) = white(density);
    let ride = quarter_ride(&quarter(), DampingRate::from_si(600.0), &road, speed).unwrap();
    agree!(ride.travel_rms.si().powi(2) / density, 0.589_048_6, SUM.times(1.0), "rattle space over S₀ in s·m²/m²");
    agree!(ride.acceleration_rms.si().powi(2) / density, 42_091.032, SUM, "acceleration over S₀");
    let (sprung, unsprung, rate, tyre, damping) = (95.0, 17.5, 8300.0, 180e3, 600.0);
    let all = sprung + unsprung;
    // Tyre force by residues of the same quarter: πS₀·k_t·[…], worked out with a computer algebra system.
    let dynamic = PI
        * ((all * all * all * rate * rate / (sprung * sprung) - 2.0 * all * unsprung * tyre * rate / sprung
            + unsprung * tyre * tyre)
            / damping
            + tyre * damping * all * all / (sprung * sprung));
    agree!(ride.tyre_force_rms.si().powi(2) / density, dynamic, SUM.times(10.0), "tyre force over S₀");
}

#[test]
fn transmissibility_is_one_at_the_root_of_two() {
    const ROUNDING: Tolerance = Tolerance::absolute(1e-14, "a few roundings");
    for damping in [0.0, 0.05, 0.3, 0.7, 1.0, 4.0] {
        let found = transmissibility(2f64.sqrt(), Share::from_si(damping)).unwrap();
        agree!(found, 1.0, ROUNDING, "damping ratio {damping}");
    }
}

#[test]
fn a_quarter_without_a_wheel_is_one_mass_on_one_spring() {
    const STIFF: Tolerance = Tolerance::relative(1e-6, "a wheel of a gram on a tyre of 10⁹ N/m");
    let light = QuarterBike { unsprung: Mass::from_si(1e-3), tyre: WheelRate::from_si(1e10), ..quarter() };
    let natural = (8300.0f64 / 95.0).sqrt();
    let damping = DampingRate::from_si(600.0);
    let ratio = 600.0 / (2.0 * (8300.0f64 * 95.0).sqrt());
    for r in [0.3, 1.0, 2f64.sqrt(), 5.0] {
        let frequency = Frequency::from_si(r * natural / (2.0 * PI));
        let found = quarter_response(&light, damping, frequency).unwrap().body;
        agree!(found, transmissibility(r, Share::from_si(ratio)).unwrap(), STIFF, "r = {r}");
    }
}

#[test]
fn classes_of_road() {
    const EXACT: Tolerance = Tolerance::relative(1e-15, "a product of powers of two");
    let table = [16.0, 64.0, 256.0, 1024.0, 4096.0, 16384.0, 65536.0, 262_144.0];
    for (class, middle) in RoadClass::ALL.into_iter().zip(table) {
        agree!(class.roughness().si(), middle * 1e-6, EXACT, "{class:?}");
    }
}

#[test]
fn weighting_of_vertical_acceleration() {
    const PRINTED: Tolerance = Tolerance::absolute(1e-3, "the table is printed to thousandths, one of them cut off");
    let table = [
        (0.5, 418.0),
        (1.0, 482.0),
        (2.0, 531.0),
        (2.5, 631.0),
        (3.15, 804.0),
        (4.0, 967.0),
        (5.0, 1039.0),
        (6.3, 1054.0),
        (8.0, 1036.0),
        (10.0, 988.0),
        (16.0, 768.0),
        (31.5, 405.0),
        (63.0, 186.0),
    ];
    for (frequency, thousandths) in table {
        let found = vertical_weighting(Frequency::from_si(frequency)).unwrap();
        agree!(found, thousandths * 1e-3, PRINTED, "at {frequency} Hz");
    }
}
