//! A check against the outside: it asserts, and where `WHEELRATE_VALIDATION` names a file it leaves a row there, from which
//! the page of validation is made.
//!
//! A [`Tolerance`] is a number with its reason. What is checked is the expression itself, or the words given with it.

use std::fmt::Display;
use std::fs::OpenOptions;
use std::io::Write;
use std::panic::Location;

use serde_json::json;

/// How far found and expected may lie apart, and why.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Tolerance {
    relative: bool,
    least: f64,
    most: f64,
    reason: &'static str,
}

impl Tolerance {
    /// Of `found/expected − 1`.
    pub(crate) const fn relative(most: f64, reason: &'static str) -> Self {
        Self { relative: true, least: 0.0, most, reason }
    }

    /// Of `found − expected`.
    pub(crate) const fn absolute(most: f64, reason: &'static str) -> Self {
        Self { relative: false, least: 0.0, most, reason }
    }

    /// Of `found/expected − 1`, which has to be at least so much as well: what is said to be off is off.
    pub(crate) const fn off_by(least: f64, most: f64, reason: &'static str) -> Self {
        Self { relative: true, least, most, reason }
    }

    /// So many times as much, where a result is that much larger than what the tolerance is stated for.
    pub(crate) const fn times(self, scale: f64) -> Self {
        Self { least: self.least * scale, most: self.most * scale, ..self }
    }
}

/// Checks that a number found agrees with the one expected: `agree!(found, expected, tolerance)`; with words for what is
/// checked after them, as for `format!`, where the expression does not say it.
macro_rules! agree {
    ($found:expr, $expected:expr, $tolerance:expr $(,)?) => {
        $crate::outside::check(&stringify!($found), $found, $expected, $tolerance)
    };
    ($found:expr, $expected:expr, $tolerance:expr, $($what:tt)+) => {
        $crate::outside::check(&format_args!($($what)+), $found, $expected, $tolerance)
    };
}
pub(crate) use agree;

#[track_caller]
pub(crate) fn check(what: &dyn Display, found: f64, expected: f64, tolerance: Tolerance) {
    let off = if tolerance.relative { found / expected - 1.0 } else { found - expected };
    if let Some(path) = std::env::var_os("WHEELRATE_VALIDATION") {
        let place = Location::caller();
        let thread = std::thread::current();
        let row = json!({
            "file": place.file(), "line": place.line(), "test": thread.name(), "what": what.to_string(),
            "found": found, "expected": expected, "deviation": off, "tolerance": tolerance.most,
            "relative": tolerance.relative, "reason": tolerance.reason,
        });
        // One write per row: rows of tests side by side do not mix.
        let mut file = OpenOptions::new().create(true).append(true).open(path).unwrap();
        file.write_all(format!("{row}\n").as_bytes()).unwrap();
    }
    let Tolerance { least, most, reason, .. } = tolerance;
    assert!(
        (least..=most).contains(&off.abs()),
        "{what}: found {found:e}, expected {expected:e}, off by {off:e}; at most {most:e} ({reason})"
    );
}
