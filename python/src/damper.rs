//! A damper along its shaft.

use pyo3::prelude::*;
use pyo3::types::PyType;
use wheelrate::damper::{self, DamperSide};
use wheelrate::units::{DampingRate, Force, Frequency, Length, Share, Velocity};

use crate::errors::{raise, run};
use crate::units::shaped::{GivenAny, Shaped};
use crate::units::{Given, GivenArray, Out, read_optional};
use crate::value::{getters, value_class};

value_class! {
    /// A damper along its shaft: a slope each way, and where given a knee beyond which another slope holds; or a table.
    ///
    /// Parameters
    /// ----------
    /// compression : damping rate
    ///     While the end compresses.
    /// rebound : damping rate, optional
    ///     While it extends; as in compression unless given.
    /// compression_knee, rebound_knee : pair of velocity and damping rate, optional
    ///     Shaft speed beyond which the second slope holds, and that slope.
    /// uncertainty : share, optional
    ///     Standard uncertainty of the forces, as a share of them; exact unless given.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> damper = wr.Damper("2500 N s/m", "5000 N s/m", compression_knee=("0.3 m/s", "900 N s/m"))
    /// >>> print(damper.force("0.5 m/s"), damper.force("-0.1 m/s"))
    /// 930.0 newton -500.0 newton
    /// >>> print(damper.equivalent("0.5 m/s").round(0))
    /// 3522.0 newton * second / meter
    Damper(damper::Damper)
}

type Knee<'py> = (Given<'py, Velocity>, Given<'py, DampingRate>);

fn side(py: Python<'_>, rate: DampingRate, knee: Option<Knee<'_>>, argument: &str) -> PyResult<DamperSide> {
    let knee = knee.map(|(velocity, rate)| {
        let velocity = velocity.read(&format!("{argument}[0]"))?;
        Ok::<_, PyErr>(damper::Knee { velocity, rate: rate.read(&format!("{argument}[1]"))? })
    });
    let knee = knee.transpose()?;
    run(py, || match knee {
        Some(knee) => DamperSide::with_knee(rate, knee),
        None => DamperSide::of_rate(rate),
    })
}

fn sure(py: Python<'_>, damper: damper::Damper, uncertainty: Option<Given<'_, Share>>) -> PyResult<Damper> {
    let uncertainty = read_optional(uncertainty, "uncertainty")?;
    run(py, || match uncertainty {
        Some(uncertainty) => damper.with_uncertainty(uncertainty),
        None => Ok(damper),
    })
    .map(Damper)
}

getters! {
    Damper {
        /// Standard uncertainty of the forces, as a share of them.
        uncertainty: Out<Share> = |damper| Out(damper.0.uncertainty());
    }
}

#[pymethods]
impl Damper {
    #[new]
    #[pyo3(signature = (compression, rebound=None, *, compression_knee=None, rebound_knee=None, uncertainty=None))]
    fn new(
        py: Python<'_>,
        compression: Given<'_, DampingRate>,
        rebound: Option<Given<'_, DampingRate>>,
        compression_knee: Option<Knee<'_>>,
        rebound_knee: Option<Knee<'_>>,
        uncertainty: Option<Given<'_, Share>>,
    ) -> PyResult<Self> {
        let compression = compression.read("compression")?;
        let rebound = read_optional(rebound, "rebound")?.unwrap_or(compression);
        let compression = side(py, compression, compression_knee, "compression_knee")?;
        let rebound = side(py, rebound, rebound_knee, "rebound_knee")?;
        sure(py, damper::Damper::new(compression, rebound), uncertainty)
    }
    /// A damper as a dynamometer draws it: straight lines between the speeds, and beyond the last of them its slope.
    ///
    /// Parameters
    /// ----------
    /// speeds : array of velocity
    ///     Of the shaft, rising.
    /// compression, rebound : array of force
    ///     At these speeds.
    /// uncertainty : share, optional
    ///     Standard uncertainty of the forces, as a share of them; exact unless given.
    ///
    /// Returns
    /// -------
    /// Damper
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> damper = wr.Damper.from_table(([0.1, 0.5], "m/s"), ([300, 900], "N"), ([500, 1700], "N"))
    /// >>> print(damper.force("0.3 m/s"), damper.force("-1 m/s"))
    /// 600.0 newton -3200.0 newton
    #[classmethod]
    #[pyo3(signature = (speeds, compression, rebound, *, uncertainty=None))]
    fn from_table(
        _class: &Bound<'_, PyType>,
        py: Python<'_>,
        speeds: GivenArray<'_, Velocity>,
        compression: GivenArray<'_, Force>,
        rebound: GivenArray<'_, Force>,
        uncertainty: Option<Given<'_, Share>>,
    ) -> PyResult<Self> {
        let speeds = speeds.read("speeds")?;
        let side = |forces: Vec<Force>, argument: &str| {
            if forces.len() != speeds.len() {
                let message =
                    format!("{argument}: found {} forces, wanted {}, one per speed", forces.len(), speeds.len());
                return Err(raise(py, "SpringError", (message,)));
            }
            run(py, || DamperSide::of_table(speeds.iter().copied().zip(forces).collect()))
        };
        let (compression, rebound) = (compression.read("compression")?, rebound.read("rebound")?);
        let damper = damper::Damper::new(side(compression, "compression")?, side(rebound, "rebound")?);
        sure(py, damper, uncertainty)
    }
    /// Force along the shaft at shaft velocities, both positive in compression.
    fn force(&self, py: Python<'_>, velocity: GivenAny<'_, Velocity>) -> PyResult<Shaped<Force>> {
        velocity.read("velocity")?.map(|velocity| run(py, || self.0.force(velocity)))
    }
    /// The linear damper that takes as much energy out of a harmonic motion of this shaft speed amplitude.
    fn equivalent(&self, py: Python<'_>, amplitude: GivenAny<'_, Velocity>) -> PyResult<Shaped<DampingRate>> {
        amplitude.read("amplitude")?.map(|amplitude| run(py, || self.0.equivalent(amplitude)))
    }
    /// The linear damper that takes as much energy out of a Gaussian motion of this root mean square shaft speed.
    fn equivalent_in_noise(&self, py: Python<'_>, rms: GivenAny<'_, Velocity>) -> PyResult<Shaped<DampingRate>> {
        rms.read("rms")?.map(|rms| run(py, || self.0.equivalent_in_noise(rms)))
    }
    /// Mean force in a Gaussian motion of this root mean square shaft speed; below zero it pulls the end down.
    fn mean_force(&self, py: Python<'_>, rms: GivenAny<'_, Velocity>) -> PyResult<Shaped<Force>> {
        rms.read("rms")?.map(|rms| run(py, || self.0.mean_force(rms)))
    }
    /// The damper with all its forces times a factor.
    fn scaled(&self, py: Python<'_>, factor: f64) -> PyResult<Self> {
        run(py, || self.0.scaled(factor)).map(Self)
    }
    /// This damper and another on the same stroke: forces add.
    fn beside(&self, other: &Self) -> Self {
        Self(self.0.beside(&other.0))
    }
}

/// The linear damper equivalent to one whose force goes with the square of the speed: ``8·c·ω·X/(3π)``.
///
/// Parameters
/// ----------
/// force : force
///     Of the damper, at the speed `at`.
/// at : velocity
///     That speed.
/// frequency : frequency
///     Of the harmonic motion.
/// amplitude : length
///     Of its stroke.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> print(wr.equivalent_of_quadratic("500 N", "1 m/s", "2 Hz", "20 mm").round(1))
/// 106.7 newton * second / meter
#[pyfunction]
pub(crate) fn equivalent_of_quadratic(
    py: Python<'_>,
    force: Given<'_, Force>,
    at: Given<'_, Velocity>,
    frequency: Given<'_, Frequency>,
    amplitude: Given<'_, Length>,
) -> PyResult<Out<DampingRate>> {
    let (force, at) = (force.read("force")?, at.read("at")?);
    let (frequency, amplitude) = (frequency.read("frequency")?, amplitude.read("amplitude")?);
    run(py, || damper::equivalent_of_quadratic(force, at, frequency, amplitude)).map(Out)
}

/// The linear damper equivalent to friction in a harmonic motion that it does not hold: ``4·F/(π·ω·X)``.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> print(wr.equivalent_of_friction("60 N", "2 Hz", "20 mm").round(1))
/// 304.0 newton * second / meter
#[pyfunction]
pub(crate) fn equivalent_of_friction(
    py: Python<'_>,
    force: Given<'_, Force>,
    frequency: Given<'_, Frequency>,
    amplitude: Given<'_, Length>,
) -> PyResult<Out<DampingRate>> {
    let force = force.read("force")?;
    let (frequency, amplitude) = (frequency.read("frequency")?, amplitude.read("amplitude")?);
    run(py, || damper::equivalent_of_friction(force, frequency, amplitude)).map(Out)
}
