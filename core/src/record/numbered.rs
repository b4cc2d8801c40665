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
