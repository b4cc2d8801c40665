//! A spring at its best setting, and the way in which it is best set.

use crate::decide::chances::{Aim, Chances, Moved, Way};
use crate::decide::gradient::Predicted;
use crate::decide::predict::Setting;
use crate::decide::search::{LastTops, Settable, Top};

/// A spring at its best setting.
#[derive(Debug, Clone)]
pub(crate) struct Set {
    pub(crate) setting: Setting,
    /// The collar's change, with the derivatives of the change needed for the rider sag.
    pub(crate) change: Predicted,
    pub(crate) settable: Settable,
    pub(crate) chances: Chances,
    /// Where the searches for its setting ended.
    pub(crate) last: LastTops,
    /// Where the end rests there, rider first, low first.
    pub(crate) rests: [[f64; 2]; 2],
}

/// The best setting by the way that it takes.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Best {
    pub(crate) way: Way,
    pub(crate) top: Top,
}

impl Chances {
    /// The best setting: read again where that gains more than `worth`.
    pub(crate) fn best(&self, settable: &Settable, aim: &Aim, moved: Moved, worth: f64, last: &mut LastTops) -> Best {
        let read = Best { way: Way::ReRead, top: self.top(Way::ReRead, settable, aim, moved, last) };
        let enough = read.top.probability - worth;
        if self.most_turned(aim) < enough {
            return read;
        }
        let turned = Best { way: Way::Turned, top: self.top(Way::Turned, settable, aim, moved, last) };
        if turned.top.probability < enough { read } else { turned }
    }

    /// The probability of that setting.
    pub(crate) fn height_of_best(
        &self,
        settable: &Settable,
        aim: &Aim,
        moved: Moved,
        worth: f64,
        last: &mut LastTops,
    ) -> f64 {
        let read = self.height(Way::ReRead, settable, aim, moved, last);
        if self.most_turned(aim) < read - worth {
            return read;
        }
        let turned = self.height(Way::Turned, settable, aim, moved, last);
        if turned < read - worth { read } else { turned }
    }
}
