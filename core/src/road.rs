//! A bike on a road: what its springs and dampers make of roughness.
//!
//! ```text
//! G_d(n) = G_d(n₀)·(n/n₀)⁻²,  n₀ = 0.1 cycle/m          displacement spectrum of a road (ISO 8608)
//! G_d(f) = G_d(n)/v,  n = f/v                           as a wheel meets it at the speed v
//! H(ω) = (−ω²·M + iω·C + K)⁻¹·(b_f + b_r·e^(−iω·l/v))   small motion; the rear meets the road after the front
//! σ² = ∫ |H|²·G_d df                                     mean square of travel, tyre force, acceleration
//! ν = σ_ẋ/(2π·σ_x)·exp(−a²/(2·σ_x²))                     crossings of a level a in a second (Rice)
//! ```
//!
//! **Method.** The small motion about the rest under a load, exact as the modes are, with tyres, dampers and, where it is given,
//! friction. A damper that is not a straight line is replaced by the linear one that takes as much energy out of a Gaussian
//! motion of the speed that results (statistical linearisation, iterated; [`damper`](crate::damper)). A damper that is harder one
//! way also shifts the mean: the travel that is left counts from there. The chance of using all travel in a kilometre is
//! `1 − exp(−ν·t)`, crossings taken as independent. In time, one nonlinear end is integrated over a synthetic road of the same
//! spectrum, made of a seed.
//!
//! **Assumptions.** A stationary Gaussian road, the same under both wheels; tyres that touch at a point and never leave the
//! ground; the wheel rate at rest for the whole motion, so that a rate which rises bottoms less often than this says, most of all
//! where a bump stop works. Holes, steps and jumps are not in a spectrum. Where the chance of using all travel is more than some
//! per cent, simulate in time. [`LIMITS`] says it in plain words.
//!
//! **Uncertainty.** None is stated: a class of road spans a factor of two in rms ([`RoadClass::bounds`]), beside which nothing
//! else counts. Compare springs, links and dampers on one road.
//!
//! References: ISO 8608, *Mechanical vibration — Road surface profiles*; ISO 2631-1, annex A (weighting); S. O. Rice,
//! 'Mathematical analysis of random noise', Bell System Technical Journal 24 (1945) 46; E. Dahlberg, 'Parametric optimization of a
//! 1-DOF vehicle travelling on a randomly profiled road', Journal of Sound and Vibration 55 (1977) 245; Roberts & Spanos, *Random
//! Vibration and Statistical Linearization*, ch. 5.

mod linear;
mod profile;
mod quarter;
mod ride;
mod spectrum;
mod weighting;

pub use profile::RoadProfile;
pub use quarter::{
    QuarterResponse, QuarterResponses, QuarterRide, quarter_response, quarter_responses, quarter_ride, transmissibility,
};
pub use ride::{RoadEnd, RoadRide, RoadRider};
pub use spectrum::{Road, RoadClass};
pub use weighting::vertical_weighting;

/// What riding over a road on paper cannot show.
pub const LIMITS: [&str; 5] = [
    "A class of road spans a factor of two in rms: compare springs, links and dampers on one road, believe no number to the percent.",
    "Holes, roots, steps and jumps are not in a spectrum, and they use more travel than roughness does.",
    "The tyres are taken never to leave the ground: where the rms of a tyre's force is more than a third of its load, they do.",
    "The springs are taken as straight lines about the rest: a rate that rises, or a bump stop, bottoms less often than this says.",
    "Weighted acceleration is a number of comfort for somebody who sits or stands still. It is no judgement of health or of safety.",
];
