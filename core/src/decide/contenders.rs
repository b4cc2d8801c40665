//! Which springs may be the best one: what the readings leave open of it.
//!
//! The spring with the most utility is the best bet, and yet another one may be the best: nobody knows before the bike is known.
//! Were everything known that the readings leave open, every spring had one utility at its best setting. These are drawn from
//! the posterior ([`foresight`](super::foresight)), and springs are named, the best bet first and each next one for what it
//! adds, until with [`SURELY`] one of them is the best or as good. More readings make the list shorter.
//!
//! `min |S| : P(max_{s ∈ S} U(s) > max U − tie) ≥ 97 %`, taken one by one (greedy: a set that covers the most is not always
//! found by adding to a smaller one, but a spring and its neighbours in rate are).

use crate::Result;
use crate::decide::adviser::Adviser;
use crate::decide::chances::Chances;
use crate::decide::choice::Weighed;
use crate::decide::foresight::is_in_question;
use crate::decide::verdict::{Act, Action};
use crate::units::{Quantity, SpringRate};

/// Chance that one of the springs named is the best, or as good.
const SURELY: f64 = 0.97;
/// Share of every variance that is left when all is known: probabilities then still have slopes that a search can follow.
const LEFT: f64 = 0.01;

impl Adviser {
    /// Springs of which one is the best or as good, the best bet first.
    pub(crate) fn contenders(&self, weighed: &[Weighed], actions: &[Action], tie: f64) -> Result<Vec<SpringRate>> {
        let fitted = weighed.iter().find(|weighed| weighed.choice.is_fitted).map(|weighed| weighed.choice.rate);
        let rate = |action: &Action| match action.act {
            Act::Fit { rate } => Some(rate),
            Act::Leave | Act::Turn { .. } => fitted,
            Act::Measure | Act::Service => None,
        };
        let most = actions.iter().map(|action| action.probability.si()).fold(0.0, f64::max);
        let mut springs: Vec<SpringRate> = Vec::new();
        for action in actions {
            let Some(found) = rate(action) else { continue };
            let in_question = springs.is_empty() || is_in_question(action, most);
            if in_question && !springs.contains(&found) {
                springs.push(found);
            }
        }
        let actions: Vec<Action> =
            actions.iter().filter(|action| rate(action).is_some_and(|rate| springs.contains(&rate))).copied().collect();
        let place = |action: &Action| springs.iter().position(|spring| Some(*spring) == rate(action)).unwrap_or(0);
        let places: Vec<usize> = actions.iter().map(place).collect();
        let known = &self.solved().posterior.covariance * LEFT;
        let lineup = self.lineup(&known, weighed, &actions, Chances::height_of_best)?;
        // Which springs would do, each time that everything comes out otherwise.
        let mut does: Vec<bool> = Vec::new();
        lineup.each_best(tie, |best_ones| {
            let from = does.len();
            does.resize(from + springs.len(), false);
            places.iter().zip(best_ones).for_each(|(place, is)| does[from + place] |= is);
        });
        Ok(cover(&does, springs.len()).into_iter().map(|place| springs[place]).collect())
    }
}

/// Columns of which one is true in all but a few rows: the first, then each time the one that is in most of the rows left.
fn cover(does: &[bool], columns: usize) -> Vec<usize> {
    if does.is_empty() || columns == 0 {
        return Vec::new();
    }
    let mut left: Vec<&[bool]> = does.chunks_exact(columns).collect();
    let few = (1.0 - SURELY) * left.len() as f64;
    let mut named = Vec::new();
    let mut next = 0;
    // Each column at most once.
    for _ in 0..columns {
        named.push(next);
        left.retain(|row| !row[next]);
        if left.len() as f64 <= few {
            return named;
        }
        let adds = |column: usize| left.iter().filter(|row| row[column]).count();
        // The better bet of two that add as much.
        match (0..columns).rev().max_by_key(|column| adds(*column)) {
            Some(most) if adds(most) > 0 => next = most,
            _ => return named,
        }
    }
    named
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn springs_are_named_until_one_does_in_97_of_100() {
        // The first does in 60, the second in 30 of the others, the third in 8 more, the fourth in the last 2.
        let row = |at: usize| {
            let one = [60, 90, 98, 100].iter().position(|most| at < *most).unwrap_or(0);
            (0..4).map(move |column| column == one)
        };
        let does: Vec<bool> = (0..100).flat_map(row).collect();
        assert_eq!(cover(&does, 4), [0, 1, 2]);
        assert_eq!(cover(&does[..4 * 60], 4), [0]);
        // The better bet of two that are true in the same rows.
        assert_eq!(cover(&[false, true, true, true, false, false], 3), [0, 1]);
        assert!(cover(&[], 3).is_empty());
        // Where none does in what is left, no more are named.
        assert_eq!(cover(&[true, false, false, true, false, false], 2), [0, 1]);
        assert_eq!(cover(&[true, false, false, false], 2), [0]);
        assert_eq!(cover(&[false, false], 2), [0]);
    }
}
