//! What is believed of a spring before anything is read.

use crate::error::UnitError;
use crate::units::{Length, Quantity, Share, SpringRate, Uncertain, check};

/// How far the spring rate and the preload stated for an end can be trusted.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct SpringPrior {
    /// Half-width of the tolerance on the stated rate: the true rate is anywhere within it, with equal chance.
    pub rate_tolerance: Share,
    /// Standard uncertainty of the stated preload.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub preload_uncertainty: Length,
}

impl SpringPrior {
    /// A prior.
    ///
    /// # Errors
    /// [`UnitError`] when either is not above zero, the tolerance is over 100 % or the uncertainty over 100 mm.
    pub fn new(rate_tolerance: Share, preload_uncertainty: Length) -> Result<Self, UnitError> {
        check::positive("rate_tolerance", rate_tolerance)?;
        check::plausible("rate_tolerance", rate_tolerance, Share::from_si(1e-6), Share::from_si(1.0))?;
        check::positive("preload_uncertainty", preload_uncertainty)?;
        check::plausible("preload_uncertainty", preload_uncertainty, Length::from_si(1e-6), Length::from_si(0.1))?;
        Ok(Self { rate_tolerance, preload_uncertainty })
    }

    /// The prior of a spring whose rate was measured or worked out from a caliper, and not read off a label: the half-width
    /// that has the same standard uncertainty, `a = u·√3`.
    ///
    /// # Errors
    /// As [`new`](Self::new): a rate known to no better than 58 % is as good as unknown.
    pub fn of_measured(rate: Uncertain<SpringRate>, preload_uncertainty: Length) -> Result<Self, UnitError> {
        let relative = rate.standard_uncertainty.si() / check::positive("rate", rate.value)?.si();
        Self::new(Share::from_si(relative * 3f64.sqrt()), preload_uncertainty)
    }

    /// Standard uncertainty of the rate as a share of it: `a/√3` for a rectangular distribution of half-width `a`
    /// (JCGM 100:2008, 4.3.7).
    #[must_use]
    pub fn rate_standard_uncertainty(&self) -> Share {
        self.rate_tolerance * (1.0 / 3f64.sqrt())
    }
}

impl Default for SpringPrior {
    /// 5 % on the rate and 1 mm on the preload (common practice, no source).
    fn default() -> Self {
        Self { rate_tolerance: Share::from_si(0.05), preload_uncertainty: Length::from_si(1e-3) }
    }
}
