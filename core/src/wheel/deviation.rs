//! How far the way from wheel to shock may be off what was stated: independent deviations of the stroke over the travel.
//!
//! `s(z; q) = s(z) + Σ q_k·δs_k(z)`, `δMR_k = δs_k′`, `δ(dMR/dz)_k = δs_k″`, each `q_k` of mean 0 and variance 1
//!
//! Sources, to first order (JCGM 100:2008, 5.1.2): every coordinate of a drawn linkage and the shock's length, with exact
//! derivatives at a travel from the changed full extension; the coefficients of a measured table; the rake of a fork,
//! `δs = z·sin ε/cos² ε·u(ε)`. They are many and look much alike at the wheel, so they are turned into the principal
//! components of the motion ratio and its slope over the travel, and those that nobody could see are left out. Each is kept
//! at nodes with both its derivatives, and is a quintic between them.
//!
//! A table taken beside a drawing says something of the same `q`: with travels counted from anywhere,
//! `L₀ − length = s(z) + Σ q_k·δs_k(z) − MR·t − δL + e`, the zero `t` of the travels and the shock's own length among the
//! unknowns. What is left of the deviations has the mean and covariance of that (normal equations; JCGM 100:2008, H.3).

use nalgebra::{Cholesky, DMatrix, DVector, SymmetricEigen};

use super::{EndKernel, FrontEnd, RearEnd, Wheel};
use crate::error::{LinkageError, Result, WheelError};
use crate::linkage::MeasuredLinkage;
use crate::units::{Length, Quantity};

/// Places along the travel: 7 mm apart on 300 mm, over which any linkage's stroke is a quintic far below a micrometre.
pub(super) const NODES: usize = 41;
/// Components whose standard deviation is under this share of the greatest are left out: together under 1 % of it.
const SEEN: f64 = 3e-3;

/// Nothing is known of the zero of a table's travels (m).
const ANY_ZERO: f64 = 1.0;
/// A shock length that is taken as exact (m).
const EXACT: f64 = 1e-7;
/// A table that lies this far off, as root mean square in standard deviations, is not of this drawing: once in a million by
/// chance over a dozen readings.
const NOT_OF_IT: f64 = 2.0;

/// How the stroke may be off: a mean, and independent deviations of unit variance about it.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Spread {
    pub(crate) mean: Option<Deviation>,
    pub(crate) independent: Vec<(Origin, Deviation)>,
}

/// What an unknown between wheel and springs is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum Origin {
    /// Pivots, or a table: of all of them together.
    Measured,
    /// The rake.
    Rake,
    /// The mean motion ratio of a linkage known by its ends.
    Ratio,
    /// Its progression.
    Progression,
    /// Its bends.
    Bend,
    /// Along what the tape ran.
    Direction,
    /// Gas that nobody stated.
    Gas,
    /// What the readings of a measured main spring leave open.
    Spring,
    /// The same of a bump stop or top-out spring.
    Stop,
}

impl Spread {
    fn of(mean: Option<Deviation>, measured: Vec<Deviation>) -> Self {
        let independent = measured.into_iter().map(|one| (Origin::Measured, one)).collect();
        Self { mean, independent }
    }
}

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

    /// From its values with their first and second derivatives at evenly spaced places from zero to `full`.
    pub(crate) fn over(full: f64, at: impl Fn(f64) -> [f64; 3]) -> Self {
        let step = full / (NODES - 1) as f64;
        Self { step, nodes: (0..NODES).map(|node| at(full * (node as f64 / (NODES - 1) as f64))).collect() }
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
    pub(super) fn principal(of: Vec<Vec<[f64; 3]>>, ratios: &[f64], full: f64) -> Vec<Self> {
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
    pub(crate) fn deviations(&self) -> Result<Spread> {
        let travels = nodes(self);
        if let Some(way) = self.assumed() {
            let of = [Origin::Ratio, Origin::Progression, Origin::Bend, Origin::Bend];
            let step = self.full_travel().si() / (NODES - 1) as f64;
            let deviations = way.deviations(&travels).into_iter().map(|nodes| Deviation { step, nodes });
            return Ok(Spread { mean: None, independent: of.into_iter().zip(deviations).collect() });
        }
        let (of, ratios): (_, Vec<f64>) = match (self.measured(), self.linkage(), self.pivot_uncertainty()) {
            (Some(table), ..) => {
                let ratios = travels.iter().map(|travel| table.kernel(travel.si())[1]);
                (table.deviations(&travels), ratios.collect())
            }
            (None, Ok(linkage), Some(known)) => {
                let ratios = travels.iter().map(|travel| linkage.kernel(travel.si()).motion_ratio);
                (linkage.deviations(&travels, known.coordinate, known.shock_length)?, ratios.collect())
            }
            _ => return Ok(Spread::default()),
        };
        let independent = Deviation::principal(of, &ratios, self.full_travel().si());
        match self.table() {
            Some(table) => self.informed(&independent, table),
            None => Ok(Spread::of(None, independent)),
        }
    }

    /// The deviations with what a table beside the drawing says of them.
    fn informed(&self, prior: &[Deviation], table: &MeasuredLinkage) -> Result<Spread> {
        let (zero, length, count) = (prior.len(), prior.len() + 1, prior.len() + 2);
        let mut information = DMatrix::<f64>::identity(count, count);
        let shock = self.pivot_uncertainty().map_or(0.0, |known| known.shock_length.si()).max(EXACT);
        (information[(zero, zero)], information[(length, length)]) = (ANY_ZERO.powi(-2), shock.powi(-2));
        let (mut pull, mut squares) = (DVector::<f64>::zeros(count), 0.0);
        let [u_travel, u_length] = table.uncertainties().map(Quantity::si);
        let (start, full) = (table.full_extension().value.si(), self.full_travel().si());
        for (travel, read) in table.readings() {
            let z = travel.si() - start;
            let at = self.motion(z.clamp(0.0, full));
            let expected = at.stroke + at.ratio * (z - z.clamp(0.0, full));
            let deviation = u_length.hypot(at.ratio * u_travel);
            let mut row = DVector::from_element(count, -1.0);
            row[zero] = -at.ratio;
            prior.iter().enumerate().for_each(|(k, one)| row[k] = one.at(z)[0]);
            let off = (table.shock_length().si() - read.si() - expected) / deviation;
            row /= deviation;
            information += &row * row.transpose();
            pull += &row * off;
            squares += off * off;
        }
        let factors = Cholesky::new(information).ok_or(LinkageError::TableShort {
            end: "compressed",
            wanted: table.shock_length(),
            nearest: table.shock_length(),
        })?;
        let mean = factors.solve(&pull);
        let readings = table.readings().len();
        let off = ((squares - mean.dot(&pull)).max(0.0) / readings as f64).sqrt();
        if off > NOT_OF_IT {
            return Err(WheelError::TableDisagrees { off: format!("{off:.1}"), readings }.into());
        }
        let left = factors.inverse().view((0, 0), (zero, zero)).clone_owned();
        let eigen = SymmetricEigen::new(left);
        let columns = eigen.eigenvectors.column_iter().zip(eigen.eigenvalues.iter());
        let independent = columns.map(|(vector, variance)| {
            let weights: Vec<f64> = vector.iter().map(|part| part * variance.max(0.0).sqrt()).collect();
            Deviation::sum(prior, &weights)
        });
        let independent = independent.collect();
        let weights: Vec<f64> = mean.iter().copied().take(zero).collect();
        Ok(Spread::of(Some(Deviation::sum(prior, &weights)), independent))
    }
}

impl FrontEnd {
    /// The deviation that the rake makes; none where it is taken as exact.
    pub(crate) fn deviations(&self) -> Result<Spread> {
        let Ok(fork) = self.fork() else { return self.sprung().map_or(Ok(Spread::default()), RearEnd::deviations) };
        let Some(uncertainty) = fork.rake_uncertainty() else { return Ok(Spread::default()) };
        let (sin, cos) = fork.rake().si().sin_cos();
        let per_travel = sin / (cos * cos) * uncertainty.si();
        let at = |travel: Length| [per_travel * travel.si(), per_travel, 0.0];
        let travels = nodes(self);
        let step = self.full_travel().si() / (NODES - 1) as f64;
        let one = Deviation { step, nodes: travels.into_iter().map(at).collect() };
        Ok(Spread { mean: None, independent: vec![(Origin::Rake, one)] })
    }

    /// One standard deviation of the push of air that is assumed, over the stroke: energy, force and rate; `None` where none is.
    pub(crate) fn assumed_push(&self) -> Option<Deviation> {
        let Ok(fork) = self.fork() else { return self.sprung()?.assumed_push() };
        let share = fork.legs().iter().find_map(|leg| leg.assumed_air())?.si();
        Some(Deviation::over(fork.full_stroke().si(), |stroke| {
            let gas = fork.gas_part(stroke);
            [gas.energy, gas.force, gas.rate].map(|part| share * part)
        }))
    }
}

impl RearEnd {
    /// One standard deviation of the push of gas that is assumed, over the stroke: energy, force and rate; `None` where none is.
    pub(crate) fn assumed_push(&self) -> Option<Deviation> {
        let shock = self.shock();
        let share = shock.parts().assumed_gas()?.si();
        Some(Deviation::over(shock.full_stroke().si(), |stroke| {
            let gas = shock.gas_part(stroke);
            [gas.energy, gas.force, gas.rate].map(|part| share * part)
        }))
    }
}

#[cfg(test)]
mod tests;
