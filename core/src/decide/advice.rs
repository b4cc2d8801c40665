//! Advice: what every spring on sale would do, which to take, and how sure that is.
//!
//! For each rate the preload is found that gives the wanted rider sag, and what follows from it. The probability told is
//! that of both sags landing in their ranges once the preload has been set by measuring the rider sag, on an adjuster that
//! reaches it: the joint normal probability of the two sags times that of the preload. It holds the uncertainty of loads,
//! fit, the new spring's label and the tape.
//!
//! The rate that the bike calls for is the one whose free sag comes out at the middle of its range. With the rider sag
//! held, a stiffer spring needs less preload and so leaves *more* free sag: too little free sag means too soft.
//!
//! Sag is meant where the spring force equals the load, in the middle of the friction band.

use crate::Result;
use crate::bike::{Agreement, Bike};
use crate::decide::choice::Weighed;
use crate::decide::next_reading::{Deciding, NextReading, Task, Tools};
use crate::decide::predict::{RateKnowledge, Wish};
use crate::decide::{
    SpringChoice,
    verdict::{self, Verdict},
};
use crate::error::SetupError;
use crate::infer::Finding;
use crate::infer::Study;
use crate::infer::end::EndModel;
use crate::infer::fit::{Derived, Fit, Solved};
use crate::infer::model::{Kinematics, SprungEnd};
use crate::infer::probability::joint_probability;
use crate::record::{Direction, End, Load, Range, SagKind, SagTarget};
use crate::units::{Force, Length, Quantity, Share, SpringRate, Uncertain};

/// Advice for every end with a target.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Advice {
    /// One per end, front first.
    pub ends: Vec<EndAdvice>,
    /// Ends without advice, and why.
    pub without: Vec<(End, String)>,
}

/// How the end stands today.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Today {
    /// Sag with the rider, along the target's direction.
    pub rider_sag: Uncertain<Length>,
    /// Sag of the bike alone; below zero it is topped out.
    pub free_sag: Uncertain<Length>,
    /// Probability that both lie in their ranges.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub probability: Share,
}

/// The rate that the bike calls for, per spring.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct WantedRate {
    /// Rate that puts the free sag in the middle of its range; the uncertainty is that of fit and loads.
    pub rate: Uncertain<SpringRate>,
    /// Rate at the lower end of the free sag range.
    pub from: Option<SpringRate>,
    /// Rate at the upper end.
    pub to: Option<SpringRate>,
}

/// Advice for one end.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct EndAdvice {
    /// Which end.
    pub end: End,
    /// Direction that all sags here run along: that of the rider sag target.
    pub direction: Direction,
    /// The rider sag that is wanted.
    pub rider_sag: SagTarget,
    /// The free sag that is wanted, along the same direction.
    pub free_sag: Option<Range>,
    /// What stands on the wheels for the rider sag.
    pub rider_load: Load,
    /// Load on the spring with the bike alone and with the rider.
    pub loads: [Uncertain<Force>; 2],
    /// What the readings say.
    pub fit: Fit,
    /// Springs at this end that share the load.
    pub springs: usize,
    /// As it stands.
    pub today: Today,
    /// The rate called for; `None` without a free sag target, or where no rate gives it.
    pub wanted: Option<WantedRate>,
    /// Every rate, best first; the one fitted now is among them.
    pub choices: Vec<SpringChoice>,
    /// What to do.
    pub verdict: Verdict,
    /// Further readings that would narrow it most.
    pub next: Vec<NextReading>,
    /// Vertical travel per sag along the direction, at the wanted rider sag.
    #[cfg_attr(feature = "serde", serde(skip))]
    pub(crate) travel_per_sag: f64,
}

impl EndAdvice {
    /// The choice that is fitted now.
    #[must_use]
    pub fn fitted(&self) -> Option<&SpringChoice> {
        self.choices.iter().find(|choice| choice.is_fitted)
    }

    /// The choice that the verdict is on: the spring to fit, or the one to keep. `None` where the verdict is on none.
    #[must_use]
    pub fn advised(&self) -> Option<&SpringChoice> {
        match self.verdict {
            Verdict::Keep | Verdict::ChangePreload { .. } => self.fitted(),
            Verdict::ChangeSpring { to, .. } => self.choice(to),
            Verdict::CannotTell { .. } | Verdict::NoneSuits { .. } => None,
        }
    }

    /// The choice with this rate.
    #[must_use]
    pub fn choice(&self, rate: SpringRate) -> Option<&SpringChoice> {
        self.choices.iter().find(|choice| choice.rate == rate)
    }
}

impl Bike {
    /// Advice for every end that has a rider sag target.
    ///
    /// # Errors
    /// As [`fit_end`](Self::fit_end).
    pub fn advise(&self) -> Result<Advice> {
        let mut advice = Advice { ends: Vec::new(), without: Vec::new() };
        for end in self.ends() {
            if self.targets(end).rider_sag.is_none() {
                advice.without.push((end, self.no_rider_sag(end).to_string()));
            } else {
                advice.ends.push(self.advise_end(end)?);
            }
        }
        Ok(advice)
    }

    /// [`Study::advise`] of one end.
    ///
    /// # Errors
    /// As [`study`](Self::study) and [`Study::advise`].
    pub fn advise_end(&self, end: End) -> Result<EndAdvice> {
        self.study(end)?.advise()
    }

    /// Why no rider sag is wanted at an end, and what would do.
    pub(crate) fn no_rider_sag(&self, end: End) -> SetupError {
        let said = self.practice(end).unwrap_or_default();
        let rider = said.iter().find(|said| said.sag == SagKind::Rider);
        let wanted = match rider.map(|said| said.agreement) {
            Some(Agreement::Disagree) => {
                "the figures of common practice do not overlap on this bike: state your own under `targets`"
            }
            Some(Agreement::BeyondTravel(_)) => {
                "common practice asks for more than this end can travel: state your own under `targets`"
            }
            _ => "say how much the end should sag with the rider on, under `targets`",
        };
        SetupError::Missing { end, what: "rider_sag", wanted }
    }
}

impl Study {
    /// Advice on the end: every spring on sale weighed, and what to do.
    ///
    /// # Errors
    /// [`SetupError::Missing`] without a rider sag target.
    pub fn advise(&self) -> Result<EndAdvice> {
        self.adviser()?.advise()
    }

    /// Everything that advice needs, put together.
    pub(crate) fn adviser(&self) -> Result<Adviser> {
        let target = self.bike.targets(self.end()).rider_sag.ok_or_else(|| self.bike.no_rider_sag(self.end()))?;
        self.bike.load(self.end(), self.bike.rider_load())?;
        self.adviser_for(target)
    }

    /// The same for another rider sag.
    pub(crate) fn adviser_for(&self, target: SagTarget) -> Result<Adviser> {
        Ok(Adviser { study: self.clone(), model: self.model_along(target.direction)?, target })
    }
}

/// All that advice on one end is worked out from.
#[derive(Debug, Clone)]
pub(crate) struct Adviser {
    pub(crate) study: Study,
    /// The end as it is, with its tape along the target.
    pub(crate) model: EndModel,
    pub(crate) target: SagTarget,
}

impl Adviser {
    pub(crate) fn solved(&self) -> &Solved {
        &self.study.solved
    }

    pub(crate) fn bike(&self) -> &Bike {
        &self.study.bike
    }

    pub(crate) fn end(&self) -> End {
        self.study.end()
    }

    /// Standard uncertainty of one reading (m).
    pub(crate) fn tape(&self) -> f64 {
        self.study.measuring.uncertainty.si()
    }

    pub(crate) fn place(&self, load: &Load) -> Result<usize> {
        let place = self.solved().gathered.place(load);
        let missing = SetupError::Missing {
            end: self.end(),
            what: "load",
            wanted: "state the masses that rider sag is meant under",
        };
        Ok(place.ok_or(missing)?)
    }

    fn advise(&self) -> Result<EndAdvice> {
        let (bike, rider) = (self.place(&self.bike().free_load())?, self.place(self.bike().rider_load())?);
        let free_sag = self.free_range()?;
        let fit = self.solved().fit();
        let today = self.today(bike, rider, free_sag.as_ref())?;
        let wish = self.wish(bike, rider)?;
        let wanted = free_sag.as_ref().and_then(|range| self.wanted(&wish, range));
        let weighed = self.weigh_all(&wish, free_sag.as_ref())?;
        let fitted = weighed.iter().find(|choice| choice.is_fitted).map_or(0.0, |choice| choice.probability.si());
        let deciding = self.deciding(&wish, free_sag.as_ref(), fitted);
        let mut next = self.solved().next_readings(&deciding, self.tools()?);
        if let Some(Finding::Misread { reading, load, .. }) = fit.findings.first() {
            let task = Task::Repeat { reading: *reading, load: load.clone() };
            let effort = task.effort();
            next.insert(0, NextReading { task, remaining: Share::from_si(1.0), wanted_rate: None, effort });
        }
        let choices = verdict::ranked(weighed, wanted.as_ref());
        let conversion = self.bike().sag_conversion(self.end(), self.target.direction)?;
        let travel_per_sag = conversion.travel(self.target.value)?.si() / self.target.value.si();
        let verdict = verdict::decide(&choices, &today, &fit, wanted.as_ref());
        Ok(EndAdvice {
            end: self.end(),
            direction: self.target.direction,
            rider_sag: self.target,
            free_sag,
            rider_load: self.bike().rider_load().clone(),
            loads: [bike, rider].map(|load| self.solved().uncertain(&self.solved().load(load))),
            springs: self.solved().main.each.len(),
            fit,
            today,
            wanted,
            choices,
            verdict,
            next,
            travel_per_sag,
        })
    }

    /// The wanted rider sag, to be set on a spring.
    pub(crate) fn wish(&self, bike: usize, rider: usize) -> Result<Wish<'_>> {
        Ok(Wish {
            solved: self.solved(),
            model: &self.model,
            rider,
            bike,
            rider_sag: self.target.value.si(),
            tape: self.tape(),
            gravity: self.bike().masses()?.gravity().si(),
        })
    }

    pub(crate) fn free_range(&self) -> Result<Option<Range>> {
        self.free_range_of(self.bike().targets(self.end()).free_sag)
    }

    /// A free sag range along the direction of the rider sag.
    pub(crate) fn free_range_of(&self, wanted: Option<SagTarget>) -> Result<Option<Range>> {
        let Some(free) = wanted else { return Ok(None) };
        if free.direction == self.target.direction {
            return Ok(Some(free.range));
        }
        let (stated, wanted) = (
            self.bike().sag_conversion(self.end(), free.direction)?,
            self.bike().sag_conversion(self.end(), self.target.direction)?,
        );
        let convert = |sag: Length| -> Result<Length> { wanted.sag(stated.travel(sag)?) };
        Ok(Some(Range { from: convert(free.range.from)?, to: convert(free.range.to)? }))
    }

    /// A sag as it stands today, along the target.
    pub(crate) fn sag_today(&self, load: usize) -> Result<Derived> {
        let travel = self.solved().travel(load).ok_or(SetupError::Singular)?;
        let full = self.solved().evidence.end.full_travel();
        let inside = travel.value.clamp(0.0, full);
        let at = |travel: f64| self.model.kinematics(travel).ok_or(SetupError::Singular);
        let (Kinematics { tape: sag, tape_slope: slope, .. }, hanging) =
            (at(inside)?, at(self.solved().hanging_travel())?.tape);
        let mut gradient: Vec<f64> = travel.gradient.iter().map(|g| g * slope).collect();
        let ways = gradient.iter_mut().skip(self.solved().evidence.unknowns());
        ways.zip(self.model.path(inside)).for_each(|(to, by)| *to += by.tape);
        Ok(Derived { value: sag + slope * (travel.value - inside) - hanging, gradient })
    }

    fn today(&self, bike: usize, rider: usize, free_range: Option<&Range>) -> Result<Today> {
        let (free, rider) = (self.sag_today(bike)?, self.sag_today(rider)?);
        let (free_sag, rider_sag) =
            (self.solved().uncertain::<Length>(&free), self.solved().uncertain::<Length>(&rider));
        let both = free_sag.standard_uncertainty.si() * rider_sag.standard_uncertainty.si();
        let correlation = self.solved().covariance(&free.gradient, &rider.gradient) / both.max(f64::MIN_POSITIVE);
        let normal = |sag: Uncertain<Length>| (sag.value.si(), sag.standard_uncertainty.si());
        let probability = joint_probability(
            normal(rider_sag),
            normal(free_sag),
            correlation.clamp(-1.0, 1.0),
            bounds(Some(&self.target.range)),
            bounds(free_range),
        );
        Ok(Today { rider_sag, free_sag, probability: Share::from_si(probability) })
    }

    /// The rate called for, with the error of fit and loads but not of a label or the tape.
    fn wanted(&self, wish: &Wish<'_>, range: &Range) -> Option<WantedRate> {
        let label = self.solved().main.each.first()?.0.si();
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
    pub(crate) fn deciding(&self, wish: &Wish<'_>, range: Option<&Range>, fitted_lands: f64) -> Deciding {
        let factor = self.solved().factor();
        let fitted = factor.gradient.iter().map(|g| g / factor.value);
        let called = range.and_then(|range| wish.factor_for_free_sag(range.middle().si(), RateKnowledge::Label(0.0)));
        let Some(found) = called else { return Deciding { number: fitted.collect(), wanted: None } };
        let relative = found.free_sag.gradient.fit.iter().map(|free| free / found.free_sag_per_rate);
        let rate = found.factor * self.fitted_label().si();
        Deciding {
            wanted: Some(relative.clone().map(|relative| relative * rate).collect()),
            number: if verdict::is_to_buy(fitted_lands) {
                relative.collect()
            } else {
                fitted.zip(relative).map(|(fitted, called)| fitted + called).collect()
            },
        }
    }

    pub(crate) fn tools(&self) -> Result<Tools> {
        let masses = self.bike().masses()?;
        Ok(Tools { tape: self.tape(), scale: masses.scale_uncertainty().si() * masses.gravity().si() })
    }

    /// The spring that is in now and every other on sale, and whether it is the one in now.
    pub(crate) fn rates(&self) -> impl Iterator<Item = (SpringRate, bool)> {
        let on_sale = match self.end() {
            End::Front => &self.bike().on_sale().front,
            End::Rear => &self.bike().on_sale().rear,
        };
        let others = on_sale.iter().copied().filter(|&rate| !self.is_fitted(rate)).map(|rate| (rate, false));
        core::iter::once((self.fitted_label(), true)).chain(others)
    }

    pub(crate) fn weigh_all(&self, wish: &Wish<'_>, free_range: Option<&Range>) -> Result<Vec<Weighed>> {
        self.rates().map(|(rate, is_fitted)| self.weigh(wish, rate, is_fitted, free_range)).collect()
    }
}

/// A range as an interval; everything without one.
pub(crate) fn bounds(range: Option<&Range>) -> (f64, f64) {
    range.map_or((f64::NEG_INFINITY, f64::INFINITY), |range| (range.from.si(), range.to.si()))
}

#[cfg(test)]
mod tests;
