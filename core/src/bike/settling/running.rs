//! Braking, driving and standing on a slope, steadily.
//!
//! `ΔN = m·a·h/L`: the load that an acceleration `a` of the mass `m` moves from the front wheel to the rear one, with the
//! centre of gravity at height `h` and the wheelbase `L`.
//!
//! The bike feels gravity and inertia as one leaning field, `(−g·sin α − a, −g·cos α)` in ground axes, uphill slope `α`
//! positive. The wheels carry the rest along the ground in stated shares. No slip, no aerodynamic force, and the spin of
//! wheels and crank, which adds a few per cent to a hard braking, is left out.

use super::plane::Field;
use super::reaction::Reaction;
use crate::error::{BikeError, Result};
use crate::units::{Acceleration, Angle, Force, Length, Mass, Quantity, Share, check};
use crate::wheel::{EndKernel, RearEnd};

/// Steepest slope and hardest acceleration of a two-wheeler on its wheels.
const MOST_SLOPE_SI: f64 = core::f64::consts::FRAC_PI_3;
const MOST_ACCELERATION_SI: f64 = 30.0;
/// Largest sprocket.
const MOST_SPROCKET_SI: f64 = 0.3;

/// What carries the torque at the rear wheel.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum RearReaction {
    /// The frame: a brake on a rod parallel to the swingarm, or a motor's torque that ends in the frame.
    Frame,
    /// The swingarm: a brake caliper or a shaft drive fixed to it.
    Swingarm,
    /// The tight upper run of a chain to a sprocket in the frame.
    Chain {
        /// Centre of the front sprocket in the frame axes.
        sprocket: [Length; 2],
        /// Pitch radius of the front sprocket.
        front_radius: Length,
        /// Pitch radius of the rear sprocket.
        rear_radius: Length,
    },
}

/// How the bike is running, steadily.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Running {
    /// Slope of the ground, uphill positive.
    pub slope: Angle,
    /// Acceleration along the ground, forward positive; braking is negative.
    pub acceleration: Acceleration,
    /// Share of the force along the ground that the front wheel gives: all of it under the front brake alone, nothing
    /// while driving. It also says which wheel holds the bike on a slope.
    pub front_share: Share,
    /// What carries the torque of the rear wheel.
    pub rear_reaction: RearReaction,
}

impl Default for Running {
    /// Standing on level ground.
    fn default() -> Self {
        Self {
            slope: Angle::from_si(0.0),
            acceleration: Acceleration::from_si(0.0),
            front_share: Share::from_si(0.0),
            rear_reaction: RearReaction::Frame,
        }
    }
}

impl Running {
    /// Braking on level ground with this deceleration, the front wheel giving this share.
    #[must_use]
    pub fn braking(deceleration: Acceleration, front_share: Share, rear_reaction: RearReaction) -> Self {
        Self { acceleration: -deceleration, front_share, rear_reaction, ..Self::default() }
    }

    /// Driving on level ground with this acceleration.
    #[must_use]
    pub fn driving(acceleration: Acceleration, rear_reaction: RearReaction) -> Self {
        Self { acceleration, rear_reaction, ..Self::default() }
    }

    pub(super) fn field(&self, gravity: f64, rear: &RearEnd) -> Result<Field> {
        let slope = Angle::from_si(MOST_SLOPE_SI);
        check::plausible("slope", self.slope, -slope, slope).map_err(BikeError::from)?;
        let hardest = Acceleration::from_si(MOST_ACCELERATION_SI);
        check::plausible("acceleration", self.acceleration, -hardest, hardest).map_err(BikeError::from)?;
        check::plausible("front_share", self.front_share, Share::from_si(0.0), Share::from_si(1.0))
            .map_err(BikeError::from)?;
        let (sin, cos) = self.slope.si().sin_cos();
        Ok(Field {
            along: -gravity * sin - self.acceleration.si(),
            down: -gravity * cos,
            front_share: self.front_share.si(),
            reaction: self.rear_reaction.at(rear)?,
        })
    }
}

impl RearReaction {
    fn at(&self, rear: &RearEnd) -> Result<Reaction> {
        match *self {
            Self::Frame => Ok(Reaction::Frame),
            Self::Swingarm => match rear.swingarm_pivot() {
                Some(pivot) => Ok(Reaction::Swingarm { pivot: pivot.map(Quantity::si) }),
                None => Err(BikeError::Reaction {
                    found: "a torque carried by the swingarm",
                    wanted: "a swingarm that turns about a point of the frame and carries the wheel",
                }
                .into()),
            },
            Self::Chain { sprocket, front_radius, rear_radius } => {
                let most = Length::from_si(MOST_SPROCKET_SI);
                for (field, radius) in [("chain.front_radius", front_radius), ("chain.rear_radius", rear_radius)] {
                    check::positive(field, radius).map_err(BikeError::from)?;
                    check::plausible(field, radius, Length::from_si(0.0), most).map_err(BikeError::from)?;
                }
                let sprocket = sprocket.map(Quantity::si);
                let near = |travel: f64| {
                    let axle = rear.axle_point(travel)?.at;
                    Some(sprocket[0] - axle[0] <= front_radius.si() + rear_radius.si())
                };
                // The axle goes back or comes on by a few millimetres; both ends of travel show whether it gets too near.
                if [0.0, rear.full()].into_iter().any(|travel| near(travel) == Some(true)) {
                    return Err(BikeError::Reaction {
                        found: "a chain whose sprockets overlap or lie the wrong way round",
                        wanted: "the front sprocket ahead of the rear axle by more than both radii, in the frame axes",
                    }
                    .into());
                }
                let (engine_radius, wheel_radius) = (front_radius.si(), rear_radius.si());
                Ok(Reaction::Chain { sprocket, engine_radius, wheel_radius })
            }
        }
    }
}

/// The load that an acceleration moves from the front wheel to the rear one: `m·a·h/L`. Negative while braking.
///
/// # Errors
/// [`BikeError::Unit`] when the mass, the height or the wheelbase is not above zero.
pub fn longitudinal_transfer(
    mass: Mass,
    acceleration: Acceleration,
    height: Length,
    wheelbase: Length,
) -> Result<Force, BikeError> {
    check::positive("mass", mass)?;
    check::finite("acceleration", acceleration)?;
    check::positive("height", height)?;
    check::positive("wheelbase", wheelbase)?;
    Ok(mass * acceleration * (height.si() / wheelbase.si()))
}
