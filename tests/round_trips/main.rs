//! What is written reads back as the same thing.

mod answers;
mod bike_file;
#[path = "../bikes.rs"]
mod bikes;
mod units;
