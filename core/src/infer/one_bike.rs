//! Do the file and the readings belong to one bike?
//!
//! A reading that is wrong leaves, once it is left out, readings that agree and springs that their label explains. Where it
//! does not, the wrong thing is in the file, and blaming a reading sends a person to the tape for nothing. The suspects are
//! then tried one by one: what each would have to be is left free, or its mistake undone, everything is solved again, and
//! they are ranked by how well the readings agree then. Pivots cannot be tried; they come before every suspect that leaves
//! the readings at odds.

use std::sync::Arc;

use crate::infer::finding::{Finding, Suspect};
use crate::infer::posterior::{Evidence, Posterior, RATE};
use crate::infer::probability::chi_square_exceeds;
use crate::infer::solved::Solved;

/// A test that fires this seldom by chance is worth a warning.
pub(crate) const BY_CHANCE: f64 = 0.01;
/// Standard deviations of the label that springs may be off it by before another explanation is due.
const EXPLAINED_BY_LABEL: f64 = 3.5;
/// Spread of a rate whose label is doubted, and how many of it are still a matter of the label: a quarter of the rate.
const DOUBTED_LABEL: (f64, f64) = (0.1, 2.5);
/// More readings than this that are wrong at once are not to be blamed.
const MOST_WRONG: usize = 2;
/// Factor on what is known of loads, label or preload that leaves it free.
const FREE: f64 = 30.0;

/// Do readings and labels agree, and are the springs what their label says?
pub(crate) fn is_plausible(evidence: &Evidence, posterior: &Posterior) -> bool {
    agreement(evidence, posterior) >= BY_CHANCE && posterior.unknowns[RATE].abs() < EXPLAINED_BY_LABEL
}

/// Probability of as much disagreement or more by chance.
fn agreement(evidence: &Evidence, posterior: &Posterior) -> f64 {
    chi_square_exceeds(posterior.cost, evidence.degrees())
}

/// The finding, where no few readings explain what is wrong; `agreement_found` is that of what was solved.
pub(crate) fn not_one_bike(solved: &Solved, agreement_found: f64) -> Option<Finding> {
    // With nothing taken as found, what was solved is what is asked for.
    if solved.faults.found.is_empty() && agreement_found >= BY_CHANCE {
        return None;
    }
    let evidence = solved.evidence.without_found();
    let posterior = evidence.solve(&[]).ok();
    if posterior.as_ref().is_some_and(|posterior| agreement(&evidence, posterior) >= BY_CHANCE) {
        return None;
    }
    if explained_by_label(&evidence) || explained_by_few(&evidence) {
        return None;
    }
    let (chi_square, probability) =
        posterior.map_or((f64::INFINITY, 0.0), |posterior| (posterior.cost, agreement(&evidence, &posterior)));
    Some(Finding::NotOneBike { chi_square, degrees: evidence.degrees(), probability, suspects: suspects(&evidence) })
}

/// Springs that are not what their label says are a matter of the label alone.
fn explained_by_label(evidence: &Evidence) -> bool {
    let mut doubted = evidence.clone();
    doubted.priors.rate = doubted.priors.rate.max(DOUBTED_LABEL.0);
    let posterior = doubted.solve(&[]);
    posterior
        .is_ok_and(|found| agreement(&doubted, &found) >= BY_CHANCE && found.unknowns[RATE].abs() < DOUBTED_LABEL.1)
}

/// Leaving out one reading after the other, the worst first: do the others agree before too many are out?
fn explained_by_few(evidence: &Evidence) -> bool {
    let mut left = evidence.clone();
    for _ in 0..MOST_WRONG {
        let without = |at: usize| {
            let mut without = left.clone();
            without.observations.remove(at);
            let posterior = without.solve(&[]).ok()?;
            Some((without, posterior))
        };
        let tried = (0..left.observations.len()).filter_map(without);
        let Some((next, posterior)) = tried.min_by(|(_, one), (_, other)| one.cost.total_cmp(&other.cost)) else {
            return false;
        };
        if is_plausible(&next, &posterior) {
            return true;
        }
        left = next;
    }
    false
}

/// The likeliest first.
fn suspects(evidence: &Evidence) -> Vec<Suspect> {
    let tried = |suspect: Suspect, change: &dyn Fn(&mut Evidence)| {
        let mut changed = evidence.clone();
        change(&mut changed);
        let agreement = changed.solve(&[]).map_or(0.0, |posterior| agreement(&changed, &posterior));
        (suspect, agreement)
    };
    let mut ranked = vec![
        tried(Suspect::Scales, &|changed| Arc::make_mut(&mut changed.loads).root *= FREE),
        tried(Suspect::LabelUnits, &|changed| changed.priors.rate = 1.0),
        tried(Suspect::Preload, &|changed| changed.priors.preload *= FREE),
        tried(Suspect::SettledSwapped, &|changed| changed.observations.iter_mut().for_each(|one| one.side = -one.side)),
        (Suspect::Pivots, BY_CHANCE),
    ];
    ranked.sort_by(|(_, one), (_, other)| other.total_cmp(one));
    ranked.into_iter().map(|(suspect, _)| suspect).collect()
}

#[cfg(all(test, feature = "serde"))]
mod tests;
