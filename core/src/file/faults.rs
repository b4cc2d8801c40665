//! Faults as they are found, put in the order of the text at the end.

use super::tree::{Node, Span, line_and_column};
use crate::error::Fault;

/// Faults found so far in one text.
#[derive(Debug)]
pub(super) struct Faults<'t> {
    /// The text, where there is one.
    text: Option<&'t str>,
    found: Vec<(usize, Fault)>,
}

impl<'t> Faults<'t> {
    pub(super) fn new(text: Option<&'t str>) -> Self {
        Self { text, found: Vec::new() }
    }

    pub(super) fn is_empty(&self) -> bool {
        self.found.is_empty()
    }

    /// A fault at a place.
    pub(super) fn add(&mut self, span: &Span, key_path: &str, found: String, wanted: String, message: String) {
        let place = self.text.zip(span.as_ref()).map(|(text, span)| line_and_column(text, span.start));
        let byte = span.as_ref().map_or(usize::MAX, |span| span.start);
        let (line, column) = place.unzip();
        self.found.push((byte, Fault { line, column, key_path: key_path.to_owned(), found, wanted, message }));
    }

    /// A value that is not what it should be.
    pub(super) fn wrong(&mut self, node: &Node, key_path: &str, wanted: String) {
        let found = node.show();
        let message = format!("found {} `{found}`, wanted {wanted}", node.kind());
        self.add(&node.span, key_path, found, wanted, message);
    }

    /// A value refused by what it was meant for, in that one's words; not where a fault of that value was told before.
    pub(super) fn refused(&mut self, node: &Node, key_path: &str, message: String) {
        if self.found.iter().any(|(_, fault)| fault.key_path == key_path) {
            return;
        }
        let wanted = message.rsplit_once("wanted ").map_or(message.as_str(), |(_, wanted)| wanted).to_owned();
        self.add(&node.span, key_path, node.show(), wanted, message);
    }

    /// All of them, in the order of the text.
    pub(super) fn finish(mut self) -> Vec<Fault> {
        self.found.sort_by_key(|(byte, _)| *byte);
        self.found.into_iter().map(|(_, fault)| fault).collect()
    }
}
