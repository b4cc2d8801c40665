//! How a decision is worked out: every spring weighed, every action compared, and the verdict that follows.

use crate::Result;
use crate::bike::SagConversion;
use crate::decide::adviser::Adviser;
use crate::decide::chances::Aim;
use crate::decide::choice::Weighed;
use crate::decide::decision::{Decision, Today};
use crate::decide::gradient::RateKnowledge;
use crate::decide::next_reading::Deciding;
use crate::decide::oil::OilLevel;
use crate::decide::other_end::OtherEnd;
use crate::decide::predict::{Setting, Wish};
use crate::decide::tasks::Tasks;
use crate::decide::verdict::{self, Act, Action, SUITS, Verdict, WantedRate};
use crate::decide::{Service, SpringChoice};
use crate::infer::fit::Fit;
use crate::infer::probability::joint_probability;
use crate::record::Range;
use crate::units::{Length, Quantity, Share, SpringRate, Uncertain};

/// Springs and actions of one end, best first.
pub(super) struct Compared {
    pub(super) weighed: Vec<Weighed>,
    pub(super) choices: Vec<SpringChoice>,
    /// The spring called for.
    pub(super) called: Option<Setting>,
    pub(super) wanted: Option<WantedRate>,
    pub(super) today: Today,
    pub(super) actions: Vec<Action>,
}

impl Adviser {
    /// The whole decision.
    pub(crate) fn decide(&self) -> Result<Decision> {
        let places = self.places()?;
        let fit = self.study.with_misread_parts(self.own.fit());
        let wish = self.wish(places)?;
        let Compared { weighed, choices, called, wanted, today, mut actions } = self.compare(&wish, places)?;
        let tasks = Tasks::of(self);
        let evening = self.evening(&weighed, &actions, called.as_ref(), &tasks)?;
        let contenders = self.contenders(&weighed, &actions, self.prices.tie().si())?;
        let service = Service::of(&fit);
        let plan = self.plan(&fit, &evening);
        let misread = fit.misread().map(|(reading, _)| reading);
        let verdict = if misread.is_none() && service.is_some_and(|service| service.comes_first) {
            Verdict::ServiceFirst
        } else if misread.is_some() || plan.is_worth_it() {
            let mut between = contenders.clone();
            between.sort_by_key(|rate| *rate != self.fitted_label());
            Verdict::MeasureFirst { between, misread }
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
            on_fork: self.end() == crate::record::End::Front
                && self.bike().front().is_ok_and(|front| !front.is_linked()),
            direction: self.direction,
            rider_sag: self.wanted.rider_sag,
            free_sag: self.wanted.free_sag,
            rider_load: self.bike().parts().rider_load.clone(),
            loads: places.map(|load| self.solved().uncertain(&self.solved().load(load))),
            conditions: fit.conditions.clone(),
            springs: self.solved().main.each.len(),
            today,
            wanted,
            choices,
            contenders,
            to_look_for: self.on_sale().is_empty(),
            prices: self.prices,
            actions,
            verdict,
            service,
            other_end: None,
            plan,
            travel_per_sag,
            assumptions: self.assumptions(&weighed, called.as_ref(), &tasks)?,
            lacks: self.lacks(&fit.findings, places)?,
            oil_level: None,
            fit,
        };
        if let Some(act) = decision.action().map(|action| action.act)
            && let Some(outcome) = decision.choice_of(act).and_then(|choice| choice.outcome)
        {
            let today = decision.today.rider_sag.value;
            let moved = Length::from_si((outcome.rider_sag.value - today).si() * travel_per_sag);
            decision.other_end = OtherEnd::of(self.bike(), self.end(), act, moved);
            decision.oil_level = OilLevel::of(self.bike(), self.end(), self.direction, today, act, &outcome);
        }
        Ok(decision)
    }

    /// Every spring and every action, best first; whether to measure first is another question.
    pub(super) fn compare(&self, wish: &Wish<'_>, places: [usize; 2]) -> Result<Compared> {
        let called = self.called_for(wish);
        let wanted = self
            .wanted
            .free_sag
            .as_ref()
            .zip(called.as_ref())
            .map(|(range, called)| self.wanted_rate(wish, range, called));
        let mut weighed = self.weigh_all(wish, &self.wanted.aim())?;
        verdict::rank(&mut weighed, &self.prices, wanted.as_ref(), |weighed| &weighed.choice);
        let today = self.today(places)?;
        let choices: Vec<SpringChoice> = weighed.iter().map(|weighed| weighed.choice.clone()).collect();
        let actions = verdict::actions(&choices, today.probability, &self.prices);
        Ok(Compared { weighed, choices, called, wanted, today, actions })
    }

    /// The best of what can be done without measuring more, and today's spring at its best setting.
    pub(crate) fn best(&self) -> Result<(Option<Action>, Option<SpringChoice>)> {
        let places = self.places()?;
        let Compared { choices, actions, .. } = self.compare(&self.wish(places)?, places)?;
        Ok((actions.first().copied(), choices.into_iter().find(|choice| choice.is_fitted)))
    }

    pub(crate) fn weigh_all(&self, wish: &Wish<'_>, aim: &Aim) -> Result<Vec<Weighed>> {
        let today = self.frequency_today(wish);
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

    pub(super) fn today(&self, [bike, rider]: [usize; 2]) -> Result<Today> {
        let (free, rider) = (self.sag_today(bike)?, self.sag_today(rider)?);
        let (free_sag, rider_sag) =
            (self.solved().uncertain::<Length>(&free), self.solved().uncertain::<Length>(&rider));
        let both = free_sag.standard_uncertainty.si() * rider_sag.standard_uncertainty.si();
        let correlation = self.solved().covariance(&free.gradient, &rider.gradient) / both.max(f64::MIN_POSITIVE);
        let (with_rider, alone) = (rider.gradient, free.gradient);
        let normal = |sag: Uncertain<Length>| (sag.value.si(), sag.standard_uncertainty.si());
        let aim = self.wanted.aim();
        let (rider, free) = (normal(rider_sag), normal(free_sag));
        let probability = joint_probability(rider, free, correlation.clamp(-1.0, 1.0), aim.rider, aim.free);
        let friction = self.solved().friction();
        let along = |gradient: &[f64]| {
            self.solved().covariance(gradient, &friction.gradient) / friction.value.max(f64::MIN_POSITIVE)
        };
        let with_friction = [along(&with_rider), along(&alone)];
        Ok(Today { rider_sag, free_sag, probability: Share::from_si(probability), with_friction })
    }

    /// The spring whose free sag comes out at the middle of its range, its rate known exactly.
    pub(crate) fn called_for(&self, wish: &Wish<'_>) -> Option<Setting> {
        let range = self.wanted.free_sag.as_ref()?;
        wish.set_for_free_sag(range.middle().si(), RateKnowledge::Label(0.0))
    }

    /// The rate called for, with the error of fit and loads but not of a label or the tape.
    fn wanted_rate(&self, wish: &Wish<'_>, range: &Range, middle: &Setting) -> WantedRate {
        let label = self.fitted_label().si();
        let rate = |sag: Length| Some(SpringRate::from_si(wish.factor_for_free_sag(sag.si(), Some(middle))? * label));
        let mut gradient = middle.free_sag.gradient.clone();
        gradient.setting = 0.0;
        let relative = self.solved().deviation_of(&gradient) / middle.free_sag_per_rate.abs();
        let value = middle.factor * label;
        WantedRate {
            rate: Uncertain {
                value: SpringRate::from_si(value),
                standard_uncertainty: SpringRate::from_si(value * relative),
            },
            from: rate(range.from),
            to: rate(range.to),
        }
    }

    /// The numbers that decide. While today's spring is in question, how far its rate is from the one called for (in `ln`):
    /// an error of the loads is in both and cancels. Once another is to be bought by its label, the rate called for alone.
    pub(crate) fn deciding(&self, called: Option<&Setting>, to_buy: bool) -> Deciding {
        let factor = self.solved().factor();
        let fitted = factor.gradient.iter().map(|g| g / factor.value);
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
