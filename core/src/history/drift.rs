//! What changed between two sets of readings of one end.
//!
//! Each set gives information on its own unknowns: with priors of unit variance, `H_k = C_k⁻¹ − P` and `η_k = C_k⁻¹·θ̂_k`.
//! All sets of an end are put into one linear-Gaussian model,
//!
//! `Λ = Λ₀ + Σ J_kᵀ H_k J_k`, `x̂ = Λ⁻¹·Σ J_kᵀ η_k`,
//!
//! where `J_k` says which unknowns of the whole a set sees: the loads, for as long as the masses stay; the way from wheel to
//! shock, for as long as its pivots stay; the rate factor, one per spring; the offset of its preload, on which its label speaks and which a turned collar leaves alone, and what each set drifts from that; friction and zero,
//! each set's own. The drifts of one spring add up to nothing, so that the label speaks of their mean and equal readings
//! give no drift: the unknowns are the sums of the drifts so far, of which the last is nothing. No unknown is seen but by sets in a
//! row, so that the cost is linear in the sets ([`chain`]). What two sets share cancels in their difference, `u²(Δ) = cᵀ Λ⁻¹ c`.
//!
//! The priors on drift are wide against what readings say, so that they neither hide a change nor invent one. A change of
//! `Δ ± u` is as large by chance with the probability `2·Φ(−|Δ|/u)`.
//!
//! Fails where a set's own solution is far from linear over the spread of the others; see the fit.

use crate::error::SetupError;
use crate::history::Solution;
use crate::history::chain::{self, Front, Step};
use crate::infer::posterior::{FRICTION, LOADS, PRELOAD, Priors, RATE, ZERO};
use crate::infer::probability::normal_cdf;
use crate::log::Log;
use crate::record::End;
use crate::units::{Force, Length, Quantity, Uncertain};

/// Standard deviation of a drift of preload before it is read (m): several times what a settling coil loses, a few per cent
/// of a deflection of a decimetre (common practice, no source). Readings give it to about a millimetre.
const PRELOAD_DRIFT: f64 = 10e-3;
/// Standard deviation of a set's friction before it is read, in those of one fit: a band of 24 mm either way of the usual
/// one, at which an end sticks. It leaves the difference of two sets free, where the fit's own prior would pull both together.
const FRICTION_SPREAD: f64 = 3.0;

/// A number that may have changed between two sets.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(bound(serialize = "Q: Quantity", deserialize = "Q: Quantity")))]
#[non_exhaustive]
pub struct Shift<Q> {
    /// In the earlier set.
    pub before: Uncertain<Q>,
    /// In the later set.
    pub after: Uncertain<Q>,
    /// Later less earlier. Its uncertainty is not that of the two put together: they share loads and label.
    pub change: Uncertain<Q>,
    /// The change in its own standard deviations.
    pub deviations: f64,
    /// Probability of as large a change, either way, by chance.
    pub probability: f64,
}

/// What changed between two sets.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Drift {
    /// Place of the earlier set.
    pub earlier: usize,
    /// Place of the later one.
    pub later: usize,
    /// Preload of the first main spring; a coil that has settled shows as preload lost. `None` where a change set it anew.
    pub preload: Option<Shift<Length>>,
    /// Friction at the wheel.
    pub friction: Shift<Force>,
}

/// Where the unknowns of one set are among those of the whole.
#[derive(Debug, Clone, Copy)]
struct Columns {
    /// How often the preload was set anew before.
    setting: usize,
    rate: usize,
    preload: usize,
    /// What the drifts of one spring add up to, with that of this set and before it. Where it begins or is complete, nothing.
    sums: [Option<usize>; 2],
    friction: usize,
    zero: usize,
    loads: usize,
    way: usize,
}

/// All sets of an end in one.
struct Joint {
    columns: Vec<Columns>,
    /// Of every set, with those of the set before and of the first.
    fronts: Vec<Front>,
}

/// Every drift worth a look.
pub(crate) fn drifts(end: End, sets: &[Solution], log: &Log) -> Result<Vec<Drift>, SetupError> {
    let pairs = (1..sets.len()).map(|to| (to - 1, to));
    let whole = (sets.len() > 2).then(|| (0, sets.len() - 1));
    let joint = match sets {
        [] | [_] => return Ok(Vec::new()),
        sets => Joint::new(end, sets, log)?,
    };
    Ok(pairs.chain(whole).filter_map(|(from, to)| joint.drift(sets, from, to)).collect())
}

impl Joint {
    fn new(end: End, sets: &[Solution], log: &Log) -> Result<Self, SetupError> {
        let mut prior: Vec<f64> = Vec::new();
        let mut place = |precision: f64, count: usize| {
            prior.extend(core::iter::repeat_n(precision, count));
            prior.len() - count
        };
        let mut columns: Vec<Columns> = Vec::new();
        for (k, set) in sets.iter().enumerate() {
            let before = k.checked_sub(1).and_then(|k| Some((columns.get(k)?, sets.get(k)?)));
            let since = before.map(|(_, before)| log.between(end, before.set.step, set.set.step)).unwrap_or_default();
            let kept = |broken: bool| before.filter(|_| !broken).map(|(c, _)| *c);
            let (loads, ways) = (set.known_way() - LOADS, set.unknowns() - set.known_way());
            // The offset of the preload stays when only the collar turned.
            let same_spring = kept(since.springs.contains(&true));
            let setting = before.map_or(0, |(c, _)| c.setting + usize::from(since.preload));
            let alike =
                |count: &dyn Fn(&Solution) -> usize| before.is_some_and(|(_, before)| count(before) == count(set));
            let same_masses =
                kept(since.unsprung || !since.masses.is_empty()).filter(|_| alike(&|set| set.known_way()));
            let same_way = kept(since.way);
            let same_way = same_way.filter(|_| alike(&|set| set.unknowns() - set.known_way()));
            let rate = same_spring.map(|c| c.rate).unwrap_or_else(|| place(set.priors().rate.powi(-2), 1));
            let preload = same_spring.map(|c| c.preload).unwrap_or_else(|| place(set.priors().preload.powi(-2), 1));
            let sums = [Some(place(0.0, 1)), same_spring.and_then(|c| c.sums[0])];
            let friction = place((FRICTION_SPREAD * set.priors().friction.1).powi(-2), 1);
            let zero = place(0.0, 1);
            let loads = same_masses.map(|c| c.loads).unwrap_or_else(|| place(1.0, loads));
            let way = same_way.map(|c| c.way).unwrap_or_else(|| place(1.0, ways));
            if same_spring.is_none() {
                columns.last_mut().into_iter().for_each(|last| last.sums[0] = None);
            }
            columns.push(Columns { setting, rate, preload, sums, friction, zero, loads, way });
        }
        columns.last_mut().into_iter().for_each(|last| last.sums[0] = None);
        let mut steps = Vec::with_capacity(sets.len());
        let mut known = vec![false; prior.len()];
        for (k, set) in sets.iter().enumerate() {
            let own = &columns[k];
            let functions = own.seen_by(set);
            let compared = [0, k.saturating_sub(1)].map(|other| columns[other].shown());
            let seen = functions.iter().flatten().chain(compared.iter().flatten().flatten());
            let mut step = Step::new(seen.map(|(column, _)| *column).collect());
            step.know(&functions, &set.information, &set.weighted);
            step.expect_zero(&own.drift(), PRELOAD_DRIFT.powi(-2));
            for &(column, _) in functions.iter().flatten() {
                if !core::mem::replace(&mut known[column], true) {
                    step.expect_zero(&[(column, 1.0)], prior[column]);
                }
            }
            steps.push(step);
        }
        Ok(Self { columns, fronts: chain::solve(steps)? })
    }

    fn drift(&self, sets: &[Solution], from: usize, to: usize) -> Option<Drift> {
        let (one, other) = (self.columns.get(from)?, self.columns.get(to)?);
        let (before, after) = (sets.get(from)?, sets.get(to)?);
        let front = self.fronts.get(to)?;
        let stated = |set: &Solution| set.study.solved.main.preload.si();
        let ([preload, friction], [preload_then, friction_then]) = (other.shown(), one.shown());
        Some(Drift {
            earlier: from,
            later: to,
            preload: (one.setting == other.setting)
                .then(|| shift(front, [&preload_then, &preload], [stated(before), stated(after)])),
            friction: shift(
                front,
                [&friction_then, &friction],
                [before.priors().friction.0, after.priors().friction.0],
            ),
        })
    }
}

/// Two linear functions of the unknowns, each with its constant, and their difference.
fn shift<Q: Quantity>(front: &Front, [before, after]: [&[(usize, f64)]; 2], [stood, stands]: [f64; 2]) -> Shift<Q> {
    let number = |terms: &[(usize, f64)], constant: f64| {
        let (mean, variance) = front.of(terms);
        Uncertain { value: Q::from_si(constant + mean), standard_uncertainty: Q::from_si(variance.sqrt()) }
    };
    let difference: Vec<(usize, f64)> =
        after.iter().copied().chain(before.iter().map(|&(column, factor)| (column, -factor))).collect();
    let change: Uncertain<Q> = number(&difference, stands - stood);
    let deviations = change.value.si() / change.standard_uncertainty.si();
    Shift {
        before: number(before, stood),
        after: number(after, stands),
        change,
        deviations,
        probability: 2.0 * normal_cdf(-deviations.abs()),
    }
}

impl Columns {
    /// What this set drifted: the sum with it less the sum before.
    fn drift(&self) -> Vec<(usize, f64)> {
        self.sums.into_iter().zip([1.0, -1.0]).filter_map(|(sum, sign)| Some((sum?, sign))).collect()
    }

    /// Preload and friction of this set.
    fn shown(&self) -> [Vec<(usize, f64)>; 2] {
        [core::iter::once((self.preload, 1.0)).chain(self.drift()).collect(), vec![(self.friction, 1.0)]]
    }

    /// `J`: a set's unknowns, in units of its priors, from those of the whole in SI units; columns and slopes of each.
    fn seen_by(&self, set: &Solution) -> Vec<Vec<(usize, f64)>> {
        let Priors { rate, preload, friction: (_, friction) } = set.priors();
        let [preloads, _] = self.shown();
        let mut seen = vec![Vec::new(); set.unknowns()];
        seen[RATE] = vec![(self.rate, 1.0 / rate)];
        seen[PRELOAD] = preloads.into_iter().map(|(column, factor)| (column, factor / preload)).collect();
        seen[FRICTION] = vec![(self.friction, 1.0 / friction)];
        seen[ZERO] = vec![(self.zero, 1.0)];
        let loads = (LOADS..set.known_way()).zip(self.loads..);
        let ways = (set.known_way()..set.unknowns()).zip(self.way..);
        loads.chain(ways).for_each(|(own, column)| seen[own] = vec![(column, 1.0)]);
        seen
    }
}
