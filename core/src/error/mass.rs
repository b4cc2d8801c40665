//! What can be wrong with the masses.

use thiserror::Error;

use super::UnitError;
use super::nearest::did_you_mean;
use crate::record::End;

/// Masses that cannot be, or are not known.
#[derive(Debug, Clone, PartialEq, Error)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub enum MassError {
    /// A magnitude.
    #[error(transparent)]
    Unit(#[from] UnitError),
    /// A load that names a mass nobody stated.
    #[error("no mass is called `{found}`: the masses stated are {known}{}", did_you_mean(suggestion.as_deref()))]
    UnknownMass {
        /// Name found.
        found: String,
        /// Names known.
        known: String,
        /// A likely spelling.
        suggestion: Option<String>,
    },
    /// A text that is no load.
    #[error(
        "found the load `{found}`, wanted names of masses joined by `+`, e.g. `bike + rider`; only a reading with the wheel off the ground has `none`"
    )]
    LoadText {
        /// Text found.
        found: String,
    },
    /// A load of no mass at all, which is not the same as none.
    #[error("found a load of no mass, wanted the names of masses, e.g. `bike` and `rider`")]
    Empty,
    /// A load that counts a mass twice.
    #[error("the load `{load}` counts `{name}` twice")]
    Twice {
        /// The load.
        load: String,
        /// The mass counted twice.
        name: String,
    },
    /// A load on the wheels without the bike itself.
    #[error("the load `{load}` is without the bike: write `bike + {load}`")]
    WithoutBike {
        /// The load.
        load: String,
    },
    /// The same name for two masses, or a name that the notation of loads needs for itself.
    #[error("`{name}` cannot name a mass: {reason}")]
    BadName {
        /// The name.
        name: String,
        /// Why not.
        reason: &'static str,
    },
    /// No mass of the bike itself.
    #[error("no mass is called `bike`: the bike alone, as it stands on the scales, is needed for any sprung load")]
    NoBike,
    /// Unsprung parts heavier than what the scale shows.
    #[error(
        "unsprung.{end}: found {unsprung}, but `{load}` shows only {scale} on the {end} scale: the sprung mass would be negative"
    )]
    NegativeSprung {
        /// Which end.
        end: End,
        /// The load on the scale.
        load: String,
        /// Unsprung mass stated.
        unsprung: String,
        /// What the scale shows.
        scale: String,
    },
    /// A position without a wheelbase to measure it against.
    #[error("`{name}` is placed by its position, which needs the wheelbase: add `wheelbase`, e.g. `1480 mm`")]
    NoWheelbase {
        /// The mass.
        name: String,
    },
    /// A mass whose height is asked for and not stated.
    #[error("`{name}` has no `height`: state that of its centre of gravity above the ground, e.g. `620 mm`")]
    NoHeight {
        /// The mass.
        name: String,
    },
    /// A mass whose pitch inertia is asked for and not stated.
    #[error(
        "`{name}` has no `pitch_inertia`: state that about its own centre of gravity, e.g. `20 kg m2`; `0 kg m2` for what is small"
    )]
    NoPitchInertia {
        /// The mass.
        name: String,
    },
    /// A load that cannot be moved or replaced by ballast.
    #[error("`{load}` cannot be placed: name what comes on top of the bike, e.g. `rider`")]
    Placed {
        /// The load.
        load: String,
    },
    /// Two places that do not have the load between them.
    #[error(
        "ballast at {first} and {second} behind the front axle cannot stand for `{load}`, which acts at {at}: choose one place ahead of that and one behind"
    )]
    Places {
        /// First place.
        first: String,
        /// Second place.
        second: String,
        /// The load.
        load: String,
        /// Where it acts.
        at: String,
    },
    /// The wheel would leave the scale, or the axle would not move.
    #[error("{field}: found {found}, wanted {wanted}")]
    Raise {
        /// Field at fault.
        field: &'static str,
        /// Value found.
        found: String,
        /// What would do.
        wanted: String,
    },
}
