//! The bike that ships with the library, to try everything on. Invented: a trail bike of a mountain rescue team whose
//! rider carries a medical pack.

/// The demo bike file, TOML.
pub const PATROL: &str = include_str!("../demo/patrol.toml");

/// The least that gives a first answer: weights, travels, label rates, shock stroke and sag at both ends. The rest is assumed.
pub const LEAST: &str = include_str!("../demo/least.toml");
