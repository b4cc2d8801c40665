//! Normal unknowns that are seen in turn, each over a stretch of steps: means and covariances at every step.
//!
//! `Λ = Σ_k E_kᵀ·H_k·E_k`, `x̂ = Λ⁻¹·Σ_k E_kᵀ·η_k`, where `E_k` picks the unknowns of a step. What no later step sees is eliminated
//! (Schur complement of its block), so that a front of few unknowns walks over the steps; on the way back the eliminated ones
//! follow from those that stayed, `C_er = −G·C_rr`, `C_ee = F_ee⁻¹ + G·C_rr·Gᵀ`, `G = F_ee⁻¹·F_er` (Duff & Reid, *ACM Trans. Math.
//! Softw.* 9 (1983) 302; Takahashi's equations). The cost is linear in the steps, and cubic in the unknowns of one front.
//!
//! Fails where the information leaves an unknown open.

use nalgebra::{DMatrix, DVector};

use crate::error::SetupError;

/// One step: its unknowns, and the information on them.
pub(super) struct Step {
    columns: Vec<usize>,
    information: DMatrix<f64>,
    weighted: DVector<f64>,
}

/// Mean and covariance of the unknowns of one step, those that only pass by included.
pub(super) struct Front {
    columns: Vec<usize>,
    mean: DVector<f64>,
    covariance: DMatrix<f64>,
}

impl Step {
    /// A step that sees these unknowns, nothing known of them.
    pub(super) fn new(mut columns: Vec<usize>) -> Self {
        columns.sort_unstable();
        columns.dedup();
        let count = columns.len();
        Self { columns, information: DMatrix::zeros(count, count), weighted: DVector::zeros(count) }
    }

    fn row(&self, terms: &[(usize, f64)]) -> DVector<f64> {
        row(&self.columns, terms)
    }

    /// Adds that a linear function of the unknowns is zero with this precision.
    pub(super) fn expect_zero(&mut self, terms: &[(usize, f64)], precision: f64) {
        let row = self.row(terms);
        self.information += &row * row.transpose() * precision;
    }

    /// Adds what is known of linear functions of the unknowns: `H` and `η` of them.
    pub(super) fn know(
        &mut self,
        functions: &[Vec<(usize, f64)>],
        information: &DMatrix<f64>,
        weighted: &DVector<f64>,
    ) {
        let rows: Vec<DVector<f64>> = functions.iter().map(|terms| self.row(terms)).collect();
        let seen = DMatrix::from_columns(&rows);
        self.information += &seen * information * seen.transpose();
        self.weighted += seen * weighted;
    }
}

fn row(columns: &[usize], terms: &[(usize, f64)]) -> DVector<f64> {
    let mut row = DVector::zeros(columns.len());
    for &(column, factor) in terms {
        if let Ok(place) = columns.binary_search(&column) {
            row[place] += factor;
        }
    }
    row
}

impl Front {
    /// Mean and variance of a linear function of unknowns that this step sees.
    pub(super) fn of(&self, terms: &[(usize, f64)]) -> (f64, f64) {
        let row = row(&self.columns, terms);
        (row.dot(&self.mean), row.dot(&(&self.covariance * &row)).max(0.0))
    }

    fn rows_of(&self, columns: &[usize]) -> Vec<usize> {
        columns.iter().filter_map(|column| self.columns.binary_search(column).ok()).collect()
    }
}

/// What is left of a step when its own unknowns are gone: enough to find them again on the way back.
struct Eliminated {
    columns: Vec<usize>,
    gone: Vec<usize>,
    kept: Vec<usize>,
    /// `F_ee⁻¹`, `F_ee⁻¹·F_er` and `F_ee⁻¹·b_e`.
    own: DMatrix<f64>,
    gain: DMatrix<f64>,
    mean: DVector<f64>,
}

/// Every step solved.
///
/// # Errors
/// [`SetupError::Singular`] where an unknown is left open.
pub(super) fn solve(steps: Vec<Step>) -> Result<Vec<Front>, SetupError> {
    let columns = steps.iter().flat_map(|step| &step.columns).max().map_or(0, |most| most + 1);
    let mut last = vec![0; columns];
    for (at, step) in steps.iter().enumerate() {
        step.columns.iter().for_each(|&column| last[column] = at);
    }
    let mut gone: Vec<Eliminated> = Vec::with_capacity(steps.len());
    let mut passing = Step::new(Vec::new());
    for (at, step) in steps.into_iter().enumerate() {
        let mut front = Step::new([&passing.columns[..], &step.columns].concat());
        for one in [&passing, &step] {
            let own: Vec<Vec<(usize, f64)>> = one.columns.iter().map(|&column| vec![(column, 1.0)]).collect();
            if !own.is_empty() {
                front.know(&own, &one.information, &one.weighted);
            }
        }
        let (leaving, staying): (Vec<usize>, Vec<usize>) =
            (0..front.columns.len()).partition(|&place| last[front.columns[place]] == at);
        let block = |rows: &[usize], across: &[usize]| front.information.select_rows(rows).select_columns(across);
        let factors = block(&leaving, &leaving).cholesky().ok_or(SetupError::Singular)?;
        let gain = factors.solve(&block(&leaving, &staying));
        let mean = factors.solve(&front.weighted.select_rows(&leaving));
        let across = block(&staying, &leaving);
        let kept: Vec<usize> = staying.iter().map(|&place| front.columns[place]).collect();
        passing = Step {
            information: block(&staying, &staying) - &across * &gain,
            weighted: front.weighted.select_rows(&staying) - &across * &mean,
            columns: kept,
        };
        gone.push(Eliminated {
            columns: front.columns,
            gone: leaving,
            kept: staying,
            own: factors.inverse(),
            gain,
            mean,
        });
    }
    let mut fronts: Vec<Front> = Vec::with_capacity(gone.len());
    for Eliminated { columns, gone, kept, own, gain, mean } in gone.into_iter().rev() {
        let names: Vec<usize> = kept.iter().map(|&place| columns[place]).collect();
        let (later_mean, later) = match fronts.last() {
            Some(later) => {
                let rows = later.rows_of(&names);
                (later.mean.select_rows(&rows), later.covariance.select_rows(&rows).select_columns(&rows))
            }
            None => (DVector::zeros(0), DMatrix::zeros(0, 0)),
        };
        let across = &gain * &later;
        let of_gone = own + &across * gain.transpose();
        let means = mean - &gain * &later_mean;
        let place = |found: &[usize], at: usize| found.iter().position(|&one| one == at);
        let count = columns.len();
        let mean = DVector::from_fn(count, |at, _| match place(&gone, at) {
            Some(own) => means[own],
            None => place(&kept, at).map_or(0.0, |own| later_mean[own]),
        });
        let covariance = DMatrix::from_fn(count, count, |row, column| {
            match (place(&gone, row), place(&kept, row), place(&gone, column), place(&kept, column)) {
                (Some(row), _, Some(column), _) => of_gone[(row, column)],
                (Some(row), _, _, Some(column)) | (_, Some(column), Some(row), _) => -across[(row, column)],
                (_, Some(row), _, Some(column)) => later[(row, column)],
                _ => 0.0,
            }
        });
        fronts.push(Front { columns, mean, covariance });
    }
    fronts.reverse();
    Ok(fronts)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Unknowns that live over stretches of steps, drawn once; the same put into one dense matrix.
    fn drawn(steps: usize) -> (Vec<Step>, DMatrix<f64>, DVector<f64>) {
        let mut state = 1_u64;
        let mut number = || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 33) as f64 / (1_u64 << 31) as f64 - 0.5
        };
        // One unknown throughout, one per step, and one that is seen by a step and the next.
        let columns = |at: usize| vec![0, 1 + 2 * at, 2 + 2 * at, 2 + 2 * at.saturating_sub(1)];
        let count = 1 + 2 * steps;
        let (mut dense, mut right) = (DMatrix::zeros(count, count), DVector::zeros(count));
        let mut all = Vec::new();
        for at in 0..steps {
            let mut step = Step::new(columns(at));
            for _ in 0..6 {
                let terms: Vec<(usize, f64)> = columns(at).into_iter().map(|column| (column, number())).collect();
                step.know(&[terms], &DMatrix::from_element(1, 1, 1.0), &DVector::from_element(1, number()));
            }
            for (row, &one) in step.columns.iter().enumerate() {
                right[one] += step.weighted[row];
                for (across, &other) in step.columns.iter().enumerate() {
                    dense[(one, other)] += step.information[(row, across)];
                }
            }
            all.push(step);
        }
        (all, dense, right)
    }

    #[test]
    fn it_is_the_dense_solution() {
        let (steps, dense, right) = drawn(9);
        let covariance = dense.try_inverse().unwrap();
        let mean = &covariance * right;
        for front in solve(steps).unwrap() {
            for (row, &one) in front.columns.iter().enumerate() {
                // Rounding of matrices of this size and condition.
                assert!((front.mean[row] - mean[one]).abs() < 1e-9 * mean.amax());
                for (across, &other) in front.columns.iter().enumerate() {
                    let off = front.covariance[(row, across)] - covariance[(one, other)];
                    assert!(off.abs() < 1e-9 * covariance.amax(), "{one}, {other}: {off}");
                }
            }
        }
    }

    #[test]
    fn a_front_stays_as_wide_however_many_steps() {
        let widest = |steps: usize| {
            let (all, ..) = drawn(steps);
            solve(all).unwrap().iter().map(|front| front.columns.len()).max()
        };
        assert_eq!(widest(10), widest(300));
    }

    #[test]
    fn what_nothing_is_known_of_is_singular() {
        let mut step = Step::new(vec![0, 1]);
        step.expect_zero(&[(0, 1.0)], 1.0);
        assert!(matches!(solve(vec![step]), Err(SetupError::Singular)));
    }
}
