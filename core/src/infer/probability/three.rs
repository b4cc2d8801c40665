//! `P(all three in their intervals)` of three standard normal quantities.
//!
//! Method: `P = ∫ φ(u)·P(the other two | u) du` over the interval of one of them. Given `u` the other two are a pair with
//! one and the same partial correlation, whose rectangle is computed by [`Pair`]; the outer integral is by Gauss–Legendre.
//! The integrand is smooth but for places known beforehand: at `u = b/ρ` a bound `b` of another quantity is passed over a
//! width of `√(1 − ρ²)/ρ`, and where the partial correlation is near ±1 there is a bend where a bound of the one passes a
//! bound of the other. Panels end where such a place begins or ends, and are as fine as the steepest slope inside. The
//! quantity integrated over is the one with the fewest widths to integrate over.
//!
//! Accuracy: 1e-9 absolute at any correlations, singular matrices and infinite bounds included.
//!
//! Fails: correlations that no three quantities can have are taken at the nearest partial correlation that is possible.
//!
//! Reference for the method by conditioning and for Plackett's, which it is tested against: A. Genz, *Numerical computation of
//! rectangular bivariate and trivariate normal and t probabilities*, Statistics and Computing 14 (2004) 251–260.

use super::gauss_legendre::{Rule, SIX, TWELVE, TWENTY, nodes};
use super::two::Pair;
use super::{Interval, normal_density};

/// Standard deviations on either side of a step beyond which `Φ` is 0 or 1 to 6e-16.
const REACH: f64 = 8.0;

/// What a quantity that is certain given another is taken to vary by still, and the shortest panel worth computing: with an
/// integrand of 0.4 at most, either changes less than 1e-10.
const NARROW: f64 = 1e-10;

/// Longest panels, in widths of the steepest slope inside, over which 6, 12 and 20 nodes give 1e-10 of a normal density
/// times two steps (found by trial over 3,000 boxes).
const SHORT: f64 = 1.5;
const MIDDLING: f64 = 5.0;
const LONG: f64 = 10.0;

/// One of the others, given the quantity integrated over: its bounds move down by `slope` as that rises by 1, all in
/// standard deviations of what is left of it.
struct Given {
    bounds: Interval,
    slope: f64,
}

impl Given {
    fn new((low, high): Interval, correlation: f64) -> Self {
        let left = left(correlation).max(NARROW);
        Self { bounds: (low / left, high / left), slope: correlation / left }
    }

    fn at(&self, u: f64) -> Interval {
        (self.bounds.0 - self.slope * u, self.bounds.1 - self.slope * u)
    }

    /// Where it can lie in its interval at all.
    fn possible(&self) -> Interval {
        let ends = ((self.bounds.0 - REACH) / self.slope, (self.bounds.1 + REACH) / self.slope);
        if self.slope > 0.0 {
            ends
        } else if self.slope < 0.0 {
            (ends.1, ends.0)
        } else {
            (f64::NEG_INFINITY, f64::INFINITY)
        }
    }

    fn each_bound(&self) -> impl Iterator<Item = f64> {
        [self.bounds.0, self.bounds.1].into_iter().filter(|bound| bound.is_finite())
    }
}

/// A stretch of the integral over which something changes within `1/slope`.
struct Stretch {
    from: f64,
    to: f64,
    slope: f64,
    cause: usize,
}

impl Stretch {
    fn around(centre: f64, slope: f64, cause: usize) -> Self {
        let reach = REACH / slope;
        Self { from: centre - reach, to: centre + reach, slope, cause }
    }
}

/// Probability that three standard normal quantities lie in their intervals; correlations of first and second, first and
/// third, second and third.
pub(super) fn box_of([x, y, z]: [Interval; 3], [xy, xz, yz]: [f64; 3]) -> f64 {
    let ways =
        [Way::new(x, (y, xy), (z, xz), yz), Way::new(y, (x, xy), (z, yz), xz), Way::new(z, (x, xz), (y, yz), xy)];
    let least = ways.into_iter().min_by(|one, other| one.effort().total_cmp(&other.effort()));
    least.map_or(0.0, |way| way.integral())
}

/// The integral over one of the three: where it is worth integrating, the others given it, and their partial correlation.
struct Way {
    domain: Interval,
    one: Given,
    other: Given,
    partial: f64,
}

impl Way {
    fn new(over: Interval, one: (Interval, f64), other: (Interval, f64), between: f64) -> Self {
        let spread = left(one.1) * left(other.1);
        let partial = if spread > NARROW { ((between - one.1 * other.1) / spread).clamp(-1.0, 1.0) } else { 0.0 };
        let (one, other) = (Given::new(one.0, one.1), Given::new(other.0, other.1));
        Self { domain: domain(over, &one, &other), one, other, partial }
    }

    /// Widths to integrate over, roughly: of the density, and of the steps of the others as far as they reach.
    fn effort(&self) -> f64 {
        let length = (self.domain.1 - self.domain.0).max(0.0);
        let steps = |given: &Given| (length * given.slope.abs()).min(2.0 * REACH * given.each_bound().count() as f64);
        length + steps(&self.one) + steps(&self.other)
    }

    fn integral(&self) -> f64 {
        let (from, to) = self.domain;
        if from >= to {
            return 0.0;
        }
        let places = places(&self.one, &self.other, self.partial);
        let mut ends: Vec<f64> = places.iter().flat_map(|place| [place.from, place.to]).collect();
        ends.retain(|end| from < *end && *end < to);
        ends.extend([from, to]);
        ends.sort_by(f64::total_cmp);

        let pair = Pair::in_a_sum(self.partial);
        let sum: f64 = ends
            .windows(2)
            .filter(|panel| panel[1] - panel[0] > NARROW)
            .flat_map(|panel| mesh(panel[0], panel[1], &places))
            .map(|(u, weight)| weight * normal_density(u) * pair.rectangle(self.one.at(u), self.other.at(u)))
            .sum();
        sum.clamp(0.0, 1.0)
    }
}

/// Share of a standard deviation that a correlated quantity leaves: `√(1 − ρ²)`.
fn left(correlation: f64) -> f64 {
    ((1.0 - correlation) * (1.0 + correlation)).max(0.0).sqrt()
}

/// What of the interval is worth integrating over: where the density is at least 1e-14 of its largest value there, and
/// the others can lie in their intervals.
fn domain((low, high): Interval, one: &Given, other: &Given) -> Interval {
    /// `−2·ln(1e-14)`.
    const FALL: f64 = 64.5;
    let nearest = low.max(0.0).max(-high);
    let far = (nearest * nearest + FALL).sqrt();
    let (one, other) = (one.possible(), other.possible());
    let from = low.max(-far).max(one.0).max(other.0);
    let to = high.min(far).min(one.1).min(other.1);
    (from, to)
}

/// Places of steps and bends.
fn places(one: &Given, other: &Given, partial: f64) -> Vec<Stretch> {
    let mut found = Vec::with_capacity(8);
    for (cause, given) in [one, other].into_iter().enumerate() {
        let slope = given.slope;
        if slope != 0.0 {
            found.extend(given.each_bound().map(|bound| Stretch::around(bound / slope, slope.abs(), cause)));
        }
    }
    let left = left(partial).max(NARROW);
    let side = 1f64.copysign(partial);
    let difference = one.slope - side * other.slope;
    if difference != 0.0 {
        let slope = difference.abs() / left;
        for bound in one.each_bound() {
            found
                .extend(other.each_bound().map(|other| Stretch::around((bound - side * other) / difference, slope, 2)));
        }
    }
    found
}

/// Nodes and weights over a stretch in which no place begins or ends.
fn mesh(from: f64, to: f64, places: &[Stretch]) -> impl Iterator<Item = (f64, f64)> {
    let middle = 0.5 * (from + to);
    let mut slopes = [0.0_f64; 3];
    for place in places.iter().filter(|place| place.from < middle && middle < place.to) {
        slopes[place.cause] = slopes[place.cause].max(place.slope);
    }
    let steepest = slopes.iter().fold(1.0, |sum, slope| sum + slope * slope).sqrt();
    let widths = (to - from) * steepest;
    let count = (widths / LONG).ceil().max(1.0);
    let each = widths / count;
    let rule: Rule = if each <= SHORT {
        SIX
    } else if each <= MIDDLING {
        TWELVE
    } else {
        TWENTY
    };
    let length = (to - from) / count;
    (0..count as usize).flat_map(move |k| {
        let start = from + length * k as f64;
        nodes(rule, start, start + length)
    })
}
