//! Long work: stopped from another thread, and asked how far it is.
//!
//! Whoever starts something long does so under a [`Halt`]; a copy of it, anywhere, stops the work or asks for its progress. The
//! long loops of the library (draws, simulated garages, designs of a sweep, sets of a log) look at the halt of their thread
//! once a round, which costs a nanosecond; work on all cores looks at that of the thread which shared it out. What was stopped
//! gives nothing: half an answer is none.
//!
//! ```
//! use wheelrate::work::{Halt, Stopped};
//! let halt = Halt::new();
//! assert_eq!(halt.during(|| 2 + 2), Ok(4));
//! let elsewhere = halt.clone();
//! std::thread::spawn(move || elsewhere.stop()).join().ok();
//! assert_eq!(halt.during(|| 2 + 2), Err(Stopped));
//! ```

use core::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::cell::RefCell;
use std::sync::Arc;

use thiserror::Error;

/// The work was stopped before it was done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[error("stopped before it was done")]
pub struct Stopped;

/// How far some work is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// Rounds done.
    pub done: u64,
    /// Rounds in all.
    pub total: u64,
}

/// What stops work that runs under it, from any thread; copies of it are one.
#[derive(Debug, Clone, Default)]
pub struct Halt(Arc<State>);

#[derive(Debug, Default)]
struct State {
    stopped: AtomicBool,
    done: AtomicU64,
    total: AtomicU64,
}

std::thread_local! {
    static CURRENT: RefCell<Option<Halt>> = const { RefCell::new(None) };
}

impl Halt {
    /// One that stops nothing yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Stops what runs under it, and what will.
    pub fn stop(&self) {
        self.0.stopped.store(true, Ordering::Relaxed);
    }

    /// Was it stopped?
    #[must_use]
    pub fn is_stopped(&self) -> bool {
        self.0.stopped.load(Ordering::Relaxed)
    }

    /// How far the work under it is; `None` before anything long began.
    #[must_use]
    pub fn progress(&self) -> Option<Progress> {
        let [done, total] = [&self.0.done, &self.0.total].map(|count| count.load(Ordering::Relaxed));
        (total > 0).then_some(Progress { done: done.min(total), total })
    }

    /// Does some work under it, on this thread and on those that it is shared out to.
    ///
    /// # Errors
    /// [`Stopped`], whatever came of the work by then.
    pub fn during<R>(&self, work: impl FnOnce() -> R) -> Result<R, Stopped> {
        if self.is_stopped() {
            return Err(Stopped);
        }
        let found = under(Some(self), work);
        if self.is_stopped() { Err(Stopped) } else { Ok(found) }
    }
}

/// The halt of this thread.
#[cfg(any(feature = "rayon", test))]
pub(crate) fn current() -> Option<Halt> {
    CURRENT.with_borrow(Clone::clone)
}

/// Work under a halt; the former one comes back after it, after a panic as well.
pub(crate) fn under<R>(halt: Option<&Halt>, work: impl FnOnce() -> R) -> R {
    struct Before(Option<Halt>);
    impl Drop for Before {
        fn drop(&mut self) {
            CURRENT.set(self.0.take());
        }
    }
    let _before = Before(CURRENT.replace(halt.cloned()));
    work()
}

/// So many rounds are to come.
pub(crate) fn expects(rounds: usize) {
    CURRENT.with_borrow(|halt| {
        if let Some(Halt(state)) = halt {
            state.total.fetch_add(rounds as u64, Ordering::Relaxed);
        }
    });
}

/// Is the work to go on?
pub(crate) fn goes_on() -> Result<(), Stopped> {
    CURRENT.with_borrow(|halt| if halt.as_ref().is_some_and(Halt::is_stopped) { Err(Stopped) } else { Ok(()) })
}

/// One more round is begun: `Err` where it is not to be.
pub(crate) fn round() -> Result<(), Stopped> {
    CURRENT.with_borrow(|halt| match halt {
        Some(halt) if halt.is_stopped() => Err(Stopped),
        Some(Halt(state)) => {
            state.done.fetch_add(1, Ordering::Relaxed);
            Ok(())
        }
        None => Ok(()),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parallel::each;

    #[test]
    fn a_halt_reaches_the_threads_that_work_is_shared_out_to() {
        let halt = Halt::new();
        let items: Vec<usize> = (0..1_000).collect();
        let made = halt.during(|| {
            expects(items.len());
            each(&items, |&item| {
                if item == 500 {
                    halt.stop();
                }
                round().is_ok()
            })
        });
        assert_eq!(made, Err(Stopped));
        let progress = halt.progress().unwrap();
        assert!(progress.total == 1_000 && progress.done < 1_000, "{progress:?}");
    }

    #[test]
    fn outside_of_a_halt_nothing_stops() {
        assert_eq!((round(), current().is_none()), (Ok(()), true));
        let (outer, inner) = (Halt::new(), Halt::new());
        let found = outer.during(|| {
            let caught = std::panic::catch_unwind(|| inner.during(|| panic!("as a part of somebody's own may")));
            assert!(caught.is_err());
            expects(3);
        });
        assert_eq!(found, Ok(()));
        assert_eq!((outer.progress(), inner.progress()), (Some(Progress { done: 0, total: 3 }), None));
        assert!(current().is_none());
    }
}
