//! Where a reader stands: the steps that led there, and what stands there. The path of every fault comes from here.

use super::faults::{Faults, Unknown, fault};
use super::shape::{Shape, Table};
use crate::error::{Address, Error, LinkageError, Step, nearest, shortened};
use crate::value::{Node, Span};

/// The part was not read; what is wrong with it has been noted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Stop;

/// Most rows of a list and most keys of a table: readings of a lifetime, and a bound on what any file costs.
pub const MOST_ROWS: usize = 10_000;

/// One step, borrowed.
#[derive(Debug, Clone, Copy)]
enum To<'a> {
    Key(&'a str),
    Row(usize),
}

/// What stands at a place.
#[derive(Debug, Clone, Copy)]
enum Stands<'a> {
    Known(Option<&'a Node>),
    /// Looked for when it is asked: most places are only named, and a table of many names is long to look through.
    Unsought,
}

/// A place in a file or in a bike.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Place<'a> {
    way: Option<(&'a Place<'a>, To<'a>)>,
    stands: Stands<'a>,
    faults: &'a Faults,
}

impl<'a> Place<'a> {
    /// The outermost place.
    pub(crate) fn root(node: Option<&'a Node>, faults: &'a Faults) -> Self {
        Self { way: None, stands: Stands::Known(node), faults }
    }

    /// The place of a key in the table here.
    pub(crate) fn key<'b>(&'b self, key: &'b str) -> Place<'b>
    where
        'a: 'b,
    {
        self.step(To::Key(key), Stands::Unsought)
    }

    /// The same, for a reader: what stands there is looked for.
    pub(super) fn look<'b>(&'b self, key: &'b str) -> Place<'b>
    where
        'a: 'b,
    {
        self.step(To::Key(key), Stands::Known(self.node().and_then(|node| node.get(key))))
    }

    /// The place of a row in the list here.
    pub(crate) fn row<'b>(&'b self, row: usize) -> Place<'b>
    where
        'a: 'b,
    {
        self.step(To::Row(row), Stands::Known(self.node().and_then(|node| node.items().get(row))))
    }

    /// The place of an entry of the table here.
    pub(super) fn entry<'b>(&'b self, key: &'b str, node: &'b Node) -> Place<'b>
    where
        'a: 'b,
    {
        self.step(To::Key(key), Stands::Known(Some(node)))
    }

    fn step<'b>(&'b self, to: To<'b>, stands: Stands<'b>) -> Place<'b>
    where
        'a: 'b,
    {
        Place { way: Some((self, to)), stands, faults: self.faults }
    }

    /// This place with something else in it.
    pub(super) fn with<'b>(&self, node: &'b Node) -> Place<'b>
    where
        'a: 'b,
    {
        Place { stands: Stands::Known(Some(node)), ..*self }
    }

    /// What stands here.
    pub(super) fn node(&self) -> Option<&'a Node> {
        match (self.stands, self.way) {
            (Stands::Known(node), _) => node,
            (Stands::Unsought, Some((outer, To::Key(key)))) => outer.node()?.get(key),
            (Stands::Unsought, _) => None,
        }
    }

    /// Is a key of the table here misspelt?
    pub(super) fn has_misspelt(&self) -> bool {
        self.faults.has_misspelt(&self.address())
    }

    /// Does a value stand here that a shape takes, whatever is in it?
    pub(super) fn holds(&self, shape: &Shape) -> bool {
        self.node().is_some_and(|node| shape.fits(&node.value))
    }

    /// Is the text around sound, so that what is missing is missing, and parts can be built?
    pub(super) fn is_readable(&self) -> bool {
        self.faults.is_readable()
    }

    /// The path to here.
    pub(crate) fn address(&self) -> Address {
        match self.way {
            None => Address::default(),
            Some((outer, To::Key(key))) => outer.address().key(key),
            Some((outer, To::Row(row))) => outer.address().row(row),
        }
    }

    /// The place in the text: of what stands here, or of what it would stand in.
    fn span(&self) -> &'a Span {
        static NONE: Span = None;
        match (self.node(), self.way) {
            (Some(node), _) => &node.span,
            (None, Some((outer, _))) => outer.span(),
            (None, None) => &NONE,
        }
    }

    /// Notes what was found here and what would do.
    pub(crate) fn say(&self, found: impl Into<String>, wanted: impl Into<String>) -> Stop {
        let (found, wanted) = (found.into(), wanted.into());
        let message = format!("found {found}, wanted {wanted}");
        self.note(found, wanted, None, message)
    }

    /// As [`say`](Self::say), in other words.
    pub(crate) fn note(
        &self,
        found: impl Into<String>,
        wanted: impl Into<String>,
        suggestion: Option<String>,
        message: impl Into<String>,
    ) -> Stop {
        if self.faults.only_counts() {
            return Stop;
        }
        let fault = fault(self.address(), found.into(), wanted.into(), suggestion, message.into());
        self.faults.add(self.span(), fault);
        Stop
    }

    /// Notes that what stands here is not what it should be.
    pub(super) fn wrong(&self, wanted: String) -> Stop {
        if self.faults.only_counts() {
            return Stop;
        }
        let (kind, found) = self.node().map_or(("nothing", String::new()), |node| (node.kind(), node.show()));
        let message = match found.as_str() {
            "" => format!("found {kind}, wanted {wanted}"),
            found => format!("found {kind} `{found}`, wanted {wanted}"),
        };
        let found = if found.is_empty() { kind.to_owned() } else { found };
        self.note(found, wanted, None, message)
    }

    /// Notes that more stands here than is read.
    pub(super) fn too_many(&self, count: usize, what: &str) -> Stop {
        self.say(format!("{count} {what}"), format!("at most {MOST_ROWS}"))
    }

    /// Notes that a key is missing in the table here.
    pub(super) fn missing(&self, key: &str, wanted: String) -> Stop {
        // It is there, and was said to be misspelt.
        if self.faults.is_misspelt(&self.address().key(key)) {
            return Stop;
        }
        if self.faults.only_counts() {
            return Stop;
        }
        let message = format!("`{key}` is missing, wanted {wanted}");
        self.key(key).note("nothing", wanted, None, message)
    }

    /// Notes a key that the table here does not have.
    pub(super) fn unknown(&self, key: &str, key_span: &Span, table: &Table) -> Stop {
        if self.faults.only_counts() {
            return Stop;
        }
        let wanted = nearest::list(table.key_names());
        let suggestion = nearest::nearest(key, table.key_names()).map(str::to_owned);
        let hint = nearest::did_you_mean(suggestion.as_deref());
        self.faults.unknown(Unknown { table: self.address(), key: key.to_owned(), meant: suggestion.clone() });
        let shown = shortened(key);
        let message = format!("unknown key `{shown}`{hint} (keys here: {wanted})");
        self.faults.add(key_span, fault(self.address().key(key), shown, wanted, suggestion, message));
        Stop
    }

    /// Notes a key that stands twice in the table here.
    pub(super) fn twice(&self, key: &str, key_span: &Span) -> Stop {
        if self.faults.only_counts() {
            return Stop;
        }
        let message = format!("`{}` is given twice, wanted once", shortened(key));
        let once = "the key once".to_owned();
        self.faults.add(key_span, fault(self.address().key(key), key.to_owned(), once, None, message));
        Stop
    }

    /// Notes steps that lead nowhere from here.
    pub(super) fn nowhere(&self, steps: &[Step]) -> Stop {
        if self.faults.only_counts() {
            return Stop;
        }
        let address: Address = self.address().steps().iter().chain(steps).cloned().collect::<Vec<_>>().into();
        let step = steps.first().or(address.steps().last()).map(ToString::to_string).unwrap_or_default();
        self.faults.add(&None, crate::error::Fault::nowhere(address, &step));
        Stop
    }

    /// Notes why something was not taken: at the field that the error names, as far as that leads from here. A value is
    /// refused once.
    pub(crate) fn refuse(&self, error: &Error) -> Stop {
        if let Error::Linkage(LinkageError::Several(faults)) = error {
            for fault in faults {
                self.refuse(&fault.clone().into());
            }
            return Stop;
        }
        let field = error.details().field.unwrap_or_default();
        self.refuse_at(&field, &field, error)
    }

    /// Notes here why something was not taken, whatever field the error names.
    pub(super) fn refuse_here(&self, error: &Error) -> Stop {
        self.refuse_as(self.address(), self.span(), self.node(), None, error)
    }

    /// As [`take`](Self::take), where a field has another name in code than its key.
    pub(crate) fn take_named<T, E: Into<Error>>(
        &self,
        made: Result<T, E>,
        (name, key): (&str, &str),
    ) -> Result<T, Stop> {
        made.map_err(|error| {
            let error = error.into();
            match error.details().field {
                Some(field) if field.steps().first() == Some(&Step::Key(name.to_owned())) => {
                    let inside = field.steps()[1..].iter().cloned();
                    let moved: Address =
                        core::iter::once(Step::Key(key.to_owned())).chain(inside).collect::<Vec<_>>().into();
                    self.refuse_at(&moved, &field, &error)
                }
                _ => self.refuse(&error),
            }
        })
    }

    /// Notes at a field why something was not taken; the error calls it so.
    fn refuse_at(&self, field: &Address, called: &Address, error: &Error) -> Stop {
        let (mut span, mut node, mut reached) = (self.span(), self.node(), 0);
        let value = Step::Key("value".to_owned());
        let here = self.address();
        // A field that begins with the key of this place was named by what this is part of.
        let outside = field.steps().first().filter(|first| here.steps().last() == Some(first));
        let inside = match outside {
            Some(first) if node.is_none_or(|node| node.at(first).is_none()) => &field.steps()[1..],
            _ => field.steps(),
        };
        for step in inside {
            match (node, node.and_then(|node| node.at(step))) {
                (_, Some(inner)) => (span, node) = (&inner.span, Some(inner)),
                // Of a range the value aimed at is its middle, which nobody wrote: its upper end stands for it.
                (Some(range), None) if *step == value => match range.get("to") {
                    Some(upper) => {
                        let at =
                            here.steps().iter().chain(&inside[..reached]).cloned().chain([Step::Key("to".to_owned())]);
                        return self.refuse_as(
                            at.collect::<Vec<_>>().into(),
                            &upper.span,
                            Some(upper),
                            Some(called),
                            error,
                        );
                    }
                    None => break,
                },
                // Made in code: there is nothing to look into.
                (None, _) => {}
                _ => break,
            }
            reached += 1;
        }
        let at: Address = here.steps().iter().chain(&inside[..reached]).cloned().collect::<Vec<_>>().into();
        // What the path says already is not said again.
        let said = at.steps().ends_with(field.steps()) || reached == 0;
        self.refuse_as(at, span, node, said.then_some(called), error)
    }

    /// Notes why what stands at an address was not taken, without the field where the address says it.
    fn refuse_as(&self, at: Address, span: &Span, node: Option<&Node>, said: Option<&Address>, error: &Error) -> Stop {
        if self.faults.only_counts() || !self.faults.first_at(&at) {
            return Stop;
        }
        let (details, sentence) = (error.details(), error.to_string());
        let head = said.map(|field| format!("{field}: "));
        let message = head.and_then(|head| sentence.strip_prefix(&head)).unwrap_or(&sentence);
        let found = details.found.or_else(|| node.map(Node::show)).unwrap_or_default();
        let wanted = details.wanted.unwrap_or_else(|| message.to_owned());
        self.faults.add(span, fault(at, found, wanted, details.suggestion, message.to_owned()));
        Stop
    }

    /// What was made of what stands here, or a note of why nothing was.
    pub(crate) fn take<T, E: Into<Error>>(&self, made: Result<T, E>) -> Result<T, Stop> {
        made.map_err(|error| self.refuse(&error.into()))
    }
}

/// Something made, or why it was not: what a method that puts one thing into another gives.
pub(crate) trait Outcome<T> {
    fn outcome(self) -> Result<T, Error>;
}

impl<T> Outcome<T> for T {
    fn outcome(self) -> Result<T, Error> {
        Ok(self)
    }
}

impl<T, E: Into<Error>> Outcome<T> for Result<T, E> {
    fn outcome(self) -> Result<T, Error> {
        self.map_err(Into::into)
    }
}
