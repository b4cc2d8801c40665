//! How far the way from wheel to shock may be off what was stated: independent deviations of the stroke over the travel.
//!
//! `s(z; q) = s(z) + Σ q_k·δs_k(z)`, `δMR_k = δs_k′`, `δ(dMR/dz)_k = δs_k″`, each `q_k` of mean 0 and variance 1
//!
//! Sources, to first order (JCGM 100:2008, 5.1.2): every coordinate of a drawn linkage and the shock's length, with exact
//! derivatives at a travel from the changed full extension; the coefficients of a measured table; the rake of a fork,
//! `δs = z·sin ε/cos² ε·u(ε)`. They are many and look much alike at the wheel, so they are turned into the principal
//! components of the motion ratio and its slope over the travel, and those that nobody could see are left out. Each is kept
//! at nodes with both its derivatives, and is a quintic between them.

use nalgebra::{DMatrix, SymmetricEigen};

use super::{FrontEnd, RearEnd, Wheel};
use crate::error::Result;
use crate::units::{Length, Quantity};

/// Places along the travel: 7 mm apart on 300 mm, over which any linkage's stroke is a quintic far below a micrometre.
const NODES: usize = 41;
/// Components whose standard deviation is under this share of the greatest are left out: together under 1 % of it.
const SEEN: f64 = 3e-3;

/// A deviation of the stroke over the travel.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Deviation {
    step: f64,
    /// Stroke, motion ratio and its slope at evenly spaced travels.
    nodes: Vec<[f64; 3]>,
}

impl Deviation {
    /// Stroke, motion ratio and slope at a travel; from the ends of the travel on, as a parabola.
    pub(crate) fn at(&self, travel: f64) -> [f64; 3] {
        let last = self.nodes.len().saturating_sub(2);
        let cell = ((travel / self.step).max(0.0) as usize).min(last);
        let (Some(&from), Some(&to)) = (self.nodes.get(cell), self.nodes.get(cell + 1)) else { return [0.0; 3] };
        let end = self.step * (last + 1) as f64;
        if travel < 0.0 || travel > end {
            let ([stroke, ratio, slope], beyond) = if travel < 0.0 { (from, travel) } else { (to, travel - end) };
            return [stroke + beyond * (ratio + 0.5 * slope * beyond), ratio + slope * beyond, slope];
        }
        let h = self.step;
        let t = travel / h - cell as f64;
        let [c0, c1, c2] = [from[0], h * from[1], 0.5 * h * h * from[2]];
        let rest = [to[0] - c0 - c1 - c2, h * to[1] - c1 - 2.0 * c2, h * h * to[2] - 2.0 * c2];
        let c3 = 10.0 * rest[0] - 4.0 * rest[1] + 0.5 * rest[2];
        let c4 = -15.0 * rest[0] + 7.0 * rest[1] - rest[2];
        let c5 = 6.0 * rest[0] - 3.0 * rest[1] + 0.5 * rest[2];
        [
            c0 + t * (c1 + t * (c2 + t * (c3 + t * (c4 + t * c5)))),
            (c1 + t * (2.0 * c2 + t * (3.0 * c3 + t * (4.0 * c4 + t * 5.0 * c5)))) / h,
            (2.0 * c2 + t * (6.0 * c3 + t * (12.0 * c4 + t * 20.0 * c5))) / (h * h),
        ]
    }

    /// `Σ q_k·δs_k`.
    pub(crate) fn sum(of: &[Self], by: &[f64]) -> Self {
        let step = of.first().map_or(1.0, |one| one.step);
        let mut nodes = vec![[0.0; 3]; NODES];
        for (one, by) in of.iter().zip(by) {
            for (to, from) in nodes.iter_mut().zip(&one.nodes) {
                to.iter_mut().zip(from).for_each(|(to, from)| *to += by * from);
            }
        }
        Self { step, nodes }
    }

    /// Principal components of many deviations that are independent and of unit variance.
    fn principal(of: Vec<Vec<[f64; 3]>>, ratios: &[f64], full: f64) -> Vec<Self> {
        let step = full / (NODES - 1) as f64;
        let all: Vec<Self> = of.into_iter().map(|nodes| Self { step, nodes }).collect();
        // What a wheel feels: the ratio relative to itself, and how much that changes over a quarter of the travel.
        let felt = |one: &Self| -> Vec<f64> {
            let nodes = one.nodes.iter().zip(ratios);
            nodes.flat_map(|([_, ratio, slope], whole)| [ratio / whole, 0.25 * full * slope / whole]).collect()
        };
        let columns: Vec<Vec<f64>> = all.iter().map(felt).collect();
        let alike = DMatrix::from_fn(all.len(), all.len(), |i, j| {
            columns[i].iter().zip(&columns[j]).map(|(a, b)| a * b).sum::<f64>()
        });
        let eigen = SymmetricEigen::new(alike);
        let most = eigen.eigenvalues.iter().copied().fold(0.0, f64::max);
        let mut kept: Vec<(f64, usize)> = eigen.eigenvalues.iter().copied().zip(0..).collect();
        kept.retain(|(variance, _)| *variance > SEEN * SEEN * most);
        kept.sort_by(|(one, _), (other, _)| other.total_cmp(one));
        let component = |(_, at): (f64, usize)| {
            let weights: Vec<f64> = eigen.eigenvectors.column(at).iter().copied().collect();
            Self::sum(&all, &weights)
        };
        kept.into_iter().map(component).collect()
    }
}

/// Evenly spaced travels, both ends included.
fn nodes(end: &impl Wheel) -> Vec<Length> {
    end.travels(NODES)
}

impl RearEnd {
    /// Independent deviations of the stroke; none where the linkage is taken as exact.
    pub(crate) fn deviations(&self) -> Result<Vec<Deviation>> {
        let travels = nodes(self);
        let (of, ratios): (_, Vec<f64>) = match (self.measured(), self.linkage(), self.pivot_uncertainty()) {
            (Some(table), ..) => {
                let ratios = travels.iter().map(|travel| table.kernel(travel.si())[1]);
                (table.deviations(&travels), ratios.collect())
            }
            (None, Ok(linkage), Some(known)) => {
                let ratios = travels.iter().map(|travel| linkage.kernel(travel.si()).motion_ratio);
                (linkage.deviations(&travels, known.coordinate, known.shock_length)?, ratios.collect())
            }
            _ => return Ok(Vec::new()),
        };
        Ok(Deviation::principal(of, &ratios, self.full_travel().si()))
    }
}

impl FrontEnd {
    /// The deviation that the rake makes; none where it is taken as exact.
    pub(crate) fn deviations(&self) -> Vec<Deviation> {
        let Some(uncertainty) = self.fork().rake_uncertainty() else { return Vec::new() };
        let (sin, cos) = self.fork().rake().si().sin_cos();
        let per_travel = sin / (cos * cos) * uncertainty.si();
        let at = |travel: Length| [per_travel * travel.si(), per_travel, 0.0];
        let travels = nodes(self);
        let step = self.full_travel().si() / (NODES - 1) as f64;
        vec![Deviation { step, nodes: travels.into_iter().map(at).collect() }]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn between_nodes_a_deviation_is_a_quintic() {
        let whole = |z: f64| {
            let value = 1.0 + z - 2.0 * z.powi(2) + 0.5 * z.powi(3) + z.powi(4) - 3.0 * z.powi(5);
            let first = 1.0 - 4.0 * z + 1.5 * z.powi(2) + 4.0 * z.powi(3) - 15.0 * z.powi(4);
            [value, first, -4.0 + 3.0 * z + 12.0 * z.powi(2) - 60.0 * z.powi(3)]
        };
        let step = 0.3 / (NODES - 1) as f64;
        let deviation = Deviation { step, nodes: (0..NODES).map(|node| whole(step * node as f64)).collect() };
        for z in [0.0, 0.0031, 0.1, 0.2999, 0.3] {
            // Rounding of the second differences over a step of 7.5 mm: 1e-16/h².
            for (found, exact) in deviation.at(z).into_iter().zip(whole(z)) {
                assert!((found - exact).abs() < 1e-10, "{z}: {found} {exact}");
            }
        }
    }
}
