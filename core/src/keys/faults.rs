//! Faults as they are found, put in the order of the text at the end.

use core::cell::{Cell, RefCell};
use std::collections::HashSet;

use crate::error::{Address, Fault, LONGEST, MOST_FAULTS, more_faults, plain, shortened};
use crate::value::Span;

/// Faults that are worded; what is found beyond them is counted. More than are shown, as they are not found in the order of the
/// text.
const WORDED: usize = 20 * MOST_FAULTS;

/// What has been found wrong so far.
#[derive(Debug)]
pub(crate) struct Faults {
    found: RefCell<Vec<(Option<usize>, Fault)>>,
    /// How many more were found than are worded.
    more: Cell<usize>,
    /// Faults of grammar, which come first.
    grammar: Cell<usize>,
    /// Places whose value was refused.
    refused: RefCell<HashSet<Address>>,
    /// Keys that are misspelt, by what they were meant for, and the tables that they are in.
    misspelt: RefCell<HashSet<Address>>,
    unknown: RefCell<Vec<Unknown>>,
}

/// A key that its table does not have.
#[derive(Debug, Clone)]
pub(crate) struct Unknown {
    pub(crate) table: Address,
    pub(crate) key: String,
    /// The key of the table that it is near.
    pub(crate) meant: Option<String>,
}

impl Faults {
    pub(crate) fn new() -> Self {
        Self {
            found: RefCell::default(),
            more: Cell::new(0),
            grammar: Cell::new(0),
            refused: RefCell::default(),
            misspelt: RefCell::default(),
            unknown: RefCell::default(),
        }
    }

    /// Faults of grammar: byte and message. Nothing is built from such a text.
    pub(crate) fn of_grammar(text: &str, syntax: Vec<(usize, String)>) -> Self {
        let faults = Self::new();
        for (byte, message) in syntax {
            if faults.only_counts() {
                continue;
            }
            let rest = text.get(byte..).and_then(|rest| rest.lines().next()).unwrap_or_default().trim();
            let found = if rest.is_empty() { "the end of the text".to_owned() } else { shortened(rest) };
            let wanted = "text of that grammar".to_owned();
            let fault = fault(Address::default(), found, wanted, None, message);
            faults.found.borrow_mut().push((Some(byte), fault));
        }
        faults.grammar.set(faults.found.borrow().len());
        faults
    }

    /// Is the grammar sound?
    pub(crate) fn is_readable(&self) -> bool {
        self.grammar.get() == 0
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.found.borrow().is_empty()
    }

    /// Is one more fault only counted? It is, then; words for it are not wanted.
    pub(crate) fn only_counts(&self) -> bool {
        let full = self.found.borrow().len() >= WORDED;
        if full {
            self.more.set(self.more.get() + 1);
        }
        full
    }

    /// A fault at a place of the text.
    pub(crate) fn add(&self, span: &Span, fault: Fault) {
        self.found.borrow_mut().push((span.as_ref().map(|span| span.start), fault));
    }

    /// Notes a key that a table does not have.
    pub(crate) fn unknown(&self, unknown: Unknown) {
        if let Some(meant) = &unknown.meant {
            self.misspelt.borrow_mut().extend([unknown.table.clone().key(meant.clone()), unknown.table.clone()]);
        }
        self.unknown.borrow_mut().push(unknown);
    }

    /// Every key that its table does not have.
    pub(crate) fn unknown_keys(&self) -> Vec<Unknown> {
        self.unknown.borrow().clone()
    }

    /// How many were found.
    pub(crate) fn count(&self) -> usize {
        self.found.borrow().len() + self.more.get()
    }

    /// Where they were found.
    pub(crate) fn addresses(&self) -> Vec<Address> {
        self.found.borrow().iter().map(|(_, fault)| fault.key_path.clone()).collect()
    }

    /// Puts those that a second look found among these; what both found is said once.
    pub(crate) fn join(&self, second: Self) {
        let mut found = self.found.borrow_mut();
        let known: HashSet<(Address, String)> =
            found.iter().map(|(_, fault)| (fault.key_path.clone(), fault.message.clone())).collect();
        let new =
            |(_, fault): &(Option<usize>, Fault)| !known.contains(&(fault.key_path.clone(), fault.message.clone()));
        found.extend(second.found.into_inner().into_iter().filter(new));
        self.more.set(self.more.get().max(second.more.get()));
    }

    /// Does a key stand there under a near name?
    pub(crate) fn is_misspelt(&self, key: &Address) -> bool {
        self.misspelt.borrow().contains(key)
    }

    /// Does any key of this table?
    pub(crate) fn has_misspelt(&self, table: &Address) -> bool {
        self.misspelt.borrow().contains(table)
    }

    /// Is this the first time that the value at a place is refused?
    pub(crate) fn first_at(&self, address: &Address) -> bool {
        self.refused.borrow_mut().insert(address.clone())
    }

    /// The first of them, in the order of the text, with lines and columns, and how many more there are. Where the grammar of a line is broken, its first fault
    /// counts: what else is found there means nothing.
    pub(crate) fn finish(self, text: Option<&str>) -> Vec<Fault> {
        let grammar = self.grammar.get();
        let more = self.more.get();
        let found = self.found.into_inner().into_iter().enumerate();
        let mut found: Vec<_> =
            found.map(|(at, (byte, fault))| (byte.unwrap_or(usize::MAX), at >= grammar, fault)).collect();
        found.sort_by_key(|(byte, ..)| *byte);
        let Some(text) = text else { return first(found.into_iter().map(|(.., fault)| fault).collect(), more) };
        let mut place = Place { text, byte: 0, line: 1, column: 1 };
        let placed: Vec<_> = found
            .into_iter()
            .map(|(byte, of_value, fault)| {
                let (line, column) = if byte == usize::MAX { (None, None) } else { place.go_to(byte) };
                (of_value, Fault { line, column, ..fault })
            })
            .collect();
        let broken: HashSet<Option<usize>> =
            placed.iter().filter(|(of_value, _)| !of_value).map(|(_, fault)| fault.line).collect();
        let mut reported = HashSet::new();
        let counts = |(of_value, fault): &(bool, Fault)| match of_value {
            true => fault.line.is_none() || !broken.contains(&fault.line),
            false => reported.insert(fault.line),
        };
        first(placed.into_iter().filter(counts).map(|(_, fault)| fault).collect(), more)
    }
}

/// As many as are shown, and one line for the rest.
fn first(mut faults: Vec<Fault>, more: usize) -> Vec<Fault> {
    let more = more + faults.len().saturating_sub(MOST_FAULTS);
    faults.truncate(MOST_FAULTS);
    if more > 0 {
        let (found, wanted) = (more_faults(more), "the faults above mended first".to_owned());
        faults.push(fault(Address::default(), found.clone(), wanted, None, found));
    }
    faults
}

/// A fault without its place in a text. None of its texts is longer than a person reads, and nothing in them acts on a terminal.
pub(crate) fn fault(
    key_path: Address,
    found: String,
    wanted: String,
    suggestion: Option<String>,
    message: String,
) -> Fault {
    let said = |text: String| plain(&text, LONGEST);
    Fault {
        line: None,
        column: None,
        key_path: key_path.shortened(),
        found: said(found),
        wanted: said(wanted),
        suggestion: suggestion.map(said),
        message: said(message),
    }
}

/// A place in a text that only moves on.
struct Place<'t> {
    text: &'t str,
    byte: usize,
    line: usize,
    column: usize,
}

impl Place<'_> {
    /// Line and column of a byte further on, both from 1, the column in characters.
    fn go_to(&mut self, byte: usize) -> (Option<usize>, Option<usize>) {
        let byte = byte.min(self.text.len());
        let passed = self.text.get(self.byte..byte).unwrap_or_default();
        match passed.rsplit_once('\n') {
            Some((_, last)) => {
                self.line += passed.matches('\n').count();
                self.column = last.chars().count() + 1;
            }
            None => self.column += passed.chars().count(),
        }
        self.byte = byte;
        (Some(self.line), Some(self.column))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_characters() {
        let mut place = Place { text: "a\nµ = 1", byte: 0, line: 1, column: 1 };
        assert_eq!(place.go_to(0), (Some(1), Some(1)));
        assert_eq!(place.go_to(5), (Some(2), Some(3)));
        assert_eq!(place.go_to(6), (Some(2), Some(4)));
        assert_eq!(place.go_to(99), (Some(2), Some(6)));
    }
}
