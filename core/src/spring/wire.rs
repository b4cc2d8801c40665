//! Spring wire: how strong it is, by its diameter.
//!
//! `R_m = A − B·lg(d/mm)` for patented wire (the lower limits of EN 10270-1), `R_m = A/(d/mm)^m` for the wires of Shigley's table.
//! Thin wire is drawn further, and is stronger.
//!
//! The first holds the printed lower limits of grade SM within 4 MPa from 0.3 mm to 20 mm (a wire maker's table that quotes the
//! standard, seen); the other two grades are from memory. The table of Shigley, *Mechanical Engineering Design*, 10-4, and the
//! shares of 10-6 are from memory. What a drum of wire really has is on its certificate, up to 15 % above a lower limit.

use crate::error::{Result, SpringError};
use crate::units::{Length, Quantity, Stress, check};

/// How strength goes with diameter, in MPa and mm.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Law {
    Logarithm([f64; 2]),
    /// Up to a diameter, factor and exponent.
    Powers(&'static [(f64, f64, f64)]),
    Constant(f64),
}

/// Highest share of the tensile strength that the shear stress may reach before the spring sets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct SetShares {
    /// Of a spring as it was wound, with the correction for curvature.
    pub(super) as_wound: f64,
    /// Of one that was pressed solid in the making, the correction for direct shear alone.
    pub(super) pressed: f64,
}

#[derive(Debug, PartialEq)]
struct Row {
    name: &'static str,
    law: Law,
    /// Diameters covered, in mm.
    covers: [f64; 2],
    set: SetShares,
    is_steel: bool,
    source: &'static str,
}

const DRAWN: SetShares = SetShares { as_wound: 0.45, pressed: 0.60 };
const TEMPERED: SetShares = SetShares { as_wound: 0.50, pressed: 0.65 };
const STAINLESS: SetShares = SetShares { as_wound: 0.35, pressed: 0.55 };
const NOT_FERROUS: SetShares = SetShares { as_wound: 0.35, pressed: 0.55 };

const SHIGLEY: &str = "Shigley, table 10-4, from memory";
const MEMORY: &str = "EN 10270-1, lower limit as a formula, from memory";

/// Wires known by name.
static KNOWN: [Row; 10] = [
    row("EN 10270-1 SL", Law::Logarithm([1720.0, 660.0]), [1.0, 10.0], DRAWN, MEMORY),
    row(
        "EN 10270-1 SM",
        Law::Logarithm([1980.0, 740.0]),
        [0.3, 20.0],
        DRAWN,
        "EN 10270-1, lower limit as a formula, held against a printed table",
    ),
    row("EN 10270-1 SH", Law::Logarithm([2220.0, 820.0]), [0.3, 20.0], DRAWN, MEMORY),
    row("music wire A228", Law::Powers(&[(6.5, 2211.0, 0.145)]), [0.1, 6.5], DRAWN, SHIGLEY),
    row("hard-drawn A227", Law::Powers(&[(12.7, 1783.0, 0.190)]), [0.7, 12.7], DRAWN, SHIGLEY),
    row("oil-tempered A229", Law::Powers(&[(12.7, 1855.0, 0.187)]), [0.5, 12.7], TEMPERED, SHIGLEY),
    row("chrome-vanadium A232", Law::Powers(&[(11.1, 2005.0, 0.168)]), [0.8, 11.1], TEMPERED, SHIGLEY),
    row("chrome-silicon A401", Law::Powers(&[(9.5, 1974.0, 0.108)]), [1.6, 9.5], TEMPERED, SHIGLEY),
    row(
        "stainless A313",
        Law::Powers(&[(2.5, 1867.0, 0.146), (5.0, 2065.0, 0.263), (10.0, 2911.0, 0.478)]),
        [0.3, 10.0],
        STAINLESS,
        SHIGLEY,
    ),
    Row {
        is_steel: false,
        ..row(
            "Ti-3Al-8V-6Cr-4Mo-4Zr",
            Law::Constant(1240.0),
            [1.0, 16.0],
            NOT_FERROUS,
            "aged beta titanium, lower limit from memory; it moves by 15 % with drawing and ageing",
        )
    },
];

const fn row(name: &'static str, law: Law, covers: [f64; 2], set: SetShares, source: &'static str) -> Row {
    Row { name, law, covers, set, is_steel: true, source }
}

/// A kind of spring wire, known by name.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpringWire(&'static Row);

impl SpringWire {
    /// The wire of this name.
    ///
    /// # Errors
    /// [`SpringError::Description`] with the names that are known.
    pub fn named(name: &str) -> Result<Self> {
        KNOWN.iter().find(|row| row.name == name).map(Self).ok_or_else(|| {
            let names: Vec<&str> = KNOWN.iter().map(|row| row.name).collect();
            SpringError::Description {
                part: "wire kind".to_owned(),
                found: format!("`{name}`"),
                wanted: format!("one of {}", names.join(", ")),
            }
            .into()
        })
    }

    /// Every wire known by name.
    #[must_use]
    pub fn known() -> Vec<Self> {
        KNOWN.iter().map(Self).collect()
    }

    /// Its name.
    #[must_use]
    pub fn name(self) -> &'static str {
        self.0.name
    }

    /// Where its strength comes from.
    #[must_use]
    pub fn source(self) -> &'static str {
        self.0.source
    }

    /// Tensile strength of wire of a diameter.
    ///
    /// # Errors
    /// [`UnitError`](crate::error::UnitError) for a diameter that its source does not cover.
    pub fn tensile_strength(self, diameter: Length) -> Result<Stress> {
        let [least, most] = self.0.covers.map(|mm| Length::from_si(mm * 1e-3));
        let d = check::plausible("wire", diameter, least, most)?.si() * 1e3;
        let strength = match self.0.law {
            Law::Logarithm([a, b]) => a - b * d.log10(),
            Law::Powers(pieces) => {
                let piece = pieces.iter().find(|(up_to, ..)| d <= *up_to).or(pieces.last());
                piece.map_or(f64::NAN, |(_, a, m)| a / d.powf(*m))
            }
            Law::Constant(strength) => strength,
        };
        Ok(Stress::from_si(strength * 1e6))
    }

    pub(super) fn set_shares(self) -> SetShares {
        self.0.set
    }

    pub(super) fn is_steel(self) -> bool {
        self.0.is_steel
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(length: f64) -> Length {
        Length::from_si(length * 1e-3)
    }

    #[test]
    fn thicker_wire_is_weaker_and_what_no_source_covers_is_refused() {
        for wire in SpringWire::known() {
            let [least, most] = wire.0.covers;
            let strengths: Vec<f64> = (0..40)
                .map(|place| least + (most - least) * f64::from(place) / 39.0)
                .map(|d| wire.tensile_strength(mm(d)).unwrap().si() / 1e6)
                .collect();
            assert!(strengths.iter().all(|strength| (800.0..3500.0).contains(strength)), "{wire:?} {strengths:?}");
            // Pieces of a table that meet within a per cent.
            assert!(strengths.windows(2).all(|pair| pair[1] <= pair[0] * 1.01), "{wire:?} {strengths:?}");
            assert!(wire.tensile_strength(mm(most * 1.1)).unwrap_err().to_string().starts_with("wire: found"));
            assert_eq!(SpringWire::named(wire.name()).unwrap(), wire);
        }
        let unknown = SpringWire::named("EN 10270-2").unwrap_err().to_string();
        assert!(unknown.contains("chrome-silicon A401"), "{unknown}");
    }

    #[test]
    fn every_wire_says_where_its_strength_comes_from() {
        for row in &KNOWN {
            let wire = SpringWire::named(row.name).unwrap();
            assert_eq!(wire.name(), row.name);
            let names_one = ["EN 10270-1", "Shigley", "memory"].iter().any(|source| wire.source().contains(source));
            assert!(names_one, "{}: {}", wire.name(), wire.source());
        }
    }

    #[test]
    fn every_known_wire_is_found_by_its_name() {
        let known = SpringWire::known();
        assert_eq!(known.len(), KNOWN.len());
        for wire in known {
            assert_eq!(SpringWire::named(wire.name()).unwrap().name(), wire.name());
        }
    }
}
