//! What a sensor on fork and shock recorded over a ride: how much travel was used, how fast, and where the bike sat.
//!
//! ```text
//! x̄ = (1/T)·∫ z dt                                      mean travel, the dynamic sag
//! τ = ½ + Σ_{k=1}^{W} ρ_k,  W ≥ 5·τ(W)                   integrated autocorrelation time, in cells of the clock
//! u²(x̄) = 2·τ·s²/N·(1 + (2·W + 1)/N)                     N cells are worth N/(2·τ) independent ones
//! mean(F_springs) + mean(MR·D(MR·z′)) = W                 mean balance of forces over a ride
//! ```
//!
//! **Method.** Samples come in pieces of any length and at any rate; what is kept does not grow with them, and the same samples
//! give the same bits however they were cut. Strokes become travels through the linkage (or the fork's rake). Between two samples
//! travel is a straight line, so that shares of time do not depend on the rate. Means over cells of a clock of 50 ms make the
//! series whose autocorrelation up to 30 s says how sure the mean is; the window is Sokal's. Speeds are differences over at least
//! 5 ms. Over a ride the mean acceleration is nothing, and what springs and damper hold on average is the load: the
//! travel at which that load rests is the [`DynamicSag`], one more reading of a sag, with an error of its own.
//!
//! **Assumptions.** The sensor follows the stroke; its zero is full extension. Mean acceleration is nothing (a ride that begins
//! and ends at rest), the road is level on average, and drag, drive and braking shift less load than is stated with the sag
//! ([`LOAD_SHIFT`], an estimate, no source). Jumps belong to it: in the air an end holds nothing, and more when it lands. Friction
//! is taken to be alike both ways. Springs work fast about the mean travel. Where the log is too short for its own autocorrelation
//! no uncertainty is given, and no sag.
//!
//! References: A. Sokal, 'Monte Carlo methods in statistical mechanics', in *Functional Integration* (1997), 3; U. Wolff, 'Monte
//! Carlo errors with less errors', Computer Physics Communications 156 (2004) 143.

mod end;
mod found;
mod histogram;
mod recorder;
mod sag;
mod series;

pub use end::LogSensor;
pub use found::{Balance, EndTravel, TravelLog};
pub use histogram::Histogram;
pub use recorder::TravelRecorder;
pub use sag::{DynamicSag, LOAD_SHIFT};

/// What a log cannot say.
pub const LIMITS: [&str; 4] = [
    "A sensor is believed: a slipped mount or a wrong zero moves every number. Read it once with the wheel off the ground.",
    "Speeds are differences over 5 ms or more: shorter strokes are smoothed, and noise of the sensor shows as speed.",
    "A bottoming is travel at its end. How hard the metal was hit, a sensor of stroke does not say.",
    "The mean is that of this ride, on this ground, at this pace. Wind, slopes and a seated rider are in it.",
];

#[cfg(test)]
mod tests;
