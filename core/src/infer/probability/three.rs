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
    // Panels of more than one are longer than the middling one.
    let count = (widths / LONG).ceil().max(1.0);
    let rule: Rule = if widths <= SHORT {
        SIX
    } else if widths <= MIDDLING {
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

#[cfg(test)]
mod tests {
    use super::super::{between_by, joint_probability};
    use super::*;
    use crate::infer::probability::tabled::Exact;
    use rand_distr::{Distribution, Uniform};
    use rand_xoshiro::Xoshiro256PlusPlus;
    use rand_xoshiro::rand_core::SeedableRng;

    const ANY: Interval = (f64::NEG_INFINITY, f64::INFINITY);

    #[test]
    fn another_can_lie_in_its_interval_between_the_places_eight_deviations_off_its_bounds() {
        for (low, high) in [(-1.5, 0.5), (0.3, 2.0), (-4.0, -3.0)] {
            for correlation in [0.1, 0.6, 0.97] {
                let (given, mirrored) = (Given::new((low, high), correlation), Given::new((low, high), -correlation));
                let (from, to) = given.possible();
                // There the nearer bound stands at eight deviations on the other side.
                assert!((given.at(from).0 - REACH).abs() < 1e-12 && (given.at(to).1 + REACH).abs() < 1e-12);
                assert_eq!(mirrored.possible(), (-to, -from));
            }
            assert_eq!(Given::new((low, high), 0.0).possible(), ANY);
        }
    }

    /// Far out in one quantity alone, the others independent: `P(x)·P(y)·P(z)`, and nothing of it is lost.
    #[test]
    fn a_box_far_out_in_a_tail_keeps_its_digits() {
        /// The rule is laid out for a density of 0.4, and falls off here by `exp(−u²/2)` within a panel.
        const DIGITS: f64 = 1e-6;
        let wide = (-3.0, 3.0);
        for far in [6.0, 10.0, 15.0] {
            for tail in [(far, f64::INFINITY), (f64::NEG_INFINITY, -far)] {
                let exact = between_by::<Exact>(tail) * between_by::<Exact>(wide).powi(2);
                for boxed in [[tail, wide, wide], [wide, tail, wide], [wide, wide, tail]] {
                    let found = box_of(boxed, [0.0; 3]);
                    assert!((found / exact - 1.0).abs() < DIGITS, "{boxed:?}: {found} {exact}");
                }
            }
        }
    }

    #[test]
    fn a_stretch_has_as_many_nodes_as_its_length_and_steepest_slope_ask_for() {
        let counts = [1.5, 1.6, 5.0, 5.1, 10.0, 10.1, 25.0].map(|length| mesh(-1.0, length - 1.0, &[]).count());
        assert_eq!(counts, [6, 12, 12, 20, 20, 40, 60]);
        // Of one cause the steepest counts, of several all together: `√(1 + 2² + 1²)` over a length of 4.3 is 10.5.
        let steep = |slope: f64, cause: usize| Stretch { from: 0.0, to: 9.0, slope, cause };
        let places = [steep(2.0, 0), steep(1.0, 0), steep(1.0, 2), Stretch { from: 6.0, ..steep(50.0, 1) }];
        assert_eq!(mesh(1.0, 5.3, &places).count(), 40);
        for (from, to) in [(-2.0, 1.0), (0.0, 4.0), (-5.0, 20.0)] {
            let of = |power: i32| mesh(from, to, &places).map(|(u, weight)| weight * u.powi(power)).sum::<f64>();
            // Rounding of sixty nodes.
            assert!((of(0) / (to - from) - 1.0).abs() < 1e-13);
            assert!((of(3) / (0.25 * (to.powi(4) - from.powi(4))) - 1.0).abs() < 1e-12, "{from} {to}");
        }
    }

    /// Even steps of `φ(u)·P(the other two | u)`, by Simpson's rule: nothing is laid where anything changes.
    fn by_even_steps([x, y, z]: [Interval; 3], [xy, xz, yz]: [f64; 3]) -> f64 {
        const STEPS: usize = 4000;
        let (from, to) = (x.0.max(-9.0), x.1.min(9.0));
        let (left_y, left_z) = (left(xy), left(xz));
        let partial = (yz - xy * xz) / (left_y * left_z);
        let at = |k: usize| {
            let u = from + (to - from) * k as f64 / STEPS as f64;
            let weight = if k == 0 || k == STEPS { 1.0 } else { 2.0 + 2.0 * (k % 2) as f64 };
            weight * normal_density(u) * joint_probability((xy * u, left_y), (xz * u, left_z), partial, y, z)
        };
        (0..=STEPS).map(at).sum::<f64>() * (to - from) / (3 * STEPS) as f64
    }

    #[test]
    fn boxes_are_those_of_thousands_of_even_steps() {
        /// What is said of three; Simpson's rule leaves `h⁴/180` of the fourth derivative, 1e-10 with slopes up to five.
        const OF_THREE: f64 = 1e-9;
        const STEEP: f64 = 0.98;
        // Half-spaces whose stretches are twenty widths of the steepest slope long.
        let (up, down) = (f64::INFINITY, f64::NEG_INFINITY);
        let mut all = vec![
            (
                [(-1.325_739_992, up), (-1.058_616_096, up), (down, 4.761_200_989)],
                [0.907_655_75, 0.398_312_89, 0.615_703_11],
            ),
            (
                [(-0.772_330_150, up), (down, -0.777_253_122), (down, 4.268_556_565)],
                [-0.889_739_61, 0.837_918_72, -0.879_739_79],
            ),
        ];
        let mut random = Xoshiro256PlusPlus::seed_from_u64(8);
        let mut draw = |from: f64, to: f64| Uniform::new(from, to).unwrap().sample(&mut random);
        while all.len() < 40 {
            // Sums of three independent quantities, of unit variance.
            let rows: [[f64; 3]; 3] = core::array::from_fn(|_| {
                let row: [f64; 3] = core::array::from_fn(|_| draw(-1.0, 1.0));
                let length = row.iter().map(|part| part * part).sum::<f64>().sqrt();
                row.map(|part| part / length)
            });
            let product = |i: usize, j: usize| (0..3).map(|k| rows[i][k] * rows[j][k]).sum::<f64>();
            let correlations = [product(0, 1), product(0, 2), product(1, 2)];
            let boxed = core::array::from_fn(|_| {
                let low = draw(-2.5, 1.0);
                (low, low + draw(0.3, 4.0))
            });
            let [xy, xz, yz] = correlations;
            let partial = (yz - xy * xz) / (left(xy) * left(xz));
            if [xy, xz, partial].iter().all(|correlation| correlation.abs() < STEEP) {
                all.push((boxed, correlations));
            }
        }
        for (boxed, correlations) in all {
            let (found, exact) = (box_of(boxed, correlations), by_even_steps(boxed, correlations));
            assert!((found - exact).abs() < OF_THREE, "{boxed:?} {correlations:?}: {found} {exact}");
        }
    }
}
