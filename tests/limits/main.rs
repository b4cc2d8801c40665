//! Files that nobody writes: how much of them is read, how many faults are said, how long a message is; and the work that they
//! cause, counted rather than timed. `cargo run --release -p wheelrate-tests --example measure_limits` times them at 10 MB.

mod faults;
#[path = "../nasty.rs"]
mod nasty;
mod stopping;
