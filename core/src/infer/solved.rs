//! A solved end: its evidence with the posterior that follows, and the numbers that both give with their derivatives.

use std::sync::Arc;

use nalgebra::DMatrix;

use crate::Result;
use crate::error::SetupError;
use crate::infer::doubts::{Doubts, Habit};
use crate::infer::faults::Faults;
use crate::infer::kept::Kept;
use crate::infer::model::{SprungEnd, WheelForce, settle_exactly};
use crate::infer::path::OnPath;
use crate::infer::posterior::{Evidence, FRICTION, LOADS, PRELOAD, Posterior, Priors, RATE, ZERO};
use crate::infer::readings::Gathered;
use crate::mass::Masses;
use crate::record::{End, Load};
use crate::spring::MainSpring;
use crate::units::{Quantity, Uncertain};

/// A solved end: what fit, advice and Monte Carlo share.
#[derive(Debug, Clone)]
pub(crate) struct Solved {
    pub(crate) end: End,
    pub(crate) evidence: Evidence,
    pub(crate) gathered: Arc<Gathered>,
    pub(crate) posterior: Posterior,
    pub(crate) main: Arc<MainSpring>,
    /// What the posterior took over from earlier readings of the end, where nothing was read on this one, or too little.
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

/// An unknown that is a number by itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Parameter {
    /// On the rates as labelled.
    Factor,
    /// Of the first main spring.
    Preload,
    /// At the wheel.
    Friction,
    /// The distance at full extension.
    Extended,
}

impl Parameter {
    /// Its place among the unknowns.
    pub(super) fn place(self) -> usize {
        match self {
            Self::Factor => RATE,
            Self::Preload => PRELOAD,
            Self::Friction => FRICTION,
            Self::Extended => ZERO,
        }
    }
}

/// So many zeros. `vec![0.0; n]` asks for memory that is zeroed, which the GNU allocator does not keep at hand: ten times as slow
/// for a few numbers.
pub(crate) fn zeros(count: usize) -> Vec<f64> {
    core::iter::repeat_n(0.0, count).collect()
}

impl Solved {
    pub(crate) fn new(
        end: End,
        model: Arc<dyn SprungEnd>,
        main: Arc<MainSpring>,
        priors: Priors,
        hanging: f64,
        gathered: Arc<Gathered>,
        doubts: Doubts,
    ) -> Result<Self, SetupError> {
        let before = gathered.before.clone();
        let mut evidence = Evidence {
            end: model,
            priors,
            loads: gathered.law.clone(),
            hanging,
            observations: gathered.observations.clone(),
            zero: gathered.zero,
            zeroed: gathered.zeroed,
            doubts,
            unnoted: Habit::moments(0.0, 0.0),
            centres: before.as_ref().map(|before| before.centres()).unwrap_or_default(),
            before,
        };
        evidence.unnoted = evidence.habit();
        let start = evidence.centres.clone();
        let (posterior, faults) = evidence.solve_doubting(&start)?;
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
        let mut all = Self { gathered: Arc::new(gathered), ..self.clone() };
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
        covariance_along(&self.posterior.covariance, left, right)
    }

    pub(crate) fn uncertain<Q: Quantity>(&self, derived: &Derived) -> Uncertain<Q> {
        let variance = self.covariance(&derived.gradient, &derived.gradient).max(0.0);
        Uncertain { value: Q::from_si(derived.value), standard_uncertainty: Q::from_si(variance.sqrt()) }
    }

    /// What one unknown alone says: its value, and what its standard deviation before the readings makes of it.
    pub(super) fn parameter(&self, unknown: Parameter) -> [f64; 2] {
        let [factor, change, friction, _] = self.evidence.physical(&self.posterior.unknowns);
        let priors = &self.evidence.priors;
        match unknown {
            Parameter::Factor => [factor, factor * priors.rate],
            Parameter::Preload => [self.main.preload.si() + change, priors.preload],
            Parameter::Friction => [friction, priors.friction.1],
            Parameter::Extended => [self.gathered.zero + self.posterior.unknowns[ZERO], 1.0],
        }
    }

    /// The same with its uncertainty, in a unit of this size.
    pub(super) fn estimate<Q: Quantity>(&self, unknown: Parameter, unit: f64) -> Uncertain<Q> {
        let [value, slope] = self.parameter(unknown);
        let variance = self.posterior.covariance[(unknown.place(), unknown.place())].max(0.0);
        Uncertain { value: Q::from_si(unit * value), standard_uncertainty: Q::from_si(unit * slope * variance.sqrt()) }
    }

    fn one(&self, unknown: Parameter) -> Derived {
        let [value, slope] = self.parameter(unknown);
        let mut gradient = zeros(self.evidence.all_unknowns());
        gradient[unknown.place()] = slope;
        Derived { value, gradient }
    }

    pub(crate) fn factor(&self) -> Derived {
        self.one(Parameter::Factor)
    }

    /// Preload of the first main spring.
    pub(crate) fn preload(&self) -> Derived {
        self.one(Parameter::Preload)
    }

    pub(crate) fn friction(&self) -> Derived {
        self.one(Parameter::Friction)
    }

    pub(crate) fn load(&self, load: usize) -> Derived {
        let mut gradient = zeros(self.evidence.all_unknowns());
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
        self.travel_under(load, &self.load(load))
    }

    /// The same, where the load is known already.
    pub(super) fn travel_under(&self, load: usize, weight: &Derived) -> Option<Derived> {
        let [factor, preload, ..] = self.evidence.physical(&self.posterior.unknowns);
        let guess = self.near(load);
        let (_, travel, wheel) = settle_exactly(self.evidence.end.as_ref(), weight.value, factor, preload, guess)?;
        Some(self.resting(&weight.gradient, travel, &wheel))
    }

    /// The travel at which a load rests, by the derivatives of the load.
    fn resting(&self, load: &[f64], travel: f64, wheel: &WheelForce) -> Derived {
        let [factor, preload, ..] = self.evidence.physical(&self.posterior.unknowns);
        let mut gradient: Vec<f64> = load.iter().map(|g| g / wheel.rate).collect();
        gradient[RATE] -= wheel.per_factor * factor * self.evidence.priors.rate / wheel.rate;
        gradient[PRELOAD] -= wheel.per_preload * self.evidence.priors.preload / wheel.rate;
        if let Some(on) = OnPath::new(self.evidence.end.as_ref(), travel, factor, preload) {
            let ways = gradient.iter_mut().skip(self.evidence.unknowns());
            ways.zip(on.wheel_forces()).for_each(|(to, force)| *to -= force / wheel.rate);
        }
        Derived { value: travel, gradient }
    }

    /// Wheel rate where the springs carry a load.
    pub(crate) fn wheel_rate(&self, load: usize) -> Option<f64> {
        let [factor, preload, ..] = self.evidence.physical(&self.posterior.unknowns);
        let weight = self.evidence.load(&self.posterior.unknowns, load);
        settle_exactly(self.evidence.end.as_ref(), weight, factor, preload, self.near(load))
            .map(|(_, _, wheel)| wheel.rate)
    }

    /// Where the wheel hangs off the ground; `None` on the stop, from which only a top-out spring holds it.
    pub(crate) fn hanging(&self) -> Option<Derived> {
        let [factor, preload, ..] = self.evidence.physical(&self.posterior.unknowns);
        let (_, travel, wheel) =
            settle_exactly(self.evidence.end.as_ref(), self.evidence.hanging, factor, preload, 0.0)?;
        (travel > 0.0).then(|| self.resting(&zeros(self.evidence.all_unknowns()), travel, &wheel))
    }

    /// Travel from where the wheel hangs.
    pub(crate) fn from_hanging(travel: Derived, hanging: Option<&Derived>) -> Derived {
        let Some(hanging) = hanging else { return travel };
        let gradient = travel.gradient.iter().zip(&hanging.gradient).map(|(one, other)| one - other).collect();
        Derived { value: travel.value - hanging.value, gradient }
    }
}

/// `uᵀ·C·v`.
pub(crate) fn covariance_along(covariance: &DMatrix<f64>, left: &[f64], right: &[f64]) -> f64 {
    let columns = covariance.as_slice().chunks_exact(right.len());
    let times = |column: &[f64]| column.iter().zip(right).map(|(c, h)| c * h).sum::<f64>();
    // Most derivatives hang on a few unknowns.
    left.iter().zip(columns).filter(|(g, _)| **g != 0.0).map(|(g, column)| g * times(column)).sum()
}
