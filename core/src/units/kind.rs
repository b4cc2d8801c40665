//! The unit tables: every unit a text may carry, per kind of quantity.
//!
//! Factors are exact (international yard and pound of 1959, standard gravity of the 3rd CGPM 1901; NIST SP 811,
//! Appendix B, prints them rounded). A factor is kept as `numerator / denominator`, so that `"105 mm"` becomes the
//! correctly rounded 0.105 m and not 105 × 0.001.

/// Standard gravity in m/s² (CGPM 1901, exact by definition).
pub const STANDARD_GRAVITY_SI: f64 = 9.80665;
/// One pound-force in newton, exact by definition.
pub const POUND_FORCE_SI: f64 = 4.448_221_615_260_5;
/// One avoirdupois pound in kilogram, exact by definition.
pub const POUND_SI: f64 = 0.453_592_37;
/// One inch in millimetre, exact by definition.
pub const INCH_MM: f64 = 25.4;

/// One unit of a kind: `SI value = (number · numerator / denominator) + offset`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// The spelling used in output.
    pub symbol: &'static str,
    /// Other spellings that are read.
    pub aliases: &'static [&'static str],
    /// Numerator of the factor to SI.
    pub numerator: f64,
    /// Denominator of the factor to SI.
    pub denominator: f64,
    /// Added after scaling (temperatures only).
    pub offset: f64,
}

impl Unit {
    /// Number in this unit to the SI value.
    #[must_use]
    pub fn to_si(&self, number: f64) -> f64 {
        number * self.numerator / self.denominator + self.offset
    }

    /// SI value to the number in this unit.
    #[must_use]
    pub fn from_si(&self, si: f64) -> f64 {
        (si - self.offset) * self.denominator / self.numerator
    }

    /// A difference of two SI values (an uncertainty, a tolerance) as a number in this unit.
    #[must_use]
    pub fn difference_from_si(&self, si: f64) -> f64 {
        si * self.denominator / self.numerator
    }

    /// Is this spelling one of the unit's own?
    #[must_use]
    pub fn is_spelled(&self, text: &str) -> bool {
        self.symbol == text || self.aliases.contains(&text)
    }
}

/// A kind of quantity: its name in words and the units its text may carry. The first unit is the one used in output.
#[derive(Debug, PartialEq)]
pub struct Kind {
    /// Name in words, e.g. `"spring rate"`.
    pub name: &'static str,
    /// Units accepted, output unit first.
    pub units: &'static [Unit],
}

impl Kind {
    /// The unit with this spelling.
    #[must_use]
    pub fn unit(&self, spelling: &str) -> Option<&'static Unit> {
        self.units.iter().find(|unit| unit.is_spelled(spelling))
    }

    /// The symbols of all units, as a list for a message: `mm, cm, m or in`.
    #[must_use]
    pub fn unit_list(&self) -> String {
        let symbols: Vec<&str> = self.units.iter().map(|unit| unit.symbol).collect();
        match symbols.as_slice() {
            [] => String::new(),
            [one] => (*one).to_owned(),
            [most @ .., last] => format!("{} or {last}", most.join(", ")),
        }
    }
}

const fn unit(symbol: &'static str, aliases: &'static [&'static str], numerator: f64, denominator: f64) -> Unit {
    Unit { symbol, aliases, numerator, denominator, offset: 0.0 }
}

macro_rules! kinds {
    ($($(#[$doc:meta])* $constant:ident = $name:literal: [$($unit:expr),+ $(,)?];)+) => {
        $($(#[$doc])* pub static $constant: Kind = Kind { name: $name, units: &[$($unit),+] };)+
        /// Every kind, to name the one that a unit does belong to.
        pub static ALL: &[&Kind] = &[$(&$constant),+];
    };
}

kinds! {
    /// Length.
    LENGTH = "length": [
        unit("mm", &["millimetre", "millimeter"], 1.0, 1000.0),
        unit("cm", &[], 1.0, 100.0),
        unit("m", &["metre", "meter"], 1.0, 1.0),
        unit("in", &["inch", "\""], INCH_MM, 1000.0),
        unit("ft", &["foot", "feet"], 304.8, 1000.0),
    ];
    /// Area.
    AREA = "area": [
        unit("mm2", &["mm^2"], 1.0, 1e6),
        unit("cm2", &["cm^2"], 1.0, 1e4),
        unit("m2", &["m^2"], 1.0, 1.0),
        unit("in2", &["in^2"], INCH_MM * INCH_MM, 1e6),
    ];
    /// Volume.
    VOLUME = "volume": [
        unit("cm3", &["cc", "ml", "mL", "cm^3"], 1.0, 1e6),
        unit("mm3", &["mm^3"], 1.0, 1e9),
        unit("l", &["L", "litre", "liter"], 1.0, 1000.0),
        unit("m3", &["m^3"], 1.0, 1.0),
        unit("in3", &["in^3"], 16_387.064, 1e9),
    ];
    /// Mass.
    MASS = "mass": [
        unit("kg", &[], 1.0, 1.0),
        unit("g", &[], 1.0, 1000.0),
        unit("lb", &["lbs"], POUND_SI, 1.0),
    ];
    /// Force.
    FORCE = "force": [
        unit("N", &[], 1.0, 1.0),
        unit("kN", &[], 1000.0, 1.0),
        unit("kgf", &["kp"], STANDARD_GRAVITY_SI, 1.0),
        unit("lbf", &[], POUND_FORCE_SI, 1.0),
    ];
    /// Spring rate, at the spring.
    SPRING_RATE = "spring rate": [
        unit("N/mm", &[], 1000.0, 1.0),
        unit("kgf/mm", &["kg/mm", "kp/mm"], STANDARD_GRAVITY_SI * 1000.0, 1.0),
        unit("lbf/in", &["lb/in", "lbs/in"], POUND_FORCE_SI * 1000.0, INCH_MM),
        unit("N/m", &[], 1.0, 1.0),
        unit("kN/m", &[], 1000.0, 1.0),
        unit("N/cm", &[], 100.0, 1.0),
        unit("lbf/ft", &[], POUND_FORCE_SI * 1000.0, 304.8),
    ];
    /// Wheel rate, at the wheel. No label in kg/mm is ever stuck to a wheel, so none is read here.
    WHEEL_RATE = "wheel rate": [
        unit("N/mm", &[], 1000.0, 1.0),
        unit("kgf/mm", &["kp/mm"], STANDARD_GRAVITY_SI * 1000.0, 1.0),
        unit("lbf/in", &[], POUND_FORCE_SI * 1000.0, INCH_MM),
        unit("N/m", &[], 1.0, 1.0),
        unit("kN/m", &[], 1000.0, 1.0),
        unit("N/cm", &[], 100.0, 1.0),
        unit("lbf/ft", &[], POUND_FORCE_SI * 1000.0, 304.8),
    ];
    /// Damping rate.
    DAMPING_RATE = "damping rate": [
        unit("N s/m", &["N·s/m", "N*s/m", "Ns/m"], 1.0, 1.0),
        unit("N s/mm", &["N·s/mm", "N*s/mm", "Ns/mm"], 1000.0, 1.0),
        unit("lbf s/in", &["lbf·s/in", "lbf*s/in"], POUND_FORCE_SI * 1000.0, INCH_MM),
    ];
    /// Motion ratio: shock stroke per wheel travel.
    MOTION_RATIO = "motion ratio": [unit("shock/wheel", &[], 1.0, 1.0)];
    /// Leverage ratio: wheel travel per shock stroke.
    LEVERAGE_RATIO = "leverage ratio": [unit("wheel/shock", &[], 1.0, 1.0)];
    /// Slope of the motion ratio over wheel travel.
    MOTION_RATIO_SLOPE = "motion ratio slope": [
        unit("1/m", &["m^-1"], 1.0, 1.0),
        unit("1/mm", &["mm^-1"], 1000.0, 1.0),
        unit("1/in", &["in^-1"], 1000.0, INCH_MM),
    ];
    /// Gauge pressure: above the surrounding air.
    GAUGE_PRESSURE = "gauge pressure": [
        unit("bar", &["barg"], 1e5, 1.0),
        unit("kPa", &[], 1e3, 1.0),
        unit("MPa", &[], 1e6, 1.0),
        unit("Pa", &[], 1.0, 1.0),
        unit("psi", &["psig"], POUND_FORCE_SI * 1e6, INCH_MM * INCH_MM),
        unit("mbar", &["hPa"], 100.0, 1.0),
        unit("kgf/cm2", &["kgf/cm^2"], STANDARD_GRAVITY_SI * 1e4, 1.0),
    ];
    /// Absolute pressure: above vacuum.
    ABSOLUTE_PRESSURE = "absolute pressure": [
        unit("bar", &["bara"], 1e5, 1.0),
        unit("kPa", &[], 1e3, 1.0),
        unit("MPa", &[], 1e6, 1.0),
        unit("Pa", &[], 1.0, 1.0),
        unit("psi", &["psia"], POUND_FORCE_SI * 1e6, INCH_MM * INCH_MM),
        unit("mbar", &["hPa"], 100.0, 1.0),
        unit("kgf/cm2", &["kgf/cm^2"], STANDARD_GRAVITY_SI * 1e4, 1.0),
        unit("atm", &[], 101_325.0, 1.0),
    ];
    /// Stress, elastic modulus.
    STRESS = "stress": [
        unit("MPa", &["N/mm2", "N/mm^2"], 1e6, 1.0),
        unit("GPa", &[], 1e9, 1.0),
        unit("Pa", &[], 1.0, 1.0),
        unit("psi", &[], POUND_FORCE_SI * 1e6, INCH_MM * INCH_MM),
        unit("kpsi", &["ksi"], POUND_FORCE_SI * 1e9, INCH_MM * INCH_MM),
    ];
    /// Angle.
    ANGLE = "angle": [
        unit("deg", &["°", "degree", "degrees"], std::f64::consts::PI, 180.0),
        unit("rad", &[], 1.0, 1.0),
    ];
    /// Energy.
    ENERGY = "energy": [
        unit("J", &["N m", "N·m", "N*m", "Nm"], 1.0, 1.0),
        unit("kJ", &[], 1000.0, 1.0),
        unit("N mm", &["N·mm", "N*mm"], 1.0, 1000.0),
        unit("ft lbf", &["ft·lbf", "ft*lbf"], POUND_FORCE_SI * 304.8, 1000.0),
    ];
    /// Temperature.
    TEMPERATURE = "temperature": [
        Unit { symbol: "degC", aliases: &["°C", "celsius"], numerator: 1.0, denominator: 1.0, offset: 273.15 },
        unit("K", &["kelvin"], 1.0, 1.0),
        Unit { symbol: "degF", aliases: &["°F", "fahrenheit"], numerator: 5.0, denominator: 9.0, offset: 459.67 * 5.0 / 9.0 },
    ];
    /// Frequency.
    FREQUENCY = "frequency": [unit("Hz", &["1/s"], 1.0, 1.0), unit("kHz", &[], 1000.0, 1.0)];
    /// Time.
    TIME = "time": [
        unit("s", &[], 1.0, 1.0),
        unit("ms", &[], 1.0, 1000.0),
        unit("min", &[], 60.0, 1.0),
        unit("h", &[], 3600.0, 1.0),
    ];
    /// Velocity.
    VELOCITY = "velocity": [
        unit("m/s", &[], 1.0, 1.0),
        unit("mm/s", &[], 1.0, 1000.0),
        unit("km/h", &["kph"], 1.0, 3.6),
        unit("mph", &[], 1609.344, 3600.0),
        unit("in/s", &[], INCH_MM, 1000.0),
    ];
    /// Acceleration.
    ACCELERATION = "acceleration": [
        unit("m/s2", &["m/s^2"], 1.0, 1.0),
        unit("g0", &["gn"], STANDARD_GRAVITY_SI, 1.0),
        unit("ft/s2", &["ft/s^2"], 304.8, 1000.0),
    ];
    /// Density.
    DENSITY = "density": [
        unit("kg/m3", &["kg/m^3"], 1.0, 1.0),
        unit("kg/dm3", &["kg/l", "g/cm3", "g/cm^3"], 1000.0, 1.0),
        unit("lb/in3", &["lb/in^3"], POUND_SI * 1e9, 16_387.064),
    ];
    /// Moment of inertia.
    MOMENT_OF_INERTIA = "moment of inertia": [
        unit("kg m2", &["kg·m2", "kg*m2", "kg m^2"], 1.0, 1.0),
        unit("kg cm2", &["kg·cm2", "kg*cm2"], 1.0, 1e4),
        unit("lb in2", &["lb*in2"], POUND_SI * INCH_MM * INCH_MM, 1e6),
    ];
    /// Share of a whole.
    SHARE = "share": [unit("%", &["percent"], 1.0, 100.0), unit("of 1", &[], 1.0, 1.0)];
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 0 °C is 273.15 K; `t(°F) = 9/5·t(°C) + 32` (NIST SP 811, B.8). A difference has no zero to count from.
    #[test]
    fn temperatures_have_a_zero_of_their_own_and_differences_none() {
        let unit = |symbol| TEMPERATURE.unit(symbol).unwrap();
        for (symbol, number, kelvin) in [("degC", 20.0, 293.15), ("degF", 68.0, 293.15), ("degF", -40.0, 233.15)] {
            assert!((unit(symbol).to_si(number) - kelvin).abs() < 1e-12, "{symbol}");
            assert!((unit(symbol).from_si(kelvin) - number).abs() < 1e-12, "{symbol}");
        }
        for (symbol, number) in [("degC", 10.0), ("K", 10.0), ("degF", 18.0)] {
            assert!((unit(symbol).difference_from_si(10.0) - number).abs() < 1e-12, "{symbol}");
        }
    }
}
