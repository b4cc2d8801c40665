//! Coordinates from a photograph.

use pyo3::prelude::*;
use pyo3::types::PyDict;
use wheelrate::linkage;
use wheelrate::units::Length;

use super::pair;
use crate::errors::run;
use crate::plain::Text;
use crate::units::{GivenArray, Out, OutArray};
use crate::value::{Named, getters};

/// A photograph, taken square on, with its scale and rotation from two known points.
///
/// Parameters
/// ----------
/// first, second : tuple
///     Pixel (right, down) and position (x forward, z up) of a known point.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> photograph = wr.Photograph(((2140, 1210), ["0 mm", "0 mm"]), ((990, 1540), ["-575 mm", "-165 mm"]))
/// >>> print(photograph.pixel.round(3), photograph.at((2008, 1406)).round(1))
/// 0.5 millimeter [-66.0 -98.0] millimeter
#[pyclass(module = "wheelrate", frozen, eq, weakref)]
#[derive(Clone, PartialEq)]
pub(crate) struct Photograph {
    core: linkage::Photograph,
    known: [Known; 2],
}

/// Pixel and position.
type Known = ([f64; 2], [Length; 2]);
/// As a caller writes it.
type KnownText = ((f64, f64), [String; 2]);
type GivenPoint<'py> = ((f64, f64), GivenArray<'py, Length>);

getters! {
    Photograph {
        /// Length that one pixel stands for.
        pixel: Out<Length> = |photograph| Out(photograph.core.pixel());
    }
}

#[pymethods]
impl Photograph {
    #[new]
    #[pyo3(signature = (first: "tuple[tuple[float, float], wheelrate.typing.ArrayLike]", second: "tuple[tuple[float, float], wheelrate.typing.ArrayLike]"))]
    fn new(py: Python<'_>, first: GivenPoint<'_>, second: GivenPoint<'_>) -> PyResult<Self> {
        let known = |((right, down), at): GivenPoint<'_>, argument: &str| -> PyResult<Known> {
            Ok(([right, down], pair(py, at.read(argument)?, argument)?))
        };
        let known = [known(first, "first[1]")?, known(second, "second[1]")?];
        let core = run(py, || linkage::Photograph::new(known[0], known[1]))?;
        Ok(Self { core, known })
    }
    /// Position of a pixel (right, down): x forward and z up.
    fn at(&self, py: Python<'_>, pixel: (f64, f64)) -> PyResult<OutArray<Length>> {
        run(py, || self.core.at([pixel.0, pixel.1])).map(|at| OutArray(at.to_vec()))
    }
    /// Positions of many pixels by name, as `Mechanism` takes its points.
    #[pyo3(signature = (pixels: "dict[str, tuple[float, float]]"))]
    fn points(&self, pixels: &Bound<'_, PyDict>) -> PyResult<Named<OutArray<Length>>> {
        let point = |(name, pixel): (Bound<'_, PyAny>, Bound<'_, PyAny>)| {
            Ok((name.extract::<Text>()?.0, self.at(name.py(), pixel.extract()?)?))
        };
        pixels.iter().map(point).collect::<PyResult<_>>().map(Named)
    }
    #[pyo3(signature = () -> "tuple[object, ...]")]
    fn __getnewargs__(&self) -> (KnownText, KnownText) {
        let [first, second] = self.known.map(|([right, down], at)| ((right, down), at.map(wheelrate::units::to_text)));
        (first, second)
    }
    fn __hash__(&self) -> u64 {
        crate::value::hash(&self.known)
    }
    fn __repr__(&self) -> String {
        let [first, second] = self.known.map(|([right, down], at)| {
            let [x, z] = at.map(wheelrate::units::to_text);
            format!("(({right}, {down}), ['{x}', '{z}'])")
        });
        format!("Photograph({first}, {second})")
    }
}
