//! An end over its travel, tabulated once: wheel force and its rate, and the axle, at every place that a search for rest looks
//! at. None of it depends on the load or on how the frame stands.
//!
//! At its nodes the table holds what the kernels give, solved in blocks. Between them force and axle are cubics with the
//! kernels' own slopes (Hermite), off by `h⁴/384·F⁗`: some micronewtons over cells of 1.5 mm. That is for starting a search;
//! its last step is taken on the kernels.

use super::{AxlePoint, EndKernel, Motion, settle};
use crate::solve::{Close, Slope, root};
use crate::units::{Length, Quantity};

/// A step this short, in metres, ends a search inside a cell: rounding of a travel.
const CLOSE: f64 = 1e-16;

/// An end at one travel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Sample {
    pub(crate) travel: f64,
    pub(crate) force: f64,
    pub(crate) rate: f64,
    /// `None` where the place of the axle is not known.
    pub(crate) axle: Option<AxlePoint>,
}

impl Sample {
    /// What the kernels give.
    pub(crate) fn of<E: EndKernel + ?Sized>(end: &E, travel: f64) -> Self {
        let path = end.path_at(Length::from_si(travel));
        let motion = Motion::from(path.stroke);
        let (force, rate) = end.axial(motion.stroke).at_wheel(&motion);
        Self { travel, force, rate, axle: path.axle.map(AxlePoint::from) }
    }

    /// A little further along, to second order at the axle and to first in the force.
    pub(crate) fn moved(&self, to: f64) -> Self {
        let by = to - self.travel;
        let axle = self.axle.map(|AxlePoint { at, slope, curvature }| AxlePoint {
            at: [at[0] + by * (slope + 0.5 * curvature * by), at[1] + by],
            slope: slope + curvature * by,
            curvature,
        });
        Self { travel: to, force: self.force + self.rate * by, axle, ..*self }
    }
}

/// Where an end of a table rests.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Held {
    Extended,
    /// In a cell.
    At(f64),
    Compressed,
}

/// An end at all nodes, in rising order; both ends of the travel are among them.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct EndTable {
    nodes: Vec<Sample>,
}

impl EndTable {
    pub(crate) fn new<E: EndKernel + ?Sized>(end: &E) -> Self {
        let travels: Vec<Length> = settle::cells(end).into_iter().map(Length::from_si).collect();
        let nodes = travels.iter().zip(end.paths_at(&travels)).map(|(travel, path)| {
            let motion = Motion::from(path.stroke);
            let (force, rate) = end.axial(motion.stroke).at_wheel(&motion);
            Sample { travel: travel.si(), force, rate, axle: path.axle.map(AxlePoint::from) }
        });
        Self { nodes: nodes.collect() }
    }

    pub(crate) fn nodes(&self) -> &[Sample] {
        &self.nodes
    }

    pub(crate) fn full(&self) -> f64 {
        self.nodes.last().map_or(0.0, |node| node.travel)
    }

    /// The cell that a travel is in.
    fn cell_of(&self, travel: f64) -> usize {
        let after = self.nodes.partition_point(|node| node.travel <= travel);
        after.saturating_sub(1).min(self.nodes.len().saturating_sub(2))
    }

    /// Between the nodes.
    pub(crate) fn at(&self, travel: f64) -> Option<Sample> {
        self.within(self.cell_of(travel), travel)
    }

    fn within(&self, cell: usize, travel: f64) -> Option<Sample> {
        let (from, to) = (self.nodes.get(cell)?, self.nodes.get(cell + 1)?);
        let width = to.travel - from.travel;
        let share = (travel - from.travel) / width;
        let [force, rate] = cubic([from.force, from.rate], [to.force, to.rate], width, share);
        let axle = from.axle.zip(to.axle).map(|(a, b)| {
            let [x, slope] = cubic([a.at[0], a.slope], [b.at[0], b.slope], width, share);
            let curvature = a.curvature + share * (b.curvature - a.curvature);
            AxlePoint { at: [x, a.at[1] + travel - from.travel], slope, curvature }
        });
        Some(Sample { travel, force, rate, axle })
    }

    /// The first place from full extension on where a balance (force over load, and its slope) turns from below zero. The cell
    /// of a place nearby is looked at first: whether there is another before it, the kernels have the last word on.
    pub(crate) fn first_rest(&self, near: f64, balance: impl Fn(&Sample) -> (f64, f64)) -> Held {
        if self.nodes.first().is_none_or(|node| balance(node).0 > 0.0) {
            return Held::Extended;
        }
        let below = |node: Option<&Sample>| node.is_some_and(|node| balance(node).0 < 0.0);
        let near = self.cell_of(near);
        let cell = if below(self.nodes.get(near)) && !below(self.nodes.get(near + 1)) {
            Some(near)
        } else {
            self.nodes.iter().skip(1).position(|node| balance(node).0 >= 0.0)
        };
        let Some((cell, from, to)) =
            cell.and_then(|cell| Some((cell, self.nodes.get(cell)?, self.nodes.get(cell + 1)?)))
        else {
            return Held::Compressed;
        };
        let inside = |travel| self.within(cell, travel).map_or((f64::NAN, f64::NAN), |sample| balance(&sample));
        let bracket = [from.travel, to.travel];
        Held::At(root(inside, Slope::Rising, bracket, f64::midpoint(bracket[0], bracket[1]), Close::step(CLOSE)))
    }
}

/// A cubic with these values and slopes at both ends of a cell: value and slope at a share of its width.
fn cubic([from, slope_from]: [f64; 2], [to, slope_to]: [f64; 2], width: f64, share: f64) -> [f64; 2] {
    let rise = (to - from) / width;
    let (second, third) = (3.0 * rise - 2.0 * slope_from - slope_to, slope_from + slope_to - 2.0 * rise);
    let value = from + share * width * (slope_from + share * (second + share * third));
    [value, slope_from + share * (2.0 * second + 3.0 * share * third)]
}
