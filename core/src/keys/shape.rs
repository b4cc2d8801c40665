//! What may stand under a key, said once: the reader checks against it, the JSON Schema and the page of keys are made from it.

use crate::error::{Step, nearest};
use crate::record::Change;
use crate::units::Kind;
use crate::value::Value;

/// What one value must be.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Shape {
    /// Text with a number and a unit of the kind.
    Quantity(&'static Kind),
    /// Text with a number ± its standard uncertainty and a unit of the kind.
    Uncertain(&'static Kind),
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
    /// `[x, z]`, and what a coordinate is.
    Point(&'static Shape),
    /// A table of known keys. A function, because a table may hold itself.
    Table(fn() -> &'static Table),
    /// A list of values of one shape.
    List(&'static Shape),
    /// One of several forms, which differ in the kind of value.
    OneOf(&'static [Shape]),
}

/// The format this reader knows.
pub(crate) const VERSION: f64 = 1.0;

/// A table: its keys, and what any other key would be.
#[derive(Debug)]
pub(crate) struct Table {
    /// What it describes.
    pub(crate) doc: &'static str,
    /// The keys of its own.
    pub(crate) own: &'static [Key],
    /// The table whose keys stand among its own: those of a spring in the table of a spring in its place.
    pub(crate) flat: Option<fn() -> &'static Self>,
    /// What keys of the user's own choice hold (names of masses, points, bodies).
    pub(crate) named: Option<Shape>,
    /// Sets of keys of which exactly one must be there, whole, and nothing of the others.
    pub(crate) either: &'static [&'static [&'static str]],
    /// The name of its definition in the schema, for a table that may hold itself or stands in several places.
    pub(crate) defined: Option<&'static str>,
}

/// One key.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Key {
    pub(crate) name: &'static str,
    pub(crate) doc: &'static str,
    pub(crate) shape: Shape,
    pub(crate) required: bool,
}

impl Table {
    /// Every key, those of the table within first.
    pub(crate) fn keys(&self) -> impl Iterator<Item = &'static Key> {
        let within: &'static [Key] = self.flat.map_or(&[], |table| table().own);
        within.iter().chain(self.own)
    }

    pub(crate) fn knows(&self, name: &str) -> bool {
        self.keys().any(|key| key.name == name)
    }

    pub(crate) fn key_names(&self) -> impl Iterator<Item = &'static str> {
        self.keys().map(|key| key.name)
    }

    /// What would do, in words.
    pub(super) fn wanted(&self) -> String {
        format!("a table with {}", self.key_names().collect::<Vec<_>>().join(", "))
    }

    /// The sets of keys of which one must be there, its own or those of the table within.
    pub(crate) fn sets(&self) -> &'static [&'static [&'static str]] {
        match self.flat {
            Some(table) if self.either.is_empty() => table().either,
            _ => self.either,
        }
    }

    /// What is wrong where not exactly one of the sets is there, whole: what was found, and what would do.
    pub(super) fn misfit(&self, has: &dyn Fn(&str) -> bool) -> Option<(String, String)> {
        let all = || self.either.iter().flat_map(|set| set.iter().copied());
        if self.either.is_empty() || self.either.iter().any(|set| all().all(|name| set.contains(&name) == has(name))) {
            return None;
        }
        let mut present: Vec<&str> = all().filter(|name| has(name)).collect();
        present.sort_unstable();
        present.dedup();
        let sets: Vec<String> = self.either.iter().map(|set| in_words(set)).collect();
        let found = if present.is_empty() { "none of them".to_owned() } else { present.join(" + ") };
        Some((found, nearest::list(sets.iter().map(String::as_str))))
    }
}

/// A set of keys, in words.
pub(super) fn in_words(set: &[&str]) -> String {
    if set.is_empty() { "none of them".to_owned() } else { set.join(" + ") }
}

impl Shape {
    /// What may stand at some steps into a table; `None` where they lead nowhere.
    pub(crate) fn at(self, steps: &[Step]) -> Option<Self> {
        let Some((step, rest)) = steps.split_first() else { return Some(self) };
        match (self, step) {
            (Self::Table(table), Step::Key(name)) => {
                let table = table();
                let known = table.keys().find(|key| key.name == name).map(|key| key.shape);
                known.or(table.named)?.at(rest)
            }
            (Self::List(of), Step::Row(_)) => of.at(rest),
            (Self::Point(of), Step::Row(0 | 1)) => of.at(rest),
            (Self::Row(kinds), Step::Row(row)) => Self::Quantity(kinds.get(*row)?).at(rest),
            (Self::OneOf(forms), _) => forms.iter().find_map(|form| form.at(steps)),
            _ => None,
        }
    }

    /// The kind of quantity that is taken, where one is.
    pub(crate) fn kind(&self) -> Option<&'static Kind> {
        match self {
            Self::Quantity(kind) => Some(kind),
            Self::OneOf(forms) => forms.iter().find_map(Self::kind),
            _ => None,
        }
    }

    /// Is a plain number taken?
    pub(crate) fn takes_number(&self) -> bool {
        match self {
            Self::Number | Self::Count => true,
            Self::OneOf(forms) => forms.iter().any(Self::takes_number),
            _ => false,
        }
    }

    /// What would do, in words.
    pub(crate) fn wanted(&self) -> String {
        match self {
            Self::Quantity(kind) => {
                format!("{} as text with a unit ({})", crate::error::a(kind.name), kind.unit_list())
            }
            Self::Uncertain(kind) => {
                format!(
                    "{} ± its standard uncertainty as text with a unit ({})",
                    crate::error::a(kind.name),
                    kind.unit_list()
                )
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
                nearest::list(quoted.iter().map(String::as_str))
            }
            Self::Row(kinds) => {
                let kinds: Vec<String> =
                    kinds.iter().map(|kind| format!("{} ({})", kind.name, kind.unit_list())).collect();
                format!("a list of {}", kinds.join(" and "))
            }
            Self::Point(_) => "a point, `[\"-66 mm\", \"-98 mm\"]`, x forward and z up".to_owned(),
            Self::Table(table) => table().wanted(),
            Self::List(Self::Table(table)) => {
                let keys = table().key_names().collect::<Vec<_>>().join(", ");
                format!("a list of tables, each in double brackets `[[ ]]` or in braces, with {keys}")
            }
            Self::List(of) => format!("a list, of {}", of.wanted()),
            Self::OneOf(forms) => {
                let forms: Vec<String> = forms.iter().map(Self::wanted).collect();
                nearest::list(forms.iter().map(String::as_str))
            }
        }
    }

    /// Is a value of the kind that the shape takes, whatever is in it?
    pub(super) fn fits(&self, value: &Value) -> bool {
        match self {
            Self::Table(_) => matches!(value, Value::Table(_)),
            Self::Point(_) | Self::List(_) | Self::Row(_) => matches!(value, Value::List(_)),
            Self::Number | Self::Count | Self::Version => matches!(value, Value::Number(_)),
            Self::Quantity(_) | Self::Uncertain(_) => matches!(value, Value::Text(_) | Value::Number(_)),
            Self::Text | Self::Choice(_) => matches!(value, Value::Text(_)),
            Self::Date | Self::DateOfChange => matches!(value, Value::Text(_) | Value::Date(_)),
            Self::Any => true,
            Self::OneOf(forms) => forms.iter().any(|form| form.fits(value)),
        }
    }
}
