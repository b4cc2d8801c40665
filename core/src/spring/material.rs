//! Spring materials: elastic and shear modulus, density.
//!
//! Values at 20 °C for the calculation of springs. A batch of wire differs from them by about 2 % in the shear modulus, and
//! textbooks differ among themselves by more: spring steels from 77.2 GPa to 82.7 GPa (Shigley, table 10-5, by grade and
//! diameter; the standards' 78.5 GPa to 81.5 GPa lie between).

use crate::error::{Result, SpringError};
use crate::units::{MassDensity, Quantity, Stress, check};

/// Name, elastic modulus in GPa, shear modulus in GPa, density in kg/dm³, source.
type Row = (&'static str, f64, f64, f64, &'static str);

const EN_13906: &str = "EN 13906-1:2013, table of materials, from memory";

/// The materials known by name.
const KNOWN: [Row; 7] = [
    ("EN 10270-1", 206.0, 81.5, 7.85, "DIN handbook extract, part 38: patented drawn unalloyed steel wire"),
    ("EN 10270-2", 206.0, 79.5, 7.85, EN_13906),
    ("EN 10089", 206.0, 78.5, 7.85, EN_13906),
    ("1.4310", 180.0, 70.0, 7.9, "EN 13906-1:2013, from memory; EN 10270-3 gives 71 GPa to 73 GPa as a guide"),
    ("1.4401", 175.0, 68.0, 7.95, EN_13906),
    ("1.4568", 190.0, 73.0, 7.8, EN_13906),
    ("Ti-3Al-8V-6Cr-4Mo-4Zr", 105.0, 41.0, 4.82, "aged beta titanium, from memory; moduli vary by 3 % with ageing"),
];

/// What a material is and where its values come from.
#[derive(Debug, Clone, PartialEq)]
pub struct MaterialParts {
    /// What it is called.
    pub name: String,
    /// Elastic modulus `E`.
    pub elastic_modulus: Stress,
    /// Shear modulus `G`.
    pub shear_modulus: Stress,
    /// Density.
    pub density: MassDensity,
    /// Where the values come from.
    pub source: String,
}

/// A spring material.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(try_from = "MaterialText", into = "MaterialText"))]
pub struct Material(MaterialParts);

impl Material {
    /// A material of one's own.
    ///
    /// # Errors
    /// When a modulus is not from 1 GPa to 1000 GPa, the density not from 0.5 kg/dm³ to 25 kg/dm³, or the shear modulus
    /// not from a third to a half of the elastic one (Poisson's ratio from 0 to 0.5).
    pub fn new(parts: MaterialParts) -> Result<Self> {
        let MaterialParts { elastic_modulus, shear_modulus, density, .. } = parts;
        let (low, high) = (Stress::from_si(1e9), Stress::from_si(1e12));
        check::plausible("elastic_modulus", elastic_modulus, low, high)?;
        check::plausible("shear_modulus", shear_modulus, low, high)?;
        check::plausible("density", density, MassDensity::from_si(500.0), MassDensity::from_si(25e3))?;
        check::number_within("shear_modulus / elastic_modulus", shear_modulus / elastic_modulus, 1.0 / 3.0, 0.5)?;
        Ok(Self(parts))
    }

    /// The material of this name.
    ///
    /// # Errors
    /// [`SpringError::Description`] with the names that are known.
    pub fn named(name: &str) -> Result<Self> {
        KNOWN.iter().find(|row| row.0 == name).map(Self::from_row).ok_or_else(|| {
            let names: Vec<&str> = KNOWN.iter().map(|row| row.0).collect();
            SpringError::Description {
                part: "material".to_owned(),
                found: format!("`{name}`"),
                wanted: format!("one of {}, or the moduli and density of your own", names.join(", ")),
            }
            .into()
        })
    }

    /// Every material known by name.
    #[must_use]
    pub fn known() -> Vec<Self> {
        KNOWN.iter().map(Self::from_row).collect()
    }

    fn from_row(&(name, elastic, shear, density, source): &Row) -> Self {
        Self(MaterialParts {
            name: name.to_owned(),
            elastic_modulus: Stress::from_si(elastic * 1e9),
            shear_modulus: Stress::from_si(shear * 1e9),
            density: MassDensity::from_si(density * 1e3),
            source: source.to_owned(),
        })
    }

    /// Its name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.0.name
    }

    /// Elastic modulus `E`.
    #[must_use]
    pub fn elastic_modulus(&self) -> Stress {
        self.0.elastic_modulus
    }

    /// Shear modulus `G`.
    #[must_use]
    pub fn shear_modulus(&self) -> Stress {
        self.0.shear_modulus
    }

    /// Density.
    #[must_use]
    pub fn density(&self) -> MassDensity {
        self.0.density
    }

    /// Where the values come from.
    #[must_use]
    pub fn source(&self) -> &str {
        &self.0.source
    }
}

/// The text form: a known name alone, or name and values.
#[cfg(feature = "serde")]
#[derive(serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct MaterialText {
    name: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    elastic_modulus: Option<Stress>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    shear_modulus: Option<Stress>,
    #[serde(default, skip_serializing_if = "Option::is_none", with = "crate::units::text_serde::option")]
    density: Option<MassDensity>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    source: String,
}

#[cfg(feature = "serde")]
impl TryFrom<MaterialText> for Material {
    type Error = crate::Error;
    fn try_from(text: MaterialText) -> Result<Self> {
        match (text.elastic_modulus, text.shear_modulus, text.density) {
            (None, None, None) => Self::named(&text.name),
            (Some(elastic_modulus), Some(shear_modulus), Some(density)) => {
                let (name, source) = (text.name, text.source);
                Self::new(MaterialParts { name, elastic_modulus, shear_modulus, density, source })
            }
            _ => Err(SpringError::Description {
                part: format!("material `{}`", text.name),
                found: "only some of its values".to_owned(),
                wanted: "`elastic_modulus`, `shear_modulus` and `density`, or a known name alone".to_owned(),
            }
            .into()),
        }
    }
}

#[cfg(feature = "serde")]
impl From<Material> for MaterialText {
    fn from(material: Material) -> Self {
        let known = Material::named(material.name()).is_ok_and(|known| known == material);
        let Material(MaterialParts { name, elastic_modulus, shear_modulus, density, source }) = material;
        if known {
            return Self { name, elastic_modulus: None, shear_modulus: None, density: None, source: String::new() };
        }
        Self {
            name,
            elastic_modulus: Some(elastic_modulus),
            shear_modulus: Some(shear_modulus),
            density: Some(density),
            source,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_known_material_is_found_by_its_name() {
        let known = Material::known();
        assert_eq!(known.len(), KNOWN.len());
        for material in known {
            assert_eq!(Material::named(material.name()).unwrap(), material);
        }
    }
}
