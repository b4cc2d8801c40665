//! Faults as they are found, put in the order of the text at the end.

use super::tree::{Node, Span, line_and_column};
use crate::error::Fault;

/// Faults found so far in one text.
#[derive(Debug)]
pub(super) struct Faults<'t> {
    /// The text, where there is one.
    text: Option<&'t str>,
    found: Vec<(usize, Fault)>,
    /// Lines whose grammar is broken: what else is found there says nothing.
    broken: Vec<usize>,
}

impl<'t> Faults<'t> {
    pub(super) fn new(text: Option<&'t str>) -> Self {
        Self { text, found: Vec::new(), broken: Vec::new() }
    }

    pub(super) fn is_empty(&self) -> bool {
        self.found.is_empty()
    }

    /// A fault at a place.
    pub(super) fn add(&mut self, span: &Span, key_path: &str, found: String, wanted: String, message: String) {
        let place = self.text.zip(span.as_ref()).map(|(text, span)| line_and_column(text, span.start));
        let byte = span.as_ref().map_or(usize::MAX, |span| span.start);
        let (line, column) = place.unzip();
        if line.is_some_and(|line| self.broken.contains(&line)) {
            return;
        }
        self.found.push((byte, Fault { line, column, key_path: key_path.to_owned(), found, wanted, message }));
    }

    /// A fault of grammar; the first one of a line counts.
    pub(super) fn grammar(&mut self, byte: usize, message: &str) {
        let text = self.text.unwrap_or_default();
        let found = text.get(byte..).and_then(|rest| rest.lines().next()).unwrap_or_default().trim();
        let found = if found.is_empty() { "the end of the text" } else { found };
        self.add(&Some(byte..byte), "", found.to_owned(), wanted_in(message).to_owned(), message.to_owned());
        self.broken.push(line_and_column(text, byte).0);
    }

    /// A value that is not what it should be.
    pub(super) fn wrong(&mut self, node: &Node, key_path: &str, wanted: String) {
        let found = node.show();
        let message = format!("found {} `{found}`, wanted {wanted}", node.kind());
        self.add(&node.span, key_path, found, wanted, message);
    }

    /// A value refused by what it was meant for, in that one's words; not where a fault of that value was told before.
    pub(super) fn refused(&mut self, node: &Node, key_path: &str, message: &str) {
        if self.found.iter().any(|(_, fault)| fault.key_path == key_path) {
            return;
        }
        // The path names the field already.
        let names = |head: &str| key_path.strip_suffix(head).is_some_and(|part| part.is_empty() || part.ends_with('.'));
        let message = message.split_once(": ").filter(|(head, _)| names(head)).map_or(message, |(_, rest)| rest);
        self.add(&node.span, key_path, node.show(), wanted_in(message).to_owned(), message.to_owned());
    }

    /// Was a fault told of this part, or of anything in it?
    pub(super) fn any_in(&self, key_path: &str) -> bool {
        let inside = |path: &str| {
            path.strip_prefix(key_path).is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
        };
        self.found.iter().any(|(_, fault)| inside(&fault.key_path))
    }

    /// All of them, in the order of the text.
    pub(super) fn finish(mut self) -> Vec<Fault> {
        self.found.sort_by_key(|(byte, _)| *byte);
        self.found.into_iter().map(|(_, fault)| fault).collect()
    }
}

/// What would do, as far as a sentence tells it apart.
fn wanted_in(message: &str) -> &str {
    let after = |mark: &str| message.rsplit_once(mark).map(|(_, rest)| rest);
    // A range of what is plausible stands in brackets.
    let range = || message.split_once(" here (").and_then(|(_, rest)| rest.split_once(')')).map(|(range, _)| range);
    let marks = ["wanted ", "expected ", ", but ", "; ", ": "];
    range().or_else(|| marks.into_iter().find_map(after)).unwrap_or(message)
}
