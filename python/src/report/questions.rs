//! What is asked of a person who starts a file.

use pyo3::prelude::*;
use wheelrate::report::questions::{self as asked, Holds, QUESTIONS};

use crate::errors::{raise, run};
use crate::plain::Text;
use crate::value::getters;

/// A question to whoever starts a bike file.
///
/// Parameters
/// ----------
/// name : str
///     Its short name, one of those of `questions`.
#[pyclass(module = "wheelrate", frozen, eq, weakref)]
#[derive(Clone, PartialEq)]
pub(crate) struct Question(asked::Question);

getters! {
    Question {
        /// The key of the file that the answer goes under.
        key: &'static str = |question| question.0.key;
        /// Its short name, for a command line.
        name: &'static str = |question| question.0.name;
        /// What is asked.
        ask: &'static str = |question| question.0.ask;
        /// Where the answer is found, and what it is worth.
        help: &'static str = |question| question.0.help;
        /// The kind of quantity that it wants; None for words.
        kind: Option<&'static str> = |question| match question.0.holds {
            Holds::Quantity(kind, _) => Some(kind.name),
            Holds::Words => None,
        };
    }
}

#[pymethods]
impl Question {
    #[new]
    fn new(py: Python<'_>, name: Text) -> PyResult<Self> {
        let found = QUESTIONS.iter().find(|question| question.name == &*name).copied().map(Self);
        let known = || QUESTIONS.iter().map(|question| question.name).collect::<Vec<_>>().join(", ");
        found.ok_or_else(|| raise(py, "BikeError", (format!("name: found `{name}`, wanted one of {}", known()),)))
    }
    /// The value that an answer means, as the file takes it.
    ///
    /// Parameters
    /// ----------
    /// answer : str
    ///     As it is said: ``"5.6 kg"`` of a spring.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> [spring] = [one for one in wr.questions() if one.name == "rear-spring"]
    /// >>> spring.hear("5,6 kg")
    /// '5.6 kgf/mm'
    fn hear(&self, py: Python<'_>, answer: Text) -> PyResult<String> {
        run(py, || self.0.hear(&answer))
    }
    fn __getnewargs__(&self) -> (&'static str,) {
        (self.0.name,)
    }
    fn __hash__(&self) -> u64 {
        crate::value::hash(&self.0.name)
    }
    fn __repr__(&self) -> String {
        format!("Question({:?}: {})", self.0.key, self.0.ask)
    }
}

/// What is asked of a person who starts a bike file, in order of worth.
///
/// Returns
/// -------
/// list of Question
#[pyfunction]
#[pyo3(signature = () -> "list[Question]")]
pub(crate) fn questions() -> Vec<Question> {
    QUESTIONS.iter().copied().map(Question).collect()
}
