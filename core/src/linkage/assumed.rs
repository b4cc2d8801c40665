//! A linkage of which nobody knows more than where it begins and ends: wheel travel and shock stroke, or one of them and how
//! far the wheel moves per shock.
//!
//! `MR(x) = m·(1 + g·(x − ½))`, `s(x) = m·Z·(x + g·(x² − x)/2)`, `x = z/Z`, `m = S/Z`, `g = P/(1 + P/2)`
//!
//! over the travel `Z` and the stroke `S`, with the progression `P = MR_end/MR_start − 1`. What is open about it is a sum of
//! independent deviations of the whole curve (as of a [measured table](super::MeasuredLinkage)): the mean ratio `m`, the
//! progression, and two bends of the motion ratio about its straight line, the second and third Legendre polynomials, which
//! leave both ends of the travel where they are.
//!
//! How far each may be off is common practice, no source. Fails for a linkage whose motion ratio goes up and down again by
//! more than that.

use crate::error::LinkageError;
use crate::units::{Length, Quantity, Share, Uncertain, check};

use super::{STROKE, TRAVEL_ROUNDING};

/// Bounds of the wheel travel (m): a pocket bike's damper to a desert racer.
const TRAVEL: [f64; 2] = [0.01, 0.6];
/// Bounds of the progression: from a shock that goes flat to a motion ratio that trebles.
const PROGRESSION: [f64; 2] = [-0.6, 2.0];
/// Standard deviation of the third Legendre polynomial, as a share of that of the second.
const THIRD: f64 = 0.5;

/// What is known of a linkage by its ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AssumedParts {
    /// Wheel travel from full extension to the end of the shock's stroke.
    pub travel: Length,
    /// Stroke of the shock.
    pub stroke: Length,
    /// Standard uncertainty of the mean motion ratio that follows from them, as a share of it.
    pub ratio: Share,
    /// `MR_end/MR_start − 1`.
    pub progression: Uncertain<Share>,
    /// Standard deviation of the bends about the straight line, as a share of the mean motion ratio.
    pub bend: Share,
}

/// A linkage known by its ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AssumedLinkage(AssumedParts);

impl AssumedLinkage {
    /// A linkage of which this much is known.
    ///
    /// # Errors
    /// [`LinkageError::Unit`] for what no bike has.
    pub fn new(parts: AssumedParts) -> Result<Self, LinkageError> {
        let AssumedParts { travel, stroke, ratio, progression, bend } = parts;
        let within = |field, share: Share, [low, high]: [f64; 2]| {
            check::plausible(field, share, Share::from_si(low), Share::from_si(high))
        };
        check::plausible("travel", travel, Length::from_si(TRAVEL[0]), Length::from_si(TRAVEL[1]))?;
        check::plausible("stroke", stroke, Length::from_si(STROKE[0]), Length::from_si(STROKE[1]))?;
        within("ratio", ratio, [0.0, 0.5])?;
        within("progression", progression.value, PROGRESSION)?;
        within("progression", progression.standard_uncertainty, [0.0, 1.0])?;
        within("bend", bend, [0.0, 0.5])?;
        Ok(Self(parts))
    }

    /// What it was made of.
    #[must_use]
    pub fn parts(&self) -> AssumedParts {
        self.0
    }

    /// Wheel travel from full extension to the end of the shock's stroke.
    #[must_use]
    pub fn full_travel(&self) -> Length {
        self.0.travel
    }

    /// Stroke of the shock.
    #[must_use]
    pub fn full_stroke(&self) -> Length {
        self.0.stroke
    }

    /// `MR_end/MR_start − 1`.
    #[must_use]
    pub fn progression(&self) -> Uncertain<Share> {
        self.0.progression
    }

    /// Standard deviation of the bends, as a share of the mean motion ratio.
    #[must_use]
    pub fn bend(&self) -> Share {
        self.0.bend
    }

    /// Standard uncertainty of the mean motion ratio, as a share of it.
    #[must_use]
    pub fn ratio_uncertainty(&self) -> Share {
        self.0.ratio
    }

    /// Stroke, motion ratio and its slope at a travel in SI.
    pub(crate) fn kernel(&self, travel: f64) -> [f64; 3] {
        let (full, mean) = (self.0.travel.si(), self.mean());
        let x = (travel / full).clamp(-TRAVEL_ROUNDING, 1.0 + TRAVEL_ROUNDING);
        let gain = self.gain();
        [mean * full * (x + 0.5 * gain * (x * x - x)), mean * (1.0 + gain * (x - 0.5)), mean * gain / full]
    }

    /// Independent deviations of unit variance, each as stroke, ratio and slope at the travels: mean ratio, progression, bends.
    pub(crate) fn deviations(&self, travels: &[Length]) -> Vec<Vec<[f64; 3]>> {
        let (full, mean) = (self.0.travel.si(), self.mean());
        let half = 1.0 + 0.5 * self.0.progression.value.si();
        let straight = mean * self.0.progression.standard_uncertainty.si() / (half * half);
        let (second, third) = (mean * self.0.bend.si(), mean * self.0.bend.si() * THIRD);
        let at = |make: &dyn Fn(f64) -> [f64; 3]| -> Vec<[f64; 3]> {
            travels.iter().map(|travel| make(travel.si() / full)).collect()
        };
        vec![
            at(&|x| self.kernel(x * full).map(|part| part * self.0.ratio.si())),
            at(&|x| [straight * full * 0.5 * (x * x - x), straight * (x - 0.5), straight / full]),
            at(&|x| {
                let stroke = x * (x * (2.0 * x - 3.0) + 1.0);
                [second * full * stroke, second * (6.0 * x * (x - 1.0) + 1.0), second * (12.0 * x - 6.0) / full]
            }),
            at(&|x| {
                let stroke = x * (x * (x * (5.0 * x - 10.0) + 6.0) - 1.0);
                let ratio = x * (x * (20.0 * x - 30.0) + 12.0) - 1.0;
                [third * full * stroke, third * ratio, third * (x * (60.0 * x - 60.0) + 12.0) / full]
            }),
        ]
    }

    fn mean(&self) -> f64 {
        self.0.stroke.si() / self.0.travel.si()
    }

    fn gain(&self) -> f64 {
        let progression = self.0.progression.value.si();
        progression / (1.0 + 0.5 * progression)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn linkage_of(progression: f64) -> AssumedLinkage {
        let progression = Uncertain { value: Share::from_si(progression), standard_uncertainty: Share::from_si(0.15) };
        let share = Share::from_si;
        let [travel, stroke] = [0.31, 0.132].map(Length::from_si);
        AssumedLinkage::new(AssumedParts { travel, stroke, ratio: share(0.02), progression, bend: share(0.04) })
            .unwrap()
    }

    #[test]
    fn it_ends_where_travel_and_stroke_say_and_rises_as_its_progression() {
        for progression in [-0.2, 0.0, 0.4] {
            let linkage = linkage_of(progression);
            let ([none, start, _], [all, end, _]) = (linkage.kernel(0.0), linkage.kernel(0.31));
            assert!(none.abs() < 1e-15 && (all - 0.132).abs() < 1e-15);
            assert!((end / start - 1.0 - progression).abs() < 1e-12);
        }
    }

    #[test]
    fn it_is_what_it_was_made_of() {
        let linkage = linkage_of(0.3);
        let parts = AssumedParts {
            travel: linkage.full_travel(),
            stroke: linkage.full_stroke(),
            progression: linkage.progression(),
            ratio: linkage.ratio_uncertainty(),
            bend: linkage.bend(),
        };
        assert_eq!(AssumedLinkage::new(parts).unwrap(), linkage);
    }

    #[test]
    fn every_deviation_is_its_own_derivative() {
        /// Step of a central difference (m): its error is the third derivative times its square, 1e-7 of a ratio here.
        const STEP: f64 = 1e-4;
        let linkage = linkage_of(0.25);
        for z in [0.05, 0.15, 0.25] {
            let rows = linkage.deviations(&[z - STEP, z, z + STEP].map(Length::from_si));
            assert_eq!(rows.len(), 4);
            for row in rows {
                for part in 0..2 {
                    let slope = (row[2][part] - row[0][part]) / (2.0 * STEP);
                    assert!((slope - row[1][part + 1]).abs() < 1e-5 * (1.0 + slope.abs()), "{z}: {row:?}");
                }
            }
        }
        // To first order the second deviation is the linkage with another progression.
        let (more, less) = (linkage_of(0.25 + 1e-4).kernel(0.1), linkage_of(0.25 - 1e-4).kernel(0.1));
        let row = linkage.deviations(&[Length::from_si(0.1)])[1][0];
        for part in 0..3 {
            assert!(((more[part] - less[part]) / 2e-4 * 0.15 - row[part]).abs() < 1e-7, "{part}");
        }
        // Progression and bends leave both ends where they are.
        for row in &linkage.deviations(&[0.0, 0.31].map(Length::from_si))[1..] {
            assert!(row[0][0].abs() < 1e-15 && row[1][0].abs() < 1e-15);
        }
    }
}
