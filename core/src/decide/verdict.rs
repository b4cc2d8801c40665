//! Ranking and the verdict.

use crate::decide::{SpringChoice, Today, WantedRate};
use crate::infer::finding::Finding;
use crate::infer::fit::Fit;
use crate::units::{Length, Quantity, SpringRate};

/// Probabilities closer than this are a tie: less than what they are sure to.
pub(crate) const TIE: f64 = 0.05;
/// With this probability or more a spring is taken to suit.
pub(crate) const SUITS: f64 = 0.5;
/// With less than this the spring that is in now is taken not to suit; between the two, readings cannot tell.
const DOES_NOT_SUIT: f64 = 0.25;

/// What to do at one end.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(tag = "verdict", rename_all = "snake_case"))]
#[non_exhaustive]
pub enum Verdict {
    /// Both sags are right as they are.
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
        /// Others that do as well within what can be told.
        ties: Vec<SpringRate>,
    },
    /// The readings do not tell these springs apart, or one of them is misread.
    CannotTell {
        /// The springs in question, that in now first.
        between: Vec<SpringRate>,
        /// Place of the reading to take again, from 0.
        misread: Option<usize>,
    },
    /// No spring on sale is likely to give both sags.
    NoneSuits {
        /// The nearest, where any can be set.
        nearest: Option<SpringRate>,
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
            Self::CannotTell { .. } => "cannot tell",
            Self::NoneSuits { .. } => "none suits",
        }
    }
}

/// Best first: by probability, then by distance from the rate called for.
pub(crate) fn ranked(mut choices: Vec<SpringChoice>, wanted: Option<&WantedRate>) -> Vec<SpringChoice> {
    let distance = |choice: &SpringChoice| match wanted {
        Some(wanted) => (choice.rate.si() / wanted.rate.value.si()).ln().abs(),
        None => f64::from(!choice.is_fitted),
    };
    choices.sort_by(|one, other| {
        let by_probability = other.probability.si().total_cmp(&one.probability.si());
        by_probability.then(distance(one).total_cmp(&distance(other)))
    });
    choices
}

pub(crate) fn decide(choices: &[SpringChoice], today: &Today, fit: &Fit, wanted: Option<&WantedRate>) -> Verdict {
    let none = Verdict::NoneSuits { nearest: None, stiffer: None };
    let (Some(best), Some(fitted)) = (choices.first(), choices.iter().find(|choice| choice.is_fitted)) else {
        return none;
    };
    let misread = fit.findings.iter().find_map(|finding| match finding {
        Finding::Misread { reading, .. } => Some(*reading),
        _ => None,
    });
    let between = || {
        let mut rates = vec![fitted.rate];
        rates.extend(close_to_best(choices, best).filter(|choice| !choice.is_fitted).map(|choice| choice.rate));
        rates
    };
    if misread.is_some() {
        return Verdict::CannotTell { between: between(), misread };
    }
    if today.probability.si() >= SUITS {
        return Verdict::Keep;
    }
    let (suits, best_suits) = (fitted.probability.si(), best.probability.si());
    let as_good = suits >= best_suits - TIE;
    if let Some(outcome) = fitted.outcome.filter(|_| suits >= SUITS || (as_good && suits >= DOES_NOT_SUIT)) {
        return Verdict::ChangePreload { by: outcome.preload_change.value };
    }
    if suits >= DOES_NOT_SUIT {
        return Verdict::CannotTell { between: between(), misread: None };
    }
    if best_suits < DOES_NOT_SUIT {
        let settable = choices.iter().filter(|choice| choice.reach.can_be_set());
        let nearest = settable.min_by(|one, other| miss(one, wanted).total_cmp(&miss(other, wanted)));
        let stiffer =
            wanted.map(|wanted| wanted.rate.value > fit.springs.first().map_or(fitted.rate, |spring| spring.value));
        return Verdict::NoneSuits { nearest: nearest.map(|choice| choice.rate), stiffer };
    }
    let ties = close_to_best(choices, best).filter(|choice| choice.rate != best.rate).map(|choice| choice.rate);
    Verdict::ChangeSpring { to: best.rate, stiffer: best.rate > fitted.rate, ties: ties.collect() }
}

/// Is the question which spring to buy, today's being out of it?
pub(crate) fn is_to_buy(fitted: f64) -> bool {
    fitted < DOES_NOT_SUIT
}

/// Would the verdict be on a spring that is more likely to land than not, today's not standing in question? Of the
/// probabilities of today's spring and of the best.
pub(crate) fn is_clear(fitted: f64, best: f64) -> bool {
    let in_question = (DOES_NOT_SUIT..SUITS).contains(&fitted) && fitted < best - TIE;
    best >= SUITS && !in_question
}

fn miss(choice: &SpringChoice, wanted: Option<&WantedRate>) -> f64 {
    wanted.map_or(0.0, |wanted| (choice.rate.si() / wanted.rate.value.si()).ln().abs())
}

fn close_to_best<'a>(choices: &'a [SpringChoice], best: &SpringChoice) -> impl Iterator<Item = &'a SpringChoice> {
    let least = (best.probability.si() - TIE).max(f64::MIN_POSITIVE);
    choices.iter().filter(move |choice| choice.probability.si() >= least)
}
