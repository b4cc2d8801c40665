//! One spring weighed: the preload it needs, what follows, and how likely both sags land.

use std::sync::Arc;

use crate::Result;
use crate::decide::advice::{Adviser, bounds};
use crate::decide::predict::{Gradient, Predicted, RateKnowledge, Setting, Wish};
use crate::infer::probability::joint_probability_of_three;
use crate::record::{Range, SpringPrior};
use crate::spring::Adjuster;
use crate::units::{Energy, Force, Frequency, Length, Quantity, Share, SpringRate, Uncertain, WheelRate};
use crate::wheel::{EndKernel, Wheel};

/// Rates within this of each other are the same spring: the last digit of a label.
const SAME_RATE: f64 = 2e-3;

/// Turns of the adjuster.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Turns {
    /// From today's setting; positive for more preload.
    pub value: f64,
    /// Standard uncertainty.
    pub standard_uncertainty: f64,
}

impl Turns {
    /// A change of preload on a thread.
    pub(crate) fn of(change: Uncertain<Length>, pitch: Length) -> Self {
        Self {
            value: change.value.si() / pitch.si(),
            standard_uncertainty: change.standard_uncertainty.si() / pitch.si(),
        }
    }
}

/// Whether a preload can be set.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum Reach {
    /// Within the adjuster's limits.
    Reached,
    /// Not against zero, but the adjuster's upper limit is not stated.
    LimitUnknown,
    /// Below zero: the spring would hang loose at full extension.
    Loose,
    /// Below the least that the adjuster sets.
    BelowLeast(#[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))] Length),
    /// Above the most that the adjuster sets.
    AboveMost(#[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))] Length),
    /// The spring would go solid before the end of travel, by this much.
    Binds(#[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))] Length),
    /// No preload gives the wanted sag: gas and stops alone carry the rider higher.
    NoPreload,
}

impl Reach {
    /// Can it be set?
    #[must_use]
    pub fn can_be_set(self) -> bool {
        matches!(self, Self::Reached | Self::LimitUnknown)
    }
}

/// What follows once a spring is set to the wanted rider sag.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Outcome {
    /// Preload to set, on the scale of the preload stated for today.
    pub preload: Uncertain<Length>,
    /// Change from today's preload.
    pub preload_change: Uncertain<Length>,
    /// The same in turns of the adjuster; `None` where its pitch is not stated.
    pub turns: Option<Turns>,
    /// Free sag that follows, along the target's direction; below zero the bike is topped out.
    pub free_sag: Uncertain<Length>,
    /// Compression left before the spring goes solid at full travel; `None` where its lengths are not known.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::option"))]
    pub bind_clearance: Option<Length>,
    /// Compression that the spring must allow: preload and full stroke.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub compression_needed: Length,
    /// Wheel rate at the wanted rider sag, gas settled.
    pub wheel_rate: Uncertain<WheelRate>,
    /// Natural frequency of the rider's sprung load there, the gas by its fast exponent.
    pub ride_frequency: Uncertain<Frequency>,
    /// Force at the wheel at full travel, reached fast from the wanted rider sag; like all that follows with the uncertainty
    /// of the gas's fast exponent.
    pub full_force: Uncertain<Force>,
    /// Energy left on that stroke, damping not in it.
    pub energy_left: Uncertain<Energy>,
    /// That energy as a height that the sprung load falls.
    pub drop_height: Uncertain<Length>,
}

/// One spring.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct SpringChoice {
    /// Rate as labelled, per spring.
    pub rate: SpringRate,
    /// Is it the one that is in now?
    pub is_fitted: bool,
    /// Whether its preload can be set.
    pub reach: Reach,
    /// What follows; `None` when no preload gives the wanted rider sag.
    pub outcome: Option<Outcome>,
    /// Damping for the same damping ratio, against today: `√(k_new/k_now)`.
    pub damping_factor: f64,
    /// Probability that both sags land in their ranges and the preload can be set.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub probability: Share,
}

/// By how much further readings move what is expected of a spring (m), and what they leave of the preload's move unsaid.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Moved {
    pub(crate) free_sag: f64,
    pub(crate) preload: f64,
    pub(crate) preload_spread: f64,
}

/// A choice before ranking.
pub(crate) type Weighed = SpringChoice;

impl Adviser {
    /// Label of the spring that is in now, per spring.
    pub(crate) fn fitted_label(&self) -> SpringRate {
        self.solved().main.each.first().map_or(self.solved().main.rate, |(rate, _)| *rate)
    }

    /// Is this rate, in every sprung leg, what is in now?
    pub(crate) fn is_fitted(&self, rate: SpringRate) -> bool {
        self.solved().main.each.iter().all(|(now, _)| (rate.si() / now.si() - 1.0).abs() < SAME_RATE)
    }

    /// The end with springs of another rate, at the preload stated for today.
    fn with_rate(&self, rate: SpringRate) -> Result<Arc<dyn Wheel>> {
        let preload = self.solved().main.preload;
        self.bike().end_with_spring_rate(self.end(), rate, preload)
    }

    pub(crate) fn adjuster(&self) -> Result<Option<Adjuster>> {
        Ok(self.bike().end(self.end())?.adjuster())
    }

    /// Clearance before coil bind of the spring that is in now, at the preload stated.
    fn clearance_now(&self) -> Result<Option<Length>> {
        Ok(self.bike().end(self.end())?.bind_clearance())
    }

    /// A spring set to the wanted rider sag; `None` where no preload gives it.
    pub(crate) fn setting(&self, wish: &Wish<'_>, rate: SpringRate, is_fitted: bool) -> Result<Option<Setting>> {
        if is_fitted {
            return Ok(wish.set(self.solved().factor().value, RateKnowledge::Fitted));
        }
        let model = self.model.with_kernel(self.with_rate(rate)?);
        let label = RateKnowledge::Label(SpringPrior::default().rate_standard_uncertainty().si());
        Ok(Wish { solved: wish.solved, model: &model, ..*wish }.set(1.0, label))
    }

    pub(crate) fn weigh(
        &self,
        wish: &Wish<'_>,
        rate: SpringRate,
        is_fitted: bool,
        free_range: Option<&Range>,
    ) -> Result<Weighed> {
        let setting = self.setting(wish, rate, is_fitted)?;
        let each = self.solved().main.each.len() as f64;
        let now = self.solved().factor().value * self.solved().main.rate.si();
        let damping_factor = if is_fitted { 1.0 } else { (rate.si() * each / now).sqrt() };
        let none = SpringChoice {
            rate,
            is_fitted,
            reach: Reach::NoPreload,
            outcome: None,
            damping_factor,
            probability: Share::from_si(0.0),
        };
        let Some(setting) = setting else { return Ok(none) };
        let adjuster = self.adjuster()?.unwrap_or_default();
        let outcome = self.outcome(&setting, is_fitted, &adjuster)?;
        let reach = reach(&outcome, &adjuster);
        let probability = if matches!(reach, Reach::Binds(_)) {
            0.0
        } else {
            self.probability_of_all(&setting, free_range, &adjuster, Moved::default())
        };
        Ok(SpringChoice { reach, outcome: Some(outcome), probability: Share::from_si(probability), ..none })
    }

    fn outcome(&self, setting: &Setting, is_fitted: bool, adjuster: &Adjuster) -> Result<Outcome> {
        let change = self.change(&setting.preload);
        let preload_change: Uncertain<Length> = self.solved().predicted(&change);
        let stated = self.solved().main.preload;
        let preload = Uncertain { value: stated + preload_change.value, ..preload_change };
        let stroke = self.model.kernel.motion(self.model.kernel.full()).stroke;
        Ok(Outcome {
            preload,
            preload_change,
            turns: adjuster.thread_pitch().map(|pitch| Turns::of(preload_change, pitch)),
            free_sag: self.solved().predicted(&setting.free_sag),
            bind_clearance: if is_fitted { self.clearance_now()?.map(|now| now - preload_change.value) } else { None },
            compression_needed: preload.value + Length::from_si(stroke),
            wheel_rate: self.solved().predicted(&setting.wheel_rate),
            ride_frequency: self.solved().predicted(&setting.frequency),
            full_force: self.solved().predicted(&setting.full_force),
            energy_left: self.solved().predicted(&setting.energy_left),
            drop_height: self.solved().predicted(&setting.drop_height),
        })
    }

    /// From today's preload, as fitted, to the one needed. What the stated preload is off by is in both.
    pub(crate) fn change(&self, needed: &Predicted) -> Predicted {
        let today = self.solved().preload();
        let mut gradient: Gradient = needed.gradient.clone();
        gradient.fit.iter_mut().zip(&today.gradient).for_each(|(to, from)| *to -= from);
        Predicted { value: needed.value - (today.value - self.solved().main.preload.si()), gradient }
    }

    /// Changes of the stated preload that leave it at zero or more and within the adjuster's limits.
    pub(crate) fn changes_within(&self, adjuster: &Adjuster) -> (f64, f64) {
        let stated = self.solved().main.preload.si();
        let least = adjuster.least_preload().map_or(0.0, |least| least.si().max(0.0));
        (least - stated, adjuster.most_preload().map_or(f64::INFINITY, Quantity::si) - stated)
    }

    /// Probability that both sags land in their ranges with a preload at zero or more and within the adjuster's limits. One
    /// spring rate is in all three, so they hang together.
    pub(crate) fn probability_of_all(
        &self,
        setting: &Setting,
        free_range: Option<&Range>,
        adjuster: &Adjuster,
        moved: Moved,
    ) -> f64 {
        let mut change = self.change(&setting.preload);
        change.value += moved.preload;
        let free_sag = Predicted { value: setting.free_sag.value + moved.free_sag, ..setting.free_sag.clone() };
        let three = [&setting.rider_sag, &free_sag, &change];
        let mut normal = three.map(|predicted| (predicted.value, self.solved().deviation_of(&predicted.gradient)));
        let known = normal[2].1;
        normal[2].1 = known.hypot(moved.preload_spread);
        let diluted = if normal[2].1 > 0.0 { known / normal[2].1 } else { 1.0 };
        let pair =
            |one: usize, other: usize| self.solved().correlation_of(&three[one].gradient, &three[other].gradient);
        joint_probability_of_three(
            normal,
            [pair(0, 1), diluted * pair(0, 2), diluted * pair(1, 2)],
            [bounds(Some(&self.target.range)), bounds(free_range), self.changes_within(adjuster)],
        )
    }
}

fn reach(outcome: &Outcome, adjuster: &Adjuster) -> Reach {
    let preload = outcome.preload.value;
    let zero = Length::from_si(0.0);
    match (outcome.bind_clearance, adjuster.least_preload(), adjuster.most_preload()) {
        (Some(clearance), ..) if clearance < zero => Reach::Binds(-clearance),
        _ if preload < zero => Reach::Loose,
        (_, Some(least), _) if preload < least => Reach::BelowLeast(least),
        (_, _, Some(most)) if preload > most => Reach::AboveMost(most),
        (_, _, Some(_)) => Reach::Reached,
        (_, _, None) => Reach::LimitUnknown,
    }
}
