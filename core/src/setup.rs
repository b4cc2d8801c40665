//! From readings to decisions, with the uncertainty of every answer.
//!
//! * [`least_squares`]: the solver under the fit.
//! * [`probability`]: normal and χ² probabilities.

mod advice;
mod end;
mod finding;
mod fit;
pub mod least_squares;
mod model;
mod monte_carlo;
mod next_reading;
mod posterior;
mod predict;
pub mod probability;
mod readings;
mod residual;
pub mod sheet;

pub use advice::{Advice, EndAdvice, Outcome, Reach, SpringChoice, Today, Turns, Verdict, WantedRate};
pub use finding::{Finding, Severity, Slip};
pub use fit::{ChiSquare, Fit, FittedLoad, FromReadings};
pub use monte_carlo::{MonteCarlo, Sampled};
pub use next_reading::{NextReading, Task};
pub use readings::SagRow;
pub use residual::ReadingCheck;
pub use sheet::Sheet;
