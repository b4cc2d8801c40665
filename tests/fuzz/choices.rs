//! Choices out of bytes: those given, then, without an end, what a generator makes of them.

use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::{Rng, SeedableRng};

/// Draws choices.
pub struct Choices<'a> {
    given: &'a [u8],
    more: Xoshiro256PlusPlus,
}

impl<'a> Choices<'a> {
    pub fn new(given: &'a [u8]) -> Self {
        // FNV-1a, so that every byte counts for what comes after the last of them.
        let seed = given
            .iter()
            .fold(0xcbf2_9ce4_8422_2325, |hash: u64, byte| (hash ^ u64::from(*byte)).wrapping_mul(0x100_0000_01b3));
        Self { given, more: Xoshiro256PlusPlus::seed_from_u64(seed) }
    }

    fn word(&mut self) -> u64 {
        match self.given.split_at_checked(2) {
            Some((two, rest)) => {
                self.given = rest;
                // Spread over the whole word, as shares are taken from its top.
                u64::from(u16::from_le_bytes([two[0], two[1]])).wrapping_mul(0x0001_0001_0001_0001)
            }
            None => self.more.next_u64(),
        }
    }

    /// One of so many, from 0.
    pub fn below(&mut self, count: usize) -> usize {
        ((u128::from(self.word()) * count.max(1) as u128) >> 64) as usize
    }

    /// From 0 to 1.
    pub fn share(&mut self) -> f64 {
        self.word() as f64 / u64::MAX as f64
    }

    pub fn within(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// True once in so many.
    pub fn once_in(&mut self, count: usize) -> bool {
        self.below(count) == 0
    }

    pub fn of<'t, T: ?Sized>(&mut self, all: &[&'t T]) -> &'t T {
        all[self.below(all.len())]
    }

    /// A number a little off another, or far off, or one that breaks things.
    pub fn near(&mut self, value: f64) -> f64 {
        match self.below(10) {
            0 => value * 10f64.powi(self.below(13) as i32 - 6),
            1 => -value,
            2 => self.of(&[&0.0, &f64::MIN_POSITIVE, &f64::MAX, &1e308, &-0.0]).to_owned(),
            3..6 => value * (1.0 + 1e-9 * self.within(-1.0, 1.0)),
            _ => value * (1.0 + self.within(-0.3, 0.3)),
        }
    }
}

/// Bytes as a finding is written down.
pub fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

pub fn unhex(text: &str) -> Vec<u8> {
    (0..text.len() / 2).map(|at| u8::from_str_radix(&text[2 * at..2 * at + 2], 16).unwrap()).collect()
}
