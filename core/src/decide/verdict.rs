//! Actions compared by expected utility, and the verdict.
//!
//! `U(action) = P(both sags land, by the way it is set) − price(action)`
//!
//! (Raiffa & Schlaifer, *Applied Statistical Decision Theory*, 1961, ch. 1). Two actions whose utilities differ by less than
//! the smallest price are a tie. Measuring first is worth what the best action is then worth on average, less its price.

use crate::decide::SpringChoice;
use crate::decide::chances::Way;
use crate::record::Prices;
use crate::units::{Length, Quantity, Share, SpringRate, Uncertain};

/// With this probability or more an action is taken to suit.
pub(crate) const SUITS: f64 = 0.5;

/// The rate that the bike calls for, per spring.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct WantedRate {
    /// Rate that puts the free sag in the middle of its range; the uncertainty is that of fit and loads.
    pub rate: Uncertain<SpringRate>,
    /// Rate at the lower end of the free sag range.
    pub from: Option<SpringRate>,
    /// Rate at the upper end.
    pub to: Option<SpringRate>,
}

/// What can be done at an end.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize, serde::Deserialize),
    serde(tag = "do", rename_all = "snake_case")
)]
#[non_exhaustive]
pub enum Act {
    /// Leave spring and preload as they are.
    Leave,
    /// Turn the collar of the spring that is in now.
    Turn {
        /// Change of preload.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        by: Length,
    },
    /// Fit another spring at its best setting.
    Fit {
        /// Which, as labelled, per spring.
        rate: SpringRate,
    },
    /// Measure more, then decide.
    Measure,
    /// Look after bushes, seals and bearings, then read and decide.
    Service,
}

impl Act {
    /// What it costs, in chance.
    #[must_use]
    pub fn price(self, prices: &Prices) -> Share {
        match self {
            Self::Leave => Share::from_si(0.0),
            Self::Turn { .. } => prices.collar,
            Self::Fit { .. } => prices.spring,
            Self::Measure | Self::Service => prices.measuring,
        }
    }
}

/// An action weighed.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Action {
    /// What is done.
    #[cfg_attr(feature = "serde", serde(flatten))]
    pub act: Act,
    /// Probability that both sags land, by the way it is set; after measuring, on average of what is done then.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub probability: Share,
    /// The way it is set; `None` where nothing is.
    pub way: Option<Way>,
    /// That probability less the prices of all that is done.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub utility: Share,
}

/// What to do at one end.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize, serde::Deserialize),
    serde(tag = "verdict", rename_all = "snake_case")
)]
#[non_exhaustive]
pub enum Verdict {
    /// Both sags are right as they are, or nothing is worth its price.
    Keep,
    /// The spring suits; its preload does not.
    ChangePreload {
        /// Change of preload.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        by: Length,
    },
    /// Another spring suits.
    ChangeSpring {
        /// Which, as labelled, per spring.
        to: SpringRate,
        /// Is it stiffer than the label of the one in now?
        stiffer: bool,
        /// Other springs that do as well.
        ties: Vec<SpringRate>,
    },
    /// Further readings are likely to change what is best by more than they cost, or one of the readings is misread.
    MeasureFirst {
        /// The springs in question, that in now first where it is one of them.
        between: Vec<SpringRate>,
        /// Place of the reading to take again, from 0.
        #[cfg_attr(feature = "serde", serde(with = "crate::record::numbered::option"))]
        misread: Option<usize>,
    },
    /// Friction is far beyond common practice: no sag says much before that is put right.
    ServiceFirst,
    /// Nothing that can be done is likely to give both sags; the best of it is still named.
    NoneSuits {
        /// The best of what can be done.
        best: Act,
        /// Whether a stiffer spring than the one in now is called for, where that is known.
        stiffer: Option<bool>,
    },
}

impl Verdict {
    /// The verdict in two words.
    #[must_use]
    pub fn name(&self) -> &'static str {
        match self {
            Self::Keep => "keep",
            Self::ChangePreload { .. } => "change preload",
            Self::ChangeSpring { .. } => "change spring",
            Self::MeasureFirst { .. } => "measure first",
            Self::ServiceFirst => "service first",
            Self::NoneSuits { .. } => "none suits",
        }
    }
}

/// Best first: by probability less price, then by distance from the rate called for.
pub(crate) fn rank<T>(
    weighed: &mut [T],
    prices: &Prices,
    wanted: Option<&WantedRate>,
    of: impl Fn(&T) -> &SpringChoice,
) {
    let distance = |choice: &SpringChoice| match wanted {
        Some(wanted) => (choice.rate.si() / wanted.rate.value.si()).ln().abs(),
        None => f64::from(!choice.is_fitted),
    };
    weighed.sort_by(|one, other| {
        let (one, other) = (of(one), of(other));
        let by_utility = net(other, prices).total_cmp(&net(one, prices));
        by_utility.then(distance(one).total_cmp(&distance(other)))
    });
}

/// Probability of a spring less the price of its setting.
pub(crate) fn net(choice: &SpringChoice, prices: &Prices) -> f64 {
    choice.probability.si() - if choice.is_fitted { prices.collar } else { prices.spring }.si()
}

/// Everything that can be done without measuring more, best first: what costs less first where it is worth the same.
pub(crate) fn actions(choices: &[SpringChoice], today: Share, prices: &Prices) -> Vec<Action> {
    let action = |act: Act, probability: Share, way| {
        let utility = Share::from_si(probability.si() - act.price(prices).si());
        Action { act, probability, way, utility }
    };
    let of = |choice: &SpringChoice| {
        let outcome = choice.outcome?;
        let act = if choice.is_fitted {
            Act::Turn { by: outcome.preload_change.value }
        } else {
            Act::Fit { rate: choice.rate }
        };
        let nothing = choice.is_fitted && outcome.preload_change.value.si() == 0.0 && choice.way == Way::Turned;
        (!nothing).then(|| action(act, choice.probability, Some(choice.way)))
    };
    let mut all: Vec<Action> = core::iter::once(action(Act::Leave, today, None)).collect();
    all.extend(choices.iter().filter_map(of));
    sort(&mut all);
    all
}

pub(crate) fn sort(actions: &mut [Action]) {
    actions.sort_by(|one, other| other.utility.si().total_cmp(&one.utility.si()));
}
