//! Small motion of masses on springs: `K·x = ω²·M·x`.
//!
//! Both matrices are symmetric and the mass matrix is positive definite, so with its Cholesky factor `M = L·Lᵀ` the
//! problem is an ordinary symmetric one, `L⁻¹·K·L⁻ᵀ·y = ω²·y`, `x = L⁻ᵀ·y` (Golub & Van Loan, *Matrix Computations*, 8.7).

use nalgebra::{DMatrix, DVector};

/// Squared circular frequencies in rising order, each with its shape, normalised to unit modal mass. `None` when the mass
/// matrix is not positive definite.
pub(crate) fn modes(mass: DMatrix<f64>, stiffness: &DMatrix<f64>) -> Option<Vec<(f64, DVector<f64>)>> {
    let lower = mass.cholesky()?.unpack();
    let half = lower.solve_lower_triangular(stiffness)?;
    let reduced = lower.solve_lower_triangular(&half.transpose())?;
    let eigen = ((&reduced + reduced.transpose()) * 0.5).symmetric_eigen();
    let shapes = lower.transpose().solve_upper_triangular(&eigen.eigenvectors)?;
    let shapes = shapes.column_iter().map(|shape| shape.into_owned());
    let mut modes: Vec<(f64, DVector<f64>)> = eigen.eigenvalues.iter().copied().zip(shapes).collect();
    modes.sort_by(|a, b| a.0.total_cmp(&b.0));
    Some(modes)
}
