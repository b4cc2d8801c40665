//! An end of the bike as its wheel feels it.

pub(crate) mod chain;
pub(crate) mod final_drive;
mod front;
pub(crate) mod pivots;
mod rear;
pub(crate) mod tyre;

pub(crate) use front::{FrontEnd, SteeringAxis};
pub(crate) use rear::RearEnd;

use pyo3::prelude::*;
use wheelrate::units::{Energy, Force, Length, LeverageRatio, MotionRatio, MotionRatioSlope, SpringRate, WheelRate};
use wheelrate::wheel::{self, Settling as CoreSettling, Stability};

use crate::units::{Out, OutArray};
use crate::value::{result_class, rows};

result_class! {
    /// What the wheel feels at one travel.
    WheelState(wheel::WheelState) {
        /// Vertical travel from full extension.
        travel: Out<Length> = |state| Out(state.travel);
        /// Stroke of the shock, or of the fork along itself.
        stroke: Out<Length> = |state| Out(state.stroke);
        /// Motion ratio ``ds/dz``, shock per wheel.
        motion_ratio: Out<MotionRatio> = |state| Out(state.motion_ratio);
        /// Leverage ratio ``dz/ds``, wheel per shock.
        leverage_ratio: Out<LeverageRatio> = |state| Out(state.leverage_ratio());
        /// Slope of the motion ratio over travel.
        motion_ratio_slope: Out<MotionRatioSlope> = |state| Out(state.motion_ratio_slope);
        /// Force along the shock or the fork.
        axial_force: Out<Force> = |state| Out(state.axial_force);
        /// Rate along the shock or the fork.
        axial_rate: Out<SpringRate> = |state| Out(state.axial_rate);
        /// Vertical force at the wheel.
        wheel_force: Out<Force> = |state| Out(state.wheel_force);
        /// Rate at the wheel, the geometric term included.
        wheel_rate: Out<WheelRate> = |state| Out(state.wheel_rate);
        /// The part of the wheel rate that comes from the changing motion ratio, ``F·dMR/dz``.
        geometric_rate: Out<WheelRate> = |state| Out(state.geometric_rate());
        /// Energy taken up from full extension.
        energy: Out<Energy> = |state| Out(state.energy);
    }
}

result_class! {
    /// What the wheel feels over many travels, as arrays of one length.
    WheelCurve(wheel::WheelCurve) {
        /// Vertical travel from full extension.
        travel: OutArray<Length> = |curve| OutArray(curve.travel.clone());
        /// Stroke of the shock, or of the fork along itself.
        stroke: OutArray<Length> = |curve| OutArray(curve.stroke.clone());
        /// Motion ratio ``ds/dz``, shock per wheel.
        motion_ratio: OutArray<MotionRatio> = |curve| OutArray(curve.motion_ratio.clone());
        /// Leverage ratio ``dz/ds``, wheel per shock.
        leverage_ratio: OutArray<LeverageRatio> = |curve| OutArray(curve.leverage_ratio());
        /// Slope of the motion ratio over travel.
        motion_ratio_slope: OutArray<MotionRatioSlope> = |curve| OutArray(curve.motion_ratio_slope.clone());
        /// Force along the shock or the fork.
        axial_force: OutArray<Force> = |curve| OutArray(curve.axial_force.clone());
        /// Rate along the shock or the fork.
        axial_rate: OutArray<SpringRate> = |curve| OutArray(curve.axial_rate.clone());
        /// Vertical force at the wheel.
        wheel_force: OutArray<Force> = |curve| OutArray(curve.wheel_force.clone());
        /// Rate at the wheel, the geometric term included.
        wheel_rate: OutArray<WheelRate> = |curve| OutArray(curve.wheel_rate.clone());
        /// Energy taken up from full extension.
        energy: OutArray<Energy> = |curve| OutArray(curve.energy.clone());
    }
}

rows! {
    WheelCurve: travel, stroke, motion_ratio, leverage_ratio, motion_ratio_slope, axial_force, axial_rate, wheel_force, wheel_rate, energy
}

result_class! {
    /// Where a wheel comes to rest under a load: the first equilibrium on the way from full extension.
    Settling(CoreSettling) {
        /// ``settled``, ``topped out`` or ``bottomed``.
        outcome: &'static str = |settling| match settling {
            CoreSettling::Settled { .. } => "settled",
            CoreSettling::ToppedOut { .. } => "topped out",
            CoreSettling::Bottomed { .. } => "bottomed",
        };
        /// The wheel where it rests; None on a stop.
        state: Option<WheelState> = |settling| settling.state().copied().map(WheelState);
        /// Force by which the wheel rests on its stop; None where it is on none.
        margin: Option<Out<Force>> = |settling| match settling {
            CoreSettling::Settled { .. } => None,
            CoreSettling::ToppedOut { margin, .. } | CoreSettling::Bottomed { margin, .. } => Some(Out(*margin)),
        };
        /// Travels of other equilibria, with what they are: ``stable``, ``unstable`` or ``bottomed``.
        others: Vec<(Out<Length>, &'static str)> = |settling| {
            settling.others().iter().map(|other| (Out(other.travel), stability(other.stability))).collect()
        };
    }
}

result_class! {
    /// What a small change of every dimension of the linkage does where the wheel has settled: one entry per dimension.
    EndEffects(Vec<wheel::EndEffect>) {
        /// The dimensions: ``x of eye``, ``length of link``, ``shock length``.
        dimensions: Vec<String> = |effects| effects.iter().map(|effect| effect.dimension.to_string()).collect();
        /// The change of each.
        step: OutArray<Length> = |effects| OutArray(effects.iter().map(|effect| effect.step).collect());
        /// Change of the wheel force at the same travel.
        wheel_force: OutArray<Force> = |effects| OutArray(effects.iter().map(|effect| effect.wheel_force).collect());
        /// Change of the wheel rate at the same travel.
        wheel_rate: OutArray<WheelRate> = |effects| OutArray(effects.iter().map(|effect| effect.wheel_rate).collect());
        /// Change of the wheel rate at the sag, which moves, under the same load.
        wheel_rate_at_sag: OutArray<WheelRate> = |effects| {
            OutArray(effects.iter().map(|effect| effect.wheel_rate_at_sag).collect())
        };
        /// Change of the sag under the same load.
        sag: OutArray<Length> = |effects| OutArray(effects.iter().map(|effect| effect.sag).collect());
        /// Change of the frame's height over the axle under the same load.
        ride_height: OutArray<Length> = |effects| OutArray(effects.iter().map(|effect| effect.ride_height).collect());
    }
}

rows! { EndEffects: dimensions, step, wheel_force, wheel_rate, sag, ride_height, wheel_rate_at_sag }

result_class! {
    /// What a small change of every dimension of the linkage does at the wheel at one travel: one entry per dimension.
    WheelEffects(Vec<wheel::WheelEffect>) {
        /// The dimensions: ``x of eye``, ``length of link``, ``shock length``.
        dimensions: Vec<String> = |effects| effects.iter().map(|effect| effect.dimension.to_string()).collect();
        /// The change of each.
        step: OutArray<Length> = |effects| OutArray(effects.iter().map(|effect| effect.step).collect());
        /// Change of the wheel force.
        wheel_force: OutArray<Force> = |effects| OutArray(effects.iter().map(|effect| effect.wheel_force).collect());
        /// Change of the wheel rate.
        wheel_rate: OutArray<WheelRate> = |effects| OutArray(effects.iter().map(|effect| effect.wheel_rate).collect());
    }
}

rows! { WheelEffects: dimensions, step, wheel_force, wheel_rate }

fn stability(of: Stability) -> &'static str {
    match of {
        Stability::Stable => "stable",
        Stability::Unstable => "unstable",
        Stability::Bottomed => "bottomed",
    }
}

/// The methods of both ends.
macro_rules! wheel_end {
    ($class:ident) => {
        #[pymethods]
        impl $class {
            /// Vertical travel from full extension to full compression.
            #[getter]
            fn full_travel(&self) -> Out<Length> {
                Out(wheel::Wheel::full_travel(&self.0))
            }
            /// Travels at which the rate jumps, in rising order.
            #[getter]
            fn kinks(&self) -> OutArray<Length> {
                OutArray(wheel::Wheel::kinks(&self.0))
            }
            /// Everything at one vertical travel.
            ///
            /// Parameters
            /// ----------
            /// travel : length
            ///     From full extension.
            ///
            /// Returns
            /// -------
            /// WheelState
            fn at(&self, py: Python<'_>, travel: Given<'_, Length>) -> PyResult<WheelState> {
                let travel = travel.read("travel")?;
                run(py, || wheel::Wheel::at(&self.0, travel)).map(WheelState)
            }
            /// Rate at the wheel, the geometric term included, at one travel or an array of any shape; `curve` gives all
            /// there is over a row of travels.
            fn wheel_rate(&self, py: Python<'_>, travel: GivenAny<'_, Length>) -> PyResult<Shaped<WheelRate>> {
                let at = |travel| run(py, || wheel::Wheel::at(&self.0, travel)).map(|state| state.wheel_rate);
                travel.read("travel")?.map(at)
            }
            /// Vertical force at the wheel at one travel or an array of any shape.
            fn wheel_force(&self, py: Python<'_>, travel: GivenAny<'_, Length>) -> PyResult<Shaped<Force>> {
                let at = |travel| run(py, || wheel::Wheel::at(&self.0, travel)).map(|state| state.wheel_force);
                travel.read("travel")?.map(at)
            }
            /// Everything over many vertical travels, as arrays.
            ///
            /// Parameters
            /// ----------
            /// travels : array of length, optional
            ///     From full extension; evenly over the whole range unless given.
            ///
            /// Returns
            /// -------
            /// WheelCurve
            #[pyo3(signature = (travels=None))]
            fn curve(&self, py: Python<'_>, travels: Option<GivenArray<'_, Length>>) -> PyResult<WheelCurve> {
                let travels = match travels {
                    Some(travels) => travels.read("travels")?,
                    None => wheel::Wheel::travels(&self.0, EVEN_TRAVELS),
                };
                run(py, || wheel::Wheel::curve(&self.0, &travels)).map(WheelCurve)
            }
            /// Everything at one travel reached fast, in a tenth of a second or two, from where the end had settled.
            ///
            /// The gas answers with its fast exponent from the pressure that it had at rest; springs, stops and linkage are
            /// as they are slowly. The energy is that of the rest and the work done since.
            ///
            /// Parameters
            /// ----------
            /// rest : length
            ///     Vertical travel at which the end had come to rest.
            /// travel : length
            ///     From full extension.
            ///
            /// Returns
            /// -------
            /// WheelState
            fn fast_at(
                &self,
                py: Python<'_>,
                rest: Given<'_, Length>,
                travel: Given<'_, Length>,
            ) -> PyResult<WheelState> {
                let (rest, travel) = (rest.read("rest")?, travel.read("travel")?);
                run(py, || wheel::Wheel::fast_at(&self.0, rest, travel)).map(WheelState)
            }
            /// Everything over many vertical travels, all reached fast from one rest.
            ///
            /// Parameters
            /// ----------
            /// rest : length
            ///     Vertical travel at which the end had come to rest.
            /// travels : array of length, optional
            ///     From full extension; evenly over the whole range unless given.
            ///
            /// Returns
            /// -------
            /// WheelCurve
            #[pyo3(signature = (rest, travels=None))]
            fn fast_curve(
                &self,
                py: Python<'_>,
                rest: Given<'_, Length>,
                travels: Option<GivenArray<'_, Length>>,
            ) -> PyResult<WheelCurve> {
                let rest = rest.read("rest")?;
                let travels = match travels {
                    Some(travels) => travels.read("travels")?,
                    None => wheel::Wheel::travels(&self.0, EVEN_TRAVELS),
                };
                run(py, || wheel::Wheel::fast_curve(&self.0, rest, &travels)).map(WheelCurve)
            }
            /// Where the wheel comes to rest under a vertical load on the springs, friction left out.
            ///
            /// Parameters
            /// ----------
            /// load : force
            ///     Sprung load at the wheel.
            ///
            /// Returns
            /// -------
            /// Settling
            fn travel_under(&self, py: Python<'_>, load: Given<'_, Force>) -> PyResult<Settling> {
                let load = load.read("load")?;
                run(py, || wheel::Wheel::travel_under(&self.0, load)).map(Settling)
            }
            /// What the end can still take in from this travel on, under a load: it has settled there, and goes on fast.
            ///
            /// Parameters
            /// ----------
            /// load : force
            ///     At the wheel.
            /// travel : length, optional
            ///     Where it stands; full extension unless given, which is a drop onto unloaded wheels.
            ///
            /// Returns
            /// -------
            /// Reserve
            #[pyo3(signature = (load, travel=None))]
            fn reserve(
                &self,
                py: Python<'_>,
                load: Given<'_, Force>,
                travel: Option<Given<'_, Length>>,
            ) -> PyResult<Reserve> {
                let load = load.read("load")?;
                let travel = read_optional(travel, "travel")?.unwrap_or(Length::from_si(0.0));
                run(py, || wheelrate::bike::ride::reserve_of(&self.0, travel, load)).map(Reserve)
            }
            /// Position of the axle in the frame axes, x forward and z up.
            fn axle(&self, py: Python<'_>, travel: Given<'_, Length>) -> PyResult<OutArray<Length>> {
                let travel = travel.read("travel")?;
                run(py, || wheel::Wheel::axle(&self.0, travel)).map(|at| OutArray(at.to_vec()))
            }
            /// The end with springs of this rate (each) and preload in place of its main springs.
            fn with_spring_rate(
                &self,
                py: Python<'_>,
                rate: Given<'_, SpringRate>,
                preload: Given<'_, Length>,
            ) -> PyResult<Self> {
                let (rate, preload) = (rate.read("rate")?, preload.read("preload")?);
                run(py, || wheel::Tunable::with_spring_rate(&self.0, rate, preload)).map(Self)
            }
            /// The end with every main spring's rate times a factor, and more (or less) preload on each.
            #[pyo3(signature = (rate_factor: "float", preload_change))]
            fn with_spring_change(
                &self,
                py: Python<'_>,
                #[pyo3(from_py_with = $crate::units::plain::rate_factor)] rate_factor: f64,
                preload_change: Given<'_, Length>,
            ) -> PyResult<Self> {
                let change = preload_change.read("preload_change")?;
                run(py, || wheel::Tunable::with_spring_change(&self.0, rate_factor, change)).map(Self)
            }
        }
    };
}

use wheel_end;
