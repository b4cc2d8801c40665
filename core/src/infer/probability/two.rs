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

use super::gauss_legendre::{MOST_NODES, Rule, SIX, TWELVE, TWENTY, nodes};
use super::tabled::Arithmetic;
use super::{Interval, between_by};

/// Correlations up to which 6, 12 and 20 nodes from `ρ = 0` suffice (Genz 2004); beyond the last one the way from
/// `|ρ| = 1` is the shorter.
const FEW: f64 = 0.3;
const SOME: f64 = 0.75;
const MANY: f64 = 0.925;

/// Two standard normal quantities; what depends on their correlation alone is computed once.
#[derive(Debug, Clone, PartialEq)]
#[expect(clippy::large_enum_variant, reason = "lives on the stack for one call; to put it on the heap would cost more")]
pub(super) enum Pair {
    /// From independence: `P = P(x)·P(y) + ∫ Σ ±φ₂ dr` over `r = 0..ρ`, with `r = sin θ`.
    Loose { nodes: [LooseNode; MOST_NODES], count: usize },
    /// As `Loose`, to 2e-6 a corner, for searches.
    Rough(RoughNodes),
    /// From identity: `P = P(x and y as one) − ∫ Σ ±φ₂ dr` over `r = |ρ|..1`, with `r = √(1 − t²)`.
    Tight { mirrored: bool, correlation: f64, left: f64, nodes: [TightNode; MOST_NODES], count: usize },
}

/// `r`, `1/(2(1 − r²))` and the weight of a node.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct LooseNode {
    sine: f64,
    half_inverse: f64,
    weight: f64,
}

/// Numbers in a row of [`RoughNodes`]: the six nodes of the shortest rule, and two of no weight to fill a vector.
const WIDTH: usize = 8;

/// Nodes of the shortest rule, by columns.
#[derive(Debug, Clone, PartialEq)]
#[repr(align(64))]
pub(super) struct RoughNodes {
    sine: [f64; WIDTH],
    half_inverse: [f64; WIDTH],
    weight: [f64; WIDTH],
}

/// `t²`, `1/(2t²)`, `1/(1 + r)`, `1/r` and the weight of a node.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct TightNode {
    square: f64,
    half_inverse: f64,
    below: f64,
    inverse: f64,
    weight: f64,
}

impl LooseNode {
    fn new(angle: f64, weight: f64) -> Self {
        let sine = angle.sin();
        Self { sine, half_inverse: 0.5 / (1.0 - sine * sine), weight: weight / TAU }
    }
}

impl Pair {
    /// To 2e-6 a corner, for searches: six nodes whatever the correlation.
    pub(super) fn roughly(correlation: f64) -> Self {
        if correlation.abs() > MANY {
            return Self::tight(correlation, SIX);
        }
        let mut found = RoughNodes { sine: [0.0; WIDTH], half_inverse: [0.5; WIDTH], weight: [0.0; WIDTH] };
        for (at, (angle, weight)) in nodes(SIX, 0.0, correlation.asin()).enumerate() {
            let node = LooseNode::new(angle, weight);
            (found.sine[at], found.half_inverse[at], found.weight[at]) = (node.sine, node.half_inverse, node.weight);
        }
        Self::Rough(found)
    }

    /// With a correlation of −1 to 1.
    pub(super) fn new(correlation: f64) -> Self {
        let size = correlation.abs();
        if size > MANY { Self::tight(correlation, TWENTY) } else { Self::loose(correlation, size) }
    }

    fn loose(correlation: f64, size: f64) -> Self {
        let rule: Rule = if size <= FEW {
            SIX
        } else if size <= SOME {
            TWELVE
        } else {
            TWENTY
        };
        let mut found = [LooseNode::default(); MOST_NODES];
        for (at, (angle, weight)) in found.iter_mut().zip(nodes(rule, 0.0, correlation.asin())) {
            *at = LooseNode::new(angle, weight);
        }
        Self::Loose { nodes: found, count: 2 * rule.len() }
    }

    fn tight(correlation: f64, rule: Rule) -> Self {
        let size = correlation.abs();
        let left = ((1.0 - size) * (1.0 + size)).sqrt();
        let mut found = [TightNode::default(); MOST_NODES];
        for (at, (t, weight)) in found.iter_mut().zip(nodes(rule, 0.0, left)) {
            let square = t * t;
            let r = (1.0 - square).sqrt();
            *at = TightNode { square, half_inverse: 0.5 / square, below: 1.0 / (1.0 + r), inverse: 1.0 / r, weight };
        }
        Self::Tight { mirrored: correlation < 0.0, correlation: size, left, nodes: found, count: 2 * rule.len() }
    }

    /// Probability of a rectangle.
    pub(super) fn rectangle<A: Arithmetic>(&self, x: Interval, y: Interval) -> f64 {
        let probability = match self {
            Self::Loose { nodes, count } => {
                between_by::<A>(x) * between_by::<A>(y)
                    + over_corners::<A>(x, y, |h, k| from_independent::<A>(h, k, &nodes[..*count]))
            }
            Self::Rough(nodes) => between_by::<A>(x) * between_by::<A>(y) + all_corners(x, y, nodes),
            Self::Tight { mirrored, correlation, left, nodes, count } => {
                let y = if *mirrored { (-y.1, -y.0) } else { y };
                let nodes = &nodes[..*count];
                between_by::<A>((x.0.max(y.0), x.1.min(y.1)))
                    - over_corners::<A>(x, y, |h, k| from_identical::<A>(h, k, *correlation, *left, nodes))
            }
        };
        probability.clamp(0.0, 1.0)
    }
}

/// Sum over the corners, with a minus where one coordinate is a lower and the other an upper bound.
/// `φ₂(h, k; r) ≤ exp(−max(h², k²)/2)/2π(1 − r²)^½` at any `r`: far corners add nothing.
fn over_corners<A: Arithmetic>(x: Interval, y: Interval, at: impl Fn(f64, f64) -> f64) -> f64 {
    let corner = |h: f64, k: f64| if -0.5 * (h * h).max(k * k) < A::FAR { 0.0 } else { at(h, k) };
    corner(x.1, y.1) - corner(x.0, y.1) - corner(x.1, y.0) + corner(x.0, y.0)
}

/// `∫ φ₂(h, k; r) dr` over `r = 0..ρ`, `= 1/2π ∫ exp(−(h² − 2hk·sin θ + k²)/(2cos²θ)) dθ`.
fn from_independent<A: Arithmetic>(h: f64, k: f64, nodes: &[LooseNode]) -> f64 {
    let (squares, twice_product) = (h * h + k * k, 2.0 * h * k);
    nodes.iter().map(|node| node.weight * A::exp((twice_product * node.sine - squares) * node.half_inverse)).sum()
}

/// [`over_corners`] of [`from_independent`] for all corners at once, in vectors, to 1e-8.
#[autoversion]
fn all_corners(x: Interval, y: Interval, nodes: &RoughNodes) -> f64 {
    /// A corner further out (in standard deviations) is this far: it adds 1e-14.
    const OUT: f64 = 8.0;
    let [x, y] = [x, y].map(|(low, high)| [low.clamp(-OUT, OUT), high.clamp(-OUT, OUT)]);
    let mut sums = [0.0; WIDTH];
    for (h, k, sign) in [(x[1], y[1], 1.0), (x[0], y[1], -1.0), (x[1], y[0], -1.0), (x[0], y[0], 1.0)] {
        let (twice_product, squares) = (2.0 * h * k, h * h + k * k);
        for (lane, sum) in sums.iter_mut().enumerate() {
            let exponent = (twice_product * nodes.sine[lane] - squares) * nodes.half_inverse[lane];
            *sum += sign * nodes.weight[lane] * exp_below_zero(exponent);
        }
    }
    sums.iter().sum()
}

/// `eˣ = 2ⁿ·eᶠ` with `|f| ≤ ln 2/2` of an `x` of at most zero: Taylor's series to degree 7, 8e-9 relative. No table and no
/// branch, so that the compiler takes several at once.
#[inline(always)]
fn exp_below_zero(x: f64) -> f64 {
    use core::f64::consts::{LN_2, LOG2_E};
    /// `eˣ` of less is 1e-26 here.
    const LEAST: f64 = -60.0;
    /// Added to a number, it leaves that rounded in the last bits: `1.5·2⁵²`.
    const ROUNDING: f64 = 6_755_399_441_055_744.0;
    let x = x.max(LEAST);
    let shifted = x * LOG2_E + ROUNDING;
    let f = x - (shifted - ROUNDING) * LN_2;
    let series = 1.0
        + f * (1.0
            + f * (1.0 / 2.0
                + f * (1.0 / 6.0 + f * (1.0 / 24.0 + f * (1.0 / 120.0 + f * (1.0 / 720.0 + f / 5040.0))))));
    // The rounded power of two goes to the exponent.
    f64::from_bits(series.to_bits().wrapping_add(shifted.to_bits() << 52))
}

/// `∫ φ₂(h, k; r) dr` over `r = ρ..1`, `= 1/2π ∫ exp(−b²/2t² − hk/(1 + r))/r dt` over `t = 0..√(1 − ρ²)`, `b = h − k`.
///
/// `exp(−hk/(1 + r))/r = exp(−hk/2)·(1 + c·t²·(1 + d·t²)) + O(t⁶)` with `c = (4 − hk)/8`, `d = (12 − hk)/16`; against
/// `exp(−b²/2t²)` these terms have closed forms.
fn from_identical<A: Arithmetic>(h: f64, k: f64, correlation: f64, left: f64, nodes: &[TightNode]) -> f64 {
    const ROOT_TAU: f64 = 2.506_628_274_631_000_5;
    if left <= 0.0 {
        return 0.0;
    }
    let (gap, product) = ((h - k).abs(), h * k);
    let slope = gap / left;
    let most = -0.5 * slope * slope - (0.5 * product).min(product / (1.0 + correlation));
    if most < A::NOTHING {
        return 0.0;
    }
    let (c, d) = ((4.0 - product) / 8.0, (12.0 - product) / 16.0);
    let scale = A::exp(-0.5 * product);
    let end = A::exp(-0.5 * slope * slope);
    // ∫ tⁿ·exp(−b²/2t²) dt for n = 0, 2, 4, by parts.
    let zeroth = left * end - gap * ROOT_TAU * A::cdf(-slope);
    let second = (left.powi(3) * end - gap * gap * zeroth) / 3.0;
    let fourth = (left.powi(5) * end - gap * gap * second) / 5.0;
    let rest: f64 = nodes
        .iter()
        .map(|node| {
            let step = A::exp(-gap * gap * node.half_inverse);
            let whole = A::exp(-product * node.below) * node.inverse;
            node.weight * step * (whole - scale * (1.0 + c * node.square * (1.0 + d * node.square)))
        })
        .sum();
    (scale * (zeroth + c * (second + d * fourth)) + rest) / TAU
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_exponential_in_vectors_gives_eight_digits() {
        /// The term left out, `f⁸/8!/eᶠ` with `f = −ln 2/2`, and the next.
        const LEFT: f64 = 8e-9;
        for k in 0..=60_000 {
            let x = -1e-3 * f64::from(k);
            assert!((exp_below_zero(x) / x.exp() - 1.0).abs() < LEFT, "{x}");
        }
        assert!(exp_below_zero(-1e9) < 1e-26 && exp_below_zero(-0.0) == 1.0);
    }
}
