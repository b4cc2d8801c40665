//! One spring under all riders: the best common preload, and a preload for each.

use rand_distr::{Distribution, StandardNormal};
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;

use super::law::{Law, Place};
use super::{CommonSetting, OwnSettings, SpringForRiders};
use crate::Result;
use crate::decide::chances::{Aim, Way, turned_gradients};
use crate::decide::choice::Turns;
use crate::decide::gradient::{Gradient, Predicted};
use crate::decide::predict::{Setting, Wish};
use crate::decide::search::Settable;
use crate::infer::probability::{Interval, normal_cdf};
use crate::infer::readings::semidefinite_root;
use crate::infer::solved::Solved;
use crate::units::{Length, Quantity, Share, SpringRate, Uncertain};

/// Draws of the bike, each with its mirror image: a share averaged over them is sure to a percent.
const DRAWS: usize = 500;
/// The same draws every time.
const SEED: u64 = 16;
/// The part of every draw that is not an unknown of the fit: label, zero of the collar, reading of the common setting.
const BESIDE: usize = 3;
/// Rounds of working out the sags about the best common preload.
const ROUNDS: usize = 3;
/// A slope of sag over preload below which the collar does nothing.
const NO_SLOPE: f64 = 1e-9;

/// Draws of everything that the bike leaves open.
#[derive(Debug, Clone)]
pub(super) struct Draws {
    root: nalgebra::DMatrix<f64>,
    /// Of every unknown and of what is beside them, its value in each draw.
    columns: Vec<Vec<f64>>,
}

/// Both sags of a rider, and the change of preload that a reading would lead to, straight over draws and preload.
#[derive(Debug, Clone)]
struct Lines {
    place: Place,
    aim: Aim,
    /// Change of the stated preload about which they run.
    change: f64,
    sags: [f64; 2],
    slopes: [f64; 2],
    /// What each draw adds to both sags.
    turned: [Vec<f64>; 2],
    /// What a reading in each draw turns the collar by, but for the tape.
    needed: Vec<f64>,
    /// How far the tape puts the collar off (m).
    tape: f64,
}

impl Draws {
    pub(super) fn of(solved: &Solved) -> Self {
        let root = semidefinite_root(&solved.posterior.covariance);
        let mut random = Xoshiro256PlusPlus::seed_from_u64(SEED);
        let mut columns = vec![Vec::with_capacity(2 * DRAWS); root.nrows() + BESIDE];
        for _ in 0..DRAWS {
            for column in &mut columns {
                let number: f64 = StandardNormal.sample(&mut random);
                column.extend([-number, number]);
            }
        }
        Self { root, columns }
    }

    fn count(&self) -> usize {
        self.columns.first().map_or(0, Vec::len)
    }

    /// What the tape reads off the common setting, in each draw.
    fn tape(&self) -> &[f64] {
        self.columns.last().map_or(&[], Vec::as_slice)
    }

    /// A gradient in every draw; the tape left out.
    fn along(&self, gradient: &Gradient) -> Vec<f64> {
        let mut along: Vec<f64> =
            self.root.column_iter().map(|column| column.iter().zip(&gradient.fit).map(|(r, g)| r * g).sum()).collect();
        along.extend([gradient.label, gradient.collar, 0.0]);
        let mut sums = vec![0.0; self.count()];
        for (by, column) in along.iter().zip(&self.columns) {
            sums.iter_mut().zip(column).for_each(|(sum, number)| *sum += by * number);
        }
        sums
    }
}

impl Lines {
    fn new(draws: &Draws, place: Place, aim: Aim, setting: &Setting, change: &Predicted) -> Self {
        let turned = turned_gradients(setting, change).map(|gradient| draws.along(&gradient));
        Self {
            place,
            aim,
            change: change.value,
            sags: [setting.rider_sag.value, setting.free_sag.value],
            slopes: setting.per_preload,
            turned,
            needed: draws.along(&change.gradient),
            tape: change.gradient.setting.abs(),
        }
    }

    /// Both sags in a draw, the collar at a change.
    fn sags(&self, draw: usize, change: f64) -> [f64; 2] {
        [0, 1].map(|sag| self.sags[sag] + self.turned[sag][draw] + self.slopes[sag] * (change - self.change))
    }

    /// The changes of preload that suit the rider in a draw.
    fn suits(&self, draw: usize) -> Interval {
        let sags = self.sags(draw, self.change);
        let over = |sag: f64, slope: f64, (low, high): Interval| {
            if slope.abs() < NO_SLOPE {
                let inside = low <= sag && sag <= high;
                return if inside { (f64::NEG_INFINITY, f64::INFINITY) } else { (f64::INFINITY, f64::NEG_INFINITY) };
            }
            let (one, other) = ((low - sag) / slope, (high - sag) / slope);
            (one.min(other), one.max(other))
        };
        let (rider, free) =
            (over(sags[0], self.slopes[0], self.aim.rider), over(sags[1], self.slopes[1], self.aim.free));
        (self.change + rider.0.max(free.0), self.change + rider.1.min(free.1))
    }

    /// Chance in a draw that the rider's own reading puts the collar where it suits, within its ends.
    fn own(&self, draw: usize, way: Way, ends: Interval) -> f64 {
        let (mut low, mut high) = self.suits(draw);
        if low > high || high < ends.0 || low > ends.1 {
            return 0.0;
        }
        if way == Way::Turned {
            return f64::from(u8::from(low <= self.change && self.change <= high));
        }
        let at = self.change + self.needed[draw];
        // The collar stops at its ends, wherever the reading would have it.
        if low <= ends.0 {
            low = f64::NEG_INFINITY;
        }
        if high >= ends.1 {
            high = f64::INFINITY;
        }
        let tape = self.tape.max(f64::MIN_POSITIVE);
        normal_cdf((high - at) / tape) - normal_cdf((low - at) / tape)
    }
}

impl Law {
    /// One spring under all riders.
    pub(super) fn spring(&self, draws: &Draws, rate: SpringRate, is_fitted: bool) -> Result<SpringForRiders> {
        let none = SpringForRiders { rate, is_fitted, common: None, own: None };
        let adviser = &self.under[0].adviser;
        let adjuster = adviser.adjuster()?.unwrap_or_default();
        let settable = adviser.settable(is_fitted, &adjuster)?;
        let wish = adviser.wish(self.under[0].places)?;
        adviser.with_rate(&wish, rate, is_fitted, |wish| {
            let Some(own) = self.own(draws, wish, is_fitted, settable) else { return Ok(none) };
            let common = self.common(draws, wish, is_fitted, settable, &own.1);
            let pitch = adjuster.thread_pitch();
            let stated = adviser.solved().main.preload;
            let turns = |light: f64, heavy: f64| pitch.map(|pitch| (heavy - light) / pitch.si());
            let (share, [light, heavy]) = own.0;
            Ok(SpringForRiders {
                own: Some(OwnSettings {
                    share,
                    light: stated + Length::from_si(light),
                    heavy: stated + Length::from_si(heavy),
                    turns: turns(light, heavy),
                }),
                common: common.map(|(common, change)| {
                    let change = Uncertain { value: change, ..common.preload };
                    let counted = if is_fitted { change } else { Uncertain { value: stated + change.value, ..change } };
                    CommonSetting {
                        preload: Uncertain { value: stated + change.value, ..change },
                        turns: pitch.map(|pitch| Turns { from_touching: !is_fitted, ..Turns::of(counted, pitch) }),
                        ..common
                    }
                }),
                ..none
            })
        })?
    }

    fn wish<'a>(&self, wish: &Wish<'a>, place: Place) -> Wish<'a> {
        let under = &self.under[place.under];
        let [bike, rider] = under.places;
        let rider_sag = under.adviser.wanted.rider_sag.value.si();
        Wish { bike, rider, rider_sag, on_top: place.on_top, ..*wish }
    }

    /// Every rider at the best preload of his or her own: the share that suits, the changes of a light and a heavy rider, and
    /// all changes.
    #[expect(clippy::type_complexity, reason = "two answers of one walk over the riders")]
    fn own(
        &self,
        draws: &Draws,
        wish: &Wish<'_>,
        is_fitted: bool,
        settable: Settable,
    ) -> Option<((Uncertain<Share>, [f64; 2]), Vec<(f64, f64)>)> {
        let mut shares = vec![0.0; draws.count()];
        let mut changes = Vec::with_capacity(self.places.len());
        for &place in &self.places {
            let adviser = &self.under[place.under].adviser;
            let aim = adviser.wanted.aim();
            let Ok((set, best)) = adviser.find(&self.wish(wish, place), is_fitted, settable, &aim) else { continue };
            let lines = Lines::new(draws, place, aim, &set.setting, &set.change);
            for (draw, share) in shares.iter_mut().enumerate() {
                *share += place.weight * lines.own(draw, best.way, settable.ends);
            }
            changes.push((set.change.value, place));
        }
        changes.sort_by(|one, other| one.1.on_top.total_cmp(&other.1.on_top));
        let quantile = |level: f64| {
            let mut sum = 0.0;
            changes
                .iter()
                .find(|(_, place)| {
                    sum += place.weight;
                    sum >= level
                })
                .or(changes.last())
                .map(|(change, _)| *change)
        };
        let ends = [quantile(0.1)?, quantile(0.9)?];
        let all = changes.iter().map(|(change, place)| (*change, place.weight)).collect();
        Some(((over_draws(&shares), ends), all))
    }

    /// The best preload for all.
    fn common(
        &self,
        draws: &Draws,
        wish: &Wish<'_>,
        is_fitted: bool,
        settable: Settable,
        own: &[(f64, f64)],
    ) -> Option<(CommonSetting, Length)> {
        let weight: f64 = own.iter().map(|(_, weight)| weight).sum();
        let mean = own.iter().map(|(change, weight)| change * weight).sum::<f64>() / weight;
        let worth = self.under[0].adviser.prices.collar.si();
        let mut at = settable.nearest(mean);
        let mut found = None;
        for _ in 0..ROUNDS {
            let lines = self.lines(draws, wish, at, is_fitted)?;
            let middle = middle(&lines)?;
            let turned = best(draws, &lines, None, &settable);
            let read = best(draws, &lines, Some(middle), &settable);
            let way = if turned.1 < read.1 - worth { Way::ReRead } else { Way::Turned };
            let next = if way == Way::ReRead { read.0 } else { turned.0 };
            let done = next == at;
            found = Some((lines, middle, way));
            at = next;
            if done {
                break;
            }
        }
        let (lines, middle, way) = found?;
        Some((common(draws, &lines, (way == Way::ReRead).then_some(middle), at, &settable), Length::from_si(at)))
    }

    /// All riders with the collar at a change.
    fn lines(&self, draws: &Draws, wish: &Wish<'_>, change: f64, is_fitted: bool) -> Option<Vec<Lines>> {
        let line = |&place: &Place| {
            let adviser = &self.under[place.under].adviser;
            let (setting, change, _) = adviser.set(&self.wish(wish, place), change, is_fitted)?;
            Some(Lines::new(draws, place, adviser.wanted.aim(), &setting, &change))
        };
        self.places.iter().map(line).collect()
    }
}

/// The rider in the middle of those under the first load, by place.
fn middle(lines: &[Lines]) -> Option<usize> {
    let first = lines.iter().filter(|line| line.place.under == 0).count();
    (first > 0).then_some(first / 2)
}

/// What a reading under one rider turns the collar further by, in a draw; nothing where it is turned and left.
fn reading(draws: &Draws, lines: &[Lines], read: Option<usize>, draw: usize) -> f64 {
    read.map_or(0.0, |at| lines[at].needed[draw] + lines[at].tape * draws.tape()[draw])
}

/// The step of the collar that suits most riders, over all draws, and that share.
fn best(draws: &Draws, lines: &[Lines], read: Option<usize>, settable: &Settable) -> (f64, f64) {
    let mut suits: Vec<(Interval, f64)> = Vec::with_capacity(lines.len() * draws.count());
    let (mut first, mut last) = (f64::INFINITY, f64::NEG_INFINITY);
    for draw in 0..draws.count() {
        let off = reading(draws, lines, read, draw);
        for line in lines {
            let (low, high) = line.suits(draw);
            if low > high || high < settable.ends.0 || low > settable.ends.1 {
                continue;
            }
            let (low, high) = (low.max(settable.ends.0), high.min(settable.ends.1));
            // The collar stops at its ends, wherever a reading would have it.
            let from = if low <= settable.ends.0 { f64::NEG_INFINITY } else { low - off };
            let to = if high >= settable.ends.1 { f64::INFINITY } else { high - off };
            suits.push(((from, to), line.place.weight));
            first = first.min(if from.is_finite() { from } else { settable.ends.0 });
            last = last.max(if to.is_finite() { to } else { settable.ends.1 });
        }
    }
    let here = lines.first().map_or(0.0, |line| line.change);
    if suits.is_empty() {
        return (settable.nearest(here), 0.0);
    }
    let (first, last) = settable.places(first, last);
    let mut rise = vec![0.0; (last - first + 2) as usize];
    for ((from, to), weight) in suits {
        // Steps from the first at or above `from` to the last at or below `to`.
        let low = if from.is_finite() { (settable.place(from).ceil() as i64).max(first) } else { first };
        let high = if to.is_finite() { (settable.place(to).floor() as i64).min(last) } else { last };
        if low <= high {
            rise[(low - first) as usize] += weight;
            rise[(high - first + 1) as usize] -= weight;
        }
    }
    let (mut sum, mut most, mut at) = (0.0, f64::NEG_INFINITY, first);
    for (step, change) in rise.iter().take((last - first + 1) as usize).enumerate() {
        sum += change;
        if sum > most {
            (most, at) = (sum, first + step as i64);
        }
    }
    (settable.at(at), most / draws.count() as f64)
}

/// What follows from a common preload.
fn common(draws: &Draws, lines: &[Lines], read: Option<usize>, at: f64, settable: &Settable) -> CommonSetting {
    let mut shares = vec![0.0; draws.count()];
    let [mut deep, mut high] = [0.0; 2];
    let (mut sag, mut square, mut weights) = (0.0, 0.0, 0.0);
    for line in lines {
        let sag_there = line.sags[0] + line.slopes[0] * (at - line.change);
        let weight = line.place.weight;
        (sag, square, weights) = (sag + weight * sag_there, square + weight * sag_there.powi(2), weights + weight);
    }
    let (mut free, mut free_square, mut collar_square) = (0.0, 0.0, 0.0);
    for (draw, share) in shares.iter_mut().enumerate() {
        let collar = (at + reading(draws, lines, read, draw)).max(settable.ends.0).min(settable.ends.1);
        for line in lines {
            let [rider, alone] = line.sags(draw, collar);
            let (aim, weight) = (&line.aim, line.place.weight);
            let inside = |sag: f64, (low, high): Interval| low <= sag && sag <= high;
            *share += if inside(rider, aim.rider) && inside(alone, aim.free) { weight } else { 0.0 };
            deep += if rider > aim.rider.1 { weight } else { 0.0 };
            high += if rider < aim.rider.0 { weight } else { 0.0 };
        }
        let alone = lines.first().map_or(0.0, |line| line.sags(draw, collar)[1]);
        (free, free_square) = (free + alone, free_square + alone * alone);
        collar_square += (collar - at).powi(2);
    }
    let count = draws.count() as f64;
    let spread = |mean: f64, square: f64| (square - mean * mean).max(0.0).sqrt();
    let length = |value: f64, deviation: f64| Uncertain {
        value: Length::from_si(value),
        standard_uncertainty: Length::from_si(deviation),
    };
    let (sag, square, free) = (sag / weights, square / weights, free / count);
    CommonSetting {
        preload: length(at, (collar_square / count).sqrt()),
        turns: None,
        way: if read.is_some() { Way::ReRead } else { Way::Turned },
        share: over_draws(&shares),
        too_deep: Share::from_si(deep / count),
        too_high: Share::from_si(high / count),
        rider_sag: length(sag, spread(sag, square)),
        free_sag: length(free, spread(free, free_square / count)),
    }
}

/// Mean and standard deviation over the draws.
fn over_draws(shares: &[f64]) -> Uncertain<Share> {
    let count = shares.len() as f64;
    let mean = shares.iter().sum::<f64>() / count;
    let variance = shares.iter().map(|share| (share - mean).powi(2)).sum::<f64>() / count;
    Uncertain { value: Share::from_si(mean.clamp(0.0, 1.0)), standard_uncertainty: Share::from_si(variance.sqrt()) }
}

#[cfg(test)]
mod tests;
