//! Propagation of distributions through the fit (JCGM 101:2008, 5.9 and 7), to check the covariance of JCGM 100.
//!
//! Every draw takes each reading, label and scale from its own distribution and fits again; the spread of the fits is the
//! answer. Readings, labels and scales are normal; where the settling of a reading is not noted, its place in the friction
//! band is uniform. Draws whose friction comes out below zero are left out, which conditions on a friction of zero or more.
//!
//! Use it where the answer is wide: a rate known to no better than a fifth, a load near a stop.

use rand_distr::{Distribution, StandardNormal};
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;

use crate::error::SetupError;
use crate::infer::posterior::{FRICTION, PRELOAD, RATE, ZERO};
use crate::infer::probability::uniform_from_normal;
use crate::infer::solved::Solved;
use crate::units::{Force, Length, Quantity, SpringRate};
use crate::work;

/// Fewest draws that give a 95 % interval.
const FEWEST: usize = 200;
/// Most draws: a minute's work.
const MOST: usize = 5_000_000;

/// A quantity over the draws.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize, serde::Deserialize),
    serde(bound(serialize = "Q: Quantity", deserialize = "Q: Quantity"))
)]
#[non_exhaustive]
pub struct Sampled<Q> {
    /// Mean.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub mean: Q,
    /// Standard deviation.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub standard_deviation: Q,
    /// Ends of the probabilistically symmetric 95 % interval.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::pair"))]
    pub interval_95: (Q, Q),
}

/// What Monte Carlo says of one end.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct MonteCarlo {
    /// Draws asked for.
    pub draws: usize,
    /// Draws left out: friction below zero, or no fit.
    pub left_out: usize,
    /// Rate of all main springs together.
    pub rate: Sampled<SpringRate>,
    /// Preload of the first main spring.
    pub preload: Sampled<Length>,
    /// Friction force at the wheel.
    pub friction: Sampled<Force>,
    /// Correlation of rate and preload.
    pub rate_preload_correlation: f64,
}

impl Solved {
    pub(crate) fn monte_carlo(&self, draws: usize, seed: u64) -> Result<MonteCarlo, SetupError> {
        if !(FEWEST..=MOST).contains(&draws) {
            let wanted = format!("from {FEWEST} to {MOST}");
            return Err(SetupError::Request { field: "draws", found: draws.to_string(), wanted });
        }
        let mut random = Xoshiro256PlusPlus::seed_from_u64(seed);
        let mut normal = || -> f64 { StandardNormal.sample(&mut random) };
        let mut drawn = self.evidence.clone();
        let mut samples: [Vec<f64>; 3] = core::array::from_fn(|_| Vec::with_capacity(draws));
        work::expects(draws);
        for _ in 0..draws {
            work::round()?;
            let readings = self.evidence.observations.iter().zip(self.posterior.predictions.each());
            for (to, (observation, (_, deviation))) in drawn.observations.iter_mut().zip(readings) {
                to.distance = observation.distance + observation.deviation * normal();
                let band = (deviation.powi(2) - observation.deviation.powi(2)).max(0.0).sqrt();
                if band > 0.0 {
                    // A uniform number of standard deviation 1.
                    to.distance += band * 3f64.sqrt() * uniform_from_normal(normal());
                }
            }
            drawn.centres = (0..drawn.all_unknowns())
                .map(|k| if k == ZERO { self.evidence.zeroed.map_or(0.0, |zero| zero * normal()) } else { normal() })
                .collect();
            let Ok(posterior) = drawn.solve(&self.posterior.unknowns) else { continue };
            let [factor, preload, friction, _] = drawn.physical(&posterior.unknowns);
            if friction >= 0.0 {
                for (sample, value) in samples.iter_mut().zip([factor, preload, friction]) {
                    sample.push(value);
                }
            }
        }
        let kept = samples[RATE].len();
        if kept < FEWEST.min(draws / 2) {
            return Err(SetupError::NotConverged { steps: draws, sum_of_squares: self.posterior.cost });
        }
        let (rate, preload) = (self.main.rate.si(), self.main.preload.si());
        Ok(MonteCarlo {
            draws,
            left_out: draws - kept,
            rate_preload_correlation: correlation(&samples[RATE], &samples[PRELOAD]),
            rate: sampled(&mut samples[RATE], |factor| factor * rate),
            preload: sampled(&mut samples[PRELOAD], |change| change + preload),
            friction: sampled(&mut samples[FRICTION], |friction| friction),
        })
    }
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

fn correlation(left: &[f64], right: &[f64]) -> f64 {
    let (left_mean, right_mean) = (mean(left), mean(right));
    let sum = |f: &dyn Fn(f64, f64) -> f64| {
        left.iter().zip(right).map(|(l, r)| f(l - left_mean, r - right_mean)).sum::<f64>()
    };
    sum(&|l, r| l * r) / (sum(&|l, _| l * l) * sum(&|_, r| r * r)).sqrt()
}

fn sampled<Q: Quantity>(values: &mut [f64], of: impl Fn(f64) -> f64) -> Sampled<Q> {
    values.iter_mut().for_each(|value| *value = of(*value));
    values.sort_by(f64::total_cmp);
    let mean = mean(values);
    let variance = values.iter().map(|value| (value - mean).powi(2)).sum::<f64>() / (values.len() - 1) as f64;
    let at = |share: f64| {
        let place = share * (values.len() - 1) as f64;
        let (below, above) = (values[place.floor() as usize], values[place.ceil() as usize]);
        Q::from_si(below + (above - below) * place.fract())
    };
    Sampled {
        mean: Q::from_si(mean),
        standard_deviation: Q::from_si(variance.sqrt()),
        interval_95: (at(0.025), at(0.975)),
    }
}

#[cfg(test)]
mod tests;
