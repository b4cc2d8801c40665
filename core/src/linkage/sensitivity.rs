//! What a changed dimension does: exact derivatives by every coordinate, every link length and the shock length.
//!
//! The kernels run once more on numbers that carry a derivative ([`super::dual`]). Full extension moves with the dimension
//! as well: at fixed shock length `∂u₀/∂p = −(∂L/∂p)/(∂L/∂u)`, so that a derivative at a travel is at that travel from the
//! *changed* full extension, which is what a tuner measures.
//!
//! A link longer by δ is taken with everything else as it is; a moved point changes all lengths that end in it.
//!
//! Uncertainty of measured pivots is propagated linearly, `u² = Σ(∂y/∂p_i)²·u_i²` (JCGM 100:2008, 5.1.2), coordinates
//! independent; valid while errors are small against the links, which the tests check by Monte Carlo (JCGM 101:2008).

mod varied;

pub(crate) use varied::Varied;

use core::fmt;

use nalgebra::DVector;

use super::bound_recipe::BoundRecipe;
use super::{Linkage, Mechanism, Survey, UncertainPoint};
use crate::error::LinkageError;
use crate::units::{Length, MotionRatio, MotionRatioSlope, Quantity, Share, check};

/// Travels over which effects are ranked.
const RANKED_TRAVELS: usize = 21;

/// A coordinate axis of the drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Axis {
    /// Forward.
    X,
    /// Up.
    Z,
}

impl Axis {
    pub(crate) fn index(self) -> usize {
        match self {
            Self::X => 0,
            Self::Z => 1,
        }
    }
}

/// A dimension of a linkage.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub enum Dimension {
    /// A coordinate of a point as drawn.
    Coordinate {
        /// The point.
        point: String,
        /// Which coordinate.
        axis: Axis,
    },
    /// The length of a body with two points.
    LinkLength {
        /// The body.
        body: String,
    },
    /// Eye-to-eye length of the extended shock, its stroke unchanged.
    ShockLength,
}

impl fmt::Display for Dimension {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Coordinate { point, axis: Axis::X } => write!(formatter, "x of {point}"),
            Self::Coordinate { point, axis: Axis::Z } => write!(formatter, "z of {point}"),
            Self::LinkLength { body } => write!(formatter, "length of {body}"),
            Self::ShockLength => formatter.write_str("shock length"),
        }
    }
}

/// What a small change of one dimension does, to first order.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct LinkageEffect {
    /// The dimension.
    pub dimension: Dimension,
    /// Its change.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub step: Length,
    /// Change of the stroke at the travel.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub stroke: Length,
    /// Change of the motion ratio; may be below zero.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::difference"))]
    pub motion_ratio: MotionRatio,
    /// Change of the motion ratio's slope.
    pub motion_ratio_slope: MotionRatioSlope,
    /// Change of the axle's position in the frame's axes; its height part, turned over, is the change of ride height.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub axle: [Length; 2],
    /// Change of the full travel.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub full_travel: Length,
}

/// Derivatives by one dimension at one travel, in SI units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Derivatives {
    pub(crate) stroke: f64,
    pub(crate) motion_ratio: f64,
    pub(crate) slope: f64,
    pub(crate) axle: [f64; 2],
    pub(crate) full_travel: f64,
}

impl Linkage {
    /// All dimensions: coordinates of the points that count, links with two points, the shock's length.
    #[must_use]
    pub fn dimensions(&self) -> Vec<Dimension> {
        let points = self.mechanism.points().map(|(name, _)| name.to_owned());
        let coordinates = points
            .flat_map(|point| [Axis::X, Axis::Z].map(|axis| Dimension::Coordinate { point: point.clone(), axis }));
        let links = self.mechanism.bodies().filter(|(name, points)| *name != super::FRAME && points.len() == 2);
        let lengths = links.map(|(name, _)| Dimension::LinkLength { body: name.to_owned() });
        coordinates.chain(lengths).chain([Dimension::ShockLength]).collect()
    }

    /// Value of a dimension as drawn.
    pub(crate) fn length_of(&self, dimension: &Dimension) -> Result<Length, LinkageError> {
        match dimension {
            Dimension::Coordinate { point, axis } => Ok(self.mechanism.point(point)?[axis.index()]),
            Dimension::ShockLength => Ok(self.shock_length),
            Dimension::LinkLength { body } => {
                let ends = self.mechanism.on_body(link(&self.mechanism, body)?);
                let [a, b] = [ends[0], ends[1]].map(|point| self.mechanism.coordinates(point));
                Ok(Length::from_si((a[0] - b[0]).hypot(a[1] - b[1])))
            }
        }
    }

    /// What a small change of every dimension does at one travel, to first order.
    ///
    /// # Errors
    /// [`LinkageError::OutOfTravel`], and [`LinkageError::Unit`] when the step is not finite.
    pub fn effects(&self, travel: Length, step: Length) -> Result<Vec<LinkageEffect>, LinkageError> {
        self.check_travel(travel)?;
        check::finite("step", step)?;
        let effect = |dimension: Dimension| {
            let varied = Varied::new(self, &dimension)?;
            let d = varied.at(self, travel.si());
            let by = step.si();
            Ok(LinkageEffect {
                dimension,
                step,
                stroke: Length::from_si(d.stroke * by),
                motion_ratio: MotionRatio::from_si(d.motion_ratio * by),
                motion_ratio_slope: MotionRatioSlope::from_si(d.slope * by),
                axle: d.axle.map(|part| Length::from_si(part * by)),
                full_travel: Length::from_si(d.full_travel * by),
            })
        };
        self.dimensions().into_iter().map(effect).collect()
    }

    /// Dimensions by what they do to the motion ratio: root mean square over the travel of its relative change for a small
    /// change of the dimension, the greatest first.
    ///
    /// # Errors
    /// [`LinkageError::Unit`] when the step is not finite.
    pub fn ranking(&self, step: Length) -> Result<Vec<(Dimension, Share)>, LinkageError> {
        check::finite("step", step)?;
        let travels: Vec<f64> = self.travels(RANKED_TRAVELS).iter().map(|travel| travel.si()).collect();
        let ratios: Vec<f64> = travels.iter().map(|travel| self.kernel(*travel).motion_ratio).collect();
        let rank = |dimension: Dimension| {
            let varied = Varied::new(self, &dimension)?;
            let relative =
                travels.iter().zip(&ratios).map(|(travel, ratio)| varied.at(self, *travel).motion_ratio / ratio);
            let mean_square = relative.map(|share| share * share).sum::<f64>() / travels.len() as f64;
            Ok((dimension, Share::from_si(mean_square.sqrt() * step.si().abs())))
        };
        let mut ranked: Vec<_> = self.dimensions().into_iter().map(rank).collect::<Result<_, LinkageError>>()?;
        ranked.sort_by(|(_, a), (_, b)| b.si().total_cmp(&a.si()));
        Ok(ranked)
    }

    /// The curve with the uncertainty that measured pivots give it: standard uncertainty of every coordinate, and of the
    /// shock length.
    ///
    /// # Errors
    /// [`LinkageError::OutOfTravel`], and [`LinkageError::Unit`] for an uncertainty below zero or not finite.
    pub fn with_pivot_uncertainty(
        &self,
        travels: &[Length],
        coordinate: Length,
        shock_length: Length,
    ) -> Result<Vec<UncertainPoint>, LinkageError> {
        travels.iter().try_for_each(|&travel| self.check_travel(travel))?;
        check::not_negative("coordinate uncertainty", coordinate)?;
        check::not_negative("shock length uncertainty", shock_length)?;
        let mut squares = vec![[0.0; 3]; travels.len()];
        for dimension in self.dimensions() {
            let by = match dimension {
                Dimension::Coordinate { .. } => coordinate.si(),
                Dimension::ShockLength => shock_length.si(),
                // Follows from the coordinates.
                Dimension::LinkLength { .. } => continue,
            };
            let varied = Varied::new(self, &dimension)?;
            for (sum, travel) in squares.iter_mut().zip(travels) {
                let d = varied.at(self, travel.si());
                for (sum, part) in sum.iter_mut().zip([d.stroke, d.motion_ratio, d.slope]) {
                    *sum += (part * by).powi(2);
                }
            }
        }
        let point = |(&travel, squares): (&Length, [f64; 3])| {
            let kernel = self.kernel(travel.si());
            UncertainPoint::new(travel, [kernel.stroke, kernel.motion_ratio, kernel.slope], squares.map(f64::sqrt))
        };
        Ok(travels.iter().zip(squares).map(point).collect())
    }

    /// The curve with the uncertainty that surveyed pivots give it, with all their correlations, and that of the shock's length:
    /// `u² = g·C·gᵀ` with the derivatives `g` (JCGM 100:2008, 5.2.2). Points that are not in the survey are exact.
    ///
    /// # Errors
    /// As [`with_pivot_uncertainty`](Self::with_pivot_uncertainty).
    pub fn with_surveyed_pivots(
        &self,
        travels: &[Length],
        survey: &Survey,
        shock_length: Length,
    ) -> Result<Vec<UncertainPoint>, LinkageError> {
        travels.iter().try_for_each(|&travel| self.check_travel(travel))?;
        check::not_negative("shock length uncertainty", shock_length)?;
        // One metre each: the derivatives themselves.
        let one = Length::from_si(1.0);
        let (mut rows, covariance) =
            (self.deviations(travels, one, shock_length)?, survey.covariance_of(&self.mechanism));
        let shock = rows.pop().unwrap_or_default();
        let point = |(at, &travel): (usize, &Length)| {
            let spread = [0, 1, 2].map(|part| {
                let by = DVector::from_iterator(rows.len(), rows.iter().map(|row| row[at][part]));
                let square = (by.transpose() * &covariance * &by)[(0, 0)];
                (square + shock.get(at).map_or(0.0, |row| row[part].powi(2))).max(0.0).sqrt()
            });
            let kernel = self.kernel(travel.si());
            UncertainPoint::new(travel, [kernel.stroke, kernel.motion_ratio, kernel.slope], spread)
        };
        Ok(travels.iter().enumerate().map(|(at, travel)| point((at, travel))).collect())
    }

    /// Deviations of stroke, motion ratio and slope at some travels that every uncertain dimension makes, one row per
    /// dimension: coordinates and the shock's length, each with its standard uncertainty.
    pub(crate) fn deviations(
        &self,
        travels: &[Length],
        coordinate: Length,
        shock_length: Length,
    ) -> Result<Vec<Vec<[f64; 3]>>, LinkageError> {
        let mut rows = Vec::new();
        for dimension in self.dimensions() {
            let by = match dimension {
                Dimension::Coordinate { .. } => coordinate.si(),
                Dimension::ShockLength => shock_length.si(),
                // Follows from the coordinates.
                Dimension::LinkLength { .. } => continue,
            };
            let varied = Varied::new(self, &dimension)?;
            let row = travels.iter().map(|travel| {
                let d = varied.at(self, travel.si());
                [d.stroke, d.motion_ratio, d.slope].map(|part| part * by)
            });
            rows.push(row.collect());
        }
        Ok(rows)
    }

    /// `d²MR/dz²` at a travel, in SI units: no dimension changes, the driver coordinate does.
    pub(crate) fn motion_ratio_curvature(&self, travel: f64) -> Result<f64, LinkageError> {
        let still = Varied::by(self, None)?;
        let (_, slots) = self.motion.settled(travel);
        let shift = 1.0 / self.motion.wheel.state(&slots).v[1];
        Ok(still.kernel(self, travel, shift).slope.derivative)
    }

    /// The same linkage with one two-point body of another length, redrawn with its wheel at the height it was drawn at.
    ///
    /// # Errors
    /// As [`Linkage::new`]; [`LinkageError::NoLink`] for a body that is not a moving body with two points, and
    /// [`LinkageError::LinkTooLong`] for a length with which the parts do not meet.
    pub fn with_link_length(&self, body: &str, length: Length) -> Result<Self, LinkageError> {
        let index = link(&self.mechanism, body)?;
        check::positive("link length", length)?;
        let drawn = (0..self.mechanism.point_count()).map(|point| self.mechanism.coordinates(point)).collect();
        let redrawn = self.redrawn(drawn, index, length)?;
        self.with_drawing(redrawn, self.shock_length)
    }

    /// Coordinates of all points with one link of another length, the wheel at the height it was drawn at.
    pub(crate) fn redrawn(
        &self,
        drawn: Vec<[f64; 2]>,
        link: usize,
        length: Length,
    ) -> Result<Vec<[f64; 2]>, LinkageError> {
        let [a, b] = [self.mechanism.on_body(link)[0], self.mechanism.on_body(link)[1]].map(|point| drawn[point]);
        let change = length.si() - (a[0] - b[0]).hypot(a[1] - b[1]);
        let bound = BoundRecipe::bind_stretched(&self.recipe, &drawn, Some((link, change)));
        let mut slots = bound.drawn_slots();
        let solved = bound.run(bound.drawn_coordinate(), &mut slots);
        let place = |point: usize| bound.operand(point).map_or(drawn[point], |operand| operand.state(&slots).p);
        let redrawn: Vec<[f64; 2]> = (0..drawn.len()).map(place).collect();
        if !solved || redrawn.iter().flatten().any(|part| !part.is_finite()) {
            return Err(LinkageError::LinkTooLong { body: self.mechanism.body_name(link).to_owned(), length });
        }
        Ok(redrawn)
    }

    /// The same bodies with their points elsewhere, and another shock length.
    pub(crate) fn with_drawing(&self, drawn: Vec<[f64; 2]>, shock_length: Length) -> Result<Self, LinkageError> {
        let mechanism = self.mechanism.drawn_at(drawn.into_iter().map(|at| at.map(Length::from_si)).collect())?;
        Self::new(mechanism, self.wheel(), self.shock(), shock_length, self.stroke)
    }
}

/// A moving body with two points.
pub(crate) fn link(mechanism: &Mechanism, body: &str) -> Result<usize, LinkageError> {
    let is_link = |&index: &usize| index != mechanism.frame() && mechanism.on_body(index).len() == 2;
    let named = (0..mechanism.body_count()).find(|&index| mechanism.body_name(index) == body);
    named.filter(is_link).ok_or_else(|| LinkageError::NoLink {
        body: body.to_owned(),
        links: (0..mechanism.body_count()).filter(is_link).map(|index| mechanism.body_name(index).to_owned()).collect(),
    })
}

#[cfg(test)]
mod tests;
