//! Springs stacked end to end: one force, compressions add.
//!
//! `x(F) = Σ min(x_i(F), limit_i)`; while no limit is reached, `1/k = Σ 1/k_i`.
//!
//! A spring that goes solid, or meets its spacer, drops out: from there only the rest give way. The force stays
//! continuous, the rate jumps. The changeover is set by the soft spring's own compression, preload of the whole stack
//! included. Exactly at a changeover the softer rate holds.
//! Textbook: springs in series, any text of mechanics; the limits are geometry.

use crate::axial::Axial;
use crate::error::{Result, SpringError};
use crate::units::{Force, Length, Quantity, brief, check, show};

use super::Spring;
use super::by_force::{ByForce, solve_rising, solve_rising_beyond};

/// One spring of a stack.
#[derive(Debug, Clone, PartialEq)]
pub struct Stage {
    spring: Spring,
    limit: Option<Length>,
}

impl Stage {
    /// A spring that may compress until it is solid, or its table ends.
    pub fn new(spring: impl Into<Spring>) -> Self {
        Self { spring: spring.into(), limit: None }
    }

    /// The same spring, stopped by a spacer at this compression.
    ///
    /// # Errors
    /// When the limit is not from 0.1 mm to 1 m, or more than the spring can compress.
    pub fn with_limit(self, limit: Length) -> Result<Self> {
        check::plausible("limit", limit, Length::from_si(1e-4), Length::from_si(1.0))?;
        if let Some(end) = self.spring.most_compression().filter(|end| limit > *end) {
            return Err(SpringError::Order {
                field: "limit".to_owned(),
                found: brief(limit),
                wanted: "not more",
                other: "compression the spring allows".to_owned(),
                than: brief(end),
            }
            .into());
        }
        Ok(Self { limit: Some(limit), ..self })
    }

    /// The spring.
    #[must_use]
    pub fn spring(&self) -> &Spring {
        &self.spring
    }

    /// Compression at which a spacer stops it.
    #[must_use]
    pub fn limit(&self) -> Option<Length> {
        self.limit
    }

    fn end(&self) -> Option<f64> {
        self.limit.map(Quantity::si).or(self.spring.end())
    }

    /// The force at which the stage is used up.
    fn end_force(&self) -> Option<f64> {
        self.end().map(|end| self.spring.eval(end).force)
    }

    fn by_force(&self, force: f64) -> ByForce {
        match (self.end(), self.end_force()) {
            (Some(end), Some(most)) if force >= most => {
                let last = self.spring.by_force(most);
                let gives_way = if force > most { 0.0 } else { 1.0 };
                ByForce {
                    compression: end,
                    compliance: gives_way * last.compliance,
                    compliance_slope: gives_way * last.compliance_slope,
                    complementary_energy: last.complementary_energy + end * (force - most),
                }
            }
            _ => self.spring.by_force(force),
        }
    }

    /// Forces at which the stage's compliance jumps, its end included.
    fn jumps(&self) -> Vec<f64> {
        let end = self.end().unwrap_or(f64::INFINITY);
        let inner = self.spring.jumps().into_iter().filter(|x| *x < end).map(|x| self.spring.eval(x).force);
        inner.chain(self.end_force()).collect()
    }
}

/// Where one spring of a stack drops out.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Changeover {
    /// Compression of the whole stack.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub compression: Length,
    /// Force at it.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub force: Force,
}

/// Springs stacked end to end.
#[derive(Debug, Clone, PartialEq)]
pub struct Stack {
    stages: Vec<Stage>,
    /// Compression and force at 0 and at every jump, rising.
    knots: Vec<(f64, f64)>,
}

impl Stack {
    /// Springs end to end, in any order.
    ///
    /// # Errors
    /// [`SpringError::Description`] without any spring, or with a measured one.
    pub fn new(stages: Vec<Stage>) -> Result<Self> {
        super::measured::none_within("stack", stages.iter().map(Stage::spring))?;
        if stages.is_empty() {
            return Err(SpringError::Description {
                part: "stack".to_owned(),
                found: "no spring".to_owned(),
                wanted: "one spring or more".to_owned(),
            }
            .into());
        }
        let mut forces: Vec<f64> = stages.iter().flat_map(Stage::jumps).collect();
        forces.push(0.0);
        forces.sort_by(f64::total_cmp);
        forces.dedup();
        let at = |force: f64| (stages.iter().map(|stage| stage.by_force(force).compression).sum::<f64>(), force);
        let knots = forces.into_iter().map(at).collect();
        Ok(Self { stages, knots })
    }

    /// The springs.
    #[must_use]
    pub fn stages(&self) -> &[Stage] {
        &self.stages
    }

    /// Where the rate jumps, in rising order.
    #[must_use]
    pub fn changeovers(&self) -> Vec<Changeover> {
        self.inner_knots()
            .map(|(x, force)| Changeover { compression: Length::from_si(x), force: Force::from_si(force) })
            .collect()
    }

    fn inner_knots(&self) -> impl Iterator<Item = (f64, f64)> {
        let end = self.end().unwrap_or(f64::INFINITY);
        self.knots.iter().copied().filter(move |(x, _)| *x > 0.0 && *x < end)
    }

    pub(super) fn scaled(&self, factor: f64) -> Result<Self> {
        let scale = |stage: &Stage| Ok(Stage { spring: stage.spring.scaled(factor)?, limit: stage.limit });
        Self::new(self.stages.iter().map(scale).collect::<Result<_>>()?)
    }

    pub(super) fn end(&self) -> Option<f64> {
        self.stages.iter().map(Stage::end).sum()
    }

    pub(super) fn jumps(&self) -> Vec<f64> {
        self.inner_knots().map(|(x, _)| x).collect()
    }

    pub(super) fn by_force(&self, force: f64) -> ByForce {
        self.stages.iter().map(|stage| stage.by_force(force)).sum()
    }

    pub(super) fn eval(&self, x: f64) -> Axial {
        let force = self.force(x);
        self.by_force(force).at_force(force)
    }

    fn force(&self, x: f64) -> f64 {
        let next = self.knots.partition_point(|knot| knot.0 < x);
        let last = self.knots.last().copied().unwrap_or_default();
        let view = |force| {
            let at = self.by_force(force);
            (at.compression, at.compliance)
        };
        let flip = |(x, force): (f64, f64)| (force, x);
        match (next.checked_sub(1).and_then(|below| self.knots.get(below)), self.knots.get(next)) {
            (_, Some(&(end, force))) if end == x => force,
            (Some(&below), Some(&above)) => solve_rising(view, x, flip(below), flip(above)),
            _ if self.end().is_some() => last.1,
            _ => {
                let guess = 2.0 * last.1 + (x - last.0) / self.by_force(last.1).compliance;
                solve_rising_beyond(view, x, flip(last), guess)
            }
        }
    }

    pub(super) fn describe(&self) -> String {
        let stage = |stage: &Stage| match stage.limit {
            Some(limit) => format!("{} to {}", stage.spring.words(), show(limit, "mm", 1)),
            None => stage.spring.words(),
        };
        format!("stack of {}", self.stages.iter().map(stage).collect::<Vec<_>>().join(" on "))
    }
}
