//! What readings to come leave of a covariance, before they are taken.
//!
//! A reading with derivatives `j` and variance `v` narrows the covariance by `C j jᵀC/(jᵀC j + v)` (recursive least squares). What
//! several readings of one task share is one more unknown while the task is worked out. The standard deviation of one number
//! afterwards needs only what is taken along it, and no matrix.

use nalgebra::{DMatrix, DVector};

use crate::infer::solved::{covariance_along, zeros};

/// One reading to come: derivatives of what is read, its variance, and the derivative over what the task's readings share,
/// of unit variance.
#[derive(Debug, Clone)]
pub(crate) struct Coming {
    pub(super) derivatives: DVector<f64>,
    pub(super) variance: f64,
    pub(super) shared: f64,
}

impl Coming {
    pub(crate) fn new(derivatives: DVector<f64>, variance: f64) -> Self {
        Self { derivatives, variance, shared: 0.0 }
    }

    /// Read less well, by this variance.
    pub(crate) fn widen(&mut self, variance: f64) {
        self.variance += variance;
    }
}

/// What the readings of one task take from a covariance, one after the other: `C′ = C − Σ w·wᵀ`, every `w` as long as the
/// unknowns are many.
fn narrowing(covariance: &DMatrix<f64>, coming: &[Coming]) -> Vec<f64> {
    let count = covariance.nrows();
    let mut taken: Vec<f64> = Vec::with_capacity(count * coming.len());
    // What the readings share: its covariance with the unknowns, and its variance.
    let (mut along, mut own) = (zeros(count), 1.0);
    let mut gain = zeros(count);
    for Coming { derivatives, variance, shared } in coming {
        let derivatives = derivatives.as_slice();
        gain.iter_mut().zip(&along).for_each(|(to, along)| *to = shared * along);
        let columns = covariance.as_slice().chunks_exact(count).zip(derivatives);
        columns.filter(|(_, by)| **by != 0.0).for_each(|(column, by)| add(&mut gain, *by, column));
        taken.chunks_exact(count).for_each(|before| add(&mut gain, -dot(before, derivatives), before));
        let of_shared = dot(derivatives, &along) + shared * own;
        let total = dot(derivatives, &gain) + shared * of_shared + variance;
        taken.extend(gain.iter().map(|gain| gain / total.sqrt()));
        add(&mut along, -of_shared / total, &gain);
        own -= of_shared * of_shared / total;
    }
    taken
}

fn dot(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(one, other)| one * other).sum()
}

fn add(to: &mut [f64], by: f64, what: &[f64]) {
    to.iter_mut().zip(what).for_each(|(to, what)| *to += by * what);
}

/// The covariance once the readings of one task are in.
pub(crate) fn after(covariance: &DMatrix<f64>, coming: &[Coming]) -> DMatrix<f64> {
    let count = covariance.nrows();
    let mut left = covariance.clone();
    for taken in narrowing(covariance, coming).chunks_exact(count) {
        let columns = left.as_mut_slice().chunks_exact_mut(count).zip(taken);
        columns.for_each(|(column, by)| add(column, -by, taken));
    }
    left
}

/// Standard deviation of a combination of the unknowns then.
pub(crate) fn spread_after(covariance: &DMatrix<f64>, coming: &[Coming], of: &[f64]) -> f64 {
    let taken = narrowing(covariance, coming);
    let variance = covariance_along(covariance, of, of);
    let taken = taken.chunks_exact(of.len()).map(|taken| dot(taken, of).powi(2)).sum::<f64>();
    (variance - taken).max(0.0).sqrt()
}

/// Standard deviation of a combination of the unknowns.
pub(crate) fn spread(covariance: &DMatrix<f64>, of: &[f64]) -> f64 {
    covariance_along(covariance, of, of).max(0.0).sqrt()
}
