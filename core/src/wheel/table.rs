//! An end over its travel, tabulated once: wheel force and its rate, and the axle, at every place that a search for rest looks
//! at. None of it depends on the load or on how the frame stands.
//!
//! At its nodes the table holds what the kernels give, solved in blocks; with it the ranges of force, rate and path over spans of
//! eight cells, which bound the balance under any load in any attitude, so that most of the travel is looked at in a few vectors.
//! Between the nodes force and axle are cubics with the kernels' own slopes (Hermite), off by `h⁴/384·F⁗`: some micronewtons over
//! cells of 1.5 mm. That is for starting a search; its last step is taken on the kernels.

mod nodes;
mod spans;

pub(crate) use nodes::{Balances, Nodes};
use spans::{Range, SPAN, SPANS, Spans, is_loud, may_carry};

use super::{AxlePoint, EndKernel, Motion, PathAt, Push, WheelState};
use crate::solve::{Close, Slope, root};
use crate::units::{Length, Quantity};

/// Cells over the whole travel: 1.5 mm on 300 mm, far below the width of any hump a spring or linkage makes.
const CELLS: usize = 200;

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
    /// A short way on, along its slopes.
    pub(crate) fn moved(&self, by: f64) -> Self {
        let axle = self.axle.map(|axle| AxlePoint {
            at: [axle.at[0] + axle.slope * by, axle.at[1] + by],
            slope: axle.slope + axle.curvature * by,
            ..axle
        });
        Self { travel: self.travel + by, force: self.force + self.rate * by, axle, ..*self }
    }
}

/// What the kernels give of an end at one travel, the mechanism and the push of the springs with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Exact {
    pub(crate) sample: Sample,
    motion: Motion,
    axial: Push,
}

impl Exact {
    #[inline]
    pub(crate) fn of<E: EndKernel + ?Sized>(end: &E, travel: f64) -> Self {
        Self::on(end, travel, end.path_at(Length::from_si(travel)))
    }

    #[inline]
    fn on<E: EndKernel + ?Sized>(end: &E, travel: f64, path: PathAt) -> Self {
        let motion = Motion::from(path.stroke);
        let axial = end.axial(motion.stroke);
        let (force, rate) = axial.at_wheel(&motion);
        Self { sample: Sample { travel, force, rate, axle: path.axle.map(AxlePoint::from) }, motion, axial }
    }

    /// Stroke of the fork or shock.
    #[inline]
    pub(crate) fn stroke(&self) -> f64 {
        self.motion.stroke
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
    /// Energy of the springs at full extension.
    extended: f64,
    /// Even cells per metre.
    cells_per_length: f64,
    /// The same in columns; slope and curvature are NaN where the place of the axle is not known.
    travel: Vec<f64>,
    force: Vec<f64>,
    rate: Vec<f64>,
    slope: Vec<f64>,
    curvature: Vec<f64>,
    spans: Spans,
}

/// What an end carries in an attitude of the frame, `up·(c − s·dx/dz) + forward·(c·dx/dz + s)` with the cosine `c` and the sine
/// `s` of its pitch, force by force in the frame's own axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Carried {
    pub(crate) up: f64,
    pub(crate) forward: f64,
    pub(crate) sin: f64,
    pub(crate) cos: f64,
}

impl Carried {
    /// What is carried whatever the slope of the axle's path, and per that slope.
    fn parts(&self) -> (f64, f64) {
        let Self { up, forward, sin, cos } = *self;
        (up * cos + forward * sin, forward * cos - up * sin)
    }

    /// Force over what is carried, and the slope of that.
    #[inline(always)]
    pub(crate) fn balance(&self, force: f64, rate: f64, slope: f64, curvature: f64) -> (f64, f64) {
        let Self { up, forward, sin, cos } = *self;
        let load = up * (cos - slope * sin) + forward * (slope * cos + sin);
        (force - load, rate - curvature * (forward * cos - up * sin))
    }
}

/// The balance of a table under what is carried, worked out where it is asked for.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Carrying<'a> {
    table: &'a EndTable,
    carried: Carried,
}

impl Nodes for Carrying<'_> {
    fn travels(&self) -> &[f64] {
        &self.table.travel
    }

    fn at(&self, node: usize) -> (f64, f64) {
        let EndTable { force, rate, slope, curvature, .. } = self.table;
        self.carried.balance(force[node], rate[node], slope[node], curvature[node])
    }

    fn loud(&self) -> impl Iterator<Item = usize> {
        let Self { table, carried } = *self;
        table.spans_where(move |spans, some| is_loud(carried, spans, some)).flat_map(|span| table.cells_of(span))
    }
}

impl EndTable {
    pub(crate) fn new<E: EndKernel + ?Sized>(end: &E) -> Self {
        let travels: Vec<Length> = cells(end).into_iter().map(Length::from_si).collect();
        let exact = travels.iter().zip(end.paths_at(&travels)).map(|(travel, path)| Exact::on(end, travel.si(), path));
        let exact: Vec<Exact> = exact.collect();
        let nodes: Vec<Sample> = exact.iter().map(|exact| exact.sample).collect();
        let column = |of: fn(&Sample) -> f64| -> Vec<f64> { nodes.iter().map(of).collect() };
        let [force, rate] = [column(|node| node.force), column(|node| node.rate)];
        let slope = column(|node| node.axle.map_or(f64::NAN, |axle| axle.slope));
        let curvature = column(|node| node.axle.map_or(f64::NAN, |axle| axle.curvature));
        Self {
            cells_per_length: CELLS as f64 / end.full(),
            extended: exact.first().map_or(0.0, |exact| exact.axial.energy),
            travel: column(|node| node.travel),
            spans: Spans {
                force: Range::of(&force),
                rate: Range::of(&rate),
                slope: Range::of(&slope),
                curvature: Range::of(&curvature),
            },
            force,
            rate,
            slope,
            curvature,
            nodes,
        }
    }

    /// The balance at all nodes under what is carried.
    pub(crate) fn carrying(&self, carried: Carried) -> Carrying<'_> {
        Carrying { table: self, carried }
    }

    fn cells_of(&self, span: usize) -> core::ops::Range<usize> {
        span * SPAN..((span + 1) * SPAN).min(self.nodes.len().saturating_sub(1))
    }

    /// The spans of which something holds, in rising order, asked of several at a time.
    fn spans_where(
        &self,
        holds: impl Fn(&Spans, core::ops::Range<usize>) -> [bool; SPANS],
    ) -> impl Iterator<Item = usize> {
        let all = self.spans.force.least.len();
        (0..all).step_by(SPANS).flat_map(move |from| {
            let some = from..all.min(from + SPANS);
            let held = holds(&self.spans, some.clone());
            some.zip(held).filter_map(|(span, held)| held.then_some(span))
        })
    }

    /// Everything at a travel of this end, with units.
    pub(crate) fn state(&self, exact: &Exact) -> WheelState {
        WheelState::with(exact.sample.travel, exact.motion, exact.axial, self.extended)
    }

    /// The balance at all nodes, one by one.
    pub(crate) fn balances(&self, balance: impl Fn(&Sample) -> (f64, f64)) -> Balances<'_> {
        let (over, rate) = self.nodes.iter().map(balance).unzip();
        Balances { travel: &self.travel, over, rate }
    }

    /// Force over a load at all nodes.
    pub(crate) fn over(&self, load: f64) -> Balances<'_> {
        let over = self.force.iter().map(|force| force - load).collect();
        Balances { travel: &self.travel, over, rate: self.rate.clone() }
    }

    pub(crate) fn full(&self) -> f64 {
        self.nodes.last().map_or(0.0, |node| node.travel)
    }

    /// The cell that a travel is in: about where it would be without the nodes at kinks, which are few, and from there on.
    #[inline]
    fn cell_of(&self, travel: f64) -> usize {
        let last = self.travel.len().saturating_sub(2);
        let mut cell = ((travel * self.cells_per_length) as usize).min(last);
        while cell > 0 && self.travel[cell] > travel {
            cell -= 1;
        }
        while cell < last && self.travel[cell + 1] <= travel {
            cell += 1;
        }
        cell
    }

    /// Between the nodes.
    #[inline]
    pub(crate) fn at(&self, travel: f64) -> Option<Sample> {
        self.within(self.cell_of(travel), travel)
    }

    #[inline]
    fn within(&self, cell: usize, travel: f64) -> Option<Sample> {
        let (from, to) = (self.nodes.get(cell)?, self.nodes.get(cell + 1)?);
        let width = to.travel - from.travel;
        let share = (travel - from.travel) / width;
        let [force, rate] = cubic([from.force, from.rate], [to.force, to.rate], width, share);
        let (Some(a), Some(b)) = (from.axle, to.axle) else { return Some(Sample { travel, force, rate, axle: None }) };
        let [x, slope] = cubic([a.at[0], a.slope], [b.at[0], b.slope], width, share);
        let curvature = a.curvature + share * (b.curvature - a.curvature);
        let axle = Some(AxlePoint { at: [x, a.at[1] + travel - from.travel], slope, curvature });
        Some(Sample { travel, force, rate, axle })
    }

    /// The first node from full extension on at which the force is no less than what is carried; the first of all only where
    /// it is more.
    pub(crate) fn first_carrying(&self, carried: Carried) -> Option<usize> {
        let over = |node: usize| carried.balance(self.force[node], 0.0, self.slope[node], 0.0).0;
        if self.nodes.is_empty() || over(0) > 0.0 {
            return Some(0);
        }
        let spans = self.spans_where(move |spans, some| may_carry(carried, spans, some));
        spans.flat_map(|span| self.cells_of(span)).map(|cell| cell + 1).find(|&node| over(node) >= 0.0)
    }

    /// The same of any balance, node by node.
    pub(crate) fn first_over(&self, balance: impl Fn(&Sample) -> (f64, f64)) -> Option<usize> {
        if self.nodes.first().is_none_or(|node| balance(node).0 > 0.0) {
            return Some(0);
        }
        (1..self.nodes.len()).find(|&node| balance(&self.nodes[node]).0 >= 0.0)
    }

    /// The place in the cell before a node at which a balance (force over load, and its slope) turns from below zero: the
    /// first from full extension on, if that is the first node where it has. A hump inside a cell is not looked for.
    pub(crate) fn rest_before(&self, node: Option<usize>, balance: impl Fn(&Sample) -> (f64, f64)) -> Held {
        self.in_cell_before(node, |cell, from, to| {
            let inside = |travel| self.within(cell, travel).map_or((f64::NAN, f64::NAN), |sample| balance(&sample));
            let bracket = [from.travel, to.travel];
            root(inside, Slope::Rising, bracket, f64::midpoint(bracket[0], bracket[1]), Close::step(CLOSE))
        })
    }

    /// The same on the straight line between the nodes.
    pub(crate) fn rest_about(&self, node: Option<usize>, over: impl Fn(&Sample) -> f64) -> Held {
        self.in_cell_before(node, |_, from, to| {
            let (below, above) = (over(from), over(to));
            from.travel + (to.travel - from.travel) * below / (below - above)
        })
    }

    fn in_cell_before(&self, node: Option<usize>, place: impl FnOnce(usize, &Sample, &Sample) -> f64) -> Held {
        let Some(node) = node else { return Held::Compressed };
        let Some(cell) = node.checked_sub(1) else { return Held::Extended };
        let (Some(from), Some(to)) = (self.nodes.get(cell), self.nodes.get(node)) else { return Held::Compressed };
        Held::At(place(cell, from, to))
    }
}

/// A cubic with these values and slopes at both ends of a cell: value and slope at a share of its width.
fn cubic([from, slope_from]: [f64; 2], [to, slope_to]: [f64; 2], width: f64, share: f64) -> [f64; 2] {
    let rise = (to - from) / width;
    let (second, third) = (3.0 * rise - 2.0 * slope_from - slope_to, slope_from + slope_to - 2.0 * rise);
    let value = from + share * width * (slope_from + share * (second + share * third));
    [value, slope_from + share * (2.0 * second + 3.0 * share * third)]
}

/// Travels from full extension to full compression between which a balance is looked at.
fn cells<E: EndKernel + ?Sized>(end: &E) -> Vec<f64> {
    let full = end.full();
    let mut nodes: Vec<f64> = (0..=CELLS).map(|cell| full * (cell as f64 / CELLS as f64)).collect();
    nodes.extend(end.jumps());
    nodes.sort_by(f64::total_cmp);
    nodes.dedup();
    nodes
}

#[cfg(all(test, feature = "serde"))]
mod tests;
