//! What further readings would do to the verdict, before they are taken (preposterior analysis; Raiffa & Schlaifer,
//! *Applied Statistical Decision Theory*, 1961, ch. 5).
//!
//! In the linear-normal model readings that narrow the covariance from `C` to `C\'` move the estimates by a normal amount
//! of covariance `C − C\'`: that much is known now. For each such move every spring has another probability of landing, and
//! the best of them is bought. Over many moves: how often the spring bought lands, and how often the verdict is clear. Of the
//! spring that is best now the average is known without drawing, its probability now; only what choosing anew adds is drawn.
//!
//! Fails with the normal posterior (see [`crate::infer::posterior`]), and leaves the misreadings out that a fit would find.

use nalgebra::{DMatrix, DVector};
use rand_distr::{Distribution, StandardNormal};
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;

use crate::Result;
use crate::decide::choice::Moved;
use crate::decide::predict::{Predicted, Setting};
use crate::decide::verdict::is_clear;
use crate::decide::{advice::Adviser, next_reading::Deciding};
use crate::infer::fit::Solved;
use crate::infer::posterior::Posterior;
use crate::record::Range;
use crate::spring::Adjuster;
use crate::units::{Quantity, Share};

/// Moves drawn: a probability to two or three in a hundred, what choosing anew adds far better.
const DRAWS: usize = 400;
/// The same draws every time.
const SEED: u64 = 1;
/// Free sags at which the probability of landing is worked out, and how far they reach in standard deviations of the move;
/// in between, straight lines.
const NODES: usize = 13;
const REACH: f64 = 4.0;
/// Below this standard deviation (m) nothing moves.
const STILL: f64 = 1e-9;

/// How often the spring that the advice is on lands, and how likely the verdict is clear.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Foresight {
    /// Probability that the best spring, with the preload set for the rider sag, lands both sags.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub lands: Share,
    /// Probability that the verdict is clear: on a spring that is more likely to land than not, and today\'s spring not left in
    /// question.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub clear: Share,
}

/// One spring as further readings may see it.
struct Seen {
    is_fitted: bool,
    free_sag: Predicted,
    /// Probability of landing over the move of the free sag, evenly from minus to plus `reach`.
    lands: Vec<f64>,
    reach: f64,
}

impl Seen {
    fn probability(&self, moved: f64) -> f64 {
        let last = (NODES - 1) as f64;
        let place = if self.reach > 0.0 { ((moved / self.reach + 1.0) * 0.5 * last).clamp(0.0, last) } else { 0.0 };
        let (below, above) = (self.lands[place.floor() as usize], self.lands[place.ceil() as usize]);
        below + (above - below) * place.fract()
    }
}

impl Adviser {
    /// The numbers that decide.
    pub(crate) fn deciding_now(&self) -> Result<Deciding> {
        let free_range = self.free_range()?;
        let (bike, rider) = (self.place(&self.bike().free_load())?, self.place(self.bike().rider_load())?);
        let wish = self.wish(bike, rider)?;
        let fitted = self.weigh(&wish, self.fitted_label(), true, free_range.as_ref())?;
        Ok(self.deciding(&wish, free_range.as_ref(), fitted.probability.si()))
    }

    /// The verdict once readings have narrowed the covariance of the fit to this.
    pub(crate) fn foresee(&self, narrowed: &DMatrix<f64>) -> Result<Foresight> {
        let (seen, now) = self.look(narrowed)?;
        Ok(drawn(&seen, now, &(&self.solved().posterior.covariance - narrowed)))
    }

    /// Every spring once the covariance is this, and which is best now with its probability.
    fn look(&self, narrowed: &DMatrix<f64>) -> Result<(Vec<Seen>, (usize, f64))> {
        let free_range = self.free_range()?;
        let (bike, rider) = (self.place(&self.bike().free_load())?, self.place(self.bike().rider_load())?);
        let wish = self.wish(bike, rider)?;
        let later = Solved {
            posterior: Posterior { covariance: narrowed.clone(), ..self.solved().posterior.clone() },
            ..self.solved().clone()
        };
        let later = Adviser { study: self.study.with_solved(later), ..self.clone() };
        let gained = &self.solved().posterior.covariance - narrowed;
        let adjuster = self.adjuster()?.unwrap_or_default();
        let (mut seen, mut best) = (Vec::new(), (0, 0.0));
        for (rate, is_fitted) in self.rates() {
            if let Some(setting) = self.setting(&wish, rate, is_fitted)? {
                let now = self.probability_of_all(&setting, free_range.as_ref(), &adjuster, Moved::default());
                if now > best.1 {
                    best = (seen.len(), now);
                }
                seen.push(later.seen(setting, is_fitted, &gained, free_range.as_ref(), &adjuster));
            }
        }
        Ok((seen, best))
    }

    /// A spring over the moves of its free sag; `self` has the covariance to come. The preload moves along by regression, and
    /// what is left of its move stays uncertain.
    fn seen(
        &self,
        setting: Setting,
        is_fitted: bool,
        gained: &DMatrix<f64>,
        free_range: Option<&Range>,
        adjuster: &Adjuster,
    ) -> Seen {
        let change = self.change(&setting.preload);
        let (free, preload) = (&setting.free_sag.gradient.fit, &change.gradient.fit);
        let shared = |one: &[f64], other: &[f64]| {
            let (one, other) = (DVector::from_column_slice(one), DVector::from_column_slice(other));
            (gained * other).dot(&one)
        };
        let (of_free, of_both, of_preload) = (shared(free, free), shared(free, preload), shared(preload, preload));
        let reach = REACH * of_free.max(0.0).sqrt();
        let slope = if reach > STILL { of_both / of_free } else { 0.0 };
        let preload_spread = (of_preload - slope * of_both).max(0.0).sqrt();
        let at = |node: usize| {
            let free_sag = reach * (2.0 * node as f64 / (NODES - 1) as f64 - 1.0);
            let moved = Moved { free_sag, preload: slope * free_sag, preload_spread };
            self.probability_of_all(&setting, free_range, adjuster, moved)
        };
        let lands = if reach > STILL { (0..NODES).map(at).collect() } else { vec![at(NODES / 2); NODES] };
        Seen { is_fitted, lands, reach, free_sag: setting.free_sag }
    }
}

/// `now`: which spring is best now, and its probability.
fn drawn(seen: &[Seen], now: (usize, f64), gained: &DMatrix<f64>) -> Foresight {
    let rows: Vec<&[f64]> = seen.iter().map(|one| one.free_sag.gradient.fit.as_slice()).collect();
    let shared = |i: usize, j: usize| -> f64 {
        let column = |row: usize| rows[j].iter().enumerate().map(|(k, h)| gained[(row, k)] * h).sum::<f64>();
        rows[i].iter().enumerate().map(|(k, g)| g * column(k)).sum()
    };
    let root = crate::infer::readings::semidefinite_root(&DMatrix::from_fn(rows.len(), rows.len(), shared));
    let mut random = Xoshiro256PlusPlus::seed_from_u64(SEED);
    let (mut added, mut clear) = (0.0, 0.0);
    for _ in 0..DRAWS {
        let normal: Vec<f64> = (0..rows.len()).map(|_| StandardNormal.sample(&mut random)).collect();
        let moved = |row: usize| (0..=row).map(|k| root[(row, k)] * normal[k]).sum::<f64>();
        let (mut best, mut fitted, mut of_now) = (0.0, 0.0, 0.0);
        for (k, one) in seen.iter().enumerate() {
            let probability = one.probability(moved(k));
            best = f64::max(best, probability);
            if one.is_fitted {
                fitted = probability;
            }
            if k == now.0 {
                of_now = probability;
            }
        }
        added += best - of_now;
        clear += f64::from(is_clear(fitted, best));
    }
    let mean = |sum: f64| sum / DRAWS as f64;
    Foresight { lands: Share::from_si((now.1 + mean(added)).min(1.0)), clear: Share::from_si(mean(clear)) }
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::infer::probability::normal_density;

    #[test]
    fn a_chance_is_on_average_what_it_is_now() {
        // The law of total probability, by Simpson's rule over the move of the free sag.
        let bike = crate::Bike::from_toml(crate::demo::PATROL).unwrap();
        let adviser = bike.study(crate::record::End::Rear).unwrap().adviser().unwrap();
        let narrowed = &adviser.solved().posterior.covariance * 0.3;
        let (seen, now) = adviser.look(&narrowed).unwrap();
        let step = REACH / 50.0;
        let weigh = |k: i32| normal_density(f64::from(k) * step) * step;
        let average = |one: &Seen| -> f64 {
            (-50..=50).map(|k| weigh(k) * one.probability(one.reach * f64::from(k) / 50.0)).sum()
        };
        // Straight lines between nodes overshoot a bell by a few thousandths of its height.
        assert!((average(&seen[now.0]) - now.1).abs() < 6e-3, "{} {}", average(&seen[now.0]), now.1);
        assert!(now.1 > 0.3);
    }
}
