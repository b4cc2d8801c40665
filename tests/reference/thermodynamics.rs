//! Polytropic work in thermodynamics texts: Moran & Shapiro, *Fundamentals of Engineering Thermodynamics*, examples 2.1 (from
//! memory) and 3.11, p. 113; Çengel & Boles, *Thermodynamics*, example 4-3, p. 170; the latter two seen through
//! FOSSEE/Python-Textbook-Companions. Volumes are a thousandth of the books', and so is the work.

use wheelrate::axial::AxialElement;
use wheelrate::gas::{Chamber, ChamberParts};
use wheelrate::units::{AbsolutePressure, Area, Length, Quantity, Volume};

use crate::outside::{Tolerance, agree};

const STROKE: f64 = 0.1;

/// Work on the gas in joule, and its last pressure in pascal, between two volumes in litre; in a vacuum.
fn compressed(pascal: f64, from: f64, to: f64, exponent: f64) -> (f64, f64) {
    let area = Area::from_si((from - to) * 1e-3 / STROKE);
    let (pressure, stroke) = (AbsolutePressure::from_si(pascal), Length::from_si(STROKE));
    let vacuum = AbsolutePressure::from_si(0.0);
    let volume = Volume::from_si(from * 1e-3);
    let chamber =
        Chamber::new(ChamberParts { pressure, volume, area, exponent, surroundings: vacuum, stroke }).unwrap();
    (chamber.at(stroke).unwrap().energy.si(), chamber.pressure_at(stroke).unwrap().si())
}

#[test]
fn moran_2_1_expansion_from_3_bar() {
    // Printed 17.6 kJ and 20.79 kJ by the gas.
    for (exponent, work, half_digit) in [(1.5, 17.6, 0.05), (1.0, 20.79, 0.005)] {
        let (on_gas, _) = compressed(3e5, 0.1, 0.2, exponent);
        let printed = Tolerance::absolute(half_digit, "half of the last printed digit");
        agree!(on_gas, -work, printed, "work on the gas in J, exponent {exponent}");
    }
}

#[test]
fn moran_3_11_air_from_1_to_5_bar() {
    let from = 286.986 * 295.0 / 1e5;
    let to = from * 5f64.powf(-1.0 / 1.3);
    let (work, pressure) = compressed(1e5, from, to, 1.3);
    agree!(work, 126.928, Tolerance::absolute(1e-3, "printed −126.928 kJ/kg by the gas, to three decimals"));
    let kelvin = 295.0 * pressure * to / (1e5 * from);
    agree!(kelvin, 427.68, Tolerance::absolute(0.01, "ours, to a hundredth"));
}

#[test]
fn cengel_4_3_isothermal_to_a_quarter() {
    let (work, _) = compressed(1e5, 0.4, 0.1, 1.0);
    agree!(work, 55.4518, Tolerance::absolute(1e-4, "printed −55.5 kJ by the gas, recomputed to four decimals"));
}
