//! What differs between two states of a bike, as the readings of one end feel it.
//!
//! Two bikes as built are compared, not the words of a log: a key that was written anew with what it said before changes
//! nothing, and a change of one part shows wherever that part is felt.
//!
//! | differs | what is drawn anew |
//! |---|---|
//! | a main spring | that spring's share of the rate factor, and of the offset of the preload |
//! | the preload stated, spring the same | nothing: the offset stays, since only the collar was turned |
//! | what friction depends on: the friction stated, tube, rod, stroke | that leg's share of the friction |
//! | a mass, the unsprung mass, gravity | what it puts on the wheel |
//! | pivots, shock length, rake, or how well they are known | the way from wheel to spring |
//! | gas, oil, stops; how the end is read; how far its labels are trusted | nothing, but readings of one state are not readings of the other |
//!
//! What a reading does not depend on (targets, springs on sale, tyres, final drive, adjuster) touches no end.

use crate::bike::Bike;
use crate::fork::ForkLeg;
use crate::mass::Masses;
use crate::record::End;
use crate::shock::{Shock, ShockParts};
use crate::spring::Preloaded;
use crate::units::Length;
use crate::wheel::{FrontEnd, RearEnd};

/// Places for a main spring at one end: fork legs, or the shock.
const PLACES: usize = 2;

/// What differs between two states of a bike for one end.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Between {
    /// Does a reading of the end mean something else on the other?
    pub(crate) touches: bool,
    /// Per place: was another main spring put in?
    pub(crate) springs: [bool; PLACES],
    /// Was the preload of any main spring set anew?
    pub(crate) preload: bool,
    /// Per place: did friction get another cause?
    pub(crate) seals: [bool; PLACES],
    /// Names of masses that are not what they were at this end.
    pub(crate) masses: Vec<String>,
    /// Is the unsprung mass, or gravity, another?
    pub(crate) unsprung: bool,
    /// Was what lies between wheel and spring moved?
    pub(crate) way: bool,
}

impl Between {
    /// Compares two states for one end.
    pub(crate) fn new(end: End, before: &Bike, after: &Bike) -> Self {
        let (parts, others) = (before.parts(), after.parts());
        let mut found = match end {
            _ if parts.own.at(end) != others.own.at(end) => Self::another_end(),
            End::Front => front(before, after),
            End::Rear => rear(before, after),
        };
        if parts.masses != others.masses {
            found.compare_masses(end, parts.masses.as_ref(), others.masses.as_ref());
        }
        found.touches |= parts.prior.at(end) != others.prior.at(end)
            || parts.measuring.at(end) != others.measuring.at(end)
            || found.unsprung
            || !found.masses.is_empty();
        found
    }

    /// What differs after both.
    pub(crate) fn and(mut self, other: &Self) -> Self {
        let either = |one: [bool; PLACES], other: [bool; PLACES]| core::array::from_fn(|k| one[k] || other[k]);
        self.touches |= other.touches;
        self.springs = either(self.springs, other.springs);
        self.preload |= other.preload;
        self.seals = either(self.seals, other.seals);
        self.unsprung |= other.unsprung;
        self.way |= other.way;
        self.masses.extend(other.masses.iter().cloned());
        self.masses.sort();
        self.masses.dedup();
        self
    }

    /// The end is not there before, or not there after: nothing of it stays.
    fn another_end() -> Self {
        Self {
            touches: true,
            springs: [true; PLACES],
            preload: true,
            seals: [true; PLACES],
            way: true,
            ..Self::default()
        }
    }

    fn compare_springs(&mut self, place: usize, before: Option<&Preloaded>, after: Option<&Preloaded>) {
        let another = before.map(Preloaded::spring) != after.map(Preloaded::spring);
        let turned = before.map(Preloaded::preload) != after.map(Preloaded::preload);
        self.springs[place] = another;
        self.preload |= another || turned;
        self.touches |= another || turned;
    }

    fn compare_masses(&mut self, end: End, before: Option<&Masses>, after: Option<&Masses>) {
        let names = [before, after].into_iter().flatten().flat_map(|masses| masses.named());
        for (name, _) in names {
            let at = |masses: Option<&Masses>| {
                let share = masses?.share(name).ok()?;
                Some((*share.at(end), masses?.uncertainty_at(end, name)))
            };
            if at(before) != at(after) && !self.masses.contains(name) {
                self.masses.push(name.clone());
            }
        }
        let unsprung =
            |masses: &Masses| (*masses.unsprung().at(end), masses.unsprung_uncertainty(end), masses.gravity());
        self.unsprung = before.map(unsprung) != after.map(unsprung);
    }
}

fn front(before: &Bike, after: &Bike) -> Between {
    let (one, other) = match (&before.parts().front, &after.parts().front) {
        (None, None) => return Between::default(),
        (Some(one), Some(other)) if one == other => return Between::default(),
        (Some(one), Some(other)) => (one, other),
        _ => return Between::another_end(),
    };
    let (fork, fork_after) = match (one.fork(), other.fork()) {
        (Ok(fork), Ok(fork_after)) => (fork, fork_after),
        _ => return linked(one, other),
    };
    let mut found = Between {
        way: fork.rake() != fork_after.rake()
            || fork.rake_uncertainty() != fork_after.rake_uncertainty()
            || fork.full_stroke() != fork_after.full_stroke(),
        ..Between::default()
    };
    for (place, (leg, leg_after)) in fork.legs().iter().zip(fork_after.legs()).enumerate() {
        found.compare_springs(place, leg.spring(), leg_after.spring());
        found.seals[place] = fork.full_stroke() != fork_after.full_stroke()
            || leg.friction() != leg_after.friction()
            || tube(leg) != tube(leg_after);
        found.touches |= rest_of_leg(leg) != rest_of_leg(leg_after);
    }
    // A mark is read in the frame axes, in which the axle stands; a tape along the fork ends at a clamp.
    let placed = |end: &FrontEnd| (end.extended_axle(), end.raised());
    found.touches |= found.way || placed(one) != placed(other);
    found
}

/// Front ends of which one is a linkage at least; no reading feels where the steering axis lies.
fn linked(one: &FrontEnd, other: &FrontEnd) -> Between {
    match (one.sprung(), other.sprung()) {
        (Some(one), Some(other)) => sprung(one, other),
        _ => Between::another_end(),
    }
}

/// What the seals of a leg run on.
fn tube(leg: &ForkLeg) -> Option<[Length; 2]> {
    leg.air().map(|air| [air.sealing_diameter(), air.bore()])
}

/// A leg but for its main spring and its damper, which no reading at rest feels.
fn rest_of_leg(leg: &ForkLeg) -> impl PartialEq + use<'_> {
    (leg.air(), leg.air_spring(), leg.bump_stop(), leg.top_out(), leg.friction(), leg.elements())
}

fn rear(before: &Bike, after: &Bike) -> Between {
    match (&before.parts().rear, &after.parts().rear) {
        (None, None) => Between::default(),
        (Some(one), Some(other)) if one == other => Between::default(),
        (Some(one), Some(other)) => sprung(one, other),
        _ => Between::another_end(),
    }
}

/// Linkages with their shocks.
fn sprung(one: &RearEnd, other: &RearEnd) -> Between {
    let mut found = Between { way: !one.has_the_way_of(other), ..Between::default() };
    let (shock, shock_after) = (one.shock(), other.shock());
    let spring = |shock: &Shock| shock.parts().spring.clone();
    found.compare_springs(0, spring(shock).as_ref(), spring(shock_after).as_ref());
    let causes = |shock: &Shock| {
        let ShockParts { reservoir, friction, .. } = shock.parts();
        (shock.count(), shock.full_stroke(), *friction, reservoir.map(|gas| gas.rod_diameter()))
    };
    found.seals[0] = causes(shock) != causes(shock_after);
    let rest = |shock: &Shock| {
        let ShockParts {
            reservoir,
            air_spring,
            bump_stop,
            top_out,
            friction,
            own,
            spring: _,
            damper: _,
            assumed_gas: _,
        } = shock.parts().clone();
        (shock.length(), shock.full_stroke(), shock.count(), reservoir, air_spring, bump_stop, top_out, friction, own)
    };
    found.touches |= found.way || rest(shock) != rest(shock_after);
    found
}

#[cfg(all(test, feature = "serde"))]
mod tests;
