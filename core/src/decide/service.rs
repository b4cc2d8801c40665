//! Friction beyond common practice: what to put right before a spring is bought.

use crate::infer::Finding;
use crate::infer::finding::HEALTHY_BAND;
use crate::infer::fit::Fit;
use crate::units::{Force, Length, Quantity, Uncertain};

/// A band this many times the widest healthy one is far beyond common practice (no source): the end then rests anywhere
/// within the ranges that sags are usually wanted in.
const FAR_BEYOND: f64 = 2.0;

/// A sticky end.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Service {
    /// Friction band, settled low less settled high.
    pub band: Uncertain<Length>,
    /// Friction force at the wheel, either way.
    pub friction: Uncertain<Force>,
    /// Is it so far beyond common practice that nothing else comes before it?
    pub comes_first: bool,
}

impl Service {
    /// What the fit found of it; `None` on a healthy end.
    pub(crate) fn of(fit: &Fit) -> Option<Self> {
        fit.findings.iter().find_map(|finding| match *finding {
            Finding::StickyEnd { band, friction } => {
                let surely = band.value.si() - 2.0 * band.standard_uncertainty.si();
                Some(Self { band, friction, comes_first: surely > FAR_BEYOND * HEALTHY_BAND })
            }
            _ => None,
        })
    }
}
