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

#[cfg(test)]
mod tests {
    use super::*;

    /// Ranges around places, one span each.
    fn range(places: &[(f64, f64)]) -> Range {
        Range {
            least: places.iter().map(|(middle, half)| middle - half).collect(),
            most: places.iter().map(|(middle, half)| middle + half).collect(),
        }
    }

    /// What is carried is linear in force and slope of the path: it is furthest in a corner of the ranges.
    #[test]
    fn a_span_is_passed_over_where_no_corner_of_its_ranges_does_anything() {
        let mut spans = Spans { force: range(&[]), rate: range(&[]), slope: range(&[]), curvature: range(&[]) };
        let (mut forces, mut rates, mut slopes, mut curves) = (vec![], vec![], vec![], vec![]);
        for force in [(-40.0, 30.0), (250.0, 1.0), (900.0, 200.0), (1300.0, 0.0)] {
            for slope in [(0.0, 0.5), (-2.0, 0.3), (2.0, 1.5), (0.4, 0.0)] {
                for (rate, curve) in
                    [((800.0, 20.0), (0.5, 0.4)), ((-300.0, 100.0), (-1.0, 0.2)), ((0.0, 5.0), (3.0, 0.1))]
                {
                    forces.push(force);
                    slopes.push(slope);
                    rates.push(rate);
                    curves.push(curve);
                }
            }
        }
        (spans.force, spans.slope) = (range(&forces), range(&slopes));
        (spans.rate, spans.curvature) = (range(&rates), range(&curves));
        let mut seen = [[0; 2]; 2];
        for carried in [(0.0, 0.0), (250.0, 0.0), (900.0, 300.0), (400.0, -350.0), (1400.0, 100.0), (1400.0, -100.0)]
            .into_iter()
            .flat_map(|(up, forward)| [-0.3_f64, 0.0, 0.2].map(|pitch| (up, forward, pitch)))
            .map(|(up, forward, pitch)| Carried { up, forward, sin: pitch.sin(), cos: pitch.cos() })
        {
            for from in (0..forces.len()).step_by(SPANS) {
                let some = from..(from + SPANS).min(forces.len());
                let (carry, loud) = (may_carry(carried, &spans, some.clone()), is_loud(carried, &spans, some.clone()));
                for (k, span) in some.enumerate() {
                    let ends = |range: &Range| [range.least[span], range.most[span]];
                    let corners = |force: [f64; 2], slope: [f64; 2], of: &dyn Fn(f64, f64) -> f64| -> Vec<f64> {
                        force.into_iter().flat_map(|a| slope.map(|b| of(a, b))).collect()
                    };
                    let over =
                        corners(ends(&spans.force), ends(&spans.slope), &|a, b| carried.balance(a, 0.0, b, 0.0).0);
                    let turn =
                        corners(ends(&spans.rate), ends(&spans.curvature), &|a, b| carried.balance(0.0, a, 0.0, b).1);
                    let one_sided =
                        |all: &[f64]| all.iter().all(|one| *one > AWAY) || all.iter().all(|one| *one < -AWAY);
                    assert_eq!(carry[k], over.iter().any(|one| *one >= -AWAY), "{carried:?} {span}: {over:?}");
                    assert_eq!(
                        loud[k],
                        !(one_sided(&over) && one_sided(&turn)),
                        "{carried:?} {span}: {over:?} {turn:?}"
                    );
                    seen[0][usize::from(carry[k])] += 1;
                    seen[1][usize::from(loud[k])] += 1;
                }
            }
        }
        assert!(seen.iter().flatten().all(|count| *count > 20), "both answers: {seen:?}");
    }

    #[test]
    fn a_range_holds_its_last_node_and_what_is_no_number() {
        let column: Vec<f64> = (0..20).map(|node| f64::from((node * 7) % 20)).collect();
        let range = Range::of(&column);
        assert_eq!((range.least.len(), range.most.len()), (3, 3), "19 cells");
        for (span, (least, most)) in range.over(0..3).enumerate() {
            let nodes = &column[span * SPAN..=(span * SPAN + SPAN).min(19)];
            assert!(nodes.contains(&least) && nodes.contains(&most));
            assert!(nodes.iter().all(|node| (least..=most).contains(node)));
        }
        assert!(
            Range::of(&[1.0, f64::NAN, 3.0]).least[0].is_nan() && Range::of(&[1.0, f64::NAN, 3.0]).most[0].is_nan()
        );
    }
}
