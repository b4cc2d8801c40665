//! Many designs at once, on all cores.

pub(crate) mod designs;

use pyo3::prelude::*;
use wheelrate::linkage as core;
use wheelrate::sweep::each;
use wheelrate::units::{Length, Quantity};

use crate::errors::run;
use crate::linkage::{Linkage, LinkageCurve};
use crate::units::{Given, GivenArray};

/// Many linkages at one travel, on all cores.
///
/// Parameters
/// ----------
/// linkages : list of Linkage
///     In any number.
/// travel : length
///     From full extension of each.
///
/// Returns
/// -------
/// LinkageCurve
///     One entry per linkage.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> linkage = wr.demo().rear.linkage
/// >>> longer = linkage.with_link_length("link", "176 mm")
/// >>> wr.sweep_points([linkage, longer], "100 mm").motion_ratio.shape
/// (2,)
#[pyfunction]
pub(crate) fn sweep_points(
    py: Python<'_>,
    linkages: Vec<Py<Linkage>>,
    travel: Given<'_, Length>,
) -> PyResult<LinkageCurve> {
    let travel = travel.read("travel")?;
    run(py, || {
        let linkages = drawn(&linkages);
        if let Some(short) =
            linkages.iter().find(|linkage| linkage.full_travel() < travel || travel < Length::from_si(0.0))
        {
            short.at(travel)?;
        }
        Ok::<_, wheelrate::Error>(core::LinkageFamily::new(linkages).at(travel))
    })
    .map(LinkageCurve)
}

/// Many linkages over the same travels, on all cores.
///
/// Parameters
/// ----------
/// linkages : list of Linkage
///     In any number.
/// travels : array of length
///     From full extension of each.
///
/// Returns
/// -------
/// list of LinkageCurve
///     In the order of the linkages.
#[pyfunction]
pub(crate) fn sweep_curves(
    py: Python<'_>,
    linkages: Vec<Py<Linkage>>,
    travels: GivenArray<'_, Length>,
) -> PyResult<Vec<LinkageCurve>> {
    let travels = travels.read("travels")?;
    let curves = run(py, || {
        let curves = each(&drawn(&linkages), |linkage| linkage.curve(&travels));
        curves.into_iter().collect::<Result<Vec<_>, _>>()
    })?;
    Ok(curves.into_iter().map(LinkageCurve).collect())
}

fn drawn(linkages: &[Py<Linkage>]) -> Vec<&core::Linkage> {
    linkages.iter().map(|linkage| &linkage.get().0).collect()
}
