//! The settable preload that lands both sags most likely.
//!
//! The probability that jointly normal sags, whose means run straight over the preload, lie in a convex set is log-concave
//! over the preload (Prékopa, *Acta Sci. Math.* 34, 1973): it has one top, and the settings within any share of it are a
//! stretch. The top is found by golden section over the steps of the collar, or step by step from where the top of a search
//! much like it lay ([`LastTops`]); within a stretch of settings that are as likely, the one nearest to the stated sag is taken.
//! Where the collar may stop at an end of the adjuster that holds nearly.

use core::cell::RefCell;

use crate::decide::chances::{Aim, Chances, Moved, Way};
use crate::infer::probability::Interval;

/// Settings this close in probability are as likely: half of what a percent is written to.
const AS_LIKELY: f64 = 0.005;
/// Below this probability settings are compared by how far they miss.
const NO_CHANCE: f64 = 1e-9;
/// Below this probability no setting is worth its name, and the rider sag comes first.
const HOPELESS: f64 = 0.01;
/// Steps searched beyond both middles: rounding, and sags that bend.
const SPARE: i64 = 2;
/// Widest stretch of settings searched (m): more than any collar has.
const WIDEST: f64 = 0.15;

/// The changes of preload that can be set: from `origin` in steps, within both ends, the ends themselves included.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Settable {
    pub(crate) origin: f64,
    pub(crate) step: f64,
    pub(crate) ends: Interval,
    /// Is the upper end the most that any collar gives, and not that of this adjuster or spring?
    pub(crate) open: bool,
}

impl Settable {
    pub(crate) fn place(&self, change: f64) -> f64 {
        (change - self.origin) / self.step
    }

    /// The setting so many steps from the origin, within the ends.
    pub(crate) fn at(&self, place: i64) -> f64 {
        (self.origin + place as f64 * self.step).max(self.ends.0).min(self.ends.1)
    }

    /// The setting nearest to a change.
    pub(crate) fn nearest(&self, change: f64) -> f64 {
        self.at(self.place(change.max(self.ends.0).min(self.ends.1)).round() as i64)
    }

    /// The first and the last step that lie about two changes, within the ends and the widest stretch searched; those at one
    /// end where both changes lie beyond it.
    pub(crate) fn places(&self, from: f64, to: f64) -> (i64, i64) {
        let middle = f64::midpoint(from, to);
        let within = |change: f64| change.max(self.ends.0).min(self.ends.1);
        let (from, to) = (within(from.max(middle - WIDEST)), within(to.min(middle + WIDEST)));
        (self.place(from).floor() as i64, self.place(to).ceil() as i64)
    }

    /// Without ends.
    pub(crate) fn endless(&self) -> Self {
        Self { ends: (f64::NEG_INFINITY, f64::INFINITY), ..*self }
    }
}

/// Where the last top lay by either way, as a share of the way from the middle of the rider sag's range to that of the free
/// sag's: nearly the same in searches on one spring whose sags have moved.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct LastTops([Option<f64>; 2]);

/// A setting with its probability, by one way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Top {
    pub(crate) change: f64,
    pub(crate) probability: f64,
}

impl Chances {
    /// The most likely setting by one way, its probability as a search takes it.
    pub(crate) fn top(&self, way: Way, settable: &Settable, aim: &Aim, moved: Moved, last: &mut LastTops) -> Top {
        let chance = |place: i64| self.roughly(way, settable.at(place), settable.ends, aim, moved);
        let Found { place, best, wanted, at_wanted } = self.search(way, settable, aim, moved, last);
        if best < HOPELESS || at_wanted >= best - AS_LIKELY {
            return Top { change: settable.at(wanted), probability: at_wanted };
        }
        let (mut good, mut probability, mut bad) = (place, best, wanted);
        // Bisection between the top and the stated sag for the last setting that is as likely.
        while (bad - good).abs() > 1 {
            let middle = good + (bad - good) / 2;
            let found = chance(middle);
            if found >= best - AS_LIKELY {
                (good, probability) = (middle, found);
            } else {
                bad = middle;
            }
        }
        Top { change: settable.at(good), probability }
    }

    /// The probability of that setting, to what settings as likely may differ by.
    pub(crate) fn height(&self, way: Way, settable: &Settable, aim: &Aim, moved: Moved, last: &mut LastTops) -> f64 {
        let Found { best, at_wanted, .. } = self.search(way, settable, aim, moved, last);
        if best < HOPELESS { at_wanted } else { at_wanted.max(best - AS_LIKELY) }
    }

    fn search(&self, way: Way, settable: &Settable, aim: &Aim, moved: Moved, last: &mut LastTops) -> Found {
        let Stretch { from, to, near, middles } = self.stretch(settable, aim, moved);
        let chance = |place: i64| self.roughly(way, settable.at(place), settable.ends, aim, moved);
        let score = |place: i64| {
            let chance = chance(place);
            if chance > NO_CHANCE { chance } else { -self.miss(way, settable.at(place), aim, moved) }
        };
        let share = &mut last.0[usize::from(way == Way::ReRead)];
        let apart = middles[1] - middles[0];
        let start = share.map(|share| middles[0] + share * apart).filter(|start| start.is_finite());
        let (place, best) = match start {
            Some(start) => climb(near, start.round() as i64, score),
            None => golden(near.0, near.1, score),
        };
        if apart.abs() > 1.0 {
            *share = Some((place as f64 - middles[0]) / apart);
        }
        let stated = self.change + moved.change + (aim.value - self.rider) / self.slopes[0];
        let wanted = (settable.place(stated).round() as i64).clamp(from, to);
        // Where there is no chance the best is not above zero: what it misses by.
        let at_wanted = if wanted == place { best.max(0.0) } else { chance(wanted) };
        Found { place, best, wanted, at_wanted }
    }

    fn stretch(&self, settable: &Settable, aim: &Aim, moved: Moved) -> Stretch {
        let [rider, free] = self.sags_at(self.change, moved);
        let over = |value: f64, slope: f64, (low, high): Interval| {
            let (one, other) = ((low - value) / slope, (high - value) / slope);
            (one.min(other), one.max(other))
        };
        let (rider, free) = (over(rider, self.slopes[0], aim.rider), over(free, self.slopes[1], aim.free));
        let within = |off: f64| (self.change + off.clamp(-WIDEST, WIDEST)).max(settable.ends.0).min(settable.ends.1);
        let (floor, ceil) =
            (|off| settable.place(within(off)).floor() as i64, |off| settable.place(within(off)).ceil() as i64);
        let finite = |bound: f64, or: f64| if bound.is_finite() { bound } else { or };
        let from = floor(rider.0.min(finite(free.0, rider.0)));
        let to = ceil(rider.1.max(finite(free.1, rider.1)));
        let middles = [f64::midpoint(rider.0, rider.1), f64::midpoint(free.0, free.1)];
        let near = if middles.iter().all(|middle| middle.is_finite()) {
            let [low, high] = [middles[0].min(middles[1]), middles[0].max(middles[1])];
            ((floor(low) - SPARE).max(from), (ceil(high) + SPARE).min(to))
        } else {
            (from, to)
        };
        Stretch { from, to, near, middles: middles.map(|off| settable.place(self.change + off)) }
    }
}

/// The step at the top with its probability, and that nearest to the stated sag with its own.
struct Found {
    place: i64,
    best: f64,
    wanted: i64,
    at_wanted: f64,
}

/// Steps of the collar: those at which the expected sags lie in either range, and those between which the top lies. Whether
/// both sags err together or apart, the top is between the steps that put either one in the middle of its range.
struct Stretch {
    from: i64,
    to: i64,
    near: (i64, i64),
    /// Those steps, as they come out between steps.
    middles: [f64; 2],
}

/// The place of the top of a function with one top, between two places, and its value there, where it is thought to be near a
/// start: step by step uphill, the lowest of places that are as high.
fn climb((from, to): (i64, i64), start: i64, score: impl Fn(i64) -> f64) -> (i64, f64) {
    /// Steps before the rest is left to the golden section.
    const MOST: i64 = 4;
    let start = start.max(from).min(to);
    let mut best = (start, score(start));
    for side in [-1, 1] {
        while (from..=to).contains(&(best.0 + side)) {
            let next = (best.0 + side, score(best.0 + side));
            if next.1 < best.1 || next.1 == best.1 && side == 1 {
                break;
            }
            best = next;
            if (best.0 - start).abs() > MOST {
                let (from, to) = if side == -1 { (from, best.0) } else { (best.0, to) };
                return golden(from, to, score);
            }
        }
        if best.0 != start {
            break;
        }
    }
    best
}

/// The place of the top of a function with one top, between two places, and its value there. No place is looked at twice.
fn golden(mut from: i64, mut to: i64, score: impl Fn(i64) -> f64) -> (i64, f64) {
    /// `(√5 − 1)/2`.
    const SECTION: f64 = 0.618_033_988_749_894_9;
    /// As many as a stretch of a hundred steps takes.
    const USUAL_LOOKS: usize = 16;
    let inner = |from: i64, to: i64| {
        let one = to - ((to - from) as f64 * SECTION).round() as i64;
        (one, (from + (to - one)).max(one + 1))
    };
    let seen = RefCell::new(Vec::with_capacity(USUAL_LOOKS));
    let score = |place: i64| {
        let known = seen.borrow().iter().rev().find(|(at, _)| *at == place).map(|(_, value)| *value);
        known.unwrap_or_else(|| {
            let value = score(place);
            seen.borrow_mut().push((place, value));
            value
        })
    };
    let (mut one, mut other) = inner(from, to);
    if to - from > 2 {
        let (mut at_one, mut at_other) = (score(one), score(other));
        while to - from > 3 {
            if at_one < at_other {
                from = one;
                (one, at_one) = (other, at_other);
                other = from + (to - one);
                if other <= one {
                    (one, other) = inner(from, to);
                    at_one = score(one);
                }
                at_other = score(other);
            } else {
                to = other;
                (other, at_other) = (one, at_one);
                one = from + (to - other);
                if one >= other {
                    (one, other) = inner(from, to);
                    at_other = score(other);
                }
                at_one = score(one);
            }
        }
    }
    let left = (from..=to).map(|place| (place, score(place)));
    left.fold((from, f64::NEG_INFINITY), |best, next| if next.1 > best.1 { next } else { best })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn golden_section_finds_the_one_top() {
        for (from, to) in [(-3, -3), (0, 1), (0, 2), (-7, 40), (5, 93)] {
            for top in from..=to {
                // Two slopes of different steepness, and a flat top of width one.
                let looked_at = RefCell::new(Vec::new());
                let found = golden(from, to, |k| {
                    looked_at.borrow_mut().push(k);
                    if k < top { (k - top) as f64 } else { 3.0 * (top - k) as f64 }
                });
                assert_eq!(found, (top, 0.0), "between {from} and {to}");
                let mut looked_at = looked_at.into_inner();
                let looks = looked_at.len();
                looked_at.sort_unstable();
                looked_at.dedup();
                assert_eq!(looked_at.len(), looks, "between {from} and {to}");
            }
        }
    }

    /// Two slopes of different steepness.
    fn hill(top: i64) -> impl Fn(i64) -> f64 {
        move |place| if place < top { (place - top) as f64 } else { 3.0 * (top - place) as f64 }
    }

    #[test]
    fn from_wherever_it_starts_the_climb_ends_at_the_top() {
        for (from, to) in [(-3, -3), (0, 1), (0, 2), (-7, 25)] {
            for (top, start) in (from..=to).flat_map(|top| (from - 3..=to + 3).map(move |start| (top, start))) {
                let looks = core::cell::Cell::new(0);
                let found = climb((from, to), start, |place| {
                    assert!((from..=to).contains(&place), "{place} is not between {from} and {to}");
                    looks.set(looks.get() + 1);
                    hill(top)(place)
                });
                assert_eq!(found, (top, 0.0), "between {from} and {to} from {start}");
                // A step each, the start, and one place too far on either side.
                let away = (top - start.clamp(from, to)).abs();
                assert!(away > 4 || looks.get() <= away + 3, "{} looks for {away} steps", looks.get());
            }
        }
    }

    #[test]
    fn of_places_as_high_the_climb_takes_the_lowest() {
        let flat = |place: i64| if (-2..=1).contains(&place) { 1.0 } else { -(place as f64 + 0.5).abs() };
        for start in -6..=2 {
            assert_eq!(climb((-9, 9), start, flat), (-2, 1.0), "from {start}");
        }
    }

    #[test]
    fn settings_are_steps_from_the_origin_and_the_ends_themselves() {
        let settable = Settable { origin: 1e-3, step: 0.5e-3, ends: (-3.2e-3, 4.1e-3), open: false };
        for (place, change) in [(0, 1e-3), (-4, -1e-3), (6, 4e-3), (7, 4.1e-3), (-9, -3.2e-3)] {
            assert!((settable.at(place) - change).abs() < 1e-15, "{place}");
        }
        for (wanted, change) in [(1.2e-3, 1e-3), (1.3e-3, 1.5e-3), (1.0, 4e-3), (-1.0, -3e-3)] {
            assert!((settable.nearest(wanted) - change).abs() < 1e-15, "{wanted}");
        }
        assert_eq!(settable.places(-1.1e-3, 1.3e-3), (-5, 1));
        assert_eq!(settable.places(-1.0, 1.0), (-9, 7), "no further than the ends");
        assert_eq!(settable.places(5e-3, 9e-3), (6, 7), "the last steps, where all lies beyond");
        assert_eq!(settable.places(-9e-3, -5e-3), (-9, -8));
        // 150 mm to either side of the middle.
        assert_eq!(settable.endless().places(-1.0, 1.2004), (-102, 499));
    }

    /// As high from one place to another, falling to either side.
    fn mesa(low: i64, high: i64) -> impl Fn(i64) -> f64 {
        move |place| -((low - place).max(place - high).max(0) as f64)
    }

    #[test]
    fn of_places_as_high_the_golden_section_takes_the_lowest() {
        for (from, to) in [(0, 3), (-7, 25), (5, 60)] {
            for low in from..=to {
                for high in [low, low + 1, low + 2, low + 7, low + 30].into_iter().filter(|high| *high <= to) {
                    assert_eq!(
                        golden(from, to, mesa(low, high)),
                        (low, 0.0),
                        "{low} to {high} between {from} and {to}"
                    );
                }
            }
        }
    }

    #[test]
    fn the_golden_section_looks_at_few_places_of_a_wide_stretch() {
        // Each look leaves (√5 − 1)/2 of the stretch: 89 of it take eight to three steps, with two looks at first and four at
        // last, and one for each time that steps do not divide so.
        for top in 0..=89 {
            let looks = core::cell::Cell::new(0);
            let found = golden(0, 89, |place| {
                looks.set(looks.get() + 1);
                hill(top)(place)
            });
            assert!(found.0 == top && looks.get() <= 16, "{top}: {} looks", looks.get());
        }
    }
}
