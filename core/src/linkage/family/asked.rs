//! What a family is asked: every linkage at one travel each, in columns.

use super::{LinkageFamily, Pack};
use crate::error::LinkageError;
use crate::linkage::block::{Block, Results};
use crate::linkage::columns::{Columns, LinkageColumn, row};
use crate::linkage::curve::LinkageCurve;
use crate::parallel;
use crate::units::{Length, Quantity};

/// Packs that go through the same memory one after the other.
const PIECE: usize = 8;

impl LinkageFamily {
    /// Every linkage at one travel; NaN in every column but `travel` for one that does not have it.
    #[must_use]
    pub fn at(&self, travel: Length) -> LinkageCurve {
        self.at_each(&vec![travel; self.count])
    }

    /// Every linkage at a travel of its own, in the order of the linkages; travels beyond their number are not looked at,
    /// and a linkage without one gives NaN.
    #[must_use]
    pub fn at_each(&self, travels: &[Length]) -> LinkageCurve {
        let mut curve = LinkageCurve::default();
        curve.fill_at(self.own(travels), |travels, columns| self.over(travels, &mut columns.named()));
        curve
    }

    /// As [`at_each`](Self::at_each), only the columns that are wanted, each written once into memory of the caller's own: as
    /// bare numbers in SI units, for arrays of other languages.
    ///
    /// # Errors
    /// [`LinkageError::Column`] for one that is not as long as the linkages are many; nothing is written then.
    pub fn columns_into(
        &self,
        travels: &[Length],
        columns: &mut [(LinkageColumn, &mut [f64])],
    ) -> Result<(), LinkageError> {
        LinkageColumn::check(columns, self.count)?;
        self.over(&self.own(travels), columns);
        Ok(())
    }

    /// Every linkage at its own travel, in SI units: the columns in the order of their places.
    pub(super) fn bare(&self, travels: &[f64]) -> [Vec<f64>; 6] {
        let mut bare = [(); 6].map(|()| vec![0.0; self.count]);
        let [stroke, motion_ratio, slope, axle_x, axle_z, axle_slope] = &mut bare;
        let mut columns = Columns { stroke, motion_ratio, slope, axle_x, axle_z, axle_slope, axle_curvature: &mut [] };
        self.over(travels, &mut columns.named());
        bare
    }

    /// A travel for each; NaN where there is none.
    fn own(&self, travels: &[Length]) -> Vec<f64> {
        let mut own: Vec<f64> = travels.iter().take(self.count).map(|travel| travel.si()).collect();
        own.resize(self.count, f64::NAN);
        own
    }

    /// Every linkage at its own travel, into columns as long as the linkages are many.
    fn over(&self, travels: &[f64], columns: &mut [(LinkageColumn, &mut [f64])]) {
        let pieces: Vec<&[Pack]> = self.packs.chunks(PIECE).collect();
        let found = parallel::each(&pieces, |packs| {
            let slots = packs.iter().map(|pack| pack.plan.slots).max().unwrap_or(0);
            let mut blocks = vec![Block::ZERO; slots];
            packs.iter().map(|pack| pack.at(travels, &mut blocks)).collect::<Vec<Results>>()
        });
        for (column, to) in columns.iter_mut() {
            let Some(of) = column.place() else {
                to.copy_from_slice(travels);
                continue;
            };
            for (pack, found) in self.packs.iter().zip(found.iter().flatten()) {
                put_rows(&pack.places, found.row(of), to);
            }
            for &place in &self.refused {
                to[place] = f64::NAN;
            }
        }
        for (place, motion) in &self.alone {
            let found = motion.has(travels[*place]).then(|| row(&motion.at(travels[*place])));
            for (column, to) in columns.iter_mut() {
                if let Some(of) = column.place() {
                    to[*place] = found.map_or(f64::NAN, |row| row[of]);
                }
            }
        }
    }
}

/// What each linkage has found, put at its place.
pub(super) fn put_rows(places: &[usize], found: &[f64], to: &mut [f64]) {
    let count = places.len();
    match (places.first(), places.last()) {
        // In rising order, so that they lie side by side.
        (Some(&first), Some(&last)) if last + 1 - first == count => {
            to[first..=last].copy_from_slice(&found[..count]);
        }
        _ => places.iter().zip(found).for_each(|(&place, found)| to[place] = *found),
    }
}
