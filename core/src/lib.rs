//! # wheelrate
//!
//! Spring rates and motion ratios of motorcycle suspension, computed from the bike itself.
#![forbid(unsafe_code)]
#![cfg_attr(test, allow(clippy::unwrap_used, clippy::expect_used, clippy::panic))]

pub mod axial;
pub mod bike;
pub mod demo;
pub mod error;
#[cfg(feature = "serde")]
pub mod file;
pub mod fork;
pub mod friction;
pub mod gas;
pub mod linkage;
pub mod mass;
pub mod record;
pub mod setup;
pub mod shock;
pub mod spring;
mod strut;
pub mod sweep;
pub mod units;
pub mod wheel;

pub use bike::Bike;
pub use error::{Error, Result};
