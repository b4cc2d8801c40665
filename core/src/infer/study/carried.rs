//! What was found of an end, carried into a changed bike.
//!
//! The unknowns of the changed end come from those before the change by a linear map, `x′ = A·x + c + e`, so that
//! `x̄′ = A·x̄ + c` and `C′ = A·C·Aᵀ + cov(e)`. What was kept goes over in its own units, and `e` stands for all that the change
//! touched, as uncertain as its label:
//!
//! - Springs share one factor and one offset, each weighed by the rate of its spring: with the share `w` of the rate kept,
//!   `a′ = w·a + (1 − w)·a_new` and `b′ = w·b + (1 − w)·b_new`. A collar that was turned changes neither.
//! - Friction is one force at the wheel, to which each leg gives what was stated of it, or an equal part:
//!   `f′ = w·f·MR′/MR + f_new`, with the motion ratios at a usual sag, because seals hold along the axis.
//! - Loads hang together by the masses in them. With `P = R′⁻¹·Σ′·R⁻ᵀ`, where `R·Rᵀ` is the covariance of the loads before,
//!   `R′·R′ᵀ` after, and `Σ′` between them by the masses that were left alone, `u′ = P·u + e` and `cov(e) = 1 − P·Pᵀ`.
//! - The way from wheel to spring is kept as a whole, or not at all; what was read off a measured spring stays while every spring does.
//!
//! The factor is carried to first order; what is left out of a factor within a tenth of 1 is under half a per cent of it.

use std::sync::Arc;

use nalgebra::{DMatrix, DVector};

use super::given::Given;
use super::{Study, asked};
use crate::Result;
use crate::bike::Bike;
use crate::infer::end::USUAL_SAG;
use crate::infer::kept::{FrictionShares, Kept, friction_shares, springs_kept};
use crate::infer::path::Path;
use crate::infer::posterior::{FRICTION, LOADS, PRELOAD, RATE};
use crate::infer::readings::{Gathered, shared_law};
use crate::infer::solved::Solved;
use crate::log::Between;
use crate::record::Load;

impl Study {
    /// What was found here, on a changed bike: as far as the change left it alone, with nothing read there.
    ///
    /// ```
    /// use wheelrate::{Bike, demo::PATROL, record::End};
    /// let study = Bike::from_toml(PATROL)?.study(End::Rear)?;
    /// // Two more turns of the collar: the spring is the same, and what its preload was off by stays.
    /// let turned = Bike::from_toml(&PATROL.replace("preload = \"14 mm\"", "preload = \"17 mm\""))?;
    /// let (before, after) = (study.fit(), study.carried(&turned)?.fit());
    /// assert_eq!(before.rate, after.rate);
    /// assert!(((after.preload.value - before.preload.value).value - 3e-3).abs() < 1e-12);
    /// # Ok::<(), wheelrate::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`Bike::study`], for the changed bike without its readings.
    pub fn carried(&self, changed: &Bike) -> Result<Self> {
        self.carried_over(changed, &Between::new(self.end(), &self.bike, changed), &[])
    }

    /// [`carried`](Self::carried) where the log says what differs, asked about more loads.
    pub(crate) fn carried_over(&self, changed: &Bike, between: &Between, more: &[Load]) -> Result<Self> {
        let (end, measuring) = (self.end(), changed.assumed().measuring(self.end()).unwrap_or(self.measuring));
        let doubts = self.solved.evidence.doubts;
        let stated = changed.end_model(end, measuring.direction)?;
        // A way that was left alone stands where the readings had put it.
        let way = changed.stated_path(end)?.map(Arc::new);
        let same_springs = !between.springs.contains(&true);
        let model = stated.on(match &self.model.path {
            _ if between.way => way,
            path if same_springs => path.clone(),
            path => Path::with_springs_of(path.as_deref(), way.as_deref()),
        });
        let masses = changed.masses()?;
        let gathered = Gathered::new(end, &model, &[], &measuring, masses, &asked(changed, end, more)?, &doubts)?;
        let given = Given::of_gathered(changed, Arc::new(model), measuring, (end, gathered), doubts)?;
        let mut solved = given.solved()?;
        let shared = shared_law(
            end,
            [(masses, &solved.gathered.loads), (self.bike.masses()?, &self.solved.gathered.loads)],
            |name| !between.masses.iter().any(|changed| changed == name),
            !between.unsprung,
            &doubts,
        )?;
        let friction = friction_shares(between, &self.bike, changed, end);
        // Of springs that stayed while the way was moved, what was read off them is drawn anew too.
        let kept = match &self.model.path {
            _ if between.way => 0,
            Some(path) if same_springs => path.at().len(),
            path => path.as_ref().map_or(0, |path| path.before_springs()),
        };
        solved.carry(&self.solved, springs_kept(between, changed, end), friction, &shared, kept);
        solved.carried = Some(Kept::of(between, &self.bike, changed, end));
        let source = Some(Arc::new(self.clone()));
        let model = given.model.as_ref().clone();
        Ok(Self { bike: changed.clone(), measuring, model, solved: Arc::new(solved), source })
    }
}

impl Solved {
    /// Takes over what was kept of another solution; `shared` is the covariance between the loads here and there, `ways` how many
    /// unknowns of the way are the same, from the first on.
    fn carry(&mut self, before: &Self, springs: f64, friction: FrictionShares, shared: &DMatrix<f64>, ways: usize) {
        let (count, count_before) = (self.posterior.unknowns.len(), before.posterior.unknowns.len());
        let (old, new) = (before.evidence.priors, self.evidence.priors);
        let mut map = DMatrix::zeros(count, count_before);
        let mut constant = DVector::zeros(count);
        let mut fresh = DMatrix::identity(count, count);
        let factor = (before.posterior.unknowns[RATE] * old.rate).exp();
        let whole = springs * factor + (1.0 - springs);
        map[(RATE, RATE)] = springs * factor / whole * old.rate / new.rate;
        constant[RATE] = (whole.ln() - springs * factor / whole * factor.ln()) / new.rate;
        fresh[(RATE, RATE)] = ((1.0 - springs) / whole).powi(2);
        map[(PRELOAD, PRELOAD)] = springs * old.preload / new.preload;
        fresh[(PRELOAD, PRELOAD)] = (1.0 - springs).powi(2);
        let kept = friction.kept * self.usual_ratio() / before.usual_ratio();
        map[(FRICTION, FRICTION)] = kept * old.friction.1 / new.friction.1;
        constant[FRICTION] = (kept * old.friction.0 - (1.0 - friction.new) * new.friction.0) / new.friction.1;
        fresh[(FRICTION, FRICTION)] = friction.new;
        let (first, first_before) = (self.evidence.unknowns(), before.evidence.unknowns());
        let (loads, loads_before) = (first - LOADS, first_before - LOADS);
        // R′⁻¹·Σ′·R⁻ᵀ.
        let half = solve_lower(&before.evidence.loads.root, &shared.transpose());
        let carried = solve_lower(&self.evidence.loads.root, &half.transpose());
        map.view_mut((LOADS, LOADS), (loads, loads_before)).copy_from(&carried);
        let left = DMatrix::identity(loads, loads) - &carried * carried.transpose();
        fresh.view_mut((LOADS, LOADS), (loads, loads)).copy_from(&left);
        for way in 0..ways {
            map[(first + way, first_before + way)] = 1.0;
            fresh[(first + way, first + way)] = 0.0;
        }
        let mean = &map * DVector::from_column_slice(&before.posterior.unknowns) + constant;
        self.posterior.covariance = &map * &before.posterior.covariance * map.transpose() + fresh;
        self.posterior.unknowns = mean.as_slice().to_vec();
    }

    /// Motion ratio about where a bike rides.
    fn usual_ratio(&self) -> f64 {
        let end = &self.evidence.end;
        end.kinematics(USUAL_SAG * end.full_travel()).map_or(1.0, |at| at.ratio)
    }
}

/// `L⁻¹·B` for a lower-triangular root; a row without a pivot says nothing new, and is zero.
fn solve_lower(root: &DMatrix<f64>, right: &DMatrix<f64>) -> DMatrix<f64> {
    let mut found = DMatrix::zeros(root.nrows(), right.ncols());
    for row in (0..root.nrows()).filter(|&row| root[(row, row)] > 0.0) {
        let known = root.view((row, 0), (1, row)) * found.view((0, 0), (row, right.ncols()));
        let left = (right.row(row) - known) / root[(row, row)];
        found.row_mut(row).copy_from(&left);
    }
    found
}
