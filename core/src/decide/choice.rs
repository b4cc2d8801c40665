//! One spring weighed: the setting that lands both sags most likely, what follows from it, and what keeps it from more.

use crate::Result;
use crate::decide::adviser::Adviser;
use crate::decide::chances::{Aim, Chances, Moved, Way};
use crate::decide::gradient::{Predicted, RateKnowledge};
use crate::decide::limit::{Limit, LimitKind};
use crate::decide::predict::{Setting, Wish};
use crate::decide::rests::Rests;
use crate::decide::search::{LastTops, Settable};
use crate::decide::set::{Best, Set};
use crate::record::SpringPrior;
use crate::spring::Adjuster;
use crate::units::{Energy, Force, Frequency, Length, Quantity, Share, SpringRate, Uncertain, WheelRate};
use crate::wheel::EndKernel;

/// A setting within this of the one about which its sags were worked out needs no second look (m).
const NEAR: f64 = 1.5e-3;
/// Below this probability a search's digits will do.
const NO_CHANCE: f64 = 1e-6;
/// Rounds of working out the sags about the best setting found; two are usual.
const MOST_ROUNDS: usize = 4;

/// Turns of the adjuster.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Turns {
    /// From today's setting on today's spring, positive for more preload; from where the collar just touches it on another.
    pub value: f64,
    /// Standard uncertainty of the number that gives the rider sag aimed at.
    pub standard_uncertainty: f64,
    /// Do they count from where the collar just touches the spring?
    pub from_touching: bool,
}

impl Turns {
    /// A change of preload on a thread.
    pub(crate) fn of(change: Uncertain<Length>, pitch: Length) -> Self {
        Self {
            value: change.value.si() / pitch.si(),
            standard_uncertainty: change.standard_uncertainty.si() / pitch.si(),
            from_touching: false,
        }
    }
}

/// What follows from the setting.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Outcome {
    /// Preload to set, on the scale of the preload stated; its uncertainty is that of the preload which gives the rider sag
    /// aimed at.
    pub preload: Uncertain<Length>,
    /// Change from today's preload.
    pub preload_change: Uncertain<Length>,
    /// The same in turns of the adjuster; `None` where its pitch is not stated.
    pub turns: Option<Turns>,
    /// Rider sag that follows, by the way it is set; the one to correct to where it is read again.
    pub rider_sag: Uncertain<Length>,
    /// Free sag that follows; below zero the bike is topped out.
    pub free_sag: Uncertain<Length>,
    /// Where the bike then rests, as friction holds it.
    pub rests: Rests,
    /// Compression left before the spring goes solid at full travel; `None` where its lengths are not known.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::option"))]
    pub bind_clearance: Option<Length>,
    /// Compression that the spring must allow: preload and full stroke.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub compression_needed: Length,
    /// Wheel rate at the rider sag, gas settled.
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
#[non_exhaustive]
pub struct SpringChoice {
    /// Rate as labelled, per spring.
    pub rate: SpringRate,
    /// Rates as labelled, one per spring; they may differ on the one that is in now.
    pub each: Vec<SpringRate>,
    /// Is it the one that is in now?
    pub is_fitted: bool,
    /// What follows from its best setting; `None` when no preload that a collar gives is one: its limit says why.
    pub outcome: Option<Outcome>,
    /// Damping for the same damping ratio, against today: `√(k_new/k_now)`, with the wheel rates of a small fast movement under
    /// the rider; where the spring has no setting, those of the springs alone.
    pub damping_factor: f64,
    /// Probability that both sags land with the collar turned to the setting and left there.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub turned: Share,
    /// Probability that both sags land with the rider sag read again and the collar corrected.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub re_read: Share,
    /// The way it is set: read again where that gains more than turning the collar costs.
    pub way: Way,
    /// Probability that both sags land, by that way.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub probability: Share,
    /// What keeps it from landing more often, where that costs more than a few points.
    pub limits: Vec<Limit>,
}

/// A spring with the lines that its probabilities run along.
#[derive(Debug, Clone)]
pub(crate) struct Weighed {
    pub(crate) choice: SpringChoice,
    pub(crate) set: Option<Set>,
}

impl Adviser {
    /// The end with springs of another rate, at the preload stated for today, and what is done with it.
    pub(crate) fn with_rate<T>(
        &self,
        wish: &Wish<'_>,
        rate: SpringRate,
        is_fitted: bool,
        then: impl FnOnce(&Wish<'_>) -> T,
    ) -> Result<T> {
        if is_fitted {
            return Ok(then(wish));
        }
        let model = self.model.with_kernel(self.kernel_with(rate)?);
        Ok(then(&Wish { model: &model, ..*wish }))
    }

    /// The rate factor of a spring in its own model, and how well that is known.
    fn knowledge(&self, is_fitted: bool) -> (f64, RateKnowledge) {
        if is_fitted {
            (self.solved().factor().value, RateKnowledge::Fitted)
        } else {
            (1.0, RateKnowledge::Label(SpringPrior::default().rate_standard_uncertainty().si()))
        }
    }

    /// From the preload of a model to the collar's change from the preload stated today. On the spring that is in now what
    /// the stated preload is off by stays as it is; on another one it is drawn anew.
    fn change(&self, needed: &Predicted, is_fitted: bool) -> Predicted {
        let mut gradient = needed.gradient.clone();
        if !is_fitted {
            gradient.collar = -self.solved().evidence.priors.preload;
            return Predicted { value: needed.value, gradient };
        }
        let today = self.solved().preload();
        gradient.fit.iter_mut().zip(&today.gradient).for_each(|(to, from)| *to -= from);
        Predicted { value: needed.value - self.off(), gradient }
    }

    /// What the stated preload is off by, as fitted.
    fn off(&self) -> f64 {
        self.solved().preload().value - self.solved().main.preload.si()
    }

    /// A spring at one setting of its collar.
    pub(crate) fn set(&self, wish: &Wish<'_>, change: f64, is_fitted: bool) -> Option<(Setting, Predicted, Chances)> {
        let (factor, knowledge) = self.knowledge(is_fitted);
        let setting = wish.at(factor, knowledge, if is_fitted { change + self.off() } else { change })?;
        let change = self.change(&setting.preload, is_fitted);
        let chances = Chances::new(&self.solved().posterior.covariance, &setting, &change);
        Some((setting, change, chances))
    }

    /// The natural frequency under the rider with the spring that is in now, its collar where it is.
    pub(crate) fn frequency_today(&self, wish: &Wish<'_>) -> Option<f64> {
        wish.frequency_at(self.solved().factor().value, self.off())
    }

    /// What follows from the spring that is in now, its collar where it is.
    #[cfg(feature = "serde")]
    pub(crate) fn at_todays_collar(&self, wish: &Wish<'_>) -> Option<Setting> {
        self.set(wish, 0.0, true).map(|(setting, ..)| setting)
    }

    /// About the change of the stated preload that gives the rider sag wanted.
    pub(crate) fn change_for_aim(&self, wish: &Wish<'_>, is_fitted: bool) -> Option<f64> {
        let preload = wish.about(self.knowledge(is_fitted).0)?;
        Some(if is_fitted { preload - self.off() } else { preload })
    }

    /// The best setting of a spring, or what leaves it without one.
    pub(crate) fn find(
        &self,
        wish: &Wish<'_>,
        is_fitted: bool,
        settable: Settable,
        aim: &Aim,
    ) -> Result<(Set, Best), LimitKind> {
        let worth = self.prices.collar.si();
        let about = self.change_for_aim(wish, is_fitted).unwrap_or(0.0);
        let mut at = settable.nearest(about);
        let mut found = self.set(wish, at, is_fitted).ok_or(LimitKind::NoPreload)?;
        let mut last = LastTops::default();
        let mut best = found.2.best(&settable, aim, Moved::default(), worth, &mut last);
        for _ in 0..MOST_ROUNDS {
            let far = (best.top.change - at).abs();
            if best.top.change == at {
                break;
            }
            at = best.top.change;
            found = self.set(wish, at, is_fitted).ok_or(LimitKind::NoPreload)?;
            if far <= NEAR {
                break;
            }
            best = found.2.best(&settable, aim, Moved::default(), worth, &mut last);
        }
        if settable.open && at >= settable.ends.1 {
            return Err(LimitKind::beyond_collars());
        }
        best.top.change = at;
        let (setting, change, chances) = found;
        let rests = wish.rests(&setting).ok_or(LimitKind::NoPreload)?;
        Ok((Set { setting, change, settable, chances, last, rests }, best))
    }

    /// A spring at its best setting for what is wanted.
    pub(crate) fn weigh(&self, wish: &Wish<'_>, rate: SpringRate, is_fitted: bool, aim: &Aim) -> Result<Weighed> {
        let legs = &self.solved().main.each;
        let now = self.solved().factor().value * self.solved().main.rate.si();
        let each = if is_fitted { legs.iter().map(|(rate, _)| *rate).collect() } else { vec![rate; legs.len()] };
        let none = SpringChoice {
            rate,
            is_fitted,
            outcome: None,
            damping_factor: if is_fitted { 1.0 } else { (rate.si() * legs.len() as f64 / now).sqrt() },
            turned: Share::from_si(0.0),
            re_read: Share::from_si(0.0),
            way: Way::Turned,
            probability: Share::from_si(0.0),
            limits: Vec::new(),
            each,
        };
        let adjuster = self.adjuster()?.unwrap_or_default();
        let settable = self.settable(is_fitted, &adjuster)?;
        let found = self.with_rate(wish, rate, is_fitted, |wish| self.find(wish, is_fitted, settable, aim))?;
        let (set, best) = match found {
            Ok(found) => found,
            Err(kind) => {
                let choice = SpringChoice { limits: vec![Limit::no_setting(kind)], ..none };
                return Ok(Weighed { choice, set: None });
            }
        };
        let at = best.top.change;
        let by = |way| {
            // Of what has no chance no digits are asked.
            let rough = set.chances.roughly(way, at, settable.ends, aim, Moved::default());
            if rough < NO_CHANCE { rough } else { set.chances.by(way, at, settable.ends, aim, Moved::default()) }
        };
        let (turned, re_read) = (by(Way::Turned), by(Way::ReRead));
        let probability = if best.way == Way::ReRead { re_read } else { turned };
        let choice = SpringChoice {
            outcome: Some(self.outcome(&set, best.way, is_fitted, &adjuster)?),
            turned: Share::from_si(turned),
            re_read: Share::from_si(re_read),
            way: best.way,
            probability: Share::from_si(probability),
            limits: self.limits(&set, best.way, probability, aim, &adjuster),
            ..none
        };
        Ok(Weighed { choice, set: Some(set) })
    }

    fn outcome(&self, set: &Set, way: Way, is_fitted: bool, adjuster: &Adjuster) -> Result<Outcome> {
        let Set { setting, change, chances, rests: [rider, free], .. } = set;
        let preload_change: Uncertain<Length> = self.solved().predicted(change);
        let preload = Uncertain { value: self.solved().main.preload + preload_change.value, ..preload_change };
        let stroke = self.model.kernel.motion(self.model.kernel.full()).stroke;
        let spread = if way == Way::ReRead { chances.read } else { chances.turned };
        let sag = |value: f64, deviation: f64| Uncertain {
            value: Length::from_si(value),
            standard_uncertainty: Length::from_si(deviation),
        };
        let turns = |pitch: Length| {
            let counted = if is_fitted { preload_change } else { preload };
            Turns { from_touching: !is_fitted, ..Turns::of(counted, pitch) }
        };
        // A side is as uncertain as the middle and the half of the band that friction makes.
        let friction = self.solved().friction();
        let variance = self.solved().covariance(&friction.gradient, &friction.gradient);
        let relative = variance.max(0.0).sqrt() / friction.value.max(f64::MIN_POSITIVE);
        let side =
            |sag_at: f64, [low, high]: [f64; 2], spread: f64| sag(sag_at, spread.hypot(relative * (low - high) / 2.0));
        Ok(Outcome {
            preload,
            preload_change,
            turns: adjuster.thread_pitch().map(turns),
            rider_sag: sag(setting.rider_sag.value, spread.rider),
            free_sag: sag(setting.free_sag.value, spread.free),
            rests: Rests {
                rider_low: side(rider[0], *rider, spread.rider),
                rider_high: side(rider[1], *rider, spread.rider),
                free_low: side(free[0], *free, spread.free),
                free_high: side(free[1], *free, spread.free),
            },
            bind_clearance: if is_fitted { self.clearance_now()?.map(|now| now - preload_change.value) } else { None },
            compression_needed: preload.value + Length::from_si(stroke),
            wheel_rate: self.solved().predicted(&setting.wheel_rate),
            ride_frequency: self.solved().predicted(&setting.frequency),
            full_force: self.solved().predicted(&setting.full_force),
            energy_left: self.solved().predicted(&setting.energy_left),
            drop_height: self.solved().predicted(&setting.drop_height),
        })
    }
}
