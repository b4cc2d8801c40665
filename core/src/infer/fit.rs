//! The fit of one end: spring rate, preload and friction from the readings, with uncertainty, correlation, where each
//! number comes from, and how well each reading agrees.
//!
//! The model is that of [`posterior`](crate::infer::posterior). Standard uncertainties are those of JCGM 100:2008; an interval of
//! ±1.96 of them covers the truth 95 times in 100 as long as readings and labels are as good as they say.

use std::sync::Arc;

use crate::Result;
use crate::error::SetupError;
use crate::infer::condition::{self, Condition};
use crate::infer::doubts::Doubts;
use crate::infer::faults::Faults;
use crate::infer::finding::{Finding, HEALTHY_BAND};
use crate::infer::model::{SprungEnd, settle_exactly};
use crate::infer::one_bike::not_one_bike;
use crate::infer::path::OnPath;
use crate::infer::posterior::{Evidence, FRICTION, LOADS, PRELOAD, Posterior, Priors, RATE, ZERO};
use crate::infer::probability::chi_square_exceeds;
use crate::infer::readings::{Gathered, SagRow};
use crate::infer::residual::{self, ReadingCheck};
use crate::infer::study::Kept;
use crate::mass::Masses;
use crate::record::{End, Load};
use crate::spring::MainSpring;
use crate::units::{Force, Length, Quantity, Share, SpringRate, Uncertain};

/// A load with the sag that follows.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
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
    /// Distance at full extension; `None` without readings.
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

/// A solved end: what fit, advice and Monte Carlo share.
#[derive(Debug, Clone)]
pub(crate) struct Solved {
    pub(crate) end: End,
    pub(crate) evidence: Evidence,
    pub(crate) gathered: Gathered,
    pub(crate) posterior: Posterior,
    pub(crate) main: MainSpring,
    /// What the posterior took over from an earlier state of the end, where nothing was read on this one.
    pub(crate) carried: Option<Kept>,
    /// What was found grossly wrong.
    pub(crate) faults: Faults,
}

/// A number that the model gives, with its derivatives over the unknowns.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Derived {
    pub(crate) value: f64,
    pub(crate) gradient: Vec<f64>,
}

impl Solved {
    pub(crate) fn new(
        end: End,
        model: Arc<dyn SprungEnd>,
        main: MainSpring,
        priors: Priors,
        hanging: f64,
        gathered: Gathered,
        doubts: Doubts,
    ) -> Result<Self, SetupError> {
        let mut evidence = Evidence {
            end: model,
            priors,
            loads: gathered.law.clone(),
            hanging,
            observations: gathered.observations.clone(),
            zero: gathered.zero,
            zeroed: gathered.zeroed,
            doubts,
            centres: Vec::new(),
        };
        let (posterior, faults) = evidence.solve_doubting(&[])?;
        Ok(Self { end, evidence, gathered, posterior, main, faults, carried: None })
    }

    /// Does every sag count from one extended reading, and is that doubted?
    pub(crate) fn is_lone_extended(&self) -> bool {
        let observations = &self.evidence.observations;
        let extended = observations.iter().filter(|one| one.load.is_none()).count();
        self.evidence.doubts.gross.is_some() && extended == 1 && observations.len() > 1
    }

    /// Solved again after its evidence was changed, what was found wrong before forgotten.
    pub(crate) fn anew(self) -> Result<Self, SetupError> {
        let mut evidence = self.evidence.without_found();
        let (posterior, faults) = evidence.solve_doubting(&self.posterior.unknowns)?;
        Ok(Self { evidence, posterior, faults, ..self })
    }

    /// Asked about more loads, of which what is new is independent of everything read.
    pub(crate) fn with_loads(&self, masses: &Masses, more: &[Load]) -> Result<Self> {
        let gathered = self.gathered.with_loads(self.end, masses, more, &self.evidence.doubts)?;
        let (at, new) = (self.evidence.unknowns(), gathered.loads.len() - self.gathered.loads.len());
        let mut all = Self { gathered, ..self.clone() };
        all.evidence.loads = all.gathered.law.clone();
        let none = core::iter::repeat_n(0.0, new);
        all.posterior.unknowns.splice(at..at, none.clone());
        for place in &mut all.posterior.predictions.places {
            place.derivatives.splice(at..at, none.clone());
        }
        let wider = all.posterior.covariance.clone().insert_rows(at, new, 0.0).insert_columns(at, new, 0.0);
        all.posterior.covariance = wider;
        (at..at + new).for_each(|k| all.posterior.covariance[(k, k)] = 1.0);
        Ok(all)
    }

    /// Covariance of two derived numbers.
    pub(crate) fn covariance(&self, left: &[f64], right: &[f64]) -> f64 {
        let columns = self.posterior.covariance.as_slice().chunks_exact(right.len());
        let times = |column: &[f64]| column.iter().zip(right).map(|(c, h)| c * h).sum::<f64>();
        left.iter().zip(columns).map(|(g, column)| g * times(column)).sum()
    }

    pub(crate) fn uncertain<Q: Quantity>(&self, derived: &Derived) -> Uncertain<Q> {
        let variance = self.covariance(&derived.gradient, &derived.gradient).max(0.0);
        Uncertain { value: Q::from_si(derived.value), standard_uncertainty: Q::from_si(variance.sqrt()) }
    }

    fn one(&self, unknown: usize, value: f64, slope: f64) -> Derived {
        let mut gradient = vec![0.0; self.evidence.all_unknowns()];
        gradient[unknown] = slope;
        Derived { value, gradient }
    }

    pub(crate) fn factor(&self) -> Derived {
        let [factor, ..] = self.evidence.physical(&self.posterior.unknowns);
        self.one(RATE, factor, factor * self.evidence.priors.rate)
    }

    /// Preload of the first main spring.
    pub(crate) fn preload(&self) -> Derived {
        let [_, change, ..] = self.evidence.physical(&self.posterior.unknowns);
        self.one(PRELOAD, self.main.preload.si() + change, self.evidence.priors.preload)
    }

    pub(crate) fn friction(&self) -> Derived {
        let [_, _, friction, _] = self.evidence.physical(&self.posterior.unknowns);
        self.one(FRICTION, friction, self.evidence.priors.friction.1)
    }

    pub(crate) fn load(&self, load: usize) -> Derived {
        let mut gradient = vec![0.0; self.evidence.all_unknowns()];
        for k in 0..=load {
            gradient[LOADS + k] = self.evidence.loads.root[(load, k)];
        }
        Derived { value: self.evidence.load(&self.posterior.unknowns, load), gradient }
    }

    /// A travel near which a load rests: in the middle of its readings, where it has any.
    pub(crate) fn near(&self, load: usize) -> f64 {
        let readings = self.evidence.observations.iter().zip(self.posterior.predictions.each());
        let under = readings.filter(|(observation, _)| observation.load == Some(load));
        let (sum, count) =
            under.fold((0.0, 0.0), |(sum, count), (_, (prediction, _))| (sum + prediction.travel, count + 1.0));
        if count > 0.0 { sum / count } else { self.evidence.end.full_travel() / 3.0 }
    }

    /// Travel at which the springs carry a load, topped out below zero; `None` where the mechanism cannot be followed.
    pub(crate) fn travel(&self, load: usize) -> Option<Derived> {
        let weight = self.load(load);
        let [factor, preload, ..] = self.evidence.physical(&self.posterior.unknowns);
        let guess = self.near(load);
        let (_, travel, wheel) = settle_exactly(self.evidence.end.as_ref(), weight.value, factor, preload, guess)?;
        let mut gradient: Vec<f64> = weight.gradient.iter().map(|g| g / wheel.rate).collect();
        gradient[RATE] -= wheel.per_factor * factor * self.evidence.priors.rate / wheel.rate;
        gradient[PRELOAD] -= wheel.per_preload * self.evidence.priors.preload / wheel.rate;
        if let Some(on) = OnPath::new(self.evidence.end.as_ref(), travel, factor, preload) {
            let ways = gradient.iter_mut().skip(self.evidence.unknowns());
            ways.zip(on.wheel_forces()).for_each(|(to, force)| *to -= force / wheel.rate);
        }
        Some(Derived { value: travel, gradient })
    }

    /// Wheel rate where the springs carry a load.
    pub(crate) fn wheel_rate(&self, load: usize) -> Option<f64> {
        let [factor, preload, ..] = self.evidence.physical(&self.posterior.unknowns);
        let weight = self.evidence.load(&self.posterior.unknowns, load);
        settle_exactly(self.evidence.end.as_ref(), weight, factor, preload, self.near(load))
            .map(|(_, _, wheel)| wheel.rate)
    }

    /// Where the wheel hangs off the ground: 0, but for a top-out spring.
    pub(crate) fn hanging_travel(&self) -> f64 {
        let [factor, preload, ..] = self.evidence.physical(&self.posterior.unknowns);
        let hangs = settle_exactly(self.evidence.end.as_ref(), self.evidence.hanging, factor, preload, 0.0);
        hangs.map_or(0.0, |(_, travel, _)| travel.max(0.0))
    }

    pub(crate) fn fit(&self) -> Fit {
        let factor = self.factor();
        let spring = |label: f64| {
            let gradient = factor.gradient.iter().map(|g| g * label).collect();
            self.uncertain(&Derived { value: factor.value * label, gradient })
        };
        let three = [&factor, &self.preload(), &self.friction()];
        let deviation = |k: usize| self.covariance(&three[k].gradient, &three[k].gradient).sqrt();
        let correlate = |i: usize, j: usize| {
            if i == j {
                1.0
            } else {
                self.covariance(&three[i].gradient, &three[j].gradient) / (deviation(i) * deviation(j))
            }
        };
        let from_readings =
            |unknown: usize| Share::from_si((1.0 - self.posterior.covariance[(unknown, unknown)]).clamp(0.0, 1.0));
        let degrees = self.evidence.degrees();
        let chi_square = ChiSquare {
            value: self.posterior.cost,
            degrees,
            probability: chi_square_exceeds(self.posterior.cost, degrees),
        };
        let hangs = self.hanging_travel();
        let loads = self.gathered.loads.iter().enumerate().filter_map(|(place, load)| {
            let travel = self.travel(place)?;
            let stated = self.evidence.loads.root.row(place).norm();
            Some(FittedLoad {
                load: load.clone(),
                stated: Uncertain {
                    value: Force::from_si(self.evidence.loads.mean[place]),
                    standard_uncertainty: Force::from_si(stated),
                },
                fitted: self.uncertain(&self.load(place)),
                sag: self.uncertain(&Derived { value: travel.value - hangs, ..travel }),
            })
        });
        let readings = residual::check(self);
        let mut fit = Fit {
            end: self.end,
            rate_factor: self.uncertain(&factor),
            rate: spring(self.main.rate.si()),
            springs: self.main.each.iter().map(|(rate, _)| spring(rate.si())).collect(),
            preload: self.uncertain(&self.preload()),
            friction: self.uncertain(&self.friction()),
            extended: (!self.evidence.observations.is_empty())
                .then(|| self.uncertain(&self.one(ZERO, self.gathered.zero + self.posterior.unknowns[ZERO], 1.0))),
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
        if let Some(kept) = self.carried {
            return vec![Finding::Carried { kept }];
        }
        if fit.readings.is_empty() {
            return vec![Finding::NoReadings];
        }
        let misread = residual::misread(self, fit);
        found.extend(misread.or_else(|| not_one_bike(self)));
        if fit.chi_square.probability < residual::BY_CHANCE {
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
