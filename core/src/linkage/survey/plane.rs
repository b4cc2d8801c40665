//! A plane and its picture: middle and scale, the way back through a homography, one step of least squares.

use nalgebra::{DMatrix, DVector};

/// The step of least squares, by the normal equations with all columns of one length; `None` where they do not hold it.
pub(super) fn stepped(mut jacobian: DMatrix<f64>, off: &DVector<f64>) -> Option<DVector<f64>> {
    let lengths: Vec<f64> = jacobian.column_iter().map(|column| column.norm()).collect();
    for (mut column, length) in jacobian.column_iter_mut().zip(&lengths) {
        column /= *length;
    }
    let step = (jacobian.tr_mul(&jacobian)).cholesky()?.solve(&jacobian.tr_mul(off));
    let step = DVector::from_iterator(step.len(), step.iter().zip(&lengths).map(|(part, length)| part / length));
    step.iter().all(|part| part.is_finite()).then_some(step)
}

/// Middle of points, and root mean square distance from it, one where that is nothing.
pub(super) fn spread(points: &[[f64; 2]]) -> ([f64; 2], f64) {
    let count = points.len().max(1) as f64;
    let middle = [0, 1].map(|axis| points.iter().map(|point| point[axis]).sum::<f64>() / count);
    let squares: f64 = points.iter().map(|point| (point[0] - middle[0]).powi(2) + (point[1] - middle[1]).powi(2)).sum();
    let scale = (squares / count).sqrt();
    (middle, if scale > 0.0 { scale } else { 1.0 })
}

/// Where a straight pixel lies in the plane.
pub(super) fn back(h: &[f64], [u, v]: [f64; 2]) -> Option<[f64; 2]> {
    let (a, b) = (h[0] - u * h[6], h[1] - u * h[7]);
    let (c, d) = (h[3] - v * h[6], h[4] - v * h[7]);
    let determinant = a * d - b * c;
    let (e, f) = (u - h[2], v - h[5]);
    let at = [(e * d - b * f) / determinant, (a * f - e * c) / determinant];
    at.iter().all(|part| part.is_finite()).then_some(at)
}
