//! Mobility, twice: by the count of Grübler–Kutzbach, which knows only bodies and pivots, and by the rank of the velocity
//! equations in the drawn position, which sees special dimensions too (three parallel bars move although the count says
//! they lock; links in line have one freedom more than the count). The two must agree on 1.

use nalgebra::DMatrix;

use super::Mechanism;
use crate::error::LinkageError;
use crate::error::nearest::quoted;

/// Singular values below this share of the largest are zero: rounding leaves 1e-15, a real mechanism a degree away from
/// a dead point 1e-3.
const RANK: f64 = 1e-9;
/// A body whose share in every free motion is below this stands still.
const STILL: f64 = 1e-7;

/// One body's side of a pivot: its first column (none for the frame), the lever of its rotation, and the sign.
type Side = (Option<usize>, [f64; 2], f64);

/// Free motions in the drawn position.
struct Freedom {
    /// How many.
    count: usize,
    /// Bodies that move in at least one of them.
    moving: Vec<usize>,
}

impl Mechanism {
    /// Pivots, one shared by m bodies counting m − 1.
    fn pivots(&self) -> usize {
        (0..self.point_count()).map(|point| self.carried_by(point).count().saturating_sub(1)).sum()
    }

    pub(super) fn count(&self) -> i64 {
        3 * (self.body_count() as i64 - 1) - 2 * self.pivots() as i64
    }

    pub(super) fn check_mobility(&self) -> Result<(), LinkageError> {
        let counted = self.count();
        // As many equations as the count says, none of them idle.
        if counted == 1 && self.is_surely_of_full_rank() {
            return Ok(());
        }
        let freedom = self.freedom(&[]);
        match (counted, freedom.count) {
            (1, 1) => Ok(()),
            (1, actual) => Err(LinkageError::Paradox { counted, actual, detail: self.explain_singular(&freedom) }),
            (_, 1) => Err(LinkageError::Paradox { counted, actual: 1, detail: self.explain_paradox() }),
            _ => Err(LinkageError::Mobility {
                found: counted,
                moving: self.body_count() - 1,
                pivots: self.pivots(),
                detail: self.explain_count(counted, &freedom),
            }),
        }
    }

    fn explain_singular(&self, freedom: &Freedom) -> String {
        format!(
            "either it is drawn in a dead point (bodies in line), so draw it a little off, or one part is held twice while \
             another floats; bodies that can move are {}",
            quoted(&self.names(&freedom.moving))
        )
    }

    fn explain_paradox(&self) -> String {
        let links = (0..self.body_count()).filter(|&body| body != self.frame() && self.on_body(body).len() == 2);
        let spare: Vec<usize> = links.filter(|&body| self.freedom(&[body]).count == 1).collect();
        if spare.is_empty() {
            "it moves only because of special dimensions, and would bind with any error in them".to_owned()
        } else {
            format!(
                "it moves only because of special dimensions (parallel bars), and would bind with any error in them; leave \
                 out one of {}",
                quoted(&self.names(&spare))
            )
        }
    }

    fn explain_count(&self, counted: i64, freedom: &Freedom) -> String {
        let mut parts = Vec::new();
        let loose = self.not_joined_to_frame();
        if !loose.is_empty() {
            parts.push(format!("no pivot leads from the frame to {}", quoted(&self.names(&loose))));
        }
        for [first, second] in self.coincident_names() {
            parts.push(format!(
                "points `{first}` and `{second}` lie in one place but are no pivot: a pivot is one point named by both bodies"
            ));
        }
        let moving: Vec<usize> = freedom.moving.iter().copied().filter(|body| !loose.contains(body)).collect();
        let locked: Vec<usize> =
            (0..self.body_count()).filter(|body| *body != self.frame() && !freedom.moving.contains(body)).collect();
        if counted > 1 && !moving.is_empty() {
            parts.push(format!("{} float", quoted(&self.names(&moving))));
            let hanging: Vec<usize> = moving.iter().copied().filter(|&body| self.pivots_of(body) == 1).collect();
            if !hanging.is_empty() {
                parts.push(format!("only one pivot holds {}", quoted(&self.names(&hanging))));
            }
        }
        if !locked.is_empty() {
            parts.push(format!("{} lock", quoted(&self.names(&locked))));
        }
        parts.join("; ")
    }

    fn names(&self, bodies: &[usize]) -> Vec<&str> {
        bodies.iter().map(|&body| self.body_name(body)).collect()
    }

    fn pivots_of(&self, body: usize) -> usize {
        self.on_body(body).iter().filter(|&&point| self.carriers(point).len() > 1).count()
    }

    fn not_joined_to_frame(&self) -> Vec<usize> {
        let mut joined = vec![self.frame()];
        let mut at = 0;
        while let Some(&body) = joined.get(at) {
            for &point in self.on_body(body) {
                for carrier in self.carriers(point) {
                    if !joined.contains(&carrier) {
                        joined.push(carrier);
                    }
                }
            }
            at += 1;
        }
        (0..self.body_count()).filter(|body| !joined.contains(body)).collect()
    }

    fn coincident_names(&self) -> Vec<[&str; 2]> {
        let mut found = Vec::new();
        for first in 0..self.point_count() {
            for second in (first + 1)..self.point_count() {
                if self.coincide(first, second) {
                    found.push([self.point_name(first), self.point_name(second)]);
                }
            }
        }
        found
    }

    /// Free motions with some bodies taken out: the null space of the velocity equations.
    fn freedom(&self, without: &[usize]) -> Freedom {
        let (bodies, equations) = self.equations(without);
        let columns = equations.ncols();
        if columns == 0 {
            return Freedom { count: 0, moving: Vec::new() };
        }
        // At least as many rows as columns, so that the decomposition spans the whole null space.
        let square = equations.nrows().max(columns);
        let decomposition = equations.resize_vertically(square, 0.0).svd(false, true);
        let largest = decomposition.singular_values.max();
        let free: Vec<usize> = (0..columns).filter(|&at| decomposition.singular_values[at] <= RANK * largest).collect();
        let moves = |at: usize| {
            decomposition
                .v_t
                .as_ref()
                .is_some_and(|v_t| free.iter().any(|&row| (0..3).any(|axis| v_t[(row, 3 * at + axis)].abs() > STILL)))
        };
        let moving = bodies.iter().enumerate().filter(|(at, _)| moves(*at)).map(|(_, &body)| body).collect();
        Freedom { count: free.len(), moving }
    }

    /// Is the rank of the velocity equations full beyond doubt? With pivoted columns, `QR` of `m` equations has
    /// `σ_m ≥ 3·|r_mm|/√(4^m + 6m − 1)` and `σ_1 ≤ √n·|r_11|` (Lawson & Hanson, *Solving Least Squares Problems*, (6.31),
    /// from memory): where that bound suffices, singular values need not be found.
    fn is_surely_of_full_rank(&self) -> bool {
        let (_, equations) = self.equations(&[]);
        let (rows, columns) = equations.shape();
        if rows == 0 || rows > columns {
            return false;
        }
        let triangle = equations.col_piv_qr().unpack_r();
        let (first, last) = (triangle[(0, 0)].abs(), triangle[(rows - 1, rows - 1)].abs());
        let m = rows as f64;
        let smallest = 3.0 * last / (4f64.powf(m) + 6.0 * m - 1.0).sqrt();
        smallest > RANK * (columns as f64).sqrt() * first
    }

    /// The velocity equations of all pivots, with some bodies taken out, and the bodies whose motion they are about: three
    /// columns each, the velocity of the drawing's centre and the speed of rotation times the drawing's size.
    fn equations(&self, without: &[usize]) -> (Vec<usize>, DMatrix<f64>) {
        let bodies: Vec<usize> =
            (0..self.body_count()).filter(|body| *body != self.frame() && !without.contains(body)).collect();
        let column = |body: usize| bodies.iter().position(|&b| b == body).map(|at| 3 * at);
        let (centre, size) = self.extent();
        let mut rows: Vec<[Side; 2]> = Vec::new();
        for point in 0..self.point_count() {
            let mut carriers = self.carried_by(point).filter(|body| !without.contains(body));
            let Some(first) = carriers.next() else { continue };
            let [x, z] = self.coordinates(point);
            let arm = [-(z - centre[1]) / size, (x - centre[0]) / size];
            rows.extend(carriers.map(|other| [(column(first), arm, 1.0), (column(other), arm, -1.0)]));
        }
        let mut equations = DMatrix::<f64>::zeros(2 * rows.len(), 3 * bodies.len());
        for (at, row) in rows.iter().enumerate() {
            for (body, arm, sign) in row {
                if let Some(body) = body {
                    for axis in 0..2 {
                        equations[(2 * at + axis, body + axis)] = *sign;
                        equations[(2 * at + axis, body + 2)] = sign * arm[axis];
                    }
                }
            }
        }
        (bodies, equations)
    }

    /// Centre and size of the drawing.
    fn extent(&self) -> ([f64; 2], f64) {
        let mut low = [f64::INFINITY; 2];
        let mut high = [f64::NEG_INFINITY; 2];
        for point in 0..self.point_count() {
            let at = self.coordinates(point);
            for axis in 0..2 {
                low[axis] = low[axis].min(at[axis]);
                high[axis] = high[axis].max(at[axis]);
            }
        }
        let centre = [0.5 * (low[0] + high[0]), 0.5 * (low[1] + high[1])];
        (centre, (high[0] - low[0]).max(high[1] - low[1]).max(f64::MIN_POSITIVE))
    }
}

#[cfg(test)]
mod tests {
    use super::super::super::tests::arrangements;
    use proptest::prelude::*;

    proptest! {
        /// The bound never says more than the singular values.
        #[test]
        fn what_is_surely_of_full_rank_has_one_freedom(
            which in 0..16_usize, by in prop::collection::vec((-1.0..1.0_f64, -1.0..1.0_f64), 10), size in -12.0..3.0_f64,
        ) {
            let all = arrangements::all();
            let (_, drawing) = &all[which % all.len()];
            let mut moved = drawing.clone();
            // From hairs to half a metre about the drawing; every other one squeezed flat, where bodies come to lie in line.
            let flat = if which % 2 == 0 { 10f64.powf(size) / 1e3 } else { 1.0 };
            for ((_, at), (x, z)) in moved.points.iter_mut().zip(by) {
                *at = [at[0] + 10f64.powf(size) * x, flat * (at[1] + 10f64.powf(size) * z)];
            }
            let Some(shape) = drawing.mechanism().ok() else { return Ok(()) };
            let at = moved.points.iter().map(|(_, at)| at.map(arrangements::mm)).collect();
            let mechanism = super::Mechanism { at, ..shape };
            prop_assert!(!mechanism.is_surely_of_full_rank() || mechanism.freedom(&[]).count == 1);
        }
    }

    #[test]
    fn usual_mechanisms_need_no_singular_values() {
        for (name, drawing) in arrangements::all() {
            assert!(drawing.mechanism().unwrap().is_surely_of_full_rank(), "{name}");
        }
    }
}
