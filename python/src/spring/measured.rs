//! A measured spring at one compression.

use pyo3::prelude::*;
use wheelrate::spring;
use wheelrate::units::Length;

use crate::uncertain::Uncertain;
use crate::units::Out;
use crate::value::result_class;

result_class! {
    /// A measured spring at one compression, with what its readings leave open, the error that all loads share included.
    SpringPoint(spring::MeasuredSpringPoint) {
        /// Compression from where the spring touches.
        compression: Out<Length> = |point| Out(point.compression);
        /// Force there.
        force: Uncertain = |point| point.force.into();
        /// Rate there.
        rate: Uncertain = |point| point.rate.into();
    }
}
