//! What was found before, as the prior of readings that are too few for an answer of their own.
//!
//! A bike that was read in full, its collar turned since, and then its rider sag checked: that one reading says something, and
//! what was found before is not forgotten for it. The readings are first solved with priors of unit variance about what was
//! found, `x₁ = argmin |x − m|² + R(x)`, `C₁` its covariance, so that the wheel is followed near where it will be found; then
//! the priors are exchanged for what was found, `N(m, C₀)`, a linear step:
//!
//! `Λ = C₁⁻¹ + C₀⁻¹ − D`, `x̂ = x₁ + Λ⁻¹·(C₀⁻¹ − D)·(m − x₁)`
//!
//! with `D` the unit precisions. The zero of the tape is each set's own, and in none of this.
//!
//! Fails where the readings lie many standard deviations from what was found: `χ²` then says so, and widens.

use nalgebra::{DMatrix, DVector};

use crate::error::SetupError;
use crate::infer::posterior::{Evidence, Posterior, ZERO};

/// Mean and precision of what was found, in units of the priors.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Before {
    mean: DVector<f64>,
    /// `C₀⁻¹`, nothing of it for the zero of the tape.
    precision: DMatrix<f64>,
    /// Was the doubt of the label weighed in it already? Once is enough: weighed with every few readings anew, it would grow.
    pub(crate) label_weighed: bool,
}

impl Before {
    /// What was found of the same end, its loads in the same order.
    ///
    /// # Errors
    /// [`SetupError::Singular`] where what was found has no inverse.
    pub(crate) fn new(found: &Posterior, label_weighed: bool) -> Result<Self, SetupError> {
        let count = found.unknowns.len();
        let mut mean = DVector::from_column_slice(&found.unknowns);
        mean[ZERO] = 0.0;
        let others = found.covariance.clone().remove_row(ZERO).remove_column(ZERO);
        let inverse = others.cholesky().ok_or(SetupError::Singular)?.inverse();
        let precision = inverse.insert_row(ZERO, 0.0).insert_column(ZERO, 0.0);
        debug_assert_eq!(precision.nrows(), count);
        Ok(Self { mean, precision, label_weighed })
    }

    /// Where the priors are centred as the readings are solved.
    pub(crate) fn centres(&self) -> Vec<f64> {
        self.mean.as_slice().to_vec()
    }
}

impl Evidence {
    /// Puts what was found before in the place of the priors.
    pub(crate) fn with_before(&self, mut solved: Posterior) -> Result<Posterior, SetupError> {
        let Some(before) = &self.before else { return Ok(solved) };
        let count = solved.unknowns.len();
        let mut unit = DMatrix::identity(count, count);
        unit[(ZERO, ZERO)] = 0.0;
        let alone = solved.covariance.clone().cholesky().ok_or(SetupError::Singular)?.inverse();
        let exchanged = &before.precision - &unit;
        let root = (&alone + &exchanged).cholesky().ok_or(SetupError::Singular)?;
        let first = DVector::from_column_slice(&solved.unknowns);
        let change = root.solve(&(&exchanged * (&before.mean - &first)));
        let off = first + &change - &before.mean;
        solved.cost += change.dot(&(&alone * &change)) + off.dot(&(&exchanged * &off));
        solved.covariance = root.inverse();
        solved.move_by(&change);
        Ok(solved)
    }
}
