//! What a linkage is asked: motion at one travel and at many, positions, progression.

use std::borrow::Borrow;

use super::block::ALONE;
use super::columns::Columns;
use super::family::at_once;
use super::{Kernel, Linkage, LinkageColumn, LinkageCurve, LinkageNote, LinkagePoint, notes};
use crate::error::LinkageError;
use crate::units::{Length, Quantity, Share};

impl Linkage {
    /// `s(z)`, `MR = ds/dz`, `dMR/dz` and the axle at one travel.
    ///
    /// # Errors
    /// [`LinkageError::OutOfTravel`].
    pub fn at(&self, travel: Length) -> Result<LinkagePoint, LinkageError> {
        self.check_travel(travel)?;
        Ok(LinkagePoint::from_kernel(travel.si(), &self.kernel(travel.si())))
    }

    /// As [`Linkage::at`] over many travels.
    ///
    /// # Errors
    /// [`LinkageError::OutOfTravel`] for the first travel outside the range.
    pub fn curve(&self, travels: &[Length]) -> Result<LinkageCurve, LinkageError> {
        let mut curve = LinkageCurve::default();
        self.curve_into(travels, &mut curve)?;
        Ok(curve)
    }

    /// As [`Linkage::curve`], into a curve whose memory is used again.
    ///
    /// # Errors
    /// [`LinkageError::OutOfTravel`]; the curve is left as it was.
    pub fn curve_into(&self, travels: &[Length], curve: &mut LinkageCurve) -> Result<(), LinkageError> {
        self.check_travels(travels)?;
        curve.fill(&self.motion, travels);
        Ok(())
    }

    /// As [`Linkage::curve`], only the columns that are wanted, each written once into memory of the caller's own: as bare
    /// numbers in SI units, for arrays of other languages.
    ///
    /// # Errors
    /// [`LinkageError::OutOfTravel`], and [`LinkageError::Column`] for one that is not as long as the travels; nothing is
    /// written then.
    pub fn columns_into(
        &self,
        travels: &[Length],
        columns: &mut [(LinkageColumn, &mut [f64])],
    ) -> Result<(), LinkageError> {
        self.check_travels(travels)?;
        LinkageColumn::check(columns, travels.len())?;
        let travels: Vec<f64> = travels.iter().map(|travel| travel.si()).collect();
        self.motion.chosen(&travels, columns);
        Ok(())
    }

    /// Many linkages at one travel in one pass, whatever their arrangements.
    pub(crate) fn all_at<L: Borrow<Self> + Sync>(linkages: &[L], travel: Length) -> Result<LinkageCurve, LinkageError> {
        let mut curve = LinkageCurve::default();
        curve.fill_at(vec![travel.si(); linkages.len()], |_, columns| at_once(linkages, travel.si(), columns));
        // Only a linkage that does not have the travel gives no number: looking at the results is a pass without a jump.
        let missing = curve.stroke.iter().filter(|stroke| stroke.si().is_nan()).count();
        if missing > 0 {
            linkages.iter().try_for_each(|linkage| linkage.borrow().check_travel(travel))?;
        }
        Ok(curve)
    }

    /// Evenly spaced travels over the whole range, both ends included.
    #[must_use]
    pub fn travels(&self, count: usize) -> Vec<Length> {
        let last = count.saturating_sub(1).max(1) as f64;
        (0..count).map(|at| Length::from_si(self.motion.full_travel * (at as f64 / last))).collect()
    }

    /// Positions of all points at one travel, by name, in the order of the mechanism.
    ///
    /// # Errors
    /// [`LinkageError::OutOfTravel`].
    pub fn pose(&self, travel: Length) -> Result<Vec<(&str, [Length; 2])>, LinkageError> {
        self.check_travel(travel)?;
        let (_, slots) = self.whole.settled(travel.si());
        let at = |point: usize| {
            let state = self.whole.bound.operand(point).map(|operand| operand.state(&slots));
            state.map(|state| (self.mechanism.point_name(point), state.p.map(Length::from_si)))
        };
        Ok((0..self.mechanism.point_count()).filter_map(at).collect())
    }

    /// Progression `MR(to)/MR(from) − 1` over an interval of travel.
    ///
    /// # Errors
    /// [`LinkageError::OutOfTravel`], [`LinkageError::EmptyInterval`].
    pub fn progression_between(&self, from: Length, to: Length) -> Result<Share, LinkageError> {
        self.check_travel(from)?;
        self.check_travel(to)?;
        if from >= to {
            return Err(LinkageError::EmptyInterval { from, to });
        }
        Ok(Share::from_si(self.kernel(to.si()).motion_ratio / self.kernel(from.si()).motion_ratio - 1.0))
    }

    /// Progression `MR_end/MR_start − 1` over the whole travel.
    #[must_use]
    pub fn progression(&self) -> Share {
        let end = self.kernel(self.motion.full_travel).motion_ratio;
        Share::from_si(end / self.kernel(0.0).motion_ratio - 1.0)
    }

    /// What a tuner should know about the motion ratio: falling parts and turning points. Empty when it only rises.
    #[must_use]
    pub fn notes(&self) -> Vec<LinkageNote> {
        notes::notes(self.motion.full_travel, |travel| self.kernel(travel).slope)
    }

    /// Everything at one travel within the range, in SI units.
    pub(crate) fn kernel(&self, travel: f64) -> Kernel<f64> {
        self.motion.at(travel)
    }

    /// The same at many travels: in blocks, bit for bit as one by one.
    pub(crate) fn kernels(&self, travels: &[Length]) -> Vec<Kernel<f64>> {
        if travels.len() <= ALONE {
            return travels.iter().map(|travel| self.kernel(travel.si())).collect();
        }
        let at: Vec<f64> = travels.iter().map(|travel| travel.si()).collect();
        let mut columns = vec![0.0; 7 * at.len()];
        let mut parts = columns.chunks_exact_mut(at.len());
        let [stroke, motion_ratio, slope, axle_x, axle_z, axle_slope, axle_curvature] =
            [(); 7].map(|()| parts.next().unwrap_or_default());
        self.motion.over(&at, &mut Columns { stroke, motion_ratio, slope, axle_x, axle_z, axle_slope, axle_curvature });
        let column = |of: usize, row: usize| columns.get(of * at.len() + row).copied().unwrap_or(f64::NAN);
        let kernel = |row: usize| Kernel {
            stroke: column(0, row),
            motion_ratio: column(1, row),
            slope: column(2, row),
            axle: [column(3, row), column(4, row)],
            axle_slope: column(5, row),
            axle_curvature: column(6, row),
        };
        (0..at.len()).map(kernel).collect()
    }

    /// The first of many that is outside the range, looked for only where one is: counting them is a pass without a branch.
    fn check_travels(&self, travels: &[Length]) -> Result<(), LinkageError> {
        let outside = travels.iter().filter(|travel| !self.motion.has(travel.si())).count();
        if outside == 0 { Ok(()) } else { travels.iter().try_for_each(|&travel| self.check_travel(travel)) }
    }

    pub(crate) fn check_travel(&self, travel: Length) -> Result<(), LinkageError> {
        if self.motion.has(travel.si()) {
            Ok(())
        } else {
            Err(LinkageError::OutOfTravel { found: travel, full: self.full_travel() })
        }
    }
}
