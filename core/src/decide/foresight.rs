//! What further readings would do to the decision, before they are taken (preposterior analysis; Raiffa & Schlaifer,
//! *Applied Statistical Decision Theory*, 1961, ch. 5).
//!
//! In the linear-normal model readings that narrow the covariance from `C` to `C′` move the estimates by a normal amount
//! of covariance `C − C′`: that much is known now. For each such move every action has another utility, its setting chosen
//! anew, and the best of them is taken. Against it stands what is best now, carried out as it is: its average over all moves
//! is what it is now, so that only the gain of choosing anew is drawn, and that is never below zero.
//!
//! Fails with the normal posterior (see [`crate::infer::posterior`]), and leaves the misreadings out that a fit would find.

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
use crate::infer::posterior::Posterior;
use crate::infer::probability::Roughly;
use crate::infer::readings::semidefinite_root;
use crate::infer::solved::{Derived, Solved};
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
    fn probability(&self, aim: &Aim, [first, second]: [f64; 2]) -> f64 {
        match self {
            Self::Left { sags: [rider, free], spread, rough } => {
                rough.probability([(rider + first, spread.rider), (free + second, spread.free)], [aim.rider, aim.free])
            }
            Self::Set { lands, reach } => {
                let last = (NODES - 1) as f64;
                let place = if *reach > 0.0 { ((first / reach + 1.0) * 0.5 * last).clamp(0.0, last) } else { 0.0 };
                let (below, above) = (lands[place.floor() as usize], lands[place.ceil() as usize]);
                below + (above - below) * place.fract()
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
    /// The moves that are drawn, each followed by its mirror image.
    fn moves(&self) -> impl Iterator<Item = Vec<f64>> {
        let count = self.root.nrows();
        let mut random = Xoshiro256PlusPlus::seed_from_u64(SEED);
        let mut normal = vec![0.0; count];
        (0..2 * DRAWS).map(move |draw| {
            if draw % 2 == 0 {
                normal.iter_mut().for_each(|number| *number = StandardNormal.sample(&mut random));
            } else {
                normal.iter_mut().for_each(|number| *number = -*number);
            }
            (0..count).map(|row| (0..=row).map(|k| self.root[(row, k)] * normal[k]).sum::<f64>()).collect()
        })
    }

    /// Probability that an action lands, its setting chosen anew after a move.
    fn probability(&self, place: usize, moves: &[f64]) -> f64 {
        self.seen[place].probability(&self.aim, [moves[2 * place], moves[2 * place + 1]])
    }

    /// Utility of every action, each time that everything comes out otherwise.
    pub(crate) fn utilities(&self) -> impl Iterator<Item = Vec<f64>> {
        let of = |moves: &[f64], place: usize| self.probability(place, moves) - self.prices[place];
        self.moves().map(move |moves| (0..self.seen.len()).map(|place| of(&moves, place)).collect())
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
        let later = Solved {
            posterior: Posterior { covariance: narrowed.clone(), ..self.solved().posterior.clone() },
            ..self.solved().clone()
        };
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
                    let chances = Chances::new(&later, &set.setting, &set.change);
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
                    let spread = spread(&later, rider, free);
                    let rough = Roughly::new(spread.correlation);
                    seen.push(Seen::Left { sags: [rider.value, free.value], spread, rough });
                    rows.extend([&rider.gradient[..], &free.gradient[..]]);
                }
            }
        }
        let covariance = DMatrix::from_fn(rows.len(), rows.len(), |i, j| shared(&gained, rows[i], rows[j]));
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
        let mut last = LastTops::default();
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

fn spread(solved: &Solved, rider: &Derived, free: &Derived) -> Pair {
    let deviation = |of: &Derived| solved.covariance(&of.gradient, &of.gradient).max(0.0).sqrt();
    let (of_rider, of_free) = (deviation(rider), deviation(free));
    let both = (of_rider * of_free).max(f64::MIN_POSITIVE);
    let correlation = (solved.covariance(&rider.gradient, &free.gradient) / both).clamp(-1.0, 1.0);
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
    for moves in lineup.moves() {
        let as_it_is = kept.probability(seen, aim, &moves);
        let (mut best, mut chosen, mut probability) = (as_it_is - prices[kept.action], kept.action, as_it_is);
        for (place, price) in prices.iter().enumerate() {
            let then = lineup.probability(place, &moves);
            if then - price > best {
                (best, chosen, probability) = (then - price, place, then);
            }
        }
        gain += best - (as_it_is - prices[kept.action]);
        lands += probability - as_it_is;
        changes += f64::from(chosen != kept.action);
    }
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
