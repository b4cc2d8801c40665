//! What can go wrong between readings and advice.

use thiserror::Error;

use crate::record::End;
use crate::work::Stopped;

/// Readings that cannot be taken together, or parts that are missing for an answer.
#[derive(Debug, Clone, PartialEq, Error)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub enum SetupError {
    /// A parameter that no residual depends on.
    #[error(
        "the least-squares equations are singular: a parameter does not show in any residual, or two cannot be distinguished"
    )]
    Singular,
    /// The search ran out of steps.
    #[error(
        "the fit did not settle in {steps} steps (weighted sum of squares {sum_of_squares:.3}): either the readings and the bike do not describe the same machine (check units and loads), or a reading lies just where a spring or a stop comes into contact (read again under another load)"
    )]
    NotConverged {
        /// Steps tried.
        steps: usize,
        /// Weighted sum of squares reached.
        sum_of_squares: f64,
    },
    /// The fit did not settle, and a part was measured with a reading that does not go with its others.
    #[error(
        "{end}: {readings}[{row}]: {found} at {at} does not go with the others, which say {others} there, and no fit settles \
         with it: read it again, or leave it out"
    )]
    MisreadPart {
        /// Which end.
        end: End,
        /// The list of the readings, by its place in the bike file.
        readings: String,
        /// Its place among them, from 0.
        row: usize,
        /// Where it was taken.
        at: String,
        /// What was read.
        found: String,
        /// What the others say there.
        others: String,
    },
    /// Loaded readings without a reading of the wheel off the ground.
    #[error(
        "{end}: readings with the wheel loaded: {loaded}, with the wheel off the ground (`load = \"none\"`): none; sag is the extended reading minus the loaded one, so take that reading too"
    )]
    NoExtendedReading {
        /// End at fault.
        end: End,
        /// Loaded readings found.
        loaded: usize,
    },
    /// Readings that contradict each other: every contradiction of the end, in one go.
    #[error("{end}: the readings contradict each other: {}", contradictions.join("; "))]
    Contradiction {
        /// End at fault.
        end: End,
        /// One sentence each, with the readings' own numbers.
        contradictions: Vec<String>,
    },
    /// A spring to fit is missing.
    #[error("{end}: there is no coil spring to fit a rate and a preload to{why}")]
    NoSpring {
        /// End at fault.
        end: End,
        /// More, starting with its own punctuation.
        why: String,
    },
    /// More distinct loads than the fit takes at once.
    #[error("{end}: {found} different loads; a fit takes up to {most}")]
    TooManyLoads {
        /// End at fault.
        end: End,
        /// Loads found.
        found: usize,
        /// Most taken.
        most: usize,
    },
    /// A number of a request outside its range.
    #[error("{field}: found {found}, wanted {wanted}")]
    Request {
        /// What was asked.
        field: &'static str,
        /// Value found.
        found: String,
        /// What would do.
        wanted: String,
    },
    /// Something the analysis needs is not in the bike.
    #[error("{end}: {what} is missing; {wanted}")]
    Missing {
        /// End at fault.
        end: End,
        /// What is missing.
        what: &'static str,
        /// What would do.
        wanted: &'static str,
    },
    /// The work was stopped from outside.
    #[error(transparent)]
    Stopped(
        #[from]
        #[cfg_attr(feature = "serde", serde(skip))]
        Stopped,
    ),
}
