//! A spring by what was read off a press or scales: loads over compression (or length), made smooth, with what the readings
//! leave open.
//!
//! `F_i = f(x_i) + e_i`, `σ_i² = u_F² + (k·u_x)²`, `F(x) = s·f(x₀ + x)`, `f(x₀) = 0`, `s ~ N(1, u_s)`
//!
//! with `f` the smoothing spline of the readings and of nothing at all where the spring just touches, read as well as any
//! other compression (effective variance, as for a measured linkage). Two errors stay apart: those of single readings leave
//! a covariance of the whole curve, and what all loads share (the scales read high, a lever arm is off) is one factor `s`. A
//! compression that is off for all readings alike moves `x₀`, and is one with the preload.
//!
//! More of the smoothing only where that is needed to keep the rate above zero. Independent normal errors of known size are assumed, and
//! a spring that goes back the way it came: take the readings up and down where the press rubs, and give both. Fails with fewer
//! than five compressions, beyond the last of them, and at a kink, which it rounds off (a stack: build it of its springs).
//!
//! References: Eilers & Marx, *Statistical Science* 11 (1996) 89–121; Wahba, *J. R. Statist. Soc. B* 45 (1983) 133–150;
//! JCGM 100:2008.

mod curve;
mod faults;

use std::sync::Arc;

use nalgebra::DVector;

use crate::axial::Axial;
use crate::error::{Result, SpringError};
use crate::record::{Distance, SuspectReading, Suspects};
use crate::units::{Force, Length, Quantity, Share, SpringRate, Uncertain, check, show};

use self::curve::{Fitted, Smoothed, fitted, points, range, smoothed};
use self::faults::{odd, odd_one, refuse_too_few};
use super::Spring;
use super::by_force::ByForce;

/// Compressions needed: with nothing at touch, a cubic and two more, as for a measured linkage.
const LEAST_READINGS: usize = 5;

/// How well a spring was read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasuredSpringParts {
    /// Standard uncertainty of one load.
    pub force_uncertainty: Force,
    /// Standard uncertainty of one compression.
    pub compression_uncertainty: Length,
    /// Standard uncertainty that all loads share, as a share of them: of the scales, and of the lever that presses.
    pub scale_uncertainty: Share,
    /// Length of the loose spring, where the readings are of its length and not of its compression.
    pub free_length: Option<Length>,
}

impl MeasuredSpringParts {
    /// Two kilograms-force, half a millimetre and a hundredth: bathroom scales, a press and a caliper (common practice, no source).
    #[must_use]
    pub fn usual() -> Self {
        Self {
            force_uncertainty: Force::from_si(20.0),
            compression_uncertainty: Length::from_si(0.5e-3),
            scale_uncertainty: Share::from_si(0.01),
            free_length: None,
        }
    }
}

/// Force and rate at one compression with what the readings leave open, the shared error included.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct MeasuredSpringPoint {
    /// Compression from where the spring touches.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub compression: Length,
    /// Force there.
    pub force: Uncertain<Force>,
    /// Rate there.
    pub rate: Uncertain<SpringRate>,
}

/// A spring by its readings, made smooth.
///
/// ```
/// use wheelrate::spring::{MeasuredSpring, MeasuredSpringParts};
/// use wheelrate::units::{Force, Length, Quantity, parse};
/// let readings: Vec<(Length, Force)> = (1..=10)
///     .map(|step| 12.0 * f64::from(step))
///     .map(|x| (Length::from_si(x / 1000.0), Force::from_si(50.0 * x + 0.02 * x * x)))
///     .collect();
/// let spring = MeasuredSpring::new(readings, MeasuredSpringParts::usual())?;
/// let point = spring.at(parse("60 mm")?)?;
/// assert!((point.rate.value.in_unit("N/mm")? - 52.4).abs() < 0.1);
/// assert!(point.rate.standard_uncertainty.in_unit("N/mm")? < 1.0);
/// # Ok::<(), wheelrate::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredSpring {
    readings: Vec<(Length, Force)>,
    parts: MeasuredSpringParts,
    fitted: Arc<Fitted>,
    suspects: Suspects<Length, Force>,
}

impl MeasuredSpring {
    /// Readings of (compression, load) in any order; of (length, load) where the free length is stated. That it carries
    /// nothing where it just touches goes without saying.
    ///
    /// # Errors
    /// [`SpringError::Description`] with fewer than five compressions, or loads that do not rise; a quantity out of range.
    pub fn new(readings: Vec<(Length, Force)>, parts: MeasuredSpringParts) -> Result<Self> {
        check_parts(&parts)?;
        let (points, rows) = points(&readings, &parts)?;
        refuse_too_few(&points, &rows)?;
        let fitted = fitted(&points, &parts).map_err(|error| {
            odd_one(&points, &parts).map_or(error, |(row, others)| odd(rows[row], points[row + 1], others))
        })?;
        Ok(Self { readings, parts, fitted: Arc::new(fitted), suspects: Suspects::default() })
    }

    /// The readings as given.
    #[must_use]
    pub fn readings(&self) -> &[(Length, Force)] {
        &self.readings
    }

    /// How well it was read.
    #[must_use]
    pub fn parts(&self) -> MeasuredSpringParts {
        self.parts
    }

    /// The furthest compression that was read, from where the spring touches.
    #[must_use]
    pub fn most_compression(&self) -> Length {
        Length::from_si(self.fitted.end)
    }

    /// The rate that it goes by: force over compression at the furthest reading.
    #[must_use]
    pub fn mean_rate(&self) -> Uncertain<SpringRate> {
        let end = self.fitted.end;
        let force = self.uncertain(end, 0);
        let over = |force: f64| SpringRate::from_si(force / end);
        Uncertain { value: over(force.0), standard_uncertainty: over(force.1) }
    }

    /// Force and rate at a compression, with their standard uncertainties.
    ///
    /// # Errors
    /// [`SpringError::OutOfStroke`] beyond the last reading.
    pub fn at(&self, compression: Length) -> Result<MeasuredSpringPoint> {
        let x = crate::axial::stroke_within("measured spring", compression, Some(self.fitted.end))?;
        let (force, rate) = (self.uncertain(x, 0), self.uncertain(x, 1));
        Ok(MeasuredSpringPoint {
            compression,
            force: Uncertain { value: Force::from_si(force.0), standard_uncertainty: Force::from_si(force.1) },
            rate: Uncertain { value: SpringRate::from_si(rate.0), standard_uncertainty: SpringRate::from_si(rate.1) },
        })
    }

    /// As [`at`](Self::at) over many compressions.
    ///
    /// # Errors
    /// As [`at`](Self::at), for the first beyond the range.
    pub fn curve(&self, compressions: &[Length]) -> Result<Vec<MeasuredSpringPoint>> {
        compressions.iter().map(|&compression| self.at(compression)).collect()
    }

    /// Readings that lie more than 3.5 standard deviations off what the others say: misread or miswritten, probably. They stay in the
    /// curve. The scale error that all loads share is none of a single one, and not in it.
    #[must_use]
    pub fn suspect_readings(&self) -> Vec<SuspectReading<Length, Force>> {
        let mean_rate = self.fitted.smoothed.mean_rate;
        let compression = |at: Length| self.parts.free_length.map_or(at, |free| free - at).si();
        let range = range(self.readings.iter().map(|&(at, _)| compression(at)));
        let curve = |left_out: &[usize]| {
            let kept = self.readings.iter().enumerate().filter(|(place, _)| !left_out.contains(place));
            let kept: Vec<(Length, Force)> = kept.map(|(_, &reading)| reading).collect();
            let (points, rows) = points(&kept, &self.parts).ok()?;
            refuse_too_few(&points, &rows).ok()?;
            smoothed(&points, &self.parts, mean_rate, range).ok()
        };
        let distance = |Smoothed { smooth, .. }: &Smoothed, place: usize| {
            let (at, force) = self.readings[place];
            let x = compression(at);
            Distance {
                off: force.si() / mean_rate - smooth.value(x, 0),
                reading: self.parts.deviation(mean_rate, smooth.value(x, 1)),
                curve: smooth.uncertainty(&smooth.gradient(x, 0)),
            }
        };
        self.suspects.among(&self.readings, mean_rate, curve, distance)
    }

    pub(super) fn scaled(&self, factor: f64) -> Result<Self> {
        let readings = self.readings.iter().map(|&(x, force)| (x, force * factor)).collect();
        Self::new(
            readings,
            MeasuredSpringParts { force_uncertainty: self.parts.force_uncertainty * factor, ..self.parts },
        )
    }

    pub(super) fn end(&self) -> f64 {
        self.fitted.end
    }

    pub(super) fn eval(&self, x: f64) -> Axial {
        self.fitted.curve.eval(x)
    }

    pub(super) fn by_force(&self, force: f64) -> ByForce {
        self.fitted.curve.by_force(force)
    }

    pub(super) fn describe(&self) -> String {
        let end = show(self.most_compression(), "mm", 1);
        format!(
            "measured spring, {} readings to {end}, {} on average",
            self.readings.len(),
            self.mean_rate().show("N/mm")
        )
    }

    /// What one standard deviation of every independent error of the readings changes of force and rate at some compressions
    /// (m); nothing below touch, and as at the last reading beyond it. The shared error of the loads is not in it.
    pub(crate) fn deviations(&self, compressions: &[f64]) -> Vec<Vec<[f64; 2]>> {
        let Fitted { smoothed: Smoothed { smooth, mean_rate, .. }, end, .. } = self.fitted.as_ref();
        let at = |&x: &f64| {
            (x > 0.0).then(|| {
                let (inside, beyond) = (x.min(*end), (x - end).max(0.0));
                let rate = self.gradient(inside, 1);
                [self.gradient(inside, 0) + &rate * beyond, rate]
            })
        };
        let gradients: Vec<Option<[DVector<f64>; 2]>> = compressions.iter().map(at).collect();
        let of = |row: &DVector<f64>| {
            let felt = |at: &Option<[DVector<f64>; 2]>| {
                at.as_ref().map_or([0.0; 2], |of| [0, 1].map(|k| mean_rate * of[k].dot(row)))
            };
            gradients.iter().map(felt).collect()
        };
        smooth.independent().iter().map(of).collect()
    }

    /// Force (or rate) with its standard uncertainty, in SI units.
    fn uncertain(&self, x: f64, derivative: usize) -> (f64, f64) {
        let state = self.eval(x);
        let value = if derivative == 0 { state.force } else { state.rate };
        let own =
            self.fitted.smoothed.mean_rate * self.fitted.smoothed.smooth.uncertainty(&self.gradient(x, derivative));
        (value, own.hypot(self.parts.scale_uncertainty.si() * value))
    }

    /// How force (or rate) over mean rate depends on the coefficients. Where the spring touches moves with them too:
    /// `δx₀ = −δf(x₀)/f′(x₀)`.
    fn gradient(&self, x: f64, derivative: usize) -> DVector<f64> {
        let Smoothed { smooth, touch, .. } = &self.fitted.smoothed;
        let at = touch + x;
        let shift = smooth.value(at, derivative + 1) / smooth.value(*touch, 1);
        smooth.gradient(at, derivative) - smooth.gradient(*touch, 0) * shift
    }
}

/// Refuses a measured spring among others: what its readings leave open is known of it alone.
pub(super) fn none_within<'a>(part: &str, mut springs: impl Iterator<Item = &'a Spring>) -> Result<()> {
    if springs.all(|spring| spring.measured().is_none()) {
        return Ok(());
    }
    Err(SpringError::Description {
        part: part.to_owned(),
        found: "a measured spring within".to_owned(),
        wanted: "springs by their rate or table, or the whole of them measured as a whole".to_owned(),
    }
    .into())
}

impl MeasuredSpringParts {
    /// Standard deviation of one reading, as force over mean rate (m), where the rate is so many times the mean.
    fn deviation(&self, mean_rate: f64, relative_rate: f64) -> f64 {
        (self.force_uncertainty.si() / mean_rate).hypot(relative_rate * self.compression_uncertainty.si())
    }
}

fn check_parts(parts: &MeasuredSpringParts) -> Result<()> {
    let MeasuredSpringParts { force_uncertainty, compression_uncertainty, scale_uncertainty, free_length } = *parts;
    check::plausible("force_uncertainty", force_uncertainty, Force::from_si(1e-3), Force::from_si(1e4))?;
    check::plausible("compression_uncertainty", compression_uncertainty, Length::from_si(0.0), Length::from_si(0.02))?;
    check::plausible("scale_uncertainty", scale_uncertainty, Share::from_si(1e-6), Share::from_si(0.3))?;
    if let Some(free) = free_length {
        check::plausible("free_length", free, Length::from_si(5e-3), Length::from_si(2.0))?;
    }
    Ok(())
}

fn description(part: &str, found: String, wanted: &str) -> crate::Error {
    SpringError::Description { part: part.to_owned(), found, wanted: wanted.to_owned() }.into()
}

#[cfg(test)]
mod tests;
