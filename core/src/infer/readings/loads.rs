//! The distinct loads of an end, and how well and how jointly they are known.
//!
//! `cov(W_i, W_j) = g²·(Σ u² of the masses in both + u²)`, the last for the unsprung mass and a bias of the scales: every load
//! shares the bike.

use nalgebra::DMatrix;

use crate::Result;
use crate::error::SetupError;
use crate::infer::doubts::Doubts;
use crate::infer::posterior::{Loads, MOST_LOADS};
use crate::mass::Masses;
use crate::record::{End, Load};
use crate::units::Quantity;

pub(super) fn same_load(one: &Load, other: &Load) -> bool {
    let (one, other) = (one.names(), other.names());
    one.len() == other.len() && (one == other || one.iter().all(|name| other.contains(name)))
}

/// The loads other than none, each once, lightest first.
pub(super) fn distinct_loads<'a>(end: End, all: impl Iterator<Item = &'a Load>, masses: &Masses) -> Result<Vec<Load>> {
    let mut loads: Vec<(f64, Load)> = Vec::new();
    for load in all.filter(|load| **load != Load::None) {
        if !loads.iter().any(|(_, known)| same_load(known, load)) {
            loads.push((masses.sprung_load(end, load)?.value.si(), load.clone()));
        }
    }
    not_too_many(end, loads.len())?;
    loads.sort_by(|one, other| one.0.total_cmp(&other.0).then_with(|| one.1.cmp(&other.1)));
    Ok(loads.into_iter().map(|(_, load)| load).collect())
}

pub(super) fn not_too_many(end: End, found: usize) -> Result<()> {
    if found > MOST_LOADS {
        return Err(SetupError::TooManyLoads { end, found, most: MOST_LOADS }.into());
    }
    Ok(())
}

/// Means and covariance root of the loads.
pub(crate) fn load_law(end: End, loads: &[Load], masses: &Masses, doubts: &Doubts) -> Result<Loads> {
    let mut mean = Vec::with_capacity(loads.len());
    for load in loads {
        mean.push(masses.sprung_load(end, load)?.value.si());
    }
    let known = MassLaw::new(end, masses, doubts)?;
    let gravity = masses.gravity().si();
    let shared = |i: usize, j: usize| {
        let (left, right) = (loads[i].names(), loads[j].names());
        let in_both = |name: &str| left.iter().any(|one| one == name) && right.iter().any(|one| one == name);
        known.shared(in_both, true) * gravity.powi(2)
    };
    let covariance = DMatrix::from_fn(loads.len(), loads.len(), shared);
    Ok(Loads { mean, unsprung: known.unsprung.sqrt() * gravity, root: semidefinite_root(&covariance) })
}

/// Covariance between loads of two states of a bike, by the masses that are the same in both.
pub(crate) fn shared_law(
    end: End,
    [(masses, loads), (masses_before, loads_before)]: [(&Masses, &Vec<Load>); 2],
    is_same: impl Fn(&str) -> bool,
    same_unsprung: bool,
    doubts: &Doubts,
) -> Result<DMatrix<f64>> {
    let known = MassLaw::new(end, masses, doubts)?;
    let gravities = masses.gravity().si() * masses_before.gravity().si();
    Ok(DMatrix::from_fn(loads.len(), loads_before.len(), |row, column| {
        let (left, right) = (loads[row].names(), loads_before[column].names());
        let has = |names: &[String], name: &str| names.iter().any(|other| other == name);
        known.shared(|name| has(left, name) && has(right, name) && is_same(name), same_unsprung) * gravities
    }))
}

/// Variances (kg²) of what makes up the loads of an end.
struct MassLaw<'a> {
    each: Vec<(&'a str, f64)>,
    unsprung: f64,
    bias: f64,
}

impl<'a> MassLaw<'a> {
    fn new(end: End, masses: &'a Masses, doubts: &Doubts) -> Result<Self> {
        let mut each = Vec::with_capacity(masses.named().len());
        for (name, _) in masses.named() {
            let day = if name == Load::BIKE { 0.0 } else { doubts.rider * masses.share(name)?.at(end).si() };
            each.push((name.as_str(), masses.uncertainty_at(end, name).si().powi(2) + day.powi(2)));
        }
        let guessed = doubts.unsprung * masses.unsprung().at(end).si();
        let unsprung = match masses.assumed_unsprung() {
            Some(assumed) => assumed.at(end).si().powi(2),
            None => masses.scale_uncertainty().si().powi(2) + guessed.powi(2),
        };
        Ok(Self { each, unsprung, bias: doubts.scale_bias.powi(2) })
    }

    /// Of what two loads have in common.
    fn shared(&self, in_both: impl Fn(&str) -> bool, unsprung: bool) -> f64 {
        let common = if unsprung { self.unsprung } else { 0.0 };
        let both = self.each.iter().filter(|(name, _)| in_both(name));
        common + self.bias + both.map(|(_, variance)| variance).sum::<f64>()
    }
}

/// Lower-triangular `R` with `R·Rᵀ = C`, for a covariance that may be singular: four loads can be sums of three masses.
pub(crate) fn semidefinite_root(covariance: &DMatrix<f64>) -> DMatrix<f64> {
    /// A pivot below this share of its variance is rounding.
    const NOTHING_LEFT: f64 = 1e-12;
    let size = covariance.nrows();
    let mut root = DMatrix::<f64>::zeros(size, size);
    for column in 0..size {
        let left = covariance[(column, column)] - root.row(column).norm_squared();
        if left <= NOTHING_LEFT * covariance[(column, column)] {
            continue;
        }
        let pivot = left.sqrt();
        for row in column..size {
            let known = root.row(row).dot(&root.row(column));
            root[(row, column)] = if row == column { pivot } else { (covariance[(row, column)] - known) / pivot };
        }
    }
    root
}
