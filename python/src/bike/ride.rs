//! Natural frequencies, modes, critical damping, reserve of travel.

use pyo3::prelude::*;
use wheelrate::bike::ride;
use wheelrate::record::Ends;
use wheelrate::units::{DampingRate, Energy, Frequency, Length, Mass, MomentOfInertia, MotionRatio, Share, WheelRate};

use crate::errors::run;
use crate::units::shaped::{GivenAny, Shaped};
use crate::units::{Given, Out, read_optional};
use crate::value::{getters, result_class, value_class};

/// Natural frequency of one mass on one spring: ``√(k/m)/2π``. Arrays of one shape go, or an array and one number.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> print(wr.natural_frequency("8.3 N/mm", "95 kg").round(2))
/// 1.49 hertz
/// >>> print(wr.natural_frequency(([8.3, 9.1], "N/mm"), "95 kg").round(2))
/// [1.49 1.56] hertz
#[pyfunction]
pub(crate) fn natural_frequency(
    py: Python<'_>,
    wheel_rate: GivenAny<'_, WheelRate>,
    mass: GivenAny<'_, Mass>,
) -> PyResult<Shaped<Frequency>> {
    let (wheel_rate, mass) = (wheel_rate.read("wheel_rate")?, mass.read("mass")?);
    wheel_rate.zip(py, mass, |wheel_rate, mass| run(py, || ride::natural_frequency(wheel_rate, mass)))
}

/// Deflection under its own weight of a linear spring without preload of this natural frequency: ``g/(2πf)²``.
#[pyfunction]
pub(crate) fn static_deflection(py: Python<'_>, frequency: GivenAny<'_, Frequency>) -> PyResult<Shaped<Length>> {
    frequency.read("frequency")?.map(|frequency| run(py, || ride::static_deflection(frequency)))
}

/// Critical damping of one mass on one spring, both at the wheel: ``2·√(k·m)``.
#[pyfunction]
pub(crate) fn critical_damping(
    py: Python<'_>,
    wheel_rate: GivenAny<'_, WheelRate>,
    mass: GivenAny<'_, Mass>,
) -> PyResult<Shaped<DampingRate>> {
    let (wheel_rate, mass) = (wheel_rate.read("wheel_rate")?, mass.read("mass")?);
    wheel_rate.zip(py, mass, |wheel_rate, mass| run(py, || ride::critical_damping(wheel_rate, mass)))
}

/// Damping as a share of critical, all at the wheel: ``c/(2·√(k·m))``.
#[pyfunction]
pub(crate) fn damping_ratio(
    py: Python<'_>,
    damping: Given<'_, DampingRate>,
    wheel_rate: Given<'_, WheelRate>,
    mass: Given<'_, Mass>,
) -> PyResult<Out<Share>> {
    let (damping, rate) = (damping.read("damping")?, wheel_rate.read("wheel_rate")?);
    let mass = mass.read("mass")?;
    run(py, || ride::damping_ratio(damping, rate, mass)).map(Out)
}

/// A damping rate at the wheel as the damper's shaft has to give it: ``c/MR²``.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> state = wr.demo().rear.at("102 mm")
/// >>> critical = wr.critical_damping(state.wheel_rate, "95 kg")
/// >>> shaft = wr.damping_at_shaft(critical, state.motion_ratio)
/// >>> print(critical.round(0), shaft.round(0))
/// 1783.0 newton * second / meter 12535.0 newton * second / meter
#[pyfunction]
pub(crate) fn damping_at_shaft(
    py: Python<'_>,
    at_wheel: GivenAny<'_, DampingRate>,
    motion_ratio: GivenAny<'_, MotionRatio>,
) -> PyResult<Shaped<DampingRate>> {
    let (at_wheel, motion_ratio) = (at_wheel.read("at_wheel")?, motion_ratio.read("motion_ratio")?);
    at_wheel.zip(py, motion_ratio, |at_wheel, motion_ratio| run(py, || ride::damping_at_shaft(at_wheel, motion_ratio)))
}

/// A damping rate of the shaft as the wheel feels it: ``c·MR²``.
#[pyfunction]
pub(crate) fn damping_at_wheel(
    py: Python<'_>,
    at_shaft: GivenAny<'_, DampingRate>,
    motion_ratio: GivenAny<'_, MotionRatio>,
) -> PyResult<Shaped<DampingRate>> {
    let (at_shaft, motion_ratio) = (at_shaft.read("at_shaft")?, motion_ratio.read("motion_ratio")?);
    at_shaft.zip(py, motion_ratio, |at_shaft, motion_ratio| run(py, || ride::damping_at_wheel(at_shaft, motion_ratio)))
}

/// What to multiply the damping by for the same damping ratio after a change of spring: ``√(k_new/k_old)``.
#[pyfunction]
pub(crate) fn damping_factor(py: Python<'_>, old: Given<'_, WheelRate>, new: Given<'_, WheelRate>) -> PyResult<f64> {
    let (old, new) = (old.read("old")?, new.read("new")?);
    run(py, || ride::damping_factor(old, new))
}

/// Wheel rate and tyre in series, as the ground feels them: ``k·k_t/(k + k_t)``.
#[pyfunction]
pub(crate) fn ride_rate(
    py: Python<'_>,
    wheel_rate: GivenAny<'_, WheelRate>,
    tyre: GivenAny<'_, WheelRate>,
) -> PyResult<Shaped<WheelRate>> {
    let (wheel_rate, tyre) = (wheel_rate.read("wheel_rate")?, tyre.read("tyre")?);
    wheel_rate.zip(py, tyre, |wheel_rate, tyre| run(py, || ride::ride_rate(wheel_rate, tyre)))
}

result_class! {
    /// What an end can still take in before it is fully compressed. Damping and friction are not in it.
    Reserve(ride::Reserve) {
        /// Energy stored on the way to full travel, less what the load does on the way.
        energy: Out<Energy> = |reserve| Out(reserve.energy);
        /// The height from which the load would have to fall to bring that energy.
        drop_height: Out<Length> = |reserve| Out(reserve.drop_height);
        /// Force at the wheel at full travel, over the load.
        load_factor: f64 = |reserve| reserve.load_factor;
    }
}

result_class! {
    /// One of the two modes of a `QuarterBike`.
    QuarterMode(ride::QuarterMode) {
        /// Undamped natural frequency.
        frequency: Out<Frequency> = |mode| Out(mode.frequency);
        /// Amplitude of the unsprung mass over that of the sprung mass; negative when they move against each other.
        unsprung_over_sprung: f64 = |mode| mode.unsprung_over_sprung;
    }
}

/// What moves most, in a word or two.
pub(crate) fn mode_kind(kind: ride::ModeKind) -> &'static str {
    match kind {
        ride::ModeKind::Bounce => "bounce",
        ride::ModeKind::Pitch => "pitch",
        ride::ModeKind::FrontHop => "front hop",
        ride::ModeKind::RearHop => "rear hop",
    }
}

result_class! {
    /// One mode of the whole bike.
    Mode(ride::Mode) {
        /// ``bounce``, ``pitch``, ``front hop`` or ``rear hop``: what moves most.
        kind: &'static str = |mode| mode_kind(mode.kind);
        /// Undamped natural frequency.
        frequency: Out<Frequency> = |mode| Out(mode.frequency);
        /// How far ahead of the sprung centre of gravity the body stands still; None where it does not pitch.
        center_ahead: Option<Out<Length>> = |mode| mode.center_ahead.map(Out);
    }
}

value_class! {
    /// The sprung mass over one wheel, the unsprung mass, and the springs above and below it.
    ///
    /// Parameters
    /// ----------
    /// sprung, unsprung : mass
    ///     Over the wheel, and of it.
    /// rate : wheel rate
    ///     Between them.
    /// tyre : wheel rate
    ///     Under it.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> ride, hop = wr.QuarterBike(sprung="95 kg", unsprung="17.5 kg", rate="8.3 N/mm", tyre="180 N/mm").modes()
    /// >>> print(ride.frequency.round(2), hop.frequency.round(2))
    /// 1.45 hertz 16.51 hertz
    QuarterBike(ride::QuarterBike)
}

#[pymethods]
impl QuarterBike {
    #[new]
    #[pyo3(signature = (*, sprung, unsprung, rate, tyre))]
    fn new(
        py: Python<'_>,
        sprung: Given<'_, Mass>,
        unsprung: Given<'_, Mass>,
        rate: Given<'_, WheelRate>,
        tyre: Given<'_, WheelRate>,
    ) -> PyResult<Self> {
        let (sprung, unsprung) = (sprung.read("sprung")?, unsprung.read("unsprung")?);
        let quarter = ride::QuarterBike { sprung, unsprung, rate: rate.read("rate")?, tyre: tyre.read("tyre")? };
        run(py, || quarter.modes().map(|_| quarter)).map(Self)
    }
    /// The ride mode and the wheel hop mode, in this order.
    fn modes(&self, py: Python<'_>) -> PyResult<Vec<QuarterMode>> {
        run(py, || self.0.modes()).map(|modes| modes.into_iter().map(QuarterMode).collect())
    }
}

value_class! {
    /// One end of a `HalfBike`.
    ///
    /// Parameters
    /// ----------
    /// distance : length
    ///     Of the axle from the sprung centre of gravity, along the ground.
    /// rate : wheel rate
    ///     At the travel in question.
    /// tyre : wheel rate, optional
    ///     Rigid unless given.
    /// unsprung : mass, optional
    ///     With a tyre it gives the end a hop mode.
    HalfBikeEnd(ride::HalfBikeEnd)
}

getters! {
    HalfBikeEnd {
        /// From the centre of gravity, along the ground.
        distance: Out<Length> = |end| Out(end.0.distance);
        /// At the wheel.
        rate: Out<WheelRate> = |end| Out(end.0.rate);
        /// Vertical rate of the tyre; None for a rigid one.
        tyre: Option<Out<WheelRate>> = |end| end.0.tyre.map(Out);
        /// Mass below the spring; None where it is not given.
        unsprung: Option<Out<Mass>> = |end| end.0.unsprung.map(Out);
    }
}

#[pymethods]
impl HalfBikeEnd {
    #[new]
    #[pyo3(signature = (distance, rate, *, tyre=None, unsprung=None))]
    fn new(
        distance: Given<'_, Length>,
        rate: Given<'_, WheelRate>,
        tyre: Option<Given<'_, WheelRate>>,
        unsprung: Option<Given<'_, Mass>>,
    ) -> PyResult<Self> {
        Ok(Self(ride::HalfBikeEnd {
            distance: distance.read("distance")?,
            rate: rate.read("rate")?,
            tyre: read_optional(tyre, "tyre")?,
            unsprung: read_optional(unsprung, "unsprung")?,
        }))
    }
}

value_class! {
    /// The sprung mass between its ends, wheels moving straight up and down.
    ///
    /// Parameters
    /// ----------
    /// sprung : mass
    ///     Rider and luggage included.
    /// pitch_inertia : moment of inertia
    ///     Of the sprung mass about its centre of gravity.
    /// front, rear : HalfBikeEnd
    ///     The ends.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> front, rear = wr.HalfBikeEnd("0.75 m", "6.5 N/mm"), wr.HalfBikeEnd("0.7 m", "8.3 N/mm")
    /// >>> half = wr.HalfBike(sprung="190 kg", pitch_inertia="48 kg m2", front=front, rear=rear)
    /// >>> for mode in half.modes():
    /// ...     print(mode.kind, mode.frequency.round(2))
    /// bounce 1.39 hertz
    /// pitch 2.03 hertz
    HalfBike(ride::HalfBike)
}

getters! {
    HalfBike {
        /// Sprung mass.
        sprung: Out<Mass> = |half| Out(half.0.sprung);
        /// Of the sprung mass about its centre of gravity.
        pitch_inertia: Out<MomentOfInertia> = |half| Out(half.0.pitch_inertia);
        /// The front end.
        front: HalfBikeEnd = |half| HalfBikeEnd(half.0.ends.front);
        /// The rear end.
        rear: HalfBikeEnd = |half| HalfBikeEnd(half.0.ends.rear);
    }
}

#[pymethods]
impl HalfBike {
    #[new]
    #[pyo3(signature = (*, sprung, pitch_inertia, front, rear))]
    fn new(
        py: Python<'_>,
        sprung: Given<'_, Mass>,
        pitch_inertia: Given<'_, MomentOfInertia>,
        front: HalfBikeEnd,
        rear: HalfBikeEnd,
    ) -> PyResult<Self> {
        let (sprung, pitch_inertia) = (sprung.read("sprung")?, pitch_inertia.read("pitch_inertia")?);
        let half = ride::HalfBike { sprung, pitch_inertia, ends: Ends { front: front.0, rear: rear.0 } };
        run(py, || half.modes().map(|_| half)).map(Self)
    }
    /// ``I/(m·a·b)``: at one, each end bounces on its own.
    #[getter]
    fn dynamic_index(&self, py: Python<'_>) -> PyResult<Out<Share>> {
        run(py, || self.0.dynamic_index()).map(Out)
    }
    /// The modes in rising frequency, undamped.
    fn modes(&self, py: Python<'_>) -> PyResult<Vec<Mode>> {
        run(py, || self.0.modes()).map(|modes| modes.into_iter().map(Mode).collect())
    }
}
