//! What further readings would do to the decision, before they are taken (preposterior analysis; Raiffa & Schlaifer,
//! *Applied Statistical Decision Theory*, 1961, ch. 5).
//!
//! In the linear-normal model readings that narrow the covariance from `C` to `C′` move the estimates by a normal amount
//! of covariance `C − C′`: that much is known now. For each such move every action has another utility, its setting chosen
//! anew, and the best of them is taken. Against it stands what is best now, carried out as it is: its average over all moves
//! is what it is now, so that only the gain of choosing anew is drawn, and that is never below zero.
//!
//! Fails with the normal posterior (see [`crate::infer::posterior`]), and leaves the misreadings out that a fit would find.

use std::borrow::Cow;
use std::sync::LazyLock;

use nalgebra::DMatrix;
use rand_distr::{Distribution, StandardNormal};
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;

use crate::Result;
use crate::decide::adviser::Adviser;
use crate::decide::chances::{Aim, Chances, Moved, Pair, Way};
use crate::decide::choice::Weighed;
use crate::decide::search::{LastTops, Settable};
use crate::decide::set::Set;
use crate::decide::verdict::{Act, Action};
use crate::infer::probability::{Roughly, roughly_within};
use crate::infer::readings::semidefinite_root;
use crate::infer::solved::{Derived, covariance_along};
use crate::units::{Quantity, Share};

/// Moves drawn, each with its mirror image: a gain to a few tenths of a point.
const DRAWS: usize = 100;
/// Actions looked at, the best ones as it is: those further down hardly ever come first.
const MOST_ACTIONS: usize = 5;
/// The same draws every time.
const SEED: u64 = 1;
/// Free sags at which the probability of landing is worked out, and how far they reach in standard deviations of the move;
/// in between, straight lines.
const NODES: usize = 7;
const REACH: f64 = 3.0;
/// Below this standard deviation (m) nothing moves.
const STILL: f64 = 1e-9;

/// The first of the normal numbers that moves are made of, as many as about fifteen actions take: they are the same every time.
static NORMALS: LazyLock<Vec<f64>> = LazyLock::new(|| drawn_normals(32 * DRAWS));

fn drawn_normals(count: usize) -> Vec<f64> {
    let mut random = Xoshiro256PlusPlus::seed_from_u64(SEED);
    (0..count).map(|_| StandardNormal.sample(&mut random)).collect()
}

fn normals(count: usize) -> Cow<'static, [f64]> {
    NORMALS.get(..count).map_or_else(|| Cow::Owned(drawn_normals(count)), Cow::Borrowed)
}

/// What is to be had, as it is or with readings to come.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Foresight {
    /// Probability that the best action lands both sags.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub lands: Share,
    /// That less its price; the price of measuring not in it.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub utility: Share,
    /// Probability that another action than the one that is best now is best then.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub changes: Share,
}

/// An action as further readings may see it.
enum Seen {
    /// Both sags as they stand.
    Left { sags: [f64; 2], spread: Pair, rough: Roughly },
    /// A setting chosen anew: probability of landing over the move of the free sag, evenly from minus to plus `reach`.
    Set { lands: Vec<f64>, reach: f64 },
}

impl Seen {
    /// The most that the probability may be: where the end is left, either sag by itself and what a search is off by.
    fn at_most(&self, aim: &Aim, [first, second]: [f64; 2]) -> f64 {
        /// Far above what the two differ by.
        const OFF: f64 = 1e-4;
        match self {
            Self::Left { sags: [rider, free], spread, .. } if spread.rider > 0.0 && spread.free > 0.0 => {
                let of_rider = roughly_within((rider + first, spread.rider), aim.rider);
                of_rider.min(roughly_within((free + second, spread.free), aim.free)) + OFF
            }
            _ => 1.0,
        }
    }

    fn probability(&self, aim: &Aim, [first, second]: [f64; 2]) -> f64 {
        match self {
            Self::Left { sags: [rider, free], spread, rough } => {
                rough.probability([(rider + first, spread.rider), (free + second, spread.free)], [aim.rider, aim.free])
            }
            Self::Set { lands, reach } => {
                let last = (NODES - 1) as f64;
                let place = if *reach > 0.0 { ((first / reach + 1.0) * 0.5 * last).clamp(0.0, last) } else { 0.0 };
                let node = place as usize;
                let fraction = place - node as f64;
                let (below, above) = (lands[node], lands[node + usize::from(fraction > 0.0)]);
                below + (above - below) * fraction
            }
        }
    }
}

/// What is best now, carried out as it is whatever the readings say.
struct Kept<'a> {
    set: Option<&'a Set>,
    chances: Option<Chances>,
    way: Way,
    action: usize,
}

/// Actions over what knowing more may move them by.
pub(crate) struct Lineup<'a> {
    seen: Vec<Seen>,
    aim: Aim,
    /// Root of the covariance of the moves, two per action: both sags where it is left; free sag and needed change where it is
    /// set.
    root: DMatrix<f64>,
    prices: Vec<f64>,
    kept: Kept<'a>,
}

impl Lineup<'_> {
    /// Hands out the moves that are drawn, each followed by its mirror image.
    fn each_move(&self, mut take: impl FnMut(&[f64])) {
        let count = self.root.nrows();
        let mut moves = vec![0.0; count];
        for normal in normals(DRAWS * count).chunks_exact(count.max(1)) {
            moves.fill(0.0);
            let columns = self.root.as_slice().chunks_exact(count.max(1));
            for (k, (column, by)) in columns.zip(normal).enumerate() {
                moves[k..].iter_mut().zip(&column[k..]).for_each(|(to, part)| *to += part * by);
            }
            take(&moves);
            moves.iter_mut().for_each(|to| *to = -*to);
            take(&moves);
        }
    }

    /// Probability that an action lands, its setting chosen anew after a move.
    fn probability(&self, place: usize, moves: &[f64]) -> f64 {
        self.seen[place].probability(&self.aim, [moves[2 * place], moves[2 * place + 1]])
    }

    /// The most that this may be, cheaply.
    fn at_most(&self, place: usize, moves: &[f64]) -> f64 {
        self.seen[place].at_most(&self.aim, [moves[2 * place], moves[2 * place + 1]])
    }

    /// Which actions are the best one or within a tie of it, each time that everything comes out otherwise.
    pub(crate) fn each_best(&self, tie: f64, mut take: impl FnMut(&[bool])) {
        let count = self.seen.len();
        let (mut utilities, mut best_ones) = (vec![0.0; count], vec![false; count]);
        self.each_move(|moves| {
            let mut best = f64::NEG_INFINITY;
            // Last what takes longest, of which most is seen not to matter.
            for left in [false, true] {
                for (place, price) in self.prices.iter().enumerate() {
                    if matches!(self.seen[place], Seen::Left { .. }) == left {
                        let out_of_it = left && self.at_most(place, moves) - price < best - tie;
                        utilities[place] =
                            if out_of_it { f64::NEG_INFINITY } else { self.probability(place, moves) - price };
                        best = best.max(utilities[place]);
                    }
                }
            }
            best_ones.iter_mut().zip(&utilities).for_each(|(is, utility)| *is = *utility > best - tie);
            take(&best_ones);
        });
    }
}

/// The chance of the best setting of a spring after a move: as it will be set, or to what settings as likely may differ by.
pub(crate) type Chance = fn(&Chances, &Settable, &Aim, Moved, f64, &mut LastTops) -> f64;

fn to_set(chances: &Chances, settable: &Settable, aim: &Aim, moved: Moved, worth: f64, last: &mut LastTops) -> f64 {
    chances.best(settable, aim, moved, worth, last).top.probability
}

/// May an action turn out to be the best one? What lands now lands at least as often on average where it is set knowing more,
/// and one that lands less often than a hundredth of the likeliest seldom comes first.
pub(crate) fn is_in_question(action: &Action, most: f64) -> bool {
    const OUT_OF_QUESTION: f64 = 0.01;
    action.probability.si() >= OUT_OF_QUESTION * most
}

impl Adviser {
    /// The decision once readings have narrowed the covariance of the fit to this.
    pub(crate) fn foresee(
        &self,
        narrowed: &DMatrix<f64>,
        weighed: &[Weighed],
        actions: &[Action],
    ) -> Result<Foresight> {
        let most = actions.iter().map(|action| action.probability.si()).fold(0.0, f64::max);
        let in_question = |(place, action): &(usize, &Action)| *place == 0 || is_in_question(action, most);
        let actions: Vec<Action> =
            actions.iter().enumerate().filter(in_question).map(|(_, action)| *action).take(MOST_ACTIONS).collect();
        let actions = &actions[..];
        Ok(drawn(&self.lineup(narrowed, weighed, actions, to_set)?, actions))
    }

    /// Actions, the best first, over what narrowing the covariance of the fit to this may move them by.
    pub(crate) fn lineup<'a>(
        &self,
        narrowed: &DMatrix<f64>,
        weighed: &'a [Weighed],
        actions: &[Action],
        chance: Chance,
    ) -> Result<Lineup<'a>> {
        let aim = self.wanted.aim();
        let gained = &self.solved().posterior.covariance - narrowed;
        let [bike, rider] = self.places()?;
        let today = [self.sag_today(rider)?, self.sag_today(bike)?];
        let of = |action: &Action| {
            weighed.iter().find(|weighed| match action.act {
                Act::Turn { .. } => weighed.choice.is_fitted,
                Act::Fit { rate } => !weighed.choice.is_fitted && weighed.choice.rate == rate,
                _ => false,
            })
        };
        let (mut seen, mut rows): (Vec<Seen>, Vec<&[f64]>) = (Vec::new(), Vec::new());
        let mut kept = Kept { set: None, chances: None, way: Way::Turned, action: 0 };
        for (place, action) in actions.iter().enumerate() {
            match of(action).and_then(|weighed| weighed.set.as_ref()) {
                Some(set) => {
                    let chances = Chances::new(narrowed, &set.setting, &set.change);
                    seen.push(self.seen(set, &chances, &gained, &aim, chance));
                    if place == 0 {
                        kept = Kept {
                            set: Some(set),
                            chances: Some(chances),
                            way: action.way.unwrap_or(Way::Turned),
                            action: place,
                        };
                    }
                    rows.extend([&set.setting.free_sag.gradient.fit[..], &set.change.gradient.fit[..]]);
                }
                None => {
                    let [rider, free] = &today;
                    let spread = spread(narrowed, rider, free);
                    let rough = Roughly::new(spread.correlation);
                    seen.push(Seen::Left { sags: [rider.value, free.value], spread, rough });
                    rows.extend([&rider.gradient[..], &free.gradient[..]]);
                }
            }
        }
        // The root asks for no more than the half below the diagonal.
        let covariance =
            DMatrix::from_fn(
                rows.len(),
                rows.len(),
                |i, j| {
                    if i < j { 0.0 } else { shared(&gained, rows[i], rows[j]) }
                },
            );
        let prices = actions.iter().map(|action| action.probability.si() - action.utility.si()).collect();
        Ok(Lineup { seen, aim, root: semidefinite_root(&covariance), prices, kept })
    }

    /// A spring over the moves of its free sag. The needed change moves along by regression, and what is left of its move
    /// stays uncertain.
    fn seen(&self, set: &Set, chances: &Chances, gained: &DMatrix<f64>, aim: &Aim, chance: Chance) -> Seen {
        let (free, change) = (&set.setting.free_sag.gradient.fit, &set.change.gradient.fit);
        let (of_free, of_both, of_change) =
            (shared(gained, free, free), shared(gained, free, change), shared(gained, change, change));
        let reach = REACH * of_free.max(0.0).sqrt();
        let slope = if reach > STILL { of_both / of_free } else { 0.0 };
        let change_spread = (of_change - slope * of_both).max(0.0).sqrt();
        let mut last = set.last;
        let mut at = |node: usize| {
            let free_sag = reach * (2.0 * node as f64 / (NODES - 1) as f64 - 1.0);
            let moved = Moved { free_sag, change: slope * free_sag, change_spread };
            chance(chances, &set.settable, aim, moved, self.prices.collar.si(), &mut last)
        };
        let lands = if reach > STILL { (0..NODES).map(at).collect() } else { vec![at(NODES / 2); NODES] };
        Seen::Set { lands, reach }
    }
}

fn shared(gained: &DMatrix<f64>, one: &[f64], other: &[f64]) -> f64 {
    let columns = gained.as_slice().chunks_exact(one.len());
    let times = |column: &[f64]| column.iter().zip(one).map(|(c, g)| c * g).sum::<f64>();
    columns.zip(other).map(|(column, h)| times(column) * h).sum()
}

fn spread(covariance: &DMatrix<f64>, rider: &Derived, free: &Derived) -> Pair {
    let between = |one: &Derived, other: &Derived| covariance_along(covariance, &one.gradient, &other.gradient);
    let deviation = |of: &Derived| between(of, of).max(0.0).sqrt();
    let (of_rider, of_free) = (deviation(rider), deviation(free));
    let both = (of_rider * of_free).max(f64::MIN_POSITIVE);
    let correlation = (between(rider, free) / both).clamp(-1.0, 1.0);
    Pair { rider: of_rider, free: of_free, correlation }
}

impl Kept<'_> {
    fn probability(&self, seen: &[Seen], aim: &Aim, moves: &[f64]) -> f64 {
        let pair = [moves[2 * self.action], moves[2 * self.action + 1]];
        match (self.set, &self.chances) {
            (Some(set), Some(chances)) => {
                let moved = Moved { free_sag: pair[0], change: pair[1], change_spread: 0.0 };
                let at = set.change.value;
                match self.way {
                    Way::Turned => chances.roughly(self.way, at, set.settable.ends, aim, moved),
                    // The aim stays: the collar follows it.
                    Way::ReRead => chances.roughly(self.way, at + pair[1], set.settable.ends, aim, moved),
                }
            }
            _ => seen[self.action].probability(aim, pair),
        }
    }
}

fn drawn(lineup: &Lineup<'_>, actions: &[Action]) -> Foresight {
    let Lineup { seen, aim, prices, kept, .. } = lineup;
    let (mut gain, mut lands, mut changes) = (0.0, 0.0, 0.0);
    lineup.each_move(|moves| {
        let as_it_is = kept.probability(seen, aim, moves);
        let (mut best, mut chosen, mut probability) = (as_it_is - prices[kept.action], kept.action, as_it_is);
        for (place, price) in prices.iter().enumerate() {
            if lineup.at_most(place, moves) - price <= best {
                continue;
            }
            let then = lineup.probability(place, moves);
            if then - price > best {
                (best, chosen, probability) = (then - price, place, then);
            }
        }
        gain += best - (as_it_is - prices[kept.action]);
        lands += probability - as_it_is;
        changes += f64::from(chosen != kept.action);
    });
    let mean = |sum: f64| sum / (2 * DRAWS) as f64;
    let now = &actions[kept.action];
    Foresight {
        lands: Share::from_si((now.probability.si() + mean(lands)).clamp(0.0, 1.0)),
        utility: Share::from_si(now.utility.si() + mean(gain)),
        changes: Share::from_si(mean(changes)),
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests;
