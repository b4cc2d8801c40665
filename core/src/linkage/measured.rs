//! A linkage known from a table: wheel travel against shock length, taken with the spring off and the wheel lifted in
//! steps.
//!
//! `s(z) = L₀ − L(z)`, `MR = ds/dz`, with `L(z)` a smoothing spline through the readings. Raw differences of readings
//! that are good to a millimetre are noise: over a 10 mm step the motion ratio is out by ±0.14, a third of itself, and its
//! slope cannot be had at all. The smoothing follows from the readings and their stated error, with more of it only where
//! that is needed to keep the motion ratio above zero; uncertainties of stroke, motion ratio and slope are
//! those of the same model, the uncertainty of where full extension lies included.
//!
//! Assumes independent normal reading errors of known size, and a motion ratio without kinks. An error of the travel
//! readings counts through the motion ratio, `σ² = u_L² + (MR·u_z)²` (effective variance). Fails with fewer than six
//! readings, or when the table ends short of the shock's stroke by more than a twentieth of its range.
//!
//! References: Eilers & Marx, *Statistical Science* 11 (1996) 89–121; Wahba, *J. R. Statist. Soc. B* 45 (1983) 133–150;
//! JCGM 100:2008.

use nalgebra::DVector;

use super::{SHOCK_LENGTH, STROKE, TRAVEL_ROUNDING, UncertainPoint};
use crate::error::LinkageError;
use crate::record::{Distance, SuspectReading, Suspects};
use crate::smooth::{Basis, Family, Smooth};
use crate::solve::turning;
use crate::units::{Length, Quantity, Uncertain, check};

/// Readings needed: a cubic through them has four unknowns, and two more are wanted to separate noise from shape.
const LEAST_READINGS: usize = 6;
/// Share of the table's range by which the curve may be continued to reach an end of the stroke.
const EXTRAPOLATION: f64 = 0.05;
/// Largest plausible travel in a table, in metres.
const LARGEST_TRAVEL: f64 = 2.0;
/// Rounds of weighting the travel error by the motion ratio; the second changes the weights by less than a percent.
const WEIGHTING_ROUNDS: usize = 2;
/// Places at which the motion ratio is checked to be above zero.
const CHECKED: usize = 200;
/// Bisections that locate an end of travel to the last bit.
const BISECTIONS: usize = 60;

/// How well a table was read, and the shock that goes in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasuredParts {
    /// Standard uncertainty of one travel.
    pub travel_uncertainty: Length,
    /// Standard uncertainty of one length.
    pub length_uncertainty: Length,
    /// Length of the extended shock, eye to eye.
    pub shock_length: Length,
    /// Stroke of the shock.
    pub stroke: Length,
}

/// A measured table of wheel travel against shock length, made smooth.
///
/// ```
/// use wheelrate::linkage::{MeasuredLinkage, MeasuredParts};
/// use wheelrate::units::{Length, Quantity, parse};
/// let mm = |value: f64| Length::from_si(value / 1000.0);
/// let readings: Vec<(Length, Length)> =
///     (0..=30).map(|step| 10.0 * f64::from(step)).map(|z| (mm(z), mm(468.0 - 0.35 * z - 1.5e-4 * z * z))).collect();
/// let parts = MeasuredParts {
///     travel_uncertainty: parse("0.5 mm")?,
///     length_uncertainty: parse("0.5 mm")?,
///     shock_length: parse("468 mm")?,
///     stroke: parse("110 mm")?,
/// };
/// let table = MeasuredLinkage::new(&readings, parts)?;
/// let point = table.at(parse("100 mm")?)?;
/// assert!((point.motion_ratio.value.si() - 0.38).abs() < 1e-3);
/// # Ok::<(), wheelrate::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(try_from = "TableText", into = "TableText"))]
pub struct MeasuredLinkage {
    readings: Vec<(Length, Length)>,
    parts: MeasuredParts,
    smooth: Smooth,
    /// Full extension and full compression in the table's travel.
    ends: [f64; 2],
    suspects: Suspects<Length, Length>,
}

impl MeasuredLinkage {
    /// A table of (wheel travel, shock length) in any order. Travel may be counted from anywhere; full extension is where the
    /// length is the shock's.
    ///
    /// # Errors
    /// [`LinkageError`]: too few readings, implausible lengths, uncertainties that are both zero, a table that ends short of
    /// the stroke ([`LinkageError::TableShort`]), lengths that do not fall as the wheel rises
    /// ([`LinkageError::TableNotFalling`]).
    pub fn new(readings: &[(Length, Length)], parts: MeasuredParts) -> Result<Self, LinkageError> {
        let MeasuredParts { travel_uncertainty, length_uncertainty, shock_length, stroke } = parts;
        let mut faults = check_readings(readings);
        let shock = [
            check::plausible(
                "shock length",
                shock_length,
                Length::from_si(SHOCK_LENGTH[0]),
                Length::from_si(SHOCK_LENGTH[1]),
            ),
            check::plausible("shock stroke", stroke, Length::from_si(STROKE[0]), Length::from_si(STROKE[1])),
            check::not_negative("travel uncertainty", travel_uncertainty),
            check::positive("uncertainty of a reading", travel_uncertainty.max(length_uncertainty)),
            check::not_negative("length uncertainty", length_uncertainty),
        ];
        faults.extend(shock.into_iter().filter_map(Result::err).map(LinkageError::from));
        LinkageError::collect(faults)?;
        let mut table = Table::new(readings, [travel_uncertainty.si(), length_uncertainty.si()], shock_length.si())?;
        let (smooth, ends) = table.fit(stroke.si())?;
        Ok(Self { readings: readings.to_vec(), parts, smooth, ends, suspects: Suspects::default() })
    }

    /// The same readings with a shock of other length or stroke.
    ///
    /// # Errors
    /// As [`new`](Self::new).
    pub fn with_shock(&self, shock_length: Length, stroke: Length) -> Result<Self, LinkageError> {
        let parts = MeasuredParts { shock_length, stroke, ..self.parts };
        if parts == self.parts { Ok(self.clone()) } else { Self::new(&self.readings, parts) }
    }

    /// Wheel travel from full extension to the end of the shock's stroke.
    #[must_use]
    pub fn full_travel(&self) -> Length {
        Length::from_si(self.ends[1] - self.ends[0])
    }

    /// Stroke of the shock.
    #[must_use]
    pub fn full_stroke(&self) -> Length {
        self.parts.stroke
    }

    /// Length of the extended shock, eye to eye.
    #[must_use]
    pub fn shock_length(&self) -> Length {
        self.parts.shock_length
    }

    /// The readings as given.
    #[must_use]
    pub fn readings(&self) -> &[(Length, Length)] {
        &self.readings
    }

    /// Standard uncertainties of one travel and of one length reading.
    #[must_use]
    pub fn uncertainties(&self) -> [Length; 2] {
        [self.parts.travel_uncertainty, self.parts.length_uncertainty]
    }

    /// Where full extension lies in the travel of the table.
    #[must_use]
    pub fn full_extension(&self) -> Uncertain<Length> {
        let [start, _] = self.ends;
        let per_length = self.smooth.gradient(start, 0) / self.smooth.value(start, 1);
        Uncertain {
            value: Length::from_si(start),
            standard_uncertainty: Length::from_si(self.smooth.uncertainty(&per_length)),
        }
    }

    /// `s(z)`, `MR` and `dMR/dz` at one travel, with standard uncertainties.
    ///
    /// # Errors
    /// [`LinkageError::OutOfTravel`].
    pub fn at(&self, travel: Length) -> Result<UncertainPoint, LinkageError> {
        let full = self.full_travel();
        if !(-TRAVEL_ROUNDING..=full.si() + TRAVEL_ROUNDING).contains(&travel.si()) {
            return Err(LinkageError::OutOfTravel { found: travel, full });
        }
        let [stroke, ratio, slope] = self.kernel(travel.si());
        let spread = [0, 1, 2].map(|derivative| self.smooth.uncertainty(&self.gradient(travel.si(), derivative)));
        Ok(UncertainPoint::new(travel, [stroke, ratio, slope], spread))
    }

    /// As [`MeasuredLinkage::at`] over many travels.
    ///
    /// # Errors
    /// [`LinkageError::OutOfTravel`] for the first travel outside the range.
    pub fn curve(&self, travels: &[Length]) -> Result<Vec<UncertainPoint>, LinkageError> {
        travels.iter().map(|&travel| self.at(travel)).collect()
    }

    /// Readings that lie more than 3.5 standard deviations off what the others say: misread or miswritten, probably. They stay in the
    /// curve.
    #[must_use]
    pub fn suspect_readings(&self) -> Vec<SuspectReading<Length, Length>> {
        let MeasuredParts { shock_length, stroke, .. } = self.parts;
        let sigma = self.uncertainties().map(Quantity::si);
        let curve = |left_out: &[usize]| {
            let mut table = Table::new(&self.readings, sigma, shock_length.si()).ok()?;
            table.leave_out(left_out);
            (table.at.len() >= LEAST_READINGS).then(|| table.fit(stroke.si()).ok()).flatten()
        };
        let distance = |(smooth, _): &(Smooth, [f64; 2]), place: usize| {
            let (travel, length) = self.readings[place];
            let at = travel.si();
            Distance {
                off: shock_length.si() - length.si() - smooth.value(at, 0),
                reading: sigma[1].hypot(smooth.value(at, 1) * sigma[0]),
                curve: smooth.uncertainty(&smooth.gradient(at, 0)),
            }
        };
        self.suspects.among(&self.readings, -1.0, curve, distance)
    }

    /// Stroke, motion ratio and slope at a travel within the range, in SI units.
    pub(crate) fn kernel(&self, travel: f64) -> [f64; 3] {
        [0, 1, 2].map(|derivative| self.smooth.value(self.ends[0] + travel, derivative))
    }

    /// Deviations of stroke, motion ratio and slope at some travels, independent and of unit variance.
    pub(crate) fn deviations(&self, travels: &[Length]) -> Vec<Vec<[f64; 3]>> {
        let gradients: Vec<[DVector<f64>; 3]> =
            travels.iter().map(|travel| [0, 1, 2].map(|derivative| self.gradient(travel.si(), derivative))).collect();
        let rows = self.smooth.independent();
        rows.iter().map(|row| gradients.iter().map(|of| [0, 1, 2].map(|k| of[k].dot(row))).collect()).collect()
    }

    /// How a derivative of the stroke at a travel depends on the coefficients. Full extension moves with them too:
    /// `δz₀ = −δf(z₀)/f'(z₀)`.
    fn gradient(&self, travel: f64, derivative: usize) -> DVector<f64> {
        let start = self.ends[0];
        let at = start + travel;
        let shift = self.smooth.value(at, derivative + 1) / self.smooth.value(start, 1);
        self.smooth.gradient(at, derivative) - self.smooth.gradient(start, 0) * shift
    }
}

fn check_readings(readings: &[(Length, Length)]) -> Vec<LinkageError> {
    let mut faults = Vec::new();
    let limit = Length::from_si(LARGEST_TRAVEL);
    let lengths = SHOCK_LENGTH.map(Length::from_si);
    for (index, &(travel, length)) in readings.iter().enumerate() {
        let field = |column: usize| format!("readings[{index}][{column}]");
        faults.extend(check::plausible(&field(0), travel, -limit, limit).err().map(LinkageError::from));
        faults.extend(check::plausible(&field(1), length, lengths[0], lengths[1]).err().map(LinkageError::from));
    }
    let mut travels: Vec<f64> = readings.iter().map(|(travel, _)| travel.si()).collect();
    travels.sort_by(f64::total_cmp);
    travels.dedup();
    if travels.len() < LEAST_READINGS {
        faults.push(LinkageError::TooFewReadings { found: travels.len(), needed: LEAST_READINGS });
    }
    faults
}

/// Readings on the way to a curve, in SI units.
struct Table {
    at: Vec<f64>,
    strokes: Vec<f64>,
    uncertainty: [f64; 2],
    range: [f64; 2],
    basis: Basis,
    shock_length: f64,
}

impl Table {
    fn new(readings: &[(Length, Length)], uncertainty: [f64; 2], shock_length: f64) -> Result<Self, LinkageError> {
        let at: Vec<f64> = readings.iter().map(|(travel, _)| travel.si()).collect();
        let strokes = readings.iter().map(|(_, length)| shock_length - length.si()).collect();
        let low = at.iter().copied().fold(f64::INFINITY, f64::min);
        let high = at.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let beyond = EXTRAPOLATION * (high - low);
        let range = [low - beyond, high + beyond];
        Ok(Self { at, strokes, uncertainty, range, basis: Basis::new(range[0], range[1]), shock_length })
    }

    /// Takes some readings out; the range stays.
    fn leave_out(&mut self, places: &[usize]) {
        for column in [&mut self.at, &mut self.strokes] {
            let mut place = 0..;
            column.retain(|_| place.next().is_some_and(|place| !places.contains(&place)));
        }
    }

    fn fit(&mut self, stroke: f64) -> Result<(Smooth, [f64; 2]), LinkageError> {
        let whole = self.least_squares_ratio();
        let mut ratios = vec![whole; self.at.len()];
        let mut found = Err(LinkageError::TableNotFalling { at: Length::from_si(self.range[0]) });
        for _ in 0..WEIGHTING_ROUNDS {
            let sigma: Vec<f64> =
                ratios.iter().map(|ratio| self.uncertainty[1].hypot(ratio * self.uncertainty[0])).collect();
            let family = Family::new(self.basis, &self.at, &self.strokes, &sigma);
            found = self.smooth_until_rising(&family, stroke);
            if let Ok((smooth, _)) = &found {
                ratios = self.at.iter().map(|at| smooth.value(*at, 1)).collect();
            }
        }
        found
    }

    /// Slope of the straight line through the readings.
    fn least_squares_ratio(&self) -> f64 {
        let count = self.at.len() as f64;
        let mean = |values: &[f64]| values.iter().sum::<f64>() / count;
        let (z, s) = (mean(&self.at), mean(&self.strokes));
        let cross: f64 = self.at.iter().zip(&self.strokes).map(|(at, stroke)| (at - z) * (stroke - s)).sum();
        cross / self.at.iter().map(|at| (at - z).powi(2)).sum::<f64>()
    }

    /// The average curve, the roughest ones left out as far as that is needed to keep the motion ratio above zero.
    fn smooth_until_rising(&self, family: &Family, stroke: f64) -> Result<(Smooth, [f64; 2]), LinkageError> {
        let mut fault = LinkageError::TableNotFalling { at: Length::from_si(self.range[0]) };
        for smooth in (0..).map_while(|left_out| family.average(left_out)) {
            match self.ends(&smooth, stroke) {
                Ok(ends) => return Ok((smooth, ends)),
                Err(error @ LinkageError::TableNotFalling { .. }) => fault = error,
                Err(error) => return Err(error),
            }
        }
        Err(fault)
    }

    /// Where the curve reaches both ends of the stroke.
    fn ends(&self, smooth: &Smooth, stroke: f64) -> Result<[f64; 2], LinkageError> {
        let [low, high] = self.range;
        let place = |step: usize| low + (high - low) * step as f64 / CHECKED as f64;
        let short = |end: &'static str, target: f64, at: f64| LinkageError::TableShort {
            end,
            wanted: Length::from_si(self.shock_length - target),
            nearest: Length::from_si(self.shock_length - smooth.value(at, 0)),
        };
        if smooth.value(low, 0) > 0.0 {
            return Err(short("extended", 0.0, low));
        }
        if smooth.value(high, 0) < stroke {
            return Err(short("compressed", stroke, high));
        }
        let reach = |target: f64| {
            let [below, above] = turning(|at| smooth.value(at, 0) < target, [low, high], BISECTIONS);
            f64::midpoint(below, above)
        };
        let ends = [reach(0.0), reach(stroke)];
        let inside = (0..=CHECKED).map(place).filter(|at| (ends[0]..=ends[1]).contains(at)).chain(ends);
        match inside.into_iter().find(|at| smooth.value(*at, 1) <= 0.0) {
            Some(at) => Err(LinkageError::TableNotFalling { at: Length::from_si(at) }),
            None => Ok(ends),
        }
    }
}

/// A table as text.
#[cfg(feature = "serde")]
#[derive(serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct TableText {
    readings: Vec<ReadingText>,
    #[serde(with = "crate::units::text_serde")]
    travel_uncertainty: Length,
    #[serde(with = "crate::units::text_serde")]
    length_uncertainty: Length,
    #[serde(with = "crate::units::text_serde")]
    shock_length: Length,
    #[serde(with = "crate::units::text_serde")]
    stroke: Length,
}

#[cfg(feature = "serde")]
#[derive(serde::Serialize, serde::Deserialize)]
struct ReadingText(
    #[serde(with = "crate::units::text_serde")] Length,
    #[serde(with = "crate::units::text_serde")] Length,
);

#[cfg(feature = "serde")]
impl TryFrom<TableText> for MeasuredLinkage {
    type Error = LinkageError;
    fn try_from(text: TableText) -> Result<Self, LinkageError> {
        let readings: Vec<_> = text.readings.into_iter().map(|reading| (reading.0, reading.1)).collect();
        let TableText { travel_uncertainty, length_uncertainty, shock_length, stroke, .. } = text;
        Self::new(&readings, MeasuredParts { travel_uncertainty, length_uncertainty, shock_length, stroke })
    }
}

#[cfg(feature = "serde")]
impl From<MeasuredLinkage> for TableText {
    fn from(table: MeasuredLinkage) -> Self {
        Self {
            readings: table.readings.into_iter().map(|(travel, length)| ReadingText(travel, length)).collect(),
            travel_uncertainty: table.parts.travel_uncertainty,
            length_uncertainty: table.parts.length_uncertainty,
            shock_length: table.parts.shock_length,
            stroke: table.parts.stroke,
        }
    }
}

#[cfg(test)]
mod tests;
