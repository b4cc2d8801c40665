//! Readings of the measured parts of an end that do not go with their others: springs, stops, the way from wheel to shock, the tyre.

use super::Bike;
use crate::error::Address;
use crate::record::{End, PartReading};
use crate::shock::Shock;
use crate::spring::{Preloaded, Spring, Stop};

/// The readings of one part, by their list's place in the file, and those that are suspect.
type OfPart = (Address, Vec<PartReading>);

impl Bike {
    /// The suspect readings of every measured part of an end, each with the place of its list in the file.
    pub(crate) fn misread_parts(&self, end: End) -> Vec<(Address, PartReading)> {
        let place = Address::default().key(end.name());
        let mut parts: Vec<OfPart> = Vec::new();
        if let Some(sprung) = self.sprung(end) {
            parts.extend(of_shock(sprung.shock(), &place.clone().key("shock")));
            if let Some(table) = sprung.measured().or(sprung.table()) {
                let found = table.suspect_readings().into_iter().map(PartReading::Length).collect();
                parts.push((place.clone().key("measured").key("readings"), found));
            }
        } else if let (End::Front, Ok(fork)) = (end, self.front().and_then(|front| front.fork())) {
            let (place, once) = (place.key("fork"), fork.is_described_at_once());
            for (row, leg) in fork.legs().iter().enumerate().take(if once { 1 } else { 2 }) {
                let place = if once { place.clone() } else { place.clone().key("leg").row(row) };
                let stops = [("bump_stop", leg.bump_stop()), ("top_out", leg.top_out())];
                parts.extend(of_springs(leg.spring(), stops, &place));
            }
        }
        let tyre = self.parts().wheels.as_ref().and_then(|wheels| wheels.ends.at(end).tyre.as_ref());
        parts.extend(tyre.map(|tyre| {
            let found = tyre.suspect_readings().into_iter().map(PartReading::Height).collect();
            (Address::default().key("wheels").key(end.name()).key("tyre_readings"), found)
        }));
        parts.into_iter().flat_map(|(place, found)| found.into_iter().map(move |one| (place.clone(), one))).collect()
    }
}

fn of_shock(shock: &Shock, place: &Address) -> Vec<OfPart> {
    let parts = shock.parts();
    let stops = [("bump_stop", parts.bump_stop.as_ref()), ("top_out", parts.top_out.as_ref())];
    of_springs(parts.spring.as_ref(), stops, place)
}

fn of_springs(main: Option<&Preloaded>, stops: [(&str, Option<&Stop>); 2], place: &Address) -> Vec<OfPart> {
    let stops = stops.into_iter().filter_map(|(key, stop)| Some((key, stop?.spring())));
    let springs = main.map(|main| ("spring", main.spring())).into_iter().chain(stops);
    let of = |(key, spring): (&str, &Spring)| {
        let found = spring.measured()?.suspect_readings().into_iter().map(PartReading::Load).collect();
        Some((place.clone().key(key).key("measured").key("readings"), found))
    };
    springs.filter_map(of).collect()
}

#[cfg(all(test, feature = "serde"))]
mod tests;
