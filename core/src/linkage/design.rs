//! Which linkage to make: dimensions inside bounds that bring the motion ratio where it is wanted.
//!
//! Least squares of `(found − wanted)/tolerance` by Levenberg and Marquardt with the exact derivatives of
//! [`super::sensitivity`], steps held inside the bounds (Nocedal & Wright, *Numerical Optimization*, ch. 10 and 16), from the
//! dimensions as they are and from points spread over the bounds. Dimensions that no target needs stay where they are. A
//! step to a linkage that cannot be built (dead point, shock does not fit) is refused, so every design works.
//!
//! Finds the best design near any of its starts, not for certain the best of all; how many starts agree is reported.

mod search;

use super::{Linkage, Parameter};
use crate::error::LinkageError;
use crate::parallel::each;
use crate::units::{Length, MotionRatio, Quantity, Share, check};
use search::{Outcome, Problem};

/// Starts beside the dimensions as they are.
const STARTS: usize = 11;
/// Costs (squared tolerances) that differ by less than this share, or by less than this, belong to the same design.
const SAME_COST: f64 = 1e-3;

/// A dimension that may move.
#[derive(Debug, Clone, PartialEq)]
pub struct Freedom {
    /// A coordinate, or the shock's length.
    pub parameter: Parameter,
    /// Least value.
    pub from: Length,
    /// Greatest value.
    pub to: Length,
}

/// What is wanted, with the difference that one is content with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Target {
    /// A motion ratio at a travel.
    MotionRatio {
        /// Where.
        travel: Length,
        /// Wanted.
        value: MotionRatio,
        /// Tolerance.
        tolerance: MotionRatio,
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
        value: Length,
        /// Tolerance.
        tolerance: Length,
    },
}

/// What became of a dimension.
#[derive(Debug, Clone, PartialEq)]
pub struct Changed {
    /// The dimension.
    pub parameter: Parameter,
    /// What it was.
    pub was: Length,
    /// What it is in the design.
    pub is: Length,
    /// It lies on its bound and would go further if it could.
    pub held_back: bool,
}

/// How far a target is missed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Miss {
    /// The target.
    pub target: Target,
    /// Found minus wanted, in tolerances; within ±1 it is reached.
    pub tolerances: f64,
}

/// The best design found.
#[derive(Debug, Clone, PartialEq)]
pub struct Design {
    /// The linkage.
    pub linkage: Linkage,
    /// Its dimensions, in the order of the freedoms.
    pub changes: Vec<Changed>,
    /// What is left of every target.
    pub misses: Vec<Miss>,
    /// Dimensions whose bounds stand in the way, the one that costs most first; empty where all targets are reached.
    pub in_the_way: Vec<Parameter>,
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
    /// [`LinkageError`]: no freedom or no target, bounds in the wrong order, tolerances that are not above zero, a link's
    /// length among the free dimensions, or bounds that hold no working linkage at all. A target out of reach is no error:
    /// see [`Design::is_reached`].
    pub fn design(&self, free: &[Freedom], targets: &[Target]) -> Result<Design, LinkageError> {
        LinkageError::collect(faults(free, targets))?;
        if free.is_empty() || targets.is_empty() {
            return Err(LinkageError::EmptyDesign { free: free.len(), targets: targets.len() });
        }
        let was: Vec<f64> = free.iter().map(|freedom| self.dimension(&freedom.parameter)).collect::<Result<_, _>>()?;
        let problem = Problem { linkage: self, free, targets, was: &was };
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

    /// Value of a dimension.
    fn dimension(&self, parameter: &Parameter) -> Result<f64, LinkageError> {
        match parameter {
            Parameter::Coordinate { point, axis } => Ok(self.mechanism.point(point)?[axis.index()].si()),
            Parameter::ShockLength => Ok(self.shock_length.si()),
            Parameter::LinkLength { .. } => Err(LinkageError::NotFree { parameter: parameter.to_string() }),
        }
    }
}

fn faults(free: &[Freedom], targets: &[Target]) -> Vec<LinkageError> {
    let mut found = Vec::new();
    for Freedom { parameter, from, to } in free {
        let bounds =
            [check::finite(&format!("least {parameter}"), *from), check::finite(&format!("greatest {parameter}"), *to)];
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
