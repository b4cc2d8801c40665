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

/// As the parent module, for a difference of quantities: its sign is free, whatever that of the quantity may be.
pub mod difference {
    use super::{Deserializer, Quantity};
    use crate::units::parse_si;
    use serde::Deserialize;

    pub use super::serialize;

    /// Reads the difference from text with a unit.
    ///
    /// # Errors
    /// As [`parse_si`].
    pub fn deserialize<'de, Q: Quantity, D: Deserializer<'de>>(deserializer: D) -> Result<Q, D::Error> {
        let text = String::deserialize(deserializer)?;
        parse_si(Q::KIND, &text).map(Q::from_si).map_err(serde::de::Error::custom)
    }
}

/// As the parent module, for two quantities of one kind.
pub mod pair {
    use super::{Deserializer, Quantity, Serializer};
    use serde::{Deserialize, Serialize};

    struct Text<Q>(Q);

    impl<Q: Quantity> Serialize for Text<Q> {
        fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
            super::serialize(&self.0, serializer)
        }
    }

    impl<'de, Q: Quantity> Deserialize<'de> for Text<Q> {
        fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
            super::deserialize(deserializer).map(Self)
        }
    }

    /// Writes two quantities as a list of texts.
    ///
    /// # Errors
    /// As [`super::serialize`].
    pub fn serialize<Q: Quantity, S: Serializer>(pair: &(Q, Q), serializer: S) -> Result<S::Ok, S::Error> {
        (Text(pair.0), Text(pair.1)).serialize(serializer)
    }

    /// Reads two quantities from a list of texts.
    ///
    /// # Errors
    /// As [`super::deserialize`].
    pub fn deserialize<'de, Q: Quantity, D: Deserializer<'de>>(deserializer: D) -> Result<(Q, Q), D::Error> {
        <(Text<Q>, Text<Q>)>::deserialize(deserializer).map(|(one, other)| (one.0, other.0))
    }
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

/// As the parent module, for what holds quantities: options, lists, pairs and ends of them, beside words and numbers.
/// `#[serde(with = "…::text_serde::nested")]`.
pub mod nested {
    use super::{Deserializer, Serializer};
    use crate::units::{
        Acceleration, Angle, Area, Energy, Force, Frequency, Length, Mass, MassDensity, MomentOfInertia, MotionRatio,
        MotionRatioSlope, Share, SpringRate, Temperature, Time, Velocity, Volume, WheelRate,
    };
    use serde::{Deserialize, Serialize};

    /// What this module writes and reads.
    pub trait HoldsText: Sized {
        /// Writes quantities as text with units.
        ///
        /// # Errors
        /// As [`text_serde::serialize`](super::serialize).
        fn write<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error>;

        /// Reads quantities from text with units.
        ///
        /// # Errors
        /// As [`text_serde::deserialize`](super::deserialize).
        fn read<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error>;
    }

    /// Writes what holds quantities.
    ///
    /// # Errors
    /// As [`HoldsText::write`].
    pub fn serialize<T: HoldsText, S: Serializer>(nested: &T, serializer: S) -> Result<S::Ok, S::Error> {
        nested.write(serializer)
    }

    /// Reads what holds quantities.
    ///
    /// # Errors
    /// As [`HoldsText::read`].
    pub fn deserialize<'de, T: HoldsText, D: Deserializer<'de>>(deserializer: D) -> Result<T, D::Error> {
        T::read(deserializer)
    }

    pub(crate) struct Out<'a, T>(pub(crate) &'a T);

    impl<T: HoldsText> Serialize for Out<'_, T> {
        fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
            self.0.write(serializer)
        }
    }

    pub(crate) struct In<T>(pub(crate) T);

    impl<'de, T: HoldsText> Deserialize<'de> for In<T> {
        fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
            T::read(deserializer).map(Self)
        }
    }

    impl<T: HoldsText> HoldsText for Option<T> {
        fn write<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
            self.as_ref().map(Out).serialize(serializer)
        }
        fn read<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
            Ok(Option::<In<T>>::deserialize(deserializer)?.map(|read| read.0))
        }
    }

    impl<T: HoldsText> HoldsText for Vec<T> {
        fn write<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
            serializer.collect_seq(self.iter().map(Out))
        }
        fn read<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
            Ok(Vec::<In<T>>::deserialize(deserializer)?.into_iter().map(|read| read.0).collect())
        }
    }

    impl<T: HoldsText, const N: usize> HoldsText for [T; N] {
        fn write<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
            serializer.collect_seq(self.iter().map(Out))
        }
        fn read<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
            let read = Vec::<T>::read(deserializer)?;
            let found = read.len();
            let wrong = |_| serde::de::Error::custom(format!("found {found} entries, wanted {N}"));
            read.try_into().map_err(wrong)
        }
    }

    impl<A: HoldsText, B: HoldsText> HoldsText for (A, B) {
        fn write<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
            (Out(&self.0), Out(&self.1)).serialize(serializer)
        }
        fn read<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
            <(In<A>, In<B>)>::deserialize(deserializer).map(|(a, b)| (a.0, b.0))
        }
    }

    macro_rules! leaf {
        ($($name:ident)+, $write:expr, $read:expr) => {
            $(impl HoldsText for $name {
                fn write<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                    $write(self, serializer)
                }
                fn read<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                    $read(deserializer)
                }
            })+
        };
    }

    leaf!(
        Acceleration Angle Area Energy Force Frequency Length Mass MassDensity MomentOfInertia Temperature Time Velocity
        Volume,
        super::serialize, super::deserialize
    );
    leaf!(SpringRate WheelRate MotionRatio MotionRatioSlope Share String usize f64, Serialize::serialize, Deserialize::deserialize);
}

#[cfg(test)]
mod tests {
    use crate::units::{Force, Length, Quantity, SpringRate};

    /// All that may hold quantities.
    #[derive(Debug, PartialEq, serde::Serialize, serde::Deserialize)]
    struct Holds {
        #[serde(with = "super::nested")]
        some: Option<Length>,
        #[serde(with = "super::nested")]
        none: Option<Length>,
        #[serde(with = "super::nested")]
        row: Vec<Force>,
        #[serde(with = "super::nested")]
        pair: [SpringRate; 2],
        #[serde(with = "super::nested")]
        table: Vec<(Length, Option<Force>)>,
    }

    const TEXT: &str = r#"{"some":"102 mm","none":null,"row":["1 N","2 N"],"pair":["50 N/mm","52 N/mm"],"table":[["1 mm","5 N"],["2 mm",null]]}"#;

    #[test]
    fn what_holds_quantities_is_written_as_texts_and_read_back() {
        let (length, force) = (Length::from_si, Force::from_si);
        let holds = Holds {
            some: Some(length(0.102)),
            none: None,
            row: vec![force(1.0), force(2.0)],
            pair: [5e4, 5.2e4].map(SpringRate::from_si),
            table: vec![(length(1e-3), Some(force(5.0))), (length(2e-3), None)],
        };
        assert_eq!(serde_json::to_string(&holds).unwrap(), TEXT);
        assert_eq!(serde_json::from_str::<Holds>(TEXT).unwrap(), holds);
    }

    #[test]
    fn what_holds_no_quantities_is_refused() {
        for (good, bad, said) in [
            ("\"102 mm\"", "102", "102"),
            ("\"102 mm\"", "\"102 N\"", "102 N"),
            ("\"1 N\"", "1", "1"),
            ("[\"50 N/mm\",", "[", "found 1 entries, wanted 2"),
            ("\"2 mm\",null", "\"2 mm\"", "length 1"),
        ] {
            let message = serde_json::from_str::<Holds>(&TEXT.replacen(good, bad, 1)).unwrap_err().to_string();
            assert!(message.contains(said), "{bad}: {message}");
        }
    }

    #[test]
    fn a_bare_number_is_refused_in_the_words_of_a_text_without_unit() {
        for number in ["102", "-102", "10.5"] {
            let mut json = serde_json::Deserializer::from_str(number);
            let refused = super::deserialize::<Length, _>(&mut json).unwrap_err().to_string();
            let of_text = crate::units::parse::<Length>(number).unwrap_err().to_string();
            assert!(refused.starts_with(&of_text), "{refused} | {of_text}");
        }
    }

    #[test]
    fn a_quantity_that_is_no_number_is_not_written() {
        for (si, word) in [(f64::NAN, "NaN"), (f64::INFINITY, "inf")] {
            let refused =
                super::serialize(&Length::from_si(si), serde_json::value::Serializer).unwrap_err().to_string();
            assert_eq!(refused, format!("`{word}` is not a finite length"));
        }
    }
}
