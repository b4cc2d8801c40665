//! Elements along their own axis: what springs, chambers, forks and shocks all answer.

use pyo3::prelude::*;
use wheelrate::axial;
use wheelrate::units::{Energy, Force, Length, SpringRate};

use crate::units::{Out, OutArray};
use crate::value::{result_class, rows};

result_class! {
    /// Force, rate and energy at one stroke.
    AxialState(axial::AxialState) {
        /// Axial force, positive when it pushes the end open.
        force: Out<Force> = |state| Out(state.force);
        /// Slope of the force over the stroke.
        rate: Out<SpringRate> = |state| Out(state.rate);
        /// Energy stored.
        energy: Out<Energy> = |state| Out(state.energy);
    }
}

result_class! {
    /// Force, rate and energy over many strokes, as arrays of one length.
    AxialCurve(axial::AxialCurve) {
        /// Strokes asked for.
        stroke: OutArray<Length> = |curve| OutArray(curve.stroke.clone());
        /// Axial force at each.
        force: OutArray<Force> = |curve| OutArray(curve.force.clone());
        /// Rate at each.
        rate: OutArray<SpringRate> = |curve| OutArray(curve.rate.clone());
        /// Energy at each.
        energy: OutArray<Energy> = |curve| OutArray(curve.energy.clone());
    }
}

rows! { AxialCurve: stroke, force, rate, energy }

/// The methods of everything that makes a force along its own axis.
macro_rules! axial_element {
    ($class:ident) => {
        #[pymethods]
        impl $class {
            /// Force, rate and energy at a stroke.
            ///
            /// Parameters
            /// ----------
            /// stroke : length
            ///     Shortening from full extension.
            ///
            /// Returns
            /// -------
            /// AxialState
            fn at(
                &self,
                py: Python<'_>,
                stroke: $crate::units::Given<'_, wheelrate::units::Length>,
            ) -> PyResult<$crate::axial::AxialState> {
                let stroke = stroke.read("stroke")?;
                $crate::errors::run(py, || wheelrate::axial::AxialElement::at(&self.0, stroke))
                    .map($crate::axial::AxialState)
            }
            /// Force, rate and energy over many strokes.
            ///
            /// Parameters
            /// ----------
            /// strokes : array of length
            ///     Shortenings from full extension.
            ///
            /// Returns
            /// -------
            /// AxialCurve
            fn curve(
                &self,
                py: Python<'_>,
                strokes: $crate::units::GivenArray<'_, wheelrate::units::Length>,
            ) -> PyResult<$crate::axial::AxialCurve> {
                let strokes = strokes.read("strokes")?;
                $crate::errors::run(py, || wheelrate::axial::AxialElement::curve(&self.0, &strokes))
                    .map($crate::axial::AxialCurve)
            }
            /// The far end of the stroke; None for an element that has no end of its own.
            #[getter]
            fn full_stroke(&self) -> Option<$crate::units::Out<wheelrate::units::Length>> {
                wheelrate::axial::AxialElement::full_stroke(&self.0).map($crate::units::Out)
            }
            /// Strokes at which the rate jumps, in rising order.
            #[getter]
            fn kinks(&self) -> $crate::units::OutArray<wheelrate::units::Length> {
                $crate::units::OutArray(wheelrate::axial::AxialElement::kinks(&self.0))
            }
            /// Say what it is, in words and numbers.
            fn describe(&self) -> String {
                wheelrate::axial::AxialElement::describe(&self.0)
            }
        }
    };
}

/// What elements that hold gas answer to a fast stroke.
macro_rules! fast_element {
    ($class:ident) => {
        #[pymethods]
        impl $class {
            /// Force, rate and energy at a stroke reached fast, in a tenth of a second or two, from where it had settled.
            ///
            /// The gas answers with its fast exponent from the pressure that it had at rest; springs and stops are as they
            /// are slowly. The energy is that of the rest and the work done since.
            ///
            /// Parameters
            /// ----------
            /// rest : length
            ///     Stroke at which it had come to rest.
            /// stroke : length
            ///     Shortening from full extension.
            ///
            /// Returns
            /// -------
            /// AxialState
            fn fast_at(
                &self,
                py: Python<'_>,
                rest: $crate::units::Given<'_, wheelrate::units::Length>,
                stroke: $crate::units::Given<'_, wheelrate::units::Length>,
            ) -> PyResult<$crate::axial::AxialState> {
                let (rest, stroke) = (rest.read("rest")?, stroke.read("stroke")?);
                $crate::errors::run(py, || wheelrate::axial::AxialElement::fast_at(&self.0, rest, stroke))
                    .map($crate::axial::AxialState)
            }
            /// Force, rate and energy over many strokes, all reached fast from one rest.
            ///
            /// Parameters
            /// ----------
            /// rest : length
            ///     Stroke at which it had come to rest.
            /// strokes : array of length
            ///     Shortenings from full extension.
            ///
            /// Returns
            /// -------
            /// AxialCurve
            fn fast_curve(
                &self,
                py: Python<'_>,
                rest: $crate::units::Given<'_, wheelrate::units::Length>,
                strokes: $crate::units::GivenArray<'_, wheelrate::units::Length>,
            ) -> PyResult<$crate::axial::AxialCurve> {
                let (rest, strokes) = (rest.read("rest")?, strokes.read("strokes")?);
                $crate::errors::run(py, || wheelrate::axial::AxialElement::fast_curve(&self.0, rest, &strokes))
                    .map($crate::axial::AxialCurve)
            }
            /// Rate of a small fast movement about a stroke at which it has come to rest: there the gas answers with
            /// ``fast/slow`` times its slow rate.
            fn fast_rate_at(
                &self,
                py: Python<'_>,
                stroke: $crate::units::Given<'_, wheelrate::units::Length>,
            ) -> PyResult<$crate::units::Out<wheelrate::units::SpringRate>> {
                let stroke = stroke.read("stroke")?;
                $crate::errors::run(py, || self.0.fast_rate_at(stroke)).map($crate::units::Out)
            }
            /// The gas alone at a stroke reached fast from rest at another.
            fn fast_gas_at(
                &self,
                py: Python<'_>,
                rest: $crate::units::Given<'_, wheelrate::units::Length>,
                stroke: $crate::units::Given<'_, wheelrate::units::Length>,
            ) -> PyResult<$crate::axial::AxialState> {
                let (rest, stroke) = (rest.read("rest")?, stroke.read("stroke")?);
                $crate::errors::run(py, || self.0.fast_gas_at(rest, stroke)).map($crate::axial::AxialState)
            }
        }
    };
}

pub(crate) use {axial_element, fast_element};
