//! Many linkages packed for being asked together.

use std::hash::{DefaultHasher, Hash, Hasher};

use pyo3::prelude::*;
use wheelrate::linkage;
use wheelrate::units::Length;

use super::{Linkage, LinkageCurve};
use crate::errors::run;
use crate::units::{Given, GivenArray};

/// Many linkages, packed once for being asked together at one travel each.
///
/// Linkages that are solved in the same order lie side by side, so that a processor works on several at once. The results
/// are those of ``linkage.at(travel)``, to the last bit. A linkage that does not have the travel gives NaN.
///
/// Parameters
/// ----------
/// linkages : list of Linkage
///     In any number and of any arrangement.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> linkage = wr.demo().rear.linkage
/// >>> family = wr.LinkageFamily([linkage, linkage.with_link_length("link", "176 mm")])
/// >>> len(family), family.at("100 mm").motion_ratio.shape
/// (2, (2,))
#[pyclass(module = "wheelrate", frozen, weakref)]
pub(crate) struct LinkageFamily {
    linkages: Vec<Py<Linkage>>,
    packed: linkage::LinkageFamily,
}

#[pymethods]
impl LinkageFamily {
    #[new]
    fn new(py: Python<'_>, linkages: Vec<Py<Linkage>>) -> PyResult<Self> {
        let packed = run(py, || {
            Ok::<_, wheelrate::Error>(linkage::LinkageFamily::new(linkages.iter().map(|linkage| &linkage.get().0)))
        })?;
        Ok(Self { linkages, packed })
    }
    /// All at one travel, or each at its own: one entry per linkage.
    fn at(&self, py: Python<'_>, travel: &Bound<'_, PyAny>) -> PyResult<LinkageCurve> {
        let count = self.packed.len();
        let travels = match travel.extract::<Given<'_, Length>>().and_then(|given| given.read("travel")) {
            Ok(travel) => vec![travel; count],
            Err(_) => travel.extract::<GivenArray<'_, Length>>()?.read("travel")?,
        };
        if travels.len() != count {
            let found = format!("travel: {} travels for {count} linkages; give one, or one for each", travels.len());
            return Err(crate::errors::raise(py, "LinkageError", (found,)));
        }
        run(py, || Ok::<_, wheelrate::Error>(self.packed.at_each(&travels))).map(LinkageCurve)
    }
    /// The linkages, in their order.
    #[getter]
    fn linkages(&self, py: Python<'_>) -> Vec<Py<Linkage>> {
        self.linkages.iter().map(|linkage| linkage.clone_ref(py)).collect()
    }
    fn __len__(&self) -> usize {
        self.linkages.len()
    }
    fn __repr__(&self) -> String {
        format!("LinkageFamily(<{} linkages>)", self.linkages.len())
    }
    fn __eq__(&self, other: &Self) -> bool {
        self.packed == other.packed
    }
    fn __hash__(&self) -> u64 {
        let mut hasher = DefaultHasher::new();
        for linkage in &self.linkages {
            crate::value::hash(&linkage.get().0).hash(&mut hasher);
        }
        hasher.finish()
    }
    #[pyo3(signature = () -> "tuple[object, tuple[list[Linkage]]]")]
    fn __reduce__<'py>(&self, py: Python<'py>) -> (Bound<'py, PyAny>, (Vec<Py<Linkage>>,)) {
        (py.get_type::<Self>().into_any(), (self.linkages(py),))
    }
}
