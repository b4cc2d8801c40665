//! Errors of the core as Python exceptions, and the one wrapper around its work.
//!
//! The classes live in `wheelrate/errors.py`. An error of the core is data (topic, case, fields), so the translation is
//! the same for all of them: the topic names the class, the fields become attributes, and beside them what every
//! case says: `field`, `found`, `wanted`, `suggestion`.

use std::any::Any;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use wheelrate::Error;
use wheelrate::work::{Halt, Progress};

/// How often signals are looked for while work goes on: sooner than a person notices.
const LISTENED: Duration = Duration::from_millis(20);
/// Work that takes longer than this says how far it is.
const SHORT: Duration = Duration::from_secs(1);
/// Stack of a thread that works: as large as that of the main one.
const STACK: usize = 8 << 20;

/// What came of some work, or the panic that ended it.
type Outcome<T, E> = Result<Result<T, E>, Box<dyn Any + Send>>;

/// Does the work of the core without the GIL. Errors become exceptions, so does a panic, and Ctrl-C is heard.
pub(crate) fn run<T: Send, E: Into<Error> + Send>(
    py: Python<'_>,
    work: impl FnOnce() -> Result<T, E> + Send,
) -> PyResult<T> {
    let outcome = py.detach(|| catch_unwind(AssertUnwindSafe(work)));
    py.check_signals()?;
    taken(py, outcome)
}

/// Rows of a file up to which an end is answered in milliseconds.
const FEW_ROWS: usize = 200;

/// As [`run`] for what a bike is asked; as [`run_long`] where it has so many readings, changes, springs on sale and scenarios that
/// the answer may take longer than a person waits. The thread would cost an ordinary one 20 µs at best.
pub(crate) fn run_on<T: Send, E: Into<Error> + Send>(
    py: Python<'_>,
    bike: &wheelrate::Bike,
    work: impl FnOnce() -> Result<T, E> + Send,
) -> PyResult<T> {
    let parts = bike.parts();
    let on_sale = parts.on_sale.front.len() + parts.on_sale.rear.len();
    let rows = parts.readings.len() + parts.changes.len() + on_sale + parts.scenarios.len();
    if rows > FEW_ROWS { run_long(py, work) } else { run(py, work) }
}

/// As [`run`], for what may take longer than a person waits: it goes on in a thread of its own, while this one listens for Ctrl-C
/// and says how far the work is.
pub(crate) fn run_long<T: Send, E: Into<Error> + Send>(
    py: Python<'_>,
    work: impl FnOnce() -> Result<T, E> + Send,
) -> PyResult<T> {
    let (halt, done, here) = (Halt::new(), AtomicBool::new(false), thread::current());
    let outcome = thread::scope(|scope| {
        let started = Instant::now();
        let working = || {
            let outcome = catch_unwind(AssertUnwindSafe(|| halt.during(work)));
            done.store(true, Ordering::Release);
            here.unpark();
            outcome
        };
        let worker = thread::Builder::new().stack_size(STACK).spawn_scoped(scope, working)?;
        let mut heard = Ok(());
        while !done.load(Ordering::Acquire) {
            py.detach(|| thread::park_timeout(LISTENED));
            if heard.is_ok() {
                let far = halt.progress().filter(|_| started.elapsed() > SHORT);
                heard = py.check_signals().and_then(|()| far.map_or(Ok(()), |far| report(py, far)));
                if heard.is_err() {
                    halt.stop();
                }
            }
        }
        let outcome = py.detach(|| worker.join());
        heard.map(|()| outcome.and_then(|outcome| outcome))
    })?;
    // Nothing stopped it but what was heard, and that is raised already.
    let stopped = || raise(py, "InternalError", ("the work was stopped by nobody",));
    match outcome {
        Ok(Ok(result)) => taken(py, Ok(result)),
        Ok(Err(_)) => Err(stopped()),
        Err(panic) => taken::<T, E>(py, Err(panic)),
    }
}

/// Shows how far some work is, to whoever asked for it.
fn report(py: Python<'_>, far: Progress) -> PyResult<()> {
    let shown = py.import("wheelrate._progress")?.getattr("show")?;
    if shown.is_none() { Ok(()) } else { shown.call1((far.done, far.total)).map(drop) }
}

/// The result, its error as an exception.
fn taken<T, E: Into<Error>>(py: Python<'_>, outcome: Outcome<T, E>) -> PyResult<T> {
    match outcome {
        Ok(result) => result.map_err(|error| exception(py, &error.into(), None)),
        Err(panic) => {
            let reason = panic.downcast_ref::<String>().map(String::as_str);
            let reason = reason.or_else(|| panic.downcast_ref::<&str>().copied()).unwrap_or("no reason given");
            Err(raise(py, "InternalError", (format!("a fault of wheelrate itself, please report it: {reason}"),)))
        }
    }
}

/// The exception of an error, with the name of the argument at fault in front when the error does not know it.
pub(crate) fn exception(py: Python<'_>, error: &Error, argument: Option<&str>) -> PyErr {
    // Serialising plain enums of text and numbers does not fail; if it did, the message would still arrive.
    let text = |data: serde_json::Result<String>| data.unwrap_or_else(|_| "{}".to_owned());
    let [case, said] = [serde_json::to_string(error), serde_json::to_string(&error.details())].map(text);
    let made = py.import("json").and_then(|json| {
        let read = |data: String| json.call_method1("loads", (data,));
        classes(py)?.call_method1("_from_core", (error.to_string(), read(case)?, read(said)?, argument))
    });
    made.map_or_else(|failure| failure, PyErr::from_value)
}

/// An exception made here, by the name of its class.
pub(crate) fn raise<'py>(py: Python<'py>, class: &str, arguments: impl pyo3::call::PyCallArgs<'py>) -> PyErr {
    classes(py)
        .and_then(|module| module.call_method1(class, arguments))
        .map_or_else(|failure| failure, PyErr::from_value)
}

pub(crate) fn classes(py: Python<'_>) -> PyResult<&Bound<'_, PyModule>> {
    static CLASSES: PyOnceLock<Py<PyModule>> = PyOnceLock::new();
    CLASSES.get_or_try_init(py, || py.import("wheelrate.errors").map(Bound::unbind)).map(|module| module.bind(py))
}
