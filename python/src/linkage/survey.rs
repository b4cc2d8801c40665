//! Pivots from photographs.

use pyo3::prelude::*;
use pyo3::types::{IntoPyDict, PyDict};
use wheelrate::linkage::{self, Picture};
use wheelrate::units::{Length, to_text};

use super::sensitivity::UncertainCurve;
use super::{Linkage, pair};
use crate::errors::{raise, run};
use crate::plain::Text;
use crate::units::{Given, GivenArray, Out, OutArray, plain, read_optional};
use crate::value::{Arguments, Named, getters};

/// Points by name with their pixels: right and down.
type Pixels = Vec<(String, [f64; 2])>;

/// Points surveyed from photographs, taken from anywhere: one homography a picture, all points at once, with their covariance.
///
/// Parameters
/// ----------
/// known : dict of str to pair of lengths
///     Points measured by hand, x forward and z up: four at least in every picture, no three in a line. Pivots among them count.
/// pictures : list of dict of str to pair of floats
///     Of each picture the pixels (right, down) of its points by name, known ones and others.
/// known_uncertainty : length, optional
///     Standard uncertainty of each coordinate of a known point; 1 mm unless given.
/// pixel_uncertainty : float, optional
///     Standard uncertainty of each coordinate of a pixel, in pixels; 2 unless given.
/// sizes : list of (pair of floats or None), optional
///     Width and height of each picture: then its lens may bend, by some per cent at the corner. Lenses that do not unless given.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> survey = wr.Survey(
/// ...     {"pivot": ["0 mm", "0 mm"], "axle": ["-575 mm", "-165 mm"], "top": ["-100 mm", "329 mm"], "rack": ["-560 mm", "300 mm"]},
/// ...     [{"pivot": (2140, 1210), "axle": (990, 1540), "top": (1940, 552), "rack": (1020, 610), "link": (2008, 1406)}],
/// ... )
/// >>> print(survey.points["link"].round(0), survey.uncertainty("link").round(1))
/// [-66.0 -98.0] millimeter [2.0 2.0] millimeter
#[pyclass(module = "wheelrate", frozen, eq, weakref, from_py_object)]
#[derive(Clone, PartialEq)]
pub(crate) struct Survey {
    pub(crate) core: linkage::Survey,
    parts: linkage::SurveyParts,
}

getters! {
    Survey {
        /// Names of the points, those known by hand first.
        names: Vec<String> = |survey| survey.core.names().to_vec();
        /// Positions by name, as `Mechanism` takes its points: x forward and z up.
        points: Named<OutArray<Length>> = |survey| {
            Named(survey.core.points().into_iter().map(|(name, at)| (name, OutArray(at.to_vec()))).collect())
        };
        /// Root mean square of the standard uncertainties of all coordinates: for the one number that a bike file holds.
        coordinate_uncertainty: Out<Length> = |survey| Out(survey.core.coordinate_uncertainty());
        /// How far off the readings are over what was said of them; much above one, a point was misread or is not in the plane. None
        /// where nothing is left over to see it by.
        misfit: Option<f64> = |survey| survey.core.misfit();
        /// Distortion of each picture at its corner, as a share of the way from the middle; None where its size was not given.
        distortion: Vec<Option<f64>> = |survey| survey.core.distortion().to_vec();
        /// Covariance of all coordinates in m², x and z of each point in the order of the names.
        covariance: Vec<Vec<f64>> = |survey| {
            let covariance = survey.core.covariance();
            covariance.chunks(2 * survey.core.names().len().max(1)).map(<[f64]>::to_vec).collect()
        };
    }
}

/// The points that are known, and the pixels of each picture.
type Seen<'py> = (Bound<'py, PyDict>, Vec<Bound<'py, PyDict>>);

#[pymethods]
impl Survey {
    #[new]
    #[pyo3(signature = (
        known: "dict[str, wheelrate.typing.ArrayLike]",
        pictures: "list[dict[str, tuple[float, float]]]",
        *,
        known_uncertainty=None,
        pixel_uncertainty: "float" = 2.0,
        sizes: "list[tuple[float, float] | None] | None" = None,
    ))]
    fn new(
        py: Python<'_>,
        known: &Bound<'_, PyDict>,
        pictures: Vec<Bound<'_, PyDict>>,
        known_uncertainty: Option<Given<'_, Length>>,
        #[pyo3(from_py_with = plain::pixel_uncertainty)] pixel_uncertainty: f64,
        sizes: Option<Vec<Option<(f64, f64)>>>,
    ) -> PyResult<Self> {
        let read = |(name, at): (Bound<'_, PyAny>, Bound<'_, PyAny>)| {
            let Text(name) = name.extract()?;
            let argument = format!("known[{name:?}]");
            let at = pair(py, at.extract::<GivenArray<'_, Length>>()?.read(&argument)?, &argument)?;
            Ok((name, at))
        };
        let sizes = sizes.unwrap_or_else(|| vec![None; pictures.len()]);
        if sizes.len() != pictures.len() {
            let message = format!("sizes: found {}, wanted one for each of {} pictures", sizes.len(), pictures.len());
            return Err(raise(py, "LinkageError", (message,)));
        }
        let picture = |(pixels, size): (Bound<'_, PyDict>, Option<(f64, f64)>)| {
            let pixel = |(name, at): (Bound<'_, PyAny>, Bound<'_, PyAny>)| {
                let (right, down): (f64, f64) = at.extract()?;
                Ok((name.extract::<Text>()?.0, [right, down]))
            };
            let pixels: Pixels = pixels.iter().map(pixel).collect::<PyResult<_>>()?;
            Ok(Picture { pixels, size: size.map(|(width, height)| [width, height]) })
        };
        let parts = linkage::SurveyParts {
            known: known.iter().map(read).collect::<PyResult<_>>()?,
            known_uncertainty: read_optional(known_uncertainty, "known_uncertainty")?
                .unwrap_or(wheelrate::units::Quantity::from_si(1e-3)),
            pixel_uncertainty,
            pictures: pictures.into_iter().zip(sizes).map(picture).collect::<PyResult<_>>()?,
        };
        let core = run(py, || linkage::Survey::new(&parts))?;
        Ok(Self { core, parts })
    }
    /// Standard uncertainties of the coordinates of a point, x and z; None for one that is not in the survey.
    fn uncertainty(&self, name: Text) -> Option<OutArray<Length>> {
        self.core.uncertainty(&name).map(|both| OutArray(both.to_vec()))
    }
    #[pyo3(signature = () -> "tuple[tuple[object, ...], dict[str, object]]")]
    fn __getnewargs_ex__<'py>(&self, py: Python<'py>) -> PyResult<Arguments<'py, Seen<'py>>> {
        let parts = &self.parts;
        let known = parts.known.iter().map(|(name, at)| (name, at.map(to_text))).into_py_dict(py)?;
        let pixels = |picture: &Picture| {
            picture.pixels.iter().map(|(name, [right, down])| (name, (*right, *down))).into_py_dict(py)
        };
        let pictures = parts.pictures.iter().map(pixels).collect::<PyResult<Vec<_>>>()?;
        let named = [("known_uncertainty", to_text(parts.known_uncertainty))].into_py_dict(py)?;
        named.set_item("pixel_uncertainty", parts.pixel_uncertainty)?;
        let sizes: Vec<Option<(f64, f64)>> =
            parts.pictures.iter().map(|picture| picture.size.map(|[width, height]| (width, height))).collect();
        named.set_item("sizes", sizes)?;
        Ok(((known, pictures), named))
    }
    fn __hash__(&self) -> u64 {
        crate::value::hash(&self.parts)
    }
    fn __repr__(&self) -> String {
        let spread = wheelrate::units::show(self.core.coordinate_uncertainty(), "mm", 2);
        let pictures = self.parts.pictures.len();
        format!("Survey({} points, {pictures} pictures, ±{spread} a coordinate)", self.core.names().len())
    }
}

#[pymethods]
impl Linkage {
    /// The curve with the uncertainty that surveyed pivots give it, all their correlations in it (JCGM 100:2008, 5.2.2).
    ///
    /// Parameters
    /// ----------
    /// survey : Survey
    ///     Its points by the names of this linkage's; points that are not in it are exact.
    /// shock_length : length, optional
    ///     Standard uncertainty of the shock's length; known exactly unless given.
    /// travels : array of length, optional
    ///     From full extension; evenly over the whole range unless given.
    ///
    /// Returns
    /// -------
    /// UncertainCurve
    #[pyo3(signature = (survey, shock_length=None, travels=None))]
    fn with_surveyed_pivots(
        &self,
        py: Python<'_>,
        survey: Survey,
        shock_length: Option<Given<'_, Length>>,
        travels: Option<GivenArray<'_, Length>>,
    ) -> PyResult<UncertainCurve> {
        let shock_length = read_optional(shock_length, "shock_length")?.unwrap_or_default();
        let travels = self.travels(travels)?;
        run(py, || self.0.with_surveyed_pivots(&travels, &survey.core, shock_length)).map(UncertainCurve)
    }
}
