//! What can be wrong with the whole bike.

use thiserror::Error;

use super::UnitError;

/// A bike that cannot stand, settle or be simulated as stated.
#[derive(Debug, Clone, PartialEq, Error)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub enum BikeError {
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
}
