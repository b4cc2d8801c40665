//! Faults of a bike file.

use core::fmt;

/// One fault of a file: where, what was found, what would do.
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Fault {
    /// Line, counted from 1; `None` where there is no text (a change made in code).
    pub line: Option<usize>,
    /// Column in characters, counted from 1.
    pub column: Option<usize>,
    /// Path of the key at fault, e.g. `front.fork.leg[0].spring.rate`; rows are counted from 0.
    pub key_path: String,
    /// What was found.
    pub found: String,
    /// What would do.
    pub wanted: String,
    /// All of it in one sentence.
    pub message: String,
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

/// Every fault of a file, in the order of the text. Never empty.
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
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
