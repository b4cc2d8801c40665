//! What a change leaves alone of what was found at one end.

use crate::bike::Bike;
use crate::fork::Fork;
use crate::log::Between;
use crate::record::End;
use crate::units::{Quantity, Share};

/// How much of what was found at one end a change has left alone.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Kept {
    /// Share of the springs, by their rate, that are the same: what rate and preload are off by stays with them, though a
    /// collar may have been turned.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub springs: Share,
    /// Share of the friction whose cause is the same.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub friction: Share,
    /// Is every mass what it was?
    pub masses: bool,
    /// Is the way from wheel to shock what it was?
    pub way: bool,
}

/// Shares of the friction: of that before the change, what stays; of that after it, what is new.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct FrictionShares {
    pub(super) kept: f64,
    pub(super) new: f64,
}

impl Kept {
    /// Nothing was changed.
    pub(super) fn all() -> Self {
        let whole = Share::from_si(1.0);
        Self { springs: whole, friction: whole, masses: true, way: true }
    }

    /// What two bikes have in common at one end, as far as can be seen from them. A spring of the same label is taken for the
    /// same spring, and for one that stayed in its place.
    #[must_use]
    pub fn between(before: &Bike, after: &Bike, end: End) -> Self {
        Self::of(&Between::new(end, before, after), before, after, end)
    }

    pub(super) fn of(between: &Between, before: &Bike, after: &Bike, end: End) -> Self {
        Self {
            springs: Share::from_si(springs_kept(between, after, end)),
            friction: Share::from_si(friction_shares(between, before, after, end).kept),
            masses: between.masses.is_empty() && !between.unsprung,
            way: !between.way,
        }
    }
}

/// Share of the rate of an end that is of springs which stayed.
pub(super) fn springs_kept(between: &Between, after: &Bike, end: End) -> f64 {
    let rates: Vec<f64> = match fork(after, end) {
        Some(fork) => {
            let legs = fork.legs().iter();
            legs.map(|leg| leg.spring().map_or(0.0, |spring| spring.spring().initial_rate().si())).collect()
        }
        // One shock, or twins of which the parts describe one.
        _ => vec![1.0],
    };
    let kept: f64 = rates.iter().zip(between.springs).filter(|(_, another)| !another).map(|(rate, _)| rate).sum();
    let all: f64 = rates.iter().sum();
    if all > 0.0 { kept / all } else { 0.0 }
}

/// The fork, at the front of a bike that has one.
fn fork(bike: &Bike, end: End) -> Option<&Fork> {
    bike.parts().front.as_ref().filter(|_| end == End::Front)?.fork().ok()
}

pub(super) fn friction_shares(between: &Between, before: &Bike, after: &Bike, end: End) -> FrictionShares {
    let parts = |bike: &Bike| -> Vec<f64> {
        let Some(fork) = fork(bike, end) else { return vec![1.0] };
        let legs = fork.legs();
        let stated = legs.each_ref().map(|leg| leg.friction().map_or(0.0, |friction| friction.force().si()));
        let sum: f64 = stated.iter().sum();
        if sum > 0.0 { stated.map(|one| one / sum).to_vec() } else { vec![1.0 / legs.len() as f64; legs.len()] }
    };
    let of = |bike: &Bike, another: bool| -> f64 {
        parts(bike).into_iter().zip(between.seals).filter(|(_, seals)| *seals == another).map(|(share, _)| share).sum()
    };
    FrictionShares { kept: of(before, false), new: of(after, true) }
}
