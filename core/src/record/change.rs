//! A log of what was done to the bike. The file describes the bike as it is now; a change says what stood there before, so
//! that the bike of an earlier day can be put together again.

use crate::error::Address;

/// Something done to the bike.
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Change {
    /// When: a day, `2026-05-31`, or a day with a time, `2026-05-31 19:30`; or [`what if`](Self::SUPPOSED).
    pub date: String,
    /// A note.
    pub note: Option<String>,
    /// What stood there before: key path and value, in the words of the bike file (`rear.shock.spring.rate`, `52 N/mm`).
    pub was: Vec<(String, String)>,
    /// Key paths of what was not there before.
    pub added: Vec<String>,
}

impl Change {
    /// The date of a change that was not made: what if it were?
    pub const SUPPOSED: &str = "what if";

    /// Key paths that it touches.
    pub fn paths(&self) -> impl Iterator<Item = &str> {
        self.was.iter().map(|(path, _)| path.as_str()).chain(self.added.iter().map(String::as_str))
    }

    /// Was it not made, but only supposed? It then comes after all that was.
    #[must_use]
    pub fn is_supposed(&self) -> bool {
        self.date == Self::SUPPOSED
    }

    /// Its values in the words that the file is read in.
    #[cfg(feature = "serde")]
    pub(crate) fn in_plain_words(mut self) -> Self {
        for (_, value) in &mut self.was {
            *value = crate::value::Value::from_words(value).in_words();
        }
        self
    }

    /// The keys and rows of each of its key paths.
    pub(crate) fn steps(&self) -> Vec<Vec<&str>> {
        self.paths().map(keys).collect()
    }

    #[cfg(feature = "serde")]
    /// Does it touch a key that the other touches too?
    pub(crate) fn overlaps(&self, other: &Self) -> bool {
        let meet = |one: &str, other: &str| keys(one).iter().zip(keys(other)).all(|(one, other)| *one == other);
        self.paths().any(|path| other.paths().any(|other| meet(path, other)))
    }
}

/// The keys and rows of a path; what stands in quotes is one key.
fn keys(path: &str) -> Vec<&str> {
    let mut quoted = false;
    let between = |sign| {
        quoted ^= sign == '"';
        !quoted && ['.', '[', ']'].contains(&sign)
    };
    let keys = path.split(between).map(|key| key.trim_matches('"')).filter(|key| !key.is_empty());
    keys.take(Address::DEEPEST).collect()
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;

    fn change(path: &str) -> Change {
        Change { date: "2026-06-01".to_owned(), note: None, was: vec![(path.to_owned(), String::new())], added: vec![] }
    }

    #[test]
    fn a_key_in_quotes_is_one_key() {
        let meet = |one, other| change(one).overlaps(&change(other));
        assert!(!meet("masses.pack", "masses.\"pack.old\"") && !meet("masses.pack.old", "masses.\"pack.old\""));
        assert!(meet("masses.\"pack.old\".rear", "masses.\"pack.old\"") && meet("masses", "masses.\"pack.old\""));
    }
}
