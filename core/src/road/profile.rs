//! A synthetic road: one profile of a spectrum, made of a seed.

use core::f64::consts::TAU;

use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::{Rng, SeedableRng};

use super::spectrum::Road;
use crate::bike::landing::{BikeMotion, EndMotion, GroundHeight, MovingBike, MovingEnd};
use crate::bike::ride::positive;
use crate::error::{BikeError, Result};
use crate::units::{Length, Quantity, Time, Velocity, check};

/// Cosines that a profile is made of: enough for a Gaussian sum over any stretch, as few as time allows.
const WAVES: usize = 240;

/// `r(x) = Σ √(2·G_d(n_k)·Δn_k)·cos(2π·n_k·x + φ_k)`: a sum of cosines of random phase, each in the middle (by ratio, moved at
/// random within) of its share of the wavenumbers, so that nothing repeats (Shinozuka & Deodatis, 'Simulation of stochastic
/// processes by spectral representation', Applied Mechanics Reviews 44 (1991) 191).
#[derive(Debug, Clone, PartialEq)]
pub struct RoadProfile {
    road: Road,
    seed: u64,
    waves: Vec<Wave>,
    /// Height of the sum at the start, so that the profile begins at zero.
    start: f64,
}

/// One cosine.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Wave {
    amplitude: f64,
    /// Per metre, in radians.
    along: f64,
    phase: f64,
}

impl RoadProfile {
    /// The profile of a road that a seed makes: the same for the same seed.
    #[must_use]
    pub fn new(road: Road, seed: u64) -> Self {
        let mut random = Xoshiro256PlusPlus::seed_from_u64(seed);
        let mut uniform = || (random.next_u64() >> 11) as f64 / (1_u64 << 53) as f64;
        let [low, high] = road.wavenumbers();
        let ratio = (high / low).powf(1.0 / WAVES as f64);
        let waves: Vec<Wave> = (0..WAVES)
            .map(|at| {
                let from = low * ratio.powi(at as i32);
                // The power of the share is exact: G_d falls with the square.
                let power = road.density(from) * from * (1.0 - 1.0 / ratio);
                let wavenumber = from * ratio.powf(uniform());
                Wave { amplitude: (2.0 * power).sqrt(), along: TAU * wavenumber, phase: TAU * uniform() }
            })
            .collect();
        let mut profile = Self { road, seed, waves, start: 0.0 };
        profile.start = profile.at(0.0)[0];
        profile
    }

    /// Its road.
    #[must_use]
    pub fn road(&self) -> &Road {
        &self.road
    }

    /// Its seed.
    #[must_use]
    pub fn seed(&self) -> u64 {
        self.seed
    }

    /// Heights at places along it; zero at the start.
    ///
    /// # Errors
    /// [`UnitError`](crate::error::UnitError) for a place that is not finite.
    pub fn heights(&self, places: &[Length]) -> Result<Vec<Length>> {
        let height = |place: &Length| Ok(Length::from_si(self.at(check::finite("place", *place)?.si())[0]));
        places.iter().map(height).collect()
    }

    /// One nonlinear end that rides over it from rest, at a speed.
    ///
    /// # Errors
    /// [`BikeError::Unit`] for a speed that is not above zero, and as [`MovingEnd::land`].
    pub fn ride(&self, end: &MovingEnd<'_>, speed: Velocity, duration: Time) -> Result<EndMotion> {
        let speed = positive("speed", speed).map_err(BikeError::from)?;
        let shortest = self.road.wavelengths()[0].si() / speed;
        end.over(&Ridden { profile: self, speed, shortest }, duration)
    }

    /// The whole bike that rides over it from rest, at a speed; the rear wheel meets it after the front one.
    ///
    /// # Errors
    /// As [`ride`](Self::ride).
    pub fn ride_bike(&self, bike: &MovingBike<'_>, speed: Velocity, duration: Time) -> Result<BikeMotion> {
        let speed = positive("speed", speed).map_err(BikeError::from)?;
        let shortest = self.road.wavelengths()[0].si() / speed;
        bike.over(&Ridden { profile: self, speed, shortest }, speed, duration)
    }

    /// Height and slope at a place.
    fn at(&self, place: f64) -> [f64; 2] {
        let (mut height, mut slope) = (0.0, 0.0);
        for wave in &self.waves {
            let (sin, cos) = (wave.along * place + wave.phase).sin_cos();
            height += wave.amplitude * cos;
            slope -= wave.amplitude * wave.along * sin;
        }
        [height - self.start, slope]
    }
}

/// A profile under a wheel.
#[derive(Debug)]
struct Ridden<'a> {
    profile: &'a RoadProfile,
    speed: f64,
    shortest: f64,
}

impl GroundHeight for Ridden<'_> {
    fn at(&self, time: f64) -> [f64; 2] {
        let [height, slope] = self.profile.at(self.speed * time);
        [height, slope * self.speed]
    }

    fn grain(&self) -> f64 {
        /// Steps over the shortest wave.
        const STEPS: f64 = 8.0;
        self.shortest / STEPS
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::road::RoadClass;

    #[test]
    fn a_profile_is_its_road_and_its_seed() {
        let places: Vec<Length> = (0..50).map(|at| Length::from_si(0.7 * f64::from(at))).collect();
        let profile = RoadProfile::new(Road::of_class(RoadClass::C), 7);
        let again = RoadProfile::new(*profile.road(), profile.seed());
        let heights = |profile: &RoadProfile| profile.heights(&places).unwrap();
        assert_eq!(heights(&again), heights(&profile));
        assert_eq!(heights(&profile)[0].si(), 0.0);
        assert_ne!(heights(&RoadProfile::new(*profile.road(), 8)), heights(&profile));
    }
}
