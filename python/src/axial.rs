//! Elements along their own axis: what springs, chambers, forks and shocks all answer.

use pyo3::prelude::*;
use wheelrate::axial;
use wheelrate::units::{Energy, Force, Length, SpringRate};

use crate::units::{Out, OutArray};
use crate::value::result_class;

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

pub(crate) use axial_element;
