//! The linear damper that takes the same energy out of a motion.

use core::f64::consts::{FRAC_2_PI, FRAC_PI_2, PI, SQRT_2, TAU};

use super::{Damper, DamperSide};
use crate::error::Result;
use crate::units::{DampingRate, Force, Frequency, Length, Quantity, Velocity, check};

/// `c_eq = 8·c·ω·X/(3π)`: a damper of the law `c·v·|v|`, stated as its force at a speed, in a harmonic motion.
///
/// # Errors
/// [`UnitError`](crate::error::UnitError) unless the force is zero or more and the rest is above zero.
pub fn equivalent_of_quadratic(
    force: Force,
    at: Velocity,
    frequency: Frequency,
    amplitude: Length,
) -> Result<DampingRate> {
    check::not_negative("force", force)?;
    check::positive("at", at)?;
    let coefficient = force.si() / at.si().powi(2);
    Ok(DampingRate::from_si(8.0 * coefficient * speed(frequency, amplitude)? / (3.0 * PI)))
}

/// `c_eq = 4·F/(π·ω·X)`: friction in a harmonic motion that it does not hold.
///
/// # Errors
/// [`UnitError`](crate::error::UnitError) unless the force is zero or more and the rest is above zero.
pub fn equivalent_of_friction(force: Force, frequency: Frequency, amplitude: Length) -> Result<DampingRate> {
    check::not_negative("force", force)?;
    Ok(DampingRate::from_si(4.0 * force.si() / (PI * speed(frequency, amplitude)?)))
}

/// Amplitude of the speed, `ω·X`.
fn speed(frequency: Frequency, amplitude: Length) -> Result<f64> {
    check::positive("frequency", frequency)?;
    check::positive("amplitude", amplitude)?;
    Ok(TAU * frequency.si() * amplitude.si())
}

impl Damper {
    /// `c_eq = 1/(π·V²)·∮F·v dφ`, `v = V·cos φ`: the linear damper that takes as much energy out of a harmonic motion of this
    /// shaft speed amplitude. At no speed it is the mean of both slopes from rest.
    ///
    /// # Errors
    /// [`UnitError`](crate::error::UnitError) for a speed below zero.
    pub fn equivalent(&self, amplitude: Velocity) -> Result<DampingRate> {
        Ok(DampingRate::from_si(self.harmonic(check::not_negative("amplitude", amplitude)?.si())))
    }

    /// `c_eq = E[F(v)·v]/σ² = E[F′(v)]`: the linear damper that takes as much energy out of a Gaussian motion of this root mean
    /// square shaft speed. At no speed it is the mean of both slopes from rest.
    ///
    /// # Errors
    /// [`UnitError`](crate::error::UnitError) for a speed below zero.
    pub fn equivalent_in_noise(&self, rms: Velocity) -> Result<DampingRate> {
        Ok(DampingRate::from_si(self.gaussian(check::not_negative("rms", rms)?.si())))
    }

    /// Each side alone in a harmonic motion.
    pub(crate) fn harmonic_sides(&self, amplitude: f64) -> [f64; 2] {
        [self.compression(), self.rebound()].map(|side| side.harmonic(amplitude))
    }

    pub(crate) fn harmonic(&self, amplitude: f64) -> f64 {
        let [compression, rebound] = self.harmonic_sides(amplitude);
        0.5 * (compression + rebound)
    }

    pub(crate) fn gaussian(&self, rms: f64) -> f64 {
        0.5 * (self.compression().gaussian(rms) + self.rebound().gaussian(rms))
    }

    /// `E[F(v)]` in a Gaussian motion of this root mean square shaft speed: the force that a damper that is harder one way than the
    /// other adds to the springs. Below zero it pulls the end down.
    ///
    /// # Errors
    /// [`UnitError`](crate::error::UnitError) for a speed below zero.
    pub fn mean_force(&self, rms: Velocity) -> Result<Force> {
        let rms = check::not_negative("rms", rms)?.si();
        Ok(Force::from_si(self.mean(rms)))
    }

    pub(crate) fn mean(&self, rms: f64) -> f64 {
        self.compression().half_mean(rms) - self.rebound().half_mean(rms)
    }
}

impl DamperSide {
    /// Stretches of speed from start to end, with the force at rest that their line points to and their slope.
    fn stretches(&self) -> impl Iterator<Item = (f64, f64, f64, f64)> + '_ {
        let ends = self.pieces().iter().skip(1).map(|piece| piece.start).chain([f64::INFINITY]);
        self.pieces()
            .iter()
            .zip(ends)
            .map(|(piece, end)| (piece.start, end, piece.force - piece.rate * piece.start, piece.rate))
    }

    fn first_rate(&self) -> f64 {
        self.pieces()[0].rate
    }

    /// `4/(π·V)·∫F(V·sin φ)·sin φ dφ` over a quarter turn.
    fn harmonic(&self, amplitude: f64) -> f64 {
        if amplitude <= 0.0 {
            return self.first_rate();
        }
        let angle = |speed: f64| if speed >= amplitude { FRAC_PI_2 } else { (speed / amplitude).asin() };
        let taken = |(start, end, force, rate): (f64, f64, f64, f64)| {
            let [from, to] = [angle(start), angle(end)];
            force * (from.cos() - to.cos())
                + rate * amplitude * (0.5 * (to - from) - 0.25 * ((2.0 * to).sin() - (2.0 * from).sin()))
        };
        2.0 * FRAC_2_PI / amplitude * self.stretches().map(taken).sum::<f64>()
    }

    /// `E[F′(|v|)]`.
    fn gaussian(&self, rms: f64) -> f64 {
        if rms <= 0.0 {
            return self.first_rate();
        }
        let below = |speed: f64| libm::erf(speed / (SQRT_2 * rms));
        self.stretches().map(|(start, end, _, rate)| rate * (below(end) - below(start))).sum()
    }

    /// `E[F(v)]` over the half of the motion that this side sees: `∫₀^∞ F(v)·p(v) dv = σ/√(2π)·F′` integrated by parts.
    fn half_mean(&self, rms: f64) -> f64 {
        if rms <= 0.0 {
            return 0.0;
        }
        let density =
            |speed: f64| if speed.is_finite() { (-0.5 * (speed / rms).powi(2)).exp() / TAU.sqrt() } else { 0.0 };
        let below = |speed: f64| 0.5 * libm::erf(speed / (SQRT_2 * rms));
        let mean = |(start, end, force, rate): (f64, f64, f64, f64)| {
            force * (below(end) - below(start)) + rate * rms * (density(start) - density(end))
        };
        self.stretches().map(mean).sum()
    }
}
