//! From readings to decisions, with the uncertainty of every answer.
//!
//! * [`least_squares`]: the solver under the fit.
//! * [`probability`]: normal and χ² probabilities.

pub mod least_squares;
mod model;
mod posterior;
pub mod probability;
mod readings;
