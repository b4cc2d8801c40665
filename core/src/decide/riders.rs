//! More than one rider: which spring suits most of them, with one preload for all and with a preload for each.
//!
//! ```text
//! W = W_bike + m·s·g,  m ~ riders, s ~ share on this wheel      what an end carries under one rider
//! share(b) = E[ P(r(W, b) ∈ R and f(b) ∈ F | bike) ]            one preload b for all
//! share    = E[ P(r(W, b_W) ∈ R and f(b_W) ∈ F | bike) ]        each rider at his or her own best preload b_W
//! ```
//!
//! **Method.** Riders are taken at equally likely places of their distribution, times the loads that are ridden. Every place is
//! settled exactly on the nonlinear end; about that both sags run straight over preload and over everything the fit is
//! uncertain of. What the bike is (rate, preload, masses, path, the label of another spring) is drawn from the posterior, the
//! same for all riders; in every draw the preloads that suit a rider are one interval, so that the best common preload is where
//! most intervals overlap, counted over all steps of the collar at once. A common preload is turned to and left, or set by a
//! reading under the middle rider; a rider's own is set as [`chances`](super::chances) has it, its tape integrated exactly.
//! The standard uncertainty of a share is its standard deviation over the draws: what the bike, not the rider, leaves open.
//!
//! **Assumptions.** A rider's mass, posture and weight on the day are independent of each other and of the load; the share of a
//! mass on the wheel varies from rider to rider alone. Wanted sags are those of the bike, or of the scenario with the same load.
//! Fails where sags bend over the uncertainty of the fit: an end about to top out under a light rider.

mod law;
mod settings;

use settings::Draws;

use crate::Result;
use crate::decide::Decision;
use crate::decide::adviser::Adviser;
use crate::decide::chances::Way;
use crate::decide::choice::Turns;
use crate::error::SetupError;
use crate::infer::Study;
use crate::record::{End, Load, Prices, Range, Riders, SagTarget};
use crate::units::{Force, Length, Quantity, Share, SpringRate, Uncertain};
use crate::work;

/// One preload for all riders.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct CommonSetting {
    /// Preload to set, on the scale of the preload stated.
    pub preload: Uncertain<Length>,
    /// The same in turns of the adjuster; `None` where its pitch is not stated.
    pub turns: Option<Turns>,
    /// Turned to and left, or set by reading the sag under the middle rider.
    pub way: Way,
    /// Share of riders with both sags in range.
    pub share: Uncertain<Share>,
    /// Share of riders who sit too deep.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub too_deep: Share,
    /// Share of riders who sit too high.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub too_high: Share,
    /// Rider sag: mean over the riders, and its standard deviation from rider to rider.
    pub rider_sag: Uncertain<Length>,
    /// Free sag, with what the fit leaves open.
    pub free_sag: Uncertain<Length>,
}

/// Every rider at a preload of his or her own.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct OwnSettings {
    /// Share of riders with both sags in range.
    pub share: Uncertain<Share>,
    /// Preload of the rider lighter than nine in ten, on the scale of the preload stated.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub light: Length,
    /// Preload of the rider heavier than nine in ten.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub heavy: Length,
    /// Turns from the one to the other; `None` where the pitch of the adjuster is not stated.
    pub turns: Option<f64>,
}

/// One spring under all riders.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct SpringForRiders {
    /// Rate as labelled, per spring.
    pub rate: SpringRate,
    /// Is it the one that is in now?
    pub is_fitted: bool,
    /// The best preload for all of them; `None` where no preload that a collar gives carries them.
    pub common: Option<CommonSetting>,
    /// A preload for each; `None` where no preload that a collar gives carries them.
    pub own: Option<OwnSettings>,
}

/// One end under all riders.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct EndRiders {
    /// Which end.
    pub end: End,
    /// The riders.
    pub riders: Riders,
    /// The loads that are ridden, with the share of rides under each.
    pub loads: Vec<(Load, Share)>,
    /// What a rider puts on this wheel: mean, and standard deviation from rider to rider.
    pub rider_weight: Uncertain<Force>,
    /// The rider sag that is wanted under the first load.
    pub rider_sag: SagTarget,
    /// The free sag that is wanted, along the same direction.
    pub free_sag: Option<Range>,
    /// Every spring, the one that suits most riders at one preload first; the one fitted now is among them.
    pub springs: Vec<SpringForRiders>,
    /// The decision for the usual load.
    pub decision: Decision,
    /// Springs at this end that share the load.
    pub legs: usize,
}

impl SpringForRiders {
    /// Share of riders in range with one preload for all, less the price of another spring.
    fn net(&self, share: f64, prices: &Prices) -> f64 {
        share - if self.is_fitted { 0.0 } else { prices.spring.si() }
    }

    fn common_share(&self) -> f64 {
        self.common.map_or(0.0, |common| common.share.value.si())
    }

    fn own_share(&self) -> f64 {
        self.own.map_or(0.0, |own| own.share.value.si())
    }
}

impl EndRiders {
    /// The spring that is in now.
    #[must_use]
    pub fn fitted(&self) -> Option<&SpringForRiders> {
        self.springs.iter().find(|spring| spring.is_fitted)
    }

    /// The spring of this rate.
    #[must_use]
    pub fn spring(&self, rate: SpringRate) -> Option<&SpringForRiders> {
        self.springs.iter().find(|spring| spring.rate == rate)
    }

    /// The spring that suits most riders where each turns the collar, the price of another spring counted.
    #[must_use]
    pub fn best_for_own(&self) -> Option<&SpringForRiders> {
        let net = |spring: &SpringForRiders| spring.net(spring.own_share(), &self.decision.prices);
        self.springs.iter().reduce(|best, next| if net(next) > net(best) { next } else { best })
    }
}

impl Study {
    /// The end under all riders that the bike states.
    ///
    /// ```
    /// use wheelrate::record::{End, Riders};
    /// use wheelrate::units::parse;
    /// use wheelrate::{Bike, demo::PATROL};
    /// let riders = Riders::normal(parse("92 kg")?, parse("10 kg")?)?;
    /// let bike = Bike::from_toml(PATROL)?.with(|parts| parts.riders = Some(riders))?;
    /// let rear = bike.study(End::Rear)?.advise_riders()?;
    /// let best = rear.springs.first().and_then(|spring| Some((spring.common?, spring.own?)));
    /// assert!(best.is_some_and(|(common, own)| own.share.value >= common.share.value));
    /// # Ok::<(), wheelrate::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`advise`](Self::advise); [`SetupError::Missing`] where the bike states no riders.
    pub fn advise_riders(&self) -> Result<EndRiders> {
        self.answer(|| {
            let adviser = self.adviser()?;
            let Some(riders) = &self.bike().parts().riders else {
                let wanted = "say who rides the bike, under `riders`";
                return Err(SetupError::Missing { end: self.end(), what: "riders", wanted }.into());
            };
            adviser.riders(riders)
        })
    }
}

impl Adviser {
    fn riders(&self, riders: &Riders) -> Result<EndRiders> {
        let decision = self.decide()?;
        let law = law::of(self, riders)?;
        let draws = Draws::of(law.under[0].adviser.solved());
        let mut springs = Vec::new();
        for (rate, is_fitted) in self.rates() {
            work::round().map_err(SetupError::from)?;
            springs.push(law.spring(&draws, rate, is_fitted)?);
        }
        let rank = |spring: &SpringForRiders| {
            [spring.net(spring.common_share(), &self.prices), spring.net(spring.own_share(), &self.prices)]
        };
        springs.sort_by(|one, other| {
            let by = rank(other).into_iter().zip(rank(one)).map(|(a, b)| a.total_cmp(&b));
            by.fold(core::cmp::Ordering::Equal, core::cmp::Ordering::then)
        });
        let first = &law.under[0].adviser.wanted;
        Ok(EndRiders {
            end: self.end(),
            riders: riders.clone(),
            loads: law.under.iter().map(|under| (under.load.clone(), Share::from_si(under.weight))).collect(),
            rider_weight: law.rider_weight,
            rider_sag: first.rider_sag,
            free_sag: first.free_sag,
            springs,
            legs: decision.springs,
            decision,
        })
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests;
