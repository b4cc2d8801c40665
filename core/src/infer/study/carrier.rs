//! What was found of an end, ready to be carried into many bikes that are changes of one: solved once, not per bike.

use super::{Doubts, Study};
use crate::Result;
use crate::bike::Bike;
use crate::error::{BikeError, Error, SetupError};
use crate::log::{Between, Recent};
use crate::record::End;

/// One end of a bike, to be carried into changes of that bike.
#[derive(Debug, Clone)]
pub(crate) struct Carrier {
    end: End,
    base: Bike,
    doubts: Doubts,
    /// Places of the newest readings in the base.
    places: Vec<usize>,
    /// What the readings say on the bike they were taken on; `None` where nothing was read, or too little was there to work
    /// anything out.
    source: Option<Study>,
    /// What was changed between that bike and the base.
    since: Between,
    /// The bike with what was read before, where the newest readings go on from it.
    before: Option<Bike>,
}

impl Carrier {
    /// As [`Bike::study`] begins, for the base.
    ///
    /// # Errors
    /// As [`Bike::study`], where the readings themselves are refused.
    pub(crate) fn new(base: &Bike, end: End) -> Result<Self> {
        let doubts = Doubts::USUAL;
        let recent = Recent::new(base, end)?;
        let (then, since) = match &recent.then {
            Some((then, since)) => (then, since.clone()),
            None => (base, Between::default()),
        };
        let own = recent.then.is_none();
        let places: Vec<usize> = if own { recent.readings.clone() } else { (0..then.parts().readings.len()).collect() };
        let read = Study::read_newest(recent.before.as_ref(), then, end, &places, &[], doubts);
        let source = match (places.is_empty(), read) {
            (true, _) => None,
            (false, Ok(source)) => Some(source),
            (false, Err(Error::Bike(BikeError::Missing { .. }) | Error::Setup(SetupError::NoSpring { .. }))) => None,
            (false, Err(error)) => return Err(error),
        };
        Ok(Self { end, base: base.clone(), doubts, places: recent.readings, source, since, before: recent.before })
    }

    /// The end of a changed bike, whatever readings it holds: what [`Bike::study`] finds of it where the change is one that was
    /// not made.
    ///
    /// # Errors
    /// As [`Bike::study`].
    pub(crate) fn into(&self, changed: &Bike) -> Result<Study> {
        let between = self.since.clone().and(&Between::new(self.end, &self.base, changed));
        match (&self.source, between.touches) {
            (Some(source), true) => source.carried_over(changed, &between, &[]),
            (Some(_), false) => {
                let read = changed.holding(self.base.parts().readings.to_vec(), Vec::new());
                Study::read_newest(self.before.as_ref(), &read, self.end, &self.places, &[], self.doubts)
            }
            (None, _) => Study::read(changed, self.end, &[], &[], self.doubts),
        }
    }
}
