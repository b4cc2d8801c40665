//! A spring in its place: `F(s) = F_spring(s + p)`.
//!
//! Preload `p` is the compression of the spring at stroke 0. Below zero it is a gap: the spring hangs loose until the
//! stroke has closed it (a dead band).

use crate::axial::{Axial, AxialElement, AxialState, END_ROUNDING, stroke_within, tidy_kinks};
use crate::error::{Result, SpringError};
use crate::units::{Length, Quantity, SpringRate, Uncertain, brief, show};

use super::adjuster::plausible_preload;
use super::{Adjuster, Spring};

/// A spring with its preload.
#[derive(Debug, Clone, PartialEq)]
pub struct Preloaded {
    spring: Spring,
    preload: Length,
    adjuster: Option<Adjuster>,
    /// Standard uncertainty of a preload that nobody stated.
    assumed: Option<Length>,
}

impl Preloaded {
    /// A spring with its preload; below zero, a gap.
    ///
    /// # Errors
    /// When the preload is not from −200 mm to 300 mm, or more than the spring can compress.
    pub fn new(spring: impl Into<Spring>, preload: Length) -> Result<Self> {
        let spring = spring.into();
        plausible_preload("preload", preload)?;
        if let Some(end) = spring.most_compression().filter(|end| preload >= *end) {
            return Err(SpringError::Order {
                field: "preload".to_owned(),
                found: brief(preload),
                wanted: "less",
                other: spring.allows().to_owned(),
                than: brief(end),
            }
            .into());
        }
        Ok(Self { spring, preload, adjuster: None, assumed: None })
    }

    /// A spring whose preload nobody knows, at what is usual: the fit takes its uncertainty, and a file does not hold it. Where
    /// that is more than the spring has room for, half of that.
    ///
    /// # Errors
    /// As [`new`](Self::new).
    pub fn of_unknown_preload(
        spring: impl Into<Spring>,
        usual: Uncertain<Length>,
        full_stroke: Option<Length>,
    ) -> Result<Self> {
        let spring = spring.into();
        let room = spring.most_compression().map(|end| end - full_stroke.unwrap_or_default());
        let preload = room.map_or(usual.value, |room| usual.value.min(room / 2.0));
        Ok(Self { assumed: Some(usual.standard_uncertainty), ..Self::new(spring, preload)? })
    }

    /// A coil spring of constant rate with its preload.
    ///
    /// # Errors
    /// As [`Coil::new`](super::Coil::new) and [`new`](Self::new).
    pub fn linear(rate: SpringRate, preload: Length) -> Result<Self> {
        Self::new(Spring::linear(rate)?, preload)
    }

    /// The same place with an adjuster. The preload need not lie within its limits: a preload to be reached by a
    /// longer spacer is asked about too. [`Adjuster::reaches`] says.
    #[must_use]
    pub fn with_adjuster(self, adjuster: Adjuster) -> Self {
        Self { adjuster: Some(adjuster), ..self }
    }

    /// The spring.
    #[must_use]
    pub fn spring(&self) -> &Spring {
        &self.spring
    }

    /// Its preload.
    #[must_use]
    pub fn preload(&self) -> Length {
        self.preload
    }

    /// Standard uncertainty of a preload that is assumed; `None` where it is stated.
    #[must_use]
    pub fn assumed_preload(&self) -> Option<Length> {
        self.assumed
    }

    /// The same place, its preload at what is usual where nobody stated it.
    pub(crate) fn assuming(self, usual: Uncertain<Length>, full_stroke: Length) -> Result<Self> {
        if self.assumed.is_none() {
            return Ok(self);
        }
        let adjuster = self.adjuster;
        Ok(Self { adjuster, ..Self::of_unknown_preload(self.spring, usual, Some(full_stroke))? })
    }

    /// Its adjuster, where known.
    #[must_use]
    pub fn adjuster(&self) -> Option<&Adjuster> {
        self.adjuster.as_ref()
    }

    /// The same place with another spring and preload.
    ///
    /// # Errors
    /// As [`new`](Self::new).
    pub fn replaced(&self, spring: impl Into<Spring>, preload: Length) -> Result<Self> {
        Ok(Self { adjuster: self.adjuster, ..Self::new(spring, preload)? })
    }

    /// The same place with the rates times a factor and more (or less) preload.
    ///
    /// # Errors
    /// As [`Spring::scaled`] and [`new`](Self::new).
    pub fn changed(&self, rate_factor: f64, preload_change: Length) -> Result<Self> {
        self.replaced(self.spring.scaled(rate_factor)?, self.preload + preload_change)
    }

    /// Compression left at the end of a stroke, where the spring's end is known. Negative: the spring ends too early.
    #[must_use]
    pub fn clearance(&self, full_stroke: Length) -> Option<Length> {
        self.spring.most_compression().map(|end| end - self.preload - full_stroke)
    }

    /// Refuses a spring that ends before the stroke does.
    pub(crate) fn check_clearance(&self, part: &str, full_stroke: Length) -> Result<()> {
        match (self.clearance(full_stroke), self.spring.most_compression()) {
            (Some(left), Some(end)) if left.si() < -END_ROUNDING * full_stroke.si() => Err(SpringError::EndsEarly {
                part: part.to_owned(),
                end: show(end, "mm", 1),
                ends_at: show(end - self.preload, "mm", 1),
                full: show(full_stroke, "mm", 1),
                most_preload: show(end - full_stroke, "mm", 1),
                needed: show(full_stroke + self.preload, "mm", 1),
            }
            .into()),
            _ => Ok(()),
        }
    }

    #[inline]
    pub(crate) fn eval(&self, stroke: f64) -> Axial {
        self.spring.eval(stroke + self.preload.si())
    }

    /// Strokes at which the rate jumps, the end of a dead band included.
    pub(crate) fn jumps(&self) -> Vec<f64> {
        let preload = self.preload.si();
        core::iter::once(0.0).chain(self.spring.jumps()).map(|x| x - preload).collect()
    }
}

impl AxialElement for Preloaded {
    fn at(&self, stroke: Length) -> Result<AxialState> {
        let s = stroke_within("spring", stroke, self.full_stroke().map(Quantity::si))?;
        Ok(self.eval(s).typed())
    }

    fn full_stroke(&self) -> Option<Length> {
        self.spring.most_compression().map(|end| end - self.preload)
    }

    fn kinks(&self) -> Vec<Length> {
        tidy_kinks(self.jumps(), self.full_stroke().map_or(f64::INFINITY, Quantity::si))
    }

    fn describe(&self) -> String {
        let preload = if self.preload.si() < 0.0 {
            format!("gap {} before it touches", show(-self.preload, "mm", 1))
        } else {
            let about = if self.assumed.is_some() { "about " } else { "" };
            format!("preload {about}{}", show(self.preload, "mm", 1))
        };
        let adjuster = self.adjuster.and_then(|adjuster| adjuster.describe());
        [Some(self.spring.describe()), Some(preload), adjuster].into_iter().flatten().collect::<Vec<_>>().join(", ")
    }
}

#[cfg(test)]
mod tests {
    use super::super::{AdjusterParts, Coil};
    use super::*;
    use crate::axial::testing::assert_consistent;
    use crate::units::parse;
    use proptest::prelude::*;

    fn mm(length: f64) -> Length {
        Length::from_si(length * 1e-3)
    }

    fn rate(text: &str) -> SpringRate {
        parse(text).unwrap()
    }

    #[test]
    fn a_gap_is_a_dead_band_and_the_spring_never_pulls() {
        let place = Preloaded::linear(rate("5 N/mm"), mm(-8.0)).unwrap();
        assert_eq!(place.at(mm(7.9)).unwrap(), Axial::default().typed());
        assert!((place.at(mm(20.0)).unwrap().force.si() - 60.0).abs() < 1e-9, "5 N/mm over 12 mm");
        assert_eq!(place.kinks(), vec![mm(8.0)]);
        assert!(place.describe().contains("gap 8.0 mm"), "{}", place.describe());
    }

    #[test]
    fn a_spring_that_just_touches_counts() {
        let place = Preloaded::linear(rate("5 N/mm"), mm(0.0)).unwrap();
        assert_eq!(place.at(mm(0.0)).unwrap().rate, rate("5 N/mm"));
        assert_eq!(place.kinks(), vec![]);
    }

    #[test]
    fn shows_where_a_spring_goes_solid() {
        let coil = Coil::new(rate("52 N/mm")).unwrap().with_lengths(mm(245.0), mm(120.0)).unwrap();
        let place = Preloaded::new(coil, mm(14.0)).unwrap();
        assert!((place.clearance(mm(100.0)).unwrap().si() - 0.011).abs() < 1e-12);
        let message = place.check_clearance("shock", mm(118.0)).unwrap_err().to_string();
        for part in ["shock", "125.0 mm of compression", "stroke 111.0 mm", "118.0 mm", "7.0 mm at most", "132.0 mm"] {
            assert!(message.contains(part), "{message} lacks {part}");
        }
        assert!(Preloaded::new(coil, mm(130.0)).unwrap_err().to_string().contains("less than the compression"));
    }

    #[test]
    fn adjuster_turns_and_reach() {
        let adjuster =
            Adjuster::new(AdjusterParts { thread_pitch: Some(mm(1.5)), least: Some(mm(4.0)), most: Some(mm(24.0)) })
                .unwrap();
        assert_eq!(adjuster.turns(mm(-3.0)), Some(-2.0));
        assert!(adjuster.reaches(mm(4.0)) && !adjuster.reaches(mm(24.1)));
        let crossed = AdjusterParts { least: Some(mm(4.0)), most: Some(mm(3.0)), ..AdjusterParts::default() };
        let crossed = Adjuster::new(crossed).unwrap_err().to_string();
        assert!(crossed.contains("max_preload") && crossed.contains("3 mm") && crossed.contains("4 mm"), "{crossed}");
    }

    proptest! {
        #[test]
        fn energy_force_and_rate_agree(k in 1.0..100.0_f64, preload in -30.0..30.0_f64) {
            assert_consistent(&Preloaded::linear(SpringRate::from_si(k * 1e3), mm(preload)).unwrap(), 0.3);
        }
    }
}
