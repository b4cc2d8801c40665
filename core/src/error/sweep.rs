//! What can be wrong with a sweep as a whole; what is wrong with one of its designs is said of that design.

use thiserror::Error;

use super::nearest::did_you_mean;

/// A sweep that cannot be carried out as asked.
#[derive(Debug, Clone, PartialEq, Error)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub enum SweepError {
    /// Nothing is varied, or nothing is asked.
    #[error("{field}: found none, wanted {wanted}")]
    Empty {
        /// What there is none of.
        field: &'static str,
        /// What would do.
        wanted: &'static str,
    },
    /// An address at which a bike holds nothing that can be varied.
    #[error("{address}: found {found}, wanted {wanted}")]
    Address {
        /// The address.
        address: String,
        /// What stands there.
        found: String,
        /// What would do.
        wanted: String,
    },
    /// A value that an address does not take.
    #[error("{address}: found `{found}`, {why}")]
    Value {
        /// The address.
        address: String,
        /// The value.
        found: String,
        /// Why not.
        why: String,
    },
    /// Values that a scheme cannot use.
    #[error("{address}: found {found}, wanted {wanted} for the scheme `{scheme}`")]
    Levels {
        /// The address.
        address: String,
        /// What was given.
        found: String,
        /// What would do.
        wanted: String,
        /// The scheme.
        scheme: &'static str,
    },
    /// A count that a sweep cannot have.
    #[error("{field}: found {found}, wanted {wanted}")]
    Count {
        /// The field at fault.
        field: &'static str,
        /// What was found.
        found: String,
        /// What would do.
        wanted: String,
    },
    /// An output that is none.
    #[error("outputs: there is no `{found}`{} (outputs: {wanted})", did_you_mean(suggestion.as_deref()))]
    Output {
        /// Name found.
        found: String,
        /// Names that would do.
        wanted: String,
        /// A likely spelling.
        suggestion: Option<String>,
    },
    /// A scheme that is none.
    #[error("scheme: found `{found}`, wanted {wanted}")]
    Scheme {
        /// Name found.
        found: String,
        /// Names that would do.
        wanted: String,
    },
    /// No design that was looked at can be made.
    #[error("none of the {looked_at} designs looked at can be made; the first: {why}")]
    NoDesign {
        /// Designs looked at.
        looked_at: usize,
        /// What is wrong with the first of them.
        why: String,
    },
    /// An output that no design looked at has.
    #[error("outputs: none of the {looked_at} designs looked at has `{output}`: {why}")]
    NoAnswer {
        /// The output.
        output: String,
        /// Designs looked at.
        looked_at: usize,
        /// Why the first of them has none.
        why: String,
    },
    /// An end that rests on one of its stops.
    #[error("the {end} end rests on its stop under `{load}`")]
    OnStop {
        /// The end.
        end: crate::record::End,
        /// The load.
        load: String,
    },
}
