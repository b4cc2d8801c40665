//! Which units a report is written in.

use super::kind::{self, Kind};
use crate::error::UnitError;

/// The units a person wants to read. Input may use any unit at any time; this is for output only.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "kebab-case"))]
pub enum UnitSystem {
    /// Millimetre, newton, N/mm, bar.
    #[default]
    Metric,
    /// Millimetre, kilogram-force, kgf/mm, bar.
    KilogramForce,
    /// Inch, pound-force, lbf/in, psi.
    Inch,
}

impl UnitSystem {
    /// Every system, with the name used on the command line.
    pub const ALL: [(&'static str, Self); 3] =
        [("metric", Self::Metric), ("kilogram-force", Self::KilogramForce), ("inch", Self::Inch)];

    /// The system with this name.
    ///
    /// # Errors
    /// [`UnitError::UnknownSystem`].
    pub fn from_name(name: &str) -> Result<Self, UnitError> {
        Self::ALL
            .iter()
            .find(|(known, _)| *known == name)
            .map(|(_, system)| *system)
            .ok_or_else(|| UnitError::UnknownSystem { found: name.to_owned() })
    }

    /// The unit symbol this system uses for a kind.
    #[must_use]
    pub fn symbol(self, of: &Kind) -> &'static str {
        let rate = core::ptr::eq(of, &kind::SPRING_RATE) || core::ptr::eq(of, &kind::WHEEL_RATE);
        match self {
            Self::KilogramForce if rate => "kgf/mm",
            Self::KilogramForce if core::ptr::eq(of, &kind::FORCE) => "kgf",
            Self::Inch => self.inch_symbol(of, rate),
            Self::Metric | Self::KilogramForce => of.units[0].symbol,
        }
    }

    /// Decimals of a length in a report: tenths of a millimetre, hundredths of an inch.
    #[must_use]
    pub fn length_decimals(self) -> usize {
        match self {
            Self::Metric | Self::KilogramForce => 1,
            Self::Inch => 2,
        }
    }

    /// Decimals of a spring or wheel rate in a report, about a part in a thousand.
    #[must_use]
    pub fn rate_decimals(self) -> usize {
        match self {
            Self::Metric => 2,
            Self::KilogramForce => 3,
            Self::Inch => 1,
        }
    }

    fn inch_symbol(self, of: &Kind, rate: bool) -> &'static str {
        const INCH: [(&Kind, &str); 11] = [
            (&kind::LENGTH, "in"),
            (&kind::AREA, "in2"),
            (&kind::VOLUME, "in3"),
            (&kind::MASS, "lb"),
            (&kind::FORCE, "lbf"),
            (&kind::GAUGE_PRESSURE, "psi"),
            (&kind::ABSOLUTE_PRESSURE, "psi"),
            (&kind::STRESS, "kpsi"),
            (&kind::ENERGY, "ft lbf"),
            (&kind::TEMPERATURE, "degF"),
            (&kind::MOTION_RATIO_SLOPE, "1/in"),
        ];
        if rate {
            return "lbf/in";
        }
        INCH.iter().find(|(known, _)| core::ptr::eq(*known, of)).map_or(of.units[0].symbol, |(_, symbol)| symbol)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn systems_come_from_their_names_and_have_units_of_their_own() {
        for (name, system) in UnitSystem::ALL {
            assert_eq!(UnitSystem::from_name(name).unwrap(), system);
        }
        assert!(matches!(UnitSystem::from_name("Inch"), Err(UnitError::UnknownSystem { .. })));
        let symbols = |of: &Kind| UnitSystem::ALL.map(|(_, system)| system.symbol(of));
        assert_eq!(symbols(&kind::FORCE), ["N", "kgf", "lbf"]);
        assert_eq!(symbols(&kind::SPRING_RATE), ["N/mm", "kgf/mm", "lbf/in"]);
        assert_eq!(symbols(&kind::WHEEL_RATE), ["N/mm", "kgf/mm", "lbf/in"]);
        assert_eq!(symbols(&kind::LENGTH), ["mm", "mm", "in"]);
        assert_eq!(symbols(&kind::MASS)[..2], ["kg", "kg"]);
    }
}
