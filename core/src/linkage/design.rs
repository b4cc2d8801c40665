//! Which linkage to make: dimensions inside bounds that bring the motion ratio, or the wheel rate, where it is wanted.
//!
//! Least squares of `(found − wanted)/tolerance` by Levenberg and Marquardt with the exact derivatives of
//! [`super::sensitivity`], steps held inside the bounds (Nocedal & Wright, *Numerical Optimization*, ch. 10 and 16), from the
//! dimensions as they are and from points spread over the bounds. Dimensions that no target needs stay where they are. A
//! step to a linkage that cannot be built (dead point, shock does not fit) is refused, so every design works.
//!
//! The wheel rate is that of the springs as they are; what they do over their stroke is handed in, as a function.
//!
//! A link's length moves with everything else as it is, as in [`Linkage::with_link_length`]; the derivative is exact only
//! while no coordinate that shapes the mechanism moves beside it, so those two are not free together.
//!
//! Finds the best design near any of its starts, not for certain the best of all; how many starts agree is reported.

mod search;

use super::{Dimension, Linkage};
use crate::axial::Axial;
use crate::error::LinkageError;
use crate::parallel::each;
use crate::units::{Length, MotionRatio, Quantity, Share, WheelRate, check};
use search::{Outcome, Problem};

/// Starts beside the dimensions as they are.
const STARTS: usize = 11;
/// Costs (squared tolerances) that differ by less than this share, or by less than this, belong to the same design.
const SAME_COST: f64 = 1e-3;

/// Axial force, rate and slope of the springs at a stroke.
pub(crate) type Springs<'a> = &'a (dyn Fn(f64) -> Axial + Sync);

/// A dimension that may move.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Freedom {
    /// A coordinate, a link's length, or the shock's length.
    pub dimension: Dimension,
    /// Least value.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub from: Length,
    /// Greatest value.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub to: Length,
}

/// What is wanted, with the difference that one is content with.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Target {
    /// A motion ratio at a travel.
    MotionRatio {
        /// Where.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        travel: Length,
        /// Wanted.
        value: MotionRatio,
        /// Tolerance.
        tolerance: MotionRatio,
    },
    /// A wheel rate at a travel, with the springs as they are.
    WheelRate {
        /// Where.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        travel: Length,
        /// Wanted.
        value: WheelRate,
        /// Tolerance.
        tolerance: WheelRate,
    },
    /// The progression over the whole travel, `MR_end/MR_start − 1`.
    Progression {
        /// Wanted.
        value: Share,
        /// Tolerance.
        tolerance: Share,
    },
    /// The full travel.
    FullTravel {
        /// Wanted.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        value: Length,
        /// Tolerance.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        tolerance: Length,
    },
}

/// What became of a dimension.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Changed {
    /// The dimension.
    pub dimension: Dimension,
    /// What it was.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub was: Length,
    /// What it is in the design.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub now: Length,
    /// It lies on its bound and would go further if it could.
    pub held_back: bool,
}

/// How far a target is missed.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Miss {
    /// The target.
    pub target: Target,
    /// Found minus wanted, in tolerances; within ±1 it is reached.
    pub tolerances: f64,
}

/// The best design found.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Design {
    /// The linkage.
    pub linkage: Linkage,
    /// Its dimensions, in the order of the freedoms.
    pub changes: Vec<Changed>,
    /// What is left of every target.
    pub misses: Vec<Miss>,
    /// Dimensions whose bounds stand in the way, the one that costs most first; empty where all targets are reached.
    pub in_the_way: Vec<Dimension>,
    /// Starts tried that led to a working linkage, and those of them that ended in a design as good as this one.
    pub starts: [usize; 2],
}

impl Design {
    /// Are all targets met within their tolerances?
    #[must_use]
    pub fn is_reached(&self) -> bool {
        self.misses.iter().all(|miss| miss.tolerances.abs() <= 1.0)
    }
}

impl Linkage {
    /// The dimensions inside their bounds that meet the targets best.
    ///
    /// # Errors
    /// [`LinkageError`]: no freedom or no target, bounds in the wrong order, tolerances that are not above zero, a wheel
    /// rate among the targets (for that, design the rear end), a link's length free beside coordinates that shape the
    /// mechanism, or bounds that hold no working linkage at all. A target out of reach is no error: see
    /// [`Design::is_reached`].
    pub fn design(&self, free: &[Freedom], targets: &[Target]) -> Result<Design, LinkageError> {
        if targets.iter().any(|target| matches!(target, Target::WheelRate { .. })) {
            return Err(LinkageError::NoSprings);
        }
        self.design_with(free, targets, &|_| Axial::default())
    }

    /// As [`design`](Self::design), with these springs.
    pub(crate) fn design_with(
        &self,
        free: &[Freedom],
        targets: &[Target],
        springs: Springs<'_>,
    ) -> Result<Design, LinkageError> {
        let mut found = faults(free, targets);
        found.extend(self.tied_lengths(free)?);
        LinkageError::collect(found)?;
        if free.is_empty() || targets.is_empty() {
            return Err(LinkageError::EmptyDesign { free: free.len(), targets: targets.len() });
        }
        let value = |freedom: &Freedom| Ok(self.length_of(&freedom.dimension)?.si());
        let was: Vec<f64> = free.iter().map(value).collect::<Result<_, LinkageError>>()?;
        let problem = Problem { linkage: self, free, targets, was: &was, springs };
        let outcomes = each(&problem.starts(STARTS), |start| problem.solve(start));
        let mut first_error = None;
        let mut solved: Vec<Outcome> = Vec::new();
        for outcome in outcomes {
            match outcome {
                Ok(outcome) => solved.push(outcome),
                Err(error) => first_error = first_error.or(Some(error)),
            }
        }
        solved.sort_by(|a, b| a.cost.total_cmp(&b.cost));
        let alike = |best: &Outcome, other: &Outcome| other.cost - best.cost <= SAME_COST * best.cost.max(1.0);
        let starts = [solved.len(), solved.first().map_or(0, |best| solved.iter().filter(|o| alike(best, o)).count())];
        match (solved.into_iter().next(), first_error) {
            (Some(best), _) => Ok(problem.report(best, starts)),
            (None, Some(reason)) => Err(LinkageError::NoDesign { reason: Box::new(reason) }),
            (None, None) => Err(LinkageError::EmptyDesign { free: free.len(), targets: targets.len() }),
        }
    }

    /// Links whose length is free beside coordinates of points that are not on the frame alone.
    fn tied_lengths(&self, free: &[Freedom]) -> Result<Vec<LinkageError>, LinkageError> {
        let mechanism = &self.mechanism;
        let mut shaping = None;
        for Freedom { dimension, .. } in free {
            if let Dimension::Coordinate { point, .. } = dimension {
                let carriers = mechanism.carriers(mechanism.index_of("design", point)?);
                if carriers != [mechanism.frame()] {
                    shaping = shaping.or(Some(dimension));
                }
            }
        }
        let lengths = free.iter().filter(|freedom| matches!(freedom.dimension, Dimension::LinkLength { .. }));
        let tied = |(length, coordinate): (&Freedom, &Dimension)| LinkageError::NotFree {
            dimension: length.dimension.to_string(),
            beside: coordinate.to_string(),
        };
        Ok(lengths.zip(shaping.into_iter().cycle()).map(tied).collect())
    }
}

fn faults(free: &[Freedom], targets: &[Target]) -> Vec<LinkageError> {
    let mut found = Vec::new();
    for Freedom { dimension, from, to } in free {
        let bounds =
            [check::finite(&format!("least {dimension}"), *from), check::finite(&format!("greatest {dimension}"), *to)];
        found.extend(bounds.into_iter().filter_map(Result::err).map(LinkageError::from));
        if from >= to {
            found.push(LinkageError::EmptyInterval { from: *from, to: *to });
        }
    }
    for target in targets {
        let fault = match target {
            Target::MotionRatio { travel, value, tolerance } => check::not_negative("travel of a target", *travel)
                .and(check::positive("motion ratio of a target", *value))
                .and(check::positive("tolerance of a motion ratio", *tolerance))
                .err(),
            Target::WheelRate { travel, value, tolerance } => check::not_negative("travel of a target", *travel)
                .and(check::positive("wheel rate of a target", *value))
                .and(check::positive("tolerance of a wheel rate", *tolerance))
                .err(),
            Target::Progression { value, tolerance } => check::finite("progression of a target", *value)
                .and(check::positive("tolerance of a progression", *tolerance))
                .err(),
            Target::FullTravel { value, tolerance } => check::positive("full travel of a target", *value)
                .and(check::positive("tolerance of a full travel", *tolerance))
                .err(),
        };
        found.extend(fault.map(LinkageError::from));
    }
    found
}

#[cfg(test)]
mod tests;
