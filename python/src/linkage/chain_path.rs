//! What leads a chain.

use pyo3::prelude::*;
use wheelrate::linkage::{self, Passes};
use wheelrate::units::{Length, to_text};

use super::pair;
use crate::errors::raise;
use crate::plain::Text;
use crate::units::{Given, GivenArray, Out, OutArray};
use crate::value::getters;

/// A wheel in the frame that leads the upper run of a chain.
///
/// Parameters
/// ----------
/// centre : pair of lengths
///     Its centre in the frame axes.
/// radius : length
///     Its pitch radius; of a smooth roller, its radius with half the chain's height.
/// passes : {"over", "under"}
///     Where the chain passes.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> idler = wr.Idler(["-20 mm", "60 mm"], "30 mm", "over")
/// >>> chain = wr.Sprockets(["88 mm", "4 mm"], (13, 49), "15.875 mm", idler=idler)
/// >>> chain.idler.radius.m
/// 30.0
#[pyclass(module = "wheelrate", frozen, eq, weakref, from_py_object)]
#[derive(Clone, PartialEq)]
pub(crate) struct Idler(pub(crate) linkage::Idler);

getters! {
    Idler {
        /// Its centre in the frame axes.
        centre: OutArray<Length> = |idler| OutArray(idler.0.centre.to_vec());
        /// Its pitch radius.
        radius: Out<Length> = |idler| Out(idler.0.radius);
        /// ``over`` or ``under``.
        passes: &'static str = |idler| match idler.0.passes {
            Passes::Over => "over",
            Passes::Under => "under",
        };
    }
}

#[pymethods]
impl Idler {
    #[new]
    fn new(py: Python<'_>, centre: GivenArray<'_, Length>, radius: Given<'_, Length>, passes: Text) -> PyResult<Self> {
        let passes = match &*passes {
            "over" => Passes::Over,
            "under" => Passes::Under,
            found => {
                let message = format!("passes: found `{found}`, wanted `over` or `under`");
                return Err(raise(py, "BikeError", (message,)));
            }
        };
        let centre = pair(py, centre.read("centre")?, "centre")?;
        Ok(Self(linkage::Idler { centre, radius: radius.read("radius")?, passes }))
    }
    fn __getnewargs__(&self) -> ([String; 2], String, &'static str) {
        (self.0.centre.map(to_text), to_text(self.0.radius), self.passes())
    }
    fn __hash__(&self) -> u64 {
        crate::value::hash(&self.0)
    }
    pub(crate) fn __repr__(&self) -> String {
        let ([x, z], radius, passes) = self.__getnewargs__();
        format!("Idler(['{x}', '{z}'], '{radius}', '{passes}')")
    }
}
