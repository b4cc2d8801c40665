//! Smoothing with B-splines and a difference penalty, and its uncertainty.
//!
//! `y_i = Σ c_k·N_k(z_i) + ε_i`, `ε_i ~ N(0, σ_i²)` with known `σ_i`, and fourth differences `Δ⁴c ~ N(0, τ²·R)`: minimise
//! `Σ(y_i − f(z_i))²/σ_i² + (Δ⁴c)ᵀR⁻¹(Δ⁴c)/τ²` (Eilers & Marx, *Statistical Science* 11 (1996) 89–121, whose `R` is the
//! identity). The penalty leaves cubics free, so that heavy smoothing gives a slope along a parabola: the motion ratio of pins
//! and links bends smoothly, and so does the rate of a spring.
//!
//! Differences next to each other are alike, `R_jk = (1 + d + d²/3)·e^−d`, `d = √5·|j − k|/ℓ` (Matérn, `ν = 5/2`; Rasmussen &
//! Williams, *Gaussian Processes for Machine Learning* (2006) eq. 4.17), because pins and links have no ripple: what bends
//! the curve here bends it a little further on too. With independent ones the slope of the motion ratio, and so the wheel
//! rate, would get bands for ripples that no linkage has.
//!
//! How rough the curve may be, and over what length it bends, is not known beforehand; `τ` and `ℓ` are averaged out with
//! the marginal likelihood as weight, over the range that linkages have (see [`ROUGHNESS`], [`ALIKE`]), smoother ones being
//! likelier (see [`RARER`]). The best single `τ` would at times be a cubic by chance, with bands far too narrow. The
//! covariance is that of the average: within each pair (Wahba, *J. R. Statist. Soc. B* 45 (1983) 133–150) and between them.

use std::sync::LazyLock;

use nalgebra::{Cholesky, DMatrix, DVector, SymmetricEigen};

/// Degree five: the second derivative, which is the slope of the motion ratio, is smooth.
const DEGREE: usize = 5;
/// Intervals over the range: a linkage's stroke over a 24th of the travel is a quintic to far below any reading error.
const INTERVALS: usize = 24;
/// Coefficients.
const SIZE: usize = INTERVALS + DEGREE;
/// Order of the differences that are kept small.
const DIFFERENCE: usize = 4;
/// Roughness: by how much the slope (the motion ratio; the rate as a share of its mean) at the far end departs from the
/// parabola that it sets out on, as a standard deviation. From one that the eye takes for a parabola to the wildest rocker
/// (common practice, no source).
const ROUGHNESS: [f64; 2] = [0.01, 4.0];
/// A linkage four times as rough is half as likely (common practice, no source): the power of the roughness. Bands of force
/// and rate then hold as often as they say over all arrangements, and over rockers from smooth to wavy.
const RARER: f64 = 0.5;
/// Roughnesses averaged, evenly by logarithm: neighbours differ by a half.
const GRID: usize = 15;
/// Lengths over which fourth differences are alike, in intervals, all as likely: from an eighth of the range to the whole.
const ALIKE: [f64; 4] = [3.0, 6.0, 12.0, 24.0];
/// Patterns of fourth differences whose variance is under this share of the greatest are left out: together they move the
/// motion ratio by under a hundredth of what the roughness allows.
const SEEN: f64 = 1e-5;

/// Ways in which coefficients may vary, one in each column.
struct Shapes {
    /// Cubics, then patterns of fourth differences: independent, of a size that makes a roughness of 1 over an interval of 1.
    columns: DMatrix<f64>,
    /// Of which so many are patterns.
    patterns: usize,
}

/// Those of each length of [`ALIKE`].
static SHAPES: LazyLock<Vec<Shapes>> = LazyLock::new(|| ALIKE.map(Shapes::new).into());

impl Shapes {
    fn new(alike: f64) -> Self {
        const COUNT: usize = SIZE - DIFFERENCE;
        let eigen = SymmetricEigen::new(DMatrix::from_fn(COUNT, COUNT, |j, k| {
            let apart = 5.0_f64.sqrt() * j.abs_diff(k) as f64 / alike;
            (1.0 + apart + apart * apart / 3.0) * (-apart).exp()
        }));
        let most = eigen.eigenvalues.max();
        let kept: Vec<usize> = (0..COUNT).filter(|&k| eigen.eigenvalues[k] > SEEN * most).collect();
        let differences = DMatrix::from_fn(COUNT, kept.len(), |j, k| {
            eigen.eigenvectors[(j, kept[k])] * eigen.eigenvalues[kept[k]].sqrt()
        });
        // A difference at `m` intervals from the end bends the motion ratio there by `m²/2` of it, in intervals.
        let bend = |k: usize| (0..COUNT).map(|j| 0.5 * ((COUNT - j) as f64).powi(2) * differences[(j, k)]).sum::<f64>();
        let size = (0..kept.len()).map(|k| bend(k).powi(2)).sum::<f64>().sqrt();
        // Differences summed up four times, less the cubic that the sums carry.
        let mut patterns = DMatrix::zeros(SIZE, kept.len());
        patterns.rows_mut(DIFFERENCE, COUNT).copy_from(&(differences / size));
        for mut column in patterns.column_iter_mut() {
            for _ in 0..DIFFERENCE {
                (1..SIZE).for_each(|at| column[at] += column[at - 1]);
            }
        }
        let place = |at: usize| 2.0 * at as f64 / (SIZE - 1) as f64 - 1.0;
        let cubics = DMatrix::from_fn(SIZE, DIFFERENCE, |at, power| place(at).powi(power as i32)).qr().q();
        let patterns = &patterns - &cubics * (cubics.transpose() * &patterns);
        let columns = DMatrix::from_fn(SIZE, DIFFERENCE + kept.len(), |at, k| {
            if k < DIFFERENCE { cubics[(at, k)] } else { patterns[(at, k - DIFFERENCE)] }
        });
        Self { columns, patterns: kept.len() }
    }
}

/// Uniform B-splines over a range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Basis {
    from: f64,
    interval: f64,
}

impl Basis {
    pub(crate) fn new(from: f64, to: f64) -> Self {
        Self { from, interval: (to - from) / INTERVALS as f64 }
    }

    /// Values (or derivatives) of all splines at a place.
    pub(crate) fn row(&self, at: f64, derivative: usize) -> DVector<f64> {
        let t = (at - self.from) / self.interval;
        let cell = t.floor().clamp(0.0, INTERVALS as f64 - 1.0);
        let local = t - cell;
        // Values of lower degree by the recursion of Cox and de Boor on uniform knots, …
        let degree = DEGREE - derivative;
        let mut values = [0.0; DEGREE + 1];
        values[0] = 1.0;
        for p in 1..=degree {
            let mut next = [0.0; DEGREE + 1];
            for (k, value) in values.iter().take(p).enumerate() {
                // Spline k of degree p − 1 in this cell is at argument `local + p − 1 − k`.
                let argument = local + (p - 1 - k) as f64;
                next[k + 1] += value * argument / p as f64;
                next[k] += value * (p as f64 - argument) / p as f64;
            }
            values = next;
        }
        // … then differences for every derivative: N' = (N₋ − N₊)/h.
        for order in 0..derivative {
            let filled = degree + order + 1;
            let mut next = [0.0; DEGREE + 1];
            for (k, value) in values.iter().take(filled).enumerate() {
                next[k] -= value / self.interval;
                next[k + 1] += value / self.interval;
            }
            values = next;
        }
        let mut row = DVector::zeros(SIZE);
        row.rows_mut(cell as usize, DEGREE + 1).copy_from_slice(&values);
        row
    }
}

/// A smooth curve with the covariance of its coefficients.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Smooth {
    basis: Basis,
    coefficients: DVector<f64>,
    covariance: DMatrix<f64>,
}

/// The fit at one roughness and one length.
struct Member {
    unlikelihood: f64,
    coefficients: DVector<f64>,
    /// Place in [`SHAPES`].
    shapes: usize,
    /// Covariance of the shapes.
    covariance: DMatrix<f64>,
}

/// The fits at all roughnesses and lengths, the smoothest first.
pub(crate) struct Family {
    basis: Basis,
    members: Vec<Member>,
}

impl Family {
    /// From places, values and the standard uncertainty of every value.
    pub(crate) fn new(basis: Basis, at: &[f64], values: &[f64], sigma: &[f64]) -> Self {
        let [least, most] = ROUGHNESS.map(f64::ln);
        let grid = (0..=GRID).map(|step| (least + (most - least) * step as f64 / GRID as f64).exp());
        Self::with_roughness(basis, at, values, sigma, grid)
    }

    fn with_roughness(
        basis: Basis,
        at: &[f64],
        values: &[f64],
        sigma: &[f64],
        roughness: impl Iterator<Item = f64>,
    ) -> Self {
        let mut normal = DMatrix::zeros(SIZE, SIZE);
        let mut right = DVector::zeros(SIZE);
        let mut sum_of_squares = 0.0;
        for ((at, value), sigma) in at.iter().zip(values).zip(sigma) {
            let row = basis.row(*at, 0) / *sigma;
            let scaled = value / sigma;
            normal += &row * row.transpose();
            right += row * scaled;
            sum_of_squares += scaled * scaled;
        }
        let of_shapes: Vec<(DMatrix<f64>, DVector<f64>)> = SHAPES
            .iter()
            .map(|Shapes { columns, .. }| (columns.tr_mul(&(&normal * columns)), columns.tr_mul(&right)))
            .collect();
        let member = |roughness: f64, shapes: usize| {
            let (normal, right) = &of_shapes[shapes];
            let Shapes { columns, patterns } = &SHAPES[shapes];
            let precision = (roughness * basis.interval).powi(-2);
            let mut information = normal.clone();
            (DIFFERENCE..DIFFERENCE + patterns).for_each(|at| information[(at, at)] += precision);
            let factors = Cholesky::new(information)?;
            let found = factors.solve(right);
            let log_determinant: f64 = 2.0 * factors.l_dirty().diagonal().iter().map(|d| d.ln()).sum::<f64>();
            Some(Member {
                unlikelihood: sum_of_squares - found.dot(right) + log_determinant - *patterns as f64 * precision.ln()
                    + 2.0 * RARER * roughness.ln(),
                coefficients: columns * found,
                shapes,
                covariance: factors.inverse(),
            })
        };
        let pairs = roughness.flat_map(|roughness| (0..SHAPES.len()).map(move |shapes| (roughness, shapes)));
        Self { basis, members: pairs.filter_map(|(roughness, shapes)| member(roughness, shapes)).collect() }
    }

    /// The average over all fits but the wildest ones, of which so many are left out.
    pub(crate) fn average(&self, left_out: usize) -> Option<Smooth> {
        let kept = &self.members[..self.members.len().checked_sub(left_out)?];
        let best = kept.iter().map(|member| member.unlikelihood).min_by(f64::total_cmp)?;
        let weights: Vec<f64> = kept.iter().map(|member| (-0.5 * (member.unlikelihood - best)).exp()).collect();
        let total: f64 = weights.iter().sum();
        let mut coefficients = DVector::zeros(SIZE);
        for (member, weight) in kept.iter().zip(&weights) {
            coefficients += &member.coefficients * (weight / total);
        }
        let mut covariance = DMatrix::zeros(SIZE, SIZE);
        for (at, Shapes { columns, .. }) in SHAPES.iter().enumerate() {
            let mut within = DMatrix::zeros(columns.ncols(), columns.ncols());
            for (member, weight) in kept.iter().zip(&weights).filter(|(member, _)| member.shapes == at) {
                within += &member.covariance * (weight / total);
                let off = &member.coefficients - &coefficients;
                covariance += &off * off.transpose() * (weight / total);
            }
            covariance += columns * within * columns.transpose();
        }
        Some(Smooth { basis: self.basis, coefficients, covariance })
    }
}

impl Smooth {
    pub(crate) fn value(&self, at: f64, derivative: usize) -> f64 {
        self.basis.row(at, derivative).dot(&self.coefficients)
    }

    /// How a value depends on the coefficients.
    pub(crate) fn gradient(&self, at: f64, derivative: usize) -> DVector<f64> {
        self.basis.row(at, derivative)
    }

    /// Independent changes of the coefficients, each of one standard deviation: eigenvectors of the covariance.
    pub(crate) fn independent(&self) -> Vec<DVector<f64>> {
        let eigen = SymmetricEigen::new(self.covariance.clone());
        let columns = eigen.eigenvectors.column_iter().zip(eigen.eigenvalues.iter());
        columns.map(|(vector, variance)| vector * variance.max(0.0).sqrt()).collect()
    }

    /// Standard uncertainty of a combination of coefficients.
    pub(crate) fn uncertainty(&self, gradient: &DVector<f64>) -> f64 {
        (gradient.dot(&(&self.covariance * gradient))).max(0.0).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn splines_sum_to_one_and_their_derivatives_to_zero() {
        let basis = Basis::new(-0.3, 2.1);
        for at in [-0.3, 0.0, 0.123, 1.7, 2.1] {
            assert!((basis.row(at, 0).sum() - 1.0).abs() < 1e-14);
            for derivative in 1..4 {
                assert!(basis.row(at, derivative).sum().abs() < 1e-9);
            }
        }
    }

    #[test]
    fn derivatives_are_those_of_the_values() {
        let basis = Basis::new(0.0, 2.4);
        let h = 1e-4;
        for derivative in 0..3 {
            let difference = (basis.row(0.77 + h, derivative) - basis.row(0.77 - h, derivative)) / (2.0 * h);
            let error = (difference - basis.row(0.77, derivative + 1)).abs().max();
            assert!(error < 1e-3 * 10f64.powi(derivative as i32), "{derivative}: {error}");
        }
    }

    #[test]
    fn heavy_smoothing_is_the_least_squares_parabola() {
        let at: Vec<f64> = (0..20).map(|k| 0.1 * f64::from(k)).collect();
        let values: Vec<f64> = at.iter().map(|z| 3.0 - 2.0 * z + 0.5 * z * z).collect();
        let straight = [ROUGHNESS[0]].into_iter();
        let smooth =
            Family::with_roughness(Basis::new(0.0, 1.9), &at, &values, &[1e-3; 20], straight).average(0).unwrap();
        for z in [0.0, 0.33, 1.9] {
            assert!((smooth.value(z, 0) - (3.0 - 2.0 * z + 0.5 * z * z)).abs() < 1e-6);
            assert!((smooth.value(z, 1) - (z - 2.0)).abs() < 1e-5);
            assert!((smooth.value(z, 2) - 1.0).abs() < 1e-4);
        }
    }
}
