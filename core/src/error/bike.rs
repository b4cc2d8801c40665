//! Faults of a bike as a whole.

use thiserror::Error;

use super::nearest::did_you_mean;
use super::{Address, UnitError};
use crate::record::End;

/// Head of what is said of a change that cannot be undone.
pub(crate) const UNDONE: &str = "undoing this change gives an invalid bike: ";

/// The address of a former value of a change, seen from the change.
pub(crate) fn was(key: Option<&str>) -> Address {
    key.into_iter().fold(Address::default().key("was"), Address::key)
}

/// A bike that lacks something, whose parts contradict each other, or that cannot stand, settle or be simulated as stated.
#[derive(Debug, Clone, PartialEq, Error)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub enum BikeError {
    /// A part that an answer needs and the bike does not have.
    #[error("`{part}` is missing: {purpose}")]
    Missing {
        /// Key of the part.
        part: String,
        /// What it is needed for.
        purpose: String,
    },
    /// A reading or a target in a direction that its end does not have.
    #[error("{field}: found `{found}`, wanted {wanted}")]
    Direction {
        /// Field at fault.
        field: String,
        /// Direction found.
        found: String,
        /// Directions that would do.
        wanted: String,
    },
    /// A load that cannot be written down, or none where there must be one.
    #[error(
        "{field}: found `{found}`, wanted names of masses joined by `+`, e.g. `bike + rider`; a name is not empty, holds no \
         `+` and is not `none`"
    )]
    Load {
        /// Field at fault.
        field: &'static str,
        /// Names found.
        found: String,
    },
    /// A discipline that the table of common practice does not know.
    #[error("discipline: found `{found}`, wanted {wanted}{}", did_you_mean(suggestion.as_deref()))]
    Discipline {
        /// Name found.
        found: String,
        /// Names that would do.
        wanted: String,
        /// A likely spelling.
        suggestion: Option<String>,
    },
    /// A kind of bike of which nothing usual is known.
    #[error("kind: found `{found}`, wanted {wanted}{}", did_you_mean(suggestion.as_deref()))]
    Kind {
        /// Name found.
        found: String,
        /// Names that would do.
        wanted: String,
        /// A likely spelling.
        suggestion: Option<String>,
    },
    /// A log of strokes that says nothing.
    #[error("travel log: {reason}")]
    TravelLog {
        /// What is wrong with it, and what would do.
        reason: String,
    },
    /// A scenario whose name cannot be.
    #[error("name: found the scenario `{name}`, wanted a name that is not empty and not used twice")]
    Scenario {
        /// Name found.
        name: String,
    },
    /// A day that is none.
    #[error("date: found `{found}`, wanted a day, e.g. `2026-05-31`, or a day with a time, `2026-05-31 19:30`")]
    Day {
        /// Text found.
        found: String,
    },
    /// A reading without a date where one is needed to know what it belongs to.
    #[error("date: found none, wanted the day of this reading: {why}")]
    Undated {
        /// Why a date is needed.
        why: &'static str,
    },
    /// Two things of one day whose order is not said.
    #[error(
        "date: found `{found}`, which does not say whether {what} of `{other}` came before or after: wanted both with a time, e.g. `2026-05-31 19:30`"
    )]
    Order {
        /// Date found.
        found: String,
        /// What the other is.
        what: &'static str,
        /// Its date.
        other: String,
    },
    /// A change logged before one of the same keys that is there already.
    #[error("date: found `{found}`, wanted a date after `{other}`, when the same keys were changed")]
    NotLater {
        /// Date found.
        found: String,
        /// Date of the change that is there.
        other: String,
    },
    /// A change that cannot be undone.
    #[error("{}: {UNDONE}{faults}", was(key.as_deref()))]
    Undone {
        /// The key of the former value that is wrong, where that can be seen.
        key: Option<String>,
        /// What is wrong with the bike as it was.
        faults: String,
    },
    /// A key that no log can hold.
    #[error("{field}: found `{found}`, wanted a key of the bike itself, e.g. `rear.shock.spring.rate`")]
    Logged {
        /// Field at fault.
        field: &'static str,
        /// Key path found.
        found: String,
    },
    /// A key that one change names twice.
    #[error("{field}: found `{found}` twice, wanted each key once in a change")]
    Repeated {
        /// Field at fault.
        field: &'static str,
        /// Key path found.
        found: String,
    },
    /// Two keys of one change of which one holds the other: what stood there would be said twice.
    #[error(
        "{field}: found `{outer}` beside `{inner}`, which is in it, wanted one of them: the whole of `{outer}`, or each of \
         its keys that changed"
    )]
    Nested {
        /// Field at fault.
        field: &'static str,
        /// Key path of the whole.
        outer: String,
        /// Key path of what is in it.
        inner: String,
    },
    /// A target that no sag of this end, or no sag beside its other target, can meet.
    #[error("{field}: found {found}, wanted {wanted}")]
    Target {
        /// Field at fault.
        field: String,
        /// Sag aimed at.
        found: String,
        /// What would do.
        wanted: String,
    },
    /// A mark so placed that the distance to it does not shrink all the way as the wheel rises.
    #[error(
        "mark: at {travel} of travel the distance from the axle to this mark stops shrinking: choose a mark that the axle \
         moves towards, above it"
    )]
    Mark {
        /// Travel at which it happens.
        travel: String,
    },
    /// A sag that the end cannot have.
    #[error("sag: found {found}, wanted 0 mm to {full}, which is full travel along that direction")]
    Sag {
        /// Sag found.
        found: String,
        /// Sag at full travel.
        full: String,
    },
    /// A point of the frame whose name cannot be.
    #[error("frame_points: found the name `{name}`, wanted one that is not empty, not `unit` and not used twice")]
    FramePoint {
        /// Name found.
        name: String,
    },
    /// A magnitude.
    #[error(transparent)]
    Unit(#[from] UnitError),
    /// A steering axis that lies too flat for a trail to be.
    #[error(
        "rake: found {rake} with the frame pitched {pitch} nose down; the steering axis must stand within {most} of upright, ahead or behind"
    )]
    Rake {
        /// Rake that resulted.
        rake: String,
        /// Pitch of the frame.
        pitch: String,
        /// Most that is taken.
        most: String,
    },
    /// Axles so close together that the wheels cannot both touch the ground.
    #[error(
        "the axles are {apart} apart, but the wheel radii differ by {step}: no pitch puts both wheels on the ground; check the axle positions and the radii"
    )]
    Axles {
        /// Distance of the axle centres.
        apart: String,
        /// Difference of the radii.
        step: String,
    },
    /// Masses and rates that make no vibration.
    #[error("the mass matrix is not positive definite: the masses or the inertia are too small to compute with")]
    NoModes,
    /// Something that this build of the crate leaves out.
    #[error("{what} is not in this build: build the crate with its feature `{feature}`")]
    NotBuilt {
        /// What was asked for.
        what: &'static str,
        /// The feature that brings it.
        feature: &'static str,
    },
    /// A motion that could not be followed in time.
    #[error("the motion could not be computed: {reason}")]
    Integration {
        /// What the solver said.
        reason: String,
    },
    /// An end of somebody's own beside the usual one.
    #[error("the {end} end is {part} and one of your own as well: leave one of the two out")]
    TwoEnds {
        /// Which end.
        end: End,
        /// What is beside it.
        part: &'static str,
    },
    /// A wheel with nothing to carry.
    #[error("the {end} wheel would leave the ground: it would have to carry {load}; {remedy}")]
    Lifts {
        /// Which end.
        end: End,
        /// Its load, below zero.
        load: String,
        /// What to look at.
        remedy: &'static str,
    },
    /// A bike on the edge between standing on its springs and falling over on them.
    #[error(
        "the bike does not come to rest within {steps} rounds: its springs can only just hold its pitch; check rates, centre of gravity height and wheelbase"
    )]
    Restless {
        /// Rounds tried.
        steps: usize,
    },
    /// A motion about a state that has none.
    #[error("{end}: the end rests {stop}, so there is no small motion about that state")]
    OnStop {
        /// Which end.
        end: End,
        /// Where.
        stop: &'static str,
    },
    /// A torque at the rear wheel whose reaction is not known.
    #[error("{found}: {wanted}")]
    Reaction {
        /// What was asked for.
        found: &'static str,
        /// What would do.
        wanted: &'static str,
    },
    /// Chain squat of a bike without a chain.
    #[error(
        "`rear.final_drive` is `shaft`: chain squat does not apply; the torque of a shaft ends in the swingarm, so ask how \
         the bike rests with that reaction"
    )]
    ShaftDrive,
    /// Braking without all that it follows from.
    #[error("what the brakes do to the suspension cannot be computed: {}", reasons.join("; "))]
    NoBraking {
        /// What is missing, one sentence each.
        reasons: Vec<String>,
    },
    /// Chain squat without all that it follows from.
    #[error("chain squat cannot be computed: {}", reasons.join("; "))]
    NoSquat {
        /// What is not known, each with its purpose.
        reasons: Vec<String>,
    },
    /// A rest that a small push upsets.
    #[error("this rest is not stable: a small push takes the bike away from it, so it has no natural frequency")]
    Unstable,
}
