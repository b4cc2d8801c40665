//! Where an end is read to rest once the advice is followed: friction holds it either side of the middle.

use crate::decide::{Act, Decision};
use crate::units::{Length, Quantity, Uncertain};

/// Sags as they are read once a setting is made: friction holds the end low after pushing down, and high after lifting.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Rests {
    /// With the rider, pushed down first.
    pub rider_low: Uncertain<Length>,
    /// With the rider, lifted first.
    pub rider_high: Uncertain<Length>,
    /// The bike alone, pushed down first.
    pub free_low: Uncertain<Length>,
    /// The bike alone, lifted first; none where friction holds it topped out.
    pub free_high: Uncertain<Length>,
}

impl Decision {
    /// Where the end is read to rest once the best action is taken: as set, or as it stands where all is left as it is.
    #[must_use]
    pub fn rests(&self) -> Option<Rests> {
        let action = self.action()?;
        let outcome = self.choice_of(action.act)?.outcome?;
        let moved = |side: Uncertain<Length>, from: Uncertain<Length>, to: Uncertain<Length>| {
            // What friction adds to the uncertainty of the middle stays.
            let band = side.standard_uncertainty.si().powi(2) - from.standard_uncertainty.si().powi(2);
            let deviation = (band.max(0.0) + to.standard_uncertainty.si().powi(2)).sqrt();
            Uncertain { value: side.value + (to.value - from.value), standard_uncertainty: Length::from_si(deviation) }
        };
        let rests = outcome.rests;
        Some(match action.act {
            Act::Leave => Rests {
                rider_low: moved(rests.rider_low, outcome.rider_sag, self.today.rider_sag),
                rider_high: moved(rests.rider_high, outcome.rider_sag, self.today.rider_sag),
                free_low: moved(rests.free_low, outcome.free_sag, self.today.free_sag),
                free_high: moved(rests.free_high, outcome.free_sag, self.today.free_sag),
            },
            _ => rests,
        })
    }
}
