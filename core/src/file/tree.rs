//! What a file holds, whatever it is written in: values in tables and lists, each with its place in the text.

use core::fmt::Write as _;
use core::ops::Range;

/// Place in the text, in bytes; `None` for what was made in code.
pub(super) type Span = Option<Range<usize>>;

/// A value and its place.
#[derive(Debug, Clone)]
pub(super) struct Node {
    pub(super) span: Span,
    pub(super) value: Value,
}

/// A value.
#[derive(Debug, Clone)]
pub(super) enum Value {
    Text(String),
    Number(f64),
    Flag(bool),
    Date(String),
    Nothing,
    List(Vec<Node>),
    Table(Vec<Entry>),
}

/// A key, its place and what it holds.
#[derive(Debug, Clone)]
pub(super) struct Entry {
    pub(super) key: String,
    pub(super) key_span: Span,
    pub(super) node: Node,
}

impl From<Value> for Node {
    fn from(value: Value) -> Self {
        Self { span: None, value }
    }
}

impl Entry {
    pub(super) fn new(key: impl Into<String>, value: Value) -> Self {
        Self { key: key.into(), key_span: None, node: value.into() }
    }
}

impl Node {
    /// The entries of a table, none for anything else.
    pub(super) fn entries(&self) -> &[Entry] {
        match &self.value {
            Value::Table(entries) => entries,
            _ => &[],
        }
    }

    pub(super) fn get(&self, key: &str) -> Option<&Self> {
        self.entries().iter().find(|entry| entry.key == key).map(|entry| &entry.node)
    }

    /// The items of a list, none for anything else.
    pub(super) fn items(&self) -> &[Self] {
        match &self.value {
            Value::List(items) => items,
            _ => &[],
        }
    }

    /// As a person would write it, shortened: for `found`.
    pub(super) fn show(&self) -> String {
        /// Longest text shown of what was found.
        const LONGEST: usize = 40;
        let text = match &self.value {
            Value::Text(text) => text.clone(),
            Value::Number(number) => number.to_string(),
            Value::Flag(flag) => flag.to_string(),
            Value::Date(date) => date.clone(),
            Value::Nothing => "null".to_owned(),
            Value::List(items) => format!("[{} of them]", items.len()),
            Value::Table(entries) => {
                format!("{{ {} }}", entries.iter().map(|entry| entry.key.as_str()).collect::<Vec<_>>().join(", "))
            }
        };
        match text.char_indices().nth(LONGEST) {
            Some((end, _)) => format!("{}…", &text[..end]),
            None => text,
        }
    }

    /// What kind of value it is, in words.
    pub(super) fn kind(&self) -> &'static str {
        match self.value {
            Value::Text(_) => "text",
            Value::Number(_) => "a number",
            Value::Flag(_) => "true or false",
            Value::Date(_) => "a date",
            Value::Nothing => "null",
            Value::List(_) => "a list",
            Value::Table(_) => "a table",
        }
    }

    /// The node at some steps from here, and its path.
    pub(super) fn find(&self, steps: &[Step], path: &str) -> Option<(&Self, String)> {
        let Some((step, rest)) = steps.split_first() else { return Some((self, path.to_owned())) };
        match step {
            Step::Key(key) => self.get(key)?.find(rest, &key_path(path, key)),
            Step::Row(row) => self.items().get(*row)?.find(rest, &format!("{path}[{row}]")),
        }
    }

    /// The node at a path like `front.fork.leg[0].spring`, to be changed. A table's missing key is made; the error
    /// names the step that leads nowhere.
    pub(super) fn at_path(&mut self, steps: &[Step]) -> Result<&mut Self, Step> {
        let Some((step, rest)) = steps.split_first() else { return Ok(self) };
        let next = match (step, &mut self.value) {
            (Step::Key(key), Value::Table(entries)) => {
                let at = entries.iter().position(|entry| entry.key == *key).unwrap_or_else(|| {
                    entries.push(Entry::new(key.clone(), Value::Table(Vec::new())));
                    entries.len() - 1
                });
                entries.get_mut(at).map(|entry| &mut entry.node)
            }
            (Step::Row(row), Value::List(items)) => items.get_mut(*row),
            _ => None,
        };
        next.ok_or_else(|| step.clone())?.at_path(rest)
    }
}

impl Node {
    /// Takes out the key or row at a path; says whether there was one.
    pub(super) fn remove(&mut self, steps: &[Step]) -> bool {
        let Some((step, rest)) = steps.split_first() else { return false };
        match (step, &mut self.value) {
            (Step::Key(key), Value::Table(entries)) => {
                let Some(at) = entries.iter().position(|entry| entry.key == *key) else { return false };
                match (rest, entries.get_mut(at)) {
                    ([], _) => {
                        entries.remove(at);
                        true
                    }
                    (_, Some(entry)) => entry.node.remove(rest),
                    _ => false,
                }
            }
            (Step::Row(row), Value::List(items)) => items.get_mut(*row).is_some_and(|item| item.remove(rest)),
            _ => false,
        }
    }

    /// Adds a row under a key of this table.
    pub(super) fn push_row(&mut self, key: &str, row: Value) {
        let Value::Table(entries) = &mut self.value else { return };
        match entries.iter_mut().find(|entry| entry.key == key).map(|entry| &mut entry.node.value) {
            Some(Value::List(rows)) => rows.push(row.into()),
            Some(_) => {}
            None => entries.push(Entry::new(key, Value::List(vec![row.into()]))),
        }
    }
}

/// One step of a key path.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Step {
    Key(String),
    Row(usize),
}

/// Reads `front.fork.leg[0].spring` (or `leg.0.`); a key with a point in it goes in double quotes. `None` when it is no
/// path.
pub(super) fn steps(path: &str) -> Option<Vec<Step>> {
    let mut steps = Vec::new();
    let mut rest = path;
    while !rest.is_empty() {
        if let Some(row) = rest.strip_prefix('[') {
            let (number, after) = row.split_once(']')?;
            steps.push(Step::Row(number.parse().ok()?));
            rest = after;
        } else if let Some(quoted) = rest.strip_prefix('"') {
            let (key, after) = quoted.split_once('"')?;
            steps.push(Step::Key(key.to_owned()));
            rest = after;
        } else {
            let end = rest.find(['.', '[']).unwrap_or(rest.len());
            let (key, after) = rest.split_at(end);
            steps.push(key.parse().map_or_else(|_| Step::Key(key.to_owned()), Step::Row));
            rest = after;
        }
        if let Some(after) = rest.strip_prefix('.') {
            if after.is_empty() {
                return None;
            }
            rest = after;
        }
    }
    let empty = steps.iter().any(|step| matches!(step, Step::Key(key) if key.is_empty()));
    (!steps.is_empty() && !empty).then_some(steps)
}

/// The path of a key in a table.
pub(super) fn key_path(parent: &str, key: &str) -> String {
    let plain = !key.is_empty() && !key.contains(['.', '[', '"', ' ']);
    let mut path = parent.to_owned();
    if !parent.is_empty() {
        path.push('.');
    }
    if plain {
        path.push_str(key);
    } else {
        // Writing to a String does not fail.
        let _ = write!(path, "\"{key}\"");
    }
    path
}

/// Line and column of a byte, both from 1, the column in characters.
pub(super) fn line_and_column(text: &str, byte: usize) -> (usize, usize) {
    let before = text.get(..byte.min(text.len())).unwrap_or(text);
    let line_start = before.rfind('\n').map_or(0, |at| at + 1);
    (before.matches('\n').count() + 1, before[line_start..].chars().count() + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_are_read() {
        let key = |key: &str| Step::Key(key.to_owned());
        assert_eq!(
            steps("front.fork.leg[1].air"),
            Some(vec![key("front"), key("fork"), key("leg"), Step::Row(1), key("air")])
        );
        assert_eq!(steps("reading.3"), Some(vec![key("reading"), Step::Row(3)]));
        assert_eq!(
            steps("masses.\"medical pack\".front"),
            Some(vec![key("masses"), key("medical pack"), key("front")])
        );
        for wrong in ["", ".", "a..b", "a.", "a[x]", "a[1"] {
            assert_eq!(steps(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn columns_count_characters() {
        assert_eq!(line_and_column("a\nµ = 1", 5), (2, 3));
        assert_eq!(line_and_column("a", 99), (1, 2));
    }
}
