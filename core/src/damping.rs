//! Damping of a bike as its wheels feel it: over travel, and of its modes.
//!
//! `F_w = MR·F(MR·v)`, `c_w = MR²·c`, `ζ = c_w/(2·√(k_w·m))`
//!
//! **Method.** A motion is stated by the amplitude of its speed at the wheel; the damper is replaced by the linear one that takes
//! as much energy out of it ([`Damper::equivalent`](crate::damper::Damper::equivalent)), at no speed by its slopes from rest. The wheel rate is that of a fast stroke
//! from the rest under the load, geometric term included. Modes are those of the exact small motion of the settled bike with
//! both dampers in it: `(λ²·M + λ·C + K)·x = 0`, `ω = |λ|`, `ζ = −Re λ/|λ|`.
//!
//! **Assumptions.** Those of [`damper`](crate::damper); friction left out: it stops a small motion that a damper would let swing
//! out. A damping ratio of an end takes the ends as if they did not know each other, and the wheel as standing on the ground.
//! With more than one mode beyond critical damping, which two of their time constants belong together is not unique; they are
//! paired in order of size.
//!
//! **Uncertainty.** `u(ζ)/ζ = √(u²(c)/c² + ¼·u²(m)/m²)`, from what the file states of damper and scales. A wheel rate 5 % off is
//! not in it and would add 2.5 %.
//!
//! References: Gillespie, *Fundamentals of Vehicle Dynamics*, ch. 5; Tisseur & Meerbergen, 'The quadratic eigenvalue problem',
//! SIAM Review 43 (2001) 235.

mod end;
mod modes;

pub use end::{DampingAt, DampingCurve, EndDamping};
pub(crate) use modes::at_rest as small_motion;
pub use modes::{DampedMode, damped_modes};

/// What damping ratios cannot say.
pub const LIMITS: [&str; 2] = [
    "A damper's curve is taken as force over speed alone, as a dynamometer gives it: no heat, no cavitation, no position. Compare \
     springs, links and dampers with it; choose no clicks by it.",
    "Friction is not in a damping ratio, and stops small motions sooner.",
];
