//! `P(a ≤ x ≤ b, c ≤ y ≤ d)` of two standard normal quantities with correlation `ρ`.
//!
//! Method: `∂P/∂ρ = Σ ±φ₂(corner; ρ)` over the four corners of the rectangle (Plackett 1954), integrated over the
//! correlation by Gauss–Legendre from the end that is nearer and known in closed form: from `ρ = 0`, where the two are
//! independent, or from `|ρ| = 1`, where they are one and the same (Drezner & Wesolowsky 1990; Genz 2004). Near `|ρ| = 1`
//! the leading terms of the integrand are integrated in closed form and the rule takes the rest (Genz 2004). Corners at
//! infinity add nothing. `y` is mirrored for a negative correlation.
//!
//! Accuracy: 2e-15 absolute at any correlation, both ends included; a probability that is small because the rectangle lies
//! in a tail keeps its leading digits.
//!
//! Fails: not for |ρ| ≤ 1. The caller holds the correlation to that.
//!
//! References: R. L. Plackett, *A reduction formula for normal multivariate integrals*, Biometrika 41 (1954) 351–360.
//! Z. Drezner & G. O. Wesolowsky, *On the computation of the bivariate normal integral*, J. Statist. Comput. Simul. 35
//! (1990) 101–107. A. Genz, *Numerical computation of rectangular bivariate and trivariate normal and t probabilities*,
//! Statistics and Computing 14 (2004) 251–260.

use core::f64::consts::TAU;

use archmage::autoversion;

use super::exponential::{exp, exp_below_zero};
use super::gauss_legendre::{MOST_NODES, Rule, SIX, TWELVE, TWENTY, nodes};
use super::tabled::{Arithmetic, Exact, Tabled};
use super::{Interval, between_by};

/// Correlations up to which 6, 12 and 20 nodes from `ρ = 0` suffice (Genz 2004); beyond the last one the way from
/// `|ρ| = 1` is the shorter.
const FEW: f64 = 0.3;
const SOME: f64 = 0.75;
const MANY: f64 = 0.925;
/// Correlation up to which 6 nodes give 2e-11 a corner; 12 give 4e-11 up to [`MANY`] (against 60 nodes, over corners up to 5
/// standard deviations out).
const FEW_IN_A_SUM: f64 = 0.6;

/// Numbers in a vector of columns.
const WIDTH: usize = 8;
/// Most numbers in a column: the nodes of the longest rule, and some of no weight to fill the last vector.
const MOST: usize = MOST_NODES.next_multiple_of(WIDTH);

/// Two standard normal quantities; what depends on their correlation alone is computed once.
#[derive(Debug, Clone, PartialEq)]
#[expect(clippy::large_enum_variant, reason = "lives on the stack for one call; to put it on the heap would cost more")]
pub(super) enum Pair {
    /// From independence: `P = P(x)·P(y) + ∫ Σ ±φ₂ dr` over `r = 0..ρ`, with `r = sin θ`.
    Loose { nodes: LooseNodes<MOST>, filled: usize },
    /// From identity: `P = P(x and y as one) − ∫ Σ ±φ₂ dr` over `r = |ρ|..1`, with `r = √(1 − t²)`.
    Tight { tight: Tight, nodes: TightNodes<MOST>, filled: usize },
}

/// The same to 2e-6 a corner, for searches: six nodes whatever the correlation.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum RoughPair {
    Loose(LooseNodes<WIDTH>),
    Tight { tight: Tight, nodes: TightNodes<WIDTH> },
}

/// A correlation near ±1: its size, and `√(1 − ρ²)`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Tight {
    mirrored: bool,
    correlation: f64,
    left: f64,
}

/// `r`, `1/(2(1 − r²))` and the weight of every node, by columns.
#[derive(Debug, Clone, PartialEq)]
#[repr(align(64))]
pub(super) struct LooseNodes<const N: usize> {
    sine: [f64; N],
    half_inverse: [f64; N],
    weight: [f64; N],
}

/// `t²`, `1/(2t²)`, `1/(1 + r)`, `1/r` and the weight of every node, by columns.
#[derive(Debug, Clone, PartialEq)]
#[repr(align(64))]
pub(super) struct TightNodes<const N: usize> {
    square: [f64; N],
    half_inverse: [f64; N],
    below: [f64; N],
    inverse: [f64; N],
    weight: [f64; N],
}

impl<const N: usize> LooseNodes<N> {
    fn new(rule: Rule, correlation: f64) -> Self {
        let mut found = Self { sine: [0.0; N], half_inverse: [0.5; N], weight: [0.0; N] };
        for (at, (angle, weight)) in nodes(rule, 0.0, correlation.asin()).enumerate() {
            let sine = angle.sin();
            (found.sine[at], found.half_inverse[at], found.weight[at]) =
                (sine, 0.5 / (1.0 - sine * sine), weight / TAU);
        }
        found
    }
}

impl<const N: usize> TightNodes<N> {
    fn new(rule: Rule, left: f64) -> Self {
        let none = [0.0; N];
        let mut found = Self { square: none, half_inverse: none, below: none, inverse: none, weight: none };
        for (at, (t, weight)) in nodes(rule, 0.0, left).enumerate() {
            let square = t * t;
            let r = (1.0 - square).sqrt();
            (found.square[at], found.half_inverse[at], found.weight[at]) = (square, 0.5 / square, weight);
            (found.below[at], found.inverse[at]) = (1.0 / (1.0 + r), 1.0 / r);
        }
        found
    }
}

impl<const N: usize> TightNodes<N> {
    /// The columns as far as a rule fills them, in vectors.
    fn columns(&self, filled: usize) -> [&[[f64; WIDTH]]; 5] {
        let Self { square, half_inverse, below, inverse, weight } = self;
        [square, half_inverse, below, inverse, weight].map(|column| column[..filled].as_chunks::<WIDTH>().0)
    }
}

/// How many numbers of a column a rule fills, in whole vectors.
fn filled(rule: Rule) -> usize {
    (2 * rule.len()).next_multiple_of(WIDTH)
}

impl Tight {
    fn new(correlation: f64) -> Self {
        let size = correlation.abs();
        Self { mirrored: correlation < 0.0, correlation: size, left: ((1.0 - size) * (1.0 + size)).sqrt() }
    }

    fn rectangle<A: Arithmetic, const N: usize>(
        &self,
        x: Interval,
        y: Interval,
        nodes: &TightNodes<N>,
        filled: usize,
    ) -> f64 {
        let y = if self.mirrored { (-y.1, -y.0) } else { y };
        let columns = nodes.columns(filled);
        between_by::<A>((x.0.max(y.0), x.1.min(y.1)))
            - over_corners::<A>(x, y, |h, k| from_identical::<A>(h, k, self, &columns))
    }
}

impl Pair {
    /// With a correlation of −1 to 1.
    pub(super) fn new(correlation: f64) -> Self {
        let size = correlation.abs();
        if size > MANY {
            let tight = Tight::new(correlation);
            return Self::Tight { nodes: TightNodes::new(TWENTY, tight.left), tight, filled: filled(TWENTY) };
        }
        let rule: Rule = if size <= FEW {
            SIX
        } else if size <= SOME {
            TWELVE
        } else {
            TWENTY
        };
        Self::loose(rule, correlation)
    }

    /// The same to 4e-11 a corner, for a sum that needs no more.
    pub(super) fn in_a_sum(correlation: f64) -> Self {
        match correlation.abs() {
            size if size > MANY => Self::new(correlation),
            size if size > FEW_IN_A_SUM => Self::loose(TWELVE, correlation),
            _ => Self::loose(SIX, correlation),
        }
    }

    fn loose(rule: Rule, correlation: f64) -> Self {
        Self::Loose { nodes: LooseNodes::new(rule, correlation), filled: filled(rule) }
    }

    /// Probability of a rectangle.
    pub(super) fn rectangle(&self, x: Interval, y: Interval) -> f64 {
        let probability = match self {
            Self::Loose { nodes, filled } => {
                between_by::<Exact>(x) * between_by::<Exact>(y) + from_independent(x, y, nodes, *filled)
            }
            Self::Tight { tight, nodes, filled } => tight.rectangle::<Exact, MOST>(x, y, nodes, *filled),
        };
        probability.clamp(0.0, 1.0)
    }
}

impl RoughPair {
    /// With a correlation of −1 to 1.
    pub(super) fn new(correlation: f64) -> Self {
        if correlation.abs() > MANY {
            let tight = Tight::new(correlation);
            return Self::Tight { nodes: TightNodes::new(SIX, tight.left), tight };
        }
        Self::Loose(LooseNodes::new(SIX, correlation))
    }

    /// Probability of a rectangle.
    pub(super) fn rectangle(&self, x: Interval, y: Interval) -> f64 {
        let probability = match self {
            Self::Loose(nodes) => {
                between_by::<Tabled>(x) * between_by::<Tabled>(y) + roughly_from_independent(x, y, nodes)
            }
            Self::Tight { tight, nodes } => tight.rectangle::<Tabled, WIDTH>(x, y, nodes, WIDTH),
        };
        probability.clamp(0.0, 1.0)
    }
}

/// Sum over the corners, with a minus where one coordinate is a lower and the other an upper bound.
fn over_corners<A: Arithmetic>(x: Interval, y: Interval, at: impl Fn(f64, f64) -> f64) -> f64 {
    let corner = |h: f64, k: f64| if is_far::<A>(h, k) { 0.0 } else { at(h, k) };
    corner(x.1, y.1) - corner(x.0, y.1) - corner(x.1, y.0) + corner(x.0, y.0)
}

/// `φ₂(h, k; r) ≤ exp(−max(h², k²)/2)/2π(1 − r²)^½` at any `r`: far corners add nothing.
#[inline(always)]
fn is_far<A: Arithmetic>(h: f64, k: f64) -> bool {
    -0.5 * (h * h).max(k * k) < A::FAR
}

/// The corners with their signs.
fn corners(x: Interval, y: Interval) -> [(f64, f64, f64); 4] {
    [(x.1, y.1, 1.0), (x.0, y.1, -1.0), (x.1, y.0, -1.0), (x.0, y.0, 1.0)]
}

/// `Σ ±∫ φ₂(h, k; r) dr` over the corners and `r = 0..ρ`, `= 1/2π ∫ exp(−(h² − 2hk·sin θ + k²)/(2cos²θ)) dθ`.
#[autoversion]
fn from_independent(x: Interval, y: Interval, nodes: &LooseNodes<MOST>, filled: usize) -> f64 {
    let columns =
        [&nodes.sine, &nodes.half_inverse, &nodes.weight].map(|column| column[..filled].as_chunks::<WIDTH>().0);
    let mut sums = [0.0; WIDTH];
    for (h, k, sign) in corners(x, y) {
        if is_far::<Exact>(h, k) {
            continue;
        }
        let (twice_product, squares) = (2.0 * h * k, h * h + k * k);
        for ((sine, half_inverse), weight) in columns[0].iter().zip(columns[1]).zip(columns[2]) {
            for (lane, sum) in sums.iter_mut().enumerate() {
                let exponent = (twice_product * sine[lane] - squares) * half_inverse[lane];
                *sum += sign * weight[lane] * exp(exponent);
            }
        }
    }
    sums.iter().sum()
}

/// The same to 1e-8.
#[autoversion]
fn roughly_from_independent(x: Interval, y: Interval, nodes: &LooseNodes<WIDTH>) -> f64 {
    /// A corner further out (in standard deviations) adds 1e-14.
    const OUT: f64 = 8.0;
    let mut sums = [0.0; WIDTH];
    for (h, k, sign) in corners(x, y) {
        if h.abs().max(k.abs()) > OUT {
            continue;
        }
        let (twice_product, squares) = (2.0 * h * k, h * h + k * k);
        for (lane, sum) in sums.iter_mut().enumerate() {
            let exponent = (twice_product * nodes.sine[lane] - squares) * nodes.half_inverse[lane];
            *sum += sign * nodes.weight[lane] * exp_below_zero(exponent);
        }
    }
    sums.iter().sum()
}

/// `∫ φ₂(h, k; r) dr` over `r = ρ..1`, `= 1/2π ∫ exp(−b²/2t² − hk/(1 + r))/r dt` over `t = 0..√(1 − ρ²)`, `b = h − k`.
///
/// `exp(−hk/(1 + r))/r = exp(−hk/2)·(1 + c·t²·(1 + d·t²)) + O(t⁶)` with `c = (4 − hk)/8`, `d = (12 − hk)/16`; against
/// `exp(−b²/2t²)` these terms have closed forms.
fn from_identical<A: Arithmetic>(h: f64, k: f64, tight: &Tight, nodes: &[&[[f64; WIDTH]]; 5]) -> f64 {
    const ROOT_TAU: f64 = 2.506_628_274_631_000_5;
    let Tight { correlation, left, .. } = *tight;
    if left <= 0.0 {
        return 0.0;
    }
    let (gap, product) = ((h - k).abs(), h * k);
    let slope = gap / left;
    if most(slope, product, correlation) < A::NOTHING {
        return 0.0;
    }
    let (c, d) = ((4.0 - product) / 8.0, (12.0 - product) / 16.0);
    let scale = A::exp(-0.5 * product);
    let end = A::exp(-0.5 * slope * slope);
    // ∫ tⁿ·exp(−b²/2t²) dt for n = 0, 2, 4, by parts.
    let zeroth = left * end - gap * ROOT_TAU * A::cdf(-slope);
    let second = (left.powi(3) * end - gap * gap * zeroth) / 3.0;
    let fourth = (left.powi(5) * end - gap * gap * second) / 5.0;
    let rest = beyond_closed_form(nodes, [gap * gap, product], scale, [c, d]);
    (scale * (zeroth + c * (second + d * fourth)) + rest) / TAU
}

/// The greatest exponent under the integral, of `exp(−b²/2t² − hk/(1 + r))` and of `exp(−b²/2t² − hk/2)`: that of one of them at
/// the end of it, where `b/t` is the slope and `r` the correlation.
#[inline(always)]
fn most(slope: f64, product: f64, correlation: f64) -> f64 {
    -0.5 * slope * slope - (0.5 * product).min(product / (1.0 + correlation))
}

/// `∫ exp(−b²/2t²)·(exp(−hk/(1 + r))/r − exp(−hk/2)·(1 + c·t²·(1 + d·t²))) dt`.
#[autoversion]
fn beyond_closed_form(
    nodes: &[&[[f64; WIDTH]]; 5],
    [gap_squared, product]: [f64; 2],
    scale: f64,
    [c, d]: [f64; 2],
) -> f64 {
    let [square, half_inverse, below, inverse, weight] = *nodes;
    let mut sums = [0.0; WIDTH];
    for (row, square) in square.iter().enumerate() {
        for (lane, sum) in sums.iter_mut().enumerate() {
            let step = exp(-gap_squared * half_inverse[row][lane]);
            let whole = exp(-product * below[row][lane]) * inverse[row][lane];
            let closed = scale * (1.0 + c * square[lane] * (1.0 + d * square[lane]));
            *sum += weight[row][lane] * step * (whole - closed);
        }
    }
    sums.iter().sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_greatest_exponent_is_the_greatest_of_thousands() {
        const LOOKS: usize = 2000;
        for correlation in [0.93_f64, 0.97, 0.9999] {
            let left = (1.0 - correlation * correlation).sqrt();
            for (h, k) in [(1.0, 1.3), (-2.0, 1.5), (3.0, 3.0), (-4.0, -3.5), (0.0, 2.0), (6.0, -6.0), (-7.0, -8.0)] {
                let (gap, product) = (h - k, h * k);
                let exponents = (1..=LOOKS).flat_map(|look| {
                    let t = left * look as f64 / LOOKS as f64;
                    let (step, r) = (-0.5 * (gap / t).powi(2), (1.0 - t * t).sqrt());
                    [step - product / (1.0 + r), step - 0.5 * product]
                });
                let (found, greatest) =
                    (most((gap / left).abs(), product, correlation), exponents.fold(f64::MIN, f64::max));
                // Rounding of an exponent of up to thousands.
                assert!((found - greatest).abs() < 1e-12 * greatest.abs().max(1.0), "{h} {k}: {found} {greatest}");
            }
        }
    }
}
