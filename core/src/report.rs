//! Everything that a person reads: sentences, tables, the sheet. What is computed elsewhere is put into words here, and
//! nothing is computed here but its layout.

pub(crate) mod advice;
mod assumptions;
mod design;
pub(crate) mod direction;
pub(crate) mod entry;
pub(crate) mod headline;
#[cfg(feature = "serde")]
pub(crate) mod history;
#[cfg(feature = "serde")]
pub(crate) mod history_page;
mod oil;
pub(crate) mod plan;
pub mod questions;
pub mod sheet;
pub mod taking;
pub(crate) mod words;

#[cfg(feature = "serde")]
pub use history_page::{HistoryCheck, HistoryPage, HistoryPoint};
pub use sheet::Sheet;

#[cfg(test)]
mod tests;
