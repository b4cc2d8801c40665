//! The best that can be done, without what an evening of measuring would be worth: for many bikes at once.

use super::Today;
use super::compare::Compared;
use crate::Result;
use crate::decide::adviser::Adviser;
use crate::decide::predict::Setting;
use crate::decide::verdict::{Act, Action};
use crate::units::{Length, SpringRate};

/// How an end stands, and the best that can be done about it.
#[derive(Debug, Clone)]
pub(crate) struct Best {
    /// What [`Decision::action`](super::Decision::action) says.
    pub(crate) action: Action,
    /// Label of the spring that it is on.
    pub(crate) rate: SpringRate,
    /// Change from the preload stated.
    pub(crate) preload_change: Length,
}

impl Adviser {
    /// The best of what can be done without measuring more.
    pub(crate) fn best_action(&self) -> Result<Best> {
        let places = self.places()?;
        let wish = self.wish(places)?;
        let Compared { choices, today, actions, .. } = self.compare(&wish, places)?;
        let leave = Action { act: Act::Leave, probability: today.probability, way: None, utility: today.probability };
        let action = actions.first().copied().unwrap_or(leave);
        let on = choices.iter().find(|choice| match action.act {
            Act::Fit { rate } => choice.rate == rate,
            _ => choice.is_fitted,
        });
        let stays = matches!(action.act, Act::Leave);
        let change =
            on.and_then(|choice| choice.outcome).filter(|_| !stays).map(|outcome| outcome.preload_change.value);
        let rate = on.map_or(self.fitted_label(), |choice| choice.rate);
        Ok(Best { action, rate, preload_change: change.unwrap_or_default() })
    }

    /// How the end stands.
    pub(crate) fn stands(&self) -> Result<Today> {
        self.today(self.places()?)
    }

    /// The spring that is in now, its collar where it is.
    pub(crate) fn left_alone(&self) -> Result<Option<Setting>> {
        let wish = self.wish(self.places()?)?;
        Ok(self.at_todays_collar(&wish))
    }
}
