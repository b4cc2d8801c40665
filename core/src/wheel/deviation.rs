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

    #[test]
    fn beyond_the_travel_a_deviation_is_a_parabola() {
        let full = 0.3;
        let deviation = Deviation::over(full, |z| [2e-3 + 0.1 * z - 0.4 * z * z, 0.1 - 0.8 * z, -0.8]);
        for z in [-0.02, 0.1, 0.3, 0.33] {
            let exact = [2e-3 + 0.1 * z - 0.4 * z * z, 0.1 - 0.8 * z, -0.8];
            for (found, exact) in deviation.at(z).into_iter().zip(exact) {
                assert!((found - exact).abs() < 1e-12, "{z}: {found} {exact}");
            }
        }
    }

    #[test]
    fn principal_components_hold_the_variance_of_all() {
        // Three independent deviations, two of them of one shape: 3² + 4² = 5².
        let (full, shapes) = (0.3, [(3.0, 1.0), (4.0, 1.0), (2.0, -1.0)]);
        let nodes = |(size, way): (f64, f64)| -> Vec<[f64; 3]> {
            let at = |node: usize| full * node as f64 / (NODES - 1) as f64;
            let bent = |z: f64| if way > 0.0 { [z, 1.0, 0.0] } else { [z * (z - full), 2.0 * z - full, 2.0] };
            (0..NODES).map(|node| bent(at(node)).map(|number| 1e-3 * size * number)).collect()
        };
        let found = Deviation::principal(shapes.into_iter().map(nodes).collect(), &[0.4; NODES], full);
        assert_eq!(found.len(), 2, "one for each shape");
        for z in [0.0, 0.07, 0.15, 0.3] {
            for number in 0..3 {
                let variance: f64 = found.iter().map(|one| one.at(z)[number].powi(2)).sum();
                let all: f64 = shapes
                    .into_iter()
                    .map(|shape| {
                        Deviation { step: full / (NODES - 1) as f64, nodes: nodes(shape) }.at(z)[number].powi(2)
                    })
                    .sum();
                assert!((variance - all).abs() < 1e-9 * (1e-6 + all), "{z}: {variance} and {all}");
            }
        }
    }

    /// What a wheel feels of a motion ratio, and of a slope over a quarter of the travel, relative to the ratio.
    #[test]
    fn what_nobody_could_see_is_left_out() {
        let full = 0.3;
        let kept = |slope: f64| {
            let all = [[0.0, 1.0, 0.0], [0.0, 0.0, slope]].map(|node| vec![node; NODES]).to_vec();
            Deviation::principal(all, &[0.4; NODES], full).len()
        };
        // 0.25·0.3 of it is 1 % more than the limit, and 1 % less.
        let limit = SEEN / (0.25 * full);
        assert_eq!([kept(1.01 * limit), kept(0.99 * limit)], [2, 1]);
        // A ratio counts by what it is a share of.
        let halved: Vec<f64> = (0..NODES).map(|node| if node < NODES / 2 { 0.4 } else { 0.8 }).collect();
        let of = |from: usize, to: usize| -> Vec<[f64; 3]> {
            (0..NODES).map(|node| [0.0, if (from..to).contains(&node) { 1.0 } else { 0.0 }, 0.0]).collect()
        };
        // As many nodes of twice the ratio are felt half as much: the first of both is the one of the smaller ratio.
        let found = Deviation::principal(vec![of(20, 40), of(0, 20)], &halved, full);
        assert_eq!(found.len(), 2);
        assert!(found[0].nodes[3][1].abs() > 0.99 && found[1].nodes[30][1].abs() > 0.99);
    }

    /// Lengths read off the drawing itself, but for an error that no pivot explains: up and down in turn.
    #[cfg(feature = "serde")]
    fn informed_by(off: f64) -> Result<RearEnd> {
        use crate::linkage::MeasuredParts;
        use crate::wheel::PivotUncertainty;
        let bike = crate::Bike::from_toml(crate::demo::PATROL).unwrap();
        let rear = bike.rear().unwrap().clone();
        let (length, stroke, full) =
            (rear.shock().length().unwrap(), rear.shock().full_stroke(), rear.full_travel().si());
        let readings: Vec<(Length, Length)> = (-1..=24)
            .map(|place| {
                let z = full * f64::from(place) / 23.0;
                let at = rear.motion(z.clamp(0.0, full));
                let stroke = at.stroke + at.ratio * (z - z.clamp(0.0, full));
                let error = if place % 2 == 0 { off } else { -off };
                (Length::from_si(0.05 + z), Length::from_si(length.si() - stroke + error))
            })
            .collect();
        let zero = Length::from_si(0.0);
        let parts = MeasuredParts {
            travel_uncertainty: zero,
            length_uncertainty: Length::from_si(0.5e-3),
            shock_length: length,
            stroke,
        };
        let known = PivotUncertainty { coordinate: Length::from_si(1e-3), shock_length: zero };
        rear.with_pivots_known_to(known).unwrap().with_table(MeasuredLinkage::new(&readings, parts).unwrap())
    }

    #[test]
    #[cfg(feature = "serde")]
    fn a_table_off_its_drawing_is_refused_from_twice_its_uncertainty_on() {
        // Errors in turn are nearly at right angles to whatever is smooth: what is left of them is all but the whole.
        assert!(informed_by(1.9 * 0.5e-3).is_ok());
        let refused = informed_by(2.1 * 0.5e-3).unwrap_err().to_string();
        assert!(refused.contains("2.1") || refused.contains("2.0"), "{refused}");
    }

    #[test]
    #[cfg(feature = "serde")]
    fn a_table_of_the_drawing_itself_moves_nothing_and_narrows() {
        let with = informed_by(0.0).unwrap();
        let mut alone = with.clone();
        alone.table = None;
        let (with, without) = (with.deviations().unwrap(), alone.deviations().unwrap());
        let mean = with.mean.clone().unwrap();
        let variance = |spread: &[(Origin, Deviation)], z: f64, number: usize| -> f64 {
            spread.iter().map(|(_, one)| one.at(z)[number].powi(2)).sum()
        };
        for z in [0.0, 0.05, 0.1, 0.2, 0.28] {
            // The smoothing spline puts the zero of the travels some hundredths of a millimetre off; that is nothing known.
            assert!(mean.at(z)[1].abs() < 1e-3, "{z}: {:?}", mean.at(z));
            let [left, all] = [&with, &without].map(|one| variance(&one.independent, z, 1));
            assert!(left < 0.5 * all, "{z}: {left} {all}");
        }
    }
}
