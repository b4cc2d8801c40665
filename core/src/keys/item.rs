//! What can stand under a key: how it is read, written, asked and changed.

use super::place::{Place, Stop};
use super::shape::Shape;
use crate::axial::OwnElement;
use crate::error::{Step, nearest};
use crate::record::{End, Load, SagKind, Settled};
use crate::spring::OwnSpring;
use crate::value::{Entry, Node, Value};

/// A value to be set, or a removal, at some steps from where it is looked at.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Set<'a> {
    pub(crate) steps: &'a [Step],
    pub(crate) value: Option<&'a Node>,
}

/// Something that a value of the file is, or a part that a table describes.
pub(crate) trait Item: Sized {
    /// What the value must be.
    const SHAPE: Shape;

    /// Reads what stands at a place; what is wrong with it is noted there.
    fn read(at: &Place<'_>) -> Result<Self, Stop>;

    /// The value that reads back equal, to the bit.
    fn write(&self) -> Value;

    /// The value at some steps from here.
    fn get(&self, steps: &[Step]) -> Option<Value> {
        steps.is_empty().then(|| self.write())
    }

    /// The item with something in it changed: no set is of the item itself. What is wrong is noted from the place of the item.
    fn edited(&self, sets: &[Set<'_>], at: &Place<'_>) -> Result<Self, Stop> {
        Err(at.nowhere(sets.first().map_or(&[], |set| set.steps)))
    }
}

/// What a key of a table holds: an item that must be there, or one that may be left out.
pub(crate) trait Field: Sized {
    const HOLDS: Shape;
    const REQUIRED: bool;
    /// Reads what stands under a key of the table at a place.
    fn read_in(at: &Place<'_>, key: &str) -> Result<Self, Stop>;
    fn is_there(&self) -> bool;
    fn put(&self, key: &str, entries: &mut Vec<Entry>);
    fn look(&self, steps: &[Step]) -> Option<Value>;
    /// With something set in it, or itself; the place is that of the key.
    fn set(self, sets: &[Set<'_>], table: &Place<'_>, key: &str) -> Result<Self, Stop>;
}

impl<T: Item> Field for T {
    const HOLDS: Shape = T::SHAPE;
    const REQUIRED: bool = true;

    fn read_in(at: &Place<'_>, key: &str) -> Result<Self, Stop> {
        let inner = at.look(key);
        match inner.node() {
            Some(_) => T::read(&inner),
            // The key may be in the part that could not be read.
            None if !at.is_readable() => Err(Stop),
            None => Err(at.missing(key, T::SHAPE.wanted())),
        }
    }

    fn is_there(&self) -> bool {
        true
    }

    fn put(&self, key: &str, entries: &mut Vec<Entry>) {
        entries.push(Entry::new(key, self.write()));
    }

    fn look(&self, steps: &[Step]) -> Option<Value> {
        Item::get(self, steps)
    }

    fn set(self, sets: &[Set<'_>], table: &Place<'_>, key: &str) -> Result<Self, Stop> {
        apply(Some(self), sets, &table.key(key))?.ok_or_else(|| table.missing(key, T::SHAPE.wanted()))
    }
}

impl<T: Item> Field for Option<T> {
    const HOLDS: Shape = T::SHAPE;
    const REQUIRED: bool = false;

    fn read_in(at: &Place<'_>, key: &str) -> Result<Self, Stop> {
        let inner = at.look(key);
        inner.node().map(|_| T::read(&inner)).transpose()
    }

    fn is_there(&self) -> bool {
        self.is_some()
    }

    fn put(&self, key: &str, entries: &mut Vec<Entry>) {
        if let Some(item) = self {
            item.put(key, entries);
        }
    }

    fn look(&self, steps: &[Step]) -> Option<Value> {
        self.as_ref().and_then(|item| Item::get(item, steps))
    }

    fn set(self, sets: &[Set<'_>], table: &Place<'_>, key: &str) -> Result<Self, Stop> {
        apply(self, sets, &table.key(key))
    }
}

/// Something in a part that no key says, because it has no text form: an edit keeps it, and a file says that it is there.
pub(crate) trait Kept: Default {
    fn put(&self, name: &str, entries: &mut Vec<Entry>);
}

impl Kept for Vec<OwnElement> {
    fn put(&self, name: &str, entries: &mut Vec<Entry>) {
        if let Some(first) = self.first() {
            entries.push(Entry::new(name, Value::NoText(first.element().describe())));
        }
    }
}

impl Kept for Option<OwnSpring> {
    fn put(&self, name: &str, entries: &mut Vec<Entry>) {
        if let Some(own) = self {
            entries.push(Entry::new(name, Value::NoText(own.law().describe())));
        }
    }
}

/// An item with everything set that is set of it or in it; the last word on the whole of it counts, and what is said after.
pub(super) fn apply<T: Item>(old: Option<T>, sets: &[Set<'_>], at: &Place<'_>) -> Result<Option<T>, Stop> {
    let whole = sets.iter().rposition(|set| set.steps.is_empty());
    let now = match whole.and_then(|last| sets.get(last)) {
        None => old,
        Some(Set { value: None, .. }) if old.is_none() => return Err(at.nowhere(&[])),
        Some(Set { value, .. }) => value.map(|node| T::read(&at.with(node))).transpose()?,
    };
    let inner = sets.get(whole.map_or(0, |last| last + 1)..).unwrap_or_default();
    match now {
        now if inner.is_empty() => Ok(now),
        Some(item) => item.edited(inner, at).map(Some),
        None => {
            let mut tree = Node::from(Value::Table(Vec::new()));
            for set in inner {
                let Some(value) = set.value else { return Err(at.nowhere(set.steps)) };
                tree.put_at(set.steps, value.clone()).map_err(|_| at.nowhere(set.steps))?;
            }
            T::read(&at.with(&tree)).map(Some)
        }
    }
}

/// One of a few words.
pub(crate) fn word<T: Copy>(words: &[(&str, T)], wanted: &Shape, at: &Place<'_>) -> Result<T, Stop> {
    let Some(Value::Text(text)) = at.node().map(|node| &node.value) else { return Err(at.wrong(wanted.wanted())) };
    match words.iter().find(|(word, _)| word == text) {
        Some((_, meaning)) => Ok(*meaning),
        None => {
            let suggestion = nearest::nearest(text, words.iter().map(|(word, _)| *word)).map(str::to_owned);
            let (found, wanted) = (crate::error::shortened(text), wanted.wanted());
            let hint = nearest::did_you_mean(suggestion.as_deref());
            let message = format!("found `{found}`, wanted {wanted}{hint}");
            Err(at.note(found, wanted, suggestion, message))
        }
    }
}

/// Types whose values are words.
macro_rules! words {
    ($($type:ty { $($word:literal => $meaning:expr),+ $(,)? })+) => {
        $(impl $crate::keys::item::Item for $type {
            const SHAPE: $crate::keys::shape::Shape = $crate::keys::shape::Shape::Choice(&[$($word),+]);

            fn read(at: &$crate::keys::place::Place<'_>) -> Result<Self, $crate::keys::place::Stop> {
                $crate::keys::item::word(&[$(($word, $meaning)),+], &Self::SHAPE, at)
            }

            fn write(&self) -> $crate::value::Value {
                let words = [$(($word, $meaning)),+];
                let word = words.into_iter().find(|(_, meaning)| meaning == self).map_or("", |(word, _)| word);
                $crate::value::Value::from(word)
            }
        })+
    };
}
pub(crate) use words;

words! {
    End { "front" => End::Front, "rear" => End::Rear }
    SagKind { "rider" => SagKind::Rider, "free" => SagKind::Free }
    Settled { "low" => Settled::Low, "high" => Settled::High, "middle" => Settled::Middle }
}

/// Types that are another item with a check of their own.
macro_rules! through {
    ($($type:ty, $item:ty, $make:expr, $show:expr);+ $(;)?) => {
        $(impl $crate::keys::item::Item for $type {
            const SHAPE: $crate::keys::shape::Shape = <$item as $crate::keys::item::Item>::SHAPE;

            fn read(at: &$crate::keys::place::Place<'_>) -> Result<Self, $crate::keys::place::Stop> {
                let item = <$item as $crate::keys::item::Item>::read(at)?;
                let make = $make;
                at.take($crate::keys::place::Outcome::<$type>::outcome(make(item)))
            }

            fn write(&self) -> $crate::value::Value {
                let show: fn(&$type) -> $item = $show;
                $crate::keys::item::Item::write(&show(self))
            }
        })+
    };
}
pub(crate) use through;

through! {
    Load, String, |text: String| Self::parse(&text), |load| load.to_string();
}

/// An item that may be given in one of several forms, each another kind of value: `forms! { Coordinate: Bare(f64), Given(Length) }`.
macro_rules! forms {
    ($(#[$doc:meta])* $name:ident: $($form:ident($item:ty)),+ $(,)?) => {
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq)]
        pub(crate) enum $name {
            $($form($item)),+
        }

        impl $crate::keys::item::Item for $name {
            const SHAPE: $crate::keys::shape::Shape =
                $crate::keys::shape::Shape::OneOf(&[$(<$item as $crate::keys::item::Item>::SHAPE),+]);

            fn read(at: &$crate::keys::place::Place<'_>) -> Result<Self, $crate::keys::place::Stop> {
                use $crate::keys::item::Item;
                $(if at.holds(&<$item as Item>::SHAPE) {
                    return <$item as Item>::read(at).map(Self::$form);
                })+
                Err(at.wrong(Self::SHAPE.wanted()))
            }

            fn write(&self) -> $crate::value::Value {
                match self {
                    $(Self::$form(item) => $crate::keys::item::Item::write(item)),+
                }
            }

            fn get(&self, steps: &[$crate::error::Step]) -> Option<$crate::value::Value> {
                match self {
                    $(Self::$form(item) => $crate::keys::item::Item::get(item, steps)),+
                }
            }

            fn edited(
                &self,
                sets: &[$crate::keys::item::Set<'_>],
                at: &$crate::keys::place::Place<'_>,
            ) -> Result<Self, $crate::keys::place::Stop> {
                match self {
                    $(Self::$form(item) => $crate::keys::item::Item::edited(item, sets, at).map(Self::$form)),+
                }
            }
        }
    };
}
pub(crate) use forms;
