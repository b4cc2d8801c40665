//! # wheelrate
//!
//! Spring rates and motion ratios of motorcycle suspension, computed from the bike itself.
#![forbid(unsafe_code)]
#![cfg_attr(test, allow(clippy::unwrap_used, clippy::expect_used, clippy::panic))]

pub mod error;
pub mod mass;
pub mod record;
pub mod setup;
pub mod units;

pub use error::{Error, Result};
