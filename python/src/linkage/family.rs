//! Many linkages packed for being asked together.

use std::hash::{DefaultHasher, Hash, Hasher};

use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple};
use wheelrate::linkage::{self, Axis};
use wheelrate::units::{Length, Quantity};

use super::{Linkage, LinkageCurve};
use crate::errors::run;
use crate::plain::Text;
use crate::units::shaped::GivenAny;
use crate::units::{GivenArray, Numbers};

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
    made_of: MadeOf,
    packed: linkage::LinkageFamily,
    reasons: Vec<Option<String>>,
}

/// What a family was made of: it is pickled and compared by that.
enum MadeOf {
    Linkages(Vec<Py<Linkage>>),
    /// One linkage, and columns of coordinates.
    Redrawn(Py<Linkage>, Vec<(String, Vec<Length>)>),
}

/// A column of places by its name, `point.x` or `point.z`.
fn coordinate((name, places): &(String, Vec<Length>)) -> Option<(&str, Axis, &[Length])> {
    let (point, axis) = name.rsplit_once('.')?;
    let axis = match axis {
        "x" => Axis::X,
        "z" => Axis::Z,
        _ => return None,
    };
    Some((point, axis, places))
}

#[pymethods]
impl Linkage {
    /// Many linkages like this one, its shock with them, each with its own place for some coordinates of the drawing; made in
    /// one call on all cores, each checked as a linkage drawn alone is.
    ///
    /// Parameters
    /// ----------
    /// coordinates : dict of array of length
    ///     By ``point.x`` or ``point.z``: one place for each linkage.
    ///
    /// Returns
    /// -------
    /// LinkageFamily
    ///     A linkage that cannot be made gives NaN, and its ``reasons`` say why.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> linkage = wr.demo().rear.linkage
    /// >>> family = linkage.redrawn({"link_frame.z": ([-102, -98, -94, 900], "mm")})
    /// >>> print(family.at("100 mm").motion_ratio.round(3))
    /// [0.381 0.377 0.372 nan] dimensionless
    /// >>> family.reasons[0] is None, "shock" in family.reasons[3]
    /// (True, True)
    #[pyo3(signature = (coordinates: "dict[str, ArrayLike]"))]
    fn redrawn(slf: &Bound<'_, Self>, coordinates: &Bound<'_, PyDict>) -> PyResult<LinkageFamily> {
        redrawn(slf.py(), slf.clone().unbind(), coordinates)
    }
}

/// Linkages like one, redrawn at columns of places.
fn redrawn(py: Python<'_>, base: Py<Linkage>, columns: &Bound<'_, PyDict>) -> PyResult<LinkageFamily> {
    let mut places = Vec::with_capacity(columns.len());
    for (name, column) in columns {
        let Text(name) = name.extract()?;
        let column = column.extract::<GivenArray<'_, Length>>()?.read(&name)?;
        if coordinate(&(name.clone(), Vec::new())).is_none() {
            let found = format!("`{name}` is no coordinate of a point: write `point.x` or `point.z`");
            return Err(crate::errors::raise(py, "LinkageError", (found,)));
        }
        places.push((name, column));
    }
    let made = run(py, || {
        let columns: Vec<_> = places.iter().filter_map(coordinate).collect();
        Ok::<_, wheelrate::Error>(linkage::LinkageFamily::redrawn(&base.get().0, &columns)?)
    })?;
    let reasons = made.reasons.into_iter().map(|reason| reason.map(|reason| reason.to_string())).collect();
    Ok(LinkageFamily { made_of: MadeOf::Redrawn(base, places), packed: made.family, reasons })
}

impl LinkageFamily {
    pub(super) fn packed(&self) -> &linkage::LinkageFamily {
        &self.packed
    }

    /// One travel for all, or one for each.
    pub(super) fn travels(&self, travel: &Bound<'_, PyAny>) -> PyResult<Vec<Length>> {
        let count = self.packed.len();
        let given = travel.extract::<GivenAny<'_, Length>>()?.read("travel")?;
        given.row_of(count).map_err(|shape| {
            let shape: Vec<String> = shape.iter().map(ToString::to_string).collect();
            let found =
                format!("travel: {} travels for {count} linkages; give one, or one for each", shape.join(" × "));
            crate::errors::raise(travel.py(), "LinkageError", (found,))
        })
    }
}

#[pymethods]
impl LinkageFamily {
    #[new]
    fn new(py: Python<'_>, linkages: Vec<Py<Linkage>>) -> PyResult<Self> {
        let packed = run(py, || {
            Ok::<_, wheelrate::Error>(linkage::LinkageFamily::new(linkages.iter().map(|linkage| &linkage.get().0)))
        })?;
        let reasons = vec![None; linkages.len()];
        Ok(Self { made_of: MadeOf::Linkages(linkages), packed, reasons })
    }
    /// All at one travel, or each at its own: one entry per linkage.
    fn at(&self, py: Python<'_>, travel: &Bound<'_, PyAny>) -> PyResult<LinkageCurve> {
        let travels = self.travels(travel)?;
        run(py, || Ok::<_, wheelrate::Error>(self.packed.at_each(&travels))).map(LinkageCurve)
    }
    /// The linkages, in their order; ``None`` for one that could not be made.
    #[getter]
    fn linkages(&self, py: Python<'_>) -> PyResult<Vec<Option<Py<Linkage>>>> {
        match &self.made_of {
            MadeOf::Linkages(linkages) => Ok(linkages.iter().map(|linkage| Some(linkage.clone_ref(py))).collect()),
            MadeOf::Redrawn(base, columns) => {
                let one = |row: usize| {
                    let places = columns.iter().filter_map(coordinate).map(|(point, axis, at)| (point, axis, at[row]));
                    let made = base.get().0.with_coordinates(&places.collect::<Vec<_>>());
                    made.ok().map(|linkage| Py::new(py, Linkage(linkage))).transpose()
                };
                (0..self.packed.len()).map(one).collect()
            }
        }
    }
    /// Why a linkage could not be made, for each; ``None`` for one that was.
    #[getter]
    fn reasons(&self) -> Vec<Option<&str>> {
        self.reasons.iter().map(Option::as_deref).collect()
    }
    fn __len__(&self) -> usize {
        self.packed.len()
    }
    fn __repr__(&self) -> String {
        format!("LinkageFamily(<{} linkages>)", self.packed.len())
    }
    fn __eq__(&self, other: &Self) -> bool {
        self.packed == other.packed
    }
    fn __hash__(&self) -> u64 {
        let mut hasher = DefaultHasher::new();
        self.packed.len().hash(&mut hasher);
        if let MadeOf::Linkages(linkages) = &self.made_of {
            for linkage in linkages {
                crate::value::hash(&linkage.get().0).hash(&mut hasher);
            }
        }
        hasher.finish()
    }
    #[pyo3(signature = () -> "tuple[object, tuple[object, ...]]")]
    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, Bound<'py, PyTuple>)> {
        match &self.made_of {
            MadeOf::Linkages(_) => Ok((py.get_type::<Self>().into_any(), (self.linkages(py)?,).into_pyobject(py)?)),
            MadeOf::Redrawn(base, columns) => {
                let places = PyDict::new(py);
                for (name, column) in columns {
                    let metres = Numbers(column.iter().map(|place| place.si()).collect());
                    places.set_item(name, (metres, "m"))?;
                }
                let make = py.get_type::<Linkage>().getattr("redrawn")?;
                Ok((make, (base.clone_ref(py), places).into_pyobject(py)?))
            }
        }
    }
}
