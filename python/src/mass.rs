//! Masses on two scales, and the loads that the springs carry.

use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList, PyTuple};
use wheelrate::mass::{self, Weighing};
use wheelrate::record::{self, Ends, Usual};
use wheelrate::units::{Acceleration, Length, Mass, MomentOfInertia, Quantity, Share};

use crate::errors::run;
use crate::plain::Text;
use crate::record::End;
use crate::uncertain::Uncertain;
use crate::units::{Given, Out, read_optional};
use crate::value::{getters, result_class};

/// Masses of a bike and of all that may ride on it.
///
/// Parameters
/// ----------
/// named : dict of str to pair of masses
///     What the scale shows under the front and the rear wheel for each, or the difference it makes; one of them is
///     ``"bike"``. A mass known by its position is a dict with ``total`` and ``behind_front_axle``.
/// unsprung : pair of masses
///     Of the bike, front and rear.
/// wheelbase : length, optional
///     Needed by masses known by position.
/// scale_uncertainty : mass, optional
///     Standard uncertainty of one scale reading; 0.5 kg unless given.
/// heights : dict of str to length, optional
///     Of the centres of gravity above the ground, by the names of the masses.
/// pitch_inertias : dict of str to moment of inertia, optional
///     Each about its own centre of gravity, for modes.
/// gravity : acceleration, optional
///     Standard gravity unless given.
/// uncertainties : dict of str to mass, optional
///     Standard uncertainty of what a mass puts on each wheel, by the names of the masses: for one that was not weighed.
///     That of a scale reading unless given.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> masses = wr.Masses({"bike": ("61 kg", "64 kg"), "rider": ("30 kg", "66 kg")}, unsprung=("14.2 kg", "17.5 kg"))
/// >>> print(masses.sprung_load("rear", "bike + rider"))
/// 1103 ± 8 N
#[pyclass(module = "wheelrate", frozen, eq, weakref, from_py_object)]
#[derive(Clone, PartialEq)]
pub(crate) struct Masses(pub(crate) mass::Masses);

getters! {
    Masses {
        /// Names of the masses.
        names: Vec<&str> = |masses| masses.0.named().iter().map(|(name, _)| name.as_str()).collect();
    }
}

#[pymethods]
impl Masses {
    #[new]
    #[pyo3(signature = (named: "dict[str, wheelrate.typing.QuantityLike | tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike] | dict[str, wheelrate.typing.QuantityLike]]", unsprung=None, wheelbase=None, scale_uncertainty=None, heights: "dict[str, wheelrate.typing.QuantityLike] | None" = None, gravity=None, pitch_inertias: "dict[str, wheelrate.typing.QuantityLike] | None" = None, uncertainties: "dict[str, wheelrate.typing.QuantityLike] | None" = None))]
    #[allow(clippy::too_many_arguments, reason = "what can be known of masses")]
    fn new(
        named: Bound<'_, PyDict>,
        unsprung: Option<(Given<'_, Mass>, Given<'_, Mass>)>,
        wheelbase: Option<Given<'_, Length>>,
        scale_uncertainty: Option<Given<'_, Mass>>,
        heights: Option<Bound<'_, PyDict>>,
        gravity: Option<Given<'_, Acceleration>>,
        pitch_inertias: Option<Bound<'_, PyDict>>,
        uncertainties: Option<Bound<'_, PyDict>>,
    ) -> PyResult<Self> {
        let py = named.py();
        let weighings: Vec<(String, Weighing)> =
            named.iter().map(|(name, given)| weighing(name.extract::<Text>()?.0, &given)).collect::<PyResult<_>>()?;
        let unsprung = match unsprung {
            Some((front, rear)) => Some(Ends { front: front.read("unsprung[0]")?, rear: rear.read("unsprung[1]")? }),
            None => None,
        };
        let wheelbase = read_optional(wheelbase, "wheelbase")?;
        let uncertainty = read_optional(scale_uncertainty, "scale_uncertainty")?;
        let heights = by_name::<Length>(heights.as_ref(), "heights")?;
        let inertias = by_name::<MomentOfInertia>(pitch_inertias.as_ref(), "pitch_inertias")?;
        let uncertainties = by_name::<Mass>(uncertainties.as_ref(), "uncertainties")?;
        let gravity = read_optional(gravity, "gravity")?;
        run(py, || {
            let masses = match unsprung {
                Some(unsprung) => mass::Masses::new(weighings, unsprung, wheelbase)?,
                None => mass::Masses::of_unknown_unsprung(weighings, wheelbase, Usual::any())?,
            };
            let masses = match uncertainty {
                Some(uncertainty) => masses.with_scale_uncertainty(uncertainty)?,
                None => masses,
            };
            let masses = match gravity {
                Some(gravity) => masses.with_gravity(gravity)?,
                None => masses,
            };
            let masses =
                heights.into_iter().try_fold(masses, |masses, (name, height)| masses.with_height(&name, height))?;
            let masses = uncertainties
                .into_iter()
                .try_fold(masses, |masses, (name, uncertainty)| masses.with_uncertainty(&name, uncertainty))?;
            inertias.into_iter().try_fold(masses, |masses, (name, inertia)| masses.with_pitch_inertia(&name, inertia))
        })
        .map(Self)
    }
    /// What a load shows on the scale under one wheel.
    ///
    /// Parameters
    /// ----------
    /// end : {"front", "rear"}
    ///     Which wheel.
    /// load : str
    ///     Names of masses, e.g. ``"bike + rider"``.
    fn wheel_mass(&self, py: Python<'_>, end: End, load: Text) -> PyResult<Uncertain> {
        let load = crate::record::load(py, &load)?;
        run(py, || self.0.wheel_mass(end.0, &load)).map(Uncertain::from)
    }
    /// The sprung mass at one end under a load.
    fn sprung_mass(&self, py: Python<'_>, end: End, load: Text) -> PyResult<Uncertain> {
        let load = crate::record::load(py, &load)?;
        run(py, || self.0.sprung_mass(end.0, &load)).map(Uncertain::from)
    }
    /// The vertical load that the spring of one end carries at the wheel.
    fn sprung_load(&self, py: Python<'_>, end: End, load: Text) -> PyResult<Uncertain> {
        let load = crate::record::load(py, &load)?;
        run(py, || self.0.sprung_load(end.0, &load)).map(Uncertain::from)
    }
    fn __hash__(&self) -> u64 {
        crate::value::hash(&self.0)
    }
    fn __repr__(slf: &Bound<'_, Self>) -> PyResult<String> {
        Ok(format!("Masses{}", Self::__reduce__(slf)?.1.repr()?))
    }
    #[pyo3(signature = () -> "tuple[object, tuple[object, ...]]")]
    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<(Bound<'py, PyAny>, Bound<'py, pyo3::types::PyTuple>)> {
        let py = slf.py();
        let masses = &slf.get().0;
        let text = |mass: Mass| wheelrate::units::to_text(mass);
        let named = PyDict::new(py);
        for (name, weighing) in masses.named() {
            match weighing {
                Weighing::Scales(Ends { front, rear }) => named.set_item(name, (text(*front), text(*rear)))?,
                Weighing::Position { total, behind_front_axle } => {
                    let position = PyDict::new(py);
                    position.set_item("total", text(*total))?;
                    position.set_item("behind_front_axle", wheelrate::units::to_text(*behind_front_axle))?;
                    named.set_item(name, position)?;
                }
                Weighing::Total { total, assumed: true, .. } => named.set_item(name, text(*total))?,
                Weighing::Total { total, on_front, .. } => {
                    let shared = PyDict::new(py);
                    shared.set_item("total", text(*total))?;
                    shared.set_item("on_front", on_front.to_text())?;
                    named.set_item(name, shared)?;
                }
            }
        }
        let Ends { front, rear } = masses.unsprung();
        let wheelbase = masses.wheelbase().map(wheelrate::units::to_text::<Length>);
        let (heights, inertias, uncertainties) = (PyDict::new(py), PyDict::new(py), PyDict::new(py));
        for (name, _) in masses.named() {
            if let Some(height) = masses.height(name) {
                heights.set_item(name, wheelrate::units::to_text(height))?;
            }
            if let Some(uncertainty) = masses.uncertainty(name) {
                uncertainties.set_item(name, text(uncertainty))?;
            }
            if let Some(inertia) = masses.pitch_inertia(name) {
                inertias.set_item(name, wheelrate::units::to_text(inertia))?;
            }
        }
        let gravity = wheelrate::units::to_text(masses.gravity());
        let unsprung = masses.assumed_unsprung().is_none().then(|| (text(front), text(rear)));
        let scale = text(masses.scale_uncertainty());
        let arguments = (named, unsprung, wheelbase, scale, heights, gravity, inertias, uncertainties);
        Ok((py.get_type::<Self>().into_any(), arguments.into_pyobject(py)?))
    }
}

/// What is known of masses, by their names.
fn by_name<Q: Quantity>(given: Option<&Bound<'_, PyDict>>, argument: &str) -> PyResult<Vec<(String, Q)>> {
    let read = |(name, given): (Bound<'_, PyAny>, Bound<'_, PyAny>)| {
        let Text(name) = name.extract()?;
        let known = given.extract::<Given<'_, Q>>()?.read(&format!("{argument}[{name:?}]"))?;
        Ok((name, known))
    };
    given.into_iter().flatten().map(read).collect()
}

result_class! {
    /// Ballast that both scales take for a load.
    Ballast(mass::Ballast) {
        /// How much of it.
        mass: Out<Mass> = |ballast| Out(ballast.mass);
        /// Where its centre of gravity goes: horizontal distance behind the front axle, bike level.
        behind_front_axle: Out<Length> = |ballast| Out(ballast.behind_front_axle);
    }
}

fn weighing(name: String, given: &Bound<'_, PyAny>) -> PyResult<(String, Weighing)> {
    if let Ok(position) = given.cast::<PyDict>() {
        let part = |key: &str| position.as_any().get_item(key);
        let total = part("total")?.extract::<Given<'_, Mass>>()?.read(&format!("named[{name:?}].total"))?;
        if let Ok(on_front) = part("on_front") {
            let Text(on_front) = on_front.extract()?;
            let on_front = run(given.py(), || on_front.parse::<wheelrate::units::Uncertain<Share>>())?;
            return Ok((name, Weighing::Total { total, on_front, assumed: false }));
        }
        if position.len() == 1 {
            return Ok((name, Weighing::total(total)));
        }
        let behind = part("behind_front_axle")?.extract::<Given<'_, Length>>()?;
        let behind_front_axle = behind.read(&format!("named[{name:?}].behind_front_axle"))?;
        return Ok((name, Weighing::Position { total, behind_front_axle }));
    }
    if given.cast::<PyTuple>().is_err() && given.cast::<PyList>().is_err() {
        let total = given.extract::<Given<'_, Mass>>()?.read(&format!("named[{name:?}]"))?;
        return Ok((name, Weighing::total(total)));
    }
    let (front, rear): (Given<'_, Mass>, Given<'_, Mass>) = given.extract()?;
    let front = front.read(&format!("named[{name:?}][0]"))?;
    let rear = rear.read(&format!("named[{name:?}][1]"))?;
    Ok((name, Weighing::Scales(Ends { front, rear })))
}

/// Height of the centre of gravity above the ground, from raising one axle.
///
/// Parameters
/// ----------
/// level : pair of masses
///     Scale readings front and rear with the bike level.
/// raised : {"front", "rear"}
///     Which axle was raised.
/// grounded : mass
///     Scale reading at the other wheel, still on the ground, after the raise.
/// lift : length
///     How far the axle was raised.
/// wheelbase, front_radius, rear_radius : length
///     With the bike level; radii are loaded ones.
/// scale_uncertainty : mass, optional
///     Standard uncertainty of each scale reading; 0.5 kg unless given.
/// tape_uncertainty : length, optional
///     Standard uncertainty of each length; 1.5 mm unless given.
///
/// Returns
/// -------
/// Uncertain
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> print(wr.cg_height(("61 kg", "64 kg"), "front", "72 kg", "400 mm", "1480 mm", "340 mm", "320 mm"))
/// 665 ± 31 mm
#[pyfunction]
#[pyo3(signature = (level, raised, grounded, lift, wheelbase, front_radius, rear_radius, *, scale_uncertainty=None, tape_uncertainty=None))]
#[allow(clippy::too_many_arguments, reason = "one measurement takes this many readings")]
pub(crate) fn cg_height(
    py: Python<'_>,
    level: (Given<'_, Mass>, Given<'_, Mass>),
    raised: End,
    grounded: Given<'_, Mass>,
    lift: Given<'_, Length>,
    wheelbase: Given<'_, Length>,
    front_radius: Given<'_, Length>,
    rear_radius: Given<'_, Length>,
    scale_uncertainty: Option<Given<'_, Mass>>,
    tape_uncertainty: Option<Given<'_, Length>>,
) -> PyResult<Uncertain> {
    let raise = mass::AxleRaise {
        level: Ends { front: level.0.read("level[0]")?, rear: level.1.read("level[1]")? },
        raised: raised.0,
        grounded: grounded.read("grounded")?,
        lift: lift.read("lift")?,
        wheelbase: wheelbase.read("wheelbase")?,
        front_radius: front_radius.read("front_radius")?,
        rear_radius: rear_radius.read("rear_radius")?,
        scale_uncertainty: read_optional(scale_uncertainty, "scale_uncertainty")?
            .unwrap_or_else(mass::Masses::default_scale_uncertainty),
        tape_uncertainty: read_optional(tape_uncertainty, "tape_uncertainty")?
            .unwrap_or_else(record::Measuring::default_uncertainty),
    };
    run(py, || raise.cg_height()).map(Uncertain::from)
}
