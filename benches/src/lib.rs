//! Peers to measure the engine against: the same physics, written by hand for one case.

pub mod simpson;
pub mod six_point;
