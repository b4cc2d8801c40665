//! Advice: every spring on sale weighed.

use pyo3::prelude::*;
use wheelrate::bike;
use wheelrate::decide;
use wheelrate::units::{Length, Share, SpringRate, UnitSystem};

use crate::infer::{Fit, maybe};
use crate::report::sheet::Sheet;
use crate::report::system;
use crate::uncertain::Uncertain;
use crate::units::Out;
use crate::value::{made_from_bike, result_class, to_json};

/// Sag of one spring choice.
type Outcome = decide::Outcome;

fn of(choice: &decide::SpringChoice, read: fn(&Outcome) -> Uncertain) -> Option<Uncertain> {
    choice.outcome.as_ref().map(read)
}

result_class! {
    /// One spring weighed: the preload it needs for the wanted rider sag, and what follows.
    ///
    /// What follows is None where no preload gives the wanted rider sag.
    SpringChoice(decide::SpringChoice) {
        /// Rate as labelled, per spring.
        rate: Out<SpringRate> = |choice| Out(choice.rate);
        /// Is it the one that is in now?
        is_fitted: bool = |choice| choice.is_fitted;
        /// Can its preload be set?
        can_be_set: bool = |choice| choice.reach.can_be_set();
        /// What stands against it, in a few words; empty when nothing does.
        remark: String = |choice| choice.remark(UnitSystem::Metric);
        /// Probability that both sags land in their ranges and the preload can be set.
        probability: Out<Share> = |choice| Out(choice.probability);
        /// Damping for the same damping ratio, against today.
        damping_factor: f64 = |choice| choice.damping_factor;
        /// Preload to set.
        preload: Option<Uncertain> = |choice| of(choice, |outcome| outcome.preload.into());
        /// Change from today's preload.
        preload_change: Option<Uncertain> = |choice| of(choice, |outcome| outcome.preload_change.into());
        /// The change in turns of the adjuster with its standard uncertainty; None where its pitch is not known.
        turns: Option<(f64, f64)> = |choice| {
            choice.outcome.and_then(|outcome| outcome.turns).map(|turns| (turns.value, turns.standard_uncertainty))
        };
        /// Free sag that follows; below zero the bike is topped out.
        free_sag: Option<Uncertain> = |choice| of(choice, |outcome| outcome.free_sag.into());
        /// Compression left before the spring goes solid at full travel; None where its lengths are not known.
        bind_clearance: Option<Out<Length>> = |choice| choice.outcome.and_then(|outcome| outcome.bind_clearance).map(Out);
        /// Wheel rate at the wanted rider sag.
        wheel_rate: Option<Uncertain> = |choice| of(choice, |outcome| outcome.wheel_rate.into());
        /// Natural frequency of the rider's sprung load there, the gas by its fast exponent.
        ride_frequency: Option<Uncertain> = |choice| of(choice, |outcome| outcome.ride_frequency.into());
        /// Force at the wheel at full travel, reached fast from the wanted rider sag; like all that follows with the
        /// uncertainty of the gas's fast exponent.
        full_force: Option<Uncertain> = |choice| of(choice, |outcome| outcome.full_force.into());
        /// Energy left on that stroke, damping not in it.
        energy_left: Option<Uncertain> = |choice| of(choice, |outcome| outcome.energy_left.into());
        /// That energy as a height that the sprung load falls.
        drop_height: Option<Uncertain> = |choice| of(choice, |outcome| outcome.drop_height.into());
    }
}

/// Advice for one end: what to do, why, and every spring on sale weighed.
#[pyclass(module = "wheelrate", frozen, eq, weakref)]
#[derive(Clone, PartialEq)]
pub(crate) struct EndAdvice {
    pub(super) bike: bike::Bike,
    pub(super) advice: decide::EndAdvice,
}

made_from_bike!(EndAdvice, "advise_end");

#[pymethods]
impl EndAdvice {
    /// Which end.
    #[getter]
    fn end(&self) -> &'static str {
        self.advice.end.name()
    }
    /// ``keep``, ``change preload``, ``change spring``, ``cannot tell`` or ``none suits``.
    #[getter]
    fn verdict(&self) -> &'static str {
        self.advice.verdict.name()
    }
    /// The choice that the verdict is on: the spring to fit, or the one to keep; None where it is on none.
    #[getter]
    fn advised(&self) -> Option<SpringChoice> {
        self.advice.advised().cloned().map(SpringChoice)
    }
    /// Every spring, best first; the one fitted now is among them.
    #[getter]
    fn choices(&self) -> Vec<SpringChoice> {
        self.advice.choices.iter().cloned().map(SpringChoice).collect()
    }
    /// The rate per spring that puts the free sag in the middle of its range; None without such a target.
    #[getter]
    fn wanted_rate(&self) -> Option<Uncertain> {
        maybe(self.advice.wanted.map(|wanted| wanted.rate))
    }
    /// Sag with the rider today.
    #[getter]
    fn rider_sag(&self) -> Uncertain {
        self.advice.today.rider_sag.into()
    }
    /// Sag of the bike alone today; below zero it is topped out.
    #[getter]
    fn free_sag(&self) -> Uncertain {
        self.advice.today.free_sag.into()
    }
    /// Probability that both sags lie in their ranges today.
    #[getter]
    fn probability(&self) -> Out<Share> {
        Out(self.advice.today.probability)
    }
    /// What the readings say.
    #[getter]
    fn fit(&self) -> Fit {
        Fit { bike: self.bike.clone(), fit: self.advice.fit.clone() }
    }
    /// What to do, in one sentence.
    #[pyo3(signature = (units="metric"))]
    fn headline(&self, py: Python<'_>, units: &str) -> PyResult<String> {
        Ok(self.advice.headline(system(py, units)?))
    }
    /// Why, in sentences.
    #[pyo3(signature = (units="metric"))]
    fn reasons(&self, py: Python<'_>, units: &str) -> PyResult<Vec<String>> {
        Ok(self.advice.reasons(system(py, units)?))
    }
    /// Which further readings would help most, in sentences.
    #[pyo3(signature = (units="metric"))]
    fn next_readings(&self, py: Python<'_>, units: &str) -> PyResult<Vec<String>> {
        let units = system(py, units)?;
        Ok(self.advice.next.iter().map(|next| next.text(units)).collect())
    }
    /// The advice as JSON text, quantities as text with units.
    fn to_json(&self) -> PyResult<String> {
        to_json(&self.advice)
    }
    fn __repr__(&self) -> String {
        format!("EndAdvice({}: {})", self.end(), self.advice.headline(UnitSystem::Metric))
    }
    fn _repr_html_(&self, py: Python<'_>) -> PyResult<String> {
        let sheet = Sheet::of(py, &self.bike, UnitSystem::Metric)?;
        let arguments = (to_json(&sheet.sheet)?, self.end());
        py.import("wheelrate._display")?.call_method1("advice", arguments)?.extract()
    }
}
