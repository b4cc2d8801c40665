//! The macro behind every description; [`super::table`] says how it is written.

/// Describes one table.
macro_rules! table {
    // A table that is nothing but its keys.
    (
        $doc:literal,
        $keys:ident,
        $(either $either:expr,)?
        $(defined $defined:literal,)?
        { $($name:ident: $type:ty, $text:literal;)* }
    ) => {
        $crate::keys::describe::table! {
            $doc,
            $keys for $keys,
            $(either $either,)?
            $(defined $defined,)?
            { $($name: $type = |keys| keys.$name.clone(), $text;)* }
            make |keys, _, _| Ok(keys)
        }
    };
    (
        $doc:literal,
        $keys:ident for $part:ty,
        $(flat $flat:ident: $flat_type:ty = $flat_get:expr,)?
        $(either $either:expr,)?
        $(defined $defined:literal,)?
        { $($name:ident: $type:ty = $get:expr, $(with $with:expr,)? $text:literal;)* }
        $(named $named:ident: $named_type:ty = $named_get:expr;)?
        $(kept $kept:ident: $kept_type:ty = $kept_get:expr;)?
        make $make:expr
    ) => {
        #[doc = $doc]
        #[derive(Debug, Clone, PartialEq)]
        pub(crate) struct $keys {
            $(#[doc = "The part within."] pub(super) $flat: $flat_type,)?
            $(#[doc = $text] pub(super) $name: $type,)*
            $(#[doc = "What stands under names."] pub(super) $named: Vec<(String, $named_type)>,)?
            $(#[doc = "What has no text form."] pub(super) $kept: $kept_type,)?
        }

        impl $crate::keys::table::Keys for $keys {
            fn table() -> &'static $crate::keys::shape::Table {
                #[allow(unused_imports, reason = "not every table needs all")]
                use $crate::keys::{item::{Field, Item}, shape::{Key, Table}, table::{Keys, Part}};
                #[allow(unused_mut, reason = "not every table has all")]
                const fn described() -> Table {
                    let mut table =
                        Table { doc: $doc, own: OWN, flat: None, named: None, either: &[], defined: None };
                    $(table.flat = Some(<<$flat_type as Part>::Keys as Keys>::table);)?
                    $(table.named = Some(<$named_type as Item>::SHAPE);)?
                    $(table.either = &$either;)?
                    $(table.defined = Some($defined);)?
                    table
                }
                static OWN: &[Key] = &[$(Key {
                    name: stringify!($name),
                    doc: $text,
                    shape: <$type as Field>::HOLDS,
                    required: <$type as Field>::REQUIRED,
                }),*];
                static TABLE: Table = described();
                &TABLE
            }

            fn read(at: &$crate::keys::place::Place<'_>) -> Result<Self, $crate::keys::place::Stop> {
                $(let $flat = $crate::keys::table::within::<$flat_type>(at);)?
                $(let $name = <$type as $crate::keys::item::Field>::read_in(at, stringify!($name));)*
                $(let $named = $crate::keys::table::named::<$named_type>(at, Self::table());)?
                Ok(Self { $($flat: $flat?,)? $($name: $name?,)* $($named: $named?,)? $($kept: Default::default(),)? })
            }

            #[allow(unused_variables, reason = "a table may have no keys but names")]
            fn has(&self, key: &str) -> bool {
                $(if key == stringify!($name) {
                    return $crate::keys::item::Field::is_there(&self.$name);
                })*
                false
            }

            fn put(&self, entries: &mut Vec<$crate::value::Entry>) {
                $(for (name, item) in &self.$named {
                    $crate::keys::item::Field::put(item, name, entries);
                })?
                $(entries.extend($crate::keys::table::entries(&self.$flat));)?
                $($crate::keys::item::Field::put(&self.$name, stringify!($name), entries);)*
                $($crate::keys::item::Kept::put(&self.$kept, stringify!($kept), entries);)?
                let _ = entries;
            }

            fn get(&self, key: &str, steps: &[$crate::error::Step]) -> Option<$crate::value::Value> {
                $(if key == stringify!($name) {
                    return $crate::keys::item::Field::look(&self.$name, steps);
                })*
                $(if let Some((_, item)) = self.$named.iter().find(|(name, _)| name == key) {
                    return $crate::keys::item::Item::get(item, steps);
                })?
                $(if let Some(value) =
                    $crate::keys::table::Keys::get(&$crate::keys::table::Part::keys(&self.$flat), key, steps)
                {
                    return Some(value);
                })?
                let _ = (key, steps);
                None
            }

            #[allow(unused_mut, reason = "not every table has all")]
            fn edited(
                mut self,
                sets: &[$crate::keys::item::Set<'_>],
                at: &$crate::keys::place::Place<'_>,
            ) -> Result<Self, $crate::keys::place::Stop> {
                $(self.$flat = $crate::keys::table::edited_within(self.$flat, sets, at)?;)?
                $(self.$name = $crate::keys::table::edited_field(self.$name, sets, at, stringify!($name))?;)*
                $(self.$named = $crate::keys::table::edited_named(self.$named, Self::table(), sets, at)?;)?
                let _ = (sets, at);
                Ok(self)
            }
        }

        impl $crate::keys::table::Part for $part {
            type Keys = $keys;

            fn keys(&self) -> $keys {
                $keys {
                    $($flat: {
                        let get: fn(&$part) -> $flat_type = $flat_get;
                        get(self)
                    },)?
                    $($name: {
                        let get: fn(&$part) -> $type = $get;
                        get(self)
                    },)*
                    $($named: {
                        let get: fn(&$part) -> Vec<(String, $named_type)> = $named_get;
                        get(self)
                    },)?
                    $($kept: {
                        let get: fn(&$part) -> $kept_type = $kept_get;
                        get(self)
                    },)?
                }
            }

            #[allow(unused_mut, reason = "not every table has keys that go in by a method")]
            fn make(
                mut keys: $keys,
                before: Option<&Self>,
                at: &$crate::keys::place::Place<'_>,
            ) -> Result<Self, $crate::keys::place::Stop> {
                $($(let $name = (keys.$name.take(), $with);)?)*
                type Make<Part, Keys> = fn(
                    Keys,
                    Option<&Part>,
                    &$crate::keys::place::Place<'_>,
                ) -> Result<Part, $crate::keys::place::Stop>;
                let make: Make<$part, $keys> = $make;
                let mut part = make(keys, before, at)?;
                $($(
                    let _ = stringify!($with);
                    if let (Some(value), with) = $name {
                        part = at.key(stringify!($name)).take($crate::keys::place::Outcome::<$part>::outcome(with(part, value)))?;
                    }
                )?)*
                Ok(part)
            }
        }

        impl $crate::keys::item::Item for $part {
            const SHAPE: $crate::keys::shape::Shape =
                $crate::keys::shape::Shape::Table(<$keys as $crate::keys::table::Keys>::table);

            fn read(at: &$crate::keys::place::Place<'_>) -> Result<Self, $crate::keys::place::Stop> {
                $crate::keys::table::read(at)
            }

            fn write(&self) -> $crate::value::Value {
                $crate::keys::table::write(self)
            }

            fn get(&self, steps: &[$crate::error::Step]) -> Option<$crate::value::Value> {
                $crate::keys::table::get(self, steps)
            }

            fn edited(
                &self,
                sets: &[$crate::keys::item::Set<'_>],
                at: &$crate::keys::place::Place<'_>,
            ) -> Result<Self, $crate::keys::place::Stop> {
                $crate::keys::table::edited(self, sets, at)
            }
        }
    };
}
pub(crate) use table;

/// Serde of parts through their tables, so that what is read is checked like what is built.
macro_rules! serde_by_keys {
    ($($part:ty),+ $(,)?) => {
        $(impl serde::Serialize for $part {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                $crate::keys::item::Item::write(self).serialize(serializer)
            }
        }

        impl<'de> serde::Deserialize<'de> for $part {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let node = <$crate::value::Node as serde::Deserialize>::deserialize(deserializer)?;
                $crate::keys::read_part(&node).map_err(serde::de::Error::custom)
            }
        })+
    };
}
pub(crate) use serde_by_keys;
