//! What a file may hold, said once: the reader checks against it, the JSON Schema is made from it.

use crate::record::Change;
use crate::units::Kind;

/// What one value must be.
#[derive(Debug, Clone, Copy)]
pub(super) enum Shape {
    /// Text with a number and a unit of the kind.
    Quantity(&'static Kind),
    /// A plain number; its range is the business of whoever takes it.
    Number,
    /// A plain whole number, zero or more.
    Count,
    /// The number of the format, [`VERSION`].
    Version,
    /// Any text.
    Text,
    /// Any value.
    Any,
    /// A day, `2026-05-31`, with or without a time.
    Date,
    /// A day, or a word for a change that was not made.
    DateOfChange,
    /// One of these words.
    Choice(&'static [&'static str]),
    /// A list of quantities, each of its own kind.
    Row(&'static [&'static Kind]),
    /// `[x, z]`: two lengths; bare numbers where the table around has a `unit`.
    Point,
    /// A table of known keys.
    Table(&'static Table),
    /// A plain number, or a table that says more.
    NumberOr(&'static Table),
    /// A list of values of one shape.
    List(&'static Shape),
}

/// The format this reader knows.
pub(super) const VERSION: f64 = 1.0;

/// A table: its keys, and what any other key would be.
#[derive(Debug)]
pub(super) struct Table {
    /// What it describes.
    pub(super) doc: &'static str,
    /// The keys it knows.
    pub(super) keys: &'static [Key],
    /// What keys of the user's own choice hold (names of masses, points, bodies).
    pub(super) named: Option<&'static Shape>,
    /// Sets of keys of which exactly one must be there, whole, and nothing of the others.
    pub(super) either: &'static [&'static [&'static str]],
    /// The name of its definition in the schema, for a table that may hold itself.
    pub(super) definition: Option<&'static str>,
}

/// One key.
#[derive(Debug, Clone, Copy)]
pub(super) struct Key {
    pub(super) name: &'static str,
    pub(super) doc: &'static str,
    pub(super) shape: Shape,
    pub(super) required: bool,
}

/// A key that may be left out.
pub(super) const fn may(name: &'static str, shape: Shape, doc: &'static str) -> Key {
    Key { name, doc, shape, required: false }
}

/// A key that must be there.
pub(super) const fn must(name: &'static str, shape: Shape, doc: &'static str) -> Key {
    Key { name, doc, shape, required: true }
}

impl Table {
    /// Of which exactly one set of keys must be there.
    pub(super) const fn either(self, either: &'static [&'static [&'static str]]) -> Self {
        Self { either, ..self }
    }

    /// Whose other keys are names of the user's own.
    pub(super) const fn named(self, named: &'static Shape) -> Self {
        Self { named: Some(named), ..self }
    }

    /// Which may hold itself.
    pub(super) const fn defined(self, definition: &'static str) -> Self {
        Self { definition: Some(definition), ..self }
    }
}

/// A table of known keys only.
pub(super) const fn table(doc: &'static str, keys: &'static [Key]) -> Table {
    Table { doc, keys, named: None, either: &[], definition: None }
}

impl Table {
    pub(super) fn key(&self, name: &str) -> Option<&'static Key> {
        self.keys.iter().find(|key| key.name == name)
    }

    /// The shape under a key, a name of the user's own included.
    pub(super) fn shape(&self, name: &str) -> Option<&'static Shape> {
        self.key(name).map(|key| &key.shape).or(self.named)
    }

    pub(super) fn key_names(&self) -> impl Iterator<Item = &'static str> {
        self.keys.iter().map(|key| key.name)
    }
}

impl Shape {
    /// What would do, in words.
    pub(super) fn wanted(&self) -> String {
        match self {
            Self::Quantity(kind) => {
                format!("{} {} as text with a unit ({})", article(kind.name), kind.name, kind.unit_list())
            }
            Self::Number => "a plain number".to_owned(),
            Self::Count => "a whole number".to_owned(),
            Self::Version => format!("format {VERSION}"),
            Self::Text => "text in quotes".to_owned(),
            Self::Any => "a value, as in the rest of the file".to_owned(),
            Self::Date => "a day, e.g. 2026-05-31, or a day with a time, 2026-05-31 19:30".to_owned(),
            Self::DateOfChange => {
                format!("{}, or `{}` for a change that was not made", Self::Date.wanted(), Change::SUPPOSED)
            }
            Self::Choice(words) => {
                let quoted: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
                crate::error::nearest::list(quoted.iter().map(String::as_str))
            }
            Self::Row(kinds) => {
                let kinds: Vec<String> =
                    kinds.iter().map(|kind| format!("{} ({})", kind.name, kind.unit_list())).collect();
                format!("a list of {}", kinds.join(" and "))
            }
            Self::Point => "a point, `[\"-66 mm\", \"-98 mm\"]`, x forward and z up".to_owned(),
            Self::NumberOr(table) => format!("a plain number, or {}", Self::Table(table).wanted()),
            Self::Table(table) => {
                format!("a table with {}", table.key_names().collect::<Vec<_>>().join(", "))
            }
            Self::List(Self::Table(table)) => {
                let keys = table.key_names().collect::<Vec<_>>().join(", ");
                format!("a list of tables, each in double brackets `[[ ]]` or in braces, with {keys}")
            }
            Self::List(of) => format!("a list, of {}", of.wanted()),
        }
    }
}

fn article(word: &str) -> &'static str {
    if word.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" }
}
