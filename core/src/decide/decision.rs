//! The decision on one end: every action compared on one posterior. Headline, table of springs, plan, scenarios, history, sheet
//! and page all read this one object.
//!
//! For each spring on sale, and today's, the settable preload is searched that most likely lands both sags in their ranges
//! ([`chances`](super::chances), [`search`](super::search)); a stated value only breaks ties. Leaving, turning the collar,
//! another spring, measuring first are then compared by expected utility ([`verdict`](super::verdict)).
//!
//! The rate that the bike calls for is the one whose free sag comes out at the middle of its range. With the rider sag
//! held, a stiffer spring needs less preload and so leaves *more* free sag: too little free sag means too soft.
//!
//! Sag is meant where the spring force equals the load, in the middle of the friction band, and runs along the direction in
//! which the end is read.

#[cfg(feature = "serde")]
mod best;
mod compare;

#[cfg(feature = "serde")]
pub(crate) use best::Best;

use crate::Result;
use crate::bike::Bike;
use crate::decide::assumptions::Assumption;
use crate::decide::lacks::Lack;
use crate::decide::oil::OilLevel;
use crate::decide::other_end::OtherEnd;
use crate::decide::plan::Plan;
use crate::decide::verdict::{Act, Action, SUITS, Verdict, WantedRate};
use crate::decide::{Rests, Service, SpringChoice};
use crate::infer::finding::Severity;
use crate::infer::fit::Fit;
use crate::infer::{Condition, Finding, Study};
use crate::record::{Direction, End, Load, Prices, Range, SagTarget};
use crate::units::{Force, Length, Quantity, Share, SpringRate, Uncertain};

/// Decisions for every end with a target.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Advice {
    /// One per end, front first.
    pub ends: Vec<Decision>,
    /// Ends without advice, and why.
    pub without: Vec<(End, String)>,
}

/// How the end stands today.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Today {
    /// Sag with the rider.
    pub rider_sag: Uncertain<Length>,
    /// Sag of the bike alone; below zero it is topped out.
    pub free_sag: Uncertain<Length>,
    /// Probability that both lie in their ranges.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub probability: Share,
    /// Covariance of the sag with the rider, and of the bike alone, with friction, per force of friction (m): where the end
    /// was read on one side, sag and friction go against each other, and the sag on that side is surer than either.
    #[cfg_attr(feature = "serde", serde(skip))]
    pub(crate) with_friction: [f64; 2],
}

/// The decision on one end.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Decision {
    /// Which end.
    pub end: End,
    /// Is the end a telescopic fork? Caps, spacers and oil are spoken of then.
    pub on_fork: bool,
    /// Direction that all sags here run along: that in which the end is read.
    pub direction: Direction,
    /// The rider sag that is wanted.
    pub rider_sag: SagTarget,
    /// The free sag that is wanted.
    pub free_sag: Option<Range>,
    /// What stands on the wheels for the rider sag.
    pub rider_load: Load,
    /// Load on the spring with the bike alone and with the rider.
    pub loads: [Uncertain<Force>; 2],
    /// What the readings say.
    pub fit: Fit,
    /// What the verdict hangs on, as its headline says.
    pub conditions: Vec<Condition>,
    /// Springs at this end that share the load.
    pub springs: usize,
    /// As it stands.
    pub today: Today,
    /// The rate called for; `None` without a free sag target, or where no rate gives it.
    pub wanted: Option<WantedRate>,
    /// Every rate at its best setting, best first by chance less price; the one fitted now is among them.
    pub choices: Vec<SpringChoice>,
    /// Springs of which one is the best or as good with 97 %, were all known that the readings leave open: the best bet first.
    pub contenders: Vec<SpringRate>,
    /// Are the other rates those to look for, because none is stated as on sale?
    pub to_look_for: bool,
    /// What each action costs.
    pub prices: Prices,
    /// Every action, best first by chance less price. Measuring is among them where it was worked out.
    pub actions: Vec<Action>,
    /// What to do.
    pub verdict: Verdict,
    /// Friction beyond common practice, where it is.
    pub service: Option<Service>,
    /// What the action does to the other end; `None` where nothing is changed, or the whole bike is not known.
    pub other_end: Option<OtherEnd>,
    /// What to measure next, and what that is worth.
    pub plan: Plan,
    /// Vertical travel per sag, at the wanted rider sag.
    pub travel_per_sag: f64,
    /// What was assumed because nobody stated it, what costs most first.
    pub assumptions: Vec<Assumption>,
    /// Of the loads that both sags are meant under those that were never read, and what reading them would say.
    pub lacks: Vec<Lack>,
    /// The oil level to go with another fork spring; `None` where none is advised, or the air is not stated.
    pub oil_level: Option<OilLevel>,
}

impl Decision {
    /// The choice that is fitted now.
    #[must_use]
    pub fn fitted(&self) -> Option<&SpringChoice> {
        self.choices.iter().find(|choice| choice.is_fitted)
    }

    /// The best of what can be done without measuring more. It is what the verdict says, unless that is to measure or to
    /// service first.
    #[must_use]
    pub fn action(&self) -> Option<&Action> {
        self.settings().next()
    }

    /// What comes next to the best, and is neither measuring nor a service.
    #[must_use]
    pub fn runner_up(&self) -> Option<&Action> {
        self.settings().nth(1)
    }

    /// Actions that are as good as the best one.
    #[must_use]
    pub fn ties(&self) -> Vec<&Action> {
        let Some(best) = self.action() else { return Vec::new() };
        let least = best.utility.si() - self.prices.tie().si();
        self.settings().skip(1).filter(|action| action.utility.si() > least).collect()
    }

    /// Warnings of the fit on which the verdict hangs, beyond its [conditions](Self::conditions).
    pub(crate) fn doubts(&self) -> impl Iterator<Item = &Finding> {
        let said = |finding: &Finding| match finding {
            Finding::Misread { .. } | Finding::Scatter { .. } | Finding::NotOneBike { .. } => {
                !self.conditions.is_empty()
            }
            _ => false,
        };
        self.fit.findings.iter().filter(move |finding| is_doubt(finding) && !said(finding))
    }

    fn settings(&self) -> impl Iterator<Item = &Action> {
        self.actions.iter().filter(|action| !matches!(action.act, Act::Measure | Act::Service))
    }

    /// The choice that an action is on.
    #[must_use]
    pub fn choice_of(&self, act: Act) -> Option<&SpringChoice> {
        match act {
            Act::Leave | Act::Turn { .. } => self.fitted(),
            Act::Fit { rate } => self.choice(rate),
            Act::Measure | Act::Service => None,
        }
    }

    /// The choice that the verdict is on: the spring to fit, or the one to keep. `None` where something else comes first.
    #[must_use]
    pub fn advised(&self) -> Option<&SpringChoice> {
        match self.verdict {
            Verdict::MeasureFirst { .. } | Verdict::ServiceFirst => None,
            _ => self.choice_of(self.action()?.act),
        }
    }

    /// The choice with this rate.
    #[must_use]
    pub fn choice(&self, rate: SpringRate) -> Option<&SpringChoice> {
        self.choices.iter().find(|choice| choice.rate == rate)
    }

    /// Where the end is read to rest once the best action is taken: as set, or as it stands where all is left as it is.
    #[must_use]
    pub fn rests(&self) -> Option<Rests> {
        let action = self.action()?;
        match action.act {
            Act::Leave => self.rests_today(),
            act => Some(self.choice_of(act)?.outcome?.rests),
        }
    }

    /// Where the end is read to rest as it stands.
    #[must_use]
    pub fn rests_today(&self) -> Option<Rests> {
        let outcome = self.choice_of(Act::Leave)?.outcome?;
        let sides =
            |[low, high]: [Uncertain<Length>; 2], from: Uncertain<Length>, to: Uncertain<Length>, along: f64| {
                let half = (low.value.si() - high.value.si()) / 2.0;
                [(low, half), (high, -half)].map(|(side, half)| {
                    // What friction adds to the variance of the middle stays: its own, and how it goes along with the sag.
                    let band = side.standard_uncertainty.si().powi(2) - from.standard_uncertainty.si().powi(2);
                    let variance = band.max(0.0) + to.standard_uncertainty.si().powi(2) + 2.0 * half * along;
                    Uncertain {
                        value: side.value + (to.value - from.value),
                        standard_uncertainty: Length::from_si(variance.max(0.0).sqrt()),
                    }
                })
            };
        let Rests { rider_low, rider_high, free_low, free_high } = outcome.rests;
        let [with_rider, free] = self.today.with_friction;
        let rider = sides([rider_low, rider_high], outcome.rider_sag, self.today.rider_sag, with_rider);
        let free = sides([free_low, free_high], outcome.free_sag, self.today.free_sag, free);
        Some(Rests { rider_low: rider[0], rider_high: rider[1], free_low: free[0], free_high: free[1] })
    }

    /// Is the best that can be done likely to land both sags?
    #[must_use]
    pub fn suits(&self) -> bool {
        self.action().is_some_and(|action| action.probability.si() >= SUITS)
    }
}

impl Bike {
    /// The decision for every end that has a rider sag target.
    ///
    /// # Errors
    /// As [`fit_end`](Self::fit_end).
    pub fn advise(&self) -> Result<Advice> {
        let (wanted, unwanted) = self.wanted_ends();
        let (ends, refused) = End::each(wanted, |end| self.advise_end(end))?;
        Ok(Advice { ends, without: unwanted.into_iter().chain(refused).collect() })
    }

    /// Ends with a rider sag target; the others, and what they want.
    pub(crate) fn wanted_ends(&self) -> (Vec<End>, Vec<(End, String)>) {
        let (wanted, unwanted): (Vec<End>, Vec<End>) =
            self.ends().into_iter().partition(|&end| self.targets(end).rider_sag.is_some());
        (wanted, unwanted.into_iter().map(|end| (end, self.no_rider_sag(end).to_string())).collect())
    }

    /// [`Study::advise`] of one end.
    ///
    /// # Errors
    /// As [`study`](Self::study) and [`Study::advise`].
    pub fn advise_end(&self, end: End) -> Result<Decision> {
        self.study(end)?.advise()
    }
}

impl Study {
    /// The decision on the end: every action compared, and what to do.
    ///
    /// # Errors
    /// [`SetupError::Missing`](crate::error::SetupError::Missing) without a rider sag target.
    pub fn advise(&self) -> Result<Decision> {
        self.answer(|| self.adviser()?.decide())
    }
}

/// Does a verdict hang on this finding?
fn is_doubt(finding: &Finding) -> bool {
    finding.severity() == Severity::Warning && !matches!(finding, Finding::StickyEnd { .. })
}

#[cfg(test)]
mod tests;
