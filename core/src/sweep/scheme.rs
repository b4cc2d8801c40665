//! Which designs a sweep has: a place on every axis, from the index of the design alone.
//!
//! Nothing is drawn in order, so that any part of a sweep can be computed anywhere, and again. The place of a design on an
//! axis is a function of the seed, the axis and the index:
//!
//! - *grid*: every combination, the last axis fastest;
//! - *list*: the values of all axes side by side;
//! - *random*: `u`, uniform in 0 to 1, the first number of a generator seeded with all three;
//! - *Latin hypercube*: `u = (π(i) + v)/n` with a permutation `π` of the `n` designs per axis, so that each of `n` equal strata
//!   holds one design on every axis.
//!
//! The permutation is a Feistel network over the next even power of two, walked until it falls below `n`: it needs no memory,
//! and is a permutation whatever its round function.
//!
//! Random and Latin designs are independent between axes up to chance; no correlation is taken out.
//!
//! References: McKay, Beckman, Conover, *Technometrics* 21 (1979) 239 (Latin hypercubes); Luby, Rackoff, *SIAM J. Comput.* 17
//! (1988) 373 (Feistel networks as permutations); Black, Rogaway, *CT-RSA* 2002 (walking the cycle to any size).

use rand_xoshiro::SplitMix64;
use rand_xoshiro::rand_core::{Rng, SeedableRng};

use crate::Result;
use crate::error::SweepError;

/// Which designs are made of the values of the axes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum Scheme {
    /// Every combination of the values, the last axis fastest.
    Grid,
    /// The first values of all axes, then the second, and so on.
    List,
    /// Independent draws: uniform between two ends, or each of some values as likely.
    Random {
        /// How many designs.
        samples: u64,
        /// Where the draws begin; the same seed gives the same designs.
        seed: u64,
    },
    /// As random, but spread evenly over every axis.
    LatinHypercube {
        /// How many designs.
        samples: u64,
        /// Where the draws begin.
        seed: u64,
    },
}

/// Most designs of one sweep: indices are kept in `f64` columns by readers of tables, exact up to here.
const MOST: u64 = 1 << 53;
/// Rounds of the Feistel network: four look random to whoever may choose what to ask (Luby, Rackoff), two more are cheap.
const ROUNDS: u64 = 6;
/// One less than a power of two by which a 53-bit number becomes one in 0 to 1.
const TO_UNIT: f64 = 1.0 / (1u64 << 53) as f64;

/// Where a design lies on one axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Place {
    /// On this value.
    On(usize),
    /// This far along, from 0 to less than 1.
    Along(f64),
}

impl Scheme {
    /// Every scheme by name.
    pub const NAMES: [&'static str; 4] = ["grid", "list", "random", "latin_hypercube"];

    /// The scheme with this name; `samples` and `seed` are of those that draw.
    ///
    /// # Errors
    /// [`SweepError::Scheme`] for an unknown name, [`SweepError::Count`] without samples where there must be some, and with
    /// samples where the values say how many designs there are.
    pub fn named(name: &str, samples: Option<u64>, seed: u64) -> Result<Self, SweepError> {
        let drawn = |found: Option<u64>| match found {
            Some(count) if (1..=MOST).contains(&count) => Ok(count),
            found => Err(SweepError::Count {
                field: "samples",
                found: found.map_or_else(|| "none".to_owned(), |count| count.to_string()),
                wanted: format!("1 to {MOST} designs for the scheme `{name}`"),
            }),
        };
        let listed = |scheme| match samples {
            None => Ok(scheme),
            Some(count) => Err(SweepError::Count {
                field: "samples",
                found: count.to_string(),
                wanted: format!("none for the scheme `{name}`: its values say how many designs there are"),
            }),
        };
        match name {
            "grid" => listed(Self::Grid),
            "list" => listed(Self::List),
            "random" => Ok(Self::Random { samples: drawn(samples)?, seed }),
            "latin_hypercube" => Ok(Self::LatinHypercube { samples: drawn(samples)?, seed }),
            found => {
                Err(SweepError::Scheme { found: found.to_owned(), wanted: crate::error::nearest::list(Self::NAMES) })
            }
        }
    }

    /// Its name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Grid => "grid",
            Self::List => "list",
            Self::Random { .. } => "random",
            Self::LatinHypercube { .. } => "latin_hypercube",
        }
    }

    /// Is a design drawn, so that an axis may be given by its two ends?
    pub(crate) fn draws(self) -> bool {
        matches!(self, Self::Random { .. } | Self::LatinHypercube { .. })
    }

    /// How many designs there are, with axes of so many values.
    ///
    /// # Errors
    /// [`SweepError::Count`] beyond 2⁵³.
    pub(crate) fn count(self, values: &[usize]) -> Result<u64, SweepError> {
        let wanted = || format!("at most {MOST} designs");
        let too_many = |found: String| SweepError::Count { field: "designs", found, wanted: wanted() };
        match self {
            Self::Grid => values
                .iter()
                .try_fold(1u64, |all, &one| all.checked_mul(one as u64).filter(|&all| all <= MOST))
                .ok_or_else(|| too_many("more".to_owned())),
            Self::List => Ok(values.first().map_or(0, |&count| count as u64)),
            Self::Random { samples, .. } | Self::LatinHypercube { samples, .. } if samples > MOST => {
                Err(too_many(samples.to_string()))
            }
            Self::Random { samples, .. } | Self::LatinHypercube { samples, .. } => Ok(samples),
        }
    }

    /// Where the design of an index lies on one axis; the axes have so many values each.
    pub(crate) fn place(self, index: u64, axis: usize, values: &[usize]) -> Place {
        match self {
            Self::Grid => {
                let faster: u64 = values.iter().skip(axis + 1).map(|&count| count as u64).product();
                let own = values.get(axis).map_or(1, |&count| count as u64).max(1);
                Place::On((index / faster.max(1) % own) as usize)
            }
            Self::List => Place::On(index as usize),
            Self::Random { seed, .. } => Place::Along(uniform(key(seed, axis, index))),
            Self::LatinHypercube { samples, seed } => {
                let stratum = permuted(index, samples, key(seed, axis, u64::MAX));
                let within = uniform(key(seed, axis, index));
                let last = 1.0 - f64::EPSILON / 2.0;
                Place::Along(((stratum as f64 + within) / samples as f64).min(last))
            }
        }
    }
}

/// A seed made of three numbers.
fn key(seed: u64, axis: usize, index: u64) -> u64 {
    mixed(mixed(seed).wrapping_add(axis as u64 + 1)).wrapping_add(index)
}

fn mixed(number: u64) -> u64 {
    SplitMix64::seed_from_u64(number).next_u64()
}

/// Uniform in 0 to less than 1.
fn uniform(key: u64) -> f64 {
    (mixed(mixed(key)) >> 11) as f64 * TO_UNIT
}

/// A permutation of the numbers below `count`.
fn permuted(index: u64, count: u64, key: u64) -> u64 {
    let bits = u64::from(64 - count.saturating_sub(1).leading_zeros());
    let half = bits.div_ceil(2).max(1);
    let mask = (1u64 << half) - 1;
    let mut at = index;
    loop {
        let (mut left, mut right) = (at >> half, at & mask);
        for round in 0..ROUNDS {
            let scrambled = mixed(key ^ mixed(right.wrapping_add(round << 56))) & mask;
            (left, right) = (right, left ^ scrambled);
        }
        at = left << half | right;
        if at < count {
            return at;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn a_latin_hypercube_has_one_design_in_every_stratum(samples in 1..2000_u64, seed: u64, axis in 0..5_usize) {
            let scheme = Scheme::LatinHypercube { samples, seed };
            let mut held = vec![0; samples as usize];
            for index in 0..samples {
                let Place::Along(at) = scheme.place(index, axis, &[]) else { panic!("drawn") };
                prop_assert!((0.0..1.0).contains(&at));
                held[(at * samples as f64) as usize] += 1;
            }
            prop_assert!(held.iter().all(|&count| count == 1), "{held:?}");
        }

        #[test]
        fn a_grid_has_every_combination_once(counts in prop::collection::vec(1..6_usize, 1..5)) {
            let all = Scheme::Grid.count(&counts).unwrap();
            let mut seen = std::collections::HashSet::new();
            for index in 0..all {
                let places: Vec<usize> = (0..counts.len())
                    .map(|axis| match Scheme::Grid.place(index, axis, &counts) {
                        Place::On(place) => place,
                        Place::Along(_) => panic!("on a value"),
                    })
                    .collect();
                prop_assert!(places.iter().zip(&counts).all(|(place, count)| place < count));
                // The last axis is the fastest: places rise as numbers written in those bases do.
                let number = places.iter().zip(&counts).fold(0, |number, (place, count)| number * count + place);
                prop_assert_eq!(number as u64, index);
                seen.insert(places);
            }
            prop_assert_eq!(seen.len() as u64, all);
        }
    }

    #[test]
    fn draws_are_uniform_and_independent_between_axes() {
        // Means of 20,000 draws stray from 1/2 and from no correlation by less than four of their standard deviations.
        let (count, scheme) = (20_000_u64, Scheme::Random { samples: 20_000, seed: 7 });
        let draw = |index, axis| match scheme.place(index, axis, &[]) {
            Place::Along(at) => at - 0.5,
            Place::On(_) => panic!("drawn"),
        };
        let root = (count as f64).sqrt();
        for axis in 0..4 {
            let mean = (0..count).map(|index| draw(index, axis)).sum::<f64>() / count as f64;
            assert!(mean.abs() < 4.0 / 12f64.sqrt() / root, "{axis}: {mean}");
            let product = (0..count).map(|index| draw(index, axis) * draw(index, axis + 1)).sum::<f64>() / count as f64;
            assert!(product.abs() < 4.0 / 12.0 / root, "{axis}: {product}");
            let serial = (1..count).map(|index| draw(index, axis) * draw(index - 1, axis)).sum::<f64>() / count as f64;
            assert!(serial.abs() < 4.0 / 12.0 / root, "{axis}: {serial}");
        }
        assert_ne!(draw(3, 0), draw(3, 1));
        assert_ne!(scheme.place(3, 0, &[]), Scheme::Random { samples: 20_000, seed: 8 }.place(3, 0, &[]));
    }

    #[test]
    fn a_grid_too_large_and_samples_where_there_are_none_are_refused() {
        assert!(matches!(Scheme::Grid.count(&[1 << 20; 3]), Err(SweepError::Count { field: "designs", .. })));
        assert!(matches!(Scheme::named("grid", Some(3), 0), Err(SweepError::Count { field: "samples", .. })));
        assert!(matches!(Scheme::named("random", None, 0), Err(SweepError::Count { field: "samples", .. })));
        assert!(matches!(Scheme::named("sobol", None, 0), Err(SweepError::Scheme { .. })));
        for name in Scheme::NAMES {
            let samples = (name != "grid" && name != "list").then_some(5);
            assert_eq!(Scheme::named(name, samples, 1).unwrap().name(), name);
        }
    }
}
