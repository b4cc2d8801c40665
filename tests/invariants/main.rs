//! What must hold whatever the numbers are.

#[path = "../bikes.rs"]
mod bikes;
mod calibration;
mod demo_truth;
mod setup;
mod wheel;
