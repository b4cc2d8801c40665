//! `exp` and `Φ` by table, for searches that ask for thousands of probabilities and need five digits of each.
//!
//! Method: cubics over cells of a sixteenth that meet in value and slope (Hermite). `|error| ≤ h⁴·max|f⁗|/384`: 4e-8 for both.
//! Beyond the table both are what they are nearest to, 2e-9 off at most.

use std::sync::LazyLock;

use super::{normal_cdf, normal_density};

/// What probabilities of normal quantities are put together from.
pub(super) trait Arithmetic {
    /// `eˣ`.
    fn exp(x: f64) -> f64;
    /// `Φ(x)`.
    fn cdf(x: f64) -> f64;
    /// `φ₂` below the exponential of this is lost beside any probability.
    const NOTHING: f64;
    /// The same where the probability itself may be as small.
    const FAR: f64;
}

/// To the last digits.
pub(super) struct Exact;

impl Arithmetic for Exact {
    fn exp(x: f64) -> f64 {
        x.exp()
    }

    fn cdf(x: f64) -> f64 {
        normal_cdf(x)
    }

    /// 1e-26, which rounding leaves of no probability.
    const NOTHING: f64 = -60.0;
    /// Below the least positive number.
    const FAR: f64 = -745.2;
}

/// By table.
pub(super) struct Tabled;

/// Cells per unit.
const CELLS: f64 = 16.0;
/// Ends of the tables: `exp` from here to 0, `Φ` from minus to plus here.
const EXP_FROM: f64 = -20.0;
const CDF_TO: f64 = 6.0;

/// Coefficients of the cubic of every cell, from a start on.
struct Table {
    from: f64,
    cells: Vec<[f64; 4]>,
}

impl Table {
    fn new(from: f64, to: f64, at: impl Fn(f64) -> [f64; 2]) -> Self {
        let count = ((to - from) * CELLS).round() as usize;
        let cell = |k: usize| {
            let [start, end] = [k, k + 1].map(|k| at(from + k as f64 / CELLS));
            let (rise, slopes) = (end[0] - start[0], [start[1] / CELLS, end[1] / CELLS]);
            [start[0], slopes[0], 3.0 * rise - 2.0 * slopes[0] - slopes[1], slopes[0] + slopes[1] - 2.0 * rise]
        };
        Self { from, cells: (0..count).map(cell).collect() }
    }

    fn at(&self, x: f64) -> f64 {
        let place = (x - self.from) * CELLS;
        let cell = (place as usize).min(self.cells.len() - 1);
        let [a, b, c, d] = self.cells[cell];
        let t = place - cell as f64;
        a + t * (b + t * (c + t * d))
    }
}

static EXP: LazyLock<Table> = LazyLock::new(|| Table::new(EXP_FROM, 0.0, |x| [x.exp(), x.exp()]));
static CDF: LazyLock<Table> = LazyLock::new(|| Table::new(-CDF_TO, CDF_TO, |x| [normal_cdf(x), normal_density(x)]));

impl Arithmetic for Tabled {
    fn exp(x: f64) -> f64 {
        if x > 0.0 {
            x.exp()
        } else if x <= EXP_FROM {
            0.0
        } else {
            EXP.at(x)
        }
    }

    fn cdf(x: f64) -> f64 {
        if x <= -CDF_TO {
            0.0
        } else if x >= CDF_TO {
            1.0
        } else {
            CDF.at(x)
        }
    }

    /// 2e-8.
    const NOTHING: f64 = -18.0;
    const FAR: f64 = -18.0;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tables_give_seven_digits() {
        for k in -4000..=4000 {
            let x = f64::from(k) * 0.002_3;
            assert!((Tabled::cdf(x) - normal_cdf(x)).abs() < 6e-8, "{x}");
            if x <= 0.0 {
                let found = Tabled::exp(3.0 * x);
                assert!((found - (3.0 * x).exp()).abs() < 4e-8, "{x}: {found}");
            }
        }
        assert_eq!(Tabled::exp(1.5), 1.5f64.exp());
        assert_eq!([Tabled::cdf(f64::NEG_INFINITY), Tabled::cdf(f64::INFINITY)], [0.0, 1.0]);
    }
}
