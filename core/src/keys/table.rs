//! One description of each table: [`table!`]. From it come the reader, the writer, an edit in place, serde, the JSON Schema and
//! the page of keys.
//!
//! ```text
//! table! {
//!     "A wheel on the ground.",
//!     WheelKeys for WheelAndTyre,
//!     {
//!         radius: Length = |wheel| wheel.radius, "Axle over the ground.";
//!         tyre: Option<WheelRate> = |wheel| wheel.tyre, "Vertical rate of the tyre; rigid unless given.";
//!     }
//!     make |keys, _, at| at.take(WheelAndTyre::new(keys.radius, keys.tyre))
//! }
//! ```
//!
//! A line is a key: its name, what it holds (an `Option` may be left out), how it is read off a built part, and what it means.
//! `make` builds the part from its keys, given the part that was there before an edit, where there was one, so that what is
//! dear and did not change can be kept. A key that goes into a built part by a method of its own says so (`with …,` before its
//! meaning), and needs nothing in `make`; what such a method refuses is reported at the key.
//!
//! `flat name: Part = …,` puts the keys of another part among these. `either […],` lists sets of keys of which exactly one must
//! be there. `named name: Item = …;` takes keys of the user's own choice. `kept name: Type = …;` is what has no text form: an edit
//! keeps it.

use super::item::{Field, Item, Set, apply};
use super::place::{MOST_ROWS, Place, Stop};
use super::shape::Table;
use crate::error::{Step, nearest};
use crate::value::{Entry, Value};

/// The keys of one table, as values.
pub(crate) trait Keys: Sized {
    fn table() -> &'static Table;
    /// Reads every key of the table at a place; each has been tried before the first fault stops.
    fn read(at: &Place<'_>) -> Result<Self, Stop>;
    fn has(&self, key: &str) -> bool;
    fn put(&self, entries: &mut Vec<Entry>);
    fn get(&self, key: &str, steps: &[Step]) -> Option<Value>;
    fn edited(self, sets: &[Set<'_>], at: &Place<'_>) -> Result<Self, Stop>;
}

/// A part that a table describes.
pub(crate) trait Part: Sized {
    type Keys: Keys;
    /// The keys that make an equal part.
    fn keys(&self) -> Self::Keys;
    /// Builds the part; what is wrong is noted from its place. `before` is the part that was there before an edit.
    fn make(keys: Self::Keys, before: Option<&Self>, at: &Place<'_>) -> Result<Self, Stop>;
}

/// Reads the part at a place.
pub(crate) fn read<P: Part>(at: &Place<'_>) -> Result<P, Stop> {
    let table = P::Keys::table();
    let opened = open(table, at)?;
    let part = within::<P>(at);
    opened.and(part)
}

/// Reads a part whose keys stand in the table at a place, perhaps among others.
pub(crate) fn within<P: Part>(at: &Place<'_>) -> Result<P, Stop> {
    let keys = P::Keys::read(at);
    if !at.is_readable() {
        return Err(Stop);
    }
    one_set(P::Keys::table(), &|key| at.key(key).node().is_some(), at)?;
    P::make(keys?, None, at)
}

/// Notes keys that the table does not have, and those that stand twice; `Err` inside where there are any.
fn open(table: &'static Table, at: &Place<'_>) -> Result<Result<(), Stop>, Stop> {
    /// Up to so many entries repeats are looked for one by one.
    const FEW: usize = 16;
    let Some(Value::Table(entries)) = at.node().map(|node| &node.value) else {
        return Err(at.wrong(table.wanted()));
    };
    if entries.len() > MOST_ROWS {
        return Err(at.too_many(entries.len(), "keys"));
    }
    let mut sound = Ok(());
    let mut seen = std::collections::HashSet::new();
    for (place, entry) in entries.iter().enumerate() {
        let repeated = match entries.len() {
            ..=FEW => entries.iter().take(place).any(|before| before.key == entry.key),
            _ => !seen.insert(entry.key.as_str()),
        };
        if repeated {
            sound = Err(at.twice(&entry.key, &entry.key_span));
        }
        if !table.knows(&entry.key) && !may_be_named(table, &entry.key, &entry.node.value) {
            sound = Err(at.unknown(&entry.key, &entry.key_span, table));
        }
    }
    Ok(sound)
}

/// Is it a name of the user's own, and no slip of a key: near one, and no such value?
fn may_be_named(table: &Table, key: &str, value: &Value) -> bool {
    let near = || nearest::nearest(key, table.key_names()).is_some();
    // A text may stand under a key as well as under a name: near a key, it is a slip.
    table.named.is_some_and(|named| named.fits(value) && !matches!(value, Value::Text(_)) || !near())
}

/// Exactly one set of keys, whole.
fn one_set(table: &'static Table, has: &dyn Fn(&str) -> bool, at: &Place<'_>) -> Result<(), Stop> {
    match table.misfit(has) {
        // The set may be whole but for the slip.
        Some(_) if at.has_misspelt() => Err(Stop),
        Some((found, wanted)) => Err(at.say(found, wanted)),
        None => Ok(()),
    }
}

/// Reads what stands under the keys of the user's own choice, in order.
pub(crate) fn named<T: Item>(at: &Place<'_>, table: &Table) -> Result<Vec<(String, T)>, Stop> {
    let entries = at.node().map_or(&[][..], |node| node.entries());
    let own = entries.iter().filter(|entry| !table.knows(&entry.key));
    let own = own.filter(|entry| may_be_named(table, &entry.key, &entry.node.value));
    let read: Vec<Result<(String, T), Stop>> =
        own.map(|entry| Ok((entry.key.clone(), T::read(&at.entry(&entry.key, &entry.node))?))).collect();
    read.into_iter().collect()
}

/// The part with something in it changed.
pub(crate) fn edited<P: Part>(part: &P, sets: &[Set<'_>], at: &Place<'_>) -> Result<P, Stop> {
    edited_as(part, part.keys(), sets, at)
}

/// The part that some keys make with something in them changed; `before` is the part that was there.
pub(crate) fn edited_as<P: Part>(before: &P, keys: P::Keys, sets: &[Set<'_>], at: &Place<'_>) -> Result<P, Stop> {
    let table = P::Keys::table();
    for set in sets {
        match set.steps {
            [Step::Key(key), rest @ ..] => {
                let named = || match (table.named, rest, set.value) {
                    (Some(_), [], Some(node)) => may_be_named(table, key, &node.value),
                    (named, ..) => named.is_some(),
                };
                if !table.knows(key) && !named() {
                    return Err(at.unknown(key, &None, table));
                }
            }
            steps => return Err(at.nowhere(steps)),
        }
    }
    let keys = keys.edited(sets, at)?;
    one_set(table, &|key| keys.has(key), at)?;
    P::make(keys, Some(before), at)
}

/// The part within, with what concerns it changed.
pub(crate) fn edited_within<P: Part>(part: P, sets: &[Set<'_>], at: &Place<'_>) -> Result<P, Stop> {
    let table = P::Keys::table();
    let own: Vec<Set<'_>> =
        sets.iter().filter(|set| matches!(set.steps, [Step::Key(key), ..] if table.knows(key))).copied().collect();
    if own.is_empty() { Ok(part) } else { edited(&part, &own, at) }
}

/// What is set under one key, seen from there.
pub(crate) fn under<'a>(sets: &[Set<'a>], name: &str) -> Vec<Set<'a>> {
    let inside = |set: &Set<'a>| match set.steps {
        [Step::Key(key), rest @ ..] if key == name => Some(Set { steps: rest, ..*set }),
        _ => None,
    };
    sets.iter().filter_map(inside).collect()
}

/// A field with what is set of it.
pub(crate) fn edited_field<F: Field>(field: F, sets: &[Set<'_>], at: &Place<'_>, key: &str) -> Result<F, Stop> {
    let inside = under(sets, key);
    if inside.is_empty() { Ok(field) } else { field.set(&inside, at, key) }
}

/// What stands under the user's own names, with what is set of it.
pub(crate) fn edited_named<T: Item>(
    mut items: Vec<(String, T)>,
    table: &Table,
    sets: &[Set<'_>],
    at: &Place<'_>,
) -> Result<Vec<(String, T)>, Stop> {
    let mut done: Vec<&str> = Vec::new();
    for set in sets {
        let [Step::Key(name), ..] = set.steps else { continue };
        if table.knows(name) || done.contains(&name.as_str()) {
            continue;
        }
        done.push(name);
        let place = items.iter().position(|(known, _)| known == name);
        let old = place.map(|place| items.remove(place).1);
        if let Some(item) = apply(old, &under(sets, name), &at.key(name))? {
            items.insert(place.unwrap_or(items.len()), (name.clone(), item));
        }
    }
    Ok(items)
}

/// The table of a part.
pub(crate) fn write<P: Part>(part: &P) -> Value {
    Value::Table(entries(part))
}

/// The entries of the table of a part.
pub(crate) fn entries<P: Part>(part: &P) -> Vec<Entry> {
    let mut entries = Vec::new();
    part.keys().put(&mut entries);
    entries
}

/// What stands at some steps into a part.
pub(crate) fn get<P: Part>(part: &P, steps: &[Step]) -> Option<Value> {
    match steps {
        [] => Some(write(part)),
        [Step::Key(key), rest @ ..] => part.keys().get(key, rest),
        _ => None,
    }
}
