//! What is read of pixels and tape against what follows from the unknowns.

use nalgebra::{DMatrix, DVector};

use super::{EXACT, H, Task, USUAL_DISTORTION};
use crate::units::Quantity;

impl Task<'_> {
    /// Observations less what is predicted, each over its uncertainty, with the derivatives by the unknowns; the sign is that of
    /// predicted less observed.
    pub(super) fn observed(&self, at: &DVector<f64>) -> (DMatrix<f64>, DVector<f64>) {
        let (points, known) = (2 * self.names.len(), self.known());
        let pixels: usize = self.views.iter().map(|view| view.readings.len()).sum();
        let rows = 2 * known + 2 * pixels + self.views.len();
        let (mut jacobian, mut off) = (DMatrix::zeros(rows, at.len()), DVector::zeros(rows));
        let tape = self.parts.known_uncertainty.si().max(EXACT) / self.frame.1;
        let mut row = 0;
        for (place, (_, position)) in self.parts.known.iter().enumerate() {
            for (axis, read) in self.scaled(*position).into_iter().enumerate() {
                jacobian[(row, 2 * place + axis)] = 1.0 / tape;
                off[row] = (at[2 * place + axis] - read) / tape;
                row += 1;
            }
        }
        for (number, view) in self.views.iter().enumerate() {
            let from = points + (H + 1) * number;
            let pixel = self.parts.pixel_uncertainty / view.scale;
            let (h, bend) = (at.rows(from, H).clone_owned(), at[from + H]);
            for (point, read) in &view.readings {
                let (x, z) = (at[2 * point], at[2 * point + 1]);
                let below = h[6] * x + h[7] * z + 1.0;
                let [u, v] = [0, 3].map(|first| (h[first] * x + h[first + 1] * z + h[first + 2]) / below);
                let square = u * u + v * v;
                let stretch = 1.0 + bend * square;
                for (axis, read) in view.scaled(*read).into_iter().enumerate() {
                    let straight = [u, v][axis];
                    off[row] = (straight * stretch - read) / pixel;
                    // By the straight pixel, then by what it follows from.
                    let by = [0, 1].map(|other| {
                        let own = if other == axis { stretch } else { 0.0 };
                        (own + 2.0 * bend * straight * [u, v][other]) / pixel
                    });
                    for (other, by) in by.into_iter().enumerate() {
                        let pixel = [u, v][other];
                        let first = from + 3 * other;
                        for (column, value) in [x, z, 1.0].into_iter().enumerate() {
                            jacobian[(row, first + column)] += by * value / below;
                        }
                        jacobian[(row, from + 6)] -= by * pixel * x / below;
                        jacobian[(row, from + 7)] -= by * pixel * z / below;
                        for side in 0..2 {
                            let slope = (h[3 * other + side] - pixel * h[6 + side]) / below;
                            jacobian[(row, 2 * point + side)] += by * slope;
                        }
                    }
                    jacobian[(row, from + H)] = straight * square / pixel;
                    row += 1;
                }
            }
            // The lens, as usual lenses are, or exactly straight.
            let usual = if view.bends { USUAL_DISTORTION } else { EXACT };
            if !view.bends {
                for above in 0..row {
                    jacobian[(above, from + H)] = 0.0;
                }
            }
            jacobian[(row, from + H)] = 1.0 / usual;
            off[row] = bend / usual;
            row += 1;
        }
        (jacobian, off)
    }
}
