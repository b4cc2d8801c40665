//! OpenStax, *University Physics*, worked examples and exercises with answers
//! (openstax/osbooks-university-physics-bundle): springs of vol. 1, sections 8.1 and ch. 15; gas of vol. 2, ch. 3. Values seen
//! there.

use wheelrate::axial::AxialElement;
use wheelrate::gas::{Chamber, ChamberParts};
use wheelrate::infer::least_squares::{NormalEquations, Residuals, Stopping, minimise};
use wheelrate::spring::{Coil, Nest, Nested, Spring};
use wheelrate::units::{AbsolutePressure, Area, Length, Quantity, SpringRate, Volume};

use crate::outside::{Tolerance, agree};

fn m(length: f64) -> Length {
    Length::from_si(length)
}

fn coil(n_per_m: f64) -> Coil {
    Coil::new(SpringRate::from_si(n_per_m)).unwrap()
}

const THREE_DIGITS: Tolerance = Tolerance::relative(5e-3, "three printed digits");
const FIVE_DIGITS: Tolerance = Tolerance::relative(1e-5, "printed to three digits, recomputed to five");
const HUNDREDTH: Tolerance = Tolerance::absolute(0.01, "printed to two digits, recomputed to a hundredth");

/// A chamber in a vacuum, so that its energy is the work done on the gas.
fn gas(pascal: f64, litres: f64, square_metres: f64, exponent: f64) -> Chamber {
    let vacuum = AbsolutePressure::from_si(0.0);
    let (pressure, volume) = (AbsolutePressure::from_si(pascal), Volume::from_si(litres * 1e-3));
    let (area, stroke) = (Area::from_si(square_metres), m(0.2));
    Chamber::new(ChamberParts { pressure, volume, area, exponent, surroundings: vacuum, stroke }).unwrap()
}

#[test]
fn energy_of_a_spring_of_4_n_per_cm() {
    for (x, joule) in [(0.03, 0.18), (0.06, 0.72)] {
        let found = Spring::from(coil(400.0)).at(m(x)).unwrap().energy.si();
        agree!(found, joule, Tolerance::absolute(1e-12, "exact by hand"), "energy in J at {x} m");
    }
}

#[test]
fn four_springs_of_a_pickup_carry_1000_kg() {
    let each = || Nested::new(coil(32_500.0), m(0.0)).unwrap();
    let all = Spring::from(Nest::new((0..4).map(|_| each()).collect()).unwrap());
    agree!(all.initial_rate().si(), 130e3, Tolerance::relative(1e-12, "exact but for rounding"));
    let force = all.at(m(0.0754)).unwrap().force.si();
    agree!(force, 1000.0 * 9.8, THREE_DIGITS, "force in N");
}

#[test]
fn rates_from_static_loads() {
    for (mass, x, rate) in [(120.0, 0.0075, 157_000.0), (80.0, 0.12, 6530.0)] {
        let force = Spring::from(coil(rate)).at(m(x)).unwrap().force.si();
        agree!(force, mass * 9.8, THREE_DIGITS, "force in N of {mass} kg");
    }
}

#[test]
fn adiabatic_compression_of_240_to_40_cubic_centimetres() {
    // 1.23e6 Pa, 600 K, −63 J by the gas: three, three and two digits; recomputed 1.2286e6, 599.97, −62.86.
    let chamber = gas(1e5, 0.24, 1e-3, 1.4);
    let pressure = chamber.pressure_at(m(0.2)).unwrap().si();
    agree!(pressure, 1.2286e6, FIVE_DIGITS, "pressure in Pa");
    let kelvin = 293.0 * pressure * 40.0 / (1e5 * 240.0);
    agree!(kelvin, 599.97, HUNDREDTH);
    agree!(chamber.at(m(0.2)).unwrap().energy.si(), 62.86, HUNDREDTH, "work in J");
}

#[test]
fn work_along_a_polytrope_of_1_2() {
    // p = 3 atm·(V/1 l)^−1.2 from 2 l to 1.5 l: 78 J, recomputed 78.36 J.
    let chamber = gas(3.0 * 101_325.0 * 2f64.powf(-1.2), 2.0, 2.5e-3, 1.2);
    agree!(chamber.at(m(0.2)).unwrap().energy.si(), 78.36, HUNDREDTH, "work in J");
}

struct Polytrope;

impl Residuals<2> for Polytrope {
    /// `ln p = c − n·ln V`.
    fn accumulate(&mut self, &[constant, exponent]: &[f64; 2], equations: &mut NormalEquations<2>) {
        let atmospheres = [20.0_f64, 17.0, 14.0, 11.0, 8.0, 5.0, 2.0, 1.0];
        let litres = [1.0_f64, 1.1, 1.3, 1.5, 2.0, 2.6, 5.2, 8.4];
        for (p, v) in atmospheres.into_iter().zip(litres) {
            equations.add(constant - exponent * v.ln() - p.ln(), &[1.0, -v.ln()]);
        }
    }
}

#[test]
fn exponent_of_a_table_of_pressures_and_volumes() {
    // Data of the exercise; 1.40 is its answer, 1.4012 the slope of a straight line by another program.
    let fit = minimise(&mut Polytrope, [0.0, 1.0], Stopping { damping: 0.0, ..Stopping::default() }).unwrap();
    agree!(fit.parameters[1], 1.4012, Tolerance::absolute(5e-5, "half of the last digit"), "exponent");
}
