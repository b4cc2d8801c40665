//! What comes of a stretch of designs: columns of numbers and words.

use core::ops::Range;

use crate::units::Kind;

/// A stretch of designs with their answers.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Chunk {
    /// Indices of the designs.
    pub designs: Range<u64>,
    /// What was varied, one per axis, then what was asked, one per output.
    pub columns: Vec<Column>,
    /// Designs that lack an answer, and why.
    pub reasons: Vec<(u64, String)>,
}

/// One column of a chunk.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Column {
    /// The address, or the name of the output.
    pub name: String,
    /// The kind of quantity; `None` for plain numbers and words.
    pub kind: Option<&'static Kind>,
    /// Values of each design: more than one for a row of values.
    pub width: usize,
    /// What is in it.
    pub values: Values,
}

/// What is in a column.
#[derive(Debug, Clone, PartialEq)]
pub enum Values {
    /// Numbers, quantities in SI units; NaN where a design has no answer.
    Numbers(Vec<f64>),
    /// Anything else, as it is written.
    Words(Vec<String>),
}

impl Column {
    /// The numbers; `None` for words.
    #[must_use]
    pub fn numbers(&self) -> Option<&[f64]> {
        match &self.values {
            Values::Numbers(numbers) => Some(numbers),
            Values::Words(_) => None,
        }
    }
}

impl Chunk {
    /// The column of an axis or an output.
    #[must_use]
    pub fn column(&self, name: &str) -> Option<&Column> {
        self.columns.iter().find(|column| column.name == name)
    }
}
