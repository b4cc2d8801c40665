//! The fit of one end: spring rate, preload and friction from the readings, with uncertainty, correlation, where each
//! number comes from, and how well each reading agrees.
//!
//! The model is that of [`posterior`](crate::infer::posterior). Standard uncertainties are those of JCGM 100:2008; an interval of
//! ±1.96 of them covers the truth 95 times in 100 as long as readings and labels are as good as they say.

use crate::infer::condition::{self, Condition};
use crate::infer::finding::{Finding, HEALTHY_BAND};
use crate::infer::one_bike::{BY_CHANCE, not_one_bike};
use crate::infer::posterior::{FRICTION, PRELOAD, RATE};
use crate::infer::probability::chi_square_exceeds;
use crate::infer::readings::SagRow;
use crate::infer::residual::{self, ReadingCheck};
use crate::infer::solved::{Parameter, Solved};
use crate::record::{End, Load};
use crate::units::{Force, Length, Quantity, Share, SpringRate, Uncertain};

/// A load with the sag that follows.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct FittedLoad {
    /// What stands on the wheels.
    pub load: Load,
    /// Sprung load at the wheel, from the scales.
    pub stated: Uncertain<Force>,
    /// The same with what the readings say of it.
    pub fitted: Uncertain<Force>,
    /// Vertical sag at which the spring force equals the load: the middle of the friction band, in force. Below zero the
    /// end is topped out, by that much of travel.
    pub sag: Uncertain<Length>,
}

/// Agreement of readings and labels as a whole.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct ChiSquare {
    /// Sum of squares of the normalised residuals of readings, labels and scales.
    pub value: f64,
    /// Degrees of freedom: readings less the one zero they share.
    pub degrees: usize,
    /// Probability of as much or more by chance.
    pub probability: f64,
}

/// How far the readings, and not the label, decide a number: `1 − (u_after/u_before)²`.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct FromReadings {
    /// Of the rate.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub rate: Share,
    /// Of the preload.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub preload: Share,
    /// Of the friction.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub friction: Share,
}

/// What the readings of one end say.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Fit {
    /// Which end.
    pub end: End,
    /// Common factor on the rates as labelled.
    pub rate_factor: Uncertain<Share>,
    /// Rate of all main springs together.
    pub rate: Uncertain<SpringRate>,
    /// Main springs, each with its rate; twins repeated.
    pub springs: Vec<Uncertain<SpringRate>>,
    /// Preload of the first main spring.
    pub preload: Uncertain<Length>,
    /// Friction force at the wheel, either way.
    pub friction: Uncertain<Force>,
    /// Distance at full extension; `None` without readings, and where all of them are of a zeroed gauge.
    pub extended: Option<Uncertain<Length>>,
    /// Correlation of rate, preload and friction, in this order.
    pub correlation: [[f64; 3]; 3],
    /// How much of it is from readings.
    pub from_readings: FromReadings,
    /// Loads, lightest first, with their sags.
    pub loads: Vec<FittedLoad>,
    /// Sags as read.
    pub rows: Vec<SagRow>,
    /// Agreement as a whole.
    pub chi_square: ChiSquare,
    /// Each reading against what is predicted.
    pub readings: Vec<ReadingCheck>,
    /// What was noticed.
    pub findings: Vec<Finding>,
    /// On what all this hangs.
    pub conditions: Vec<Condition>,
}

impl Fit {
    /// A reading that no other agrees with, and what it was read under.
    pub(crate) fn misread(&self) -> Option<(usize, &Load)> {
        self.findings.iter().find_map(|finding| match finding {
            Finding::Misread { reading, load, .. } => Some((*reading, load)),
            _ => None,
        })
    }
}

impl Solved {
    pub(crate) fn fit(&self) -> Fit {
        let covariance = &self.posterior.covariance;
        let spring = |label: f64| self.estimate(Parameter::Factor, label);
        let three = [Parameter::Factor, Parameter::Preload, Parameter::Friction].map(Parameter::place);
        let correlate = |i: usize, j: usize| {
            if i == j {
                1.0
            } else {
                let variances = covariance[(three[i], three[i])] * covariance[(three[j], three[j])];
                covariance[(three[i], three[j])] / variances.sqrt()
            }
        };
        let from_readings = |unknown: usize| Share::from_si((1.0 - covariance[(unknown, unknown)]).clamp(0.0, 1.0));
        let degrees = self.evidence.degrees();
        let chi_square = ChiSquare {
            value: self.posterior.cost,
            degrees,
            probability: chi_square_exceeds(self.posterior.cost, degrees),
        };
        let hanging = self.hanging();
        let loads = self.gathered.loads.iter().enumerate().filter_map(|(place, load)| {
            let weight = self.load(place);
            let travel = self.travel_under(place, &weight)?;
            let stated = self.evidence.loads.root.row(place).norm();
            Some(FittedLoad {
                load: load.clone(),
                stated: Uncertain {
                    value: Force::from_si(self.evidence.loads.mean[place]),
                    standard_uncertainty: Force::from_si(stated),
                },
                fitted: self.uncertain(&weight),
                sag: self.uncertain(&Self::from_hanging(travel, hanging.as_ref())),
            })
        });
        let readings = residual::check(self);
        let mut fit = Fit {
            end: self.end,
            rate_factor: self.estimate(Parameter::Factor, 1.0),
            rate: spring(self.main.rate.si()),
            springs: self.main.each.iter().map(|(rate, _)| spring(rate.si())).collect(),
            preload: self.estimate(Parameter::Preload, 1.0),
            friction: self.estimate(Parameter::Friction, 1.0),
            extended: (!self.evidence.observations.is_empty() && self.evidence.zeroed.is_none())
                .then(|| self.estimate(Parameter::Extended, 1.0)),
            correlation: core::array::from_fn(|i| core::array::from_fn(|j| correlate(i, j))),
            from_readings: FromReadings {
                rate: from_readings(RATE),
                preload: from_readings(PRELOAD),
                friction: from_readings(FRICTION),
            },
            loads: loads.collect(),
            rows: self.gathered.rows.clone(),
            chi_square,
            readings,
            findings: Vec::new(),
            conditions: Vec::new(),
        };
        fit.findings = self.findings(&fit);
        fit.conditions = condition::conditions(self, &fit.findings);
        fit
    }

    fn findings(&self, fit: &Fit) -> Vec<Finding> {
        /// Standard deviations of the label beyond which the rate is said to be off it.
        const OFF_LABEL: f64 = 2.0;
        let mut found = Vec::new();
        match self.carried {
            Some(kept) if fit.readings.is_empty() => return vec![Finding::Carried { kept }],
            Some(kept) => found.push(Finding::ReadOn { kept }),
            None => {}
        }
        if fit.readings.is_empty() {
            return vec![Finding::NoReadings];
        }
        let misread = residual::misread(self, &fit.readings, fit.rate);
        found.extend(misread.or_else(|| not_one_bike(self, fit.chi_square.probability)));
        if fit.chi_square.probability < BY_CHANCE {
            let ChiSquare { value, degrees, probability } = fit.chi_square;
            found.push(Finding::Scatter { chi_square: value, degrees, probability });
        }
        found.extend(residual::on_stops(self));
        for row in &fit.rows {
            let (Some(band), Some(sag)) = (row.band, row.middle()) else { continue };
            if band.value >= sag {
                found.push(Finding::WideBand { load: row.load.clone(), band: band.value, sag });
            }
        }
        let both_sides = fit.rows.iter().filter_map(|row| row.band);
        match both_sides.max_by(|one, other| one.value.si().total_cmp(&other.value.si())) {
            None => found.push(Finding::FrictionAssumed { friction: fit.friction }),
            Some(band) if band.value.si() - 2.0 * band.standard_uncertainty.si() > HEALTHY_BAND => {
                found.push(Finding::StickyEnd { band, friction: fit.friction });
            }
            Some(_) => {}
        }
        if self.posterior.unknowns[RATE].abs() > OFF_LABEL {
            let tolerance = Share::from_si(self.evidence.priors.rate);
            found.push(Finding::OffLabel { label: self.main.rate, rate: fit.rate, tolerance });
        }
        found
    }
}

#[cfg(test)]
pub(crate) mod tests;
