//! A mechanism as text: `{ "points": { name: ["x mm", "z mm"] }, "bodies": { name: [points] } }`, in the order given.

use core::fmt;
use core::marker::PhantomData;

use serde::de::{Deserialize, Deserializer, MapAccess, Visitor};
use serde::ser::{Serialize, Serializer};

use super::Mechanism;
use crate::error::LinkageError;
use crate::units::{Length, text_serde};

#[derive(serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct MechanismText {
    points: Ordered<[LengthText; 2]>,
    bodies: Ordered<Vec<String>>,
}

#[derive(serde::Serialize, serde::Deserialize)]
#[serde(transparent)]
struct LengthText(#[serde(with = "text_serde")] Length);

/// A map that keeps its order, and its repeated keys, for [`Mechanism::new`] to find.
struct Ordered<V>(Vec<(String, V)>);

impl<V: Serialize> Serialize for Ordered<V> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(self.0.iter().map(|(key, value)| (key, value)))
    }
}

impl<'de, V: Deserialize<'de>> Deserialize<'de> for Ordered<V> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Entries<V>(PhantomData<V>);
        impl<'de, V: Deserialize<'de>> Visitor<'de> for Entries<V> {
            type Value = Ordered<V>;
            fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
                formatter.write_str("a map from names")
            }
            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Ordered<V>, A::Error> {
                let mut entries = Vec::new();
                while let Some(entry) = map.next_entry()? {
                    entries.push(entry);
                }
                Ok(Ordered(entries))
            }
        }
        deserializer.deserialize_map(Entries(PhantomData))
    }
}

impl TryFrom<MechanismText> for Mechanism {
    type Error = LinkageError;
    fn try_from(text: MechanismText) -> Result<Self, LinkageError> {
        Self::new(text.points.0.into_iter().map(|(name, [x, z])| (name, [x.0, z.0])), text.bodies.0)
    }
}

impl From<Mechanism> for MechanismText {
    fn from(mechanism: Mechanism) -> Self {
        let points = mechanism.points().map(|(name, [x, z])| (name.to_owned(), [LengthText(x), LengthText(z)]));
        let bodies =
            mechanism.bodies().map(|(name, on)| (name.to_owned(), on.into_iter().map(str::to_owned).collect()));
        Self { points: Ordered(points.collect()), bodies: Ordered(bodies.collect()) }
    }
}
