//! Damping at the wheel over travel, and of the modes.

use pyo3::prelude::*;
use wheelrate::damping::{self, EndDamping, LIMITS};
use wheelrate::units::{DampingRate, Frequency, Length, MotionRatio, Quantity, Share, Velocity, WheelRate};

use crate::bike::ride::mode_kind;
use crate::bike::whole::WholeBike;
use crate::damper::Damper;
use crate::errors::run;
use crate::linkage::EVEN_TRAVELS;
use crate::plain::Text;
use crate::record::End;
use crate::units::{Given, GivenArray, Out, OutArray, read_optional};
use crate::value::{result_class, rows};

result_class! {
    /// Damping of an end over travel, as arrays of one length.
    DampingCurve(damping::DampingCurve) {
        /// Vertical travel from full extension.
        travel: OutArray<Length> = |curve| OutArray(curve.travel.clone());
        /// Shock per wheel.
        motion_ratio: OutArray<MotionRatio> = |curve| OutArray(curve.motion_ratio.clone());
        /// Wheel rate of a fast stroke from the rest.
        wheel_rate: OutArray<WheelRate> = |curve| OutArray(curve.wheel_rate.clone());
        /// Damping rate at the wheel while it compresses.
        compression: OutArray<DampingRate> = |curve| OutArray(curve.compression.clone());
        /// Damping rate at the wheel while it extends.
        rebound: OutArray<DampingRate> = |curve| OutArray(curve.rebound.clone());
        /// Share of critical damping while it compresses.
        compression_ratio: OutArray<Share> = |curve| OutArray(curve.compression_ratio.clone());
        /// Share of critical damping while it extends.
        rebound_ratio: OutArray<Share> = |curve| OutArray(curve.rebound_ratio.clone());
        /// Share of critical damping of the whole motion.
        damping_ratio: OutArray<Share> = |curve| OutArray(curve.damping_ratio.clone());
        /// Its standard uncertainty, from damper and mass.
        damping_ratio_uncertainty: OutArray<Share> = |curve| OutArray(curve.damping_ratio_uncertainty.clone());
        /// What damping ratios cannot say, in sentences.
        limits: Vec<&'static str> = |_| LIMITS.to_vec();
    }
}

rows! {
    DampingCurve: travel, motion_ratio, wheel_rate, compression, rebound, compression_ratio, rebound_ratio, damping_ratio,
    damping_ratio_uncertainty,
}

result_class! {
    /// A mode of the settled bike with its dampers.
    DampedMode(damping::DampedMode) {
        /// ``bounce``, ``pitch``, ``front hop`` or ``rear hop``: what moves most.
        kind: &'static str = |mode| mode_kind(mode.kind);
        /// Frequency ``|λ|/2π``: near that of the same mode without dampers.
        frequency: Out<Frequency> = |mode| Out(mode.frequency);
        /// Frequency at which it swings out; None beyond critical damping.
        damped_frequency: Option<Out<Frequency>> = |mode| mode.damped_frequency.map(Out);
        /// Share of critical damping.
        damping_ratio: Out<Share> = |mode| Out(mode.damping_ratio);
    }
}

#[pymethods]
impl WholeBike {
    /// Damping of an end at the wheel over travel, and its share of critical damping.
    ///
    /// Parameters
    /// ----------
    /// end : {"front", "rear"}
    ///     Which end.
    /// load : str, optional
    ///     Names of masses; what rider sag is meant under unless given.
    /// speed : velocity, optional
    ///     Amplitude of the motion's speed at the wheel; the slopes of the damper from rest unless given.
    /// travels : array of length, optional
    ///     From full extension; evenly over the whole range unless given.
    /// damper : Damper, optional
    ///     Along the shaft, a fork's legs together; that of the bike unless given.
    ///
    /// Returns
    /// -------
    /// DampingCurve
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> bike = wr.demo()
    /// >>> at = {"speed": "0.5 m/s", "travels": ["102 mm"]}
    /// >>> for spring in ("52 N/mm", "60 N/mm"):
    /// ...     now = bike.what_if({"rear.shock.spring.rate": spring})
    /// ...     print(spring, now.whole.damping("rear", **at).damping_ratio.round(1))
    /// 52 N/mm [33.3] percent
    /// 60 N/mm [31.0] percent
    #[pyo3(signature = (end, load=None, *, speed=None, travels=None, damper=None))]
    #[allow(clippy::too_many_arguments, reason = "keyword arguments on the Python side")]
    fn damping(
        &self,
        py: Python<'_>,
        end: End,
        load: Option<Text>,
        speed: Option<Given<'_, Velocity>>,
        travels: Option<GivenArray<'_, Length>>,
        damper: Option<Damper>,
    ) -> PyResult<DampingCurve> {
        let load = self.load_or_rider(py, load.as_deref())?;
        let speed = read_optional(speed, "speed")?.unwrap_or(Velocity::from_si(0.0));
        let travels = travels.map(|travels| travels.read("travels")).transpose()?;
        run(py, || {
            let of = match damper {
                Some(damper) => EndDamping::with_damper(&self.0, end.0, &load, damper.0)?,
                None => EndDamping::of(&self.0, end.0, &load)?,
            };
            of.curve(&travels.unwrap_or_else(|| of.travels(EVEN_TRAVELS)), speed)
        })
        .map(DampingCurve)
    }
    /// Bounce, pitch and, with tyre rates, wheel hop of the settled bike with its dampers.
    ///
    /// Parameters
    /// ----------
    /// load : str, optional
    ///     Names of masses; what rider sag is meant under unless given.
    /// speed : velocity, optional
    ///     Amplitude of the motion's speed at each wheel; the slopes of the dampers from rest unless given.
    ///
    /// Returns
    /// -------
    /// list of DampedMode
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> for mode in wr.demo().whole.damped_modes(speed="0.5 m/s"):
    /// ...     print(mode.kind, mode.frequency.round(1), mode.damping_ratio.round(0))
    /// bounce 1.5 hertz 34.0 percent
    /// pitch 2.5 hertz 41.0 percent
    /// front hop 15.6 hertz 15.0 percent
    /// rear hop 16.2 hertz 19.0 percent
    #[pyo3(signature = (load=None, speed=None))]
    fn damped_modes(
        &self,
        py: Python<'_>,
        load: Option<Text>,
        speed: Option<Given<'_, Velocity>>,
    ) -> PyResult<Vec<DampedMode>> {
        let load = self.load_or_rider(py, load.as_deref())?;
        let speed = read_optional(speed, "speed")?.unwrap_or(Velocity::from_si(0.0));
        run(py, || damping::damped_modes(&self.0.whole(), &load, speed))
            .map(|modes| modes.into_iter().map(DampedMode).collect())
    }
}
