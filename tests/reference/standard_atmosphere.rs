//! The standard atmosphere against geometric altitude (ISO 2533, ICAO 1993): values of the packages ambiance 1.3.1 and
//! fluids 1.3.1, which agree with each other within 5e-7.

use wheelrate::gas::Conditions;
use wheelrate::units::{Length, Quantity};

use crate::outside::{Tolerance, agree};

#[test]
fn pressure_and_temperature_to_5000_m() {
    const PRESSURE: Tolerance =
        Tolerance::relative(2e-6, "printed to eight digits; the packages differ from each other by 5e-7");
    const KELVIN: Tolerance = Tolerance::absolute(1e-4, "printed to four decimals");
    let table = [
        (0.0, 101_325.0, 288.15),
        (500.0, 95_461.285, 284.9003),
        (1000.0, 89_876.278, 281.651),
        (1500.0, 84_559.666, 278.4023),
        (2000.0, 79_501.411, 275.1541),
        (2500.0, 74_691.74, 271.9064),
        (3000.0, 70_121.144, 268.6592),
        (4000.0, 61_660.423, 262.1664),
        (5000.0, 54_048.262, 255.6755),
    ];
    for (metres, pascal, kelvin) in table {
        let found = Conditions::at_altitude(Length::from_si(metres)).unwrap();
        agree!(found.surroundings().si(), pascal, PRESSURE, "pressure in Pa at {metres} m");
        agree!(found.temperature().si(), kelvin, KELVIN, "temperature in K at {metres} m");
    }
}
