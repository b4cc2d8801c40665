//! Serde through text with a unit, for uom quantities: `#[serde(with = "wheelrate::units::text_serde")]`.
//! A number without a unit is refused.

use core::fmt;
use core::marker::PhantomData;

use serde::de::{Deserializer, Error, Visitor};
use serde::ser::Serializer;

use super::{Quantity, parse, to_text};
use crate::error::UnitError;

/// Writes the quantity as text that reads back to the same bits.
///
/// # Errors
/// A value that is not finite is refused.
pub fn serialize<Q: Quantity, S: Serializer>(quantity: &Q, serializer: S) -> Result<S::Ok, S::Error> {
    if quantity.si().is_finite() {
        serializer.serialize_str(&to_text(*quantity))
    } else {
        Err(serde::ser::Error::custom(UnitError::NotFinite { kind: Q::KIND.name, found: quantity.si().to_string() }))
    }
}

/// Reads the quantity from text with a unit.
///
/// # Errors
/// As [`parse`]; a bare number is refused with the units that would do.
pub fn deserialize<'de, Q: Quantity, D: Deserializer<'de>>(deserializer: D) -> Result<Q, D::Error> {
    deserializer.deserialize_any(TextVisitor(PhantomData))
}

struct TextVisitor<Q>(PhantomData<Q>);

impl<Q: Quantity> TextVisitor<Q> {
    fn bare<E: Error>(number: impl fmt::Display) -> E {
        // A bare number gets the same message from a file as from text.
        match parse::<Q>(&number.to_string()) {
            Err(error) => E::custom(error),
            Ok(_) => E::custom("a number without a unit"),
        }
    }
}

impl<Q: Quantity> Visitor<'_> for TextVisitor<Q> {
    type Value = Q;

    fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{} as text with a unit ({})", crate::error::a(Q::KIND.name), Q::KIND.unit_list())
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Q, E> {
        parse(text).map_err(E::custom)
    }

    fn visit_f64<E: Error>(self, number: f64) -> Result<Q, E> {
        Err(Self::bare(number))
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<Q, E> {
        Err(Self::bare(number))
    }

    fn visit_u64<E: Error>(self, number: u64) -> Result<Q, E> {
        Err(Self::bare(number))
    }
}

/// Writes two quantities as a list of texts.
///
/// # Errors
/// As [`serialize`].
pub fn pair<Q: Quantity, S: Serializer>(pair: &(Q, Q), serializer: S) -> Result<S::Ok, S::Error> {
    struct Text<'a, Q>(&'a Q);
    impl<Q: Quantity> serde::Serialize for Text<'_, Q> {
        fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
            serialize(self.0, serializer)
        }
    }
    serde::Serialize::serialize(&(Text(&pair.0), Text(&pair.1)), serializer)
}

/// As the parent module, for optional quantities: `#[serde(default, with = "…::text_serde::option")]`.
pub mod option {
    use super::{Deserializer, Quantity, Serializer};
    use serde::Deserialize;

    /// Writes the quantity as text, or nothing.
    ///
    /// # Errors
    /// As [`super::serialize`].
    pub fn serialize<Q: Quantity, S: Serializer>(quantity: &Option<Q>, serializer: S) -> Result<S::Ok, S::Error> {
        match quantity {
            Some(quantity) => super::serialize(quantity, serializer),
            None => serializer.serialize_none(),
        }
    }

    /// Reads the quantity from text, or nothing.
    ///
    /// # Errors
    /// As [`super::deserialize`].
    pub fn deserialize<'de, Q: Quantity, D: Deserializer<'de>>(deserializer: D) -> Result<Option<Q>, D::Error> {
        struct Text<Q>(Q);
        impl<'de, Q: Quantity> Deserialize<'de> for Text<Q> {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                super::deserialize(deserializer).map(Text)
            }
        }
        Option::<Text<Q>>::deserialize(deserializer).map(|text| text.map(|Text(quantity)| quantity))
    }
}
