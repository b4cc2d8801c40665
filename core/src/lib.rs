//! Spring rates and motion ratios of motorcycle suspension, computed from the bike itself.
//!
//! # The map, in the order data flows
//!
//! | step | module |
//! |---|---|
//! | a text with a unit becomes a quantity | [`units`] |
//! | what a person wrote down: readings, targets, springs on sale | [`record`] |
//! | a shock linkage: points and bodies, or a measured table, to motion ratio | [`linkage`], many at once: [`sweep`] |
//! | springs, stacks, stops | [`spring`] |
//! | sealed gas: fork air, reservoirs, altitude and temperature | [`gas`] |
//! | put together along one axis | [`fork`], [`shock`], through one trait: [`axial`] |
//! | as the wheel feels it: force, rate, energy over travel | [`wheel`] |
//! | what acts in motion only: force over shaft speed | [`damper`] |
//! | scales: masses and sprung loads | [`mass`] |
//! | the whole bike: sag, settling, steering geometry, ride, landing | [`bike`] |
//! | damping ratios at the wheels and of the modes | [`damping`] |
//! | what roughness makes of it: travel, tyre force, comfort, in a spectrum and in time | [`road`] |
//! | readings to rate, preload and friction | [`infer`] |
//! | springs weighed, advice, plan | [`decide`] |
//! | sets of readings in time | [`history`] |
//! | sentences, tables, the sheet | [`report`] |
//! | the bike file, text to bike and back | [`mod@file`] |
//! | what can go wrong | [`error`] |
//!
//! # From a file to a decision
//!
//! ```
//! use wheelrate::Bike;
//! use wheelrate::units::{Quantity, UnitSystem, WheelRate, parse};
//! use wheelrate::wheel::Wheel;
//!
//! let bike = Bike::from_toml(wheelrate::demo::PATROL)?;
//! let rate: WheelRate = bike.rear()?.wheel_rate(parse("102 mm")?)?;
//! assert!((rate.in_unit("N/mm")? - 8.4).abs() < 0.1);
//! for end in &bike.advise()?.ends {
//!     println!("{}: {}", end.end, end.headline(UnitSystem::Metric));
//! }
//! # Ok::<(), wheelrate::Error>(())
//! ```
//!
//! # A part on its own
//!
//! Every part can be built and asked without a file:
//!
//! ```
//! use wheelrate::units::{MotionRatio, MotionRatioSlope, Quantity, SpringRate, parse};
//!
//! let spring = SpringRate::of(52.0, "N/mm")?;
//! let wheel = spring.at_wheel(MotionRatio::of(0.377, "shock/wheel")?, parse("2.8 kN")?, MotionRatioSlope::of(0.33, "1/m")?);
//! assert_eq!(format!("{:.2}", wheel.in_unit("N/mm")?), "8.31");
//! # Ok::<(), wheelrate::error::UnitError>(())
//! ```
//!
//! # Conventions
//!
//! x forward, z up (ISO 8855 from the side). Travel is vertical, at the wheel; stroke is along the fork or shock; both count
//! from full extension, positive in compression. A motion ratio is shock per wheel, a leverage ratio wheel per shock. Forces
//! are positive when they push the end open.
//!
//! # Features
//!
//! `serde` (default): every public type as text with units, and the bike file. `rayon` (default): sweeps on all cores.
//! `landing` (default): landings and steps in time, by the crate `differential-equations`.
#![forbid(unsafe_code)]
#![cfg_attr(test, allow(clippy::unwrap_used, clippy::expect_used, clippy::panic))]

pub mod axial;
pub mod bike;
pub mod compare;
pub mod damper;
pub mod damping;
pub mod decide;
pub mod demo;
#[cfg(feature = "serde")]
pub mod edit;
pub mod error;
#[cfg(feature = "serde")]
pub mod file;
pub mod fork;
pub mod friction;
pub mod gas;
#[cfg(feature = "serde")]
pub mod history;
pub mod infer;
#[cfg(feature = "serde")]
pub mod keys;
pub mod linkage;
pub mod log;
pub mod mass;
mod parallel;
pub mod record;
pub mod report;
pub mod road;
pub mod shock;
mod smooth;
mod solve;
pub mod spring;
mod strut;
pub mod sweep;
pub mod travel_log;
pub mod units;
#[cfg(feature = "serde")]
mod value;
pub mod wheel;
pub mod work;

pub use bike::Bike;
pub use error::{Error, Result};
