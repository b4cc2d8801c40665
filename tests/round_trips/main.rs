//! What is written reads back as the same thing.

mod bike_file;
mod units;
