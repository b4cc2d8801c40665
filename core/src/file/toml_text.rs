//! TOML to tree and back. The grammar is the `toml` crate's, which recovers from a fault and goes on; the layout of what
//! is written is ours.

use toml::de::DeTable;

use crate::value::words::{entries, inline, key};
use crate::value::{Entry, Node, Value};

/// What the grammar says of a key that stands twice, without naming it.
const DUPLICATE: &str = "duplicate key";

/// Reads a TOML document: what could be read, and the faults of grammar, each with its byte.
pub(super) fn read(text: &str) -> (Node, Vec<(usize, String)>) {
    let (table, errors) = DeTable::parse_recoverable(text);
    let json = text.trim_start().starts_with('{');
    let syntax = errors
        .iter()
        .enumerate()
        .map(|(place, error)| {
            let span = error.span().unwrap_or_default();
            let message = error.message().replace('\n', ", ");
            let message = match text.get(span.clone()) {
                Some(key) if message == DUPLICATE => format!("{message} `{key}`: it stands in this table already"),
                _ if json && place == 0 => {
                    format!("{message}; this looks like JSON, wanted TOML: JSON is read from a file whose name ends in .json")
                }
                _ => message,
            };
            (span.start, message)
        })
        .collect();
    let span = table.span();
    (Node { span: Some(span), value: Value::Table(entries(table.get_ref())) }, syntax)
}

/// Longest inline table or list written on one line.
const LINE: usize = 118;

/// Writes a document: short tables inline, the rest under headers.
pub(super) fn write(root: &Node) -> String {
    let mut text = String::new();
    write_table(&mut text, "", root.entries());
    text
}

/// A table under a header: plain keys first, then the tables that have headers of their own. Tables keep their order, as
/// that of the masses counts: what follows one with a header has one too.
fn write_table(text: &mut String, path: &str, entries: &[Entry]) {
    let mut after_header = false;
    let (headed, plain): (Vec<&Entry>, Vec<&Entry>) = entries.iter().partition(|entry| {
        let is_table = matches!(entry.node.value, Value::Table(_));
        let needed = needs_header(entry, path) || (is_table && after_header);
        after_header |= is_table && needed;
        needed
    });
    if !path.is_empty() && (!plain.is_empty() || headed.is_empty()) {
        header(text, &format!("[{path}]"));
    }
    write_keys(text, plain);
    for entry in headed {
        let path = if path.is_empty() { key(&entry.key) } else { format!("{path}.{}", key(&entry.key)) };
        match &entry.node.value {
            Value::List(rows) => {
                for row in rows {
                    header(text, &format!("[[{path}]]"));
                    let (long, short): (Vec<&Entry>, Vec<&Entry>) =
                        row.entries().iter().partition(|entry| is_long(entry));
                    write_keys(text, short);
                    for entry in long {
                        header(text, &format!("[{path}.{}]", key(&entry.key)));
                        write_keys(text, entry.node.entries());
                    }
                }
            }
            _ => write_table(text, &path, entry.node.entries()),
        }
    }
}

/// A table too long for one line.
fn is_long(entry: &Entry) -> bool {
    matches!(entry.node.value, Value::Table(_)) && inline(&entry.node.value).len() + entry.key.len() > LINE
}

/// Keys on a line each.
fn write_keys<'a>(text: &mut String, entries: impl IntoIterator<Item = &'a Entry>) {
    for entry in entries {
        text.push_str(&format!("{} = {}\n", key(&entry.key), inline(&entry.node.value)));
    }
}

fn header(text: &mut String, header: &str) {
    if !text.is_empty() {
        text.push('\n');
    }
    text.push_str(header);
    text.push('\n');
}

/// Tables of tables and lists of tables get headers, and so does whatever stands at the top; and what is too long.
fn needs_header(entry: &Entry, path: &str) -> bool {
    match &entry.node.value {
        Value::Table(entries) => {
            path.is_empty()
                || entries.iter().any(|inner| matches!(inner.node.value, Value::Table(_) | Value::List(_)))
                || is_long(entry)
        }
        Value::List(items) => !items.is_empty() && items.iter().all(|item| matches!(item.value, Value::Table(_))),
        _ => false,
    }
}
