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

#[cfg(test)]
mod tests {
    use super::*;

    /// `w·(u, v, 1) = H·(x, y, 1)`: a picture taken from the side and from above, its pixels far from the middle.
    const PICTURE: [f64; 8] = [1.7, -0.3, 840.0, 0.2, 1.4, -310.0, 2.1e-4, -3.4e-4];

    #[test]
    fn what_a_picture_shows_is_found_where_it_is() {
        for place in [[0.0, 0.0], [400.0, -250.0], [-320.0, 610.0], [75.0, 80.0]] {
            let [x, y] = place;
            let h = PICTURE;
            let w = h[6] * x + h[7] * y + 1.0;
            let pixel = [(h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w];
            let found = back(&h, pixel).unwrap();
            // Pixels of a thousand, to some roundings.
            assert!((found[0] - x).abs() < 1e-9 && (found[1] - y).abs() < 1e-9, "{place:?}: {found:?}");
        }
        // A plane that is seen from its edge.
        assert_eq!(back(&[1.0, 2.0, 0.0, 1.0, 2.0, 0.0, 0.0, 0.0], [3.0, 4.0]), None);
    }

    #[test]
    fn middle_and_scale_are_mean_and_root_mean_square() {
        let (middle, scale) = spread(&[[1.0, 2.0], [4.0, 6.0], [7.0, 10.0]]);
        assert_eq!(middle, [4.0, 6.0]);
        assert!((scale - (2.0 * 25.0 / 3.0_f64).sqrt()).abs() < 1e-12);
        assert_eq!(spread(&[[3.0, 4.0]]), ([3.0, 4.0], 1.0), "one point has no scale");
    }

    #[test]
    fn a_step_is_that_of_least_squares_whatever_the_columns_measure() {
        // Three equations, two unknowns, one of them in millionths: the normal equations by hand.
        let jacobian = DMatrix::from_row_slice(3, 2, &[1.0, 0.0, 1.0, 1e-6, 1.0, 2e-6]);
        let step = stepped(jacobian, &DVector::from_vec(vec![1.0, 2.0, 4.0])).unwrap();
        // A line through (0, 1), (1, 2), (2, 4): slope 3/2, 5/6 at zero.
        assert!((step[0] - 5.0 / 6.0).abs() < 1e-9 && (step[1] - 1.5e6).abs() < 1e-3, "{step}");
        assert!(stepped(DMatrix::from_row_slice(2, 2, &[1.0, 1.0, 1.0, 1.0]), &DVector::zeros(2)).is_none());
    }
}
