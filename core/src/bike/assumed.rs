//! What nobody stated, taken as usual of the kind of bike: filled in when a bike is put together, and taken back out
//! when it is written down.
//!
//! Gas is filled in beside a spring whose preload nobody stated, and nowhere else. Who states rate and preload has described
//! the parts, and curves, settling and textbook figures are those of the parts stated, to the last digit: a coil on its own is
//! an end, too, and a file has no word that would set "none" apart from "not said". What that leaves out is stated on the
//! sheet, with its size. At the rear it is a push `G` (150 ± 60 N as a rule) that hardly changes over the stroke, so that the
//! readings put it into the preload as `G/k`, some 3 mm at 52 N/mm: sags of today are as read, and another rate `k'` is off by
//! `G·(k'/k − 1)` at the shock, 23 N for one 15 % stiffer, under 1 mm of sag at most wheels; the preload found is that of
//! spring and gas together. In a fork the air also adds to the rate, a tenth or more at rider sag, which the readings put into
//! the rate found, and force at full travel lacks most of it: there the oil level is worth stating.

use super::{Bike, BikePart, BikeParts};
use crate::error::{BikeError, Error, Result, nearest};
use crate::fork::Fork;
use crate::record::{Direction, End, Ends, Measuring, SpringPrior, Usual, Wheels};
use crate::spring::Preloaded;
use crate::units::Length;
use crate::wheel::Wheel;

/// Fills in what is usual; what cannot be is returned with its place.
pub(super) fn fill(parts: &mut BikeParts) -> Vec<(BikePart, Error)> {
    let usual = usual(parts);
    let mut found = Vec::new();
    if let Some(front) = &mut parts.front {
        match front.assuming(&usual) {
            Ok(filled) => *front = filled,
            Err(error) => found.push((BikePart::OwnEnd(End::Front), error)),
        }
    }
    if let Some(rear) = &mut parts.rear {
        match rear.assuming(&usual) {
            Ok(filled) => *rear = filled,
            Err(error) => found.push((BikePart::OwnEnd(End::Rear), error)),
        }
    }
    if let Some(masses) = &mut parts.masses {
        match masses.assuming(&usual) {
            Ok(filled) => *masses = filled,
            Err(error) => found.push((BikePart::Masses, error.into())),
        }
    }
    for reading in parts.readings.iter_mut().filter(|reading| reading.share.is_some()) {
        let along_fork = || parts.measuring.front.is_none_or(|read| read.direction == Direction::AlongFork);
        let travel = match (reading.end, &parts.front, &parts.rear) {
            (End::Front, Some(front), _) => match front.fork() {
                Ok(fork) if along_fork() => Some(fork.full_stroke()),
                _ => Some(front.full_travel()),
            },
            (End::Rear, _, Some(rear)) => Some(rear.full_travel()),
            _ => None,
        };
        travel.into_iter().for_each(|travel| reading.on_travel(travel));
    }
    found
}

/// The kind of bike: as stated, as its discipline says, or by its travel.
fn kind(parts: &BikeParts) -> &'static str {
    let stated = parts.kind.as_deref().or(parts.discipline.as_deref());
    let known = stated.and_then(Usual::of).map(|row| row.kind.as_str());
    known.unwrap_or_else(|| {
        let front =
            parts.front.as_ref().map(|front| front.fork().map_or_else(|_| front.full_travel(), Fork::full_stroke));
        Usual::kind_by_travel(front.or_else(|| parts.rear.as_ref().map(Wheel::full_travel)))
    })
}

fn usual(parts: &BikeParts) -> Usual {
    let usual = Usual::of(kind(parts)).unwrap_or(Usual::any());
    let radii = parts.wheels.as_ref().map_or(Ends::default(), |Wheels { ends: Ends { front, rear }, .. }| Ends {
        front: Some(front.radius),
        rear: Some(rear.radius),
    });
    // Figures of one's own come last: a share that was weighed goes with no other wheel.
    parts.usual.over(&parts.usual.over(usual).on_wheels(radii))
}

/// A bike with what is usual wherever nobody stated anything: what was taken so, and what is taken all in all.
#[derive(Debug, Clone, Copy)]
pub struct Assumed<'a> {
    pub(crate) bike: &'a Bike,
}

impl Assumed<'_> {
    /// The kind of bike that what nobody stated is taken from: as stated, as the discipline says, or by its travel.
    #[must_use]
    pub fn kind(&self) -> &'static str {
        kind(&self.bike.parts)
    }

    /// Is the kind taken from the travel, because nobody stated one?
    #[must_use]
    pub fn is_kind(&self) -> bool {
        let stated = self.bike.parts.kind.as_deref().or(self.bike.parts.discipline.as_deref());
        stated.and_then(Usual::of).is_none()
    }

    /// What is taken where nobody stated something: what is usual of the kind, and figures of one's own before that.
    #[must_use]
    pub fn usual(&self) -> Usual {
        usual(&self.bike.parts)
    }

    /// Standard uncertainty of the preload of an end that nobody stated; `None` where it is stated.
    #[must_use]
    pub fn preload(&self, end: End) -> Option<Length> {
        let parts = &self.bike.parts;
        match end {
            End::Front => parts.front.as_ref()?.main_springs().find_map(Preloaded::assumed_preload),
            End::Rear => parts.rear.as_ref()?.shock().parts().spring.as_ref()?.assumed_preload(),
        }
    }

    /// Did nobody note along what the end was read, where that makes a difference: along the fork and vertical differ by
    /// `cos ε`?
    #[must_use]
    pub fn direction(&self, end: End) -> bool {
        end == End::Front
            && self.bike.parts.front.as_ref().is_some_and(|front| !front.is_linked())
            && self.bike.parts.measuring.front.is_none()
            && self.bike.readings_of(end).next().is_some()
    }

    /// How one end is read: as stated, else vertically where it is a linkage and along a fork, which is then
    /// [assumed](Self::direction).
    ///
    /// # Errors
    /// [`BikeError::Missing`] at the front where that is an end of somebody's own.
    pub fn measuring(&self, end: End) -> Result<Measuring> {
        let unsaid = |direction| Ok(Measuring { direction, uncertainty: Measuring::default_uncertainty() });
        match (self.bike.parts.measuring.at(end), end) {
            (Some(measuring), _) => Ok(*measuring),
            (None, End::Rear) => unsaid(Direction::Vertical),
            (None, End::Front) if self.bike.front().is_ok_and(|front| front.is_linked()) => unsaid(Direction::Vertical),
            (None, End::Front) if self.bike.own_end(end).is_none() => unsaid(Direction::AlongFork),
            (None, End::Front) => {
                let purpose = "which way it was read is not known of an end of one's own";
                Err(super::missing("measuring.front.direction", purpose))
            }
        }
    }

    /// How far the springs of one end can be trusted: as stated, one that was measured as far as the scales it was measured with,
    /// and a preload that nobody stated as far as is usual.
    #[must_use]
    pub fn prior(&self, end: End) -> SpringPrior {
        let labels = *self.bike.parts.prior.at(end);
        let parts = &self.bike.parts;
        let stated = match (self.bike.own_end(end), end, &parts.front, &parts.rear) {
            (None, End::Front, Some(front), _) => front.spring_prior(labels),
            (None, End::Rear, _, Some(rear)) => rear.spring_prior(labels),
            _ => labels,
        };
        match self.preload(end) {
            Some(preload_uncertainty) => SpringPrior { preload_uncertainty, ..stated },
            None => stated,
        }
    }
}

impl Bike {
    /// What was taken as usual, because nobody stated it.
    #[must_use]
    pub fn assumed(&self) -> Assumed<'_> {
        Assumed { bike: self }
    }

    pub(super) fn check_kind(&self) -> Result<()> {
        let Some(found) = self.parts.kind.as_deref().filter(|kind| Usual::of(kind).is_none()) else { return Ok(()) };
        let known = Usual::kinds();
        let suggestion = nearest::nearest(found, known.iter().copied()).map(str::to_owned);
        Err(BikeError::Kind { found: found.to_owned(), wanted: nearest::list(known), suggestion }.into())
    }
}
