//! Advice: every spring on sale weighed.

use pyo3::prelude::*;
use wheelrate::bike;
use wheelrate::decide;
use wheelrate::units::{Length, Share, SpringRate, UnitSystem};

use crate::decide::plan::Plan;
use crate::infer::{Fit, maybe};
use crate::plain::text;
use crate::report::sheet::Sheet;
use crate::report::system;
use crate::uncertain::Uncertain;
use crate::units::Out;
use crate::value::{AskedOf, made_from_bike, result_class, to_json};

/// Sag of one spring choice.
type Outcome = decide::Outcome;

fn of(choice: &decide::SpringChoice, read: fn(&Outcome) -> Uncertain) -> Option<Uncertain> {
    choice.outcome.as_ref().map(read)
}

result_class! {
    /// One spring weighed: the preload it needs for the wanted rider sag, and what follows.
    ///
    /// What follows is None where no preload that a collar gives suits; the remark says why.
    SpringChoice(decide::SpringChoice) {
        /// Rate as labelled, per spring.
        rate: Out<SpringRate> = |choice| Out(choice.rate);
        /// Is it the one that is in now?
        is_fitted: bool = |choice| choice.is_fitted;
        /// What keeps it from landing more often, in a few words; empty when nothing does.
        remark: String = |choice| choice.remark(UnitSystem::Metric);
        /// Probability that both sags land in their ranges, by the way it is set.
        probability: Out<Share> = |choice| Out(choice.probability);
        /// The same with the collar turned by the stated number and left there.
        probability_turned: Out<Share> = |choice| Out(choice.turned);
        /// The same with the rider sag read again and the collar corrected.
        probability_re_read: Out<Share> = |choice| Out(choice.re_read);
        /// ``turned``, or ``re-read`` where reading the rider sag again gains more than turning the collar costs.
        way: &'static str = |choice| way(choice.way);
        /// Damping for the same damping ratio, against today.
        damping_factor: f64 = |choice| choice.damping_factor;
        /// Preload to set; its uncertainty is that of the preload which gives the rider sag aimed at.
        preload: Option<Uncertain> = |choice| of(choice, |outcome| outcome.preload.into());
        /// Change from today's preload.
        preload_change: Option<Uncertain> = |choice| of(choice, |outcome| outcome.preload_change.into());
        /// Turns of the adjuster with their standard uncertainty: from today's setting on today's spring, from where the collar
        /// just touches it on another; None where the pitch is not known.
        turns: Option<(f64, f64)> = |choice| {
            choice.outcome.and_then(|outcome| outcome.turns).map(|turns| (turns.value, turns.standard_uncertainty))
        };
        /// Rider sag that follows; the one to correct to where it is read again.
        rider_sag: Option<Uncertain> = |choice| of(choice, |outcome| outcome.rider_sag.into());
        /// Free sag that follows; below zero the bike is topped out.
        free_sag: Option<Uncertain> = |choice| of(choice, |outcome| outcome.free_sag.into());
        /// Rider sag as it is then read after pushing down.
        rider_low: Option<Uncertain> = |choice| of(choice, |outcome| outcome.rests.rider_low.into());
        /// Rider sag as it is then read after lifting.
        rider_high: Option<Uncertain> = |choice| of(choice, |outcome| outcome.rests.rider_high.into());
        /// Free sag as it is then read after pushing down.
        free_low: Option<Uncertain> = |choice| of(choice, |outcome| outcome.rests.free_low.into());
        /// Free sag as it is then read after lifting.
        free_high: Option<Uncertain> = |choice| of(choice, |outcome| outcome.rests.free_high.into());
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

pub(crate) fn way(way: decide::Way) -> &'static str {
    match way {
        decide::Way::Turned => "turned",
        decide::Way::ReRead => "re-read",
    }
}

result_class! {
    /// One action weighed against the others.
    Action(decide::Action) {
        /// ``leave``, ``turn``, ``fit``, ``measure`` or ``service``.
        name: &'static str = |action| match action.act {
            decide::Act::Leave => "leave",
            decide::Act::Turn { .. } => "turn",
            decide::Act::Fit { .. } => "fit",
            decide::Act::Measure => "measure",
            _ => "service",
        };
        /// Rate of the spring to fit, as labelled, per spring; None for any other action.
        rate: Option<Out<SpringRate>> = |action| match action.act {
            decide::Act::Fit { rate } => Some(Out(rate)),
            _ => None,
        };
        /// Change of preload to turn the collar by; None for any other action.
        preload_change: Option<Out<Length>> = |action| match action.act {
            decide::Act::Turn { by } => Some(Out(by)),
            _ => None,
        };
        /// Probability that both sags land; after measuring, on average of what is done then.
        probability: Out<Share> = |action| Out(action.probability);
        /// That less the prices of all that is done.
        utility: Out<Share> = |action| Out(action.utility);
        /// ``turned`` or ``re-read``; None where nothing is set.
        way: Option<&'static str> = |action| action.way.map(way);
    }
}

/// The decision on one end: what to do, why, and every spring on sale weighed.
#[pyclass(module = "wheelrate", frozen, eq, weakref)]
#[derive(Clone, PartialEq)]
pub(crate) struct Decision {
    pub(crate) bike: bike::Bike,
    pub(crate) asked_of: AskedOf,
    pub(crate) advice: decide::Decision,
}

made_from_bike!(Decision, "advise_end", "advise");

#[pymethods]
impl Decision {
    /// Which end.
    #[getter]
    fn end(&self) -> &'static str {
        self.advice.end.name()
    }
    /// What the verdict hangs on, as sentences: those of the fit.
    #[getter]
    fn conditions(&self) -> Vec<String> {
        self.advice.conditions.iter().map(wheelrate::infer::Condition::text).collect()
    }
    /// ``keep``, ``change preload``, ``change spring``, ``measure first``, ``service first`` or ``none suits``.
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
    /// Every action, best first by probability less price.
    #[getter]
    fn actions(&self) -> Vec<Action> {
        self.advice.actions.iter().copied().map(Action).collect()
    }
    /// The best of what can be done without measuring more.
    #[getter]
    fn action(&self) -> Option<Action> {
        self.advice.action().copied().map(Action)
    }
    /// What comes next to it.
    #[getter]
    fn runner_up(&self) -> Option<Action> {
        self.advice.runner_up().copied().map(Action)
    }
    /// Actions that are as good as the best one.
    #[getter]
    fn ties(&self) -> Vec<Action> {
        self.advice.ties().into_iter().copied().map(Action).collect()
    }
    /// Springs of which one is the best or as good with 97 %, were all known that the readings leave open: the best bet first.
    #[getter]
    fn contenders(&self) -> Vec<SpringChoice> {
        let choices = self.advice.contenders.iter().filter_map(|rate| self.advice.choice(*rate));
        choices.cloned().map(SpringChoice).collect()
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
        Fit { bike: self.bike.clone(), asked_of: self.asked_of.clone(), fit: self.advice.fit.clone() }
    }
    /// What to do, in one sentence.
    #[pyo3(signature = (units: "str"="metric"))]
    fn headline(&self, py: Python<'_>, #[pyo3(from_py_with = text)] units: &str) -> PyResult<String> {
        Ok(self.advice.headline(system(py, units)?))
    }
    /// Why, in sentences.
    #[pyo3(signature = (units: "str"="metric"))]
    fn reasons(&self, py: Python<'_>, #[pyo3(from_py_with = text)] units: &str) -> PyResult<Vec<String>> {
        Ok(self.advice.reasons(system(py, units)?))
    }
    /// What to measure next and what that is worth.
    #[getter]
    fn plan(&self) -> Plan {
        Plan { bike: self.bike.clone(), asked_of: self.asked_of.clone(), plan: self.advice.plan.clone() }
    }
    /// The advice as JSON text, quantities as text with units.
    fn to_json(&self) -> PyResult<String> {
        to_json(&self.advice)
    }
    fn __repr__(&self) -> String {
        format!("Decision({}: {})", self.end(), self.advice.headline(UnitSystem::Metric))
    }
    fn _repr_html_(&self, py: Python<'_>) -> PyResult<String> {
        let sheet = Sheet::of(py, &self.bike, UnitSystem::Metric, Vec::new())?;
        let arguments = (to_json(&sheet.sheet)?, self.end());
        py.import("wheelrate._display")?.call_method1("advice", arguments)?.extract()
    }
}
