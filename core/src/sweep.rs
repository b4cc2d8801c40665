//! Many designs at once, on all cores (feature `rayon`; one after the other without it). Results keep the order of the
//! designs and are the same, to the last bit, on any number of cores.
//!
//! A [`Sweep`] is data: [axes](SweepAxis), each an address of the bike file with the values that are put there; a [`Scheme`] that says
//! which designs are made of them; [outputs](Output) by name. A design is known by its index alone, so that any stretch of a
//! sweep can be worked out on any machine, and again.
//!
//! **What a design is.** The bike as [`Bike::what_if`](crate::Bike::what_if) has it: nothing that was read is fitted on a bike it
//! was not read on. Each end is solved once, on the bike that was read, and what was found is carried into every design.
//!
//! **What it costs.** Only what an axis touches is built anew; what no axis touches is worked out once. A design that fails
//! has NaN for what it lacks, and a reason; it stops nothing.
//!
//! **Where it fails.** A carried fit is as good as the fit: a design far from the bike that was read is as uncertain as the
//! labels of what was changed, which `rider_sag_uncertainty` and the chances hold and plain travels do not.

#[cfg(feature = "serde")]
mod answers;
#[cfg(feature = "serde")]
mod axis;
#[cfg(feature = "serde")]
mod chunk;
#[cfg(feature = "serde")]
mod designs;
#[cfg(feature = "serde")]
mod making;
#[cfg(feature = "serde")]
mod output;
#[cfg(feature = "serde")]
mod scheme;

#[cfg(feature = "serde")]
pub use axis::{Levels, SweepAxis, kind_at};
#[cfg(feature = "serde")]
pub use chunk::{Chunk, Column, Values};
#[cfg(feature = "serde")]
pub use designs::Sweep;
#[cfg(feature = "serde")]
pub use output::Output;
#[cfg(feature = "serde")]
pub use scheme::Scheme;

use std::borrow::Borrow;

use crate::Result;
use crate::linkage::{Linkage, LinkageCurve, LinkagePoint};
use crate::units::Length;

pub use crate::parallel::each;

/// Every linkage over the same travels.
///
/// # Errors
/// The first linkage (in order) that has not all the travels: [`crate::error::LinkageError::OutOfTravel`].
pub fn curves(linkages: &[Linkage], travels: &[Length]) -> Result<Vec<LinkageCurve>> {
    each(linkages, |linkage| linkage.curve(travels)).into_iter().map(|curve| Ok(curve?)).collect()
}

/// Every linkage at one travel. For the same linkages at many travels pack a [`LinkageFamily`](crate::linkage::LinkageFamily) once.
///
/// # Errors
/// As [`curves`].
pub fn points(linkages: &[Linkage], travel: Length) -> Result<Vec<LinkagePoint>> {
    let found = together(linkages, travel)?;
    Ok((0..found.len()).map(|at| found.point(at)).collect())
}

/// As [`points`], in columns: linkages or references to them, of any arrangements, which are sorted by the way that they are solved
/// and packed as they come.
///
/// # Errors
/// As [`curves`].
pub fn together<L: Borrow<Linkage> + Sync>(linkages: &[L], travel: Length) -> Result<LinkageCurve> {
    Ok(Linkage::all_at(linkages, travel)?)
}

#[cfg(all(test, feature = "serde"))]
mod tests;

#[cfg(test)]
mod of_linkages {
    use super::*;
    use crate::error::{Error, LinkageError};
    use crate::linkage::tests::arrangements::{mm, rocker_on_swingarm};

    fn family() -> Vec<Linkage> {
        let moved = |step: u32| rocker_on_swingarm().moved("link_frame", [-66.0, -98.0 + 0.05 * f64::from(step)]);
        each(&(0..200).collect::<Vec<u32>>(), |&step| moved(step).linkage().unwrap())
    }

    #[test]
    fn order_and_bits_are_those_of_one_core() {
        let linkages = family();
        let travel = mm(120.0);
        let together = points(&linkages, travel).unwrap();
        let one_by_one: Vec<LinkagePoint> = linkages.iter().map(|linkage| linkage.at(travel).unwrap()).collect();
        assert_eq!(together, one_by_one);
        let travels = linkages[0].travels(50);
        let shortest = travels.iter().copied().filter(|&z| z < mm(290.0)).collect::<Vec<_>>();
        assert_eq!(curves(&linkages, &shortest).unwrap()[7], linkages[7].curve(&shortest).unwrap());
    }

    #[test]
    fn the_first_fault_is_reported() {
        let error = points(&family(), mm(400.0)).unwrap_err();
        assert!(matches!(error, Error::Linkage(LinkageError::OutOfTravel { .. })), "{error}");
    }
}
