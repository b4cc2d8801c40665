//! Readings of a measured part that do not go with its others.
//!
//! `w_i = (y_i − f₋ᵢ(x_i))/√(σ_i² + u²(f₋ᵢ(x_i)))`
//!
//! with `f₋ᵢ` the curve through all readings but the i-th: a wrong one bends the curve that it is in, and with it what its neighbours
//! are held against. The reading with the largest `|w|` above [`SUSPECT`] is left out, and the others are looked at again without it,
//! until none is left, or a third of them, or six, are out (data snooping). Of more readings than [`MOST_LEFT_OUT`] each is held against
//! the curve through all, with its share in that curve taken out.
//!
//! Assumes independent normal errors of known size. Two readings that are wrong alike, side by side, can bear each other out.
//!
//! Reference: Baarda, *A Testing Procedure for Use in Geodetic Networks*, Netherlands Geodetic Commission, Publications on Geodesy 2,
//! no. 5 (1968).

use std::sync::{Arc, OnceLock};

#[cfg(feature = "serde")]
use crate::record::numbered;
use crate::units::{Force, Length, Quantity, Uncertain, UnitSystem, show};

/// A reading this many standard deviations off the others is suspect: one in 2000 by chance.
const SUSPECT: f64 = 3.5;
/// Standard deviations from which on no scatter explains one that is suspect.
const BEYOND_SCATTER: f64 = 10.0;
/// Of more readings none is left out on trial: each costs a curve.
const MOST_LEFT_OUT: usize = 20;
/// One reading in so many may be left out: where more are wrong, the others say no more than they do.
const ONE_IN: usize = 3;
/// So many are sought: more are no slips, but readings worse than was said of them. Each costs a curve or twenty.
const MOST_SUSPECT: usize = 6;
/// A reading that has more than this share in the curve at its place cannot be held against the others.
const SAID_BY_ITSELF: f64 = 0.95;

/// A reading of a measured part that does not go with its others: misread or miswritten, probably. In JSON it counts from 1.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(bound(serialize = "At: Quantity, Found: Quantity")))]
#[cfg_attr(feature = "serde", serde(bound(deserialize = "At: Quantity, Found: Quantity")))]
#[non_exhaustive]
pub struct SuspectReading<At, Found> {
    /// Its place among the readings, from 0.
    #[cfg_attr(feature = "serde", serde(rename = "reading", with = "numbered"))]
    pub index: usize,
    /// Where it was taken.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub at: At,
    /// What was read.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub found: Found,
    /// What the others say there.
    pub others: Uncertain<Found>,
    /// The difference in its own standard deviations.
    pub deviations: f64,
}

impl<At, Found: Quantity> SuspectReading<At, Found> {
    /// What was read less what the others say.
    #[must_use]
    pub fn off(&self) -> Found {
        Found::from_si(self.found.si() - self.others.value.si())
    }
}

/// A suspect reading of any measured part.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(untagged))]
#[non_exhaustive]
pub enum PartReading {
    /// A load of a spring or stop, over its compression or length.
    Load(SuspectReading<Length, Force>),
    /// A length of the shock, over the wheel travel.
    Length(SuspectReading<Length, Length>),
    /// A height of the axle, over the load on the tyre.
    Height(SuspectReading<Force, Length>),
}

impl PartReading {
    /// Its place among the readings of its part, from 0.
    #[must_use]
    pub fn index(&self) -> usize {
        match self {
            Self::Load(reading) => reading.index,
            Self::Length(reading) => reading.index,
            Self::Height(reading) => reading.index,
        }
    }

    /// The difference to what the others say, in its own standard deviations.
    #[must_use]
    pub fn deviations(&self) -> f64 {
        match self {
            Self::Load(reading) => reading.deviations,
            Self::Length(reading) => reading.deviations,
            Self::Height(reading) => reading.deviations,
        }
    }

    /// Is it off by more than any scatter explains? What was said of the scatter may be too little by a factor of three.
    #[must_use]
    pub fn is_beyond_scatter(&self) -> bool {
        self.deviations().abs() >= BEYOND_SCATTER
    }

    /// Its column in the row: that of what was read.
    pub(crate) const COLUMN: usize = 1;

    /// Where it was taken, what was read, and what the others say there.
    pub(crate) fn texts(&self, units: UnitSystem) -> [String; 3] {
        match self {
            Self::Load(reading) => texts(reading, units),
            Self::Length(reading) => texts(reading, units),
            Self::Height(reading) => texts(reading, units),
        }
    }
}

fn texts<At: Quantity, Found: Quantity>(reading: &SuspectReading<At, Found>, units: UnitSystem) -> [String; 3] {
    // A load of a kilogram-force is ten newtons: a decimal more.
    let of_load = usize::from(units == UnitSystem::KilogramForce);
    let decimals = |kind| if kind == Length::KIND { units.length_decimals() } else { of_load };
    let [at, found] = [At::KIND, Found::KIND].map(|kind| (units.symbol(kind), decimals(kind)));
    [show(reading.at, at.0, at.1), show(reading.found, found.0, found.1), reading.others.show(found.0)]
}

/// How a reading stands to a curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Distance {
    /// The reading less the curve.
    pub(crate) off: f64,
    /// Standard deviation of the reading by itself.
    pub(crate) reading: f64,
    /// Standard uncertainty of the curve there.
    pub(crate) curve: f64,
}

impl Distance {
    /// In standard deviations, from a curve that the reading is not in.
    fn deviations(self) -> f64 {
        self.off / self.reading.hypot(self.curve)
    }

    /// The same from a curve that it is in, with its share in it taken out; none where nearly nothing else is in it there.
    fn without_its_share(self) -> f64 {
        let share = (self.curve / self.reading).powi(2);
        if share > SAID_BY_ITSELF { 0.0 } else { self.off / (self.reading * (1.0 - share).sqrt()) }
    }
}

/// The readings, by their places among so many, that do not go with the others, each as it stands to the curve without any of
/// them. `curve` gives the curve through all readings but some, where there is one.
pub(crate) fn suspects<C>(
    count: usize,
    curve: impl Fn(&[usize]) -> Option<C>,
    distance: impl Fn(&C, usize) -> Distance,
) -> Vec<(usize, Distance)> {
    let mut out: Vec<usize> = Vec::new();
    let without = |out: &[usize], one: usize| {
        let left_out: Vec<usize> = out.iter().copied().chain([one]).collect();
        Some(distance(&curve(&left_out)?, one).deviations())
    };
    while out.len() < (count / ONE_IN).min(MOST_SUSPECT) {
        let others: Vec<usize> = (0..count).filter(|one| !out.contains(one)).collect();
        let all = (others.len() > MOST_LEFT_OUT).then(|| curve(&out));
        let off = |one: usize| match &all {
            Some(all) => Some(distance(all.as_ref()?, one).without_its_share()),
            None => without(&out, one),
        };
        let each = others.iter().filter_map(|&one| Some((one, off(one)?.abs())));
        let furthest = each.max_by(|one, other| one.1.total_cmp(&other.1));
        let Some((one, _)) = furthest.filter(|(_, deviations)| *deviations > SUSPECT) else { break };
        out.push(one);
    }
    out.sort_unstable();
    let Some(sound) = (!out.is_empty()).then(|| curve(&out)).flatten() else { return Vec::new() };
    let each = out.into_iter().map(|one| (one, distance(&sound, one)));
    each.filter(|(_, distance)| distance.deviations().abs() > SUSPECT).collect()
}

/// The suspect readings of a part, sought when first asked for. They follow from what they are kept beside, so that two are equal
/// and look alike.
#[derive(Clone)]
pub(crate) struct Suspects<At, Found>(Arc<OnceLock<Vec<SuspectReading<At, Found>>>>);

impl<At, Found> Default for Suspects<At, Found> {
    fn default() -> Self {
        Self(Arc::new(OnceLock::new()))
    }
}

impl<At, Found> core::fmt::Debug for Suspects<At, Found> {
    fn fmt(&self, formatter: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        formatter.write_str("Suspects")
    }
}

impl<At, Found> PartialEq for Suspects<At, Found> {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl<At: Quantity, Found: Quantity> Suspects<At, Found> {
    /// Of readings whose distances are in units of so much of what was read.
    pub(crate) fn among<C>(
        &self,
        readings: &[(At, Found)],
        unit: f64,
        curve: impl Fn(&[usize]) -> Option<C>,
        distance: impl Fn(&C, usize) -> Distance,
    ) -> Vec<SuspectReading<At, Found>> {
        let seek = || {
            let reading = |(index, by): (usize, Distance)| {
                let &(at, found) = readings.get(index)?;
                let others = Uncertain {
                    value: Found::from_si(found.si() - unit * by.off),
                    standard_uncertainty: Found::from_si(unit.abs() * by.curve),
                };
                Some(SuspectReading { index, at, found, others, deviations: unit.signum() * by.deviations() })
            };
            suspects(readings.len(), &curve, &distance).into_iter().filter_map(reading).collect()
        };
        self.0.get_or_init(seek).clone()
    }
}

#[cfg(test)]
mod tests;
