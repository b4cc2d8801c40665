//! The ranges of a table's columns over spans of cells: they bound a balance under any load in any attitude, so that most of the
//! travel is passed over in a few vectors.

use archmage::autoversion;

use super::Carried;

/// Cells whose ranges are kept together. The ranges of 25 such spans are looked at in a few vectors, the cells of one at once.
pub(super) const SPAN: usize = 8;
/// Spans that are looked at together, in vectors.
pub(super) const SPANS: usize = 16;
/// What a range has to stay away from zero, in newton and newton per metre, so that rounding moves nothing across it: forces of
/// 10 kN and rates of 1 MN/m are rounded to 1e-9 of that.
const AWAY: f64 = 1e-6;

/// The least and the most of a column over each span, its last node counted to the next one as well.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Range {
    pub(super) least: Vec<f64>,
    most: Vec<f64>,
}

/// The ranges of all columns.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Spans {
    pub(super) force: Range,
    pub(super) rate: Range,
    pub(super) slope: Range,
    pub(super) curvature: Range,
}

impl Range {
    pub(super) fn of(column: &[f64]) -> Self {
        let cells = column.len().saturating_sub(1);
        let spans = (0..cells).step_by(SPAN).map(|from| &column[from..=cells.min(from + SPAN)]);
        // Not a number stays that: the comparisons with it are false then.
        let furthest = |better: fn(f64, f64) -> bool| {
            let of = |nodes: &[f64]| {
                nodes.iter().copied().reduce(|one, other| if one.is_nan() || better(one, other) { one } else { other })
            };
            spans.clone().map(|nodes| of(nodes).unwrap_or(f64::NAN)).collect()
        };
        Self { least: furthest(|one, other| one <= other), most: furthest(|one, other| one >= other) }
    }

    /// Least and most of some spans.
    #[inline(always)]
    fn over(&self, some: core::ops::Range<usize>) -> impl Iterator<Item = (f64, f64)> {
        let [least, most] = [&self.least[some.clone()], &self.most[some]];
        least.iter().copied().zip(most.iter().copied())
    }
}

/// Is the force anywhere in these spans no less than what is carried?
#[autoversion]
pub(super) fn may_carry(carried: Carried, spans: &Spans, some: core::ops::Range<usize>) -> [bool; SPANS] {
    let (fixed, per_slope) = carried.parts();
    let [most, low, high] = [&spans.force.most, &spans.slope.least, &spans.slope.most].map(|all| &all[some.clone()]);
    let mut held = [false; SPANS];
    for (held, ((most, low), high)) in held.iter_mut().zip(most.iter().zip(low).zip(high)) {
        let least_load = fixed + (per_slope * low).min(per_slope * high);
        *held = most - least_load >= -AWAY;
    }
    held
}

/// May the balance change its side, or its slope, anywhere in these spans?
#[autoversion]
pub(super) fn is_loud(carried: Carried, spans: &Spans, some: core::ops::Range<usize>) -> [bool; SPANS] {
    let (fixed, per_slope) = carried.parts();
    let mut held = [false; SPANS];
    let (force, slope) = (spans.force.over(some.clone()), spans.slope.over(some.clone()));
    for (held, (force, slope)) in held.iter_mut().zip(force.zip(slope)) {
        let loads = (per_slope * slope.0, per_slope * slope.1);
        let (least, most) = (force.0 - fixed - loads.0.max(loads.1), force.1 - fixed - loads.0.min(loads.1));
        *held = !((least > AWAY) | (most < -AWAY));
    }
    let (rate, curve) = (spans.rate.over(some.clone()), spans.curvature.over(some));
    for (held, (rate, curve)) in held.iter_mut().zip(rate.zip(curve)) {
        let loads = (per_slope * curve.0, per_slope * curve.1);
        let (least, most) = (rate.0 - loads.0.max(loads.1), rate.1 - loads.0.min(loads.1));
        *held |= !((least > AWAY) | (most < -AWAY));
    }
    held
}
