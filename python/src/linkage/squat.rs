//! Chain line and squat.

use pyo3::prelude::*;
use pyo3::types::{IntoPyDict, PyDict};
use wheelrate::linkage;
use wheelrate::units::{Angle, Length, Share, to_text};

use super::{Idler, Linkage, pair};
use crate::errors::run;
use crate::plain::{integer, whole};
use crate::units::{Given, GivenArray, Numbers, Out, OutArray};
use crate::value::{getters, result_class, rows};

/// Sprockets, wheel and centre of gravity: what drive does to the rear suspension.
///
/// Parameters
/// ----------
/// front_centre : pair of lengths
///     Centre of the front sprocket in the drawing, x forward and z up.
/// front_radius, rear_radius : length
///     Pitch radii of the sprockets; `pitch_radius` gives them from teeth.
/// idler : Idler, optional
///     What leads the upper run: drive then pulls along the run from the rear sprocket to it.
/// wheel_radius : length
///     Of the rear wheel, axle to ground.
/// cg_height : length
///     Height of the centre of gravity above ground.
/// wheelbase : length
///     Contact to contact.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> drive = wr.ChainDrive(
/// ...     ["85 mm", "10 mm"], front_radius=wr.pitch_radius(13, "15.875 mm"), rear_radius=wr.pitch_radius(48, "15.875 mm"),
/// ...     wheel_radius="330 mm", cg_height="640 mm", wheelbase="1460 mm",
/// ... )
/// >>> squat = wr.demo().rear.linkage.squat(drive, ["100 mm"])
/// >>> print(f"{squat.anti_squat[0]:.0f~P}")
/// 105 %
#[pyclass(module = "wheelrate", frozen, eq, weakref, from_py_object)]
#[derive(Clone, PartialEq)]
pub(crate) struct ChainDrive(linkage::ChainDrive);

getters! {
    ChainDrive {
        /// Centre of the front sprocket in the frame axes.
        front_centre: OutArray<Length> = |drive| OutArray(drive.0.front_centre.to_vec());
        /// Pitch radius of the front sprocket.
        front_radius: Out<Length> = |drive| Out(drive.0.front_radius);
        /// Pitch radius of the rear sprocket.
        rear_radius: Out<Length> = |drive| Out(drive.0.rear_radius);
        /// What leads the upper run; None where nothing does.
        idler: Option<Idler> = |drive| drive.0.idler.map(Idler);
        /// Of the rear wheel, axle to ground.
        wheel_radius: Out<Length> = |drive| Out(drive.0.wheel_radius);
        /// Height of the centre of gravity above ground.
        cg_height: Out<Length> = |drive| Out(drive.0.cg_height);
        /// Contact to contact.
        wheelbase: Out<Length> = |drive| Out(drive.0.wheelbase);
    }
}

#[pymethods]
impl ChainDrive {
    #[new]
    #[pyo3(signature = (front_centre, *, front_radius, rear_radius, wheel_radius, cg_height, wheelbase, idler=None))]
    #[allow(clippy::too_many_arguments, reason = "sprockets, wheel and mass, once each")]
    fn new(
        py: Python<'_>,
        front_centre: GivenArray<'_, Length>,
        front_radius: Given<'_, Length>,
        rear_radius: Given<'_, Length>,
        wheel_radius: Given<'_, Length>,
        cg_height: Given<'_, Length>,
        wheelbase: Given<'_, Length>,
        idler: Option<Idler>,
    ) -> PyResult<Self> {
        Ok(Self(linkage::ChainDrive {
            front_centre: pair(py, front_centre.read("front_centre")?, "front_centre")?,
            front_radius: front_radius.read("front_radius")?,
            rear_radius: rear_radius.read("rear_radius")?,
            idler: idler.map(|idler| idler.0),
            wheel_radius: wheel_radius.read("wheel_radius")?,
            cg_height: cg_height.read("cg_height")?,
            wheelbase: wheelbase.read("wheelbase")?,
        }))
    }
    #[pyo3(signature = () -> "tuple[tuple[object, ...], dict[str, object]]")]
    fn __getnewargs_ex__<'py>(&self, py: Python<'py>) -> PyResult<(([String; 2],), Bound<'py, PyDict>)> {
        let named = self.named().into_py_dict(py)?;
        named.set_item("idler", self.idler())?;
        Ok(((self.0.front_centre.map(to_text),), named))
    }
    fn __hash__(&self) -> u64 {
        crate::value::hash(&self.0)
    }
    fn __repr__(&self) -> String {
        let [x, z] = self.0.front_centre.map(to_text);
        let mut named: Vec<String> = self.named().map(|(name, text)| format!("{name}='{text}'")).to_vec();
        named.extend(self.idler().map(|idler| format!("idler={}", idler.__repr__())));
        format!("ChainDrive(['{x}', '{z}'], {})", named.join(", "))
    }
}

impl ChainDrive {
    fn named(&self) -> [(&'static str, String); 5] {
        let drive = &self.0;
        let named = [
            ("front_radius", drive.front_radius),
            ("rear_radius", drive.rear_radius),
            ("wheel_radius", drive.wheel_radius),
            ("cg_height", drive.cg_height),
            ("wheelbase", drive.wheelbase),
        ];
        named.map(|(name, length)| (name, to_text(length)))
    }
}

result_class! {
    /// Chain line and squat over travel, as arrays of one length.
    Squat(Vec<linkage::Squat>) {
        /// Wheel travel from full extension, vertical.
        travel: OutArray<Length> = |squat| OutArray(squat.iter().map(|at| at.travel).collect());
        /// Rise, forward, of the line from the axle to the instant centre of its path; the swingarm's where there is one.
        swingarm_angle: OutArray<Angle> = |squat| OutArray(squat.iter().map(|at| at.swingarm_angle).collect());
        /// Rise, forward, of the upper run of the chain.
        chain_angle: OutArray<Angle> = |squat| OutArray(squat.iter().map(|at| at.chain_angle).collect());
        /// Rise, forward, of the line from the contact to where both lines meet.
        squat_angle: OutArray<Angle> = |squat| OutArray(squat.iter().map(|at| at.squat_angle).collect());
        /// Squat ratio, tangent of the load transfer angle over that of the squat angle.
        squat_ratio: Numbers = |squat| Numbers(squat.iter().map(|at| at.squat_ratio).collect());
        /// The inverse: above 100 % drive lifts the rear, below it squats.
        anti_squat: OutArray<Share> = |squat| OutArray(squat.iter().map(|at| at.anti_squat).collect());
    }
}

rows! { Squat: travel, anti_squat, squat_ratio, squat_angle, chain_angle, swingarm_angle }

#[pymethods]
impl Linkage {
    /// Chain line and squat over travel.
    ///
    /// Parameters
    /// ----------
    /// drive : ChainDrive
    ///     Sprockets, wheel and centre of gravity.
    /// travels : array of length, optional
    ///     From full extension; evenly over the whole range unless given.
    ///
    /// Returns
    /// -------
    /// Squat
    #[pyo3(signature = (drive, travels=None))]
    fn squat(&self, py: Python<'_>, drive: ChainDrive, travels: Option<GivenArray<'_, Length>>) -> PyResult<Squat> {
        let travels = self.travels(travels)?;
        run(py, || self.0.squat(&drive.0, &travels)).map(Squat)
    }
}

/// Pitch radius of a sprocket, ``r = p/(2·sin(π/N))`` (ISO 606).
///
/// Parameters
/// ----------
/// teeth : int
///     Of the sprocket.
/// pitch : length
///     Of the chain.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> print(wr.pitch_radius(48, "15.875 mm").round(2))
/// 121.36 millimeter
#[pyfunction]
#[pyo3(signature = (teeth: "SupportsIndex", pitch))]
pub(crate) fn pitch_radius(
    py: Python<'_>,
    #[pyo3(from_py_with = integer)] teeth: i128,
    pitch: Given<'_, Length>,
) -> PyResult<Out<Length>> {
    let teeth = whole(py, "teeth", teeth)?;
    let pitch = pitch.read("pitch")?;
    run(py, || linkage::pitch_radius(teeth, pitch)).map(Out)
}
