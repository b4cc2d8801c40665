//! What was found of an end, carried into a changed bike.
//!
//! The unknowns of the changed end come from those before the change by a linear map, `x′ = A·x + c + e`: what was kept goes
//! over in its own units (a friction in newtons, whatever the prior of the changed end says is likely), the loads through
//! `R′·u′ = W − W̄′`, and `e` is a standard normal number for all that the change touched. Then `x̄′ = A·x̄ + c` and
//! `C′ = A·C·Aᵀ + cov(e)`.

use std::sync::Arc;

use nalgebra::{DMatrix, DVector};

use super::{Study, asked, of_gathered};
use crate::Result;
use crate::bike::Bike;
use crate::infer::fit::Solved;
use crate::infer::posterior::{FRICTION, LOADS, PRELOAD, RATE};
use crate::infer::readings::Gathered;
use crate::record::End;
use crate::wheel::Wheel;

/// What a change has left alone at one end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Kept {
    /// The springs: what their rate is off the label by stays.
    pub rate: bool,
    /// The springs were not taken out: what the preload is off by stays, though a collar may have been turned.
    pub preload: bool,
    /// Seals, bushes and bearings.
    pub friction: bool,
    /// What was weighed.
    pub loads: bool,
    /// The way from wheel to shock.
    pub way: bool,
}

impl Kept {
    /// What two bikes have in common at one end, as far as can be seen from them. A spring of the same label is taken for the
    /// same spring, and for one that stayed in its place.
    #[must_use]
    pub fn between(before: &Bike, after: &Bike, end: End) -> Self {
        let springs = |bike: &Bike| {
            let main = bike.end(end).ok()?.main_spring()?;
            Some(main.each.into_iter().map(|(rate, _)| rate).collect::<Vec<_>>())
        };
        let same_springs = springs(before) == springs(after);
        let friction = |bike: &Bike| bike.end(end).ok().map(Wheel::friction);
        Self {
            rate: same_springs,
            preload: same_springs,
            friction: friction(before) == friction(after),
            loads: before.masses().ok() == after.masses().ok(),
            way: before.stated_path(end).ok() == after.stated_path(end).ok(),
        }
    }
}

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
        self.carried_keeping(changed, Kept::between(&self.bike, changed, self.end()))
    }

    /// [`carried`](Self::carried), where it is known what the change left alone.
    ///
    /// # Errors
    /// As [`carried`](Self::carried).
    pub fn carried_keeping(&self, changed: &Bike, kept: Kept) -> Result<Self> {
        let (end, measuring) = (self.end(), self.measuring);
        let stated = changed.end_model(end, measuring.direction)?;
        // A way that was left alone stands where the readings had put it.
        let way = changed.stated_path(end)?.map(Arc::new);
        let model = stated.on(if kept.way { self.model.path.clone() } else { way });
        let masses = changed.masses()?;
        let gathered = Gathered::new(end, &model, &[], &measuring, masses, &asked(changed, end, &[])?)?;
        let mut after = of_gathered(changed, end, &model, gathered)?;
        let before = if kept.loads { self.with_loads(&after.gathered.loads)? } else { self.clone() };
        after.carry(&before.solved, kept);
        let source = Some(Arc::new(self.clone()));
        Ok(Self { bike: changed.clone(), measuring, model, solved: Arc::new(after), source })
    }
}

impl Solved {
    /// Takes over what was kept of another solution.
    fn carry(&mut self, before: &Self, kept: Kept) {
        let count = self.posterior.unknowns.len();
        let mut map = DMatrix::zeros(count, before.posterior.unknowns.len());
        let mut constant = DVector::zeros(count);
        let mut fresh = DVector::from_element(count, 1.0);
        let (old, new) = (before.evidence.priors, self.evidence.priors);
        let mut keep = |unknown: usize, factor: f64| {
            map[(unknown, unknown)] = factor;
            fresh[unknown] = 0.0;
        };
        if kept.rate {
            keep(RATE, old.rate / new.rate);
        }
        if kept.preload {
            keep(PRELOAD, old.preload / new.preload);
        }
        if kept.friction {
            keep(FRICTION, old.friction.1 / new.friction.1);
            constant[FRICTION] = (old.friction.0 - new.friction.0) / new.friction.1;
        }
        if kept.loads {
            let root = &self.evidence.loads.root;
            for (row, load) in self.gathered.loads.iter().enumerate() {
                let (Some(known), true) = (before.gathered.place(load), root[(row, row)] > 0.0) else { continue };
                for k in 0..=known {
                    map[(LOADS + row, LOADS + k)] = before.evidence.loads.root[(known, k)];
                }
                for k in 0..row {
                    let (of_other, by) = (map.row(LOADS + k).into_owned(), root[(row, k)]);
                    let mut of_this = map.row_mut(LOADS + row);
                    of_this -= of_other * by;
                }
                map.row_mut(LOADS + row).scale_mut(1.0 / root[(row, row)]);
                fresh[LOADS + row] = 0.0;
            }
        }
        let (first, first_before) = (self.evidence.unknowns(), before.evidence.unknowns());
        if kept.way && count - first == before.posterior.unknowns.len() - first_before {
            for way in 0..count - first {
                map[(first + way, first_before + way)] = 1.0;
                fresh[first + way] = 0.0;
            }
        }
        let mean = &map * DVector::from_column_slice(&before.posterior.unknowns) + constant;
        self.posterior.covariance =
            &map * &before.posterior.covariance * map.transpose() + DMatrix::from_diagonal(&fresh);
        self.posterior.unknowns = mean.as_slice().to_vec();
        self.carried = Some(kept);
    }
}
