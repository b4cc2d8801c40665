//! What drives the rear wheel.

use pyo3::prelude::*;
use pyo3::types::IntoPyDict;
use wheelrate::units::{Length, to_text};
use wheelrate::wheel;

use crate::errors::{raise, run};
use crate::linkage::{Idler, pair};
use crate::plain::{integer, whole};
use crate::units::{Given, GivenArray, Out, OutArray};
use crate::value::{Arguments, getters};

/// Both sprockets of a chain.
///
/// Parameters
/// ----------
/// front_centre : pair of lengths
///     Centre of the front sprocket in the frame axes.
/// teeth : pair of int
///     Of the front and the rear sprocket.
/// pitch : length
///     Of the chain, pin to pin.
/// idler : Idler, optional
///     What leads the upper run.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> bike = wr.demo()
/// >>> taller = wr.Sprockets(["88 mm", "4 mm"], (14, 49), "15.875 mm")
/// >>> other = wr.RearEnd(bike.rear.linkage, bike.rear.shock, final_drive=taller)
/// >>> other == bike.rear
/// False
#[pyclass(module = "wheelrate", frozen, eq, weakref, from_py_object)]
#[derive(Clone, PartialEq)]
pub(crate) struct Sprockets(wheel::Sprockets);

getters! {
    Sprockets {
        /// Centre of the front sprocket in the frame axes.
        front_centre: OutArray<Length> = |sprockets| OutArray(sprockets.0.front_centre().to_vec());
        /// Teeth of the front and the rear sprocket.
        teeth: (u32, u32) = |sprockets| sprockets.0.teeth().into();
        /// Pitch of the chain.
        pitch: Out<Length> = |sprockets| Out(sprockets.0.pitch());
        /// Pitch radii of the front and the rear sprocket.
        radii: OutArray<Length> = |sprockets| OutArray(sprockets.0.radii().to_vec());
        /// What leads the upper run; None where nothing does.
        idler: Option<Idler> = |sprockets| sprockets.0.idler().map(Idler);
    }
}

#[pymethods]
impl Sprockets {
    #[new]
    #[pyo3(signature = (front_centre, teeth: "tuple[SupportsIndex, SupportsIndex]", pitch, *, idler=None))]
    fn new(
        py: Python<'_>,
        front_centre: GivenArray<'_, Length>,
        teeth: (Bound<'_, PyAny>, Bound<'_, PyAny>),
        pitch: Given<'_, Length>,
        idler: Option<Idler>,
    ) -> PyResult<Self> {
        let centre = pair(py, front_centre.read("front_centre")?, "front_centre")?;
        let pitch = pitch.read("pitch")?;
        let (front, rear) = (integer(&teeth.0)?, integer(&teeth.1)?);
        let teeth = [whole(py, "teeth[0]", front)?, whole(py, "teeth[1]", rear)?];
        run(py, || {
            let sprockets = wheel::Sprockets::new(centre, teeth, pitch)?;
            idler.map_or(Ok(sprockets), |idler| sprockets.with_idler(idler.0))
        })
        .map(Self)
    }
    #[pyo3(signature = () -> "tuple[tuple[object, ...], dict[str, object]]")]
    fn __getnewargs_ex__<'py>(&self, py: Python<'py>) -> PyResult<Arguments<'py, Drawn>> {
        let named = [("idler", self.idler())].into_py_dict(py)?;
        Ok(((self.0.front_centre().map(to_text), self.teeth(), to_text(self.0.pitch())), named))
    }
    fn __hash__(&self) -> u64 {
        crate::value::hash(&self.0)
    }
    fn __repr__(&self) -> String {
        let ([x, z], (front, rear)) = (self.0.front_centre().map(to_text), self.teeth());
        let idler = self.idler().map(|idler| format!(", idler={}", idler.__repr__())).unwrap_or_default();
        format!("Sprockets(['{x}', '{z}'], ({front}, {rear}), '{}'{idler})", to_text(self.0.pitch()))
    }
}

/// Where the front sprocket stands, teeth and pitch, as text.
type Drawn = ([String; 2], (u32, u32), String);

/// A final drive as Python names it.
#[derive(FromPyObject, IntoPyObject)]
pub(crate) enum FinalDrive {
    Chain(Sprockets),
    Named(String),
}

impl FinalDrive {
    pub(super) fn read(self, py: Python<'_>) -> PyResult<wheel::FinalDrive> {
        match self {
            Self::Chain(sprockets) => Ok(wheel::FinalDrive::Chain(sprockets.0)),
            Self::Named(name) if name == "shaft" => Ok(wheel::FinalDrive::Shaft),
            Self::Named(name) => {
                let message = format!("final_drive: found `{name}`, wanted Sprockets or `shaft`");
                Err(raise(py, "BikeError", (message,)))
            }
        }
    }
}

impl From<wheel::FinalDrive> for FinalDrive {
    fn from(drive: wheel::FinalDrive) -> Self {
        match drive {
            wheel::FinalDrive::Chain(sprockets) => Self::Chain(Sprockets(sprockets)),
            wheel::FinalDrive::Shaft => Self::Named("shaft".to_owned()),
        }
    }
}
