//! Serde of a reading's place: rows count from 1 in every text, `reading 2.sag` and "Reading 2", so JSON counts them so too.

use serde::de::{Deserialize, Deserializer, Error};
use serde::ser::Serializer;

pub(crate) fn serialize<S: Serializer>(place: &usize, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_u64(*place as u64 + 1)
}

pub(crate) fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<usize, D::Error> {
    let number = usize::deserialize(deserializer)?;
    number.checked_sub(1).ok_or_else(|| D::Error::custom("found reading 0, wanted a number from 1"))
}

/// Of a place that there may not be.
pub(crate) mod option {
    use serde::de::{Deserialize, Deserializer, Error};
    use serde::ser::{Serialize, Serializer};

    pub(crate) fn serialize<S: Serializer>(place: &Option<usize>, serializer: S) -> Result<S::Ok, S::Error> {
        place.map(|place| place as u64 + 1).serialize(serializer)
    }

    pub(crate) fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<usize>, D::Error> {
        let number = Option::<usize>::deserialize(deserializer)?;
        let place = |number: usize| {
            number.checked_sub(1).ok_or_else(|| D::Error::custom("found reading 0, wanted a number from 1"))
        };
        number.map(place).transpose()
    }
}

#[cfg(test)]
mod tests {
    #[derive(Debug, PartialEq, serde::Serialize, serde::Deserialize)]
    struct Blamed {
        #[serde(with = "super")]
        reading: usize,
        #[serde(with = "super::option")]
        beside: Option<usize>,
    }

    #[test]
    fn readings_are_counted_from_one_in_text_and_from_zero_in_code() {
        for (blamed, text) in [
            (Blamed { reading: 0, beside: Some(1) }, r#"{"reading":1,"beside":2}"#),
            (Blamed { reading: 6, beside: None }, r#"{"reading":7,"beside":null}"#),
        ] {
            assert_eq!(serde_json::to_string(&blamed).unwrap(), text);
            assert_eq!(serde_json::from_str::<Blamed>(text).unwrap(), blamed);
        }
    }

    #[test]
    fn there_is_no_reading_zero() {
        for text in [r#"{"reading":0,"beside":null}"#, r#"{"reading":1,"beside":0}"#] {
            let error = serde_json::from_str::<Blamed>(text).unwrap_err().to_string();
            assert!(error.starts_with("found reading 0, wanted a number from 1"), "{error}");
        }
    }
}
