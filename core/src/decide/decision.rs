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

#[cfg(feature = "serde")]
pub(crate) use best::Best;

use crate::Result;
use crate::bike::{Bike, SagConversion};
use crate::decide::adviser::Adviser;
use crate::decide::assumptions::Assumption;
use crate::decide::chances::Aim;
use crate::decide::choice::Weighed;
use crate::decide::gradient::RateKnowledge;
use crate::decide::next_reading::Deciding;
use crate::decide::oil::OilLevel;
use crate::decide::other_end::OtherEnd;
use crate::decide::plan::Plan;
use crate::decide::predict::Wish;
use crate::decide::verdict::{self, Act, Action, SUITS, Verdict};
use crate::decide::{Service, SpringChoice};
use crate::infer::finding::Severity;
use crate::infer::fit::Fit;
use crate::infer::probability::joint_probability;
use crate::infer::{Condition, Finding, Study};
use crate::record::{Direction, End, Load, Prices, Range, SagTarget};
use crate::units::{Force, Length, Quantity, Share, SpringRate, Uncertain};

/// Decisions for every end with a target.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Advice {
    /// One per end, front first.
    pub ends: Vec<Decision>,
    /// Ends without advice, and why.
    pub without: Vec<(End, String)>,
}

/// How the end stands today.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Today {
    /// Sag with the rider.
    pub rider_sag: Uncertain<Length>,
    /// Sag of the bike alone; below zero it is topped out.
    pub free_sag: Uncertain<Length>,
    /// Probability that both lie in their ranges.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub probability: Share,
}

/// The rate that the bike calls for, per spring.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct WantedRate {
    /// Rate that puts the free sag in the middle of its range; the uncertainty is that of fit and loads.
    pub rate: Uncertain<SpringRate>,
    /// Rate at the lower end of the free sag range.
    pub from: Option<SpringRate>,
    /// Rate at the upper end.
    pub to: Option<SpringRate>,
}

/// The decision on one end.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Decision {
    /// Which end.
    pub end: End,
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
            Verdict::CannotTell { .. } | Verdict::ServiceFirst => None,
            _ => self.choice_of(self.action()?.act),
        }
    }

    /// The choice with this rate.
    #[must_use]
    pub fn choice(&self, rate: SpringRate) -> Option<&SpringChoice> {
        self.choices.iter().find(|choice| choice.rate == rate)
    }

    /// Is the best that can be done likely to land both sags?
    #[must_use]
    pub fn suits(&self) -> bool {
        self.action().is_some_and(|action| action.probability.si() >= SUITS)
    }
}

/// Springs and actions of one end, best first.
struct Compared {
    weighed: Vec<Weighed>,
    choices: Vec<SpringChoice>,
    wanted: Option<WantedRate>,
    today: Today,
    actions: Vec<Action>,
}

impl Bike {
    /// The decision for every end that has a rider sag target.
    ///
    /// # Errors
    /// As [`fit_end`](Self::fit_end).
    pub fn advise(&self) -> Result<Advice> {
        let mut refused = None;
        let mut advice = Advice { ends: Vec::new(), without: Vec::new() };
        for end in self.ends() {
            if self.targets(end).rider_sag.is_none() {
                advice.without.push((end, self.no_rider_sag(end).to_string()));
                continue;
            }
            match self.advise_end(end) {
                Ok(found) => advice.ends.push(found),
                Err(error) => {
                    advice.without.push((end, error.to_string()));
                    refused.get_or_insert(error);
                }
            }
        }
        match refused {
            Some(error) if advice.ends.is_empty() => Err(error),
            _ => Ok(advice),
        }
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
        self.adviser()?.decide()
    }
}

impl Adviser {
    /// The whole decision.
    pub(crate) fn decide(&self) -> Result<Decision> {
        let places = self.places()?;
        let fit = self.own.fit();
        let wish = self.wish(places)?;
        let Compared { weighed, choices, wanted, today, mut actions } = self.compare(&wish, places)?;
        let evening = self.evening(&weighed, &actions, &wish)?;
        let service = Service::of(&fit);
        let plan = self.plan(&fit, &evening);
        let misread = misread(&fit).map(|(reading, _)| reading);
        let verdict = if misread.is_none() && service.is_some_and(|service| service.comes_first) {
            Verdict::ServiceFirst
        } else if misread.is_some() || plan.is_worth_it() {
            let between = evening.between(&choices, &actions, self.prices.tie().si());
            Verdict::CannotTell { between, misread }
        } else {
            self.verdict_on(&choices, &actions, &fit, wanted.as_ref())
        };
        actions.extend(evening.action(&self.prices));
        actions.extend(actions.first().filter(|_| service.is_some()).copied().map(|best| {
            // What is done after it lands as often: friction holds a sag to neither side.
            let utility = Share::from_si(best.utility.si() - Act::Service.price(&self.prices).si());
            Action { act: Act::Service, way: None, utility, ..best }
        }));
        verdict::sort(&mut actions);
        let conversion = SagConversion::of(self.bike(), self.end(), self.direction)?;
        let value = self.wanted.rider_sag.value;
        let travel_per_sag = conversion.travel(value)?.si() / value.si();
        let mut decision = Decision {
            end: self.end(),
            direction: self.direction,
            rider_sag: self.wanted.rider_sag,
            free_sag: self.wanted.free_sag,
            rider_load: self.bike().rider_load().clone(),
            loads: places.map(|load| self.solved().uncertain(&self.solved().load(load))),
            conditions: fit.conditions.clone(),
            springs: self.solved().main.each.len(),
            fit,
            today,
            wanted,
            choices,
            to_look_for: self.on_sale().is_empty(),
            prices: self.prices,
            actions,
            verdict,
            service,
            other_end: None,
            plan,
            travel_per_sag,
            assumptions: self.assumptions(&weighed, &wish)?,
            oil_level: None,
        };
        decision.other_end = OtherEnd::of(self.bike(), &decision);
        decision.oil_level = OilLevel::of(self.bike(), &decision);
        Ok(decision)
    }

    /// Every spring and every action, best first; whether to measure first is another question.
    fn compare(&self, wish: &Wish<'_>, places: [usize; 2]) -> Result<Compared> {
        let wanted = self.wanted.free_sag.as_ref().and_then(|range| self.wanted_rate(wish, range));
        let mut weighed = self.weigh_all(wish, &self.wanted.aim())?;
        verdict::rank(&mut weighed, &self.prices, wanted.as_ref(), |weighed| &weighed.choice);
        let today = self.today(places)?;
        let choices: Vec<SpringChoice> = weighed.iter().map(|weighed| weighed.choice.clone()).collect();
        let actions = verdict::actions(&choices, today.probability, &self.prices);
        Ok(Compared { weighed, choices, wanted, today, actions })
    }

    /// The best of what can be done without measuring more, and today's spring at its best setting.
    pub(crate) fn best(&self) -> Result<(Option<Action>, Option<SpringChoice>)> {
        let places = self.places()?;
        let Compared { choices, actions, .. } = self.compare(&self.wish(places)?, places)?;
        Ok((actions.first().copied(), choices.into_iter().find(|choice| choice.is_fitted)))
    }

    pub(crate) fn weigh_all(&self, wish: &Wish<'_>, aim: &Aim) -> Result<Vec<Weighed>> {
        let today = self.set(wish, 0.0, true).map(|(setting, ..)| setting.frequency.value);
        let weigh = |(rate, is_fitted)| {
            let mut weighed = self.weigh(wish, rate, is_fitted, aim)?;
            if let (Some(today), Some(set)) = (today, &weighed.set) {
                // Of one load: the root of the ratio of both wheel rates.
                weighed.choice.damping_factor = set.setting.frequency.value / today;
            }
            Ok(weighed)
        };
        self.rates().map(weigh).collect()
    }

    fn verdict_on(
        &self,
        choices: &[SpringChoice],
        actions: &[Action],
        fit: &Fit,
        wanted: Option<&WantedRate>,
    ) -> Verdict {
        let settings = || actions.iter().filter(|action| !matches!(action.act, Act::Measure | Act::Service));
        let Some(best) = settings().next() else {
            return Verdict::NoneSuits { best: Act::Leave, stiffer: None };
        };
        if best.probability.si() < SUITS {
            let fitted = fit.springs.first().map_or(self.fitted_label(), |spring| spring.value);
            return Verdict::NoneSuits { best: best.act, stiffer: wanted.map(|wanted| wanted.rate.value > fitted) };
        }
        match best.act {
            Act::Turn { by } => Verdict::ChangePreload { by },
            Act::Fit { rate } => {
                let least = best.utility.si() - self.prices.tie().si();
                let ties = settings().skip(1).filter(|action| action.utility.si() > least);
                let ties = ties.filter_map(|action| match action.act {
                    Act::Fit { rate } => Some(rate),
                    _ => None,
                });
                let label = choices.iter().find(|choice| choice.is_fitted).map_or(rate, |fitted| fitted.rate);
                Verdict::ChangeSpring { to: rate, stiffer: rate > label, ties: ties.collect() }
            }
            _ => Verdict::Keep,
        }
    }

    fn today(&self, [bike, rider]: [usize; 2]) -> Result<Today> {
        let (free, rider) = (self.sag_today(bike)?, self.sag_today(rider)?);
        let (free_sag, rider_sag) =
            (self.solved().uncertain::<Length>(&free), self.solved().uncertain::<Length>(&rider));
        let both = free_sag.standard_uncertainty.si() * rider_sag.standard_uncertainty.si();
        let correlation = self.solved().covariance(&free.gradient, &rider.gradient) / both.max(f64::MIN_POSITIVE);
        let normal = |sag: Uncertain<Length>| (sag.value.si(), sag.standard_uncertainty.si());
        let aim = self.wanted.aim();
        let (rider, free) = (normal(rider_sag), normal(free_sag));
        let probability = joint_probability(rider, free, correlation.clamp(-1.0, 1.0), aim.rider, aim.free);
        Ok(Today { rider_sag, free_sag, probability: Share::from_si(probability) })
    }

    /// The rate called for, with the error of fit and loads but not of a label or the tape.
    fn wanted_rate(&self, wish: &Wish<'_>, range: &Range) -> Option<WantedRate> {
        let label = self.fitted_label().si();
        let exact = RateKnowledge::Label(0.0);
        let rate = |sag: Length| {
            wish.factor_for_free_sag(sag.si(), exact).map(|found| SpringRate::from_si(found.factor * label))
        };
        let middle = wish.factor_for_free_sag(range.middle().si(), exact)?;
        let mut gradient = middle.free_sag.gradient.clone();
        gradient.setting = 0.0;
        let relative = self.solved().deviation_of(&gradient) / middle.free_sag_per_rate.abs();
        let value = middle.factor * label;
        Some(WantedRate {
            rate: Uncertain {
                value: SpringRate::from_si(value),
                standard_uncertainty: SpringRate::from_si(value * relative),
            },
            from: rate(range.from),
            to: rate(range.to),
        })
    }

    /// The numbers that decide. While today's spring is in question, how far its rate is from the one called for (in `ln`):
    /// an error of the loads is in both and cancels. Once another is to be bought by its label, the rate called for alone.
    pub(crate) fn deciding(&self, wish: &Wish<'_>, to_buy: bool) -> Deciding {
        let factor = self.solved().factor();
        let fitted = factor.gradient.iter().map(|g| g / factor.value);
        let range = self.wanted.free_sag.as_ref();
        let called = range.and_then(|range| wish.factor_for_free_sag(range.middle().si(), RateKnowledge::Label(0.0)));
        let Some(found) = called else { return Deciding { number: fitted.collect(), wanted: None } };
        let relative = found.free_sag.gradient.fit.iter().map(|free| free / found.free_sag_per_rate);
        let rate = found.factor * self.fitted_label().si();
        Deciding {
            wanted: Some(relative.clone().map(|relative| relative * rate).collect()),
            number: if to_buy {
                relative.collect()
            } else {
                fitted.zip(relative).map(|(fitted, called)| fitted + called).collect()
            },
        }
    }
}

/// A reading that no other agrees with, and what it was read under.
pub(crate) fn misread(fit: &Fit) -> Option<(usize, &Load)> {
    fit.findings.iter().find_map(|finding| match finding {
        Finding::Misread { reading, load, .. } => Some((*reading, load)),
        _ => None,
    })
}

/// Does a verdict hang on this finding?
fn is_doubt(finding: &Finding) -> bool {
    finding.severity() == Severity::Warning && !matches!(finding, Finding::StickyEnd { .. })
}

#[cfg(test)]
mod tests;
