//! One equation in one unknown: Newton's method held inside a bracket, and the halving of one.
//!
//! `x ← x − f/f′` where that stays inside the bracket and `|f|` has at least halved since the last place; else the middle of
//! the bracket. After each place the end of the bracket on its side moves there.
//!
//! **It converges.** The root stays inside the bracket, which never grows. Of [`MOST_STEPS`] steps the last [`HALVINGS`] are
//! middles whatever the function does, so that a bracket of width `w` ends no wider than `w·2⁻¹⁰⁰`, below the rounding of
//! any place in it. Near a simple root of a smooth function Newton's steps square the error: a handful of places suffices,
//! one for a straight line. The function need not be monotonous, only continuous, with different signs at both ends.
//!
//! **Where it fails.** At a jump through zero it ends on the jump. Several roots: one of them is found.
//!
//! Not for the linkage's kernel: there a crank's places are solved abreast in lanes, and exploration moves a whole mechanism
//! from place to place.
//!
//! Textbook: Press et al., *Numerical Recipes*, 3rd ed., sec. 9.4 (Newton–Raphson with bisection).

use core::convert::Infallible;

/// Places at the end that are all middles.
const HALVINGS: usize = 100;
/// All places.
const MOST_STEPS: usize = 2 * HALVINGS;

/// The side on which a function is below zero.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Slope {
    /// Below zero at the low end.
    Rising,
    /// Below zero at the high end.
    Falling,
}

/// What is good enough: a step this short, or a value this small. A step below the rounding of the place always is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Close {
    pub(crate) step: f64,
    pub(crate) value: f64,
}

impl Close {
    /// A step this short.
    pub(crate) fn step(step: f64) -> Self {
        Self { step, value: 0.0 }
    }
}

/// The root of a function (its value and slope at a place) in a bracket, looked for from a start on.
pub(crate) fn root(
    function: impl Fn(f64) -> (f64, f64),
    slope: Slope,
    [mut low, mut high]: [f64; 2],
    start: f64,
    close: Close,
) -> f64 {
    let mut x = if start.is_finite() { start.clamp(low, high) } else { f64::midpoint(low, high) };
    let mut last = f64::INFINITY;
    for step in 0..MOST_STEPS {
        let (value, derivative) = function(x);
        if value.abs() <= close.value {
            return x;
        }
        if (value < 0.0) == (slope == Slope::Rising) {
            low = x;
        } else {
            high = x;
        }
        let newton = x - value / derivative;
        let gains = step < HALVINGS && value.abs() < 0.5 * last && newton > low && newton < high;
        let next = if gains { newton } else { f64::midpoint(low, high) };
        if (next - x).abs() <= close.step.max(f64::EPSILON * x.abs()) || high - low <= close.step {
            return next;
        }
        (x, last) = (next, value.abs());
    }
    x
}

/// The bracket of a rising function that no bracket is known of, as its places are met: a step that would leave it goes to its
/// middle. Newton's method alone can jump for ever from one side of a kink to the other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Met {
    low: f64,
    high: f64,
}

impl Met {
    pub(crate) fn nowhere() -> Self {
        Self { low: f64::NEG_INFINITY, high: f64::INFINITY }
    }

    /// The place to go on at, from one with less (or not less) than the value sought.
    pub(crate) fn next(&mut self, place: f64, below: bool, proposed: f64) -> f64 {
        if below {
            self.low = self.low.max(place);
        } else {
            self.high = self.high.min(place);
        }
        let inside = self.low < proposed && proposed < self.high;
        // A function that falls can leave no bracket, or one that is open.
        let width = self.high - self.low;
        if inside || !(width > 0.0 && width.is_finite()) { proposed } else { f64::midpoint(self.low, self.high) }
    }
}

/// Where a test that holds at the low end ceases to hold: the bracket after so many halvings.
pub(crate) fn turning(holds: impl Fn(f64) -> bool, bracket: [f64; 2], halvings: usize) -> [f64; 2] {
    match try_turning(|x| Ok::<_, Infallible>(holds(x)), bracket, halvings) {
        Ok(bracket) => bracket,
        Err(never) => match never {},
    }
}

/// As [`turning`], of a test that may fail.
///
/// # Errors
/// The first failure.
pub(crate) fn try_turning<E>(
    mut holds: impl FnMut(f64) -> Result<bool, E>,
    [mut low, mut high]: [f64; 2],
    halvings: usize,
) -> Result<[f64; 2], E> {
    for _ in 0..halvings {
        let middle = f64::midpoint(low, high);
        if holds(middle)? {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok([low, high])
}

#[cfg(test)]
mod tests {
    use super::*;
    use core::cell::Cell;
    use proptest::prelude::*;

    const EXACT: Close = Close { step: 0.0, value: 0.0 };

    /// The root, and the places that were asked.
    fn counted(f: impl Fn(f64) -> (f64, f64), slope: Slope, bracket: [f64; 2], start: f64) -> (f64, usize) {
        let places = Cell::new(0);
        let counting = |x: f64| {
            places.set(places.get() + 1);
            f(x)
        };
        (root(counting, slope, bracket, start, EXACT), places.get())
    }

    #[test]
    fn closed_forms_come_out_to_the_last_bits_in_a_handful_of_places() {
        let two = |x: f64| (x * x - 2.0, 2.0 * x);
        let (found, places) = counted(two, Slope::Rising, [0.0, 2.0], 1.0);
        assert!((found - core::f64::consts::SQRT_2).abs() <= 2.0 * f64::EPSILON, "{found}");
        assert!(places <= 8, "{places}");
        let falling = |x: f64| ((-x).exp() - 0.5, -(-x).exp());
        let (found, places) = counted(falling, Slope::Falling, [0.0, 10.0], 0.0);
        assert!((found - core::f64::consts::LN_2).abs() <= 2.0 * f64::EPSILON, "{found}");
        assert!(places <= 8, "{places}");
        let (found, places) = counted(|x| (3.0 * x - 1.0, 3.0), Slope::Rising, [0.0, 1.0], 0.9);
        assert!((found - 1.0 / 3.0).abs() <= f64::EPSILON, "{found}");
        assert!(places <= 3, "a straight line took {places} places");
    }

    #[test]
    fn where_newton_runs_away_or_round_in_a_circle_halving_ends_it() {
        // Newton on arctan diverges from 1.4 on (its fixed point of |x| → |x| lies at 1.39).
        let (found, places) = counted(|x| (x.atan(), 1.0 / (1.0 + x * x)), Slope::Rising, [-5.0, 40.0], 30.0);
        assert!(found.abs() < 1e-15 && places < 60, "{found} after {places}");
        // Newton on the signed root jumps from x to −x for ever.
        let signed = |x: f64| (x.signum() * x.abs().sqrt(), 0.5 / x.abs().sqrt());
        let (found, places) = counted(signed, Slope::Rising, [-1.0, 2.0], 1.5);
        assert!(found.abs() < 1e-15 && places <= MOST_STEPS, "{found} after {places}");
        // A triple root: Newton gains a third a step, less than half.
        let (found, _) = counted(|x| ((x - 0.3).powi(3), 3.0 * (x - 0.3).powi(2)), Slope::Rising, [0.0, 1.0], 1.0);
        assert!((found - 0.3).abs() < 1e-15, "{found}");
        // A jump through zero, its slope useless.
        let jump = |x: f64| (if x < 0.7 { -1.0 } else { 1.0 }, 0.0);
        let (found, places) = counted(jump, Slope::Rising, [0.0, 1.0], 0.2);
        assert!((found - 0.7).abs() < 1e-15 && places <= MOST_STEPS, "{found} after {places}");
    }

    #[test]
    fn ends_where_it_is_close_enough() {
        let two = |x: f64| (x * x - 2.0, 2.0 * x);
        let short = root(two, Slope::Rising, [0.0, 2.0], 1.0, Close::step(1e-3));
        let exact = core::f64::consts::SQRT_2;
        // The error after a step of 1e-3 is about its square.
        assert!((short - exact).abs() < 1e-6 && (short - exact).abs() > 1e-15, "{short}");
        let small = root(two, Slope::Rising, [0.0, 2.0], 1.0, Close { step: 0.0, value: 1e-2 });
        assert!(two(small).0.abs() <= 1e-2 && (small - exact).abs() > 1e-9, "{small}");
    }

    #[test]
    fn halving_closes_in_on_where_a_test_turns_and_gives_failures_on() {
        let [low, high] = turning(|x| x < 0.37, [0.0, 1.0], 20);
        assert!(low < 0.37 && high >= 0.37);
        assert_eq!(high - low, 2f64.powi(-20));
        let failed = try_turning(|x| if x < 0.3 { Err(x) } else { Ok(x > 0.9) }, [0.0, 1.0], 20);
        assert_eq!(failed, Err(0.25));
    }

    #[test]
    fn a_bracket_is_met_on_the_way_and_ends_a_circle_about_a_kink() {
        // A jump at 0 between two slopes: from either side Newton alone goes to the other, for ever.
        let kinked = |x: f64| if x < 0.0 { (x - 1.0, 0.5) } else { (x + 1.0, 0.5) };
        let (mut x, mut met) = (1.0, Met::nowhere());
        for _ in 0..60 {
            let (value, slope) = kinked(x);
            x = met.next(x, value < 0.0, x - value / slope);
        }
        assert!(x.abs() < 1e-12, "the jump at 0: {x}");
        // Until both sides were met nothing is held back.
        assert_eq!(Met::nowhere().next(2.0, true, 7.0), 7.0);
        // From the wrong side on, a proposal beyond what was met is halved.
        let mut met = Met::nowhere();
        met.next(0.0, true, 4.0);
        assert_eq!(met.next(4.0, false, -1.0), 2.0);
    }

    proptest! {
        #[test]
        fn a_cubic_of_any_shape_is_solved_to_the_rounding_of_its_value(a in -3.0..3.0_f64, b in -3.0..3.0_f64, at in -2.0..2.0_f64, start in -9.0..9.0_f64) {
            // The only certainty is the sign at both ends: x³ rules beyond 9.
            let f = |x: f64| {
                let whole = |x: f64| x * (x * (x + a) + b);
                (whole(x) - whole(at), x * (3.0 * x + 2.0 * a) + b)
            };
            prop_assert!(f(-9.0).0 < 0.0 && f(9.0).0 > 0.0);
            let found = root(f, Slope::Rising, [-9.0, 9.0], start, EXACT);
            let scale = found.abs().powi(3) + a.abs() * found * found + (b * found).abs() + f(0.0).0.abs();
            let step = f64::EPSILON * found.abs().max(1.0) * (1.0 + f(found).1.abs());
            prop_assert!(f(found).0.abs() <= 16.0 * f64::EPSILON * scale + 4.0 * step, "{} at {found}", f(found).0);
        }
    }
}
