//! The search itself, in dimensions scaled to their bounds: 0 at the least, 1 at the greatest value.

use nalgebra::{DMatrix, DVector};

use super::super::sensitivity::{Varied, link};
use super::{Changed, Design, Freedom, Miss, Springs, Target};
use crate::error::LinkageError;
use crate::linkage::{Dimension, Linkage};
use crate::units::{Length, Quantity};
use crate::work;

/// Moving a dimension through all its bounds costs this many tolerances: enough to leave alone what no target needs, too
/// little to keep a target from its tolerance.
const STAY: f64 = 1e-2;
/// Steps before a start is left as good as it is.
const MOST_STEPS: usize = 80;
/// A step shorter than this share of the bounds ends the search.
const SMALL_STEP: f64 = 1e-9;
/// First damping, its factors on failure and success, and its end.
const DAMPING: f64 = 1e-3;
const HARDER: f64 = 5.0;
const SOFTER: f64 = 0.2;
const HARDEST: f64 = 1e12;

/// A design task.
pub(super) struct Problem<'a> {
    pub(super) linkage: &'a Linkage,
    pub(super) free: &'a [Freedom],
    pub(super) targets: &'a [Target],
    /// Values of the free dimensions to begin with.
    pub(super) was: &'a [f64],
    pub(super) springs: Springs<'a>,
}

/// Where a start led.
pub(super) struct Outcome {
    pub(super) cost: f64,
    linkage: Linkage,
    at: DVector<f64>,
    residuals: DVector<f64>,
    gradient: DVector<f64>,
}

impl Problem<'_> {
    /// The dimensions as they are, and points of the Halton sequence.
    pub(super) fn starts(&self, more: usize) -> Vec<DVector<f64>> {
        (0..=more)
            .map(|start| match start {
                0 => self.scaled_was().map(|share| share.clamp(0.0, 1.0)),
                _ => DVector::from_fn(self.free.len(), |at, _| radical_inverse(start, prime(at))),
            })
            .collect()
    }

    fn scaled_was(&self) -> DVector<f64> {
        let share = |(freedom, was): (&Freedom, &f64)| (was - freedom.from.si()) / (freedom.to - freedom.from).si();
        DVector::from_iterator(self.free.len(), self.free.iter().zip(self.was).map(share))
    }

    fn value(&self, at: usize, share: f64) -> f64 {
        let Freedom { from, to, .. } = &self.free[at];
        from.si() + share * (*to - *from).si()
    }

    fn make(&self, at: &DVector<f64>) -> Result<Linkage, LinkageError> {
        let (base, mechanism) = (self.linkage, self.linkage.mechanism());
        let mut drawn: Vec<[f64; 2]> = (0..mechanism.point_count()).map(|point| mechanism.coordinates(point)).collect();
        let mut shock_length = base.shock_length();
        let mut lengths = Vec::new();
        for (index, freedom) in self.free.iter().enumerate() {
            let value = self.value(index, at[index]);
            match &freedom.dimension {
                Dimension::Coordinate { point, axis } => {
                    drawn[mechanism.index_of("design", point)?][axis.index()] = value;
                }
                Dimension::LinkLength { body } => lengths.push((link(mechanism, body)?, Length::from_si(value))),
                Dimension::ShockLength => shock_length = Length::from_si(value),
            }
        }
        for (link, length) in lengths {
            drawn = base.redrawn(drawn, link, length)?;
        }
        base.with_drawing(drawn, shock_length)
    }

    /// Differences in tolerances, and how far the dimensions are from where they were.
    fn residuals(&self, linkage: &Linkage, at: &DVector<f64>) -> Result<DVector<f64>, LinkageError> {
        let mut found = Vec::with_capacity(self.targets.len() + self.free.len());
        for target in self.targets {
            found.push(match target {
                Target::MotionRatio { travel, value, tolerance } => {
                    (linkage.at(*travel)?.motion_ratio.si() - value.si()) / tolerance.si()
                }
                Target::WheelRate { travel, value, tolerance } => {
                    let point = linkage.at(*travel)?;
                    let (ratio, slope) = (point.motion_ratio.si(), point.motion_ratio_slope.si());
                    let (_, rate) = (self.springs)(point.stroke.si()).at_wheel(ratio, slope);
                    (rate - value.si()) / tolerance.si()
                }
                Target::Progression { value, tolerance } => (linkage.progression().si() - value.si()) / tolerance.si(),
                Target::FullTravel { value, tolerance } => (linkage.full_travel() - *value).si() / tolerance.si(),
            });
        }
        found.extend((at - self.scaled_was()).iter().map(|off| STAY * off));
        Ok(DVector::from_vec(found))
    }

    fn jacobian(&self, linkage: &Linkage) -> Result<DMatrix<f64>, LinkageError> {
        let rows = self.targets.len();
        let mut jacobian = DMatrix::zeros(rows + self.free.len(), self.free.len());
        let full = linkage.full_travel().si();
        let (start, end) = (linkage.kernel(0.0), linkage.kernel(full));
        for (column, freedom) in self.free.iter().enumerate() {
            let width = (freedom.to - freedom.from).si();
            let varied = Varied::new(linkage, &freedom.dimension)?;
            for (row, target) in self.targets.iter().enumerate() {
                let derivative = match target {
                    Target::MotionRatio { travel, tolerance, .. } => {
                        varied.at(linkage, travel.si()).motion_ratio / tolerance.si()
                    }
                    Target::WheelRate { travel, tolerance, .. } => {
                        let at = linkage.kernel(travel.si());
                        let by = varied.at(linkage, travel.si());
                        let axial = (self.springs)(at.stroke);
                        let by = [by.stroke, by.motion_ratio, by.slope];
                        let [_, rate] = axial.change_at_wheel([at.motion_ratio, at.slope], by);
                        rate / tolerance.si()
                    }
                    Target::Progression { tolerance, .. } => {
                        let (low, high) = (varied.at(linkage, 0.0), varied.at(linkage, full));
                        // The end of travel moves too.
                        let at_end = high.motion_ratio + end.slope * high.full_travel;
                        let ratio = end.motion_ratio / start.motion_ratio;
                        (at_end - ratio * low.motion_ratio) / start.motion_ratio / tolerance.si()
                    }
                    Target::FullTravel { tolerance, .. } => varied.at(linkage, full).full_travel / tolerance.si(),
                };
                jacobian[(row, column)] = derivative * width;
            }
            jacobian[(rows + column, column)] = STAY;
        }
        Ok(jacobian)
    }

    /// Levenberg–Marquardt inside the bounds from one start.
    pub(super) fn solve(&self, start: &DVector<f64>) -> Result<Outcome, LinkageError> {
        let mut at = start.clone();
        let mut linkage = self.make(&at)?;
        let mut residuals = self.residuals(&linkage, &at)?;
        let mut damping = DAMPING;
        let mut gradient = DVector::zeros(self.free.len());
        for _ in 0..MOST_STEPS {
            if work::goes_on().is_err() {
                break;
            }
            let jacobian = self.jacobian(&linkage)?;
            gradient = jacobian.transpose() * &residuals;
            let normal = jacobian.transpose() * &jacobian;
            let moved = loop {
                let trial = self.step(&at, &normal, &gradient, damping);
                let length = (&trial - &at).amax();
                if length < SMALL_STEP || damping > HARDEST {
                    break false;
                }
                let better =
                    self.make(&trial).and_then(|made| self.residuals(&made, &trial).map(|found| (made, found)));
                match better {
                    Ok((made, found)) if found.norm_squared() < residuals.norm_squared() => {
                        (at, linkage, residuals) = (trial, made, found);
                        damping *= SOFTER;
                        break true;
                    }
                    _ => damping *= HARDER,
                }
            };
            if !moved {
                break;
            }
        }
        Ok(Outcome { cost: residuals.norm_squared(), linkage, at, residuals, gradient })
    }

    /// A damped step in the dimensions that are not held by a bound recipe.
    fn step(&self, at: &DVector<f64>, normal: &DMatrix<f64>, gradient: &DVector<f64>, damping: f64) -> DVector<f64> {
        let mut matrix = normal.clone();
        let mut right = -gradient.clone();
        for index in 0..at.len() {
            matrix[(index, index)] *= 1.0 + damping;
            if held(at[index], gradient[index]) {
                matrix.row_mut(index).fill(0.0);
                matrix.column_mut(index).fill(0.0);
                matrix[(index, index)] = 1.0;
                right[index] = 0.0;
            }
        }
        let step = matrix.cholesky().map_or_else(|| DVector::zeros(at.len()), |factors| factors.solve(&right));
        (at + step).map(|share| share.clamp(0.0, 1.0))
    }

    pub(super) fn report(&self, best: Outcome, starts: [usize; 2]) -> Design {
        let misses: Vec<Miss> = self
            .targets
            .iter()
            .zip(best.residuals.iter())
            .map(|(target, off)| Miss { target: *target, tolerances: *off })
            .collect();
        let changes: Vec<Changed> = (0..self.free.len())
            .map(|index| Changed {
                dimension: self.free[index].dimension.clone(),
                was: Length::from_si(self.was[index]),
                now: Length::from_si(self.value(index, best.at[index])),
                held_back: held(best.at[index], best.gradient[index]),
            })
            .collect();
        let mut design = Design { linkage: best.linkage, changes, misses, in_the_way: Vec::new(), starts };
        if !design.is_reached() {
            let mut held: Vec<usize> = (0..self.free.len()).filter(|&index| design.changes[index].held_back).collect();
            held.sort_by(|&a, &b| best.gradient[b].abs().total_cmp(&best.gradient[a].abs()));
            design.in_the_way = held.into_iter().map(|index| self.free[index].dimension.clone()).collect();
        }
        design
    }
}

/// On a bound recipe, with the cost falling beyond it.
fn held(share: f64, gradient: f64) -> bool {
    (share <= 0.0 && gradient > 0.0) || (share >= 1.0 && gradient < 0.0)
}

/// Digits of a number behind the point in reverse: evenly spread for every base (Halton 1960).
fn radical_inverse(mut index: usize, base: usize) -> f64 {
    let (mut inverse, mut digit) = (0.0, 1.0 / base as f64);
    while index > 0 {
        inverse += digit * (index % base) as f64;
        index /= base;
        digit /= base as f64;
    }
    inverse
}

/// The primes in order, from 2.
fn prime(nth: usize) -> usize {
    let is_prime = |n: &usize| (2..*n).take_while(|d| d * d <= *n).all(|d| !n.is_multiple_of(d));
    (2..).filter(is_prime).nth(nth).unwrap_or(2)
}

#[cfg(test)]
mod tests;
