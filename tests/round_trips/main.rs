//! What is written reads back as the same thing.

mod units;
