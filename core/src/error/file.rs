//! Faults of a bike file, or of an edit.

use core::fmt;
use core::str::FromStr;

use super::{Address, shortened};

/// One fault: where, what was found, what would do.
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Fault {
    /// Line, counted from 1; `None` where there is no text (a change made in code).
    pub line: Option<usize>,
    /// Column in characters, counted from 1.
    pub column: Option<usize>,
    /// The key at fault, e.g. `front.fork.leg[0].spring.rate` or `reading 2.sag`.
    pub key_path: Address,
    /// What was found.
    pub found: String,
    /// What would do.
    pub wanted: String,
    /// What was probably meant, where something is near.
    pub suggestion: Option<String>,
    /// What was found and what would do, in one sentence.
    pub message: String,
}

impl Fault {
    /// An address that leads nowhere, from this step on.
    pub(crate) fn nowhere(key_path: Address, step: &str) -> Self {
        let step = shortened(step);
        let wanted = "keys joined by points, rows in brackets: `front.fork.leg[0].spring.rate`".to_owned();
        Self {
            line: None,
            column: None,
            key_path: key_path.shortened(),
            message: format!("the path leads nowhere at `{step}`, wanted {wanted}"),
            found: step,
            wanted,
            suggestion: None,
        }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let (Some(line), Some(column)) = (self.line, self.column) {
            write!(formatter, "line {line}, column {column}: ")?;
        }
        if !self.key_path.is_empty() {
            write!(formatter, "{}: ", self.key_path)?;
        }
        formatter.write_str(&self.message)
    }
}

/// The faults of a file, in the order of the text. Never empty; of more than [`MOST_FAULTS`](crate::error::MOST_FAULTS) the last
/// says how many more there are.
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct FileError {
    /// The faults.
    pub faults: Vec<Fault>,
}

impl fmt::Display for FileError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (at, fault) in self.faults.iter().enumerate() {
            if at > 0 {
                formatter.write_str("\n")?;
            }
            write!(formatter, "{fault}")?;
        }
        Ok(())
    }
}

impl core::error::Error for FileError {}

impl FromStr for Address {
    type Err = FileError;
    fn from_str(text: &str) -> Result<Self, FileError> {
        Self::parse(text).ok_or_else(|| FileError { faults: vec![Fault::nowhere(Self::default(), text)] })
    }
}
