//! What must hold whatever the numbers are.

#[path = "../bikes.rs"]
mod bikes;
mod calibration;
mod decisions;
mod demo_truth;
mod geometry;
mod history;
mod little_known;
mod pivots;
mod wheel;
