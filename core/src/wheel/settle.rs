//! Where a wheel comes to rest: roots of `F_w(z) = W` from full extension on.
//!
//! The travel is cut at every kink and into even cells; in each the balance `F_w − W` is looked at with its slope, so that
//! a hump that touches the load inside a cell is found too. Fails to see only two roots in one cell between which the rate changes sign more than
//! once.

use super::{EndKernel, EndTable, Nodes, WheelState};
use crate::error::Result;
use crate::solve::{Close, Slope, root, turning};
use crate::units::{Force, Length, Quantity, check};

/// A bracket as narrow as this, in metres, is a root: a nanometre over a hundred.
const CLOSE: f64 = 1e-11;
/// Halvings that close in on a hump: a cell of 1.5 mm to a hundredth of a nanometre.
const HALVINGS: usize = 28;

/// What a small push does at an equilibrium.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "lowercase"))]
pub enum Stability {
    /// It comes back.
    Stable,
    /// It goes on to the next equilibrium.
    Unstable,
    /// It rests on the end of the stroke, which carries what the springs do not.
    Bottomed,
}

/// A place where a wheel may rest.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Equilibrium {
    /// Vertical travel from full extension.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub travel: Length,
    /// What a small push does there.
    pub stability: Stability,
}

/// How a wheel comes to rest under a load, reached from full extension; with the other places where it might.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
pub enum Settling {
    /// It stays at full extension: the springs push harder than the load.
    ToppedOut {
        /// Force at full extension less the load.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        margin: Force,
        /// Further equilibria.
        others: Vec<Equilibrium>,
    },
    /// It rests where force and load are equal.
    Settled {
        /// The end there.
        state: WheelState,
        /// Further equilibria.
        others: Vec<Equilibrium>,
    },
    /// It goes to full compression: no travel carries the load.
    Bottomed {
        /// Load less the force at full compression.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        margin: Force,
        /// Further equilibria.
        others: Vec<Equilibrium>,
    },
}

impl Settling {
    /// The state where force and load are equal; `None` on a stop.
    #[must_use]
    pub fn state(&self) -> Option<&WheelState> {
        match self {
            Self::Settled { state, .. } => Some(state),
            Self::ToppedOut { .. } | Self::Bottomed { .. } => None,
        }
    }

    /// Further equilibria, in the order of travel.
    #[must_use]
    pub fn others(&self) -> &[Equilibrium] {
        match self {
            Self::ToppedOut { others, .. } | Self::Settled { others, .. } | Self::Bottomed { others, .. } => others,
        }
    }
}

pub(super) fn settle<E: EndKernel + ?Sized>(end: &E, load: Force) -> Result<Settling> {
    let load = check::finite("load", load)?.si();
    let (rest, others) = rest_of(end, load);
    Ok(match rest {
        Rest::At(travel) => Settling::Settled { state: WheelState::of(end, travel), others },
        Rest::ToppedOut(margin) => Settling::ToppedOut { margin: Force::from_si(margin), others },
        Rest::Bottomed(margin) => Settling::Bottomed { margin: Force::from_si(margin), others },
    })
}

/// Where a wheel comes to rest under a load.
pub(crate) fn rest_under<E: EndKernel + ?Sized>(end: &E, load: f64) -> Rest {
    rest_of(end, load).0
}

/// The same of an end whose table is at hand.
pub(crate) fn rest_on<E: EndKernel + ?Sized>(end: &E, table: &EndTable, load: f64) -> Rest {
    rest(&table.over(load), None, |z| balance(end, load, z)).0
}

fn rest_of<E: EndKernel + ?Sized>(end: &E, load: f64) -> (Rest, Vec<Equilibrium>) {
    rest(&EndTable::new(end).over(load), None, |z| balance(end, load, z))
}

/// Where an end comes to rest, with the force that the stop carries.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Rest {
    ToppedOut(f64),
    At(f64),
    Bottomed(f64),
}

fn balance<E: EndKernel + ?Sized>(end: &E, load: f64, travel: f64) -> (f64, f64) {
    let (force, rate) = end.force_and_rate(travel);
    (force - load, rate)
}

/// The first rest from full extension of a balance (force over load, and its slope), and the others in order of travel: from
/// the balance at the nodes, and of any place between. A search starts where a rest is thought to be.
pub(crate) fn rest(
    nodes: &impl Nodes,
    near: Option<f64>,
    balance: impl Fn(f64) -> (f64, f64),
) -> (Rest, Vec<Equilibrium>) {
    let mut roots = roots(nodes, near, &balance);
    let travels = nodes.travels();
    let over = |node: Option<usize>| node.map_or(f64::NAN, |node| nodes.at(node).0);
    let last = travels.len().checked_sub(1);
    let (extended, compressed) = (over(last.map(|_| 0)), over(last));
    let full = travels.last().copied().unwrap_or(f64::NAN);
    let first = roots.iter().position(|root| extended <= 0.0 && root.stability == Stability::Stable);
    let first = first.map(|at| roots.remove(at));
    if compressed < 0.0 && (first.is_some() || extended > 0.0) {
        roots.push(Equilibrium { travel: Length::from_si(full), stability: Stability::Bottomed });
    }
    let rest = match first {
        Some(first) => Rest::At(first.travel.si()),
        None if extended > 0.0 => Rest::ToppedOut(extended),
        None => Rest::Bottomed(-compressed),
    };
    (rest, roots)
}

/// Every travel at which the force equals the load, in rising order.
fn roots(nodes: &impl Nodes, near: Option<f64>, balance: &impl Fn(f64) -> (f64, f64)) -> Vec<Equilibrium> {
    let mut found: Vec<Equilibrium> = Vec::new();
    let mut push = |travel: f64, rising: bool| {
        let stability = if rising { Stability::Stable } else { Stability::Unstable };
        found.push(Equilibrium { travel: Length::from_si(travel), stability });
    };
    let travels = nodes.travels();
    let node = |at: usize| -> Node { (travels[at], nodes.at(at)) };
    if let Some((_, (0.0, rate))) = (!travels.is_empty()).then(|| node(0)) {
        push(0.0, rate >= 0.0);
    }
    for cell in nodes.loud() {
        let (left, right) = (node(cell), node(cell + 1));
        if (left.1.0 < 0.0) == (right.1.0 < 0.0) && (left.1.1 > 0.0) == (right.1.1 > 0.0) {
            continue;
        }
        let (first, second) = monotone_parts(balance, left, right);
        for (a, b) in core::iter::once(first).chain(second) {
            let crosses = (a.1.0 < 0.0) != (b.1.0 < 0.0);
            if crosses && a.1.0 != 0.0 {
                let rising = b.1.0 >= 0.0;
                let slope = if rising { Slope::Rising } else { Slope::Falling };
                push(closed_in(balance, slope, [a.0, b.0], near), rising);
            } else if crosses && a.0 > 0.0 {
                push(a.0, false);
            }
        }
    }
    found
}

/// The root between two travels at which the balance has different signs.
fn closed_in(balance: &impl Fn(f64) -> (f64, f64), slope: Slope, bracket: [f64; 2], near: Option<f64>) -> f64 {
    let inside = near.filter(|near| (bracket[0]..=bracket[1]).contains(near));
    let start = inside.unwrap_or_else(|| f64::midpoint(bracket[0], bracket[1]));
    root(balance, slope, bracket, start, Close::step(CLOSE))
}

/// A travel, and the balance there.
type Node = (f64, (f64, f64));

/// Two travels, and the balance at both.
type Part = (Node, Node);

/// The cell, cut at a hump that bends towards the load. It may begin, and a dip may end, on the load itself.
fn monotone_parts(balance: &impl Fn(f64) -> (f64, f64), left: Node, right: Node) -> (Part, Option<Part>) {
    let ((_, (force_a, rate_a)), (_, (force_b, rate_b))) = (left, right);
    let dips = force_a >= 0.0 && force_b >= 0.0 && rate_a < 0.0 && rate_b > 0.0;
    let bulges = force_a <= 0.0 && force_b < 0.0 && rate_a > 0.0 && rate_b < 0.0;
    if !dips && !bulges {
        return ((left, right), None);
    }
    let [before, _] = turning(|z| (balance(z).1 > 0.0) == (rate_a > 0.0), [left.0, right.0], HALVINGS);
    let hump = (before, balance(before));
    ((left, hump), Some((hump, right)))
}

/// The travel at which the mechanism has this stroke.
pub(super) fn travel_at_stroke<E: EndKernel + ?Sized>(end: &E, stroke: f64) -> f64 {
    let balance = |z: f64| {
        let motion = end.motion(z);
        (motion.stroke - stroke, motion.ratio)
    };
    closed_in(&balance, Slope::Rising, [0.0, end.full()], None)
}

#[cfg(test)]
mod tests;
