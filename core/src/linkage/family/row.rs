//! The numbers of one linkage side by side, beside the linkage: so that many that were made one by one are packed without looking
//! for their numbers in all the memory that a linkage holds.

use super::packed::{self, numbers_of};
use crate::linkage::bound_recipe::{BoundStep, Drive};
use crate::linkage::motion::LinkageMotion;
use crate::linkage::operand::Operand;

/// Numbers of a usual linkage at most: two rockers on the frame with two links have 29. Longer ones are packed the long way.
const MOST: usize = 32;

/// What a linkage is in a pack, where it is driven by the wheel's arm, has no group and is not too long.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Row {
    /// The recipe in bits: the same for linkages that are solved by the same steps on the same slots, and only for those; 0 of
    /// a linkage without a row.
    recipe: u128,
    numbers: [f64; MOST],
}

impl Row {
    pub(crate) fn of(motion: &LinkageMotion) -> Self {
        let mut row = Self { recipe: 0, numbers: [0.0; MOST] };
        let mut count = 0;
        numbers_of(motion, |number| {
            if let Some(to) = row.numbers.get_mut(count) {
                *to = number;
            }
            count += 1;
        });
        row.recipe = recipe(motion).filter(|_| count <= MOST).unwrap_or(0);
        row
    }

    /// Which recipe it is; nothing of a linkage without a row.
    #[inline]
    pub(super) fn recipe(&self) -> Option<u128> {
        Some(self.recipe).filter(|&recipe| recipe != 0)
    }

    /// A bit of everything, so that all of a usual row is in the cache afterwards: a number of each line of eight.
    #[inline(always)]
    pub(super) fn glance(&self) -> u64 {
        [3, 11, 19].into_iter().fold(u64::from(self.recipe == 0), |seen, at| seen ^ self.numbers[at].to_bits())
    }

    /// The numbers, in the order of the plan, and zeros after them; nothing of a linkage without a row.
    #[inline]
    pub(super) fn numbers(&self) -> Option<&[f64; MOST]> {
        Some(&self.numbers).filter(|_| self.recipe != 0)
    }
}

/// Are two solved by the same steps on the same slots?
pub(super) fn alike(one: (&LinkageMotion, &Row), other: (&LinkageMotion, &Row)) -> bool {
    match (one.1.recipe(), other.1.recipe()) {
        (Some(one), Some(other)) => one == other,
        (None, None) => packed::alike(one.0, other.0),
        _ => false,
    }
}

/// A recipe as bits. They begin with a one, each step takes nine and the ends twelve, so that no two recipes have the same bits.
fn recipe(motion: &LinkageMotion) -> Option<u128> {
    const SLOT: u32 = 4;
    let Drive::Arm { .. } = motion.bound.drive else { return None };
    let mut bits = 1u128;
    let mut put = |value: usize, width: u32| {
        let fits = value >> width == 0 && bits.leading_zeros() >= width;
        bits = bits << width | value as u128;
        fits.then_some(())
    };
    let place = |operand: &Operand<f64>| match operand {
        Operand::Fixed(_) => 0,
        Operand::Moving(slot) => slot + 1,
    };
    for (before, step) in motion.bound.steps.iter().enumerate() {
        let (which, to, ends) = match step {
            BoundStep::Carry { to, a, b, .. } => (0, *to, [a, b]),
            BoundStep::Dyad { to, a, b, .. } => (1, *to, [a, b]),
            BoundStep::Group(_) => return None,
        };
        // Each step finds one point, and they are numbered as they are found.
        if to != before + 1 {
            return None;
        }
        put(which, 1)?;
        put(place(ends[0]), SLOT)?;
        put(place(ends[1]), SLOT)?;
    }
    for end in [&motion.wheel, &motion.shock[0], &motion.shock[1]] {
        put(place(end), SLOT)?;
    }
    Some(bits)
}
