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

    /// Is the rank of the velocity equations full beyond doubt? For any columns `S` as many as equations, and any `X` with
    /// `ρ = ‖I − A_S·X‖ < 1`: `σ_min(A) ≥ σ_min(A_S) ≥ (1 − ρ)/‖X‖`, and `σ_max ≤ ‖A‖` (norms of Frobenius, which are none
    /// smaller). Where that suffices, singular values need not be found. However `X` was found, `ρ` is what it is worth.
    fn is_surely_of_full_rank(&self) -> bool {
        let (_, equations) = self.equations(&[]);
        let (rows, columns) = equations.shape();
        if rows == 0 || rows > columns {
            return false;
        }
        let Some((chosen, inverse)) = right_inverse(&equations) else { return false };
        let norm = |numbers: &[f64]| numbers.iter().map(|number| number * number).sum::<f64>().sqrt();
        let mut off = 0.0;
        let mut sums = vec![0.0; rows];
        for at in 0..rows {
            sums.fill(0.0);
            sums[at] = 1.0;
            for (column, inverse) in chosen.iter().zip(inverse.chunks_exact(rows)) {
                subtract(&mut sums, equations[(at, *column)], inverse);
            }
            off += sums.iter().map(|sum| sum * sum).sum::<f64>();
        }
        (1.0 - off.sqrt()) / norm(&inverse) > RANK * norm(equations.as_slice())
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

/// Columns as many as there are rows, and the inverse of what stands in them, a row of it for each column: by the elimination of
/// Gauss and Jordan, the largest number of each row in turn. A pivot's equations know two bodies, so that most rows have nothing to
/// take off. `None` where a row has nothing left.
fn right_inverse(equations: &DMatrix<f64>) -> Option<(Vec<usize>, Vec<f64>)> {
    let (rows, columns) = equations.shape();
    let width = columns + rows;
    let mut table = vec![0.0; rows * width];
    for (at, row) in table.chunks_exact_mut(width).enumerate() {
        for column in 0..columns {
            row[column] = equations[(at, column)];
        }
        row[columns + at] = 1.0;
    }
    let mut chosen = Vec::with_capacity(rows);
    let mut pivot = vec![0.0; width];
    for at in 0..rows {
        let row = &mut table[at * width..(at + 1) * width];
        let column = (0..columns).max_by(|&a, &b| row[a].abs().total_cmp(&row[b].abs()))?;
        let largest = row[column];
        if largest == 0.0 || !largest.is_finite() {
            return None;
        }
        row.iter_mut().for_each(|number| *number /= largest);
        pivot.copy_from_slice(row);
        chosen.push(column);
        for (other, row) in table.chunks_exact_mut(width).enumerate() {
            if other != at {
                let factor = row[column];
                subtract(row, factor, &pivot);
            }
        }
    }
    let inverse = table.chunks_exact(width).flat_map(|row| row[columns..].iter().copied()).collect();
    Some((chosen, inverse))
}

/// A multiple of one row off another.
fn subtract(from: &mut [f64], factor: f64, row: &[f64]) {
    if factor != 0.0 {
        from.iter_mut().zip(row).for_each(|(from, number)| *from -= factor * number);
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

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]

        /// Nor of a chain, whose singular values get small as it gets long or is drawn near its dead points.
        #[test]
        fn what_is_surely_of_full_rank_in_a_chain_has_one_freedom(half in 2..14_usize, bend in -14.0..0.5_f64) {
            let Ok(shape) = arrangements::chain(2 * half, 1.0) else { return Ok(()) };
            let bent = 10f64.powf(bend);
            let at = shape.at.iter().map(|[x, z]| [*x, *z * bent]).collect();
            let mechanism = super::Mechanism { at, ..shape };
            prop_assert!(!mechanism.is_surely_of_full_rank() || mechanism.freedom(&[]).count == 1);
        }
    }

    #[test]
    fn chains_need_no_singular_values() {
        for bodies in (4..=40).step_by(2) {
            assert!(arrangements::chain(bodies, 1.0).unwrap().is_surely_of_full_rank(), "{bodies}");
        }
    }

    #[test]
    fn usual_mechanisms_need_no_singular_values() {
        for (name, drawing) in arrangements::all() {
            assert!(drawing.mechanism().unwrap().is_surely_of_full_rank(), "{name}");
        }
    }

    #[test]
    fn the_middle_and_the_larger_side_of_a_drawing() {
        let mechanism = arrangements::direct_shock().mechanism().unwrap();
        // Points from −575 to 0 forward, from −165 to 329 up.
        let ([x, z], size) = mechanism.extent();
        assert!((x + 0.2875).abs() < 1e-15 && (z - 0.082).abs() < 1e-15 && (size - 0.575).abs() < 1e-15);
        let upright = arrangements::direct_shock().mapped(|[x, z]| [z, x]).mechanism().unwrap().extent();
        assert_eq!(upright, ([z, x], size));
    }

    #[test]
    fn a_mechanism_may_be_drawn_about_the_origin() {
        for (name, drawing) in arrangements::all() {
            let side = |axis: usize, pick: fn(f64, f64) -> f64| {
                drawing.points.iter().map(|(_, at)| at[axis]).reduce(pick).unwrap()
            };
            let middle = [0, 1].map(|axis| 0.5 * (side(axis, f64::min) + side(axis, f64::max)));
            let mechanism = drawing.mapped(|[x, z]| [x - middle[0], z - middle[1]]).mechanism().unwrap();
            assert_eq!(mechanism.extent().0, [0.0; 2], "{name}");
            assert!(mechanism.is_surely_of_full_rank(), "{name}");
            let freedom = mechanism.freedom(&[]);
            assert_eq!((freedom.count, freedom.moving.len()), (1, mechanism.body_count() - 1), "{name}");
        }
    }

    /// Where the bound is not sure, the singular values are asked, and a mechanism with one freedom is taken all the same.
    #[test]
    fn what_is_not_surely_of_full_rank_may_still_have_one_freedom() {
        let mut taken = 0;
        for bend in (0..48).map(|at| 10f64.powf(-0.25 * f64::from(at))) {
            let shape = arrangements::chain(12, 1.0).unwrap();
            let at = shape.at.iter().map(|[x, z]| [*x, *z * bend]).collect();
            let mechanism = super::Mechanism { at, ..shape };
            if !mechanism.is_surely_of_full_rank() && mechanism.freedom(&[]).count == 1 {
                taken += 1;
                assert!(mechanism.check_mobility().is_ok(), "{bend}");
            }
        }
        assert!(taken > 0);
    }
}
